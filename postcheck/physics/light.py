"""How the light of a lamp goes with its current.

The light of an LED goes with its current (makers' curves bend by some per cent up to the rating, from memory). That of a filament
goes with its volts to the power of 3.4 (IES Lighting Handbook, and lamp rerating in encyclopaedias; from memory).
"""

from __future__ import annotations

from postcheck.physics.given import above, from_zero
from postcheck.physics.network.elements import FILAMENT_EXPONENT

__all__ = ["FILAMENT_LIGHT", "light_ratio"]

FILAMENT_LIGHT = 3.4
"""Exponent of a filament's light over its volts."""


def light_ratio(current: float, usual: float, *, filament: bool = False) -> float:
    """Light at a current (A) over that at the usual one: I / I0; of a filament (I / I0)^(3.4 / 0.55), by its I ~ V^0.55."""
    from_zero(current=current)
    above(usual=usual)
    ratio = current / usual
    return float(ratio ** (FILAMENT_LIGHT / FILAMENT_EXPONENT)) if filament else ratio
