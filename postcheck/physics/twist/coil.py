"""Spare length stuffed into a bore: it winds along the wall."""

from __future__ import annotations

from math import inf, sqrt

from postcheck.physics.given import above, from_zero
from postcheck.physics.twist.helix import curvature

__all__ = ["coil_length", "coil_radius"]


def coil_radius(length: float, slack: float, helix: float) -> float:
    """Radius of curvature (m) of a wire of length L + slack wound evenly at the helix radius a over the bore's length L.

    Path sqrt(L**2 + (a turn)**2) = L + slack gives the turn, `curvature` the rest; endless without slack, 0 where a is.
    """
    above(length=length)
    from_zero(slack=slack, helix=helix)
    if slack == 0.0:
        return inf
    if helix == 0.0:
        return 0.0
    ratio = 1.0 + slack / length
    return 1.0 / curvature(1.0, helix, sqrt(ratio * ratio - 1.0) / helix)


def coil_length(length: float, helix: float, radius: float) -> float:
    """Most slack (m) with which no wire at the helix radius a bends tighter than a radius (m): L (1/sqrt(1 - a/R) - 1).

    a k**2/(1 + (a k)**2) = 1/R gives (a k)**2 = (a/R)/(1 - a/R); endless where the bore is too narrow to wind so tightly.
    """
    above(length=length, radius=radius)
    from_zero(helix=helix)
    return inf if helix >= radius else length * (1.0 / sqrt(1.0 - helix / radius) - 1.0)
