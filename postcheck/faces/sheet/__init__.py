"""The sheet that is taped to the wall: one page of HTML that stands alone, printed on A4 or Letter alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.faces import bore_svg
from postcheck.faces.markup import Element, el, markup
from postcheck.faces.sheet import bench, cards, charts, hub, words
from postcheck.faces.sheet.pages import ROOM, WIDE, Block, Table, paged, prose
from postcheck.faces.sheet.style import STYLE
from postcheck.sheet import Sheet

__all__ = ["page_count", "render"]

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
        el("body", el("main", *(_leaf(sheet, n, len(leaves), *leaf) for n, leaf in enumerate(leaves)))),
        lang="en",
    )
    return "<!DOCTYPE html>\n" + markup(page, html=True)


def _leaves(sheet: Sheet) -> Iterator[tuple[str, list[Element], bool]]:
    """Each page: the part it belongs to, what is on it, and whether the part begins there."""
    for part in sheet.parts:
        for number, elements in enumerate(paged(_blocks(sheet, part))):
            yield part, elements, number == 0


def _blocks(sheet: Sheet, part: str) -> Iterable[Block | Table]:
    if part != "client":
        for warning in words.asked(sheet):
            yield prose(warning, class_="stop")
    match part:
        case "hub":
            yield from hub.blocks(sheet.hub)
        case "bench":
            yield from bench.blocks(sheet.bench)
        case "post":
            yield from _bores(sheet)
        case "volts":
            yield from charts.ways(sheet.ways)
        case "supply":
            yield from charts.budgets(sheet.supplies)
        case "closing":
            yield from cards.closing(sheet.closing)
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


def _leaf(sheet: Sheet, number: int, of: int, part: str, elements: list[Element], begins: bool) -> Element:
    name = words.text(sheet.build, 60)
    heading = words.HEADINGS[part]
    title = (
        el("h1", el("bdi", name))
        if number == 0
        else el("p", el("bdi", name), class_="h1", aria_hidden="true")
    )
    return el(
        "section",
        el("header", title, el("p", f"{number + 1} of {of}")),
        el("h2", heading if begins else f"{heading}, continued", id=f"leaf{number + 1}"),
        *elements,
        el("footer", el("p", words.verdict(sheet)), el("p", el("bdi", words.text(sheet.file, 60)))),
        class_="leaf", aria_labelledby=f"leaf{number + 1}", data_part=part,
    )  # fmt: skip
