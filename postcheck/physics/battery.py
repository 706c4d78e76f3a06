"""How long a battery lasts, and the voltage of a cell full and empty.

Sources beside each row. Runtime is a plain share of the rated capacity: no Peukert exponent, which was fitted to
lead-acid cells at rates far above those of display lamps.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import NamedTuple

__all__ = ["CELLS", "Cell", "average_current", "cell", "pack_volts", "runtime", "time_to_voltage"]


class Cell(NamedTuple):
    """One cell of a chemistry: volts full, nominal and at cut-off, ohms inside when fresh, and the source."""

    name: str
    full: float
    nominal: float
    empty: float
    ohms: float
    lithium: bool
    source: str


CELLS = MappingProxyType(
    {
        row.name: row
        for row in (
            Cell(
                "alkaline",
                1.6,
                1.5,
                0.9,
                0.2,
                False,
                "AA at light load to 0.8..1.0 V, 0.15..0.3 ohm; from memory",
            ),
            Cell("nimh", 1.4, 1.2, 1.0, 0.05, False, "from memory"),
            Cell(
                "lithium-ion",
                4.2,
                3.7,
                3.0,
                0.1,
                True,
                "4.2 full, 3.7 nominal, 3.0 cut-off: cell makers' guides; ohms from memory",
            ),
            Cell(
                "lithium-coin",
                3.2,
                3.0,
                2.0,
                15.0,
                True,
                "CR2032 sheets: 235 mAh, 10..40 ohm; full and cut-off from memory",
            ),
            Cell("lead-acid", 2.15, 2.0, 1.75, 0.02, False, "from memory"),
            Cell("lifepo4", 3.6, 3.2, 2.5, 0.05, True, "from memory"),
        )
    }
)
"""Cells by chemistry. Ohms are orders of magnitude; a stated value is always better."""


def cell(chemistry: str) -> Cell:
    """The cell of this chemistry; KeyError names those there are."""
    try:
        return CELLS[chemistry]
    except KeyError:
        raise KeyError(f"no cell chemistry {chemistry!r}; there are {', '.join(sorted(CELLS))}") from None


def pack_volts(chemistry: str, series: int = 1) -> tuple[float, float, float]:
    """(empty, nominal, full) volts of so many cells in series: each n times the cell's."""
    if series < 1:
        raise ValueError("a battery has at least one cell")
    row = cell(chemistry)
    return series * row.empty, series * row.nominal, series * row.full


def average_current(parts: tuple[tuple[float, float], ...]) -> float:
    """Average current (A) of parts given as (current while on, share of the time on): sum(I s)."""
    return sum(current * share for current, share in parts)


def runtime(capacity: float, current: float, derate: float = 0.75) -> float:
    """Time (s) a battery feeds an average current (A): t = k C / I, capacity C in coulomb (1 mAh = 3.6 C).

    k = 0.75 counts on three quarters of the rated capacity (rate, age, temperature, cut-off; judgement).
    """
    if not current > 0:
        raise ValueError("the current must be above zero")
    if capacity < 0:
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
