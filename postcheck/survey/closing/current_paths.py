"""What the current of a circuit goes through on its way from a test point to what is connected there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.test_points import TestPoint
from postcheck.wiring import Wiring
from postcheck.wiring.graph import Edge
from postcheck.wiring.parts import Part


def origin_test_point(wiring: Wiring, bench: Bench, circuit: str) -> TestPoint | None:
    """Where a circuit is measured: its line where it begins, else at the first place where both its lines end."""
    origin = wiring.drivers[circuit].place
    first = next((test_point for (name, _), test_point in bench.lines.items() if name == circuit), None)
    return bench.lines.get((circuit, origin or ""), first)


def behind(
    wiring: Wiring, test_point: TestPoint, connected: Iterable[Part]
) -> tuple[dict[tuple[str, ...], frozenset[str]], list[tuple[str, str]]]:
    """By each thing that a test point's current goes through, the names of the consumers behind it; and all joints."""
    found: dict[tuple[str, ...], set[str]] = {}
    joints: dict[tuple[str, str], None] = {}
    for name, by, joint in _path(wiring, test_point, connected):
        joints[name, joint] = None
        if by is not None:
            found.setdefault(by, set()).add(name)
    return {by: frozenset(names) for by, names in found.items()}, list(joints)


def _path(
    wiring: Wiring, test_point: TestPoint, connected: Iterable[Part]
) -> Iterator[tuple[str, tuple[str, ...] | None, str]]:
    """Each thing that is connected to a test point, what its current goes through, and its joint.

    Where there are two paths, one of them is listed: a current does not prove the other.
    """
    place, driver = test_point.plus.place, wiring.drivers[test_point.circuit]
    for side in ("supply", "return"):
        came = wiring.wires.paths_from(wiring.node(driver.net(side), place))
        for part in connected:
            net = wiring.drivers[part.circuit].net(side)
            joint = part.supply_leg.to if side == "supply" else part.return_leg.to
            node = wiring.node(net, joint)
            if node not in came:
                continue
            while (edge := came[node]) is not None:
                yield part.name, _thing(edge), joint
                node = edge.other(node)
            yield part.name, None, joint


def _thing(edge: Edge) -> tuple[str, ...] | None:
    """What a current goes through at an edge and is proven by it: kind, name, and the number of a pin; nothing of the rest."""
    if edge.kind in ("conductor", "body"):
        return ("run", edge.name)
    if edge.kind == "pin":
        return ("plug", edge.name, str(edge.number))
    if edge.kind == "joint" and edge.number >= 0:  # negative: where a separate return begins
        return ("join", str(edge.number))
    return None
