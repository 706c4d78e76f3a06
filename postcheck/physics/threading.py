"""Getting thick things through a bore in which other wires already lie: joints, plugs, flat packs, and in what order.

All lengths in one unit. Every verdict is one of `bundle`: "fits" has a certified arrangement behind it, "cannot fit" a
proof, "not found" neither.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import hypot, pi
from typing import NamedTuple

from postcheck.physics import bundle, flat_pack
from postcheck.physics.given import above, from_zero

__all__ = [
    "Group",
    "Order",
    "Thick",
    "abreast",
    "alone",
    "in_the_way",
    "one_by_one",
    "passes",
    "room_beside",
    "spaced",
]

_HAIR = 1e-9
# Orders of more groups than this are not sought but made by the rule.
_MOST_SOUGHT = 10


class Thick(NamedTuple):
    """The thickest spot of something that is threaded: `across` wide, round, or flat where `thin` is above zero."""

    across: float
    thin: float = 0.0

    @property
    def round(self) -> float:
        """Diameter of the circle round it."""
        return hypot(self.across, self.thin)


class Group(NamedTuple):
    """What is threaded in one go: the thickest spot, and the wires that lie in the bore once it is through.

    `behind`: numbers of the groups whose wires are joined to this one, and so never lie in its way.
    """

    thick: Thick
    wires: tuple[float, ...]
    behind: frozenset[int] = frozenset()


class Order(NamedTuple):
    """An order of threading, the verdict on the whole, and on each group beside what lies there when its turn comes.

    `first_to_last`: numbers of the groups as they were given; `verdicts`: one for each of these, in this order.
    `verdict`: on the whole; there "cannot fit" is proven for every order there is.
    """

    first_to_last: tuple[int, ...]
    verdict: bundle.Verdict
    verdicts: tuple[bundle.Verdict, ...]


def alone(thick: Thick, bore: float) -> bool:
    """Whether it goes through the empty bore: a flat pack by its diagonal."""
    above(across=thick.across, bore=bore)
    from_zero(thin=thick.thin)
    return thick.round <= bore * (1.0 + _HAIR)


def passes(thick: Thick, beside: Sequence[float], bore: float) -> bundle.Verdict:
    """Whether the thickest spot goes past wires that already lie in the bore."""
    if thick.thin:
        return flat_pack.goes_past(thick.across, thick.thin, beside, bore)
    return bundle.goes_in([*beside, thick.across], bore)


class _Passing:
    """`passes` for one bore, with what is known already: what is slimmer than what fits does so too.

    What is no slimmer than something that was not found to fit is not sought, unless it is proven not to.
    """

    def __init__(self, bore: float) -> None:
        self._bore = bore
        self._known: dict[tuple[Thick, tuple[float, ...]], bundle.Verdict] = {}

    def verdict(self, thick: Thick, beside: Iterable[float]) -> bundle.Verdict:
        """On the thickest spot past these wires."""
        key = thick, tuple(sorted(beside, reverse=True))
        if key not in self._known:
            self._known[key] = self._found(*key)
        return self._known[key]

    def _found(self, thick: Thick, beside: tuple[float, ...]) -> bundle.Verdict:
        surely_not = False
        for (other, wires), verdict in self._known.items():
            if verdict == bundle.FITS and _slimmer(thick, beside, other, wires):
                return bundle.FITS
            if verdict != bundle.FITS and _slimmer(other, wires, thick, beside):
                if verdict == bundle.CANNOT:
                    return bundle.CANNOT
                surely_not = True
        if surely_not:
            return bundle.CANNOT if _proven(thick, beside, self._bore) else bundle.NOT_FOUND
        return passes(thick, beside, self._bore)


def _slimmer(thick: Thick, beside: tuple[float, ...], other: Thick, wires: tuple[float, ...]) -> bool:
    """Whether one lies within the other: no part of it is thicker."""
    if (thick.thin > 0.0) != (other.thin > 0.0):
        return False
    if not thick.thin:
        beside = tuple(sorted((*beside, thick.across), reverse=True))
        wires = tuple(sorted((*wires, other.across), reverse=True))
    elif thick.across > other.across or thick.thin > other.thin:
        return False
    return len(beside) <= len(wires) and all(a <= b for a, b in zip(beside, wires, strict=False))


def _proven(thick: Thick, beside: Sequence[float], bore: float) -> bool:
    """Whether it is proven that the thickest spot does not go past these wires."""
    if thick.thin:
        return flat_pack.cannot_pass(thick.across, thick.thin, beside, bore)
    return bundle.smallest_possible([*beside, thick.across]) > bore * (1.0 + _HAIR)


def room_beside(beside: Sequence[float], bore: float, steps: int = 8) -> float:
    """Diameter of a round thing that surely passes beside these wires, close to the largest one found; 0 if none is.

    Found by halving on the certified packing, to bore/2**steps.
    """
    above(bore=bore)
    if not steps >= 1:
        raise ValueError(f"at least one step, not {steps!r}")
    low, high = 0.0, bore
    if not beside:
        return bore
    for _ in range(steps):
        middle = 0.5 * (low + high)
        if bundle.goes_in([*beside, middle], bore) == bundle.FITS:
            low = middle
        else:
            high = middle
    return low


def in_the_way(groups: Sequence[Group], number: int, lying: Iterable[int]) -> list[float]:
    """The wires of those groups that already lie there which a group has to pass."""
    behind = groups[number].behind
    return [d for other in lying if other != number and other not in behind for d in groups[other].wires]


def one_by_one(groups: Sequence[Group], bore: float) -> Order:
    """The best order in which groups go through one after the other; plain wires follow them.

    Built from the end: whatever passes beside the wires of all others may go last, for each of the others then finds
    fewer in its way. So if there is an order at all, this finds one, as far as the packing can tell; and if none of
    some groups can go last among them, that is a proof for every order. Of several, the one with the least bulge
    (w**2 - d**2) is left to the end: by area alone, largest bulge first is the best order (Lawler's rule for jobs with
    delivery times).
    """
    left = sorted(range(len(groups)), key=lambda i: (_bulge(groups[i]), -i))
    backwards: list[int] = []
    verdicts: list[bundle.Verdict] = []
    proven = False
    passing = _Passing(bore)
    sought = len(groups) <= _MOST_SOUGHT
    while left:
        chosen = left[0]
        best: bundle.Verdict = bundle.CANNOT
        for number in left if sought else left[:1]:
            verdict = passing.verdict(groups[number].thick, in_the_way(groups, number, left))
            if _RANK[verdict] > _RANK[best]:
                chosen, best = number, verdict
            if best == bundle.FITS:
                break
        proven = proven or (sought and best == bundle.CANNOT) or not alone(groups[chosen].thick, bore)
        left.remove(chosen)
        backwards.append(chosen)
        verdicts.append(best)
    whole: bundle.Verdict = min(verdicts, key=_RANK.__getitem__, default=bundle.FITS)
    if whole == bundle.CANNOT and not proven:
        whole = bundle.NOT_FOUND
    return Order(tuple(reversed(backwards)), whole, tuple(reversed(verdicts)))


_RANK: dict[bundle.Verdict, int] = {bundle.CANNOT: 0, bundle.NOT_FOUND: 1, bundle.FITS: 2}


def _bulge(group: Group) -> float:
    thick = group.thick
    across = thick.across * thick.across if thick.thin == 0.0 else thick.across * thick.thin * 4.0 / pi
    return across - sum(d * d for d in group.wires)


def spaced(groups: Sequence[Group], bore: float, beside: Sequence[float] = ()) -> tuple[bundle.Verdict, ...]:
    """The verdict on each group beside the wires of all others: drawn through together with the thick spots apart.

    Where all fit, every order does one by one, for then there is less in the way.
    """
    passing = _Passing(bore)
    asked = [
        (group.thick, [*in_the_way(groups, number, range(len(groups))), *beside])
        for number, group in enumerate(groups)
    ]
    # from the middle outwards: what is known of one settles all on one side of it
    for number in _by_halves(sorted(range(len(groups)), key=lambda i: groups[i].thick.round)):
        passing.verdict(*asked[number])
    return tuple(passing.verdict(*one) for one in asked)


def all_pass(groups: Sequence[Group], bore: float, beside: Sequence[float] = ()) -> bool:
    """Whether every group passes the wires of all others (see `spaced`); the first that does not ends the search."""
    passing = _Passing(bore)
    order = sorted(range(len(groups)), key=lambda i: -groups[i].thick.round)
    return all(
        passing.verdict(groups[i].thick, [*in_the_way(groups, i, range(len(groups))), *beside]) == bundle.FITS
        for i in order
    )


def _by_halves(numbers: Sequence[int]) -> Iterator[int]:
    if numbers:
        middle = len(numbers) // 2
        yield numbers[middle]
        yield from _by_halves(numbers[:middle])
        yield from _by_halves(numbers[middle + 1 :])


def abreast(thick: Sequence[Thick], beside: Sequence[float], bore: float) -> bundle.Verdict:
    """All drawn through together with the thick spots side by side.

    Flat packs fit as one, laid one on the other or edge to edge, or each by the circle round it.
    """
    if len(thick) == 1:
        return passes(thick[0], beside, bore)
    if not all(alone(one, bore) for one in thick):
        return bundle.CANNOT
    flat = [one for one in thick if one.thin]
    if not flat:
        return bundle.goes_in([*beside, *(one.across for one in thick)], bore)
    others = [*beside, *(one.across for one in thick if not one.thin)]
    wide, slim = ([(max if by_edge else min)(one[:2]) for one in flat] for by_edge in (True, False))
    if any(
        flat_pack.goes_past(across, thin, others, bore) == bundle.FITS
        for across, thin in ((max(wide), sum(slim)), (sum(wide), max(slim)))
    ):
        return bundle.FITS
    if bundle.goes_in([*others, *(one.round for one in flat)], bore) == bundle.FITS:
        return bundle.FITS
    # the circle inside a flat pack is what surely has to find room, and its area
    inside = bundle.goes_in([*others, *slim], bore)
    area = sum(d * d for d in others) + 4.0 / pi * sum(one.across * one.thin for one in flat)
    return (
        bundle.CANNOT if inside == bundle.CANNOT or area > bore * bore * (1.0 + _HAIR) else bundle.NOT_FOUND
    )
