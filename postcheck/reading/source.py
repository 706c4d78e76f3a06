"""Reading a build file: bytes to text to a plain dict, with every mishap in words and with its place."""

from __future__ import annotations

__all__ = ["DISK", "Files", "Source", "decoded", "parse_source", "read_source", "resolve_use", "too_big"]

import ntpath
import os
import re
import stat
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple, NoReturn, Protocol

from postcheck.description.models import SEVERAL
from postcheck.description.positions import find, line_column, locate
from postcheck.description.problems import BuildError, Problem, QuantityError
from postcheck.plain import quoted

# A lamp takes about 200 bytes; this is room for 20 000 of them, and still read within a second or two.
MOST_BYTES = 4_000_000
# Byte order marks, the Unicode standard, 23.8; that of UTF-32 begins with that of UTF-16.
_OTHER_MARKS = {
    b"\xff\xfe\0\0": "UTF-32",
    b"\0\0\xfe\xff": "UTF-32",
    b"\xff\xfe": "UTF-16",
    b"\xfe\xff": "UTF-16",
}
# What stands in place of a file that a filter of git has not put there, and who keeps the file: from memory, the
# specification of git-lfs and the header of git-crypt.
_STAND_INS = {
    b"version https://git-lfs.github.com/spec/": (
        "this is a pointer of git-lfs and not the file itself",
        "git lfs pull brings the file",
    ),
    b"\0GITCRYPT\0": ("the file is locked by git-crypt", "git-crypt unlock opens it"),
}
# The deepest table form is about six levels; far more is a slip or an attack on the stack.
MOST_DEPTH = 40


class Source(NamedTuple):
    """A file's name as it is shown, and its text."""

    name: str
    text: str


class Files(Protocol):
    """Where a build and the files that it uses come from."""

    def real(self, path: str) -> str:
        """Where a path leads, links followed. Raises OSError, RuntimeError or ValueError."""

    def is_file(self, path: str) -> bool:
        """Whether a path without links is a file."""

    def read(self, path: str) -> Source:
        """A file's text. Raises BuildError."""


class Disk:
    """The files of this computer."""

    def real(self, path: str) -> str:
        return str(Path(path).resolve())

    def is_file(self, path: str) -> bool:
        return os.path.isfile(path)

    def read(self, path: str) -> Source:
        return read_source(path)


DISK = Disk()


def _stop(
    name: str, check: str, says: str, hint: str | None = None, at: tuple[int, int] | None = None
) -> NoReturn:
    line, column = at or (None, None)
    raise BuildError(name, [Problem(check, (), says, hint, line=line, column=column)]) from None


def read_source(path: str | os.PathLike[str], stdin: bytes | None = None) -> Source:
    """Return the text of a file, or of `stdin` where the path is "-". Raises BuildError."""
    name = os.fspath(path)
    if name == "-" and stdin is not None:
        return Source(name, decoded(name, stdin))
    return Source(name, decoded(name, _bytes(name)))


def _bytes(name: str) -> bytes:
    try:
        if name == "-":
            if sys.stdin is None:
                _stop(
                    name, "file.unreadable", "standard input is closed", "name a build file, or pipe one in"
                )
            return sys.stdin.buffer.read(MOST_BYTES + 1)
        with open(name, "rb", opener=_without_waiting) as file:
            mode = os.fstat(file.fileno()).st_mode
            if stat.S_ISDIR(mode):
                raise IsADirectoryError
            if not stat.S_ISREG(mode):
                _stop(
                    name,
                    "file.unreadable",
                    "this is a pipe or a device, not a file",
                    "- reads standard input",
                )
            return file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        _stop(name, "file.unreadable", "there is no such file", "check the name and the folder")
    except IsADirectoryError:
        _stop(name, "file.unreadable", "this is a folder, and no .post.toml is in it", "name the build file")
    except PermissionError:
        _stop(name, "file.unreadable", "this file may not be read", "ask for the right to read it")
    except OSError as error:
        reason = (error.strerror or "it cannot be opened").lower()
        _stop(name, "file.unreadable", f"this file cannot be read: {reason}")
    except ValueError:  # a NUL in the name
        _stop(name, "file.unreadable", "no file can bear this name")


def _without_waiting(name: str, flags: int) -> int:
    """Open a file; a pipe that nobody writes to is opened at once, so that it can be refused."""
    return os.open(name, flags | getattr(os, "O_NONBLOCK", 0))


def too_big(name: str) -> NoReturn:
    """Say that a file has more than MOST_BYTES. Raises BuildError."""
    _stop(
        name,
        "file.too-big",
        f"the file is bigger than {MOST_BYTES // 1_000_000} MB",
        "no build description is; is this the right file?",
    )


