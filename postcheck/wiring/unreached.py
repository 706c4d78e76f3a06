"""Whether everything is joined: each lamp to its line's beginning, each run to something that can feed it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from postcheck.description.models import Build, Lead, ResistorSpec
from postcheck.description.naming import (
    back_line,
    lamp_names,
    line_at,
    origin_of,
    passages_of,
    run_names,
    strip_names,
    supply_of,
)
from postcheck.description.problems import Path, Problem
from postcheck.plain import quoted

__all__ = ["on_the_way", "reach_problems"]

Point = tuple[str, str]

_NAMED = 3  # of those that hang on one point


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
    found = [*_unreached(build, joined, sources), *_idle_runs(build, joined, sources)]
    return found or list(_stray_resistors(build))


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
    """One line under two names is joined where it has but one conductor, or begins."""
    at = line_at(build)
    for line in (f"{name}-" for name in build.supply):
        for place in build.place:
            yield (at(line, place), place), (line, place)


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


class Consumer(NamedTuple):
    """Something that hangs on a circuit: a lamp (a colour of it), a strip or a load. `first`, `last`: its joints without a lead."""

    kind: str
    name: str
    circuit: str
    path: Path
    lead: Lead | None
    first: str
    last: str
    resistor: ResistorSpec | None = None
    resistors: int = 1
    places: tuple[str, ...] = ()


def _consumers(build: Build) -> Iterator[Consumer]:
    for index, (lamp, name) in enumerate(zip(build.lamp, lamp_names(build), strict=True)):
        path: Path = ("lamp", index)
        first, last = (lamp.places[0], lamp.places[-1]) if lamp.places else (lamp.place, lamp.place)
        places = (lamp.place, *(lamp.places or ()))
        each = 1 if lamp.one_resistor else lamp.parallel
        if lamp.dice is not None:
            for colour, die in lamp.dice.items():
                yield Consumer(
                    "lamp",
                    f"{name} {colour}",
                    die.circuit,
                    path,
                    lamp.lead,
                    first,
                    last,
                    die.resistor,
                    each,
                    places,
                )
        elif lamp.circuit is not None:
            yield Consumer(
                "lamp", name, lamp.circuit, path, lamp.lead, first, last, lamp.resistor, each, places
            )
    for index, (strip, name) in enumerate(zip(build.strip, strip_names(build), strict=True)):
        yield Consumer("strip", name, strip.circuit, ("strip", index), strip.lead, strip.place, strip.place)
    for index, load in enumerate(build.load):
        yield Consumer("load", load.name, load.circuit, ("load", index), load.lead, load.place, load.place)


def _unreached(build: Build, joined: _Joined, sources: set[Point]) -> Iterator[Problem]:
    """One problem for each point that nothing comes to, however many hang on it."""
    hung: dict[Point, list[Consumer]] = {}
    for consumer in _consumers(build):
        feed, back = _joints(consumer.lead, consumer.first, consumer.last)
        for point in ((consumer.circuit, feed), (back_line(build, consumer.circuit), back)):
            if joined.root(point) not in sources:
                hung.setdefault(point, []).append(consumer)
    for (line, place), consumers in hung.items():
        yield Problem(
            "file.unreached", consumers[0].path,
            f"nothing carries line {quoted(line)} to {quoted(place)}, where {_told(consumers)} joined",
            _join_offered(build, joined, sources, line, place)
            + f"a [[run]] with line = \"{line}\" that ends at \"{place}\" is missing, or "
            + ("its lead goes elsewhere" if len(consumers) == 1 else "their leads go elsewhere"), "key",
        )  # fmt: skip


def _join_offered(build: Build, joined: _Joined, sources: set[Point], line: str, place: str) -> str:
    """The join that is missing where a circuit begins at a pole that comes to the place, with nothing between them."""
    circuit = build.circuit.get(line)
    supply = supply_of(build, circuit) if circuit is not None else None
    if circuit is None or supply is None or circuit.board is not None or circuit.output is not None:
        return ""
    pole = f"{supply}{'+' if circuit.switched == 'positive' else '-'}"
    if joined.root((pole, place)) not in sources:
        return ""
    return f'if {quoted(pole)}, which comes there, feeds it: [[join]] place = "{place}", lines = ["{pole}", "{line}"]; else '


def _told(consumers: Sequence[Consumer]) -> str:
    """As in: lamp 'bow' is; 4 lamps ('a', 'b', 'c' and 1 more) are."""
    if len(consumers) == 1:
        return f"{consumers[0].kind} {quoted(consumers[0].name)} is"
    counts = Counter(consumer.kind for consumer in consumers)
    kinds = " and ".join(f"{count} {kind}{'s' if count > 1 else ''}" for kind, count in counts.items())
    return f"{kinds} ({_named(consumers)}) are"


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


def _stray_resistors(build: Build) -> Iterator[Problem]:
    """Resistors at a place from where no conductor of their own goes on to the lamp, told once for each such line.

    A resistor sits with its lamp or where its lead ends. Anywhere else it sits in the line itself, which then has to
    carry this one string and nothing else from there on.
    """
    consumers, at = list(_consumers(build)), line_at(build)
    threaded = {
        name: (passage.start, passage.end)
        for passage in passages_of(build).values()
        for name in passage.through
    }
    names = lamp_names(build)

    def line_of(consumer: Consumer, joint: str, *, feeds: bool) -> str:
        return at(consumer.circuit if feeds else back_line(build, consumer.circuit), joint)

    strays: dict[tuple[str, str, str, bool], list[Consumer]] = {}
    for consumer in consumers:
        spec = consumer.resistor
        joints = _joints(consumer.lead, consumer.first, consumer.last)
        if spec is None or spec.place is None:
            continue
        if spec.place in {*consumer.places, *joints, *threaded.get(names[int(consumer.path[1])], ())}:
            continue
        feeds = spec.side == "feed"
        joint = joints[0 if feeds else 1]
        line = line_of(consumer, joint, feeds=feeds)
        alone = consumer.resistors == 1 and all(
            other is consumer or line_of(other, joint, feeds=feeds) != line for other in consumers
        )
        origin = origin_of(build, build.circuit[consumer.circuit])
        passes = origin is not None and on_the_way(build, line, origin, spec.place, joint)
        if not (alone and passes):
            strays.setdefault((line, spec.place, joint, passes), []).append(consumer)
    for (line, place, joint, passes), hung in strays.items():
        sit = (
            f"resistor of {quoted(hung[0].name)} sits"
            if len(hung) == 1
            else f"resistors of {_named(hung)} sit"
        )
        yield Problem(
            "file.unreached", (*hung[0].path, "resistor"),
            f"the {sit} at {quoted(place)}, and "
            + (
                f"from there to {quoted(joint)} line {quoted(line)} is all there is, for several strings"
                if passes
                else f"line {quoted(line)} does not go through there to {quoted(joint)}, where the lamp is joined"
            ),
            f"put {'it' if len(hung) == 1 else 'them'} with the lamp or at {quoted(joint)}"
            + ("; a string that has a conductor of its own from there has a circuit of its own" if passes else ""),
        )  # fmt: skip


def _named(consumers: Sequence[Consumer]) -> str:
    names = ", ".join(quoted(consumer.name) for consumer in consumers[:_NAMED])
    return f"{names} and {len(consumers) - _NAMED} more" if len(consumers) > _NAMED else names


def on_the_way(build: Build, line: str, origin: str, place: str, joint: str) -> bool:
    """Whether everything that a line carries from its beginning to a joint goes through a place."""
    whole, without = _Joined(), _Joined()
    for a, b in _conductors(build):
        if a[0] == b[0] == line:
            whole.join(a, b)
            if place not in (a[1], b[1]):
                without.join(a, b)
    reached = whole.root((line, origin)) == whole.root((line, place)) == whole.root((line, joint))
    return reached and (place == origin or without.root((line, origin)) != without.root((line, joint)))
