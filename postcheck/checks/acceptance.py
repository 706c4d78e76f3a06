"""Acceptances that accept nothing, or no longer: judged last, from what all the other checks found."""

from __future__ import annotations

from collections.abc import Collection, Container, Iterator, Mapping
from datetime import date

from postcheck.checks.record import DANGER, Check
from postcheck.description.models import Build
from postcheck.plain import nearest, quoted
from postcheck.report import SEVERITIES, Finding, Subject

__all__ = ["CHECKS", "matching_nothing", "not_counting"]


def matching_nothing(
    build: Build, found: Container[str], today: date, closing: Collection[str], families: Collection[str]
) -> Iterator[Finding]:
    """The acceptances that still count and name no finding among `found`, the ids of all.

    Those of what is said when a place is closed wait for that: `closing` are the places that are about to be. `families`:
    the first words of all checks that were run; what is of another family, and no slip of the pen, is of a project's own
    check, which is not run everywhere.
    """
    for index, accept in enumerate(build.accept):
        waits = accept.finding.startswith("closing.") and not accept.finding.endswith(tuple(closing))
        known = accept.finding in found or _of_a_project(accept.finding, families)
        if not known and not waits and (accept.until is None or accept.until >= today):
            yield Finding(
                "accept.matches-nothing", "note", Subject("acceptance", accept.finding),
                f"No finding is called {quoted(accept.finding, 200)}, so nothing is accepted by it.",
                "What it was written for has been mended, or its name has changed. An acceptance that hangs in the air may one day hide something new.",
                ("accept", index, "finding"),
                remedy="Take it out, or write the finding's name as the report gives it.",
            )  # fmt: skip


def _of_a_project(finding: str, families: Collection[str]) -> bool:
    """Whether it is the name of a finding, and nothing like one of these families."""
    check, colon, _ = finding.partition(":")
    family, dot, _ = check.partition(".")
    return bool(colon and dot) and family not in families and nearest(family, families, alike=0.7) is None


def not_counting(
    build: Build, found: Mapping[str, Finding], refused: Container[str], today: date
) -> Iterator[Finding]:
    """The acceptances of a finding that is there and stands all the same: it cannot be accepted, or no longer is."""
    for index, accept in enumerate(build.accept):
        finding = found.get(accept.finding)
        if finding is None:
            continue
        if accept.finding in refused:
            yield Finding(
                "accept.refused", "note", Subject("acceptance", accept.finding),
                f"{quoted(accept.finding, 200)} stands in spite of its acceptance: {finding.firm or DANGER}.",
                "An acceptance says what is left as it is on purpose; this has to be mended.",
                ("accept", index, "finding"),
                remedy="Mend what it tells of, and take the acceptance out.",
            )  # fmt: skip
        elif accept.until is not None and accept.until < today and not _renewed(build, accept.finding, today):
            yield Finding(
                "accept.expired", "note", Subject("acceptance", accept.finding),
                f"The acceptance of {quoted(accept.finding, 200)} ran until {accept.until.isoformat()}; the finding counts again.",
                "It was to be looked at again by that day.",
                ("accept", index, "until"),
                remedy="Mend it, or accept it anew with the reason that holds today.",
            )  # fmt: skip
        elif finding.accepted is None and SEVERITIES.index(finding.severity) < SEVERITIES.index(accept.up_to):
            yield Finding(
                "accept.outgrown", "note", Subject("acceptance", accept.finding),
                f"{quoted(accept.finding, 200)} was accepted as a {accept.up_to} and is a {finding.severity} now; it counts again.",
                "It was weighed when it was lighter.",
                ("accept", index, "up_to"),
                remedy="Mend it, or accept it anew for what it is today.",
            )  # fmt: skip


def _renewed(build: Build, finding: str, today: date) -> bool:
    return any(
        other.finding == finding and (other.until is None or other.until >= today) for other in build.accept
    )


CHECKS: tuple[Check, ...] = (
    Check(
        name="accept.matches-nothing",
        severity="note",
        subject="acceptance",
        line="an acceptance of a finding that is not there",
        why="What it was written for has been mended, or its name has changed; one day it may hide something new.",
        formula="the names in [[accept]] that still count, against those of all findings",
        limits=(),
        source="the build file against its own findings",
        judge=None,
    ),
    Check(
        name="accept.refused",
        severity="note",
        subject="acceptance",
        line="an acceptance of a finding that cannot be accepted",
        why="What destroys parts or can start a fire has to be mended; the finding stands.",
        formula="the names in [[accept]] against the stops that cannot be accepted",
        limits=(),
        source="the build file against its own findings",
        judge=None,
    ),
    Check(
        name="accept.expired",
        severity="note",
        subject="acceptance",
        line="an acceptance that has run out, of a finding that is still there",
        why="It was to be looked at again by that day.",
        formula="the last day of an acceptance against today, or --today",
        limits=(),
        source="the build file against its own findings",
        judge=None,
    ),
    Check(
        name="accept.outgrown",
        severity="note",
        subject="acceptance",
        line="an acceptance up to a weight that its finding has outgrown",
        why="It was weighed when it was lighter.",
        formula="the `up_to` of an acceptance against the weight of its finding",
        limits=(),
        source="the build file against its own findings",
        judge=None,
    ),
)
