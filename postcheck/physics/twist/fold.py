"""Wires across a hinge that folds: they bend there, and do not twist."""

from __future__ import annotations

from math import sin

from postcheck.physics.given import above, from_zero
from postcheck.physics.twist.loop import LOOP_ROOT

__all__ = ["FOLD_PEAK", "fold_length", "fold_strain"]

FOLD_PEAK = LOOP_ROOT / 2.0 / sin(LOOP_ROOT / 2.0)
"""Sharpest curvature of a wire across a hinge, in evenly bent ones (fold / length), for small folds: 2.88.

Derived: a slender rod, straight while the hinge is open, gripped at the same distance on both sides of the pin and in
line with it. Folding brings the grips together by L fold**2/8; bent evenly the rod would take up L fold**2/24, so it bows
out. Its slope is fold sin(b x)/(2 sin(b L/2)), and what it takes up agrees where tan(b L) = b L.
"""

# How it grows with the square of the fold: fitted to the full elastica, no less than that and at most 2 % more up to pi.
_GROWS = 0.0193


def _peak(fold: float) -> float:
    """Sharpest curvature times the length: fold, in evenly bent ones, with the growth of a large fold."""
    return FOLD_PEAK * fold * (1.0 + _GROWS * fold * fold)


def fold_strain(radius: float, length: float, fold: float) -> float:
    """Strain range of folding by `fold` (rad, pi at most) and back over a free length L (m): 2.88 r fold/L (1 + 0.019 fold**2).

    `radius` as `working_radius`.
    """
    above(radius=radius, length=length)
    from_zero(fold=fold)
    return radius * _peak(fold) / length


def fold_length(radius: float, fold: float, allowed: float) -> float:
    """Least free length (m) across a hinge at an allowed strain range: `fold_strain` solved for L."""
    above(radius=radius, allowed=allowed)
    from_zero(fold=fold)
    return radius * _peak(fold) / allowed
