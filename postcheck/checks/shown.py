"""Numbers and lists as findings show them."""

from __future__ import annotations

from collections.abc import Sequence

from postcheck.description.quantities import Dimension, format_apart, format_quantity
from postcheck.plain import quoted

__all__ = [
    "amps",
    "celsius",
    "degrees",
    "lengths",
    "listed",
    "millimetres",
    "percent",
    "span",
    "volts",
    "watts",
]


def amps(value: float) -> str:
    """A current; what is left of rounding is none."""
    return format_quantity(value if abs(value) > 1e-10 else 0.0, Dimension.CURRENT)


def volts(value: float) -> str:
    """A voltage; what is left of rounding is none."""
    return format_quantity(value if abs(value) > 1e-9 else 0.0, Dimension.VOLTAGE)


def watts(value: float) -> str:
    """A power."""
    return format_quantity(value, Dimension.POWER)


def millimetres(value: float) -> str:
    """A length."""
    return format_quantity(value, Dimension.LENGTH)


def lengths(*values: float) -> tuple[str, ...]:
    """Lengths that are held against each other: what differs does not look alike."""
    return format_apart(Dimension.LENGTH, *values)


def degrees(value: float) -> str:
    """An angle."""
    return format_quantity(value, Dimension.ANGLE)


def celsius(value: float) -> str:
    """A temperature, whole degrees."""
    return f"{value:.0f} degC"


def percent(value: float) -> str:
    """A share."""
    return format_quantity(value, Dimension.SHARE)


def span(seconds: float, beside: float = 0.0) -> str:
    """A length of time, in hours up to four days; `beside`: a longer one told with it, so that both are in hours."""
    if max(seconds, beside) >= 3600.0 and seconds < 100.0 * 3600.0:
        return f"{float(f'{seconds / 3600.0:.3g}'):g} h"
    return format_quantity(seconds, Dimension.TIME)


def listed(names: Sequence[str], most: int = 3) -> str:
    """Names in quotes: the first few, and how many more there are."""
    known = list(dict.fromkeys(names))
    shown = ", ".join(quoted(name) for name in known[:most])
    more = len(known) - most
    return f"{shown} and {more} more" if more > 0 else shown
