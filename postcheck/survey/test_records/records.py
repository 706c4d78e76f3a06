"""The test records of a build: what each is about, the latest of each, and measured currents against computed ones."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import cached_property
from math import inf, log
from typing import Literal

from postcheck.description.consumers import CONSUMERS
from postcheck.description.models import Build, Proof
from postcheck.description.subjects import subjects
from postcheck.limits import Limits
from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.figures import Band
from postcheck.survey.bench.test_points import TestPoint
from postcheck.survey.test_records.explained import explained
from postcheck.survey.test_records.readings import Expected, Explanation, Known, Reading
from postcheck.wiring import Wiring
from postcheck.wiring.parts import LampPart, Parts

_SAID = ("current", "hours", "polarity", "continuity", "insulation", "done")
BENCH_CELSIUS = 20.0
# The last digit of a usual hand-held meter's milliamp range, A.
LEAST_SHOWN = 1e-5
CONDUCTORS = ("run", "plug")
MEASURED = (*CONSUMERS, "circuit")


_Failure = Literal["open", "short"]
_FAILURES: tuple[tuple[_Failure, Literal["opened", "shorted"]], ...] = (
    ("open", "opened"),
    ("short", "shorted"),
)


class TestRecords:
    """What was proven up to a day; a test record that is dated later proves nothing."""

    def __init__(self, wiring: Wiring, bench: Bench, limits: Limits, today: date) -> None:
        self.wiring: Wiring = wiring
        self.build: Build = wiring.build
        self.parts: Parts = wiring.parts
        self.bench: Bench = bench
        self.limits = limits
        self.today = today
        # by position, the limit that is known to have been set at a test through the resistors; `limit` in the file says it of bare ends
        self.limits_set: dict[int, float] = {}
        self._about = subjects(self.build) if self.build.proof else {}

    def about(self, record: Proof) -> tuple[str, str]:
        """Kind and name of what a test record is about."""
        return self._about[record.subject]

    @cached_property
    def known(self) -> dict[tuple[str, str, str | None], Known]:
        """What is known of each thing, by kind, name and place (of a circuit; None where it begins)."""
        found: dict[tuple[str, str, str | None], Known] = {}
        for position, record in enumerate(self.build.proof):
            if record.on is not None and record.on > self.today:
                continue
            kind, name = self.about(record)
            at = self._at(kind, name, record)
            known = found.get((kind, name, at)) or Known(kind, name, at, {})
            for key in _SAID:
                before = known.said.get(key)
                if getattr(record, key) is not None and (
                    before is None or self._days[position] >= self._days[before]
                ):
                    known.said[key] = position
            found[kind, name, at] = known
        return found

    def of(self, kind: str, name: str) -> Iterator[Known]:
        """What is known of one thing, wherever it was tried."""
        return (known for (k, n, _), known in self.known.items() if (k, n) == (kind, name))

    @cached_property
    def _days(self) -> tuple[date, ...]:
        """The day of each test record; of one without a date the latest of those above it. Of one day, the last of the file counts."""
        days, latest = [], date.min
        for record in self.build.proof:
            if record.on is not None and record.on <= self.today:
                latest = max(latest, record.on)
            days.append(record.on or latest)
        return tuple(days)

    def _at(self, kind: str, name: str, record: Proof) -> str | None:
        begins = kind == "circuit" and record.at == self.wiring.drivers[name].place
        return None if begins else record.at

    # -- from end to end

    def copper(self, kind: str, name: str) -> float:
        """What a conductor's own copper has at most from end to end, ohm; 0 where that is not known."""
        if kind != "run":
            return 0.0
        return next((run.ohms(BENCH_CELSIUS, most=True) for run in self.parts.runs if run.name == name), 0.0)

    def whole(self, position: int) -> bool | None:
        """Whether a test record says that its subject goes from end to end; None where it does not say.

        Resistance shows it for plain copper only: anything else has more in the way.
        """
        said = self.build.proof[position].continuity
        if said is None or isinstance(said, bool):
            return said
        kind, name = self.about(self.build.proof[position])
        if kind not in CONDUCTORS:
            return None
        return said <= self.copper(kind, name) + self.limits.value("proof.continuity")

    # -- currents

    @cached_property
    def readings(self) -> tuple[Reading, ...]:
        """The latest measured current of each thing."""
        return tuple(
            self._read(known.said["current"], known)
            for known in self.known.values()
            if "current" in known.said
        )

    def explained(self, reading: Reading) -> tuple[Explanation, ...]:
        """What would give a current that was not to be expected; the best two, none where nothing would."""
        if reading.fits is not False or reading.test_point is None:
            return ()
        return explained(self.wiring, self.bench.parts, self.bench, reading, self.limits)

    def _read(self, position: int, known: Known) -> Reading:
        record = self.build.proof[position]
        bare = Reading(position, record, known.kind, known.name, None)
        test_point, missing = self._test_point(known, record)
        if test_point is None:
            return bare._replace(missing=missing)
        if record.volts is None:
            return bare._replace(test_point=test_point, missing='the bench voltage, such as volts = "12 V"')
        ohms = bare.ohms
        bare_band = self.bench.expected(test_point, record.volts, with_resistors=False, ohms=ohms)
        bands = [(bare_band, test_point.resistor_position in ("ahead", "none"))]
        if test_point.resistor_position in ("here", "behind"):
            with_resistors = self.bench.expected(test_point, record.volts, with_resistors=True, ohms=ohms)
            # without it, only at a setting that makes sense
            bands = [
                (with_resistors, True),
                *(bands if with_resistors is None or self._sane(test_point, bare) else ()),
            ]
        expected = tuple(Expected(band, resistor) for band, resistor in bands if band is not None)
        if not expected:
            return bare._replace(
                test_point=test_point,
                missing='a bench voltage at which its current can be worked out, such as volts = "12 V"',
            )
        fitting = [one for one in expected if self._fits(one.band, bare)]
        nearer, coarse = self._of_strings(test_point, bare, fitting)
        return bare._replace(
            test_point=test_point,
            expected=expected,
            fits=bool(fitting) and nearer is None,
            coarse=coarse,
            nearer=nearer,
            # with a resistor in the bench lead, a missing resistor at the lamp may hardly show
            through=bool(fitting)
            and all(one.resistor for one in fitting)
            and not (ohms and test_point.resistor_position == "ahead"),
            rated=self._rated(test_point),
            held=self._held(bare, self.limits_set.get(position)),
        )

    def _of_strings(
        self, test_point: TestPoint, reading: Reading, fitting: Sequence[Expected]
    ) -> tuple[tuple[_Failure, float] | None, Literal["", "open", "short"]]:
        """Of a current that fits several strings: what comes nearer to it than all of them lit, and what would not show.

        Nearer by the ratio of the currents that usual parts take, A.
        """
        lamp = self._only_lamp(test_point)
        if lamp is None or lamp.parallel == 1 or not fitting or self.each_known(lamp, test_point):
            return None, ""
        string = frozenset({(lamp.name, 0)})
        coarse: Literal["", "open", "short"] = ""
        for one in fitting:
            for how, failed in _FAILURES:
                other = self.bench.expected(
                    test_point,
                    reading.volts,
                    with_resistors=one.resistor,
                    ohms=reading.ohms,
                    **{failed: string},
                )
                if other is None or not self._fits(other, reading):
                    continue
                if _apart(reading.amps, other.usual) < _apart(reading.amps, one.band.usual):
                    return (how, other.usual), ""
                coarse = coarse or how
        return None, coarse

    def _only_lamp(self, test_point: TestPoint) -> LampPart | None:
        """The lamp that alone takes the current of a test point with all of its strings."""
        behind = dict(test_point.resistor_positions)
        lamps = [lamp for lamp in self.parts.lamps if lamp.name in behind]
        alone = len(lamps) == 1 and test_point.string is None and not test_point.others
        return lamps[0] if alone else None

    def each_known(self, lamp: LampPart, test_point: TestPoint) -> bool:
        """Whether the records say what was seen of a lamp, or show each of its strings to be good."""
        if self.looked(test_point.kind, test_point.name) or self.looked("lamp", lamp.name):
            return True
        return bool(strings := self.bench.strings(lamp)) and all(
            any(
                "current" in known.said and self._read(known.said["current"], known).fits
                for known in self.of("lamp", name)
            )
            for name in strings
        )

    def looked(self, kind: str, name: str) -> bool:
        """Whether a test record of it says what was done, and so what was seen."""
        return any("done" in known.said for known in self.of(kind, name))

    def _sane(self, test_point: TestPoint, reading: Reading) -> bool:
        """Whether bare ends may be put on this setting: by its limit, or because usual parts stay within their ratings."""
        return (
            reading.record.limit is not None
            or self.bench.over(test_point, reading.volts, with_resistors=False, ohms=reading.ohms) is None
        )

    def _fits(self, band: Band, reading: Reading) -> bool:
        """Whether a current lies in a band, as far as the meter can tell; or is the limit that the supply held it to."""
        meter, amps, least = self.limits.value("proof.meter"), reading.amps, band.least
        if reading.record.limit is not None and self._held(reading):
            least = min(least, reading.record.limit)
        if least <= LEAST_SHOWN and amps <= LEAST_SHOWN:
            return True
        return least * (1.0 - meter) <= amps <= max(band.most * (1.0 + meter), LEAST_SHOWN)

    def _held(self, reading: Reading, limit_set: float | None = None) -> bool:
        """Whether the current is the limit that the bench supply was set to, as far as the meter can tell."""
        limit = limit_set if reading.record.limit is None else reading.record.limit
        if limit is None:
            return False
        return abs(reading.amps - limit) <= self.limits.value("proof.meter") * limit

    def _test_point(self, known: Known, record: Proof) -> tuple[TestPoint | None, str]:
        """Where the meter was, or what is missing to know it."""
        kind, name = known.kind, known.name
        if kind == "circuit":
            place = record.at or self.wiring.drivers[name].place or ""
            test_point = self.bench.lines.get((name, place))
            return test_point, "" if test_point else 'a place where both its lines end, such as at = "hub"'
        if kind not in MEASURED:
            return None, 'the lamp or circuit that it was measured at, such as subject = "tail beacon"'
        names = [name]
        if kind == "lamp":
            names = [part.name for part in self.parts.lamps if name in (part.name, part.entry)]
            if not names:  # one string of it
                names = [name]
                if self.bench.lead(kind, name) is None:
                    return (
                        None,
                        f'the current of all its strings together, such as subject = "{name.rpartition(" ")[0]}"',
                    )
        if len(names) != 1:
            return (
                None,
                f'which of its colours was lit, such as subject = "{names[0]}"'
                if names
                else "the data of its kind",
            )
        test_point = self.bench.lead(kind, names[0])
        if test_point is None or record.at is None or record.at in test_point.places:
            return test_point, "" if test_point else "the data of its kind"
        line = self.bench.lines.get((test_point.circuit, record.at))
        if line is not None and len(line.resistor_positions) + len(line.others) == 1:
            return line, ""  # nothing else is connected there
        return (
            None,
            f'the current of its lead alone, or its circuit, such as subject = "{test_point.circuit}"',
        )

    def _rated(self, test_point: TestPoint) -> float | None:
        """The rating of all strings behind a test point together; None where anything else takes current there."""
        lamps = {lamp.name: lamp for lamp in self.parts.lamps}
        behind = [lamps[name] for name in test_point.lamps]
        if test_point.others or not behind or any(lamp.dice[0].filament_volts for lamp in behind):
            return None
        return sum(test_point.strings(lamp) * lamp.rated for lamp in behind)


def _apart(one: float, other: float) -> float:
    """How far two currents are apart, by their ratio."""
    return abs(log(one / other)) if one > 0.0 and other > 0.0 else inf
