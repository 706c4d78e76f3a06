"""Nodes, edges, and what is asked of them: what is joined, by which path, in a loop or not, and what lies behind.

Topology only; what an edge measures stands with the part that it belongs to.
"""

from collections import deque
from collections.abc import Callable, Collection, Iterable
from functools import cached_property
from heapq import heappop, heappush
from typing import Literal, NamedTuple

EdgeKind = Literal["conductor", "body", "joint", "pin", "switch", "leg", "trace", "channel", "unbuilt"]
"""A conductor of a run; the metal of a post or spar; a joint of nets; a pin of a plug; a switch that a hand works; a leg of a strip's lead, and its
traces, where something is fed from its far end; the way from a pole through a switch or output to a circuit's net; what is
still to be laid, and counts as joined without loss."""

SUPPLY_SIDE = "supply side"
"""The end of a node that is the supply side of a plug, or of a switch away from where its line begins."""
SWITCHED = "ahead of its switch"
"""The end of a node that lies between a supply's pole, or a circuit's channel, and the switch that sits there."""


class Node(NamedTuple):
    """A net at a place. `end`: the supply side of a plug there, or the end of a strip; empty for the net itself."""

    net: str
    place: str
    end: str = ""


class Edge(NamedTuple):
    """What joins two nodes.

    `name`: of the run, plug, strip or circuit, of the line of a switch, or the place of a joint. `number` counts the conductors of a run, the pins
    of a plug, the joints of a build (-1: a return of its own, where it begins), what is still to be laid.
    """

    kind: EdgeKind
    name: str
    number: int
    a: Node
    b: Node

    def other(self, node: Node) -> Node:
        """The node at its other end."""
        return self.b if node == self.a else self.a


class Graph:
    """An undirected graph with parallel edges. All answers are worked out when asked for, in time linear in its size."""

    def __init__(self, edges: Iterable[Edge], nodes: Iterable[Node] = ()) -> None:
        self.edges: tuple[Edge, ...] = tuple(edges)
        self.at: dict[Node, list[Edge]] = {node: [] for node in nodes}
        for edge in self.edges:
            self.at.setdefault(edge.a, []).append(edge)
            if edge.b != edge.a:
                self.at.setdefault(edge.b, []).append(edge)

    @cached_property
    def nodes(self) -> tuple[Node, ...]:
        """All nodes, those without an edge as well."""
        return tuple(self.at)

    @cached_property
    def _component(self) -> dict[Node, int]:
        found: dict[Node, int] = {}
        for number, node in enumerate(self.at):
            if node not in found:
                found |= dict.fromkeys(self.reached((node,)), number)
        return found

    def root(self, node: Node) -> Node:
        """The first node of its component, which represents it; a node that is not in the graph represents itself."""
        return self.nodes[self._component[node]] if node in self._component else node

    def joined(self, a: Node, b: Node) -> bool:
        """Whether there is a path from one node to the other."""
        return a == b or self._component.get(a, -1) == self._component.get(b, -2)

    def reached(
        self, starts: Iterable[Node], *, without: Collection[Edge] = (), avoiding: Collection[Node] = ()
    ) -> set[Node]:
        """All nodes that can be reached from these, themselves included, without some edges and past no node avoided."""
        found = {node for node in starts if node not in avoiding}
        waiting = list(found)
        while waiting:
            node = waiting.pop()
            for edge in self.at.get(node, ()):
                other = edge.b if node == edge.a else edge.a
                if other not in found and other not in avoiding and edge not in without:
                    found.add(other)
                    waiting.append(other)
        return found

    def path(
        self, a: Node, b: Node, length: Callable[[Edge], float] | None = None
    ) -> tuple[Edge, ...] | None:
        """The path with the fewest edges, or the least sum of their lengths; None where there is none."""
        came = self.paths_from(a, b) if length is None else self._shortest(a, b, length)
        if b not in came:
            return None
        edges: list[Edge] = []
        while b != a:
            edge = came[b]
            assert edge is not None
            edges.append(edge)
            b = edge.other(b)
        return tuple(reversed(edges))

    def paths_from(self, start: Node, until: Node | None = None) -> dict[Node, Edge | None]:
        """Of each node that can be reached the last edge of a path there with the fewest edges; None at the start."""
        came: dict[Node, Edge | None] = {start: None}
        waiting = deque((start,))
        while waiting and until not in came:
            node = waiting.popleft()
            for edge in self.at.get(node, ()):
                other = edge.other(node)
                if other not in came:
                    came[other] = edge
                    waiting.append(other)
        return came

    def _shortest(self, start: Node, end: Node, length: Callable[[Edge], float]) -> dict[Node, Edge | None]:
        came: dict[Node, Edge | None] = {}
        waiting: list[tuple[float, int, Node, Edge | None]] = [(0.0, 0, start, None)]
        count = 0
        while waiting and end not in came:
            far, _, node, by = heappop(waiting)
            if node in came:
                continue
            came[node] = by
            for edge in self.at.get(node, ()):
                other = edge.other(node)
                if other not in came:
                    count += 1
                    heappush(waiting, (far + length(edge), count, other, edge))
        return came

    def distances(self, start: Node, length: Callable[[Edge], float]) -> dict[Node, float]:
        """The least sum of lengths (none below zero) from a node to all that it reaches; Dijkstra."""
        found: dict[Node, float] = {}
        waiting: list[tuple[float, Node]] = [(0.0, start)]
        while waiting:
            far, node = heappop(waiting)
            if node in found:
                continue
            found[node] = far
            for edge in self.at.get(node, ()):
                other = edge.other(node)
                if other not in found:
                    heappush(waiting, (far + length(edge), other))
        return found

    @cached_property
    def is_tree(self) -> bool:
        """Whether no path leads round a loop.

        What lies side by side between the same two nodes counts as one; but for a trace, which feeds something on its way.
        """
        plain = {
            frozenset((edge.a, edge.b)) for edge in self.edges if edge.a != edge.b and edge.kind != "trace"
        }
        traces = sum(edge.kind == "trace" for edge in self.edges)
        return len(plain) + traces == len(self.at) - len(set(self._component.values()))

    def behind(self, edge: Edge, sources: Iterable[Node]) -> frozenset[Node]:
        """What no source reaches any more once an edge is gone."""
        sources = tuple(sources)
        return frozenset(self.reached(sources) - self.reached(sources, without=(edge,)))

    def all_pass(self, a: Node, b: Node, through: Collection[Node]) -> bool:
        """Whether a path leads from one node to the other, and each goes through one of some nodes."""
        if not self.joined(a, b):
            return False
        return b not in self.reached((a,), avoiding=through)
