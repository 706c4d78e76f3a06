"""Strings that warm themselves: SciPy's root finder on junction temperature and current as two unknowns."""

from __future__ import annotations

import random
from dataclasses import replace
from math import inf, log1p

import netlists as nl
import pytest
from scipy.optimize import brentq

from postcheck.physics.network import (
    Circuit,
    Diode,
    Port,
    Resistance,
    Source,
    String,
    diode_through,
    forward_voltage,
    respond,
    solve,
)
from postcheck.physics.network.strings import Tangent, string_constants, string_law

RED = diode_through(1.95, 0.005, 2.05, 0.02)


def junction_volts(diode: Diode, amps: float, most: float = inf) -> float:
    """V with the junction where it is: d = K I V and V = V0 + c d, here with K = 500 K/W and c = -heat / 500."""
    cold = diode.slope * log1p(amps / diode.saturation) + amps * diode.ohm + diode.shift
    counted = min(amps, most)
    at_most = diode.slope * log1p(counted / diode.saturation) + counted * diode.ohm + diode.shift
    rise = brentq(
        lambda d: 500.0 * counted * (at_most - diode.heat / 500.0 * d) - d, -1.0, 1e5, xtol=1e-13, rtol=1e-15
    )
    return cold - diode.heat / 500.0 * rise


def off(string: String, amps: float, volts: float, ahead: float = 0.0) -> float:
    return (
        (string.ohms + ahead) * amps
        + sum(junction_volts(d, amps, string.most) for d in string.diodes)
        - volts
    )


def first_from_cold(string: String, volts: float, ahead: float = 0.0) -> float:
    """The first current at which the string takes all the volts, going up from cold in steps of a half per cent."""
    cold = replace(string, diodes=tuple(replace(d, heat=0.0) for d in string.diodes))
    amps = brentq(lambda i: off(cold, i, volts, ahead), 0.0, 50.0, xtol=1e-18)
    while off(string, amps * 1.005, volts, ahead) < 0.0:
        amps *= 1.005
    return brentq(lambda i: off(string, i, volts, ahead), amps, amps * 1.005, xtol=1e-18, rtol=1e-14)


def some_string(seed: int, unlike: bool) -> String:
    r = random.Random(seed)
    one = replace(diode_through(1.95, 0.005, r.uniform(2.05, 2.1), 0.02), heat=r.uniform(0.3, 1.5))
    two = replace(nl.WHITE, heat=r.uniform(0.5, 2.0), shift=r.uniform(-0.2, 0.2))
    dice = (one, two, one) if unlike else (one,) * r.randint(1, 3)
    return String(0, 1, r.choice([20.0, 100.0, 330.0]), dice, 0.1)


@pytest.mark.parametrize("unlike", [False, True])
@pytest.mark.parametrize("seed", range(25))
def test_a_string_settles_where_junction_and_current_agree(seed: int, unlike: bool) -> None:
    string = some_string(seed, unlike)
    volts = 2.2 * len(string.diodes) + random.Random(seed).uniform(0.0, 3.0)
    exact = first_from_cold(string, volts)
    amps, slope, _ = string_law(volts, string_constants(string))
    assert amps == pytest.approx(exact, rel=1e-9)
    step = 1e-5
    rise = first_from_cold(string, volts + step) - first_from_cold(string, volts - step)
    if exact < 0.099 or exact > 0.101:  # the law has a kink where no further heat is counted
        assert slope == pytest.approx(rise / (2 * step), rel=1e-4)
    # ... and so from any guess, in a network, and behind more resistance
    for guess in (10.0, 35.0, 60.0):
        assert string_law(volts, string_constants(string), guess)[0] == pytest.approx(exact, rel=1e-9)
    assert solve(Circuit(2, (string, Source(0, 1, volts)))).amps[0] == pytest.approx(exact, rel=1e-9)
    behind = first_from_cold(string, volts, 15.0)
    assert respond(Port(0, volts, 15.0, 0.0, 0.0), string)[0] == pytest.approx(behind, rel=1e-9)
    assert solve(Circuit(3, (string, Source(0, 2, volts), Resistance(1, 2, 15.0)))).amps[0] == pytest.approx(
        behind, rel=1e-9
    )


def test_the_forward_voltage_is_that_of_the_settled_junction() -> None:
    for diode in (replace(RED, heat=1.0), replace(nl.WHITE, heat=1.65, shift=-0.1)):
        for amps in (1e-3, 0.02, 0.09, 0.2):
            assert forward_voltage(diode, amps, 0.1) == pytest.approx(
                junction_volts(diode, amps, 0.1), rel=1e-12
            )
        assert forward_voltage(diode, -1e-27, 0.1) == forward_voltage(replace(diode, heat=0.0), -1e-27)


