"""What public functions take: told at the door, not deep inside."""

from __future__ import annotations

__all__ = ["takes"]


def takes(by: str, value: object, kind: type) -> None:
    """TypeError unless the value that `by` was given is of this kind."""
    if not isinstance(value, kind):
        raise TypeError(f"{by}() takes a {kind.__name__}, not {type(value).__name__}")
