"""Names that every part has, given in the file or made here, and the lines that a build speaks of."""

from __future__ import annotations

from collections.abc import Iterable

from postcheck.description.models import Build, Passage
from postcheck.taken import takes


def string_name(lamp: str, string: int) -> str:
    """What one of a lamp's strings is called, counted from 0 here and from 1 there."""
    return f"{lamp} {string + 1}"


def run_names(build: Build) -> tuple[str, ...]:
    """The names of all runs in their order; one without a name is called after line and ends."""
    takes("run_names", build, Build)
    return complete((run.name, f"{run.line or 'spare'} {run.ends[0]}-{run.ends[1]}") for run in build.run)


def passages_of(build: Build) -> dict[str, Passage]:
    """All passages by name, the post under `post`."""
    return ({"post": build.post} if build.post else {}) | dict(build.passage)


def passages_between(build: Build, ends: Iterable[str]) -> tuple[str, ...]:
    """The names of the passages that join two places, whichever way round."""
    both = set(ends)
    return tuple(name for name, one in passages_of(build).items() if {one.start, one.end} == both)


def line_names(build: Build) -> tuple[str, ...]:
    """Every line that a run, pin or joint may name."""
    lines = [pole for supply in build.supply for pole in (f"{supply}+", f"{supply}-")]
    for name, circuit in build.circuit.items():
        lines.append(name)
        if circuit.own_return:
            lines.append(f"{name}-return")
    lines += [run.line for run in build.run if run.line and run.carries != "power"]
    return tuple(dict.fromkeys(lines))


def complete(pairs: Iterable[tuple[str | None, str]]) -> tuple[str, ...]:
    """Names given, each with the one that is made where none is; of several made alike the later ones are numbered."""
    listed = list(pairs)
    taken = {given for given, _ in listed if given}
    numbers: dict[str, int] = {}  # how far each made name has been counted
    names = []
    for given, made in listed:
        if given is None:
            number = numbers.get(made, 0) + 1
            name = made if number == 1 else f"{made} {number}"
            while name in taken:
                number += 1
                name = f"{made} {number}"
            numbers[made] = number
            taken.add(name)
            names.append(name)
        else:
            names.append(given)
    return tuple(names)
