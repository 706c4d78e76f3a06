"""Checks that a project adds to postcheck's own: judged beside them, and held to the same rules."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import tomli

from postcheck.checks.fact import Fact, Within
from postcheck.checks.record import Check, Judge
from postcheck.checks.table import CHECKS
from postcheck.limits import LIMITS
from postcheck.report import SEVERITIES, Edit, Figure, Finding, NotJudged, Subject
from postcheck.survey import Survey

# named as our own checks are: subject, dot, fault; no colon, for a finding's id is split there
_NAME = re.compile(r"[a-z][a-z0-9-]*(\.[a-z0-9-]+)+")


def usable(checks: Iterable[Check]) -> tuple[Check, ...]:
    """The checks, each watched: a finding bears its check's name, is no heavier than the check says, and the only one of its subject.

    ValueError for a name that is taken or none, a limit that there is not, and a check that judges nothing.
    """
    taken = {check.name for check in CHECKS}
    found: list[Check] = []
    for check in checks:
        if not _NAME.fullmatch(check.name) or check.name.startswith("file."):
            raise ValueError(
                f"a check's name is two words with a dot, such as house.long-lead; not {check.name!r}"
            )
        if check.name in taken:
            raise ValueError(f"there is a check {check.name!r} already")
        if check.severity not in SEVERITIES:
            raise ValueError(f"the severity of {check.name} is one of {', '.join(SEVERITIES)}")
        if unknown := set(check.limits) - {limit.name for limit in LIMITS}:
            raise ValueError(f"the check {check.name} names a limit that there is not: {min(unknown)!r}")
        if check.judge is None:
            raise ValueError(f"the check {check.name} has no function that judges")
        taken.add(check.name)
        found.append(check._replace(judge=_watched(check, check.judge)))
    return tuple(found)


def _watched(check: Check, judge: Judge) -> Judge:
    def judged(survey: Survey) -> Iterator[Within | Finding | NotJudged]:
        known: set[str] = set()
        given = judge(survey)
        if not isinstance(given, Iterable):
            raise ValueError(
                f"the check {check.name} gave {type(given).__name__}, and no findings to go through"
            )
        for each in given:
            if isinstance(each, Within):
                yield each
                continue
            result = check.finding(each) if isinstance(each, Fact) else each
            if problem := _wrong(check, result, known):
                raise ValueError(f"the check {check.name} {problem}")
            yield result

    return judged


def _wrong(check: Check, result: object, known: set[str]) -> str | None:
    """What is wrong with something that a check gave; `known` are the names of its findings so far."""
    if isinstance(result, NotJudged):
        return None
    if not isinstance(result, Finding):
        return f"gave {type(result).__name__}, and neither a Finding nor a NotJudged"
    if problem := _misshapen(result):
        return f"gave a finding whose {problem}"
    if result.check != check.name:
        return f"gave a finding of {result.check!r}"
    if result.severity not in SEVERITIES[SEVERITIES.index(check.severity) :]:
        return f"is a {check.severity} at most and gave a {result.severity!r}"
    if result.id in known:
        return f"gave {result.subject.name!r} two findings; put into one what is wrong with it, for they share their name"
    known.add(result.id)
    return next(
        (f"gave an edit that is no TOML: {edit.value!r}" for edit in result.edits or () if not _toml(edit)),
        None,
    )


def _misshapen(finding: Finding) -> str | None:
    """What is wrong with a finding of a project's check: reported here, not by the first renderer that stumbles over it."""
    if not isinstance(finding.subject, Subject):
        return "subject is no Subject"
    for name in ("says", "why"):
        if not isinstance(getattr(finding, name), str):
            return f"`{name}` is no text"
    if not isinstance(finding.path, tuple):
        return "path is no tuple"
    if not all(isinstance(figure, Figure) for figure in finding.figures.values()):
        return "figures are no Figures"
    return None


def _toml(edit: Edit) -> bool:
    """Whether the new text is one value of TOML, or there is none as the old one goes."""
    if edit.value is None:
        return True
    try:
        return len(tomli.loads(f"value = {edit.value}")) == 1
    except tomli.TOMLDecodeError:
        return False
