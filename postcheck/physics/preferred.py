"""Preferred values of resistors: E12, E24, E96.

Source: IEC 60063. E24 is not the rounded geometric series (eight values differ), so it is stored; E96 is.
"""

from __future__ import annotations

from math import floor, log10
from typing import Literal

from postcheck.physics.given import one_of

__all__ = ["SERIES", "Series", "at_least", "at_most", "is_preferred", "nearest", "series_of"]

Series = Literal["E12", "E24", "E96"]
"""A series of IEC 60063 with so many values a decade."""

_E24 = (100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300, 330, 360, 390, 430, 470, 510, 560, 620, 680, 750,
        820, 910)  # fmt: skip
SERIES: dict[Series, tuple[int, ...]] = {
    "E12": _E24[::2],
    "E24": _E24,
    "E96": tuple(round(100.0 * 10.0 ** (i / 96.0)) for i in range(96)),
}
"""Values of one decade, in hundredths."""


def _candidates(value: float, series: Series) -> list[float]:
    if not 0.0 < value < float("inf"):
        raise ValueError("a resistance must be above zero and finite")
    one_of("series", series, SERIES)
    values = SERIES[series]
    decade = floor(log10(value))
    found = []
    for power in (decade, decade + 1):
        for step in values:
            # one rounding only, so that 4.7 kilo is 4700.0 and 0.47 is 0.47
            scale = power - 2
            found.append(step * 10.0**scale if scale >= 0 else step / 10.0**-scale)
    return found


def nearest(value: float, series: Series = "E24") -> float:
    """The preferred value with the least ratio to `value` (so the geometric middle divides); the lower if equal."""
    return min(_candidates(value, series), key=lambda c: (max(c / value, value / c), c))


def at_least(value: float, series: Series = "E24") -> float:
    """The least preferred value not below `value` (1e-9 relative counts as equal)."""
    return min(c for c in _candidates(value, series) if c >= value * (1.0 - 1e-9))


def at_most(value: float, series: Series = "E24") -> float:
    """The greatest preferred value not above `value` (1e-9 relative counts as equal)."""
    return max(c for c in _candidates(value, series) if c <= value * (1.0 + 1e-9))


def is_preferred(value: float, series: Series = "E24") -> bool:
    """Whether `value` is in the series, to 1e-9 relative."""
    return abs(nearest(value, series) / value - 1.0) < 1e-9


def series_of(value: float) -> Series | None:
    """The coarsest series that has the value: "E12", "E24", "E96" or None."""
    return next((name for name in SERIES if is_preferred(value, name)), None)
