"""What a test record can be about: everything of a build that bears a name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from postcheck.description.consumers import entries
from postcheck.description.models import Build
from postcheck.description.naming import passages_of, run_names, string_name
from postcheck.description.problems import Path


def subjects(build: Build) -> dict[str, tuple[str, str]]:
    """Kind and name of everything that can be proven, by the words for it.

    Its name alone will do; of two things with one name the first kind of this list is meant, and the other is called by
    its kind and name: `circuit beacon`. A colour of a lamp is called as in the report: `signal arm red`; of several strings
    each by its number: `car windows 2`.
    """
    pairs = list(_named(build))
    found: dict[str, tuple[str, str]] = {}
    for kind, name in pairs:
        found.setdefault(name, (kind, name))
    for kind, name in pairs:
        found.setdefault(f"{kind} {name}", (kind, name))
    return found


def kinds_by_name(build: Build) -> dict[str, str]:
    """The kind of the first thing of each name, which its name alone stands for."""
    found: dict[str, str] = {}
    for kind, name in _named(build):
        found.setdefault(name, kind)
    return found


def subject_of(kinds: Mapping[str, str], kind: str, name: str) -> str:
    """The words by which a test record calls a thing; `kinds`: those of `kinds_by_name`."""
    return name if kinds.get(name, kind) == kind else f"{kind} {name}"


def paths_by_name(build: Build) -> dict[str, Path]:
    """Where the file says something of each thing that a question may call by its name alone; of two with one name the first."""
    found: dict[str, Path] = {}
    for name, path in (*_entry_paths(build), *_other_paths(build)):
        found.setdefault(name, path)
    return found


def _entry_paths(build: Build) -> Iterator[tuple[str, Path]]:
    """What takes current, its colours and strings; a circuit that the file names there and has no table of."""
    for entry in entries(build):
        dice = getattr(entry.said, "dice", None) or ()
        parts = {entry.name: entry.path}
        parts |= {name: (*entry.path, "dice", key) for name, key in zip(entry.colours, dice, strict=True)}
        yield from parts.items()
        for of, path in parts.items():
            yield from ((string_name(of, string), path) for string in range(entry.parallel))
        if entry.said.circuit in build.implied:
            yield entry.said.circuit or "", (*entry.path, "circuit")


def _other_paths(build: Build) -> Iterator[tuple[str, Path]]:
    if build.post:
        yield "post", ("post",)
    yield from ((name, ("passage", name)) for name in build.passage)
    yield from ((name, ("run", number)) for number, name in enumerate(run_names(build)))
    yield from ((plug.name, ("plug", number)) for number, plug in enumerate(build.plug))
    for kind in ("circuit", "board", "supply", "place"):
        yield from ((name, (kind, name)) for name in getattr(build, kind))
    yield from ((f"{name}{sign}", ("supply", name)) for name in build.supply for sign in "+-")
    yield from ((f"{name}-return", ("circuit", name)) for name in build.circuit)
    yield from ((run.line or "", ("run", number)) for number, run in enumerate(build.run))


def _named(build: Build) -> Iterator[tuple[str, str]]:
    everything = tuple(entries(build))
    for entry in everything:
        yield from ((entry.kind, name) for name in (entry.name, *entry.colours))
    yield from (("circuit", name) for name in build.circuit)
    yield from (("run", name) for name in run_names(build))
    yield from (("plug", plug.name) for plug in build.plug)
    yield from (("board", name) for name in build.board)
    yield from (("passage", name) for name in passages_of(build))
    yield from (("supply", name) for name in build.supply)
    for entry in everything:
        for of in entry.colours or (entry.name,):
            strings = range(entry.parallel) if entry.parallel > 1 else ()
            yield from ((entry.kind, string_name(of, string)) for string in strings)
