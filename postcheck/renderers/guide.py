"""A page of the guide on a screen: the Markdown that our own pages are written in, laid out at its width."""

from __future__ import annotations

import re
from collections.abc import Iterator

from postcheck.renderers.page import NARROWEST, Page

_CODE = re.compile(r"(`+)(.+?)\1")
_LINK = re.compile(r"\[([^\]`]+)\]\(([^)]+)\)")
_STRONG = re.compile(r"\*\*?([^*]+)\*\*?")
_HEADS = {"#": "bold underline", "##": "bold", "###": "bold"}


def render(text: str, *, width: int = 80, colour: bool = True, ascii: bool = False) -> str:  # noqa: A002 - the plain word for it
    """The page `width` characters wide; what stands in a block of code is never folded.

    With `ascii` it holds ASCII only; without `colour` no escape sequence.
    """
    page = Page(max(width, NARROWEST), colour=colour, plain=ascii)
    for block in _blocks(text):
        page.gap()
        first = block[0]
        head, _, words = first.partition(" ")
        if first.startswith("```"):
            for line in block[1:]:
                page.put(page.styled(("    " + line if line else "", "")))
        elif head in _HEADS:
            page.say(page.styled(*_pieces(words, _HEADS[head])))
        elif first.startswith("|"):
            _table(page, block)
        elif first.startswith("- "):
            _list(page, block)
        else:
            page.say(page.styled(*_pieces(" ".join(block))))
    return page.text()


def _blocks(text: str) -> Iterator[list[str]]:
    """Paragraphs, lists, tables, headings and fenced blocks, each as its lines; the fence at the end is left out."""
    block: list[str] = []
    fenced = False
    for line in [*text.splitlines(), ""]:
        if line.startswith("```") and not fenced:
            if block:
                yield block
            block, fenced = [line], True
        elif line.startswith("```"):
            yield block
            block, fenced = [], False
        elif fenced or line.strip():
            block.append(line)
        elif block:
            yield block
            block = []


def _list(page: Page, block: list[str]) -> None:
    """Entries, each with its words; a name in front of them has a line of its own where more than a line follows it."""
    for entry in re.split(r"\n(?=- )", "\n".join(block)):
        first, *rest = (line.strip() for line in entry.removeprefix("- ").splitlines())
        name = _NAMED.fullmatch(first)
        if name is None:
            page.say(page.styled(*_pieces(" ".join((first, *rest)))), indent=2, hang=2)
            continue
        if not rest:
            page.say(page.styled((name[1], "bold"), ("  ", ""), *_pieces(name[2])), indent=2, hang=4)
            continue
        page.say(page.styled((name[1], "bold")), indent=2)
        page.say(page.styled(*_pieces(name[2])), indent=6)
        for line in rest:
            page.say(page.styled(*_pieces(line)), indent=6, hang=2)


_NAMED = re.compile(r"`([^`]+)`: (.*)")


def _table(page: Page, block: list[str]) -> None:
    """Rows as entries: what the first column says, and the other columns under it with their heads."""
    heads, _, *rows = ([cell.strip() for cell in line.strip("|").split("|")] for line in block)
    for first, *cells in rows:
        page.say(page.styled(*_pieces(first, "bold")), indent=2)
        for head, cell in zip(heads[1:], cells, strict=True):
            named = f"{head}: " if len(cells) > 1 else ""
            page.say(page.styled(*_pieces(f"{named}{cell}")), indent=6, hang=2)


def _pieces(words: str, style: str = "") -> list[tuple[str, str]]:
    """Words with their styles. Code keeps its marks: without colour they alone tell it apart."""
    pieces, at = [], 0
    for found in _CODE.finditer(words):
        pieces += [(_prose(words[at : found.start()]), style), (found[0], style or "bold")]
        at = found.end()
    return [*pieces, (_prose(words[at:]), style)]


def _prose(words: str) -> str:
    return _STRONG.sub(r"\1", _LINK.sub(r"\1 (\2)", words))
