"""The bench: what every conductor end in reach feeds, what the full supply does there, and how to test it safely."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property
from math import inf

from postcheck.description.models import Build
from postcheck.description.naming import string_name
from postcheck.limits import Limits
from postcheck.survey.bench.figures import Backwards, Band, BenchFigures
from postcheck.survey.bench.rig import BENCH, EASIEST, Rig
from postcheck.survey.bench.settings import band, setting, tester, touch
from postcheck.survey.bench.test_points import Tap, lead_taps, line_taps
from postcheck.survey.network.dice import reverse_stood, worst_reverse
from postcheck.survey.network.supplies import converter_volts, gives_up, source_of, typical_volts
from postcheck.wiring import Wiring
from postcheck.wiring.data import DieData
from postcheck.wiring.parts import LampPart, LoadPart, Parts

__all__ = ["Bench"]

_WORST = ("may destroy", "unknown", "dark", "the same")


def _loads(parts: Parts, spread: float) -> Iterator[LoadPart]:
    """The loads as they may come: where the file gives only what they usually take, with the usual spread of that."""
    for part in parts.loads:
        said = part.said
        yield part._replace(
            least=part.typical * (1.0 - spread) if said.least is None else part.least,
            most=part.typical * (1.0 + spread) if said.most is None else part.most,
        )


def _worst_first(found: Backwards) -> tuple[int, float]:
    return _WORST.index(found.outcome), inf if found.stood is None else found.stood


# A small brushed motor takes three to six times its load current while it starts, where the file does not say; from memory.
MOTOR_STARTS = 5.0


class Bench:
    """The taps of a build and their figures, each worked out when it is asked for."""

    def __init__(self, wiring: Wiring, limits: Limits) -> None:
        parts = wiring.parts
        self.wiring: Wiring = wiring
        self.build: Build = wiring.build
        self.limits: Limits = limits
        self.parts: Parts = replace(parts, loads=tuple(_loads(parts, limits.value("load.spread"))))
        self._lamps = {lamp.name: lamp for lamp in parts.lamps if lamp.dice}
        self._known: dict[Tap, BenchFigures | None] = {}
        self._rigs: dict[tuple[Tap, bool], Rig] = {}

    @cached_property
    def leads(self) -> dict[tuple[str, str], Tap]:
        """The lead of every lamp (each colour of it), strip and load, by kind and name."""
        return {
            (tap.kind, tap.name): tap
            for tap in lead_taps(self.wiring)
            if all(name in self._lamps for name, _ in tap.guards)
        }

    def lead(self, kind: str, name: str) -> Tap | None:
        """A lead by the name of its lamp, strip or load, or of one string that has a lead of its own."""
        tap = self.leads.get((kind, name))
        if tap is not None or kind != "lamp":
            return tap
        lamp, _, number = name.rpartition(" ")
        part, whole = self._lamps.get(lamp), self.leads.get((kind, lamp))
        if part is None or whole is None or part.share == "lead" or not number.isdecimal():
            return None
        string = int(number) - 1
        return whole._replace(name=name, string=string) if 0 <= string < part.parallel else None

    def strings(self, lamp: LampPart) -> tuple[str, ...]:
        """The names of a lamp's strings, where each has a lead of its own; else none."""
        if lamp.parallel == 1 or lamp.share == "lead":
            return ()
        return tuple(string_name(lamp.name, string) for string in range(lamp.parallel))

    @cached_property
    def lines(self) -> dict[tuple[str, str], Tap]:
        """Every circuit at every place where both its lines have an end, by circuit and place."""
        return {(tap.circuit, tap.plus.place): tap for tap in line_taps(self.wiring)}

    @cached_property
    def along(self) -> dict[str, tuple[Tap, ...]]:
        """The lines of each circuit, in the order of the places."""
        found: dict[str, list[Tap]] = {}
        for (circuit, _), tap in self.lines.items():
            found.setdefault(circuit, []).append(tap)
        return {circuit: tuple(taps) for circuit, taps in found.items()}

    def expected(
        self, tap: Tap, volts: float, *, guarded: bool, ohms: float = 0.0, opened: frozenset[tuple[str, int]] = frozenset(),
        shorted: frozenset[tuple[str, int]] = frozenset(),
    ) -> Band | None:  # fmt: skip
        """The current at a bench voltage in V; `guarded`: through the resistors that belong before these ends.

        `ohms`: a resistor in the bench lead besides; `opened`: strings (lamp, number) that are dark; `shorted`: with an LED that is.
        """
        if opened or shorted:
            rig = Rig(self.wiring, self.parts, tap, guarded=guarded, opened=opened, shorted=shorted)
            return band(rig, volts, ohms)
        return band(self.rig(tap, guarded=guarded), volts, ohms)

    def rig(self, tap: Tap, *, guarded: bool) -> Rig:
        """What hangs on a tap, to be solved."""
        guarded = guarded or tap.guard == "ahead"
        if (tap, guarded) not in self._rigs:
            self._rigs[tap, guarded] = Rig(self.wiring, self.parts, tap, guarded=guarded)
        return self._rigs[tap, guarded]

    def usual_volts(self, tap: Tap) -> float | None:
        """What the supply of a tap usually stands at, V; None where that is not known."""
        supply = self.build.supply.get(self.wiring.drivers[tap.circuit].supply or "")
        return (typical_volts(supply) or None) if supply is not None else None

    def over(
        self, tap: Tap, volts: float, *, guarded: bool = True, ohms: float = 0.0
    ) -> tuple[str, float, float] | None:
        """The lamp that fares worst where usual parts at these volts take more than they stand; None where none does.

        With what a string of it takes, and what it is rated for, A. `guarded`, `ohms`: as for the current to expect.
        """
        flow = self.rig(tap, guarded=guarded).flow(volts, BENCH, ohms)
        strings = flow.strings if flow is not None else ()
        found = [(name, amps, min(die.rated for die in self._lamps[name].dice)) for name, amps in strings]
        worst = max(found, key=lambda one: one[1] / one[2], default=None)
        most = self.limits.value("lamp.current.stop")
        return worst if worst is not None and worst[1] > most * worst[2] else None

    def figures(self, tap: Tap) -> BenchFigures | None:
        """Everything of a tap; None where the voltage of its supply is not known."""
        if tap not in self._known:
            self._known[tap] = self._figures(tap)
        return self._known[tap]

    def _figures(self, tap: Tap) -> BenchFigures | None:
        supply = self.build.supply.get(self.wiring.drivers[tap.circuit].supply or "")
        usual = self.usual_volts(tap)
        if supply is None or usual is None:
            return None
        highest, ohms = (
            (converter_volts(supply, 1)[0], 0.0) if supply.kind == "converter" else source_of(supply, 1)
        )
        bare = self.rig(tap, guarded=False)
        touched = touch(bare, self._lamps, highest, ohms, gives_up(supply)[1], self.limits)
        stood = min(self._turned(tap).values(), default=inf)
        if touched.outcome in ("lights", "dark") and highest > stood:
            touched = touched._replace(outcome="unknown")
        safe = setting(bare, self._lamps, usual, self.limits, self._to_start(tap)) if usual <= stood else None
        return BenchFigures(
            tap, usual, touched, self._backwards(tap, highest), safe,
            tester(bare, self._lamps, usual, highest, self.limits) if safe is not None and safe.held else None,
            self.expected(tap, usual, guarded=True) if tap.guard in ("here", "behind") else None,
        )  # fmt: skip

    def _to_start(self, tap: Tap) -> float:
        """What the loads of a tap take more while they start, A."""
        more = 0.0
        for load in self.parts.loads:
            if load.name in tap.others and load.circuit in tap.circuits:
                usual = MOTOR_STARTS * load.most if load.said.kind == "motor" else 0.0
                more += max(0.0, (usual if load.starting is None else load.starting) - load.most)
        return more

    def _backwards(self, tap: Tap, volts: float) -> Backwards:
        """The worst of what hangs there: of the LEDs the one that stands least, and of the loads likewise."""
        found = [*self._dice_backwards(tap, volts)]
        for load in (part.said for part in self.parts.loads):
            if load.name not in tap.others or load.circuit not in tap.circuits:
                continue
            if load.kind == "motor":
                found.append(Backwards(volts, None, "the same"))
            elif load.reverse is None:
                found.append(Backwards(volts, None, "unknown"))
            else:
                found.append(
                    Backwards(volts, load.reverse, "dark" if volts <= load.reverse else "may destroy")
                )
        return min(found, key=_worst_first, default=Backwards(volts, None, "unknown"))

    def _dice_backwards(self, tap: Tap, volts: float) -> Iterator[Backwards]:
        for dice in self._dice(tap):
            if dice[0].filament_volts is not None:
                yield Backwards(volts, None, "the same")
                continue
            stood, _ = reverse_stood(dice, self.limits)
            yield Backwards(volts, stood, "may destroy" if worst_reverse(dice, volts) > stood else "dark")
        # one that is wired the wrong way round is then the right way round
        if turned := self._turned(tap):
            flow = self.rig(tap, guarded=False).flow(-volts, EASIEST)
            most = self.limits.value("lamp.current.caution")
            through = [string for string in flow.strings if string[0] in turned] if flow else []
            harmed = not through or any(
                amps > most * min(die.rated for die in self._lamps[name].dice) for name, amps in through
            )
            yield Backwards(volts, None, "may destroy" if harmed else "unknown")

    def _turned(self, tap: Tap) -> dict[str, float]:
        """The LEDs that are wired the wrong way round, and what they stand so, V."""
        lamps = (self._lamps[name] for name, _ in tap.guards)
        return {
            lamp.name: reverse_stood(lamp.dice, self.limits)[0]
            for lamp in lamps
            if lamp.backwards and lamp.dice[0].filament_volts is None
        }

    def _dice(self, tap: Tap) -> list[tuple[DieData, ...]]:
        strips = (
            strip for strip in self.parts.strips if strip.name in tap.others and strip.circuit in tap.circuits
        )
        lamps = (self._lamps[name] for name, _ in tap.guards)
        return [
            lamp.dice for lamp in lamps if not lamp.backwards or lamp.dice[0].filament_volts is not None
        ] + [chain for strip in strips for chain, _ in strip.chains]
