"""A remedy before it is proven: what to say, and what to change in the build."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from pydantic import BaseModel

from postcheck.description.adding import MORE
from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build
from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.report import Figure, Finding
from postcheck.survey import Survey

__all__ = [
    "GONE", "MORE", "NAMED", "Change", "Proposal", "Proposer", "changed", "in_mm", "in_words_of", "length", "lower_first", "of_another", "quantity", "set_to", "taken_out",
]  # fmt: skip

NAMED = 3
"""Up to so many parts alike are listed by name."""

GONE = ""
"""What a key, or an entry of a list, that goes is written as."""


class Change(NamedTuple):
    """One value of the build: its document path, the new SI value, and how it is written in the file.

    A path that ends with `MORE` adds to a list, and one whose value is written as `GONE` is taken out. `written` is None where
    the file would be changed by more than this.
    """

    path: Path
    value: Any
    written: str | None


class Proposal(NamedTuple):
    """A remedy to be proven: what to say, and what to change. `spotless`: it has to do without any new note, too.

    `instead`: other ways, proven by themselves; the words of the first that holds are told after this one's. `figures`: the
    numbers in its words that are none of its changes. `alone`: nothing that goes with it is told as its consequence.
    `replaces`: the part that it puts another one in the place of; of two such remedies only one can be followed, so one
    has to serve both findings.
    """

    says: str
    changes: tuple[Change, ...]
    spotless: bool = False
    instead: tuple[Proposal, ...] = ()
    figures: Mapping[str, Figure] = MappingProxyType({})
    alone: bool = False
    replaces: Path = ()


Proposer = Callable[[Survey, Finding], Iterator[Proposal]]


def in_words_of(finding: Finding, *changes: Change) -> Iterator[Proposal]:
    """The words of the check itself, if it has any, with what they come to in the file."""
    if finding.remedy is not None:
        yield Proposal(finding.remedy, changes, alone=True)


def lower_first(says: str) -> str:
    """A sentence to go on with after another one."""
    return says[0].lower() + says[1:]


def set_to(path: Path, value: Any) -> Change:
    """A value that is written as it is: a word, a number, a list, yes or no."""
    return Change(path, value, in_toml(value))


def taken_out(path: Path) -> Change:
    """A key, or an entry of a list, that goes."""
    return Change(path, None, GONE)


def quantity(path: Path, value: float, dimension: Dimension) -> Change:
    """A value (SI) with its unit; a length in millimetres."""
    if dimension is Dimension.LENGTH:
        return length(path, value)
    return Change(path, value, in_toml(format_quantity(value, dimension)))


def of_another(change: Change) -> Change:
    """A value of a part that is still to be found: it is tried, but never typed, for its sheet or a meter has to give it."""
    return change._replace(written=None)


def length(path: Path, metres: float) -> Change:
    """A length (m) written in millimetres."""
    return Change(path, float(f"{metres:.9g}"), f'"{in_mm(metres)}"')


def in_mm(metres: float) -> str:
    """A length as a remedy types and words it: shown to three figures it could be less than what was tried."""
    return f"{metres * 1e3:g} mm"


def changed(build: Build, changes: Iterable[Change]) -> Build:
    """A copy of a build with some values changed; the file's own is left as it is."""
    for change in changes:
        build = _set(build, change.path, change.value, gone=change.written == GONE)
    return build


def _set(part: Any, path: Path, value: Any, *, gone: bool) -> Any:
    if not path:
        return value
    key, rest = path[0], path[1:]
    if isinstance(part, BaseModel):
        names = {field.alias or name: name for name, field in type(part).model_fields.items()}
        name = names.get(str(key), str(key))
        return part.model_copy(update={name: _set(getattr(part, name), rest, value, gone=gone)})
    if isinstance(part, tuple) and key == MORE:
        return (*part, value)
    if isinstance(part, tuple) and isinstance(key, int):
        own = () if gone and not rest else (_set(part[key], rest, value, gone=gone),)
        return (*part[:key], *own, *part[key + 1 :])
    return FrozenDict({**part, key: _set(part.get(key), rest, value, gone=gone)})
