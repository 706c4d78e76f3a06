"""A terminal's whole screen, drawn over again and given back as it was. Control sequences: ECMA-48 and xterm's private modes."""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import sys
import time
from collections.abc import Sequence
from types import FrameType, TracebackType
from typing import Any, TextIO

try:
    import termios
except ImportError:  # not on Windows
    termios = None  # type: ignore[assignment]

# The other screen, no cursor, and what is too long ends at the margin: a wrapped line would scroll.
_TAKE = "\x1b[?1049h\x1b[?25l\x1b[?7l"
_GIVE_BACK = "\x1b[?7h\x1b[?25h\x1b[?1049l"
_SUSPEND = getattr(signal, "SIGTSTP", None)
_ENDING = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGQUIT") if hasattr(signal, name)]


class Screen:
    """The screen while it is ours: `with Screen(sys.stdout) as screen`. Whatever ends that gives it back."""

    def __init__(self, out: TextIO) -> None:
        self._out = out
        self._before: dict[signal.Signals, Any] = {}
        self._keyboard: list[Any] | None = None
        self._suspended = False

    def __enter__(self) -> Screen:
        for number in _ENDING:
            self._before[number] = signal.signal(number, _end)
        if _SUSPEND is not None:
            self._before[_SUSPEND] = signal.signal(_SUSPEND, self._note_suspension)
        try:
            self._take()
        except BaseException:  # Ctrl-C at this very moment
            self.__exit__(None, None, None)
            raise
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        impatient = signal.signal(signal.SIGINT, signal.SIG_IGN)  # a second Ctrl-C must not leave half of it
        try:
            self._give_back()
            for number, handler in self._before.items():
                signal.signal(number, handler)
        finally:
            signal.signal(signal.SIGINT, impatient)

    @property
    def size(self) -> tuple[int, int]:
        """Columns and lines, asked of the terminal itself: COLUMNS and LINES do not follow a resized window."""
        with contextlib.suppress(OSError):
            size = os.get_terminal_size(self._out.fileno())
            if size.columns and size.lines:
                return size.columns, size.lines
        size = shutil.get_terminal_size()
        return size.columns, size.lines

    def draw(self, lines: Sequence[str]) -> None:
        """These lines and nothing else, from the top; what is too much for the screen is left out."""
        lines = lines[: self.size[1]]
        # A line is cleared before it is written: behind a full one the cursor stands on its last character.
        drawn = "\x1b[H" + "\r\n".join(f"\x1b[K{line}" for line in lines)
        self._write(drawn + ("\r\n\x1b[J" if len(lines) < self.size[1] else ""))

    def pause(self, seconds: float) -> bool:
        """Wait; whether the screen has to be drawn anew, having been left by Ctrl-Z and come back to."""
        time.sleep(seconds)
        if self._keyboard is not None:
            # What is typed means nothing here. Were it kept, a full buffer would hold back Ctrl-C too.
            with contextlib.suppress(termios.error):
                termios.tcflush(sys.stdin.fileno(), termios.TCIFLUSH)
        if not self._suspended or _SUSPEND is None:
            return False
        self._suspended = False
        self._give_back()
        signal.signal(_SUSPEND, signal.SIG_DFL)
        os.kill(os.getpid(), _SUSPEND)  # here it stands still until `fg`
        signal.signal(_SUSPEND, self._note_suspension)
        self._take()
        return True

    def _note_suspension(self, _number: int, _frame: FrameType | None) -> None:
        self._suspended = True

    def _take(self) -> None:
        if termios is not None and sys.stdin is not None and sys.stdin.isatty():
            with contextlib.suppress(termios.error):
                self._keyboard = termios.tcgetattr(sys.stdin.fileno())
                quiet = list(self._keyboard)
                # what is typed must not show; Ctrl-C and Ctrl-Z still count
                quiet[3] &= ~(termios.ECHO | termios.ICANON)
                termios.tcsetattr(sys.stdin.fileno(), termios.TCSADRAIN, quiet)
        self._write(_TAKE)

    def _give_back(self) -> None:
        self._write(_GIVE_BACK)
        if self._keyboard is not None:
            with contextlib.suppress(termios.error):
                termios.tcsetattr(sys.stdin.fileno(), termios.TCSAFLUSH, self._keyboard)
            self._keyboard = None

    def _write(self, text: str) -> None:
        with contextlib.suppress(OSError):  # a terminal that has gone; its SIGHUP ends us
            self._out.write(text)
            self._out.flush()


def _end(number: int, _frame: FrameType | None) -> None:
    raise SystemExit(128 + number)
