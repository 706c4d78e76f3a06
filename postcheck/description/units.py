"""The dimensions of a build description: their units in SI, an example each, and the bounds of sense."""

from __future__ import annotations

import math
from enum import Enum
from typing import NamedTuple


class Dimension(Enum):
    """What a quantity is. The value is the word used in messages."""

    LENGTH = "length"
    AREA = "area"
    VOLTAGE = "voltage"
    CURRENT = "current"
    RESISTANCE = "resistance"
    POWER = "power"
    ANGLE = "angle"
    RATE = "rate"
    SHARE = "share"
    TIME = "time"
    CHARGE = "charge"
    ENERGY = "energy"
    TEMPERATURE = "temperature"
    WARMING = "temperature difference"
    FORCE = "force"
    RESISTANCE_PER_LENGTH = "resistance per length"
    VOLTAGE_PER_KELVIN = "voltage per kelvin"
    THERMAL_RESISTANCE = "thermal resistance"


class Measure(NamedTuple):
    """One dimension: SI factor of each unit, an example, and the smallest and largest size that makes sense.

    `least` bounds sizes other than zero. `reason` says why what lies outside is implausible.
    `fractions` says whether "1/4" is usual here.
    """

    units: dict[str, float]
    example: str
    least: float
    most: float
    reason: str
    fractions: bool = False


def _named(factor: float, *names: str) -> dict[str, float]:
    return {spelling: factor for name in names for spelling in (name, name + "s")}


_DAY = 86400.0
_YEAR = 365.25 * _DAY  # Julian year, IAU
_INCH = 0.0254  # exact, international yard and pound agreement, 1959

