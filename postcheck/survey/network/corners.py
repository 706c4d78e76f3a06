"""Each string's lowest and highest current: its own parts and path at one extreme, all others at the opposite one.

All-high and all-low alone miss the worst on a shared path. A string gets most when its own dice, resistor and wires and
every conductor on its path let most through, while all others take least: dice just switched on, of the most forward
voltage, the most ohms, and wires that are warm and the worst within their standard; so also in the conductors that only
others depend on. It gets least the other way round, just switched on among others that have warmed up.

That no combination lies outside is proven where the conductors are a tree, what two of them feed is nested or apart
(`Paths.nested`), and nothing but strings is connected. The ways of all strings then form one tree of resistances R, and
with a slope D >= 0 of each string's current the currents answer small voltages in series with the strings by the matrix
M = (1/D + R)^-1. That is how a tree of resistances answers voltages at its ends: one of them sends no current out of
another end but lowers it, and never more out of all others than into its own. So M has nothing above zero beside its
diagonal and no row sum below zero, at every point of the tolerances: a string that takes more lowers every other
current; more resistance in a conductor lowers all behind it and raises all others. The extreme lies at the corner named.

Temperatures are tolerances too, each for itself: of each wire anywhere within the room's air, of each die from just
switched on in the coldest room to settled in the warmest. A string that warms itself still takes more with more volts, until it runs away.
The air of closed places is at its warmest as in `warmest.py`: no combination makes it warmer.

Elsewhere (loops; feeds and returns that branch otherwise; loads, converters, constant currents) the corner is chosen by
how the current answers small changes, in one room for all, and what is found is the worst of what was tried.

Where a build has few different strings each corner is a full solution. Above that the rest is replaced by what the
string sees of it (its driving-point equivalent), and the conductors of its path are brought to their corner as if the
others took no notice. Both err to the safe side, the latter by about the square of the share of the volts lost there.
"""

from collections.abc import Iterator
from functools import cached_property
from math import sqrt
from typing import NamedTuple, Self

from postcheck.description.models import Build
from postcheck.physics.network import (
    Element,
    Filament,
    Port,
    Resistance,
    String,
    influence,
    respond,
)
from postcheck.survey.network.elements import REFERENCE, Corner, StringMaker
from postcheck.survey.network.netlist import State
from postcheck.survey.network.paths import Pair, Paths, TreeEdge
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.states import States

# Up to this many different strings, among so many in all, every corner is solved in full.
EXACT_STRINGS = 48
EXACT_SIZE = 300


class Air(NamedTuple):
    """Air temperatures in degC: usual, lowest, highest."""

    usual: float
    low: float
    high: float

    @classmethod
    def of(cls, build: Build) -> Self:
        """The air of a build; usual is the middle of its range."""
        low, high = build.build.air
        return cls((low + high) / 2, low, high)


class Span(NamedTuple):
    """Lowest and highest current of a string, A: stacked worst, and likely."""

    lowest: float
    highest: float
    likely_lowest: float
    likely_highest: float


class Side(NamedTuple):
    """One end of a span: the corner of a string and of the conductors on its path, and that of all else."""

    own: Corner
    others: Corner


