"""First layouts: exact ones for up to three circles, corner by corner for more."""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush
from math import sqrt

from postcheck.physics.bundle.bounds import gap_radius, three
from postcheck.physics.bundle.certify import Layout, tightened

__all__ = ["corners", "exact"]

_Spot = tuple[float, float, float]  # square of the distance from the middle, x, y


def exact(radii: Sequence[float]) -> Layout:
    """Best layout of one, two or three circles, radii in falling order, about the container's centre."""
    if len(radii) == 1:
        return [0.0], [0.0]
    if len(radii) == 2:
        # a container of r1 + r2: the large one a small radius off the middle, the small one opposite
        return tightened([radii[1], -radii[0]], [0.0, 0.0], radii)[1]
    first, second, third = radii
    big = three(radii)
    if third <= gap_radius(first, second):
        # the third beside both, anywhere inside: put it where it touches the two
        xs, ys = [second, -first], [0.0, 0.0]
        x, y = _touching(xs[0], ys[0], first + third, xs[1], ys[1], second + third)[0]
        return tightened([*xs, x], [*ys, y], radii)[1]
    away = big - first
    x2, y2 = _touching(0.0, 0.0, big - second, away, 0.0, first + second)[0]
    x3, y3 = _touching(0.0, 0.0, big - third, away, 0.0, first + third)[1]
    return tightened([away, x2, x3], [0.0, y2, y3], radii)[1]


def corners(radii: Sequence[float]) -> Layout:
    """Place circles in falling order, each where it touches two others and stays nearest the middle.

    Two starts are tried, the largest in the middle and the two largest across it; the slimmer layout is kept.
    """
    best: tuple[float, Layout] | None = None
    for start in (_around_one, _around_two):
        xs, ys = start(radii)
        _grow(xs, ys, radii)
        found = tightened(*_centred(xs, ys, radii), radii)
        if best is None or found[0] < best[0]:
            best = found
    assert best is not None
    return best[1]


def _around_one(radii: Sequence[float]) -> Layout:
    return [0.0, radii[0] + radii[1]], [0.0, 0.0]


def _around_two(radii: Sequence[float]) -> Layout:
    return [radii[1], -radii[0]], [0.0, 0.0]


def _grow(xs: list[float], ys: list[float], radii: Sequence[float]) -> None:
    """Add the circles that are still missing, each to the free corner nearest to the middle."""
    held, corners_left = 0.0, list[_Spot]()
    while len(xs) < len(radii):
        radius = radii[len(xs)]
        if radius != held:
            held, corners_left = radius, []
            for i in range(1, len(xs)):
                _spots(i, xs, ys, radii, radius, corners_left)
        # a corner that is taken stays so: of equal circles only those beside the last one are new
        while corners_left:
            _, x, y = heappop(corners_left)
            if _free(x, y, xs, ys, radii, radius):
                break
        else:
            # no corner is free, which two touching circles rule out: put it outside everything
            x = radius + max(sqrt(x * x + y * y) + r for x, y, r in zip(xs, ys, radii, strict=False))
            y = 0.0
        xs.append(x)
        ys.append(y)
        _spots(len(xs) - 1, xs, ys, radii, radius, corners_left)


def _spots(
    i: int, xs: list[float], ys: list[float], radii: Sequence[float], radius: float, found: list[_Spot]
) -> None:
    """Push the corners for a circle of this radius between the i-th circle and those before it."""
    here = radii[i] + radius
    for j in range(i):
        dx, dy = xs[j] - xs[i], ys[j] - ys[i]
        there = radii[j] + radius
        span = here + there
        if dx * dx + dy * dy <= span * span:
            for x, y in _touching(xs[i], ys[i], here, xs[j], ys[j], there):
                heappush(found, (x * x + y * y, x, y))


def _free(
    x: float, y: float, xs: list[float], ys: list[float], radii: Sequence[float], radius: float
) -> bool:
    for i in range(len(xs)):
        dx, dy = x - xs[i], y - ys[i]
        reach = radii[i] + radius
        if dx * dx + dy * dy < reach * reach * (1.0 - 1e-12):
            return False
    return True


def _touching(
    x1: float, y1: float, d1: float, x2: float, y2: float, d2: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Two points at distance d1 from the first centre and d2 from the second (the nearest to it, if none)."""
    dx, dy = x2 - x1, y2 - y1
    square = dx * dx + dy * dy
    if square <= 0.0:
        return (x1, y1 + d1), (x1, y1 - d1)
    along = (square + d1 * d1 - d2 * d2) / (2.0 * square)
    across = sqrt(max(0.0, d1 * d1 / square - along * along))
    x, y = x1 + along * dx, y1 + along * dy
    return (x - across * dy, y + across * dx), (x + across * dy, y - across * dx)


def _centred(xs: list[float], ys: list[float], radii: Sequence[float]) -> Layout:
    """Move the origin towards the farthest edge while that helps (the steps halve, 200 at most)."""
    step = 0.25 * radii[0]
    x0 = y0 = 0.0
    best = _reach(xs, ys, radii, x0, y0)[0]
    for _ in range(200):
        far, i = _reach(xs, ys, radii, x0, y0)
        dx, dy = xs[i] - x0, ys[i] - y0
        d = sqrt(dx * dx + dy * dy)
        if d > 0.0:
            x, y = x0 + step * dx / d, y0 + step * dy / d
            far = _reach(xs, ys, radii, x, y)[0]
            if far < best * (1.0 - 1e-12):
                best, x0, y0 = far, x, y
                continue
        step *= 0.5
    return [x - x0 for x in xs], [y - y0 for y in ys]


def _reach(
    xs: list[float], ys: list[float], radii: Sequence[float], x0: float, y0: float
) -> tuple[float, int]:
    best, at = -1.0, 0
    for i in range(len(radii)):
        dx, dy = xs[i] - x0, ys[i] - y0
        far = sqrt(dx * dx + dy * dy) + radii[i]
        if far > best:
            best, at = far, i
    return best, at
