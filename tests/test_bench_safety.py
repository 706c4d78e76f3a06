"""What closing asks to be done at a bench harms nothing, followed to the letter: by Ohm's and Joule's laws alone."""

from __future__ import annotations

import re

import pytest

import postcheck
from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.survey import Survey
from postcheck.survey.sheet.closing import closing_places

BASE = """
format = 1
[build]
name = "Pilot boat, 1:72"
stage = "closing"
[place]
base = { access = "open" }
hub = { access = "cover", material = "abs", surface = "100 cm2" }
fore = { access = "sealed", material = "styrene", surface = "60 cm2" }
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "1 A"
fuse = "500 mA"
[circuit.lights]
supply = "main"
[[run]]
line = "lights"
ends = ["base", "hub"]
length = "200 mm"
wire = "ptfe-28"
colour = "red"
[[run]]
line = "main-"
ends = ["base", "hub"]
length = "200 mm"
wire = "ptfe-28"
colour = "black"
"""


def _lamp(name: str, kind: str, more: str) -> str:
    return (
        f'[[lamp]]\nname = "{name}"\ncircuit = "lights"\nkind = "{kind}"\nplace = "fore"\n{more}\n'
        f'lead = {{ length = "150 mm", wire = "enamel-0.10", to = "hub", colours = ["red", "black"], label = "{name}" }}\n'
    )


BARE = _lamp("bare", "smd-0603-white", "") + _lamp(
    "row", "smd-0603-warm-white", 'series = 3\nresistor = "390 ohm 1/4 W"'
)
SMALL_RESISTOR = _lamp("hot", "smd-0603-red", 'resistor = "330 ohm 1/8 W at hub"')
TOO_BRIGHT = _lamp("bright", "smd-0603-red", 'resistor = "330 ohm 2 W at hub"')


def _build(lamps: str) -> Build:
    return postcheck.loads(BASE + lamps)


def test_no_volts_are_put_on_a_bare_lamp_for_what_is_beside_it() -> None:
    """The white has some 3 V, three warm whites 9 V: with both on one line the row stays dark, and the white gets all."""
    by_leads = {test.name: test for test in postcheck.bench_tests(_build(BARE), closing="fore")}
    assert by_leads["bare"].held
    assert (by_leads["bare"].volts or 0.0) < 5.0
    joined = re.sub("lead = .*", "", BARE).replace('place = "fore"', 'place = "hub"')
    text = BASE.replace('hub = { access = "cover"', 'hub = { access = "sealed"') + joined
    tests = {test.name: test for test in postcheck.bench_tests(postcheck.loads(text), closing="hub")}
    assert tests["lights"].mend_first
    assert tests["lights"].volts is None


def test_no_limit_lets_a_resistor_have_more_watts_than_it_has() -> None:
    """P = I2 R: 1/8 W in 330 ohm is 19.5 mA; at 12 V with some 2 V for the red there would flow 30 mA."""
    (test,) = postcheck.bench_tests(_build(SMALL_RESISTOR), closing="fore")
    assert test.mend_first or (test.limit is not None and test.limit**2 * 330.0 <= 0.125)


def test_no_limit_is_above_what_a_lamp_is_rated_for() -> None:
    """Some 10 V over 330 ohm are 30 mA, which is the red's rating in its data sheet (catalogue); a limit is no higher."""
    build = _build(TOO_BRIGHT)
    rated = Survey(build, Limits()).parts.lamps[0].dice[0].rated
    (test,) = postcheck.bench_tests(build, closing="fore")
    assert test.mend_first or (test.limit is not None and test.limit <= rated)


@pytest.mark.parametrize("lamps", [BARE, SMALL_RESISTOR, TOO_BRIGHT])
def test_the_sheet_asks_for_the_same_tests_as_the_record(lamps: str) -> None:
    build = _build(lamps)
    asked = {test.name: test for test in postcheck.bench_tests(build, closing="fore")}
    (place,) = closing_places(Survey(build, Limits()))
    assert {item.subject for item in place.items} == set(asked)
    for item in place.items:
        test = asked[item.subject]
        if test.mend_first:
            assert (item.volts, item.limit) == (None, None)
        else:
            assert (item.volts, item.limit) == (test.volts, test.limit)


def test_where_an_led_could_take_harm_the_wrong_way_round_its_volts_are_told() -> None:
    """Data sheets of LEDs test them at 5 V backwards."""
    (test,) = postcheck.bench_tests(_build(SMALL_RESISTOR), closing="fore")
    assert test.stood == pytest.approx(5.0)


def test_a_wire_in_place_of_a_filament_lamp_is_not_taken_for_one() -> None:
    """0 V across a lead is a short; a cold filament of 3 V, 60 mA has some ohms, and reads a few hundredths of a volt."""
    lamps = _lamp("deck", "rice-3v", 'resistor = "330 ohm 1 W at hub"') + _lamp("mast", "rice-12v", "")
    lamps = re.sub(', label = "[a-z]*"', "", lamps)
    found = postcheck.which(_build(lamps), "hub", "L1: 0 / 0, L2: 0.03 / 0.03").found
    assert {one.lead for one in found} == {"L1", "L2"}
    assert not any(one.sure for one in found)
    assert any(fit.condition == "shorted" for one in found for fit in one.fits)