class CornerFinder:
    """Finds the spans of strings; equal strings at one pair of nodes are worked out once."""

    def __init__(self, states: States, air: Air) -> None:
        self.states = states
        self.air = air
        self.nominal: Corner = REFERENCE._replace(copper=air.usual, junction=air.usual)
        warm, cold = air.high, air.low
        # everything at its most, in the warmest room with cold wires: also the highest load of supplies
        self.most: Corner = Corner(1, 1, 1, 1, copper=cold, junction=warm, hottest=True)
        # the highest load of a converter's source: it is low, what the converter feeds takes most
        self.sagging: Corner = self.most._replace(supply=-1, converters=1)
        # the lowest volts everywhere: all take most, through the worst wires
        self.sinking: Corner = Corner(-1, 1, 1, 1, copper=warm, junction=warm, most=True, hottest=True)
        self._found: dict[tuple[State, Corner, Element], float | None] = {}
        self._ports: dict[tuple[State, Corner, frozenset[int]], dict[int, Port]] = {}
        self._vertices: dict[tuple[State, Side, frozenset[int]], Solved | None] = {}
        self._ahead: dict[tuple[State, Side, Pair], frozenset[int]] = {}
        self._shifts: dict[tuple[State, Side, Pair], tuple[float, float]] = {}
        self._along: dict[tuple[State, Side, int], tuple[float, float]] = {}

    @cached_property
    def high(self) -> Side:
        """The side of the most current."""
        others = Corner(1, -1, -1, -1, copper=self.air.high, junction=self.air.low, most=True, settled=False)
        return Side(self.most, others if self.proven else others._replace(junction=self.air.high))

    @cached_property
    def low(self) -> Side:
        """The side of the least current."""
        air = self.air
        own = Corner(-1, -1, -1, copper=air.high, junction=air.low, most=True, settled=False)
        others = self.most._replace(supply=-1)
        return Side(own, others if self.proven else others._replace(junction=self.air.low))

    @cached_property
    def low_at_usual(self) -> Side:
        """The side of the least current with all supplies at their usual volts: what parts and temperatures alone leave."""
        own, others = self.low
        return Side(own._replace(supply=0), others._replace(supply=0))

    @cached_property
    def proven(self) -> bool:
        """Whether the spans are shown to hold every combination: see above."""
        build, parts, drivers = self.states.build, self.states.parts, self.states.wiring.drivers
        if not all(part.dice for part in parts.all) or any(
            supply.kind == "converter" for supply in build.supply.values()
        ):
            return False
        if any(driver.steady is not None for driver in drivers.values()):
            return False
        # strings behind one resistor share its heat, so the most of each cannot be found by itself
        if self.states.closed and any(part.shared_resistor for part in parts.all):
            return False
        # a strip's trace that was not measured counts as no resistance, and hides the loop that it closes
        return self.states.wiring.fed.is_tree and self.nested

    @cached_property
    def exact(self) -> bool:
        """Whether corners are full solutions here."""
        solved = self.states.solved(self.states.everything, self.nominal)
        strings = [] if solved is None else strings_of(solved)
        if solved is None or len(strings) > EXACT_SIZE:
            return solved is None
        return len({solved.elements[position] for position in strings}) <= EXACT_STRINGS

    @cached_property
    def nested(self) -> bool:
        """Whether the conductors are a tree in which what two of them feed is nested or apart."""
        solved = self.states.solved(self.states.everything, self.nominal)
        if solved is None:
            return False
        paths = self._paths(self.states.everything, solved)
        amps = solved.solution.amps
        # a lamp that is wired backwards only leaks
        pairs = (_pair(solved, position) for position in strings_of(solved) if amps[position] > 0.0)
        return paths.tree and paths.nested(pairs)

    def _paths(self, state: State, solved: Solved) -> Paths:
        return self.states.paths(state, solved)

    def span(self, kind: str, name: str, number: int, circuit: str) -> Span | None:
        """The span of string `number` of a part, or None where a state it needs has no solution."""
        high_state, everything = self.states.highest_state(circuit, name), self.states.everything
        found = (
            self.extreme(everything, self.low, kind, name, number),
            self.extreme(high_state, self.high, kind, name, number),
            self._likely(everything, -1, kind, name, number),
            self._likely(high_state, 1, kind, name, number),
        )
        known = [amps for amps in found if amps is not None]
        if len(known) < len(found):
            return None
        lowest, highest, likely_low, likely_high = known
        return Span(lowest, highest, max(lowest, likely_low), min(highest, likely_high))

    def alone(self, kind: str, name: str) -> float | None:
        """The most that the first string of a part gets when nothing else takes current: tried first, or the last that still works."""
        solved = self.states.solved(self.states.unloaded, self.most)
        if solved is None:
            return None
        # with all else dark the rest is linear, and its equivalent exact
        position = solved.of(kind, name)[0]
        port = self.port(solved, self.states.unloaded, position)
        return self.through(port, solved.maker(position), self.most)

    def with_more_ohms(self, kind: str, name: str, circuit: str) -> float:
        """The most that a string gets with the most ohms of its resistor, A; the rest taken as linear."""
        state = self.states.highest_state(circuit, name)
        base = self.states.solved(state, self.high.others)
        if base is None:
            return 0.0
        position = base.of(kind, name)[0]
        port, corner = self.seen(state, self.high, base, position), self.most._replace(resistors=-1)
        return self.through(port, base.maker(position), corner)

    def extreme(self, state: State, side: Side, kind: str, name: str, number: int) -> float | None:
        """One string's current at a side of its span."""
        base = self.states.solved(state, side.others)
        if base is None:
            return None
        position = base.of(kind, name)[number]
        key = (state, side.own, self._own(base.maker(position), side.own))
        if key not in self._found:
            self._found[key] = self._extreme(state, side, base, position)
        return self._found[key]

    def _extreme(self, state: State, side: Side, base: Solved, position: int) -> float | None:
        if not self.exact:
            return self.through(self.seen(state, side, base, position), base.maker(position), side.own)
        around = self._around(state, side, base, position)
        elements = (*around[:position], self._own(base.maker(position), side.own), *around[position + 1 :])
        solution = base.network.solve(elements, base.solution)
        return solution.amps[position] if solution.converged else None

    def _own(self, maker: StringMaker, corner: Corner) -> Resistance | Filament | String:
        return maker(corner, self.states.air(corner))

    def through(self, port: Port, maker: StringMaker, corner: Corner) -> float:
        """The current in A of a string at a corner, the rest taken as linear."""
        return respond(port, self._own(maker, corner))[0]

    # -- the others, and the conductors on the path of a string

    def seen(self, state: State, side: Side, base: Solved, position: int) -> Port:
        """What a string sees of all else at a side of its span."""
        if self.exact:
            vertex = self.vertex(state, side, base, position)
            if vertex is not None:
                return self.port(
                    vertex, state, position, self.ahead(state, side, base, _pair(base, position))
                )
        port = self.port(base, state, position)
        lost, more = self._moved(state, side, base, _pair(base, position))
        ohms = max(port.ohms + more, 0.0)
        return Port(position, port.open_volts - lost + more * port.amps, ohms, port.volts, port.amps)

    def _moved(self, state: State, side: Side, base: Solved, pair: Pair) -> tuple[float, float]:
        """V that all currents lose more, and ohm that a path gains, where its conductors go to their corner."""
        key = (state, side, pair)
        if key not in self._shifts:
            lost = gained = 0.0
            for edge, way in self._paths(state, base).path(pair):
                known = self._along.get((state, side, edge.lower))
                more, down = known or self._along_edge(state, side, base, edge)
                lost += more * way * down
                gained += more
            self._shifts[key] = lost, gained
        return self._shifts[key]

    def _along_edge(self, state: State, side: Side, base: Solved, edge: TreeEdge) -> tuple[float, float]:
        """Ohm that the conductors of one edge gain at their corner, and what flows down them, A."""
        slots, amps = base.netlist.slots, base.solution.amps
        now = [base.elements[k] for k in edge.positions]
        more = _side_by_side([slots[k].make(side.own, {}) for k in edge.positions]) - _side_by_side(now)
        down = sum(
            amps[k] if element.b == edge.lower else -amps[k]
            for k, element in zip(edge.positions, now, strict=True)
            if isinstance(element, Resistance)
        )
        found = self._along[state, side, edge.lower] = more, down
        return found

    def port(self, solved: Solved, state: State, position: int, ahead: frozenset[int] = frozenset()) -> Port:
        """What a string sees of all else in a solution, those of all strings made at once."""
        key = (state, solved.corner, ahead)
        if key not in self._ports:
            indices = tuple(dict.fromkeys(solved.netlist.firsts[k] for k in strings_of(solved)))
            self._ports[key] = dict(zip(indices, solved.solution.ports(indices), strict=True))
        return self._ports[key][solved.netlist.firsts[position]]

    def vertex(self, state: State, side: Side, base: Solved, position: int) -> Solved | None:
        """The solution with all at their corner but the string itself."""
        key = (state, side, self.ahead(state, side, base, _pair(base, position)))
        if key not in self._vertices:
            elements = self._around(state, side, base, position)
            solution = base.network.solve(elements, base.solution)
            self._vertices[key] = (
                Solved(base.netlist, base.network, base.corner, elements, solution)
                if solution.converged
                else None
            )
        return self._vertices[key]

    def _around(self, state: State, side: Side, base: Solved, position: int) -> tuple[Element, ...]:
        """The elements with all at their corner but the string itself."""
        ahead = self.ahead(state, side, base, _pair(base, position))
        air, slots = self.states.air(side.own), base.netlist.slots
        return tuple(
            slots[k].make(side.own, air) if k in ahead else element for k, element in enumerate(base.elements)
        )

    def ahead(self, state: State, side: Side, base: Solved, pair: Pair) -> frozenset[int]:
        """What has to go the way of a string between these nodes, for its extreme: on a proven tree the conductors of its path."""
        key = (state, side, pair)
        if key not in self._ahead:
            self._ahead[key] = (
                self._paths(state, base).ahead(pair) if self.nested else frozenset(_helping(base, pair))
            )
        return self._ahead[key]

    def lowest_volts(self, kind: str, name: str, number: int) -> float | None:
        """The least volts across a string, all on: everything takes most, the conductors on its path are at their worst."""
        state = self.states.everything
        base = self.states.solved(state, self.low.others)
        if base is None:
            return None
        if self.exact:
            position = base.of(kind, name)[number]
            vertex = self.vertex(state, self.low, base, position)
            return None if vertex is None else abs(vertex.across(position))
        low = self.states.solved(state, self.sinking)
        return None if low is None else abs(low.across(low.of(kind, name)[number]))

    # -- likely

    def _likely(self, state: State, sign: int, kind: str, name: str, number: int) -> float | None:
        """Root of the sum of squares of single deviations: supply, forward voltage, resistor, air."""
        found = self._singly(state, sign, kind, name, number)
        if found is None:
            return None
        (_, nominal), *others = found
        return nominal + sign * sqrt(sum((amps - nominal) ** 2 for _, amps in others))

    def likely_in_resistor(self, kind: str, name: str, circuit: str) -> float:
        """The likely most that a string's own resistor dissipates, W: current and ohms of each single deviation together."""
        found = self._singly(self.states.highest_state(circuit, name), 1, kind, name, 0)
        typical = self.states.solved(self.states.highest_state(circuit, name), self.nominal)
        if found is None or typical is None:
            return 0.0
        maker = typical.maker(typical.of(kind, name)[0])
        nominal, *others = (amps * amps * maker.resistor_ohms(corner) for corner, amps in found)
        return nominal + sqrt(sum((watts - nominal) ** 2 for watts in others))

    def _singly(
        self, state: State, sign: int, kind: str, name: str, number: int
    ) -> list[tuple[Corner, float]] | None:
        """A string's current in A as usual and with each tolerance by itself, with its corner; None where one has no solution."""
        typical = self.states.solved(state, self.nominal)
        up = self.nominal._replace(supply=sign)
        shifted = self.states.solved(state, up)
        if typical is None or shifted is None:
            return None
        position = typical.of(kind, name)[number]
        found = [
            (self.nominal, typical.solution.amps[position]),
            (up, shifted.solution.amps[position]),
        ]
        air, rises = self.air.high if sign > 0 else self.air.low, self.states.air(self.nominal)
        maker, port = typical.maker(position), self.port(typical, state, position)
        for corner in (
            self.nominal._replace(dice=sign),
            self.nominal._replace(resistors=sign),
            self.nominal._replace(junction=air),
        ):
            element = maker(corner, rises)
            key = (state, self.nominal, element)
            if key not in self._found:
                self._found[key] = respond(port, element)[0]
            amps = self._found[key]
            if amps is None:
                return None
            found.append((corner, amps))
        return found


