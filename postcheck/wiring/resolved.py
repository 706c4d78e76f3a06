"""The wiring of a build, resolved once: nets, nodes and edges, and where every lead is joined to them.

    supply pole --channel--> net at a place --conductor, pin, joint--> net at a place --leg--> consumer

A plug that sits at a place splits each of its nets there in two: the supply side, where whatever comes from the supply
ends, and the node of the place itself, where everything else is joined.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cached_property
from weakref import WeakValueDictionary

from postcheck.description.consumers import strip_names
from postcheck.description.models import Build, Plug
from postcheck.description.naming import run_names
from postcheck.wiring.consumers import Consumer, FineWire, consumers_of, fine_wires
from postcheck.wiring.graph import SUPPLY_SIDE, SWITCHED, Edge, EdgeKind, Graph, Node
from postcheck.wiring.looked_up import parts_of
from postcheck.wiring.nets import Driver, Nets, drivers_of, known_supplies
from postcheck.wiring.parts import Parts, unlimited
from postcheck.wiring.switches import Switch, switches_of
from postcheck.wiring.through import Passages
from postcheck.wiring.unbuilt import Unbuilt, lacking, open_ends, unbuilt

# A plug pin whose resistance the file does not state, ohm: small enough to change no figure, large enough to read the
# current through it. One that is stated may be smaller, but for what a network can be solved with.
CONTACT, LEAST_CONTACT = 1e-3, 1e-9
_KNOWN: WeakValueDictionary[int, Wiring] = WeakValueDictionary()


def resolve(build: Build) -> Wiring:
    """The wiring of a build; of one and the same build it is resolved once as long as somebody holds it."""
    known = _KNOWN.get(id(build))
    if known is None or known.build is not build:
        known = _KNOWN[id(build)] = Wiring(build)
    return known


class Wiring:
    """What is joined to what. `wires`: everything that is joined whatever is on; `fed`: with the channels as well.

    `unbuilt`: what is still to be laid, and counts as joined.
    """

    def __init__(self, build: Build) -> None:
        self.build: Build = build
        self.nets: Nets = Nets(build)
        self._nodes: dict[tuple[str, str], Node] = {}
        self.drivers: dict[str, Driver] = drivers_of(build)
        self.switches: dict[str, Switch] = switches_of(build, self.drivers)
        edges = (
            *self._runs(), *self._pins(), *self._joints(), *self._strips(), *self._channels(), *self._switches()
        )  # fmt: skip
        self._split: dict[Node, frozenset[Edge]] = self._supply_sides(edges)
        self.edges: tuple[Edge, ...] = tuple(map(self._moved, edges)) if self._split else edges
        if self._split:
            self.edges += tuple(self._contacts())
        self.built: frozenset[Node] = frozenset(Graph(self.edges, self.sources).reached(self.sources))
        """Every node that a pole of a supply reaches by what is there."""
        self.unbuilt: tuple[Unbuilt, ...] = unbuilt(self, self.every_consumer)
        self.edges += tuple(one.edge for one in self.unbuilt)

    # -- nodes

    def node(self, line: str, place: str) -> Node:
        """Where a line's net is at a place: behind a plug that sits there."""
        key = (line, place)
        if key not in self._nodes:
            self._nodes[key] = Node(self.nets.at(line, place), place)
        return self._nodes[key]

    def ahead(self, line: str, place: str) -> Node:
        """The same, on the supply side of a plug that sits there."""
        node = self.node(line, place)
        return _supply_side(node) if node in self._split else node

    def pole(self, supply: str, sign: str, place: str | None = None) -> Node:
        """The node of a supply's pole (`+` or `-`), or of the net that it feeds where a board or converter sits."""
        home = self.build.supply[supply].place
        node = self.node(f"{supply}{sign}", place or home)
        return _supply_side(node) if node in self._split and node in self._homes else node

    def terminal(self, supply: str, sign: str) -> Node:
        """The terminal of a supply itself: ahead of a switch that sits there."""
        switch = self.switches.get(f"{supply}{sign}")
        home = self.build.supply[supply].place
        if switch is None or not switch.begins:
            return self.pole(supply, sign, home)
        return self._unswitched(switch)

    def start(self, driver: Driver) -> Node:
        """The node at which a circuit's net begins, behind a switch that sits there."""
        return self.ahead(driver.circuit, driver.place or "")

    def output(self, driver: Driver) -> Node:
        """Where what a circuit loses on its way begins: the supply's own terminal, or the output, ahead of any switch."""
        supply, switch = driver.supply, self.switches.get(driver.circuit)
        if supply is not None and not driver.driven and driver.place == self.build.supply[supply].place:
            return self.terminal(supply, driver.pole[-1])
        return self.start(driver) if switch is None or not switch.begins else self._unswitched(switch)

    def back(self, driver: Driver) -> Node:
        """Where it ends: the other terminal of the supply, or what is joined to it where the circuit begins."""
        if (
            driver.return_net in self.switches
            and driver.place == self.build.supply[driver.supply or ""].place
        ):
            return self.terminal(driver.supply or "", driver.other_pole[-1])
        return self.ahead(driver.return_net, driver.place or "")

    def _unswitched(self, switch: Switch) -> Node:
        return self.node(switch.line, switch.place)._replace(end=SWITCHED)

    @cached_property
    def poles(self) -> dict[str, tuple[str, str]]:
        """Of each line that carries power its supply, and the pole (`+` or `-`) that it leads to."""
        found = {f"{name}{sign}": (name, sign) for name in self.build.supply for sign in "+-"}
        for driver in self.drivers.values():
            signs = "+-" if driver.positive else "-+"
            for line, sign in zip((driver.circuit, driver.return_net), signs, strict=True):
                if driver.supply is not None:
                    found.setdefault(line, (driver.supply, sign))
        return found

    def passes(self, line: str, start: str, place: str, joint: str) -> bool:
        """Whether all that a line carries from one place to a joint goes through a place."""
        through = {self.node(line, place), self.ahead(line, place)}
        return self.wires.all_pass(self.ahead(line, start), self.node(line, joint), through)

    @cached_property
    def _homes(self) -> frozenset[Node]:
        """Where nets begin: the poles of all supplies, but for a negative that is another supply's, away from that one."""
        return frozenset(
            self.node(f"{name}{sign}", supply.place)
            for name, supply in self.build.supply.items()
            for sign in "+-"
            if self.nets.begins(f"{name}{sign}", supply.place)
        )

    @cached_property
    def sources(self) -> tuple[Node, ...]:
        """The poles of all supplies."""
        return tuple(self.terminal(name, sign) for name in self.build.supply for sign in "+-")

    # -- graphs

    @cached_property
    def wires(self) -> Graph:
        """What wire, metal, pins and joints join."""
        return Graph((edge for edge in self.edges if edge.kind != "channel"), self.sources)

    @cached_property
    def fed(self) -> Graph:
        """The same with all circuits switched on."""
        return Graph(self.edges, self.sources)

    def between(self, *kinds: EdgeKind) -> Graph:
        """What edges of some kinds alone join."""
        return Graph(edge for edge in self.edges if edge.kind in kinds)

    @cached_property
    def live(self) -> frozenset[Node]:
        """Every node that a pole of a supply reaches once all is laid."""
        return frozenset(self.fed.reached(self.sources))

    @cached_property
    def joined_circuits(self) -> dict[str, tuple[str, ...]]:
        """Each circuit with those that are joined to it on both sides, apart from the supply; itself first."""
        nets = Graph(
            edge._replace(a=Node(edge.a.net, ""), b=Node(edge.b.net, ""))
            for edge in self.edges
            if edge.kind not in ("channel", "unbuilt") and edge.number >= 0 and edge.a.net != edge.b.net
        )
        groups: dict[tuple[Node, Node, bool], list[str]] = {}
        for name, driver in self.drivers.items():
            supply, back = (
                nets.root(Node(self.nets.at(line, driver.place or ""), ""))
                for line in (name, driver.return_net)
            )
            groups.setdefault((supply, back, driver.positive), []).append(name)
        return {
            name: (name, *(other for other in group if other != name))
            for group in groups.values()
            for name in group
        }

    @cached_property
    def parts(self) -> Parts:
        """Wires, dice and resistors, looked up; what the network lacks something for stands apart."""
        apart = self._apart
        every = self._every_part
        if not apart:
            return every
        return replace(
            every,
            all=tuple(part for part in every.all if part.name not in apart),
            apart=tuple(part for part in every.all if part.name in apart),
        )

    @cached_property
    def _every_part(self) -> Parts:
        return parts_of(self.build)

    @cached_property
    def every_consumer(self) -> tuple[Consumer, ...]:
        """Every string of the lamps, every strip and load."""
        return tuple(consumers_of(self._every_part, self.drivers, self.node))

    @cached_property
    def consumers(self) -> tuple[Consumer, ...]:
        """Those of which enough is known for the network."""
        return tuple(consumer for consumer in self.every_consumer if consumer.name not in self._apart)

    @cached_property
    def _apart(self) -> frozenset[str]:
        """What the network cannot have: LEDs that may yet get a resistor, and what no known supply feeds."""
        return frozenset(
            consumer.name
            for consumer in self.every_consumer
            if consumer.driver.supply not in self.known_supplies
            or (
                unlimited(self._every_part.named[consumer.name], consumer.driver)
                and not all(leg.joint in self.built for leg in consumer.legs)
            )
        )

    @cached_property
    def lacking(self) -> frozenset[tuple[str, str]]:
        """Kind and name of all whose figures lack something that is still to be laid, limited or fed."""
        return lacking(self)

    @cached_property
    def open_ends(self) -> dict[str, tuple[str, ...]]:
        """What has a lead that does not say where it goes, though its line does not come to it; and where that may be."""
        return open_ends(self)

    @cached_property
    def known_supplies(self) -> frozenset[str]:
        """The supplies whose volts the file gives."""
        return known_supplies(self.build)

    @cached_property
    def fine_wires(self) -> tuple[FineWire, ...]:
        """Every leg of a lead, and every link of a chain."""
        return fine_wires(self.every_consumer, self.parts, Passages(self.build))

    @cached_property
    def wires_of(self) -> dict[str, list[FineWire]]:
        """The fine wires of each lamp, strip and load."""
        found: dict[str, list[FineWire]] = {}
        for wire in self.fine_wires:
            found.setdefault(wire.entry, []).append(wire)
        return found

    @cached_property
    def pins(self) -> dict[str, tuple[Edge, ...]]:
        """The pins of each plug, in their order; the supply side is `a`."""
        found: dict[str, list[Edge]] = {plug.name: [] for plug in self.build.plug}
        for edge in self.edges:
            if edge.kind == "pin":
                found[edge.name].append(edge)
        return {name: tuple(edges) for name, edges in found.items()}

    @cached_property
    def plugs(self) -> dict[str, Plug]:
        """The plugs of the file by name."""
        return {plug.name: plug for plug in self.build.plug}

    def contact(self, plug: str) -> float:
        """The resistance of one pin of a plug, ohm."""
        stated = self.plugs[plug].contact
        return CONTACT if stated is None else max(stated, LEAST_CONTACT)

    @cached_property
    def far_ends(self) -> dict[str, tuple[Node, Node]]:
        """Of each strip that feeds something from its far end, the nodes there: of its own net, and of the return."""
        found: dict[str, list[Node]] = {}
        for edge in self.edges:
            if edge.kind == "trace":
                found.setdefault(edge.name, []).append(edge.b)
        return {name: (ends[0], ends[1]) for name, ends in found.items()}

    @cached_property
    def channels(self) -> dict[str, Edge]:
        """The way from a pole (`a`) to the net (`b`) of each circuit."""
        return {edge.name: edge for edge in self.edges if edge.kind == "channel"}

    # -- edges

    def _runs(self) -> Iterator[Edge]:
        for run, name in zip(self.build.run, run_names(self.build), strict=True):
            if run.line is not None and not run.spare and run.carries == "power":
                ends = tuple(self.node(run.line, place) for place in run.ends)
                for number in range(run.conductors):
                    yield Edge("body" if run.body else "conductor", name, number, *ends)

    def _pins(self) -> Iterator[Edge]:
        for plug in self.build.plug:
            if plug.ends is not None:
                for pin, line in enumerate(plug.pins):
                    yield Edge("pin", plug.name, pin, *(self.node(line, place) for place in plug.ends))

    def _joints(self) -> Iterator[Edge]:
        for index, join in enumerate(self.build.join):
            for line in join.lines[1:]:
                yield Edge(
                    "joint",
                    join.place,
                    index,
                    self.node(join.lines[0], join.place),
                    self.node(line, join.place),
                )
        for driver in self.drivers.values():
            if driver.own_return and driver.supply is not None and driver.place is not None:
                pole = self.node(driver.other_pole, driver.place)
                yield Edge("joint", driver.circuit, -1, pole, self.node(driver.return_net, driver.place))

    def _strips(self) -> Iterator[Edge]:
        """Strips that feed something from their far ends, each side a leg of its lead and a trace."""
        for strip, name in zip(self.build.strip, strip_names(self.build), strict=True):
            if strip.far_end is None:
                continue
            driver, lead = self.drivers[strip.circuit or ""], strip.lead
            for number, side in enumerate(("supply", "return")):
                line = driver.circuit if side == "supply" else driver.return_net
                leg = None if lead is None else lead.feed if side == "supply" else lead.back
                to = (
                    (leg.to if leg is not None else None)
                    or (lead.to if lead is not None else None)
                    or strip.place
                )
                joint, far = self.node(line, to), self.node(line, strip.far_end)
                near = joint if lead is None else Node(joint.net, strip.place, f"near end of {name}")
                if near != joint:
                    yield Edge("leg", name, number, joint, near)
                yield Edge("trace", name, number, near, far)

    def _channels(self) -> Iterator[Edge]:
        for name, driver in self.drivers.items():
            if driver.supply is not None and driver.place is not None:
                switch, net = self.switches.get(name), self.node(name, driver.place)
                if switch is not None and switch.begins:
                    net = self._unswitched(switch)
                yield Edge("channel", name, 0, self.node(driver.pole, driver.place), net)

    def _switches(self) -> Iterator[Edge]:
        """Those that sit where their line begins."""
        for line, switch in self.switches.items():
            if switch.begins:
                yield Edge("switch", line, 0, self._unswitched(switch), self.node(line, switch.place))

    # -- plugs at a place

    def _supply_sides(self, edges: Iterable[Edge]) -> dict[Node, frozenset[Edge]]:
        """For each node that a plug splits, the edges that come to it from the supply side."""
        split = dict.fromkeys(
            self.node(line, plug.at) for plug in self.build.plug if plug.at is not None for line in plug.pins
        )
        split |= {self.node(one.line, one.place): None for one in self.switches.values() if not one.begins}
        if not split:
            return {}
        homes = self._homes
        graph = Graph(edges, homes)
        found = {}
        for node in split:
            fed = graph.reached(homes - {node}, avoiding=(node,))
            comes = {edge for edge in graph.at.get(node, ()) if edge.other(node) in fed}
            if node in homes:  # boards and switches at the supply's own place are fed ahead of the plug
                comes |= {
                    edge
                    for edge in graph.at.get(node, ())
                    if edge.kind in ("channel", "switch") or edge.number < 0
                }
            found[node] = frozenset(comes)
        return found

    def _moved(self, edge: Edge) -> Edge:
        a, b = (
            _supply_side(node) if edge in self._split.get(node, ()) else node for node in (edge.a, edge.b)
        )
        return edge if (a, b) == (edge.a, edge.b) else edge._replace(a=a, b=b)

    def _contacts(self) -> Iterator[Edge]:
        for plug in self.build.plug:
            for pin, line in enumerate(plug.pins) if plug.at is not None else ():
                node = self.node(line, plug.at or "")
                yield Edge("pin", plug.name, pin, _supply_side(node), node)
        for line, switch in self.switches.items():
            node = self.node(line, switch.place)
            if not switch.begins:
                yield Edge("switch", line, 0, _supply_side(node), node)


def _supply_side(node: Node) -> Node:
    return node._replace(end=SUPPLY_SIDE)
