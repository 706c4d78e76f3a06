"""What would give a current that was not expected: each cause is put into the network and tried; none is guessed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations_with_replacement, islice
from math import exp, log, log10

from postcheck import catalogue
from postcheck.limits import Limits
from postcheck.physics import preferred
from postcheck.physics.root import root_between
from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.figures import Band
from postcheck.survey.bench.rig import BENCH, Rig
from postcheck.survey.bench.settings import band
from postcheck.survey.bench.test_points import TestPoint
from postcheck.survey.network.dice import destroyed
from postcheck.survey.test_records.readings import Explanation, Reading
from postcheck.wiring import Wiring
from postcheck.wiring.data import DieData, lamp_dice
from postcheck.wiring.parts import LampPart, Part, Parts, ResistorPart
from postcheck.wiring.resistors import usual_resistor

MOST_CAUSES = 2
# Sorts of lamp that are tried on a circuit.
MOST_SORTS = 12
# Less than this share of what was expected at least is nothing but leakage.
LEAKAGE = 0.02
# Where a value is known well enough, as a fraction of its range, and of the current.
NARROW = 1e-10
# A; anything less counts as none.
FAINT = 1e-12
# A limit set to whole milliamps reads as a whole number, give or take this much (mA).
DISPLAYED = 0.05
# A die's forward voltage is looked for this far, V: infra-red to ultra-violet.
FORWARD = (1.0, 4.5)
# A bench supply's own scale is out by this share at most; beyond that, another of the usual voltages was set.
SCALE = 0.15
USUAL_VOLTS = (1.5, 3.0, 3.3, 3.7, 4.5, 5.0, 6.0, 7.4, 7.5, 9.0, 12.0, 13.8, 15.0, 24.0)
NEAR = 0.04
# ohm: nobody puts more before an LED that is meant to be seen.
MOST_UNSTATED = 1e5
# What may have happened to one part of several, the simplest first.
_PLAINEST = ("missing", "short", "open", "resistor")


def explained(
    wiring: Wiring, parts: Parts, bench: Bench, reading: Reading, limits: Limits
) -> tuple[Explanation, ...]:
    """At most two causes that put the reading within their own band, the plainest first."""
    assert reading.test_point is not None
    return tuple(islice(_Case(wiring, parts, bench, reading, limits).causes(), MOST_CAUSES))


class _Case:
    def __init__(self, wiring: Wiring, parts: Parts, bench: Bench, reading: Reading, limits: Limits) -> None:
        assert reading.test_point is not None
        self.wiring, self.parts, self.bench, self.limits = wiring, parts, bench, limits
        self.meter = limits.value("proof.meter")
        self.test_point: TestPoint = reading.test_point
        self.amps, self.volts, self.limit = reading.amps, reading.volts, reading.record.limit
        self.ohms = reading.ohms
        self.expected = reading.expected
        # the supply held it there: more would flow
        self.held = reading.held
        # with or without the resistor that sits elsewhere: whichever comes nearer to what was measured
        nearest = min(
            self.expected, key=lambda one: abs(log(max(self.amps, 1e-9) / max(one.band.usual, 1e-9)))
        )
        self.with_resistors = nearest.resistor
        wanted = {*self.test_point.lamps}
        self.lamps = [lamp for lamp in parts.lamps if lamp.name in wanted]

    def causes(self) -> Iterator[Explanation]:
        least = min(one.band.least for one in self.expected)
        if self.amps <= LEAKAGE * least and not self._unstated():
            yield Explanation("dark")
            return
        others = self._others()
        yield from islice(others, 1)
        if self._could_be_held():  # never first: it would explain anything
            yield Explanation("held")
        yield from others

    def _others(self) -> Iterator[Explanation]:
        if len(self.lamps) == 1 and not self.test_point.others:
            found = tuple(self._of_one(self.lamps[0]))
            yield from found or self._past_resistor(self.lamps[0])
        else:
            yield from self._of_several()
        yield from self._segments()
        if not self.held:
            yield from self._volts()

    def _could_be_held(self) -> bool:
        """Whether the supply's limit may have held the current: limits are set in whole milliamps, no higher than the lamp's rating, and not for a lead with its own resistor."""
        last = self.expected[-1]
        # too much for bare ends
        dropped = self.test_point.resistor_position in ("here", "behind") and last.resistor
        if self.test_point.resistor_position == "ahead" or not (dropped or self.amps < last.band.least):
            return False
        rated = sum(self.test_point.strings(lamp) * lamp.rated for lamp in self.lamps)
        whole = self.amps * 1e3
        return (
            self.limit is None
            and not self.held
            and self.amps <= rated
            and abs(whole - round(whole)) <= DISPLAYED
        )

    # -- one lamp

    def _of_one(self, lamp: LampPart) -> Iterator[Explanation]:
        names = (lamp.name,)
        if lamp.resistor is not None and self._within(self._band(replace(lamp, resistor=None))):
            yield Explanation("bridged", names)
        yield from self._failed(lamp)
        if self.held:  # no value can be told from a current that the supply held
            return
        yield from self._unstated()
        # beyond that no die survives and no curve is known; a resistor that is out by whole decades can still be told
        dead = destroyed(lamp.dice, self.amps / self.test_point.strings(lamp), self.limits)
        if lamp.resistor is not None and (ohms := self._other_ohms(lamp)) is not None:
            slips = abs(log10(ohms / lamp.resistor.ohms))
            if not dead or abs(slips - round(slips)) < 1e-9:
                yield Explanation("resistor", names, ohms, lamp.resistor.ohms)
        if not dead:
            yield from self._forward(lamp)

    def _past_resistor(self, lamp: LampPart) -> Iterator[Explanation]:
        """More than the resistor could let through with nothing but wire behind it: it is not in the way, or far too small."""
        part = lamp.resistor
        if part is None or not all(one.resistor for one in self.expected):
            return
        resistors = 1 if lamp.one_resistor else self.test_point.strings(lamp)
        most = self.volts / (part.ohms * (1.0 - part.tolerance)) * resistors
        if self.amps > most * (1.0 + self.meter):
            yield Explanation("past", (lamp.name,), most, part.ohms)

    def _failed(self, lamp: LampPart) -> Iterator[Explanation]:
        """One LED of a string shorted; some strings of several dark."""
        found: list[tuple[float, Explanation]] = []
        own = self.test_point.string  # of a reading of one string alone
        short = self._band(shorted=frozenset({(lamp.name, own or 0)}))
        if short is not None and self._within(short):
            found.append((short.usual, Explanation("short", (lamp.name,), given=float(len(lamp.dice)))))
        for dark in range(1, min(self.test_point.strings(lamp), 6)):
            left = self._band(opened=frozenset((lamp.name, number) for number in range(dark)))
            if left is not None and self._within(left):
                found.append(
                    (left.usual, Explanation("open", (lamp.name,), float(dark), float(lamp.parallel)))
                )
        # the nearest for typical parts, by the ratio of the currents
        found.sort(key=lambda pair: abs(log(max(pair[0], 1e-12) / max(self.amps, 1e-12))))
        yield from (explanation for _, explanation in found[:1])

    def _other_ohms(self, lamp: LampPart) -> float | None:
        """The value of the E24 series with which typical parts come nearest, where that is not the one given.

        Rather one that differs from it by a band's colour alone: 100 ohm for 1 kohm. It is in its place, however the
        lamp was meant to be tried.
        """
        assert lamp.resistor is not None
        part = lamp.resistor

        def other(ohms: float) -> Rig:
            return self._rig(replace(lamp, resistor=part._replace(ohms=ohms)), with_resistors=True)

        def flows(log_factor: float) -> float:
            return self._usual(other(part.ohms * exp(log_factor)))

        log_factor = self._solve(flows, -log(1e3), log(1e3))
        if log_factor is None:
            return None
        ohms = preferred.nearest(part.ohms * exp(log_factor), "E24")
        if abs(ohms / part.ohms - 1.0) < 0.01:
            return None
        decade = part.ohms * 10.0 ** round(log10(ohms / part.ohms))
        likely = (decade, ohms) if decade != part.ohms else (ohms,)
        return next((one for one in likely if self._within(band(other(one), self.volts, self.ohms))), None)

    def _unstated(self) -> tuple[Explanation, ...]:
        """A resistor in the lamp of which the file has none: the value with which typical parts come nearest, of E12 if one fits, else of E24."""
        lamp = self.lamps[0] if len(self.lamps) == 1 and not self.test_point.others else None
        if lamp is None or self.held or lamp.resistor is not None or lamp.backwards:
            return ()
        if lamp.dice[0].filament_volts is not None or lamp.dice[0].made_for is not None:
            return ()
        # beyond that no die's curve is known
        if destroyed(lamp.dice, self.amps / self.test_point.strings(lamp), self.limits):
            return ()
        power, tolerance = usual_resistor(self.wiring.build.usual.resistor)

        def behind(ohms: float) -> Rig:
            part = ResistorPart(ohms, tolerance, power, lamp.place, "supply")
            return self._rig(replace(lamp, resistor=part), with_resistors=True)

        log_ohms = self._solve(lambda of: self._usual(behind(exp(of))), 0.0, log(MOST_UNSTATED))
        if log_ohms is None:
            return ()
        sold = (preferred.nearest(exp(log_ohms), series) for series in ("E12", "E24"))
        fits = (ohms for ohms in sold if self._within(band(behind(ohms), self.volts, self.ohms)))
        return tuple(Explanation("unstated", (lamp.name,), ohms) for ohms in islice(fits, 1))

    def _forward(self, lamp: LampPart) -> Iterator[Explanation]:
        """The forward voltage of every die with which it fits, where that is beyond what its kind may have."""
        die = lamp.dice[0]
        if die.filament_volts is not None:
            return

        def flows(volts: float) -> float:
            return self._usual(self._rig(replace(lamp, dice=tuple(_moved(one, volts) for one in lamp.dice))))

        volts = self._solve(flows, *FORWARD)
        if volts is None or die.forward[0] <= volts <= die.forward[2]:
            return
        kinds = tuple(
            name
            for name in _of_size(lamp.said.kind)
            if (other := _like(name)) is not None
            and other.forward[0] <= volts <= other.forward[2]
            and self._within(self._band(replace(lamp, dice=(other,) * len(lamp.dice))))
        )
        near = min(abs(volts - die.forward[0]), abs(volts - die.forward[2])) < 0.25
        if kinds or near:
            yield Explanation("forward", (lamp.name,), volts, die.forward[1], kinds[:2])

    # -- a circuit, strips

    def _of_several(self) -> Iterator[Explanation]:
        """One part of several that is dark, shorted, or has another resistor: all those of which it would be true."""
        sorts: dict[object, list[LampPart]] = {}
        for lamp in self.lamps:
            sort = (lamp.dice, lamp.parallel, lamp.resistor and lamp.resistor[:2])
            sorts.setdefault(sort, []).append(lamp)
        found: dict[tuple[str, float, float], Explanation] = {}

        def keep(one: Explanation) -> None:
            key = (one.what, one.value, one.given)
            before = found.get(key, one._replace(names=()))
            found[key] = before._replace(names=(*before.names, *one.names))

        for alike in islice(sorts.values(), MOST_SORTS):
            names = tuple(lamp.name for lamp in alike)
            for one in (*self._missing(alike[0]), *self._failed(alike[0])):
                keep(one._replace(names=names))
            if (
                not self.held
                and alike[0].resistor is not None
                and (ohms := self._other_ohms(alike[0])) is not None
            ):
                keep(Explanation("resistor", names, ohms, alike[0].resistor.ohms))
        for name in self.test_point.others:
            others = tuple(other for other in self.test_point.others if other != name)
            if self._within(self._band(test_point=self.test_point._replace(others=others))):
                keep(Explanation("missing", (name,)))
        yield from sorted(found.values(), key=lambda one: _PLAINEST.index(one.what))
        if not found:
            yield from self._pair([tuple(lamp.name for lamp in alike) for alike in sorts.values()])

    def _missing(self, lamp: LampPart) -> Iterator[Explanation]:
        if self._fits_without(lamp.name):
            yield Explanation("missing", (lamp.name,))

    def _fits_without(self, *names: str) -> bool:
        """Whether it is the current with some lamps dark, and something else still lit."""
        lit = tuple(pair for pair in self.test_point.resistor_positions if pair[0] not in names)
        if not (lit or self.test_point.others):
            return False
        return self._within(self._band(test_point=self.test_point._replace(resistor_positions=lit)))

    def _pair(self, sorts: Sequence[tuple[str, ...]]) -> Iterator[Explanation]:
        """Two dark lamps, where one would not be enough: the names of all of which that would be true."""
        pairs = [
            (one, other)
            for one, other in combinations_with_replacement(sorts[:MOST_SORTS], 2)
            if one is not other or len(one) > 1
        ]
        fits = [(*one, *other) for one, other in pairs if self._fits_without(one[0], other[-1])]
        names = dict.fromkeys(name for both in fits for name in both)
        if names:
            yield Explanation("pair", tuple(names))

    def _segments(self) -> Iterator[Explanation]:
        for strip in self.parts.strips:
            if strip.name not in self.test_point.others:
                continue
            for segments in range(max(1, strip.segments - 3), strip.segments + 4):
                other = replace(strip, segments=segments)
                if segments != strip.segments and self._within(self._band(other)):
                    yield Explanation("segments", (strip.name,), float(segments), float(strip.segments))
                    break

    def _volts(self) -> Iterator[Explanation]:
        rig = self._rig()

        def flows(volts: float) -> float:
            return self._usual(rig, volts)

        volts = self._solve(flows, 0.0, max(3.0 * self.volts, USUAL_VOLTS[-1]))
        if volts is None or not self.volts:
            return
        # nothing but electronics, which take no more at more volts
        if flows(2.0 * volts) <= self.amps * (1.0 + NEAR):
            return
        usual = min(USUAL_VOLTS, key=lambda one: abs(one / volts - 1.0))
        if abs(volts / self.volts - 1.0) <= SCALE:
            yield Explanation("volts", (), volts, self.volts)
        elif abs(usual / volts - 1.0) <= NEAR and self._within(band(rig, usual, self.ohms)):
            yield Explanation("volts", (), usual, self.volts)

    # -- the network, changed

    def _rig(
        self, changed: Part | None = None, test_point: TestPoint | None = None,
        opened: frozenset[tuple[str, int]] = frozenset(), shorted: frozenset[tuple[str, int]] = frozenset(),
        *, with_resistors: bool | None = None,
    ) -> Rig:  # fmt: skip
        parts = self.parts if changed is None else self.parts.with_part(changed)
        with_resistors = self.with_resistors if with_resistors is None else with_resistors
        return Rig(
            self.wiring,
            parts,
            test_point or self.test_point,
            with_resistors=with_resistors,
            opened=opened,
            shorted=shorted,
        )

    def _band(
        self, changed: Part | None = None, *, test_point: TestPoint | None = None,
        opened: frozenset[tuple[str, int]] = frozenset(), shorted: frozenset[tuple[str, int]] = frozenset(),
    ) -> Band | None:  # fmt: skip
        return band(self._rig(changed, test_point, opened, shorted), self.volts, self.ohms)

    def _within(self, at: Band | None) -> bool:
        if at is None or self.amps > at.most * (1.0 + self.meter):
            return False
        return self.held or at.least * (1.0 - self.meter) <= self.amps

    def _usual(self, rig: Rig, volts: float | None = None) -> float:
        flow = rig.flow(self.volts if volts is None else volts, BENCH, self.ohms)
        return flow.amps if flow is not None else float("nan")

    def _solve(self, flows: Callable[[float], float], low: float, high: float) -> float | None:
        """Where a current that only falls or only rises is the measured one; None where it nowhere is."""
        first, last = flows(low), flows(high)
        if not min(first, last) <= self.amps <= max(first, last):
            return None
        # on the logarithms, for currents differ by orders of magnitude
        return root_between(
            lambda value: self._over(flows(value)), low, high, self._over(first), self._over(last),
            within=NARROW, narrow=(high - low) * NARROW,
        )  # fmt: skip

    def _over(self, amps: float) -> float:
        return log(max(amps, FAINT) / self.amps)


def _moved(die: DieData, volts: float) -> DieData:
    """A die with its forward voltage moved to `volts`, of which usual parts are asked alone."""
    return die._replace(forward=(volts,) * 3, low_forward=die.low_forward + volts - die.forward[1])


def _of_size(kind: str) -> list[str]:
    """The kinds of the catalogue in the same package, those of other colours: `smd-0603-red` for `smd-0603-white`."""
    size = "-".join(kind.split("-")[:2]) + "-"
    return [name for name in catalogue.names("lamp") if name.startswith(size) and name != kind]


def _like(kind: str) -> DieData | None:
    row = catalogue.lamp(kind)
    if isinstance(row, catalogue.FilamentLamp) or len(row.dice) != 1:
        return None
    return lamp_dice(row)[0]
