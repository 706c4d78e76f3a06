"""The shape of a circuit: ideal sources and ties collapsed, islands earthed, the elimination planned.

An ideal tie fixes the difference of two node voltages. The nodes that ties join form a supernode with one
unknown voltage (that of its root); the others differ from it by a known offset. A forest of ties says how the
offsets and, by Kirchhoff's current law, the tie currents follow. Each galvanic island has one earth.
All of this depends on which elements are ideal, closed and running, not on their values.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence

from postcheck.physics.network.elements import (
    ConstantPower,
    Converter,
    Demand,
    Drop,
    Element,
    Filament,
    Resistance,
    Source,
    SteadyCurrent,
    String,
    ends,
)
from postcheck.physics.network.laws import Places
from postcheck.physics.network.sparse import Pattern

__all__ = ["Structure", "is_tie", "tie_volts"]


def is_tie(element: Element) -> bool:
    """Whether it is ideal: it fixes a voltage difference without any resistance."""
    return isinstance(element, Source | Drop | Converter) and element.ohms == 0.0


def tie_volts(element: Element) -> float:
    """V that a tie puts between its upper node (plus, a) and its lower node."""
    if not isinstance(element, Source | Drop | Converter):
        raise TypeError(f"{element!r} is no tie")
    return element.volts


_KIND: dict[type, str] = {
    Resistance: "linear",
    Source: "linear",
    Converter: "linear",
    Drop: "ramps",
    SteadyCurrent: "ramps",
    Demand: "ramps",
    Filament: "filaments",
    ConstantPower: "powers",
    String: "strings",
}


class Structure:
    """Compiled shape of a circuit with `open_drops` (ideal Drops off) and `stopped` (power takers off).

    - `unit[node]`: unknown of its supernode; `units` for earth; -1 where the node floats.
    - `root[node]`: node whose voltage is that unknown.
    - `forest`: (element, parent node, child node, child is the upper one), parents first.
    - `loops`: (element, upper node, lower node, elements of the loop it closes).
    - `places[kind]`: the branches; edge numbers: pairs of unknowns, then one to earth for each unknown, then
      one that is thrown away (both ends in one supernode).
    """

    def __init__(
        self,
        nodes: int,
        elements: Sequence[Element],
        ties: Sequence[bool],
        open_drops: frozenset[int],
        stopped: frozenset[int],
    ) -> None:
        self.nodes = nodes
        self.elements = elements
        self.ties = ties
        self.open_drops = open_drops
        self.stopped = stopped
        # what has a voltage of its own, and what of that delivers
        self.emfs: tuple[int, ...] = tuple(
            k for k, element in enumerate(elements) if isinstance(element, Source | Converter | Drop)
        )
        self.sources: tuple[int, ...] = tuple(k for k in self.emfs if not isinstance(elements[k], Drop))
        self._find_islands()
        self._grow_forest()
        self._place()

    def _find_islands(self) -> None:
        near: list[list[int]] = [[] for _ in range(self.nodes)]
        earths: list[int] = []
        for k, element in enumerate(self.elements):
            if k in self.stopped:
                continue
            a, b = ends(element)
            near[a].append(b)
            near[b].append(a)
            if isinstance(element, Converter):
                near[element.in_plus].append(element.in_minus)
                near[element.in_minus].append(element.in_plus)
            if isinstance(element, Source | Converter):
                earths.append(b)
        reached = [False] * self.nodes
        self.earths: list[int] = []
        for earth in earths:
            if reached[earth]:
                continue
            self.earths.append(earth)
            reached[earth] = True
            stack = [earth]
            while stack:
                for other in near[stack.pop()]:
                    if not reached[other]:
                        reached[other] = True
                        stack.append(other)
        self.reached = reached
        self.floating: tuple[int, ...] = tuple(n for n in range(self.nodes) if not reached[n])

    def _grow_forest(self) -> None:
        near: dict[int, list[tuple[int, int, bool]]] = {}
        closed = [
            k for k, tie in enumerate(self.ties) if tie and k not in self.open_drops and k not in self.stopped
        ]
        # sources first, so that a loop is closed by a switch rather than by a source
        closed.sort(key=lambda k: (isinstance(self.elements[k], Drop), k))
        for k in closed:
            upper, lower = ends(self.elements[k])
            near.setdefault(upper, []).append((k, lower, False))
            near.setdefault(lower, []).append((k, upper, True))
        root = [-1] * self.nodes
        self.forest: list[tuple[int, int, int, bool]] = []
        self.loops: list[tuple[int, int, int, tuple[int, ...]]] = []
        parent: dict[int, tuple[int, int]] = {}
        used: set[int] = set()
        # roots on the minus side, where the many wires are: the other side gives the tie current with less rounding
        starts = [*self.earths, *(ends(self.elements[k])[1] for k in closed)]
        for start in starts:
            if root[start] >= 0:
                continue
            root[start] = start
            queue = deque([start])
            while queue:
                node = queue.popleft()
                for k, other, upper_child in near.get(node, ()):
                    if k in used:
                        continue
                    used.add(k)
                    if root[other] < 0:
                        root[other] = start
                        parent[other] = (node, k)
                        self.forest.append((k, node, other, upper_child))
                        queue.append(other)
                    else:
                        upper, lower = ends(self.elements[k])
                        self.loops.append((k, upper, lower, self._loop(k, upper, lower, parent)))
        self.root: list[int] = [r if r >= 0 else n for n, r in enumerate(root)]

    @staticmethod
    def _loop(closing: int, upper: int, lower: int, parent: dict[int, tuple[int, int]]) -> tuple[int, ...]:
        def up(node: int) -> list[int]:
            path = []
            while node in parent:
                node, k = parent[node]
                path.append(k)
            return path

        return tuple(sorted({closing} | (set(up(upper)) ^ set(up(lower)))))

    def _place(self) -> None:
        earths = set(self.earths)
        number: dict[int, int] = {}
        for node in range(self.nodes):
            root = self.root[node]
            if self.reached[node] and root not in earths and root not in number:
                number[root] = len(number)
        count = len(number)
        self.units = count
        self.unit: list[int] = [
            (number.get(self.root[n], count) if self.reached[n] else -1) for n in range(self.nodes)
        ]
        edges: dict[tuple[int, int], int] = {}
        self.places: dict[str, Places] = {
            kind: Places() for kind in ("linear", "ramps", "filaments", "powers", "strings")
        }
        for k, element in enumerate(self.elements):
            if k in self.stopped:
                continue
            if isinstance(element, Converter):
                self._branch("powers", k, element.in_plus, element.in_minus, edges)
            if self.ties[k] and k not in self.open_drops:
                continue
            a, b = ends(element)
            self._branch(_KIND[type(element)], k, a, b, edges)
        pairs = [pair for pair in edges if pair[1] < count]
        slots = {pair: slot for slot, pair in enumerate(pairs)}
        self.pattern: Pattern = Pattern(count, pairs)
        self.edges: int = len(pairs) + count + 1
        for places in self.places.values():
            places.edge = [self._edge(p, q, slots) for p, q in zip(places.p, places.q, strict=True)]

    def _branch(self, kind: str, k: int, a: int, b: int, edges: dict[tuple[int, int], int]) -> None:
        p, q = self.unit[a], self.unit[b]
        if p < 0:
            return
        places = self.places[kind]
        places.element.append(k)
        places.a.append(a)
        places.b.append(b)
        places.p.append(p)
        places.q.append(q)
        if p != q:
            edges[(p, q) if p < q else (q, p)] = 0

    def _edge(self, p: int, q: int, slots: dict[tuple[int, int], int]) -> int:
        if p == q:
            return self.edges - 1
        low, high = (p, q) if p < q else (q, p)
        return slots[low, high] if high < self.units else len(slots) + low

    def offsets(self, elements: Sequence[Element]) -> list[float]:
        """V of each node above the root of its supernode."""
        offset = [0.0] * self.nodes
        for k, above, node, upper in self.forest:
            volts = tie_volts(elements[k])
            offset[node] = offset[above] + (volts if upper else -volts)
        return offset

    def flows(self, into: list[float]) -> dict[int, float]:
        """Tie currents (A, upper to lower node) from the other currents into each node, by Kirchhoff's law.

        Ties that close a loop carry nothing here and are left out. `into` is used up.
        """
        flow: dict[int, float] = {}
        for k, above, node, upper in reversed(self.forest):
            amps = into[node]
            into[above] += amps
            flow[k] = amps if upper else -amps
        return flow
