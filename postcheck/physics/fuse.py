"""What a fault does to a wire, and when a fuse ends it.

Sources: Preece and Onderdonk (fusing), IEC 60364-5-54 annex A (adiabatic heating), UL 248-14 and IEC 60127-2
(gates of time against current), IEC 60127-1 (preferred ratings), Churchill and Chu 1975 (free convection).
"""

from __future__ import annotations

from math import expm1, inf, log, log10, pi, sqrt
from typing import NamedTuple

from postcheck.physics.copper import ALPHA

__all__ = [
    "FUSE_KINDS",
    "Opening",
    "adiabatic_i2t",
    "adiabatic_time",
    "bundle_rise",
    "film_in_air",
    "fuse_opens",
    "largest_fuse",
    "next_fuse",
    "onderdonk",
    "peak_before_opening",
    "preece",
    "rises_to",
    "steady_current",
    "steady_temperature",
    "steady_temperature_in_air",
    "temperature_after",
]

MELTING = 1083.0
"""degC, copper, as in Onderdonk's equation (1085 by later measurement)."""
VOLUMETRIC_HEAT = 3.45e6
"""J/(K m3), copper, IEC 60364-5-54 table A.54.1."""
_BETA = 234.5  # degC below zero at which the linear law of copper's resistance reaches nothing
_RHO_TABLE = 17.241e-9  # ohm m at 20 degC, the same table


def preece(diameter: float, constant: float = 80.02) -> float:
    """Current (A) that melts a bare round copper wire of this diameter (m) in free air: I = a d**1.5, d in mm.

    a = 80.02 for d in mm (10 244 for inches). Preece 1884; long wires of about 0.1 to 2 mm, no enclosure: real
    values scatter by 30 % or more.
    """
    return constant * (diameter * 1e3) * sqrt(diameter * 1e3)


def onderdonk(cross_section: float, seconds: float, ambient: float = 25.0, melting: float = MELTING) -> float:
    """Current (A) that melts copper of this section (m2) in this time: I = A sqrt(log10((Tm-Ta)/(234+Ta)+1)/(33 t)).

    A in circular mils. No heat leaves the wire: valid below about 10 s. Constants of Onderdonk as published; a
    form with 234 - Ta that is passed round has the sign wrong.
    """
    if not seconds > 0:
        raise ValueError("the time must be above zero")
    circular_mils = 4.0 * cross_section / pi / (25.4e-6 * 25.4e-6)
    return circular_mils * sqrt(log10((melting - ambient) / (234.0 + ambient) + 1.0) / (33.0 * seconds))


def adiabatic_i2t(cross_section: float, start: float, end: float) -> float:
    """Energy let-through (A2 s) that heats copper of this section (m2) from start to end (degC).

    I2t = A**2 Qc (beta + 20) / rho20 * ln((beta + end)/(beta + start)), Qc 3.45e6 J/(K m3), beta 234.5 degC,
    rho20 17.241 nohm m. No heat leaves the wire: valid to 5 s, and on the safe side beyond. Source: IEC 60364-5-54
    annex A (its k is the root of I2t per mm2).
    """
    if not end >= start > -_BETA:
        raise ValueError("the end must not lie below the start, nor the start below -234 degC")
    k_squared = VOLUMETRIC_HEAT * (_BETA + 20.0) / _RHO_TABLE * log((_BETA + end) / (_BETA + start))
    return cross_section * cross_section * k_squared


def adiabatic_time(cross_section: float, current: float, start: float, end: float) -> float:
    """Time (s) at this current (A) until the copper has reached `end` (degC), no heat lost: t = I2t / I**2."""
    if current == 0:
        return inf
    return adiabatic_i2t(cross_section, start, end) / (current * current)


def steady_temperature(
    current: float,
    ohms_per_metre: float,
    outside: float,
    ambient: float = 25.0,
    film: float = 10.0,
    alpha: float = ALPHA,
) -> float | None:
    """Temperature (degC) at which a wire settles, or None if it runs away.

    dT = I**2 R' / (pi D h) with R' = R'20 (1 + alpha (T - 20)) at its own temperature: with q = I**2 R'20/(pi D h),
    dT = q (1 + alpha (Ta - 20)) / (1 - q alpha); for q alpha >= 1 the heat grows faster than it leaves.
    R'20 in ohm/m, D outside (m), h in W/(m2 K). The default of 10 is that of a bundle of a few millimetres; a
    single fine wire in free air loses far more (`steady_temperature_in_air`). Source: energy balance.
    """
    watts = current * current * ohms_per_metre
    rise = watts / (pi * outside * film)
    if rise * alpha >= 1.0:
        return None
    return ambient + rise * (1.0 + alpha * (ambient - 20.0)) / (1.0 - rise * alpha)


