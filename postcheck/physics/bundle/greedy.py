"""First layouts: exact ones for up to three circles, corner by corner for more."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from postcheck.physics.bundle.bounds import gap_radius, three
from postcheck.physics.bundle.certify import Layout, tightened

__all__ = ["corners", "exact"]


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
        while len(xs) < len(radii):
            _add(xs, ys, radii)
        found = tightened(*_centred(xs, ys, radii), radii)
        if best is None or found[0] < best[0]:
            best = found
    assert best is not None
    return best[1]


def _around_one(radii: Sequence[float]) -> Layout:
    return [0.0, radii[0] + radii[1]], [0.0, 0.0]


def _around_two(radii: Sequence[float]) -> Layout:
    return [radii[1], -radii[0]], [0.0, 0.0]


def _add(xs: list[float], ys: list[float], radii: Sequence[float]) -> None:
    placed = len(xs)
    radius = radii[placed]
    reach = [radii[i] + radius for i in range(placed)]
    spots = []
    for i in range(1, placed):
        for j in range(i):
            dx, dy = xs[j] - xs[i], ys[j] - ys[i]
            span = reach[i] + reach[j]
            if dx * dx + dy * dy <= span * span:
                for x, y in _touching(xs[i], ys[i], reach[i], xs[j], ys[j], reach[j]):
                    spots.append((x * x + y * y, x, y))
    spots.sort()
    for _, x, y in spots:
        for i in range(placed):
            dx, dy = x - xs[i], y - ys[i]
            if dx * dx + dy * dy < reach[i] * reach[i] * (1.0 - 1e-12):
                break
        else:
            xs.append(x)
            ys.append(y)
            return
    # no corner is free, which two touching circles rule out: put it outside everything
    far = max(sqrt(x * x + y * y) + r for x, y, r in zip(xs, ys, radii, strict=False))
    xs.append(far + radius)
    ys.append(0.0)


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
