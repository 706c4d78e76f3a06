"""Resistors worked out: the value that brings a lamp to its current, and the power it has to stand.

R = (V - sum of the dice's V(I)) / I - wire, with V from the present solution; then the next value of the series
that the builder keeps. First order where the path is shared; whoever offers it proves it by solving again.
"""

from __future__ import annotations

from math import log1p

from postcheck.build.quantities import Dimension, format_quantity
from postcheck.physics import preferred
from postcheck.survey import Survey
from postcheck.survey.dice import diode_of
from postcheck.survey.figures import LampFigures
from postcheck.survey.parts import DieData, LampPart
from postcheck.survey.supplies import source_of

__all__ = [
    "next_resistor",
    "power_for",
    "remedy_for_lamp",
    "remedy_for_missing",
    "remedy_for_power",
    "remedy_for_shared",
    "remedy_for_value",
]

# Powers that resistors are sold in, W: chips from 0402 to 1206, then wired ones.
POWERS = (0.0625, 0.1, 0.125, 0.25, 0.5, 1.0, 2.0, 3.0, 5.0)
POWER_WORDS = ("1/16 W (0402)", "1/10 W (0603)", "1/8 W (0805)", "1/4 W", "1/2 W", "1 W", "2 W", "3 W", "5 W")
# A resistor at half its power stays cool enough to sit beside plastic and paint: common practice.
COOL = 0.5


def next_resistor(survey: Survey, lamp: LampFigures, most: float) -> float | None:
    """The value (ohm) of the builder's series that gives `wanted`, or else no more than `most` A at every limit."""
    resistor = lamp.part.resistor
    if resistor is None or lamp.nominal <= 0.0 or any(die.filament_volts for die in lamp.part.dice):
        return None
    limits = survey.limits
    bound = min(
        most * limits.value("lamp.current.nominal"),
        lamp.nominal * most * limits.value("lamp.current.caution") / lamp.highest,
        lamp.nominal * most * limits.value("lamp.current.stop") / lamp.likely_highest,
    )
    wanted = lamp.part.wanted
    target = min(wanted, bound) if wanted else bound
    shared = lamp.part.parallel if lamp.part.one_resistor else 1
    now = lamp.nominal * resistor.ohms
    eased = sum(_volts(die, lamp.nominal) - _volts(die, target) for die in lamp.part.dice) / shared
    wire = max((lamp.feed_volts - lamp.string_volts) / lamp.nominal - resistor.ohms * shared, 0.0) / shared
    value = (now + eased + wire * lamp.nominal) / target - wire
    if value <= 0.0:
        return None
    series = survey.build.stock.series
    if wanted and target == wanted:
        near = preferred.nearest(value, series)
        if near >= value or target * 1.1 < bound:
            return near
    return preferred.at_least(value, series)


def _volts(die: DieData, current: float) -> float:
    curve = diode_of(die, 0, None, 0.0)
    return curve.slope * log1p(max(current, 0.0) / curve.saturation) + max(current, 0.0) * curve.ohm + curve.shift


def remedy_for_lamp(survey: Survey, lamp: LampFigures, most: float) -> str | None:
    """The next resistor for a lamp that gets too much, or not what was wanted."""
    if lamp.part.resistor is None:
        return None
    value = next_resistor(survey, lamp, most)
    if value is None or abs(value / lamp.part.resistor.ohms - 1.0) < 1e-9:
        return None
    return f"Use {_ohms(value)} instead of {_ohms(lamp.part.resistor.ohms)}."


def remedy_for_missing(survey: Survey, lamp: LampPart) -> str | None:
    """The resistor for a string that has none, for 0.8 of its rating at the supply's voltage: R = (V - sum Vf) / I."""
    supply = survey.build.supply.get(_supply_name(survey, lamp) or "")
    rated = min(die.rated for die in lamp.dice)
    if supply is None:
        return None
    volts = source_of(supply, 0)[0]
    target = lamp.wanted or 0.8 * rated
    left = volts - sum(_volts(die, target) for die in lamp.dice)
    if left < 0.1 * volts:
        return f"{len(lamp.dice)} in series leave too little of {format_quantity(volts, Dimension.VOLTAGE)} for a resistor: use fewer in a string, each string with its own."
    value = preferred.at_least(left / target, survey.build.stock.series)
    return f"Give {'each string' if lamp.parallel > 1 else 'it'} a resistor of {_ohms(value)}, {power_for(target * left)}."


def _supply_name(survey: Survey, lamp: LampPart) -> str | None:
    from postcheck.build.naming import supply_of  # noqa: PLC0415 - only for a remedy

    name: str | None = supply_of(survey.build, survey.build.circuit[lamp.circuit])
    return name


def remedy_for_shared(survey: Survey, lamp: LampFigures) -> str | None:
    """One resistor a string: n times the shared one, to the next value up."""
    if lamp.part.resistor is None:
        return "Give each string a resistor or an output of its own."
    value = preferred.at_least(lamp.part.resistor.ohms * lamp.part.parallel, survey.build.stock.series)
    return f"Give each string its own {_ohms(value)}."


def power_for(watts: float) -> str:
    """The least power that resistors are sold in and that stays at half load or below, in words."""
    for power, words in zip(POWERS, POWER_WORDS, strict=True):
        if watts <= COOL * power * (1.0 + 1e-9):
            return words
    return "several side by side"


def remedy_for_power(watts: float) -> str:
    """The power a resistor that gives off `watts` should have."""
    return f"Use one of {power_for(watts)}, which it loads to half at most." if watts <= COOL * POWERS[-1] else (
        "Spread the heat over several resistors, or use fewer volts."
    )


def remedy_for_value(ohms: float) -> str:
    """The sold values on either side of one that is not."""
    low, high = preferred.at_most(ohms, "E24"), preferred.at_least(ohms, "E24")
    return f"The nearest in E24 are {_ohms(low)} and {_ohms(high)}."


def _ohms(value: float) -> str:
    return format_quantity(value, Dimension.RESISTANCE)


