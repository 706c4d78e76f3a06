"""Where a function that only rises or only falls is nothing: false position, as in Illinois."""

from __future__ import annotations

from collections.abc import Callable

__all__ = ["root_between"]

_TRIES = 60  # it is found within a dozen; the bound is for what never settles


def root_between(
    function: Callable[[float], float], low: float, high: float, at_low: float, at_high: float, *,
    within: float, narrow: float = 0.0,
) -> float:  # fmt: skip
    """The argument between `low` and `high` at which a steady function is nothing.

    `at_low`, `at_high`: its values there, of unlike signs. It ends where a value is `within` of nothing, or the ends are no
    further apart than `narrow`; the function was called last with what is returned, but where the ends met. An end that
    is kept twice in a row counts half (Dowell and Jarratt, BIT 11, 1971).
    """
    kept = 0
    for _ in range(_TRIES):
        if at_low == at_high or high - low <= narrow:
            break
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        if not low < middle < high:
            middle = (low + high) / 2.0
        value = function(middle)
        if abs(value) <= within:
            return middle
        if (value > 0.0) == (at_low > 0.0):
            low, at_low = middle, value
            at_high = at_high / 2.0 if kept < 0 else at_high
            kept = -1
        else:
            high, at_high = middle, value
            at_low = at_low / 2.0 if kept > 0 else at_low
            kept = 1
    return (low + high) / 2.0
