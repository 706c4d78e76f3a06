"""A lamp that flashes by itself, beside a steady one on the same copper: against Kirchhoff's laws solved by SciPy."""

from __future__ import annotations

from math import log

import pytest
from scipy.optimize import fsolve

import postcheck
from postcheck import catalogue
from postcheck.survey import Survey
from postcheck.survey.bench.rig import Rig
from postcheck.survey.light import flashes_together

BUILD = """
format = 1
[build]
name = "Tender, a buoy lamp that flashes by itself"
air = "25 degC"
[supply.main]
kind = "adaptor"
place = "base"
volts = "9 V"
rated = "1 A"
[place.base]
access = "open"
[place.hull]
access = "open"
[circuit.buoy]
supply = "main"
[[run]]
line = "buoy"
ends = ["base", "hull"]
ohms = "4 ohm"
[[run]]
line = "main-"
ends = ["base", "hull"]
ohms = "4 ohm"
[[lamp]]
name = "buoy lamp"
circuit = "buoy"
kind = "flash-5mm-red"
place = "hull"
[[lamp]]
name = "deck lamp"
circuit = "buoy"
kind = "smd-0603-white"
place = "hull"
resistor = "470 ohm 1/4 W"
"""
V_T = 0.025693
COPPER = 1.0 + 0.00393 * 5.0  # 4 ohm as measured at 20 degC, in air of 25: IEC 60028


def volts_of(die: catalogue.Die, amps: float, ohms: float) -> float:
    """Shockley with n = 2 through both points, with what lies in series inside it, and its own heat."""
    span = die.at_current - die.low_current
    series = (die.forward_typical - die.low_forward - 2 * V_T * log(die.at_current / die.low_current)) / span
    cold = die.forward_typical + 2 * V_T * log(amps / die.at_current) + series * (amps - die.at_current)
    return float((cold + amps * ohms) / (1.0 - die.volts_per_kelvin * die.kelvin_per_watt * amps))


def test_a_steady_lamp_steps_by_what_the_copper_costs() -> None:
    survey = Survey(postcheck.loads(BUILD))
    red, white = catalogue.lamp("flash-5mm-red"), catalogue.lamp("smd-0603-white")
    assert isinstance(red, catalogue.LedLamp)
    assert isinstance(white, catalogue.LedLamp)
    assert red.inside is not None
    at = red.inside.current
    cold = volts_of(red.dice[0]._replace(volts_per_kelvin=0.0), at, 0.0)
    inside = (red.inside.volts - cold) / at
    copper = 8.0 * COPPER

    def both(amps: tuple[float, float]) -> list[float]:
        steady, flashing = amps
        left = 9.0 - copper * (steady + flashing)
        return [
            left - 470.0 * steady - volts_of(white.dice[0], steady, 0.0),
            left - volts_of(red.dice[0], flashing, inside),
        ]

    def alone(amps: list[float]) -> float:
        return 9.0 - (copper + 470.0) * float(amps[0]) - volts_of(white.dice[0], float(amps[0]), 0.0)

    lit = float(fsolve(both, [0.01, 0.03], xtol=1e-12)[0])
    dark = float(fsolve(alone, [0.01], xtol=1e-12)[0])
    [step] = survey.electrics.steps
    assert (step.lamp, step.flasher, step.by) == ("deck lamp", "buoy lamp", "lamp")
    assert step.share == pytest.approx(lit / dark - 1.0, rel=5e-3)


def test_chips_never_keep_step() -> None:
    survey = Survey(
        postcheck.loads(BUILD.replace('"flash-5mm-red"', '"flash-5mm-red"\nseries = 2\nparallel = 3'))
    )
    assert sum(flashes_together(survey.build, survey.parts, survey.limits).values()) == pytest.approx(12.0)


def test_a_meter_shows_anything_up_to_what_flows_while_it_is_lit() -> None:
    survey = Survey(postcheck.loads(BUILD))
    point = survey.bench.lines["buoy", "hull"]
    band = survey.bench.expected(point, 9.0, with_resistors=True)
    deck = survey.electrics.lamps["deck lamp"].nominal
    assert band is not None
    assert 0.5 * deck < band.least < deck
    assert band.most > deck + 0.02


def test_a_steady_lamp_gets_most_while_the_others_are_dark() -> None:
    text = BUILD
    highest = Survey(postcheck.loads(text)).electrics.lamps["deck lamp"].highest
    head, flashing, deck = text.split("[[lamp]]")
    alone = Survey(postcheck.loads(head + "[[lamp]]" + deck)).electrics.lamps["deck lamp"].highest
    assert highest == pytest.approx(alone, rel=1e-6)
    assert "flash-5mm-red" in flashing


def test_without_a_solution_there_is_no_current_to_expect(monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Survey(postcheck.loads(BUILD)).bench
    test_point = next(iter(bench.lines.values()))
    assert "buoy lamp" in test_point.lamps
    assert bench.expected(test_point, 5.0, with_resistors=True) is not None
    bench = Survey(postcheck.loads(BUILD)).bench
    monkeypatch.setattr(Rig, "flow", lambda *_: None)
    assert bench.expected(test_point, 5.0, with_resistors=True) is None
