"""What every command has in common: it prints, complains, reads a day, writes a file, and says how wide a page is."""

from __future__ import annotations

import contextlib
import io
import os
import sys
import time
from collections.abc import Sequence
from typing import TYPE_CHECKING, TextIO, TypedDict

if TYPE_CHECKING:
    from datetime import date

    from postcheck.description.models import Build
    from postcheck.description.problems import BuildError

CLEAR, FOUND, UNUSABLE, OUR_FAULT, INTERRUPTED = 0, 1, 2, 70, 130


def own_up(fault: Exception) -> None:
    """Say that a fault is ours."""
    for words in fault_words(fault):
        complain(words)


def fault_words(fault: Exception, file: str | None = None) -> tuple[str, ...]:
    """What is said of a fault of ours, a line each; `file` is the build that brought it out.

    With POSTCHECK_TRACEBACK it is raised instead.
    """
    if os.environ.get("POSTCHECK_TRACEBACK"):
        raise fault
    where = f", at '{shown(file)}'" if file is not None else ""
    return (
        f"a bug of ours, not of your build{where}: {type(fault).__name__}: {shown(str(fault))} ({_innermost(fault)})",
        "please report it with the build file; POSTCHECK_TRACEBACK=1 shows more",
    )


def loaded(name: str) -> Build | None:
    """The build of a file; None where it is none, and said why."""
    from postcheck.description.problems import BuildError  # noqa: PLC0415
    from postcheck.reading.loading import load  # noqa: PLC0415

    try:
        return load(name)
    except BuildError as error:
        report_unreadable(error)
        return None


def report_unreadable(error: BuildError) -> None:
    """Say everything that is wrong with a file that is no build, where its report is not what is asked for."""
    first = error.problems[0]
    if first.check == "file.unreadable" and len(error.problems) == 1:  # there is nothing in it to be wrong
        complain(f"'{shown(error.file)}': {first}")
        return
    from postcheck.checking import unreadable  # noqa: PLC0415
    from postcheck.renderers import plain_text  # noqa: PLC0415
    from postcheck.report import Report  # noqa: PLC0415

    if sys.stderr is not None:
        with contextlib.suppress(OSError):
            sys.stderr.write(plain_text.render(Report((unreadable(error),))))
            sys.stderr.flush()


def _innermost(fault: BaseException) -> str:
    trace = fault.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    return "" if trace is None else f"{os.path.basename(trace.tb_frame.f_code.co_filename)}:{trace.tb_lineno}"


def may_write(name: str, inputs: Sequence[str], used: Sequence[str] = ()) -> bool:
    """Whether a file may be written, said where not; `used`: the files that the builds use, once they are read."""
    from postcheck.output import refusal  # noqa: PLC0415

    if reason := refusal(name, inputs, used):
        complain(f"'{shown(name)}' is not written to: {reason}")
        return False
    return True


def saved(name: str, text: str, code: int) -> int:
    """Write a text to a file; the exit code."""
    from postcheck.output import save  # noqa: PLC0415

    try:
        save(name, text)
    except (OSError, ValueError) as error:
        complain(f"'{shown(name)}' cannot be written: {reason(error)}")
        return UNUSABLE
    return code


def rewritten(name: str, before: str, after: str, copy: str | None = None) -> int:
    """Write a text into a file that says `before` still, its old bytes to `copy`; the exit code."""
    from postcheck.output import ChangedError, rewrite  # noqa: PLC0415

    try:
        rewrite(name, before, after, copy)
    except ChangedError:
        complain(f"'{shown(name)}' was changed meanwhile and is left as it is")
    except FileExistsError:
        complain(f"'{shown(copy or name)}' is already there; move it away first. Nothing was written")
    except (OSError, ValueError) as error:
        complain(f"'{shown(name)}' cannot be written: {reason(error)}")
    else:
        return CLEAR
    return UNUSABLE


def width() -> int:
    """How wide the terminal is, within reason."""
    import shutil  # noqa: PLC0415

    return max(40, min(shutil.get_terminal_size().columns, 100))


