"""Waivers: which findings they mark as accepted; and those that waive nothing, or no longer, judged last of all."""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date

from postcheck.checks.fact import Fact
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording
from postcheck.description.models import Build
from postcheck.plain import nearest
from postcheck.report import SEVERITIES, Finding, Subject, rank


def with_acceptances(
    build: Build, findings: Iterable[Finding], today: date, dangerous: frozenset[str]
) -> list[Finding]:
    """The findings, those marked as accepted that a waiver still counts for; `dangerous`: checks whose stops cannot be waived."""
    reasons = {
        (accept.finding, severity): accept.reason
        for accept in build.accept
        if accept.until is None or accept.until >= today
        for severity in SEVERITIES[SEVERITIES.index(accept.up_to) :]
    }
    return [
        finding
        if (reason := reasons.get((finding.id, finding.severity))) is None or never(finding, dangerous)
        else replace(finding, accepted=reason)
        for finding in findings
    ]


def never(finding: Finding, dangerous: frozenset[str]) -> bool:
    """Whether a finding cannot be waived: what can burn, melt or hurt, however heavy it is, but for a note."""
    if finding.severity == "note":
        return False
    return bool(finding.firm) or (finding.severity == "stop" and finding.check in dangerous)


def matching_nothing(
    build: Build, found: Container[str], today: date, closing: Collection[str], families: Collection[str]
) -> Iterator[Finding]:
    """The waivers that still count and name no finding among `found`, the ids of all.

    Those of findings that are made when a place is closed wait for that: `closing` are the places that are about to be.
    `families`: the first words of all checks that were run; what is of another family, and no typing mistake, is of a
    project's own check, which is not run everywhere.
    """
    for index, accept in enumerate(build.accept):
        waits = accept.finding.startswith("closing.") and not accept.finding.endswith(tuple(closing))
        known = accept.finding in found or _of_a_project(accept.finding, families)
        if not known and not waits and (accept.until is None or accept.until >= today):
            yield _finding("accept.matches-nothing", index, accept.finding, "finding")


def _of_a_project(finding: str, families: Collection[str]) -> bool:
    """Whether it is the name of a finding of a check that a project adds: not like any of these families."""
    check, colon, _ = finding.partition(":")
    family, dot, _ = check.partition(".")
    return bool(colon and dot) and family not in families and nearest(family, families, alike=0.7) is None


def not_counting(
    build: Build, found: Mapping[str, Finding], refused: Container[str], today: date
) -> Iterator[Finding]:
    """The waivers of a finding that is there and counts all the same: it cannot be waived, or no longer is."""
    for index, accept in enumerate(build.accept):
        name, finding = accept.finding, found.get(accept.finding)
        if finding is None:
            continue
        if name in refused:
            yield _finding("accept.refused", index, name, "finding", because=finding.firm or DANGER)
        elif accept.until is not None and not _counts(build, name, today):
            yield _finding("accept.expired", index, name, "until", until=accept.until.isoformat())
        elif finding.accepted is None and rank(finding) < SEVERITIES.index(accept.up_to):
            yield _finding("accept.outgrown", index, name, "up_to", was=accept.up_to, now=finding.severity)


def _counts(build: Build, finding: str, today: date) -> bool:
    """Whether a waiver of a finding has not run out: this one, or another that renews it."""
    return any(
        other.finding == finding and (other.until is None or other.until >= today) for other in build.accept
    )


def _finding(check: str, index: int, name: str, key: str, **words: str) -> Finding:
    """What is found about a waiver: by its place in the file, the name of its finding, and the key that it is about."""
    (made,) = (each for each in CHECKS if each.name == check)
    return made.finding(Fact("note", Subject("acceptance", name), ("accept", index, key), words=words))


_FILE = "the build file against its own findings"

CHECKS: tuple[Check, ...] = (
    Check(
        "accept.matches-nothing", "note", "acceptance", "a waiver of a finding that is not there",
        "What it was written for has been mended, or its name has changed. One day it may hide something new.",
        "the names in [[accept]] that still count, against those of all findings", (), _FILE, None,
        wording={
            "": Wording(
                "No finding is called {subject}, so its waiver has no effect.",
                "What it was written for has been mended, or its name has changed. A waiver without a finding may one day hide something new.",
                "Take the waiver out, or write the finding's name as the report gives it.",
            )
        },
    ),
    Check(
        "accept.refused", "note", "acceptance", "a waiver of a finding that cannot be waived",
        "What destroys parts or can start a fire has to be mended. The finding counts.",
        "the names in [[accept]] against the findings that cannot be waived", (), _FILE, None,
        wording={
            "": Wording(
                "{subject} cannot be waived: {because}.",
                "A waiver says what is left as it is on purpose. This has to be mended.",
                "Mend what the finding names, and take the waiver out.",
            )
        },
    ),
    Check(
        "accept.expired", "note", "acceptance", "a waiver that has run out, of a finding that is still there",
        "It was to be looked at again by that day.", "the last day of a waiver against today, or --today", (), _FILE, None,
        wording={
            "": Wording(
                "The waiver of {subject} ended on {until}. The finding counts again.",
                "It was to be looked at again by that day.",
                "Mend it, or waive it anew with the reason that holds today.",
            )
        },
    ),
    Check(
        "accept.outgrown", "note", "acceptance", "a waiver up to a severity that its finding has outgrown",
        "It was weighed when it was lighter.", "the `up_to` of a waiver against the severity of its finding", (), _FILE, None,
        wording={
            "": Wording(
                "{subject} was waived as a {was} and is a {now} now. It counts again.",
                "It was weighed when it was lighter.",
                "Mend it, or waive it anew for what it is today.",
            )
        },
    ),
)  # fmt: skip
