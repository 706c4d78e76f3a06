"""A build over a range of one key or two, for people: sentences, a table, and on a screen a curve or a map."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from postcheck.renderers import varied_words as words
from postcheck.renderers.braille import BITS, cell
from postcheck.renderers.streams import ascii_words
from postcheck.renderers.words import STYLES, safe
from postcheck.variation import Axis, Variation

if TYPE_CHECKING:
    from postcheck.renderers.page import Page

_LINES, _COLUMNS = 10, 64  # of a curve
_LEFT = 8  # columns for what stands beside it
_CELL = 3  # columns of a map's cell, at least


def render(
    variation: Variation,
    width: int | None = None,
    *,
    colour: bool = False,
    ascii: bool = False,  # noqa: A002 - the plain word for it
) -> str:
    """All of it: with `width` a screen no wider than that, with a curve; without, lines that are never wrapped.

    With `ascii` it holds ASCII only, the curve too.
    """
    if width is None:
        text = "".join(f"{line}\n" for line in _plain(variation))
        return ascii_words(text, "ascii") if ascii else text
    from postcheck.renderers.page import NARROWEST, Page  # noqa: PLC0415 - for a terminal alone

    page = Page(max(width, NARROWEST), colour=colour, plain=ascii)
    page.say(words.heading(variation), "bold", hang=2)
    page.say(words.source(variation), hang=2)
    page.gap()
    for sentence in words.sentences(variation):
        page.say(sentence, hang=2)
    page.gap()
    if len(variation.axes) == 2:
        _map(page, variation)
    else:
        if variation.margin and variation.segments:
            _curve(page, variation, plain=ascii)
        _table(page, variation)
        page.gap()
        for turn in words.turns(variation):
            page.say(turn, hang=2)
    return page.text().rstrip("\n") + "\n"


# -- in lines


def _plain(variation: Variation) -> Iterator[str]:
    yield words.heading(variation)
    yield words.source(variation)
    yield from words.sentences(variation)
    if len(variation.axes) == 2:
        down, across = variation.axes
        for point in variation.points:
            first, second = (
                words.value_words(axis, at) for axis, at in zip((down, across), point.at, strict=True)
            )
            yield f"{first}  {second}  {point.verdict}  {words.first_words(point)}".rstrip()
        return
    for value, point in words.rows(variation):
        used = words.used_words(point)
        yield "  ".join(
            filter(
                None,
                (value, point.verdict, used and f"{used} of {variation.margin}", words.first_words(point)),
            )
        )
    yield from words.turns(variation)


# -- on a screen


def _table(page: Page, variation: Variation) -> None:
    listed = list(words.rows(variation))
    first = max(len("value"), *(_wide(page, value) for value, _ in listed))
    second = max(len("verdict"), *(len(point.verdict) for _, point in listed))
    used = max((len(words.used_words(point)) for _, point in listed), default=0)
    used = max(used, len("used")) if used else 0
    column = first + 2 + second + 2 + (used + 2 if used else 0)
    narrow = page.width - column < 24
    head = (
        f"{'value':<{first}}  {'verdict':<{second}}  "
        + (f"{'used':>{used}}  " if used else "")
        + "first finding"
    )
    page.say(head if not narrow else "value, verdict, first finding", "bold", hang=2)
    for value, point in listed:
        style = STYLES[point.verdict]
        told_first = words.first_words(point)
        if narrow:
            page.say(page.styled((f"{value}: ", ""), (point.verdict, style), (f" {told_first}", "")), hang=2)
            continue
        line = page.styled(
            (value + " " * (first + 2 - _wide(page, value)), ""), (f"{point.verdict:<{second}}", style)
        )
        if used:
            line.append(f"  {words.used_words(point):>{used}}")
        line.append("  ")
        for index, more in enumerate(page.wrapped(page.styled((told_first, "")), page.width - column)):
            if index:
                more.pad_left(column)
                page.put(more)
            else:
                line.append_text(more)
                line.rstrip()
                page.put(line)


def _curve(page: Page, variation: Variation, *, plain: bool) -> None:
    """The curve of the margin, the limit across it, and the verdicts below."""
    axis = variation.axes[0]
    columns = min(_COLUMNS, page.width - _LEFT - 1)
    page.say(f"{words.margin_words(variation)}:", hang=2)
    places = [place * (columns - 1) for place in words.places_of(axis)]
    top = words.top_used(variation)
    rows = _drawn(variation, places, columns, top, plain=plain)
    dots = 1 if plain else len(BITS)
    limit = round((1.0 - 1.0 / top) * (_LINES * dots - 1)) // dots
    for number, row in enumerate(rows):
        label = {0: f"{top * 100:.0f} %", limit: "100 %", _LINES - 1: "0 %"}.get(number, "")
        line = page.styled((f"{label:>{_LEFT - 1}} ", ""), (row.rstrip(), ""))
        line.rstrip()
        page.put(line)
    band = page.styled((" " * _LEFT, ""))
    for column in range(columns):
        near = min(range(len(places)), key=lambda index: abs(places[index] - column))
        verdict = variation.points[near].verdict
        band.append(words.LETTERS[verdict], STYLES[verdict])
    page.put(band)
    marks = _marks(axis, places, columns)
    for mark in marks:
        page.put(page.styled((f"{' ' * _LEFT}{mark}".rstrip(), "")))
    page.say(
        f"{words.legend(variation)}" + ("; ^ as in the file" if axis.own is not None else ""), indent=_LEFT
    )
    page.gap()


def _marks(axis: Axis, places: Sequence[float], columns: int) -> Iterator[str]:
    """The file's own value, and the ends."""
    first, last = words.value_words(axis, 0), words.value_words(axis, len(axis.values) - 1)
    if axis.own is not None:
        yield " " * round(places[axis.own]) + "^"
    yield first + last.rjust(max(columns - len(first), len(last) + 1))


