"""Wires of different diameters side by side in a round bore: do they fit, and how slim can the bundle be.

`pack` arranges the wires and certifies the arrangement; `smallest_possible` proves what no arrangement can beat.
Between the two lies the honest answer "not found".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite

from postcheck.physics.bundle import bounds, certify, greedy, search

__all__ = ["CANNOT", "FITS", "NOT_FOUND", "Packing", "pack", "smallest_possible"]

FITS = "fits"
CANNOT = "cannot fit"
NOT_FOUND = "not found"

_HAIR = 1e-9  # relative; far below any wire's tolerance, above the rounding of the sums


@dataclass(frozen=True, slots=True)
class Packing:
    """An arrangement: bundle diameter, one centre (x, y) a wire in the order given, and the verdict on the bore.

    The circle of `diameter` about the origin holds every wire, and no two wires overlap; both were checked.
    """

    diameter: float
    centres: tuple[tuple[float, float], ...]
    verdict: str


def pack(diameters: Sequence[float], bore: float | None = None) -> Packing:
    """Arrange round wires of these diameters in a circle, all in one unit of length.

    Without a bore: the slimmest bundle found, verdict "fits". With one: "fits" (the arrangement is the proof),
    "cannot fit" (proven: `smallest_possible` is wider than the bore) or "not found" (neither); the search stops at
    the first arrangement that fits, so `diameter` is then at most the bore but not the least. Touching exactly
    counts as fitting, to 1e-9.

    Exact for up to three wires (Descartes' circle theorem). Otherwise a greedy layout, then projection and
    relaxation from many starts, counted in work and never in time, with a generator of its own and only + - * /
    and sqrt: the same answer on every machine. Maximum outside diameters should be given. The bundle is usually
    within 1 to 3 % of the best known one. ValueError for a diameter or bore that is not above zero.
    """
    wires = tuple(float(d) for d in diameters)
    if any(not (isfinite(d) and d > 0.0) for d in wires):
        raise ValueError("every wire needs a diameter above zero")
    if bore is not None and not (isfinite(bore) and bore > 0.0):
        raise ValueError("a bore needs a diameter above zero")
    if not wires:
        return Packing(0.0, (), FITS)
    # the search knows radii in falling order, the largest being 1
    order = sorted(range(len(wires)), key=lambda i: -wires[i])
    unit = wires[order[0]] / 2.0
    radii = tuple(wires[i] / 2.0 / unit for i in order)
    goal = None if bore is None else bore / 2.0 / unit
    radius, layout, verdict = _pack(radii, goal)
    centres = [(0.0, 0.0)] * len(wires)
    for place, (x, y) in zip(order, layout, strict=True):
        centres[place] = (x * unit, y * unit)
    return Packing(2.0 * radius * unit, tuple(centres), verdict)


def smallest_possible(diameters: Sequence[float]) -> float:
    """Bundle diameter that no arrangement of these wires can beat: a proven lower bound.

    The greatest of: root of the summed squares (area); the two largest side by side; Descartes' circle round the
    three largest; the k largest shrunk to the k-th, against the proven best for k equal circles (k to 14 and 19;
    sources at `bounds.RATIOS`) or the bound of Oler and Groemer. Usually 3 to 10 % below the best arrangement.
    """
    wires = sorted((float(d) for d in diameters), reverse=True)
    if not wires:
        return 0.0
    if not (isfinite(wires[0]) and wires[-1] > 0.0):
        raise ValueError("every wire needs a diameter above zero")
    unit = wires[0] / 2.0
    return 2.0 * unit * bounds.lower([d / 2.0 / unit for d in wires])


@lru_cache(maxsize=512)
def _pack(radii: tuple[float, ...], goal: float | None) -> tuple[float, tuple[tuple[float, float], ...], str]:
    bound = bounds.lower(radii)
    impossible = goal is not None and bound > goal * (1.0 + _HAIR)
    if len(radii) <= 3:
        layout = greedy.exact(radii)
        radius = certify.enclosing(layout[0], layout[1], radii)
    else:
        layout = greedy.corners(radii)
        radius, layout = certify.tightened(*layout, radii)
        wanted = bound if goal is None else goal
        if not impossible and radius > wanted * (1.0 + _HAIR):
            radius, layout = search.squeeze(radii, radius, layout, bound, goal)
    centres = tuple(zip(*layout, strict=True))
    if goal is not None and not impossible and radius > goal * (1.0 + _HAIR):
        # whoever drills the bore that the free search asked for must be told that it does
        free, free_centres, _ = _pack(radii, None)
        if free < radius:
            radius, centres = free, free_centres
    if goal is None or radius <= goal * (1.0 + _HAIR):
        return radius, centres, FITS
    return radius, centres, CANNOT if impossible else NOT_FOUND
