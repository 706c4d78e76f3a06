"""How long a battery lasts.

Runtime is a plain share of what the cell holds at the load: by its maker's figures where there are some, or else its
rated capacity. No Peukert exponent for all, which was fitted to lead-acid cells at rates far above those of display lamps.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import log

from postcheck.physics.given import above

__all__ = ["capacity_at", "charge_left", "runtime", "time_to_voltage"]


def capacity_at(rates: Sequence[tuple[float, float]], current: float) -> float:
    """Charge (C) that a cell gives at a steady current (A), by its maker's points of both, the smallest current first.

    Between two points Peukert's law, straight in the logarithms; beyond the ends the charge of the last point.
    """
    above(current=current)
    if not rates:
        raise ValueError("no points are given")
    for (low, more), (high, less) in pairwise(rates):
        if low <= current <= high:
            return float(more * (less / more) ** (log(current / low) / log(high / low)))
    return rates[0][1] if current <= rates[0][0] else rates[-1][1]


def runtime(capacity: float, current: float, derate: float = 0.75) -> float:
    """Time (s) a battery feeds an average current (A): t = k C / I, capacity C in coulomb (1 mAh = 3.6 C).

    k = 0.75 counts on three quarters of the capacity (age, temperature, cut-off; judgement).
    """
    above(derate=derate)
    if not current > 0:
        raise ValueError("the current must be above zero")
    if not capacity >= 0:
        raise ValueError("no battery holds less than nothing")
    return derate * capacity / current


def charge_left(volts: float, full: float, empty: float, half: float | None = None) -> float:
    """The share of its charge that a battery has left when it gives `volts`, V: 1 when full, 0 when empty, held between.

    Two straight lines that meet at `half` of the charge, by which cells with a plateau and those that fall all the way
    (alkaline) are alike; without it, or where it lies beyond the ends, one from full to empty. ValueError unless full
    lies above empty.
    """
    if not full > empty:
        raise ValueError("full must lie above empty")
    middle = half if half is not None and empty < half < full else (full + empty) / 2.0
    left = (
        0.5 + 0.5 * (volts - middle) / (full - middle)
        if volts > middle
        else 0.5 * (volts - empty) / (middle - empty)
    )
    return min(1.0, max(0.0, left))


def time_to_voltage(
    capacity: float, current: float, full: float, empty: float, wanted: float, derate: float = 0.75,
    half: float | None = None,
) -> float:  # fmt: skip
    """Time (s) until a battery's voltage has fallen to `wanted`: t = k C / I * (1 - what is then left of its charge).

    `half`: what it gives with half of its charge left, see `charge_left`.
    """
    return (1.0 - charge_left(wanted, full, empty, half)) * runtime(capacity, current, derate)
