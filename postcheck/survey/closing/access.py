"""What a later repair can reach: every joint, resistor, board, plug and lamp, and what has to be cut open for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from postcheck.description.models import Build, Lead
from postcheck.wiring.parts import LampPart, LoadPart, Parts, Path, StripPart

__all__ = ["Reach", "Reached", "reached"]

Reach = Literal["open", "cover", "cut"]
_REACH: dict[str, Reach] = {"open": "open", "cover": "cover", "sealed": "cut"}


class Reached(NamedTuple):
    """One thing at one place. `reach`: open, behind a cover, or only by cutting something open.

    `kind`: lamp, strip, load, resistor, joint (of the lead of `name` with its line), join (of lines), conductor (one that
    is painted over or trapped), plug, board or supply. `apart`: of a joint, whether it was brought here by a lead, and so
    could be elsewhere; a lamp that is soldered straight to its line where it sits has no other place for it.
    """

    kind: str
    name: str
    place: str
    reach: Reach
    path: Path
    apart: bool = False


def reached(build: Build, parts: Parts) -> tuple[Reached, ...]:
    """Everything that may once need a repair, in the order of the file."""
    return (*_lamps(build, parts), *_others(build, parts), *_lines(build, parts), *_fixtures(build))


def _reach(build: Build, place: str) -> Reach:
    return _REACH[build.place[place].access]


def _lamps(build: Build, parts: Parts) -> Iterator[Reached]:
    entries: set[str] = set()
    for lamp in parts.lamps:
        if lamp.entry not in entries:
            entries.add(lamp.entry)
            path = lamp.path[:2]
            for place in dict.fromkeys((lamp.place, *lamp.places)):
                yield Reached("lamp", lamp.entry, place, _reach(build, place), path)
            yield from _trapped(build.lamp[int(path[1])].lead, lamp.entry, lamp.place, path)
        yield from _joints(build, lamp, lamp.has_lead)
        if lamp.resistor is not None:
            place = lamp.resistor.place
            yield Reached("resistor", lamp.name, place, _reach(build, place), lamp.resistor_path)


def _others(build: Build, parts: Parts) -> Iterator[Reached]:
    for strip, cut in zip(parts.strips, build.strip, strict=True):
        yield Reached("strip", strip.name, strip.place, _reach(build, strip.place), strip.path)
        yield from _joints(build, strip, cut.lead is not None)
        yield from _trapped(cut.lead, strip.name, strip.place, strip.path)
    for load, said in zip(parts.loads, build.load, strict=True):
        yield Reached("load", load.name, load.place, _reach(build, load.place), load.path)
        yield from _joints(build, load, said.lead is not None)
        yield from _trapped(said.lead, load.name, load.place, load.path)


def _joints(build: Build, part: LampPart | StripPart | LoadPart, has_lead: bool) -> Iterator[Reached]:
    for place in dict.fromkeys((part.feed.to, part.back.to)):
        yield Reached("joint", part.name, place, _reach(build, place), part.path, has_lead)


def _trapped(lead: Lead | None, name: str, place: str, path: Path) -> Iterator[Reached]:
    if lead is not None and lead.fixed:
        yield Reached("conductor", name, place, "cut", (*path, "lead"))


def _lines(build: Build, parts: Parts) -> Iterator[Reached]:
    for run, said in zip(parts.runs, build.run, strict=True):
        if said.fixed:
            for place in run.ends:
                yield Reached("conductor", run.name, place, "cut", run.path)
    for index, join in enumerate(build.join):
        yield Reached(
            "join", " and ".join(join.lines), join.place, _reach(build, join.place), ("join", index), True
        )


def _fixtures(build: Build) -> Iterator[Reached]:
    for index, plug in enumerate(build.plug):
        for place in plug.ends:
            yield Reached("plug", plug.name, place, _reach(build, place), ("plug", index))
    for name, board in build.board.items():
        yield Reached("board", name, board.place, _reach(build, board.place), ("board", name))
    for name, supply in build.supply.items():
        yield Reached("supply", name, supply.place, _reach(build, supply.place), ("supply", name))
