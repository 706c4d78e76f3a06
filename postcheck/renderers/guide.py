"""A page of the guide on a screen: the Markdown that our own pages are written in, laid out at its width."""

from __future__ import annotations

import re
from collections.abc import Iterator

from postcheck.renderers.page import NARROWEST, Page

_CODE = re.compile(r"(`+)(.+?)\1")
_LINK = re.compile(r"\[([^\]`]+)\]\(([^)]+)\)")
_STRONG = re.compile(r"\*\*?([^*]+)\*\*?")
_IN = 2  # columns by which all but a heading stands in
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
            _code(page, block[1:])
        elif head in _HEADS:
            page.say(page.styled(*_pieces(words, _HEADS[head])))
        elif first.startswith("|"):
            _table(page, block)
        elif first.startswith("- "):
            _list(page, block)
        else:
            page.say(page.styled(*_pieces(" ".join(block))), indent=_IN)
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


def _code(page: Page, lines: list[str]) -> None:
    """A block of code as far in as it has room: a screen of 80 columns is shown on one whole."""
    indent = max(0, min(2 * _IN, page.width - max(map(len, lines), default=0)))
    for line in lines:
        page.put(page.styled((" " * indent + line if line else "", "")))


def _list(page: Page, block: list[str]) -> None:
    """Entries. A name in front of words stands in a column of its own, above them where more than a line follows it."""
    entries = [
        [line.strip() for line in entry.removeprefix("- ").splitlines()]
        for entry in re.split(r"\n(?=- )", "\n".join(block))
    ]
    named = [
        (found[1].replace("`", ""), found[2], rest)
        for first, *rest in entries
        if (found := _NAMED.fullmatch(first))
    ]
    if len(named) < len(entries):
        for entry in entries:
            page.say(page.styled(*_pieces(" ".join(entry))), indent=_IN, hang=_IN)
    elif any(rest for _, _, rest in named):
        for name, words, rest in named:
            page.say(page.styled((name, "bold")), indent=_IN)
            page.say(page.styled(*_pieces(words)), indent=3 * _IN)
            for line in rest:
                page.say(page.styled(*_pieces(line)), indent=3 * _IN, hang=_IN)
    else:
        _column(page, [(name, words) for name, words, _ in named])


_NAMED = re.compile(r"((?:`[^`]+`(?:, )?)+): (.*)")


def _column(page: Page, entries: list[tuple[str, str]]) -> None:
    """Names with their words beside them; a name that is longer than most has them further out."""
    column = min(max(len(name) for name, _ in entries), page.width // 3)
    hang = _IN + column + 2
    for name, words in entries:
        head = page.styled((" " * _IN, ""), (f"{name:<{column}}", "bold"), ("  ", ""))
        first, *rest = page.wrapped(page.styled(*_pieces(words)), page.width - max(hang, len(head)))
        page.put(head.append_text(first))
        for line in rest:
            line.pad_left(hang)
            page.put(line)


def _table(page: Page, block: list[str]) -> None:
    """Rows as entries: what the first column says, and the others beside or under it, with their heads."""
    heads, _, *rows = ([cell.strip() for cell in line.strip("|").split("|")] for line in block)
    if len(heads) == 2:
        _column(page, [(_prose(first), words) for first, words in rows])
        return
    for first, *cells in rows:
        page.say(page.styled(*_pieces(first, "bold")), indent=_IN)
        for head, cell in zip(heads[1:], cells, strict=True):
            page.say(page.styled(*_pieces(f"{head}: {cell}")), indent=3 * _IN, hang=_IN)


def _pieces(words: str, style: str = "") -> list[tuple[str, str]]:
    """Words with their styles. Code keeps its marks: without colour they alone tell it apart."""
    pieces, at = [], 0
    for found in _CODE.finditer(words):
        pieces += [(_prose(words[at : found.start()]), style), (found[0], style or "bold")]
        at = found.end()
    return [*pieces, (_prose(words[at:]), style)]


def _prose(words: str) -> str:
    return _STRONG.sub(r"\1", _LINK.sub(r"\1 (\2)", words))
