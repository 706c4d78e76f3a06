"""What the checks of passages have in common."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from postcheck.checks.fact import Fact, limited
from postcheck.limits import above, below
from postcheck.report import Figure, Limited, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.post.figures import Member, PassageFigures

# Beyond this many times the strain that copper surely withstands, the strain is no meaningful figure.
_FAR = 2.0
FEW = 10.0
"""Turnings below which the relations say nothing."""

MOVES = "[ {subject} turns {turn} each way.][ {subject} folds by {fold}.]"
"""How a passage moves: shows `movement`."""
AFTER = (
    "[ after {least} to {most} turnings][ after at most {at_most:turning}][ after fewer than {few:turning}]"
)
"""When copper breaks: shows `cycles_to_failure`."""
CYCLES = "[ {wanted:turning is|turnings are} wanted.][ {assumed:turning is|turnings are} assumed.]"
"""How often a passage turns: shows `cycles_wanted`."""
STRAINED = "[ by {strain}][ by far more than the {withstood} that it surely withstands]"
"""How much copper is strained: shows `strained`."""


def fact_of(
    passage: PassageFigures, severity: Severity, case: str = "", *, key: str | None = None, **more: Any
) -> Fact:
    """A fact of a passage; `key`: the key of its table that it is about."""
    path = passage.path if key is None else (*passage.path, key)
    return Fact(severity, Subject("passage", passage.name), path, case, **more)


def part_of(member: Member) -> Subject:
    """What goes through, as a finding names it."""
    return Subject(member.kind, member.name)


def parts_of(members: Iterable[Member]) -> tuple[Subject, ...]:
    """Each of some members once: the conductors of a run are one part."""
    return tuple(dict.fromkeys(map(part_of, members)))


def turning(survey: Survey) -> Iterator[PassageFigures]:
    """The passages that turn."""
    return (passage for passage in survey.passages.values() if passage.passage.turn > 0.0)


def moving(survey: Survey) -> Iterator[PassageFigures]:
    """The passages that turn or fold."""
    return (passage for passage in survey.passages.values() if way_it_moves(passage))


def way_it_moves(passage: PassageFigures) -> str:
    """The key of a passage's table that says how it moves: turn or fold; empty where it does not."""
    return "turn" if passage.passage.turn > 0.0 else "fold" if passage.passage.fold > 0.0 else ""


def movement(passage: PassageFigures) -> dict[str, Figure]:
    """How far a passage turns or folds."""
    way = way_it_moves(passage)
    return {way: Figure(getattr(passage.passage, way), "rad")} if way else {}


def enamelled_in(passage: PassageFigures) -> list[Member]:
    """What goes through as enamelled wire."""
    return [member for member in passage.members if member.wire is not None and member.wire.enamelled]


def strained(strain: float, withstood: float) -> dict[str, Figure]:
    """The strain of copper; `withstood`: what it surely withstands once, and far beyond which there is no figure."""
    if above(strain, _FAR * withstood):
        return {"withstood": Figure(withstood, "share")}
    return {"strain": Figure(strain, "share")}


def cycles_to_failure(low: float, high: float) -> dict[str, Figure]:
    """The turnings after which copper breaks; the relations hold from about ten upwards."""
    if below(high, FEW):
        return {"few": Figure(FEW, "")}
    most = Figure(float(round(high)), "")
    return {"at_most": most} if below(low, FEW) else {"least": Figure(float(round(low)), ""), "most": most}


def cycles_wanted(passage: PassageFigures) -> dict[str, Figure]:
    """How often a passage turns: as the file says, or as is assumed."""
    return {"assumed" if passage.passage.cycles is None else "wanted": Figure(passage.cycles, "")}


def cycles_limit(survey: Survey, passage: PassageFigures) -> Limited:
    """How often a passage turns, as a limit."""
    if passage.passage.cycles is None:
        return limited(survey.limits["twist.cycles"])
    return Limited(passage.cycles, "", "cycles in the build file")
