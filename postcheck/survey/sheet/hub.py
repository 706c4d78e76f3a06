"""The hub map: what is joined to each line at each place."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import replace

from postcheck.description.models import Build, Lead
from postcheck.description.naming import back_line, line_at, line_names, origin_of, supply_of
from postcheck.sheet import HubEnd, HubPlace, Joint
from postcheck.survey import Survey
from postcheck.wiring.parts import LampPart, LegPart, LoadPart, RunPart, StripPart

__all__ = ["hub_places"]

_Found = tuple[str, str, HubEnd]  # line and place where it ends
_Point = tuple[str, str]


def hub_places(survey: Survey) -> tuple[HubPlace, ...]:
    """Every place where conductors meet: its joints in the order of the file's lines, and what is joined to nothing."""
    build = survey.build
    at = line_at(build)
    joints: dict[str, dict[str, list[HubEnd]]] = {place: {} for place in build.place}
    loose: dict[str, list[HubEnd]] = {place: [] for place in build.place}
    steps = _steps_from_supply(survey)
    for line, place, end in _ends(survey):
        if line:
            here = at(line, place)
            if end.kind in ("run", "plug") and end.goes_to:
                beyond = steps.get((at(line, end.goes_to), end.goes_to), 0)
                end = replace(end, comes=beyond < steps.get((here, place), 0))  # noqa: PLW2901 - the same end, told more of
            joints[place].setdefault(here, []).append(end)
        else:
            loose[place].append(end)
    names: dict[tuple[str, str], list[str]] = {}
    for line, pole, place in _begun_at_pole(build):
        _one_joint(
            joints[place], at(pole, place), at(line, place), names.setdefault((at(pole, place), place), [])
        )
    for join in build.join:  # under the name of the first
        first, *others = dict.fromkeys(at(line, join.place) for line in join.lines)
        for other in others:
            _one_joint(joints[join.place], first, other, names.setdefault((first, join.place), []))
    order = {line: number for number, line in enumerate(line_names(build))}
    return tuple(
        HubPlace(
            place,
            build.place[place].access,
            tuple(
                Joint(", ".join((line, *names.get((line, place), ()))), side_of(build, line), tuple(ends))
                for line, ends in sorted(here.items(), key=lambda item: order.get(item[0], len(order)))
                if any(end.kind != "supply" for end in ends)
            ),
            tuple(loose[place]),
        )
        for place, here in joints.items()
        if here or loose[place]
    )


def _one_joint(here: dict[str, list[HubEnd]], line: str, other: str, names: list[str]) -> None:
    """Put what is on the other line to this one."""
    moved = here.pop(other, None)
    if moved is not None and other != line:
        here.setdefault(line, []).extend(moved)
        names.append(other)


def _steps_from_supply(survey: Survey) -> dict[_Point, int]:
    """How many conductors lie between each point of a line and where the line begins."""
    build = survey.build
    at = line_at(build)
    beside: dict[_Point, list[_Point]] = {}

    def tie(a: _Point, b: _Point) -> None:
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)

    for run in survey.parts.runs:
        if run.live:
            one, other = run.ends
            tie((at(run.line, one), one), (at(run.line, other), other))
    for plug in build.plug:
        one, other = plug.ends
        for line in plug.pins:
            tie((at(line, one), one), (at(line, other), other))
    steps = {(at(line, place), place): 0 for line, place, _ in _beginnings(build)}
    steps |= {(at(line, place), place): 0 for line, _, place in _begun_at_pole(build)}
    waiting = deque(steps)
    while waiting:
        point = waiting.popleft()
        for other_point in beside.get(point, ()):
            if other_point not in steps:
                steps[other_point] = steps[point] + 1
                waiting.append(other_point)
    return steps


def side_of(build: Build, line: str) -> str:
    """Towards which pole a line lies in use: +, - or nothing for one that carries no power."""
    if line[-1:] in "+-" and line[:-1] in build.supply:
        return line[-1]
    back = line.endswith("-return") and line not in build.circuit
    circuit = build.circuit.get(line.removesuffix("-return") if back else line)
    if circuit is None:
        return ""
    return "+" if (circuit.switched == "positive") != back else "-"


