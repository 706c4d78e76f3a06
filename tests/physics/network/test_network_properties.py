"""Laws that hold in every circuit, and the linear algebra against NumPy."""

from __future__ import annotations

import math
import random

import netlists as nl
import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from postcheck.physics.network import (
    Circuit,
    Converter,
    Diode,
    Element,
    Filament,
    Network,
    Resistance,
    Solution,
    Source,
    SteadyCurrent,
    String,
    influence,
    respond,
    short_current,
    solve,
)
from postcheck.physics.network.sparse import Pattern
from postcheck.physics.network.strings import string_constants, string_law

seeds = st.integers(0, 10**6)
few = settings(max_examples=40)


def mesh(seed: int, size: int, extra: int) -> tuple[list[tuple[int, int]], list[float], list[float]]:
    r = random.Random(seed)
    pairs = {(r.randrange(i), i) for i in range(1, size)}
    for _ in range(extra):
        a, b = sorted((r.randrange(size), r.randrange(size)))
        if a != b:
            pairs.add((a, b))
    edges = sorted(pairs)
    r.shuffle(edges)
    weights = [10 ** r.uniform(-3, 3) for _ in edges]
    earth = [10 ** r.uniform(-3, 1) if r.random() < 0.3 else 0.0 for _ in range(size)]
    earth[r.randrange(size)] = 1.0
    return edges, weights, earth


def dense(size: int, edges: list[tuple[int, int]], weights: list[float], earth: list[float]) -> np.ndarray:
    matrix = np.diag(np.array(earth))
    for (a, b), g in zip(edges, weights, strict=True):
        matrix[a, a] += g
        matrix[b, b] += g
        matrix[a, b] -= g
        matrix[b, a] -= g
    return matrix


@few
@given(seeds, st.integers(1, 40), st.integers(0, 60))
def test_elimination_and_selected_inverse_match_numpy(seed: int, size: int, extra: int) -> None:
    edges, weights, earth = mesh(seed, size, extra)
    pattern = Pattern(size, edges)
    factors = pattern.factor(weights, earth)
    matrix = dense(size, edges, weights, earth)
    right = np.random.default_rng(seed).normal(size=size)
    exact = np.linalg.solve(matrix, right)
    assert factors.sound
    np.testing.assert_allclose(factors.solve(list(right)), exact, rtol=1e-8, atol=1e-9 * np.abs(exact).max())
    inverse = np.linalg.inv(matrix)
    diagonal, off = factors.inverse()
    np.testing.assert_allclose(diagonal, np.diag(inverse), rtol=1e-8)
    for (a, b), slot in pattern.index.items():
        assert off[slot] == pytest.approx(inverse[a, b], rel=1e-8)


def test_a_negative_conductance_past_the_nose_shows_in_the_pivots() -> None:
    edges, weights, earth = mesh(5, 12, 6)
    pattern = Pattern(12, edges)
    for node in range(12):
        for sink in (0.0, -1e-4, -0.01, -1.0, -100.0):
            changed = earth[:]
            changed[node] += sink
            positive = bool(np.linalg.eigvalsh(dense(12, edges, weights, changed)).min() > 0)
            assert pattern.factor(weights, changed).sound is positive


def test_star_mesh_keeps_what_subtraction_would_lose() -> None:
    # a chain of 1 kS wires that ends in 1e-15 S: seen from the far end, 1e15 ohm to every digit
    factors = Pattern(50, [(i, i + 1) for i in range(49)]).factor([1e3] * 49, [0.0] * 49 + [1e-15])
    assert factors.solve([1e-15] + [0.0] * 49)[0] == pytest.approx(1.0, rel=1e-14)
    assert factors.inverse()[0][0] == pytest.approx(1e15, rel=1e-13)


