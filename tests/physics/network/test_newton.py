"""Newton's method on a network: how many steps, how far each goes, and which drops and strings it ends with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from postcheck.physics.network import (
    Circuit,
    ConstantPower,
    Demand,
    Diode,
    Drop,
    Element,
    Filament,
    Network,
    Resistance,
    Source,
    String,
    diode_through,
    fit_diode,
    forward_voltage,
    solve,
)
from postcheck.physics.network.newton import State, _search
from postcheck.physics.network.sparse import Pattern
from postcheck.physics.network.structure import Structure, is_tie

RED = fit_diode(2.0, 5e-3, 2.1, 20e-3)
BARE = Diode(1e-20, 0.05)


def state_of(nodes: int, elements: Sequence[Element]) -> State:
    shape = Structure(nodes, elements, [is_tie(e) for e in elements], frozenset(), frozenset())
    return State(shape, elements)


LOADS: list[Element] = [
    String(2, 0, 0.0, (BARE,)),
    String(2, 0, 30.0, (RED, RED)),
    Filament(2, 0, 6.0, 0.1),
    Demand(2, 0, 0.05, 3.0),
    Drop(2, 0, 0.7, 0.1),
]


@pytest.mark.parametrize("load", LOADS)
@pytest.mark.parametrize("begin", [-3.0, 0.0, 1.5, 2.3, 7.0, 11.9])
@pytest.mark.parametrize("fraction", [1.0, 0.4, 0.01])
def test_along_a_step_the_potential_falls(
    load: Element, begin: float, fraction: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One unknown between a resistor and the load; the potential is what the current into it adds up to on the way (SciPy)."""
    state = state_of(3, (Source(1, 0, 12.0), Resistance(1, 2, 100.0), load))
    assert state.structure.units == 1
    x = [begin, 0.0]
    into = state.evaluate(x)
    move = [*state.factor().solve(into[:1]), 0.0]
    if abs(move[0]) < 1e-6:
        return
    with monkeypatch.context() as watched:
        shares: list[float] = []
        evaluate = state.evaluate

        def noted(at: list[float]) -> list[float]:
            shares.append((at[0] - begin) / move[0])
            return evaluate(at)

        watched.setattr(state, "evaluate", noted)
        found, after = _search(state, x, move, into, fraction)
    # each try lies between the furthest that fell short and the nearest that went too far
    short, far = 0.0, inf
    for share in shares:
        assert short < share < far
        if state.evaluate([begin + share * move[0], 0.0])[0] * move[0] > 0.0:
            short = share
        else:
            far = share
    assert after == pytest.approx(state.evaluate(found), rel=1e-9)
    gone = found[0] - begin
    assert gone / move[0] > 0.0
    fallen = quad(lambda v: state.evaluate([v, 0.0])[0], begin, found[0], limit=200, points=None)[0]
    assert fallen > 0.0
    # where it stops the slope has turned by a tenth at most; where the first try went too far, it is a tenth either way
    first, last = into[0] * move[0], after[0] * move[0]
    assert -last <= 0.1 * first * (1.0 + 1e-9)
    tried = state.evaluate([begin + fraction * move[0], 0.0])[0] * move[0]
    if -tried <= 0.1 * first:
        assert gone == pytest.approx(fraction * move[0])
    else:
        assert abs(last) <= 0.1 * first * (1.0 + 1e-9)
        assert gone / move[0] < fraction


def test_a_linear_network_is_solved_in_one_step_and_one_that_shows_it() -> None:
    parts = (Source(1, 0, 12.0, 0.5), Resistance(1, 2, 10.0), Resistance(2, 0, 30.0), Resistance(1, 0, 50.0))
    found = solve(Circuit(3, parts))
    # 10 + 30 beside 50 is 22.2, behind half an ohm
    assert found.across(1, 0) == pytest.approx(12.0 * (2000.0 / 90.0) / (2000.0 / 90.0 + 0.5), rel=1e-12)
    assert found.iterations == 2
    again = Network(Circuit(3, parts)).solve(start=found)
    assert again.iterations <= 2
    assert again.volts == pytest.approx(found.volts, rel=1e-14)


