"""How full a bore is by area, and the handbook rules that go with it (the true packing is `bundle`).

Sources: NFPA 70 chapter 9 table 1 and notes; FAA AC 43.13-1B, 11-249.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor, sqrt

from postcheck.physics.given import above, each_above, from_zero

__all__ = [
    "bore_for_bundle",
    "conduit_count",
    "fill",
    "fill_limit",
    "jam_ratio",
    "jams",
    "rule_of_thumb_diameter",
    "smallest_bore_by_fill",
]


def fill(diameters: Iterable[float], bore: float) -> float:
    """Share of the bore's area that the wires take: sum(d**2) / D**2. All in one unit of length."""
    if not bore > 0:
        raise ValueError("a bore is wider than nothing")
    wires = tuple(diameters)
    each_above("diameters", wires)
    return sum(d * d for d in wires) / (bore * bore)


def fill_limit(count: int, one: float = 0.53, two: float = 0.31, more: float = 0.40) -> float:
    """Most share of a raceway's area that so many conductors may take: 53, 31, 40 % for 1, 2, more than 2.

    Source: NFPA 70 chapter 9 table 1.
    """
    if not count >= 1:
        raise ValueError("at least one conductor")
    return one if count == 1 else two if count == 2 else more


def smallest_bore_by_fill(diameters: Iterable[float], limit: float | None = None) -> float:
    """Least bore in which the wires take no more than the fill limit: D = sqrt(sum(d**2) / limit).

    Without a `limit` that of their number counts (NFPA 70 chapter 9 table 1). In the unit of the diameters.
    """
    wires = tuple(diameters)
    each_above("diameters", wires)
    if limit is not None:
        above(limit=limit)
    if not wires:
        return 0.0
    return sqrt(sum(d * d for d in wires) / (fill_limit(len(wires)) if limit is None else limit))


def conduit_count(bore_area: float, wire_area: float, limit: float = 0.40, round_up_from: float = 0.8) -> int:
    """How many equal conductors a raceway takes: floor(limit * A / a), one more if the remainder is 0.8 or more.

    The rounding is note 7 of NFPA 70 chapter 9 table 1. Areas in one unit.
    """
    above(wire_area=wire_area, limit=limit)
    from_zero(bore_area=bore_area, round_up_from=round_up_from)
    exact = limit * bore_area / wire_area
    return ceil(exact) if exact - floor(exact) >= round_up_from else floor(exact)


def jam_ratio(bore: float, wire: float, bend: float = 1.0) -> float:
    """Bore over wire diameter, D/d, times `bend`.

    NFPA 70 chapter 9 table 1, informational note 2, uses the plain ratio; cable makers' pulling guides multiply
    by 1.05 for the ovality of a bend (from memory).
    """
    above(bore=bore, wire=wire, bend=bend)
    return bend * bore / wire


def jams(ratio: float, count: int, low: float = 2.8, high: float = 3.2) -> bool:
    """Whether conductors may wedge side by side: three of them and a jam ratio of 2.8 to 3.2.

    Source: NFPA 70 chapter 9 table 1, informational note 2; with four or more it is very unlikely.
    """
    above(ratio=ratio)
    from_zero(count=count)
    return count == 3 and low <= ratio <= high


def bore_for_bundle(bundle: float, factor: float = 1.25) -> float:
    """Bore to choose for a bundle of this diameter: about a quarter more, FAA AC 43.13-1B, 11-249."""
    from_zero(bundle=bundle)
    above(factor=factor)
    return bundle * factor


def rule_of_thumb_diameter(diameters: Iterable[float], factor: float = 1.2) -> float:
    """Bundle diameter by the trade's rule D = 1.2 sqrt(sum d**2): not a bound, common practice.

    It is too small for 2 to 6, 9 and 10 equal wires. Kept to compare with; judge by `bundle.pack`.
    """
    above(factor=factor)
    wires = tuple(diameters)
    each_above("diameters", wires)
    return factor * sqrt(sum(d * d for d in wires))
