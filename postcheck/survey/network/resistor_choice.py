"""The resistor for a string of dice: the current it is usually given, its value and the power it has to stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from math import inf, log1p

from postcheck import catalogue
from postcheck.limits import Limits, above
from postcheck.physics import preferred
from postcheck.survey.network.dice import curve_of, rated_at
from postcheck.wiring.data import DieData

# A resistor with less than this share of the supply across it no longer sets the current.
LEAST_HEADROOM = 0.1
# What dice take more as they get more evens strings out as well: so much of a ballast is tried before all of it.
BALLAST = 0.5


def usual_current(dice: Sequence[DieData], air: float, limits: Limits) -> float:
    """What a string is given where nothing else is wanted, A: a share of its rating in the hottest air (degC)."""
    return limits.value("lamp.usual") * min(rated_at(die, air) for die in dice)


def volts_at(die: DieData, current: float) -> float:
    """The typical forward voltage of a die at a current (A), V."""
    curve = curve_of(die).at()
    current = max(current, 0.0)
    return curve.slope * log1p(current / curve.saturation) + current * curve.ohm + curve.shift


def ohms_for(dice: Sequence[DieData], volts: float, current: float) -> float | None:
    """The resistance that gives a string a current (A) at these volts, ohm; None where too few volts are left for it."""
    over = volts - sum(volts_at(die, current) for die in dice)
    return over / current if current > 0.0 and volts > 0.0 and over >= LEAST_HEADROOM * volts else None


def self_heat_volts(dice: Sequence[DieData], current: float, volts: float) -> float:
    """How far a string's own heat moves its forward voltage, V (below zero), at a current (A) and these volts."""
    each = max(current, 0.0) * max(volts, 0.0) / len(dice)
    return sum(die.volts_per_kelvin * die.kelvin_per_watt * each for die in dice)


def steps(value: float, series: preferred.Series, count: int = 3) -> Iterator[float]:
    """The values of a series from `value` up."""
    for _ in range(count):
        value = preferred.at_least(value, series)
        yield value
        value *= 1.0001


def first_values(wanted: float | None, value: float, series: preferred.Series) -> Iterator[float]:
    """Values for a lamp that has no resistor yet, from the `value` (ohm) that its current asks for: the nearest for one that is wanted, else from it up."""
    if wanted is None:
        yield from steps(value, series, 2)
    else:
        near = preferred.nearest(value, series)
        yield from dict.fromkeys((near, *steps(value, series, 2)))


@cache
def sold() -> tuple[tuple[float, str], ...]:
    """The powers that resistors with wires are sold in, W and in words: those of the catalogue."""
    rows = map(catalogue.resistor_size, catalogue.names("resistor"))
    return tuple(sorted((row.power, row.name) for row in rows if row.mount == "axial"))


def most_load(limits: Limits) -> float:
    """To what share of its power a resistor that is still to be bought is loaded at most."""
    return min(limits.value("resistor.power.bought"), limits.value("resistor.power.caution"))


def body_for(watts: float, limits: Limits) -> tuple[float, str] | None:
    """The least power sold (W, and in words) that `watts` at most does not make too hot."""
    most = most_load(limits)
    return next((row for row in sold() if not above(watts, most * row[0])), None)


def ballast_volts(dice: Sequence[DieData], strings: int, spread: float) -> float:
    """The volts that a resistor in each of so many strings on one constant-current output takes to even them out.

    With one of them at its least forward voltage and the others at their typical one, no string gets more than `spread` beyond its
    part I: R = dV (n - 1) / (n s I).
    """
    apart = sum(die.forward[1] - die.forward[0] for die in dice)
    return apart * (strings - 1) / (strings * spread) if spread > 0.0 else inf