@few
@given(seeds, st.integers(3, 30))
def test_linear_circuits_match_a_dense_solution_and_superpose(seed: int, size: int) -> None:
    edges, weights, _ = mesh(seed, size, size)
    wires = [Resistance(a, b, 1.0 / g) for (a, b), g in zip(edges, weights, strict=True)]
    r = random.Random(seed)
    ends = r.sample(range(1, size), 2)
    emfs = (r.uniform(1, 20), r.uniform(-20, 20))

    def circuit(scale: tuple[float, float]) -> Circuit:
        first = Source(ends[0], 0, emfs[0] * scale[0])
        return Circuit(size, (first, Source(ends[1], 0, emfs[1] * scale[1], 0.7), *wires))

    found = solve(circuit((1.0, 1.0)))
    # modified nodal analysis (Ho, Ruehli and Brennan 1975), written out densely
    matrix = np.zeros((size, size))
    matrix[: size - 1, : size - 1] = dense(size, edges, weights, [0.0] * size)[1:, 1:]
    matrix[ends[1] - 1, ends[1] - 1] += 1 / 0.7
    matrix[ends[0] - 1, -1] = -1.0
    matrix[-1, ends[0] - 1] = 1.0
    right = np.zeros(size)
    right[ends[1] - 1] = emfs[1] / 0.7
    right[-1] = emfs[0]
    exact = np.linalg.solve(matrix, right)
    np.testing.assert_allclose(found.volts[1:], exact[:-1], rtol=1e-8, atol=1e-8)
    assert found.amps[0] == pytest.approx(exact[-1], rel=1e-7, abs=1e-9)
    parts = [solve(circuit(scale)).volts for scale in ((1.0, 0.0), (0.0, 1.0))]
    for whole, one, other in zip(found.volts, *parts, strict=True):
        assert whole == pytest.approx((one or 0.0) + (other or 0.0), rel=1e-9, abs=1e-9)


def residuals(circuit: Circuit, amps: tuple[float, ...], inputs: tuple[float, ...]) -> list[float]:
    into = [0.0] * circuit.nodes
    for e, i, taken in zip(circuit.elements, amps, inputs, strict=True):
        if isinstance(e, Source):
            into[e.plus] += i
            into[e.minus] -= i
        elif isinstance(e, Converter):
            into[e.out_plus] += i
            into[e.out_minus] -= i
            into[e.in_plus] -= taken
            into[e.in_minus] += taken
        else:
            into[e.a] -= i
            into[e.b] += i
    return into


@few
@given(seeds)
def test_no_current_is_lost_at_any_node(seed: int) -> None:
    circuit = nl.random_circuit(seed)
    found = solve(circuit)
    assert found.converged, found.reason
    scale = max(map(abs, found.amps))
    assert max(map(abs, residuals(circuit, found.amps, found.input_amps))) <= 1e-11 * scale + 1e-13


@few
@given(seeds)
def test_power_delivered_is_power_taken(seed: int) -> None:
    circuit = nl.random_circuit(seed)
    found = solve(circuit)
    given_out = taken = 0.0
    for k, e in enumerate(circuit.elements):
        if isinstance(e, Source):
            given_out += found.across(e.plus, e.minus) * found.amps[k]
        elif isinstance(e, Converter):
            if k not in found.will_not_start:
                watts = found.across(e.out_plus, e.out_minus) * found.amps[k]
                into = found.across(e.in_plus, e.in_minus) * found.input_amps[k]
                assert into == pytest.approx(watts / e.efficiency + e.idle_watts, rel=1e-9, abs=1e-12)
                given_out += watts - into
        elif found.volts[e.a] is not None:
            taken += found.across(e.a, e.b) * found.amps[k]
    assert taken == pytest.approx(given_out, rel=1e-9, abs=1e-9)


def scaled(element: Element, share: float) -> Element:
    if isinstance(element, String):
        return String(element.a, element.b, element.ohms * share + 1.0, element.diodes)
    if isinstance(element, Filament):
        return Filament(element.a, element.b, element.volts, element.amps * share, element.exponent)
    return element


@few
@given(seeds, st.floats(0.8, 1.25))
def test_a_warm_start_gives_what_a_cold_one_gives(seed: int, share: float) -> None:
    circuit = nl.random_circuit(seed)
    network = Network(circuit)
    changed = [scaled(e, share) for e in circuit.elements]
    warm = network.solve(changed, network.solve())
    cold = solve(Circuit(circuit.nodes, tuple(changed)))
    assert warm.will_not_start == cold.will_not_start
    assert warm.amps == pytest.approx(cold.amps, rel=1e-9, abs=1e-12)


def condition(circuit: Circuit, found: Solution) -> object:
    """On which side of its bend each element works: a port says nothing beyond the next bend."""
    regulating = [
        amps >= element.amps * (1.0 - 1e-9)
        for element, amps in zip(circuit.elements, found.amps, strict=True)
        if isinstance(element, SteadyCurrent)
    ]
    return found.will_not_start, found.off, regulating


