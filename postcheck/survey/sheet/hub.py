"""The hub map: what is joined to each line at each place."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import replace

from postcheck.description.naming import line_names
from postcheck.sheet import HubEnd, HubPlace, Joint
from postcheck.survey import Survey
from postcheck.survey.bench.test_points import lead_test_points
from postcheck.wiring import Wiring
from postcheck.wiring.consumers import Consumer, Leg
from postcheck.wiring.graph import Node
from postcheck.wiring.parts import RunPart

_Found = tuple[Node, Node | None, HubEnd]  # where it ends, and of a conductor its other end


def hub_places(survey: Survey) -> tuple[HubPlace, ...]:
    """Every place where conductors meet: its joints in the order of the file's lines, and what is joined to nothing."""
    build, wiring = survey.build, survey.wiring
    joints: dict[str, dict[Node, list[HubEnd]]] = {place: {} for place in build.place}
    loose: dict[str, list[HubEnd]] = {place: [] for place in build.place}
    steps, on_the_way = _steps_from_supply(wiring), _on_the_way(survey)
    for node, beyond, end in _ends(survey):
        if not node.net:  # of a circuit that no supply feeds yet
            loose[node.place].append(end)
            continue
        if beyond is not None:
            end = replace(  # noqa: PLW2901 - the same end, told more of
                end,
                comes=steps.get(beyond, 0) < steps.get(node, 0),
                ohms=on_the_way.pop((node, beyond), end.ohms),
            )
        joints[node.place].setdefault(node, []).append(end)
    for place, end in _loose(survey):
        loose[place].append(end)
    names: dict[Node, list[str]] = {}
    for first, other in _one_there(wiring):
        moved = joints[first.place].pop(other, None)
        if moved is not None and other != first:
            joints[first.place].setdefault(first, []).extend(moved)
            names.setdefault(first, []).append(other.net)
    order = {net: number for number, net in enumerate(line_names(build))}
    return tuple(
        HubPlace(
            place,
            build.place[place].access,
            tuple(
                Joint(
                    ", ".join((node.net, *names.get(node, ()))),
                    wiring.poles.get(node.net, ("", ""))[1],
                    tuple(ends),
                    node.net,
                )
                for node, ends in sorted(
                    here.items(), key=lambda item: (order.get(item[0].net, len(order)), -len(item[0].end))
                )
                if any(end.kind != "supply" for end in ends)
            ),
            tuple(loose[place]),
        )
        for place, here in joints.items()
        if here or loose[place]
    )


def _one_there(wiring: Wiring) -> Iterator[tuple[Node, Node]]:
    """Nodes that are one joint: a net that begins straight at a pole, with the pole; nets that are joined, with the first."""
    for edge in wiring.edges:
        if (edge.kind == "channel" and not wiring.drivers[edge.name].driven) or (
            edge.kind == "joint" and edge.number < 0
        ):
            yield edge.a, edge.b
    for edge in wiring.edges:
        if edge.kind == "joint" and edge.number >= 0:
            yield edge.a, edge.b


def _steps_from_supply(wiring: Wiring) -> dict[Node, int]:
    """How many conductors lie between each node and where its net begins."""
    graph = wiring.between("conductor", "body", "pin", "switch")
    starts = [
        *wiring.sources,
        *(
            node
            for driver in wiring.drivers.values()
            for node in (wiring.start(driver), wiring.ahead(driver.return_net, driver.place or ""))
        ),
    ]
    steps = dict.fromkeys(starts, 0)
    waiting = deque(steps)
    while waiting:
        node = waiting.popleft()
        for edge in graph.at.get(node, ()):
            if edge.other(node) not in steps:
                steps[edge.other(node)] = steps[node] + 1
                waiting.append(edge.other(node))
    return steps


def _on_the_way(survey: Survey) -> dict[tuple[Node, Node], float]:
    """Resistors that sit neither with their lamp nor at its lead: the run that each sits in, from where it sits, and its ohms."""
    wiring = survey.wiring
    positions = dict(
        position for test_point in lead_test_points(wiring) for position in test_point.resistor_positions
    )
    found: dict[tuple[Node, Node], float] = {}
    for consumer in wiring.consumers:
        part = wiring.parts.named[consumer.name]
        resistor = part.resistor
        if resistor is None or not resistor.place or positions.get(part.name) != "behind":
            continue
        leg = next(leg for leg in consumer.legs if leg.side == resistor.side)
        seat = wiring.node(leg.joint.net, resistor.place)
        path = wiring.wires.path(seat, leg.joint)
        if path:
            found[seat, path[0].other(seat)] = resistor.ohms
    return found


