"""Drawing wires through a passage: friction round bends, and what copper stands."""

from __future__ import annotations

from math import exp, inf, log

from postcheck.physics.given import above, from_zero

__all__ = ["bends_borne", "capstan", "pull_limit"]


def capstan(tail: float, friction: float, angle: float) -> float:
    """Pull (N) at the head of a wire drawn round bends of `angle` (rad) in all: T = T0 exp(mu angle).

    Euler and Eytelwein. Friction about 0.35 to 0.5 for cable in conduit, 0.04 to 0.1 for PTFE, 0.3 to 0.5 for PVC
    on metal (from memory). Endless where that is beyond all numbers.
    """
    from_zero(tail=tail, friction=friction, angle=angle)
    try:
        return tail * exp(friction * angle)
    except OverflowError:
        return inf


def pull_limit(cross_section: float, stress: float = 50e6) -> float:
    """Pull (N) that copper of this section (m2) takes: F = A stress.

    50 N/mm2 is European cable practice (from memory); 0.008 lb per circular mil = 70.2 N/mm2 is the ICEA-sponsored
    figure of American pulling guides.
    """
    from_zero(cross_section=cross_section, stress=stress)
    return cross_section * stress


def bends_borne(tail: float, friction: float, limit: float) -> float:
    """All bends (rad) round which a wire held back by `tail` may be drawn with no more than `limit`: ln(F/T0)/mu."""
    above(tail=tail, friction=friction, limit=limit)
    return max(0.0, log(limit / tail) / friction)
