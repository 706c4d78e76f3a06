"""The build as a network: nodes are those of the wiring and points within leads and strings, elements are its parts.

`netlist_of` fixes the structure once for a state (which circuits are on, what is broken); `Netlist.elements` gives the
numbers of a corner on that same structure, so the solver orders it only once.
"""

from collections import Counter
from collections.abc import Iterable
from types import MappingProxyType
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.physics.network import Demand, Drop, Element, Resistance, SteadyCurrent
from postcheck.survey.network.elements import (
    Corner,
    Maker,
    Rises,
    StringMaker,
    dc_converter,
    fixed,
    glows_through,
    limiting_resistor,
    output_drop,
    supply_source,
    warmed_copper,
)
from postcheck.survey.network.supplies import stops_above_empty, typical_volts, volts_needed
from postcheck.wiring import Wiring
from postcheck.wiring.consumers import Consumer, Leg
from postcheck.wiring.graph import Edge, Node
from postcheck.wiring.looked_up import DIODE_OHMS, DIODE_VOLTS
from postcheck.wiring.parts import LampPart, LegPart, LoadPart, Part, Parts, ResistorPart, RunPart, StripPart

# Chip resistors on strips are 5 % parts (common practice).
STRIP_TOLERANCE = 0.05
# Below this voltage an electronic load whose least voltage is unknown takes proportionally less.
LOAD_KNEE = 1.0
# ohm, at the input of a converter that has not started: below their start small ones take 0.05 to 1 mA (makers' sheets, from memory).
UNSTARTED = 1e5
NO_RISES: Rises = MappingProxyType({})


class State(NamedTuple):
    """What is on and what is broken.

    `on`: the circuits that conduct. `broken`: runs that have come apart. `pins_open`: plug pins that do not meet.
    `crossed`: plugs put in the wrong way round. `open_strings`: strings (lamp, number) that have failed open;
    `short_strings`: those with a die that conducts like wire. `starting`: cold filaments and starting currents;
    `starts`: the one load that starts with all else running, and what it then takes, A.
    `swapped`: supplies with another one in their place; `turned`: supplies with their poles the wrong way round. `unloaded`: nothing that is connected takes current, so that each lamp can be tried alone.
    `unstarted`: converters that give nothing and take next to nothing. `at_most`: loads that can stay at their most take that.
    """

    name: str
    on: frozenset[str]
    pins_open: frozenset[tuple[str, int]] = frozenset()
    broken: frozenset[str] = frozenset()
    crossed: frozenset[str] = frozenset()
    open_strings: frozenset[tuple[str, int]] = frozenset()
    short_strings: frozenset[tuple[str, int]] = frozenset()
    swapped: frozenset[tuple[str, str]] = frozenset()
    turned: frozenset[str] = frozenset()
    starting: bool = False
    starts: tuple[str, float] | None = None
    unloaded: bool = False
    unstarted: frozenset[str] = frozenset()
    at_most: bool = False


class Slot(NamedTuple):
    """One element: what it belongs to, and how its numbers follow from a corner and the rise of each place's air."""

    kind: str
    name: str
    number: int
    make: Maker


class Netlist:
    """The network of one state. `index[(kind, name)]` lists element positions of a part, in order.

    Like strings between the same nodes are one element in several positions. `firsts`: of each position the first with its element.
    """

    def __init__(self, nodes: dict[Node, int], count: int, slots: list[Slot]) -> None:
        self.nodes = nodes
        self.count = count
        self.slots = slots
        self.index: dict[tuple[str, str], list[int]] = {}
        makers: dict[int, int] = {}
        self.firsts: list[int] = []
        for position, slot in enumerate(slots):
            self.index.setdefault((slot.kind, slot.name), []).append(position)
            self.firsts.append(makers.setdefault(id(slot.make), position))

    def elements(self, corner: Corner, rises: Rises = NO_RISES) -> tuple[Element, ...]:
        """The elements at a corner; `rises`: of the air in each place, K."""
        made: list[Element] = []
        for position, (first, slot) in enumerate(zip(self.firsts, self.slots, strict=True)):
            made.append(slot.make(corner, rises) if first == position else made[first])
        return tuple(made)


