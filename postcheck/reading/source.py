"""Reading a build file: bytes to text to a plain dict, with every mistake in words and with its place."""

from __future__ import annotations

import ntpath
import os
import re
import stat
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple, NoReturn, Protocol

from postcheck.description.problems import BuildError, Problem, QuantityError
from postcheck.plain import quoted

# A lamp takes about 200 bytes; this is room for 20 000 of them, and still read within a second or two.
MOST_BYTES = 4_000_000
# The variable that names the highest folder of which builds may use files, where that is not the top of a repository.
TOP = "POSTCHECK_TOP"
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
# The deepest table form is about six levels; far more is a mistake or an attack on the stack.
MOST_DEPTH = 40


class Source(NamedTuple):
    """A file's name as it is shown, and its text."""

    name: str
    text: str


class Files(Protocol):
    """Where a build and the files that it uses come from."""

    def top(self, path: str) -> str:
        """The highest folder that a build in the file `path` may use files of. Raises OSError, RuntimeError or ValueError."""

    def real(self, path: str) -> str:
        """Where a path leads, links followed. Raises OSError, RuntimeError or ValueError."""

    def is_file(self, path: str) -> bool:
        """Whether a path without links is a file."""

    def read(self, path: str) -> Source:
        """A file's text. Raises BuildError."""


class _Disk:
    """The files of this computer."""

    def top(self, path: str) -> str:
        here = Path(path).resolve().parent
        named = os.environ.get(TOP)
        if named and here.is_relative_to(top := Path(named).expanduser().resolve()):
            return str(top)
        # of a work tree beside the repository, and of a module in it, .git is a file
        return str(next((folder for folder in (here, *here.parents) if (folder / ".git").exists()), here))

    def real(self, path: str) -> str:
        return str(Path(path).resolve())

    def is_file(self, path: str) -> bool:
        return os.path.isfile(path)

    def read(self, path: str) -> Source:
        return read_source(path)


DISK = _Disk()


def _stop(
    name: str, check: str, says: str, hint: str | None = None, at: tuple[str, int] | None = None
) -> NoReturn:
    """Raise BuildError; `at`: the text and the offset in it that the problem belongs to."""
    line = column = None
    if at is not None:
        from postcheck.description.positions import line_column  # noqa: PLC0415 - of what is right none is told

        line, column = line_column(*at)
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
        _stop(name, "file.unreadable", "this is a folder", "name the build file in it")
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
            _stop(name, "file.not-text", f"the file is in {encoding}", "save it as UTF-8", ("", 0))
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
            (before, len(before)),
        )
    if "\0" in text:
        _stop(
            name,
            "file.not-text",
            "this is not a text file",
            "is this the right file?",
            (text, text.index("\0")),
        )
    if not text.strip():
        _stop(name, "file.empty", "the file is empty", "begin with [build] and its name", (text, 0))
    return text


def parse_source(source: Source) -> dict[str, Any]:
    """Return the document as a plain dict. Raises BuildError with line and column."""
    name = source.name
    text = source.text.removeprefix("\ufeff").replace("\r\n", "\n")
    _check_characters(name, text)
    data = _parsed(name, text)
    if not data:
        _stop(
            name, "file.empty", "the file holds only comments", "begin with [build] and its name", (text, 0)
        )
    if deep := _too_deep(data):
        from postcheck.description.positions import find, locate  # noqa: PLC0415

        _stop(
            name,
            "file.too-deep",
            f"lists or tables are nested more than {MOST_DEPTH} deep here",
            "flatten them",
            (text, find(locate(text), deep).value_start),
        )
    return data


def _check_characters(name: str, text: str) -> None:
    """Raise BuildError for what no file has but a text of another program may, and for lines that no reader would part."""
    try:
        text.encode()
    except UnicodeEncodeError as error:  # half of a UTF-16 pair
        _stop(
            name,
            "file.not-text",
            f"U+{ord(text[error.start]):04X} is half of a character",
            "write the whole character, or leave it out",
            (text, error.start),
        )
    if "\r" in text and "\n" not in text:
        _stop(
            name,
            "file.not-toml",
            "the lines end in a carriage return alone, as on very old computers",
            "save the file with line ends of Unix (LF) or Windows (CRLF)",
            (text, text.index("\r")),
        )


def _parsed(name: str, text: str) -> dict[str, Any]:
    """A text of TOML as a dict. Raises BuildError where it is none, or more than can be taken in."""
    import tomli  # noqa: PLC0415 - not needed for --help

    try:
        return tomli.loads(text)
    except tomli.TOMLDecodeError as error:
        from postcheck.reading.not_toml import reworded  # noqa: PLC0415 - only where it is none

        says, hint, at = reworded(error.msg, text, error.pos)
        check = "file.duplicate-name" if "twice" in says or "cannot stand beside" in says else "file.not-toml"
        _stop(name, check, says, hint, (text, at))
    except RecursionError:
        from postcheck.reading.not_toml import first_deep  # noqa: PLC0415

        deepest = first_deep(text, MOST_DEPTH)
        _stop(
            name,
            "file.too-deep",
            "lists or tables are nested far too deep",
            "flatten them",
            None if deepest is None else (text, deepest),
        )
    except ValueError:  # Python refuses to read integers of thousands of digits
        digits = max(re.finditer(r"[0-9_]+", text), key=lambda run: run.end() - run.start())
        _stop(
            name,
            "file.not-finite",
            "this number has thousands of digits",
            "write a quantity with its unit",
            (text, digits.start()),
        )


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


def resolve_use(
    file: str, entry: str, *, root: str | None = None, chain: Sequence[str] = (), files: Files = DISK
) -> str:
    """Return the path of `entry`, named under `use` in `file`.

    `root` is the folder that may not be left; if not given the highest one that the first file may use files of.
    `chain` holds the files that are being read, from the first on: none may be used again. Raises QuantityError with
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
        raise refuse("is not beside this file", 'write the way from this folder, as in "../workshop.toml"')
    try:
        here = os.path.dirname(files.real(file))
        top = files.real(root) if root is not None else files.top((*chain, file)[0])
        target = files.real(os.path.join(here, entry))
        known = {files.real(name) for name in (*chain, file)}
        is_file = files.is_file(target)
    except QuantityError:  # in words already
        raise
    except (OSError, RuntimeError, ValueError):  # links in a circle, a name far too long
        raise refuse("cannot be found", "check the name") from None
    if not Path(target).is_relative_to(top):
        named = os.environ.get(TOP)
        of_no_use = f"; {quoted(named, 200)}, as it is now, holds no such build" if named else ""
        raise refuse(
            f"leads out of {quoted(top, 200)}",
            f"keep what builds share in that folder, or let {TOP} name a higher one{of_no_use}",
        )
    if target in known:
        raise refuse("uses itself in a circle", "take it out of one of the two files")
    if not is_file and os.path.isdir(target):
        raise refuse("is a folder", "name a file in it")
    if not is_file:
        raise refuse("is not there", "check the name; it is looked for beside this file")
    return target
