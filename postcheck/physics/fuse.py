"""What a miniature fuse holds, by when it has surely opened, and the ratings it is made in.

Sources: makers' sheets that quote IEC 60127-2 (sheets 1 and 2, quick; 3, time-lag in glass; 5, time-lag in ceramic) and
UL 248-14; makers' tables of resettable polymer fuses; IEC 60127-1 (preferred ratings).
"""

from __future__ import annotations

from math import e, inf, log, log1p
from typing import Literal, get_args

from postcheck.physics.given import above, from_zero, one_of

__all__ = [
    "FuseBody",
    "FuseKind",
    "breaks",
    "cold_filaments",
    "least_melting",
    "may_hold",
    "may_open_in",
    "next_fuse",
    "resettable_in_air",
    "surely_open_by",
    "surely_opens_at",
]

FuseKind = Literal["quick", "slow", "UL", "resettable"]
"""Quick-acting (letter F of IEC 60127), time-lag (letter T), a fuse by UL 248-14, or a resettable polymer one."""
FuseBody = Literal["glass", "ceramic"]
"""Glass: low breaking capacity (letter L of IEC 60127). Ceramic: high (letter H)."""
_KINDS: tuple[str, ...] = get_args(FuseKind)
_BODIES: tuple[str, ...] = get_args(FuseBody)

_Gates = tuple[tuple[float, float], ...]  # (times the rating, open within so many s)
# Of each kind and body the gates of the ratings (A) below a bound, smallest bound first.
_GATES: dict[tuple[str, str], tuple[tuple[float, _Gates], ...]] = {
    ("quick", "glass"): (
        (8.0, ((2.1, 1800.0), (2.75, 2.0), (4.0, 0.3), (10.0, 0.02))),
        (inf, ((2.1, 1800.0), (2.75, 2.0), (4.0, 0.4), (10.0, 0.04))),
    ),
    ("quick", "ceramic"): (
        (5.0, ((2.1, 1800.0), (2.75, 2.0), (4.0, 0.3), (10.0, 0.02))),
        (8.0, ((2.1, 1800.0), (2.75, 3.0), (4.0, 0.3), (10.0, 0.02))),
        (inf, ((2.1, 1800.0), (2.75, 20.0), (4.0, 1.0), (10.0, 0.03))),
    ),
    ("slow", "glass"): ((inf, ((2.1, 120.0), (2.75, 10.0), (4.0, 3.0), (10.0, 0.3))),),
    ("slow", "ceramic"): ((inf, ((2.1, 1800.0), (2.75, 80.0), (4.0, 5.0), (10.0, 0.15))),),
    # UL 248-14, to 30 A
    ("UL", ""): ((inf, ((1.35, 3600.0), (2.0, 120.0))),),
    # The slowest of those that makers list: trips from three times its hold current at last (0.10 A in a chip), within
    # 24 s at five times (3.75 A, 60 V). Between those two nobody gives a time: half an hour, as its hold is tested; judgement.
    ("resettable", ""): ((inf, ((3.0, 1800.0), (5.0, 24.0))),),
}
# The least time that the same sheets allow at these gates.
_SOONEST: dict[tuple[str, str], tuple[tuple[float, _Gates], ...]] = {
    ("quick", "glass"): ((0.101, ((2.75, 0.01), (4.0, 0.003))), (inf, ((2.75, 0.05), (4.0, 0.01)))),
    ("quick", "ceramic"): ((inf, ((2.75, 0.01), (4.0, 0.003))),),
    ("slow", "glass"): (
        (0.101, ((2.75, 0.2), (4.0, 0.04), (10.0, 0.01))),
        (inf, ((2.75, 0.6), (4.0, 0.15), (10.0, 0.02))),
    ),
    ("slow", "ceramic"): (
        (0.801, ((2.75, 0.25), (4.0, 0.05), (10.0, 0.005))),
        (inf, ((2.75, 0.75), (4.0, 0.095), (10.0, 0.01))),
    ),
}
_FIRST_GATE = 2.1
_HOLDS = 1.5
# Most that a kind is made to interrupt: amperes, and times the rating where that is more.
_BREAKS: dict[str, tuple[float, float]] = {
    "glass": (35.0, 10.0),  # IEC 60127-2, low breaking capacity
    "ceramic": (1500.0, 0.0),  # high
    "UL": (35.0, 0.0),  # UL 248-14: the least at 250 V, to 1 A
    "resettable": (40.0, 0.0),  # usual for radial parts (from memory)
}


