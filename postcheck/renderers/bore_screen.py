"""A bore drawn in a terminal, to scale: in braille dots, which are square where a cell is twice as high as wide."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, ceil, floor, hypot
from typing import TYPE_CHECKING

from postcheck.colours import letters
from postcheck.pictured import BoreCircle, BorePicture
from postcheck.plain import first_few
from postcheck.renderers.bore_words import across, colour_words, facts, heading, scale_length, source, what
from postcheck.renderers.braille import BITS, cell
from postcheck.renderers.figures import show
from postcheck.renderers.page import NARROWEST, Page
from postcheck.renderers.wire_colours import paints
from postcheck.renderers.words import what_if_words

if TYPE_CHECKING:
    from rich.text import Text

_USUAL = 44  # columns of a drawing; half as many lines
_SMALL = 28  # of the whole bore where the bundle is drawn by itself too
_LEGEND = 28  # columns that a legend beside the drawing needs
_DASH = 4.0  # dots
_ENLARGED = 1.5  # a bundle is drawn by itself where that shows it so much larger

Cell = tuple[str, str]


def render(pictures: Sequence[BorePicture], *, width: int = 80, colour: bool = True) -> str:
    """The bores for a terminal so many columns wide, each with a legend and a scale; no line is wider."""
    page = Page(max(width, NARROWEST), colour=colour, plain=False, many_colours=True)
    for index, picture in enumerate(pictures):
        if index:
            page.gap()
        _one(page, picture)
    return page.text()


def _one(page: Page, picture: BorePicture) -> None:
    page.say(heading(picture), "bold", hang=2)
    page.say(source(picture), hang=2)
    if picture.what_if:
        page.say(what_if_words(picture.what_if), hang=2)
    page.gap()
    drawn, under = _drawings(picture, page.width - 2)
    left = max(map(len, drawn))
    room = page.width - 2 - left - 3
    beside = (
        [line for circle in picture.circles for line in _entry(page, circle, room)] if room >= _LEGEND else []
    )
    if len(beside) > len(drawn):
        beside = []
    start = (len(drawn) - len(beside)) // 2  # the legend half way up
    for number, row in enumerate(drawn):
        line = page.styled(("  ", ""), *_joined(row))
        if 0 <= number - start < len(beside):
            line.pad_right(left + 5 - line.cell_len)
            line.append_text(beside[number - start])
        line.rstrip()
        page.put(line)
    for words in under:
        page.say(words, indent=2)
    page.gap()
    if not beside:
        _listed(page, picture)
    for fact in facts(picture):
        page.say(fact, hang=2)


# -- the legend


def _entry(page: Page, circle: BoreCircle, room: int) -> Iterator[Text]:
    """A thing in the bore, in a narrow column: number, colour and size, and what it is below."""
    head = page.styled(*_marked(page, circle, across(circle)))
    heads = page.wrapped(head, room if head.cell_len <= room else room - 5)
    for index, line in enumerate([*heads, *page.wrapped(page.styled((what(circle), "")), room - 5)]):
        if index:
            line.pad_left(5)
        yield line


def _listed(page: Page, picture: BorePicture) -> None:
    """The things in the bore, in aligned columns; where the page is too narrow for that, each in its own lines."""
    if not picture.circles:
        return
    heads = [page.styled(*_marked(page, circle)) for circle in picture.circles]
    sizes = [across(circle) for circle in picture.circles]
    widest, longest = max(head.cell_len for head in heads), max(map(len, sizes))
    column = widest + 2 + longest + 2
    for circle, head, size in zip(picture.circles, heads, sizes, strict=True):
        if page.width - 2 - column < _LEGEND:
            page.say(page.styled(*_marked(page, circle, f"{size}, {what(circle)}")), indent=2, hang=5)
            continue
        head.pad_right(widest + 2 - head.cell_len)
        head.append_text(page.styled((f"{size:>{longest}}  ", "")))
        for index, line in enumerate(page.wrapped(page.styled((what(circle), "")), page.width - 2 - column)):
            if index:
                line.pad_left(column)
            else:
                line = head.append_text(line)  # noqa: PLW2901 - the head goes before the first line only
            line.pad_left(2)
            page.put(line)
    page.gap()


def _marked(page: Page, circle: BoreCircle, rest: str = "") -> tuple[Cell, ...]:
    """Number, a dab of its colour where the page has any, letters, words."""
    code, words, style = letters(circle.colour), colour_words(circle), _style(circle)
    dab = "\u28ff " if style and page.colour else "  " if page.colour else " "
    said = ", ".join(filter(None, (words, rest)))
    return (f"{circle.number:>2} ", "bold"), (dab, style), (code, "bold"), (said[len(code) :], "")


def _style(circle: BoreCircle) -> str:
    found = paints(letters(circle.colour))
    return found[0].screen if found else ""


# -- the drawing


def _drawings(picture: BorePicture, room: int) -> tuple[list[list[Cell]], list[str]]:
    """Rows of cells, and the words under them."""
    columns = min(_USUAL, room) // 2 * 2
    whole = max(picture.bore, picture.smallest_bore)
    if not _unlabelled(picture, columns, whole):
        return [*_drawing(picture, columns, whole), *_scale(columns, whole)], []
    if whole < _ENLARGED * picture.smallest_bore:
        columns = min(2 * _USUAL, room) // 2 * 2
        return [*_drawing(picture, columns, whole), *_scale(columns, whole)], _missing(
            _unlabelled(picture, columns, whole)
        )
    # the bundle is lost in its bore: the bore small, and the bundle by itself
    near, less = picture.smallest_bore * 1.05, min(_SMALL, room // 2 * 2)
    large = [*_drawing(picture, columns, near, ring=False), *_scale(columns, near)]
    small = [*_drawing(picture, less, whole, numbers=False), *_scale(less, whole)]
    times = show(float(f"{_per_metre(columns, near) / _per_metre(less, whole):.2g}"), "")
    words = [f"The bundle by itself, {times} times as large.", *_missing(_unlabelled(picture, columns, near))]
    if less + 3 + columns > room:
        return [*small, [], *large], words
    blank = [(" ", "")] * less
    above = (len(large) - len(small)) // 2
    rows = [*[blank] * above, *small, *[blank] * (len(large) - above - len(small))]
    return [[*a, *[(" ", "")] * (less - len(a) + 3), *b] for a, b in zip(rows, large, strict=True)], words


def _unlabelled(picture: BorePicture, columns: int, span: float) -> list[int]:
    """The numbers that have no room in a drawing."""
    dots = _per_metre(columns, span)
    return [c.number for c in picture.circles if len(str(c.number)) + 0.5 > c.diameter / 2.0 * dots]


def _missing(numbers: list[int]) -> list[str]:
    if not numbers:
        return []
    shown = first_few([*map(str, numbers)], 8)
    return [f"Too small here for a number: {shown}; --svg has them all."]


def _per_metre(columns: int, span: float) -> float:
    return (2 * columns - 1) / span


def _drawing(
    picture: BorePicture, columns: int, span: float, *, ring: bool = True, numbers: bool = True
) -> list[list[Cell]]:
    """The bore in cells, `columns` wide and half as high, `span` metres across."""
    side = 2 * columns
    dots = _per_metre(columns, span)
    canvas = _Canvas(columns)
    middle = side / 2.0
    too_slim = picture.verdict != "fits" and bool(picture.circles)
    if ring and not too_slim:
        canvas.circle(middle, middle, picture.bore / 2.0 * dots + 0.5, "dim")

    def place(circle: BoreCircle) -> tuple[float, float, float]:
        return middle + circle.x * dots, middle - circle.y * dots, circle.diameter / 2.0 * dots

    for circle in picture.circles:
        x, y, r = place(circle)
        if circle.flat is not None:
            wide, high = circle.flat
            canvas.flat(x, y, wide / 2.0 * dots - 0.3, high / 2.0 * dots - 0.3, _style(circle))
        else:
            canvas.circle(x, y, r - 0.3, _style(circle), filled=r < 2.2)
    if ring and too_slim:
        canvas.circle(middle, middle, picture.bore / 2.0 * dots + 0.5, "bold", dashed=True)
    if numbers:
        for circle, text in _labels([(circle, *place(circle)) for circle in picture.circles]):
            x, y, r = place(circle)
            # a number that covers its circle bears the circle's colour
            canvas.write(x, y, text, f"bold {_style(circle)}" if r < len(text) + 2.5 else "bold")
    return canvas.rows()


def _labels(placed: Sequence[tuple[BoreCircle, float, float, float]]) -> Iterator[tuple[BoreCircle, str]]:
    """The number of each that has room for it, with the letters of its colour if all of its size have room for them."""
    cramped = {
        circle.diameter
        for circle, x, y, r in placed
        if not _holds(x, y, r, f"{circle.number} {letters(circle.colour)}")
    }
    for circle, _, _, r in placed:
        number, code = str(circle.number), letters(circle.colour)
        if code and circle.diameter not in cramped:
            yield circle, f"{number} {code}"
        elif len(number) + 0.5 <= r:
            yield circle, number


def _cells(x: float, y: float, text: str) -> tuple[int, int]:
    """Row and first column of a text about a point."""
    return floor(y / 4.0), round(x / 2.0 - len(text) / 2.0)


def _holds(x: float, y: float, r: float, text: str) -> bool:
    """Whether a text about a circle's middle stays inside it."""
    row, first = _cells(x, y, text)
    corners = ((2.0 * column, 4.0 * line) for column in (first, first + len(text)) for line in (row, row + 1))
    return all(hypot(right - x, down - y) <= r - 0.8 for right, down in corners)


