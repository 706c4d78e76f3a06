"""The search for a slimmer bundle: many starts, pressed a little too tight, and shaken when they rest.

The container is held some percent below the radius wanted, and the energy of the overlaps that are left tells good
arrangements from bad ones: pressed like this the landscape is smoother than at the radius itself. Circles of
neighbouring sizes change places, or a crowded one moves to the emptiest of some random spots; what rests at a lower
energy is kept, and tried at the radius wanted. After some failures in a row it goes on from the best that was left so,
shaken many times at once, or now and then from a new start.

The moves are those of Huang, Li, Li and Xu 2006 and of Grosso, Jamali, Locatelli and Schoen 2010; to go on from the best
by a harder kick is iterated local search (Lourenco, Martin and Stutzle 2003).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf, sqrt

from postcheck.physics.bundle import bounds, greedy, patterns
from postcheck.physics.bundle.certify import Layout, tightened
from postcheck.physics.bundle.dice import Dice
from postcheck.physics.bundle.relax import Rest, settle

__all__ = ["slimmer"]

_HAIR = 1e-9
_TRIES = 20  # random spots looked at for a circle that moves
_KICKED = 8  # of ten new starts
_SWEEPS = 200  # of one relaxation at most
_GAIN = 0.005  # by how much slimmer a bundle is worth looking at, when the search begins; in the end any
# What would need more than this above the goal after this share of the work is hopeless: of 1866 searches at 97 to 101 %
# of the best known and of 774 for sizes all different, it would have stopped none and one in 170 that found a fit.
_FAR, _SOON = 0.015, 0.25
# What seems to need more than this above the radius wanted is not let out to it: of 25,000 that did, 6 would have done.
_CLOSE = 1e-3


def slimmer(
    radii: Sequence[float], radius: float, layout: Layout, bound: float, goal: float | None, work: int
) -> Iterator[tuple[float, Layout]]:
    """Slimmer and slimmer certified layouts than the one given, as they are found; the slimmest of all comes last.

    `work` is counted in circles moved once (a sweep moves all). The search ends early inside `goal`, at the proven
    `bound` or the best known of equal circles, and where a goal is far from all that was found in a quarter of the work.
    With a goal it looks for that alone, and little is slimmer on the way.
    """
    return _Search(radii, radius, layout, bound, goal, work).run()


class _Search:
    def __init__(
        self,
        radii: Sequence[float],
        radius: float,
        layout: Layout,
        bound: float,
        goal: float | None,
        work: int,
    ) -> None:
        count = len(radii)
        self._radii = radii
        self._best = radius
        self._kept = layout
        self._bound = bound
        self._goal = goal
        self._classes = _classes(radii)
        known = bounds.BEST_KNOWN.get(count, 0.0) * radii[-1] if len(self._classes) == 1 else 0.0
        self._wanted = (max(bound, known) if goal is None else goal) * (1.0 + _HAIR)
        self._work = self._left = work
        self._dice = Dice(7919 * count + 1)
        self._crowded: tuple[Rest | None, list[float]] = None, []
        least = max(1e-7 * radii[-1], 1e-12)
        self._floor = least * least
        # as measured best for equal circles, for a few sizes, and for sizes that are nearly all different: how far to
        # press, how many of ten moves are swaps, failures before a new start, energy above which a slow one is left
        if len(self._classes) == 1:
            self._press, self._swaps, self._patience, self._high = 0.01, 0, count // 5 + 3, 1.1
        elif 2 * len(self._classes) < count:
            self._press, self._swaps, self._patience, self._high = 0.02, 6, count // 2 + 6, 1.5
        else:
            self._press, self._swaps, self._patience, self._high = 0.03, 7, 2 * count, 1.1

    def run(self) -> Iterator[tuple[float, Layout]]:
        starts = patterns.starts(self._radii, self._best, self._dice) if len(self._classes) == 1 else []
        here: Rest | None = None
        home: Rest | None = None  # the lowest of those left
        least = inf
        while self._left > 0 and self._best > self._wanted and not self._hopeless(least):
            tight = self._pressed()
            if here is None or starts:
                start = starts.pop() if starts else self._begun(home, tight)
                rest = self._settle(start, tight, _SWEEPS)
                if here is None or rest.energy < here.energy:
                    here = rest
                failures = 0
                fresh = True
            else:
                spot = self._shaken(here.spot, here, tight)
                rest = self._settle(spot, tight, _SWEEPS, cut=self._high * here.energy)
                fresh = rest.energy < here.energy * 0.999
                failures = 0 if fresh else failures + 1
                if rest.energy <= here.energy:
                    here = rest
            least = min(least, here.reach)
            if fresh and self._tried(rest):
                yield self._best, self._kept
                if self._goal is None:
                    here = home = self._settle(self._flat(), self._pressed(), _SWEEPS)
                failures = 0
            elif failures >= self._patience:
                if home is None or here.energy < home.energy:
                    home = here
                here = None
        if self._goal is None:
            self._left = 0
            for left in (here, home):
                if left is not None and self._best > self._wanted:
                    self._tried(left)
            self._polish(self._flat(), self._best)
        yield self._best, self._kept

    def _hopeless(self, least: float) -> bool:
        """Whether the goal is far from the least radius that anything rested at seems to need."""
        soon = self._left > (1.0 - _SOON) * self._work
        return self._goal is not None and not soon and least > self._goal * (1.0 + _FAR)

    def _pressed(self) -> float:
        """The radius to search at: below the one wanted, not below the bound."""
        aim = self._best if self._goal is None else self._goal
        return max(self._bound, aim * (1.0 - self._press))

    def _begun(self, home: Rest | None, tight: float) -> list[float]:
        """Where to go on from: mostly from the best that was left, kicked; else from a new layout."""
        count = len(self._radii)
        if home is not None and self._dice.below(10) < _KICKED:
            kicks = 2 + count // 4
            self._left -= kicks * count  # about what it costs
            spot = home.spot
            for _ in range(kicks):
                spot = self._shaken(spot, home, tight)
            return spot
        aim = self._best if self._goal is None else self._goal
        self._left -= 10 * count
        if len(self._classes) == 1 and self._dice.below(2):
            spot = patterns.by_chance(self._radii, aim, self._dice)
            if spot:
                return spot
        return greedy.fill(self._radii, aim, self._dice)[0]

    def _flat(self) -> list[float]:
        return [*self._kept[0], *self._kept[1]]

    def _settle(
        self, spot: list[float], radius: float, limit: int, *, cut: float = inf, floor: float | None = None
    ) -> Rest:
        rest = settle(spot, self._radii, radius, limit, self._floor if floor is None else floor, cut)
        self._left -= (rest.sweeps + 2) * len(self._radii)
        return rest

    def _tried(self, rest: Rest) -> bool:
        """Whether what was found, let out to the radius wanted, is the slimmest so far."""
        aim = self._goal
        if aim is None:
            aim = max(self._wanted, self._best * (1.0 - _GAIN * self._left / self._work))
        if rest.reach > aim * (1.0 + _CLOSE):
            return False
        near = self._settle(rest.spot, max(self._bound, aim * (1.0 - 1e-3)), 60)
        if near.reach > aim * (1.0 + 1e-4):
            return False
        before = self._best
        self._polish(near.spot, min(near.reach, aim))
        return self._best < before * (1.0 - 1e-7) or self._best <= self._wanted

    def _polish(self, spot: list[float], reach: float) -> None:
        """Draw the wall in on this layout, which is about to touch at `reach`; keep it if it is slimmer than the best.

        The estimate of where the overlap would vanish errs by the square of the overlap, so each step is far better
        than the one before. The last steps are taken only at the end, or where they may decide.
        """
        for slack in (1e-6, 1e-8, 1e-10):
            rest = self._settle(spot, max(self._bound, reach * (1.0 - slack)), _SWEEPS, floor=1e-28)
            spot, reach = rest.spot, rest.reach
            self._keep(spot)
            if self._best <= self._wanted or (self._left > 0 and self._best > self._wanted * (1.0 + 1e-4)):
                break

    def _keep(self, spot: list[float]) -> None:
        count = len(self._radii)
        radius, layout = tightened(spot[:count], spot[count:], self._radii)
        if radius < self._best:
            self._best, self._kept = radius, layout

    def _shaken(self, spot: list[float], rest: Rest, radius: float) -> list[float]:
        """Of circles that lie at `spot`, near to or at rest, two swapped or one moved."""
        spot = list(spot)
        if self._dice.below(10) < self._swaps:
            self._swap(spot, rest, radius)
        else:
            self._move(spot, rest, radius)
        return spot

    def _swap(self, spot: list[float], rest: Rest, radius: float) -> None:
        """A circle changes places with one of the next smaller size, or now and then of the one after that."""
        dice, classes = self._dice, self._classes
        count = len(self._radii)
        one = dice.below(len(classes) - 1)
        other = one + 1
        if other + 1 < len(classes) and dice.below(10) < 3:
            other += 1
        if dice.below(10) < 7:
            crowd = self._crowd(rest, radius)
            i = max(classes[one], key=lambda k: crowd[k] * (0.3 + dice.share()))
            j = min(classes[other], key=lambda k: crowd[k] * (0.3 + dice.share()))
        else:
            i = classes[one][dice.below(len(classes[one]))]
            j = classes[other][dice.below(len(classes[other]))]
        spot[i], spot[j] = spot[j], spot[i]
        spot[count + i], spot[count + j] = spot[count + j], spot[count + i]

    def _move(self, spot: list[float], rest: Rest, radius: float) -> None:
        """A crowded circle, or now and then any, moves to an empty spot."""
        dice, radii = self._dice, self._radii
        count = len(radii)
        if dice.below(5) < 4:
            crowd = self._crowd(rest, radius)
            i = max(range(count), key=lambda k: crowd[k] / (radii[k] * radii[k]) * (0.3 + dice.share()))
        else:
            i = dice.below(count)
        xs, ys = spot[:count], spot[count:]
        del xs[i], ys[i]
        others = [*radii[:i], *radii[i + 1 :]]
        spot[i], spot[count + i] = greedy.emptiest(xs, ys, others, radii[i], radius, _TRIES, dice)

    def _crowd(self, rest: Rest, radius: float) -> list[float]:
        """Sum of squared overlaps at each circle; kept, for one rest is shaken many times."""
        if self._crowded[0] is not rest:
            self._crowded = rest, _overlaps(rest, self._radii, radius)
        return self._crowded[1]


def _classes(radii: Sequence[float]) -> list[range]:
    """The circles of each size, sizes closer than a millionth taken as one."""
    starts = [i for i, r in enumerate(radii) if i == 0 or r < radii[i - 1] * (1.0 - 1e-6)]
    return [range(a, b) for a, b in zip(starts, [*starts[1:], len(radii)], strict=True)]


def _overlaps(rest: Rest, radii: Sequence[float], radius: float) -> list[float]:
    spot, count = rest.spot, len(radii)
    crowd = [0.0] * count
    for i in range(count):
        x, y = spot[i], spot[count + i]
        over = sqrt(x * x + y * y) + radii[i] - radius
        if over > 0.0:
            crowd[i] = over * over
    for i, j, touch, square_touch in rest.pairs:
        dx, dy = spot[i] - spot[j], spot[count + i] - spot[count + j]
        square = dx * dx + dy * dy
        if square < square_touch:
            over = touch - sqrt(square)
            over *= over
            crowd[i] += over
            crowd[j] += over
    return crowd
