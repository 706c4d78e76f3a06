"""Cut lengths of LED strip: cut at a mark, on the right volts, bright to the far end."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from postcheck.checks.fact import of_rating
from postcheck.checks.record import DANGER, Check
from postcheck.checks.shown import amps, count_of, millimetres, percent, volts
from postcheck.description.naming import supply_of
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import StripFigures, SupplyFigures
from postcheck.wiring.parts import BESIDE_THE_MARK, STRIP_TRACE, whole_segments

__all__ = ["CHECKS"]

# A supply within this share of the rated voltage is the right one, whatever its tolerance.
RIGHT_VOLTS = 0.1
# Below this share of its volts a strip is plainly dimmer than the maker meant it.
WEAK_VOLTS = 0.85


def _not_at_mark(survey: Survey) -> Iterator[Finding | NotJudged]:
    for part in survey.parts.strips:
        spec = survey.build.strip[int(part.path[1])]
        if spec.length is None or spec.segments is not None:
            continue
        whole = whole_segments(spec.length, part.segment)
        rest = spec.length - whole * part.segment
        if whole and rest <= BESIDE_THE_MARK + 1e-9:
            continue
        severity: Severity = "caution" if whole else "stop"
        dark = (
            f"{count_of(whole, 'segment lights', 'segments light')} and the last {millimetres(rest)} stay dark"
            if whole
            else "not one segment is whole and nothing of it lights"
        )
        yield Finding(
            "strip.not-at-mark",
            severity,
            Subject("strip", part.name),
            f"{quoted(part.name)} is cut at {millimetres(spec.length)}; its marks are {millimetres(part.segment)} apart, so {dark}.",
            "A segment only works whole: its LEDs and resistor are one string from pad to pad.",
            (*part.path, "length"),
            figures={
                "length": Figure(spec.length, "m"),
                "segment": Figure(part.segment, "m"),
                "dark": Figure(rest, "m"),
            },
        )


def _over_through(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["strip.through"]
    for strip in survey.electrics.strips.values():
        stands = strip.part.through
        if stands is None:
            continue
        if strip.part.trace is None and strip.part.far_end is not None:
            yield NotJudged(strip.name, "the current through its traces", STRIP_TRACE)
            continue
        if strip.through <= limit.value * stands:
            continue
        usual = strip.through * (strip.nominal / strip.highest if strip.highest > 0.0 else 1.0)
        yield Finding(
            "strip.over-through",
            "stop" if usual > limit.value * stands else "caution",
            Subject("strip", strip.name),
            f"Up to {amps(strip.through)} go through the traces of {quoted(strip.name)}; they stand {amps(stands)}.",
            "The copper of a strip is a few hundredths of a millimetre thick; overloaded, it lifts and browns the adhesive under it.",
            (*strip.part.path, "through"),
            remedy=_in_pieces(strip, limit.value * stands),
            figures={"through": Figure(strip.through, "A"), "stands": Figure(stands, "A")},
            limit=of_rating(limit, stands, "A"),
        )


def _in_pieces(strip: StripFigures, stands: float) -> str | None:
    """In how many pieces of whole segments no piece takes more than its traces stand (A)."""
    segments = strip.part.segments
    each = int(stands / strip.through * segments + 1e-9)
    return f"Feed it in {ceil(segments / each)} pieces, each by its own leads." if each else None


def _fed_by(survey: Survey, strip: StripFigures) -> SupplyFigures | None:
    name = supply_of(survey.build, survey.build.circuit[strip.part.circuit])
    return survey.electrics.supplies.get(name or "")


def _misfit(survey: Survey, strip: StripFigures, supply: SupplyFigures) -> tuple[Severity, str] | None:
    """Whether the supply's volts are wrong for the strip: how bad, and what it does."""
    part = strip.part
    rated = min(die.rated for die in part.dice)
    if supply.volts > part.volts * (1.0 + RIGHT_VOLTS):
        words = f"each LED gets {amps(strip.segment_current)}, and {amps(rated)} is its rating"
        if strip.segment_current > survey.limits.value("lamp.current.stop") * rated:
            return "stop", words
        if strip.segment_highest > survey.limits.value("lamp.current.nominal") * rated:
            return "caution", words
        return None
    if strip.segment_current < survey.limits.value("lamp.dim") * rated:
        if supply.volts < part.volts * (1.0 - RIGHT_VOLTS):
            return (
                "stop",
                "its LEDs stay dark, or nearly so",
            )
        return None
    if supply.volts < part.volts * WEAK_VOLTS:
        return "caution", f"its LEDs get {amps(strip.segment_current)} of {amps(rated)}"
    return None


