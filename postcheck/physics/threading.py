"""Getting thick things through a bore in which other wires already lie: joints, plugs, flat packs, and in what order.

All lengths in one unit. Every verdict is one of `bundle`: "fits" has a certified arrangement behind it, "cannot fit" a
proof, "not found" neither.
"""

from collections.abc import Iterable, Sequence
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
    return bundle.pack([*beside, thick.across], bore).verdict


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
        if bundle.pack([*beside, middle], bore).verdict == bundle.FITS:
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
    sought = len(groups) <= _MOST_SOUGHT
    while left:
        tried: dict[Group, bundle.Verdict] = {}
        chosen = left[0]
        best: bundle.Verdict = bundle.CANNOT
        for number in left if sought else left[:1]:
            group = groups[number]
            if group not in tried:
                tried[group] = passes(group.thick, in_the_way(groups, number, left), bore)
            if _RANK[tried[group]] > _RANK[best]:
                chosen, best = number, tried[group]
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
    known: dict[Group, bundle.Verdict] = {}
    for number, group in enumerate(groups):
        if group not in known:
            others = in_the_way(groups, number, range(len(groups)))
            known[group] = passes(group.thick, [*others, *beside], bore)
    return tuple(known[group] for group in groups)


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
        return bundle.pack([*beside, *(one.across for one in thick)], bore).verdict
    others = [*beside, *(one.across for one in thick if not one.thin)]
    wide, slim = ([(max if by_edge else min)(one[:2]) for one in flat] for by_edge in (True, False))
    if any(
        flat_pack.goes_past(across, thin, others, bore) == bundle.FITS
        for across, thin in ((max(wide), sum(slim)), (sum(wide), max(slim)))
    ):
        return bundle.FITS
    if bundle.pack([*others, *(one.round for one in flat)], bore).verdict == bundle.FITS:
        return bundle.FITS
    # the circle inside a flat pack is what surely has to find room, and its area
    inside = bundle.pack([*others, *slim], bore).verdict
    area = sum(d * d for d in others) + 4.0 / pi * sum(one.across * one.thin for one in flat)
    return (
        bundle.CANNOT if inside == bundle.CANNOT or area > bore * bore * (1.0 + _HAIR) else bundle.NOT_FOUND
    )