def strings_of(solved: Solved) -> list[int]:
    """Positions of all strings of dice."""
    return [p for p, slot in enumerate(solved.netlist.slots) if isinstance(slot.make, StringMaker)]


def _pair(solved: Solved, position: int) -> Pair:
    element = solved.elements[position]
    return element.a, element.b  # type: ignore[union-attr]


def _side_by_side(elements: list[Element]) -> float:
    """Ohm of conductors side by side; 0 for what is none."""
    conducting = sum(1.0 / element.ohms for element in elements if isinstance(element, Resistance))
    return 1.0 / conducting if conducting > 0.0 else 0.0


def _helping(base: Solved, pair: Pair) -> Iterator[int]:
    """The conductors of which more resistance lowers the volts between two nodes, and the strings that raise them by taking more.

    By reciprocity: of a current pushed into the first node and out of the second, each conductor takes the share by which
    its voltage counts between the two.
    """
    try:
        moved = influence(base.solution, {pair[0]: 1.0, pair[1]: -1.0})
    except ValueError:  # one of them floats: nothing reaches it
        return
    amps = base.solution.amps
    consumers = set(strings_of(base))
    for position, element in enumerate(base.elements):
        if position not in consumers and not isinstance(element, Resistance):
            continue
        a, b = _pair(base, position)
        first, last = moved[a], moved[b]
        if first is None or last is None:
            continue
        helps = (
            last > first and (a, b) != pair
            if position in consumers
            else amps[position] * (first - last) < 0.0
        )
        if helps:
            yield position
