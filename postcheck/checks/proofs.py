"""Proofs: what was measured against what is computed at that bench voltage, and what the tests themselves say."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from postcheck.checks.fact import of_rating
from postcheck.checks.record import Check
from postcheck.checks.shown import amps, count_of, listed, ohms, volts
from postcheck.description.subjects import subject_of
from postcheck.limits import Limit
from postcheck.plain import harmless, quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.survey.bench.test_points import Tap
    from postcheck.survey.test_records.readings import Expected, Explanation, Known, Reading

__all__ = ["CHECKS", "called", "own_resistors"]


def _current(survey: Survey) -> Iterator[Finding | NotJudged]:
    for reading in survey.proofs.readings if survey.build.proof else ():
        name = reading.name
        if reading.missing:
            yield NotJudged(name, f"whether {amps(reading.amps)} is what it should take", reading.missing)
            continue
        over = _over(survey, reading)
        if reading.fits and over is None:
            continue
        meter = survey.limits["proof.meter"]
        says = f"{called(reading.kind, name)}{_where(reading)} took {amps(reading.amps)} at {volts(reading.proof.volts or 0.0)}{_by_way_of(reading)}"
        says += f"; {' or '.join(_expected_words(survey, one, reading) for one in reading.expected)} is to be expected."
        severity: Severity = "caution"
        why = "What was built is not what is described here, and every other figure of it is worked out from that."
        limited = Limited(_nearest_bound(reading, meter.value), "A", _BAND)
        if over is not None:
            severity, limited = "stop", of_rating(over, reading.rated or 0.0, "A")
            says = f"{says[:-1]}, and {amps(reading.rated or 0.0)} is its rating."
            why = "An LED that was driven so hard has lost some of its life, and may fail where nobody gets at it again."
        band = _nearest(reading).band
        yield Finding(
            "proof.current", severity, _subject(survey, reading.kind, name, reading.proof.at), says, why,
            ("proof", reading.position, "current"),
            remedy=_remedy(survey, reading, over),
            figures={
                "current": Figure(reading.amps, "A"), "least": Figure(band.least, "A"),
                "usual": Figure(band.usual, "A"), "most": Figure(band.most, "A"),
            },
            limit=limited,
            because_of=f"lamp.over-rating:{name}" if reading.fits else None,
        )  # fmt: skip


_BAND = "the end of the band nearest to it: parts by their tolerances at the bench voltage, and the meter's own (proof.meter)"


def _over(survey: Survey, reading: Reading) -> Limit | None:
    limit = survey.limits["lamp.current.stop"]
    over = reading.rated is not None and reading.amps > limit.value * reading.rated * (1.0 + 1e-6)
    return limit if over else None


def _nearest(reading: Reading) -> Expected:
    return min(
        reading.expected, key=lambda one: max(one.band.least - reading.amps, reading.amps - one.band.most)
    )


def _nearest_bound(reading: Reading, meter: float) -> float:
    band = _nearest(reading).band
    return band.least * (1.0 - meter) if reading.amps < band.least else band.most * (1.0 + meter)


def called(kind: str, name: str) -> str:
    """A lamp by its name alone; what is less plain with its kind."""
    return quoted(name) if kind in ("lamp", "strip", "load") else f"{kind} {quoted(name)}"


def _subject(survey: Survey, kind: str, name: str, at: str | None = None) -> Subject:
    """What a finding is about, by words that only it has: a circuit may bear a lamp's name, or be tried at two places."""
    words = subject_of(survey.build, kind, name)
    return Subject(kind, words if at is None else f"{words} at {at}")


def _where(reading: Reading) -> str:
    return f" at {quoted(reading.proof.at)}" if reading.proof.at is not None else ""


def _by_way_of(reading: Reading) -> str:
    return f" through {ohms(reading.ohms)} in the bench lead" if reading.ohms else ""


def _expected_words(survey: Survey, one: Expected, reading: Reading) -> str:
    """A band of current; where its resistor may be in the way or not, with which of the two."""
    band, limit = one.band, reading.proof.limit
    told = f"{amps(band.least)} to {amps(band.most)}"
    if reading.tap is None or reading.tap.guard not in ("here", "behind"):
        return told
    if one.resistor:
        return f"{told}{' in all, each string' if own_resistors(survey, reading.tap) else ''} through its resistor"
    held = limit is not None and limit < band.least
    return f"{f'the limit of {amps(limit)}' if limit is not None and held else told} without {'them' if own_resistors(survey, reading.tap) else 'it'}"


