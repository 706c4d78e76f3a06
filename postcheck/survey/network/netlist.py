"""The build as a network: nodes are (line, place) pairs and points between, elements are its parts.

`wire_up` fixes the structure once for a state (which circuits are on, what is broken); `Wiring.elements`
gives the numbers of a corner on that same structure, so the solver orders it only once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple

from postcheck.description.models import Board, Build, Output
from postcheck.description.naming import back_line, line_at, origin_of, supply_of
from postcheck.physics.network import (
    Demand,
    Drop,
    Element,
    Resistance,
    SteadyCurrent,
)
from postcheck.survey.network.elements import (
    Corner,
    Maker,
    Rises,
    StringMaker,
    dc_converter,
    fixed,
    limiting_resistor,
    supply_source,
    warmed_copper,
)
from postcheck.survey.network.supplies import typical_volts, volts_needed
from postcheck.wiring.parts import (
    LampPart,
    LegPart,
    LoadPart,
    Parts,
    ResistorPart,
    RunPart,
    StripPart,
)

__all__ = ["Loom", "State", "Wiring", "wire_up"]

# A plug pin or end of a run whose resistance the file does not state: small enough to change no figure,
# large enough to read the current through it.
CONTACT = 1e-3
# Chip resistors on strips are 5 % parts (common practice).
STRIP_TOLERANCE = 0.05
# Below this voltage an electronic load whose least voltage is unknown takes proportionally less.
LOAD_KNEE = 1.0
NO_RISES: Rises = MappingProxyType({})


class State(NamedTuple):
    """What is on and what is broken.

    `on`: the circuits that conduct. `broken`: runs that have come apart. `pins_open`: plug pins that do not meet.
    `crossed`: plugs put in the wrong way round. `open_strings`: strings (lamp, number) that have failed open;
    `short_strings`: those with a die that conducts like wire. `starting`: cold filaments and starting currents.
    `swapped`: supplies with another one in their place. `unlit`: nothing that hangs on the lines takes current, so that each lamp can be tried alone.
    """

    name: str
    on: frozenset[str]
    pins_open: frozenset[tuple[str, int]] = frozenset()
    broken: frozenset[str] = frozenset()
    crossed: frozenset[str] = frozenset()
    open_strings: frozenset[tuple[str, int]] = frozenset()
    short_strings: frozenset[tuple[str, int]] = frozenset()
    swapped: frozenset[tuple[str, str]] = frozenset()
    starting: bool = False
    unlit: bool = False


@dataclass(slots=True)
class Slot:
    """One element: what it belongs to, and how its numbers follow from a corner and the rise of each place's air."""

    kind: str
    name: str
    number: int
    make: Maker


@dataclass(slots=True)
class Wiring:
    """The network of one state.

    `index[(kind, name)]` lists element positions of a part, in order; `line_at` gives the name of a line at a place.
    """

    nodes: dict[tuple[str, ...], int]
    count: int
    line_at: Callable[[str, str], str]
    slots: list[Slot]
    index: dict[tuple[str, str], list[int]] = field(default_factory=dict)

    def elements(self, corner: Corner, rises: Rises = NO_RISES) -> tuple[Element, ...]:
        """The elements at a corner, no string warmed by itself; `rises`: of the air in each place, K."""
        return tuple(slot.make(corner, rises) for slot in self.slots)


def wire_up(build: Build, parts: Parts, state: State) -> Wiring:
    """The network of a build in a state."""
    return Loom(build, parts, state).wired()


