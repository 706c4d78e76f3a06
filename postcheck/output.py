"""Where a report goes when it does not go to the terminal: whole or not at all, and over nothing of the builder's."""

from __future__ import annotations

import contextlib
import os
import stat
import sys
import tempfile
from collections.abc import Iterable

__all__ = ["ChangedError", "refusal", "rewrite", "save", "with_mark_of"]

_MARK = b"\xef\xbb\xbf"


class ChangedError(Exception):
    """A file does not say any longer what was read from it."""


def refusal(name: str, inputs: Iterable[str], used: Iterable[str] = ()) -> str | None:
    """Why `name` may not be written to, if so: it is no name, or one of the files being read, or that of a build.

    `used`: the files that these use, whatever they are called. A new file may not be called .toml either: hooks and editors
    would take it for a build.
    """
    if not name:
        return "no file name is given"
    if not os.path.basename(name):
        return "it names a folder, not a file"
    if not os.path.exists(name):
        return "a name in .toml is that of a build file; give it another one" if _toml(name) else None
    if any(_same(name, path) for path in inputs):
        return "it is one of the files to check"
    if any(_same(name, path) for path in used):
        return "a build uses that file; give the report another name"
    if os.path.isfile(name) and _toml(name):
        return "it is there already, and a report does not go over a TOML file; give it another name"
    return None


def _same(name: str, path: str) -> bool:
    """Whether a name is that of the file that is read from a path, by whatever link."""
    with contextlib.suppress(OSError, ValueError, AttributeError):  # standard input may be none
        if path != "-":
            return os.path.samefile(name, path)
        handle = sys.stdin.fileno()
        return stat.S_ISREG(os.fstat(handle).st_mode) and os.path.samefile(name, handle)
    return False


def _toml(name: str) -> bool:
    """Whether it, or what it links to, is called .toml in whatever case."""
    with contextlib.suppress(OSError, ValueError):
        name = os.path.realpath(name)
    return name.lower().endswith(".toml")


def save(name: str, text: str) -> None:
    """Write a text to a file, or raise OSError.

    A regular file is written beside itself and then moved over, so that it is whole or as it was; links are followed,
    and its mode is kept. A device, a pipe, or a file that has several names is written where it stands.
    """
    _save(name, text.encode("utf-8", "backslashreplace"))


def rewrite(name: str, before: str, after: str, copy: str | None = None) -> None:
    """Write `after` into a file that says `before`, on the disk when this returns; a byte order mark at its beginning stays.

    `copy`: a new file that gets the old bytes, and the mode, before that; it goes again where the file cannot be written.
    Raises ChangedError where the file says something else by now, FileExistsError for a copy that is there, or OSError.
    """
    with open(name, "rb") as file:
        data, old = file.read(), os.fstat(file.fileno())
    mark = _MARK if data.startswith(_MARK) else b""
    if data[len(mark) :] != before.encode():
        raise ChangedError
    if copy is not None:
        if os.path.lexists(copy):
            raise FileExistsError(copy)
        _replace(copy, data, old)
    try:
        _save(name, mark + after.encode(), lasting=True)
    except BaseException:
        if copy is not None:
            with contextlib.suppress(OSError):
                os.unlink(copy)
        raise


def with_mark_of(name: str, text: str) -> str:
    """The text, with a byte order mark before it where the file has one. Raises OSError."""
    with open(name, "rb") as file:
        return "\ufeff" + text if file.read(len(_MARK)) == _MARK else text


def _save(name: str, data: bytes, *, lasting: bool = False) -> None:
    try:
        old = os.stat(name)
    except FileNotFoundError:
        _replace(os.path.realpath(name), data, None)
        return
    if stat.S_ISDIR(old.st_mode):
        message = "it is a folder"
        raise OSError(message)
    if not stat.S_ISREG(old.st_mode) or old.st_nlink > 1:
        # a reader that has gone has seen enough
        with contextlib.suppress(BrokenPipeError), open(name, "wb") as file:
            file.write(data)
    elif not os.access(name, os.W_OK):
        message = "it is read-only"
        raise OSError(message)
    else:
        _replace(os.path.realpath(name), data, old, lasting=lasting)


def _replace(path: str, data: bytes, old: os.stat_result | None, *, lasting: bool = False) -> None:
    """Put a file in the place of another; `lasting`: so that a power cut leaves one of the two, and afterwards the new one."""
    handle, beside = tempfile.mkstemp(dir=os.path.dirname(path), prefix=".postcheck-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            if lasting:
                file.flush()
                os.fsync(file.fileno())
        if old is None:
            mask = os.umask(0)
            os.umask(mask)
            os.chmod(beside, 0o666 & ~mask)
        else:
            # only the owner's or root's to give; not on Windows
            with contextlib.suppress(OSError, AttributeError):
                os.chown(beside, old.st_uid, old.st_gid)
            os.chmod(beside, stat.S_IMODE(old.st_mode))
        os.replace(beside, path)
        if lasting:
            _settle(os.path.dirname(path))
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(beside)
        raise


def _settle(folder: str) -> None:
    """Have the names of a folder on the disk; some systems know no such thing of a folder."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
