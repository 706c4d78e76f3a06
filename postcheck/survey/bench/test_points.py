"""Where a bench supply can be put: the lead of each lamp, strip and load, and each circuit's line at every place."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Literal, NamedTuple

from postcheck.description.models import Build
from postcheck.description.naming import back_line, line_at, passages_of
from postcheck.wiring.parts import LampPart, LegPart, LoadPart, Parts, Path, StripPart
from postcheck.wiring.unreached import on_the_way

__all__ = ["Guard", "Tap", "TapEnd", "lead_taps", "line_taps"]

Guard = Literal["ahead", "here", "behind", "none"]
"""Where the resistor of a lamp sits, seen from a tap: `ahead` (between here and the lamp, so it protects), `here` (at
this very end: it protects what touches its free side), `behind` (nearer to the supply, so the end is bare), `none`."""

_WEAKEST: tuple[Guard, ...] = ("behind", "none", "here", "ahead")


class TapEnd(NamedTuple):
    """One of the two ends that a bench supply is put on: its line, the place, and its colour and wire where they are known."""

    line: str
    place: str
    colour: str | None = None
    wire: str | None = None


class Tap(NamedTuple):
    """A pair of ends. `kind`: lamp, strip, load (its own lead, before it is joined) or circuit (its line, with all that hangs there).

    `plus` is the end that goes to the positive pole in the finished model. `guards`: each lamp behind it and where that
    lamp's resistor sits; `others`: strips and loads behind it. `circuits`: its own and those whose lines are joined to it.
    """

    kind: str
    name: str
    circuit: str
    path: Path
    plus: TapEnd
    minus: TapEnd
    guards: tuple[tuple[str, Guard], ...]
    others: tuple[str, ...] = ()
    label: str | None = None
    circuits: tuple[str, ...] = ()

    @property
    def guard(self) -> Guard:
        """That of the lamp which is protected least."""
        held = {guard for _, guard in self.guards}
        return next((guard for guard in _WEAKEST if guard in held), "ahead")

    @property
    def places(self) -> tuple[str, ...]:
        """Where its ends are held: one place, or two where the legs part."""
        return tuple(dict.fromkeys((self.plus.place, self.minus.place)))


def lead_taps(build: Build, parts: Parts) -> Iterator[Tap]:
    """The lead of every lamp (each colour of it), strip and load, at its joint."""
    for lamp in parts.lamps:
        guard = _guard_of_lead(build, lamp)
        label = _label(build, "lamp", int(lamp.path[1]))
        yield _of_lead(build, "lamp", lamp, ((lamp.name, guard),), (), label)
    for strip in parts.strips:
        yield _of_lead(build, "strip", strip, (), (strip.name,), _label(build, "strip", int(strip.path[1])))
    for load in parts.loads:
        yield _of_lead(build, "load", load, (), (load.name,), _label(build, "load", int(load.path[1])))


def line_taps(build: Build, parts: Parts) -> Iterator[Tap]:
    """Every circuit at every place where a conductor of both its sides ends."""
    at = line_at(build)
    ends = _conductor_ends(build, parts)
    hung = _hung(parts)
    for circuit, joined in _joined(build).items():
        lamps = [lamp for one in joined for lamp in hung.get(one, ((), ()))[0]]
        others = tuple(name for one in joined for name in hung.get(one, ((), ()))[1])
        if not (lamps or others):
            continue
        back = back_line(build, circuit)
        for place in build.place:
            here, there = ends.get((at(circuit, place), place)), ends.get((at(back, place), place))
            if here is None or there is None:
                continue
            guards = tuple((lamp.name, _guard_at(build, at, lamp, place)) for lamp in lamps)
            sides = (TapEnd(circuit, place, *here), TapEnd(back, place, *there))
            plus, minus = sides if build.circuit[circuit].switched == "positive" else sides[::-1]
            yield Tap(
                "circuit", circuit, circuit, ("circuit", circuit), plus, minus, guards, others, None, joined
            )


def _hung(parts: Parts) -> dict[str, tuple[list[LampPart], list[str]]]:
    """The lamps of each circuit, and its strips and loads by name."""
    hung: dict[str, tuple[list[LampPart], list[str]]] = {}
    for lamp in parts.lamps:
        if lamp.dice:
            hung.setdefault(lamp.circuit, ([], []))[0].append(lamp)
    others: tuple[StripPart | LoadPart, ...] = (*parts.strips, *parts.loads)
    for other in others:
        hung.setdefault(other.circuit, ([], []))[1].append(other.name)
    return hung


def _joined(build: Build) -> dict[str, tuple[str, ...]]:
    """Each circuit with those that a [[join]] makes one with it, on both its sides; itself first."""
    one: dict[str, str] = {}

    def root(line: str) -> str:
        while line in one:
            line = one[line]
        return line

    for join in build.join:
        for line in join.lines[1:]:
            if root(line) != root(join.lines[0]):
                one[root(line)] = root(join.lines[0])
    groups: dict[tuple[str, str, str], list[str]] = {}
    for name, circuit in build.circuit.items():
        key = (root(name), root(back_line(build, name)), circuit.switched)
        groups.setdefault(key, []).append(name)
    return {
        name: (name, *(other for other in group if other != name))
        for group in groups.values()
        for name in group
    }


def _conductor_ends(build: Build, parts: Parts) -> dict[tuple[str, str], tuple[str | None, str | None]]:
    """Colour and wire of the conductor that ends at each point of a line; of two, the first."""
    at = line_at(build)
    ends: dict[tuple[str, str], tuple[str | None, str | None]] = {}
    for run in parts.runs:
        if run.live:
            for place in run.ends:
                ends.setdefault(
                    (at(run.line, place), place), (run.colour, run.wire.name if run.wire else None)
                )
    for plug in build.plug:
        for place in plug.ends:
            for line in plug.pins:
                ends.setdefault((at(line, place), place), (None, None))
    return ends


def _of_lead(
    build: Build,
    kind: str,
    part: LampPart | StripPart | LoadPart,
    guards: tuple[tuple[str, Guard], ...],
    others: tuple[str, ...],
    label: str | None,
) -> Tap:
    back = back_line(build, part.circuit)
    sides = (_end(part.circuit, part.feed), _end(back, part.back))
    plus, minus = sides if build.circuit[part.circuit].switched == "positive" else sides[::-1]
    return Tap(
        kind, part.name, part.circuit, part.path, plus, minus, guards, others, label, (part.circuit,)
    )  # fmt: skip


def _end(line: str, leg: LegPart) -> TapEnd:
    return TapEnd(line, leg.to, leg.colour, leg.wire.name if leg.wire else None)


def _label(build: Build, kind: str, index: int) -> str | None:
    if kind == "lamp":
        lead = build.lamp[index].lead
    else:
        lead = build.strip[index].lead if kind == "strip" else build.load[index].lead
    return lead.label if lead is not None else None


def _guard_of_lead(build: Build, lamp: LampPart) -> Guard:
    if lamp.resistor is None:
        return "none"
    if lamp.resistor.place in {lamp.place, *lamp.places}:
        return "ahead"
    # where the legs part, one that is said to be in the feed may sit at the end of the other: the string is the same
    if lamp.resistor.place in {lamp.feed.to, lamp.back.to}:
        return "here"
    return _threaded(build, lamp) or "behind"


def _threaded(build: Build, lamp: LampPart) -> Guard | None:
    """A resistor at an end of a passage that the lead goes through sits in the lead."""
    assert lamp.resistor is not None
    through = (p for p in passages_of(build).values() if lamp.entry in p.through)
    return "ahead" if any(lamp.resistor.place in (p.start, p.end) for p in through) else None


def _guard_at(build: Build, at: Callable[[str, str], str], lamp: LampPart, place: str) -> Guard:
    guard = _guard_of_lead(build, lamp)
    if guard == "here":
        return "ahead"  # it sits between the line and its lead
    if guard != "behind" or lamp.resistor is None:
        return guard
    seat, feeds = lamp.resistor.place, lamp.resistor.side == "feed"
    if seat == place:
        return "here"
    line = at(lamp.circuit if feeds else back_line(build, lamp.circuit), place)
    joint = lamp.feed.to if feeds else lamp.back.to
    return "ahead" if on_the_way(build, line, place, seat, joint) else "behind"