@pytest.mark.parametrize("ohms", [1.0, 2.0, 5.0, 20.0])
@pytest.mark.parametrize("volts", [4.2, 4.4, 4.6, 5.0])
def test_what_a_string_does_not_hold_the_way_to_it_may(ohms: float, volts: float) -> None:
    """Two bare reds whose law bends down: alone they would run away, behind so much they may not."""
    string = String(0, 1, 0.0, (replace(RED, heat=2.2),) * 2, 0.1)
    exact = first_from_cold(string, volts, ohms)
    found = solve(Circuit(3, (string, Source(0, 2, volts), Resistance(1, 2, ohms))))
    assert found.converged
    assert found.amps[0] == pytest.approx(exact, rel=1e-7)
    assert found.amps[0] == pytest.approx(found.amps[1], rel=1e-7)  # Kirchhoff
    assert respond(Port(0, volts, ohms, 0.0, 0.0), string)[0] == pytest.approx(exact, rel=1e-7)


def test_what_nothing_holds_ends_where_no_further_heat_is_counted() -> None:
    string = String(0, 1, 0.0, (replace(RED, heat=2.2),) * 2, 0.1)
    amps = solve(Circuit(2, (string, Source(0, 1, 4.3)))).amps[0]
    assert amps > 0.1
    assert amps == pytest.approx(first_from_cold(string, 4.3), rel=1e-9)


def test_many_that_warm_each_other_on_one_wire() -> None:
    """Strings behind a common resistance: the volts at their joint by root finding on Kirchhoff's law."""
    strings = [replace(some_string(seed, seed % 2 == 0), a=0, b=1) for seed in range(8)]

    def at_joint(volts: float) -> float:
        return (12.0 - volts) / 6.0 - sum(first_from_cold(string, volts) for string in strings)

    joint = brentq(at_joint, 6.0, 12.0, xtol=1e-13)
    found = solve(Circuit(3, (*strings, Source(2, 1, 12.0), Resistance(2, 0, 6.0))))
    assert found.across(0, 1) == pytest.approx(joint, rel=1e-10)
    for string, amps in zip(strings, found.amps, strict=False):
        assert amps == pytest.approx(first_from_cold(string, joint), rel=1e-8)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Diode(1e-20, 0.05, heat=inf),
        lambda: String(0, 1, 0.0, (replace(RED, heat=1.0),), 0.0),
        lambda: String(0, 1, 0.0, (replace(RED, heat=-20.0),), 0.1),
    ],
)
def test_heat_without_sense_is_refused(wrong: object) -> None:
    with pytest.raises(ValueError, match=r"finite|most|heat"):
        wrong()  # type: ignore[operator]


@pytest.mark.parametrize("amps", [1e-25, 7.603807251546458e-22, 3e-18, 1e-12])
def test_a_dark_string_agrees_with_itself_whatever_the_last_digit(amps: float) -> None:
    # its volts are below what a float adds up, and it holds up no string beside it that runs away
    warm = Diode(5.26846869517294e-19, 0.0513851582421717, 1.9176696589082796, 0.01, heat=1.0)
    string = String(
        1, 0, 470.21645337340465, (replace(warm, shift=-0.020222326959396752), warm, warm), most=0.1
    )
    for digit in range(-20, 21):
        assert Tangent.at(string, amps).agrees(string, amps * (1.0 + digit * 1e-14))


@pytest.mark.parametrize("volts", [-116.0, -100.0, -60.0, -5.0, 2.0])
def test_heat_that_lessens_the_current_leaves_some(volts: float) -> None:
    """A forward voltage below nought rises towards it with heat: the way from the cold current down ends above none."""
    die = Diode(7.28e-19, 0.0514, 5.25, shift=-117.0, heat=2500.0)

    def over(amps: float, heat: float) -> float:
        own = die.slope * log1p(amps / die.saturation) + amps * die.ohm + die.shift
        return 470.0 * amps + own / (1.0 + heat * amps) - volts

    cold = brentq(over, 0.0, 1.0, (0.0,), xtol=1e-24)
    exact = brentq(over, 0.0, cold, (die.heat,), xtol=1e-24, rtol=1e-14)
    amps, _, u = string_law(volts, string_constants(String(0, 1, 470.0, (die,), 0.1)))
    assert 0.0 < exact < cold
    assert amps - 1e-15 * volts == pytest.approx(exact, rel=1e-8)
    assert u == pytest.approx(log1p(exact / die.saturation), rel=1e-9)
