"""Every limit that judges a build, with its source: the rows of limits.toml.

A build file can change any of them by name, with a reason (`[[limit]]`); the few that stand between people and
injury or fire can only be lowered. Where a limit has a value for a caution and one for a stop, they are two limits.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import tomli

from postcheck.limits.names import LimitName

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

__all__ = ["DUST", "LIMITS", "Limit", "LimitName", "Limits", "above", "below"]

DUST = 1e-9
"""The share by which what is worked out may miss a limit that it meets: 12 V and 5 % come to 12.600000000000001 V."""


def above(value: float, most: float, slack: float = DUST) -> bool:
    """Whether a value is more than a limit, by more than the last digits of a float."""
    return value > most * (1.0 + slack)


def below(value: float, least: float, slack: float = DUST) -> bool:
    """Whether a value is less than a limit, by more than the last digits of a float."""
    return value < least * (1.0 - slack)


class Limit(NamedTuple):
    """A named limit: SI value (degrees Celsius excepted), the dimension that a changed value must have, its source.

    `firm`: why a build may lower but not raise it; of one that is a `least` one, raise but not lower. `zero`: whether
    it can be set to nothing at all.
    """

    name: LimitName
    value: float
    unit: str
    dimension: str
    says: str
    source: str
    changed: str | None = None
    firm: str | None = None
    zero: bool = False
    least: bool = False

    @property
    def held(self) -> str:
        """Which way a build may change it and why; empty where it may be changed both ways."""
        ways = ("raised", "lowered") if self.least else ("lowered", "raised")
        return f"can be {ways[0]} and not {ways[1]}: {self.firm}" if self.firm is not None else ""


def _rows() -> Iterator[Limit]:
    file: Traversable = Path(__file__).with_name("limits.toml")
    if not file.is_file():  # run from a zip
        from importlib.resources import files  # noqa: PLC0415 - seldom, and not cheap

        file = files("postcheck.limits") / "limits.toml"
    for name, row in tomli.loads(file.read_text(encoding="utf-8")).items():
        yield Limit(**{"name": name, "unit": "", **row})


LIMITS: tuple[Limit, ...] = tuple(_rows())


class Limits(Mapping[LimitName, Limit]):
    """All limits by name, with the file's changes applied."""

    def __init__(self, changes: Mapping[LimitName, tuple[float, str]] | None = None) -> None:
        self._rows = {row.name: row for row in LIMITS}
        for name, (value, reason) in (changes or {}).items():
            self._rows[name] = self._rows[name]._replace(
                value=value, changed=reason, source=f"changed in the build file: {reason}"
            )

    def __getitem__(self, name: LimitName) -> Limit:
        return self._rows[name]

    def __iter__(self) -> Iterator[LimitName]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)

    def value(self, name: LimitName) -> float:
        """The limit's value in its unit."""
        return self._rows[name].value
