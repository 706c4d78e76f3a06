"""SI numbers as text with a unit, for people."""

from __future__ import annotations

import math
from itertools import pairwise

from postcheck.description.units import MEASURES, SHOWN, Dimension


def article(dimension: Dimension) -> str:
    """Return the dimension with its article: "a length", "an angle"."""
    return f"{'an' if dimension.value[0] in 'aeiou' else 'a'} {dimension.value}"


def format_quantity(value: float, dimension: Dimension, digits: int = 3) -> str:
    """Return an SI value for people: three significant digits, the unit that suits, whole numbers kept whole.

    What comes out can be read by `parse` again. Raises ValueError for a value that is not finite.
    """
    if not math.isfinite(value):
        message = f"{value} cannot be shown as {article(dimension)}"
        raise ValueError(message)
    measure = MEASURES[dimension]
    shown = SHOWN[dimension]
    if value == 0:
        unit = "V" if dimension is Dimension.VOLTAGE else measure.example.rpartition(" ")[2]
        return f"0 {unit}"
    for unit in shown:
        number = _rounded(value / measure.units[unit], digits)
        if abs(float(number)) >= 1 or unit == shown[-1]:
            break
    if number in {"1", "-1"} and unit in {"years", "days"}:
        unit = unit[:-1]
    return f"{number} {unit}"


def format_apart(dimension: Dimension, *values: float) -> tuple[str, ...]:
    """Return values that are held against each other, with as many digits, from three up, as tell them apart.

    What differs by less than a billionth is the same.
    """
    same = 1e-9 * max(map(abs, values))
    ordered = sorted(values)
    different = 1 + sum(after - before > same for before, after in pairwise(ordered))
    for digits in range(3, 11):
        shown = tuple(format_quantity(value, dimension, digits) for value in values)
        if len(set(shown)) >= different:
            break
    return shown


def _rounded(number: float, digits: int) -> str:
    if not 1e-7 < abs(number) < 1e9:
        return f"{number:.{digits}g}"
    text = f"{number:.{max(0, digits - 1 - math.floor(math.log10(abs(number))))}f}"
    # 99.96 rounds up to 100.0: one digit too many, dropped with the other zeros
    return text.rstrip("0").rstrip(".") if "." in text else text
