"""Flat cables and round wires side by side in a round bore: do they fit, and how slim can that be.

A flat cable is something between a row of equal circles, joined, and the rectangle round it: rounded or square at its
edges, nobody says. So what fits is proven with the rectangles, and what cannot with the circles; between the two lies
"not found". All lengths in one unit.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, hypot
from typing import NamedTuple

from postcheck.physics import bundle, flat_pack, given

__all__ = ["FlatPacking", "lies", "pack", "smallest_possible"]

_HAIR = 1e-9
# Halvings of the bore between what is proven and what was found.
_TRIES = 10

Flat = tuple[float, float]


class FlatPacking(NamedTuple):
    """An arrangement about the middle of the smallest bore found (`diameter`).

    `flats` and `wires`: their middles, in the order given. `upright`: the flat ones stand on their edges.
    """

    verdict: bundle.Verdict
    diameter: float
    flats: tuple[tuple[float, float], ...]
    wires: tuple[tuple[float, float], ...]
    upright: bool


def smallest_possible(flats: Sequence[Flat], wires: Sequence[float]) -> float:
    """Bore that flat cables (across, thin) and wires need at least: the widest, and the bounds of the circles in each.

    A row of floor(across / thin) circles as thick as the cable lies in it.
    """
    circles = [
        *wires, *(thin for across, thin in flats for _ in range(max(1, floor(across / thin + _HAIR))))
    ]  # fmt: skip
    return max([bundle.smallest_possible(circles), *(across for across, _ in flats)])


def pack(flats: Sequence[Flat], wires: Sequence[float], bore: float) -> FlatPacking:
    """Lay flat cables, one on the other, and wires beside them in as small a bore as is found; judged by `bore`.

    Every arrangement that is given was checked piece by piece (`lies`).
    """
    given.above(bore=bore)
    given.each_above("flat cables", [length for flat in flats for length in flat])
    given.each_above("wires", wires)
    least = smallest_possible(flats, wires)
    stack = max(across for across, _ in flats), sum(thin for _, thin in flats)
    circle = bundle.pack([hypot(*stack), *wires], effort=bundle.LIGHT)
    best = _round(flats, circle)
    low, high = least, best.diameter
    inside = _laid(flats, stack, wires, bore) if least <= bore < high else None
    if inside is not None:
        best, high = inside, bore
    elif least <= bore < high:
        low = bore
    for _ in range(_TRIES):
        middle = (low + high) / 2.0
        found = _laid(flats, stack, wires, middle)
        if found is None:
            low = middle
        else:
            best, high = found, middle
    if best.diameter <= bore * (1.0 + _HAIR):
        return best
    if least > bore * (1.0 + _HAIR):
        return best._replace(verdict=bundle.CANNOT)
    return best._replace(verdict=bundle.NOT_FOUND)


def _round(flats: Sequence[Flat], circle: bundle.Packing) -> FlatPacking:
    """All flat cables in the circle round them, and wires beside that."""
    (x, y), *wires = circle.centres
    return FlatPacking(
        bundle.FITS, circle.diameter, _stacked(flats, x, y, upright=False), tuple(wires), False
    )


def _stacked(flats: Sequence[Flat], x: float, y: float, *, upright: bool) -> tuple[tuple[float, float], ...]:
    """Middles of flat cables that lie on each other, the whole stack about a point."""
    at = -sum(thin for _, thin in flats) / 2.0
    found = []
    for _, thin in flats:
        middle = at + thin / 2.0
        found.append((x + middle, y) if upright else (x, y + middle))
        at += thin
    return tuple(found)


def _laid(flats: Sequence[Flat], stack: Flat, wires: Sequence[float], bore: float) -> FlatPacking | None:
    """The stack with wires on both sides of it, as `flat_pack` lays them; None where none was found that is right."""
    found = flat_pack.laid(*stack, wires, bore)
    if found is None:
        return None
    # across and thin may be changed about: the stack then stands
    upright = found.width != stack[0]
    middles = _stacked(flats, 0.0, found.upper - found.height / 2.0, upright=upright)
    places: dict[float, list[tuple[float, float]]] = {}
    for diameter, x, y in found.wires:
        places.setdefault(diameter, []).append((x, y))
    packing = FlatPacking(bundle.FITS, bore, middles, tuple(places[d].pop() for d in wires), upright)
    return packing if lies(packing, flats, wires) else None


def lies(packing: FlatPacking, flats: Sequence[Flat], wires: Sequence[float]) -> bool:
    """Whether nothing of an arrangement overlaps and all is inside its bore, to a billionth of that."""
    radius, hair = packing.diameter / 2.0, packing.diameter * _HAIR
    boxes = []
    for (x, y), flat in zip(packing.flats, flats, strict=True):
        across, thin = reversed(flat) if packing.upright else flat
        boxes.append((x, y, across / 2.0, thin / 2.0))
    circles = [(x, y, d / 2.0) for (x, y), d in zip(packing.wires, wires, strict=True)]
    if any(hypot(abs(x) + w, abs(y) + h) > radius + hair for x, y, w, h in boxes):
        return False
    if any(hypot(x, y) + r > radius + hair for x, y, r in circles):
        return False
    for number, (x, y, w, h) in enumerate(boxes):
        for right, up, wide, high in boxes[:number]:
            if abs(x - right) < w + wide - hair and abs(y - up) < h + high - hair:
                return False
        for right, up, r in circles:
            if hypot(max(abs(right - x) - w, 0.0), max(abs(up - y) - h, 0.0)) < r - hair:
                return False
    return all(
        hypot(x - right, y - up) >= r + other - hair
        for number, (x, y, r) in enumerate(circles)
        for right, up, other in circles[:number]
    )
