"""The shape of a check: one frozen record each, gathered in one visible tuple (see table.py)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, NamedTuple

from postcheck.limits import LimitName
from postcheck.report import Finding, NotJudged, Rule, Severity

if TYPE_CHECKING:
    from postcheck.survey import Survey

__all__ = ["DANGER", "Check", "Judge"]

DANGER = "it destroys parts or can start a fire"
"""Why a stop cannot be accepted, of a dangerous check or of a finding that says so itself (`firm`)."""

Judge = Callable[["Survey"], Iterator[Finding | NotJudged]]


class Check(NamedTuple):
    """A check's name, what it looks at, and the law and limit it judges by.

    `judge` reads build and survey, computes nothing new and yields findings of this check, one a subject at most, or says
    what it could not judge; it is None for a check of the findings themselves, which follows when all are known.
    `severity` is the heaviest it gives; `limits` are names of `postcheck explain`, if it judges by any of them. `dangerous`: every stop of it destroys parts or risks fire, and cannot be accepted;
    where only some do, the finding says so (`firm`).
    """

    name: str
    severity: Severity
    subject: str
    line: str
    why: str
    formula: str
    limits: tuple[LimitName, ...]
    source: str
    judge: Judge | None
    dangerous: bool = False

    @property
    def rule(self) -> Rule:
        """What the check looks at, in words, for the faces."""
        return Rule(self.name, self.severity, self.line, self.why, self.formula, self.source)