def surely_opens_at(kind: FuseKind, times: float = _FIRST_GATE) -> float:
    """Multiple of its rating below which nothing promises that a fuse opens.

    For quick and slow `times` (above zero): 2.1, the lowest current at which IEC 60127-2 asks for anything. By UL 248-14
    1.35; 3 for a resettable one. Most fuses open well below that some time; none has to.
    """
    one_of("kind", kind, _KINDS)
    above(times=times)
    return times if kind in ("quick", "slow") else _GATES[kind, ""][0][1][0][0]


def may_hold(kind: FuseKind, times: float = _HOLDS) -> float:
    """Multiple of its rating that a fuse is made to hold: `times` (above zero); 1 by UL 248-14 and for a resettable one.

    1.5 for quick and slow: for half an hour at least, up to 6.3 A an hour (IEC 60127-2).
    """
    one_of("kind", kind, _KINDS)
    above(times=times)
    return times if kind in ("quick", "slow") else 1.0


def breaks(rated: float, kind: FuseKind = "quick", body: FuseBody | None = None) -> float:
    """The most current (A) that a fuse is made to interrupt. One whose body is not known counts as glass. `rated` above zero."""
    one_of("kind", kind, _KINDS)
    above(rated=rated)
    amps, times = _BREAKS[(body or "glass") if kind in ("quick", "slow") else kind]
    return max(amps, times * rated)


# Makers' tables: some 85 % at 40 degC of what it holds at 20 (from memory).
_LESS_PER_KELVIN = 0.15 / 20.0


def resettable_in_air(celsius: float) -> float:
    """The factor on a resettable fuse's hold and trip currents at 20 degC, in air of so many degC.

    It trips at one temperature of its own, and warm air leaves less of the way to that: a straight line through 1 at 20 degC
    and 0.85 at 40. Zero where the air alone trips it.
    """
    return max(1.0 - _LESS_PER_KELVIN * (celsius - 20.0), 0.0)


def may_open_in(
    rated: float,
    current: float,
    kind: FuseKind = "quick",
    body: FuseBody | None = None,
    holds: float = _HOLDS,
) -> float:
    """The shortest time (s) in which a fuse may open at a current (A), inf where it is made to hold it.

    t = t_g ln(1 - (h / I)**2) / ln(1 - (h / I_g)**2) of the next gate above, with h what it holds: a body with one time constant
    that gets no hotter than it may at h. Of all that conduct their heat away, hold h and last t_g at I_g it opens first. Beyond the last gate
    t = t_g (I_g / I)**2. One whose body is not known counts as glass, one by UL 248-14, for which no least time is published, as
    quick; a resettable one warms for seconds, and is taken to hold. `rated` above zero, `current` from zero; `holds` as in `may_hold`.
    """
    one_of("kind", kind, _KINDS)
    above(rated=rated)
    from_zero(current=current)
    times, held = current / rated, may_hold(kind, holds)
    if kind == "resettable" or times <= held:
        return inf
    kind = "slow" if kind == "slow" else "quick"
    gates = _of_rating(_SOONEST[kind, body or "glass"], rated)
    for at, soonest in gates:
        if times <= at:
            return soonest * log1p(-((held / times) ** 2)) / log1p(-((held / at) ** 2))
    at, soonest = gates[-1]
    return soonest * (at / times) ** 2


