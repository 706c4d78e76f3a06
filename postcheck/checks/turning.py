"""Passages that turn or fold: whether their wires survive it."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, floor, radians

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.of_passages import (
    AFTER,
    CYCLES,
    FEW,
    MOVES,
    STRAINED,
    cycles_limit,
    cycles_to_failure,
    cycles_wanted,
    enamelled_in,
    fact_of,
    movement,
    moving,
    part_of,
    parts_of,
    strained,
    turning,
    way_it_moves,
)
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.limits import above, below
from postcheck.physics import copper
from postcheck.report import Figure, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.post.figures import PassageFigures
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
            yield from _folded_too(survey, passage)
            continue
        others = len({part_of(row[2]) for row in rows if row[0][0] < passage.cycles}) - 1
        borne = passage.turn_borne or 0.0
        whole = floor(degrees(borne))
        yield fact_of(
            passage,
            "stop" if below(high, passage.cycles) else "caution",
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


def _folded_too(survey: Survey, passage: PassageFigures) -> Iterator[Fact | Within]:
    """Turning and folding wear the same copper: their damage adds up, where neither breaks it by itself."""
    both, folding, wanted = passage.both, passage.folding, cycles_limit(survey, passage)
    if both is None or folding is None:
        return
    subject, (low, high) = Subject("passage", passage.name), both.cycles_to_failure
    yield (within := Within(subject, low, wanted, least=True))
    if within.kept or not Within(subject, folding.cycles_to_failure[0], wanted, least=True).kept:
        return
    whole = floor(degrees(passage.turn_borne or 0.0))
    yield fact_of(
        passage,
        "stop" if below(high, passage.cycles) else "caution",
        "folds too",
        key="turn",
        figures={
            "turn": Figure(passage.passage.turn, "rad"),
            "fold": Figure(passage.passage.fold, "rad"),
            "free": Figure(free_of(passage.passage), "m"),
            "strain": Figure(both.strain, "share"),
            "folded": Figure(both.fold, "share"),
            "least": Figure(float(round(low)), ""),
            "most": Figure(float(round(high)), ""),
            **cycles_wanted(passage),
            **({"harmless": Figure(radians(whole), "rad")} if whole else {}),
        },
        parts={"conductor": part_of(both.tired)},
        limit=wanted,
    )


_TIRED = {"turn": "strain", "fold": "fold"}


def _fold(survey: Survey) -> Iterator[Fact | Within]:
    for passage in survey.passages.values():
        folding = passage.folding
        if folding is None:
            continue
        low, high = folding.cycles_to_failure
        yield (
            within := Within(Subject("passage", passage.name), low, cycles_limit(survey, passage), least=True)
        )
        if within.kept:
            continue
        wire, strain = folding.tired.wire, folding.strain
        yield fact_of(
            passage,
            "stop" if below(high, passage.cycles) else "caution",
            key="fold",
            figures={
                "fold": Figure(passage.passage.fold, "rad"),
                "free": Figure(free_of(passage.passage), "m"),
                "needed": Figure(folding.needed, "m"),
                **cycles_to_failure(low, high),
                **cycles_wanted(passage),
                **strained(
                    strain, copper.minimum_elongation(wire.strand_diameter if wire is not None else 0.0)
                ),
            },
            parts={"conductor": part_of(folding.tired)},
            limit=cycles_limit(survey, passage),
        )


def _soldered(survey: Survey) -> Iterator[Fact]:
    for passage in moving(survey):
        solid = parts_of(
            member for member in passage.members if member.wire is not None and not member.wire.solid
        )
        if passage.passage.soldered_inside and solid:
            yield fact_of(
                passage, "caution", key="soldered_inside", figures=movement(passage), parts={"wires": solid},
                because_of=f"passage.{_TIRED[way_it_moves(passage)]}:{passage.name}",
            )  # fmt: skip


def _solid(survey: Survey) -> Iterator[Fact | Within]:
    limit = survey.limits["twist.solid"]
    for passage in moving(survey):
        if passage.nicked is None:
            continue
        subject, way = Subject("passage", passage.name), way_it_moves(passage)
        solid = [
            (member.wire.strand_diameter, member) for member in passage.members
            if member.wire is not None and member.wire.solid and not member.wire.enamelled
        ]  # fmt: skip
        thickest = max(diameter for diameter, _ in solid)
        low, _ = passage.nicked.cycles_to_failure
        thin = Within(subject, thickest, limited(limit))
        yield thin
        if thin.kept:
            lives = Within(subject, low, cycles_limit(survey, passage), least=True)
            yield lives
            if lives.kept:
                continue
        yield fact_of(
            passage,
            "caution",
            "nicked" if thin.kept else "",
            key=way,
            figures={
                "diameter": Figure(thickest, "m"),
                **movement(passage),
                **(
                    {"lasts": Figure(max(FEW, round(low)), ""), "needed": Figure(passage.cycles, "")}
                    if thin.kept
                    else {}
                ),
            },
            parts={
                "wires": parts_of(
                    member for diameter, member in solid if thin.kept or above(diameter, limit.value)
                )
            },
            limit=lives.limit if thin.kept else thin.limit,
            because_of=f"passage.{_TIRED[way]}:{passage.name}",
        )


def _enamelled(survey: Survey) -> Iterator[Fact]:
    for passage in moving(survey):
        fine = enamelled_in(passage)
        if not fine or passage.weak is None:
            continue
        thinnest = min(member.wire.strand_diameter for member in fine if member.wire is not None)
        stretches, breaks = passage.weak
        yield fact_of(
            passage,
            "caution",
            key=way_it_moves(passage),
            figures={
                **movement(passage),
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


_STRANDED = "Use stranded wire of the same gauge, seven strands at least and nineteen for much movement."
_LOOPED = "A loop pulled tight is a kink, and a kinked strand is a broken one. A straight wire of any gauge loops from {loop} on. Slack and bends make it loop sooner."
_STOP = "Fit a stop that ends the turn at a full one or less each way."

CHECKS: tuple[Check, ...] = (
    Check(
        "passage.strain", "stop", "passage", "turning tires the wires",
        "Soft copper breaks after so many turnings.",
        "strain range of the turn both ways over the free length, at each wire's place in the bundle and with the lay of its strands; cycles to failure by five relations; where it folds as well, 1/(1/cycles of turning + 1/cycles of folding)",
        ("twist.cycles",), "Saint-Venant torsion and helix geometry; IPC-TR-579, Manson, Coffin and Tavernelli (constants from memory); Palmgren and Miner's rule",
        _strain,
        wording={
            "": Wording(
                f"{{conductor}} breaks{AFTER} of {{subject}}.{CYCLES}",
                f"Each turning strains its copper{STRAINED} over {{free}} of free length. Soft copper tires. The published relations differ, so the band is wide."
                "[ {others:more conductor breaks|more conductors break} too soon.]"
                "[ With {harmless} each way every wire would last.][ Not even with {harmful} each way would every wire last.]",
                "Use finer strands, turn it less, or give the wires a longer way to twist in.",
            ),
            "folds too": Wording(
                f"{{conductor}} breaks after {{least}} to {{most}} movements of {{subject}}, each a turning and a folding.{CYCLES.replace('turning', 'movement')}",
                "Turning by {turn} each way strains its copper by {strain}, and folding by {fold} by {folded}, both over the same {free} of free length. "
                "Neither breaks it by itself. The damage of both adds up (Palmgren and Miner's rule). The published relations differ, so the band is wide."
                "[ With {harmless} each way every wire would last.]",
                "Use finer strands, turn or fold it less, or give the wires a longer way to move in.",
            ),
        },
    ),
    Check(
        "passage.fold", "stop", "passage", "folding tires the wires",
        "Soft copper breaks after so many foldings.",
        "2.88 r fold (1 + 0.019 fold2) / free length, r of a strand; cycles to failure by five relations",
        ("twist.cycles",), "the elastica, gripped in line with the pin at the same distance on both sides; IPC-TR-579, Manson, Coffin and Tavernelli (constants from memory)",
        _fold,
        wording={
            "": Wording(
                f"{{conductor}} breaks{AFTER.replace('turning', 'folding')} of {{subject}}.{CYCLES.replace('turning', 'folding')}",
                f"Each folding by {{fold}} bends its copper{STRAINED} over {{free}} of free length. Soft copper tires. The published relations differ, so the band is wide.",
                "Leave {needed} of wire free across the hinge, use finer strands, or lead the wires along the pin, so that they twist (turn).",
            )
        },
    ),
    Check(
        "passage.soldered", "caution", "passage", "strands are soldered solid where they move",
        "Tinned strands bend and twist as one thick wire, and break where the solder ends.", "soldered_inside, and a turn or fold", (),
        "FAA AC 43.13-1B, 11-96: no movement at the solder", _soldered,
        wording={
            "": Wording(
                f"Strands are soldered solid inside {{subject}}: {{wires}}.{MOVES}",
                "Soldered strands cannot slide. They move as one thick wire, and break where the solder ends.",
                "Let the solder end ahead of the last grip, or take a length that was not tinned.",
            )
        },
    ),
    Check(
        "passage.solid", "caution", "passage", "solid wire in a passage that moves",
        "Solid wire work-hardens and breaks unseen.",
        "solid, and thicker than the limit or with too few cycles to failure where stripping nicked it: strain x kt**(2/(1 + n)); and a turn or fold",
        ("twist.solid", "twist.nick", "fold.nick", "twist.cycles"),
        "common practice: stranded wire where it moves; nicks by Neuber's rule", _solid,
        wording={
            "": Wording(
                f"Solid wire {{diameter}} thick goes through {{subject}}: {{wires}}.{MOVES}",
                "Solid wire work-hardens where it moves and breaks inside its insulation, where nobody sees it.",
                _STRANDED,
            ),
            "nicked": Wording(
                f"Solid wire {{diameter}} thick goes through {{subject}}: {{wires}}.{MOVES} Nicked once it may last no more than {{lasts:movement}}. {{needed:movement is|movements are}} counted on.",
                "Stripping nicks solid wire easily, and strain gathers there. It has no second strand to carry on.",
                _STRANDED,
            ),
        },
    ),
    Check(
        "passage.enamelled", "caution", "passage", "enamelled wire in a passage that moves",
        "It is weak, kinks, and its enamel rubs through.", "enamelled, and a turn or fold", (),
        "common practice, no published source; strength 220 N/mm2 of annealed copper", _enamelled,
        wording={
            "": Wording(
                f"Enamelled wire goes through {{subject}}: {{wires}}.{MOVES}",
                "Fine wire withstands the movement itself. The thinnest ({diameter}) stays stretched from {stretches} on and breaks at {breaks}. It kinks for good when it goes slack. Its thin enamel rubs through on edges and on its neighbours.",
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
