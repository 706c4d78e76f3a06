"""What turns current into heat, and where: averaged over time, with everything on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from postcheck.description.models import Build
from postcheck.description.naming import origin_of, passages_of
from postcheck.physics.network import Converter, Resistance, Source, String, forward_voltage
from postcheck.survey.network.averages import average_load, delivered, flows_of, on_share
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.netlist import NO_RISES, Slot
from postcheck.survey.network.paths import Paths
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.supplies import converter_volts, typical_volts
from postcheck.wiring.legs import legs_of, lies, through_by_name
from postcheck.wiring.parts import LampPart, LegPart, Parts
from postcheck.wiring.through import passages_between

__all__ = ["Heat", "Heats", "take"]

# place, part, watts averaged over time
Heat = tuple[str, str, float]


@dataclass(frozen=True, slots=True)
class _Wire:
    """A conductor: what it is called, whose it is, how much of it lies where; `leg` of a lead, or None for a run or plug."""

    called: str
    kind: str
    name: str
    lies: tuple[tuple[str, float], ...]
    leg: LegPart | None = None
    strings: str = ""
    owner: str = ""
    share: float = 1.0


class Heats:
    """Everything of a build that dissipates.

    Light is counted as heat: nearly all of it stays in a closed body. A conductor dissipates where it lies: half at each
    of its ends, but for what lies in a passage, which warms that and no place (`wiring.legs.lies`); the contacts of a plug
    likewise. A lead inside a closed place warms that place.
    """

    def __init__(self, build: Build, parts: Parts) -> None:
        self.build = build
        self.parts = parts
        self._share: dict[str, float] = {name: on_share(build, name) for name in build.circuit}
        self._wires: tuple[_Wire, ...] = (*self._runs(), *self._legs())

    def _runs(self) -> Iterator[_Wire]:
        named = through_by_name(self.build)
        long = {name: passage.length for name, passage in passages_of(self.build).items()}
        for run in self.parts.runs:
            if run.live:
                through = dict.fromkeys((*run.through, *named.get(run.name, ())))
                where = lies(run.ends, run.length, through, long)
                yield _Wire(f"the wire of {run.name}", "run", run.name, tuple(where.items()))
        for plug in self.build.plug:
            where = lies(plug.ends, 0.0, (), long)
            yield _Wire(f"the contacts of {plug.name}", "plug", plug.name, tuple(where.items()))

    def _legs(self) -> Iterator[_Wire]:
        named, between = through_by_name(self.build), passages_between(self.build)
        long = {name: passage.length for name, passage in passages_of(self.build).items()}
        of = {lamp.name: ("lamp", lamp.circuit, lamp.shares_back) for lamp in self.parts.lamps}
        of |= {strip.name: ("strip", strip.circuit, None) for strip in self.parts.strips}
        of |= {load.name: ("load", load.circuit, None) for load in self.parts.loads}
        for name, entry, _, leg, start, data in dict.fromkeys(legs_of(self.parts)):
            if data.wire is None or data.length == 0.0:
                continue
            kind, circuit, shared = of[name]
            extra = (*named.get(name, ()), *(named.get(entry, ()) if entry != name else ()))
            through = dict.fromkeys((*between.get(frozenset((start, data.to)), ()), *extra))
            where = lies((start, data.to), data.length, through, long)
            owner = (shared or name) if leg == "back" else name
            yield _Wire(
                f"the lead of {entry}",
                leg,
                name,
                tuple(where.items()),
                data,
                kind,
                owner,
                self._share[circuit],
            )

    def rows(self, solved: Solved, paths: Paths) -> Iterator[Heat]:
        """Place, part and W of all that dissipates, from a solution with everything on."""
        for lamp in self.parts.lamps:
            yield from self.of_lamp(lamp, solved)
        for strip in self.parts.strips:
            watts = sum(_watts(solved, position) for position in solved.of("strip", strip.name))
            yield strip.place, strip.name, watts * self._share[strip.circuit]
        yield from self.of_others(solved, paths, solved.solution.amps, solved.corner)

    def of_others(self, solved: Solved, paths: Paths, amps: Sequence[float], wires: Corner) -> Iterator[Heat]:
        """The same of all but strings, with other currents in conductors and outputs, and wires at another corner."""
        build, parts = self.build, self.parts
        flowing = flows_of(parts, solved)
        averages = {
            name: average_load(build, name, delivered(solved, name), flowing)
            for name, supply in build.supply.items()
            if supply.kind == "converter"
        }
        for load in parts.loads:
            watts = sum(_watts(solved, position) for position in solved.of("load", load.name))
            yield load.place, load.name, watts * self._share[load.circuit]
        for name, circuit in build.circuit.items():
            place = origin_of(build, circuit)
            watts = sum(
                abs(amps[position] * solved.across(position)) for position in solved.of("output", name)
            )
            if place is not None:
                yield place, circuit.board or f"the output of {name}", watts * self._share[name]
        for name, board in build.board.items():
            yield board.place, name, sum(_watts(solved, position) for position in solved.of("board", name))
        for name, supply in build.supply.items():
            if supply.kind == "converter" and supply.fed_by is not None:
                volts, efficiency, _ = converter_volts(supply, 0)
                idle = (supply.idle or 0.0) * typical_volts(build.supply[supply.fed_by])
                yield supply.place, name, averages[name] * volts * (1.0 / efficiency - 1.0) + idle
        yield from self._conductors(solved, amps, wires, self._over_time(solved, paths, amps, averages))

    def of_lamp(self, lamp: LampPart, solved: Solved) -> Iterator[Heat]:
        """Of one lamp: its dice, and its resistor."""
        positions, share = solved.of("lamp", lamp.name), self._share[lamp.circuit]
        if lamp.resistor is not None:
            behind = solved.of("resistor", lamp.name)  # one for all strings, an element of its own
            watts = sum(_watts(solved, position) for position in behind)
            watts += sum(
                solved.solution.amps[position] ** 2 * solved.resistor(position) for position in positions
            )
            yield lamp.resistor.place, f"the resistor of {lamp.name}", watts * share
        for position in positions:
            for place, watts in _in_dice(lamp, solved, position):
                yield place, lamp.name, watts * share

    def _conductors(
        self, solved: Solved, amps: Sequence[float], corner: Corner, over_time: Mapping[int, float]
    ) -> Iterator[Heat]:
        slots = solved.wiring.slots
        for strip in self.parts.strips:
            for kind in ("trace", "trace-back"):
                watts = sum(
                    self._lost(slots, amps, k, corner, over_time) for k in solved.of(kind, strip.name)
                )
                yield strip.place, strip.name, watts
        for wire in self._wires:
            own = solved.of(wire.kind, wire.owner or wire.name)
            watts = sum(self._lost(slots, amps, k, corner, over_time) for k in own)
            if not own and wire.leg is not None:
                ohms = wire.leg.ohms(corner.copper, most=corner.most)
                strings = solved.of(wire.strings, wire.name)
                watts = sum(amps[position] ** 2 for position in strings) * ohms * wire.share
            if watts > 0.0:
                for place, share in wire.lies:
                    yield place, wire.called, watts * share

    @staticmethod
    def _lost(
        slots: Sequence[Slot],
        amps: Sequence[float],
        position: int,
        corner: Corner,
        over_time: Mapping[int, float],
    ) -> float:
        element = slots[position].make(corner, NO_RISES)
        ohms = element.ohms if isinstance(element, Resistance) else 0.0
        return amps[position] ** 2 * ohms * over_time.get(position, 1.0)

    def _over_time(
        self, solved: Solved, paths: Paths, amps: Sequence[float], averages: Mapping[str, float]
    ) -> dict[int, float]:
        """By conductor, its mean square current over that with everything on, where something flashes or is dimmed.

        With circuits that go on and off each for itself, for a share d of the time: (sum a d)**2 + sum a**2 d (1 - d).
        """
        taken: dict[tuple[str, float], dict[int, float]] = {}
        for kind, parts in (
            ("lamp", self.parts.lamps),
            ("strip", self.parts.strips),
            ("load", self.parts.loads),
        ):
            for part in parts:
                share = self._share[part.circuit]
                key = ("", 1.0) if share == 1.0 else (part.circuit, share)
                take(taken.setdefault(key, {}), solved, amps, solved.of(kind, part.name))
        if all(share == 1.0 for _, share in taken):
            return {}
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
        return {position: _mean_square(rows) for position, rows in flowing.items()}


def take(nodes: dict[int, float], solved: Solved, amps: Sequence[float], positions: Iterable[int]) -> None:
    """Add to what is taken out of each node (A) what these consumers take; a converter what it takes of its source."""
    for position in positions:
        element = solved.cold[position]
        if isinstance(element, Converter):
            a, b, taken = element.in_plus, element.in_minus, solved.solution.input_amps[position]
        elif isinstance(element, Source):
            continue
        else:
            a, b, taken = element.a, element.b, amps[position]
        nodes[a] = nodes.get(a, 0.0) + taken
        nodes[b] = nodes.get(b, 0.0) - taken


def _mean_square(rows: list[tuple[float, float]]) -> float:
    together = sum(amps for amps, _ in rows)
    if together == 0.0:
        return 1.0
    mean = sum(amps * share for amps, share in rows)
    return (mean * mean + sum(amps * amps * share * (1.0 - share) for amps, share in rows)) / (
        together * together
    )


def _watts(solved: Solved, position: int) -> float:
    return abs(solved.solution.amps[position] * solved.across(position))


def _in_dice(lamp: LampPart, solved: Solved, position: int) -> Iterator[tuple[str, float]]:
    """What each die of a string dissipates, without the resistor and leads that the string holds."""
    amps = solved.solution.amps[position]
    within = amps * amps * (solved.resistor(position) + solved.wires(position))
    total = max(_watts(solved, position) - within, 0.0)
    element = solved.elements[position] if len(lamp.places) > 1 else None
    if not isinstance(element, String) or amps <= 0.0:
        for place in lamp.places:
            yield place, total / len(lamp.places)
        return
    for place, diode in zip(solved.maker(position).places, element.diodes, strict=True):
        yield place, amps * forward_voltage(diode, amps)
