"""Measured currents against what is computed at that bench voltage."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from postcheck.checks.fact import Fact, Within, of_rating
from postcheck.checks.record import Check
from postcheck.checks.test_records import recorded
from postcheck.checks.wording import Wording, open_question
from postcheck.description.consumers import CONSUMERS
from postcheck.limits import above, below
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.survey.bench.test_points import TestPoint
    from postcheck.survey.test_records.readings import Expected, Explanation, Reading


def _current(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for reading in survey.test_records.readings if survey.build.proof else ():
        name = reading.name
        if reading.missing:
            shown = {"current": Figure(reading.amps, "A")}
            asked = open_question(name, "whether {current} is what it should take", "", figures=shown)
            yield replace(asked, missing=reading.missing)  # it may hold names with braces: not a template
            continue
        subject = recorded(survey, reading.kind, name, reading.record.at)
        ends = _ends(survey, reading, subject)
        yield from ends
        over = None
        if reading.rated is not None:
            most = of_rating(survey.limits["lamp.current.stop"], reading.rated, "A")
            yield (withstands := Within(subject, reading.amps, most, slack=1e-6))
            over = None if withstands.kept else most
        if reading.fits and over is None:
            yield from _coarse(survey, reading)
        else:
            yield _wrong(survey, reading, subject, over, ends)


def _wrong(
    survey: Survey, reading: Reading, subject: Subject, over: Limited | None, ends: tuple[Within, Within]
) -> Fact:
    """A current out of its band, or more than its lamps are rated for (`over`), with what would explain it."""
    figures = _measured(reading, over)
    parts: dict[str, Subject | tuple[Subject, ...]] = {"thing": Subject(reading.kind, reading.name)}
    if reading.record.at is not None:
        parts["at"] = Subject("place", reading.record.at)
    case, words = "plain", {}
    if reading.test_point is not None and reading.test_point.resistor_position in ("here", "behind"):
        several = _own_resistors(survey, reading.test_point)
        case, words = "resistor", {"resistor": "resistors" if several else "resistor"}
        figures |= _bands(reading)
    found = survey.test_records.explained(reading)
    inside = any(one.what == "unstated" for one in found)  # it lights as well as it should behind that
    for one, before in zip(found, ("", found[0].what if found else ""), strict=False):
        more, who = _explained(survey, reading, one, "other_" if one.what == before else "")
        figures |= more
        parts |= who
    return Fact(
        "stop" if over is not None or (_next_to_nothing(reading) and not inside) else "caution",
        subject,
        ("proof", reading.position, "current"),
        f"{case}, {_remedy(survey, reading, found, over)}",
        "differs" if over is None else "harmed",
        figures=figures,
        parts=parts,
        words=words,
        limit=over or next((end for end in ends if not end.kept), ends[1]).limit,
        because_of=f"lamp.over-rating:{reading.name}" if reading.fits else None,
    )


def _measured(reading: Reading, over: Limited | None) -> dict[str, Figure]:
    """What was measured, the band nearest to it, and the rating where it is over that."""
    band = _nearest(reading).band
    figures = {
        "current": Figure(reading.amps, "A"),
        "least": Figure(band.least, "A"),
        "usual": Figure(band.usual, "A"),
        "most": Figure(band.most, "A"),
        "volts": Figure(reading.volts, "V"),
    }
    if reading.ohms:
        figures["lead"] = Figure(reading.ohms, "ohm")
    if over is not None:
        figures["rated"] = Figure(reading.rated or 0.0, "A")
    if reading.nearer is not None:
        how, amps = reading.nearer
        figures |= {f"{how}_usual": Figure(band.usual, "A"), f"{how}_nearer": Figure(amps, "A")}
    return figures


def _coarse(survey: Survey, reading: Reading) -> Iterator[NotJudged]:
    """A current of several strings that does not prove each of them, unless somebody looked."""
    if not reading.coarse or reading.test_point is None:
        return
    behind = dict(reading.test_point.resistor_positions)
    lamp = next(lamp for lamp in survey.parts.lamps if lamp.name in behind)
    strings = survey.bench.strings(lamp)
    yield open_question(
        reading.name,
        "whether each string lights: {current} may also be that of one string dark"
        if reading.coarse == "open"
        else "whether each LED lights: {current} may also be that with one of them shorted",
        f'the current of each string, such as subject = "{strings[0]}"'
        if strings
        else 'what was seen, such as done = "each string seen to light"',
        figures={"current": Figure(reading.amps, "A")},
    )


# Up to an eighth of the least expected current a part counts as dark: a tenth of the usual one is that.
NEXT_TO_NOTHING = 0.125

_BAND = "the end of the band nearest to it: parts by their tolerances at the bench voltage, and the meter's own (proof.meter)"


def _nearest(reading: Reading) -> Expected:
    return min(
        reading.expected, key=lambda one: max(one.band.least - reading.amps, reading.amps - one.band.most)
    )


def _ends(survey: Survey, reading: Reading, subject: Subject) -> tuple[Within, Within]:
    """What was measured against both ends of the band nearest to it, as far as the meter can tell."""
    band, meter = _nearest(reading).band, survey.limits["proof.meter"]
    held = min(band.least, reading.record.limit or band.least) if reading.held else band.least
    least = Limited(held * (1.0 - meter.value), "A", _BAND, meter.name)
    most = Limited(band.most * (1.0 + meter.value), "A", _BAND, meter.name)
    return Within(subject, reading.amps, least, least=True), Within(subject, reading.amps, most)


def _next_to_nothing(reading: Reading) -> bool:
    """Whether what was tested is as good as dark: no spread of parts explains so little."""
    return not above(reading.amps, NEXT_TO_NOTHING * min(one.band.least for one in reading.expected))


def _bands(reading: Reading) -> dict[str, Figure]:
    """The bands of current with a resistor that may be in the way, and without it."""
    found: dict[str, Figure] = {}
    limit = reading.record.limit
    for band, resistor in reading.expected:
        if not resistor and limit is not None and below(limit, band.least):
            found["held_at"] = Figure(limit, "A")
            continue
        case = "with" if resistor else "bare"
        found |= {f"{case}_least": Figure(band.least, "A"), f"{case}_most": Figure(band.most, "A")}
    return found


def _own_resistors(survey: Survey, test_point: TestPoint) -> bool:
    from postcheck.survey.bench.test_points import own_resistors  # noqa: PLC0415 - only where a current is wrong

    return own_resistors(survey.parts, test_point)


def _remedy(survey: Survey, reading: Reading, found: Collection[Explanation], over: Limited | None) -> str:
    """Which remedy it has."""
    if found:
        dark = any(one.what == "dark" for one in found)
        return "dark" if dark else "explained" if over is None else "explained, harmed"
    if over is not None:
        return "less" if reading.fits else "not explained, harmed"
    part = survey.parts.named.get(reading.name) if reading.kind in CONSUMERS else None
    return "not explained" if part is None or (part.least_given and part.most_given) else "load"


def _explained(
    survey: Survey, reading: Reading, one: Explanation, prefix: str
) -> tuple[dict[str, Figure], dict[str, tuple[Subject, ...]]]:
    """The figures and parts of what would explain a current, by the names that `_CAUSES` shows after a prefix."""
    value, given = one.value, one.given
    role: str = one.what
    figures: dict[str, Figure] = {}
    match one.what:
        case "held":
            figures = {"held": Figure(reading.amps, "A")}
        case "past":
            figures = {"through": Figure(value, "A"), "through_ohms": Figure(given, "ohm")}
        case "short" if given < 2.0:
            role = "across"
        case "short":
            figures = {"leds": Figure(given, "")}
        case "open":
            figures = {"dark": Figure(value, ""), "strings": Figure(given, "")}
        case "resistor":
            role, figures = "misfit", {"ohms": Figure(value, "ohm"), "instead": Figure(given, "ohm")}
        case "unstated":
            figures = {"unstated_ohms": Figure(value, "ohm")}
        case "forward":
            figures = {"forward_volts": Figure(value, "V"), "usual_volts": Figure(given, "V")}
        case "segments":
            figures = {"lit": Figure(value, ""), "given_lit": Figure(given, "")}
        case "volts":
            figures = {"stood": Figure(value, "V")}
    parts = {role: tuple(_part(survey, name) for name in one.names)} if one.names else {}
    if one.kinds:
        parts["kinds"] = tuple(Subject("kind", kind) for kind in one.kinds)
    return {prefix + name: figure for name, figure in figures.items()}, {
        prefix + name: of for name, of in parts.items()
    }


def _part(survey: Survey, name: str) -> Subject:
    """A part that takes current, by the name that it alone has among them."""
    part = survey.parts.named.get(name)
    return Subject("lamp" if part is None else part.kind, name)


_NEARER = "[ Usual parts take {open_usual} with every string lit, and {open_nearer} with one dark.][ Usual parts take {short_usual} with every LED sound, and {short_nearer} with one shorted.]"
_TOOK = "{thing:kind}[ at {at}] took {current} at {volts}[ through {lead} in the bench lead]."
_EXPECTED = {
    "plain": " It should take {least} to {most}.",
    "resistor": "[ It should take {with_least} to {with_most} through its {resistor}.][ Without the {resistor} it should take {bare_least} to {bare_most}.][ Without the {resistor} it should take {held_at}, the limit that was set.]",
}
_WHY = {
    "differs": "What was built is not what is described here. Every other figure of it is worked out from that.",
    "harmed": "An LED that was driven so hard ages early, and may fail where nobody gets at it again.",
}
# What would explain a current; a second explanation of a sort has its names with `other_` before them.
_CAUSES = (
    "[Look for a missing or bridged resistor at {bridged}. ]"
    "[More than {through} cannot come through {through_ohms}: look for a missing, bridged or far smaller resistor at {past}, which would harm the next lamp too. ]"
    "[Look for something dark (open, or the wrong way round): {missing:any}. ]"
    "[Look for two that are dark (open, or the wrong way round) among {pair}. ]"
    "[Look for a short across {across:any}. ]"
    "[Look for a shorted LED among the {leds} of a string of {short:any}. ]"
    "[Or look for one among the {other_leds} of a string of {other_short:any}. ]"
    "[Look for {dark:dark string} among the {strings} of {open:any}. ]"
    "[Or look for {other_dark:dark string} among the {other_strings} of {other_open:any}. ]"
    "[Look for a resistor of {ohms} instead of {instead} at {misfit:any}. ]"
    "[Or look for one of {other_ohms} instead of {other_instead} at {other_misfit:any}. ]"
    '[There seems to be a resistor of about {unstated_ohms} in {unstated} already: then write resistor = "{unstated_ohms}" for it. ]'
    "[Look for LEDs of {forward_volts} each instead of {usual_volts} in {forward}. ][Such are {kinds}. ]"
    "[Look for {lit:lit segment} instead of {given_lit} in {segments}. ]"
    "[Or look for {other_lit:lit segment} instead of {other_given_lit} in {other_segments}. ]"
    "[Look whether the bench stood at {stood} instead of {volts}. ]"
    "[Look whether the limit of the bench supply was {held}; then write it down as limit, or the volts that were shown. ]"
)
_NONE = "Measure again, then look for what differs from the description. No single part explains it."
_REMEDIES = {
    "dark": "Look for a lamp the wrong way round, or an open joint. Put right what is wrong, and measure again.",
    "explained": f"{_CAUSES}Put right what is wrong, and measure again.",
    "explained, harmed": f"{_CAUSES}Put right what is wrong, and measure again with a fresh lamp.",
    "not explained": _NONE,
    "not explained, harmed": f"Put a fresh lamp in. {_NONE}",
    "less": "Put a fresh lamp in, and test at less.",
    "load": "Measure again. If it runs as it should, write down what such a load takes at least and at most (least, most).",
}


CHECKS: tuple[Check, ...] = (
    Check(
        name="proof.current",
        severity="stop",
        subject="proof",
        line="a measured current that is not the one computed at that bench voltage",
        why="What was built is not what is described, or the lamp was driven beyond what it withstands.",
        formula="measured against I of what is connected to the lead or line, least to most over the tolerances of the parts, the supply's left out, widened by the meter's; what would explain it is put into the network and tried",
        limits=(
            "proof.meter",
            "load.spread",
            "motor.free",
            "filament.spread",
            "lamp.current.stop",
            "lamp.destroyed",
        ),
        source="Kirchhoff's laws and Shockley's; IEC 60063 for the resistors that are tried",
        judge=_current,
        dangerous=True,
        wording={
            f"{case}, {remedy}": Wording(f"{_TOOK}{expected}{_NEARER}[ Its rating is {{rated}}.]", _WHY, text)
            for case, expected in _EXPECTED.items()
            for remedy, text in _REMEDIES.items()
        },
    ),
)