def own_resistors(survey: Survey, tap: Tap) -> bool:
    """Whether there are several strings behind a tap, each with a resistor of its own."""
    behind = dict(tap.guards)
    strings = [lamp for lamp in survey.parts.lamps if lamp.name in behind and lamp.resistor is not None]
    return sum(1 if lamp.one_resistor else lamp.parallel for lamp in strings) > 1


def _remedy(survey: Survey, reading: Reading, over: Limit | None) -> str:
    found = [_explained(one) for one in survey.proofs.explained(reading)]
    if not found and reading.kind == "load" and not _spread_given(survey, reading.name):
        return "Measure again. If it runs as it should, write down what such a load takes at least and at most (least, most)."
    if not found:
        told = "Measure again, then look for what differs from the description; no single part explains it."
        return (
            told
            if over is None
            else f"Put a fresh lamp in. {told}"
            if not reading.fits
            else "Put a fresh lamp in, and test at less."
        )
    told = f"{found[0][0].upper()}{found[0][1:]} would explain it"
    if len(found) > 1:
        told += f"; so would {found[1]}"
    return f"{told}. Look, put right what is wrong, and measure again{'' if over is None else ' with a fresh lamp'}."


def _spread_given(survey: Survey, load: str) -> bool:
    return any(
        one.name == load and one.least is not None and one.most is not None for one in survey.build.load
    )


def _explained(one: Explanation) -> str:
    name, several = listed(one.names), len(one.names) > 1
    any_of = f"one of {name}" if several else name
    match one.what:
        case "dark":
            told = "a lamp the wrong way round, or an open joint,"
        case "held":
            told = (
                "the bench supply's current limit (then add it as `limit`, or write the volts that it showed)"
            )
        case "bridged":
            told = f"{name} without its resistor, or with it bridged,"
        case "short":
            led = f"one shorted LED of the {one.given:.0f} in a string" if one.given > 1.0 else "a short"
            told = f"{led} {'of' if one.given > 1.0 else 'across'} {any_of}"
        case "open":
            told = f"{one.value:.0f} of the {one.given:.0f} strings of {any_of} dark"
        case "missing":
            told = f"{any_of} dark (open, or the wrong way round)"
        case "resistor":
            told = f"a resistor of {ohms(one.value)} at {any_of} instead of {ohms(one.given)}"
        case "forward":
            told = f"LEDs of {one.value:.2g} V each in {name} instead of {one.given:.2g} V"
            told += f", such as {listed(one.kinds)}," if one.kinds else " (another bin)"
        case "segments":
            told = f"{count_of(round(one.value), 'lit segment')} of {name} instead of {one.given:.0f}"
        case "volts":
            told = f"{volts(one.value)} at the bench instead of {volts(one.given)}"
    return told


# -- what the tests themselves say


def _said(survey: Survey, key: str) -> Iterator[tuple[Known, int]]:
    for known in survey.proofs.known.values() if survey.build.proof else ():
        if key in known.said:
            yield known, known.said[key]


def _polarity(survey: Survey) -> Iterator[Finding | NotJudged]:
    on_purpose = {lamp.entry for lamp in survey.parts.lamps if lamp.backwards}
    for known, position in _said(survey, "polarity"):
        if survey.build.proof[position].polarity is False and known.name not in on_purpose:
            yield Finding(
                "proof.polarity", "stop", _subject(survey, known.kind, known.name, known.at),
                f"{called(known.kind, known.name)} was tested and found the wrong way round{_done(survey, position)}.",
                "An LED the wrong way round stays dark, and at more than some 5 V it may be harmed.",
                ("proof", position, "polarity"),
                remedy="Swap its two legs, test again and write that down.",
            )  # fmt: skip


def _continuity(survey: Survey) -> Iterator[Finding | NotJudged]:
    for known, position in _said(survey, "continuity"):
        whole = survey.proofs.whole(position)
        if whole is None:
            yield NotJudged(
                known.name, "whether the ohms that were measured are what it should have from end to end",
                "continuity = true or false, or its run or plug as the subject",
            )  # fmt: skip
        if whole is not False:
            continue
        measured = survey.build.proof[position].continuity or None
        says, figures, limited = "was tested and does not go from end to end", {}, None
        if measured is not None:
            limit = survey.limits["proof.continuity"]
            own = survey.proofs.copper(known.kind, known.name)
            most = own + limit.value
            copper = f"its copper has {ohms(own)}, and" if own > _NO_OHMS else "from end to end"
            says = f"was measured at {ohms(measured)}; {copper} {ohms(most)} is the most with joints and meter leads"
            figures = {"measured": Figure(measured, "ohm"), "copper": Figure(own, "ohm")}
            limited = Limited(most, limit.unit, limit.source)
        yield Finding(
            "proof.continuity", "stop", _subject(survey, known.kind, known.name, known.at),
            f"{called(known.kind, known.name)} {says}{_done(survey, position)}.",
            "What is open on the bench does not close by itself in the model." if measured is None
            else "A joint that is bad already gets worse, and then flickers where nobody gets at it.",
            ("proof", position, "continuity"),
            remedy="Make the joint again or lay a new conductor, test again and write that down.",
            figures=figures, limit=limited,
        )  # fmt: skip