def decoded(name: str, data: bytes) -> str:
    """The text of a file's bytes. Raises BuildError."""
    if len(data) > MOST_BYTES:
        too_big(name)
    for begins, (says, hint) in _STAND_INS.items():
        if data.startswith(begins):
            _stop(name, "file.unreadable", says, hint)
    for mark, encoding in _OTHER_MARKS.items():
        if data.startswith(mark):
            _stop(name, "file.not-text", f"the file is in {encoding}", "save it as UTF-8", (1, 1))
    data = data.removeprefix(b"\xef\xbb\xbf")  # the mark some editors put first
    try:
        text = data.decode()
    except UnicodeDecodeError as error:
        before = data[: error.start].decode()
        binary = b"\0" in data
        _stop(
            name,
            "file.not-text",
            "this is not a text file" if binary else f"the byte 0x{data[error.start]:02x} here is not UTF-8",
            "is this the right file?" if binary else "save the file as UTF-8",
            line_column(before, len(before)),
        )
    if "\0" in text:
        _stop(
            name,
            "file.not-text",
            "this is not a text file",
            "is this the right file?",
            line_column(text, text.index("\0")),
        )
    if not text.strip():
        _stop(name, "file.empty", "the file is empty", "begin with [build] and its name", (1, 1))
    return text


def parse_source(source: Source) -> dict[str, Any]:
    """Return the document as a plain dict. Raises BuildError with line and column."""
    import tomli  # noqa: PLC0415 - not needed for --help

    name = source.name
    text = source.text.removeprefix("\ufeff").replace("\r\n", "\n")
    if "\r" in text and "\n" not in text:
        _stop(
            name,
            "file.not-toml",
            "the lines end in a carriage return alone, as on very old computers",
            "save the file with line ends of Unix (LF) or Windows (CRLF)",
            (1, text.index("\r") + 1),
        )
    try:
        data = tomli.loads(text)
    except tomli.TOMLDecodeError as error:
        says, hint, at = _reworded(error.msg, text, error.pos)
        check = "file.duplicate-name" if "twice" in says else "file.not-toml"
        _stop(name, check, says, hint, line_column(text, at))
    except RecursionError:
        _stop(
            name,
            "file.too-deep",
            "lists or tables are nested far too deep",
            "flatten them",
            _first_deep(text),
        )
    except ValueError:  # Python refuses to read integers of thousands of digits
        digits = max(re.finditer(r"[0-9_]+", text), key=lambda run: run.end() - run.start())
        _stop(
            name,
            "file.not-finite",
            "this number has thousands of digits",
            "write a quantity with its unit",
            line_column(text, digits.start()),
        )
    if not data:
        _stop(name, "file.empty", "the file holds only comments", "begin with [build] and its name", (1, 1))
    if deep := _too_deep(data):
        at = find(locate(text), deep).value_start
        _stop(
            name,
            "file.too-deep",
            f"lists or tables are nested more than {MOST_DEPTH} deep here",
            "flatten them",
            line_column(text, at),
        )
    return data


# A dotted key or header with more parts than any build has.
_DEEP_KEY = re.compile(
    rf"""^[ \t\[]*+((?:(?:[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){{{MOST_DEPTH}}})""",
    re.MULTILINE,
)


def _first_deep(text: str) -> tuple[int, int] | None:
    if dotted := _DEEP_KEY.search(text):
        return line_column(text, dotted.start(1))
    depth = 0
    for token in _TOKEN.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(token["bracket"] or "", 0)
        if depth > MOST_DEPTH:
            return line_column(text, token.start())
    return None


def _too_deep(data: dict[str, Any]) -> tuple[str | int, ...] | None:
    level: list[tuple[tuple[str | int, ...], Any]] = [((), data)]
    for _ in range(MOST_DEPTH + 1):
        level = [
            ((*path, key), value)
            for path, table in level
            for key, value in (table.items() if isinstance(table, dict) else enumerate(table))
            if isinstance(value, dict | list) and value
        ]
        if not level:
            return None
    return level[0][0]


# What opens and closes: texts and comments are stepped over, brackets and quotes that stay open are noted.
_TOKEN = re.compile(
    r'"""[^"\\]*(?:(?:\\[\s\S]|"(?!""))[^"\\]*)*"{3,5}'
    r"|'''[^']*(?:'(?!'')[^']*)*'{3,5}"
    r'|(?P<open>"""|\'\'\')'
    r'|"[^"\\\n]*(?:\\.[^"\\\n]*)*"'
    r"|'[^'\n]*+'"
    r"|#[^\n]*+|(?P<bracket>[\[\]{}])"
    r"|(?P<lone>[\"'])"
)
_ASSIGNED = re.compile(
    r"""(?:^|[,{]|\.)[ \t]*(?P<key>[A-Za-z0-9_-]+|"[^"]*")[ \t]*=[ \t]*(?P<value>[^\s"'\[{#,}\]][^#,}\]]*)"""
)

