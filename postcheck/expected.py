"""What a meter is expected to show."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import astuple, dataclass

__all__ = ["Expected"]


@dataclass(frozen=True, slots=True)
class Expected:
    """A current in A: with parts that take least, as they usually are, and that take most."""

    least: float
    usual: float
    most: float

    def __iter__(self) -> Iterator[float]:
        return iter(astuple(self))