def least_melting(rated: float, kind: FuseKind = "quick", body: FuseBody | None = None) -> float:
    """The least I2t (A2 s) that melts a fuse in milliseconds, inf for a resettable one, which has to warm for seconds.

    I2t at the last gate of the shortest times: in so short a pulse nothing flows off. Nominal ones, by makers' sheets, are some
    four times that (from memory). Kinds and bodies as in `may_open_in`; `rated` above zero.
    """
    one_of("kind", kind, _KINDS)
    above(rated=rated)
    if kind == "resettable":
        return inf
    at, soonest = _of_rating(_SOONEST["slow" if kind == "slow" else "quick", body or "glass"], rated)[-1]
    return (at * rated) ** 2 * soonest


# From its peak a cold filament's current has come down to twice what it settles at within 3 to 5 ms (a driver maker's note).
_TWICE_AFTER = 5e-3


def cold_filaments(settled: float, peak: float) -> float:
    """I2t (A2 s) of what cold filaments take beyond what they settle at (A), from a peak (A) that is no less.

    i = settled + (peak - settled) exp(-t / T), and i**2 - settled**2 integrated: (peak - settled)**2 T / 2 + 2 settled (peak - settled) T.
    T is such that i is twice the settled current after 5 ms, the slow end of 3 to 5 ms; 5 ms where the peak is no more than that.
    """
    from_zero(settled=settled, peak=peak)
    more = max(peak - settled, 0.0)
    falls = _TWICE_AFTER / log(max(more / settled, e)) if settled > 0.0 else _TWICE_AFTER
    return more * more * falls / 2.0 + 2.0 * settled * more * falls


def surely_open_by(
    rated: float,
    current: float,
    kind: FuseKind = "quick",
    body: FuseBody | None = None,
    trips: tuple[float, float] | None = None,
) -> float:
    """Time (s) by which a fuse has opened at a current (A), inf where nothing promises it.

    t = t_g (I_g / I)**2 of the last gate (I_g, t_g) that the current passes: between gates the standard promises the time
    of the one below, and what it takes to melt a link, I**2 t, does not grow with the current. The later time of glass and
    ceramic where `body` is not known. `trips`: current (A) and time (s) of a resettable fuse, by its maker. `rated` above
    zero, `current` from zero.
    """
    one_of("kind", kind, _KINDS)
    above(rated=rated)
    from_zero(current=current)
    if body is not None:
        one_of("body", body, _BODIES)
    if kind == "resettable" and trips is not None:
        amps, seconds = trips
        above(amps=amps, seconds=seconds)
        if current >= amps:
            return seconds * (amps / current) ** 2
    bodies = (body or "glass", body or "ceramic") if kind in ("quick", "slow") else ("",)
    return max(_by_gates(rated, current, _of_rating(_GATES[kind, one], rated)) for one in bodies)


def _of_rating(table: tuple[tuple[float, _Gates], ...], rated: float) -> _Gates:
    return next(gates for below, gates in table if rated < below)


def _by_gates(rated: float, current: float, gates: _Gates) -> float:
    times = current / rated
    return min((by * (at / times) ** 2 for at, by in gates if times >= at * (1.0 - 1e-12)), default=inf)


_R10 = (100, 125, 160, 200, 250, 315, 400, 500, 630, 800)
# IEC 60127 writes 32 mA for 31.5; the list runs from there to 10 A
_RATINGS = (
    *(0.032, 0.04, 0.05, 0.063, 0.08),
    *(step / 1_000 for step in _R10),
    *(step / 100 for step in _R10),
    10.0,
)


def next_fuse(at_least: float) -> float | None:
    """Least preferred fuse rating (A) not below this, 32 mA to 10 A, or None above: IEC 60127-1, R10."""
    from_zero(at_least=at_least)
    return next((rating for rating in _RATINGS if rating >= at_least * (1.0 - 1e-9)), None)
