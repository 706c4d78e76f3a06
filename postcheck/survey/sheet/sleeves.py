"""Shrink sleeving: which size goes over each joint and each resistor, and shrinks down onto it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from postcheck import catalogue
from postcheck.description.called import power_words
from postcheck.limits import below
from postcheck.materials import Sleeved
from postcheck.physics.bundle import pack
from postcheck.sheet import HubEnd, Joint
from postcheck.survey import Survey
from postcheck.survey.sheet.hub import hub_places
from postcheck.wiring.data import wire_data
from postcheck.wiring.parts import LampPart

# Inside diameters that shrink sleeving of 2:1 is sold by, m: 3/64 to 1 in of SAE AMS-DTL-23053 (from memory).
SIZES = (1.2e-3, 1.6e-3, 2.4e-3, 3.2e-3, 4.8e-3, 6.4e-3, 9.5e-3, 12.7e-3, 19.0e-3, 25.4e-3)
_SHRINKS = 2.0
# Joints of more conductors than this are made on a board or a strip, and no sleeve goes over them; judgement.
_MOST = 20
# Legs of film resistors of 1/4 W, m: 0.5 to 0.6 mm in makers' sheets (from memory).
LEG = 0.6e-3
_FLEXIBLE = ("run", "lead")


def sleeves(survey: Survey) -> dict[float, tuple[Sleeved, ...]]:
    """Of each size (m) what it goes over: joints in the order of the hub map, then resistors by their power."""
    over = survey.limits.value("sleeve.over")
    counts: dict[float, Counter[Sleeved]] = {}
    for size, across, what in (*_of_joints(survey, over), *_of_resistors(survey, over)):
        held = counts.setdefault(size, Counter())
        held[replace(what, loose=size / _SHRINKS > across)] += 1
    return {
        size: tuple(replace(what, count=count) for what, count in counts[size].items())
        for size in sorted(counts)
    }


def _of_joints(survey: Survey, over: float) -> Iterator[tuple[float, float, Sleeved]]:
    """Of each joint of wires the size, the diameter that it has to hold, and which it is."""
    known: dict[tuple[float, ...], tuple[float, float] | None] = {}
    for place in hub_places(survey):
        for joint in place.joints:
            ends = [end for end in joint.ends if end.kind in _FLEXIBLE and end.wire]
            count = sum(end.count for end in ends)
            if not 2 <= count <= _MOST or _within_a_resistor(joint, ends):
                continue
            widths = tuple(sorted(_width(survey, end) for end in ends for _ in range(end.count)))
            if widths not in known:
                known[widths] = _size(widths, over)
            if (found := known[widths]) is not None:
                yield *found, Sleeved(place.name, joint.first)
    for run in survey.parts.runs:
        inside = run.said.joint
        if inside is not None and inside.thin is None:  # its diameter is that with the sleeve on it
            size = next((one for one in SIZES if one >= inside.across), None)
            if size is not None:
                yield size, inside.across, Sleeved(run=run.name)


def _width(survey: Survey, end: HubEnd) -> float:
    """What of an end lies in a joint, m: its wire, or the leg of the resistor that sits in it there."""
    wire = wire_data(survey.build, end.wire).max_diameter if end.wire else 0.0
    return wire if end.ohms is None else max(wire, LEG)


def _within_a_resistor(joint: Joint, ends: list[HubEnd]) -> bool:
    """Whether nothing but one resistor lies between two conductors: its own sleeve goes over all of it."""
    return (
        len(joint.ends) == len(ends) == 2
        and all(end.count == 1 for end in ends)
        and sum(end.ohms is not None for end in ends) == 1
    )


def _size(widths: tuple[float, ...], over: float) -> tuple[float, float] | None:
    across = pack(widths, effort="light").diameter
    size = next((one for one in SIZES if not below(one, across * over)), None)
    return None if size is None else (size, across)


def _of_resistors(survey: Survey, over: float) -> Iterator[tuple[float, float, Sleeved]]:
    """Of each resistor with wires the size, its body, and its power; one of which no power is known has no size."""
    bodies = sorted(
        (row.power, row.body)
        for name in catalogue.names("resistor")
        if (row := catalogue.resistor_size(name)).body is not None
    )
    for part in survey.parts.every:
        resistor = part.resistor
        if not isinstance(part, LampPart) or resistor is None or _chip(part):
            continue
        for piece in resistor.each:
            if piece.power is None or piece.track is not None:
                continue
            rated = piece.power * (1.0 - 1e-9)
            body = next((body for power, body in bodies if body and power >= rated), None)
            size = next((one for one in SIZES if body and not below(one, body * over)), None)
            if body is not None and size is not None:
                sleeved = Sleeved(power=power_words(piece.power))
                yield from [(size, body, sleeved)] * part.resistors


def _chip(part: LampPart) -> bool:
    lamp = part.said
    spec = lamp.dice[str(part.path[3])].resistor if lamp.dice and len(part.path) > 3 else lamp.resistor
    return spec is not None and spec.size is not None and catalogue.resistor_size(spec.size).mount == "chip"
