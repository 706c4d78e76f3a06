"""What a law is given: numbers within their range and words that are known, or one clear ValueError."""

from __future__ import annotations

from collections.abc import Iterable

__all__ = ["ABSOLUTE_ZERO", "above", "each_above", "from_zero", "one_of", "share", "warmer_than_nothing"]

ABSOLUTE_ZERO = -273.15
"""degC."""


def above(**numbers: float) -> None:
    """ValueError unless each of these, called by name, is above zero (infinite is; what is no number is not)."""
    for name, value in numbers.items():
        if not value > 0.0:
            raise ValueError(f"{name} must be above zero, not {value!r}")


def from_zero(**numbers: float) -> None:
    """ValueError unless each of these, called by name, is zero or more."""
    for name, value in numbers.items():
        if not value >= 0.0:
            raise ValueError(f"{name} must not be below zero, but is {value!r}")


def each_above(what: str, values: Iterable[float]) -> None:
    """ValueError unless all of several, called `what`, are above zero."""
    for value in values:
        if not value > 0.0:
            raise ValueError(f"each of the {what} must be above zero, not {value!r}")


def share(**numbers: float) -> None:
    """ValueError unless each of these, called by name, lies between 0 and 1."""
    for name, value in numbers.items():
        if not 0.0 <= value <= 1.0:
            raise ValueError(f"{name} must lie between 0 and 1, not {value!r}")


def warmer_than_nothing(**celsius: float) -> None:
    """ValueError unless each of these, called by name and in degC, lies above absolute zero."""
    for name, value in celsius.items():
        if not value > ABSOLUTE_ZERO:
            raise ValueError(f"{name} must lie above absolute zero ({ABSOLUTE_ZERO} degC), not at {value!r}")


def one_of(what: str, word: object, known: Iterable[str]) -> None:
    """ValueError unless a word is one of those that are known."""
    words = tuple(known)
    if word not in words:
        raise ValueError(f"{what} is one of {', '.join(words)}; not {word!r}")
