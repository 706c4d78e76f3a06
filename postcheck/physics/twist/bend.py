"""Wires bent round a radius, once or again and again."""

from __future__ import annotations

__all__ = ["bend_strain", "minimum_bend_radius", "repeated_bend_radius"]


def bend_strain(radius: float, bend: float) -> float:
    """Strain range of bending and straightening to an inner radius R: e = r/(R + r), r as `working_radius`."""
    return radius / (bend + radius)


def repeated_bend_radius(radius: float, allowed: float) -> float:
    """Inner radius (m) at which repeated bending just stays within a strain range: R = r (1/e - 1)."""
    return radius * (1.0 / allowed - 1.0)


def minimum_bend_radius(outside: float, moving: bool = False) -> float:
    """Least bend radius (m) of a wire or bundle of this outside diameter: 6 D at rest, 10 D for the long term.

    NASA-STD-8739.4, 7.3.21, through the NASA workmanship standards, book 4, 4.03; 10 D is taken where it moves.
    """
    return (10.0 if moving else 6.0) * outside