_ELEMENT = re.compile(r"""[^=]*=[ \t]*\[[ \t]*(?P<words>[A-Za-z][^\[\]"'=#]*)\].*""")
_CURLY = "\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb"


def _open_at(text: str, end: int) -> tuple[str, int] | None:
    """Return the innermost bracket or many-line quote still open at `end`, and where it stands."""
    opened: list[tuple[str, int]] = []
    for token in _TOKEN.finditer(text, 0, end):
        if token["open"]:
            return token["open"], token.start()
        bracket = token["bracket"]
        if bracket in {"[", "{"}:
            opened.append((bracket, token.start()))
        elif bracket and opened:
            opened.pop()
    return opened[-1] if opened else None


def _reworded(message: str, text: str, at: int) -> tuple[str, str | None, int]:
    """Return the parser's complaint in our words, a hint, and the offset it belongs to."""
    start = text.rfind("\n", 0, at) + 1
    end = text.find("\n", at)
    line = text[start : end if end >= 0 else len(text)]
    if message.startswith(("Cannot overwrite", "Duplicate inline", "Cannot declare", "Cannot redefine")):
        return _twice(message, text, line, start, at)
    if message.startswith("Cannot mutate"):
        return (
            "this table is already complete and takes no more keys",
            "put all its keys in one place: in the braces, or under one header",
            start,
        )
    opening = _open_at(text, at)
    if opening and opening[0] in {'"""', "'''"}:
        return (
            f"the text that opens here with {opening[0]} is never closed",
            f"close it with {opening[0]}",
            opening[1],
        )
    if bare := _bare_value(line, at - start):
        return bare[0], bare[1], start + bare[2]
    if message in {"Unclosed array", "Unclosed inline table"} and opening:
        what, close = ("list", "]") if opening[0] == "[" else ("table", "}")
        if text[at : at + 1] in {"", "\n"} or text.count("\n", opening[1], at):
            return (
                f"the {what} that opens here is not closed",
                f'close it with "{close}", or add a comma',
                opening[1],
            )
        return f"a comma or a closing {close} is missing here", None, at
    return _plain_words(message, text, line, at)


def _twice(message: str, text: str, line: str, start: int, at: int) -> tuple[str, str | None, int]:
    if header := re.match(r"[ \t]*\[+[ \t]*([^\]\n]+?)[ \t]*\]", line):
        what, where = f"the table [{header[1]}]", start + header.start(1)
        again = re.compile(rf"^[ \t]*\[+[ \t]*{re.escape(header[1])}[ \t]*\]", re.MULTILINE)
        earlier = again.search(text, 0, start)
        if line.lstrip().startswith("[") and not line.lstrip().startswith("[[") and header[1] in SEVERAL:
            return (
                f"{quoted(what)[1:-1]} is given twice",
                f"write [[{header[1]}]], in double brackets, each time: there may be several",
                where,
            )
        hint = (
            f"it stands on line {line_column(text, earlier.start())[0]} already; put its keys there, "
            "or give this one a name of its own"
            if earlier
            else "its keys are given elsewhere already; put them together"
        )
        return f"{quoted(what)[1:-1]} is given twice", hint, where
    keys = list(
        re.finditer(
            r"""(?<![A-Za-z0-9_.-])(?P<key>[A-Za-z0-9_.-]++|"[^"\n]*"|'[^'\n]*')[ \t]*+=""", text[start:at]
        )
    )
    if not keys:
        return "a key is given twice", "leave one of the two out", at
    last = keys[-1] if message.startswith("Duplicate inline") else keys[0]
    return (
        f"the key {quoted(last['key'])} is given twice",
        "leave one of the two out",
        start + last.start("key"),
    )


def _bare_value(line: str, at: int) -> tuple[str, str, int] | None:
    """Find a text without quotes, such as `length = 260 mm`, around the place of the complaint."""
    for match in _ASSIGNED.finditer(line):
        value, place = match["value"].strip(), match.start("value")
        if place - 1 <= at <= match.end("value"):
            key = quoted(match["key"])[1:-1]
            if value in {"True", "False", "TRUE", "FALSE", "yes", "no", "on", "off"}:
                meant = "true" if value.lower() in {"true", "yes", "on"} else "false"
                return f"{quoted(value)} is not known here", f"write {key} = {meant}", place
            if re.match(r"[0-9]{4}-[0-9]", value):
                return f"{quoted(value)} is not a date", "write it as 2026-03-01", place
            if value[0] in _CURLY:
                return (
                    "the quotes here are curly",
                    f'write straight ones: "{quoted(value.strip(_CURLY))[1:-1]}"',
                    place,
                )
            if "=" in value or value[-1] in "\"'" or not re.search(r"[A-Za-z%/°µμΩ ]", value):
                return None
            return f"{quoted(value)} stands without quotes", f'write {key} = "{quoted(value)[1:-1]}"', place
    if len(line) < 200 and (element := _ELEMENT.fullmatch(line)):
        words = ", ".join(f'"{quoted(word.strip())[1:-1]}"' for word in element["words"].split(","))
        return "the texts in this list stand without quotes", f"write [{words}]", element.start("words")
    return None


