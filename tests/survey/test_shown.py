"""What the current of a circuit shows of each thing on it: by Shockley, Ohm and SciPy, on both sides of each bound."""

from __future__ import annotations

from math import sqrt

import pytest

from postcheck.survey import Survey
from postcheck.survey.bench import test_points as points
from postcheck.survey.closing.currents import Currents
from tests.survey.bench.boats import ADAPTOR, boat
from tests.survey.bench.leds import BLUE, MOST, RED, WIRE, WIRES, amps, band, hung

KINDS = WIRE + str(RED) + str(BLUE)
RADIO = '[[load]]\nname = "radio"\ncircuit = "a"\nplace = "hub"\ntypical = "40 mA"\nleast = "38 mA"\nmost = "43 mA"\n'
METER, LIGHTS = 1.03, 1e-4


def built(*parts: str) -> tuple[Survey, Currents, points.TestPoint]:
    survey = boat(KINDS, *parts, supply=ADAPTOR)
    return survey, Currents(survey.parts, survey.bench, survey.limits), survey.bench.lines["a", "hub"]


def bound(
    currents: Currents, point: points.TestPoint, *names: str, volts: float = 12.0, near: float, **how: object
) -> None:
    """From this current on it would be missed, and not below."""
    for times, missed in ((1.0 - 1e-6, False), (1.0 + 1e-6, True)):
        assert currents.missed(point, frozenset(names), volts, near * times, **how) is missed  # type: ignore[arg-type]


def test_what_is_missed_is_more_than_the_others_ever_take() -> None:
    """The most of the others, what the meter may be out, and 0.1 mA that light it."""
    _, currents, point = built(hung(RED, "1k 5 %"), hung(BLUE, "470 ohm 5 %", name="blue"), RADIO)
    red, blue = band(12.0, 1000.0, RED, more=WIRES)[2], band(12.0, 470.0, BLUE, more=WIRES)[2]
    bound(currents, point, "lamp", near=(blue + 0.043) * METER + LIGHTS)
    bound(currents, point, "blue", near=(red + 0.043) * METER + LIGHTS)
    bound(currents, point, "radio", near=(red + blue) * METER + LIGHTS)
    bound(currents, point, "lamp", "blue", near=0.043 * METER + LIGHTS)
    # without all of them nothing flows
    bound(currents, point, "lamp", "blue", "radio", near=LIGHTS)
    # at other volts the others take less
    bound(
        currents,
        point,
        "lamp",
        volts=9.0,
        near=(band(9.0, 470.0, BLUE, more=WIRES)[2] + 0.043) * METER + LIGHTS,
    )


def test_with_a_resistor_in_the_bench_lead_and_without_those_that_sit_elsewhere() -> None:
    """Through both one after the other: the blue alone behind 220 ohm; bare, one of two strings takes what it gets."""
    _, currents, point = built(hung(RED, "1k 5 % at hub"), hung(BLUE, "470 ohm 5 %", name="blue"))
    blue = amps(12.0, (470.0 + 220.0) * 0.95 + WIRES, BLUE, taken=MOST)
    bound(currents, point, "lamp", ohms=220.0, near=blue * METER + LIGHTS)
    one = "parallel = 2\none_resistor = true\nmatched = true"
    _, currents, point = built(hung(RED, "100 ohm 5 % at base", one))
    for with_resistors, ohms in ((False, 0.0), (True, 95.0)):
        near = amps(2.1, ohms + WIRES, RED, taken=MOST) * METER + LIGHTS
        bound(currents, point, "lamp", volts=2.1, with_resistors=with_resistors, string=True, near=near)
    bound(currents, point, "lamp", volts=2.1, string=True, near=near)  # through them, if nothing is said


