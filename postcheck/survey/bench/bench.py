"""The bench: what every conductor end in reach feeds, what the full supply does there, and how to test it safely."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property
from math import inf

from postcheck.description.models import Build
from postcheck.description.naming import string_name
from postcheck.limits import Limits, above
from postcheck.survey.bench.figures import Backwards, Band, BenchFigures, Setting
from postcheck.survey.bench.rig import BENCH, EASIEST, LikeRig, Rig
from postcheck.survey.bench.settings import (
    band,
    contact_test,
    gentle_setting,
    setting,
    stands,
    tester,
    usual_setting,
)
from postcheck.survey.bench.test_points import TestPoint, lead_test_points, line_test_points
from postcheck.survey.network.dice import reverse_stood, worst_reverse
from postcheck.survey.network.supplies import converter_volts, gives_up, most_volts, source_of, typical_volts
from postcheck.wiring import Wiring
from postcheck.wiring.data import DieData
from postcheck.wiring.parts import MOTOR_STARTS, LampPart, LoadPart, Part, Parts

_WORST = ("may destroy", "shorts", "unknown", "dark", "the same")


def _worst_first(found: Backwards) -> tuple[int, float]:
    return _WORST.index(found.outcome), inf if found.stood is None else found.stood


class Bench:
    """The test points of a build and their figures, each worked out when it is asked for."""

    def __init__(self, wiring: Wiring, limits: Limits) -> None:
        parts, filament = wiring.parts, limits.value("filament.spread")
        load, free = limits.value("load.spread"), limits.value("motor.free")
        self.wiring: Wiring = wiring
        self.build: Build = wiring.build
        self.limits: Limits = limits
        self.parts: Parts = replace(parts, all=tuple(part.spread(load, free, 0.0) for part in parts.all))
        # a filament is driven by volts, whatever current it takes: its spread matters only for what a meter reads
        self._as_made: Parts = replace(
            parts, all=tuple(part.spread(load, free, filament) for part in parts.all)
        )
        self._lamps = {lamp.name: lamp for lamp in parts.lamps}
        self._known: dict[TestPoint, BenchFigures | None] = {}
        self._rigs: dict[tuple[TestPoint, bool, bool], Rig] = {}
        self._firsts: dict[tuple[object, ...], TestPoint] = {}

    @cached_property
    def leads(self) -> dict[tuple[str, str], TestPoint]:
        """The lead of every lamp (each colour of it), strip and load, by kind and name."""
        return {
            (test_point.kind, test_point.name): test_point for test_point in lead_test_points(self.wiring)
        }

    def lead(self, kind: str, name: str) -> TestPoint | None:
        """A lead by the name of its lamp, strip or load, or of one string that has a lead of its own."""
        test_point = self.leads.get((kind, name))
        if test_point is not None or kind != "lamp":
            return test_point
        lamp, _, number = name.rpartition(" ")
        part = self._lamps.get(lamp)
        if part is None or part.share == "lead" or not number.isdecimal():
            return None
        string, whole = int(number) - 1, self.leads[kind, lamp]
        return whole._replace(name=name, string=string) if 0 <= string < part.parallel else None

    def strings(self, lamp: LampPart) -> tuple[str, ...]:
        """The names of a lamp's strings, where each has a lead of its own; else none."""
        if lamp.parallel == 1 or lamp.share == "lead":
            return ()
        return tuple(string_name(lamp.name, string) for string in range(lamp.parallel))

    @cached_property
    def lines(self) -> dict[tuple[str, str], TestPoint]:
        """Every circuit at every place where both its lines have an end, by circuit and place."""
        return {
            (test_point.circuit, test_point.plus.place): test_point
            for test_point in line_test_points(self.wiring)
        }

    @cached_property
    def along(self) -> dict[str, tuple[TestPoint, ...]]:
        """The lines of each circuit, in the order of the places."""
        found: dict[str, list[TestPoint]] = {}
        for (circuit, _), test_point in self.lines.items():
            found.setdefault(circuit, []).append(test_point)
        return {circuit: tuple(test_points) for circuit, test_points in found.items()}

    def expected(
        self, test_point: TestPoint, volts: float, *, with_resistors: bool, ohms: float = 0.0, opened: frozenset[tuple[str, int]] = frozenset(),
        shorted: frozenset[tuple[str, int]] = frozenset(),
    ) -> Band | None:  # fmt: skip
        """The current at a bench voltage in V; `with_resistors`: through the resistors that belong before these ends.

        `ohms`: a resistor in the bench lead besides; `opened`: strings (lamp, number) that are dark; `shorted`: with an LED that is.
        """
        if opened or shorted:
            rig = Rig(
                self.wiring,
                self._as_made,
                test_point,
                with_resistors=with_resistors,
                opened=opened,
                shorted=shorted,
            )
            return band(rig, volts, ohms)
        lit = band(self.rig(test_point, with_resistors=with_resistors, as_made=True), volts, ohms)
        chips = frozenset(
            string
            for name in test_point.lamps
            if self._lamps[name].flashes is not None
            for string in self._lamps[name].string_names
        )
        if lit is None or not chips:
            return lit
        # a meter may show anything from the current with all of them dark
        dark = Rig(self.wiring, self._as_made, test_point, with_resistors=with_resistors, opened=chips)
        without = band(dark, volts, ohms)
        return lit._replace(least=0.0 if without is None else min(without.least, lit.least))

    def rig(self, test_point: TestPoint, *, with_resistors: bool, as_made: bool = False) -> Rig:
        """What is connected to a test point, to be solved; `as_made`: filaments with the spread of what they take."""
        with_resistors = with_resistors or test_point.resistor_position == "ahead"
        as_made = as_made and any(self._glows(name) for name in test_point.lamps)
        key = test_point, with_resistors, as_made
        if key not in self._rigs:
            first = self._first_like(test_point)
            if first != test_point:
                like = self.rig(first, with_resistors=with_resistors, as_made=as_made)
                self._rigs[key] = LikeRig(test_point, like)
            else:
                parts = self._as_made if as_made else self.parts
                self._rigs[key] = Rig(self.wiring, parts, test_point, with_resistors=with_resistors)
        return self._rigs[key]

    def _first_like(self, test_point: TestPoint) -> TestPoint:
        """The lead of the first lamp of this kind that was asked for; the lead itself where it is the first."""
        if test_point.kind != "lamp":
            return test_point
        [(name, position)] = test_point.resistor_positions
        alike = (self.wiring.parts.likeness[name], position, test_point.string)
        return self._firsts.setdefault(alike, test_point)

    def _glows(self, name: str) -> bool:
        """Whether a lamp is a filament."""
        return self._lamps[name].dice[0].filament_volts is not None

    def usual_volts(self, test_point: TestPoint) -> float | None:
        """The usual volts of a test point's supply, V; None where they are not known."""
        supply = self.build.supply.get(self.wiring.drivers[test_point.circuit].supply or "")
        return (typical_volts(supply) or None) if supply is not None else None

    def highest_volts(self, test_point: TestPoint) -> float:
        """The most that the supply of a test point can put on anything, V; 0 where it has none."""
        return self.highest_on(test_point.circuit)

    def highest_on(self, circuit: str) -> float:
        """The same of a circuit."""
        supply = self.build.supply.get(self.wiring.drivers[circuit].supply or "")
        return most_volts(supply) if supply is not None else 0.0

    def over(
        self, test_point: TestPoint, volts: float, *, with_resistors: bool = True, ohms: float = 0.0
    ) -> tuple[str, float, float] | None:
        """The lamp that is furthest over its rating with usual parts at these volts; None where none is over.

        With it, what a string of it takes, and what it is rated for, A. `with_resistors`, `ohms`: as for `expected`.
        """
        flow = self.rig(test_point, with_resistors=with_resistors).flow(volts, BENCH, ohms)
        strings = flow.strings if flow is not None else ()
        found = [(name, amps, self._lamps[name].rated) for name, amps in strings]
        worst = max(found, key=lambda one: one[1] / one[2], default=None)
        most = self.limits.value("lamp.current.stop")
        return worst if worst is not None and worst[1] > most * worst[2] else None

    def pulsed(self, test_point: TestPoint) -> bool:
        """Whether what is tested there flashes or is dimmed in the model: on the bench it is held on."""
        return self.build.circuit[test_point.circuit].behaviour != "steady"

    def stands_for_good(self, test_point: TestPoint, volts: float) -> bool:
        """Whether at these volts, through the resistors that belong there, every string stays within its continuous rating."""
        flow = self.rig(test_point, with_resistors=True).flow(volts, EASIEST)
        return flow is not None and all(amps <= stands(self._lamps[name]) for name, amps in flow.strings)

    def figures(self, test_point: TestPoint) -> BenchFigures | None:
        """Everything of a test point; None where the voltage of its supply is not known, or more than is judged."""
        if test_point not in self._known:
            self._known[test_point] = self._as_of_its_like(test_point)
        return self._known[test_point]

    def _as_of_its_like(self, test_point: TestPoint) -> BenchFigures | None:
        """The figures of the lead of a lamp are those of the first that is like it, but for its name."""
        first = self._first_like(test_point)
        if first == test_point:
            return self._figures(test_point)
        found = self.figures(first)
        if found is None:
            return None
        [(name, _)] = test_point.resistor_positions
        contact = found.contact_test._replace(worst=found.contact_test.worst and name)
        return found._replace(test_point=test_point, contact_test=contact)

    def _figures(self, test_point: TestPoint) -> BenchFigures | None:
        supply = self.build.supply.get(self.wiring.drivers[test_point.circuit].supply or "")
        usual = self.usual_volts(test_point)
        if supply is None or usual is None or above(most_volts(supply), self.limits.value("volts.scope")):
            return None
        highest, ohms = (
            (converter_volts(supply, 1)[0], 0.0) if supply.kind == "converter" else source_of(supply, 1)
        )
        bare = self.rig(test_point, with_resistors=False)
        touched = self.rig(self._touched(test_point), with_resistors=False)
        contact = contact_test(touched, self._lamps, highest, ohms, gives_up(supply)[1], self.limits)
        stood = min(self._turned(test_point).values(), default=inf)
        if contact.outcome in ("lights", "dark") and above(highest, stood):
            contact = contact._replace(outcome="unknown")
        safe = (
            setting(
                bare,
                self._lamps,
                usual,
                self.limits,
                self._to_start(test_point),
                steadily=self.pulsed(test_point),
            )
            if usual <= stood
            else None
        )
        as_made = self.rig(test_point, with_resistors=False, as_made=True)
        if as_made is not bare and safe is not None and not safe.held:
            more, steadily = self._to_start(test_point), self.pulsed(test_point)
            safe = usual_setting(as_made, self._lamps, safe.volts, self.limits, more, steadily=steadily)
        return BenchFigures(
            test_point, usual, contact, self._backwards(test_point, highest), safe,
            tester(bare, self._lamps, usual, highest, self.limits) if safe is not None and safe.held else None,
            self.expected(test_point, usual, with_resistors=True) if test_point.resistor_position in ("here", "behind") else None,
        )  # fmt: skip

    def _touched(self, test_point: TestPoint) -> TestPoint:
        """What the full supply is put on: where each string has a lead of its own, one, which then has all of the current."""
        lamp = self._lamps.get(test_point.name) if test_point.kind == "lamp" else None
        if lamp is None or not self.strings(lamp):
            return test_point
        return test_point._replace(name=string_name(lamp.name, 0), string=0)

    def usual_setting(self, test_point: TestPoint) -> Setting | None:
        """The usual volts through every resistor that belongs there; None where those are not known."""
        usual = self.usual_volts(test_point)
        if usual is None:
            return None
        rig = self.rig(test_point, with_resistors=True, as_made=True)
        return usual_setting(rig, self._lamps, usual, self.limits, self._to_start(test_point), steadily=True)

    def gentle_setting(self, test_point: TestPoint) -> Setting | None:
        """Through every resistor that belongs there, volts low enough that every string stays within its continuous rating."""
        usual = self.usual_volts(test_point)
        rig = self.rig(test_point, with_resistors=True, as_made=True)
        return None if usual is None else gentle_setting(rig, self._lamps, usual)

    def _to_start(self, test_point: TestPoint) -> float:
        """What is connected to a test point takes more while it starts, A."""
        return sum(part.surge(MOTOR_STARTS) for part in self._others(test_point))

    def _others(self, test_point: TestPoint) -> Iterator[Part]:
        """All that is connected to a test point but lamps."""
        return (self.parts.named[name] for name in test_point.others)

    def _backwards(self, test_point: TestPoint, volts: float) -> Backwards:
        """The weakest parts connected there: the LED and the load that withstand least backwards."""
        found = [*self._dice_backwards(test_point, volts)]
        for part in self._others(test_point):
            if part.dice:
                continue
            if isinstance(part, LoadPart) and part.motor and part.diode is not None:
                found.append(Backwards(volts, None, "shorts"))
            elif part.reverse is None:
                found.append(Backwards(volts, None, "unknown"))
            elif part.reverse == inf:
                found.append(Backwards(volts, None, "the same"))
            else:
                found.append(
                    Backwards(volts, part.reverse, "dark" if volts <= part.reverse else "may destroy")
                )
        return min(found, key=_worst_first, default=Backwards(volts, None, "unknown"))

    def _dice_backwards(self, test_point: TestPoint, volts: float) -> Iterator[Backwards]:
        for dice in self._dice(test_point):
            if dice[0].filament_volts is not None:
                yield Backwards(volts, None, "the same")
                continue
            stood, _ = reverse_stood(dice, self.limits)
            yield Backwards(volts, stood, "may destroy" if worst_reverse(dice, volts) > stood else "dark")
        # one that is wired the wrong way round is then the right way round
        if turned := self._turned(test_point):
            flow = self.rig(test_point, with_resistors=False).flow(-volts, EASIEST)
            most = self.limits.value("lamp.current.caution")
            through = [string for string in flow.strings if string[0] in turned] if flow else []
            harmed = not through or any(amps > most * self._lamps[name].rated for name, amps in through)
            yield Backwards(volts, None, "may destroy" if harmed else "unknown")

    def _turned(self, test_point: TestPoint) -> dict[str, float]:
        """The LEDs that are wired the wrong way round, and the reverse voltage that they withstand, V."""
        lamps = (self._lamps[name] for name in test_point.lamps)
        return {lamp.name: reverse_stood(lamp.dice, self.limits)[0] for lamp in lamps if lamp.backwards}

    def _dice(self, test_point: TestPoint) -> list[tuple[DieData, ...]]:
        lamps = (self._lamps[name] for name in test_point.lamps)
        return [lamp.dice for lamp in lamps if not lamp.backwards] + [
            dice for part in self._others(test_point) for dice in part.strings
        ]
