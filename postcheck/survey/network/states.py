"""Solutions of a build's network by state and corner, each made once and warm-started from its kin."""

from __future__ import annotations

from dataclasses import replace

from postcheck.description.models import Build
from postcheck.physics.network import (
    Circuit,
    Converter,
    Demand,
    Element,
    Filament,
    Network,
    Solution,
    Source,
    String,
    forward_voltage,
)
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.netlist import Netlist, State, netlist_of
from postcheck.wiring import Wiring
from postcheck.wiring.graph import Node
from postcheck.wiring.parts import Parts

__all__ = ["Solved", "States"]

# Passes of solving, heating the junctions by what they give off, and solving again: the coupling is about
# 3 mV/K x 500 K/W x 3 V x dI/dV, a few per cent a pass, so three passes leave less than a microvolt in a volt.
HEATING_PASSES = 3
# Ohm: of what hangs on the lines while one lamp is tried alone; it takes picoamperes and keeps its place in the network.
OPEN = 1e12


class Solved:
    """One converged solution with its network and the elements it belongs to."""

    __slots__ = ("elements", "heating", "netlist", "network", "solution")

    def __init__(
        self,
        netlist: Netlist,
        network: Network,
        elements: tuple[Element, ...],
        solution: Solution,
        heating: dict[int, float],
    ) -> None:
        self.netlist: Netlist = netlist
        self.network: Network = network
        self.elements: tuple[Element, ...] = elements
        self.solution: Solution = solution
        self.heating: dict[int, float] = heating

    def of(self, kind: str, name: str) -> list[int]:
        """Positions of a part's elements."""
        return self.netlist.index.get((kind, name), [])

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

    def volts(self, node: Node) -> float | None:
        """Potential of a node of the wiring; None where it is not known."""
        number = self.netlist.nodes.get(node)
        return None if number is None else self.solution.volts[number]


class States:
    """All states of a build. `place_rise`: rise in K of the air in each place, once it is known."""

    def __init__(self, wiring: Wiring) -> None:
        build = wiring.build
        self.wiring: Wiring = wiring
        self.build: Build = build
        self.parts: Parts = wiring.parts
        self.place_rise: dict[str, float] = {}
        self.failed: dict[str, str] = {}
        self.no_start: dict[tuple[str, str], None] = {}
        self.conflict: tuple[str, ...] = ()
        self._networks: dict[State, tuple[Netlist, Network]] = {}
        self._solved: dict[tuple[State, Corner], Solved | None] = {}
        self._thermal = self._die_data()
        flashers = [name for name, circuit in build.circuit.items() if circuit.behaviour == "flash"]
        always = frozenset(build.circuit) - frozenset(flashers)
        # a dimmed circuit is off for part of every period
        self._steady = frozenset(name for name in always if build.circuit[name].behaviour == "steady")
        self.flashers: tuple[str, ...] = tuple(flashers)
        self.everything: State = State("all on", frozenset(build.circuit))
        self.quiet: State = State("no flasher on", always) if flashers else self.everything
        self.alone: dict[str, State] = {
            name: State(f"of the flashers only '{name}' on", always | {name})
            if len(flashers) > 1
            else self.everything
            for name in flashers
        }
        self.unloaded: State = self.everything._replace(name="each lamp alone", unloaded=True)

    def highest_state(self, circuit: str) -> State:
        """Of what can be on together, the state in which a circuit's lamps get most: nothing else that may be off is on."""
        on = self._steady | {circuit}
        for state in (self.quiet, *self.alone.values()):
            if state.on == on:
                return state
        return State(
            "only what is steady on"
            if circuit in self._steady
            else f"nothing that can be off but '{circuit}' on",
            on,
        )

    def solved(self, state: State, corner: Corner) -> Solved | None:
        """The solution, or None where there is none (and `failed` tells why)."""
        key = (state, corner)
        if key not in self._solved:
            self._solved[key] = self._solve(state, corner)
        return self._solved[key]

    def tried(self, state: State, corner: Corner) -> tuple[Solved | None, tuple[str, ...]]:
        """The solution of a mishap, or None and what is then joined without resistance; it is no flaw of the build itself."""
        before = dict(self.failed), dict(self.no_start), self.conflict
        self.conflict = ()
        solved, joined = self.solved(state, corner), self.conflict
        self.failed, self.no_start, self.conflict = before
        return solved, joined

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
            netlist = netlist_of(self.wiring, state)
            elements = netlist.elements(corner)
            if state.unloaded:
                elements = _unloaded(netlist, elements)
            self._networks[state] = (netlist, Network(Circuit(netlist.count, elements)))
        netlist, network = self._networks[state]
        start = kin.solution if kin is not None else None
        heating = kin.heating if kin is not None else {}
        for _ in range(1 if corner.junction is None or state.unloaded else HEATING_PASSES):
            elements = netlist.elements(corner, None if corner.junction is None else heating)
            if state.unloaded:
                elements = _unloaded(netlist, elements)
            solution = network.solve(elements, start)
            if not solution.converged:
                self._note_failure(state, corner, solution, netlist)
                return None
            for position in solution.will_not_start:
                self.no_start[netlist.slots[position].name, state.name] = None
            start = solution
            heating = self.heating_of(netlist, elements, solution)
        return Solved(netlist, network, elements, solution, heating)

    def _note_failure(self, state: State, corner: Corner, solution: Solution, netlist: Netlist) -> None:
        name = state.name if corner == Corner() else f"{state.name}, {corner.words()}"
        self.failed.setdefault(name, solution.reason)
        if solution.conflict:
            self.conflict = tuple(
                dict.fromkeys(netlist.slots[position].name for position in solution.conflict)
            )

    def heating_of(
        self, netlist: Netlist, elements: tuple[Element, ...], solution: Solution
    ) -> dict[int, float]:
        """The rise in K of each string's junctions above the outside air: of its place, and its own."""
        return {
            position: self.rise_of(key, elements[position], solution.amps[position])
            for key in self._thermal
            for position in netlist.index.get(key, ())
            if isinstance(elements[position], String)
        }

    def rise_of(self, key: tuple[str, str], element: Element, amps: float) -> float:
        """The rise in K of a string's dice above the outside air at a current in A: of their place, and their own."""
        if key not in self._thermal or not isinstance(element, String):
            return 0.0
        place, kelvin_per_watt, dice = self._thermal[key]
        own = 0.0
        if amps > 0.0:  # what leaks backwards heats nothing
            own = amps * sum(forward_voltage(die, amps) for die in element.diodes) / dice * kelvin_per_watt
        return self.place_rise.get(place, 0.0) + max(own, 0.0)

    def changed(self, base: Solved, position: int, element: Element) -> float | None:
        """The current through one element after it alone is changed: a full solution."""
        elements = (*base.elements[:position], element, *base.elements[position + 1 :])
        solution = base.network.solve(elements, base.solution)
        return solution.amps[position] if solution.converged else None


def _unloaded(netlist: Netlist, elements: tuple[Element, ...]) -> tuple[Element, ...]:
    """The elements with all lamps, strips and loads taking next to nothing."""
    return tuple(
        _faint(element) if slot.kind in ("lamp", "strip", "load") else element
        for slot, element in zip(netlist.slots, elements, strict=True)
    )


def _faint(element: Element) -> Element:
    match element:
        case String():
            return replace(element, ohms=OPEN)
        case Filament() | Demand():
            return replace(element, amps=1.0 / OPEN)
    return element
