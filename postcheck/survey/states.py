"""Solutions of a build's network by state and corner, each made once and warm-started from its kin."""

from __future__ import annotations

from postcheck.build.models import Build
from postcheck.physics.network import Circuit, Converter, Element, Network, Solution, Source, String
from postcheck.survey.parts import Parts
from postcheck.survey.wiring import Corner, State, Wiring, wire_up

__all__ = ["Solved", "States"]

# Passes of solving, heating the junctions by what they give off, and solving again: the coupling is about
# 3 mV/K x 500 K/W x 3 V x dI/dV, a few per cent a pass, so three passes leave less than a microvolt in a volt.
HEATING_PASSES = 3


class Solved:
    """One converged solution with its network and the elements it belongs to."""

    __slots__ = ("elements", "heating", "network", "solution", "wiring")

    def __init__(
        self,
        wiring: Wiring,
        network: Network,
        elements: tuple[Element, ...],
        solution: Solution,
        heating: dict[int, float],
    ) -> None:
        self.wiring, self.network, self.elements, self.solution = wiring, network, elements, solution
        self.heating = heating

    def of(self, kind: str, name: str) -> list[int]:
        """Positions of a part's elements."""
        return self.wiring.index.get((kind, name), [])

    def amps(self, kind: str, name: str) -> list[float]:
        """Currents of a part's elements, in order."""
        return [self.solution.amps[position] for position in self.of(kind, name)]

    def across(self, position: int) -> float:
        """Volts across an element, from its a to its b; none where a break has left an end of it floating."""
        element = self.elements[position]
        if isinstance(element, Source | Converter):
            raise TypeError("a source has poles, not ends")
        first, last = self.solution.volts[element.a], self.solution.volts[element.b]
        return 0.0 if first is None or last is None else first - last

    def volts(self, line: str, place: str) -> float | None:
        """Potential of a line at a place."""
        node = self.wiring.nodes.get((self.wiring.alias.get(line, line), place))
        return None if node is None else self.solution.volts[node]


class States:
    """All states of a build. `place_rise`: rise in K of the air in each place, once it is known."""

    def __init__(self, build: Build, parts: Parts) -> None:
        self.build, self.parts = build, parts
        self.place_rise: dict[str, float] = {}
        self.failed: dict[str, str] = {}
        self.no_start: dict[tuple[str, str], None] = {}
        self.conflict: tuple[str, ...] = ()
        self._networks: dict[State, tuple[Wiring, Network]] = {}
        self._solved: dict[tuple[State, Corner], Solved | None] = {}
        self._thermal = self._die_data()
        flashers = [name for name, circuit in build.circuit.items() if circuit.behaviour == "flash"]
        always = frozenset(build.circuit) - frozenset(flashers)
        self.flashers = tuple(flashers)
        self.everything = State("all on", frozenset(build.circuit))
        self.quiet = State("no flasher on", always) if flashers else self.everything
        self.alone = {
            name: State(f"of the flashers only '{name}' on", always | {name})
            if len(flashers) > 1
            else self.everything
            for name in flashers
        }

    def highest_state(self, circuit: str) -> State:
        """The state in which a circuit's lamps get most: nothing else that may be off is on."""
        return self.alone.get(circuit, self.quiet)

    def solved(self, state: State, corner: Corner) -> Solved | None:
        """The solution, or None where there is none (and `failed` tells why)."""
        key = (state, corner)
        if key not in self._solved:
            self._solved[key] = self._solve(state, corner)
        return self._solved[key]

    def _die_data(self) -> dict[tuple[str, str], tuple[str, float, int]]:
        data: dict[tuple[str, str], tuple[str, float, int]] = {}
        for lamp in self.parts.lamps:
            if lamp.dice:
                data["lamp", lamp.name] = (lamp.place, lamp.dice[0].kelvin_per_watt, len(lamp.dice))
        for strip in self.parts.strips:
            dice = strip.chains[0][0]
            data["strip", strip.name] = (strip.place, dice[0].kelvin_per_watt, len(dice))
        return data

    def _solve(self, state: State, corner: Corner) -> Solved | None:
        kin = next(
            (known for (other, _), known in self._solved.items() if other == state and known is not None),
            None,
        )
        if state not in self._networks:
            wiring = wire_up(self.build, self.parts, state)
            self._networks[state] = (wiring, Network(Circuit(wiring.count, wiring.elements(corner))))
        wiring, network = self._networks[state]
        start = kin.solution if kin is not None else None
        heating = kin.heating if kin is not None else {}
        for _ in range(1 if corner.junction is None else HEATING_PASSES):
            elements = wiring.elements(corner, None if corner.junction is None else heating)
            solution = network.solve(elements, start)
            if not solution.converged:
                self._note_failure(state, corner, solution, wiring)
                return None
            for position in solution.will_not_start:
                self.no_start[wiring.slots[position].name, state.name] = None
            start = solution
            heating = self.heating_of(wiring, elements, solution)
        return Solved(wiring, network, elements, solution, heating)

    def _note_failure(self, state: State, corner: Corner, solution: Solution, wiring: Wiring) -> None:
        name = state.name if corner == Corner() else f"{state.name}, {corner.words()}"
        self.failed.setdefault(name, solution.reason)
        if solution.conflict:
            self.conflict = tuple(
                dict.fromkeys(wiring.slots[position].name for position in solution.conflict)
            )

    def heating_of(
        self, wiring: Wiring, elements: tuple[Element, ...], solution: Solution
    ) -> dict[int, float]:
        """The rise in K of each string's junctions above the outside air: of its place, and its own."""
        heating: dict[int, float] = {}
        for key, (place, kelvin_per_watt, dice) in self._thermal.items():
            rise = self.place_rise.get(place, 0.0)
            for position in wiring.index.get(key, ()):
                element = elements[position]
                if isinstance(element, String):
                    amps = solution.amps[position]
                    first, last = solution.volts[element.a], solution.volts[element.b]
                    dark = first is None or last is None  # a break has left it floating
                    volts = 0.0 if dark else solution.across(element.a, element.b) - amps * element.ohms
                    heating[position] = rise + max(amps * volts, 0.0) / dice * kelvin_per_watt
        return heating

    def changed(self, base: Solved, position: int, element: Element) -> float | None:
        """The current through one element after it alone is changed: a full solution."""
        elements = (*base.elements[:position], element, *base.elements[position + 1 :])
        solution = base.network.solve(elements, base.solution)
        return solution.amps[position] if solution.converged else None
