"""The voltage of each circuit from its supply to the lamp that gets the fewest volts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from heapq import heappop, heappush

from postcheck.description.models import Build
from postcheck.description.naming import back_line, line_at, origin_of, supply_of
from postcheck.sheet import Way, WayPoint
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures

__all__ = ["ways"]

_Point = tuple[str, str]


def ways(survey: Survey) -> tuple[Way, ...]:
    """One way for each circuit with a lamp: everything on, parts as they usually are."""
    electrics, build = survey.electrics, survey.build
    found = []
    for circuit, said in build.circuit.items():
        lamps = [lamp for lamp in electrics.lamps.values() if lamp.part.circuit == circuit]
        origin = origin_of(build, said)
        if not lamps or origin is None:
            continue
        farthest = min(lamps, key=lambda lamp: (round(_arriving(lamp), 9), lamp.name))
        points = tuple(_points(survey, circuit, origin, farthest))
        if len(points) > 1:
            found.append(
                Way(
                    circuit, supply_of(build, said) or "", farthest.name, points, _takes(farthest), farthest.nominal
                )
            )  # fmt: skip
    return tuple(found)


def _arriving(lamp: LampFigures) -> float:
    """The volts that are left for a lamp and its resistor at the end of its lead."""
    part = lamp.part
    wires = ((part.feed, part.feeds), (part.back, part.backs))
    lost = sum(leg.ohms(20.0) * lamp.nominal * (part.parallel / count) for leg, count in wires)
    return lamp.feed_volts - lost


def _takes(lamp: LampFigures) -> float | None:
    return lamp.string_volts if lamp.string_volts > 0.0 else None


def _points(survey: Survey, circuit: str, origin: str, lamp: LampFigures) -> Iterator[WayPoint]:
    build, volts_at = survey.build, survey.electrics.potentials
    at, back = line_at(build), back_line(build, circuit)
    supply = supply_of(build, build.circuit[circuit]) or ""

    def between(line: str, other: str, place: str) -> float | None:
        one, two = volts_at.get((at(line, place), place)), volts_at.get((at(other, place), place))
        return None if one is None or two is None else abs(one - two)

    poles = between(f"{supply}+", f"{supply}-", origin)
    output = between(circuit, back, origin)
    if poles is not None and output is not None and poles - output > 1e-6:
        yield WayPoint("supply", 0.0, poles)
    metres = 0.0
    for metres, place in _path(build, survey, circuit, origin, lamp.part.feed.to):
        volts = between(circuit, back, place)
        if volts is not None:
            yield WayPoint(place, metres, volts)
    if lamp.part.has_lead and lamp.feed_volts > 0.0:
        yield WayPoint(lamp.name, metres + lamp.part.feed.length, _arriving(lamp))


def _path(build: Build, survey: Survey, circuit: str, origin: str, joint: str) -> list[tuple[float, str]]:
    """The places along the circuit's line with the metres of conductor to each, the shortest way."""
    neighbours = _neighbours(build, survey, circuit)
    known: dict[str, tuple[float, str]] = {origin: (0.0, "")}
    waiting = [(0.0, origin)]
    while waiting:
        metres, place = heappop(waiting)
        if metres > known[place][0]:
            continue
        for other, length in neighbours.get(place, ()):
            if other not in known or metres + length < known[other][0]:
                known[other] = (metres + length, place)
                heappush(waiting, (metres + length, other))
    if joint not in known:
        return []
    way, place = [], joint
    while place:
        way.append((known[place][0], place))
        place = known[place][1]
    return way[::-1]


def _neighbours(build: Build, survey: Survey, circuit: str) -> Mapping[str, list[tuple[str, float]]]:
    at = line_at(build)
    found: dict[str, list[tuple[str, float]]] = {}
    joined = {(line, join.place) for join in build.join for line in join.lines if circuit in join.lines}

    def on(line: str, place: str) -> bool:
        return at(line, place) == at(circuit, place) or any(line == other for other, _ in joined)

    for run in survey.parts.runs:
        if run.live and any(on(run.line, end) for end in run.ends):
            a, b = run.ends
            found.setdefault(a, []).append((b, run.length))
            found.setdefault(b, []).append((a, run.length))
    for plug in build.plug:
        if any(on(line, end) for line in plug.pins for end in plug.ends):
            a, b = plug.ends
            found.setdefault(a, []).append((b, 0.0))
            found.setdefault(b, []).append((a, 0.0))
    return found
