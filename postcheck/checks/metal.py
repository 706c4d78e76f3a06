"""Posts and spars whose bare metal is a conductor: what touches it, and what slides."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from postcheck.checks.fact import Fact, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.limits import above
from postcheck.report import Figure, Subject
from postcheck.survey import Survey


def _live(survey: Survey) -> Iterator[Fact]:
    most = survey.limits["metal.short"]
    for metal in survey.metal:
        if metal.supply is None:
            continue
        free = not metal.limited and above(metal.short, most.value)
        yield Fact(
            "stop" if free else "caution",
            Subject("run", metal.name),
            (*metal.path, "body"),
            "unlimited"
            if free and metal.short == inf
            else "strong"
            if free
            else "fused"
            if metal.fuse
            else "weak",
            figures={
                **({} if metal.short == inf else {"short": Figure(metal.short, "A")}),
                **({} if metal.fuse is None else {"fuse": Figure(metal.fuse, "A")}),
            },
            parts={
                "passage": Subject("passage", metal.passage),
                "supply": Subject("supply", metal.supply),
                "line": Subject("line", metal.line),
            },
            limit=limited(most),
            because_of=f"fuse.absent:{metal.supply}" if free else None,
        )


def _slides(survey: Survey) -> Iterator[Fact]:
    for metal in survey.metal:
        if metal.moves is None:
            continue
        moves = survey.passages[metal.moves].passage
        yield Fact(
            "caution",
            Subject("run", metal.name),
            (*metal.path, "body"),
            "turns" if moves.turn else "folds",
            figures={"turn": Figure(moves.turn or moves.fold, "rad")},
            parts={"passage": Subject("passage", metal.moves), "line": Subject("line", metal.line)},
        )


_TOUCHED = "All of it can be touched, by tweezers, a tool or a second model. The negative on the metal does nothing when that is touched."
_SWAPPED = "Put the negative on the metal, and give {line} a wire. If all of the metal is sleeved or lacquered, accept this with that as the reason."
_FUSED = "Put the negative on the metal, and give {line} a wire. Fit a fuse at {supply} as well."
_POSITIVE = "{passage:kind} is bare metal and carries {line}, the positive of {supply}."

CHECKS: tuple[Check, ...] = (
    Check(
        "metal.live", "stop", "run", "the positive pole on the bare metal of a post",
        "Whatever touches it shorts the supply.",
        "body = true on a line that the positive pole comes to; a stop where nothing limits the short below the limit", ("metal.short",),
        "common practice: the negative on the metal; IEC 60950-1 table 2B for what is limited", _live, dangerous=True,
        wording={
            "unlimited": Wording(f"{_POSITIVE} It has no fuse, and nothing is known that limits a short.", _TOUCHED, _FUSED),
            "strong": Wording(f"{_POSITIVE} A short of it draws up to {{short:apart}} with no fuse. Up to {{limit:apart}} a supply counts as limited.", _TOUCHED, _FUSED),
            "fused": Wording(f"{_POSITIVE} Only the fuse ({{fuse}}) ends a short of it.", _TOUCHED, _SWAPPED),
            "weak": Wording(f"{_POSITIVE} Only the supply itself ends a short of it, which draws up to {{short}}.", _TOUCHED, _SWAPPED),
        },
    ),
    Check(
        "metal.slides", "caution", "run", "a line goes through metal that moves, and nothing else",
        "Two parts that turn on each other are a sliding contact.", "body = true, a turn or fold, and no other conductor between its ends", (),
        "common practice; as the bonding jumpers across hinges of FAA AC 43.13-1B, chapter 11 (from memory)", _slides,
        wording={
            case: Wording(
                f"{{line}} goes through the metal of {{passage}} and nothing else. {{passage}} {how}.",
                "Where the metal slides on metal, oxide and grease come between. The lamps flicker, and one day stay dark.",
                "Lead a wire of {line} through it beside the metal.",
            )
            for case, how in (("turns", "turns {turn} each way"), ("folds", "folds by {turn}"))
        },
    ),
)  # fmt: skip
