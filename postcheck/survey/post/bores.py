"""The bore, the free length and the turn with which a passage would do."""

from __future__ import annotations

from math import ceil, degrees, floor, radians, sqrt

from postcheck.description.models import Passage
from postcheck.limits import Limit, Limits
from postcheck.survey.post.figures import PassageFigures
from postcheck.survey.post.turning import free_of, short_lived


def room_wanted(count: int, limits: Limits) -> Limit:
    """The least ratio of a bore to a bundle of so many members; one alone slides with less."""
    return limits["passage.room" if count > 1 else "passage.room.one"]


def most_fill(count: int, limits: Limits) -> Limit:
    """The share of a bore's area that this many conductors may fill."""
    return limits[
        "passage.fill.one" if count == 1 else "passage.fill.two" if count == 2 else "passage.fill.more"
    ]


def is_easy(passage: Passage, limits: Limits) -> bool:
    """Whether a bore is short and straight: it is filled by hand, not pulled full."""
    return passage.length < limits.value("passage.short") and passage.bends == 0.0


def is_pushed(passage: Passage, count: int, limits: Limits) -> bool:
    """Whether no handbook fill limit is asked: a single conductor is simply pushed through a short straight bore."""
    return count == 1 and is_easy(passage, limits)


def wide_bore(figures: PassageFigures, limits: Limits) -> float:
    """The least bore (m, to a tenth of a millimetre up) with room for the bundle, within the fill limit, that jams none."""
    count = len(figures.members)
    bores = [figures.smallest_bore * room_wanted(count, limits).value]
    if not is_pushed(figures.passage, figures.counted, limits):
        bores.append(figures.passage.bore * sqrt(figures.fill / figures.fill_limit))
    if figures.jam_ratio is not None:
        bores.append(
            figures.passage.bore / figures.jam_ratio * limits.value("passage.jam.high") * (1.0 + 1e-6)
        )
    return ceil(max(bores) * 1e4 - 1e-6) / 1e4


def free_length(figures: PassageFigures, cycles: float, turn: float | None = None) -> float | None:
    """The least free length (m, rounded up to a millimetre) at which every wire surely lasts so many cycles.

    `turn`: rad each way, where that is not the passage's own. None where it is more than the passage is long: wires are
    gripped at its ends at the latest. Found by halving; the strain falls as the length grows.
    """
    turn = figures.passage.turn if turn is None else turn
    low, high = 0.001, figures.passage.length
    if short_lived(figures, cycles, high, turn):
        return None
    for _ in range(14):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if short_lived(figures, cycles, middle, turn) else (low, middle)
    return min(ceil(high * 1e3) / 1e3, figures.passage.length)


def turn_borne(
    figures: PassageFigures, cycles: float, free: float | None = None, step: float = 5.0
) -> float | None:
    """The greatest turn each way (rad, rounded down to a step in degrees) that every wire surely survives; None below a step.

    `free`: m, where that is not the passage's own free length.
    """
    length = free_of(figures.passage) if free is None else free
    for number in range(floor(degrees(figures.passage.turn) / step), 0, -1):
        if not short_lived(figures, cycles, length, radians(number * step)):
            return radians(number * step)
    return None
