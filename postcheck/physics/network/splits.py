"""How ideal ties in a loop divide a current, if each had the same small resistance."""

from __future__ import annotations

from postcheck.physics.network.sparse import Pattern
from postcheck.physics.network.structure import Structure

__all__ = ["share_loops"]


def share_loops(shape: Structure, into: list[float]) -> dict[int, float]:
    """Tie currents (A, upper to lower node) of least sum of squares that obey Kirchhoff's current law.

    `into`: current into each node from everything but the ties. Roots of the supernodes are the references.
    """
    ends = [(k, node, above) if upper else (k, above, node) for k, above, node, upper in shape.forest]
    ends += [(k, upper, lower) for k, upper, lower, _ in shape.loops]
    number: dict[int, int] = {}
    for _, a, b in ends:
        for node in (a, b):
            if shape.root[node] != node and node not in number:
                number[node] = len(number)
    count = len(number)
    earth = [0.0] * count
    weight: dict[tuple[int, int], float] = {}
    for _, a, b in ends:
        i, j = number.get(a, count), number.get(b, count)
        if i == j:
            continue
        low, high = min(i, j), max(i, j)
        if high == count:
            earth[low] += 1.0
        else:
            weight[low, high] = weight.get((low, high), 0.0) + 1.0
    pattern = Pattern(count, list(weight))
    right = [0.0] * count
    for node, i in number.items():
        right[i] = into[node]
    level = [*pattern.factor(list(weight.values()), earth).solve(right), 0.0]
    return {k: level[number.get(a, count)] - level[number.get(b, count)] for k, a, b in ends}
