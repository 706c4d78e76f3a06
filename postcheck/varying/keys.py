"""A key that is varied: its values so far, those between them, and how they are written."""

from __future__ import annotations

from collections.abc import Mapping
from math import log
from typing import Any, NamedTuple

from postcheck.description.keys import form_at
from postcheck.description.models import Build
from postcheck.description.problems import Path, QuantityError
from postcheck.description.ranges import Choices, Range
from postcheck.description.toml_text import in_toml
from postcheck.physics.preferred import at_least
from postcheck.reading.what_if import named
from postcheck.variation import Axis

# Values of one key, and of each of two, that a coarse grid has; values that are named, and values of each key of a map.
COARSE, COARSE_A_SIDE = 21, 13
MOST_NAMED, MOST_A_SIDE = 60, 20
# Twelve decades of E96 are more than anyone has.
_MOST_ON_THE_SHELF = 12 * 96


class Varied(NamedTuple):
    """A key, step by step, and the values that it takes."""

    steps: tuple[str, ...]
    values: Range | Choices


class Key:
    """A key with its values so far, in order."""

    def __init__(self, build: Build, wanted: Varied, keys: int) -> None:
        self.values: Range | Choices = wanted.values
        where = named(build, wanted.steps)
        self.steps: tuple[str, ...] = wanted.steps
        if (part := self._part(where.path, where.given)) is not None:
            self.steps = (*wanted.steps, part)
            where = named(build, self.steps)
        self.path: Path = where.path
        self.key: str = where.key
        self.was: str | None = where.was
        self.own: float | None = None
        self.series: str = ""
        self.numbers: list[float]
        most = MOST_NAMED if keys == 1 else MOST_A_SIDE
        if isinstance(self.values, Choices):
            if len(self.values.values) > most:
                count = len(self.values.values)
                raise QuantityError(
                    "file.out-of-range", f"{count} values are too many", f"name {most} at the most"
                )
            self.numbers = [float(index) for index in range(len(self.values.values))]
            self.own = next(
                (float(i) for i, value in enumerate(self.values.values) if value == where.given), None
            )
        else:
            if where.path[-2:] == ("resistor", "ohms"):
                self.values = _on_the_shelf(self.values, build)
                self.series = build.stock.series if self.values.only else ""
            self.numbers = self.values.grid(COARSE if keys == 1 else COARSE_A_SIDE)
            own = self.values.number_of(where.given)
            if own is not None and self.values.least <= own <= self.values.most:
                self.own = own
                self.numbers = sorted({*self.numbers, own})

    def _part(self, path: Path, there: object) -> str | None:
        """Of a table that may be written in one line, the part that the values say: the rest of it stays as it is."""
        form = form_at(Build, path)
        if form is None or not isinstance(there, str | Mapping):
            return None
        ends: tuple[Any, ...] = (
            self.values.values
            if isinstance(self.values, Choices)
            else (self.values.value(self.values.least),)
        )
        parts = set()
        for end in ends:
            try:
                found = form.form(end) if isinstance(end, str) else {}
            except QuantityError:
                return None
            said = [key for key, value in found.items() if value == end]
            parts.add(said[0] if len(said) == 1 and len(found) == 1 else "")
        return parts.pop() or None if len(parts) == 1 else None

    def spread(self) -> list[float]:
        """The values in the order in which they are judged: the file's own and both ends first, so that little says much."""
        numbers = self.numbers
        first = [self.own] if self.own is not None else []
        if isinstance(self.values, Choices):
            return list(dict.fromkeys([*first, *numbers]))
        return list(dict.fromkeys([*first, numbers[0], numbers[-1], *numbers[::4], *numbers[::2], *numbers]))

    def value(self, number: float) -> Any:
        """A value as the file would have it, by its number."""
        return (
            self.values.values[int(number)] if isinstance(self.values, Choices) else self.values.value(number)
        )

    def text(self, number: float) -> str:
        """A value as it is typed."""
        if isinstance(self.values, Range):
            return self.values.text(number)
        value = self.value(number)
        return value if isinstance(value, str) else in_toml(value)

    def between(self, below: float, above: float) -> float | None:
        """A value about half way between two; None where none lies there."""
        return self.values.between(below, above) if isinstance(self.values, Range) else None

    def far(self, below: float, above: float) -> float:
        """How far apart two values are, for choosing where to look closer."""
        return (
            log(above / below) if isinstance(self.values, Range) and self.values.by_ratio else above - below
        )

    def axis(self) -> Axis:
        """The key as a variation has it."""
        values = tuple(map(self.text, self.numbers))
        own = self.numbers.index(self.own) if self.own in self.numbers else None
        if isinstance(self.values, Choices):
            return Axis(self.key, values, was=self.was, own=own)
        return Axis(
            self.key,
            values,
            tuple(self.numbers),
            self.values.unit,
            self.values.by_ratio,
            self.series,
            self.was,
            own,
        )


def _on_the_shelf(values: Range, build: Build) -> Range:
    """Of resistances those of the builder's series, where the range holds two of them."""
    unit = {"ohm": 1.0, "kohm": 1e3, "k": 1e3, "Mohm": 1e6, "M": 1e6}.get(values.unit)
    if unit is None or values.least <= 0.0:
        return values
    found: list[float] = []
    value = at_least(values.least * unit, build.stock.series)
    while value <= values.most * unit * (1.0 + 1e-9) and len(found) <= _MOST_ON_THE_SHELF:
        found.append(float(f"{value / unit:.12g}"))
        value = at_least(value * (1.0 + 1e-6), build.stock.series)
    return values._replace(only=tuple(found)) if len(found) > 1 else values
