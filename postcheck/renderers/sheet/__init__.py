"""The sheet that is taped to the wall: one page of HTML that stands alone, printed on A4 or Letter alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.renderers import bore_svg
from postcheck.renderers.markup import Element, el, markup
from postcheck.renderers.measure import cut
from postcheck.renderers.sheet import bench, cards, charts, hub, lists, which, words
from postcheck.renderers.sheet.pages import ROOM, SIZE, WIDE, Block, Table, paged, prose
from postcheck.renderers.sheet.style import STYLE
from postcheck.sheet import Sheet

__all__ = ["page_count", "render"]

# The head and the foot of a page are a line each: size of the letters and the room for names, mm.
_HEAD_SIZE, _HEAD_ROOM, _FOOT_ROOM = 4.9, 160.0, 84.0
_POLICY = "default-src 'none'; style-src 'unsafe-inline'"


def page_count(sheet: Sheet) -> int:
    """On how many pages it prints, on A4 as on Letter."""
    return len(list(_leaves(sheet)))


def render(sheet: Sheet) -> str:
    """The whole page."""
    leaves = list(_leaves(sheet))
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
    return "<!DOCTYPE html>\n" + markup(page, html=True)


# Parts that go on where the one before them ends; each of the others begins a page of its own, to be hung up alone.
_GOES_ON = {"volts": ("post",), "supply": ("post", "volts"), "which": ("bench",), "buy": ("cut",)}


def _leaves(sheet: Sheet) -> Iterator[list[Element]]:
    """What is on each page."""
    chapters: list[list[str]] = []
    for part in sheet.parts:
        if chapters and chapters[-1][-1] in _GOES_ON.get(part, ()):
            chapters[-1].append(part)
        else:
            chapters.append([part])
    for chapter in chapters:
        heading = ""
        warning = _warnings(sheet) if chapter != ["client"] else ()
        parts = (block for part in chapter for block in _with_heading(sheet, part))
        for leaf in paged((*warning, *parts)):
            begins = not heading or leaf[0].name == "h2"
            yield leaf if begins else [el("p", f"{heading}, continued", class_="h2"), *leaf]
            heading = next((str(e.children[0]) for e in reversed(leaf) if e.name == "h2"), heading)


def _warnings(sheet: Sheet) -> Iterator[Block]:
    for warning in words.asked(sheet):
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


def _leaf(sheet: Sheet, number: int, of: int, elements: list[Element]) -> Element:
    name = cut(words.text(sheet.build), _HEAD_SIZE, _HEAD_ROOM)
    file = cut(words.text(sheet.file), SIZE, _FOOT_ROOM)
    title = (
        el("h1", el("bdi", name))
        if number == 0
        else el("p", el("bdi", name), class_="h1", aria_hidden="true")
    )
    return el(
        "section",
        el("header", title, el("p", f"{number + 1} of {of}")),
        *elements,
        el("footer", el("p", words.verdict(sheet)), el("p", el("bdi", file))),
        class_="leaf", tabindex="0", aria_label=f"Page {number + 1} of {of}",
    )  # fmt: skip
