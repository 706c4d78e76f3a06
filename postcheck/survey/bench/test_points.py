"""Where a bench supply can be put: the lead of each lamp, strip and load, and each circuit's line at every place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.description.problems import Path
from postcheck.wiring import Wiring
from postcheck.wiring.graph import Node
from postcheck.wiring.parts import LampPart, LegPart, Parts

ResistorPosition = Literal["ahead", "here", "behind", "none"]
"""Where the resistor of a lamp sits, seen from a test point: `ahead` (between here and the lamp, so it protects), `here` (at
this very end: it protects what touches its free side), `behind` (nearer to the supply, so the end is bare), `none`."""

_WEAKEST: tuple[ResistorPosition, ...] = ("behind", "none", "here", "ahead")


class TestPointEnd(NamedTuple):
    """One of the two ends that a bench supply is put on: its net, the place, and its colour and wire where they are known."""

    net: str
    place: str
    colour: str | None = None
    wire: str | None = None


class TestPoint(NamedTuple):
    """A pair of ends. `kind`: lamp, strip, load (its own lead, before it is joined) or circuit (its line, with all that is connected there).

    `plus` is the end that goes to the positive pole in the finished model. `resistor_positions`: each lamp behind it and where that
    lamp's resistor sits; `others`: strips and loads behind it. `circuits`: its own and those whose lines are joined to it.
    `string`: of one string's own lead, which it is; None for all strings together.
    """

    kind: str
    name: str
    circuit: str
    path: Path
    plus: TestPointEnd
    minus: TestPointEnd
    resistor_positions: tuple[tuple[str, ResistorPosition], ...]
    others: tuple[str, ...] = ()
    label: str | None = None
    circuits: tuple[str, ...] = ()
    string: int | None = None

    @property
    def lamps(self) -> tuple[str, ...]:
        """The names of the lamps behind it."""
        return tuple(name for name, _ in self.resistor_positions)

    @property
    def resistor_position(self) -> ResistorPosition:
        """That of the lamp which is protected least."""
        held = {position for _, position in self.resistor_positions}
        return next((position for position in _WEAKEST if position in held), "ahead")

    @property
    def places(self) -> tuple[str, ...]:
        """Where its ends are held: one place, or two where the legs part."""
        return tuple(dict.fromkeys((self.plus.place, self.minus.place)))

    def strings(self, lamp: LampPart) -> int:
        """How many strings of a lamp behind it share its current: all of them, or the one whose lead it is."""
        return lamp.parallel if self.string is None else 1


def own_resistors(parts: Parts, test_point: TestPoint) -> bool:
    """Whether there are several strings behind a test point, each with a resistor of its own."""
    behind = dict(test_point.resistor_positions)
    strings = [lamp for lamp in parts.lamps if lamp.name in behind and lamp.resistor is not None]
    return sum(lamp.resistors for lamp in strings) > 1


def lead_test_points(wiring: Wiring) -> Iterator[TestPoint]:
    """The lead of every lamp (each colour of it), strip and load, at its joint: all of its strings together."""
    for consumer in wiring.consumers:
        if consumer.string > 0:
            continue
        part, driver = wiring.parts.named[consumer.name], consumer.driver
        lamp = isinstance(part, LampPart)
        resistor_positions = (
            ((part.name, _position_from_lead(wiring, part)),) if isinstance(part, LampPart) else ()
        )
        sides = _end(driver.circuit, part.supply_leg), _end(driver.return_net, part.return_leg)
        plus, minus = driver.ends(*sides)
        yield TestPoint(
            consumer.kind, part.name, driver.circuit, part.path, plus, minus, resistor_positions, () if lamp else (part.name,),
            consumer.label or None, (driver.circuit,),
        )  # fmt: skip


def line_test_points(wiring: Wiring) -> Iterator[TestPoint]:
    """Every circuit at every place where a conductor of both its sides ends."""
    ends = _conductor_ends(wiring)
    connected = _connected(wiring.parts)
    for circuit, joined in wiring.joined_circuits.items():
        driver = wiring.drivers[circuit]
        lamps = [lamp for one in joined for lamp in connected.get(one, ((), ()))[0]]
        others = tuple(name for one in joined for name in connected.get(one, ((), ()))[1])
        if not (lamps or others):
            continue
        for place in wiring.build.place:
            here, there = (ends.get(wiring.node(net, place)) for net in (circuit, driver.return_net))
            if here is None or there is None:
                continue
            resistor_positions = tuple((lamp.name, _position_from(wiring, lamp, place)) for lamp in lamps)
            plus, minus = driver.ends(
                TestPointEnd(circuit, place, *here), TestPointEnd(driver.return_net, place, *there)
            )
            yield TestPoint(
                "circuit",
                circuit,
                circuit,
                ("circuit", circuit),
                plus,
                minus,
                resistor_positions,
                others,
                None,
                joined,
            )


def _connected(parts: Parts) -> dict[str, tuple[list[LampPart], list[str]]]:
    """The lamps of each circuit, and its strips and loads by name."""
    found: dict[str, tuple[list[LampPart], list[str]]] = {}
    for part in parts.all:
        lamps, others = found.setdefault(part.circuit, ([], []))
        if not isinstance(part, LampPart):
            others.append(part.name)
        elif part.dice:
            lamps.append(part)
    return found


def _conductor_ends(wiring: Wiring) -> dict[Node, tuple[str | None, str | None]]:
    """Colour and wire of the conductor that ends at each node; of two, the first."""
    runs = {run.name: run for run in wiring.parts.runs}
    ends: dict[Node, tuple[str | None, str | None]] = {}
    for edge in wiring.edges:
        if edge.kind in ("conductor", "body"):
            run = runs[edge.name]
            shown = (run.colour, run.wire.name if run.wire else None)
        elif edge.kind in ("pin", "switch"):
            shown = (None, None)
        else:
            continue
        for node in (edge.a, edge.b):
            ends.setdefault(node, shown)
    return ends


def _end(net: str, leg: LegPart) -> TestPointEnd:
    return TestPointEnd(net, leg.to, leg.colour, leg.wire.name if leg.wire else None)


def _position_from_lead(wiring: Wiring, lamp: LampPart) -> ResistorPosition:
    if lamp.resistor is None:
        # inside the lamp it is ahead of every end of it
        return "ahead" if lamp.dice[0].volts is not None else "none"
    if lamp.resistor.place in {lamp.place, *lamp.places}:
        return "ahead"
    # where the legs end apart, a resistor in the supply leg may sit at the end of the other one: the string is the same
    if lamp.resistor.place in {lamp.supply_leg.to, lamp.return_leg.to}:
        return "here"
    return _threaded(wiring.build, lamp) or "behind"


def _threaded(build: Build, lamp: LampPart) -> ResistorPosition | None:
    """A resistor at an end of a passage that the lead goes through sits in the lead."""
    assert lamp.resistor is not None
    through = (p for p in passages_of(build).values() if lamp.entry in p.through)
    return "ahead" if any(lamp.resistor.place in (p.start, p.end) for p in through) else None


def _position_from(wiring: Wiring, lamp: LampPart, place: str) -> ResistorPosition:
    position = _position_from_lead(wiring, lamp)
    if position == "here":
        return "ahead"  # it sits between the line and its lead
    if position != "behind" or lamp.resistor is None:
        return position
    seat, side = lamp.resistor.place, lamp.resistor.side
    if seat == place:
        return "here"
    net = wiring.drivers[lamp.circuit].net(side)
    joint = lamp.supply_leg.to if side == "supply" else lamp.return_leg.to
    return "ahead" if wiring.passes(net, place, seat, joint) else "behind"
