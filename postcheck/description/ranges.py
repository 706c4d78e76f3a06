"""The values that a key is to take: a range of numbers with a unit, or a list."""

from __future__ import annotations

import re
from decimal import Decimal
from math import floor, isfinite, log10, sqrt
from typing import Any, NamedTuple

import tomli

from postcheck.description.problems import QuantityError
from postcheck.description.quantities import UNSIGNED, parse_any, tidy
from postcheck.description.units import MEASURES, SHOWN
from postcheck.plain import quoted

__all__ = ["Choices", "Range", "values_of"]

_EXAMPLE = 'write a range such as "3 mm..8 mm", or a list such as "ptfe-28, ptfe-30"'
_NUMBER = re.compile(rf"(?P<number>[+-]?{UNSIGNED}) ?(?P<unit>[^0-9].*)?")
# Beyond this ratio of its ends a range is gone over by ratio: judgement, as on the paper of a log plot.
_BY_RATIO = 20.0
_DIGITS = 3
# A count beyond this is a typing mistake: judgement. Cycles have the bound that the file's own have.
_MOST_COUNTED, _MOST_CYCLES = 1e4, 1e12
# Steps of a grid: of 1, 2 and 5, with 2.5 between; by ratio the series R40, R20, R10, R5 of ISO 3 and 1, 2, 5.
_STEPS = (1.0, 2.0, 2.5, 5.0)
_R40 = (
    1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3.0,
    3.15, 3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6, 6.0, 6.3, 6.7, 7.1, 7.5, 8.0, 8.5, 9.0, 9.5,
)  # fmt: skip
_RATIOS = (
    _R40,
    _R40[::2],
    (1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0),
    (1.0, 1.6, 2.5, 4.0, 6.3),
    (1.0, 2.0, 5.0),
    (1.0, 3.0),
    (1.0,),
)


class Choices(NamedTuple):
    """Values in the order given, as TOML has them."""

    values: tuple[Any, ...]


