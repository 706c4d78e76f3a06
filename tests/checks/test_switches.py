"""Switches worked by hand: what they carry and make, and where they lie on the way."""

import pytest

import postcheck
from postcheck.checks import diodes, switches
from postcheck.description import oneline
from postcheck.description.problems import QuantityError
from tests.survey.small import adaptor, survey

from .run import run
from .test_lamps import string

RED = string("smd-0603-red", "1k 1/4 W")


def of_supply(on_off, **parts):
    return survey(supply=f"{adaptor()}\non_off = {on_off}", **parts)


@pytest.mark.parametrize(
    ("text", "table"),
    [
        ("1 A at base", {"rated": "1 A", "place": "base"}),
        ("1 A", {"rated": "1 A"}),
        ("500mA 24 V DC", {"rated": "500mA", "volts": "24 V"}),
        ("2 A DC at the stand", {"rated": "2 A", "place": "the stand"}),
        ("at base", {"place": "base"}),
    ],
)
def test_in_one_line(text, table):
    assert oneline.switch(text) == table


@pytest.mark.parametrize("text", ["", "on", "1 A at", "1 ohm", "1 A 250 V AC"])
def test_what_is_no_switch_is_refused(text):
    with pytest.raises(QuantityError):
        oneline.switch(text)


# (12 - 2.05) V / 1000 ohm = 9.95 mA; with 5 % of the supply 10.6 mA, of the resistor 11.1 mA and the least forward voltage 11.3 mA
@pytest.mark.parametrize(("rated", "severity"), [("20 mA", []), ("11 mA", ["stop"]), ("12 mA", [])])
def test_it_carries_all_that_is_behind_it(rated, severity):
    small = survey(lamps=RED, circuit=f'on_off = "{rated}"')
    assert [finding.severity for finding in run(switches, "switch.overload", small)[0]] == severity
    assert [
        finding.severity
        for finding in run(switches, "switch.overload", of_supply(f'"{rated}"', lamps=RED))[0]
    ] == severity


# a bulb of 12 V and 60 mA is cold ten to twelve times as hungry: 0.6 A and more
@pytest.mark.parametrize(
    ("rated", "severity"), [("100 mA", ["caution"]), ("500 mA", ["caution"]), ("1 A", [])]
)
def test_it_makes_what_cold_filaments_take(rated, severity):
    small = survey(lamps=string("wheat-12v", ""), circuit=f'on_off = "{rated}"')
    assert [finding.severity for finding in run(switches, "switch.overload", small)[0]] == severity


@pytest.mark.parametrize("where", ["supply", "circuit", "hull"])
def test_its_contact_is_a_resistance_on_the_way(where):
    """A contact of 100 ohm and a resistor of 900 ohm let through what 1000 ohm do."""
    spec = '{ rated = "1 A", contact = "100 ohm" }'
    less = string("smd-0603-red", "910 ohm 1/4 W")
    if where == "supply":
        small = of_supply(spec, lamps=less)
    else:
        place = ', place = "hull" }' if where == "hull" else " }"
        small = survey(lamps=less, circuit=f"on_off = {spec[:-2]}{place}")
    plain = survey(lamps=string("smd-0603-red", "1010 ohm 1/4 W"))
    gets, lamp = small.electrics.lamps["bow lamp"], plain.electrics.lamps["bow lamp"]
    assert gets.nominal == pytest.approx(lamp.nominal, rel=1e-4)
    assert gets.loss - lamp.loss == pytest.approx(100.0 * lamp.nominal, rel=1e-3)
    assert small.electrics.proven


def test_with_a_contact_of_its_own_it_is_warm_where_it_sits():
    small = survey(
        lamps=RED,
        circuit='on_off = { rated = "1 A", contact = "100 ohm", place = "hull" }',
        hull='access = "cover"',
    )
    amps = small.electrics.lamps["bow lamp"].nominal
    watts = {called: (place, heat) for place, called, heat in small.electrics.heats}
    assert watts["the switch of lights"][0] == "hull"
    assert watts["the switch of lights"][1] == pytest.approx(amps**2 * 100.0, rel=1e-6)


def test_away_from_where_its_line_begins_all_of_that_goes_through_it():
    survey(lamps=RED, circuit='on_off = "1 A at hull"')
    with pytest.raises(postcheck.BuildError, match="does not turn 'bow lamp' off"):
        survey(lamps=RED, circuit='on_off = "1 A at bow"')
    with pytest.raises(postcheck.BuildError, match="does not turn 'bow lamp' off"):
        of_supply('"1 A at hull"', lamps=RED)


def test_volts_beyond_the_usual_ones_are_asked_about():
    for on_off, findings, questions in (('"1 A"', 0, 0), ('"1 A 12 V"', 1, 0), ('"1 A 24 V"', 0, 0)):
        found, asked = run(switches, "switch.volts", of_supply(on_off, lamps=RED))
        assert (len(found), len(asked)) == (findings, questions)
    high = survey(
        lamps=string("smd-0603-red", "10k 1/2 W"),
        supply=adaptor().replace("12 V", "48 V") + '\non_off = "1 A"',
    )
    assert len(run(switches, "switch.volts", high)[1]) == 1


def test_a_motor_behind_it_kicks():
    motor = (
        '[[load]]\nname = "screw"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "200 mA"\n{}'
    )
    for more, asked in (("", 1), ('diode = "1N4001"', 0)):
        small = survey(lamps=motor.format(more), circuit='on_off = "2 A"')
        assert len(run(diodes, "diode.missing", small)[1]) == asked
