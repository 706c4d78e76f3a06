"""Random numbers that every machine rolls alike."""

from __future__ import annotations

__all__ = ["Dice"]


class Dice:
    """A 31-bit multiplicative generator (Park and Miller 1988, multiplier 48271)."""

    __slots__ = ("_state",)

    def __init__(self, seed: int) -> None:
        self._state = seed % 2147483646 + 1

    def share(self) -> float:
        """A number above 0 and below 1."""
        self._state = self._state * 48271 % 2147483647
        return self._state / 2147483647.0

    def below(self, limit: int) -> int:
        """A whole number from 0 to limit - 1."""
        self._state = self._state * 48271 % 2147483647
        return self._state % limit

    def in_disc(self) -> tuple[float, float]:
        """A point of the unit disc, evenly spread."""
        while True:
            x, y = 2.0 * self.share() - 1.0, 2.0 * self.share() - 1.0
            if x * x + y * y <= 1.0:
                return x, y
