"""First layouts: exact ones for up to three circles, corner by corner for more."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, sqrt

from postcheck.physics.bundle.bounds import gap_radius, three
from postcheck.physics.bundle.certify import Layout, tightened
from postcheck.physics.bundle.dice import Dice

__all__ = ["compact", "exact", "fill"]

_MANY = 60  # circles from which on nearly equal ones are laid as if equal
_ALIKE = 0.95
_HAIR = 1e-9


def exact(radii: Sequence[float]) -> Layout:
    """Best layout of one, two or three circles, radii in falling order, about the container's centre."""
    if len(radii) == 1:
        return [0.0], [0.0]
    if len(radii) == 2:
        # a container of r1 + r2: the large one a small radius off the middle, the small one opposite
        return [radii[1], -radii[0]], [0.0, 0.0]
    first, second, third = radii
    big = three(radii)
    if third <= gap_radius(first, second):
        # the third beside both, anywhere inside: put it where it touches the two
        xs, ys = [second, -first], [0.0, 0.0]
        x, y = _touching(second, 0.0, first + third, -first, 0.0, second + third)[0]
        return [*xs, x], [*ys, y]
    away = big - first
    x2, y2 = _touching(0.0, 0.0, big - second, away, 0.0, first + second)[0]
    x3, y3 = _touching(0.0, 0.0, big - third, away, 0.0, first + third)[1]
    return [away, x2, x3], [0.0, y2, y3]


def compact(radii: Sequence[float], enough: float = 0.0) -> tuple[float, Layout]:
    """Certified radius and layout of circles laid in falling order, each in the free corner nearest the middle.

    Two starts are tried, the two largest across the middle and the largest in it; the slimmer layout is kept. Where
    there are many, or the first is slim `enough`, it stands alone.
    """
    found = []
    starts = ((radii[1], 0.0), (-radii[0], 0.0)), ((0.0, 0.0), (radii[0] + radii[1], 0.0))
    for start in starts[:1] if len(radii) > _MANY else starts:
        table = _Table(None)
        for (x, y), r in zip(start, radii, strict=False):
            table.lay(x, y, r)
        for i in range(len(start), len(radii)):
            corners = table.corners(_laid_as(radii, i, table))
            table.lay(*min(corners)[1:3], radii[i])
        found.append(tightened(*_centred(table.xs, table.ys, radii), radii))
        if found[-1][0] <= enough:
            break
    return min(found, key=lambda one: one[0])


def fill(radii: Sequence[float], radius: float, dice: Dice) -> tuple[list[float], int]:
    """Lay circles in falling order in a wall of this radius; x of all and then y of all, and how many overlap.

    Each goes to the free corner (between two others, or one and the wall) where a third is nearest, with a little
    luck: the rule of Huang, Li, Li and Xu 2006. What finds no corner goes to the emptiest of some random spots.
    """
    count = len(radii)
    table = _Table(radius)
    spot = [0.0] * (2 * count)
    left = []
    # in the middle only where the next fits in beside it: without a corner all the rest would be strewn
    middle = dice.below(4) == 0 and count > 1 and radii[0] + 2.0 * radii[1] <= radius
    for i, r in enumerate(radii):
        if i == 0:
            x, y = (0.0 if middle else radius - r), 0.0
        elif i == 1 and middle:
            x, y = radii[0] + r, 0.0
        else:
            corners = table.corners(_laid_as(radii, i, table))
            if not corners:
                left.append(i)
                continue
            x, y = min((nearness + 0.3 * dice.share(), x, y) for nearness, x, y in corners)[1:]
        table.lay(x, y, r)
        spot[i], spot[count + i] = x, y
    for i in left:
        x, y = emptiest(table.xs, table.ys, table.radii, radii[i], radius, 30, dice)
        table.lay(x, y, radii[i])
        spot[i], spot[count + i] = x, y
    return spot, len(left)


def emptiest(
    xs: Sequence[float],
    ys: Sequence[float],
    radii: Sequence[float],
    radius: float,
    wall: float,
    tries: int,
    dice: Dice,
) -> tuple[float, float]:
    """Of some random spots inside the wall the one where a circle of this radius overlaps least."""
    room = max(wall - radius, 0.0)
    best = inf
    spot = 0.0, 0.0
    others = [(x, y, r + radius) for x, y, r in zip(xs, ys, radii, strict=True)]
    for _ in range(tries):
        x, y = dice.in_disc()
        x *= room
        y *= room
        crowd = 0.0
        for a, b, touch in others:
            dx, dy = x - a, y - b
            square = dx * dx + dy * dy
            if square < touch * touch:
                over = touch - sqrt(square)
                crowd += over * over
                if crowd >= best:
                    break
        else:
            if crowd == 0.0:
                return x, y
            best, spot = crowd, (x, y)
    return spot


