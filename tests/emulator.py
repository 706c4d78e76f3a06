"""A program on a real pseudo-terminal, its screen read through pyte, a terminal emulator."""

from __future__ import annotations

import contextlib
import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import termios
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pyte

PATIENCE = 60.0  # s; what should appear appears within one, but the machine may be busy

_OTHER_SCREEN = re.compile(rb"\x1b\[\?1049([hl])")


def _as_from_a_terminal() -> None:
    """A program inherits the signals that are ignored: a run of the tests in the background ignores Ctrl-C."""
    for number in (signal.SIGINT, signal.SIGQUIT, signal.SIGHUP, signal.SIGTERM, signal.SIGTSTP):
        signal.signal(number, signal.SIG_DFL)


class Terminal:
    """A window with a program in it: what it shows, what was typed into it, and how the program ended.

    pyte has one screen only: at the switch to the other one and back (xterm's mode 1049) another is taken here.
    """

    def __init__(
        self, command: Sequence[str], *, columns: int = 80, lines: int = 24, cwd: Path | None = None, **environment: str
    ) -> None:  # fmt: skip
        self.columns, self.lines = columns, lines
        self.received = b""
        self.usual = pyte.HistoryScreen(columns, lines)
        self.other: Any = None
        self._stream = pyte.ByteStream(self.usual)
        self._pending = b""
        self._here, there = pty.openpty()
        self._size(there)
        self.before = termios.tcgetattr(there)
        # the first terminal that a session opens is its own: Ctrl-C typed there reaches it
        self.process = subprocess.Popen(
            ["/bin/sh", "-c", 'exec "$@" <>"$0" >&0 2>&0', os.ttyname(there), *command], cwd=cwd, start_new_session=True, preexec_fn=_as_from_a_terminal,  # noqa: PLW1509 - no lock is taken in it
            env={"PATH": "/usr/bin:/bin", "TERM": "xterm-256color", **environment},
        )  # fmt: skip
        self._there = there  # kept open, so that its settings can be read when the program has ended

    def __enter__(self) -> Terminal:
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait(PATIENCE)
        os.close(self._here)
        os.close(self._there)

    @property
    def settings(self) -> list[Any]:
        """Of the terminal as they are now: echo and the like."""
        return termios.tcgetattr(self._there)

    @property
    def screen(self) -> list[str]:
        """What the window shows now, line by line without what is empty below."""
        shown = self.usual if self.other is None else self.other
        rows = [row.rstrip() for row in shown.display]
        while rows and not rows[-1]:
            rows.pop()
        return rows

    @property
    def scrolled(self) -> int:
        """How many lines have left the other screen at its top."""
        return len(self.other.history.top)

    def type(self, keys: str) -> None:
        os.write(self._here, keys.encode())

    def resize(self, columns: int, lines: int) -> None:
        self.read(0.0)
        self.columns, self.lines = columns, lines
        for screen in filter(None, (self.usual, self.other)):
            screen.resize(lines, columns)
        self._size(self._there)

    def wait(self, what: Callable[[list[str]], bool]) -> list[str]:
        """The screen as soon as it is like that."""
        end = time.monotonic() + PATIENCE
        while not what(self.screen):
            assert time.monotonic() < end, "\n".join(["never seen; the screen is:", *self.screen])
            if self.read(0.2):
                while self.read(0.005):  # more often than not there is more
                    pass
        return self.screen

    def wait_for(self, words: str) -> list[str]:
        """The screen as soon as these words stand on it."""
        return self.wait(lambda rows: words in "\n".join(rows))

    def ended(self) -> int:
        """The exit code, when the program has ended and all that it wrote is read."""
        end = time.monotonic() + PATIENCE
        while self.process.poll() is None:
            assert time.monotonic() < end, "\n".join(["never ended; the screen is:", *self.screen])
            self.read(0.1)
        while self.read(0.0):
            pass
        return self.process.returncode

    def read(self, seconds: float) -> bool:
        """Take in what the program writes, waiting so long for it; whether there was any."""
        ready, _, _ = select.select([self._here], [], [], seconds)
        if not ready:
            return False
        try:
            piece = os.read(self._here, 65536)
        except OSError:  # Linux: nobody is left on the other side
            return False
        self.received += piece
        self._feed(piece)
        return bool(piece)

    def _feed(self, piece: bytes) -> None:
        piece = self._pending + piece
        cut = piece.rfind(b"\x1b", max(0, len(piece) - 8))  # a sequence may have come in two pieces
        self._pending = (
            piece[cut:] if cut >= 0 and not re.match(rb"\x1b\[[0-9;?]*[A-Za-z]", piece[cut:]) else b""
        )
        piece = piece[: len(piece) - len(self._pending)]
        parts = _OTHER_SCREEN.split(piece)
        self._stream.feed(parts[0])
        for switch, rest in zip(parts[1::2], parts[2::2], strict=True):
            self.other = pyte.HistoryScreen(self.columns, self.lines) if switch == b"h" else None
            self._stream = pyte.ByteStream(self.usual if self.other is None else self.other)
            self._stream.feed(rest)

    def _size(self, side: int) -> None:
        fcntl.ioctl(side, termios.TIOCSWINSZ, struct.pack("HHHH", self.lines, self.columns, 0, 0))
