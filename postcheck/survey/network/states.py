"""Solutions of a build's network by state and corner, each made once and begun from its kin.

In each the currents, the heat of every die and, where places are closed, the warmth of their air agree: to a part in 1e9
of every current. The air of a place rises by all that dissipates in it, averaged over time with everything on
(`heats.Heats`), over its surface and the loss of its walls (`physics.heat.place_rise`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Literal
from weakref import WeakMethod

from postcheck.description.consumers import CONSUMERS
from postcheck.description.models import Build, Place
from postcheck.limits import Limits
from postcheck.physics.heat import place_rise
from postcheck.physics.network import (
    Circuit,
    Demand,
    Element,
    Filament,
    Network,
    Solution,
    String,
)
from postcheck.survey.network.averages import duty_cycle, flashes
from postcheck.survey.network.elements import Corner, Rises
from postcheck.survey.network.heats import Heat, Heats
from postcheck.survey.network.netlist import NO_RISES, Netlist, State, netlist_of
from postcheck.survey.network.paths import Paths
from postcheck.survey.network.solved import Solved
from postcheck.wiring import Wiring
from postcheck.wiring.parts import Parts

# Ohm: of what is connected to the lines while one lamp is tried alone; it takes picoamperes and keeps its place in the network.
OPEN = 1e12
# K, how closely the air of a place is solved: a string's current moves by some 0.3 % a kelvin, so by less than 1e-9.
SAME_RISE = 1e-7
# After so many rounds of heat and currents the air of a place counts as not settling.
MOST_ROUNDS = 100
# Where heat makes more current, and that more heat, without end, everything has melted and no figure means anything. The climb
# stops at this rise, K, so that lamps and place are judged for what they are: destroyed, and far too hot.
MOST_RISE = 500.0
# Each misconnection is a whole solution; the most that are tried, counted in elements solved (some 20 us each).
MOST_TRIED = 20_000
DOES_NOT_SETTLE = "the heat of its lamps and the air round them come to no rest"


def loss_per_area(place: Place, limits: Limits) -> float:
    """What the walls of a place pass to the room, W/(m2 K)."""
    return limits.value("heat.per-area.bare" if place.painted is False else "heat.per-area")


class Climb:
    """The rises of several places, each led to where it gives itself, by the secant through its last two rounds.

    A place hardly feels the others. Where the secants do not close in, plain rounds from there on. `slopes`: by how much
    more a place is warmed for each kelvin that it is warmer, as far as known.
    """

    PLAIN_FROM = 20

    def __init__(self, first: Mapping[str, float], slopes: Mapping[str, float] = NO_RISES) -> None:
        self.rises: dict[str, float] = dict(first)
        self.slopes: dict[str, float] = dict(slopes)
        self._last: dict[str, tuple[float, float]] = {}
        self._rounds = 0

    def still(self, given: Mapping[str, float], within: float = SAME_RISE) -> bool:
        """Whether the rises reproduce themselves within so many K; if not, they are moved on."""
        if all(abs(given[name] - rise) <= within for name, rise in self.rises.items()):
            return True
        self._rounds += 1
        for name, rise in self.rises.items():
            before = self._last.get(name)
            self._last[name] = (rise, given[name])
            if before is not None and abs(rise - before[0]) > within:
                slope = (given[name] - before[1]) / (rise - before[0])
                self.slopes[name] = min(max(slope, -0.9), 0.9)
            known = self.slopes.get(name, 0.0) if self._rounds < self.PLAIN_FROM else 0.0
            self.rises[name] = rise + (given[name] - rise) / (1.0 - known)
        return False


class States:
    """All states of a build. `hottest`: rise in K of the air in each closed place at its most, once it is known.

    `unwarmed`: closed places whose air is taken as the room's.
    """

    def __init__(
        self, wiring: Wiring, limits: Limits | None = None, unwarmed: frozenset[str] = frozenset()
    ) -> None:
        build = wiring.build
        self.wiring: Wiring = wiring
        self.build: Build = build
        self.parts: Parts = wiring.parts
        self.hottest: Rises = NO_RISES
        self.failed: dict[str, str] = {}
        self.no_start: dict[tuple[str, str], None] = {}
        self.conflict: tuple[str, ...] = ()
        limits = limits or Limits()
        flashers = [name for name, circuit in build.circuit.items() if flashes(circuit, limits)]
        # lamps that flash by themselves, on whatever circuit: dark, their strings are open
        chips = {lamp.name: lamp.string_names for lamp in wiring.parts.lamps if lamp.flashes is not None}
        dark = frozenset(string for strings in chips.values() for string in strings)
        self._chips: dict[str, frozenset[tuple[str, int]]] = chips
        self._dark: frozenset[tuple[str, int]] = dark
        # open places have the room's air, those without a surface are not judged
        self.closed: dict[str, tuple[float, float]] = {
            name: (place.surface, loss_per_area(place, limits))
            for name, place in build.place.items()
            if place.access != "open" and place.surface and name not in unwarmed
        }
        self._heats: Heats | None = None
        self._networks: dict[State, tuple[Netlist, Network]] = {}
        self._paths: dict[State, Paths] = {}
        self._solved: dict[tuple[State, Corner], Solved | None] = {}
        self._first: dict[State, Solution] = {}
        self._work_left: int = MOST_TRIED
        self._tried_work: int = 0
        self._air: dict[Corner, Rises] = {}
        self._highest: dict[tuple[str, frozenset[tuple[str, int]]], State] = {}
        self.slopes: Rises = NO_RISES
        always = frozenset(build.circuit) - frozenset(flashers)
        # a dimmed circuit is off for part of every period, and what an output or a board drives can be switched off
        self._always_on = frozenset(
            name
            for name, circuit in build.circuit.items()
            if circuit.behaviour == "steady" and circuit.output is None and circuit.board is None
        )
        self.flashers: tuple[str, ...] = (*flashers, *chips)
        self.everything: State = State("all on", frozenset(build.circuit))
        several = len(flashers) + len(chips) > 1
        self.quiet: State = (
            State("no flasher on", always, open_strings=dark) if flashers or chips else self.everything
        )
        self.alone: dict[str, State] = {
            name: State(f"of the flashers only '{name}' on", always | {name}, open_strings=dark)
            if several
            else self.everything
            for name in flashers
        }
        self.by_itself: dict[str, State] = {
            name: State(f"of the flashers only '{name}' on", always, open_strings=dark - strings)
            if several
            else self.everything
            for name, strings in chips.items()
        }
        self.unloaded: State = self.everything._replace(name="each lamp alone", unloaded=True)

    def highest_state(self, circuit: str, lamp: str | None = None) -> State:
        """The state in which a circuit's lamps get most: nothing else that may be off is on.

        `lamp`: that in which this one gets most, with all others that flash by themselves dark.
        """
        dark = frozenset[tuple[str, int]]()
        if lamp is not None:
            dark = self._dark - self._chips.get(lamp, frozenset())
        key = (circuit, dark)
        if key not in self._highest:
            on = self._always_on | {circuit}
            known = (self.everything, self.quiet, *self.alone.values())
            name = "on only what is never switched off"
            self._highest[key] = next(
                (state for state in known if state.on == on and state.open_strings == dark),
                State(
                    name if circuit in self._always_on else f"{name} and '{circuit}'", on, open_strings=dark
                ),
            )
        return self._highest[key]

    def solved(self, state: State, corner: Corner) -> Solved | None:
        """The solution, or None where there is none (and `failed` tells why)."""
        key = (state, corner)
        if key not in self._solved:
            solved = self._solved[key] = self._solve(state, corner)
            if solved is not None:
                self._first.setdefault(state, solved.solution)
        return self._solved[key]

    def tried(self, state: State, corner: Corner) -> tuple[Solved | None, tuple[str, ...]]:
        """The solution of a misconnection, or None and what is then joined without resistance; it is no flaw of the build itself."""
        self.air(corner)
        before = dict(self.failed), dict(self.no_start), self.conflict
        self.conflict = ()
        solved, joined = self.solved(state, corner), self.conflict
        self.failed, self.no_start, self.conflict = before
        return solved, joined

    def tried_once(
        self, state: State, corner: Corner
    ) -> tuple[Solved | None, Literal["", "unsolved", "untried"]]:
        """The solution of a misconnection that is needed only once, or why there is none; it is not cached.

        "untried": too many have been tried already on a network of this size.
        """
        netlist, _ = self._networks[self.everything]
        self._work_left -= len(netlist.slots)
        if self._work_left < 0:
            return None, "untried"
        solved, _ = self.tried(state, corner)
        self._tried_work += _work(*self._networks.pop(state))
        self._solved.pop((state, corner), None)
        self._first.pop(state, None)
        return solved, "" if solved is not None else "unsolved"

    @property
    def work(self) -> int:
        """Elements, each as often as a step of Newton's method took it in, in all that was solved so far."""
        return self._tried_work + sum(_work(*network) for network in self._networks.values())

    def air(self, corner: Corner) -> Rises:
        """The rise in K of the air in each closed place at a corner, everything on; none where it is not counted."""
        if not corner.warm or not self.closed:
            return NO_RISES
        if corner.hottest:
            return self.hottest
        if corner not in self._air:
            self.solved(self.everything, corner)
        return self._air.get(corner, NO_RISES)

    def rises(self, watts: Mapping[str, float]) -> dict[str, float]:
        """The rise of the air in each closed place, K, by what its parts dissipate (W)."""
        return {
            name: min(
                place_rise(watts.get(name, 0.0) + (self.build.place[name].heat or 0.0), surface, loss),
                MOST_RISE,
            )
            for name, (surface, loss) in self.closed.items()
        }

    def heats(self, solved: Solved) -> Heats:
        """What dissipates, by the elements of the network with everything on, of which `solved` is a solution."""
        if self._heats is None:
            self._heats = Heats(self.wiring, solved.netlist, WeakMethod(self._idle))
        return self._heats

    def _idle(self, corner: Corner) -> Solved | None:
        return self.solved(self.unloaded, corner)

    def heat(self, solved: Solved) -> tuple[Heat, ...]:
        """Place, part and W averaged over time, from a solution with everything on."""
        return self.heats(solved).rows(solved, self.paths(self.everything, solved))

    def steady_heat(self, solved: Solved) -> tuple[Heat, ...]:
        """The same with what flashes or is dimmed on for good, and loads that can stay at their most at that.

        Nothing where that is as usual.
        """
        state = self.everything
        if any(load.stays_at_most for load in self.parts.loads):
            state = state._replace(name="all on, loads at their most", at_most=True)
            at_most, _ = self.tried(state, solved.corner)
            solved, state = (solved, self.everything) if at_most is None else (at_most, state)
        if state == self.everything and all(
            duty_cycle(self.build, name) == 1.0 for name in self.build.circuit
        ):
            return ()
        heats = Heats(self.wiring, solved.netlist, WeakMethod(self._idle), steadily=True)
        return heats.rows(solved, self.paths(state, solved))

    def paths(self, state: State, solved: Solved) -> Paths:
        """The tree of what conducts in a state, of which `solved` is a solution."""
        if state not in self._paths:
            self._paths[state] = Paths(solved.netlist, solved.elements)
        return self._paths[state]

    def _solve(self, state: State, corner: Corner) -> Solved | None:
        if state != self.everything or not corner.warm or corner.hottest or not self.closed:
            return self.at(state, corner, NO_RISES if state.unloaded else self.air(corner))
        nearest = next(iter(self._air.values()), None)
        climb = Climb(nearest or dict.fromkeys(self.closed, 0.0), self.slopes)
        start = None
        for _ in range(MOST_ROUNDS):
            solved = self.at(state, corner, climb.rises, start)
            if solved is None:
                return None
            paths = self.paths(self.everything, solved)
            watts = self.heats(solved).by_place(solved, paths, frozenset(self.closed))
            if climb.still(self.rises(watts)):
                self._air[corner], self.slopes = climb.rises, climb.slopes
                return solved
            start = solved.solution
        self._note_failure(state, corner, DOES_NOT_SETTLE)
        return None

    def _network(self, state: State, corner: Corner) -> tuple[Netlist, Network]:
        # the connections are the same, whatever is taken
        state = self.everything if state.unloaded else state
        if state not in self._networks:
            netlist = netlist_of(self.wiring, state)
            network = Network(Circuit(netlist.count, netlist.elements(corner)))
            self._networks[state] = (netlist, network)
        return self._networks[state]

    def at(self, state: State, corner: Corner, rises: Rises, start: Solution | None = None) -> Solved | None:
        """The solution at these rises of the air of places, K; made anew each time."""
        netlist, network = self._network(state, corner)
        if start is None:
            start = self._first.get(state)
        elements = netlist.elements(corner, rises)
        if state.unloaded:
            elements = _unloaded(netlist, elements)
        solution = network.solve(elements, start)
        if not solution.converged:
            self._note_failure(state, corner, solution.reason)
            if solution.conflict:
                self.conflict = tuple(
                    dict.fromkeys(netlist.slots[position].name for position in solution.conflict)
                )
            return None
        for position in solution.will_not_start:
            self.no_start[netlist.slots[position].name, state.name] = None
        return Solved(netlist, network, corner, elements, solution)

    def _note_failure(self, state: State, corner: Corner, reason: str) -> None:
        name = state.name if corner == Corner() else f"{state.name}, {corner.words()}"
        self.failed.setdefault(name, reason)


def _unloaded(netlist: Netlist, elements: tuple[Element, ...]) -> tuple[Element, ...]:
    """The elements with all consumers taking next to nothing."""
    return tuple(
        _faint(element)
        if slot.kind in CONSUMERS and isinstance(element, String | Filament | Demand)
        else element
        for slot, element in zip(netlist.slots, elements, strict=True)
    )


def _faint(element: String | Filament | Demand) -> Element:
    if isinstance(element, String):
        return replace(element, ohms=OPEN)
    return replace(element, amps=1.0 / OPEN)


def _work(netlist: Netlist, network: Network) -> int:
    return len(netlist.slots) * network.steps
