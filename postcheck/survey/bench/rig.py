"""A bench supply on a tap, and nothing else: the network of what hangs there, solved at any voltage and corner."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.naming import back_line
from postcheck.physics.network import Circuit, Network, Solution, Source
from postcheck.survey.bench.test_points import Tap
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.netlist import Loom, Slot, State, Wiring
from postcheck.wiring.parts import LampPart, Parts

__all__ = ["BENCH", "EASIEST", "HARDEST", "Flow", "Rig"]

# At the bench: parts at the 25 degC of their data sheets, copper at 20 degC; all typical, all taking most, all least.
BENCH = Corner()
EASIEST = Corner(dice=1, resistors=1, loads=1)
HARDEST = Corner(dice=-1, resistors=-1, loads=-1)
# Beyond so many times its rating a lamp does not live to warm up.
HOLDS = 2.0


class Flow(NamedTuple):
    """What flows: out of the bench supply, A, and through each string of each lamp, A."""

    amps: float
    strings: tuple[tuple[str, float], ...]


class Rig:
    """What hangs on a tap. `guarded`: with the resistors that sit elsewhere or at this very end in their place.

    `opened`, `shorted`: strings (lamp, number) that have failed open, or have a die that conducts like wire.
    """

    def __init__(
        self, build: Build, parts: Parts, tap: Tap, *, guarded: bool = False,
        at: Callable[[str, str], str] | None = None,
        opened: frozenset[tuple[str, int]] = frozenset(), shorted: frozenset[tuple[str, int]] = frozenset(),
    ) -> None:  # fmt: skip
        bare = frozenset() if guarded else frozenset(name for name, guard in tap.guards if guard != "ahead")
        self.tap = tap
        wanted = {name for name, _ in tap.guards}
        lamps = [lamp for lamp in parts.lamps if lamp.name in wanted]
        state = State(
            f"bench supply on '{tap.name}'",
            frozenset(tap.circuits),
            open_strings=opened,
            short_strings=shorted,
        )
        self._wiring = _BenchLoom(build, parts, tap, state, at).laid_on(lamps, bare)
        self._network: Network | None = None
        self._last: Solution | None = None
        self._lamps = {lamp.name: lamp for lamp in lamps if lamp.dice}

    def flow(self, volts: float, corner: Corner = BENCH, ohms: float = 0.0) -> Flow | None:
        """What flows at a voltage in V of a supply with a resistance in ohm; None where there is no solution.

        Just after switching on; where parts take most, after each lamp has warmed itself.
        """
        solution = self._solved(volts, ohms, corner)
        if corner.dice > 0 and solution is not None and self._live(solution):
            solution = self._solved(volts, ohms, corner._replace(junction=25.0))
        if solution is None:
            return None
        strings = tuple(
            (slot.name, solution.amps[position])
            for position, slot in enumerate(self._wiring.slots)
            if slot.kind == "lamp"
        )
        return Flow(solution.amps[0], strings)

    def _solved(self, volts: float, ohms: float, corner: Corner) -> Solution | None:
        plus, minus = self._poles
        elements = (Source(plus, minus, volts, ohms), *self._wiring.elements(corner)[1:])
        if self._network is None:
            self._network = Network(Circuit(self._wiring.count, elements))
        solution = self._network.solve(elements, self._last)
        if not solution.converged:
            return None
        self._last = solution
        return solution

    @property
    def _poles(self) -> tuple[int, int]:
        return tuple(self._wiring.nodes[key] for key in (("bench", "+"), ("bench", "-")))  # type: ignore[return-value]

    def _live(self, solution: Solution) -> bool:
        """Whether no string gets what destroys it before it warms itself."""
        return all(
            solution.amps[position] <= HOLDS * min(die.rated for die in self._lamps[slot.name].dice)
            for position, slot in enumerate(self._wiring.slots)
            if slot.kind == "lamp" and slot.name in self._lamps
        )


class _BenchLoom(Loom):
    """The part of the network behind a tap, with a bench supply instead of the build's own."""

    def __init__(
        self, build: Build, parts: Parts, tap: Tap, state: State, at: Callable[[str, str], str] | None
    ) -> None:
        super().__init__(build, parts, state, at)
        self.tap = tap

    def laid_on(self, lamps: Iterable[LampPart], bare: frozenset[str]) -> Wiring:
        if self.tap.kind == "circuit":  # a lead of its own is not joined yet
            self._merge_joints()
        for pole, end in (("+", self.tap.plus), ("-", self.tap.minus)):
            self._tie(self._at(end.line, end.place), ("bench", pole))
        plus, minus = self._number(("bench", "+")), self._number(("bench", "-"))
        self.slots.append(Slot("bench", "bench", 0, lambda _corner, _rise: Source(plus, minus, 0.0)))
        if self.tap.kind == "circuit":
            self._lines()
        self._hang(lamps, bare)
        return self._laid_out()

    def _lines(self) -> None:
        """The conductors of the circuit's two lines, plugs among them."""
        at = self.line_at
        lines = [line for name in self.tap.circuits for line in (name, back_line(self.build, name))]
        own = {at(line, place) for line in lines for place in self.build.place}
        joined = {line for join in self.build.join if own & set(join.lines) for line in join.lines}
        for run in self.parts.runs:
            if run.live and (own | joined) & {run.line, *(at(run.line, end) for end in run.ends)}:
                self._run(run)
        self._plugs()

    def _hang(self, lamps: Iterable[LampPart], bare: frozenset[str]) -> None:
        shared: dict[str, tuple[str, ...]] = {}
        for lamp in lamps:
            self._lamp(lamp._replace(resistor=None) if lamp.name in bare else lamp, shared)
        if not self.tap.others:
            return
        for strip in self.parts.strips:
            if strip.name in self.tap.others and strip.circuit in self.tap.circuits:
                self._strip(strip)
        for load in self.parts.loads:
            if load.name in self.tap.others and load.circuit in self.tap.circuits:
                self._load_on(load)
