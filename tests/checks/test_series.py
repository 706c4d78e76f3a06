"""Resistors in series and trimmers, against hand calculation."""

from math import sqrt

import pytest

import postcheck
from postcheck.checks import resistors, trimmers
from postcheck.description import oneline
from postcheck.description.problems import QuantityError
from tests.survey.small import survey

from .run import run
from .test_lamps import string


def lamp(resistor, **more):
    return survey(lamps=string("smd-0603-red", resistor, **more)).electrics.lamps["bow lamp"]


@pytest.mark.parametrize(
    ("text", "ohms"),
    [
        ("470 + 330 at keel", [("470 ohm", None), ("330 ohm", None)]),
        ("470 1/4 W + 330 1/4 W at keel", [("470 ohm", "1/4 W"), ("330 ohm", "1/4 W")]),
        ("1k5 +/- 5 % + 4K7J", [("1k5", None), ("4K7", None)]),
        ("trimmer 1k", [("1k", None)]),
        ("470 ohm 0805 + trimmer 1k set to 300 at keel", [("470 ohm", None), ("1k", None)]),
    ],
)
def test_pieces_are_read_one_by_one(text, ohms):
    table = oneline.resistor(text)
    pieces = [table, *table.get("plus", ())]
    assert [(piece["ohms"], piece.get("power")) for piece in pieces] == ohms
    assert table.get("place") == ("keel" if "keel" in text else None)
    assert [piece.get("set") for piece in pieces][-1] == ("300 ohm" if "set" in text else None)


@pytest.mark.parametrize("text", ["470", "470 +", "+ 470 ohm +", "470 + set 30", "trimmer", "470 + trimmer"])
def test_what_says_too_little_is_refused(text):
    with pytest.raises(QuantityError):
        oneline.resistor(text)


def test_two_in_series_are_their_sum():
    two, one = lamp("470 + 330 at bow"), lamp("800 ohm at bow")
    assert (two.nominal, two.highest, two.lowest) == pytest.approx((one.nominal, one.highest, one.lowest))
    assert two.resistor_nominal == pytest.approx(one.resistor_nominal)


# I = (12 - 2.05) V / 1000 ohm = 9.95 mA: 820 ohm dissipate 81 mW, 180 ohm 18 mW; 0603 stands 1/10 W, 0402 1/16 W
@pytest.mark.parametrize(
    ("resistor", "severity", "ohms"),
    [
        ("820 0603 + 180 0402", ["caution"], 820.0),
        ("820 0402 + 180 1/4 W", ["stop"], 820.0),
        ("820 1/4 W + 180 0402", [], None),
    ],
)
def test_each_stands_its_own_share(resistor, severity, ohms):
    found, _ = run(resistors, "resistor.overloaded", survey(lamps=string("smd-0603-red", resistor)))
    assert [finding.severity for finding in found] == severity
    for finding in found:
        assert finding.figures["ohms"].value == ohms
        assert finding.figures["likely"].value == pytest.approx((9.95e-3) ** 2 * 820 * 1.13, rel=0.05)


# at 9.5 mA the whole track of 1 kohm would have 90 mW; 1/10 W: sqrt(0.1 W / 1000 ohm) = 10 mA
def test_a_track_stands_the_current_of_the_whole_of_it():
    for power, severity in (("1/16 W", ["stop"]), ("1/4 W", [])):
        small = survey(lamps=string("smd-0603-red", f"1k 1/4 W + trimmer 1k {power}"))
        found, _ = run(resistors, "trimmer.overloaded", small)
        assert [finding.severity for finding in found] == severity
        for finding in found:
            assert finding.limit.value == pytest.approx(sqrt(0.0625 / 1000))


def test_a_trimmer_is_judged_at_both_of_its_ends():
    turned = lamp("1k + trimmer 4k")
    assert turned.turned is not None
    assert turned.nominal == pytest.approx(lamp("1k").nominal)
    assert turned.turned == pytest.approx((lamp("1k").nominal, lamp("5k ohm").nominal), rel=1e-6)
    assert turned.lowest < turned.turned[1] < turned.highest
    half = lamp("1k + trimmer 4k set 2k")
    assert half.nominal == pytest.approx(lamp("3k").nominal)
    assert half.turned == pytest.approx(turned.turned, rel=1e-6)


# with R before it a trimmer has the most at the setting of the same resistance: U**2 / 4 R = 9.95**2 / 4000 = 24.8 mW
def test_a_trimmer_is_warmest_where_it_equals_the_rest():
    watts, rated = lamp("1k 5 W + trimmer 4k 1/8 W").spot
    assert rated == 0.125
    assert watts == pytest.approx((12 - 2.05) ** 2 / 4000, rel=0.02)


# 820 of 1000 ohm have 81 of 99 mW, 65 % of 1/8 W; of the other 180 nobody says what they stand
@pytest.mark.parametrize("text", ["820 1/8 W + 180", "180 + 820 1/8 W"])
def test_of_pieces_the_one_whose_rating_is_known_is_nearest_to_it(text):
    found = lamp(text)
    assert found.spot == (pytest.approx(0.82 * found.resistor_nominal), 0.125)


def test_alone_and_turned_to_zero_it_leaves_nothing():
    small = survey(lamps=string("smd-0603-red", "trimmer 5k 1/4 W set 1k"))
    (finding,), _ = run(trimmers, "trimmer.turned-down", small)
    assert (finding.severity, finding.case) == ("stop", "destroys:")


def test_a_setting_belongs_to_a_trimmer_and_is_within_its_track():
    for resistor, says in (
        ('{ ohms = "1k", set = "300 ohm" }', "cannot be set"),
        ('"trimmer 1k set 2k"', "cannot be set to 2 kohm"),
    ):
        with pytest.raises(postcheck.BuildError, match=says):
            survey(lamps=string("smd-0603-red", "1k").replace('"1k"', resistor))


# (12 - 2) V over 200 ohm are 50 mA, a quarter of a watt in each: twice what 1/8 W stands, and four times 1/16 W
@pytest.mark.parametrize("text", ["100 1/8 W + 100 1/16 W", "100 1/16 W + 100 1/8 W"])
def test_of_two_that_get_too_hot_the_worse_is_told(text):
    made = survey(lamps=string("smd-0603-red", text))
    (finding,), _ = run(resistors, "resistor.overloaded", made)
    assert finding.figures["rated"].value == 1 / 16
    assert finding.figures["share"].value == pytest.approx(4.0, rel=0.15)
