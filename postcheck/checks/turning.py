"""Passages that turn: whether their wires survive it."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, floor, radians

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.of_passages import (
    AFTER,
    CYCLES,
    STRAINED,
    cycles_limit,
    cycles_to_failure,
    cycles_wanted,
    enamelled_in,
    fact_of,
    part_of,
    parts_of,
    strained,
    turning,
)
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.physics import copper
from postcheck.report import Figure, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.post.turning import free_of


def _strain(survey: Survey) -> Iterator[Fact | Within]:
    for passage in turning(survey):
        rows = [
            (band, strain, member, member.wire)
            for band, strain, member in zip(
                passage.cycles_to_failure, passage.strain, passage.members, strict=True
            )
            if member.wire
        ]
        if not rows:
            continue
        (low, high), strain, member, wire = min(rows, key=lambda row: row[0])
        wanted = cycles_limit(survey, passage)
        yield (within := Within(Subject("passage", passage.name), low, wanted, least=True))
        if within.kept:
            continue
        others = len({part_of(row[2]) for row in rows if row[0][0] < passage.cycles}) - 1
        borne = passage.turn_borne or 0.0
        whole = floor(degrees(borne))
        yield fact_of(
            passage,
            "stop" if high < passage.cycles else "caution",
            key="turn",
            figures={
                "turn": Figure(borne, "rad"),
                "free": Figure(free_of(passage.passage), "m"),
                **cycles_to_failure(low, high),
                **cycles_wanted(passage),
                **strained(strain, copper.minimum_elongation(wire.strand_diameter)),
                **({"others": Figure(float(others), "")} if others else {}),
                "harmless" if whole else "harmful": Figure(radians(whole or 1.0), "rad"),
            },
            parts={"conductor": part_of(member)},
            limit=wanted,
        )


def _solid(survey: Survey) -> Iterator[Fact | Within]:
    limit = survey.limits["twist.solid"]
    for passage in turning(survey):
        solid = [
            (member.wire.strand_diameter, member) for member in passage.members
            if member.wire is not None and member.wire.solid and not member.wire.enamelled
        ]  # fmt: skip
        if not solid:
            continue
        thickest = max(diameter for diameter, _ in solid)
        yield (within := Within(Subject("passage", passage.name), thickest, limited(limit)))
        if within.kept:
            continue
        yield fact_of(
            passage,
            "caution",
            key="turn",
            figures={
                "diameter": Figure(thickest, "m"),
                "turn": Figure(passage.passage.turn, "rad"),
            },
            parts={"wires": parts_of(member for diameter, member in solid if diameter > limit.value)},
            limit=within.limit,
            because_of=f"passage.strain:{passage.name}",
        )


def _enamelled(survey: Survey) -> Iterator[Fact]:
    for passage in turning(survey):
        fine = enamelled_in(passage)
        if not fine or passage.weak is None:
            continue
        thinnest = min(member.wire.strand_diameter for member in fine if member.wire is not None)
        stretches, breaks = passage.weak
        yield fact_of(
            passage,
            "caution",
            key="turn",
            figures={
                "turn": Figure(passage.passage.turn, "rad"),
                "diameter": Figure(thinnest, "m"),
                "stretches": Figure(stretches, "N"),
                "breaks": Figure(breaks, "N"),
            },
            parts={"wires": parts_of(fine)},
        )


def _loops(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["twist.turn.caution"]
    for passage in turning(survey):
        if not passage.members:
            continue
        turn = passage.passage.turn
        yield (within := Within(Subject("passage", passage.name), turn, limited(limit)))
        far = not within.kept
        if not far and passage.passage.stop is None:
            yield NotJudged(
                passage.name,
                "whether it can be turned until the wires loop",
                "whether a stop ends its turn: stop = true or false",
            )
        elif far or not passage.passage.stop:
            yield fact_of(
                passage,
                "caution",
                "far" if far else "no stop",
                key="turn" if far else "stop",
                figures={"turn": Figure(turn, "rad"), "loop": Figure(passage.loop_turn, "rad")},
                limit=within.limit,
            )


_LOOPED = "A loop pulled tight is a kink, and a kinked strand is a broken one. A straight wire of any gauge loops from {loop} on. Slack and bends make it loop sooner."
_STOP = "Fit a stop that ends the turn at a full one or less each way."

CHECKS: tuple[Check, ...] = (
    Check(
        "passage.strain", "stop", "passage", "turning tires the wires",
        "Soft copper breaks after so many turnings.",
        "strain range of the turn both ways over the free length, at each wire's place in the bundle; cycles to failure by five relations",
        ("twist.cycles",), "Saint-Venant torsion and helix geometry; IPC-TR-579, Manson, Coffin and Tavernelli (constants from memory)",
        _strain,
        wording={
            "": Wording(
                f"{{conductor}} breaks{AFTER} of {{subject}}.{CYCLES}",
                f"Each turning strains its copper{STRAINED} over {{free}} of free length. Soft copper tires. The published relations differ, so the band is wide."
                "[ {others:more conductor breaks|more conductors break} too soon.]"
                "[ With {harmless} each way every wire would last.][ Not even with {harmful} each way would every wire last.]",
                "Use finer strands, turn it less, or give the wires a longer way to twist in.",
            )
        },
    ),
    Check(
        "passage.solid", "caution", "passage", "solid wire in a passage that turns",
        "Solid wire work-hardens and breaks unseen.", "solid, thicker than the limit, and a turn", ("twist.solid",),
        "common practice: stranded wire where it moves", _solid,
        wording={
            "": Wording(
                "Solid wire {diameter} thick goes through {subject}: {wires}. {subject} turns {turn} each way.",
                "Solid wire work-hardens where it moves and breaks inside its insulation, where nobody sees it.",
                "Use stranded wire of the same gauge, seven strands at least and nineteen for much movement.",
            )
        },
    ),
    Check(
        "passage.enamelled", "caution", "passage", "enamelled wire in a passage that turns",
        "It is weak, kinks, and its enamel rubs through.", "enamelled, and a turn", (),
        "common practice, no published source; strength 220 N/mm2 of annealed copper", _enamelled,
        wording={
            "": Wording(
                "Enamelled wire goes through {subject}: {wires}. {subject} turns {turn} each way.",
                "Fine wire withstands the twist itself. The thinnest ({diameter}) stays stretched from {stretches} on and breaks at {breaks}. It kinks for good when it goes slack. Its thin enamel rubs through on edges and on its neighbours.",
                "End the enamelled leads at a joint before the passage, and go on with stranded wire.",
            )
        },
    ),
    Check(
        "passage.loops", "caution", "passage", "a passage turns so far that wires loop",
        "A loop pulled tight is a kink.", "turn from straight, or no stop", ("twist.turn.caution",),
        "Greenhill's clamped rod, 690 degrees, divided by 1.9", _loops,
        wording={
            "far": Wording("{subject} turns {turn:apart} each way. Beyond {limit:apart} wires throw loops.", _LOOPED, _STOP),
            "no stop": Wording("Nothing stops {subject} from turning further than {turn}, round and round.", _LOOPED, _STOP),
        },
    ),
)  # fmt: skip
