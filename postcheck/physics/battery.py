"""How long a battery lasts.

Runtime is a plain share of what the cell holds at the load: by its maker's figures where there are some, or else its
rated capacity. No Peukert exponent for all, which was fitted to lead-acid cells at rates far above those of display lamps.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import log

from postcheck.physics.given import above

__all__ = ["capacity_at", "runtime", "time_to_voltage"]


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


def time_to_voltage(
    capacity: float, current: float, full: float, empty: float, wanted: float, derate: float = 0.75
) -> float:
    """Time (s) until a battery's voltage has fallen to `wanted`: t = k C / I * (full - wanted) / (full - empty).

    Straight fall from full to empty, which fits alkaline cells well and is early (so on the safe side) for
    lithium cells, whose plateau holds longer. Held between 0 and the whole runtime.
    """
    if not full > empty:
        raise ValueError("full must lie above empty")
    share = min(1.0, max(0.0, (full - wanted) / (full - empty)))
    return share * runtime(capacity, current, derate)
