"""What the checks of passages have in common."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from postcheck.checks.shown import listed
from postcheck.limits import LimitName
from postcheck.plain import quoted
from postcheck.report import Finding, Limited, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.post.figures import Member, PassageFigures

__all__ = ["finding_of", "limited", "lives", "names_of", "strained", "title", "turning"]

# From so many times the strain that copper is sure to stand on, the strain is no figure of anything.
_FAR = 2.0
# Turnings below which the relations say nothing.
_FEW = 10


def finding_of(
    passage: PassageFigures, check: str, severity: Severity, says: str, why: str, **more: Any
) -> Finding:
    """A finding of a passage; `key`: the key of its table that it is about."""
    key = more.pop("key", None)
    path = passage.path if key is None else (*passage.path, key)
    return Finding(check, severity, Subject("passage", passage.name), says, why, path, **more)


def title(passage: PassageFigures) -> str:
    """What a passage is called."""
    return "the post" if passage.name == "post" else quoted(passage.name)


def turning(survey: Survey) -> Iterator[PassageFigures]:
    """The passages that turn."""
    return (passage for passage in survey.passages.values() if passage.passage.turn > 0.0)


def names_of(members: list[Member]) -> str:
    """What goes through, by name."""
    return listed([f"lead of {member.name}" if member.kind == "lead" else member.name for member in members])


def limited(survey: Survey, name: LimitName) -> Limited:
    """A limit with its source."""
    limit = survey.limits[name]
    return Limited(limit.value, limit.unit, limit.source)


def strained(strain: float, breaks: float) -> str:
    """By how much copper is strained; `breaks`: what it is sure to stand once, and far beyond which there is no figure."""
    if strain > _FAR * breaks:
        return f"by far more than the {breaks * 100:.0f} % that it is sure to stand"
    return f"by {strain * 100:.2g} %"


def lives(low: float, high: float) -> str:
    """The turnings that copper lives; the relations hold from about ten upwards."""
    if high < _FEW:
        return f"fewer than {_FEW}"
    return f"{low:,.0f} to {high:,.0f}" if low >= _FEW else f"at most {high:,.0f}"
