"""A bench supply on a test point, and nothing else: the network of what is connected there, solved at any voltage and corner."""

from __future__ import annotations

from collections.abc import Collection, Container
from dataclasses import replace
from typing import NamedTuple

from postcheck.physics.network import Circuit, Network, Solution, Source
from postcheck.survey.bench.test_points import TestPoint
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.netlist import Netlist, NetlistBuilder, Slot, State
from postcheck.wiring import Wiring
from postcheck.wiring.graph import Node
from postcheck.wiring.parts import Parts

# At the bench: parts at the 25 degC of their data sheets, copper at 20 degC; all typical, all taking most, all least.
BENCH = Corner()
EASIEST = Corner(dice=1, resistors=1, loads=1)
HARDEST = Corner(dice=-1, resistors=-1, loads=-1)
# Beyond this many times its rating a lamp dies before it warms up.
HOLDS = 2.0


class Flow(NamedTuple):
    """What flows: out of the bench supply, A, and through each string of each lamp, A."""

    amps: float
    strings: tuple[tuple[str, float], ...]


class Rig:
    """What is connected to a test point. `with_resistors`: with the resistors that sit elsewhere or at this very end in their place.

    `opened`, `shorted`: strings (lamp, number) that have failed open, or have a die that conducts like wire.
    """

    def __init__(
        self, wiring: Wiring, parts: Parts, test_point: TestPoint, *, with_resistors: bool = False,
        opened: frozenset[tuple[str, int]] = frozenset(), shorted: frozenset[tuple[str, int]] = frozenset(),
    ) -> None:  # fmt: skip
        bare = (
            frozenset()
            if with_resistors
            else frozenset(name for name, position in test_point.resistor_positions if position != "ahead")
        )
        self.test_point = test_point
        wanted = {*test_point.lamps}
        lamps = [lamp for lamp in parts.lamps if lamp.name in wanted]
        state = State(
            f"bench supply on '{test_point.name}'",
            frozenset(test_point.circuits),
            open_strings=opened,
            short_strings=shorted,
        )
        self._netlist = _BenchNetlist(wiring, parts, state).connected(test_point, wanted, bare)
        self._network: Network | None = None
        self._last: Solution | None = None
        self._lamps = {lamp.name: lamp for lamp in lamps}
        self._known: dict[tuple[float, Corner, float], Flow | None] = {}

    def flow(self, volts: float, corner: Corner = BENCH, ohms: float = 0.0) -> Flow | None:
        """What flows at a voltage in V of a supply with a resistance in ohm; None where there is no solution.

        Just after switching on; where parts take most, after each lamp has warmed itself.
        """
        key = (volts, corner, ohms)
        if key not in self._known:
            self._known[key] = self._flow(volts, corner, ohms)
        return self._known[key]

    def _flow(self, volts: float, corner: Corner, ohms: float) -> Flow | None:
        solution = self._solved(volts, ohms, corner)
        if corner.dice > 0 and solution is not None and self._live(solution):
            solution = self._solved(volts, ohms, corner._replace(junction=25.0))
        if solution is None:
            return None
        strings = tuple(
            (slot.name, solution.amps[position])
            for position, slot in enumerate(self._netlist.slots)
            if slot.kind == "lamp"
        )
        return Flow(solution.amps[0], strings)

    def _solved(self, volts: float, ohms: float, corner: Corner) -> Solution | None:
        plus, minus = self._poles
        elements = (Source(plus, minus, volts, ohms), *self._netlist.elements(corner)[1:])
        if self._network is None:
            self._network = Network(Circuit(self._netlist.count, elements))
        solution = self._network.solve(elements, self._last)
        if not solution.converged:
            return None
        self._last = solution
        return solution

    @property
    def _poles(self) -> tuple[int, int]:
        return self._netlist.nodes[_POLES["+"]], self._netlist.nodes[_POLES["-"]]

    def _live(self, solution: Solution) -> bool:
        """Whether no string gets what destroys it before it warms itself."""
        return all(
            solution.amps[position] <= HOLDS * self._lamps[slot.name].rated
            for position, slot in enumerate(self._netlist.slots)
            if slot.kind == "lamp"
        )


class LikeRig(Rig):
    """The lead of a lamp that is like another one: what flows there, under its own name."""

    def __init__(self, test_point: TestPoint, like: Rig) -> None:
        self.test_point = test_point
        self._like = like

    def flow(self, volts: float, corner: Corner = BENCH, ohms: float = 0.0) -> Flow | None:
        """What flows there."""
        [(name, _)] = self.test_point.resistor_positions
        flow = self._like.flow(volts, corner, ohms)
        return flow and Flow(flow.amps, tuple((name, amps) for _, amps in flow.strings))


class _BenchNetlist(NetlistBuilder):
    """The part of the network behind a test point, with a bench supply instead of the build's own: on for good."""

    held_on = True

    def connected(self, test_point: TestPoint, names: Container[str], bare: Collection[str]) -> Netlist:
        """All that is connected to the test point; `names`: of the lamps; `bare`: of those without their resistors."""
        wiring = self.wiring
        clips = [
            (_POLES[sign], wiring.node(end.net, end.place))
            for sign, end in (("+", test_point.plus), ("-", test_point.minus))
        ]
        for pole, node in clips:
            self.tie(node, pole)
        if test_point.kind == "circuit":  # a lead of its own is not joined yet
            behind = wiring.wires.reached(node for _, node in clips)
            self.lay(edge for edge in wiring.edges if edge.kind != "channel" and edge.a in behind)
        plus, minus = (self.number(_POLES[sign]) for sign in "+-")
        self.slots.insert(0, Slot("bench", "bench", 0, lambda _corner, _rise: Source(plus, minus, 0.0)))
        for name in bare:
            self.parts[name] = replace(self.parts[name], resistor=None)
        self.connect(
            consumer
            for consumer in wiring.consumers
            if test_point.string in (None, consumer.string)
            and (consumer.name in names if consumer.kind == "lamp" else consumer.name in test_point.others)
            and consumer.driver.circuit in test_point.circuits
        )
        return self.netlist()


_POLES = {sign: Node("bench", sign) for sign in "+-"}
