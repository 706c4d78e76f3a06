"""LEDs with their resistor inside, one on its volts and two in series behind a resistor, against ngspice at 25 degC."""

from __future__ import annotations

from math import exp, log
from pathlib import Path

import pytest

import postcheck
from postcheck import catalogue
from postcheck.survey.network.elements import REFERENCE
from postcheck.survey.network.states import States
from postcheck.wiring import resolve
from tests.outside.spice import operating_point

BUILD = """
format = 1
[build]
name = "Submersible, lamps with their resistor inside"
[supply.main]
kind = "adaptor"
place = "base"
volts = "{volts} V"
tolerance = "5 %"
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
series = {series}
resistor = "{ohms} ohm 1 W"
"""
V_T = 1.380649e-23 * 298.15 / 1.602176634e-19


def model(row: catalogue.LedLamp) -> tuple[float, float, float]:
    """IS, RS and the resistor inside, by hand from the two points of the die and the current on the rated volts."""
    die, inside = row.dice[0], row.inside
    assert inside is not None
    rise = 2.0 * V_T * log(die.at_current / die.low_current)
    series = (die.forward_typical - die.low_forward - rise) / (die.at_current - die.low_current)
    saturation = die.low_current * exp(-(die.low_forward - die.low_current * series) / (2.0 * V_T))
    forward = 2.0 * V_T * log(1.0 + inside.current / saturation) + series * inside.current
    return saturation, series, (inside.volts - forward) / inside.current


@pytest.mark.parametrize(
    ("kind", "volts", "series", "ohms"),
    [
        ("led-12v-5mm-red", 12.0, 1, 1.0),
        ("led-12v-5mm-warm-white", 24.0, 1, 1000.0),
        ("led-5v-3mm-yellow", 12.0, 2, 220.0),
        ("led-5v-5mm-blue", 3.3, 1, 10.0),
        ("flash-5mm-red", 9.0, 1, 5.0),
    ],
)
def test_its_current_agrees_with_ngspice(
    kind: str, volts: float, series: int, ohms: float, tmp_path: Path
) -> None:
    row = catalogue.lamp(kind)
    assert isinstance(row, catalogue.LedLamp)
    saturation, own, inside = model(row)
    build = postcheck.loads(BUILD.format(kind=kind, volts=volts, series=series, ohms=ohms))
    states = States(resolve(build))
    solved = states.solved(states.everything, REFERENCE)
    assert solved is not None
    [amps] = solved.amps("lamp", "cabin lamp")
    chain = "".join(f"D{n} n{n} m{n} DL\nRI{n} m{n} n{n + 1} {inside!r}\n" for n in range(series))
    netlist = (
        f"leds\nV1 top 0 {volts}\nVA top a 0\nR1 a n0 {ohms}\n{chain}RE n{series} 0 1e-9\n"
        f".model DL D(IS={saturation!r} N=2 RS={own!r})\n.end"
    )
    spice = operating_point(netlist, tmp_path)
    assert amps == pytest.approx(spice["i(va)"], rel=1e-5)
