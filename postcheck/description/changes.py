"""What a build was changed in after it was read: a key, and the values it has now and in the file."""

from __future__ import annotations

from typing import Any, NamedTuple

from postcheck.description.problems import Path


class Assigned(NamedTuple):
    """One key with another value than the file's: `given` as the TOML reader gives it, `value` and `was` as TOML.

    `key` as it is named to people; `was` None where the file has no such key.
    """

    path: Path
    key: str
    value: str
    was: str | None
    given: Any
