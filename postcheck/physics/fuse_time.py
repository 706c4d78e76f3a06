"""By when a fuse has surely opened, between and beyond the gates of its standard.

Sources: IEC 60127-2 sheets 2 and 3 and UL 248-14 by way of `fuse.fuse_opens`; makers' sheets of resettable fuses.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from math import inf, log

from postcheck.physics.fuse import fuse_opens

__all__ = ["carries_for_good", "surely_open_by"]

_GATES = (2.1, 2.75, 4.0, 10.0)
# Resettable: made to trip at twice its hold current; radial parts within some 4 s at five times hold (makers' sheets,
# from memory), faster with the square of the current.
_TRIPS, _TRIP_TIMES, _TRIP_SECONDS = 2.0, 5.0, 4.0


def carries_for_good(kind: str, times: float = 1.35) -> float:
    """Multiple of its rating that a fuse may carry and never open: `times`, or 2 for a resettable one.

    1.35 after UL 248-14 (opens at 135 % within the hour). IEC 60127-2 lets a fuse hold up to 210 % for half an
    hour; makers' curves of both kinds lie near 1.35 to 1.5 in the long run (from memory).
    """
    return _TRIPS if kind == "resettable" else times


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
