"""By when a fuse has surely opened, between and beyond the gates of its standard.

Sources: IEC 60127-2 sheets 2 and 3 and UL 248-14 by way of `fuse.fuse_opens`; makers' sheets of resettable fuses.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from math import inf, log

from postcheck.physics.fuse import fuse_opens

__all__ = ["may_hold", "surely_open_by", "surely_opens_at"]

_GATES = (2.1, 2.75, 4.0, 10.0)
# Resettable: made to carry its hold current and to trip at twice that; radial parts within some 4 s at five times hold
# (makers' sheets, from memory), faster with the square of the current.
_HOLDS, _TRIPS, _TRIP_TIMES, _TRIP_SECONDS = 1.0, 2.0, 5.0, 4.0


def surely_opens_at(kind: str, times: float = _GATES[0]) -> float:
    """Multiple of its rating below which nothing promises that a fuse opens: `times`, or 2 for a resettable one.

    2.1 for quick and slow: the lowest current at which sheets 2 and 3 of IEC 60127-2 ask for anything (within half an
    hour). Most fuses open well below that some time; none has to.
    """
    return _TRIPS if kind == "resettable" else times


def may_hold(kind: str, times: float = 1.5) -> float:
    """Multiple of its rating that a fuse is made to hold: `times`, or its hold current for a resettable one.

    1.5 for quick and slow: for an hour at least, IEC 60127-2.
    """
    return _HOLDS if kind == "resettable" else times


@lru_cache(maxsize=8)
def _points(kind: str) -> tuple[tuple[float, float], ...]:
    """Gates as (times the rating, open by), from the standard."""
    return tuple((gate, fuse_opens(1.0, gate, kind).latest) for gate in _GATES)


def surely_open_by(rated: float, current: float, kind: str = "quick") -> float:
    """Time (s) by which a fuse has opened at a current (A), inf where nothing promises it. Kind: quick, slow, resettable.

    Straight lines in log t against log I between the gates (the standard fixes only the gates; judgement),
    and constant I**2 t beyond ten times: t = t10 (10 I_n / I)**2. Below 2.1 times no gate of IEC 60127-2 promises
    anything.
    """
    times = current / rated
    if kind == "resettable":
        return inf if times < _TRIPS else _TRIP_SECONDS * (_TRIP_TIMES / times) ** 2
    if times < _GATES[0]:
        return inf
    points = _points(kind)
    for (low, late), (high, soon) in pairwise(points):
        if times <= high:
            share = log(times / low) / log(high / low)
            return float(late * (soon / late) ** share)
    last, soon = points[-1]
    return float(soon * (last / times) ** 2)
