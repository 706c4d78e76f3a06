"""Starts for equal circles: rings about a core, and pieces of the hexagonal lattice.

The best known packings of up to about a hundred equal circles are mostly rings (curved hexagons among them: Lubachevsky
and Graham 1997), pieces of the lattice, or one inside the other. These are starts only; the search does the rest.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import sqrt

from postcheck.physics.bundle.dice import Dice

__all__ = ["by_chance", "starts"]

_PI = 3.141592653589793
_RINGS = 8  # ring patterns tried
_MOST = 91  # circles from which on rings are too many to try


def starts(radii: Sequence[float], radius: float, dice: Dice) -> list[list[float]]:
    """Layouts, x of all and then y of all, for circles of about the same radius in a wall of about this radius."""
    count = len(radii)
    if not 6 < count <= _MOST:
        return []
    unit = radii[0]
    shapes = [_lattice(count, x, y) for x, y in ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0 / sqrt(3.0)), (0.6, 0.2))]
    for rings in _ring_counts(count)[:_RINGS]:
        shapes.extend(_rings(rings, radius / unit, dice) for _ in range(3))
    return [[unit * v for v in shape] for shape in shapes]


def by_chance(radii: Sequence[float], radius: float, dice: Dice) -> list[float]:
    """One of the better ring patterns, the rings turned by chance; nothing for very few or many circles."""
    if not 6 < len(radii) <= _MOST:
        return []
    unit = radii[0]
    counts = _ring_counts(len(radii))
    rings = counts[dice.below(min(len(counts), 12))]
    return [unit * v for v in _rings(rings, radius / unit, dice)]


def _lattice(count: int, x0: float, y0: float) -> list[float]:
    """The points of the hexagonal lattice (spacing 2) nearest to a point."""
    rows = int(sqrt(count)) + 3
    points = []
    for row in range(-rows, rows + 1):
        y = sqrt(3.0) * row - y0
        for column in range(-rows, rows + 1):
            x = 2.0 * column + row % 2 - x0
            points.append((x * x + y * y, x, y))
    points.sort()
    return [x for _, x, _ in points[:count]] + [y for _, _, y in points[:count]]


@lru_cache(maxsize=8)
def _ring_counts(count: int) -> list[tuple[int, ...]]:
    """Ways to part the circles into a core of one to five and rings of four to eight more each, slimmest first."""
    found: list[tuple[int, ...]] = []
    open_ends: list[tuple[int, ...]] = [(core,) for core in range(1, 6)]
    while open_ends:
        rings = open_ends.pop()
        left = count - sum(rings)
        if left == 0:
            found.append(rings)
            continue
        for more in (4, 5, 6, 7, 8):
            ring = rings[-1] + more if rings[-1] > 1 else more
            if ring <= left:
                open_ends.append((*rings, ring))
    return sorted(found, key=_rough_radius)


def _rough_radius(rings: Sequence[int]) -> float:
    """About the wall's radius that rings of unit circles need: each wide enough for its own, and clear of the last."""
    middle = 0.0
    for ring in rings:
        apart = 1.0 / _sine(_PI / ring) if ring > 1 else 0.0
        middle = max(apart, middle + 1.8) if middle > 0.0 else apart if ring > 1 else 1e-9
    return middle + 1.0


def _rings(rings: Sequence[int], radius: float, dice: Dice) -> list[float]:
    """Circles evenly on rings, each ring turned by chance."""
    xs: list[float] = []
    ys: list[float] = []
    outer = radius - 1.0
    core = 0.0 if rings[0] == 1 else 1.0 / _sine(_PI / rings[0])
    for place, ring in enumerate(rings):
        middle = core + (outer - core) * place / max(len(rings) - 1, 1)
        turn = 2.0 * _PI / ring
        angle = dice.share() * turn
        for _ in range(ring):
            angle -= 2.0 * _PI if angle > _PI else 0.0
            xs.append(middle * _sine(angle + 0.5 * _PI if angle < 0.5 * _PI else angle - 1.5 * _PI))
            ys.append(middle * _sine(angle))
            angle += turn
    return xs + ys


def _sine(angle: float) -> float:
    """The sine from its series, for -pi to pi: libraries differ in the last place, and the layout must not."""
    if angle > 0.5 * _PI:
        angle = _PI - angle
    elif angle < -0.5 * _PI:
        angle = -_PI - angle
    square = angle * angle
    term = total = angle
    for k in range(1, 10):
        term *= -square / ((2 * k) * (2 * k + 1))
        total += term
    return total
