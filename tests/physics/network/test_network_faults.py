"""Loops of ideal sources, floating parts, wrong input: what has no answer is said, never guessed."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from postcheck.physics.network import (
    Circuit,
    ConstantPower,
    Demand,
    Diode,
    Drop,
    Element,
    Filament,
    Network,
    Port,
    Resistance,
    Source,
    SteadyCurrent,
    String,
    converters,
    diode_through,
    fit_diode,
    ports,
    respond,
    short_current,
    solve,
)
from postcheck.physics.network import network as network_module
from postcheck.physics.network.newton import newton
from postcheck.physics.network.sparse import Pattern

RED = fit_diode(2.0, 5e-3, 2.1, 20e-3)


def test_two_ideal_supplies_that_disagree() -> None:
    found = solve(Circuit(3, (Source(1, 0, 12.0), Source(2, 0, 5.0), Drop(1, 2), Source(1, 2, 0.0))))
    assert not found.converged
    assert found.conflict == (0, 1, 3)
    assert "disagree" in found.reason
    assert found.volts == (None, None, None)
    assert found.amps == ()
    with pytest.raises(ValueError, match="no solution"):
        ports(found)


def test_two_equal_ideal_supplies_in_parallel_share_what_nothing_decides() -> None:
    found = solve(Circuit(2, (Source(1, 0, 12.0), Source(1, 0, 12.0), Resistance(1, 0, 10.0))))
    assert not found.converged
    assert found.conflict == (0, 1)
    assert "nothing decides" in found.reason


def test_two_equal_ideal_supplies_joined_one_way_share_what_nothing_decides() -> None:
    found = solve(Circuit(3, (Source(1, 0, 12.0), Source(2, 0, 12.0), Drop(1, 2), Resistance(2, 0, 10.0))))
    assert not found.converged
    assert found.conflict == (0, 1, 2)
    assert "nothing decides" in found.reason


def test_a_source_shorted_by_a_tie_and_one_on_a_single_node() -> None:
    assert solve(Circuit(2, (Source(1, 0, 12.0), Source(1, 0, 0.0)))).conflict == (0, 1)
    assert solve(Circuit(2, (Source(1, 1, 12.0), Resistance(0, 1, 1.0)))).conflict == (0,)


def test_zero_volt_ties_in_a_loop_keep_the_voltages_and_say_that_the_split_is_open() -> None:
    ties = (Source(1, 2, 0.0), Source(2, 3, 0.0), Source(1, 3, 0.0))
    found = solve(Circuit(4, (Source(1, 0, 12.0), *ties, Resistance(3, 0, 12.0))))
    assert found.converged
    assert found.undetermined == (1, 2, 3)
    assert found.volts[3] == 12.0
    # as equal resistances would: 1 A over one against two in series (delivered out of plus: negative here)
    assert [-a for a in found.amps[1:4]] == pytest.approx([1 / 3, 1 / 3, 2 / 3], rel=1e-12)
    assert found.amps[0] == pytest.approx(1.0, rel=1e-12)


def test_outputs_in_parallel_share_alike() -> None:
    parts = (Source(1, 0, 12.0), *(Drop(1, 2, 0.2) for _ in range(4)), Resistance(2, 0, 11.8))
    found = solve(Circuit(3, parts))
    assert found.converged
    assert found.amps[1:5] == pytest.approx([0.25] * 4, rel=1e-12)
    assert found.undetermined == (1, 2, 3, 4)


def test_outputs_of_different_drop_in_parallel_the_lesser_takes_all() -> None:
    found = solve(Circuit(3, (Source(1, 0, 12.0), Drop(1, 2, 0.7), Drop(1, 2, 0.2), Resistance(2, 0, 11.8))))
    assert found.amps[1:3] == pytest.approx([0.0, 1.0], abs=1e-12)
    assert found.off == (1,)
    assert not found.undetermined


@pytest.mark.parametrize("many", [1, 2])
def test_what_flows_through_one_pair_keeps_no_other_pair_from_being_closed_to_what_flows_back(
    many: int,
) -> None:
    """12 V behind 1 kohm against two drops from 5 V: they let nothing back, so node 4 has all of 12 V but what 100 kohm take."""
    parts = [Source(1, 0, 12.0), *[Drop(1, 2, 0.5)] * many, Resistance(2, 0, 10.0)]
    parts += [Source(3, 0, 5.0), *[Drop(3, 4, 0.5)] * many, Resistance(1, 4, 1e3), Resistance(4, 0, 1e5)]
    found = solve(Circuit(5, tuple(parts)))
    assert found.converged
    assert found.volts[4] == pytest.approx(12.0 * 100 / 101, rel=1e-9)
    assert found.amps[1 : 1 + many] == pytest.approx([1.15 / many] * many)


def test_many_outputs_of_many_supplies_settle_whichever_way() -> None:
    volts = [5.0 + 0.37 * ((k * 7) % 11) for k in range(24)]
    parts: list[object] = [Source(k + 2, 0, v) for k, v in enumerate(volts)]
    parts += [Drop(k + 2, 1, 0.1 * (k % 3)) for k in range(24)]
    parts.append(Resistance(1, 0, 50.0))
    found = solve(Circuit(26, tuple(parts)))  # type: ignore[arg-type]
    highest = max(v - 0.1 * (k % 3) for k, v in enumerate(volts))
    assert found.converged
    assert found.volts[1] == pytest.approx(highest, rel=1e-12)


def test_floating_parts_carry_nothing_and_are_named() -> None:
    found = solve(
        Circuit(
            6, (Source(1, 0, 5.0), Resistance(1, 0, 10.0), Resistance(2, 3, 1.0), String(3, 4, 10.0, (RED,)))
        )
    )
    assert found.converged
    assert found.floating == (2, 3, 4, 5)
    assert found.amps[2:] == (0.0, 0.0)
    with pytest.raises(ValueError, match="floats"):
        found.across(1, 3)
    assert found.across(1, 0) == 5.0
    assert [p.open_volts for p in found.ports()] == [0.0]


def test_two_islands_each_measured_from_its_own_first_minus() -> None:
    found = solve(
        Circuit(4, (Source(1, 0, 5.0), Source(3, 2, 9.0), Resistance(1, 0, 5.0), Resistance(3, 2, 9.0)))
    )
    assert found.volts == (0.0, 5.0, 0.0, 9.0)
    assert found.amps == pytest.approx((1.0, 1.0, 1.0, 1.0), rel=1e-14)


def test_nothing_to_solve() -> None:
    assert solve(Circuit(0, ())).converged
    assert solve(Circuit(2, (Resistance(0, 1, 1.0),))).floating == (0, 1)


def test_a_broken_pole_leaves_the_lamps_dark() -> None:
    lamps = [String(2, 3, 100.0, (RED, RED)) for _ in range(50)]
    found = solve(Circuit(4, (Source(1, 0, 12.0), Resistance(1, 2, 0.01), *lamps)))
    assert found.converged
    assert max(map(abs, found.amps)) < 1e-12


def test_constant_currents_in_series_the_smaller_rules() -> None:
    parts = (Source(1, 0, 5.0), SteadyCurrent(1, 2, 0.02, 0.5), SteadyCurrent(2, 0, 0.015, 0.5))
    found = solve(Circuit(3, parts))
    assert found.amps[1:] == pytest.approx((0.015, 0.015), rel=1e-9)
    assert found.volts[2] == pytest.approx(5.0 - 0.375, rel=1e-9)


def test_extreme_values_do_not_overflow() -> None:
    wild = Diode(1e-30, 0.03)
    for volts in (1e-6, 1.0, 60.0, 1e4, -1e4):
        found = solve(
            Circuit(3, (Source(1, 0, volts), Resistance(1, 2, 1e-6), String(2, 0, 0.0, (wild, RED))))
        )
        assert found.converged, (volts, found.reason)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Resistance(0, 1, 0.0),
        lambda: Resistance(0, 1, float("nan")),
        lambda: Drop(0, 1, -1.0),
        lambda: Source(0, 1, float("inf")),
        lambda: String(0, 1, 1.0, ()),
        lambda: Diode(0.0, 0.05),
    ],
)
def test_values_that_mean_nothing_are_refused(make: object) -> None:
    with pytest.raises(ValueError, match=r"."):
        make()  # type: ignore[operator]


def test_a_node_outside_and_a_wrong_number_of_elements_are_refused() -> None:
    with pytest.raises(ValueError, match="outside"):
        Network(Circuit(2, (Resistance(0, 2, 1.0),)))
    with pytest.raises(ValueError, match="as many"):
        Network(Circuit(2, (Resistance(0, 1, 1.0),))).solve(())


LAMPS = Circuit(
    3,
    (
        Source(1, 0, 12.0),
        Resistance(1, 2, 1.0),
        String(2, 0, 470.0, (RED, RED)),
        ConstantPower(2, 0, 1.0, 1.0),
    ),
)


def _never(_state: object) -> bool:
    return False


@pytest.mark.parametrize("warm", [False, True])
def test_what_does_not_come_to_a_solution_has_no_figures(monkeypatch: pytest.MonkeyPatch, warm: bool) -> None:
    """Where Newton's method finds nothing, from a start or without, that is said and no number is left over."""
    start = solve(LAMPS) if warm else None
    monkeypatch.setattr(converters, "newton", _never)
    found = Network(LAMPS).solve(start=start)
    assert not found.converged
    assert "no solution" in found.reason
    assert (found.volts, found.amps) == ((None, None, None), ())
    with pytest.raises(ValueError, match="no solution"):
        ports(found)


