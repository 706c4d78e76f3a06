"""Overlapping circles in a circular wall, pushed apart like rubber until they rest: the search's inner loop.

Energy = (sum of overlap**2)/2 over touching pairs and the wall. It falls by steps of a limited-memory quasi-Newton
method that remembers one step (Nocedal, Mathematics of Computation 35, 1980): more memory saves steps but costs more
than it saves in interpreted code, as measured. Loops stand where `sum` would do: its rounding differs between
versions of Python, and every machine must find the same layout.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, sqrt
from operator import add

__all__ = ["Rest", "settle"]

_Pair = tuple[int, int, float, float]
_EARLY = 3  # sweeps after which a hopeless start shows: of those that would have come below the cut one in 25
_CHECK = 5  # sweeps between two looks at the progress
_SLOW = 0.04  # share of the energy that must go between two looks
_SKIN = (
    0.6  # in radii of the middle one: how far circles may wander before the list of neighbours is made anew
)


class Rest:
    """Where the circles came to rest, x of all and then y of all, with the energy left and the sweeps it took.

    `reach` is the container radius at which the energy would vanish if every overlap shrank in proportion: with P the
    sum of the overlaps with the wall, R + 2 E/P. `pairs` are the neighbours, with the sum of radii and its square.
    """

    __slots__ = ("energy", "pairs", "reach", "spot", "sweeps")

    def __init__(
        self, spot: list[float], energy: float, reach: float, pairs: list[_Pair], sweeps: int
    ) -> None:
        self.spot: list[float] = spot
        self.energy: float = energy
        self.reach: float = reach
        self.pairs: list[_Pair] = pairs
        self.sweeps: int = sweeps


def settle(
    spot: list[float], radii: Sequence[float], radius: float, limit: int, floor: float, cut: float = inf
) -> Rest:
    """Let the circles push each other and the wall of this radius, for `limit` sweeps at most.

    Ends when the energy is below `floor` (nothing overlaps by more than sqrt(2 floor)) or hardly falls any more; also
    when it is above three times the `cut` after three sweeps, twice after five, or falls slowly and is still above after ten. Radii in falling
    order, the wall wider than the largest.
    """
    field = _Field(radii, radius)
    field.look_round(spot)
    energy, pull = field.push(spot)
    most = 0.6 * radii[0]
    before = move = pull  # nothing to remember yet
    square = along = 0.0  # of the slope before: squared, and along the move from there
    looked = energy
    sweeps = 1
    while sweeps < limit and energy > floor:
        # the slope squared, along the slope before, along the last move: all else follows from these three products
        steep = turned = ahead = 0.0
        for p, q, s in zip(pull, before, move, strict=True):
            steep += p * p
            turned += p * q
            ahead += p * s
        a, b, c = -0.3, 0.0, 0.0
        change = steep - 2.0 * turned + square
        gain = ahead - along
        if gain > 0.0 and change > 0.0:  # never at first: the slope is its own before
            scale = gain / change
            alpha = ahead / gain
            a, b, c = scale * (alpha - 1.0), -scale * alpha, (steep - turned) / change - 2.0 * alpha
        move = [a * p + b * q + c * s for p, q, s in zip(pull, before, move, strict=True)]
        square, along = steep, a * steep + b * turned + c * ahead
        top = max(map(abs, move))
        if top > most:
            move, along, top = _shortened(move, along, top, most / top)
        for _ in range(7):
            spot_ahead = list(map(add, spot, move))
            field.moved(spot_ahead, top)
            found, slope = field.push(spot_ahead)
            sweeps += 1
            if found <= energy * 1.0000001:
                break
            move, along, top = _shortened(move, along, top, 0.4)
        else:
            break
        spot, energy, before, pull = spot_ahead, found, pull, slope
        if sweeps == _EARLY and energy > 3.0 * cut:
            break
        if sweeps % _CHECK == 0:
            if looked - energy < _SLOW * energy:
                break
            if energy > 2.0 * cut or (sweeps >= 9 and energy > cut and looked - energy < 0.4 * energy):
                break
            looked = energy
    reach = radius if energy <= floor else _reach(spot, radii, radius, energy)
    return Rest(spot, energy, reach, field.pairs, sweeps)


def _reach(spot: Sequence[float], radii: Sequence[float], radius: float, energy: float) -> float:
    """The container radius at which the energy would vanish; infinite where nothing presses on the wall."""
    count, pressure = len(radii), 0.0
    for i in range(count):
        x, y = spot[i], spot[count + i]
        over = sqrt(x * x + y * y) - radius + radii[i]
        if over > 0.0:
            pressure += over
    return radius + 2.0 * energy / pressure if pressure > 0.0 else inf


def _shortened(move: list[float], along: float, top: float, share: float) -> tuple[list[float], float, float]:
    return [share * m for m in move], share * along, share * top


class _Field:
    """The circles' neighbours, kept while nothing has moved far."""

    def __init__(self, radii: Sequence[float], radius: float) -> None:
        self._radii = radii
        self._radius = radius
        self._skin = _SKIN * radii[len(radii) // 2]
        self._drift = 0.0
        self._seen: list[float] = []
        self.pairs: list[_Pair] = []
        self._rim: list[tuple[int, float, float]] = []

    def look_round(self, spot: list[float]) -> None:
        """List the pairs that may touch before anything has moved by more than the skin, and what is near the wall."""
        radii = self._radii
        count = len(radii)
        xs, ys = spot[:count], spot[count:]
        spare = 2.0 * self._skin
        widest = radii[0] + spare
        order = sorted(range(count), key=xs.__getitem__)
        pairs = []
        for place in range(1, count):
            i = order[place]
            x, y, r = xs[i], ys[i], radii[i]
            far = r + widest
            for at in range(place - 1, -1, -1):
                j = order[at]
                dx = x - xs[j]
                if dx > far:
                    break
                dy = y - ys[j]
                touch = r + radii[j]
                near = touch + spare
                if dx * dx + dy * dy < near * near:
                    pairs.append((i, j, touch, touch * touch))
        self.pairs = pairs
        rim = []
        for i in range(count):
            limit = self._radius - radii[i]
            near = limit - self._skin
            if near < 0.0 or xs[i] * xs[i] + ys[i] * ys[i] > near * near:
                rim.append((i, limit, limit * limit))
        self._rim = rim
        self._drift = 0.0
        self._seen = spot

    def moved(self, spot: list[float], most: float) -> None:
        """Take note of a move of at most `most` in x and y."""
        self._drift += 1.5 * most  # above sqrt(2)
        if self._drift > self._skin:
            far = 0.0
            for a, b in zip(spot, self._seen, strict=True):
                gone = a - b if a > b else b - a
                if gone > far:  # noqa: PLR1730 - inner loop: no call
                    far = gone
            if 1.5 * far > self._skin:
                self.look_round(spot)
            else:
                self._drift = 1.5 * far

    def push(self, spot: list[float]) -> tuple[float, list[float]]:
        """Energy and its slope."""
        count = len(self._radii)
        xs, ys = spot[:count], spot[count:]
        gx, gy = [0.0] * count, [0.0] * count
        energy = 0.0
        for i, limit, square_limit in self._rim:
            x, y = xs[i], ys[i]
            square = x * x + y * y
            if square > square_limit:
                d = sqrt(square)
                over = d - limit
                energy += over * over
                over /= d
                gx[i] += over * x
                gy[i] += over * y
        for i, j, touch, square_touch in self.pairs:
            dx = xs[i] - xs[j]
            dy = ys[i] - ys[j]
            square = dx * dx + dy * dy
            if square < square_touch:
                d = sqrt(square)
                over = touch - d
                energy += over * over
                if d > 0.0:
                    over /= d
                    dx *= over
                    dy *= over
                else:
                    dx = over  # one on top of the other: any direction will do
                gx[i] -= dx
                gy[i] -= dy
                gx[j] += dx
                gy[j] += dy
        gx += gy
        return 0.5 * energy, gx