def _ends(survey: Survey) -> Iterator[_Found]:
    wiring = survey.wiring
    yield from _beginnings(wiring)
    yield from _fed(wiring)
    runs = {run.name: run for run in wiring.parts.runs}
    for edge in wiring.edges:
        for node, other in ((edge.a, edge.b), (edge.b, edge.a)):
            if edge.kind in ("conductor", "body") and edge.number == 0:
                yield node, other, _run(runs[edge.name], other.place)
            elif edge.kind == "pin":
                goes = other.place if other.place != node.place else ""
                yield node, other, HubEnd("plug", edge.name, leg=f"pin {edge.number + 1}", goes_to=goes)
            elif edge.kind == "switch":
                yield node, other, HubEnd("switch", wiring.switches[edge.name].name)
            elif edge.kind == "trace" and node == edge.b:
                yield node, None, HubEnd("strip", edge.name, leg="far end")
    yield from _legs(wiring)


def _loose(survey: Survey) -> Iterator[tuple[str, HubEnd]]:
    """Both ends of what carries no current."""
    for run in survey.parts.runs:
        if not run.live and (run.spare or not run.line):
            for place, other in (run.ends, run.ends[::-1]):
                yield place, _run(run, other)


def _beginnings(wiring: Wiring) -> Iterator[_Found]:
    """Where nets begin: at the poles of a supply, at an output, at a board."""
    for name, supply in wiring.build.supply.items():
        fuse = supply.fuse if supply.fuse is not None and supply.fuse.place in (None, supply.place) else None
        for pole in "+-":
            fused = fuse.rated if fuse is not None and pole == "+" else None
            yield wiring.terminal(name, pole), None, HubEnd("supply", name, leg=pole, comes=True, fuse=fused)
    for driver in wiring.drivers.values():
        if driver.place is not None and driver.driven:
            kind, by = ("board", driver.board) if driver.board is not None else ("supply", driver.supply)
            channel = wiring.build.circuit[driver.circuit].channel if driver.board is not None else None
            leg = f"channel {channel}" if channel is not None else "output"
            yield wiring.channels[driver.circuit].b, None, HubEnd(kind, by or "", leg=leg, comes=True)


def _fed(wiring: Wiring) -> Iterator[_Found]:
    """Boards and converters, where they take their own current."""
    for name, board in wiring.build.board.items():
        for pole in "+-":
            yield (
                wiring.pole(board.supply, pole, board.place),
                None,
                HubEnd("board", name, leg=f"input {pole}"),
            )
    for name, supply in wiring.build.supply.items():
        for pole in "+-" if supply.fed_by is not None else "":
            yield (
                wiring.pole(supply.fed_by or "", pole, supply.place),
                None,
                HubEnd("supply", name, leg=f"input {pole}"),
            )


def _run(run: RunPart, goes_to: str) -> HubEnd:
    return HubEnd(
        "run", run.name, colour=run.colour or "", wire=run.wire.name if run.wire else "", goes_to=goes_to,
        count=run.conductors, label=run.said.label or "",
    )  # fmt: skip


def _legs(wiring: Wiring) -> Iterator[_Found]:
    """The legs of leads, those of like strings as one; a shared leg once."""
    found: dict[Leg, tuple[Consumer, set[int | None]]] = {}
    for consumer in wiring.every_consumer:
        for leg in consumer.legs:
            alike = leg._replace(string=None)
            found.setdefault(alike, (consumer, set()))[1].add(leg.string)
    for leg, (consumer, strings) in found.items():
        part = wiring.parts.named[consumer.name]
        end = part.supply_leg if leg.side == "supply" else part.return_leg
        resistor = part.resistor
        other = part.return_leg if leg.side == "supply" else part.supply_leg
        # where the legs part, the one that ends where the resistor is has it, whichever side it is said to be on
        here = (
            resistor is not None
            and resistor.place == end.to
            and (resistor.side == leg.side or other.to != end.to)
        )
        lead = part.lead
        kind = consumer.kind if consumer.kind != "lamp" or lead is None else "lead"
        yield leg.joint, None, HubEnd(
            kind, part.name if leg.side == "supply" else part.entry, leg=leg.side, colour=end.colour or "",
            wire=end.wire.name if end.wire else "", goes_to=part.place if lead is not None else "",
            ohms=resistor.ohms if here and resistor is not None else None, count=len(strings),
            label=(lead.label if lead is not None else None) or "",
        )  # fmt: skip
