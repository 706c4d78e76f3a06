"""What keeps lamps that heat dimmed from more light: found where a plan tried them brighter."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.problems import Path
from postcheck.planner.values import resistors_of
from postcheck.report import Finding, NotJudged, Subject

# What feeds a lamp, or bears its heat: by the first word of what is checked of it.
BEARS = frozenset(
    {"place", "supply", "converter", "output", "board", "battery", "fuse", "switch", "plug", "wire"}
)


class Held(NamedTuple):
    """Why a lamp is no brighter than with so many `ohms`: what does not allow it, empty where it is another matter."""

    ohms: float
    by: tuple[Subject, ...]


def held(
    build: Build, brighter: Build, roots: Sequence[Finding], asks: Sequence[NotJudged]
) -> dict[Path, Held]:
    """Of each lamp, or colour of it, that has another resistor in a `brighter` build, why that does not do.

    By what the checks find and ask there.
    """
    by, then = _allows_no_more(build, roots, asks), dict(resistors_of(brighter))
    found: dict[Path, Held] = {}
    for path, spec in resistors_of(build):
        if spec == then.get(path):
            continue
        lamp = build.lamp[int(path[1])]
        its = {lamp.place, *(lamp.places or ()), spec.place}
        # one of its value may be what does not allow it, somewhere else
        elsewhere = any(one.kind == "place" and one.name not in its for one in by)
        found[path] = Held(spec.ohms, () if elsewhere else by)
    return found


def _allows_no_more(build: Build, roots: Sequence[Finding], asks: Sequence[NotJudged]) -> tuple[Subject, ...]:
    """What feeds the lamps or bears their heat, and allows no more; empty where anything else is in the way, too."""
    places = [Subject("place", one.subject) for one in asks if one.subject in build.place]
    if len(places) < len(asks) or any(one.check.partition(".")[0] not in BEARS for one in roots):
        return ()
    return tuple(dict.fromkeys([*(one.subject for one in roots), *places]))