@pytest.mark.parametrize(
    ("load", "most"),
    [(String(2, 0, 150.0, (RED,) * 3), 12), (String(2, 0, 0.0, (BARE,)), 16), (Filament(2, 0, 6.0, 0.1), 12), (Demand(2, 0, 0.05, 3.0), 5)],
)  # fmt: skip
def test_a_lamp_is_solved_in_a_few_steps(load: Element, most: int) -> None:
    found = solve(Circuit(3, (Source(1, 0, 12.0), Resistance(1, 2, 47.0), load)))
    assert found.converged
    assert found.iterations <= most
    assert found.amps[1] == pytest.approx(found.amps[2], rel=1e-12)


def test_a_start_from_the_solution_takes_next_to_nothing() -> None:
    strings = [String(2, 0, 150.0 + k, (RED,) * 3) for k in range(5)]
    network = Network(Circuit(3, (Source(1, 0, 12.0), Resistance(1, 2, 4.7), *strings)))
    found = network.solve()
    again = network.solve(start=found)
    assert again.iterations <= 2 < found.iterations
    assert again.amps == pytest.approx(found.amps, rel=1e-12)


def test_supplies_that_disagree_over_an_ideal_drop() -> None:
    found = solve(Circuit(3, (Source(1, 0, 12.0), Source(2, 0, 5.0), Drop(1, 2))))
    assert not found.converged
    assert found.conflict == (0, 1, 2)
    assert "disagree" in found.reason
    found = solve(Circuit(3, (Source(1, 0, 12.0), Source(2, 0, 5.0), Drop(2, 1), Resistance(1, 0, 6.0))))
    assert found.converged
    assert found.off == (2,)
    assert found.amps == (
        pytest.approx(2.0),
        pytest.approx(0.0, abs=1e-13),
        pytest.approx(0.0, abs=1e-13),
        pytest.approx(2.0),
    )
    # and where a drop lies elsewhere
    found = solve(Circuit(4, (Source(1, 0, 12.0), Source(1, 0, 5.0), Drop(1, 2), Resistance(2, 0, 5.0))))
    assert (found.converged, found.conflict) == (False, (0, 1))


def test_a_load_that_will_not_start_stays_off_where_supplies_disagree_over_an_ideal_drop() -> None:
    # 12 V behind 10 ohm give 3.6 W at most (12 V squared over 4 times 10 ohm)
    parts = (Source(1, 0, 12.0), Source(2, 0, 5.0), Drop(2, 1), Resistance(1, 3, 10.0))
    found = solve(Circuit(4, (*parts, ConstantPower(3, 0, 3.7, 1.0))))
    assert (found.converged, found.will_not_start, found.off) == (True, (4,), (2,))
    assert found.volts == (0.0, 12.0, 5.0, pytest.approx(12.0, rel=1e-12))
    found = solve(Circuit(4, (*parts, ConstantPower(3, 0, 3.2, 1.0))))
    assert (found.converged, found.will_not_start, found.off) == (True, (), (2,))
    assert found.volts[3] == pytest.approx(8.0, rel=1e-9)  # 8 V times 0.4 A, and 4 V over 10 ohm


def test_a_load_with_just_its_least_volts_is_on() -> None:
    found = solve(Circuit(2, (Source(1, 0, 5.0), ConstantPower(1, 0, 1.0, 5.0))))
    assert (found.will_not_start, found.amps[1]) == ((), pytest.approx(0.2, rel=1e-12))
    found = solve(Circuit(2, (Source(1, 0, 5.0), ConstantPower(1, 0, 1.0, 5.001))))
    assert (found.will_not_start, found.amps[1]) == ((1,), 0.0)


def test_a_circuit_of_one_node() -> None:
    found = solve(Circuit(1, (Resistance(0, 0, 5.0), Source(0, 0, 0.0, 1.0))))
    assert found.converged
    assert found.volts == (0.0,)


def test_from_a_start_too_a_load_below_its_least_volts_is_off() -> None:
    """Two loads on one supply of 12 V, the one from 3 V and the other from 10 V on; then the supply falls to 9 V."""
    low, high = ConstantPower(2, 0, 4.0, 3.0), ConstantPower(2, 0, 6.0, 10.0)
    parts = (Source(1, 0, 12.0), Resistance(1, 2, 0.1), low, high)
    network = Network(Circuit(3, parts))
    start = network.solve()
    assert start.will_not_start == ()
    fallen = [Source(1, 0, 9.0), *parts[1:]]
    for begin in (None, start):
        found = network.solve(fallen, start=begin)
        assert found.will_not_start == (3,)
        # 4 W behind 0.1 ohm: V**2 - 9 V + 0.4 = 0
        assert found.across(2, 0) == pytest.approx(4.5 + (20.25 - 0.4) ** 0.5, rel=1e-12)
    for begin in (found, start):
        again = network.solve(start=begin)
        assert again.will_not_start == ()
        assert again.across(2, 0) == pytest.approx(6.0 + 35.0**0.5, rel=1e-12)


