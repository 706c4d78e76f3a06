"""Where a builder would put what is new in a TOML text, written as its neighbours are: tables, entries, dotted keys."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

import tomli

from postcheck.description.positions import Span, is_header
from postcheck.description.problems import Path
from postcheck.description.toml_text import in_toml, key_in_toml

__all__ = ["MORE", "Replacement", "chain", "entry", "key_of_dotted", "table"]

MORE = "+"
"""The last step of a path that adds to a list."""

_STEP = r"""(?:[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*')"""
_CHAIN = re.compile(rf"(?:{_STEP}[ \t]*\.[ \t]*)+$")


class Replacement(NamedTuple):
    """The text from `start` up to but not including `end`, as offsets in code points, gives way to `text`."""

    start: int
    end: int
    text: str


# -- entries of a list


def entry(text: str, spans: Mapping[Path, Span], path: Path, value: str) -> Replacement | None:
    """One more entry, written as TOML, for the list at `path`: after the last one. None where that is no list."""
    there = spans.get(path)
    if there is None:
        return _at_the_end(text, f"[[{key_in_toml(str(path[0]))}]]", value) if len(path) == 1 else None
    if text.startswith("[[", there.value_start) and is_header(text, there):
        last = max(step[-1] for step in spans if len(step) == len(path) + 1 and step[:-1] == path)
        beside = (*path, last)
        return _behind(text, spans, beside, _header_text(text, spans[beside]), value)
    if text.startswith("[", there.value_start) and not is_header(text, there):
        return _in_brackets(text, spans, path, value)
    return None


def _in_brackets(text: str, spans: Mapping[Path, Span], path: Path, value: str) -> Replacement:
    whole = spans[path]
    own = [span for step, span in spans.items() if len(step) == len(path) + 1 and step[:-1] == path]
    if not own:
        return Replacement(whole.value_start + 1, whole.value_start + 1, value)
    last = max(own, key=lambda span: span.value_end)
    start = text.rfind("\n", 0, last.value_start) + 1
    indent = text[start : last.value_start]
    end = _line_end(text, last.value_end)
    if indent.strip() or end > whole.value_end:
        return Replacement(last.value_end, last.value_end, f", {value}")
    behind = text[last.value_end : end]
    comma = behind.lstrip().startswith(",")
    new = f"{behind if comma else f',{behind}'}{line_ending(text)}{indent}{value}{',' * comma}"
    return Replacement(last.value_end, end, new)


# -- tables


def table(text: str, spans: Mapping[Path, Span], path: Path, value: str) -> Replacement | None:
    """A new table at `path` with the keys of `value`, written as TOML; or one key of a table that only has tables in it.

    None where the table above it stands in another form.
    """
    above = spans.get(path[:-1]) if len(path) > 1 else None
    keys = tomli.loads(f"x = {value}")["x"]
    if not all(isinstance(step, str) for step in path) or (above is not None and not is_header(text, above)):
        return None
    if not isinstance(keys, dict):
        return None if above is None else _before(text, above, path, value)
    beside = [
        step
        for step, span in spans.items()
        if len(step) == len(path) and step[:-1] == path[:-1] and is_header(text, span) and _own(text, span)
    ]
    if len(path) == 1 or not beside:
        return _at_the_end(text, f"[{_dotted(path)}]", value)
    last = max(beside, key=lambda step: spans[step].value_end)
    head, span = spans[last], spans[last]
    header = (
        text[head.value_start : span.key_start]
        + key_in_toml(str(path[-1]))
        + text[span.key_end : head.value_end]
    )
    return _behind(text, spans, last, header, value)


def _own(text: str, span: Span) -> bool:
    return text[span.key_end : span.value_end].strip() == "]"


def _dotted(path: Path) -> str:
    return ".".join(key_in_toml(str(step)) for step in path)


def _header_text(text: str, span: Span) -> str:
    return text[span.value_start : span.value_end]


def _before(text: str, implied: Span, path: Path, value: str) -> Replacement:
    """The table itself, with one key, before the header that only implied it, and the comments above that."""
    start, end = text.rfind("\n", 0, implied.value_start) + 1, line_ending(text)
    while start and text[text.rfind("\n", 0, start - 1) + 1 : start].lstrip().startswith("#"):
        start = text.rfind("\n", 0, start - 1) + 1
    new = f"[{_dotted(path[:-1])}]{end}{key_in_toml(str(path[-1]))} = {value}{end}{end}"
    return Replacement(start, start, new)


def _at_the_end(text: str, header: str, value: str) -> Replacement:
    end = line_ending(text)
    gap = "" if not text else end if text.endswith("\n") else end * 2
    return Replacement(
        len(text), len(text), gap + end.join(_rows(header, tomli.loads(f"x = {value}")["x"], _Style())) + end
    )


def _behind(text: str, spans: Mapping[Path, Span], beside: Path, header: str, value: str) -> Replacement:
    """A table after the one at `beside` and what belongs to it, written as that one is."""
    head = spans[beside]
    last = max(span.value_end for step, span in spans.items() if step[: len(beside)] == beside)
    style = _style(text, spans, beside)
    start = text.rfind("\n", 0, head.value_start)
    above = text[text.rfind("\n", 0, max(start, 0)) + 1 : max(start, 0)].strip()
    end = line_ending(text)
    gap = end if above and not above.startswith("#") else end * 2
    at = _line_end(text, last)
    rows = _rows(header, tomli.loads(f"x = {value}")["x"], style)
    return Replacement(at, at, gap + end.join(style.indent + row for row in rows))


class _Style(NamedTuple):
    """How keys of a table are written: lined up to a width or not, the blanks around the equals sign, the quotes."""

    indent: str = ""
    width: int = 0
    before: str = " "
    behind: str = " "
    literal: bool = False


def _style(text: str, spans: Mapping[Path, Span], at: Path) -> _Style:
    head, widths, before, behind, quotes = spans[at], list[tuple[int, int]](), list[str](), list[str](), ""
    for path, span in spans.items():
        if (
            len(path) != len(at) + 1
            or path[:-1] != at
            or not head.value_end <= span.key_end < span.value_start
        ):
            continue
        sign = text.index("=", span.key_end)
        before.append(text[span.key_end : sign])
        behind.append(text[sign + 1 : span.value_start])
        widths.append((span.key_end - span.key_start, len(before[-1])))
        quotes += text[span.value_start : span.value_end].lstrip("[ \t\r\n")[:1]
    indent = text[text.rfind("\n", 0, head.value_start) + 1 : head.value_start]
    if not widths:
        return _Style(indent)
    least = min(before, key=len)
    lined_up = len({key + gap for key, gap in widths}) == 1 and len({key for key, _ in widths}) > 1
    width = sum(widths[0]) - len(least) if lined_up else 0
    return _Style(indent, width, least, min(behind, key=len), quotes.count("'") > quotes.count('"'))


def _rows(header: str, keys: Mapping[str, Any], style: _Style) -> Iterable[str]:
    yield header
    names = {key: key_in_toml(key) for key in keys}
    width = max(style.width, *map(len, names.values())) if style.width and names else 0
    for key, value in keys.items():
        written = in_toml(value, literal=style.literal)
        yield f"{names[key]:<{width}}{style.before}={style.behind}{written}"


# -- dotted keys


def chain(text: str, key_start: int) -> int:
    """Where the dotted key begins whose last step begins at `key_start`."""
    line = text.rfind("\n", 0, key_start) + 1
    match = _CHAIN.search(text[line:key_start])
    return key_start if match is None else line + match.start()


def key_of_dotted(text: str, spans: Mapping[Path, Span], path: Path, value: str) -> Replacement | None:
    """A new key beside the dotted ones of its table, after the last of them; None where its table has none such."""
    above = spans.get(path[:-1])
    if above is None or above.key_start != above.value_start or isinstance(path[-2], int):
        return None
    own = [
        (step, span)
        for step, span in spans.items()
        if len(step) >= len(path) and step[: len(path) - 1] == path[:-1] and span.key_end < span.value_start
    ]
    if not own:
        return None
    # the keys of an inline table end before it does
    step, last = max(own, key=lambda one: one[1].value_end)
    start = chain(text, last.key_start)
    deeper = len(step) - len(path)
    prefix = text[start : last.key_start]
    for _ in range(deeper):  # what of its key stands for the table alone
        prefix = _without_last(prefix.rstrip(" \t."))
    if not prefix:
        return None
    sign = text.index("=", last.key_end)
    gaps = text[last.key_end : sign], text[sign + 1 : last.value_start]
    key = f"{prefix}{key_in_toml(str(path[-1]))}{gaps[0][:1]}={gaps[1]}{value}"
    line = text.rfind("\n", 0, start) + 1
    if text[line:start].strip() or not _ends_line(text, last.value_end):
        return Replacement(last.value_end, last.value_end, f", {key}")
    at = _line_end(text, last.value_end)
    return Replacement(at, at, f"{line_ending(text)}{text[line:start]}{key}")


def _without_last(prefix: str) -> str:
    """A dotted prefix without its last step: "a.b" becomes "a."."""
    match = re.search(rf"{_STEP}$", prefix)
    return prefix[: match.start()] if match else ""


def _ends_line(text: str, offset: int) -> bool:
    behind = text[offset : _line_end(text, offset)].strip()
    return not behind or behind.startswith("#")


def line_ending(text: str) -> str:
    """How the lines of a text end."""
    return "\r\n" if "\r\n" in text else "\n"


def _line_end(text: str, offset: int) -> int:
    """Where the line ends that holds `offset`, before its line break."""
    end = text.find("\n", offset)
    if end < 0:
        return len(text)
    return end - 1 if text[end - 1] == "\r" and end > offset else end
