"""What turns current into heat, and where: averaged over time, or lit for good, with everything on."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from typing import Literal, NamedTuple
from weakref import WeakMethod

from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.physics import copper
from postcheck.physics.network import (
    Converter,
    Element,
    Filament,
    Resistance,
    Source,
    String,
    forward_voltage,
)
from postcheck.survey.network.averages import average_load, delivered, duty_cycle, flows_of
from postcheck.survey.network.elements import Corner, StringMaker
from postcheck.survey.network.netlist import NO_RISES, Netlist
from postcheck.survey.network.paths import Paths
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.supplies import converter_volts, efficiency_of, typical_volts
from postcheck.wiring import Wiring
from postcheck.wiring.parts import LampPart, Part, Parts
from postcheck.wiring.through import lies

# place, part, watts averaged over time
Heat = tuple[str, str, float]

_What = Literal["whole", "dice", "dice here", "resistor", "leg", "conductor"]
"""What dissipates of an element: all of it; of a string its dice, those at one place, its resistor, its wires; a conductor."""


_CALLED = {"run": "the wire of", "plug": "the contacts of"}


def called_as(kind: str, name: str) -> str:
    """What the heat of a run or a plug is called; all else goes by its name."""
    return f"{_CALLED[kind]} {name}" if kind in _CALLED else name


class _Term(NamedTuple):
    """A part in a place: of which element, what of it, for what share of the time (of a conductor: how much of it lies there).

    `ohms`: of its wires that lie there at 20 degC, of the usual wire and the worst within its standard.
    """

    place: str
    called: str
    position: int
    what: _What
    share: float
    ohms: tuple[float, float] = (0.0, 0.0)


class Heats:
    """Everything of a build that dissipates, by the elements of its network with everything on.

    Light is counted as heat: nearly all of it stays in a closed body. A conductor dissipates where it lies: half at each
    of its ends, but for what lies in a passage, which warms that and no place (`wiring.through.lies`); the contacts of a plug
    likewise. A lead inside a closed place warms that place. `steadily`: what flashes or is dimmed is on for good. `idle`: the
    solution at a corner with nothing taken, of the states that have this; they must not keep each other.
    """

    def __init__(
        self,
        wiring: Wiring,
        netlist: Netlist,
        idle: WeakMethod[Callable[[Corner], Solved | None]],
        steadily: bool = False,
    ) -> None:
        build, parts = wiring.build, wiring.parts
        self.wiring: Wiring = wiring
        self.build: Build = build
        self.parts: Parts = parts
        self._index = netlist.index
        self._slots = netlist.slots
        self._shared: dict[tuple[str, str, int], int] = {
            (slot.kind, slot.name, slot.number): position
            for position, slot in enumerate(netlist.slots)
            if slot.kind.endswith(" leg")
        }
        self._steadily = steadily
        self._idle = idle
        self._share: dict[str, float] = {
            name: 1.0 if steadily else duty_cycle(build, name) for name in build.circuit
        }
        self._strings: dict[str, tuple[_Term, ...]] = {
            part.name: tuple(self._of_strings(part)) for part in parts.all if part.dice
        }
        self._others: tuple[_Term, ...] = (*self._consumers(), *self._runs(), *self._legs())
        self._filtered: dict[frozenset[str], tuple[_Term, ...]] = {}
        self._sharing: dict[tuple[str, float], list[int]] = {}
        for part in parts.all:
            share = self._share[part.circuit]
            key = ("", 1.0) if share == 1.0 else (part.circuit, share)
            self._sharing.setdefault(key, []).extend(netlist.index.get((part.kind, part.name), ()))

    def rows(self, solved: Solved, paths: Paths) -> tuple[Heat, ...]:
        """Place, part and W of all that dissipates, from a solution with everything on; each part once a place."""
        terms = (*(term for of in self._strings.values() for term in of), *self._others)
        watts: dict[tuple[str, str], float] = {}
        for place, part, more in self._all(terms, solved, paths, solved.solution.amps, None):
            watts[place, part] = watts.get((place, part), 0.0) + more
        return tuple((place, part, whole) for (place, part), whole in watts.items())

    def by_place(self, solved: Solved, paths: Paths, places: frozenset[str]) -> dict[str, float]:
        """W in each of some places."""
        if places not in self._filtered:
            terms = (*(term for of in self._strings.values() for term in of), *self._others)
            self._filtered[places] = tuple(term for term in terms if term.place in places)
        return _summed(self._all(self._filtered[places], solved, paths, solved.solution.amps, None), places)

    def of_string(self, name: str, solved: Solved) -> Iterator[Heat]:
        """Of one lamp or strip: its dice, and their resistors."""
        return _rows(self._strings[name], solved, solved.solution.amps, None, {})

    def of_others(self, solved: Solved, paths: Paths, amps: Sequence[float], wires: Corner) -> Iterator[Heat]:
        """Of all but those, with other currents in conductors and outputs, and wires at another corner."""
        return self._all(self._others, solved, paths, amps, wires)

    def _all(
        self,
        terms: Sequence[_Term],
        solved: Solved,
        paths: Paths,
        amps: Sequence[float],
        wires: Corner | None,
    ) -> Iterator[Heat]:
        converters = [
            (name, supply)
            for name, supply in self.build.supply.items()
            if supply.fed_by is not None and name in self.wiring.known_supplies
        ]
        averages: dict[str, float] = {}
        if converters:
            flowing = flows_of(self.parts, solved)
            averages = {name: delivered(solved, name) for name, _ in converters}
            if not self._steadily:
                averages = {
                    name: average_load(self.wiring, name, full, flowing) for name, full in averages.items()
                }
        for name, supply in converters:
            source = self.build.supply[supply.fed_by or ""]
            volts, efficiency = converter_volts(supply, 0)[0], efficiency_of(supply, source)
            idle = (supply.idle or 0.0) * typical_volts(source)
            yield supply.place, name, averages[name] * volts * (1.0 / efficiency - 1.0) + idle
        yield from _rows(terms, solved, amps, wires, self._over_time(solved, paths, amps, averages))

    # -- what there is

    def _of(self, kind: str, name: str, place: str, called: str, share: float) -> Iterator[_Term]:
        for position in self._index.get((kind, name), ()):
            yield _Term(place, called, position, "whole", share)

    def _of_part(self, part: Part) -> Iterator[_Term]:
        return self._of(part.kind, part.name, part.place, part.name, self._share[part.circuit])

    def _of_strings(self, lamp: Part) -> Iterator[_Term]:
        """What strings dissipate: of a lamp its dice apart from their resistors, of all else all in its place."""
        if not isinstance(lamp, LampPart):
            yield from self._of_part(lamp)
            return
        share = self._share[lamp.circuit]
        called = f"the resistor of {lamp.name}"
        if lamp.resistor is not None:  # one for all strings is an element of its own
            yield from self._of("resistor", lamp.name, lamp.resistor.place, called, share)
        for position in self._index.get(("lamp", lamp.name), ()):
            maker = self._slots[position].make
            if not isinstance(maker, StringMaker):
                continue
            if maker.resistor is not None:
                yield _Term(maker.resistor.place, called, position, "resistor", share)
            places = dict.fromkeys(maker.places)
            for place in places:
                yield _Term(place, lamp.name, position, "dice" if len(places) == 1 else "dice here", share)

    def _consumers(self) -> Iterator[_Term]:
        for part in self.parts.all:
            if not part.dice:
                yield from self._of_part(part)
        for name, driver in self.wiring.drivers.items():
            called = driver.board or f"the output of {name}"
            if driver.place is not None:
                yield from self._of("output", name, driver.place, called, self._share[name])
        for name, board in self.build.board.items():
            yield from self._of("board", name, board.place, name, 1.0)

    def _runs(self) -> Iterator[_Term]:
        long = self._long()
        for run in self.parts.runs:
            if run.live:
                where = lies(run.ends, run.length, run.through, long)
                yield from self._conductors("run", run.name, called_as("run", run.name), where)
        for plug in self.build.plug:
            where = lies(plug.places, 0.0, (), long)
            yield from self._conductors("plug", plug.name, called_as("plug", plug.name), where)
        for line, switch in self.wiring.switches.items():
            yield from self._conductors("switch", line, f"the switch of {switch.name}", {switch.place: 1.0})
        for strip in self.parts.strips:
            for kind in ("trace", "trace-back"):
                yield from self._conductors(kind, strip.name, strip.name, {strip.place: 1.0})

    def _long(self) -> dict[str, float]:
        return {name: passage.length for name, passage in passages_of(self.build).items()}

    def _conductors(self, kind: str, name: str, called: str, where: Mapping[str, float]) -> Iterator[_Term]:
        for position in self._index.get((kind, name), ()):
            for place, share in where.items():
                yield _Term(place, called, position, "conductor", share)

    def _legs(self) -> Iterator[_Term]:
        """Legs that are elements of their own, and those that belong to a string."""
        long = self._long()
        for wire in self.wiring.fine_wires:
            data = wire.data
            if data.wire is None or data.length == 0.0:
                continue
            part = self.parts.named[wire.name]
            where = lies((wire.start, wire.to), data.length, wire.through, long)
            called, number = f"the lead of {wire.entry}", wire.string or 0
            shared = self._shared.get((f"{wire.leg} leg", wire.owner, number))
            if shared is not None:
                for place, share in where.items():
                    yield _Term(place, called, shared, "conductor", share)
                continue
            for position in self._index.get((part.kind, wire.name), ()):
                if wire.string not in (None, self._slots[position].number):
                    continue
                for place, share in where.items():
                    ohms = data.ohms(20.0) * share, data.ohms(20.0, most=True) * share
                    yield _Term(place, called, position, "leg", self._share[part.circuit], ohms)

    def _over_time(
        self, solved: Solved, paths: Paths, amps: Sequence[float], averages: Mapping[str, float]
    ) -> Mapping[int, float]:
        """By conductor, its mean square current over that with everything on, where something flashes or is dimmed.

        With circuits that go on and off each for itself, for a share d of the time: (sum a d)**2 + sum a**2 d (1 - d).
        """
        if all(share == 1.0 for _, share in self._sharing) and not averages:
            return {}
        taken: dict[tuple[str, float], dict[int, float]] = {}
        for key, positions in self._sharing.items():
            take(taken.setdefault(key, {}), solved, amps, positions)
        for name in self.build.board:
            take(taken.setdefault(("", 1.0), {}), solved, amps, solved.of("board", name))
        for name, average in averages.items():
            full = delivered(solved, name)
            share = min(average / full, 1.0) if full > 0.0 else 1.0
            take(
                taken.setdefault((f"converter {name}", share), {}), solved, amps, solved.of("converter", name)
            )
        flowing: dict[int, list[tuple[float, float]]] = {}
        for (_, share), nodes in taken.items():
            for positions, passing in paths.flows(nodes):
                for position in positions:
                    flowing.setdefault(position, []).append((passing, share))
        joined = _along_loops(paths, flowing, solved.elements)
        found = {position: _mean_square(rows) for position, rows in flowing.items()}
        if joined and (of := self._idle()) is not None and (idle := of(solved.corner)) is not None:
            # what one supply pushes into another flows all the time, even if something flashes
            for position, pushed in enumerate(idle.solution.amps):
                rows = flowing.get(position, [])
                found[position] = _mean_square(_beside(rows, pushed, solved.solution.amps[position]))
        return found


def _along_loops(
    paths: Paths, flowing: dict[int, list[tuple[float, float]]], elements: Sequence[Element]
) -> bool:
    """Give all of a loop what flows in the largest of its currents that are known, and tell whether one joins two supplies.

    How a loop divides the current of each circuit is not worked out.
    """
    size = [0.0] * len(elements)
    for position, rows in flowing.items():
        size[position] = abs(sum(amps for amps, _ in rows))
    feeding = {k for k, element in enumerate(elements) if isinstance(element, Source | Converter)}
    joined = False
    for loop in paths.loops():
        largest = max(loop, key=size.__getitem__)
        for position in loop:
            if position not in flowing:
                flowing[position], size[position] = flowing.get(largest, []), size[largest]
        joined = joined or len(feeding.intersection(loop)) > 1
    return joined


def _rows(
    terms: Iterable[_Term],
    solved: Solved,
    amps: Sequence[float],
    wires: Corner | None,
    over_time: Mapping[int, float],
) -> Iterator[Heat]:
    """`amps`: in conductors, leads and outputs; `wires`: their corner, if not that of the solution."""
    corner = wires or solved.corner
    warm = copper.at_temperature(1.0, corner.copper)
    found, elements = solved.solution.amps, solved.elements
    for place, called, position, what, share, ohms in terms:
        i = amps[position]
        if what == "leg":
            yield place, called, i * i * ohms[corner.most] * warm * share
        elif what == "conductor":
            made = (
                elements[position] if wires is None else solved.netlist.slots[position].make(wires, NO_RISES)
            )
            yield place, called, i * i * _ohms(made) * over_time.get(position, 1.0) * share
        elif what == "whole":
            yield place, called, abs(i * solved.across(position)) * share
        elif what == "resistor":
            i = found[position]
            yield place, called, i * i * solved.resistor(position) * share
        elif what == "dice":
            i = found[position]
            dice = abs(i * solved.across(position)) - i * i * _ohms(elements[position])
            yield place, called, max(dice, 0.0) * share
        else:  # the dice here
            yield place, called, _some_dice(solved, position, place) * share


def _ohms(element: Element) -> float:
    return element.ohms if isinstance(element, Resistance | String | Filament) else 0.0


def _some_dice(solved: Solved, position: int, place: str) -> float:
    """What the dice of a string in one of several places dissipate."""
    element, amps, places = (
        solved.elements[position],
        solved.solution.amps[position],
        solved.maker(position).places,
    )
    if isinstance(element, String):
        here = (diode for there, diode in zip(places, element.diodes, strict=True) if there == place)
        return max(amps, 0.0) * sum(forward_voltage(diode, max(amps, 0.0), element.most) for diode in here)
    whole = abs(amps * solved.across(position)) - amps * amps * _ohms(element)
    return max(whole, 0.0) * places.count(place) / len(places)


def _summed(rows: Iterable[Heat], places: Container[str]) -> dict[str, float]:
    watts: dict[str, float] = {}
    for place, _, more in rows:
        if place in places:
            watts[place] = watts.get(place, 0.0) + more
    return watts


def take(nodes: dict[int, float], solved: Solved, amps: Sequence[float], positions: Iterable[int]) -> None:
    """Add to what is taken out of each node (A) what these consumers take; a converter what it takes of its source."""
    for position in positions:
        element = solved.elements[position]
        if isinstance(element, Converter):
            a, b, taken = element.in_plus, element.in_minus, solved.solution.input_amps[position]
        elif isinstance(element, Source):
            continue
        else:
            a, b, taken = element.a, element.b, amps[position]
        nodes[a] = nodes.get(a, 0.0) + taken
        nodes[b] = nodes.get(b, 0.0) - taken


def _beside(rows: list[tuple[float, float]], pushed: float, whole: float) -> list[tuple[float, float]]:
    """What flashers take through a conductor, with what is pushed through it all the time; `whole`: A in all."""
    together = sum(amps for amps, _ in rows)
    if together == 0.0:
        return [(whole, 1.0)]
    return [(pushed, 1.0), *((amps * (whole - pushed) / together, share) for amps, share in rows)]


def _mean_square(rows: list[tuple[float, float]]) -> float:
    together = sum(amps for amps, _ in rows)
    if together == 0.0:
        return 1.0
    mean = sum(amps * share for amps, share in rows)
    spread = sum(amps * amps * share * (1.0 - share) for amps, share in rows)
    return (mean * mean + spread) / (together * together)
