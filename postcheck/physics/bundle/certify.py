"""Turns a nearly right layout into one that is right: no overlap at all, and a circle that holds everything."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, sqrt

__all__ = ["Layout", "enclosing", "stretch", "tightened"]

Layout = tuple[list[float], list[float]]
_MARGIN = 1e-13  # relative, above the rounding of a distance


def stretch(xs: Sequence[float], ys: Sequence[float], radii: Sequence[float]) -> float:
    """Least factor by which to spread the centres so that no two circles overlap; inf if two coincide."""
    worst = 0.0
    for i in range(1, len(radii)):
        x, y, r = xs[i], ys[i], radii[i]
        for j in range(i):
            dx = x - xs[j]
            dy = y - ys[j]
            touch = r + radii[j]
            square = dx * dx + dy * dy
            if square * worst < touch * touch:
                if square <= 0.0:
                    return inf
                worst = touch * touch / square
    return sqrt(worst) * (1.0 + _MARGIN)


def enclosing(xs: Sequence[float], ys: Sequence[float], radii: Sequence[float]) -> float:
    """Radius of the least circle about the origin that holds all circles."""
    return max(sqrt(x * x + y * y) + r for x, y, r in zip(xs, ys, radii, strict=True)) * (1.0 + _MARGIN)


def tightened(xs: Sequence[float], ys: Sequence[float], radii: Sequence[float]) -> tuple[float, Layout]:
    """Certified radius and layout: the centres spread until nothing overlaps (never drawn together), then measured."""
    factor = max(1.0, stretch(xs, ys, radii))
    if factor == inf:
        return inf, (list(xs), list(ys))
    layout = [x * factor for x in xs], [y * factor for y in ys]
    return enclosing(*layout, radii), layout
