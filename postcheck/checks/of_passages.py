"""What the checks of passages have in common."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from postcheck.checks.shown import listed
from postcheck.plain import quoted
from postcheck.report import Finding, Limited, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.figures import Member, PassageFigures

__all__ = ["finding_of", "limited", "names_of", "title", "turning"]


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


def limited(survey: Survey, name: str) -> Limited:
    """A limit with its source."""
    limit = survey.limits[name]
    return Limited(limit.value, limit.unit, limit.source)