def test_a_load_that_sinks_below_its_least_volts_as_it_starts_is_off() -> None:
    """20 W behind 1 ohm of 12 V stand at 6 + sqrt(36 - 20) = 10 V; the one that needs 11 stays off, whatever the other needs."""
    for order in (1, -1):
        loads = [ConstantPower(2, 0, 5.0, 3.0), ConstantPower(2, 0, 15.0, 11.0)][::order]
        found = solve(Circuit(3, (Source(1, 0, 12.0), Resistance(1, 2, 1.0), *loads)))
        assert found.will_not_start == (3 if order == 1 else 2,)
        assert found.across(2, 0) == pytest.approx(6.0 + 31.0**0.5, rel=1e-12)
    both = [ConstantPower(2, 0, 5.0, 3.0), ConstantPower(2, 0, 15.0, 9.9)]
    assert solve(Circuit(3, (Source(1, 0, 12.0), Resistance(1, 2, 1.0), *both))).will_not_start == ()


def test_a_drop_of_next_to_no_resistance_conducts() -> None:
    """Of 10 nano-ohm and 20 mA: a fifth of a nanovolt over its own."""
    found = solve(Circuit(3, (Source(1, 0, 12.3), Drop(1, 2, 0.3, 1e-8), Resistance(2, 0, 600.0))))
    assert found.off == ()
    assert found.amps[1] == pytest.approx(0.02, rel=1e-5)
    found = solve(Circuit(3, (Source(1, 0, -12.0), Drop(1, 2, 0.3, 1e-8), Resistance(2, 0, 600.0))))
    assert found.off == (1,)
    assert abs(found.amps[1]) < 1e-13


@pytest.mark.parametrize("ohms", [2.0, 5.0, 20.0])
def test_a_string_of_which_one_die_warms_itself_is_held_by_the_way_to_it(ohms: float) -> None:
    """Its law bends down, and alone it would run away; by SciPy on the settled forward voltages, going up from cold."""
    hot = replace(diode_through(1.95, 0.005, 2.05, 0.02), heat=4.5)
    cold = replace(hot, heat=0.0)
    string = String(0, 1, 0.0, (hot, cold), 0.2)
    volts = 4.3

    def off(amps: float) -> float:
        return forward_voltage(hot, amps, 0.2) + forward_voltage(cold, amps) + ohms * amps - volts

    at = brentq(lambda i: 2.0 * forward_voltage(cold, i) + ohms * i - volts, 1e-12, 2.0)
    while off(at * 1.005) < 0.0:
        at *= 1.005
    exact = brentq(off, at, at * 1.005, xtol=1e-16)
    found = solve(Circuit(3, (string, Source(0, 2, volts), Resistance(1, 2, ohms))))
    assert found.converged
    assert found.amps[0] == pytest.approx(exact, rel=1e-7)


# conductances between nodes, and to earth: a pivot of nothing, and below
@pytest.mark.parametrize("earth", [-1.0, -2.0])
@pytest.mark.parametrize("neighbours", [0, 1, 2, 3, 4])
def test_a_pivot_of_nothing_or_less_is_not_sound(neighbours: int, earth: float) -> None:
    """A node of so many neighbours of a siemens in all, with so much to earth less; the neighbours have plenty."""
    size = neighbours + 1
    edges = [(0, k) for k in range(1, size)] + [(a, b) for a in range(1, size) for b in range(1, a)]
    weights = [1.0 / max(neighbours, 1)] * neighbours + [1e-3] * (len(edges) - neighbours)
    grounds = [earth if neighbours else earth + 1.0] + [5.0] * neighbours
    for turned in (False, True):  # whichever of them is eliminated first
        number = list(range(size))[:: -1 if turned else 1]
        pattern = Pattern(size, [(number[a], number[b]) for a, b in edges])
        factors = pattern.factor(weights, [grounds[k] for k in number])
        matrix = np.diag(np.array(grounds))
        for (a, b), g in zip(edges, weights, strict=True):
            matrix[[a, b], [a, b]] += g
            matrix[[a, b], [b, a]] -= g
        assert not np.linalg.eigvalsh(matrix).min() > 1e-12
        assert not factors.sound
