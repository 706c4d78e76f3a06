"""Where things stand in a TOML text: a locator that runs only when there is something to report.

The text has been accepted by the TOML parser before, so nothing is validated here: the locator skips blanks
and comments, reads keys, and steps over values. Offsets count code points of the text as given, CRLF
included.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Container, Iterable, Mapping
from typing import NamedTuple

from postcheck.description.problems import Path, Problem


class Span(NamedTuple):
    """Where a key and its value stand, from start up to but not including end.

    A table with a header has its key inside the header and the whole header as its value. A part of a dotted
    key that has no value itself has its key as its value; an element of a list has its value as its key.
    """

    key_start: int
    key_end: int
    value_start: int
    value_end: int


def is_header(text: str, span: Span) -> bool:
    """Whether a span is that of a table, or of a list of tables, with a header, its own or one further down that implies it."""
    return text.startswith("[", span.value_start) and span.value_start < span.key_start


# What a loop may begin with never is what comes before it, so that each pattern has one way to match and is linear.
# (Possessive quantifiers would say so; around a group, those of Python 3.11.2 lose their place.)
_SPACE = re.compile(r"[ \t]*")
_BLANK = re.compile(r"[ \t\r\n]*(?:#[^\n]*[ \t\r\n]*)*")
_KEY = re.compile(r"""[A-Za-z0-9_-]+|"[^"\\\n]*(?:\\.[^"\\\n]*)*"|'[^'\n]*'""")
_SCALAR = re.compile(
    r'"""[^"\\]*(?:(?:\\[\s\S]|"(?!""))[^"\\]*)*"{3,5}'
    r"|'''[^']*(?:'(?!'')[^']*)*'{3,5}"
    r'|"[^"\\\n]*(?:\\.[^"\\\n]*)*"'
    r"|'[^'\n]*'"
    r"|[^\s,\]}#]+(?:[ \t]+[^\s,\]}#]+)*"  # a date and a time may be parted by a space
)
_CLOSING = {"[": "]", "{": "}"}
# Most lines of most files; the newline behind the value tells `""` from the beginning of a longer text.
_TEXT = r'"[^"\\\n]*"'
_LINES = re.compile(
    rf"(?:[\w-]+[ \t]*=[ \t]*(?:[\w.+-]+|{_TEXT}|\[(?:{_TEXT}|[\w.+, \t-])*\])[ \t]*\r?\n)+", re.ASCII
)


def locate(text: str, only: Iterable[Path] | None = None) -> dict[Path, Span]:
    """Return the span of every table, key and list element of a TOML document, by its path.

    A path is a tuple of keys and of positions in lists, as in the parsed document. `only`: as much of all that as `find`
    needs for these. For a text that the parser does not accept, ValueError is raised or the result means nothing.
    """
    if only is None:
        return _Locator(text).spans
    return _Locator(text, {path[:length] for path in only for length in range(len(path) + 1)}).spans


class _Locator:
    def __init__(self, text: str, wanted: Container[Path] | None = None) -> None:
        self.text = text
        self.wanted = wanted
        self.at = 1 if text.startswith("\ufeff") else 0
        self.spans: dict[Path, Span] = {}
        self.sizes: dict[Path, int] = {}  # arrays of tables: how many tables so far
        table: Path = ()
        while True:
            self.skip(_BLANK)
            if self.at >= len(text):
                return
            if text[self.at] == "[":
                table = self.header()
                if not self.wants(table):
                    self.skip(_BLANK)
                    self.skip(_LINES)
            else:
                self.value(*self.dotted(table))

    def wants(self, path: Path) -> bool:
        return self.wanted is None or path in self.wanted

    def skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.at)
        self.at = match.end() if match else self.at

    def take(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match is None:
            message = f"not TOML at offset {self.at}"
            raise ValueError(message)
        self.at = match.end()
        return match[0]

    def keys(self) -> list[tuple[str, int, int]]:
        """Read a dotted key: its parts with their starts and ends."""
        parts = []
        while True:
            self.skip(_SPACE)
            start = self.at
            parts.append((_plain(self.take(_KEY)), start, self.at))
            self.skip(_SPACE)
            if not self.text.startswith(".", self.at):
                return parts
            self.at += 1

    def header(self) -> Path:
        """Read "[a.b]" or "[[a.b]]" and return the path of the table it opens."""
        start = self.at
        many = self.text.startswith("[[", start)
        self.at += 2 if many else 1
        parts = self.keys()
        self.at += 2 if many else 1
        path: Path = ()
        for position, (key, key_start, key_end) in enumerate(parts):
            path = (*path, key)
            span = Span(key_start, key_end, start, self.at)
            last = position == len(parts) - 1
            if last and not many and self.wants(path):
                self.spans[path] = span  # its own header wins over a header further down that implied it
            elif self.wants(path):
                self.spans.setdefault(path, span)
            if last and many:
                path = (*path, self.sizes.get(path, 0))
                self.sizes[path[:-1]] = self.sizes.get(path[:-1], 0) + 1
                if self.wants(path):
                    self.spans[path] = span
            elif path in self.sizes:
                path = (*path, self.sizes[path] - 1)
        return path

    def dotted(self, table: Path) -> tuple[Path, tuple[int, int]]:
        """Read "a.b =" and return the path with the start and end of its last part."""
        *parents, (key, start, end) = self.keys()
        for parent, parent_start, parent_end in parents:
            table = (*table, parent)
            self.spans.setdefault(table, Span(parent_start, parent_end, parent_start, parent_end))
        self.at += 1  # the equals sign
        self.skip(_SPACE)
        return (*table, key), (start, end)

    def value(self, path: Path, key: tuple[int, int] | None) -> None:
        """Step over one value, noting it and everything inside; no recursion, however deep it is."""
        text = self.text
        # lists and inline tables: path, key span, start of value
        opened: list[tuple[Path, tuple[int, int] | None, int]] = []
        sizes: list[int] = []
        while True:
            start = self.at
            if text[start : start + 1] in {"[", "{"}:
                opened.append((path, key, start))
                sizes.append(0)
                self.at += 1
            else:
                self.take(_SCALAR)
                self.note(path, key, start)
            while opened:
                self.skip(_BLANK)
                if text.startswith(",", self.at):
                    self.at += 1
                    self.skip(_BLANK)
                outer, outer_key, outer_start = opened[-1]
                if not text.startswith(_CLOSING[text[outer_start]], self.at):
                    break
                self.at += 1
                self.note(outer, outer_key, outer_start)
                opened.pop()
                sizes.pop()
            else:
                return
            if text[outer_start] == "{":
                path, key = self.dotted(outer)
            else:
                path, key = (*outer, sizes[-1]), None
                sizes[-1] += 1

    def note(self, path: Path, key: tuple[int, int] | None, start: int) -> None:
        value = start, self.at
        self.spans[path] = Span(*(key or value), *value)  # an element of a list has no key


def _plain(key: str) -> str:
    if key[0] == '"' and "\\" in key:
        import tomli  # noqa: PLC0415 - escapes in keys are rare

        return next(iter(tomli.loads(f"{key}=0")))
    return key[1:-1] if key[0] in "\"'" else key


def find(spans: Mapping[Path, Span], path: Path) -> Span:
    """Return the span of `path`, or of the longest beginning of it that stands in the text."""
    for length in range(len(path), 0, -1):
        if path[:length] in spans:
            return spans[path[:length]]
    return Span(0, 0, 0, 0)


def line_column(text: str, offset: int) -> tuple[int, int]:
    """Return the line and the column, both from 1, of an offset; columns count code points."""
    return text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset)


def located(problems: Iterable[Problem], text: str) -> list[Problem]:
    """Return the problems with line and column, in the order of the text; those that have a line keep it."""
    spans = locate(text)
    starts = [0, *(match.end() for match in re.finditer("\n", text))]
    found = []
    for problem in problems:
        if problem.line is not None:
            found.append(problem)
            continue
        span = find(spans, problem.path)
        offset = span.key_start if problem.on == "key" else span.value_start
        line = bisect_right(starts, offset)
        found.append(problem._replace(line=line, column=offset - starts[line - 1] + 1))
    return sorted(found, key=lambda problem: (problem.line or 0, problem.column or 0))