@few
@given(seeds)
@example(82207)  # one ohm more takes a constant-current output out of regulation
def test_a_port_foretells_small_changes_of_its_own_lamp(seed: int) -> None:
    circuit = nl.random_circuit(seed)
    network = Network(circuit)
    found = network.solve()
    for port in found.ports():
        if abs(port.ohms) > 1e9:
            continue  # cut off by an open output: leakage alone is left, which no figure rests on
        element = circuit.elements[port.element]
        same = respond(port, element)  # type: ignore[arg-type]
        assert same[0] == pytest.approx(port.amps, rel=1e-8, abs=1e-11)
        changed = list(circuit.elements)
        changed[port.element] = scaled(element, 1.02)
        amps, volts = respond(port, changed[port.element])  # type: ignore[arg-type]
        again = network.solve(changed, found)
        if condition(circuit, again) != condition(circuit, found):
            continue
        moved = abs(again.amps[port.element] - port.amps)
        assert amps == pytest.approx(again.amps[port.element], rel=1e-7, abs=0.02 * moved + 1e-10)
        now, before = (s.across(element.a, element.b) for s in (again, found))  # type: ignore[union-attr]
        assert volts == pytest.approx(now, abs=0.1 * abs(now - before) + 1e-4)


@few
@given(seeds, st.integers(4, 20))
def test_ports_of_a_linear_rest_are_exact(seed: int, size: int) -> None:
    edges, weights, _ = mesh(seed, size, size)
    wires = [Resistance(a, b, 1.0 / g) for (a, b), g in zip(edges, weights, strict=True)]
    lamp = String(size - 1, 1, 33.0, (nl.RED,))
    parts = (Source(2, 0, 12.0, 0.5), *wires)
    found = solve(Circuit(size, (*parts, lamp)))
    [port] = found.ports()
    open_end = solve(Circuit(size, parts))
    assert port.open_volts == pytest.approx(open_end.across(size - 1, 1), rel=1e-7, abs=1e-9)
    shorted = solve(Circuit(size, (*parts, Source(size - 1, 1, 0.0))))
    assert short_current(port) == pytest.approx(-shorted.amps[-1], rel=1e-6, abs=1e-9)
    other = Filament(size - 1, 1, 12.0, 0.05, 0.55)
    again = solve(Circuit(size, (*parts, other)))
    assert respond(port, other)[0] == pytest.approx(again.amps[-1], rel=1e-7, abs=1e-10)
    assert respond(port, None) == (0.0, port.open_volts)


@few
@given(seeds)
def test_influence_foretells_and_is_reciprocal(seed: int) -> None:
    circuit = nl.random_circuit(seed)
    found = solve(circuit)
    alive = [n for n, v in enumerate(found.volts) if v is not None]
    a, b = random.Random(seed).sample(alive, 2)
    ohms = influence(found, {a: 1.0})
    # against a finite difference: a supply of 1e6 V behind 1e13 ohm injects 0.1 uA
    node = circuit.nodes
    tiny = (Source(node, 0, 1e6, 0.0), Resistance(node, a, 1e13))
    again = solve(Circuit(node + 1, (*circuit.elements, *tiny)), None)
    if again.off == found.off:
        for n in alive:
            rise = (again.volts[n] or 0.0) - (found.volts[n] or 0.0)
            if abs(ohms[a] or 0.0) < 1e4:
                assert rise == pytest.approx(1e-7 * (ohms[n] or 0.0), rel=2e-3, abs=1e-10)
    if not any(isinstance(e, Converter) for e in circuit.elements):
        assert influence(found, {b: 1.0})[a] == pytest.approx(ohms[b], rel=1e-9, abs=1e-12)


