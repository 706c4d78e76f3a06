"""What each lead at a place would read at a bench setting that harms none of them, whichever it turns out to be."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import copysign, floor, inf

from postcheck.identification import Across, Condition, LeadExpected, Setting
from postcheck.limits import Limits
from postcheck.physics import preferred
from postcheck.physics.network import forward_voltage
from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.rig import BENCH, EASIEST, HARDEST, Flow, Rig
from postcheck.survey.bench.settings import TESTER_TOLERANCE, VOLT_STEP
from postcheck.survey.bench.test_points import TestPoint
from postcheck.survey.network.dice import curve_of, reverse_stood
from postcheck.wiring.data import DieData
from postcheck.wiring.parts import LampPart, LoadPart, Part, Parts, StripPart

# The most volts of the first setting, even if all lamps withstand more backwards.
MOST_FIRST = 5.0
# Fewer volts than these light nothing.
LEAST_FIRST = 1.5
# What has to be left for the resistor above a lit LED, V.
LEFT_OVER = 0.3
# A filament's cold resistance is known to a factor of two.
COLD_SPREAD = 2.0
FALLBACK_OHMS = 1e3
# The most volts across an LED that has failed short, V: some tens of ohms (judgement).
SHORT_KEEPS = 0.1


@dataclass(frozen=True)
class Hypothesis:
    """A lead in one condition: what it reads at setting A the right way round and turned, and at B the right way round."""

    condition: Condition
    first: Across
    turned: Across
    more: Across | None


@dataclass(frozen=True)
class Identity:
    """One lead that ends at the place, in all conditions that are looked for. `sort`: equal for leads of equal lamps."""

    expected: LeadExpected
    hypotheses: tuple[Hypothesis, ...]
    sort: object


class Identities:
    """The leads that end at a place, told apart by what they read.

    `bin_volts`: the width of forward voltage that is assumed. Without it an LED may lie somewhat outside its data sheet.
    """

    def __init__(self, bench: Bench, place: str, limits: Limits, bin_volts: float | None = None) -> None:
        self.bench: Bench = bench
        self.place: str = place
        self.limits: Limits = limits
        self.bin_volts: float | None = bin_volts
        beyond = limits.value("bench.forward")
        self.parts: Parts = (
            _beside(bench.parts, beyond) if bin_volts is None else _binned(bench.parts, bin_volts)
        )
        self._read_already: dict[Hashable, tuple[Hypothesis, ...]] = {}
        self._lit_already: dict[Hashable, Across | None] = {}

    @cached_property
    def test_points(self) -> tuple[TestPoint, ...]:
        """Every lead with both its ends there; where the strings of a lamp have their own leads, each of those."""
        found: list[TestPoint] = []
        for (kind, name), test_point in self.bench.leads.items():
            if test_point.places != (self.place,) or self._part(test_point).lead is None:
                continue
            part = self.parts.named[name]
            strings = self.bench.strings(part) if isinstance(part, LampPart) else ()
            own = [self.bench.lead(kind, string) for string in strings]
            found += [one for one in own if one is not None] if own else [test_point]
        return tuple(found)

    @cached_property
    def apart(self) -> tuple[tuple[str, str], ...]:
        """Leads on which nothing is put while they are unmarked, with the reason: a load withstands too little backwards."""
        found = []
        for test_point in self.test_points:
            part = self._part(test_point)
            if not isinstance(part, LoadPart):
                continue
            if part.reverse is None or part.reverse < MOST_FIRST:
                found.append((part.name, "backwards" if part.reverse is None else "little"))
            elif part.highest is not None and part.highest < MOST_FIRST:
                found.append((part.name, "forwards"))
        return tuple(found)

    @cached_property
    def tried(self) -> tuple[TestPoint, ...]:
        """The leads that may be tried."""
        aside = {name for name, _ in self.apart}
        return tuple(one for one in self.test_points if self._part(one).name not in aside)

    # -- the settings

    @cached_property
    def first(self) -> Setting | None:
        """Setting A: harms none of them, either way round, in any condition. None where no volts would do."""
        dice = [(die, one.name) for one in self.tried for die in self._dice(one)]
        if not dice:
            return self._setting(MOST_FIRST, FALLBACK_OHMS, self.tried) if self.tried else None
        weakest = min(self._reverse(die) for die, _ in dice)
        volts = _step_down(min(weakest, MOST_FIRST))
        if volts < LEAST_FIRST:
            return None
        aim = self.limits.value("bench.current")
        lit = [
            at
            for die, _ in dice
            if die.filament_volts is None and (at := _forward(die, aim)) + LEFT_OVER <= volts
        ]
        ohms = preferred.at_most((volts - max(lit)) / aim, "E12") if lit else FALLBACK_OHMS
        return self._setting(volts, ohms, self.tried)

    @cached_property
    def dark(self) -> tuple[TestPoint, ...]:
        """Those that may stay dark at setting A though nothing is wrong with them: too many LEDs one after the other."""
        if self.first is None:
            return ()
        lights = self.limits.value("bench.lights")
        found = []
        for one in self.tried:
            dice = self._dice(one)
            if not dice or dice[0].filament_volts is not None or self._part(one).backwards:
                continue
            key = self._electrically(one)
            if key not in self._lit_already:
                self._lit_already[key] = self._across(self._rig(one), self.first.volts, self.first.ohms)
            at = self._lit_already[key]
            if at is not None and at.amps_least < lights:
                found.append(one)
        return tuple(found)

    @cached_property
    def legs_told(self) -> bool:
        """Whether the colours of the legs say which is which, on each of them."""
        return bool(self.tried) and all(map(_legs_differ, self.tried))

    @cached_property
    def more(self) -> Setting | None:
        """Setting B, for those that stay dark: the right way round only, so offered only where the legs can be told apart.

        Legs that were swapped would put all its volts on one LED backwards; the resistor keeps what that can turn into
        heat below what the LED is rated for.
        """
        long = self.dark
        if not long or self.first is None or not all(map(_legs_differ, long)):
            return None
        aim = self.limits.value("bench.current")
        needed = max(sum(_forward(die, aim) for die in self._strings(one)[0]) for one in long)
        volts = float(max(round(needed + aim * self.first.ohms), floor(self.first.volts) + 1))
        heat = min(die.rated * die.forward[1] for one in long for die in self._dice(one))
        ohms = max(
            self.first.ohms, preferred.at_least(volts**2 / (4.0 * heat) / (1.0 - TESTER_TOLERANCE), "E12")
        )
        return self._setting(volts, ohms, long)

    def _setting(self, volts: float, ohms: float, test_points: Sequence[TestPoint]) -> Setting:
        dice = [(die, one.name) for one in test_points for die in self._dice(one)]
        rated, delicate = min(((die.rated, name) for die, name in dice), default=(inf, ""))
        reverse, weakest = min(((self._reverse(die), name) for die, name in dice), default=(inf, ""))
        if rated < inf:
            ohms = max(ohms, preferred.at_least(volts / rated / (1.0 - TESTER_TOLERANCE), "E12"))
        least = ohms * (1.0 - TESTER_TOLERANCE)
        return Setting(
            volts, ohms, volts / least, rated, delicate, reverse, weakest, volts**2 / (4.0 * least)
        )

    def _reverse(self, die: DieData) -> float:
        return inf if die.filament_volts is not None else reverse_stood((die,), self.limits)[0]

    # -- what they read

    @cached_property
    def all(self) -> tuple[Identity, ...]:
        """Each lead that may be tried, sorted by its reading; those that read alike in the order of the file."""
        if self.first is None:
            return ()
        return tuple(sorted(map(self._identity, self.tried), key=lambda one: one.expected.first.usual))

    def _identity(self, test_point: TestPoint) -> Identity:
        part = self._part(test_point)
        key = self._electrically(test_point)
        if key not in self._read_already:
            self._read_already[key] = tuple(self._hypotheses(test_point, part))
        hypotheses = self._read_already[key]
        sound = [one for one in hypotheses if one.condition == "sound"]
        own = part.resistor if test_point.resistor_position == "ahead" else None
        return Identity(
            LeadExpected(
                test_point.kind,
                test_point.name,
                tuple(dict.fromkeys(die.colour.rstrip("-0123456789") for die in self._dice(test_point) if die.filament_volts is None)),
                tuple(dict.fromkeys(part.places or (part.place,))),
                sound[0].first,
                sound[0].turned,
                sound[0].more,
                own.ohms if own is not None else None,
                test_point.plus.colour or "",
                test_point.minus.colour or "",
                test_point.label or "",
            ),
            hypotheses,
            (part.kind, part.strings, part.parallel, own and own[:2], test_point.string is None, part.backwards, isinstance(part, LoadPart) and part.name),
        )  # fmt: skip

    def _electrically(self, test_point: TestPoint) -> Hashable:
        """What is the same for leads that read the same: of like lamps, and of the strings of a lamp that have leads of their own."""
        ends = test_point.plus.net, test_point.minus.net
        if test_point.string is None:
            if test_point.kind != "lamp":
                return test_point
            [(name, position)] = test_point.resistor_positions
            likeness = self.bench.wiring.parts.likeness[name]
            return likeness, position, test_point.circuits, ends
        return self._part(test_point).name, test_point.circuits, test_point.resistor_positions, ends

    def _hypotheses(self, test_point: TestPoint, part: Part) -> Iterator[Hypothesis]:
        if isinstance(part, LoadPart):
            anything = Across(0.0, 0.0, self._volts, 0.0, 0.0)
            yield Hypothesis("sound", anything, anything, None)
            return
        yield self._read(test_point, "sound", self._rig(test_point))
        if not isinstance(part, LampPart):
            yield self._nothing()
            return
        string = (part.name, test_point.string or 0)
        if part.resistor is not None and test_point.resistor_position == "ahead":
            bare = self.parts.with_part(replace(part, resistor=None))
            yield self._read(test_point, "no resistor", self._rig(test_point, bare))
        if part.dice[0].filament_volts is None:
            short = Rig(self.bench.wiring, self.parts, test_point, shorted=frozenset({string}))
            read = self._read(test_point, "shorted", short)
            read = replace(read, first=_loose(read.first), turned=_loose(read.turned))
            yield read if len(part.dice) > 1 else _unlit(read)
        else:
            wire = _loose(Across(0.0, 0.0, 0.0, 0.0, 0.0))
            yield Hypothesis("shorted", wire, wire, None)
        if part.parallel > 1 and test_point.string is None:
            for dark in range(1, part.parallel):
                opened = frozenset((part.name, number) for number in range(dark))
                yield self._read(
                    test_point, "open", Rig(self.bench.wiring, self.parts, test_point, opened=opened)
                )
        yield self._nothing()

    @property
    def _volts(self) -> float:
        assert self.first is not None
        return self.first.volts

    def _nothing(self) -> Hypothesis:
        """Broken: nothing flows either way."""
        at, more = self._volts, self.more.volts if self.more is not None else None
        whole = _whole(at)
        return Hypothesis("open", whole, whole, None if more is None else _whole(more))

    def _read(self, test_point: TestPoint, condition: Condition, rig: Rig) -> Hypothesis:
        assert self.first is not None
        first = self._across(rig, self.first.volts, self.first.ohms)
        turned = self._across(rig, -self.first.volts, self.first.ohms)
        more = None
        if self.more is not None and test_point in self.dark:
            more = self._across(rig, self.more.volts, self.more.ohms)
        unknown = Across(0.0, 0.0, self.first.volts, 0.0, inf)  # without a solution it excludes nothing
        first, turned = first or unknown, turned or unknown
        dice = self._dice(test_point)
        if dice and dice[0].filament_volts is not None:
            first, turned = (self._cold(dice, one) for one in (first, turned))
        return Hypothesis(condition, first, turned, more)

    def _cold(self, dice: Sequence[DieData], at: Across) -> Across:
        """A filament that does not glow has its cold resistance, which no data sheet gives well."""
        assert self.first is not None
        die = dice[0]
        ohms = (die.filament_volts or 0.0) / die.rated / die.cold_ratio * len(dice)
        cold = self.first.volts * ohms / (ohms + self.first.ohms)
        return at._replace(
            least=min(at.least, cold) / COLD_SPREAD,
            usual=cold,
            most=max(at.most, cold) * COLD_SPREAD,
            amps_least=0.0,
        )

    def _across(self, rig: Rig, volts: float, ohms: float) -> Across | None:
        """What a meter reads: least where the dice need least, the bench lead's resistor has most and the supply is set low.

        The setting is never to be exceeded, so who turns up to it ends a step below it at most.
        """
        found: list[tuple[float, float]] = []
        low = copysign(max(abs(volts) - VOLT_STEP, 0.0), volts)
        for corner, tolerance, at in (
            (EASIEST, TESTER_TOLERANCE, low), (BENCH, 0.0, volts), (HARDEST, -TESTER_TOLERANCE, volts),
        ):  # fmt: skip
            bench_ohms = ohms * (1.0 + tolerance)
            flow = rig.flow(at, corner, bench_ohms)
            if flow is None:
                return None
            found.append((max(abs(at) - abs(flow.amps) * bench_ohms, 0.0), _brightest(flow)))
        reads, amps = [one[0] for one in found], [one[1] for one in found]
        return Across(min(reads), reads[1], max(reads), min(amps), max(amps))

    def _rig(self, test_point: TestPoint, parts: Parts | None = None) -> Rig:
        return Rig(self.bench.wiring, parts or self.parts, test_point)

    def _part(self, test_point: TestPoint) -> Part:
        if test_point.resistor_positions:
            return self.parts.named[test_point.resistor_positions[0][0]]
        return self.parts.named[test_point.others[0]]

    def _strings(self, test_point: TestPoint) -> tuple[tuple[DieData, ...], ...]:
        return self._part(test_point).strings

    def _dice(self, test_point: TestPoint) -> tuple[DieData, ...]:
        return tuple(die for string in self._strings(test_point) for die in string)


def _legs_differ(one: TestPoint) -> bool:
    """Whether the colours of its legs say which is which."""
    plus, minus = one.plus.colour, one.minus.colour
    return bool(plus and minus) and plus != minus


def _whole(volts: float) -> Across:
    """All the supply's volts: nothing flows."""
    return Across(volts - VOLT_STEP, volts, volts, 0.0, 0.0)


