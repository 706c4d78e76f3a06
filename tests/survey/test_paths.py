"""The tree of conductors against brute force: which are nested, what flows, where a loop is."""

from __future__ import annotations

import itertools
import random

import pytest

from postcheck.physics.network import Circuit, Element, Resistance, Source, String, diode_through, solve
from postcheck.survey.network.elements import fixed
from postcheck.survey.network.netlist import Netlist, Slot
from postcheck.survey.network.paths import Paths

WHITE = diode_through(2.75, 0.005, 3.1, 0.02)


def network(seed: int, loop: bool = False) -> tuple[Netlist, list[Element], list[tuple[int, int]]]:
    """Two random trees of wire, a feed and a return, a source between their roots, and strings between any two of their nodes."""
    r = random.Random(seed)
    size = r.randint(2, 6)
    parts: list[tuple[str, str, Element]] = [("supply", "main", Source(0, size, 12.0))]
    for tree, root in (("feed", 0), ("back", size)):
        for node in range(1, size):
            parent = r.randrange(node)
            twins = 2 if r.random() < 0.2 else 1
            parts += [
                ("run", f"{tree} {node}", Resistance(root + parent, root + node, r.uniform(0.5, 5.0)))
            ] * twins
    if loop and size > 2:
        parts.append(("run", "closes", Resistance(1, size - 1, 1.0)))
    pairs = [(r.randrange(size), size + r.randrange(size)) for _ in range(r.randint(2, 6))]
    parts += [("lamp", f"lamp {n}", String(a, b, 100.0, (WHITE,) * 3)) for n, (a, b) in enumerate(pairs)]
    r.shuffle(parts)
    slots = [Slot(kind, name, 0, fixed(element)) for kind, name, element in parts]
    netlist = Netlist({}, 2 * size, slots)
    return netlist, [element for _, _, element in parts], pairs


def shared(paths: Paths, one: tuple[int, int], two: tuple[int, int], elements: list[Element]) -> float:
    """Ohm that two strings share, by their ways alone; what lies side by side counts as one."""

    def way(pair: tuple[int, int]) -> dict[frozenset[int], int]:
        return {frozenset(edge.positions): sign for edge, sign in paths.path(pair)}

    first, second = way(one), way(two)
    total = 0.0
    for edge in first.keys() & second.keys():
        element = elements[min(edge)]
        if isinstance(element, Resistance):
            total += first[edge] * second[edge] * element.ohms / len(edge)
    return total


@pytest.mark.parametrize("block", range(10))
def test_nested_is_what_makes_the_shared_resistance_ultrametric(block: int) -> None:
    """Of any three strings the two that share least with one another share no less than each does with the third."""
    both = set()
    for seed in range(block * 30, block * 30 + 30):
        netlist, elements, pairs = network(seed)
        paths = Paths(netlist, elements)
        assert paths.tree
        ultrametric = all(
            shared(paths, a, b, elements)
            >= min(shared(paths, a, c, elements), shared(paths, b, c, elements)) - 1e-12
            for a, b, c in itertools.permutations(dict.fromkeys(pairs), 3)
        )
        nested = paths.nested(pairs)
        both.add(nested)
        assert ultrametric or not nested
        if not nested:  # some two conductors feed sets that cross: with them alone the order breaks
            fed: dict[frozenset[int], set[int]] = {}
            for number, pair in enumerate(pairs):
                for edge, _ in paths.path(pair):
                    fed.setdefault(frozenset(edge.positions), set()).add(number)
            assert any(a & b and a - b and b - a for a, b in itertools.combinations(fed.values(), 2))
    assert both == {True, False}


@pytest.mark.parametrize("seed", range(40))
def test_what_consumers_take_flows_as_the_solver_has_it(seed: int) -> None:
    netlist, elements, _ = network(seed)
    paths, solution = Paths(netlist, elements), solve(Circuit(netlist.count, tuple(elements)))
    taken: dict[int, float] = {}
    for slot, element, amps in zip(netlist.slots, elements, solution.amps, strict=True):
        if slot.kind == "lamp" and isinstance(element, String):
            taken[element.a] = taken.get(element.a, 0.0) + amps
            taken[element.b] = taken.get(element.b, 0.0) - amps
    flows = {frozenset(positions): amps for positions, amps in paths.flows(taken)}
    for positions, amps in flows.items():
        together = sum(solution.amps[position] for position in positions)
        assert abs(amps) == pytest.approx(abs(together), rel=1e-9, abs=1e-12)
    carried = {position for positions in flows for position in positions}
    for position, (slot, amps) in enumerate(zip(netlist.slots, solution.amps, strict=True)):
        if slot.kind == "run" and position not in carried:
            assert abs(amps) < 1e-12


@pytest.mark.parametrize("seed", range(60))
def test_a_loop_is_seen_and_twins_are_none(seed: int) -> None:
    size = network(seed)[0].count // 2
    netlist, elements, _ = network(seed, loop=True)
    edges = {
        (slot.kind, slot.name): element
        for slot, element in zip(netlist.slots, elements, strict=True)
        if slot.kind != "lamp"
    }
    looped = len(edges) > 2 * size - 1  # a tree of n nodes has n - 1 edges
    assert Paths(netlist, elements).tree is not looped


def test_a_conductor_that_two_supplies_push_through_both_ways_is_not_nested() -> None:
    """Two supplies one on top of the other, three wires out: what lies above the middle wire comes back by it, what lies below begins there."""
    parts: list[tuple[str, str, Element]] = [
        ("supply", "upper", Source(0, 1, 12.0)),
        ("supply", "lower", Source(1, 2, 5.0)),
        ("run", "top", Resistance(0, 3, 1.0)),
        ("run", "middle", Resistance(1, 4, 1.0)),
        ("run", "bottom", Resistance(2, 5, 1.0)),
    ]
    slots = [Slot(kind, name, 0, fixed(element)) for kind, name, element in parts]
    paths = Paths(Netlist({}, 6, slots), [element for _, _, element in parts])
    assert paths.tree
    upper, lower, whole = (3, 4), (4, 5), (3, 5)
    for alone in ([upper], [lower], [whole], [upper, whole], [upper, upper]):
        assert paths.nested(alone)
    assert not paths.nested([upper, lower])
    assert not paths.nested([upper, lower, whole])


def test_between_what_no_conductor_joins_there_is_no_path() -> None:
    """Two supplies with a wire each, apart; a node that nothing conducts to; and one of the two by itself."""
    parts: list[tuple[str, str, Element]] = [
        ("supply", "one", Source(0, 1, 12.0)),
        ("run", "there", Resistance(0, 2, 1.0)),
        ("supply", "two", Source(3, 4, 5.0)),
        ("run", "elsewhere", Resistance(3, 5, 1.0)),
        ("lamp", "bow", String(2, 6, 100.0, (WHITE,))),
    ]
    slots = [Slot(kind, name, 0, fixed(element)) for kind, name, element in parts]
    paths = Paths(Netlist({}, 7, slots), [element for _, _, element in parts])
    for pair in ((2, 5), (5, 2), (2, 6), (6, 2), (2, 2)):
        assert paths.path(pair) == []
        assert paths.ahead(pair) == frozenset()
    # out by the wire, back by the supply whose negative pole is the root
    assert [(edge.positions, way) for edge, way in paths.path((2, 1))] == [([1], 1), ([0], 1)]
    assert [(edge.positions, way) for edge, way in paths.path((1, 2))] == [([1], -1), ([0], -1)]
