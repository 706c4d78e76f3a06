"""The search for a slimmer bundle: overlaps pushed apart in a circle held fixed, from many starts.

Projection and relaxation: every overlapping pair is pushed apart along its line of centres, every circle outside
drawn in, more than far enough early on and just far enough at the end. What stalls is shaken: two circles of
neighbouring sizes change places, or the most crowded one moves to the emptiest of a few random spots.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, sqrt

from postcheck.physics.bundle.certify import Layout, tightened

__all__ = ["squeeze"]

_WORK = 500_000  # pair visits at most: some 0.2 s
_STEPS = 260  # sweeps of one relaxation at most
_HAIR = 1e-9


class _Dice:
    """A 31-bit linear congruential generator (Park and Miller 1988), so that every machine rolls the same."""

    def __init__(self, seed: int) -> None:
        self._state = seed % 2147483646 + 1

    def share(self) -> float:
        """A number from 0 up to 1."""
        self._state = self._state * 48271 % 2147483647
        return self._state / 2147483647.0

    def below(self, limit: int) -> int:
        """A whole number from 0 to limit - 1."""
        self._state = self._state * 48271 % 2147483647
        return self._state % limit


def squeeze(
    radii: Sequence[float], radius: float, layout: Layout, bound: float, goal: float | None, work: int = _WORK
) -> tuple[float, Layout]:
    """Slimmer certified layout than the one given, or that one.

    With a `goal` the container is held at it and the first layout inside ends the search; without, the container
    shrinks a step at a time below the best found until the work is used up or the proven `bound` is met.
    """
    count = len(radii)
    dice = _Dice(7919 * count)
    best, kept = radius, layout
    wanted = bound if goal is None else goal
    xs, ys = list(layout[0]), list(layout[1])
    step, stalls, restart = 0.02, 0, True
    while work > 0 and best > wanted * (1.0 + _HAIR):
        target = max(bound, goal * (1.0 - 1e-7) if goal is not None else best * (1.0 - step))
        if restart:
            xs, ys = _scatter(radii, target, dice) if stalls else (list(kept[0]), list(kept[1]))
        overlap, used = _relax(xs, ys, radii, target)
        work -= used
        found, certain = tightened(xs, ys, radii)
        restart = False
        if found < best * (1.0 - 1e-10):
            gained = 1.0 - found / best
            best, kept = found, certain
            stalls = 0 if gained > 1e-4 else stalls + 1
            if overlap < 1e-6:
                continue
        stalls += 1
        if stalls % 3 == 0 and step > 5e-4:
            step *= 0.6
        if stalls % (count // 2 + 4) == 0:
            restart = True
        else:
            if dice.below(3) == 0:
                xs, ys = list(kept[0]), list(kept[1])
            _shake(xs, ys, radii, target, dice)
    return best, kept


def _scatter(radii: Sequence[float], radius: float, dice: _Dice) -> Layout:
    xs, ys = [], []
    for r in radii:
        room = max(radius - r, 1e-6)
        while True:
            x, y = 2.0 * dice.share() - 1.0, 2.0 * dice.share() - 1.0
            if x * x + y * y <= 1.0:
                break
        xs.append(x * room)
        ys.append(y * room)
    return xs, ys


def _shake(xs: list[float], ys: list[float], radii: Sequence[float], radius: float, dice: _Dice) -> None:
    count = len(radii)
    unlike = [i for i in range(count - 1) if radii[i] > radii[i + 1] * (1.0 + 1e-9)]
    if unlike and dice.below(2):
        edge = unlike[dice.below(len(unlike))]
        # any circle at least as large with any smaller one of the next size
        i = edge - dice.below(min(edge + 1, 4))
        j = edge + 1 + dice.below(min(count - edge - 1, 4))
        xs[i], xs[j] = xs[j], xs[i]
        ys[i], ys[j] = ys[j], ys[i]
        return
    moved = _most_crowded(xs, ys, radii, radius) if dice.below(2) else dice.below(count)
    r = radii[moved]
    room = max(radius - r, 1e-6)
    best, spot = inf, (xs[moved], ys[moved])
    for _ in range(8):
        x, y = (2.0 * dice.share() - 1.0) * room, (2.0 * dice.share() - 1.0) * room
        if x * x + y * y > room * room:
            continue
        crowd = 0.0
        for j in range(count):
            dx, dy = x - xs[j], y - ys[j]
            touch = r + radii[j]
            square = dx * dx + dy * dy
            if j != moved and square < touch * touch:
                crowd += touch - sqrt(square)
        if crowd < best:
            best, spot = crowd, (x, y)
    xs[moved], ys[moved] = spot


def _most_crowded(xs: list[float], ys: list[float], radii: Sequence[float], radius: float) -> int:
    count = len(radii)
    crowd = [0.0] * count
    for i in range(count):
        far = sqrt(xs[i] * xs[i] + ys[i] * ys[i]) + radii[i] - radius
        if far > 0.0:
            crowd[i] += far
        for j in range(i):
            dx, dy = xs[i] - xs[j], ys[i] - ys[j]
            touch = radii[i] + radii[j]
            square = dx * dx + dy * dy
            if square < touch * touch:
                over = touch - sqrt(square)
                crowd[i] += over
                crowd[j] += over
    return max(range(count), key=lambda i: crowd[i] / radii[i])


def _relax(xs: list[float], ys: list[float], radii: Sequence[float], radius: float) -> tuple[float, int]:
    """Sweep until overlaps are gone or no longer fall; return the worst overlap left and the pairs visited."""
    count = len(radii)
    used = 0
    pairs: list[tuple[int, int, float, float]] = []
    inner = [max(radius - r, 0.0) for r in radii]
    before = inf
    worst = inf
    for sweep in range(_STEPS):
        if sweep % 10 == 0:
            pairs = _near(xs, ys, radii)
            used += count * (count - 1) // 4
            if sweep % 40 == 0:
                if worst > 0.7 * before:
                    break
                before = worst
        # the push of each circle as a share of the overlap: half each would just part them
        push = 0.9 if sweep < 40 else 0.68
        worst = 0.0
        for i in range(count):
            x, y = xs[i], ys[i]
            square = x * x + y * y
            limit = inner[i]
            if square > limit * limit:
                d = sqrt(square)
                over = d - limit
                if over > worst:  # noqa: PLR1730 - innermost loop: no call
                    worst = over
                keep = max(0.0, 1.0 - 1.4 * over / d)
                xs[i], ys[i] = x * keep, y * keep
        for i, j, touch, touch_squared in pairs:
            dx = xs[j] - xs[i]
            dy = ys[j] - ys[i]
            square = dx * dx + dy * dy
            if square < touch_squared:
                d = sqrt(square)
                over = touch - d
                if over > worst:  # noqa: PLR1730 - innermost loop: no call
                    worst = over
                if d > 1e-9:
                    share = push * over / d
                    dx *= share
                    dy *= share
                else:
                    dx, dy = push * over, 0.0
                xs[i] -= dx
                ys[i] -= dy
                xs[j] += dx
                ys[j] += dy
        used += len(pairs) + count
        if worst < 1e-8:
            break
    return worst, used


def _near(xs: list[float], ys: list[float], radii: Sequence[float]) -> list[tuple[int, int, float, float]]:
    found = []
    for i in range(1, len(radii)):
        x, y, r = xs[i], ys[i], radii[i]
        for j in range(i):
            touch = r + radii[j]
            dx, dy = xs[j] - x, ys[j] - y
            reach = 1.5 * touch
            if dx * dx + dy * dy < reach * reach:
                found.append((i, j, touch, touch * touch))
    return found