def netlist_of(wiring: Wiring, state: State) -> Netlist:
    """The network of a build in a state."""
    return NetlistBuilder(wiring, wiring.parts, state).whole()


class NetlistBuilder:
    """Lays out the network of a build in a state. A bench supply at a lead has a layout of its own (bench/rig.py).

    `parts` are those of the wiring, or the same with other values. `held_on`: what is dimmed is on for good.
    """

    held_on: bool = False

    def __init__(self, wiring: Wiring, parts: Parts, state: State) -> None:
        self.wiring: Wiring = wiring
        self.build: Build = wiring.build
        self.state: State = state
        self.parts: dict[str, Part] = dict(parts.named)
        self.runs: dict[str, RunPart] = {run.name: run for run in parts.runs}
        self.same: dict[Node, Node] = {}
        self.ids: dict[Node, int] = {}
        self.count: int = 0
        self.slots: list[Slot] = []
        self.likeness: dict[str, int] = {}
        self.makeups: dict[tuple[object, ...], int] = {}
        self.makers: dict[tuple[float, ...], StringMaker] = {}

    def whole(self) -> Netlist:
        """The whole build's network."""
        # a rig has few lamps, and parts of its own that are compared one by one
        self.likeness = self.wiring.parts.likeness
        edges = [edge for edge in self.wiring.edges if edge.kind != "channel" or edge.name in self.state.on]
        self.lay(edges)
        self._supplies()
        self._boards()
        self.connect(
            [consumer for consumer in self.wiring.consumers if consumer.driver.circuit in self.state.on]
        )
        return self.netlist()

    def netlist(self) -> Netlist:
        """What has been laid out so far."""
        nodes = {node: self.number(node) for node in (*self.ids, *self.same)}
        return Netlist(nodes, self.count, self.slots)

    # -- nodes

    def _root(self, node: Node) -> Node:
        while node in self.same:
            node = self.same[node]
        return node

    def tie(self, a: Node, b: Node) -> None:
        """Make one node of two; before either has a number."""
        a, b = self._root(a), self._root(b)
        if a != b:
            self.same[b] = a

    def number(self, node: Node) -> int:
        """The number of a node."""
        root = self._root(node)
        if root not in self.ids:
            self.ids[root] = self.count
            self.count += 1
        return self.ids[root]

    def add(self, kind: str, name: str, number: int, make: Maker) -> None:
        """One more element."""
        self.slots.append(Slot(kind, name, number, make))

    # -- what lies between the nodes of the wiring

    def lay(self, edges: Iterable[Edge]) -> None:
        """The elements of some edges; nodes that nothing parts become one."""
        edges = list(edges)
        for edge in edges:
            if self._lossless(edge):
                self.tie(edge.a, edge.b)
        for edge in edges:
            if edge.kind in ("conductor", "body"):
                if edge.name not in self.state.broken:
                    self.add("run", edge.name, edge.number, self._wire(edge))
            elif edge.kind == "pin":
                self._pin(edge)
            elif edge.kind == "switch":
                ohms = self.wiring.switches[edge.name].ohms
                self.add(
                    "switch", edge.name, 0, fixed(Resistance(self.number(edge.a), self.number(edge.b), ohms))
                )
            elif edge.kind == "channel":
                self._channel(edge)

    def _lossless(self, edge: Edge) -> bool:
        if edge.kind == "channel":
            return self.wiring.drivers[edge.name].lossless
        if edge.kind in ("trace", "leg"):
            strip = self.parts[edge.name]
            assert isinstance(strip, StripPart)
            if edge.kind == "trace":
                return strip.trace is None
            return (strip.supply_leg if edge.number == 0 else strip.return_leg).wire is None
        return edge.kind in ("joint", "unbuilt")

    def _wire(self, edge: Edge) -> Maker:
        a, b, run = self.number(edge.a), self.number(edge.b), self.runs[edge.name]
        return lambda corner, _: Resistance(a, b, max(run.ohms(corner.copper, most=corner.most), 1e-9))

    def _pin(self, edge: Edge) -> None:
        if (edge.name, edge.number) in self.state.pins_open:
            return
        pins = self.wiring.pins[edge.name]
        far = pins[-1 - edge.number] if edge.name in self.state.crossed else edge
        ohms = self.wiring.contact(edge.name)
        self.add(
            "plug", edge.name, edge.number, fixed(Resistance(self.number(edge.a), self.number(far.b), ohms))
        )

    def _channel(self, edge: Edge) -> None:
        driver = self.wiring.drivers[edge.name]
        if driver.lossless:
            return
        a, b = driver.ends(self.number(edge.a), self.number(edge.b))
        if driver.steady is not None:
            self.add("output", edge.name, 0, fixed(SteadyCurrent(a, b, driver.steady, volts_needed(driver))))
        else:
            feeds = driver.supply or ""
            self.add("output", edge.name, 0, output_drop(a, b, driver.drop, feeds, self.build.supply[feeds]))

    # -- supplies and boards

    def _poles(self, supply: str, place: str) -> tuple[int, int]:
        return self.number(self.wiring.pole(supply, "+", place)), self.number(
            self.wiring.pole(supply, "-", place)
        )

    def _boards(self) -> None:
        for name, board in self.build.board.items():
            if board.idle:
                a, b = self._poles(board.supply, board.place)
                self.add("board", name, 0, fixed(Demand(a, b, board.idle, board.least_volts or LOAD_KNEE)))

    def _supplies(self) -> None:
        instead = dict(self.state.swapped)
        for name, supply in self.build.supply.items():
            if name not in self.wiring.known_supplies:
                continue
            plus, minus = (self.number(self.wiring.terminal(name, sign)) for sign in "+-")
            if supply.fed_by is not None:  # only converters have it
                into, back = self._poles(supply.fed_by, supply.place)
                if name in self.state.unstarted:
                    self.add("unstarted", name, 0, fixed(Resistance(into, back, UNSTARTED)))
                    continue
                source = self.build.supply[supply.fed_by]
                idle = (supply.idle or 0.0) * typical_volts(source)
                self.add(
                    "converter", name, 0, dc_converter(name, into, back, plus, minus, supply, source, idle)
                )
            else:
                given = self.build.supply[instead.get(name, name)]
                never_low = stops_above_empty(self.build, name)
                if name in self.state.turned:
                    plus, minus = minus, plus
                self.add("supply", name, 0, supply_source(name, plus, minus, given, never_low=never_low))

    # -- consumers

    def connect(self, consumers: Iterable[Consumer]) -> None:
        """Strings, strips and loads, each with its leads; a leg that several share is an element of its own."""
        consumers = list(consumers)
        users = Counter(leg for consumer in consumers for leg in consumer.legs)
        shared: dict[Leg, Node] = {}
        behind: dict[str, Node] = {}
        for consumer in consumers:
            part = self.parts[consumer.name]
            if isinstance(part, LampPart):
                self._string(consumer, part, users, shared, behind)
            else:
                ends = [self._end(consumer, leg, part, shared) for leg in consumer.legs]
                if isinstance(part, StripPart):
                    self._strip(consumer, part, *ends)
                else:
                    assert isinstance(part, LoadPart)
                    self._load(consumer, part, *ends)

    def _end(self, consumer: Consumer, leg: Leg, part: Part, shared: dict[Leg, Node]) -> Node:
        """The node at the beginning of a leg that is an element of its own."""
        data = part.supply_leg if leg.side == "supply" else part.return_leg
        if data.wire is None:
            return leg.joint
        if leg not in shared:
            shared[leg] = self._start(consumer, leg)
            a, b = self.number(leg.joint), self.number(shared[leg])
            self.add(f"{leg.side} leg", leg.owner, leg.string or 0, _leg_between(a, b, data))
        return shared[leg]

    def _start(self, consumer: Consumer, leg: Leg) -> Node:
        if isinstance(self.parts[consumer.name], StripPart):
            return Node(leg.joint.net, consumer.place, f"near end of {consumer.name}")
        return Node("", leg.owner, f"{leg.side} {leg.string}")

    def _string(
        self, consumer: Consumer, lamp: LampPart, users: Counter[Leg], shared: dict[Leg, Node], behind: dict[str, Node],
    ) -> None:  # fmt: skip
        string = (lamp.name, consumer.string)
        if string in self.state.open_strings:
            return
        inside, ends = [*lamp.links], []
        for leg, data in zip(consumer.legs, (lamp.supply_leg, lamp.return_leg), strict=True):
            if users[leg] == 1:
                inside.append(data)
                ends.append(leg.joint)
            else:
                ends.append(self._end(consumer, leg, lamp, shared))
        start, end = ends
        resistor = lamp.resistor
        if resistor is not None and lamp.shared_resistor:
            if lamp.name not in behind:
                behind[lamp.name] = Node("", lamp.name, "behind the resistor")
                a, b = self.number(start), self.number(behind[lamp.name])
                self.add("resistor", lamp.name, 0, limiting_resistor(a, b, resistor))
            start, resistor = behind[lamp.name], None
        a, b = consumer.driver.ends(self.number(start), self.number(end))
        if lamp.backwards:
            a, b = b, a
        short = string in self.state.short_strings
        share = None if self.held_on else glows_through(self.build, lamp.circuit)
        own = len(inside), users[consumer.supply_leg], resistor is None, short, share or 1.0
        key = (a, b, self._alike(lamp), *own)
        make = self.makers.get(key)
        if make is None:
            dice, places = (
                (lamp.dice[1:], lamp.places[1:] or lamp.places) if short else (lamp.dice, lamp.places)
            )
            make = StringMaker((a, b), dice, places, resistor, inside, self.state.starting, share)
            self.makers[key] = make
        self.add(lamp.kind, lamp.name, consumer.string, make)

    def _alike(self, lamp: LampPart) -> int:
        """A number that like lamps have in common."""
        if lamp.name not in self.likeness:
            self.likeness[lamp.name] = self.makeups.setdefault(lamp.makeup, len(self.makeups))
        return self.likeness[lamp.name]

    def _strip(self, consumer: Consumer, strip: StripPart, top: Node, low: Node) -> None:
        """A ladder of segments; where its traces were not measured, all of them side by side."""
        chains = [
            (dice, ResistorPart(ohms, STRIP_TOLERANCE, None, strip.place, "supply"))
            for dice, ohms in strip.chains
        ]
        far = self.wiring.far_ends.get(strip.name)
        for segment in range(strip.segments):
            if strip.trace is not None:
                last = far is not None and segment == strip.segments - 1
                nxt = far if last and far is not None else tuple(
                    Node("", strip.name, f"{side} {segment}") for side in ("supply", "return")
                )  # fmt: skip
                for kind, here, there in zip(("trace", "trace-back"), (top, low), nxt, strict=True):
                    self.add(kind, strip.name, segment, self._trace(here, there, strip))
                top, low = nxt
            a, b = consumer.driver.ends(self.number(top), self.number(low))
            for dice, resistor in chains:
                make = StringMaker((a, b), dice, (strip.place,), resistor, ())
                self.add(strip.kind, strip.name, segment, make)

    def _trace(self, here: Node, there: Node, strip: StripPart) -> Maker:
        ohms = max((strip.trace or 0.0) * strip.segment, 1e-9)  # measured, at 20 degC
        return warmed_copper(self.number(here), self.number(there), ohms)

    def _load(self, consumer: Consumer, load: LoadPart, top: Node, low: Node) -> None:
        a, b = consumer.driver.ends(self.number(top), self.number(low))
        if load.diode is not None:  # it conducts only if something is put in the wrong way round
            self.add("diode", load.name, 0, fixed(Drop(b, a, DIODE_VOLTS, DIODE_OHMS)))
        knee, amps = load.lowest or LOAD_KNEE, (load.least, load.typical, load.most)
        start = load.starting if self.state.starting else None
        if self.state.at_most and load.stays_at_most:
            start = load.most
        if self.state.starts is not None and self.state.starts[0] == load.name:
            start = self.state.starts[1]
        self.add(
            load.kind, load.name, 0,
            lambda corner, _: Demand(a, b, max(start or amps[corner.loads + 1], 1e-9), knee),
        )  # fmt: skip


def _leg_between(a: int, b: int, leg: LegPart) -> Maker:
    return lambda corner, _: Resistance(a, b, max(leg.ohms(corner.copper, most=corner.most), 1e-9))
