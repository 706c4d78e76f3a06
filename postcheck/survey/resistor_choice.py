"""The resistor for a string of dice: the current it is usually given, its value and the power it has to stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import log1p

from postcheck.physics import preferred
from postcheck.survey.dice import diode_of, rated_at
from postcheck.survey.parts import DieData

__all__ = [
    "ENOUGH",
    "LEAST_HEADROOM",
    "POWERS",
    "POWER_WORDS",
    "USUAL_SHARE",
    "body_for",
    "power_for",
    "steps",
    "usual_current",
    "volts_at",
]

# Powers that resistors are sold in, W.
POWERS = (0.0625, 0.1, 0.125, 0.25, 0.5, 1.0, 2.0, 3.0, 5.0)
POWER_WORDS = ("1/16 W", "1/10 W", "1/8 W", "1/4 W", "1/2 W", "1 W", "2 W", "3 W", "5 W")
# A resistor at half its power stays cool enough to sit beside plastic and paint: common practice.
COOL = 0.5
# At the highest corner it may come to more, but not to where a resistor is judged too hot.
ENOUGH = 0.75
# What a string without a resistor is given: four fifths of its rating leaves room for tolerances.
USUAL_SHARE = 0.8
# Less than this share of the supply over a resistor no longer sets a current.
LEAST_HEADROOM = 0.1


def usual_current(dice: Sequence[DieData], air: float) -> float:
    """What a string is given where nothing else is wanted, A: four fifths of its rating in the hottest air (degC)."""
    return USUAL_SHARE * min(rated_at(die, air) for die in dice)


def volts_at(die: DieData, current: float) -> float:
    """The typical forward voltage of a die at a current (A), V."""
    curve = diode_of(die, 0, None, 0.0)
    current = max(current, 0.0)
    return curve.slope * log1p(current / curve.saturation) + current * curve.ohm + curve.shift


def steps(value: float, series: str, count: int = 3) -> Iterator[float]:
    """The values of a series from `value` up."""
    for _ in range(count):
        value = preferred.at_least(value, series)
        yield value
        value *= 1.0001


def power_for(watts: float) -> tuple[float, str] | None:
    """The least power (W, and in words) that resistors are sold in and that `watts` loads to half at most."""
    rows = zip(POWERS, POWER_WORDS, strict=True)
    return next((row for row in rows if watts <= COOL * row[0] * (1.0 + 1e-9)), None)


def body_for(highest: float) -> tuple[float, str] | None:
    """The least power sold (W, and in words) for a resistor that gives off `highest` W at its highest corner."""
    return power_for(highest * COOL / ENOUGH)
