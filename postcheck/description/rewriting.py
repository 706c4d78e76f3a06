"""A TOML text with some values set, some keys and tables taken out and some tables added; all else, comments too, stays as it is."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from math import inf
from typing import NamedTuple

import tomli

from postcheck.description.adding import MORE, Replacement, chain, key_of_dotted, table
from postcheck.description.edits import replacement
from postcheck.description.lines import ending, line_above, line_end, line_start, next_line
from postcheck.description.positions import Span, is_header, locate
from postcheck.description.problems import Path
from postcheck.description.toml_text import in_toml, key_in_toml

_KEY_AND_GAP = re.compile(r"[ \t]*([A-Za-z0-9_-]+)([ \t]*)=([ \t]*)")


class Put(NamedTuple):
    """The value, written as TOML, that a document path gets; None takes the key out, or one of several tables alike."""

    path: Path
    value: str | None


class Line(NamedTuple):
    """A line of a text that changes: its number (of the old text), as it was and as it becomes; None where there is none."""

    number: int
    old: str | None
    new: str | None


class RewriteError(ValueError):
    """A path that cannot be changed in a text. `lines`: what is to be typed for it, in this file or where its table stands."""

    def __init__(self, says: str, lines: tuple[str, ...] = ()) -> None:
        super().__init__(says)
        self.lines: tuple[str, ...] = lines


def rewritten(text: str, puts: Iterable[Put], tables: str = "") -> str:
    """The text with all of `puts` done, and `tables` (whole tables, a line each) at its end.

    A key that is new goes under the last one of its table, lined up as that one is. RewriteError where one cannot be
    done; then nothing is.
    """
    left = list(puts)
    while left:  # each sees what those before it have moved
        text, left = _some(text, left)
    if not tables:
        return text
    _room_for(text, tables)
    end = ending(text)
    gap = "" if not text or text.endswith(end) else end
    return text + gap + end + tables.replace("\n", end)


def changed_lines(old: str, new: str) -> Iterator[Line]:
    """The lines in which a text differs from another."""
    from difflib import SequenceMatcher  # noqa: PLC0415 - only where lines are shown

    before, after = old.splitlines(), new.splitlines()
    for kind, start, end, now, then in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if kind == "equal":
            continue
        for offset in range(max(end - start, then - now)):
            yield Line(
                start + offset + 1,
                before[start + offset] if start + offset < end else None,
                after[now + offset] if now + offset < then else None,
            )


def _some(text: str, puts: list[Put]) -> tuple[str, list[Put]]:
    """The text with the first of some changes, and those after it that touch tables of their own beside it; and what is left.

    Where everything stands in a large text takes its time to find.
    """
    spans = _located(text)
    done: dict[Path, Replacement] = {}
    left: list[Put] = []
    for number, put in enumerate(puts):
        table = put.path[:-1]
        if table in done:
            left.append(put)
            continue
        change = _of_one_table(text, spans, put) if len(put.path) == len(puts[0].path) else None
        if change is None:
            left += puts[number:]
            break
        done[table] = change
    if not done:
        text, number = _without_tables(text, spans, puts)
        return (text, puts[number:]) if number else (_with(text, puts[0]), puts[1:])
    for change in sorted(done.values(), reverse=True):
        text = text[: change.start] + change.text + text[change.end :]
    return text, left


def _without_tables(text: str, spans: Mapping[Path, Span], puts: list[Put]) -> tuple[str, int]:
    """The text without the tables of an array that the first changes take out, and how many these are.

    The last table goes first: what stands before it stays where it was.
    """
    array, before = puts[0].path[:-1], inf
    for number, (path, value) in enumerate(puts):
        span, at = spans.get(path), path[-1]
        if value is not None or path[:-1] != array or not isinstance(at, int) or not at < before:
            return text, number
        if span is None or not text.startswith("[[", span.value_start):
            return text, number
        change = _removal(text, spans, path)
        if change is None:
            return text, number
        text, before = text[: change.start] + change.text + text[change.end :], at
    return text, len(puts)


def _of_one_table(text: str, spans: Mapping[Path, Span], put: Put) -> Replacement | None:
    """What is typed for a key of a table that is there: another value, or a line of its own; None for all else."""
    from postcheck.description.spreading import spread  # noqa: PLC0415 - it reads the models

    if put.value is None or put.path[-1] == MORE:
        return None
    if put.path not in spans and (len(put.path) == 1 or _last_key(text, spans, put.path[:-1]) is None):
        return None
    return (
        None
        if spread(text, spans, put.path, put.value) is not None
        else _put(text, spans, put.path, put.value)
    )


def _with(text: str, put: Put) -> str:
    from postcheck.description.spreading import spread  # noqa: PLC0415 - it reads the models

    path, value = put
    spans = _located(text)
    pieces = spread(text, spans, path, value)
    if pieces is not None:
        for piece in pieces:
            text = _with(text, Put(*piece))
        return text
    done = one_change(text, spans, put)
    if done is not None:
        return text[: done.start] + done.text + text[done.end :]
    if value is not None and path[-1] != MORE and _has_room(spans, path[:-1]):
        return _with(text, Put(path[:-1], f"{{ {key_in_toml(str(path[-1]))} = {value} }}"))
    raise _refused(path, value)


def one_change(text: str, spans: Mapping[Path, Span], put: Put) -> Replacement | None:
    """What is typed for a change that is one piece of text; `spans` are those of `locate(text)`. None where it is not."""
    return _removal(text, spans, put.path) if put.value is None else _put(text, spans, put.path, put.value)


def _has_room(spans: Mapping[Path, Span], table: Path) -> bool:
    """Whether a table that is not in the text can be put there: at its top, or in one that is there."""
    if not table or table in spans or not isinstance(table[-1], str):
        return False
    return len(table) == 1 or table[:-1] in spans


def _refused(path: Path, value: str | None) -> RewriteError:
    """What cannot be done, with the header and the key to be typed by hand."""
    *above, key = (key_in_toml(str(step)) for step in path)
    names = [name for name, step in zip(above, path, strict=False) if isinstance(step, str)]
    opened = "[[" if any(isinstance(step, int) for step in path) else "["
    header = f"{opened}{'.'.join(names)}{opened.replace('[', ']')}" if names else ""
    where = ".".join((*above, key))
    if path[-1] == MORE:
        rows = tomli.loads(f"x = {value}")["x"]
        if isinstance(rows, dict):
            lines = (
                f"[[{'.'.join(names)}]]",
                *(f"{key_in_toml(one)} = {in_toml(rows[one])}" for one in rows),
            )
            return RewriteError(f"no [[{where[:-2]}]] can be added to the file as it is written", lines)
    if value is None:
        return RewriteError(
            f"{where} cannot be taken out of the file as it is written",
            tuple(filter(None, (header, f"# {key} goes"))),
        )
    return RewriteError(
        f"{where} cannot be put into the file as it is written",
        tuple(filter(None, (header, f"{key} = {value}"))),
    )


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
        if tables.startswith(f"[{name}.", span.value_start) and text.startswith("[", there.value_start):
            continue
        if not tables.startswith("[[", span.value_start):
            raise RewriteError(f"there is a {name} already, and a table [{name}] cannot be added")
        if not text.startswith("[[", there.value_start) or there.value_start >= there.key_start:
            raise RewriteError(f"{name} = [...] is a list in one piece, and no [[{name}]] can be added to it")


def _put(text: str, spans: Mapping[Path, Span], path: Path, value: str) -> Replacement | None:
    if path in spans or path[-1] == MORE:
        return replacement(text, spans, path, value)
    if len(path) == 1 and value.startswith("{"):
        return table(text, spans, path, value)
    last = _last_key(text, spans, path[:-1])
    if last is None:
        if len(path) == 1:
            return Replacement(0, 0, f"{key_in_toml(str(path[0]))} = {value}{ending(text)}")
        return (
            replacement(text, spans, path, value)
            or key_of_dotted(text, spans, path, value)
            or table(text, spans, path, value)
        )
    line = line_start(text, last.key_start)
    match = _KEY_AND_GAP.match(text, line)
    before, behind = (len(match[1]) + len(match[2]), match[3]) if match else (0, " ")
    key = f"{key_in_toml(str(path[-1])):<{max(1, before - 1)}} "
    end = line_end(text, last.value_end)
    indent = text[line : match.start(1)] if match else ""
    return Replacement(end, end, f"{ending(text)}{indent}{key}={behind or ' '}{value}")


def _last_key(text: str, spans: Mapping[Path, Span], table: Path) -> Span | None:
    """The last key that stands by itself under the header of a table, or at the top before any header."""
    header = spans.get(table)
    if not table:
        top = (span for path, span in spans.items() if len(path) == 1 and span.key_start < span.value_start)
        return max(top, key=lambda span: span.value_end, default=None)
    if (
        header is None
        or not text.startswith("[", header.value_start)
        or header.value_start >= header.key_start
    ):
        return None
    own = [
        span
        for path, span in spans.items()
        if len(path) == len(table) + 1 and path[:-1] == table and span.key_start < span.value_start
    ]
    return max(own, key=lambda span: span.value_end, default=None)


def _removal(text: str, spans: Mapping[Path, Span], path: Path) -> Replacement | None:
    """A key or an entry of a list with its value, and its whole line where nothing else stands on it; or one table of several."""
    span = spans.get(path)
    if (
        span is not None
        and isinstance(path[-1], int)
        and text.startswith("[[", span.value_start)
        and is_header(text, span)
    ):
        return _without_table(text, spans, path, span)
    if span is None or is_header(text, span):
        return None
    first = chain(text, span.key_start)
    # the last of its table, which stays
    if first < span.key_start and not any(
        other[: len(path) - 1] == path[:-1] and len(other) >= len(path) and other[: len(path)] != path
        for other in spans
    ):
        before = text[: span.key_start].rstrip(" \t")[:-1].rstrip(" \t")
        return Replacement(len(before), span.value_end, " = {}")
    start, end = line_start(text, first), next_line(text, span.value_end)
    before, behind = text[start:first], text[span.value_end : end]
    comma = re.match(r"\s*,\s*", text[span.value_end :])  # within an inline table or a list
    alone = not before.strip() and re.fullmatch(r"\s*,?\s*(#.*\s*)?", behind)
    if alone and ("," in behind.partition("#")[0] or comma is None):
        return Replacement(start, end, "")
    if comma:
        return Replacement(first, span.value_end + comma.end(), "")
    ahead = re.search(r",?[ \t]*\Z", text[:first])
    return Replacement(ahead.start() if ahead else first, span.value_end, "")


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
    start, end = line_start(text, header.value_start), next_line(text, last)
    top = max((one.value_end for one in spans.values() if one.value_end <= header.value_start), default=0)
    while (above := line_above(text, start)).lstrip().startswith("#") and start - len(above) >= top:
        start -= len(above)
    # a comment below that has another table under it is that one's
    below = _comments_from(text, end)
    if re.compile(r"[ \t]*\[").match(text, below) is None:
        end = below
    blank = re.compile(r"[ \t]*\r?\n")
    if not line_above(text, start).strip():
        while match := blank.match(text, end):
            end = match.end()
    if end == len(text):  # nothing follows that the line before it would set apart
        while (above := line_above(text, start)) and not above.strip():
            start -= len(above)
    return Replacement(start, end, "")


def _comments_from(text: str, at: int) -> int:
    """Behind the lines of comment that begin there."""
    match = re.compile(r"(?:[ \t]*#[^\n]*(?:\n|\Z))*").match(text, at)
    return at if match is None else match.end()
