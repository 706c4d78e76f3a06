"""The conductors of a network as a tree: the path of each consumer, and what lies behind each conductor."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence

from postcheck.description.consumers import CONSUMERS
from postcheck.physics.network import Converter, Element, Source
from postcheck.physics.network.elements import ends
from postcheck.survey.network.netlist import Netlist

# What takes current; all else of a netlist conducts it. A converter does both.
TAKERS = frozenset({*CONSUMERS, "board"})

Pair = tuple[int, int]


class TreeEdge:
    """Conductors side by side between two nodes of the tree: several of one run, or one alone."""

    __slots__ = ("lower", "positions", "upper")

    def __init__(self, position: int, upper: int, lower: int) -> None:
        self.positions: list[int] = [position]
        self.upper: int = upper
        self.lower: int = lower


class Paths:
    """What conducts in a network: whether it is a tree, and which consumers lie behind each conductor of it.

    `tree`: no conductor closes a loop (several of one run, side by side, are one). Where some do, the paths are those of
    one spanning tree. Nodes are those of the network; positions those of its elements.
    """

    def __init__(self, netlist: Netlist, elements: Sequence[Element]) -> None:
        self.tree: bool = True
        self._above: dict[int, TreeEdge] = {}
        self._depth: dict[int, int] = {}
        self._order: list[int] = []
        self._closing: list[tuple[int, Pair]] = []
        self._grow(netlist, elements)

    def _grow(self, netlist: Netlist, elements: Sequence[Element]) -> None:
        near: dict[int, list[tuple[int, int]]] = {}
        roots: list[int] = []
        for position, (slot, element) in enumerate(zip(netlist.slots, elements, strict=True)):
            if slot.kind in TAKERS:
                continue
            a, b = ends(element)
            if isinstance(element, Source | Converter):
                roots.append(b)
            if a != b:
                near.setdefault(a, []).append((position, b))
                near.setdefault(b, []).append((position, a))
        used: set[int] = set()
        for root in (*roots, *near):
            if root in self._depth:
                continue
            self._depth[root] = 0
            queue = deque([root])
            while queue:
                node = queue.popleft()
                self._order.append(node)
                for position, other in near.get(node, ()):
                    if position in used:
                        continue
                    used.add(position)
                    if other not in self._depth:
                        self._depth[other] = self._depth[node] + 1
                        self._above[other] = TreeEdge(position, node, other)
                        queue.append(other)
                    else:
                        self._side_by_side(netlist, position, node, other)

    def _side_by_side(self, netlist: Netlist, position: int, node: int, other: int) -> None:
        edge = self._above.get(other)
        slot = netlist.slots[position]
        twin = netlist.slots[edge.positions[0]] if edge is not None and edge.upper == node else None
        if edge is not None and twin is not None and (twin.kind, twin.name) == (slot.kind, slot.name):
            edge.positions.append(position)
        else:
            self.tree = False
            self._closing.append((position, (node, other)))

    def path(self, pair: Pair) -> list[tuple[TreeEdge, int]]:
        """The conductors that carry what flows from the first node of a pair through a consumer to the second.

        With each, +1 where that flows in it from the root of the tree outwards, -1 where inwards. Empty where the two
        are not joined.
        """
        out, back = pair
        found: list[tuple[TreeEdge, int]] = []
        depth = self._depth
        if out not in depth or back not in depth:
            return found
        while out != back:
            one = depth[out] >= depth[back]
            edge = self._above.get(out if one else back)
            if edge is None:
                return []
            found.append((edge, 1 if one else -1))
            if one:
                out = edge.upper
            else:
                back = edge.upper
        return found

    def loops(self) -> Iterator[tuple[int, ...]]:
        """The elements of each loop, the one that closes it first."""
        for closing, pair in self._closing:
            yield closing, *(position for edge, _ in self.path(pair) for position in edge.positions)

    def ahead(self, pair: Pair) -> frozenset[int]:
        """The elements on the path of a consumer between these nodes."""
        return frozenset(position for edge, _ in self.path(pair) for position in edge.positions)

    def nested(self, pairs: Iterable[Pair]) -> bool:
        """Whether, of any two conductors, one feeds all that the other feeds, or they feed nothing in common.

        `pairs`: the ends of all that takes current. It is what a tree of feeds and the tree of their returns may lack
        together, each being a tree; and where two supplies push through one conductor both ways.
        """
        behind: dict[int, set[int]] = {}
        for number, pair in enumerate(set(pairs)):
            for edge, way in self.path(pair):
                behind.setdefault(2 * edge.lower + (way > 0), set()).add(number)
        if any(key ^ 1 in behind for key in behind):
            return False
        innermost: dict[int, int] = {}
        for number, fed in enumerate(sorted(behind.values(), key=len, reverse=True), start=1):
            if len({innermost.get(one, 0) for one in fed}) > 1:
                return False
            innermost.update(dict.fromkeys(fed, number))
        return True

    def flows(self, taken: Mapping[int, float]) -> Iterator[tuple[list[int], float]]:
        """Conductors side by side with the current (A) that consumers send through them together, by Kirchhoff's law.

        `taken`: what they take out of each node, A; below zero what they give back to it.
        """
        passing = dict(taken)
        for node in reversed(self._order):
            edge, amps = self._above.get(node), passing.get(node, 0.0)
            if edge is not None and amps:
                passing[edge.upper] = passing.get(edge.upper, 0.0) + amps
                yield edge.positions, amps
