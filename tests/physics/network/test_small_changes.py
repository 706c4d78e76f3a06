"""What a small change does to a whole network, against solving it again a little beside: central differences."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf

import numpy as np
import pytest

from postcheck.physics.network import (
    Circuit,
    ConstantPower,
    Converter,
    Demand,
    Drop,
    Element,
    Filament,
    Port,
    Resistance,
    Solution,
    Source,
    SteadyCurrent,
    String,
    fit_diode,
    influence,
    ports,
    respond,
    short_current,
    solve,
)
from postcheck.physics.network.converters import Coupling, emf_response

RED = fit_diode(2.0, 5e-3, 2.1, 20e-3)
WHITE = fit_diode(2.85, 5e-3, 3.2, 20e-3)

# Sources on each other, one of them the other way round and one behind a resistance, joined by all kinds of branches.
STACK: tuple[Element, ...] = (
    Source(1, 0, 5.0),
    Source(2, 1, 3.0),
    Source(1, 3, 2.5),
    Source(4, 2, 1.5, 0.7),
    Source(5, 2, 1.0),
    Resistance(1, 2, 40.0),
    Resistance(5, 3, 90.0),
    Resistance(3, 6, 15.0),
    Resistance(4, 6, 22.0),
    Resistance(6, 0, 33.0),
    String(5, 6, 47.0, (RED,)),
    String(2, 3, 100.0, (WHITE, RED)),
    Filament(4, 0, 6.0, 0.05),
    Drop(6, 7, 0.3),
    Resistance(7, 0, 120.0),
    Source(8, 6, 2.0, 3.0),
    Resistance(8, 0, 60.0),
)

# A supply behind a wire, two converters with lamps, one on the other's output, a load of constant power beside them.
CHAIN: tuple[Element, ...] = (
    Source(1, 0, 12.0, 0.5),
    Resistance(1, 2, 1.3),
    Converter(2, 0, 3, 0, 9.0, 0.8, 3.0, 0.05),
    Resistance(3, 4, 2.0),
    Converter(4, 0, 5, 0, 5.0, 0.9, 2.0, 0.02, 0.4),
    String(5, 0, 56.0, (WHITE,)),
    Resistance(5, 0, 30.0),
    ConstantPower(2, 0, 1.5, 3.0),
    String(3, 0, 150.0, (WHITE, RED)),
    Resistance(2, 0, 200.0),
    Converter(2, 0, 6, 0, 3.3, 0.7, 2.0, 0.01),
    Resistance(6, 0, 25.0),
)

# The same with a return of some resistance, a source on top of an output, and an output that shares no line with its input.
SHARED: tuple[Element, ...] = (
    Source(1, 0, 12.0, 0.5),
    Resistance(1, 2, 1.3),
    Resistance(3, 0, 0.8),
    Converter(2, 3, 4, 3, 5.0, 0.8, 2.0, 0.05, 0.4),
    Source(5, 4, 1.5),
    String(5, 3, 47.0, (WHITE, RED)),
    Converter(5, 3, 6, 7, 3.3, 0.9, 1.0, 0.01, 0.2),
    Resistance(6, 7, 40.0),
    Resistance(7, 0, 25.0),
    Resistance(6, 2, 90.0),
    Resistance(4, 3, 60.0),
    Converter(2, 3, 8, 3, 4.0, 0.75, 2.0),
    Resistance(8, 3, 30.0),
)


def volts(elements: Sequence[Element], nodes: int) -> np.ndarray:
    found = solve(Circuit(nodes, tuple(elements)))
    assert found.converged
    assert not found.will_not_start
    return np.array([np.nan if v is None else v for v in found.volts])


def injected(elements: Sequence[Element], nodes: int, a: int, b: int) -> np.ndarray:
    """Change of all volts for an ampere into a and out of b: a microampere from a million volts behind 1e12 ohm, both ways."""
    both = [
        volts([*elements, Source(nodes, b, sign * 1e6), Resistance(nodes, a, 1e10)], nodes + 1)[:nodes]
        for sign in (1.0, -1.0)
    ]
    return (both[0] - both[1]) / 2e-4


@pytest.mark.parametrize("k", [k for k, e in enumerate(STACK) if isinstance(e, Source)])
def test_what_each_source_does_to_every_node(k: int) -> None:
    solution = solve(Circuit(9, STACK))
    assert solution.state is not None
    told = emf_response(solution.state, solution.state.factor(), k)
    step = 1e-4
    both = []
    for sign in (1.0, -1.0):
        source = STACK[k]
        assert isinstance(source, Source)
        moved = replace(source, volts=source.volts + sign * step)
        both.append(volts([*STACK[:k], moved, *STACK[k + 1 :]], 9))
    assert told == pytest.approx(((both[0] - both[1]) / (2.0 * step)).tolist(), rel=1e-6, abs=1e-7)
    # by reciprocity the change of its current for a current injected, turned round
    for node in (2, 3, 5, 6, 7):
        more = [
            solve(Circuit(10, (*STACK, Source(9, 0, sign * 1e6), Resistance(9, node, 1e10)))).amps[k]
            for sign in (1.0, -1.0)
        ]
        assert told[node] == pytest.approx((more[1] - more[0]) / 2e-4, rel=1e-5, abs=1e-6)


@pytest.mark.parametrize(("elements", "nodes"), [(CHAIN, 7), (SHARED, 9)])
def test_each_converter_takes_what_it_gives_over_its_efficiency_and_its_idle_power(
    elements: tuple[Element, ...], nodes: int
) -> None:
    solution = solve(Circuit(nodes, elements))
    converters = [(k, e) for k, e in enumerate(elements) if isinstance(e, Converter)]
    assert len(converters) == 3
    for k, one in converters:
        gives = solution.amps[k] * solution.across(one.out_plus, one.out_minus)
        takes = solution.input_amps[k] * solution.across(one.in_plus, one.in_minus)
        assert gives > 0.01
        assert takes == pytest.approx(gives / one.efficiency + one.idle_watts, rel=1e-11)


@pytest.mark.parametrize("k", [3, 6, 11])
def test_what_the_volts_of_an_output_do_while_powers_are_held(k: int) -> None:
    """Every converter as a source and a load of the power that it takes now."""
    solution = solve(Circuit(9, SHARED))
    state = solution.state
    assert state is not None
    held: list[Element] = []
    for j, e in enumerate(SHARED):
        if isinstance(e, Converter):
            watts = solution.input_amps[j] * solution.across(e.in_plus, e.in_minus)
            held.append(ConstantPower(e.in_plus, e.in_minus, watts, e.least_volts))
    both = []
    for sign in (1.0, -1.0):
        sources = [
            Source(e.out_plus, e.out_minus, e.volts + (sign * 1e-4 if j == k else 0.0), e.ohms)
            if isinstance(e, Converter)
            else e
            for j, e in enumerate(SHARED)
        ]
        both.append(volts([*sources, *held], 9))
    told = emf_response(state, state.factor(), k)
    assert told == pytest.approx(((both[0] - both[1]) / 2e-4).tolist(), rel=1e-6, abs=1e-8)


def test_what_floats_does_not_answer() -> None:
    solution = solve(
        Circuit(5, (Source(1, 0, 5.0), Resistance(1, 2, 10.0), Resistance(2, 0, 30.0), Resistance(3, 4, 1.0)))
    )
    assert solution.state is not None
    assert emf_response(solution.state, solution.state.factor(), 0) == pytest.approx(
        [0.0, 1.0, 0.75, 0.0, 0.0]
    )


def test_what_has_no_volts_of_its_own_has_no_response() -> None:
    solution = solve(Circuit(9, STACK))
    assert solution.state is not None
    with pytest.raises(TypeError, match="element 5 has no EMF"):
        emf_response(solution.state, solution.state.factor(), 5)


@pytest.mark.parametrize(
    ("elements", "nodes"), [(STACK, 9), (CHAIN, 7), (SHARED, 9), ((*CHAIN[:2], CHAIN[7], CHAIN[9]), 3)]
)
def test_what_a_current_does_to_every_node(elements: tuple[Element, ...], nodes: int) -> None:
    solution = solve(Circuit(nodes, elements))
    for a in range(1, nodes):
        for b in (0, 2):
            if a != b:
                told = influence(solution, {a: 1.0, b: -1.0})
                assert told == pytest.approx(injected(elements, nodes, a, b).tolist(), rel=1e-5, abs=1e-6)


def test_twice_the_current_does_twice_as_much() -> None:
    for elements, nodes in ((CHAIN, 7), (SHARED, 9)):
        solution = solve(Circuit(nodes, elements))
        once, twice = influence(solution, {4: 1.0, 2: -0.5}), influence(solution, {4: 2.0, 2: -1.0})
        assert twice == pytest.approx([2.0 * (v or 0.0) for v in once], rel=1e-12)
        apart = influence(solution, {4: 1.0}), influence(solution, {2: -0.5})
        assert once == pytest.approx(
            [(a or 0.0) + (b or 0.0) for a, b in zip(*apart, strict=True)], rel=1e-9, abs=1e-12
        )


def rest_of(elements: tuple[Element, ...], k: int) -> tuple[Element, ...]:
    return (*elements[:k], *elements[k + 1 :])


@pytest.mark.parametrize(
    ("elements", "nodes", "k"),
    [(STACK, 9, k) for k in (5, 6, 7, 8, 9, 10, 11, 12, 14)]
    + [(CHAIN, 7, k) for k in (5, 6, 8, 9, 11)]
    + [(SHARED, 9, k) for k in (5, 7, 8, 9, 10, 12)],
)
def test_behind_what_resistance_each_element_sees_the_rest(
    elements: tuple[Element, ...], nodes: int, k: int
) -> None:
    """In its place a steady current, a little more and a little less: how far the volts between its ends give way."""
    solution = solve(Circuit(nodes, elements))
    [port] = ports(solution, [k])
    element = elements[k]
    a, b = element.a, element.b  # type: ignore[union-attr]
    assert (port.element, port.volts, port.amps) == (
        k,
        pytest.approx(solution.across(a, b)),
        pytest.approx(solution.amps[k]),
    )
    step = 1e-4 * abs(port.amps)
    # held by a source of so many volts behind so much that it is a current
    both = []
    for amps in (port.amps + step, port.amps - step):
        feed = Source(nodes, b, -amps * 1e9), Resistance(nodes, a, 1e9)
        found = solve(Circuit(nodes + 1, (*rest_of(elements, k), *feed)))
        both.append(found.across(a, b))
    ohms = (both[1] - both[0]) / (2.0 * step)
    assert port.ohms == pytest.approx(ohms, rel=1e-4, abs=1e-6)
    assert port.open_volts == pytest.approx(port.volts + port.ohms * port.amps, rel=1e-9)


def test_how_converters_ask_for_more() -> None:
    """The matrix of CHAIN: what each asks for as another takes a milliwatt more, its taking held (a load of that power beside it)."""
    solution = solve(Circuit(7, CHAIN))
    state = solution.state
    assert state is not None
    coupling = Coupling(state, state.factor())
    assert [element for _, element in coupling.outputs] == [CHAIN[2], CHAIN[4], CHAIN[10]]
    for k in range(3):
        assert coupling.matrix[k][k] == pytest.approx(1.0)  # none of them is fed by itself
        for j, (_, one) in enumerate(coupling.outputs):
            if j == k:
                continue
            asked = []
            for watts in (1e-3, -1e-3):
                # the volts that the pull of so many watts leaves at the output of the one
                pull = coupling.pulls()[k]
                unit = state.structure.unit
                drop = watts * (pull[unit[one.out_plus]] - pull[unit[one.out_minus]])
                out = solution.across(one.out_plus, one.out_minus) + drop
                if one.ohms:
                    asked.append(out * (one.volts - out) / one.ohms / one.efficiency)
            if asked:
                assert coupling.matrix[j][k] == pytest.approx(
                    -(asked[0] - asked[1]) / 2e-3, rel=1e-6, abs=1e-9
                )
    # what one on the output of another takes, that other has to give, over its efficiency and the loss on the way
    amps_per_watt = 1.0 / solution.across(4, 0) / (1.0 - 2.0 * solution.input_amps[4] / solution.across(4, 0))
    assert -coupling.matrix[0][1] == pytest.approx(9.0 / 0.8 * amps_per_watt, rel=1e-6)
    assert (
        coupling.matrix[1][0]
        == coupling.matrix[0][2]
        == coupling.matrix[2][0]
        == pytest.approx(0.0, abs=1e-9)
    )


def test_an_idle_output_asks_for_nothing_more() -> None:
    """Fed from outside with more than its own volts it takes what it takes when idle."""
    fed = (
        Source(1, 0, 12.0, 0.5),
        Converter(1, 0, 2, 0, 5.0, 0.8, 3.0, 0.1, 0.5),
        Source(3, 0, 9.0, 1.0),
        Resistance(3, 2, 10.0),
        Resistance(2, 0, 100.0),
    )
    solution = solve(Circuit(4, fed))
    assert solution.amps[1] < 0.0
    assert solution.input_amps[1] * solution.across(1, 0) == pytest.approx(0.1, rel=1e-9)
    assert solution.state is not None
    assert Coupling(solution.state, solution.state.factor()).gains == [0.0]
    told = influence(solution, {2: 1.0, 0: -1.0})
    assert told == pytest.approx(injected(fed, 4, 2, 0).tolist(), rel=1e-5, abs=1e-8)


def test_by_hand_one_converter_seen_from_its_supply_and_from_its_output() -> None:
    """12 V behind 1 ohm, 5 V at 80 % into 5 ohm: 6.25 W taken, V**2 - 12 V + 6.25 = 0."""
    elements = (
        Source(1, 0, 12.0),
        Resistance(1, 2, 1.0),
        Converter(2, 0, 3, 0, 5.0, 0.8, 3.0),
        Resistance(3, 0, 5.0),
    )
    solution = solve(Circuit(4, elements))
    at = 6.0 + (36.0 - 6.25) ** 0.5
    assert solution.across(2, 0) == pytest.approx(at, rel=1e-12)
    assert solution.input_amps[2] == pytest.approx(6.25 / at, rel=1e-12)
    assert (solution.amps[2], solution.input_amps[3]) == (pytest.approx(1.0, rel=1e-12), 0.0)
    # -W/V**2 beside 1 S of the wire
    told = influence(solution, {2: 1.0, 0: -1.0})
    assert told == pytest.approx((0.0, 0.0, 1.0 / (1.0 - 6.25 / at**2), 0.0), rel=1e-9)
    # an ampere into the output takes 5 / 0.8 W off the input
    told = influence(solution, {3: 1.0, 0: -1.0})
    assert told == pytest.approx((0.0, 0.0, 6.25 / at / (1.0 - 6.25 / at**2), 0.0), rel=1e-9)
    [port] = ports(solution, [3])
    assert port == Port(
        3, pytest.approx(5.0), pytest.approx(0.0, abs=1e-12), pytest.approx(5.0), pytest.approx(1.0)
    )


def test_a_short_takes_the_open_volts_over_the_resistance() -> None:
    assert short_current(Port(0, 12.0, 0.5, 0.0, 0.0)) == 24.0
    assert short_current(Port(0, -12.0, 0.5, 0.0, 0.0)) == -24.0
    assert [short_current(Port(0, v, 0.0, 0.0, 0.0)) for v in (12.0, -12.0, 0.0)] == [inf, -inf, 0.0]
    assert short_current(Port(0, 0.3, 0.0, 0.0, 0.0)) == inf


@pytest.mark.parametrize("ohms", [0.0, 0.7, 15.0])
@pytest.mark.parametrize("volts_open", [9.0, 2.5, 0.4, 0.0, -4.0])
@pytest.mark.parametrize(
    "element",
    [Resistance(0, 1, 33.0), String(0, 1, 20.0, (RED,)), String(0, 1, 0.0, (WHITE, RED)), Filament(0, 1, 6.0, 0.1), Filament(0, 1, 6.0, 0.1, 0.6, 2.0),
     SteadyCurrent(0, 1, 0.05, 3.0), Demand(0, 1, 0.08, 2.0), Drop(0, 1, 0.6, 0.3), Drop(0, 1, 0.6), None],
)  # fmt: skip
def test_what_stands_in_its_place_takes_what_it_takes_behind_that_resistance(
    element: Element | None, volts_open: float, ohms: float
) -> None:
    """The same as a supply with that resistance, solved as a circuit."""
    if ohms == 0.0 and isinstance(element, Drop) and not element.ohms:
        assert respond(Port(0, volts_open, 0.0, 1.0, 0.0), element) == (
            0.0,
            volts_open,
        )  # no current is decided
        return
    for begin in (0.0, 1.9, 50.0, -50.0):
        amps, at = respond(Port(0, volts_open, ohms, begin, 0.0), element)  # type: ignore[arg-type]
        if element is None:
            assert (amps, at) == (0.0, volts_open)
            continue
        found = solve(Circuit(2, (Source(0, 1, volts_open, ohms), element)))
        assert amps == pytest.approx(found.amps[1], rel=1e-8, abs=1e-13)
        assert at == pytest.approx(found.across(0, 1), rel=1e-8, abs=1e-9)


@pytest.mark.parametrize(
    ("element", "amps"),
    [
        # 5 V + 10 ohm I on what takes more volts the more flows: 5 = (33 - 10) I
        (Resistance(0, 1, 33.0), 5.0 / 23.0),
        (Drop(0, 1, 0.6, 33.0), 4.4 / 23.0),
        (SteadyCurrent(0, 1, 0.05, 3.0), 0.05),
        (Demand(0, 1, 0.08, 2.0), 0.08),
    ],
)
def test_a_port_below_zero_ohms_lifts_what_it_feeds(element: Element, amps: float) -> None:
    told, at = respond(Port(0, 5.0, -10.0, 5.0, 0.0), element)  # type: ignore[arg-type]
    assert told == pytest.approx(amps, rel=1e-9)
    assert at == pytest.approx(5.0 + 10.0 * amps, rel=1e-9)


@pytest.mark.parametrize("element", [String(0, 1, 47.0, (RED,)), Filament(0, 1, 6.0, 0.05, 0.55, 60.0)])
def test_a_lamp_on_a_port_below_zero_ohms(element: Element) -> None:
    """5 V and 10 ohm the wrong way round, of which its own resistance takes up the most: as one of 10 ohm less on 5 V."""
    told, at = respond(Port(0, 5.0, -10.0, 5.0, 0.0), element)  # type: ignore[arg-type]
    less = replace(element, ohms=element.ohms - 10.0)  # type: ignore[call-arg, type-var, union-attr]
    exact = solve(Circuit(2, (Source(0, 1, 5.0), less))).amps[1]
    assert told == pytest.approx(exact, rel=1e-8)
    assert at == pytest.approx(5.0 + 10.0 * exact, rel=1e-9)


def test_what_has_no_port_and_what_there_is_not_is_refused() -> None:
    solution = solve(Circuit(7, CHAIN))
    for k in (2, 7):
        with pytest.raises(ValueError, match=f"element {k} has no port"):
            ports(solution, [k])
    with pytest.raises(ValueError, match="element 0 has no port"):
        ports(solve(Circuit(9, STACK)), [0])
    assert ports(solution, [0])[0].ohms < 0.0  # a source behind a resistance has one: it sees constant powers
    for k in (-1, 12):
        with pytest.raises(ValueError, match=f"no element {k}: they go from 0 to 11"):
            ports(solution, [k])
    assert [port.element for port in ports(solution)] == [5, 8]
    for node in (-1, 7):
        with pytest.raises(ValueError, match=f"no node {node}: they go from 0 to 6"):
            influence(solution, {node: 1.0})
    assert len(influence(solution, {6: 1.0})) == 7


def test_what_floats_has_no_volts_and_no_influence() -> None:
    parts = (Source(1, 0, 5.0), Resistance(1, 0, 10.0), Resistance(2, 3, 5.0), String(3, 2, 1.0, (RED,)))
    solution: Solution = solve(Circuit(4, parts))
    assert solution.floating == (2, 3)
    assert ports(solution) == [Port(3, 0.0, 1e15, 0.0, 0.0)]
    assert ports(solution, [2]) == [Port(2, 0.0, 1e15, 0.0, 0.0)]
    assert influence(solution, {1: 1.0}) == (pytest.approx(0.0), pytest.approx(0.0), None, None)
    with pytest.raises(ValueError, match="node 3 floats"):
        influence(solution, {3: 1.0})


def test_a_steady_current_is_a_port_of_a_great_many_ohms() -> None:
    elements = (Source(1, 0, 12.0), SteadyCurrent(1, 2, 0.02, 1.0), String(2, 0, 10.0, (WHITE,)))
    [port] = ports(solve(Circuit(3, elements)))
    assert port.amps == pytest.approx(0.02, rel=1e-9)
    assert 1e14 < port.ohms <= 1e15
    assert respond(port, String(2, 0, 99.0, (RED, RED)))[0] == pytest.approx(0.02, rel=1e-6)
