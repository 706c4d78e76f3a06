"""Direct-current solution of a lighting circuit.

Kirchhoff's current law at every node with the laws of the elements, solved by Newton's method on the nodal
network with our own sparse elimination; ideal one-way drops by an active set; powers by continuation.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from postcheck.physics.network.converters import follow, settle
from postcheck.physics.network.elements import (
    Circuit,
    ConstantPower,
    Converter,
    Drop,
    Element,
    Source,
    String,
)
from postcheck.physics.network.newton import State
from postcheck.physics.network.solution import Solution
from postcheck.physics.network.splits import share_loops
from postcheck.physics.network.strings import Tangent
from postcheck.physics.network.structure import Structure, is_tie, tie_volts

__all__ = ["Network", "solve"]

_SAME = 1e-9  # V by which ideal sources in a loop may differ by rounding
_SOFT = 1e-3  # ohm lent to ideal drops to find out which of them conduct
_ROUNDS = 12
_TURNS = 400


def solve(circuit: Circuit, start: Solution | None = None) -> Solution:
    """Solve a circuit once. `start`: a solution of a circuit with as many nodes, to begin from."""
    return Network(circuit).solve(start=start)


class Network:
    """A circuit compiled once, to be solved again with other values of the same elements between the same nodes.

    `steps`: of Newton's method in all its solutions so far, those that came to nothing among them.
    """

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.steps: int = 0
        self._shapes: dict[tuple[object, ...], Structure] = {}
        # kinds stay what they are, so what may be ideal and what takes power is looked up once
        elements = circuit.elements
        self._maybe_ties: tuple[int, ...] = _of_kind(elements, Source | Converter | Drop)
        self._drops: tuple[int, ...] = _of_kind(elements, Drop)
        self._powers: tuple[int, ...] = _of_kind(elements, ConstantPower | Converter)
        top = circuit.nodes
        for k, element in enumerate(circuit.elements):
            for name in ("a", "b", "plus", "minus", "in_plus", "in_minus", "out_plus", "out_minus"):
                if not 0 <= getattr(element, name, 0) < top:
                    raise ValueError(f"element {k} names a node outside 0 .. {top - 1}: {element!r}")

    def solve(self, elements: Sequence[Element] | None = None, start: Solution | None = None) -> Solution:
        """Solve with these elements (default: the circuit's own), beginning from `start` if given.

        `elements` must be of the same kinds between the same nodes, one for one. The result does not depend on
        `start`, except for rounding. Loads that will not start are taken off one cause at a time and reported.
        """
        values = self.circuit.elements if elements is None else elements
        if len(values) != len(self.circuit.elements):
            raise ValueError("as many elements as the circuit has, in its order")
        solution = self._solve(values, start)
        if solution.state is None or solution.state.strings.unheld:
            strings = {
                k: e for k, e in enumerate(values) if isinstance(e, String) and any(d.heat for d in e.diodes)
            }
            if strings:
                return self._from_cold(values, strings)
        return solution

    def _from_cold(self, values: Sequence[Element], strings: Mapping[int, String]) -> Solution:
        """Where a string, for its own volts alone, runs away: from cold, heat and currents by turns, by tangents.

        What lies ahead of it may still hold it; then this finds it, and else where it comes to rest.
        """
        tangents = _tangents(strings, dict.fromkeys(strings, 0.0))
        solution = None
        for _ in range(_TURNS):
            trial = list(values)
            for k, tangent in tangents.items():
                trial[k] = tangent.string
            solution = self._solve(trial, solution)
            if not solution.converged:
                return solution
            amps = dict(enumerate(solution.amps))
            alike = {(id(string), amps[k]): k for k, string in strings.items()}
            if all(tangents[k].agrees(strings[k], amps[k]) for k in alike.values()):
                return solution
            tangents = _tangents(strings, amps)
        return _failure(self.circuit.nodes, "the heat of its strings comes to no rest")

    def _solve(self, values: Sequence[Element], start: Solution | None) -> Solution:
        stopped: frozenset[int] = frozenset()
        for _ in range(1 + len(self._powers)):
            outcome = self._settle_drops(values, start, stopped)
            if isinstance(outcome, Solution):
                return outcome
            stopped |= outcome
        return _failure(self.circuit.nodes, "the loads that will not start change without end")

    def _shape(
        self,
        values: Sequence[Element],
        ties: tuple[int, ...],
        opened: frozenset[int],
        stopped: frozenset[int],
    ) -> Structure:
        key = (ties, opened, stopped)
        if key not in self._shapes:
            if len(self._shapes) >= 16:
                self._shapes.pop(next(iter(self._shapes)))
            ideal = frozenset(ties)
            flags = [k in ideal for k in range(len(values))]
            self._shapes[key] = Structure(self.circuit.nodes, values, flags, opened, stopped)
        return self._shapes[key]

    def _settle_drops(
        self, values: Sequence[Element], start: Solution | None, stopped: frozenset[int]
    ) -> Solution | frozenset[int]:
        """Find which ideal drops conduct. A set of elements that will not start, or the solution."""
        ideal = [k for k in self._drops if is_tie(values[k])]
        opened = frozenset[int]()
        if start is not None and len(start.amps) == len(values):
            opened = frozenset(k for k in start.off if k in set(ideal))
        seen: set[frozenset[int]] = set()
        for turn in range(_ROUNDS):
            outcome, partial = self._attempt(values, start, stopped, opened)
            wrong: frozenset[int] | None = frozenset()
            if isinstance(outcome, frozenset):
                # only to be believed if the drops are right with the powers taken so far
                wrong = _wrong(partial, values, ideal) if partial and ideal else frozenset()
            elif outcome.conflict and any(k in outcome.conflict for k in ideal):
                wrong = None
            elif outcome.converged:
                wrong = _wrong(outcome, values, ideal)
            if wrong is not None and not wrong:
                return outcome
            seen.add(opened)
            if wrong is None or turn >= 4:
                softened = self._soften(values, ideal, stopped, _SOFT)
                if isinstance(softened, frozenset) or not softened.converged:
                    return softened
                settled = frozenset(k for k in ideal if _gap(softened, values[k]) < -1e-9)
                if wrong is None and settled == opened:
                    return outcome
                if settled in seen:
                    break
                opened = settled
            else:
                opened = opened ^ wrong
        return self._soften(values, ideal, stopped, 1e-6)

    def _soften(
        self, values: Sequence[Element], ideal: list[int], stopped: frozenset[int], ohms: float
    ) -> Solution | frozenset[int]:
        soft: list[Element] = list(values)
        for k in ideal:
            drop = soft[k]
            if isinstance(drop, Drop):
                soft[k] = replace(drop, ohms=ohms)
        return self._attempt(soft, None, stopped, frozenset())[0]

    def _attempt(
        self,
        values: Sequence[Element],
        start: Solution | None,
        stopped: frozenset[int],
        opened: frozenset[int],
    ) -> tuple[Solution | frozenset[int], Solution | None]:
        """One solution with the given drops open, or the elements that will not start and the state before them."""
        ties = tuple(k for k in self._maybe_ties if is_tie(values[k]))
        shape = self._shape(values, ties, opened, stopped)
        state = State(shape, values)
        idle = frozenset(k for k in self._powers if k not in stopped and shape.unit[_input(values[k])] < 0)
        if idle:
            return idle, None
        clash = _clash(shape, values, state.offset)
        if clash:
            alike, loop = clash
            names = " and ".join(f"{k}" for k in loop)
            why = "share a current that nothing decides" if alike else "disagree"
            return _failure(
                self.circuit.nodes, f"ideal sources in a loop {why}: elements {names}", loop
            ), None
        found = self._run(state, start, stopped)
        if not found:
            lost = follow(state)
            if lost is None and start is not None:
                self.steps += state.steps
                state = State(shape, values)
                lost = follow(state)
        self.steps += state.steps
        if not found:
            if lost is None:
                return _failure(self.circuit.nodes, f"no solution found in {state.steps} steps"), None
            if lost:
                state.evaluate(state.x)
                return frozenset(lost), _gather(state, stopped, opened)
        return _gather(state, stopped, opened), None

    @staticmethod
    def _run(state: State, start: Solution | None, stopped: frozenset[int]) -> bool:
        """Begin from `start`; with powers, take it if it leads to a sound solution right away."""
        if start is None or not start.converged or len(start.volts) != state.structure.nodes:
            return False
        state.begin(start.volts)
        before = start.state
        if before is not None and before.structure is state.structure:
            state.strings.u = before.strings.u[:]
        if before is None or before.structure is not state.structure or stopped:
            return False
        state.powers.watts = before.powers.watts[:]
        if not settle(state, 1.0):
            return False
        least = [state.elements[k].least_volts for k in state.powers.places.element]  # type: ignore[union-attr]
        return all(v >= low for v, low in zip(state.powers.volts(state.x), least, strict=True))


def _tangents(strings: Mapping[int, String], amps: Mapping[int, float]) -> dict[int, Tangent]:
    """Each string's at its current; strings that are one element have one."""
    known: dict[tuple[int, float], Tangent] = {}
    for k, string in strings.items():
        if (key := (id(string), amps[k])) not in known:
            known[key] = Tangent.at(string, amps[k])
    return {k: known[id(string), amps[k]] for k, string in strings.items()}


def _of_kind(elements: Sequence[Element], kind: Any) -> tuple[int, ...]:
    return tuple(k for k, element in enumerate(elements) if isinstance(element, kind))


def _input(element: Element) -> int:
    if isinstance(element, Converter):
        return element.in_plus
    return element.a if isinstance(element, ConstantPower) else 0


def _gap(solution: Solution, drop: Element) -> float:
    """V by which the voltage across a drop exceeds its own."""
    if not isinstance(drop, Drop) or solution.volts[drop.a] is None:  # it floats then with both ends
        return 0.0
    return solution.across(drop.a, drop.b) - drop.volts


def _wrong(solution: Solution, values: Sequence[Element], ideal: list[int]) -> frozenset[int]:
    """Ideal drops that conduct in reverse, or are open and should conduct."""
    slack = 1e-12 * max(map(abs, solution.amps), default=0.0) + 1e-14
    wrong = set()
    for k in ideal:
        if k in solution.off:
            if _gap(solution, values[k]) > 1e-9:
                wrong.add(k)
        elif solution.amps[k] < -slack:
            wrong.add(k)
    return frozenset(wrong)


def _clash(
    shape: Structure, values: Sequence[Element], offset: list[float]
) -> tuple[bool, tuple[int, ...]] | None:
    """A loop of ideal elements without a solution (False, loop) or with more than one (True, loop)."""
    for k, upper, lower, loop in shape.loops:
        if abs(offset[upper] - offset[lower] - tie_volts(values[k])) > _SAME:
            return False, loop
        if any(isinstance(values[j], Source | Converter) and tie_volts(values[j]) != 0.0 for j in loop):
            return True, loop
    return None


def _failure(nodes: int, reason: str, conflict: tuple[int, ...] = ()) -> Solution:
    return Solution(False, reason, (None,) * nodes, (), conflict=conflict)


def _gather(state: State, stopped: frozenset[int], opened: frozenset[int]) -> Solution:
    """The solution in words and numbers, tie currents recovered from Kirchhoff's law."""
    shape, elements = state.structure, state.elements
    amps = [0.0] * len(elements)
    inputs = [0.0] * len(elements)
    for table in state.tables:
        for k, i in zip(table.places.element, table.amps, strict=True):
            (inputs if table is state.powers and isinstance(elements[k], Converter) else amps)[k] = i
    undetermined: tuple[int, ...] = ()
    if shape.forest or shape.loops:
        into = state.node_currents()
        flows = share_loops(shape, into) if shape.loops else shape.flows(into)
        for k, i in flows.items():
            amps[k] = i
        undetermined = tuple(sorted({j for _, _, _, loop in shape.loops for j in loop}))
    for k in shape.sources:
        amps[k] = 0.0 - amps[k]
    reasons = []
    if stopped:
        reasons.append("will not start: elements " + ", ".join(map(str, sorted(stopped))))
    if undetermined:
        reasons.append("how ties in a loop divide the current is not determined")
    off = set(opened)
    for k, v in zip(state.ramps.places.element, state.ramps.volts(state.x), strict=True):
        element = elements[k]
        if isinstance(element, Drop) and v < element.volts - 1e-9:
            off.add(k)
    return Solution(
        True,
        "; ".join(reasons) or "solved",
        state.node_volts(),
        tuple(amps),
        tuple(inputs),
        tuple(sorted(stopped)),
        (),
        undetermined,
        shape.floating,
        tuple(sorted(off)),
        state.steps,
        state,
    )
