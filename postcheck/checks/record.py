"""The shape of a check: one frozen record each, gathered in one visible tuple (see table.py)."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from postcheck.checks.fact import Fact, Within
from postcheck.checks.wording import Wording, finding_of
from postcheck.limits import LimitName
from postcheck.report import Finding, NotJudged, Rule, Severity

if TYPE_CHECKING:
    from postcheck.survey import Survey

DANGER = "it destroys parts or can start a fire"
"""Why a stop cannot be accepted, of a dangerous check or of a finding that says so itself (`firm`)."""
SEALED = "it destroys what is sealed in, where nobody gets at it again"
"""Why a stop cannot be accepted that only a slip of the hand brings about."""
MELTS = "it melts or chars what it touches"
"""Why a hot spot cannot be accepted, a caution too."""

Judge = Callable[["Survey"], Iterator[Fact | Within | Finding | NotJudged]]
"""What judges a survey. A check of ours yields facts, and what it compares; one of a project may write its findings itself."""


class Check(NamedTuple):
    """A check's name, what it looks at, and the law and limit it judges by.

    `judge` reads build and survey, computes nothing new and yields facts of this check, one a subject at most, or says
    what it could not judge; it is None for a check of the findings themselves, which follows when all are known. `wording` has
    the sentences of each case of its facts.
    `severity` is the heaviest it gives; `limits` are names of `postcheck explain`, if it judges by any of them. `dangerous`: every stop of it destroys parts or risks fire, and cannot be accepted;
    where only some do, the finding says so (`firm`), and `held` says which in words: a finding of those is no caution that can be accepted either.
    `asks`: all that comes of it is what could not be judged.
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
    wording: Mapping[str, Wording] = MappingProxyType({})
    held: str = ""
    asks: bool = False

    @property
    def not_waived(self) -> str:
        """Which of its findings cannot be accepted; empty where all can."""
        return self.held or ("any stop" if self.dangerous else "")

    def heard(self, survey: Survey) -> Iterator[Finding | NotJudged | Within]:
        """What it finds in a survey, in sentences, and what it compares for that."""
        for result in self.judge(survey) if self.judge is not None else ():
            yield self.finding(result) if isinstance(result, Fact) else result

    def results(self, survey: Survey) -> Iterator[Finding | NotJudged]:
        """What it finds in a survey, in sentences."""
        return (result for result in self.heard(survey) if not isinstance(result, Within))

    def finding(self, fact: Fact) -> Finding:
        """A fact of this check with its sentences."""
        return finding_of(self.name, self.wording, fact)

    @property
    def rule(self) -> Rule:
        """What the check looks at, in words, for the renderers."""
        return Rule(
            self.name,
            self.severity,
            self.line,
            self.why,
            self.formula,
            self.source,
            self.not_waived,
            self.asks,
        )