def _scale(columns: int, span: float) -> list[list[Cell]]:
    """A bar of a round length, to half a column, and what it stands for."""
    length = scale_length(span)
    dots = max(2, round(length * _per_metre(columns, span)))
    cells = []
    for column in range(ceil(dots / 2)):
        bits = 0
        for half in (0, 1):
            dot = 2 * column + half
            if dot < dots:
                bits |= sum(BITS[row][half] for row in ((0, 1, 2, 3) if dot in {0, dots - 1} else (3,)))
        cells.append((cell(bits), ""))
    return [[*cells, *((sign, "") for sign in f" {show(length, 'm')}")]]


def _joined(row: list[Cell]) -> Iterator[Cell]:
    """Cells of one style as one piece."""
    words, style = "", ""
    for sign, own in row:
        if own != style and words:
            yield words, style
            words = ""
        words, style = words + sign, own
    yield words, style


class _Canvas:
    """A square of braille dots; each cell has the style of what has most dots in it."""

    def __init__(self, columns: int) -> None:
        self._columns, self._lines = columns, columns // 2
        self._dots: dict[tuple[int, int], str] = {}
        self._signs: dict[tuple[int, int], Cell] = {}

    def circle(
        self, x: float, y: float, r: float, style: str, *, filled: bool = False, dashed: bool = False
    ) -> None:
        """A line one dot wide inside the radius, or a disc."""
        side = 2 * self._columns
        for row in range(max(0, floor(y - r)), min(side, ceil(y + r) + 1)):
            for column in range(max(0, floor(x - r)), min(side, ceil(x + r) + 1)):
                right, down = column + 0.5 - x, row + 0.5 - y
                far = hypot(right, down)
                gap = dashed and floor(atan2(down, right) * r / _DASH) % 2
                if far <= r and (filled or far > r - 1.0) and not gap:
                    self._dots[row, column] = style

    def flat(self, x: float, y: float, wide: float, high: float, style: str) -> None:
        """A line one dot wide inside half so wide and high, or a bar."""
        side = 2 * self._columns
        for row in range(max(0, floor(y - high)), min(side, ceil(y + high) + 1)):
            for column in range(max(0, floor(x - wide)), min(side, ceil(x + wide) + 1)):
                right, down = abs(column + 0.5 - x), abs(row + 0.5 - y)
                edge = right > wide - 1.0 or down > high - 1.0
                if right <= wide and down <= high and (edge or min(wide, high) < 2.2):
                    self._dots[row, column] = style

    def write(self, x: float, y: float, text: str, style: str) -> None:
        """A short text in the cells about a point."""
        row, first = _cells(x, y, text)
        for place, sign in enumerate(text):
            self._signs[row, first + place] = (sign, style)

    def rows(self) -> list[list[Cell]]:
        """The cells, line by line."""
        return [[self._cell(row, column) for column in range(self._columns)] for row in range(self._lines)]

    def _cell(self, row: int, column: int) -> Cell:
        if (row, column) in self._signs:
            return self._signs[row, column]
        bits, styles = 0, []
        for down in range(4):
            for right in range(2):
                style = self._dots.get((4 * row + down, 2 * column + right))
                if style is not None:
                    bits |= BITS[down][right]
                    styles.append(style)
        if not bits:
            return " ", ""
        return cell(bits), max(styles, key=styles.count)