def test_one_string_of_several() -> None:
    """Three of a lamp and another beside it: without one string, the two and the other at their most."""
    _, currents, point = built(hung(RED, "1k 5 %", "parallel = 3"), hung(BLUE, "470 ohm 5 %", name="blue"))
    red, blue = band(12.0, 1000.0, RED, more=WIRES)[2], band(12.0, 470.0, BLUE, more=WIRES)[2]
    bound(currents, point, "lamp", string=True, near=(2.0 * red + blue) * METER + LIGHTS)
    bound(currents, point, "lamp", near=blue * METER + LIGHTS)
    # one that has a single string goes whole
    bound(currents, point, "blue", string=True, near=3.0 * red * METER + LIGHTS)


@pytest.mark.parametrize(("count", "seen"), [(40, True), (41, False)])
def test_of_more_than_forty_none_is_missed(count: int, seen: bool) -> None:
    lamps = [hung(RED, "1k 5 %", name=f"red {n}") for n in range(count - 1)]
    _, currents, point = built(*lamps, hung(RED, "1k 5 %", "parallel = 2", name="pair"))
    assert len(currents.connected(point)) == count
    assert currents.missed(point, frozenset({"red 0"}), 12.0, 9.0) is seen
    assert currents.missed(point, frozenset({"pair"}), 12.0, 9.0, string=True) is seen
    # several at once are
    assert currents.missed(point, frozenset({"red 0", "red 1"}), 12.0, 9.0)


def test_circuits_that_are_joined_count_together() -> None:
    join = '[circuit.b]\nsupply = "main"\n[[join]]\nplace = "hub"\nlines = ["a", "b"]\n'
    _, currents, point = built(join, hung(RED, "1k 5 %"), hung(BLUE, "470 ohm 5 %", name="blue", circuit="b"))
    assert [part.name for part in currents.connected(point)] == ["lamp", "blue"]
    bound(currents, point, "blue", near=band(12.0, 1000.0, RED, more=WIRES)[2] * METER + LIGHTS)


def tolerance(share: float, number: int) -> float:
    """The rather low current of so many reds beside what all but one take at most, A: above zero it shows."""
    least, usual, most = band(12.0, 1000.0, RED, tolerance=share, more=WIRES)
    low = number * (usual - (usual - least) / sqrt(number))
    return low - ((number - 1) * most * METER + LIGHTS)


@pytest.mark.parametrize("number", [1, 2, 3, 4, 5, 6, 8])
@pytest.mark.parametrize("share", [0.01, 0.05, 0.10])
def test_a_rather_low_current_shows_it_or_not(number: int, share: float) -> None:
    """Parts that fall low by chance make up for each other, by the root of their number."""
    lamps = [hung(RED, f"1k {share * 100:g} %", name=f"red {n}") for n in range(number)]
    _, currents, point = built(*lamps)
    assert currents.shown(point, 12.0, frozenset({"red 0"})) is (tolerance(share, number) > 0.0)


def test_all_strings_of_a_lamp_show_where_one_of_them_does_not() -> None:
    _, currents, point = built(hung(RED, "1k 5 %", "parallel = 20"), hung(BLUE, "470 ohm 5 %", name="blue"))
    assert currents.shown(point, 12.0, frozenset({"lamp"}))
    assert not currents.shown(point, 12.0, frozenset({"lamp"}), string=True)


@pytest.mark.parametrize("parallel", [1, 2, 3, 5, 8, 12, 20])
@pytest.mark.parametrize("share", [0.01, 0.05])
def test_whether_all_strings_together_hide_a_dark_one_or_a_short(parallel: int, share: float) -> None:
    """Usual parts beside the band of one fewer, or of one with an LED less; the meter may be out by 3 %."""
    _, currents, _ = built(hung(RED, f"1k {share * 100:g} %", f"series = 2\nparallel = {parallel}"))
    both = band(12.0, 1000.0, RED, RED, tolerance=share, more=WIRES)
    one = band(12.0, 1000.0, RED, tolerance=share, more=WIRES)
    usual = parallel * both[1]
    hidden = [
        tuple((parallel - 1) * amount for amount in both),
        tuple((parallel - 1) * amount + short for amount, short in zip(both, one, strict=True)),
    ]
    expected = any(least * 0.97 <= usual <= most * 1.03 for least, _, most in hidden)
    (lamp,) = currents.lamps.values()
    assert currents.hides(lamp) is expected
