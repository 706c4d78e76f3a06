"""Finds rows by name. A lookup reads only the one data file whose name begins the row's name.

A data file holds `[[group]]` tables: what stands in a group itself counts for each of its `rows`, unless the row
says otherwise. `[alias]` gives second names. A fault in a data file is our own and raises a plain exception.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import tomli

from postcheck.catalogue.fields import Fields
from postcheck.catalogue.making import MAKERS
from postcheck.catalogue.rows import (
    Chemistry,
    FilamentLamp,
    FuseRating,
    LedLamp,
    Plastic,
    ResistorSize,
    Row,
    Strip,
    UnknownRow,
    Wire,
)

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

KINDS = tuple(MAKERS)
"""The kinds of row: wire, lamp, strip, resistor, fuse, plastic, battery."""

_DATA = Path(__file__).parent / "data"
_METRIC = re.compile(r"enamel-([0-9]*)\.([0-9]+)(?: ?mm)?(-g[12])?")

_R = TypeVar("_R")


def wire(name: str) -> Wire:
    """The wire of this name ("enamel-0.10", "ptfe-28"), or UnknownRow."""
    return _of(Wire, "wire", name)


def lamp(name: str) -> LedLamp | FilamentLamp:
    """The lamp of this name ("smd-0603-white", "wheat-12v"), or UnknownRow."""
    row = _row("lamp", name)
    if not isinstance(row, (LedLamp, FilamentLamp)):
        raise TypeError(f"{name} is no lamp")
    return row


def strip(name: str) -> Strip:
    """The strip of this name ("strip-12v-white-60"), or UnknownRow."""
    return _of(Strip, "strip", name)


def resistor_size(name: str) -> ResistorSize:
    """The resistor size of this name ("0805", "1/4 W"), or UnknownRow."""
    return _of(ResistorSize, "resistor", name)


def fuse_rating(name: str) -> FuseRating:
    """The fuse rating of this name ("500 mA"), or UnknownRow."""
    return _of(FuseRating, "fuse", name)


def fuse_ratings() -> tuple[FuseRating, ...]:
    """All usual fuse ratings, the smallest first."""
    return tuple(sorted((fuse_rating(name) for name in names("fuse")), key=lambda row: row.current))


def plastic(name: str) -> Plastic:
    """The material of this name ("styrene"), or UnknownRow."""
    return _of(Plastic, "plastic", name)


def chemistry(name: str) -> Chemistry:
    """The cell chemistry of this name ("alkaline"), or UnknownRow."""
    return _of(Chemistry, "battery", name)


@cache
def names(kind: str) -> tuple[str, ...]:
    """All names of a kind, in the order of the data files; ValueError for a kind there is not."""
    _known(kind)
    return tuple(name for family in _families(kind) for name in _file(kind, family)[0])


def rows(kind: str) -> tuple[Row, ...]:
    """All rows of a kind, in the order of `names`."""
    return tuple(_made(kind, name) for name in names(kind))


def _of(wanted: type[_R], kind: str, name: str) -> _R:
    row = _row(kind, name)
    if not isinstance(row, wanted):
        raise TypeError(f"{name} is no {wanted.__name__}")
    return row


def _known(kind: str) -> None:
    if kind not in MAKERS:
        raise ValueError(f"no kind {kind!r}; there are {', '.join(KINDS)}")


@lru_cache(maxsize=1024)
def _row(kind: str, name: str) -> Row:
    wanted = _plain(name)
    family = _home(kind, wanted)
    if family is not None:
        listed, second = _file(kind, family)
        wanted = second.get(wanted, wanted)
        if wanted in listed:
            return _made(kind, wanted)
    raise UnknownRow(kind, name, wanted, names(kind))


def _plain(name: str) -> str:
    """The spelling of the data files: lower case; metric enamelled wires with two decimals or more as needed."""
    plain = " ".join(name.lower().split())
    metric = _METRIC.fullmatch(plain)
    if metric is None:
        return plain
    whole, decimals, grade = metric.groups()
    return f"enamel-{whole or '0'}.{decimals.rstrip('0').ljust(2, '0')}{'-g2' if grade == '-g2' else ''}"


@cache
def _families(kind: str) -> dict[str, Traversable]:
    """The data files of a kind by what their names begin with, in order."""
    folder: Traversable = _DATA / kind
    if not folder.is_dir():  # run from a zip
        from importlib.resources import files  # noqa: PLC0415 - seldom, and not cheap

        folder = files("postcheck.catalogue") / "data" / kind
    found = {
        path.name.removesuffix(".toml"): path for path in folder.iterdir() if path.name.endswith(".toml")
    }
    return dict(sorted(found.items()))


def _home(kind: str, name: str) -> str | None:
    """The family whose file would hold this name: the only one, or the longest that begins it."""
    families = list(_families(kind))
    if len(families) == 1:
        return families[0]
    return max((family for family in families if name.startswith(f"{family}-")), key=len, default=None)


@cache
def _file(kind: str, family: str) -> tuple[dict[str, dict[str, Any]], dict[str, str]]:
    """The merged fields by name, and the second names."""
    return _merged(_families(kind)[family])


def _merged(path: Traversable) -> tuple[dict[str, dict[str, Any]], dict[str, str]]:
    document = tomli.loads(path.read_text(encoding="utf-8"))
    merged: dict[str, dict[str, Any]] = {}
    for group in document["group"]:
        usual = {key: value for key, value in group.items() if key != "rows"}
        for name, own in group["rows"].items():
            if name in merged:
                raise ValueError(f"{path.name} holds {name} twice")
            merged[name] = {**usual, **own}
    aliases: dict[str, str] = document.get("alias", {})
    for alias, name in aliases.items():
        if alias in merged or name not in merged:
            raise ValueError(f"{path.name}: the second name {alias} leads nowhere or hides a row")
    second = aliases | {name.lower(): name for name in merged}
    return merged, second


@cache
def _made(kind: str, name: str) -> Row:
    family = _home(kind, name)
    if family is None:
        raise ValueError(f"{kind} {name} stands in a file where no lookup finds it")
    fields = Fields(f"{kind} {name}", _file(kind, family)[0][name])
    row = MAKERS[kind](name, fields)
    fields.done()
    return row
