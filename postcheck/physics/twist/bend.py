"""Wires bent round a radius, once or again and again."""

from __future__ import annotations

from math import pi, sin

from postcheck.physics.given import above, from_zero

__all__ = ["bend_strain", "minimum_bend_radius", "repeated_bend_radius", "swing_range", "swings"]


def bend_strain(radius: float, bend: float) -> float:
    """Strain range of bending and straightening to an inner radius R: e = r/(R + r), r as `working_radius`."""
    above(radius=radius)
    from_zero(bend=bend)
    return radius / (bend + radius)


def repeated_bend_radius(radius: float, allowed: float) -> float:
    """Inner radius (m) at which repeated bending just stays within a strain range: R = r (1/e - 1), 0 from e = 1 on."""
    above(radius=radius, allowed=allowed)
    return max(0.0, radius * (1.0 / allowed - 1.0))


def swing_range(strain: float, turn: float) -> float:
    """Strain range of a wire bent by e whose bend swings round it by `turn` (rad) each way: 2 e sin(turn), 2 e at most.

    Derived: with the plane of the bend at psi, the fibre at the angle phi of the section is strained e cos(phi - psi).
    As psi goes from -turn to turn, that changes by 2 e sin(turn) at most, in the fibre at phi = 90 degrees. From a
    right angle on, a fibre goes from the inside to the outside: 2 e, as bending the other way would; bending and
    straightening, as `repeated_bend_radius` has it, is e.
    """
    from_zero(strain=strain, turn=turn)
    return 2.0 * strain * sin(min(turn, pi / 2.0))


def swings(turn: float) -> float:
    """How often, in one turning of `turn` (rad) each way and back, a fibre goes through that range and back.

    Once up to a right angle; then once more for every right angle: 4 turn in all, in steps of 2 pi.
    """
    from_zero(turn=turn)
    return max(1.0, 2.0 * turn / pi)


def minimum_bend_radius(outside: float, moving: bool = False) -> float:
    """Least bend radius (m) of a wire or bundle of this outside diameter: 6 D at rest, 10 D for the long term.

    NASA-STD-8739.4, 7.3.21, through the NASA workmanship standards, book 4, 4.03; 10 D is taken where it moves.
    """
    from_zero(outside=outside)
    return (10.0 if moving else 6.0) * outside
