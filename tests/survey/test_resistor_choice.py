"""Which resistor a string is given: by Ohm's law, Shockley's and the values that are sold."""

from __future__ import annotations

from itertools import pairwise
from math import inf

import pytest

from postcheck.limits import Limits
from postcheck.survey.network.resistor_choice import (
    ballast_volts,
    body_for,
    first_values,
    most_load,
    ohms_for,
    self_heat_volts,
    sold,
    steps,
    usual_current,
    volts_at,
)
from postcheck.wiring.data import DieData
from tests.survey.bench.boats import ADAPTOR, boat
from tests.survey.bench.leds import RED, WIRE, hung

LIMITS = Limits({})


@pytest.fixture(scope="module")
def die() -> DieData:
    """Forward 1.9, 2.0, 2.3 V at 20 mA, rated 30 mA."""
    return boat(WIRE, str(RED), hung(RED, "1k"), supply=ADAPTOR).parts.lamps[0].dice[0]


@pytest.mark.parametrize("amps", [0.0, 1e-4, 0.005, 0.02, 0.03])
def test_the_volts_of_a_die_at_a_current(die: DieData, amps: float) -> None:
    assert volts_at(die, amps) == pytest.approx(RED.volts(amps), rel=1e-9, abs=1e-9)
    assert volts_at(die, -amps) == pytest.approx(0.0, abs=1e-9)


def test_the_usual_current_is_a_share_of_what_the_weakest_stands_in_that_air(die: DieData) -> None:
    """Half a milliamp less for each kelvin above 50 degC: of 30 mA 25 at 60 degC."""
    share = LIMITS.value("lamp.usual")
    hot = die._replace(derate_above=50.0, derate_per_kelvin=0.0005)
    weak = die._replace(rated=0.012, derate_per_kelvin=0.0)
    assert usual_current([hot], 50.0, LIMITS) == pytest.approx(share * 0.030)
    assert usual_current([hot], 60.0, LIMITS) == pytest.approx(share * 0.025)
    assert usual_current([hot, weak], 60.0, LIMITS) == pytest.approx(share * 0.012)


def test_the_ohms_that_give_a_string_its_current(die: DieData) -> None:
    """What two dice leave of 12 V; a tenth of the volts at least, or the resistor would not set the current."""
    both = 2.0 * RED.volts(0.01)
    assert ohms_for((die, die), 12.0, 0.01) == pytest.approx((12.0 - both) / 0.01)
    for times, enough in ((0.999, False), (1.001, True)):
        volts = times * both / 0.9
        found = ohms_for((die, die), volts, 0.01)
        assert found == (pytest.approx((volts - both) / 0.01) if enough else None)
    assert ohms_for((die,), 12.0, 0.0) is None
    assert ohms_for((die,), 0.0, 0.01) is None
    assert ohms_for((die,), -5.0, 0.01) is None


def test_a_string_that_warms_itself_needs_fewer_volts(die: DieData) -> None:
    """10 mA at 4 V, half of it in each die: 20 mW are 10 K by the one, 6 K by the other, at 2 and 3 mV each."""
    dice = (
        die._replace(volts_per_kelvin=-0.002, kelvin_per_watt=500.0),
        die._replace(volts_per_kelvin=-0.003, kelvin_per_watt=300.0),
    )
    assert self_heat_volts(dice, 0.01, 4.0) == pytest.approx(-(0.002 * 10.0 + 0.003 * 6.0))
    assert self_heat_volts(dice, -0.01, 4.0) == 0.0
    assert self_heat_volts(dice, 0.01, -4.0) == 0.0


def test_values_from_one_up() -> None:
    assert list(steps(100.0, "E12")) == pytest.approx([100.0, 120.0, 150.0])
    assert list(steps(101.0, "E12", 2)) == pytest.approx([120.0, 150.0])
    assert list(steps(823.0, "E12", 2)) == pytest.approx([1000.0, 1200.0])
    assert list(steps(100.0, "E96", 2)) == pytest.approx([100.0, 102.0])


def test_first_values_begin_with_the_nearest_where_a_current_is_wanted() -> None:
    assert list(first_values(None, 104.0, "E12")) == pytest.approx([120.0, 150.0])
    assert list(first_values(0.01, 104.0, "E12")) == pytest.approx([100.0, 120.0, 150.0])
    assert list(first_values(0.01, 116.0, "E12")) == pytest.approx([120.0, 150.0])


def test_the_least_body_that_stands_the_heat() -> None:
    """Up to the share of its power that a resistor is loaded with; the next one above, and none above the largest."""
    powers = [power for power, _ in sold()]
    assert powers == sorted(powers)
    assert 0.25 in powers
    share = most_load(LIMITS)
    assert share == min(LIMITS.value("resistor.power.bought"), LIMITS.value("resistor.power.caution"))
    for power, larger in pairwise(powers):
        for watts, body in ((share * power, power), (1.001 * share * power, larger)):
            found = body_for(watts, LIMITS)
            assert found is not None
            assert found[0] == body
    assert body_for(1.001 * share * powers[-1], LIMITS) is None


def test_what_evens_out_strings_on_one_output(die: DieData) -> None:
    """Two dice a tenth of a volt below their typical each, three strings, a fifth more than their part at most: R I = dV (n - 1) / (n s)."""
    assert ballast_volts((die, die), 3, 0.2) == pytest.approx(2 * 0.1 * 2 / (3 * 0.2))
    assert ballast_volts((die,), 2, 0.5) == pytest.approx(0.1 / (2 * 0.5))
    assert ballast_volts((die,), 2, 0.0) == inf
