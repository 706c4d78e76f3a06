"""How long a battery lasts.

Runtime is a plain share of the rated capacity: no Peukert exponent, which was fitted to
lead-acid cells at rates far above those of display lamps.
"""

from __future__ import annotations

from postcheck.physics.given import above

__all__ = ["runtime", "time_to_voltage"]


def runtime(capacity: float, current: float, derate: float = 0.75) -> float:
    """Time (s) a battery feeds an average current (A): t = k C / I, capacity C in coulomb (1 mAh = 3.6 C).

    k = 0.75 counts on three quarters of the rated capacity (rate, age, temperature, cut-off; judgement).
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
