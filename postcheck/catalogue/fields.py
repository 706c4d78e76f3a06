"""Reads one row of a data file, each field once, and notices what nobody read."""

from __future__ import annotations

from collections.abc import Mapping


class Fields:
    """The fields of one row. A missing field, a wrong type or a field left over is a fault of the data file."""

    def __init__(self, where: str, table: Mapping[str, object]) -> None:
        self._where = where
        self._table = dict(table)

    def _take(self, key: str) -> object:
        if key not in self._table:
            raise ValueError(f"{self._where} lacks {key!r}")
        return self._table.pop(key)

    def has(self, key: str) -> bool:
        """Whether the field is there and not yet read."""
        return key in self._table

    def number(self, key: str) -> float:
        """A number."""
        value = self._take(key)
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise TypeError(f"{self._where}: {key!r} is no number: {value!r}")
        return float(value)

    def maybe(self, key: str) -> float | None:
        """A number, or None where the field is not there."""
        return self.number(key) if self.has(key) else None

    def count(self, key: str) -> int:
        """A whole number."""
        value = self.number(key)
        if value != int(value):
            raise TypeError(f"{self._where}: {key!r} is no whole number: {value!r}")
        return int(value)

    def flag(self, key: str) -> bool:
        """True or false; false where the field is not there."""
        value = self._table.pop(key, False)
        if not isinstance(value, bool):
            raise TypeError(f"{self._where}: {key!r} is neither true nor false: {value!r}")
        return value

    def text(self, key: str) -> str:
        """Words, never empty."""
        value = self._take(key)
        if not isinstance(value, str) or not value:
            raise TypeError(f"{self._where}: {key!r} is no text: {value!r}")
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of words."""
        value = self._take(key)
        if not isinstance(value, list):
            raise TypeError(f"{self._where}: {key!r} is no list: {value!r}")
        return tuple(Fields(f"{self._where} {key}", {"value": item}).text("value") for item in value)

    def numbers(self, key: str) -> tuple[float, ...]:
        """A list of numbers."""
        value = self._take(key)
        if not isinstance(value, list):
            raise TypeError(f"{self._where}: {key!r} is no list: {value!r}")
        return tuple(Fields(f"{self._where} {key}", {"value": item}).number("value") for item in value)

    def tables(self, key: str, usual: Mapping[str, object] | None = None) -> tuple[Fields, ...]:
        """A list of tables, each read in the same way; `usual` stands in for what one does not say."""
        value = self._take(key)
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            raise TypeError(f"{self._where}: {key!r} is no list of tables: {value!r}")
        return tuple(Fields(f"{self._where} {key}", {**(usual or {}), **item}) for item in value)

    def inner(self, key: str) -> dict[str, object]:
        """A table, as it is; empty where it is not there."""
        value = self._table.pop(key, {})
        if not isinstance(value, dict):
            raise TypeError(f"{self._where}: {key!r} is no table: {value!r}")
        return value

    def done(self) -> None:
        """Nothing may be left."""
        if self._table:
            raise ValueError(f"{self._where} says what nobody reads: {', '.join(sorted(self._table))}")