class Range(NamedTuple):
    """Numbers of one unit from the least to the most; `whole`: counts, which have none.

    `only`: the numbers that there are, rising, where not every one can be had.
    """

    least: float
    most: float
    unit: str
    whole: bool
    only: tuple[float, ...] = ()

    @property
    def by_ratio(self) -> bool:
        """Whether values are set apart by their ratio."""
        return not self.whole and self.least > 0.0 and self.most / self.least >= _BY_RATIO

    def value(self, number: float) -> Any:
        """What the file would have for a number."""
        return int(number) if self.whole else self.text(number)

    def text(self, number: float) -> str:
        """A number with its unit."""
        spelt = format(Decimal(f"{number:.12g}"), "f")
        spelt = spelt.rstrip("0").rstrip(".") if "." in spelt else spelt
        return f"{spelt} {self.unit}".rstrip()

    def grid(self, most: int) -> list[float]:
        """Both ends and round numbers between, about so many in all and never two more."""
        if self.only:
            every = -(-len(self.only) // most)
            return sorted({*self.only[::every], self.only[-1]})
        if self.by_ratio:
            between = next(
                found
                for series in _RATIOS
                if len(found := self._decades(series)) + 2 <= most or len(series) == 1
            )[: most - 2]
        else:
            raw = max((self.most - self.least) / (most - 1), 1.0 if self.whole else 0.0)
            power = 10.0 ** floor(log10(raw) + 1e-9)
            steps = [power * step for step in (*_STEPS, 10.0)]
            if self.whole:
                steps = [step for step in map(float, map(round, steps)) if step >= 1.0]
            step = next(step for step in steps if step >= raw * (1.0 - 1e-9) or step == steps[-1])
            numbers = range(floor(self.least / step), floor(self.most / step) + 1)
            between = [float(f"{number * step:.12g}") for number in numbers]
        return sorted({self.least, self.most, *(one for one in between if self.least < one < self.most)})

    def _decades(self, series: tuple[float, ...]) -> list[float]:
        powers = range(floor(log10(self.least)), floor(log10(self.most)) + 1)
        found = (float(f"{one * 10.0**power:.12g}") for power in powers for one in series)
        return [one for one in found if self.least < one < self.most]

    def next_to(self, below: float, above: float) -> bool:
        """Whether no value lies between these two that could be had."""
        if self.only:
            return not any(below < one < above for one in self.only)
        return self.whole and above - below <= 1.0

    def between(self, below: float, above: float) -> float | None:
        """A number half way to three digits; None where there is none."""
        if self.only:
            inside = [one for one in self.only if below < one < above]
            return inside[len(inside) // 2] if inside else None
        if self.whole:
            middle = float((int(below) + int(above)) // 2)
            return middle if below < middle < above else None
        middle = sqrt(below) * sqrt(above) if self.by_ratio else (below + above) / 2.0
        # near zero three digits of the number itself would be finer than anyone asks for
        size = middle if self.by_ratio else max(abs(middle), (self.most - self.least) / 10.0)
        step = 10.0 ** (floor(log10(size)) - _DIGITS + 1)
        if step == 0.0:  # smaller than any number that has three digits
            return None
        rounded = float(f"{round(middle / step) * step:.12g}")
        for one in (rounded, float(f"{rounded + step:.12g}"), float(f"{rounded - step:.12g}")):
            if below < one < above:
                return one
        return None

    def number_of(self, value: object) -> float | None:
        """A value of the file as a number of this unit; None where it is none."""
        if isinstance(value, int) and not isinstance(value, bool) and self.whole:
            return float(value)
        if not isinstance(value, str) or self.whole:
            return None
        try:
            match = _NUMBER.fullmatch(tidy(value))
            if match is not None and match["unit"] == self.unit:
                return float(match["number"])
            (number, dimension), (_, own) = parse_any(value), parse_any(f"1 {self.unit}")
        except QuantityError:
            return None
        if dimension is not own or "deg" in self.unit:
            return None
        return float(f"{number / MEASURES[own].units[self.unit]:.12g}")


def values_of(text: str) -> Range | Choices:
    """Read "3 mm..8 mm", "3..8 mm", "1..5", "ptfe-28, ptfe-30" or a list of TOML. Raises QuantityError."""
    text = text.strip()
    if text.startswith("["):
        try:
            found = tomli.loads(f"values = {text}")
        except (ValueError, RecursionError):
            found = {}
        if list(found) == ["values"] and len(found["values"]) > 1:
            return Choices(tuple(found["values"]))
        raise QuantityError("file.not-a-quantity", f"{quoted(text)} is no list of two or more", _EXAMPLE)
    if "," not in text and ".." in tidy(text):
        return _range(text)
    items = [item.strip() for item in text.split(",")]
    if len(items) < 2 or not all(items):
        raise QuantityError("file.not-a-quantity", f"{quoted(text)} names no two values", _EXAMPLE)
    return Choices(tuple(map(_item, items)))


def _item(text: str) -> Any:
    try:
        found = tomli.loads(f"value = {text}")
    except (ValueError, RecursionError):
        return text
    return found["value"] if len(found) == 1 else text


def _range(text: str) -> Range:
    if re.search(r"[0-9]\^[0-9]", text):
        raise QuantityError(
            "file.not-a-quantity", f"{quoted(text)} has a power of a number", "write the number out"
        )
    # three dots would else read as two and a decimal point, as in "3 mm...4 mm"
    ends = [end.strip() for end in re.sub(r"\.{3,}", "..", tidy(text)).split("..")]
    if len(ends) != 2 or not all(ends):
        raise QuantityError("file.not-a-quantity", f"{quoted(text)} has not two ends", _EXAMPLE)
    plain = [_NUMBER.fullmatch(end) for end in ends]
    units = {match["unit"] or "" for match in plain if match} - {""}
    low, high = plain
    if low and high and len(units) <= 1 and not (low["unit"] and not high["unit"]):
        unit = next(iter(units), "")
        whole = not unit and all(re.fullmatch(r"[+-]?[0-9]+", end) for end in ends)
        found = Range(float(low["number"]), float(high["number"]), unit, whole)
    else:
        (least, one), (most, other) = map(parse_any, ends)
        if one is not other:
            raise QuantityError(
                "file.wrong-dimension", f"{quoted(text)} goes from {one.value} to {other.value}", _EXAMPLE
            )
        sizes = MEASURES[one].units
        unit = next((unit for unit in SHOWN[one] if least >= sizes[unit]), SHOWN[one][-1])
        first, last = (float(f"{end / sizes[unit]:.12g}") for end in (least, most))
        found = Range(first, last, unit, whole=False)
    _plausible(found, text)
    if found.least < found.most:
        return found
    says, hint = "does not rise", "write the least first"
    if found.least == found.most:
        says, hint = "has no width", "for one value take check --with"
    raise QuantityError("file.wrong-order", f"{quoted(text)} {says}", hint)


def _plausible(found: Range, text: str) -> None:
    """Raise where an end is beyond what a file may say in that unit."""
    largest = max(abs(found.least), abs(found.most))
    if not isfinite(largest):
        raise QuantityError("file.not-finite", f"{quoted(text)} is beyond any number", _EXAMPLE)
    most = _MOST_CYCLES if found.unit in {"cycles", "cycle", "times", "turns"} else _MOST_COUNTED
    if any(found.unit in measure.units for measure in MEASURES.values()):
        for end in (found.least, found.most):
            parse_any(f"{end!r} {found.unit}", signed=True)
    elif largest > most:
        raise QuantityError(
            "file.absurd",
            f"{quoted(text)} is implausible (a typing mistake?)",
            f"no end may be beyond {most:g}",
        )
