"""What nothing carries yet: conductors that would have to be laid before everything is fed, and where each would go.

    where the net has come so far --unbuilt--> the nearest place of what it does not reach

Each joins two components that nothing joined, so none closes a loop.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from postcheck.description.naming import passages_of
from postcheck.wiring.consumers import Consumer
from postcheck.wiring.graph import SUPPLY_SIDE, Edge, Node
from postcheck.wiring.parts import LampPart
from postcheck.wiring.through import way_lengths

if TYPE_CHECKING:
    from postcheck.description.models import Build
    from postcheck.wiring.resolved import Wiring


class Unbuilt(NamedTuple):
    """A conductor of a line that is still to be laid, as an edge of kind `unbuilt`.

    `start`, `place`: its ends. `joined`: kind and name of what is joined behind it. `through`: the passages on the
    shortest way there, as far as the file knows one. `hops`: how many passages, ways or runs that has. `length`: along
    the ways of the file, m; None where these do not say.
    """

    edge: Edge
    line: str
    start: str
    place: str
    joined: tuple[tuple[str, str], ...]
    through: tuple[str, ...]
    hops: int
    length: float | None


class _Need(NamedTuple):
    """A node that something is joined at, the line that it asks for, and the node where that line begins."""

    line: str
    node: Node
    begins: Node
    joined: tuple[str, str]


def unbuilt(wiring: Wiring, consumers: Iterable[Consumer]) -> tuple[Unbuilt, ...]:
    """What is to be laid so that both poles reach every converter, board and consumer."""
    return tuple(_Builder(wiring).found(tuple(consumers)))


def lacking(wiring: Wiring) -> frozenset[tuple[str, str]]:
    """Kind and name of all whose figures lack something that is still to be laid, limited or fed."""
    build, parts = wiring.build, wiring.parts
    apart = {part.name for part in parts.apart}
    circuits = {
        one.driver.circuit
        for one in wiring.every_consumer
        if one.name in apart or not all(leg.joint in wiring.built for leg in one.legs)
    }
    drivers = [wiring.drivers[name] for name in circuits]
    lines = {one.line for one in wiring.unbuilt}
    lines |= {line for driver in drivers for line in (driver.circuit, driver.return_net, driver.pole) if line}
    found = {("circuit", name) for name in circuits} | {("line", line) for line in lines}
    for one in wiring.unbuilt:
        found |= {*one.joined, *(("passage", name) for name in one.through)}
    for driver in drivers:
        found.add(("board", driver.board or ""))
        source = driver.supply
        while source is not None and ("supply", source) not in found:
            found.add(("supply", source))
            source = build.supply[source].fed_by
    for part in parts.every:
        if part.circuit in circuits:
            found |= {(part.kind, part.name), (part.kind, part.entry)}
        if part.name in apart:
            found |= {("place", place) for place in (part.place, *part.places)}
    found |= {("run", run.name) for run in parts.runs if run.line in lines}
    return frozenset(found | {("plug", plug.name) for plug in build.plug if lines.intersection(plug.pins)})


def open_ends(wiring: Wiring) -> dict[str, tuple[str, ...]]:
    """What has a lead that does not say where it goes, while nothing is laid to its own place, and where it may be meant to.

    That is where its resistor sits, or else where leads of others go and one of its lines comes, too.
    """
    unlaid = {(name, one.place) for one in wiring.unbuilt for _, name in one.joined}
    places = {leg.joint.place for consumer in wiring.every_consumer for leg in consumer.legs}
    come = {(node.net, node.place) for node in wiring.built}
    found: dict[str, tuple[str, ...]] = {}
    for consumer in wiring.every_consumer:
        part = wiring.parts.named[consumer.name]
        lead, home = part.said.lead, part.place
        chain = getattr(part.said, "places", None)
        legs = () if lead is None else (lead.feed, lead.back)
        if lead is None or lead.to or chain or any(leg and leg.to for leg in legs):
            continue
        if (consumer.name, home) not in unlaid or part.said.keep:
            continue
        seat = part.resistor.place if isinstance(part, LampPart) and part.resistor is not None else home
        others = [place for place in wiring.build.place if place in places - {home}]
        lines = {leg.joint.net for leg in consumer.legs}
        meant = [place for place in others if any((line, place) in come for line in lines)]
        if seat != home or meant:
            found[consumer.name] = (seat,) if seat != home else tuple(meant)
    return found


class _Joined:
    """Which nodes are joined, kept up to date while edges are added."""

    def __init__(self, edges: Iterable[Edge]) -> None:
        self._above: dict[Node, Node] = {}
        for edge in edges:
            self.join(edge.a, edge.b)

    def root(self, node: Node) -> Node:
        above = self._above
        while (up := above.get(node, node)) != node:
            above[node] = above.get(up, up)
            node = up
        return node

    def join(self, a: Node, b: Node) -> None:
        a, b = self.root(a), self.root(b)
        if a != b:
            self._above[b] = a


class _Builder:
    def __init__(self, wiring: Wiring) -> None:
        self.wiring, self.build = wiring, wiring.build
        self.joined = _Joined(wiring.edges)
        self.by_net: dict[str, dict[Node, None]] = {}
        for edge in wiring.edges:
            for node in (edge.a, edge.b):
                if node.end in ("", SUPPLY_SIDE):
                    self.by_net.setdefault(node.net, {})[node] = None
        self.count = 0

    @cached_property
    def _ways(self) -> _Ways:
        return _Ways(self.build)

    def found(self, consumers: Sequence[Consumer]) -> Iterator[Unbuilt]:
        yield from self._laid(self._fixtures(consumers), self._fed)
        yield from self._laid(self._legs(consumers), self._live)

    def _fed(self, need: _Need) -> bool:
        """Whether its line comes there from where that begins."""
        return self.joined.root(need.node) == self.joined.root(need.begins)

    def _live(self, need: _Need) -> bool:
        """Whether a pole of any supply comes there."""
        return self._fed(need) or self.joined.root(need.node) in {
            self.joined.root(node) for node in self.wiring.sources
        }

    def _fixtures(self, consumers: Iterable[Consumer]) -> Iterator[_Need]:
        """Where converters and boards take their current from, away from what feeds them."""
        wiring = self.wiring
        for name, supply in self.build.supply.items():
            if supply.fed_by is not None:
                for sign in "+-":
                    pole = wiring.pole(supply.fed_by, sign)
                    there = wiring.pole(supply.fed_by, sign, supply.place)
                    yield _Need(f"{supply.fed_by}{sign}", there, pole, ("supply", name))
        for driver in dict.fromkeys(consumer.driver for consumer in consumers):
            if driver.board is None or driver.supply is None:
                continue
            idle = self.build.board[driver.board].idle
            for line in (driver.pole, driver.other_pole) if driver.own_return or idle else (driver.pole,):
                there = wiring.pole(driver.supply, line[-1], driver.place)
                yield _Need(line, there, wiring.pole(driver.supply, line[-1]), ("board", driver.board))

    def _legs(self, consumers: Iterable[Consumer]) -> Iterator[_Need]:
        wiring = self.wiring
        for consumer in consumers:
            driver = consumer.driver
            if consumer.string > 0 or driver.supply is None or driver.place is None:
                continue
            other = driver.other_pole[-1]
            back = (
                wiring.ahead(driver.return_net, driver.place)
                if driver.own_return
                else wiring.pole(driver.supply, other)
            )
            whom = (consumer.kind, consumer.name)
            yield _Need(driver.circuit, consumer.supply_leg.joint, wiring.start(driver), whom)
            yield _Need(driver.return_net, consumer.return_leg.joint, back, whom)

    # -- where each is laid

    def _laid(self, needs: Iterable[_Need], met: Callable[[_Need], bool]) -> Iterator[Unbuilt]:
        lines: dict[tuple[str, Node], list[_Need]] = {}
        for need in needs:
            if not met(need):
                lines.setdefault((need.node.net, need.begins), []).append(need)
        for wanted in lines.values():
            while waiting := [need for need in wanted if not met(need)]:
                yield (one := self._nearest(waiting))
                self.joined.join(one.edge.a, one.edge.b)
                self.by_net.setdefault(one.edge.b.net, {})[one.edge.b] = None

    def _nearest(self, needs: Sequence[_Need]) -> Unbuilt:
        """The shortest step from where a net has come to what it does not reach yet."""
        begins, net = needs[0].begins, needs[0].node.net
        of_net = (*self.by_net.get(net, ()), *(need.node for need in needs))
        come = self.joined.root(begins)
        starts = _sides([begins, *(node for node in of_net if self.joined.root(node) == come)], first=False)
        dark = {self.joined.root(need.node) for need in needs}
        targets = _sides([node for node in of_net if self.joined.root(node) in dark], first=True)
        way = self._between(starts, targets)
        start, target = (
            (begins, targets[needs[0].node.place]) if way is None else (starts[way[0]], targets[way[-1]])
        )
        behind = [need for need in needs if self.joined.root(need.node) == self.joined.root(target)]
        here = [need for need in behind if need.node.place == target.place] or behind
        edge = Edge("unbuilt", here[0].line, self.count, start, target)
        self.count += 1
        hops = list(zip(way or (), (way or ())[1:], strict=False))
        return Unbuilt(
            edge, here[0].line, start.place, target.place, tuple(dict.fromkeys(need.joined for need in here)),
            tuple(dict.fromkeys(name for hop in hops for name in self._ways.through[frozenset(hop)])),
            len(hops), self._ways.long(start.place, target.place, hops),
        )  # fmt: skip

    def _between(self, starts: Mapping[str, Node], targets: Mapping[str, Node]) -> tuple[str, ...] | None:
        """The places on the way with the fewest hops from one of some places to one of others; None where none is known."""
        came: dict[str, str | None] = dict.fromkeys(starts)
        waiting = deque(came)
        while waiting:
            place = waiting.popleft()
            if place in targets:
                way = [place]
                while (before := came[way[-1]]) is not None:
                    way.append(before)
                return tuple(reversed(way))
            for other in self._ways.beside.get(place, ()):
                if other not in came:
                    came[other] = place
                    waiting.append(other)
        return None


def _sides(nodes: Iterable[Node], *, first: bool) -> dict[str, Node]:
    """A node for each place: at a plug, the side that the supply reaches, or else the one behind it."""
    found: dict[str, Node] = {}
    for node in nodes:
        if node.place not in found or bool(node.end) == first:
            found[node.place] = node
    return found


class _Ways:
    """Which places are beside each other: a passage, a way, a run or a plug joins them."""

    def __init__(self, build: Build) -> None:
        self.through: dict[frozenset[str], tuple[str, ...]] = {}
        self.beside: dict[str, list[str]] = {}
        self.length = way_lengths(build)
        for name, passage in passages_of(build).items():
            ends = frozenset((passage.start, passage.end))
            self._add(passage.start, passage.end)
            self.through[ends] = (*self.through[ends], name)
        for way in build.way:
            self._add(way.start, way.end)
            ends = frozenset((way.start, way.end))
            self.through[ends] = self.through[ends] or way.through
        for pair in (*(run.ends for run in build.run), *(plug.ends for plug in build.plug if plug.ends)):
            self._add(*pair)

    def _add(self, one: str, other: str) -> None:
        if frozenset((one, other)) not in self.through:
            self.through[frozenset((one, other))] = ()
            self.beside.setdefault(one, []).append(other)
            self.beside.setdefault(other, []).append(one)

    def long(self, start: str, end: str, hops: Sequence[tuple[str, str]]) -> float | None:
        """How long a wire is from one place to another, m, by the ways of the file."""
        straight = self.length.get(frozenset((start, end)))
        if straight is not None:
            return straight
        parts = [self.length.get(frozenset(hop)) for hop in hops]
        known = [part for part in parts if part is not None]
        return sum(known) if known and len(known) == len(parts) else None
