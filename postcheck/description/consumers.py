"""What takes current in a file: the entries of its lamps, strips and loads, all in one list."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple, get_args

from postcheck.description.models import Build, Lamp, Lead, Load, Strip
from postcheck.description.naming import complete
from postcheck.description.problems import Path
from postcheck.taken import takes

Kind = Literal["lamp", "strip", "load"]
CONSUMERS: tuple[Kind, ...] = get_args(Kind)
"""The kinds of what takes current, each called like its section of the file."""


Said = Lamp | Strip | Load
"""The tables of these sections."""


class Entry(NamedTuple):
    """One of them, with its name. `kind`: its section, where it stands at `path`."""

    kind: Kind
    path: Path
    name: str
    said: Said

    @property
    def places(self) -> tuple[str, ...]:
        """Where it sits; of a chain, each of its lamps."""
        return tuple(getattr(self.said, "places", None) or (self.said.place,))

    @property
    def links(self) -> tuple[Lead, ...]:
        """The wires between the lamps of a chain."""
        return getattr(self.said, "links", None) or ()

    @property
    def parallel(self) -> int:
        """How many strings lie side by side in it."""
        return getattr(self.said, "parallel", 1)

    @property
    def colours(self) -> tuple[str, ...]:
        """The names of its colours, where it is a lamp of several."""
        return tuple(f"{self.name} {colour}" for colour in getattr(self.said, "dice", None) or ())


def entries(build: Build) -> Iterator[Entry]:
    """All that takes current, section by section; one without a name is called after circuit and place."""
    for kind in CONSUMERS:
        section: tuple[Said, ...] = getattr(build, kind)
        names = complete((one.name, f"{one.circuit or 'colour'} {kind} at {one.place}") for one in section)
        for index, (name, said) in enumerate(zip(names, section, strict=True)):
            yield Entry(kind, (kind, index), name, said)


def lamp_names(build: Build) -> tuple[str, ...]:
    """The names of all lamp entries in their order; one without a name is called after circuit and place."""
    takes("lamp_names", build, Build)
    return tuple(entry.name for entry in entries(build) if entry.kind == "lamp")


def strip_names(build: Build) -> tuple[str, ...]:
    """The names of all strips in their order."""
    takes("strip_names", build, Build)
    return tuple(entry.name for entry in entries(build) if entry.kind == "strip")