def bundle_rise(watts_per_metre: float, outside: float, film: float = 10.0) -> float:
    """Rise (K) of a bundle's surface: dT = sum(I**2 R') / (pi D h); W/m, D in m, h in W/(m2 K)."""
    if not (outside > 0 and film > 0):
        raise ValueError("a bundle needs a diameter and a film above zero")
    return watts_per_metre / (pi * outside * film)


def film_in_air(outside: float, rise: float, ambient: float = 25.0, emissivity: float = 0.0) -> float:
    """Heat film (W/(m2 K)) of a long level wire in still air: free convection, plus radiation if given.

    Nu = (0.60 + 0.387 Ra**(1/6) / (1 + (0.559/Pr)**(9/16))**(8/27))**2, h = Nu k / D, air at the film
    temperature. Valid for 1e-5 < Ra < 1e12, which takes in wires from 0.05 mm; about 20 % either way on wires.
    Source: Churchill and Chu 1975 (constants from memory); air by Sutherland's formula, from memory.
    """
    middle = 273.15 + ambient + rise / 2.0
    conductivity = 0.0241 * (middle / 273.15) ** 0.9
    viscosity = 1.458e-6 * middle**1.5 / (middle + 110.4)
    kinematic = viscosity * middle * 287.05 / 101325.0
    prandtl = viscosity * 1006.0 / conductivity
    rayleigh = 9.81 / middle * max(rise, 1e-3) * outside**3 * prandtl / (kinematic * kinematic)
    nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1.0 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    hot, cold = 273.15 + ambient + rise, 273.15 + ambient
    radiation = emissivity * 5.670e-8 * (hot * hot + cold * cold) * (hot + cold)
    return float(nusselt * conductivity / outside + radiation)


def steady_temperature_in_air(
    current: float,
    ohms_per_metre: float,
    outside: float,
    ambient: float = 25.0,
    most: float = MELTING,
    emissivity: float = 0.0,
) -> float | None:
    """Temperature (degC) at which one wire alone in still air settles, or None if it passes `most` (degC).

    Balance of I**2 R'20 (1 + alpha (T - 20)) with pi D h(T) (T - Ta), h from `film_in_air`, by halving. Leads
    that lie on plastic or in a bundle run warmer; take `steady_temperature` with a film of 10 there.
    """

    def short(rise: float) -> float:
        made = current * current * ohms_per_metre * (1.0 + ALPHA * (ambient + rise - 20.0))
        return made - pi * outside * film_in_air(outside, rise, ambient, emissivity) * rise

    low, high = 0.0, most - ambient
    if short(high) > 0.0:
        return None
    for _ in range(50):
        middle = 0.5 * (low + high)
        if short(middle) > 0.0:
            low = middle
        else:
            high = middle
    return ambient + high


def steady_current(
    limit: float, ohms_per_metre: float, outside: float, ambient: float = 25.0, film: float = 10.0
) -> float:
    """Current (A) at which a wire settles at `limit` (degC): I = sqrt(pi D h (T - Ta) / R'(T)).

    The inverse of `steady_temperature`.
    """
    if limit <= ambient:
        return 0.0
    return sqrt(pi * outside * film * (limit - ambient) / (ohms_per_metre * (1.0 + ALPHA * (limit - 20.0))))


def temperature_after(
    current: float,
    seconds: float,
    cross_section: float,
    ohms_per_metre: float,
    outside: float,
    ambient: float = 25.0,
    film: float = 10.0,
) -> float:
    """Temperature (degC) of a wire after so long at a current, from ambient; inf when it has run away.

    c A dT/dt = I**2 R'20 (1 + alpha (T - 20)) - pi D h (T - Ta), with c the volumetric heat of copper alone (the
    insulation's is left out: the hot side). In closed form dT = P0/(c A) * (exp(m t) - 1)/m, with P0 the power at
    ambient and m = (I**2 R'20 alpha - pi D h)/(c A). Linear law of resistance: above some 500 degC a lower bound.
    """
    heat = VOLUMETRIC_HEAT * cross_section
    power = current * current * ohms_per_metre
    start = power * (1.0 + ALPHA * (ambient - 20.0))
    rate = (power * ALPHA - pi * outside * film) / heat
    if seconds == inf:
        return ambient + start / heat / -rate if rate < 0 else (inf if start > 0 else ambient)
    exponent = rate * seconds
    if exponent > 50.0:
        return inf
    growth = seconds if abs(exponent) < 1e-12 else expm1(exponent) / rate
    return ambient + start / heat * growth


def rises_to(
    limit: float,
    current: float,
    cross_section: float,
    ohms_per_metre: float,
    outside: float,
    ambient: float = 25.0,
    film: float = 10.0,
) -> float:
    """Time (s) until a wire reaches `limit` (degC) at a current, or inf if it never does.

    `temperature_after` solved for the time: t = ln(1 + m dT c A / P0) / m.
    """
    if limit <= ambient:
        return 0.0
    heat = VOLUMETRIC_HEAT * cross_section
    power = current * current * ohms_per_metre
    start = power * (1.0 + ALPHA * (ambient - 20.0))
    if start <= 0.0:
        return inf
    rate = (power * ALPHA - pi * outside * film) / heat
    wanted = (limit - ambient) * heat / start
    if abs(rate * wanted) < 1e-12:
        return wanted
    inside = 1.0 + rate * wanted
    return log(inside) / rate if inside > 0.0 else inf


