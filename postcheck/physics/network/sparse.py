"""Sparse elimination of networks of conductances, by the star-mesh transform.

A network of positive conductances is eliminated node by node: a node with conductances c_j to its neighbours
and e to earth is replaced by conductances c_j c_k / D between them and c_j e / D from them to earth, where
D = e + sum c_j. This is LDL^T of the nodal matrix with L_ji = c_j / D, but without a single subtraction:
every entry keeps its full relative accuracy, even where a dark lamp (1e-15 S) is connected to a wire (1e3 S)
(Grassmann, Taksar and Heyman 1985 for Markov chains; O'Cinneide 1993 for the accuracy).
Negative conductances (constant power) are allowed; a pivot D <= 0 then tells that the state is past the nose.

Ordering: minimum degree (Markowitz 1957; Tinney and Walker 1967): no fill at all on trees.
Selected inverse: Takahashi, Fagan and Chin 1973.
"""

from __future__ import annotations

from heapq import heapify, heappop, heappush
from operator import mul

__all__ = ["Factors", "Pattern"]


class Pattern:
    """Symbolic elimination of a graph of `size` nodes and `edges` (pairs of nodes; no loops, no duplicates).

    `slot` of edge k is k; further slots are fill. Node i of `order` has the entries `columns[i]`, a list of
    (slot, later node), and the fill-in targets `pairs[i]`.
    """

    __slots__ = ("columns", "edges", "index", "order", "pairs", "size", "slots")

    def __init__(self, size: int, edges: list[tuple[int, int]]) -> None:
        self.size: int = size
        self.edges: list[tuple[int, int]] = edges
        index: dict[tuple[int, int], int] = {}
        near: list[dict[int, int]] = [{} for _ in range(size)]
        for slot, (a, b) in enumerate(edges):
            index[(a, b) if a < b else (b, a)] = slot
            near[a][b] = slot
            near[b][a] = slot
        self.index: dict[tuple[int, int], int] = index
        slots = len(edges)
        heap = [(len(near[i]), i) for i in range(size)]
        heapify(heap)
        done = [False] * size
        order: list[int] = []
        columns: list[tuple[tuple[int, ...], tuple[int, ...]]] = []
        pairs: list[list[tuple[int, int, int]]] = []
        while heap:
            degree, i = heappop(heap)
            if done[i] or degree != len(near[i]):
                continue
            done[i] = True
            mine = list(near[i].items())
            fill: list[tuple[int, int, int]] = []
            for p, (j, _) in enumerate(mine):
                row = near[j]
                del row[i]
                for q in range(p):
                    k = mine[q][0]
                    slot = row.get(k, -1)
                    if slot < 0:
                        slot = slots
                        slots += 1
                        row[k] = slot
                        near[k][j] = slot
                        index[(j, k) if j < k else (k, j)] = slot
                    fill.append((p, q, slot))
            for j, _ in mine:
                heappush(heap, (len(near[j]), j))
            order.append(i)
            columns.append((tuple(s for _, s in mine), tuple(j for j, _ in mine)))
            pairs.append(fill)
        self.order: list[int] = order
        self.columns: list[tuple[tuple[int, ...], tuple[int, ...]]] = columns
        self.pairs: list[list[tuple[int, int, int]]] = pairs
        self.slots: int = slots

    def factor(self, conductances: list[float], earth: list[float]) -> Factors:
        """Eliminate with these edge conductances (one an edge) and conductances to earth (one a node), in S."""
        values = conductances + [0.0] * (self.slots - len(conductances))
        excess = earth[:]
        pivots = [0.0] * self.size
        lower: list[tuple[float, ...]] = []
        keep = lower.append
        sound = True
        for i, (slots, nodes), fill in zip(self.order, self.columns, self.pairs, strict=True):
            e = excess[i]
            count = len(slots)
            if count == 1:
                c = values[slots[0]]
                pivot = e + c
                if pivot > 0.0:
                    ratio = c / pivot
                    excess[nodes[0]] += ratio * e
                    keep((ratio,))
                else:
                    sound = False
                    keep((0.0,))
            elif count == 2:
                c, d = values[slots[0]], values[slots[1]]
                pivot = e + c + d
                if not pivot > 0.0:
                    sound = False
                    pivot = pivot or 1e-300
                ratio, other = c / pivot, d / pivot
                excess[nodes[0]] += ratio * e
                excess[nodes[1]] += other * e
                values[fill[0][2]] += ratio * d
                keep((ratio, other))
            elif count == 0:
                pivot = e
                if not pivot > 0.0:
                    sound = False
                keep(())
            else:
                cs = [values[s] for s in slots]
                pivot = e + sum(cs)
                if not pivot > 0.0:
                    sound = False
                    pivot = pivot or 1e-300
                ratios = [c / pivot for c in cs]
                for j, ratio in zip(nodes, ratios, strict=True):
                    excess[j] += ratio * e
                for p, q, slot in fill:
                    values[slot] += ratios[p] * cs[q]
                keep(tuple(ratios))
            pivots[i] = pivot
        return Factors(self, lower, pivots, sound)


class Factors:
    """A factored network. `sound` says that every pivot was above zero (positive definite)."""

    __slots__ = ("lower", "pattern", "pivots", "sound")

    def __init__(
        self, pattern: Pattern, lower: list[tuple[float, ...]], pivots: list[float], sound: bool
    ) -> None:
        self.pattern: Pattern = pattern
        self.lower: list[tuple[float, ...]] = lower
        self.pivots: list[float] = pivots
        self.sound: bool = sound

    def solve(self, injected: list[float]) -> list[float]:
        """Node voltages (V) for currents injected into the nodes (A): one forward and one backward sweep."""
        x = injected[:]
        pattern = self.pattern
        columns, order, lower = pattern.columns, pattern.order, self.lower
        for i, (_, nodes), ratios in zip(order, columns, lower, strict=True):
            value = x[i]
            if value != 0.0:
                for j, ratio in zip(nodes, ratios, strict=True):
                    x[j] += ratio * value
        pivots = self.pivots
        for i, (_, nodes), ratios in zip(reversed(order), reversed(columns), reversed(lower), strict=True):
            value = x[i] / pivots[i]
            for j, ratio in zip(nodes, ratios, strict=True):
                value += ratio * x[j]
            x[i] = value
        return x

    def inverse(self) -> tuple[list[float], list[float]]:
        """Entries of the inverse on the pattern (ohm): (diagonal by node, off-diagonal by slot).

        Takahashi's recurrence, from the last node eliminated to the first:
        Z_ij = sum_k L_ki Z_kj, Z_ii = 1 / D_i + sum_j L_ji Z_ji. Cost as of the elimination.
        """
        pattern = self.pattern
        index = pattern.index
        diagonal = [0.0] * pattern.size
        off = [0.0] * pattern.slots
        steps = zip(reversed(pattern.order), reversed(pattern.columns), reversed(self.lower), strict=True)
        for i, (slots, nodes), ratios in steps:
            total = 1.0 / self.pivots[i]
            if len(nodes) == 1:
                z = ratios[0] * diagonal[nodes[0]]
                off[slots[0]] = z
                diagonal[i] = total + ratios[0] * z
                continue
            for slot, j in zip(slots, nodes, strict=True):
                row = [diagonal[j] if k == j else off[index[(j, k) if j < k else (k, j)]] for k in nodes]
                off[slot] = sum(map(mul, ratios, row))
            for slot, ratio in zip(slots, ratios, strict=True):
                total += ratio * off[slot]
            diagonal[i] = total
        return diagonal, off
