"""A TOML text with some values set, some keys and tables taken out and some tables added; all else, comments too, stays as it is."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from postcheck.description.edits import Replacement, replacement
from postcheck.description.positions import Span, locate
from postcheck.description.problems import Path
from postcheck.description.toml_text import key_in_toml

_KEY_AND_GAP = re.compile(r"[ \t]*([A-Za-z0-9_-]+)([ \t]*)=([ \t]*)")


class Put(NamedTuple):
    """The value, written as TOML, that a document path gets; None takes the key out, or one of several tables alike."""

    path: Path
    value: str | None


class RewriteError(ValueError):
    """A path stands in a form in which it cannot be changed by itself, such as dotted keys."""


def rewritten(text: str, puts: Iterable[Put], tables: str = "") -> str:
    """The text with all of `puts` done, and `tables` (whole tables, a line each) at its end.

    A key that is new goes under the last one of its table, lined up as that one is. RewriteError where one cannot be
    done; then nothing is.
    """
    for put in puts:  # one after the other: each sees what those before it have moved
        spans = _located(text)
        done = (
            _removal(text, spans, put.path) if put.value is None else _put(text, spans, put.path, put.value)
        )
        if done is None:
            where = ".".join(key_in_toml(str(step)) for step in put.path)
            raise RewriteError(f"{where} stands in a form that is not changed by itself, such as dotted keys")
        text = text[: done.start] + done.text + text[done.end :]
    if not tables:
        return text
    _room_for(text, tables)
    end = "\r\n" if "\r\n" in text else "\n"
    gap = "" if not text or text.endswith(end) else end
    return text + gap + end + tables.replace("\n", end)


def _located(text: str) -> Mapping[Path, Span]:
    try:
        return locate(text)
    except ValueError as error:
        raise RewriteError(f"the text is none that is understood: {error}") from error


def _room_for(text: str, tables: str) -> None:
    """Raise RewriteError where tables of a name cannot be added below, as the text has that name in another form."""
    spans, new = _located(text), _located(tables)
    for path, span in new.items():
        there = spans.get(path) if len(path) == 1 else None
        if there is None:
            continue
        name = key_in_toml(str(path[0]))
        if not tables.startswith("[[", span.value_start):
            raise RewriteError(f"there is a {name} already, and a table [{name}] cannot be added")
        if not text.startswith("[[", there.value_start) or there.value_start >= there.key_start:
            raise RewriteError(f"{name} = [...] is a list in one piece, and no [[{name}]] can be added to it")


def _put(text: str, spans: Mapping[Path, Span], path: Path, value: str) -> Replacement | None:
    if path in spans:
        return replacement(text, spans, path, value)
    if path and path[-1] == "+":
        return None
    last = _last_key(text, spans, path[:-1])
    if last is None:
        return replacement(text, spans, path, value)
    line = text.rfind("\n", 0, last.key_start) + 1
    match = _KEY_AND_GAP.match(text, line)
    before, behind = (len(match[1]) + len(match[2]), match[3]) if match else (0, " ")
    key = f"{key_in_toml(str(path[-1])):<{max(1, before - 1)}} "
    end = text.find("\n", last.value_end)
    indent = text[line : match.start(1)] if match else ""
    new = f"{indent}{key}={behind or ' '}{value}"
    if end < 0:
        return Replacement(len(text), len(text), f"\n{new}")
    if text[end - 1] == "\r":
        return Replacement(end - 1, end - 1, f"\r\n{new}")
    return Replacement(end, end, f"\n{new}")


def _last_key(text: str, spans: Mapping[Path, Span], table: Path) -> Span | None:
    """The last key that stands by itself under the header of a table."""
    header = spans.get(table)
    if (
        header is None
        or not text.startswith("[", header.value_start)
        or header.value_start >= header.key_start
    ):
        return None
    own = [
        span
        for path, span in spans.items()
        if len(path) == len(table) + 1
        and path[:-1] == table
        and span.key_end <= span.value_start
        and header.value_end <= span.key_start
        and text.rfind("\n", 0, span.key_start) >= header.value_end - 1
    ]
    return max(own, key=lambda span: span.value_end, default=None)


def _removal(text: str, spans: Mapping[Path, Span], path: Path) -> Replacement | None:
    """A key with its value, and its whole line where nothing else stands on it; or one table of several."""
    span = spans.get(path)
    if span is not None and isinstance(path[-1], int) and text.startswith("[[", span.value_start):
        return _without_table(text, spans, path, span)
    if span is None or (span.key_end > span.value_start and not isinstance(path[-1], int)):
        return None
    start = text.rfind("\n", 0, span.key_start) + 1
    end = text.find("\n", span.value_end)
    end = len(text) if end < 0 else end + 1
    before, behind = text[start : span.key_start], text[span.value_end : end]
    if before.rstrip().endswith("."):  # the end of a dotted key: what is before it would be left alone
        return None
    if not before.strip() and (not behind.strip() or behind.strip().startswith("#")):
        return Replacement(start, end, "")
    comma = re.match(r"\s*,\s*", text[span.value_end :])  # within an inline table
    if comma:
        return Replacement(span.key_start, span.value_end + comma.end(), "")
    # a list may be over several lines, with comments
    ahead = re.search(r",?[ \t]*$" if isinstance(path[-1], int) else r",?\s*$", text[: span.key_start])
    return Replacement(ahead.start() if ahead else span.key_start, span.value_end, "")


def _without_table(text: str, spans: Mapping[Path, Span], path: Path, header: Span) -> Replacement | None:
    """A table of an array with all that is in it and the comment directly above; None where it is torn apart in the text."""
    size = len(path)
    own = [span for at, span in spans.items() if at[:size] == path]
    last = max(span.value_end for span in own)
    if any(
        header.value_start < span.key_start < last
        and at[:size] != path
        and span.value_start >= header.value_end
        for at, span in spans.items()
    ):
        return None
    start = text.rfind("\n", 0, header.value_start) + 1
    end = text.find("\n", last)
    end = len(text) if end < 0 else end + 1
    top = max((one.value_end for one in spans.values() if one.value_end <= header.value_start), default=0)
    while (above := _line_before(text, start)) is not None and (
        above >= top and text[above:start].lstrip().startswith("#")
    ):
        start = above
    # a comment below that has another table under it is that one's
    below = _comments_from(text, end)
    if not text[below : below + 200].lstrip(" \t").startswith("["):
        end = below
    blank = re.compile(r"[ \t]*\r?\n")
    before = _line_before(text, start)
    if before is None or not text[before:start].strip():
        while match := blank.match(text, end):
            end = match.end()
    return Replacement(start, end, "")


def _line_before(text: str, start: int) -> int | None:
    """Where the line above begins, None at the top."""
    return None if start == 0 else text.rfind("\n", 0, start - 1) + 1


def _comments_from(text: str, at: int) -> int:
    """Behind the lines of comment that begin there."""
    match = re.compile(r"(?:[ \t]*#[^\n]*(?:\n|\Z))*").match(text, at)
    return at if match is None else match.end()
