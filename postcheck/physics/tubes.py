"""Round tubes as they are sold, for a bore that has to be at least so wide."""

from __future__ import annotations

from typing import NamedTuple

from postcheck.physics.given import from_zero

__all__ = ["TUBES", "Tube", "tube_with_bore"]


class Tube(NamedTuple):
    """Outside diameter and wall, in m."""

    outside: float
    wall: float

    @property
    def bore(self) -> float:
        """Inside diameter (m)."""
        return self.outside - 2.0 * self.wall


TUBES = tuple(
    Tube(outside * 1e-3, wall * 1e-3)
    for wall in (0.5, 0.75, 1.0)
    for outside in (2, 3, 4, 5, 6, 8, 10, 12, 14, 15, 16, 18, 20, 22, 25, 28)
)
"""Usual sizes of round brass and copper tube, metric: preferred outside diameters and walls of EN 12449 (from memory)."""


def tube_with_bore(least: float) -> Tube | None:
    """The slimmest tube whose bore is at least so wide (m); of equal bores the one with the thinner wall; None beyond all."""
    from_zero(least=least)
    wide = [tube for tube in TUBES if tube.bore >= least * (1.0 - 1e-9)]
    return min(wide, key=lambda tube: (round(tube.bore, 6), tube.outside), default=None)
