"""That something is done: one line on a terminal, on standard error, once it takes above a second; it goes away again."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Callable, Iterator

PATIENCE = 1.0
"""Seconds that nobody wonders about."""

Say = Callable[[str], None]


def silent(_: str) -> None:
    """What is said of a step where nobody watches: nothing."""


@contextlib.contextmanager
def working(words: str, piped: Say = silent) -> Iterator[Say]:
    """Show the words while it lasts; what it yields puts others in their place.

    `piped` hears them where standard error is no terminal.
    """
    if sys.stderr is None or not sys.stderr.isatty():
        yield piped
        return
    from threading import Timer  # noqa: PLC0415 - for a terminal alone

    line = _Line(words)
    timer = Timer(PATIENCE, line.show)
    timer.daemon = True
    timer.start()
    try:
        yield line.say
    finally:
        timer.cancel()
        line.away()


class _Line:
    """The line: not shown yet, shown, or gone for good. It goes under blanks, for any terminal knows these."""

    def __init__(self, words: str) -> None:
        from threading import Lock  # noqa: PLC0415

        self._words, self._on, self._over = words, 0, False  # how many columns of it stand on the screen
        self._lock = Lock()

    def show(self) -> None:
        with self._lock:
            if not self._over:
                self._write(self._words)

    def say(self, words: str) -> None:
        with self._lock:
            self._words = words
            if self._on:
                self._write(words)

    def away(self) -> None:
        with self._lock:
            self._over = True
            if self._on:
                self._write("")

    def _write(self, words: str) -> None:
        from shutil import get_terminal_size  # noqa: PLC0415

        shown = words[: max(get_terminal_size().columns - 1, 1)]
        blanks = " " * (self._on - len(shown))
        with contextlib.suppress(OSError, UnicodeEncodeError):
            sys.stderr.write(f"\r{' ' * self._on}\r" if not shown else f"\r{shown}{blanks}")
            sys.stderr.flush()
        self._on = len(shown)