class Loom:
    """Lays out the network of a build in a state. A bench supply at a lead has a layout of its own (bench/rig.py)."""

    def __init__(
        self, build: Build, parts: Parts, state: State, at: Callable[[str, str], str] | None = None
    ) -> None:
        self.build = build
        self.parts = parts
        self.state = state
        self.same: dict[tuple[str, ...], tuple[str, ...]] = {}
        self.ids: dict[tuple[str, ...], int] = {}
        self.count: int = 0
        self.slots: list[Slot] = []
        self.line_at: Callable[[str, str], str] = at or line_at(build)

    def wired(self) -> Wiring:
        """The whole build's network."""
        self._merge_joints()
        for run in self.parts.runs:
            if run.live and run.name not in self.state.broken:
                self._run(run)
        self._plugs()
        self._supplies()
        for name in self.build.circuit:
            if name in self.state.on:
                self._output(name)
        self._boards()
        shared: dict[str, tuple[str, ...]] = {}
        for lamp in self.parts.lamps:
            if lamp.circuit in self.state.on:
                self._lamp(lamp, shared)
        for strip in self.parts.strips:
            if strip.circuit in self.state.on:
                self._strip(strip)
        for load in self.parts.loads:
            if load.circuit in self.state.on:
                self._load_on(load)
        return self._laid_out()

    def _laid_out(self) -> Wiring:
        index: dict[tuple[str, str], list[int]] = {}
        for position, slot in enumerate(self.slots):
            index.setdefault((slot.kind, slot.name), []).append(position)
        nodes = {key: self._number(key) for key in list(self.ids)}
        return Wiring(nodes, self.count, self.line_at, self.slots, index)

    # -- nodes

    def _at(self, line: str, place: str) -> tuple[str, ...]:
        return (self.line_at(line, place), place)

    def _root(self, key: tuple[str, ...]) -> tuple[str, ...]:
        while key in self.same:
            key = self.same[key]
        return key

    def _tie(self, a: tuple[str, ...], b: tuple[str, ...]) -> None:
        a, b = self._root(a), self._root(b)
        if a != b:
            self.same[b] = a

    def _number(self, key: tuple[str, ...]) -> int:
        root = self._root(key)
        if root not in self.ids:
            self.ids[root] = self.count
            self.count += 1
        if root != key:
            self.ids[key] = self.ids[root]
        return self.ids[root]

    def _add(self, kind: str, name: str, number: int, make: Maker) -> None:
        self.slots.append(Slot(kind, name, number, make))

    def _run(self, run: RunPart) -> None:
        for number in range(run.conductors):
            self._add("run", run.name, number, self._wire(run.line, run.ends, run.ohms))

    def _wire(self, line: str, ends: tuple[str, str], ohms: Callable[..., float]) -> Maker:
        a, b = self._number(self._at(line, ends[0])), self._number(self._at(line, ends[1]))
        return lambda corner, _: Resistance(a, b, max(ohms(corner.copper, most=corner.most), 1e-9))

    # -- structure

    def _merge_joints(self) -> None:
        for join in self.build.join:
            for line in join.lines[1:]:
                self._tie(self._at(join.lines[0], join.place), self._at(line, join.place))
        for name, circuit in self.build.circuit.items():
            supply, place = supply_of(self.build, circuit), origin_of(self.build, circuit)
            if supply is None or place is None:
                continue
            pole = "+" if circuit.switched == "positive" else "-"
            if circuit.own_return:
                self._tie(
                    self._at(back_line(self.build, name), place), self._at(f"{supply}{_other(pole)}", place)
                )
            if name in self.state.on and self._output_of(name) is None:
                self._tie(self._at(f"{supply}{pole}", place), self._at(name, place))
        for strip in self.parts.strips:
            if strip.trace is None and strip.far_end is not None:
                back = back_line(self.build, strip.circuit)
                for line, leg in ((strip.circuit, strip.feed), (back, strip.back)):
                    self._tie(self._at(line, strip.far_end), self._strip_end(strip, line, leg))

    def _output_of(self, name: str) -> Output | Board | None:
        """What drives a circuit, where it loses volts or sets the current; None: straight from the pole."""
        circuit = self.build.circuit[name]
        driver = circuit.output or self.build.board.get(circuit.board or "")
        if driver is None or (driver.drop == 0.0 and driver.steady is None):
            return None
        return driver

    def _output(self, name: str) -> None:
        driver = self._output_of(name)
        circuit = self.build.circuit[name]
        supply, place = supply_of(self.build, circuit), origin_of(self.build, circuit)
        if driver is None or supply is None or place is None:
            return
        pole = self._number(self._at(f"{supply}{'+' if circuit.switched == 'positive' else '-'}", place))
        line = self._number(self._at(name, place))
        a, b = (pole, line) if circuit.switched == "positive" else (line, pole)
        if driver.steady is not None:
            self._add("output", name, 0, fixed(SteadyCurrent(a, b, driver.steady, volts_needed(driver))))
        else:
            self._add("output", name, 0, fixed(Drop(a, b, driver.drop)))

    def _boards(self) -> None:
        for name, board in self.build.board.items():
            if board.idle:
                a = self._number(self._at(f"{board.supply}+", board.place))
                b = self._number(self._at(f"{board.supply}-", board.place))
                idle, knee = board.idle, board.least_volts or LOAD_KNEE
                self._add("board", name, 0, fixed(Demand(a, b, idle, knee)))

    def _plugs(self) -> None:
        for plug in self.build.plug:
            ohms = max(plug.contact or 0.0, CONTACT)
            far = list(reversed(plug.pins)) if plug.name in self.state.crossed else plug.pins
            for number, (line, other) in enumerate(zip(plug.pins, far, strict=True)):
                if (plug.name, number) in self.state.pins_open:
                    continue
                a, b = self._number(self._at(line, plug.ends[0])), self._number(self._at(other, plug.ends[1]))
                self._add("plug", plug.name, number, fixed(Resistance(a, b, ohms)))

    def _supplies(self) -> None:
        instead = dict(self.state.swapped)
        for name, supply in self.build.supply.items():
            plus, minus = (
                self._number(self._at(f"{name}+", supply.place)),
                self._number(self._at(f"{name}-", supply.place)),
            )
            if supply.kind == "converter" and supply.fed_by is not None:
                into = self._number(self._at(f"{supply.fed_by}+", supply.place))
                back = self._number(self._at(f"{supply.fed_by}-", supply.place))
                idle = (supply.idle or 0.0) * typical_volts(self.build.supply[supply.fed_by])
                self._add("converter", name, 0, dc_converter(into, back, plus, minus, supply, idle))
            else:
                self._add(
                    "supply", name, 0, supply_source(plus, minus, self.build.supply[instead.get(name, name)])
                )

    # -- what hangs on the lines

    def _ends(self, circuit: str, feed: LegPart, back: LegPart) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """The joints of a lead: the side towards the positive pole first."""
        return self._at(circuit, feed.to), self._at(back_line(self.build, circuit), back.to)

    def _lamp(self, lamp: LampPart, shared: dict[str, tuple[str, ...]]) -> None:
        start, end = self._ends(lamp.circuit, lamp.feed, lamp.back)
        positive = self.build.circuit[lamp.circuit].switched == "positive"
        feed, back, resistor = lamp.feed, lamp.back, lamp.resistor
        alone = lamp.parallel == 1 and lamp.shares_back is None
        behind = resistor is not None and lamp.one_resistor and lamp.parallel > 1
        in_string: list[LegPart] = list(lamp.links)
        if alone:
            in_string += [feed, back]
        elif lamp.shares_back is not None and lamp.parallel == 1:
            in_string.append(feed)
            end = self._leg("back", lamp.entry, back, end, (lamp.entry, "common"), shared)
        else:
            if lamp.feeds > 1:
                in_string.append(feed)
            else:
                start = self._leg("feed", lamp.name, feed, start, (lamp.name, "feed"), shared)
            key = lamp.shares_back or lamp.name
            if lamp.backs > 1:
                in_string.append(back)
            else:
                end = self._leg("back", key, back, end, (key, "common"), shared)
            if behind and resistor is not None:
                point = (lamp.name, "behind")
                self._add(
                    "resistor",
                    lamp.name,
                    0,
                    limiting_resistor(self._number(start), self._number(point), resistor),
                )
                start = point
        a, b = self._number(start), self._number(end)
        if positive == lamp.backwards:
            a, b = b, a
        own = None if behind else resistor
        for number in range(lamp.parallel):
            if (lamp.name, number) in self.state.open_strings:
                continue
            short = (lamp.name, number) in self.state.short_strings
            dice, places = (
                (lamp.dice[1:], lamp.places[1:] or lamp.places) if short else (lamp.dice, lamp.places)
            )
            make = StringMaker((a, b), dice, places, own, in_string, self.state.starting)
            self._add("lamp", lamp.name, number, make)

    def _leg(
        self, kind: str, name: str, leg: LegPart, joint: tuple[str, ...], point: tuple[str, ...],
        shared: dict[str, tuple[str, ...]],
    ) -> tuple[str, ...]:  # fmt: skip
        if leg.wire is None:
            return joint
        if f"{kind} {name}" not in shared:
            shared[f"{kind} {name}"] = point
            a, b = self._number(joint), self._number(point)
            self._add(
                kind,
                name,
                0,
                lambda corner, _h: Resistance(a, b, max(leg.ohms(corner.copper, most=corner.most), 1e-9)),
            )
        return shared[f"{kind} {name}"]

    def _strip_end(self, strip: StripPart, line: str, leg: LegPart) -> tuple[str, ...]:
        return self._at(line, leg.to) if leg.wire is None else (strip.name, line)

    def _strip(self, strip: StripPart) -> None:
        back = back_line(self.build, strip.circuit)
        shared: dict[str, tuple[str, ...]] = {}
        top = self._leg(
            "feed",
            strip.name,
            strip.feed,
            self._at(strip.circuit, strip.feed.to),
            (strip.name, strip.circuit),
            shared,
        )
        low = self._leg(
            "back", strip.name, strip.back, self._at(back, strip.back.to), (strip.name, back), shared
        )
        chains = [
            (dice, ResistorPart(ohms, STRIP_TOLERANCE, None, strip.place, "feed"))
            for dice, ohms in strip.chains
        ]
        positive = self.build.circuit[strip.circuit].switched == "positive"
        for segment in range(strip.segments):
            if strip.trace is not None:
                ohms = max(strip.trace * strip.segment, 1e-9)  # measured, at 20 degC
                last = strip.far_end is not None and segment == strip.segments - 1
                for kind, line in (("trace", strip.circuit), ("trace-back", back)):
                    here = top if kind == "trace" else low
                    nxt = self._at(line, strip.far_end or "") if last else (strip.name, line, str(segment))
                    a, b = self._number(here), self._number(nxt)
                    self._add(kind, strip.name, segment, warmed_copper(a, b, ohms))
                    top, low = (nxt, low) if kind == "trace" else (top, nxt)
            a, b = self._number(top), self._number(low)
            if not positive:
                a, b = b, a
            for number, (dice, resistor) in enumerate(chains):
                make = StringMaker((a, b), dice, (strip.place,), resistor, ())
                self._add("strip", strip.name, segment * len(chains) + number, make)

    def _load_on(self, load: LoadPart) -> None:
        shared: dict[str, tuple[str, ...]] = {}
        back = back_line(self.build, load.circuit)
        top = self._leg(
            "feed", load.name, load.feed, self._at(load.circuit, load.feed.to), (load.name, "feed"), shared
        )
        low = self._leg(
            "back", load.name, load.back, self._at(back, load.back.to), (load.name, "back"), shared
        )
        a, b = self._number(top), self._number(low)
        if self.build.circuit[load.circuit].switched != "positive":
            a, b = b, a
        knee = load.lowest or LOAD_KNEE
        amps = (load.least, load.typical, load.most)
        start = load.starting if self.state.starting else None
        self._add(
            "load",
            load.name,
            0,
            lambda corner, _h: Demand(a, b, max(start or amps[corner.loads + 1], 1e-9), knee),
        )


def _other(pole: str) -> str:
    return "-" if pole == "+" else "+"