class Looks(TypedDict):
    """How a text for people is written: a width makes it a screen."""

    width: int | None
    colour: bool
    ascii: bool


def looks() -> Looks:
    """How standard output is written to: as a screen where it is one, else line by line."""
    from postcheck.renderers import streams  # noqa: PLC0415

    if sys.stdout is None:
        return {"width": None, "colour": False, "ascii": False}
    colour = streams.colour_wanted(sys.stdout, os.environ)
    if not sys.stdout.isatty():
        return {"width": None, "colour": colour, "ascii": False}
    return {"width": width(), "colour": colour, "ascii": not streams.encodable(sys.stdout)}


def page() -> int | None:
    """How wide a page of text may be; None where it is piped, and each thing stands on one line."""
    return width() if sys.stdout is not None and sys.stdout.isatty() else None


def on_screen(text: str, stream: TextIO | None) -> str:
    """The text, each of its lines folded where the stream is a terminal."""
    if stream is None or not stream.isatty():
        return text
    from postcheck.renderers.words import folded  # noqa: PLC0415

    return "\n".join(part for line in text.split("\n") for part in folded(line, width(), 2))


def day(text: str | None) -> tuple[bool, date | None]:
    """Whether the day of --today can be used, said where not, and which it is; None where none was given."""
    from datetime import date  # noqa: PLC0415

    if text is None:
        return True, None
    try:
        return True, date.fromisoformat(text)
    except ValueError:
        complain(f"--today needs a date such as 2026-11-25, not '{shown(text)}'")
        return False, None


def shown(text: str) -> str:
    """A word of the command line, made harmless."""
    from postcheck.renderers.words import safe  # noqa: PLC0415 - of what is right none is shown

    return safe(text)


def write_out(text: str, code: int) -> int:
    """Write to standard output, and give the exit code: a reader that has gone changes nothing of it."""
    if sys.stdout is None:
        if text:
            complain("cannot write the report: standard output is closed")
        return UNUSABLE if text else code
    try:
        if text:
            _write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        _drop_output()
    except OSError as error:
        complain(f"cannot write the report: {reason(error)}")
        _drop_output()
        return UNUSABLE
    return code


def write_file_out(text: str, code: int) -> int:
    """Write the text of a file to standard output, each sign as it is; the exit code."""
    raw = getattr(sys.stdout, "buffer", None)
    if raw is None:
        return write_out(text, code)
    try:
        sys.stdout.flush()
        _write_whole(raw, text.encode())
        raw.flush()
    except BrokenPipeError:
        _drop_output()
    except OSError as error:
        complain(f"cannot write the file: {reason(error)}")
        _drop_output()
        return UNUSABLE
    return code


def _write(text: str) -> None:
    from postcheck.renderers import streams  # noqa: PLC0415

    out = sys.stdout
    if not streams.encodable(out):
        text = streams.ascii_words(text)
    raw = getattr(out, "buffer", None)
    # unbuffered, as containers like it: a write may take less than it is given
    if isinstance(raw, io.RawIOBase):
        _write_whole(raw, text.replace("\n", os.linesep).encode(out.encoding, "backslashreplace"))
        return
    try:
        out.write(text)
    except UnicodeEncodeError:
        encoding = out.encoding or "ascii"
        out.write(text.encode(encoding, "backslashreplace").decode(encoding))


def _write_whole(raw: io.RawIOBase | io.BufferedIOBase, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        taken = raw.write(rest)
        if taken is None:  # a pipe that would not wait is full
            time.sleep(0.01)
        else:
            rest = rest[taken:]


def _drop_output() -> None:
    """Leave nothing for the interpreter to flush at exit, which would fail again."""
    with contextlib.suppress(OSError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def complain(text: str) -> None:
    """Say something that is not the report: to standard error."""
    if sys.stderr is not None:  # printing to None would go to standard output
        with contextlib.suppress(OSError):
            print(on_screen(f"postcheck: {text}", sys.stderr), file=sys.stderr, flush=True)


def reason(error: Exception) -> str:
    """Why the system would not, in small letters."""
    return (getattr(error, "strerror", None) or str(error)).lower()
