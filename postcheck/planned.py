"""What is told of a plan: plain frozen records, all numbers in SI."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from postcheck.report import Stage, Subject, Verdict, WhatIf

__all__ = [
    "Before",
    "Blocked",
    "Bought",
    "Freed",
    "Joined",
    "Passed",
    "Planned",
    "PlannedLamp",
    "Set",
    "Thinner",
    "Unsaid",
    "Warmest",
]


@dataclass(frozen=True, slots=True)
class Unsaid:
    """What the file has to say first: of which part, what it is, and the lines of TOML that say it.

    `table`: the table of the file, in words, that the lines go into; empty where they are tables themselves. `missing`: what
    to say, where no lines can be given.
    """

    subject: str
    what: str
    lines: tuple[str, ...]
    table: str = ""
    missing: str = ""


@dataclass(frozen=True, slots=True)
class Blocked:
    """What stands in the way of the best wiring that was found. `proven`: no wiring of these lines is without it.

    `remedy`, `lines`: where a few lines in the file would do, what to do and the lines.
    """

    check: str
    subject: str
    says: str
    proven: bool = False
    remedy: str = ""
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Freed:
    """A change of the wish with which a plan was found: tried, not guessed."""

    says: str


@dataclass(frozen=True, slots=True)
class Passed:
    """A passage: conductors in it, the fewest that these lines could have there, and its bundle and bore, m."""

    name: str
    conductors: int
    fewest: int
    bundle: float
    bore: float


@dataclass(frozen=True, slots=True)
class Thinner:
    """How many of so many `runs` are not of the `usual` wire, and how many cannot be, proven by the bores."""

    usual: str
    runs: int
    other: int
    fewest: int


@dataclass(frozen=True, slots=True)
class Warmest:
    """The closed place that gets warmest above the air around the model, K. `known`: of no other with heat in it the size is open."""

    place: str
    rise: float
    known: bool = True


@dataclass(frozen=True, slots=True)
class Before:
    """The build as it stands, where it has wiring: conductors and bundle (m) of each passage, drop (V), the warmest place."""

    passages: tuple[tuple[str, int, float], ...] = ()
    drop: float | None = None
    warmest: Warmest | None = None


@dataclass(frozen=True, slots=True)
class PlannedLamp:
    """A lamp with what was chosen for it. `current` of one string, A; `seat`: where its resistor sits.

    `outside`: it sits there because the lamp's own place would be too warm with all of them in it. `dimmed`: the share of
    the light that was planned, where heat left clearly less; `held_by`: the places and what feeds it that allow no more, empty
    where something else stands in the way, None where it was not tried any brighter.
    """

    name: str
    series: int
    parallel: int
    resistor: str
    seat: str
    outside: bool
    current: float
    lead: str
    dimmed: float | None = None
    held_by: tuple[Subject, ...] | None = None


@dataclass(frozen=True, slots=True)
class Joined:
    """A line: what it feeds or brings back, the pieces that carry it, and why it is apart from the others."""

    line: str
    returns: bool
    parts: tuple[str, ...]
    pieces: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Bought:
    """Something to have at hand: `amount` of it, in m where `unit` says so, else pieces."""

    what: str
    amount: float
    unit: Literal["m", ""]


@dataclass(frozen=True, slots=True)
class Set:
    """A value set in a table that is there: the table as it stands in the file, with the name of what it is of; key; value as typed, empty where the key goes."""

    table: str
    name: str
    key: str
    value: str


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan, or why there is none.

    `before`: the verdict on the wish as it stands, and `was` its figures; `verdict` of the plan (None where there is none).
    `lasts`: how long each battery does, s; `heed`: what a builder has to know beside it, in sentences. `drop`: the most
    volts lost on the way to a lamp, V. `text`: the whole file with the plan in it, None where its form does not let it be
    written, and `unwritten` says why; `tables`: what is added, and `values`: what is set in the tables that are there.
    `checked`: wirings that were judged in full. `partly`: the search was broken off. `stage`: for which it was judged; for
    closing nothing can be, that is still to be built. `what_if`: the keys that the wish has with other values than in its
    file; `text` has them too. Planned anew: `gone` are the tables of the file that go; `stays`: no wiring was found that is
    better than what is there. `asks`: what has to be said before there can be a plan; beside one, what takes room in a bore and
    no plan lays.
    """

    file: str
    name: str
    before: Verdict
    verdict: Verdict | None
    was: Before = Before()
    passages: tuple[Passed, ...] = ()
    thinner: Thinner | None = None
    lamps: tuple[PlannedLamp, ...] = ()
    lines: tuple[Joined, ...] = ()
    supplies: tuple[tuple[str, float, float | None, str], ...] = ()
    lasts: tuple[tuple[str, float], ...] = ()
    heed: tuple[str, ...] = ()
    drop: float | None = None
    warmest: Warmest | None = None
    bought: tuple[Bought, ...] = ()
    values: tuple[Set, ...] = ()
    tables: str = ""
    text: str | None = None
    unwritten: str | None = None
    missing: tuple[Unsaid, ...] = ()
    blocks: tuple[Blocked, ...] = ()
    asks: tuple[Unsaid, ...] = ()
    frees: tuple[Freed, ...] = ()
    beside: tuple[Freed, ...] = ()
    checked: int = 0
    partly: bool = False
    stage: Stage = "planning"
    what_if: tuple[WhatIf, ...] = ()
    gone: tuple[str, ...] = ()
    stays: bool = False
