"""The proofs of a build: what each is about, the latest of each, and measured currents against computed ones."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from functools import cached_property
from math import inf, log
from typing import Literal

from postcheck.description.models import Build, Proof
from postcheck.description.subjects import subjects
from postcheck.limits import Limits
from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.figures import Band
from postcheck.survey.bench.test_points import Tap
from postcheck.survey.test_records.explained import explained
from postcheck.survey.test_records.readings import Expected, Explanation, Known, Reading
from postcheck.wiring import Wiring
from postcheck.wiring.parts import Parts

__all__ = ["Proofs"]

_SAID = ("current", "hours", "polarity", "continuity", "insulation", "done")
BENCH_CELSIUS = 20.0
# The last digit of a usual hand-held meter's milliamp range, A.
LEAST_SHOWN = 1e-5
CONDUCTORS = ("run", "plug")
MEASURED = ("lamp", "strip", "load", "circuit")


_Failure = Literal["open", "short"]
_FAILURES: tuple[tuple[_Failure, Literal["opened", "shorted"]], ...] = (
    ("open", "opened"),
    ("short", "shorted"),
)


class Proofs:
    """What was proven up to a day; a proof that is dated later proves nothing."""

    def __init__(self, wiring: Wiring, bench: Bench, limits: Limits, today: date) -> None:
        self.wiring: Wiring = wiring
        self.build: Build = wiring.build
        self.parts: Parts = wiring.parts
        self.bench: Bench = bench
        self.limits = limits
        self.today = today
        self._about = subjects(self.build) if self.build.proof else {}

    def about(self, proof: Proof) -> tuple[str, str]:
        """Kind and name of what a proof is about."""
        return self._about[proof.subject]

    @cached_property
    def known(self) -> dict[tuple[str, str, str | None], Known]:
        """What is known of each thing, by kind, name and place (of a circuit; None where it begins)."""
        found: dict[tuple[str, str, str | None], Known] = {}
        for position, proof in enumerate(self.build.proof):
            if proof.on is not None and proof.on > self.today:
                continue
            kind, name = self.about(proof)
            at = self._at(kind, name, proof)
            known = found.get((kind, name, at)) or Known(kind, name, at, {})
            for key in _SAID:
                before = known.said.get(key)
                if getattr(proof, key) is not None and (
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
        """The day of each proof; of one without a date the latest of those above it. Of one day, the last of the file counts."""
        days, latest = [], date.min
        for proof in self.build.proof:
            if proof.on is not None and proof.on <= self.today:
                latest = max(latest, proof.on)
            days.append(proof.on or latest)
        return tuple(days)

    def _at(self, kind: str, name: str, proof: Proof) -> str | None:
        if kind != "circuit" or proof.at == self.wiring.drivers[name].place:
            return None if kind == "circuit" else proof.at
        return proof.at

    # -- from end to end

    def copper(self, kind: str, name: str) -> float:
        """What a conductor's own copper has at most from end to end, ohm; 0 where that is not known."""
        if kind != "run":
            return 0.0
        return next((run.ohms(BENCH_CELSIUS, most=True) for run in self.parts.runs if run.name == name), 0.0)

    def whole(self, position: int) -> bool | None:
        """Whether a proof says that its subject goes from end to end; None where it does not say.

        Ohms say it of plain copper only: in all else there is more in the way.
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
        if reading.fits is not False or reading.tap is None:
            return ()
        return explained(self.wiring, self.bench.parts, self.bench, reading, self.limits)

    def _read(self, position: int, known: Known) -> Reading:
        proof = self.build.proof[position]
        bare = Reading(position, proof, known.kind, known.name, None)
        tap, missing = self._tap(known, proof)
        if tap is None:
            return bare._replace(missing=missing)
        if proof.volts is None:
            return bare._replace(tap=tap, missing='the bench voltage, such as volts = "12 V"')
        ohms = proof.through or 0.0
        bare_band = self.bench.expected(tap, proof.volts, guarded=False, ohms=ohms)
        bands = [(bare_band, tap.guard in ("ahead", "none"))]
        if tap.guard in ("here", "behind"):
            guarded = self.bench.expected(tap, proof.volts, guarded=True, ohms=ohms)
            # without it only at a setting that makes sense
            bands = [(guarded, True), *(bands if guarded is None or self._sane(tap, proof) else ())]
        expected = tuple(Expected(band, resistor) for band, resistor in bands if band is not None)
        if not expected:
            return bare._replace(
                tap=tap,
                missing='a bench voltage at which its current can be worked out, such as volts = "12 V"',
            )
        fitting = [one for one in expected if self._fits(one.band, proof)]
        nearer, coarse = self._of_strings(tap, proof, fitting)
        return bare._replace(
            tap=tap,
            expected=expected,
            fits=bool(fitting) and nearer is None,
            coarse=coarse,
            nearer=nearer,
            # beside a resistor in the bench lead that of the lamp may be missing and hardly show
            through=bool(fitting)
            and all(one.resistor for one in fitting)
            and not (ohms and tap.guard == "ahead"),
            rated=self._rated(tap),
            held=self._held(proof),
        )

    def _of_strings(
        self, tap: Tap, proof: Proof, fitting: Sequence[Expected]
    ) -> tuple[tuple[_Failure, float] | None, Literal["", "open", "short"]]:
        """Of a current that fits several strings: what comes nearer to it than all of them lit, and what would not show.

        Nearer by the ratio of the currents that usual parts take, A.
        """
        lamp = next((lamp for lamp in self.parts.lamps if tap.kind == "lamp" and lamp.name == tap.name), None)
        if lamp is None or lamp.parallel == 1 or tap.string is not None or not fitting:
            return None, ""
        amps, string = proof.current or 0.0, frozenset({(lamp.name, 0)})
        coarse: Literal["", "open", "short"] = ""
        for one in fitting:
            for how, failed in _FAILURES:
                other = self.bench.expected(
                    tap,
                    proof.volts or 0.0,
                    guarded=one.resistor,
                    ohms=proof.through or 0.0,
                    **{failed: string},
                )
                if other is None or not self._fits(other, proof):
                    continue
                if _apart(amps, other.usual) < _apart(amps, one.band.usual):
                    return (how, other.usual), ""
                coarse = coarse or how
        return None, coarse

    def _sane(self, tap: Tap, proof: Proof) -> bool:
        """Whether one puts bare ends on this setting: by its limit, or because usual parts take no more than they stand."""
        volts, ohms = proof.volts or 0.0, proof.through or 0.0
        return proof.limit is not None or self.bench.over(tap, volts, guarded=False, ohms=ohms) is None

    def _fits(self, band: Band, proof: Proof) -> bool:
        """Whether a current lies in a band, as far as the meter can tell; or is the limit that the supply held it to."""
        meter, amps = self.limits.value("proof.meter"), proof.current or 0.0
        least = band.least
        if proof.limit is not None and self._held(proof):
            least = min(least, proof.limit)
        if least <= LEAST_SHOWN and amps <= LEAST_SHOWN:
            return True
        return least * (1.0 - meter) <= amps <= max(band.most * (1.0 + meter), LEAST_SHOWN)

    def _held(self, proof: Proof) -> bool:
        """Whether the current is the limit that the bench supply was set to, as far as the meter can tell."""
        if proof.limit is None:
            return False
        return abs((proof.current or 0.0) - proof.limit) <= self.limits.value("proof.meter") * proof.limit

    def _tap(self, known: Known, proof: Proof) -> tuple[Tap | None, str]:
        """Where the meter was, or what is missing to know it."""
        kind, name = known.kind, known.name
        if kind == "circuit":
            place = proof.at or self.wiring.drivers[name].place or ""
            tap = self.bench.lines.get((name, place))
            return tap, "" if tap else 'a place where both its lines end, such as at = "hub"'
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
        tap = self.bench.lead(kind, names[0])
        if tap is None or proof.at is None or proof.at in tap.places:
            return tap, "" if tap else "the data of its kind"
        line = self.bench.lines.get((tap.circuit, proof.at))
        if line is not None and len(line.guards) + len(line.others) == 1:
            return line, ""  # it hangs there alone
        return None, f'the current of its lead alone, or its circuit, such as subject = "{tap.circuit}"'

    def _rated(self, tap: Tap) -> float | None:
        """What the strings behind a tap stand together; None where that is not all that takes current there."""
        lamps = {lamp.name: lamp for lamp in self.parts.lamps}
        behind = [lamps[name] for name, _ in tap.guards]
        if tap.others or not behind or any(lamp.dice[0].filament_volts for lamp in behind):
            return None
        return sum(
            (1 if tap.string is not None else lamp.parallel) * min(die.rated for die in lamp.dice)
            for lamp in behind
        )


def _apart(one: float, other: float) -> float:
    """How far two currents are apart, by their ratio."""
    return abs(log(one / other)) if one > 0.0 and other > 0.0 else inf
