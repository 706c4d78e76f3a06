"""Checks that a project adds to postcheck's own: judged beside them, and held to the same rules."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from postcheck.checks.record import Check, Judge
from postcheck.checks.table import CHECKS
from postcheck.report import SEVERITIES, Finding, NotJudged
from postcheck.survey import Survey

__all__ = ["usable"]

# as the names of ours: what it is about, and what is wrong with it; a finding's id is split at the colon
_NAME = re.compile(r"[a-z][a-z0-9-]*(\.[a-z0-9-]+)+")


def usable(checks: Iterable[Check]) -> tuple[Check, ...]:
    """The checks, each watched: a finding bears its check's name and is no heavier than the check says.

    ValueError for a name that is taken or none, and for a check that judges nothing.
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
        if check.judge is None:
            raise ValueError(f"the check {check.name} has no function that judges")
        taken.add(check.name)
        found.append(check._replace(judge=_watched(check, check.judge)))
    return tuple(found)


def _watched(check: Check, judge: Judge) -> Judge:
    heaviest = SEVERITIES.index(check.severity)

    def judged(survey: Survey) -> Iterator[Finding | NotJudged]:
        for result in judge(survey):
            if isinstance(result, Finding):
                if result.check != check.name:
                    raise ValueError(f"the check {check.name} gave a finding of {result.check!r}")
                if SEVERITIES.index(result.severity) < heaviest:
                    raise ValueError(
                        f"the check {check.name} is a {check.severity} at most and gave a {result.severity}"
                    )
            yield result

    return judged
