"""Whether everything is joined: each lamp to its line's beginning, each run to something that can feed it."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.build.models import Build, Lead
from postcheck.build.naming import (
    back_line,
    lamp_names,
    line_aliases,
    origin_of,
    run_names,
    strip_names,
    supply_of,
)
from postcheck.build.problems import Path, Problem
from postcheck.plain import quoted

__all__ = ["reach_problems"]

Point = tuple[str, str]


class _Joined:
    """Points that are electrically joined, by union and find."""

    def __init__(self) -> None:
        self.parent: dict[Point, Point] = {}

    def root(self, point: Point) -> Point:
        path = []
        while (up := self.parent.get(point, point)) != point:
            path.append(point)
            point = up
        for passed in path:
            self.parent[passed] = point
        return point

    def join(self, a: Point, b: Point) -> None:
        a, b = self.root(a), self.root(b)
        if a != b:
            self.parent[b] = a


def reach_problems(build: Build) -> list[Problem]:
    """Lamps, strips and loads that no conductor reaches, and runs that join nothing to a supply."""
    joined, sources = _join_all(build)
    return [*_unreached(build, joined, sources), *_idle_runs(build, joined, sources)]


def _join_all(build: Build) -> tuple[_Joined, set[Point]]:
    joined = _Joined()
    for a, b in (*_conductors(build), *_shared_negatives(build), *_beginnings(build), *_strip_ends(build)):
        joined.join(a, b)
    poles = ((f"{name}{pole}", supply.place) for name, supply in build.supply.items() for pole in "+-")
    return joined, {joined.root(point) for point in poles}


def _conductors(build: Build) -> Iterator[tuple[Point, Point]]:
    for run in build.run:
        if run.line is not None and not run.spare and run.carries == "power":
            yield (run.line, run.ends[0]), (run.line, run.ends[1])
    for plug in build.plug:
        for line in plug.pins:
            yield (line, plug.ends[0]), (line, plug.ends[1])
    for join in build.join:
        for line in join.lines[1:]:
            yield (join.lines[0], join.place), (line, join.place)


def _shared_negatives(build: Build) -> Iterator[tuple[Point, Point]]:
    """One line under two names is joined wherever either of them is."""
    for line, other in line_aliases(build).items():
        for place in build.place:
            yield (other, place), (line, place)


def _beginnings(build: Build) -> Iterator[tuple[Point, Point]]:
    for name, circuit in build.circuit.items():
        supply, place = supply_of(build, circuit), origin_of(build, circuit)
        if supply is None or place is None:
            continue
        side, other_side = ("+", "-") if circuit.switched == "positive" else ("-", "+")
        yield (f"{supply}{side}", place), (name, place)
        if circuit.own_return:
            yield (f"{supply}{other_side}", place), (f"{name}-return", place)


def _strip_ends(build: Build) -> Iterator[tuple[Point, Point]]:
    for strip in build.strip:
        if strip.far_end is not None:
            lead = strip.lead.to if strip.lead is not None and strip.lead.to is not None else strip.place
            for line in (strip.circuit, back_line(build, strip.circuit)):
                yield (line, lead), (line, strip.far_end)


def _joints(lead: Lead | None, first: str, last: str) -> tuple[str, str]:
    if lead is None:
        return first, last
    feed = (lead.feed.to if lead.feed else None) or lead.to or first
    return feed, (lead.back.to if lead.back else None) or lead.to or last


def _consumers(build: Build) -> Iterator[tuple[str, str, str, Path, Lead | None, str, str]]:
    for index, (lamp, name) in enumerate(zip(build.lamp, lamp_names(build), strict=True)):
        first, last = (lamp.places[0], lamp.places[-1]) if lamp.places else (lamp.place, lamp.place)
        if lamp.dice is not None:
            for colour, die in lamp.dice.items():
                yield "lamp", f"{name} {colour}", die.circuit, ("lamp", index), lamp.lead, first, last
        elif lamp.circuit is not None:
            yield "lamp", name, lamp.circuit, ("lamp", index), lamp.lead, first, last
    for index, (strip, name) in enumerate(zip(build.strip, strip_names(build), strict=True)):
        yield "strip", name, strip.circuit, ("strip", index), strip.lead, strip.place, strip.place
    for index, load in enumerate(build.load):
        yield "load", load.name, load.circuit, ("load", index), load.lead, load.place, load.place


def _unreached(build: Build, joined: _Joined, sources: set[Point]) -> Iterator[Problem]:
    for kind, name, circuit, path, lead, first, last in _consumers(build):
        feed, back = _joints(lead, first, last)
        for line, place in ((circuit, feed), (back_line(build, circuit), back)):
            if joined.root((line, place)) not in sources:
                yield Problem(
                    "file.unreached", path,
                    f"nothing carries line {quoted(line)} to {quoted(place)}, where {kind} {quoted(name)} is joined",
                    f"a [[run]] with line = \"{line}\" that ends at \"{place}\" is missing, or its lead goes elsewhere", "key",
                )  # fmt: skip


def _idle_runs(build: Build, joined: _Joined, sources: set[Point]) -> Iterator[Problem]:
    for index, (run, name) in enumerate(zip(build.run, run_names(build), strict=True)):
        if run.line is None or run.spare or run.carries != "power":
            continue
        if joined.root((run.line, run.ends[0])) not in sources:
            yield Problem(
                "file.unreached", ("run", index),
                f"run {quoted(name)} joins nothing: line {quoted(run.line)} does not come to {quoted(run.ends[0])} or {quoted(run.ends[1])}",
                "join it to the rest of its line, or mark it spare = true", "key",
            )  # fmt: skip
