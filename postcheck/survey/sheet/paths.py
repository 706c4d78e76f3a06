"""The voltage of each circuit from its supply to the lamp that gets the fewest volts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from postcheck.sheet import CircuitPath, PathPoint
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.graph import Edge, Node
from postcheck.wiring.nets import Driver


def circuit_paths(survey: Survey) -> tuple[CircuitPath, ...]:
    """One path for each circuit with a lamp: everything on, parts as they usually are."""
    electrics = survey.electrics
    found = []
    for circuit, driver in survey.wiring.drivers.items():
        lamps = [lamp for lamp in electrics.lamps.values() if lamp.part.circuit == circuit]
        if not lamps or driver.place is None:
            continue
        farthest = min(lamps, key=lambda lamp: (round(_arriving(lamp), 9), lamp.name))
        points = tuple(_points(survey, driver, farthest))
        if len(points) > 1:
            found.append(
                CircuitPath(
                    circuit, driver.supply or "", farthest.name, points, _takes(farthest), farthest.nominal
                )
            )
    return _each_once(found)


def _each_once(paths: list[CircuitPath]) -> tuple[CircuitPath, ...]:
    """Circuits whose figures read the same are one path, which names them all."""
    alike: dict[tuple[object, ...], list[CircuitPath]] = {}
    for path in paths:
        alike.setdefault(_read(path), []).append(path)
    return tuple(
        replace(first, alike=tuple(other.circuit for other in others)) for first, *others in alike.values()
    )


def _read(path: CircuitPath) -> tuple[object, ...]:
    """What a sheet shows of a path: the places on the way, metres and volts to three digits, but no names of its own."""
    places = tuple(point.name for point in path.points[:-1])
    figures = (
        path.lost,
        path.takes or 0.0,
        path.current,
        *(value for point in path.points for value in (point.metres, point.volts)),
    )
    return path.supply, places, tuple(f"{value:.3g}" for value in figures)


def _arriving(lamp: LampFigures) -> float:
    """The volts that are left for a lamp and its resistor at the end of its lead."""
    part = lamp.part
    strings = (part.parallel if part.share == "lead" else 1, 1 if part.share == "nothing" else part.parallel)
    legs = (part.supply_leg, part.return_leg)
    return lamp.joint_volts - sum(
        leg.ohms(20.0) * lamp.nominal * of for leg, of in zip(legs, strings, strict=True)
    )


def _takes(lamp: LampFigures) -> float | None:
    return lamp.string_volts if lamp.string_volts > 0.0 else None


def _points(survey: Survey, driver: Driver, lamp: LampFigures) -> Iterator[PathPoint]:
    wiring, volts_at = survey.wiring, survey.electrics.potentials
    place = driver.place or ""

    def between(one: Node, other: Node) -> float | None:
        first, last = volts_at.get(one), volts_at.get(other)
        return None if first is None or last is None else abs(first - last)

    start, back = wiring.start(driver), wiring.ahead(driver.return_net, place)
    poles = between(
        wiring.pole(driver.supply or "", "+", place), wiring.pole(driver.supply or "", "-", place)
    )
    output = between(start, back)
    if poles is not None and output is not None and poles - output > 1e-6:
        yield PathPoint("supply", 0.0, poles)
    metres = 0.0
    for metres, node in _path(survey, start, wiring.node(driver.circuit, lamp.part.supply_leg.to)):
        other = back if node == start else wiring.node(driver.return_net, node.place)
        volts = between(node, other)
        if volts is not None:
            yield PathPoint(node.place, metres, volts)
    if lamp.part.lead is not None and lamp.joint_volts > 0.0:
        yield PathPoint(lamp.name, metres + lamp.part.supply_leg.length, _arriving(lamp))


def _path(survey: Survey, start: Node, joint: Node) -> Iterator[tuple[float, Node]]:
    """The places along a net with the metres of conductor to each, the shortest way."""
    lengths = {run.name: run.length for run in survey.parts.runs}

    def length(edge: Edge) -> float:
        return lengths.get(edge.name, 0.0) if edge.kind in ("conductor", "body") else 0.0

    edges = survey.wiring.wires.path(start, joint, length)
    if edges is None:
        return
    metres, node = 0.0, start
    found = [(metres, node)]
    for edge in edges:
        metres, node = metres + length(edge), edge.other(node)
        if node.place == found[-1][1].place:  # a plug or a joint there: the net behind it
            found[-1] = (metres, node)
        else:
            found.append((metres, node))
    yield from found
