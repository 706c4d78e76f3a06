"""Which files have changed, and stopped changing: told by `os.stat` alone, and nothing is read."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable

QUIET = 0.3
"""Seconds without a change after which a file counts as saved: editors write in pieces, some of them twice."""
GONE = 1.0
"""The same for a file that is missing: editors that save by renaming leave a moment without any."""

_TICK = 20_000_000  # ns; the clock of a file system goes in steps of a few ms

Stamp = tuple[int, ...] | None  # None: there is no such file


def _stamp(path: str) -> Stamp:
    try:
        there = os.stat(path)
    except (OSError, ValueError):  # not there, not ours to see, or no name at all
        return None
    # the time of the last change of the inode tells of a right to read that was given, and of a copy that kept its times
    return there.st_mtime_ns, there.st_ctime_ns, there.st_size, there.st_ino, there.st_dev


class Stamps:
    """How files looked when they were last read, and since when they look another way."""

    def __init__(self) -> None:
        self._read: dict[str, Stamp] = {}
        self._moving: dict[str, tuple[Stamp, float]] = {}

    def take(self, paths: Iterable[str]) -> None:
        """Remember how these look; to be called before they are read, so that no change falls between."""
        for path in paths:
            self._read[path] = _stamp(path)
            self._moving.pop(path, None)

    def take_new(self, paths: Iterable[str], began: int) -> None:
        """The same for what only the reading led to. Left out, and so read again, is what changed since it `began` (ns)."""
        for path in paths:
            if path not in self._read:
                stamp = _stamp(path)
                if stamp is None or max(stamp[:2]) < began - _TICK:
                    self._read[path] = stamp

    def settled(self, path: str, now: float) -> bool:
        """Whether a file looks other than when it was read, and has stopped changing for a moment."""
        stamp = _stamp(path)
        if path in self._read and self._read[path] == stamp:
            self._moving.pop(path, None)
            return False
        seen, since = self._moving.setdefault(path, (stamp, now))
        if seen != stamp:
            self._moving[path] = stamp, now
            return False
        return now - since >= (GONE if stamp is None else QUIET)

    def moving(self, path: str) -> bool:
        """Whether a file was still changing when it was last looked at."""
        return path in self._moving

    def keep(self, paths: Iterable[str]) -> None:
        """Forget all but these."""
        kept = set(paths)
        self._read = {path: stamp for path, stamp in self._read.items() if path in kept}
        self._moving = {path: change for path, change in self._moving.items() if path in kept}


class Folders:
    """What the words of the command line stand for, asked again as often as it is cheap."""

    def __init__(self, walk: Callable[[], list[str]], clock: Callable[[], float]) -> None:
        self._walk, self._clock = walk, clock
        self._next = 0.0
        self._found: list[str] = []

    def found(self) -> list[str]:
        """The files there are: a second old at most, or so old that a twentieth of the time goes into walking."""
        began = self._clock()
        if began >= self._next:
            self._found = list(dict.fromkeys(self._walk()))
            took = self._clock() - began
            self._next = began + took + max(1.0, 20.0 * took)
        return self._found