def _loose(at: Across) -> Across:
    """A dead LED is not quite a wire."""
    return at._replace(most=at.most + SHORT_KEEPS)


def _unlit(one: Hypothesis) -> Hypothesis:
    """What flows, flows through wire."""
    first, turned = (at._replace(amps_least=0.0, amps_most=0.0) for at in (one.first, one.turned))
    return replace(one, first=first, turned=turned)


def _brightest(flow: Flow) -> float:
    """What the brightest string takes, A; of a strip all of it."""
    return max((amps for _, amps in flow.strings), default=abs(flow.amps))


def _forward(die: DieData, amps: float) -> float:
    return forward_voltage(curve_of(die).at(), amps)


def _step_down(volts: float) -> float:
    return round(floor(volts / VOLT_STEP + 1e-9) * VOLT_STEP, 6)


def _binned(parts: Parts, width: float) -> Parts:
    """Every LED with its forward voltage within a bin of this width about the typical one."""

    def of_bin(die: DieData) -> DieData:
        least, typical, most = die.forward
        half = width / 2.0
        return die._replace(forward=(max(least, typical - half), typical, min(most, typical + half)))

    return _each(parts, of_bin)


def _beside(parts: Parts, volts: float) -> Parts:
    """Every LED with the range of its data sheet widened by so many volts on either side."""

    def wider(die: DieData) -> DieData:
        least, typical, most = die.forward
        return die._replace(forward=(least - min(volts, least / 2.0), typical, most + volts))

    return _each(parts, wider)


def _each(parts: Parts, change: Callable[[DieData], DieData]) -> Parts:
    """With each LED changed."""

    def changed(dice: tuple[DieData, ...]) -> tuple[DieData, ...]:
        return tuple(die if die.filament_volts is not None else change(die) for die in dice)

    def of(part: Part) -> Part:
        if isinstance(part, StripPart):
            return replace(part, chains=tuple((changed(dice), ohms) for dice, ohms in part.chains))
        return replace(part, dice=changed(part.dice)) if isinstance(part, LampPart) else part

    return replace(parts, all=tuple(map(of, parts.all)))
