"""Wires of different diameters side by side in a round bore: do they fit, and how slim can the bundle be.

`pack` arranges the wires and certifies the arrangement; `smallest_possible` proves what no arrangement can beat.
Between the two lies the honest answer "not found".
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import chain
from math import frexp, ldexp
from threading import Lock
from typing import Final, Literal, NamedTuple

from postcheck.physics.bundle import bounds, certify, greedy
from postcheck.physics.given import one_of

__all__ = [
    "CANNOT",
    "FITS",
    "LIGHT",
    "LONG",
    "NOT_FOUND",
    "QUICK",
    "Effort",
    "Packing",
    "Verdict",
    "pack",
    "smallest_possible",
]

Verdict = Literal["fits", "cannot fit", "not found"]
"""On a bore: the arrangement is the proof, proven impossible, or neither."""
Effort = Literal["light", "quick", "long"]
"""How hard an arrangement is looked for; see `pack`."""
FITS: Final = "fits"
CANNOT: Final = "cannot fit"
NOT_FOUND: Final = "not found"
LIGHT: Final = "light"
QUICK: Final = "quick"
LONG: Final = "long"
# Of each effort, eighths of the quick one's work.
_EIGHTHS: dict[Effort, int] = {LIGHT: 2, QUICK: 8, LONG: 160}
# Where a layout moves too slowly for all of that to be waited for: wires from which on long effort falls, with the fifth
# power of their number, and the least it falls to.
_UP_TO = 40
_LEAST = 20

# Circles that a search for few wires may move with quick effort, for each wire above three: then they have been everywhere.
_FEW = 40_000

# From so many wires on, the first layout stands: each round of a search goes over all pairs.
_TOO_MANY = 300

_HAIR = 1e-9  # relative; far below any wire's tolerance, above the rounding of the sums
_THINNEST = 1e-6  # of twice the thickest wire or less
_Centres = tuple[tuple[float, float], ...]


class Packing(NamedTuple):
    """An arrangement: bundle `diameter`, in `centres` (x, y) of each wire in the order given, and the verdict on the bore.

    The circle of `diameter` about the origin holds every wire and no two wires overlap: exactly so for the numbers
    given here, with nothing allowed for rounding. All lengths in the unit of the diameters given.

    `verdict`: "fits", "cannot fit" or "not found", see `pack`. `margin`: the bore less the bundle's diameter, None
    without a bore; where they fit it is at least -1e-9 of the bore. `bound`: the diameter that no arrangement can beat
    (`smallest_possible`). `proof`: the name of the bound that proves "cannot fit", None with the other verdicts.
    """

    diameter: float
    centres: _Centres
    verdict: Verdict
    margin: float | None = None
    bound: float = 0.0
    proof: str | None = None


def pack(diameters: Sequence[float], bore: float | None = None, effort: Effort = QUICK) -> Packing:
    """Arrange round wires of these diameters in a circle, all in one unit of length.

    Without a bore: the smallest enclosing circle found, verdict "fits". With one: "fits" (the arrangement is the proof),
    "cannot fit" (proven: `smallest_possible` is wider than the bore) or "not found" (neither); the search stops at
    the first arrangement that fits, so `diameter` is then at most the bore but not the least. Touching exactly
    counts as fitting, to 1e-9. Maximum outside diameters should be given.

    Exact for up to three wires (Descartes' circle theorem). Otherwise a greedy layout, which settles most real bores,
    then a search from many starts, counted in work and never in time, with random numbers of its own and only
    + - * / and sqrt: the same answer on every machine. "quick" looks for a fit for at most 0.3 s, a quarter of that
    where nothing comes near; before it gives up it looks for the smallest enclosing circle as if no bore were given, as
    far as that takes it inside the bore: half a second in all for up to 40 wires, a second where nearly all sizes differ.
    "long" does ten to twenty times the work for up to 40 wires, and less for more, down to two and a half times from 61 on
    (about 3 s); beyond 300 wires nothing is searched; "light" does a quarter: enough where there is room. For up to 37
    equal wires quick effort is mostly within 0.1 % of the best known bundle; for mixed ones usually within 1 %. Of bores of
    1 % above the best known 19 in 20 are found to do, of 0.5 % three in four.

    ValueError for a diameter or bore that is not above zero, or another effort.
    """
    return _packed(diameters, bore, effort, _searched)


def laid_in(diameters: Sequence[float], bore: float, effort: Effort = QUICK) -> Packing:
    """As `pack`, sought for that bore alone: where nothing is found it costs a fifth of the work."""
    return _packed(diameters, bore, effort, _sought)


def goes_in(diameters: Sequence[float], bore: float, effort: Effort = QUICK) -> Verdict:
    """The verdict of `laid_in`."""
    wires = sorted((float(d) for d in diameters), reverse=True)
    _measured((bore, *wires))
    if not wires:
        return FITS
    power = frexp(wires[0])[1]
    radii, goal = tuple(ldexp(d, -power) for d in wires), ldexp(bore, -power)
    bound, _ = bounds.lower(radii)
    if bound > goal * (1.0 + _HAIR):
        return CANNOT
    radii = tuple(max(r, _THINNEST) for r in radii)
    radius, _ = _sought(radii, bound, goal, effort)
    return FITS if radius <= goal * (1.0 + _HAIR) else NOT_FOUND


def _packed(
    diameters: Sequence[float],
    bore: float | None,
    effort: Effort,
    search: Callable[[tuple[float, ...], float, float | None, Effort], tuple[float, _Centres]],
) -> Packing:
    wires = tuple(float(d) for d in diameters)
    _measured(wires)
    if bore is not None:
        _measured((bore,), "a bore")
    one_of("effort", effort, _EIGHTHS)
    if not wires:
        return Packing(0.0, (), FITS, bore)
    # the search knows radii in falling order, the largest from 1/2 up to 1; a power of two scales them exactly
    order = sorted(range(len(wires)), key=lambda i: -wires[i])
    power = frexp(wires[order[0]])[1]
    radii = tuple(ldexp(wires[i], -power) for i in order)
    goal = None if bore is None else ldexp(bore, -power)
    bound, proof = bounds.lower(radii)
    # a wire far thinner than the rounding of its place is laid a little thicker, which proves as much
    radii = tuple(max(r, _THINNEST) for r in radii)
    if goal is None or bound <= goal * (1.0 + _HAIR):
        radius, layout = search(radii, bound, goal, effort)
        verdict: Verdict = FITS if goal is None or radius <= goal * (1.0 + _HAIR) else NOT_FOUND
    else:
        radius, layout = _first(radii, None)
        verdict = CANNOT
    centres = [(0.0, 0.0)] * len(wires)
    for place, (x, y) in zip(order, layout, strict=True):
        centres[place] = (ldexp(x, power - 1), ldexp(y, power - 1))
    diameter = ldexp(radius, power)
    return Packing(
        diameter,
        tuple(centres),
        verdict,
        margin=None if bore is None else bore - diameter,
        bound=ldexp(bound, power),
        proof=proof if verdict == CANNOT else None,
    )


def smallest_possible(diameters: Sequence[float]) -> float:
    """Bundle diameter that no arrangement of these wires can beat: a proven lower bound.

    The greatest of: root of the summed squares (area); the two largest side by side; Descartes' circle round the
    three largest; the four or five largest in a ring; all that are as large as the k-th, shrunk to it or with as many
    of its size in their place as surely fit, against the proven best for equal circles (to 14 and 19; sources at
    `bounds.RATIOS`) or the bound of Oler and Groemer. Usually 3 to 10 % below the best arrangement.
    """
    wires = sorted((float(d) for d in diameters), reverse=True)
    if not wires:
        return 0.0
    _measured(wires)
    power = frexp(wires[0])[1]
    return ldexp(bounds.lower([ldexp(d, -power) for d in wires])[0], power)


def _measured(diameters: Sequence[float], name: str = "every wire") -> None:
    """ValueError unless all can be diameters, and far from where floats lose places."""
    if not all(1e-100 <= d <= 1e100 for d in diameters):
        raise ValueError(f"{name} needs a diameter above zero (1e-100 to 1e100 in any unit)")


@lru_cache(maxsize=512)
def _first(radii: tuple[float, ...], goal: float | None) -> tuple[float, _Centres]:
    """Certified radius and layout without a search; the best there is for up to three wires."""
    if len(radii) <= 3:
        radius, layout = certify.tightened(*greedy.exact(radii), radii)
    else:
        radius, layout = greedy.compact(radii, goal or 0.0)
    return radius, tuple(zip(*layout, strict=True))


@lru_cache(maxsize=512)
def _searched(
    radii: tuple[float, ...], bound: float, goal: float | None, effort: Effort
) -> tuple[float, _Centres]:
    """Certified radius and layout: the first inside the goal, else the slimmest found."""
    found = _first(radii, None) if goal is None else _for_goal(radii, bound, goal, _goal_work(radii, effort))
    wanted = (bound if goal is None else goal) * (1.0 + _HAIR)
    if len(radii) <= 3 or len(radii) > _TOO_MANY or found[0] <= wanted:
        return found
    # whoever drills the bore that the free search asked for must be told that it does
    return min(found, _free(radii, bound, effort).within(wanted), key=lambda one: one[0])


def _sought(
    radii: tuple[float, ...], bound: float, goal: float | None, effort: Effort
) -> tuple[float, _Centres]:
    """Certified radius and layout by a search for the goal and nothing after it."""
    return _first(radii, None) if goal is None else _for_goal(radii, bound, goal, _brief_work(radii, effort))


def _slimmer(
    radii: tuple[float, ...], found: tuple[float, _Centres], bound: float, goal: float | None, work: int
) -> Iterator[tuple[float, _Centres]]:
    from postcheck.physics.bundle import search  # noqa: PLC0415 - where there is room the first layout does

    xs, ys = zip(*found[1], strict=True)
    for radius, layout in search.slimmer(radii, found[0], (list(xs), list(ys)), bound, goal, work):
        yield radius, tuple(zip(*layout, strict=True))


class _Free:
    """The search without a bore, gone on with as far as a bore asks for, so that any order of bores is answered alike."""

    def __init__(self, radii: tuple[float, ...], bound: float, effort: Effort) -> None:
        first = _first(radii, None)
        self._found = [first]
        self._more = _slimmer(radii, first, bound, None, _free_work(radii, effort))
        self._alone = Lock()

    def within(self, wanted: float) -> tuple[float, _Centres]:
        """The first that it finds inside this radius, else the slimmest of all."""
        with self._alone:
            for found in chain(self._found, self._going_on()):
                if found[0] <= wanted:
                    return found
            return self._found[-1]

    def _going_on(self) -> Iterator[tuple[float, _Centres]]:
        for found in self._more:
            self._found.append(found)
            yield found


@lru_cache(maxsize=512)
def _free(radii: tuple[float, ...], bound: float, effort: Effort) -> _Free:
    return _Free(radii, bound, effort)


@lru_cache(maxsize=512)
def _for_goal(radii: tuple[float, ...], bound: float, goal: float, work: int) -> tuple[float, _Centres]:
    """Certified radius and layout by the search for this goal alone: the first inside it, else the slimmest found."""
    found = _first(radii, goal)
    wanted = goal * (1.0 + _HAIR)
    if len(radii) <= 3 or len(radii) > _TOO_MANY or found[0] <= wanted:
        return found
    for slim in _slimmer(radii, found, bound, goal, work):
        found = slim
        if found[0] <= wanted:
            break
    return found


def _goal_work(radii: tuple[float, ...], effort: Effort) -> int:
    """Circles that the search for a bore may move, some 1 to 3 us each."""
    count = len(radii)
    # many touch more neighbours each
    quick = min(max(200_000, 13_000_000 // count), 350_000, _FEW * (count - 3))
    return quick * _eighths(count, effort) // 8


def _brief_work(radii: tuple[float, ...], effort: Effort) -> int:
    """The same where no search without a bore follows: for some 0.1 s up to 20 wires and 0.2 s up to 40."""
    count = len(radii)
    quick = min(max(85_000, 12_000 * count - 160_000), 200_000, _FEW // 2 * (count - 3))
    return quick * _eighths(count, effort) // 8


def _free_work(radii: tuple[float, ...], effort: Effort) -> int:
    """Circles that the search without a bore may move."""
    count = len(radii)
    sizes = len(set(radii))
    quick = min(220_000 if sizes == 1 else 180_000, _FEW * (count - 3))
    if 2 * sizes >= count > 8:
        quick = 700_000  # nearly all different: there are more orders to try
    if count > 100:
        quick = 150_000
    return quick * min(_eighths(count, effort), 80) // 8


def _eighths(count: int, effort: Effort) -> int:
    eighths = _EIGHTHS[effort]
    if effort == LONG and count > _UP_TO:
        eighths = max(_LEAST, eighths * _UP_TO**5 // count**5)
    return eighths