MEASURES: dict[Dimension, Measure] = {
    Dimension.LENGTH: Measure(
        {
            "mm": 1e-3,
            "cm": 1e-2,
            "m": 1.0,
            "um": 1e-6,
            "in": _INCH,
            '"': _INCH,
            "ft": 12 * _INCH,
            **_named(1e-3, "millimetre", "millimeter"),
            **_named(1e-2, "centimetre", "centimeter"),
            **_named(1.0, "metre", "meter"),
            **_named(_INCH, "inch"),
            "inches": _INCH,
            "foot": 12 * _INCH,
            "feet": 12 * _INCH,
        },
        "260 mm",
        1e-6,
        100.0,
        "nothing on a display model is thinner than 1 um or longer than 100 m",
        fractions=True,
    ),
    Dimension.AREA: Measure(
        {
            "mm2": 1e-6,
            "cm2": 1e-4,
            "m2": 1.0,
            "in2": _INCH**2,
            "sq in": _INCH**2,
            "sq mm": 1e-6,
            "sq cm": 1e-4,
        },
        "38 cm2",
        1e-12,
        10.0,
        "no part of a display model has a surface above 10 m2: cm2 may be meant",
    ),
    Dimension.VOLTAGE: Measure(
        {
            "mV": 1e-3,
            "V": 1.0,
            "kV": 1e3,
            "uV": 1e-6,
            "v": 1.0,
            **_named(1.0, "volt", "Volt"),
            "VDC": 1.0,
            "V DC": 1.0,
            "Vdc": 1.0,
            "V dc": 1.0,
        },
        "12 V",
        1e-9,
        1000.0,
        "nothing in a display model is above 1000 V",
    ),
    Dimension.CURRENT: Measure(
        {
            "mA": 1e-3,
            "A": 1.0,
            "uA": 1e-6,
            "nA": 1e-9,
            **_named(1.0, "amp", "ampere"),
            **_named(1e-3, "milliamp"),
        },
        "20 mA",
        1e-12,
        100.0,
        "no display model draws more than 100 A",
    ),
    Dimension.RESISTANCE: Measure(
        {
            "ohm": 1.0,
            "R": 1.0,
            "mohm": 1e-3,
            "kohm": 1e3,
            "k": 1e3,
            "K": 1e3,
            "Mohm": 1e6,
            "M": 1e6,
            "ohms": 1.0,
            "kohms": 1e3,
            "Mohms": 1e6,
            "Gohm": 1e9,
        },
        "470 ohm",
        1e-6,
        1e12,
        "resistances go from 1 uohm to 1000 Gohm, the best insulation",
    ),
    Dimension.POWER: Measure(
        {"mW": 1e-3, "W": 1.0, "uW": 1e-6, "kW": 1e3, "w": 1.0, **_named(1.0, "watt", "Watt")},
        "1/4 W",
        1e-12,
        10e3,
        "no display model takes more than 10 kW",
        fractions=True,
    ),
    Dimension.ANGLE: Measure(
        {
            "deg": math.pi / 180,
            "rad": 1.0,
            **_named(2 * math.pi, "turn"),
            **_named(math.pi / 180, "degree"),
        },
        "90 deg",
        1e-9,
        2000 * math.pi,
        "no lead survives more than 1000 turns one way",
        fractions=True,
    ),
    Dimension.RATE: Measure(
        {
            "Hz": 1.0,
            "kHz": 1e3,
            "MHz": 1e6,
            "/s": 1.0,
            "/second": 1.0,
            "/min": 1 / 60,
            "/minute": 1 / 60,
            "/h": 1 / 3600,
            "/hour": 1 / 3600,
            "/day": 1 / _DAY,
            "/year": 1 / _YEAR,
        },
        "45 /min",
        1e-10,
        100e6,
        "no flasher or dimmer is faster than 100 MHz",
    ),
    Dimension.SHARE: Measure(
        {"%": 0.01, "percent": 0.01}, "12 %", 1e-9, 1.0, "a share cannot be above 100 %"
    ),
    Dimension.TIME: Measure(
        {
            "us": 1e-6,
            "ms": 1e-3,
            "s": 1.0,
            "sec": 1.0,
            "min": 60.0,
            "h": 3600.0,
            **_named(1.0, "second"),
            **_named(60.0, "minute"),
            **_named(3600.0, "hour"),
            **_named(_DAY, "day"),
            **_named(7 * _DAY, "week"),
            **_named(_YEAR, "year"),
        },
        "8 h",
        1e-9,
        200 * _YEAR,
        "no display model is planned for more than 200 years",
    ),
    Dimension.CHARGE: Measure(
        {"mAh": 3.6, "Ah": 3600.0},
        "2000 mAh",
        3.6e-6,
        3.6e6,
        "no battery for a display model holds more than 1000 Ah",
    ),
    Dimension.ENERGY: Measure(
        {"mWh": 3.6, "Wh": 3600.0, "kWh": 3.6e6, "J": 1.0, "mJ": 1e-3},
        "10 Wh",
        1e-9,
        3.6e8,
        "no battery for a display model holds more than 100 kWh",
    ),
    Dimension.TEMPERATURE: Measure(
        {"degC": 1.0, "degF": 5 / 9},
        "25 degC",
        0.0,
        1000.0,
        "a workshop knows temperatures from -100 to 1000 degC",
    ),
    Dimension.WARMING: Measure(
        {"K": 1.0, "kelvin": 1.0}, "15 K", 0.0, 1000.0, "no difference in a workshop is above 1000 K"
    ),
    Dimension.FORCE: Measure(
        {"N": 1.0, "mN": 1e-3, "gf": 9.80665e-3, "kgf": 9.80665},  # standard gravity, ISO 80000-3
        "0.2 N",
        1e-6,
        10e3,
        "nobody pulls harder than 10 kN",
    ),
    Dimension.RESISTANCE_PER_LENGTH: Measure(
        {
            "ohm/m": 1.0,
            "mohm/m": 1e-3,
            "kohm/m": 1e3,
            "ohm/km": 1e-3,
            "ohm/cm": 1e2,
            "ohm/ft": 1 / (12 * _INCH),
        },
        "0.2 ohm/m",
        1e-6,
        1e6,
        "conductors go from 1 uohm/m to 1 Mohm/m",
    ),
    Dimension.VOLTAGE_PER_KELVIN: Measure(
        {"mV/K": 1e-3, "V/K": 1.0, "mV/degC": 1e-3},
        "-2 mV/K",
        1e-9,
        1.0,
        "no lamp shifts by more than 1 V/K",
    ),
    Dimension.THERMAL_RESISTANCE: Measure(
        {"K/W": 1.0, "degC/W": 1.0}, "400 K/W", 1e-6, 1e5, "thermal resistances lie below 100000 K/W"
    ),
}

# For people: the unit a value is shown in, from the largest; a value takes the first that it reaches.
SHOWN: dict[Dimension, tuple[str, ...]] = {
    Dimension.LENGTH: ("mm",),
    Dimension.AREA: ("m2", "cm2", "mm2"),
    Dimension.VOLTAGE: ("kV", "V", "mV", "uV"),
    Dimension.CURRENT: ("A", "mA", "uA", "nA"),
    Dimension.RESISTANCE: ("Gohm", "Mohm", "kohm", "ohm", "mohm"),
    Dimension.POWER: ("kW", "W", "mW", "uW"),
    Dimension.ANGLE: ("deg",),
    Dimension.RATE: ("MHz", "kHz", "Hz", "/min", "/day"),
    Dimension.SHARE: ("%",),
    Dimension.TIME: ("years", "days", "h", "min", "s", "ms", "us"),
    Dimension.CHARGE: ("Ah", "mAh"),
    Dimension.ENERGY: ("Wh", "mWh"),
    Dimension.TEMPERATURE: ("degC",),
    Dimension.WARMING: ("K",),
    Dimension.FORCE: ("N",),
    Dimension.RESISTANCE_PER_LENGTH: ("ohm/m", "mohm/m"),
    Dimension.VOLTAGE_PER_KELVIN: ("mV/K",),
    Dimension.THERMAL_RESISTANCE: ("K/W",),
}
