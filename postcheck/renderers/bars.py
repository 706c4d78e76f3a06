"""A load drawn to scale against its rating; the words beside it say the same."""

from __future__ import annotations

USUAL, MOST, FREE, RATING = "\u2588", "\u2592", "\u2591", "|"


def bar(nominal: float, highest: float, free: float, cells: int) -> str:
    """Return the load as a bar of `cells`: usual load solid, up to the highest grey, the free share light.

    `free` is the free share of the rating at the highest load (report: `headroom`). Where it is below zero the bar is
    as long as the highest load and one more, and an upright stroke stands at the rating.
    """
    fraction = max(0.0, 1.0 - free)
    if highest <= 0.0 or fraction == 0.0:
        return FREE * cells
    whole = max(fraction, 1.0)
    most = _cells(fraction / whole, cells)
    if fraction < 1.0:
        most = min(most, cells - 1)  # a full bar is kept for a supply with nothing left
    usual = min(most, _cells(fraction / whole * min(1.0, nominal / highest), cells))
    drawn = USUAL * usual + MOST * (most - usual) + FREE * (cells - most)
    if fraction <= 1.0:
        return drawn
    rating = min(cells - 1, round(cells / fraction))
    return drawn[:rating] + RATING + drawn[rating:]


def _cells(fraction: float, cells: int) -> int:
    return max(1, round(fraction * cells)) if fraction > 0.0 else 0
