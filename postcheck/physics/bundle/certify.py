"""Turns a nearly right layout into one that is right: no overlap at all, and a circle that holds everything.

What is returned holds exactly, as real numbers, for the floats returned: the margins below exceed the rounding of the
float tests (about nine units in the last place, u = 2**-53), so an exact rational check needs no tolerance.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, sqrt

__all__ = ["Layout", "enclosing", "tightened"]

Layout = tuple[list[float], list[float]]
_ROUNDING = 2e-15  # relative, 18 u: above the rounding of a squared distance against a squared sum of radii


def tightened(xs: Sequence[float], ys: Sequence[float], radii: Sequence[float]) -> tuple[float, Layout]:
    """Certified radius and layout: the centres spread until nothing overlaps (never drawn together), then measured.

    Radius inf if two centres coincide.
    """
    layout = list(xs), list(ys)
    factor = _stretch(*layout, radii)
    extra = _ROUNDING
    while factor > 1.0:
        if factor == inf:
            return inf, layout
        # the products are rounded as well, which matters where a wire is far thinner than the bundle
        factor *= 1.0 + extra
        layout = [x * factor for x in layout[0]], [y * factor for y in layout[1]]
        factor = _stretch(*layout, radii)
        extra *= 4.0
    return enclosing(*layout, radii), layout


def enclosing(xs: Sequence[float], ys: Sequence[float], radii: Sequence[float]) -> float:
    """Radius of a circle about the origin that surely holds all circles, and hardly more."""
    return max(sqrt(x * x + y * y) + r for x, y, r in zip(xs, ys, radii, strict=True)) * (1.0 + _ROUNDING)


def _stretch(xs: Sequence[float], ys: Sequence[float], radii: Sequence[float]) -> float:
    """Factor by which to spread the centres so that no two circles overlap: 1 if none does, inf if two coincide."""
    worst = 1.0
    widest = 2.0 * max(radii)
    order = sorted(range(len(radii)), key=xs.__getitem__)
    for place, i in enumerate(order):
        x, y, r = xs[i], ys[i], radii[i]
        for j in order[place + 1 :]:
            dx = xs[j] - x
            if dx > widest:
                break
            dy = ys[j] - y
            touch = r + radii[j]
            square = dx * dx + dy * dy
            least = touch * touch * (1.0 + _ROUNDING)
            if square * worst < least:
                if square <= 0.0:
                    return inf
                worst = least / square
    return sqrt(worst)
