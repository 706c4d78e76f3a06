"""What goes on which page. Every block knows its height, so that the pages printed are the pages promised.

Heights are in mm and on the safe side; a page is as high as both A4 and Letter allow inside their margins.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from postcheck.renderers.markup import Element, el
from postcheck.renderers.measure import folded, long

WIDE = 186.0  # A4 is 210 wide, Letter 216; both have margins of 12
ROOM = (
    224.0  # Letter is 279 high: less margins, head and foot of the page, what it warns of, and a little air
)
NEARLY_EMPTY = ROOM / 3.0  # a page with less on it is filled up with what comes next
SIZE = 3.1  # of the letters: 8.8 pt
LINE = 4.3
BOLD = 1.15  # how much wider bold letters are
BY_HAND = 31.0  # of a column that a reading is written into: "12.5 mA" in letters of 4 mm, and the date
_HEADING, _HEADING_LINE = 3.6, 4.5  # of what stands over a place: size of its letters, and a line of it
_HEAVY = frozenset({"stop", "name", "danger"})
_PADDING = 2.6  # of a row, with its rule
_BESIDE = 3.0  # of a cell, left and right together


@dataclass(frozen=True, slots=True)
class Block:
    """One thing that is not broken. `keep`: the next one stays with it. `title`: of a heading, its words."""

    element: Element
    height: float
    keep: bool = False
    title: str = ""


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


@dataclass(frozen=True)
class Table:
    """A table that may go on overleaf, with its head again. `label`: what it is, for those who hear it."""

    label: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]

    @cached_property
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

    @cached_property
    def row_heights(self) -> tuple[float, ...]:
        """The height of each row, mm. Pages are filled many times over; this stays."""
        return tuple(map(self.row_height, self.rows))

    @cached_property
    def _rows(self) -> tuple[Element, ...]:
        return tuple(map(_row, self.rows))

    @cached_property
    def _pieces(self) -> dict[tuple[int, int], Element]:
        return {}

    def drawn(self, start: int, end: int) -> Element:
        """The table with the rows from one number up to another."""
        if (start, end) not in self._pieces:
            self._pieces[start, end] = self._drawn(start, end)
        return self._pieces[start, end]

    def _drawn(self, start: int, end: int) -> Element:
        whole = sum(column.wide for column in self.columns)
        return el(
            "table",
            el("colgroup", *(el("col", style=f"width:{100.0 * c.wide / whole:.3f}%") for c in self.columns)),
            el("thead", el("tr", *(el("th", column.head, scope="col") for column in self.columns))),
            el("tbody", *self._rows[start:end]),
            aria_label=self.label,
        )


def _row(row: Sequence[Cell]) -> Element:
    first, *others = row
    return el("tr", el("th", *_inside(first), scope="row"), *(el("td", *_inside(cell)) for cell in others))


def _inside(cell: Cell) -> Iterator[Element]:
    for text, before, _, class_ in cell.paragraphs:
        yield el("p", *before, el("bdi", text), class_=class_ or None)


@lru_cache(8192)
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


def heading(title: str, *, again: bool = False) -> Block:
    """What stands over a place, a circuit or a supply; `again`: it goes on, on a further page."""
    said = f"{title}, continued" if again else title
    high = 4.0 + _HEADING_LINE * lines(said, WIDE, _HEADING * BOLD)
    name, class_ = ("p", "h3") if again else ("h3", None)
    return Block(el(name, el("bdi", said), class_=class_), high, keep=True, title=title)


@dataclass(slots=True)
class Page:
    """What is on a page, and the room that is left on it, mm."""

    elements: list[Element]
    left: float


def paged(blocks: Iterable[Block | Table], room: float = ROOM, begun: float | None = None) -> list[Page]:
    """The blocks on pages that hold so much (mm), one page at least; what a page begins within has its heading again there.

    `begun`: what is left of a page that has something on it; then the first page is what goes on that one, which may be
    nothing.
    """
    pages = [Page([], room if begun is None else begun)]
    held: list[Block] = []
    under = ""
    for block in blocks:
        if isinstance(block, Block):
            held.append(block)
            if not block.keep:
                under = _put(pages, held, room, under)
                held = []
        else:
            under = _spread(pages, held, block, room, under)
            held = []
    if held:
        _put(pages, held, room, under)
    return pages


def _turned(pages: list[Page], high: float, room: float, under: str) -> Page:
    """The page on which there is room for so much: the last, else a new one."""
    begun = pages[-1].elements or pages[-1].left < room
    if begun and high > pages[-1].left:
        pages.append(_new(room, under))
    return pages[-1]


def _new(room: float, under: str) -> Page:
    page = Page([], room)
    if under:
        again = heading(under, again=True)
        page.elements.append(again.element)
        page.left -= again.height
    return page


def _under(blocks: Sequence[Block], before: str) -> str:
    """The heading that holds after these blocks; that of a part ends the one before."""
    for block in blocks:
        if block.title or block.element.name == "h2":
            before = block.title
    return before


def _put(pages: list[Page], blocks: Sequence[Block], room: float, under: str) -> str:
    high = sum(block.height for block in blocks)
    page = _turned(pages, high, room, "" if _begins(blocks) else under)
    page.elements += [block.element for block in blocks]
    page.left -= high
    return _under(blocks, under)


def _begins(blocks: Sequence[Block]) -> bool:
    """Whether they bring a heading of their own."""
    return bool(blocks) and (bool(blocks[0].title) or blocks[0].element.name == "h2")


def _spread(pages: list[Page], held: Sequence[Block], table: Table, room: float, under: str) -> str:
    """As many rows as there is room for, and the others overleaf; the heading that holds then."""
    before = sum(block.height for block in held)
    heights = table.row_heights
    head = table.head_height + 2.0
    page = _turned(
        pages, before + head + (heights[0] if heights else 0.0), room, "" if _begins(held) else under
    )
    page.elements += [block.element for block in held]
    page.left -= before
    under = _under(held, under)
    start = 0
    while start < len(heights):
        end, used = start, head
        while end < len(heights) and (used + heights[end] <= page.left or end == start):
            used += heights[end]
            end += 1
        page.elements.append(table.drawn(start, end))
        page.left -= used
        start = end
        if start < len(heights):
            page = _new(room, under)
            pages.append(page)
    return under