def _ends(survey: Survey) -> Iterator[_Found]:
    build, parts = survey.build, survey.parts
    yield from _beginnings(build)
    yield from _fed(build)
    for run in parts.runs:
        yield from _run(build, run)
    for plug in build.plug:
        for place, other in (plug.ends, plug.ends[::-1]):
            for pin, line in enumerate(plug.pins, start=1):
                yield line, place, HubEnd("plug", plug.name, leg=f"pin {pin}", goes_to=other)
    for lamp in parts.lamps:
        yield from _lamp(build, lamp)
    for strip, of_strip in zip(parts.strips, build.strip, strict=True):
        yield from _legs(build, "strip", strip, of_strip.lead)
        if strip.far_end is not None:
            for line in (strip.circuit, back_line(build, strip.circuit)):
                yield line, strip.far_end, HubEnd("strip", strip.name, leg="far end")
    for load, of_load in zip(parts.loads, build.load, strict=True):
        yield from _legs(build, "load", load, of_load.lead)


def _beginnings(build: Build) -> Iterator[_Found]:
    """Where lines begin: at the poles of a supply, at an output, at a board."""
    for name, supply in build.supply.items():
        fuse = supply.fuse if supply.fuse is not None and supply.fuse.place in (None, supply.place) else None
        for pole in "+-":
            fused = fuse.rated if fuse is not None and pole == "+" else None
            yield f"{name}{pole}", supply.place, HubEnd("supply", name, leg=pole, comes=True, fuse=fused)
    for name, circuit in build.circuit.items():
        place, supply_name = origin_of(build, circuit), supply_of(build, circuit) or ""
        if place is None:
            continue
        if circuit.board is not None:
            yield name, place, HubEnd("board", circuit.board, leg="output", comes=True)
        elif circuit.output is not None:
            yield name, place, HubEnd("supply", supply_name, leg="output", comes=True)


def _fed(build: Build) -> Iterator[_Found]:
    """Boards and converters, where they take their own current."""
    for name, board in build.board.items():
        for pole in "+-":
            yield f"{board.supply}{pole}", board.place, HubEnd("board", name, leg=f"input {pole}")
    for name, supply in build.supply.items():
        if supply.fed_by is not None:
            for pole in "+-":
                yield f"{supply.fed_by}{pole}", supply.place, HubEnd("supply", name, leg=f"input {pole}")


def _begun_at_pole(build: Build) -> Iterator[tuple[str, str, str]]:
    """Lines that begin straight at a pole: the line, the pole's line, and the place. There they are one joint."""
    for name, circuit in build.circuit.items():
        place, supply = origin_of(build, circuit), supply_of(build, circuit)
        if place is None or supply is None:
            continue
        pole, other = ("+", "-") if circuit.switched == "positive" else ("-", "+")
        if circuit.board is None and circuit.output is None:
            yield name, f"{supply}{pole}", place
        if circuit.own_return:
            yield back_line(build, name), f"{supply}{other}", place


def _run(build: Build, run: RunPart) -> Iterator[_Found]:
    said = build.run[int(run.path[1])]
    for place, other in (run.ends, run.ends[::-1]):
        line = "" if run.spare else run.line
        yield line, place, HubEnd(
            "run", run.name, colour=run.colour or "", wire=run.wire.name if run.wire else "", goes_to=other,
            count=run.conductors, label=said.label or "",
        )  # fmt: skip


def _lamp(build: Build, lamp: LampPart) -> Iterator[_Found]:
    said = build.lamp[int(lamp.path[1])]
    # the back leg that all colours of a lamp share is told once, with the first of them
    shares = lamp.shares_back is not None and not lamp.name.endswith(f" {next(iter(said.dice or {}), '')}")
    yield from _legs(build, "lead" if lamp.has_lead else "lamp", lamp, said.lead, back=not shares)


def _legs(
    build: Build, kind: str, part: LampPart | StripPart | LoadPart, lead: Lead | None, *, back: bool = True
) -> Iterator[_Found]:
    sides = [("feed", part.circuit, part.feed)]
    if back:
        sides.append(("back", back_line(build, part.circuit), part.back))
    for leg, line, end in sides:
        name = part.entry if leg == "back" and isinstance(part, LampPart) else part.name
        yield line, end.to, HubEnd(
            kind, name, leg=leg, colour=end.colour or "", wire=end.wire.name if end.wire else "",
            goes_to=part.place if lead is not None else "", ohms=_ohms_here(part, leg, end), count=_count(part, leg),
            label=(lead.label if lead is not None else None) or "",
        )  # fmt: skip


def _count(part: LampPart | StripPart | LoadPart, leg: str) -> int:
    """How many wires a leg has: one for each string that has its resistor here."""
    if not isinstance(part, LampPart):
        return 1
    return part.feeds if leg == "feed" else part.backs


def _ohms_here(part: LampPart | StripPart | LoadPart, leg: str, end: LegPart) -> float | None:
    """The resistor that sits at this end of the leg."""
    resistor = part.resistor if isinstance(part, LampPart) else None
    if resistor is None or resistor.side != leg or resistor.place != end.to:
        return None
    return resistor.ohms