_WORDS = {
    "Invalid value": (
        "a value is missing or not understood here",
        'texts and quantities stand in quotes, as in "12 V"',
    ),
    "Invalid statement": ("this line is not understood", 'write key = "value", or [table]'),
    "Expected '=' after a key in a key/value pair": ("there is no = after the key", 'write key = "value"'),
    "Invalid initial character for a key part": ("a key is missing or not understood here", None),
    "Expected ']' at the end of a table declaration": (
        "the header of the table is not closed",
        'close it with "]"',
    ),
    "Expected ']]' at the end of an array declaration": ("the header is not closed", 'close it with "]]"'),
    "Expected newline or end of document after a statement": (
        "there is more on this line than one value",
        "one key with its value, or one header, stands on a line",
    ),
    "Invalid date or datetime": ("this is not a date", "write it as 2026-03-01"),
    "Escaped character is not a Unicode scalar value": (
        "this escape is no character",
        "write the character itself",
    ),
    "Unescaped '\\' in a string": (
        "a single backslash stands in the text",
        "write two of them, or put the text in single quotes",
    ),
}


def _plain_words(message: str, text: str, line: str, at: int) -> tuple[str, str | None, int]:
    if inches := re.search(r'= *"([0-9/ .]+)""$', text[text.rfind("\n", 0, at) + 1 : at + 1]):
        return "the inch mark closes the text", f'write "{inches[1]} in"', at
    if message in _WORDS:
        says, hint = _WORDS[message]
        if says.startswith("the header") and (opening := line.find("[")) >= 0:
            return says, hint, at - len(text[text.rfind("\n", 0, at) + 1 : at]) + opening
        return says, hint, min(at, len(text))
    if message.startswith(("Illegal character", "Unterminated string", "Expected", "Found invalid")):
        if text[at : at + 1] in {"", "\n"}:
            lone = next(
                (token.start() for token in _TOKEN.finditer(text) if token["lone"]), min(at, len(text))
            )
            return "the text that opens here is not closed on its line", "add the missing quote", lone
        code = ord(text[at])
        return (
            f"the character {quoted(text[at])} (U+{code:04X}) may not stand here",
            "delete it" if code < 32 or code == 127 else None,
            at,
        )
    return "this is not TOML", None, min(at, len(text))


def resolve_use(
    file: str, entry: str, *, root: str | None = None, chain: Sequence[str] = (), files: Files = DISK
) -> str:
    """Return the path of `entry`, named under `use` in `file`.

    `root` is the folder that may not be left: that of the first file, if not given that of `file`. `chain`
    holds the files that are being read, from the first on: none may be used again. Raises QuantityError with
    the check "file.use".
    """
    shown = quoted(entry)

    def refuse(says: str, hint: str) -> QuantityError:
        return QuantityError("file.use", f"{shown} {says}", hint)

    if file == "-":
        raise refuse(
            "cannot be found from standard input", "name the build file, so that its folder is known"
        )
    if not entry or "\0" in entry:
        raise refuse("is no name of a file", 'write use = ["workshop.toml"]')
    if Path(entry).is_absolute() or ntpath.splitdrive(entry)[0] or entry.startswith(("/", "\\", "~")):
        raise refuse(
            "is not beside this file", "name a file in this folder or below it, without the full path"
        )
    if ".." in re.split(r"[/\\]", entry):
        raise refuse("leads out of the folder", "name a file in this folder or below it")
    try:
        here = os.path.dirname(files.real(file))
        top = files.real(root) if root is not None else here
        target = files.real(os.path.join(here, entry))
        known = {files.real(name) for name in (*chain, file)}
        is_file = files.is_file(target)
    except QuantityError:  # in words already
        raise
    except (OSError, RuntimeError, ValueError):  # links in a circle, a name far too long
        raise refuse("cannot be found", "check the name") from None
    if not Path(target).is_relative_to(top):
        raise refuse("is a link that leads out of the folder", "put the file itself in this folder")
    if target in known:
        raise refuse("uses itself in a circle", "take it out of one of the two files")
    if not is_file:
        raise refuse("is not there", "check the name; it is looked for beside this file")
    return target
