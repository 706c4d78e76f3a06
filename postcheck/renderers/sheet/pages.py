"""What goes on which page. Every block knows its height, so that the pages printed are the pages promised.

Heights are in mm and on the safe side; a page is as high as both A4 and Letter allow inside their margins.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from postcheck.renderers.markup import Element, el
from postcheck.renderers.measure import folded, long

WIDE = 186.0  # A4 is 210 wide, Letter 216; both have margins of 12
ROOM = 233.0  # Letter is 279 high: less margins, head and foot of the page, and a little air
SIZE = 3.1  # of the letters: 8.8 pt
LINE = 4.3
BOLD = 1.15  # how much wider bold letters are
_HEAVY = frozenset({"stop", "name", "danger"})
_PADDING = 2.6  # of a row, with its rule
_BESIDE = 3.0  # of a cell, left and right together


@dataclass(frozen=True, slots=True)
class Block:
    """One thing that is not broken. `keep`: the next one stays with it."""

    element: Element
    height: float
    keep: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell: paragraphs of plain text, each with elements before it; `wide` is what those take, mm."""

    paragraphs: tuple[tuple[str, tuple[Element, ...], float, str], ...]

    @classmethod
    def of(cls, *texts: str, class_: str = "") -> Cell:
        """A cell of paragraphs without anything before them; empty ones are left out."""
        return cls(tuple((text, (), 0.0, class_) for text in texts if text))


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its heading and its width in mm."""

    head: str
    wide: float


@dataclass(frozen=True, slots=True)
class Table:
    """A table that may go on overleaf, with its head again. `label`: what it is, for those who hear it."""

    label: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def head_height(self) -> float:
        """The height of its head, mm."""
        return _PADDING + LINE * max(lines(column.head, column.wide - _BESIDE) for column in self.columns)

    def row_height(self, row: Sequence[Cell]) -> float:
        """The height of a row, mm."""
        return _PADDING + LINE * max(
            sum(
                lines(text, column.wide - _BESIDE - wide, SIZE * BOLD if class_ in _HEAVY else SIZE)
                for text, _, wide, class_ in cell.paragraphs
            )
            or 1
            for cell, column in zip(row, self.columns, strict=True)
        )

    def drawn(self, rows: Iterable[tuple[Cell, ...]]) -> Element:
        """The table with some of its rows."""
        whole = sum(column.wide for column in self.columns)
        return el(
            "table",
            el("colgroup", *(el("col", style=f"width:{100.0 * c.wide / whole:.3f}%") for c in self.columns)),
            el("thead", el("tr", *(el("th", column.head, scope="col") for column in self.columns))),
            el("tbody", *(_row(row) for row in rows)),
            aria_label=self.label,
        )


def _row(row: Sequence[Cell]) -> Element:
    first, *others = row
    return el("tr", el("th", *_inside(first), scope="row"), *(el("td", *_inside(cell)) for cell in others))


def _inside(cell: Cell) -> Iterator[Element]:
    for text, before, _, class_ in cell.paragraphs:
        yield el("p", *before, el("bdi", text), class_=class_ or None)


def lines(text: str, wide: float, size: float = SIZE) -> int:
    """How many lines a text takes; a word that is too long is broken anywhere."""
    found = 0
    for line in folded(text, size, wide):
        found += max(1, -int(-long(line, size) // wide))
    return found


def prose(words: str, *, class_: str = "", keep: bool = False, wide: float = WIDE) -> Block:
    """A paragraph."""
    size = SIZE * BOLD if class_ in _HEAVY else SIZE
    return Block(
        el("p", el("bdi", words), class_=class_ or None), lines(words, wide, size) * LINE + 1.5, keep
    )


def paged(blocks: Iterable[Block | Table]) -> list[list[Element]]:
    """The blocks on pages, one page at least."""
    pages: list[list[Element]] = [[]]
    left = ROOM
    held: list[Block] = []
    for block in blocks:
        if isinstance(block, Block):
            if block.keep:
                held.append(block)
                continue
            left = _put(pages, [*held, block], left)
        else:
            left = _spread(pages, held, block, left)
        held = []
    if held:
        _put(pages, held, left)
    return pages


def _put(pages: list[list[Element]], blocks: Sequence[Block], left: float) -> float:
    high = sum(block.height for block in blocks)
    if high > left and pages[-1]:
        pages.append([])
        left = ROOM
    pages[-1] += [block.element for block in blocks]
    return left - high


def _spread(pages: list[list[Element]], held: Sequence[Block], table: Table, left: float) -> float:
    """As many rows as there is room for, and the others overleaf."""
    before = sum(block.height for block in held)
    heights = [table.row_height(row) for row in table.rows]
    head = table.head_height() + 2.0
    if pages[-1] and before + head + (heights[0] if heights else 0.0) > left:
        pages.append([])
        left = ROOM
    pages[-1] += [block.element for block in held]
    left -= before
    start = 0
    while start < len(heights):
        end, used = start, head
        while end < len(heights) and (used + heights[end] <= left or end == start):
            used += heights[end]
            end += 1
        pages[-1].append(table.drawn(table.rows[start:end]))
        left -= used
        start = end
        if start < len(heights):
            pages.append([])
            left = ROOM
    return left