def _wrong_volts(survey: Survey) -> Iterator[Finding | NotJudged]:
    for strip in survey.electrics.strips.values():
        supply = _fed_by(survey, strip)
        wrong = _misfit(survey, strip, supply) if supply is not None else None
        if supply is None or wrong is None:
            continue
        severity, does = wrong
        high = supply.volts > strip.part.volts
        yield Finding(
            "strip.wrong-volts",
            severity,
            Subject("strip", strip.name),
            f"{quoted(strip.name)} is made for {volts(strip.part.volts)} and {quoted(supply.name)} gives {volts(supply.volts)}: {does}.",
            "The resistor of each segment is chosen for one voltage; what is above it goes into heat and current at once."
            if high
            else "The LEDs in series of a segment need most of the voltage; what is missing is missing from its resistor.",
            (*strip.part.path, "kind"),
            figures={
                "supply": Figure(supply.volts, "V"),
                "strip": Figure(strip.part.volts, "V"),
                "current": Figure(strip.segment_current, "A"),
            },
            limit=Limited(strip.part.volts, "V", "the strip's rated voltage"),
            firm=DANGER if high else "",  # its LEDs, or the small resistors between them
        )


def _dim(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["drop.lamp-share"]
    for strip in survey.electrics.strips.values():
        supply = _fed_by(survey, strip)
        if supply is None or supply.volts <= 0.0 or _misfit(survey, strip, supply) is not None:
            continue
        lost = 1.0 - strip.last_volts / supply.volts
        if lost <= limit.value:
            continue
        along = strip.first_volts - strip.last_volts
        yield Finding(
            "strip.dim",
            "caution",
            Subject("strip", strip.name),
            f"The last segment of {quoted(strip.name)} gets {volts(strip.last_volts)} of {volts(supply.volts)}: {percent(lost)} is lost on the way, {volts(max(along, 0.0))} of it along the strip.",
            f"Its {count_of(len(strip.part.dice), 'LED')} in series leave few volts for the resistor, so a small loss of voltage is a large one of light.",
            strip.part.path,
            remedy="Feed it from both ends, or from the middle." if along > 0.5 * lost * supply.volts else None,
            figures={"last": Figure(strip.last_volts, "V"), "first": Figure(strip.first_volts, "V"), "supply": Figure(supply.volts, "V")},
            limit=Limited(limit.value, "", limit.source),
        )  # fmt: skip


CHECKS: tuple[Check, ...] = (
    Check(
        "strip.not-at-mark", "stop", "strip", "a strip that is not cut at one of its marks", "A segment only works whole.",
        "length is a whole number of segments, to a millimetre", (), "how such strips are made: each segment is a string from pad to pad", _not_at_mark,
    ),
    Check(
        "strip.over-through", "stop", "strip", "more current through a strip's traces than they stand",
        "Thin copper overheats and lifts.", "highest current into its first segment", ("strip.through",), "the strip's data", _over_through,
        dangerous=True,
    ),
    Check(
        "strip.wrong-volts", "stop", "strip", "a strip on a supply of other volts",
        "Too high destroys it, too low leaves it dark.", "I of one segment, from V(I) of its dice and its resistor",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.dim"), "the strip's rated voltage", _wrong_volts,
    ),
    Check(
        "strip.dim", "caution", "strip", "a strip that is dim at its far end", "A small loss of voltage is a large one of light.",
        "1 - V of the last segment / V of the supply", ("drop.lamp-share",),
        "ABYC E-11, 10 % for circuits that are not critical (from memory)", _dim,
    ),
)  # fmt: skip
