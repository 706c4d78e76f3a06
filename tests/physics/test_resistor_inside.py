"""An LED with its resistor inside, against Shockley's law with a resistor and its own heat, solved by SciPy."""

from __future__ import annotations

from math import log

import pytest
from scipy.optimize import brentq

import postcheck
from postcheck import catalogue
from postcheck.survey import Survey

BUILD = """
format = 1
[build]
name = "Submersible, lamps with their resistor inside"
air = "25 degC"
[supply.main]
kind = "adaptor"
place = "base"
volts = "{volts} V"
rated = "1 A"
[place.base]
access = "open"
[circuit.cabin]
supply = "main"
[[lamp]]
name = "cabin lamp"
circuit = "cabin"
kind = "{kind}"
place = "base"
{more}
[lamp_kind.port-hole]
volts = "12 V"
at = "15 mA"
colour = "red"
"""
V_T = 0.025693


def nominal(kind: str, volts: float, more: str = "") -> float:
    survey = Survey(postcheck.loads(BUILD.format(kind=kind, volts=volts, more=more)))
    return survey.electrics.lamps["cabin lamp"].nominal


def reckoned(row: catalogue.LedLamp, volts: float, ohms: float = 0.0) -> float:
    """Shockley with n = 2 through both points of the die, the resistor for the current of the sheet, and its own heat."""
    die, inside = row.dice[0], row.inside
    assert inside is not None
    span = die.at_current - die.low_current
    series = (die.forward_typical - die.low_forward - 2 * V_T * log(die.at_current / die.low_current)) / span

    def cold(amps: float) -> float:
        return die.forward_typical + 2 * V_T * log(amps / die.at_current) + series * (amps - die.at_current)

    resistor = (inside.volts - cold(inside.current)) / inside.current

    def over(amps: float) -> float:
        whole = cold(amps) + amps * resistor
        warm = whole / (1.0 - die.volts_per_kelvin * die.kelvin_per_watt * amps)
        return warm + amps * ohms - volts

    return float(brentq(over, 1e-6, 0.2))


@pytest.mark.parametrize("volts", [5.0, 9.0, 12.0, 15.0])
def test_its_current_follows_die_and_resistor(volts: float) -> None:
    row = catalogue.lamp("led-12v-5mm-red")
    assert isinstance(row, catalogue.LedLamp)
    assert nominal("led-12v-5mm-red", volts) == pytest.approx(reckoned(row, volts), rel=2e-3)


def test_a_resistor_that_is_given_is_added() -> None:
    row = catalogue.lamp("led-12v-5mm-red")
    assert isinstance(row, catalogue.LedLamp)
    got = nominal("led-12v-5mm-red", 24.0, 'resistor = "820 ohm 1/2 W"')
    assert got == pytest.approx(reckoned(row, 24.0, 820.0), rel=2e-3)


def test_one_of_the_files_own_takes_what_it_says() -> None:
    # 12 V less the 2 V of a red die leave 667 ohm; its own heat adds some hundredths
    assert nominal("port-hole", 12.0) == pytest.approx(15e-3, rel=0.03)
    assert nominal("port-hole", 7.0) == pytest.approx((7.0 - 2.0) / (10.0 / 15e-3), rel=0.03)


@pytest.mark.parametrize(
    "row",
    [
        row
        for row in catalogue.rows("lamp")
        if getattr(row, "inside", None) and not getattr(row, "flashes", None)
    ],
)
def test_the_most_of_the_sheet_holds_for_every_lamp(row: catalogue.LedLamp) -> None:
    # the sheets of red, yellow and green GaP lamps: 15 mA at most on 5 V, 20 mA on 12 V
    assert row.inside is not None
    die, inside = row.dice[0], row.inside
    ohms = (inside.volts - die.forward_typical) / inside.current * (1.0 - inside.tolerance)
    most = (inside.volts - die.forward_least) / ohms
    assert most <= {5.0: 15e-3, 12.0: 20e-3}[inside.volts]
