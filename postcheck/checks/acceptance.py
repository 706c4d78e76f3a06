"""Acceptances that accept nothing: judged last, from what all the other checks found."""

from __future__ import annotations

from collections.abc import Container, Iterator
from datetime import date

from postcheck.build.models import Build
from postcheck.checks.record import Check
from postcheck.plain import quoted
from postcheck.report import Finding, Subject

__all__ = ["CHECKS", "matching_nothing"]


def matching_nothing(build: Build, found: Container[str], today: date) -> Iterator[Finding]:
    """The acceptances that still count and name no finding among `found`, the ids of all."""
    for index, accept in enumerate(build.accept):
        if accept.finding not in found and (accept.until is None or accept.until >= today):
            yield Finding(
                "accept.matches-nothing", "note", Subject("acceptance", accept.finding),
                f"No finding is called {quoted(accept.finding, 200)}, so nothing is accepted by it.",
                "What it was written for has been mended, or its name has changed. An acceptance that hangs in the air may one day hide something new.",
                ("accept", index, "finding"),
                remedy="Take it out, or write the finding's name as the report gives it.",
            )  # fmt: skip


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
)
