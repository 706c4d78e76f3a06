"""What a miniature fuse holds, by when it has surely opened, and the ratings it is made in.

Sources: IEC 60127-2 sheets 2 and 3, glass 5 x 20 mm (from memory); IEC 60127-1 (preferred ratings); makers' sheets of
resettable fuses (from memory).
"""

from __future__ import annotations

from itertools import pairwise
from math import inf, log
from typing import Literal, get_args

from postcheck.physics.given import above, from_zero, one_of

__all__ = ["FuseKind", "may_hold", "next_fuse", "surely_open_by", "surely_opens_at"]

FuseKind = Literal["quick", "slow", "resettable"]
"""Quick-acting (letter F of IEC 60127), time-lag (letter T), or a resettable polymer one."""
_KINDS: tuple[str, ...] = get_args(FuseKind)

# (times the rating, open within so many s): quick-acting is sheet 2, time-lag sheet 3
_GATES: dict[FuseKind, tuple[tuple[float, float], ...]] = {
    "quick": ((2.1, 1800.0), (2.75, 2.0), (4.0, 0.3), (10.0, 0.02)),
    "slow": ((2.1, 120.0), (2.75, 10.0), (4.0, 3.0), (10.0, 0.3)),
}
_FIRST_GATE = 2.1
# Resettable: made to carry its hold current and to trip at twice that; radial parts within some 4 s at five times hold
# (makers' sheets, from memory), faster with the square of the current.
_HOLDS, _TRIPS, _TRIP_TIMES, _TRIP_SECONDS = 1.0, 2.0, 5.0, 4.0


def surely_opens_at(kind: FuseKind, times: float = _FIRST_GATE) -> float:
    """Multiple of its rating below which nothing promises that a fuse opens: `times` (above zero), or 2 for a resettable one.

    2.1 for quick and slow: the lowest current at which sheets 2 and 3 of IEC 60127-2 ask for anything (within half an
    hour). Most fuses open well below that some time; none has to.
    """
    one_of("kind", kind, _KINDS)
    above(times=times)
    return _TRIPS if kind == "resettable" else times


def may_hold(kind: FuseKind, times: float = 1.5) -> float:
    """Multiple of its rating that a fuse is made to hold: `times` (above zero), or its hold current for a resettable one.

    1.5 for quick and slow: for an hour at least, IEC 60127-2.
    """
    one_of("kind", kind, _KINDS)
    above(times=times)
    return _HOLDS if kind == "resettable" else times


def surely_open_by(rated: float, current: float, kind: FuseKind = "quick") -> float:
    """Time (s) by which a fuse has opened at a current (A), inf where nothing promises it. Kind: quick, slow, resettable.

    Straight lines in log t against log I between the gates (the standard fixes only the gates; judgement),
    and constant I**2 t beyond ten times: t = t10 (10 I_n / I)**2. Below 2.1 times no gate of IEC 60127-2 promises
    anything. `rated` above zero, `current` from zero.
    """
    one_of("kind", kind, _KINDS)
    above(rated=rated)
    from_zero(current=current)
    times = current / rated
    if kind == "resettable":
        return inf if times < _TRIPS else _TRIP_SECONDS * (_TRIP_TIMES / times) ** 2
    points = _GATES[kind]
    if times < points[0][0] * (1.0 - 1e-12):
        return inf
    for (low, late), (high, soon) in pairwise(points):
        if times <= high:
            share = log(times / low) / log(high / low)
            return float(late * (soon / late) ** share)
    last, soon = points[-1]
    return float(soon * (last / times) ** 2)


_R10 = (100, 125, 160, 200, 250, 315, 400, 500, 630, 800)
# IEC 60127 writes 32 mA for 31.5; the list runs from there to 10 A
_RATINGS = (
    0.032,
    *(step / 10_000 for step in _R10 if step > 315),
    *(step / 1_000 for step in _R10),
    *(step / 100 for step in _R10),
    10.0,
)


def next_fuse(at_least: float) -> float | None:
    """Least preferred fuse rating (A) not below this, 32 mA to 10 A, or None above: IEC 60127-1, R10."""
    from_zero(at_least=at_least)
    return next((rating for rating in _RATINGS if rating >= at_least * (1.0 - 1e-9)), None)