class _Table:
    """What is laid already, and the free corners for the next circle, kept while the size stays the same.

    A corner is (rank, x, y): without a wall the rank is the squared distance from the middle, with one it is the
    nearness of a third circle or the wall, as squared distance over squared touching distance (1 to 4).
    """

    def __init__(self, wall: float | None) -> None:
        self._wall = wall
        self.xs: list[float] = []
        self.ys: list[float] = []
        self.radii: list[float] = []
        self.size = 0.0
        self._corners: list[tuple[float, float, float]] = []

    def lay(self, x: float, y: float, r: float) -> None:
        """Put a circle down; the corners it covers are gone and those it makes are new."""
        if self.size > 0.0:
            touch = (r + self.size) * (r + self.size)
            kept = []
            for corner in self._corners:
                dx, dy = corner[1] - x, corner[2] - y
                square = dx * dx + dy * dy
                if square >= touch * (1.0 - _HAIR):
                    if self._wall is not None and square < touch * corner[0]:
                        corner = square / touch, corner[1], corner[2]  # noqa: PLW2901 - it has come nearer
                    kept.append(corner)
            self._corners = kept
        self.xs.append(x)
        self.ys.append(y)
        self.radii.append(r)
        if self.size > 0.0:
            self._corners_at(len(self.xs) - 1)

    def corners(self, size: float) -> list[tuple[float, float, float]]:
        """All corners where a circle of this radius lies free."""
        if size != self.size:
            self.size = size
            self._corners = []
            for place in range(len(self.xs)):
                self._corners_at(place)
        return self._corners

    def _corners_at(self, place: int) -> None:
        """Add the corners between this circle and an earlier one or the wall."""
        size = self.size
        x0, y0, r0 = self.xs[place], self.ys[place], self.radii[place]
        reach = r0 + size
        near = []
        for k, (x, y, r) in enumerate(zip(self.xs, self.ys, self.radii, strict=True)):
            dx, dy = x - x0, y - y0
            touch = r + size
            span = touch + reach
            if dx * dx + dy * dy <= span * span and k != place:
                near.append((k, x, y, touch))
        room = inside = 0.0
        if self._wall is not None:
            room = self._wall - size
            if room < 0.0:
                return
            inside = room * room * (1.0 + _HAIR)
            for x, y in _touching(x0, y0, reach, 0.0, 0.0, room, meet=True):
                self._try(x, y, near, -1, 4.0)
        for k, x, y, touch in near:
            if k > place:
                break
            for a, b in _touching(x0, y0, reach, x, y, touch, meet=True):
                square = a * a + b * b
                if self._wall is None:
                    self._try(a, b, near, k, square)
                elif square <= inside:
                    gap = 1.0 + (room - sqrt(min(square, room * room))) / (2.0 * size)
                    self._try(a, b, near, k, min(gap * gap, 4.0))

    def _try(
        self,
        x: float,
        y: float,
        near: list[tuple[int, float, float, float]],
        beside: int,
        nearest: float,
    ) -> None:
        ranked = self._wall is not None
        for k, a, b, touch in near:
            if k == beside:
                continue
            dx, dy = x - a, y - b
            fraction = (dx * dx + dy * dy) / (touch * touch)
            if fraction < 1.0 - _HAIR:
                return
            if ranked and fraction < nearest:
                nearest = fraction
        self._corners.append((nearest, x, y))


def _laid_as(radii: Sequence[float], i: int, table: _Table) -> float:
    """The radius to lay circle i with: its own, or where there are many, that of the last if nearly the same."""
    if len(radii) > _MANY and _ALIKE * table.size < radii[i] <= table.size:
        return table.size
    return radii[i]


def _touching(
    x1: float, y1: float, d1: float, x2: float, y2: float, d2: float, *, meet: bool = False
) -> tuple[tuple[float, float], ...]:
    """Two points at distance d1 from the first centre and d2 from the second.

    If there are none: nothing where they must `meet`, else the nearest to it.
    """
    dx, dy = x2 - x1, y2 - y1
    square = dx * dx + dy * dy
    if square <= 0.0:
        return () if meet else ((x1, y1 + d1), (x1, y1 - d1))
    along = (square + d1 * d1 - d2 * d2) / (2.0 * square)
    across = d1 * d1 / square - along * along
    if across < 0.0:
        if meet:
            return ()
        across = 0.0
    across = sqrt(across)
    x, y = x1 + along * dx, y1 + along * dy
    return (x - across * dy, y + across * dx), (x + across * dy, y - across * dx)


def _centred(xs: list[float], ys: list[float], radii: Sequence[float]) -> Layout:
    """Move the origin towards the farthest edge while that helps (the steps halve, 200 at most)."""
    step = 0.25 * radii[0]
    x0 = y0 = 0.0
    best, at = _reach(xs, ys, radii, x0, y0)
    for _ in range(200):
        if step <= 1e-6 * best:
            break
        dx, dy = xs[at] - x0, ys[at] - y0
        d = sqrt(dx * dx + dy * dy)  # never nothing: what lies beside a circle reaches further than it
        x, y = x0 + step * dx / d, y0 + step * dy / d
        far, there = _reach(xs, ys, radii, x, y)
        if far < best * (1.0 - 1e-12):
            best, at, x0, y0 = far, there, x, y
        else:
            step *= 0.5
    return [x - x0 for x in xs], [y - y0 for y in ys]


def _reach(
    xs: list[float], ys: list[float], radii: Sequence[float], x0: float, y0: float
) -> tuple[float, int]:
    best, at = 0.0, 0
    for i, (x, y, r) in enumerate(zip(xs, ys, radii, strict=True)):
        dx, dy = x - x0, y - y0
        far = sqrt(dx * dx + dy * dy) + r
        if far > best:
            best, at = far, i
    return best, at
