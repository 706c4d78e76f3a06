"""The figures that programs read, against Kirchhoff's laws and Ohm's: what is lost on the way adds up."""

from __future__ import annotations

import itertools
import math

import pytest

import postcheck
from postcheck.reported import Figures, meanings
from postcheck.survey import Survey

# In air of 20 degC, at which the ohms of the file and of the standard count.
BUILD = """
format = 1

[build]
name = "figures"
air = "20 degC"

[usual]
lead = "enamel-0.10"

[supply.main]
kind = "adaptor"
volts = "12 V"
tolerance = "0 %"
rated = "1 A"
place = "base"

[supply.five]
kind = "converter"
from = "main"
volts = "5 V"
efficiency = "80 %"
tolerance = "0 %"
rated = "1 A"
place = "base"

[board.driver]
supply = "main"
place = "base"
steady = "10 mA"
drop = "1 V"
total = "100 mA"

[circuit.lights]
supply = "main"

[circuit.steady]
board = "driver"
own_return = true

[circuit.engine]
supply = "five"

[place.base]
access = "open"

[place.hub]
access = "open"

[[run]]
line = "lights"
name = "feed"
ends = ["base", "hub"]
ohms = "2 ohm"

[[run]]
line = "main-"
name = "back"
ends = ["hub", "base"]
ohms = "3 ohm"

[[lamp]]
name = "pair"
circuit = "lights"
kind = "smd-0603-red"
place = "hub"
series = 3
parallel = 2
strings_share = "nothing"
resistor = "330 ohm 1/4 W"
lead = "50 cm"

[[lamp]]
name = "held"
circuit = "steady"
kind = "smd-0603-red"
place = "base"
series = 2

[[load]]
name = "motor"
circuit = "engine"
place = "base"
typical = "100 mA"
"""


@pytest.fixture(scope="module")
def figures() -> Figures:
    return Survey(postcheck.loads(BUILD)).figures


def test_what_is_lost_on_the_way_to_a_lamp_adds_up(figures: Figures) -> None:
    lamp, feed, back = figures["lamps"]["pair"], figures["runs"]["feed"], figures["runs"]["back"]
    current = lamp["nominal"] or 0.0
    # IEC 60028: annealed copper has 1/58 ohm mm2/m at 20 degC; two legs of half a metre, 0.10 mm thick
    assert lamp["lead_drop"] == pytest.approx(current / 58.0 / (math.pi * 0.05**2), rel=1e-3)
    assert lamp["resistor"] == pytest.approx(current**2 * 330.0, rel=1e-9)
    assert feed["current"] == pytest.approx(2 * current, rel=1e-9)
    assert (feed["source"], back["source"]) == ("base", "hub")
    assert lamp["joints"] == pytest.approx(12.0 - feed["drop"] - back["drop"], rel=1e-9)
    assert feed["drop"] == pytest.approx(2 * current * 2.0, rel=1e-9)
    strings = [figures["strings"][f"pair {number}"]["nominal"] for number in (1, 2)]
    assert strings == pytest.approx([current, current], rel=1e-9)
    assert (lamp["alone"] or 0.0) >= (lamp["highest"] or 0.0) >= current


def test_an_output_has_what_the_lamps_leave_it(figures: Figures) -> None:
    steady, held = figures["circuits"]["steady"], figures["lamps"]["held"]
    assert steady["nominal"] == pytest.approx(0.01, rel=1e-6)
    assert steady["drop"] + held["joints"] == pytest.approx(12.0, rel=1e-9)
    assert steady["spare"] == pytest.approx(steady["drop"] - 1.0, rel=1e-9)
    assert figures["boards"]["driver"]["rated"] == 0.1


def test_a_converter_takes_the_power_that_it_gives_and_wastes(figures: Figures) -> None:
    five, motor = figures["supplies"]["five"], figures["loads"]["motor"]
    assert motor["volts"] == pytest.approx(5.0, rel=1e-6)
    assert five["input"] * 12.0 == pytest.approx(5.0 * 0.1 / 0.8, rel=1e-6)
    assert five["input_highest"] >= five["input"]


STRIP = """
[[strip]]
name = "deck light"
circuit = "lights"
kind = "strip-12v-white-60"
place = "hub"
segments = {}
trace = "4 ohm/m"
"""


def test_along_a_strip_each_segment_gets_what_the_traces_before_it_leave() -> None:
    survey = Survey(postcheck.loads(BUILD + STRIP.format(6)))
    strip, told = survey.figures["strips"]["deck light"], survey.figures["segments"]
    segments = [told[f"deck light {number}"] for number in range(1, 7)]
    assert sum(each["current"] for each in segments) == pytest.approx(strip["nominal"], rel=1e-9)
    assert segments[0]["volts"] == strip["first_volts"]
    assert segments[-1]["volts"] == strip["last_volts"]
    (part,) = survey.parts.strips
    for number, (here, there) in enumerate(itertools.pairwise(segments), 1):
        onward = sum(each["current"] for each in segments[number:])
        lost = here["volts"] - there["volts"]
        assert lost == pytest.approx(2 * 4.0 * part.segment * onward, rel=1e-6)  # there and back
        assert here["current"] > there["current"]


@pytest.mark.parametrize(("segments", "told"), [(1, [1]), (50, list(range(1, 51))), (51, [1, 51])])
def test_of_a_long_strip_both_ends_are_told(segments: int, told: list[int]) -> None:
    figures = Survey(postcheck.loads(BUILD.replace('"1 A"', '"5 A"') + STRIP.format(segments))).figures
    assert list(figures["segments"]) == [f"deck light {number}" for number in told]


def test_every_figure_that_is_given_has_a_meaning(figures: Figures) -> None:
    known = meanings()
    for section, rows in figures.items():
        for row in rows.values():  # type: ignore[attr-defined]
            assert row.keys() <= known[section].keys()


def test_a_battery_beside_an_adaptor_says_how_long_it_lasts() -> None:
    cells = (
        '[supply.cells]\nkind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3\n'
    )
    bell = '[circuit.bell]\nsupply = "cells"\n[[load]]\nname = "bell"\ncircuit = "bell"\nplace = "base"\ntypical = "100 mA"\n'
    supplies = Survey(postcheck.loads(BUILD + cells + bell)).figures["supplies"]
    # 2450 mAh at 100 mA, of which three quarters are counted on
    assert supplies["cells"]["lasts"] == pytest.approx(2.45 * 3600.0 * 0.75 / 0.1, rel=1e-9)
    assert "lasts" not in supplies["main"]


def test_where_poles_are_joined_each_string_and_segment_says_so() -> None:
    joined = '[[run]]\nline = "main+"\nends = ["base", "hub"]\nohms = "1 ohm"\n[[join]]\nplace = "hub"\nlines = ["main+", "main-"]\n'
    figures = Survey(postcheck.loads(BUILD + STRIP.format(3) + joined)).figures
    assert list(figures["segments"]) == [f"deck light {number}" for number in (1, 2, 3)]
    assert list(figures["strings"]) == ["pair 1", "pair 2"]
    for row in (*figures["segments"].values(), *figures["strings"].values(), *figures["strips"].values()):
        assert row.get("fate") == "poles joined"
        assert {value for name, value in row.items() if name != "fate"} == {None}