class Opening(NamedTuple):
    """When a fuse opens (s): not before `soonest`, surely by `latest`; inf means that nothing promises it."""

    soonest: float
    latest: float


# (times the rating, not before, by then); at the first row's rating and below it is made to carry the current.
# UL 248-14: carries 100 %, opens at 135 % within 1 h and at 200 % within 2 min (0 to 30 A).
# IEC 60127-2 quick-acting (sheet 2) and time-lag (sheet 3), glass 5 x 20 mm: from memory.
_GATES: dict[str, tuple[tuple[float, float, float], ...]] = {
    "ul": ((1.0, inf, inf), (1.35, 0.0, 3600.0), (2.0, 0.0, 120.0)),
    "quick": (
        (1.5, 3600.0, inf),
        (2.1, 0.0, 1800.0),
        (2.75, 0.01, 2.0),
        (4.0, 0.003, 0.3),
        (10.0, 0.0, 0.02),
    ),
    "slow": (
        (1.5, 3600.0, inf),
        (2.1, 0.0, 120.0),
        (2.75, 0.2, 10.0),
        (4.0, 0.04, 3.0),
        (10.0, 0.01, 0.3),
    ),
    # whatever is in the holder: the slower of quick-acting and time-lag at each gate
    "any": ((1.0, inf, inf), (2.1, 0.0, 1800.0), (2.75, 0.0, 10.0), (4.0, 0.0, 3.0), (10.0, 0.0, 0.3)),
}
FUSE_KINDS = tuple(_GATES)
"""Kinds of fuse with known gates: UL, IEC quick-acting, IEC time-lag, and any of these."""


def fuse_opens(rated: float, current: float, kind: str = "any") -> Opening:
    """Band of time in which a fuse of this rating (A) opens at this current (A).

    Between the gates of the standard the time falls as the current rises, so the last gate passed bounds it from
    above and the next one to come from below. Sources: UL 248-14; IEC 60127-2 sheets 2 and 3 (from memory); "ul"
    has no gate above twice the rating.
    """
    if not rated > 0:
        raise ValueError("a fuse has a rating above zero")
    try:
        gates = _GATES[kind]
    except KeyError:
        raise ValueError(f"no kind of fuse {kind!r}: {', '.join(FUSE_KINDS)}") from None
    times = current / rated * (1.0 + 1e-12)
    latest, soonest = inf, 0.0
    for gate, _, by in gates:
        if times >= gate:
            latest = by
    for gate, not_before, _ in reversed(gates):
        if times <= gate * (1.0 + 2e-12):
            soonest = max(soonest, not_before)
    return Opening(soonest, latest)


def peak_before_opening(
    rated: float,
    fault: float,
    cross_section: float,
    ohms_per_metre: float,
    outside: float,
    ambient: float = 25.0,
    film: float = 10.0,
    kind: str = "any",
) -> float:
    """Hottest (degC) a wire gets before its fuse surely opens at a fault current; inf if it runs away first.

    `temperature_after` at the latest time of `fuse_opens`; the steady temperature where nothing promises opening.
    """
    latest = fuse_opens(rated, fault, kind).latest
    return temperature_after(fault, latest, cross_section, ohms_per_metre, outside, ambient, film)


_R10 = (100, 125, 160, 200, 250, 315, 400, 500, 630, 800)
_R20 = (100, 112, 125, 140, 160, 180, 200, 224, 250, 280, 315, 355, 400, 450, 500, 560, 630, 710, 800, 900)


def _ratings(series: str) -> list[float]:
    if series not in ("R10", "R20"):
        raise ValueError(f"no series {series!r}: R10, R20")
    steps = _R20 if series == "R20" else _R10
    # IEC 60127 writes 32 mA for 31.5; the list runs from there to 10 A
    small = [0.032] + [step / 10_000 for step in steps if step > 315]
    return small + [step / 1_000 for step in steps] + [step / 100 for step in steps] + [10.0]


def next_fuse(at_least: float, series: str = "R10") -> float | None:
    """Least preferred fuse rating (A) not below this, 32 mA to 10 A, or None above: IEC 60127-1, R10 (or R20)."""
    return next((rating for rating in _ratings(series) if rating >= at_least * (1.0 - 1e-9)), None)


def largest_fuse(at_most: float, series: str = "R10") -> float | None:
    """Greatest preferred fuse rating (A) not above this, or None below 32 mA: IEC 60127-1, R10 (or R20)."""
    return max((rating for rating in _ratings(series) if rating <= at_most * (1.0 + 1e-9)), default=None)
