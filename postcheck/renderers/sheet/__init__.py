"""The sheet that is taped to the wall: one page of HTML that stands alone, printed on A4 or Letter alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from postcheck.renderers import bore_svg
from postcheck.renderers.markup import Element, el, markup
from postcheck.renderers.measure import cut, long
from postcheck.renderers.sheet import bench, cards, charts, hub, lists, which, words
from postcheck.renderers.sheet.pages import NEARLY_EMPTY, ROOM, SIZE, WIDE, Block, Table, paged, prose
from postcheck.renderers.sheet.style import STYLE
from postcheck.sheet import Sheet

__all__ = ["page_count", "printed", "render"]

# The head and the foot of a page are a line each: size of the letters and the room for names, mm.
_HEAD_SIZE, _HEAD_ROOM = 4.9, 160.0
_LEAST_FOOT = 40.0
_POLICY = "default-src 'none'; style-src 'unsafe-inline'"


def page_count(sheet: Sheet) -> int:
    """On how many pages it prints, on A4 as on Letter."""
    return len(_leaves(sheet))


def render(sheet: Sheet) -> str:
    """The whole page."""
    return printed(sheet)[0]


def printed(sheet: Sheet) -> tuple[str, int]:
    """The whole page, and on how many it prints."""
    leaves = _leaves(sheet)
    title = words.text(sheet.build)
    page = el(
        "html",
        el(
            "head",
            el("meta", charset="utf-8"),
            el("meta", http_equiv="Content-Security-Policy", content=_POLICY),
            el("meta", name_="viewport", content="width=device-width, initial-scale=1"),
            el("title", f"{title}: sheet for the wall"),
            el("style", STYLE),
        ),
        el("body", el("main", *(_leaf(sheet, n, len(leaves), leaf) for n, leaf in enumerate(leaves)))),
        lang="en",
    )
    return "<!DOCTYPE html>\n" + markup(page, html=True), len(leaves)


@dataclass(slots=True)
class _Leaf:
    """A page: what is on it, of which parts, and how high that is, mm."""

    elements: list[Element]
    parts: list[str]
    high: float

    @property
    def nearly_empty(self) -> bool:
        return self.parts != [_ALONE] and self.high < NEARLY_EMPTY


# Parts that go on where the one before them ends. Each of the others begins a page of its own, to be hung up alone, unless
# it goes wholly on the page before, or a page would be nearly empty; the client's card is given away.
_GOES_ON = {"volts": ("post",), "supply": ("post", "volts"), "which": ("bench",), "buy": ("cut",)}
_ALONE = "client"
# Rooms of a page that are tried, mm, so that what would be left for a last page is shared with those before it.
_ROOMS = tuple(ROOM - 8.0 * step for step in range(13))


def _leaves(sheet: Sheet) -> list[_Leaf]:
    """What is on each page: the fewest pages, and of them as few nearly empty ones as can be."""
    chapters = [
        (parts, [block for part in parts for block in _with_heading(sheet, part)])
        for parts in _chapters(sheet)
    ]
    rooms = [ROOM] * len(chapters)
    best = _filled(sheet, chapters, rooms)
    for number in range(len(chapters)):
        for room in _ROOMS:
            if not any(leaf.nearly_empty for leaf in best):
                return best
            tried = [*rooms[:number], room, *rooms[number + 1 :]]
            leaves = _filled(sheet, chapters, tried)
            if _waste(leaves) < _waste(best):
                rooms, best = tried, leaves
    return best


def _waste(leaves: list[_Leaf]) -> tuple[int, int, float]:
    """How many pages, how many of them nearly empty, and how much is missing on the emptiest, mm."""
    lacking = [NEARLY_EMPTY - leaf.high for leaf in leaves if leaf.nearly_empty]
    return len(leaves), len(lacking), max(lacking, default=0.0)


_Chapter = tuple[list[str], list[Block | Table]]


def _filled(sheet: Sheet, chapters: list[_Chapter], rooms: list[float]) -> list[_Leaf]:
    """The chapters, each on pages that hold so much."""
    leaves: list[_Leaf] = []
    for (parts, blocks), room in zip(chapters, rooms, strict=True):
        ahead = [*_ahead(sheet, parts, first=not leaves)]
        pages = paged([*ahead, *blocks], room)
        begun = leaves[-1] if leaves and _ALONE not in (*parts, *leaves[-1].parts) else None
        if begun is not None:
            on = paged(blocks, room, room - begun.high)
            if len(on) == 1 or begun.nearly_empty or room - pages[-1].left < NEARLY_EMPTY:
                pages = on
            else:
                begun = None
        heading = ""
        for page in pages:
            if begun is not None:
                begun.elements += page.elements
                begun.parts += parts if page.elements else []
                begun.high, begun = room - page.left, None
            else:
                begins = not heading or page.elements[0].name == "h2"
                again = [] if begins else [el("p", f"{heading}, continued", class_="h2")]
                leaves.append(_Leaf([*again, *page.elements], list(parts), room - page.left))
            heading = next((str(e.children[0]) for e in reversed(page.elements) if e.name == "h2"), heading)
    return leaves


def _chapters(sheet: Sheet) -> list[list[str]]:
    chapters: list[list[str]] = []
    for part in sheet.parts:
        if chapters and chapters[-1][-1] in _GOES_ON.get(part, ()):
            chapters[-1].append(part)
        else:
            chapters.append([part])
    return chapters


def _ahead(sheet: Sheet, parts: list[str], *, first: bool) -> Iterator[Block]:
    """What stands ahead of all else: on the first page what the head and the foot of pages have no room for; the stops."""
    names = (
        (words.text(sheet.build), _HEAD_SIZE, _HEAD_ROOM),
        (words.text(sheet.file), SIZE, _foot_room(sheet)),
    )
    for name, size, room in names if first else ():
        if cut(name, size, room) != name:
            yield prose(name, class_="small", keep=True)
    for warning in words.asked(sheet) if parts != [_ALONE] else ():
        yield prose(warning, class_="stop", keep=True)


def _with_heading(sheet: Sheet, part: str) -> Iterator[Block | Table]:
    yield Block(el("h2", words.HEADINGS[part]), 11.5, keep=True)
    yield from _blocks(sheet, part)


def _blocks(sheet: Sheet, part: str) -> Iterable[Block | Table]:
    match part:
        case "hub":
            yield from hub.blocks(sheet)
        case "bench":
            yield from bench.blocks(sheet.bench)
        case "which":
            yield from which.blocks(sheet.which)
        case "post":
            yield from _bores(sheet)
        case "volts":
            yield from charts.paths(sheet.paths)
        case "supply":
            yield from charts.budgets(sheet.supplies)
        case "cut" if sheet.materials is not None:
            yield from lists.cut(sheet.materials)
        case "buy" if sheet.materials is not None:
            yield from lists.buy(sheet.materials)
        case "closing":
            yield from cards.closing(sheet)
        case "client" if sheet.client is not None:
            yield from cards.client(sheet.client)


def _bores(sheet: Sheet) -> Iterator[Block]:
    if not sheet.bores:
        yield prose("This build has no post and no other passage.")
    for number, picture in enumerate(sheet.bores, start=1):
        drawing, wide, high = bore_svg.figure(picture, f"bore{number}")
        scale = min(WIDE / wide, (ROOM - 4.0) / high)
        drawing = el("div", drawing, style=f"max-width:{wide * scale:.1f}mm;margin:0 auto")
        yield Block(drawing, high * scale + 3.0)  # fmt: skip


def _foot_room(sheet: Sheet) -> float:
    """What the verdict leaves of the foot's line, mm."""
    return max(_LEAST_FOOT, WIDE - 6.0 - long(words.verdict(sheet), SIZE))


def _leaf(sheet: Sheet, number: int, of: int, leaf: _Leaf) -> Element:
    first = words.first(sheet, leaf.parts)
    name = cut(words.text(sheet.build), _HEAD_SIZE, _HEAD_ROOM)
    file = cut(words.text(sheet.file), SIZE, _foot_room(sheet))
    title = (
        el("h1", el("bdi", name))
        if number == 0
        else el("p", el("bdi", name), class_="h1", aria_hidden="true")
    )
    return el(
        "section",
        el("header", title, el("p", f"{number + 1} of {of}")),
        el("p", first, class_="first") if first else None,
        *leaf.elements,
        el("footer", el("p", words.verdict(sheet)), el("p", el("bdi", file))),
        class_="leaf", tabindex="0", aria_label=f"Page {number + 1} of {of}",
    )  # fmt: skip
