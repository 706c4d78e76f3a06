"""The electrical curve of a die at a corner, from its data."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from postcheck.limits import Limits
from postcheck.physics.network import FILAMENT_EXPONENT, Diode, diode_through
from postcheck.wiring.data import DieData

__all__ = ["destroyed", "diode_of", "rated_at", "reverse_stood", "worst_reverse"]

REFERENCE_CELSIUS = 25.0


@lru_cache(maxsize=4096)
def _typical(low_forward: float, low_current: float, forward: float, at: float) -> Diode:
    return diode_through(low_forward, low_current, forward, at)


@lru_cache(maxsize=65536)
def diode_of(die: DieData, deviation: int, ambient: float | None, rise: float) -> Diode:
    """The die's curve: typical, or moved to its least (`deviation` +1) or most (-1) forward voltage.

    `ambient` is the air round it in degC, `rise` its junction above that in K; ambient None means the
    25 degC of its data sheet. The forward voltage moves by the die's coefficient; the thermal voltage stays.
    """
    base = _typical(die.low_forward, die.low_current, die.forward[1], die.at_current)
    shift = (0.0, die.forward[0] - die.forward[1], die.forward[2] - die.forward[1])[deviation]
    if ambient is not None:
        shift += die.volts_per_kelvin * (ambient + rise - REFERENCE_CELSIUS)
    return Diode(base.saturation, base.slope, base.ohm, shift)


def rated_at(die: DieData, celsius: float) -> float:
    """The continuous current in A that the die stands at an ambient in degC, by its derating line."""
    return max(0.0, die.rated - max(0.0, celsius - die.derate_above) * die.derate_per_kelvin)


def destroyed(dice: Sequence[DieData], current: float, limits: Limits) -> bool:
    """Whether a current in A through these dice is so far beyond what they are made for that no figure is given."""
    if dice[0].filament_volts is not None:
        share: float = limits.value("lamp.filament.destroyed") ** FILAMENT_EXPONENT
        return current > share * min(die.rated for die in dice)
    most = limits.value("lamp.destroyed")
    return current > min(max(most * die.rated, die.pulse or 0.0) for die in dice)


def worst_reverse(dice: Sequence[DieData], volts: float) -> float:
    """The most of a reverse voltage in V across a string that one of its dice may take.

    In reverse only leakage flows. It differs by powers of ten between dice of one bag, so the one that leaks least
    takes nearly all of it. A filament knows no reverse.
    """
    return 0.0 if dice[0].filament_volts is not None else max(0.0, volts)


def reverse_stood(dice: Sequence[DieData], limits: Limits) -> tuple[float, bool]:
    """The reverse voltage in V that each of these dice is tested at, and whether their data sheets give it."""
    given = [die.reverse for die in dice if die.reverse is not None]
    return min(given, default=limits.value("lamp.reverse")), bool(given)
