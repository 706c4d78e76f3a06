"""The time that a plan has, of which each of its steps takes what is left to it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from time import thread_time


class Clock:
    """So many seconds of the processor from now on, or those of another clock if that ends sooner.

    A judgement of a large build takes a second and more: another of its like is not begun where it would end too late.
    """

    def __init__(self, seconds: float, within: Clock | None = None) -> None:
        until = thread_time() + seconds
        self.until: float = until if within is None else min(until, within.until)
        self.longest: float = 0.0

    @property
    def left(self) -> float:
        """Seconds, below zero once it has run out."""
        return self.until - thread_time()

    @property
    def runs(self) -> bool:
        """Whether there is time for another step as long as the longest so far."""
        return self.left > self.longest

    @contextmanager
    def step(self) -> Iterator[None]:
        """One step."""
        began = thread_time()
        try:
            yield
        finally:
            self.longest = max(self.longest, thread_time() - began)
