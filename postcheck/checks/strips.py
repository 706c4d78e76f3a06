"""Cut lengths of LED strip: cut at a mark, on the right volts, bright to the far end."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from postcheck.checks.fact import Fact, Within, first_broken, limited, of_rating
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording
from postcheck.limits import LimitName, above, below
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import StripFigures, SupplyFigures
from postcheck.wiring.looked_up import BESIDE_THE_MARK, STRIP_TRACE, whole_segments

# A supply within this share of the rated voltage is the right one, whatever its tolerance.
RIGHT_VOLTS = 0.1
# Below this share of its volts a strip is plainly dimmer than the maker meant it.
WEAK_VOLTS = 0.85
_BESIDE = Limited(BESIDE_THE_MARK, "m", "judgement: within the pads of a mark")
_CURRENTS: tuple[LimitName, ...] = ("lamp.current.stop", "lamp.current.nominal")


def _not_at_mark(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for part in survey.parts.strips:
        spec = part.said
        if spec.length is None or spec.segments is not None:
            continue
        whole = whole_segments(spec.length, part.segment)
        rest = spec.length - whole * part.segment
        if whole:
            yield (within := Within(Subject("strip", part.name), rest, _BESIDE, slack=1e-6))
            if within.kept:
                continue
        yield Fact(
            "caution" if whole else "stop",
            Subject("strip", part.name),
            (*part.path, "length"),
            "between marks" if whole else "before the first",
            figures={
                "length": Figure(spec.length, "m"),
                "segment": Figure(part.segment, "m"),
                "dark": Figure(rest, "m"),
                "lit": Figure(whole, ""),
            },
        )


def _over_through(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["strip.through"]
    for strip in survey.electrics.strips.values():
        stands = strip.part.through
        if stands is None:
            continue
        if strip.part.trace is None and strip.part.far_end is not None:
            yield NotJudged(strip.name, "the current through its traces", STRIP_TRACE)
            continue
        most = of_rating(limit, stands, "A")
        yield (within := Within(Subject("strip", strip.name), strip.through, most))
        if within.kept:
            continue
        usual = strip.through * (strip.nominal / strip.highest if strip.highest > 0.0 else 1.0)
        pieces = _pieces(strip, most.value)
        yield Fact(
            "stop" if above(usual, most.value) else "caution",
            within.subject,
            (*strip.part.path, "through"),
            figures={
                "through": Figure(strip.through, "A"),
                "stands": Figure(stands, "A"),
                **({"pieces": Figure(pieces, "")} if pieces else {}),
            },
            limit=most,
        )


def _pieces(strip: StripFigures, stands: float) -> int:
    """In how many pieces of whole segments no piece takes more than its traces withstand (A); 0 where none is short enough."""
    segments = strip.part.segments
    each = int(stands / strip.through * segments + 1e-9)
    return ceil(segments / each) if each else 0


def _fed_by(survey: Survey, strip: StripFigures) -> SupplyFigures | None:
    name = survey.wiring.drivers[strip.part.circuit].supply
    return survey.electrics.supplies.get(name or "")


def _volts(survey: Survey, strip: StripFigures, supply: SupplyFigures) -> dict[tuple[Severity, str], Within]:
    """What the supply's volts do to a strip, against what it is made for, by severity and case where they are wrong."""
    part, limits, subject = strip.part, survey.limits, Subject("strip", strip.name)
    rated = part.rated
    if above(supply.volts, part.volts * (1.0 + RIGHT_VOLTS)):
        stop, nominal = (of_rating(limits[name], rated, "A") for name in _CURRENTS)
        return {
            ("stop", "high"): Within(subject, strip.segment_current, stop),
            ("caution", "high"): Within(subject, strip.segment_highest, nominal),
        }
    steps: dict[tuple[Severity, str], Within] = {}
    if below(supply.volts, part.volts * (1.0 - RIGHT_VOLTS)):
        dim = of_rating(limits["lamp.dim"], rated, "A")
        steps["stop", "dark"] = Within(subject, strip.segment_current, dim, least=True)
    weak = Limited(
        WEAK_VOLTS * part.volts, "V", "judgement: below it a strip is plainly dimmer than it is made"
    )
    steps["caution", "weak"] = Within(subject, supply.volts, weak, least=True)
    return steps


def _wrong_volts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for strip in survey.electrics.strips.values():
        if (supply := _fed_by(survey, strip)) is None:
            continue
        steps = _volts(survey, strip, supply)
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        yield Fact(
            severity,
            Subject("strip", strip.name),
            (*strip.part.path, "kind"),
            case,
            figures={
                "supply": Figure(supply.volts, "V"),
                "strip": Figure(strip.part.volts, "V"),
                "current": Figure(strip.segment_current, "A"),
                "rated": Figure(strip.part.rated, "A"),
            },
            parts={"source": Subject("supply", supply.name)},
            limit=steps[broken].limit,
            # its LEDs, or the small resistors between them
            firm=DANGER if case == "high" and severity == "stop" else "",
        )