_NO_OHMS = 1e-3


def _insulation(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["proof.insulation"]
    for known, position in _said(survey, "insulation"):
        measured = survey.build.proof[position].insulation or 0.0
        if measured < limit.value:
            yield Finding(
                "proof.insulation", "caution", _subject(survey, known.kind, known.name, known.at),
                f"the insulation of {called(known.kind, known.name)} was measured at {ohms(measured)}{_done(survey, position)}; {ohms(limit.value)} is the least.",
                "Somewhere bare copper, flux or damp joins what should be apart; it gets worse, not better.",
                ("proof", position, "insulation"),
                remedy="Find the place, clean and insulate it, and measure again with the ohm range of a multimeter: an insulation tester's 250 V and more is never put on wiring with LEDs or boards connected.",
                figures={"insulation": Figure(measured, "ohm")},
                limit=Limited(limit.value, limit.unit, limit.source),
            )  # fmt: skip


def _future(survey: Survey) -> Iterator[Finding | NotJudged]:
    for position, proof in enumerate(survey.build.proof):
        if proof.on is not None and proof.on > survey.today:
            kind, name = survey.proofs.about(proof)
            yield Finding(
                "proof.future", "caution", _subject(survey, kind, name, proof.at),
                f"the proof of {called(kind, name)} is dated {proof.on.isoformat()}, and today is {survey.today.isoformat()}.",
                "What has not happened yet proves nothing; it is left out until then.",
                ("proof", position, "date"),
                remedy="Write the day on which it was done.",
            )  # fmt: skip


def _done(survey: Survey, position: int) -> str:
    done = survey.build.proof[position].done
    return f" ({harmless(done, 80)})" if done else ""


CHECKS: tuple[Check, ...] = (
    Check(
        name="proof.current",
        severity="stop",
        subject="proof",
        line="a measured current that is not the one computed at that bench voltage",
        why="What was built is not what is described, or the lamp was driven beyond what it stands.",
        formula="measured against I of what hangs on the lead or line, least to most over the tolerances of the parts, the supply's left out, widened by the meter's; what would explain it is put into the network and tried",
        limits=("proof.meter", "load.spread", "lamp.current.stop"),
        source="Kirchhoff's laws and Shockley's; IEC 60063 for the resistors that are tried",
        judge=_current,
        dangerous=True,
    ),
    Check(
        name="proof.polarity",
        severity="stop",
        subject="proof",
        line="something that was tested and found the wrong way round",
        why="An LED the wrong way round stays dark, and at more than some 5 V it may be harmed.",
        formula="polarity = false in the latest proof of it that says so or otherwise",
        limits=(),
        source="the builder's own test",
        judge=_polarity,
    ),
    Check(
        name="proof.continuity",
        severity="stop",
        subject="proof",
        line="something that was tested and found open, or nearly so",
        why="What is open on the bench does not close by itself in the model.",
        formula="continuity = false, or more ohm than its copper and the limit, in the latest proof of it that says so or otherwise",
        limits=("proof.continuity",),
        source="the builder's own test",
        judge=_continuity,
    ),
    Check(
        name="proof.insulation",
        severity="caution",
        subject="proof",
        line="insulation that was measured and is too low",
        why="Somewhere bare copper, flux or damp joins what should be apart. An insulation tester is never used with LEDs connected.",
        formula="the latest measured insulation resistance against the least",
        limits=("proof.insulation",),
        source="IEC 60364-6 table 6A (from memory)",
        judge=_insulation,
    ),
    Check(
        name="proof.future",
        severity="caution",
        subject="proof",
        line="a proof with a date that is still to come",
        why="What has not happened yet proves nothing.",
        formula="the proof's date against today, or --today",
        limits=(),
        source="the calendar",
        judge=_future,
    ),
)
