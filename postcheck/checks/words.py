"""More numbers as findings show them, limits as findings carry them, and who drives what."""

from __future__ import annotations

from postcheck.description.models import Build
from postcheck.description.quantities import Dimension, format_quantity
from postcheck.limits import Limit
from postcheck.report import Limited

__all__ = ["count_of", "hertz", "limited", "of_rating", "ohms", "seconds", "steady_current"]


def ohms(value: float) -> str:
    """A resistance."""
    return format_quantity(value, Dimension.RESISTANCE)


def hertz(value: float) -> str:
    """A rate."""
    return format_quantity(value, Dimension.RATE)


def seconds(value: float) -> str:
    """A time."""
    return format_quantity(value, Dimension.TIME)


def count_of(number: int, one: str, many: str | None = None) -> str:
    """A number with its noun: 1 lamp, 3 lamps."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def limited(limit: Limit) -> Limited:
    """A limit as a finding carries it."""
    return Limited(limit.value, limit.unit, limit.source)


def of_rating(limit: Limit, rated: float, unit: str) -> Limited:
    """A limit that is a share of a rating, as the value it comes to."""
    return Limited(limit.value * rated, unit, limit.source)


def steady_current(build: Build, circuit: str) -> float | None:
    """What a constant-current output gives a circuit, A; None where none drives it."""
    said = build.circuit[circuit]
    if said.output is not None:
        return said.output.steady
    board = build.board.get(said.board or "")
    return board.steady if board is not None else None
