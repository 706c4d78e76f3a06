"""The electrical curve of a die at a corner, from its data."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from postcheck.limits import Limits
from postcheck.physics.network import FILAMENT_EXPONENT, Diode, diode_through
from postcheck.wiring.data import DieData

if TYPE_CHECKING:
    from postcheck.survey.network.figures import LampFigures

REFERENCE_CELSIUS = 25.0
# Times its rating above which nothing is known of a die: as the limit lamp.destroyed.
BEYOND = 5.0
# How many corners of dice are cached: there are few dice, but each new air temperature makes another corner.
MOST_KNOWN = 4096


class Curve:
    """The law of a die at any corner. `most`: A, what destroys it: above that no further heat is counted."""

    __slots__ = ("_base", "_known", "_ohms", "_per_kelvin", "_shifts", "heat", "most")

    def __init__(self, die: DieData) -> None:
        self._base = diode_through(die.low_forward, die.low_current, die.forward[1], die.at_current)
        self._shifts = (0.0, die.forward[0] - die.forward[1], die.forward[2] - die.forward[1])
        self._ohms = tuple(die.inside * (1.0 - deviation * die.inside_spread) for deviation in (0, 1, -1))
        self._per_kelvin = die.volts_per_kelvin
        self._known: dict[tuple[int, float | None, bool], Diode] = {}
        self.most: float = max(BEYOND * die.rated, die.pulse or 0.0)
        # a positive coefficient, which no LED has, must not reverse the law below that current
        self.heat: float = max(-die.volts_per_kelvin * die.kelvin_per_watt, -0.5 / self.most)

    def at(self, deviation: int = 0, celsius: float | None = None, settled: bool = False) -> Diode:
        """Typical, or moved to its least (`deviation` +1) or most (-1) forward voltage; a resistor inside likewise.

        `celsius`: of the air round it; None: the 25 degC of its data sheet. The forward voltage moves by the die's
        coefficient; the thermal voltage stays. `settled`: in its own heat.
        """
        key = (deviation, celsius, settled)
        known = self._known.get(key)
        if known is None:
            shift = self._shifts[deviation]
            if celsius is not None:
                shift += self._per_kelvin * (celsius - REFERENCE_CELSIUS)
            if len(self._known) >= MOST_KNOWN:
                self._known.clear()
            base, heat = self._base, self.heat if settled else 0.0
            ohms = base.ohm + self._ohms[deviation]
            known = self._known[key] = Diode(base.saturation, base.slope, ohms, shift, heat)
        return known


@lru_cache(maxsize=4096)
def curve_of(die: DieData) -> Curve:
    """The law of a die, from its data."""
    return Curve(die)


def rated_at(die: DieData, celsius: float) -> float:
    """The continuous current in A that the die is rated for at an ambient in degC, by its derating line."""
    return max(0.0, die.rated - max(0.0, celsius - die.derate_above) * die.derate_per_kelvin)


def destroyed(dice: Sequence[DieData], current: float, limits: Limits) -> bool:
    """Whether a current in A through these dice is so far beyond what they are made for that no figure is given."""
    if dice[0].filament_volts is not None:
        share: float = limits.value("lamp.filament.destroyed") ** FILAMENT_EXPONENT
        return current > share * dice[0].rated
    most = limits.value("lamp.destroyed")
    return current > min(max(most * die.rated, die.pulse or 0.0) for die in dice)


def is_destroyed(lamp: LampFigures, limits: Limits) -> bool:
    """Whether a lamp that is the right way round is destroyed by its nominal current."""
    return not lamp.part.backwards and destroyed(lamp.part.dice, lamp.nominal, limits)


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