def test_a_start_that_leads_nowhere_is_dropped(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two tries from it fail; from cold it is found, as without a start."""
    network = Network(LAMPS)
    start, tries = network.solve(), list[converters.State]()

    def at_first(state: converters.State) -> bool:
        tries.append(state)
        return len(tries) > 2 and newton(state)

    monkeypatch.setattr(converters, "newton", at_first)
    found = network.solve(start=start)
    assert len(tries) > 2
    assert found.converged
    assert found.amps == pytest.approx(start.amps, rel=1e-12)


def test_heat_that_comes_to_no_rest_has_no_figures(monkeypatch: pytest.MonkeyPatch) -> None:
    hot = replace(diode_through(1.95, 0.005, 2.05, 0.02), heat=5.0)
    circuit = Circuit(2, (Source(1, 0, 4.3), String(1, 0, 1.0, (hot,), 0.5)))
    assert solve(circuit).converged
    monkeypatch.setattr(network_module, "_TURNS", 1)
    found = solve(circuit)
    assert not found.converged
    assert "no rest" in found.reason
    assert (found.volts, found.amps) == ((None, None), ())


# maximum power transfer: 12 V behind 1 ohm give 144 / 4 = 36 W at 6 V, and nothing more
@pytest.mark.parametrize(("watts", "starts"), [(35.9, True), (36.1, False)])
def test_no_more_power_than_the_feed_can_give(watts: float, starts: bool) -> None:
    found = solve(Circuit(3, (Source(1, 0, 12.0), Resistance(1, 2, 1.0), ConstantPower(2, 0, watts, 1.0))))
    assert found.converged
    assert found.will_not_start == (() if starts else (2,))
    volts = found.across(2, 0)
    assert volts == pytest.approx(6.0 + (36.0 - watts) ** 0.5 if starts else 12.0, rel=1e-6)


# both at once need more than there is: the one whose volts have sunk furthest, behind the longer wire, is the one left off
def test_of_two_loads_the_one_that_sank_furthest_stays_off() -> None:
    near, far = ConstantPower(2, 0, 10.0, 1.0), ConstantPower(3, 0, 10.0, 1.0)
    parts = (Source(1, 0, 12.0), Resistance(1, 2, 1.0), Resistance(2, 3, 2.0), near, far)
    found = solve(Circuit(4, parts))
    assert found.converged
    assert found.will_not_start == (4,)
    # alone on 1 ohm: V**2 - 12 V + 10 = 0
    assert found.across(2, 0) == pytest.approx(6.0 + 26.0**0.5, rel=1e-9)


# by NumPy: solved where the determinant is above zero, and past the nose (below) there is no answer
@pytest.mark.parametrize("seed", range(20))
def test_a_coupling_past_its_nose_has_no_answer(seed: int) -> None:
    chance = np.random.default_rng(seed)
    size = 1 + seed % 4
    matrix, right = chance.normal(size=(size, size)), chance.normal(size=size)
    found = converters.solve_dense(matrix.tolist(), right.tolist())
    if np.linalg.det(matrix) > 0.0:
        assert found == pytest.approx(np.linalg.solve(matrix, right).tolist(), rel=1e-8)
    else:
        assert found is None


def test_a_coupling_that_decides_nothing_has_no_answer() -> None:
    assert converters.solve_dense([[0.0]], [1.0]) is None
    assert converters.solve_dense([[1.0, 2.0], [2.0, 4.0]], [1.0, 2.0]) is None


# by NumPy: positive definite or not, with conductances to earth below zero (constant power), for every number of neighbours
@pytest.mark.parametrize("seed", range(40))
def test_pivots_tell_what_is_positive_definite(seed: int) -> None:
    chance = np.random.default_rng(seed)
    size = 1 + seed % 6
    edges = [(i, j) for i in range(size) for j in range(i) if chance.random() < 0.7]
    weights, earth = chance.uniform(0.5, 2.0, len(edges)), chance.uniform(-1.0, 1.5, size)
    matrix = np.diag(earth)
    for (i, j), weight in zip(edges, weights, strict=True):
        matrix[[i, j], [i, j]] += weight
        matrix[[i, j], [j, i]] -= weight
    factors = Pattern(size, edges).factor(weights.tolist(), earth.tolist())
    assert factors.sound == bool(np.linalg.eigvalsh(matrix).min() > 0.0)
    if factors.sound:
        right = chance.normal(size=size)
        assert factors.solve(right.tolist()) == pytest.approx(
            np.linalg.solve(matrix, right).tolist(), rel=1e-8
        )


PLACES = [
    Resistance(3, 2, 100.0), Drop(3, 2, 0.7), Drop(3, 2, 0.7, 12.0), Drop(3, 2, 9.0), Drop(3, 2, 0.0), SteadyCurrent(3, 2, 0.015, 1.0),
    SteadyCurrent(3, 2, 5.0, 1.0), Demand(3, 2, 0.015, 1.0), Filament(3, 2, 6.0, 0.06), String(3, 2, 47.0, (Diode(1e-12, 0.05, 5.0),)),
]  # fmt: skip


@pytest.mark.parametrize("element", PLACES, ids=repr)
def test_what_takes_a_resistors_place_takes_what_it_takes_in_the_whole_network(element: Element) -> None:
    """Thevenin's theorem: 12 V behind 300 ohm, half of it taken by 300 ohm across, and 50 ohm on the way back."""
    around = (Source(1, 0, 12.0), Resistance(1, 3, 300.0), Resistance(3, 0, 300.0), Resistance(2, 0, 50.0))
    (port,) = ports(solve(Circuit(4, (*around, Resistance(3, 2, 1000.0)))), [4])
    assert (port.open_volts, port.ohms) == pytest.approx((6.0, 200.0))
    assert (port.volts, port.amps) == pytest.approx((5.0, 0.005))
    whole = solve(Circuit(4, (*around, element)))
    amps, volts = respond(port, element)  # type: ignore[arg-type]
    assert amps == pytest.approx(whole.amps[4], rel=1e-7, abs=1e-12)
    assert volts == pytest.approx(whole.across(3, 2), rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("volts", [6.0, -6.0])
def test_a_short_takes_what_the_rest_lets_through(volts: float) -> None:
    assert short_current(Port(0, volts, 200.0, 0.0, 0.0)) == volts / 200.0
    assert short_current(Port(0, volts, 0.0, 0.0, 0.0)) == volts * inf
    assert short_current(Port(0, 0.0, 0.0, 0.0, 0.0)) == 0.0


def test_what_floats_sees_nothing() -> None:
    floating = solve(Circuit(4, (Source(1, 0, 12.0), Resistance(1, 0, 10.0), Resistance(2, 3, 10.0))))
    assert floating.ports([2]) == [Port(2, 0.0, 1e15, 0.0, 0.0)]


def test_an_open_drop_conducts_again_where_it_should() -> None:
    """5 V behind a drop of 0.5 V beside 12 V: open. With 3 V in the place of 12 V it carries all, 4.5 V over 100 ohm."""

    def circuit(volts: float) -> tuple[Element, ...]:
        return (
            Source(1, 0, volts),
            Drop(1, 3, 0.5),
            Source(2, 0, 5.0),
            Drop(2, 3, 0.5),
            Resistance(3, 0, 100.0),
        )

    network = Network(Circuit(4, circuit(12.0)))
    high = network.solve()
    assert (high.off, high.volts[3]) == ((3,), 11.5)
    low = network.solve(circuit(3.0), high)
    assert low.converged
    assert (low.off, low.volts[3]) == ((1,), 4.5)
    assert low.amps[3] == pytest.approx(0.045)
    assert network.solve(circuit(12.0), low).off == (3,)
