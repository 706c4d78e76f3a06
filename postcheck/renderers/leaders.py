"""Where the numbers of circles too thin to hold them stand: on a ring round them all, each with a line to its own."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, hypot, pi, sin
from typing import NamedTuple

_APART = 19.0  # of the middles of two numbers
_NUMBER = 20.0  # about the middle of a circle: its number and letters
# What a line may cost, in lengths of line: through a number, over a circle, across another line, over a thin circle.
_THROUGH, _OVER, _ACROSS, _ON = 150.0, 12.0, 80.0, 60.0

# Every place is tried for every number against all lines: the third power of how many they are.
MOST_TRIED = 120

Point = tuple[float, float]


class Spot(NamedTuple):
    """A circle of the drawing."""

    x: float
    y: float
    r: float


def leader_ends(thin: Sequence[Spot], others: Sequence[Spot], middle: float, ring: float) -> list[Point]:
    """The middle of each number: near its own circle, clear of the other numbers and of their lines.

    One after the other from the outermost inwards, for those have the shortest lines; each takes the free place on the
    ring (about `middle`, `middle`) that costs least. Of very many each gets its place by the direction that it lies in.
    """
    if len(thin) > MOST_TRIED:
        return _round_about(thin, middle, ring)
    places = max(120, 2 * len(thin))
    turns = [2.0 * pi * place / places for place in range(places)]
    spots = [(middle + ring * cos(turn), middle + ring * sin(turn)) for turn in turns]
    apart = min(_APART, pi * ring / len(thin)) if thin else _APART
    taken: dict[int, Point] = {}
    order = sorted(
        range(len(thin)), key=lambda i: (-round(hypot(thin[i].x - middle, thin[i].y - middle), 6), i)
    )
    for here in order:
        lines = [(thin[there], end) for there, end in taken.items()]
        free = [spot for spot in spots if all(_far(spot, end) >= apart for end in taken.values())]
        costs = [(_cost(thin[here], spot, others, lines), spot) for spot in free or spots]
        taken[here] = min(costs, key=lambda cost: round(cost[0], 6))[1]
    return [taken[here] for here in range(len(thin))]


def _round_about(thin: Sequence[Spot], middle: float, ring: float) -> list[Point]:
    """Places evenly round the ring, in the order of the directions from the middle."""
    directions = [atan2(spot.y - middle, spot.x - middle) for spot in thin]
    order = sorted(range(len(thin)), key=directions.__getitem__)
    ends = [(middle, middle)] * len(thin)
    for place, here in enumerate(order):
        turn = directions[order[0]] + 2.0 * pi * place / len(thin)
        ends[here] = middle + ring * cos(turn), middle + ring * sin(turn)
    return ends


def _cost(own: Spot, end: Point, others: Sequence[Spot], lines: Sequence[tuple[Spot, Point]]) -> float:
    start = (own.x, own.y)
    cost = _far(start, end)
    for other in others:
        near = _from_line((other.x, other.y), start, end)
        cost += _THROUGH if near < min(other.r, _NUMBER) else _OVER if near < other.r else 0.0
    for thin, its_end in lines:
        if _cross(start, end, (thin.x, thin.y), its_end):
            cost += _ACROSS
        if _from_line((thin.x, thin.y), start, end) < thin.r:
            cost += _ON
    return cost


def _far(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _from_line(point: Point, start: Point, end: Point) -> float:
    """How far a point is from the line between two others."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    fraction = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy or 1.0)
    fraction = min(1.0, max(0.0, fraction))
    return _far(point, (start[0] + fraction * dx, start[1] + fraction * dy))


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the line from a to b crosses that from c to d."""

    def left(p: Point, q: Point, r: Point) -> bool:
        return (q[0] - p[0]) * (r[1] - p[1]) > (q[1] - p[1]) * (r[0] - p[0])

    return left(a, b, c) != left(a, b, d) and left(c, d, a) != left(c, d, b)