def _dim(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["drop.lamp-share"]
    for strip in survey.electrics.strips.values():
        supply = _fed_by(survey, strip)
        if supply is None or first_broken(_volts(survey, strip, supply)) is not None:
            continue
        lost = 1.0 - strip.last_volts / supply.volts
        subject = Subject("strip", strip.name)
        steps = {
            "lost": Within(subject, lost, limited(limit)),
            "dimmer": Within(subject, strip.light_lost, limited(survey.limits["drop.light"])),
        }
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        along = strip.first_volts - strip.last_volts
        yield Fact(
            "caution",
            subject,
            strip.part.path,
            "along" if along > 0.5 * lost * supply.volts else "before",
            figures={
                "last": Figure(strip.last_volts, "V"),
                "first": Figure(strip.first_volts, "V"),
                "supply": Figure(supply.volts, "V"),
                "missing": Figure(supply.volts - strip.last_volts, "V"),
                "lost": Figure(lost, "share"),
                "dimmer": Figure(strip.light_lost, "share"),
                "along": Figure(max(along, 0.0), "V"),
                "leds": Figure(len(strip.part.dice), ""),
            },
            limit=steps[broken].limit,
        )


_SEGMENT = "A segment only works whole: its LEDs and resistor are one string from pad to pad."
_TOO_LOW = (
    "The LEDs in series of a segment need most of the voltage; what is missing is missing from its resistor."
)
_LOST = "The last segment of {subject} gets {last} of {supply}. {missing} ({lost}) is lost on the way, {along} of it along the strip, and with it {dimmer} of its light."
_LITTLE_LEFT = "Its {leds:LED leaves|LEDs in series leave} few volts for the resistor, so a small loss of voltage is a large one of light."

CHECKS: tuple[Check, ...] = (
    Check(
        "strip.not-at-mark", "stop", "strip", "a strip that is not cut at one of its marks", "A segment only works whole.",
        "length is a whole number of segments, to a millimetre", (), "how such strips are made: each segment is a string from pad to pad", _not_at_mark,
        wording={
            "between marks": Wording(
                "{subject} is cut at {length:apart}. Its marks are {segment:apart} apart: {lit:segment lights|segments light}, and the last {dark} stays dark.", _SEGMENT
            ),
            "before the first": Wording(
                "{subject} is cut at {length:apart}. Its marks are {segment:apart} apart: no segment is whole, and nothing of it lights.", _SEGMENT
            ),
        },
    ),
    Check(
        "strip.over-through", "stop", "strip", "more current through a strip's traces than they withstand",
        "Thin copper overheats and lifts.", "highest current into its first segment", ("strip.through",), "the strip's data", _over_through,
        dangerous=True,
        wording={
            "": Wording(
                "Up to {through:apart} flows through the traces of {subject}. They are rated for {stands:apart}.",
                "The copper of a strip is a few hundredths of a millimetre thick. Overloaded, it lifts and browns the adhesive under it.",
                "[Feed it in {pieces:piece}, each by its own leads.]",
            )
        },
    ),
    Check(
        "strip.wrong-volts", "stop", "strip", "a strip on a supply of other volts",
        "Too high destroys it, too low leaves it dark.", "I of one segment, from V(I) of its dice and its resistor",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.dim"), "the strip's rated voltage", _wrong_volts,
        held="a stop of too many volts",
        wording={
            "high": Wording(
                "{subject} is made for {strip}, and {source} gives {supply}. Each LED gets {current}. Its rating is {rated}.",
                "The resistor of each segment is chosen for one voltage; what is above it goes into heat and current at once.",
            ),
            "dark": Wording("{subject} is made for {strip}, and {source} gives {supply}. Its LEDs stay dark, or nearly so.", _TOO_LOW),
            "weak": Wording("{subject} is made for {strip}, and {source} gives {supply}. Its LEDs get {current} of {rated}.", _TOO_LOW),
        },
    ),
    Check(
        "strip.dim", "caution", "strip", "a strip that is dim at its far end", "A small loss of voltage is a large one of light.",
        "1 - V of the last segment / V of the supply; 1 - I of it / I on the supply: a caution where either is more than its limit", ("drop.lamp-share", "drop.light", "lamp.current.stop", "lamp.current.nominal", "lamp.dim"),
        "ABYC E-11, 11.14.2.6: 10 % for circuits that are not critical", _dim,
        wording={
            "along": Wording(_LOST, _LITTLE_LEFT, "Feed it from both ends, or from the middle."),
            "before": Wording(_LOST, _LITTLE_LEFT),
        },
    ),
)  # fmt: skip
