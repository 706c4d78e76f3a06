"""What a test record can be about: everything of a build that bears a name."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.consumers import entries
from postcheck.description.models import Build
from postcheck.description.naming import passages_of, run_names, string_name


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


def subject_of(build: Build, kind: str, name: str) -> str:
    """The words by which a test record calls a thing."""
    for other, taken in _named(build):
        if taken == name:
            return name if other == kind else f"{kind} {name}"
    return name


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