@settings(max_examples=300)
@given(
    st.floats(-60, 60),
    st.sampled_from([0.0, 1e-3, 10.0, 150.0, 1e5]),
    st.lists(st.sampled_from([nl.WHITE, nl.RED, nl.BLUE, nl.GREEN]), min_size=1, max_size=5),
    st.floats(-5.0, 70.0),
)
def test_a_string_carries_the_current_that_adds_up_to_its_voltage(
    volts: float, ohms: float, diodes: list[nl.Diode], guess: float
) -> None:
    constants = string_constants(String(0, 1, ohms, tuple(diodes)))
    amps, slope, u = string_law(volts, constants, guess)
    assert slope > 0.0
    _, _, steady = string_law(volts, constants)
    assert u == pytest.approx(steady, rel=1e-9, abs=1e-12)
    amps -= constants[4] * volts  # the leak lies beside it
    if amps > 1e-12:
        total = amps * ohms + sum(d.slope * np.log1p(amps / d.saturation) + amps * d.ohm for d in diodes)
        assert total == pytest.approx(volts, rel=1e-9, abs=1e-6)
    step = 1e-5
    rise = string_law(volts + step, constants)[0] - string_law(volts - step, constants)[0]
    assert slope == pytest.approx(rise / (2 * step), rel=1e-4, abs=1e-12)


def test_ten_thousand_lamps_on_a_tree_cost_about_ten_times_a_thousand() -> None:
    def steps(lamps: int) -> tuple[int, int]:
        r = random.Random(1)
        pairs = lamps // 6
        parts: list[Element] = [Source(0, 1, 12.0)]
        for i in range(1, pairs):
            j = r.randrange(max(0, i - 9), i)
            parts += [Resistance(2 * j, 2 * i, 1e-5), Resistance(2 * i + 1, 2 * j + 1, 1e-5)]
        for _ in range(lamps):
            p = r.randrange(pairs)
            parts.append(String(2 * p, 2 * p + 1, r.uniform(120, 200), (nl.WHITE,) * 3))
        found = solve(Circuit(2 * pairs, tuple(parts)))
        assert found.converged
        assert found.state is not None
        # entries of the factor say what the elimination costs
        return found.iterations, sum(len(s) + len(f) for (s, _), f in zip(
            found.state.structure.pattern.columns, found.state.structure.pattern.pairs, strict=True))  # fmt: skip

    small, large = steps(1000), steps(10_000)
    assert large[0] <= small[0] + 4
    assert large[1] <= 12 * small[1]


@pytest.mark.parametrize("seed", [1224, 1372])
def test_a_drop_left_open_by_the_start_does_not_keep_a_load_from_starting(seed: int) -> None:
    circuit = nl.random_circuit(seed)
    network = Network(circuit)
    changed = [scaled(e, 1.1) for e in circuit.elements]
    warm, cold = network.solve(changed, network.solve()), solve(Circuit(circuit.nodes, tuple(changed)))
    assert warm.will_not_start == cold.will_not_start == ()
    assert warm.amps == pytest.approx(cold.amps, rel=1e-9, abs=1e-12)


def test_a_solution_on_the_kink_of_a_drop_is_reached_without_wandering() -> None:
    circuit = nl.random_circuit(2285)
    network = Network(circuit)
    warm = network.solve([scaled(e, 1.1) for e in circuit.elements], network.solve())
    assert warm.converged
    assert warm.iterations < 20


def test_a_start_of_another_shape_is_only_a_start() -> None:
    first, second = solve(nl.random_circuit(3)), nl.random_circuit(4)
    assert solve(second, first).amps == pytest.approx(solve(second).amps, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("size", [3, 4, 7, 20])
def test_eliminating_a_ring_adds_a_chord_for_all_but_three_of_its_nodes(size: int) -> None:
    """Each node taken out joins its two neighbours, until three are left; of a tree nothing is added."""
    ring = [(min(i, (i + 1) % size), max(i, (i + 1) % size)) for i in range(size)]
    assert Pattern(size, ring).slots == size + size - 3
    assert Pattern(size, ring[:-1]).slots == size - 1


def test_a_diode_without_resistance_goes_on_as_a_straight_line() -> None:
    """Beyond 600 times its slope: the current and the slope that it has there, and no overflow."""
    slope = 0.05
    constants = string_constants(String(0, 1, 0.0, (Diode(1e-20, slope),)))
    edge = 1e-20 * math.exp(600.0)
    for times in (601.0, 610.0, 5000.0):
        amps, rise, u = string_law(times * slope, constants)
        assert amps == pytest.approx(edge * (1.0 + times - 600.0), rel=1e-9)
        assert rise == pytest.approx(edge / slope, rel=1e-9)
        assert u == pytest.approx(times)
    amps, rise, _ = string_law(600.0 * slope, constants)
    assert (amps, rise) == pytest.approx((edge, edge / slope), rel=1e-6)