def _drawn(
    variation: Variation, places: Sequence[float], columns: int, top: float, *, plain: bool
) -> list[str]:
    """The lines of the plot, each of so many signs: dots, or stars where there are none."""
    wide, high = (1, 1) if plain else (2, 4)
    across, down = columns * wide, _LINES * high
    dots: set[tuple[int, int]] = set()

    def row(used: float) -> float:
        return (1.0 - used / top) * (down - 1)

    limit = round(row(1.0))
    dots |= {(limit, column) for column in range(0, across, 1 if plain else 3)} if not plain else set()
    before: float | None = None
    for column in range(across):
        used = _between(variation, places, column / max(across - 1, 1) * (columns - 1))
        now = row(used) if used is not None else None
        if now is not None:
            low, highest = sorted((now, now if before is None else before))
            steps = range(round(low), round(highest) + 1) if before is not None else [round(now)]
            dots |= {(step, column) for step in steps if 0 <= step < down}
        before = now
    if plain:
        return [
            "".join(
                "*" if (line, column) in dots else "-" if line == limit else " " for column in range(columns)
            )
            for line in range(_LINES)
        ]
    return [
        "".join(
            cell(bits) if (bits := _bits(dots, line, column)) else " " for column in range(columns)
        )
        for line in range(_LINES)
    ]  # fmt: skip


def _bits(dots: set[tuple[int, int]], line: int, column: int) -> int:
    return sum(
        BITS[down][right]
        for down in range(4)
        for right in range(2)
        if (4 * line + down, 2 * column + right) in dots
    )


def _between(variation: Variation, places: Sequence[float], at: float) -> float | None:
    """The share at a place, on the straight line between its neighbours; None where one of them is not known."""
    for (left, one), (right, other) in pairwise(zip(places, variation.points, strict=True)):
        if left <= at <= right and one.used is not None and other.used is not None:
            part = (at - left) / (right - left) if right > left else 0.0
            return one.used + (other.used - one.used) * part
    return None


class _Grid(NamedTuple):
    """What stands beside and above the cells of a map, how wide that is, and what its numbers stand for."""

    sides: Sequence[str]
    heads: Sequence[str]
    left: int
    wide: int
    unit: str
    keys: Sequence[str]


def _grid(page: Page, variation: Variation) -> _Grid | None:
    """As much in words as the page has room for, numbers for the rest; None where not even these have room."""
    down, across = variation.axes
    heads = [words.value_words(across, index) for index in range(len(across.values))]
    sides = [words.value_words(down, index) for index in range(len(down.values))]
    unit = f", {across.unit}" if across.unit else ""
    shown = [head.removesuffix(f" {across.unit}") for head in heads] if unit else heads
    wide = max(_CELL, *(_wide(page, head) + 1 for head in shown))
    left = max(_wide(page, side) for side in sides)
    keys: list[str] = []
    if left + wide * len(heads) > page.width:  # numbers instead, and what they stand for below
        keys = [f"Across{unit}: {_numbered(shown)}"]
        shown, unit = _numbers(heads), ""
        wide = max(_CELL, len(str(len(heads))) + 1)
    if left + wide * len(heads) > page.width:
        keys = [f"Down: {_numbered(sides)}", *keys]
        sides, left = _numbers(sides), len(str(len(sides)))
    fits = left + wide * len(heads) <= page.width
    return _Grid(sides, shown, left, wide, unit, keys) if fits else None


def _map(page: Page, variation: Variation) -> None:
    """The verdicts, the first key's values down and the second's across."""
    down, across = variation.axes
    grid = _grid(page, variation)
    if grid is None:
        for point in variation.points:
            place = words.place_words(variation, point)
            page.say(page.styled((f"{place}: ", ""), (point.verdict, STYLES[point.verdict])), hang=2)
        return
    page.say(f"Down: {safe(down.key, 100)}; across: {safe(across.key, 100)}{grid.unit}.", hang=2)
    line = page.styled((" " * grid.left, ""))
    for head in grid.heads:
        line.append(" " * (grid.wide - 1 - _wide(page, head)))
        line.append_text(page.styled((f"{head} ", "")))
    line.rstrip()
    page.put(line)
    places = {point.at: point for point in variation.points}
    own = words.own_place(variation)
    for index, side in enumerate(grid.sides):
        line = page.styled((" " * (grid.left - _wide(page, side)) + side, ""))
        for column in range(len(grid.heads)):
            verdict = places[index, column].verdict
            left_sign, right_sign = "[]" if (index, column) == own else "  "
            line.append(" " * (grid.wide - 3) + left_sign)
            line.append(words.LETTERS[verdict], STYLES[verdict])
            line.append(right_sign)
        line.rstrip()
        page.put(line)
    for key in grid.keys:
        page.say(key, hang=2)
    page.say(words.legend(variation) + ("; in brackets: as in the file" if None not in own else ""))
    page.gap()
    for first in words.firsts(variation):
        page.say(first, hang=2)


def _wide(page: Page, text: str) -> int:
    """How many columns a text takes on this page."""
    return page.styled((text, "")).cell_len


def _numbers(values: Sequence[str]) -> list[str]:
    return [str(number) for number in range(1, len(values) + 1)]


def _numbered(values: Sequence[str]) -> str:
    return ", ".join(f"{number}: {value}" for number, value in enumerate(values, 1))
