"""Where the things of a build are: each by its path in the file, with every place that it sits in, ends at or goes through."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.models import Build
from postcheck.description.naming import back_line, passages_of
from postcheck.description.subjects import subjects
from postcheck.wiring.parts import LampPart, LoadPart, Parts, Path, StripPart

__all__ = ["places_of"]

Part = LampPart | StripPart | LoadPart


def places_of(build: Build, parts: Parts, path: Path) -> frozenset[str] | None:
    """The places of what stands at a path of the file; None where it is in no place, or in all of them."""
    found = frozenset(_places(build, parts, path))
    return found or None


def _places(build: Build, parts: Parts, path: Path) -> Iterator[str]:
    if path and path[0] == "post":
        yield from _ends(build, "post")
        return
    if len(path) < 2:  # a table of the whole build
        return
    table, key = str(path[0]), path[1]
    if table in ("lamp", "strip", "load"):
        for part in _hung(parts):
            if part.path[:2] == (table, key):
                yield from _of_part(build, part)
    elif table == "circuit":
        yield from _of_circuit(build, parts, str(key))
    elif table == "run":
        run = next(run for run in parts.runs if run.path[:2] == (table, key))
        yield from run.ends
        yield from _through(build, run.name)
    elif table == "proof":
        yield from _of_proof(build, parts, int(key))
    else:
        yield from _fixed(build, table, key)


def _fixed(build: Build, table: str, key: str | int) -> Iterator[str]:
    """Of what the file gives its place, or both its ends, in so many words."""
    if table == "place":
        yield str(key)
    elif table == "passage":
        yield from _ends(build, str(key))
    elif table == "plug":
        yield from build.plug[int(key)].places
    elif table == "join":
        yield build.join[int(key)].place
    elif table in ("board", "supply"):
        yield getattr(build, table)[key].place


def _hung(parts: Parts) -> Iterator[Part]:
    yield from parts.lamps
    yield from parts.strips
    yield from parts.loads


def _of_part(build: Build, part: Part) -> Iterator[str]:
    yield part.place
    yield from (part.feed.to, part.back.to)
    name = part.name
    if isinstance(part, LampPart):
        name = part.entry
        yield from part.places
        if part.resistor is not None:
            yield part.resistor.place
    yield from _through(build, name)


def _through(build: Build, name: str) -> Iterator[str]:
    """The ends of the passages that something is said to go through."""
    for passage, said in passages_of(build).items():
        if name in said.through:
            yield from _ends(build, passage)


def _ends(build: Build, passage: str) -> Iterator[str]:
    said = passages_of(build)[passage]
    yield from (said.start, said.end)


def _of_circuit(build: Build, parts: Parts, name: str) -> Iterator[str]:
    """Where its lamps sit and are joined, and where its two lines end."""
    lines = (name, back_line(build, name))
    for part in _hung(parts):
        if part.circuit == name:
            yield from _of_part(build, part)
    for run in parts.runs:
        if run.line in lines:
            yield from run.ends


def _of_proof(build: Build, parts: Parts, index: int) -> Iterator[str]:
    """Of what a proof is about."""
    kind, name = subjects(build)[build.proof[index].subject]
    if kind == "plug":
        yield from next(plug.places for plug in build.plug if plug.name == name)
    elif kind == "run":
        yield from next(run.ends for run in parts.runs if run.name == name)
    elif kind in ("lamp", "strip", "load"):
        for part in _hung(parts):
            if part.path[0] == kind and name in (part.name, getattr(part, "entry", part.name)):
                yield from _of_part(build, part)
    elif kind == "passage" and name == "post":
        yield from _ends(build, name)
    else:
        yield from _places(build, parts, (kind, name))
