"""What to do about a cut length of strip."""

from __future__ import annotations

from math import ceil

from postcheck.build.quantities import Dimension, format_quantity

__all__ = ["remedy_for_cut", "remedy_for_far_end", "whole_lengths"]


def whole_lengths(length: float, segment: float) -> tuple[float, float]:
    """The lengths (m) of whole segments just below and just above `length`; the lower is 0 below one segment."""
    if not segment > 0.0:
        raise ValueError("a segment has a length above zero")
    whole = int(length / segment + 1e-6)
    return whole * segment, (whole + 1) * segment


def remedy_for_cut(length: float, segment: float) -> str:
    """Where to cut instead."""
    low, high = whole_lengths(length, segment)
    longer = f"{_mm(high)} ({round(high / segment)} segment{'s' if high > 1.5 * segment else ''})"
    if low == 0.0:
        return f"Cut it at {longer}."
    count = round(low / segment)
    return f"Cut it at {_mm(low)} ({count} segment{'s' if count > 1 else ''}) or at {longer}."


def remedy_for_far_end(through: float, stands: float) -> str:
    """How many pieces, each fed by its own leads, bring the current in each down to what it stands."""
    pieces = ceil(through / stands - 1e-9)
    return f"Feed it in {pieces} places, so that no more than {format_quantity(through / pieces, Dimension.CURRENT)} goes through one."


def _mm(value: float) -> str:
    return format_quantity(value, Dimension.LENGTH)
