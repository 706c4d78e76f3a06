"""Resistors: whether they withstand the heat, and whether they can be bought."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.known import turns
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.called import piece_words
from postcheck.description.toml_text import in_toml
from postcheck.limits import above
from postcheck.physics import preferred
from postcheck.report import Figure, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.parts import LampPart, ResistorPart
from postcheck.wiring.resistors import spec_of

# What resistors with leads and trimmers are mostly sold for, W: common practice.
_USUAL_POWER, _USUAL_TRACK = 0.25, 0.5
# Even the smallest usual resistor withstands this: 1/16 W (0402) at 80 %. More than 1/8 W burns small ones that are
# in many hands (0603, 0805, 1/8 W).
ALWAYS_WITHSTOOD, BURNS = 0.05, 0.125


def _overloaded(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    stop, caution = survey.limits["resistor.power.stop"], survey.limits["resistor.power.caution"]
    for lamp in survey.electrics.lamps.values():
        resistor = lamp.part.resistor
        if resistor is None or lamp.part.backwards or lamp.highest <= 0.0:
            continue
        if resistor.pieces:
            yield from _one_of_several(survey, lamp, resistor)
            continue
        if resistor.power is None:
            if above(lamp.resistor_load, ALWAYS_WITHSTOOD):
                yield open_question(
                    lamp.name,
                    "whether its resistor withstands the {highest} that it may dissipate",
                    "its power, such as resistor = {resistor}",
                    words=_rated(lamp.part),
                    figures={"highest": Figure(lamp.resistor_load, "W")},
                    vital=above(lamp.resistor_load, BURNS),
                )
            continue
        subject = Subject("lamp", lamp.name)
        # a flasher that sticks, and the test for hours, leave it lit
        lit, flashing = lamp.resistor_likely, lamp.resistor_likely * lamp.resistor_fraction
        steps: dict[tuple[Severity, str], Within] = {
            ("stop", "over"): Within(subject, flashing, of_rating(stop, resistor.power, "W")),
            ("stop", "steadily"): Within(subject, lit, of_rating(stop, resistor.power, "W")),
            ("caution", "over"): Within(subject, flashing, of_rating(caution, resistor.power, "W")),
            ("caution", "steadily"): Within(subject, lit, of_rating(caution, resistor.power, "W")),
        }
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        yield Fact(
            severity,
            subject,
            lamp.part.resistor_path,
            case,
            figures={
                "nominal": Figure(lamp.resistor_nominal, "W"),
                "likely": Figure(steps[broken].value, "W"),
                "highest": Figure(lamp.resistor_load, "W"),
                "share": Figure(steps[broken].value / resistor.power, "share"),
                "rated": Figure(resistor.power, "W"),
            },
            parts={"circuit": Subject("circuit", lamp.part.circuit)} if case == "steadily" else {},
            limit=steps[broken].limit,
            because_of=f"lamp.over-rating:{lamp.name}",
        )


def _rated(part: LampPart) -> dict[str, str]:
    """The resistor of the file, with a usual power where it has none: the builder reads the true one off the part."""
    spec = spec_of(part)
    assert spec is not None
    words = " + ".join(
        piece_words(
            piece
            if piece.power is not None or piece.size is not None
            else piece.model_copy(update={"power": _USUAL_TRACK if piece.trimmer else _USUAL_POWER})
        )
        for piece in spec.pieces
    )
    return {"resistor": in_toml(words if spec.place is None else f"{words} at {spec.place}")}


def _one_of_several(
    survey: Survey, lamp: LampFigures, resistor: ResistorPart
) -> Iterator[Fact | Within | NotJudged]:
    """Of resistors in series each by its own rating; a trimmer by its current."""
    stop, caution = survey.limits["resistor.power.stop"], survey.limits["resistor.power.caution"]
    subject, over = Subject("lamp", lamp.name), []
    for piece in resistor.pieces:
        if piece.track is not None:
            continue
        part = piece.ohms / resistor.ohms
        if piece.power is None:
            highest = lamp.resistor_load * part
            if above(highest, ALWAYS_WITHSTOOD):
                yield open_question(
                    lamp.name, "whether its {ohms} withstand the {highest} that they may dissipate",
                    "the power of each, such as resistor = {resistor}", words=_rated(lamp.part),
                    figures={"highest": Figure(highest, "W"), "ohms": Figure(piece.ohms, "ohm")}, vital=above(highest, BURNS),
                )  # fmt: skip
            continue
        lit, rated = lamp.resistor_likely * part, piece.power
        flashing = lit * lamp.resistor_fraction
        steps: dict[tuple[Severity, str], Within] = {
            ("stop", "one over"): Within(subject, flashing, of_rating(stop, rated, "W")),
            ("stop", "one steadily"): Within(subject, lit, of_rating(stop, rated, "W")),
            ("caution", "one over"): Within(subject, flashing, of_rating(caution, rated, "W")),
            ("caution", "one steadily"): Within(subject, lit, of_rating(caution, rated, "W")),
        }
        yield from steps.values()
        if (broken := first_broken(steps)) is not None:
            over.append((broken[0] == "stop", steps[broken].value / rated, piece, broken, steps[broken]))
    if over:
        _, share, piece, (severity, case), within = max(over, key=lambda one: one[:2])
        yield Fact(
            severity, subject, lamp.part.resistor_path, case,
            figures={
                "ohms": Figure(piece.ohms, "ohm"), "likely": Figure(within.value, "W"), "rated": Figure(piece.power or 0.0, "W"),
                "share": Figure(share, "share"), "highest": Figure(lamp.resistor_load * piece.ohms / resistor.ohms, "W"),
            },
            parts={"circuit": Subject("circuit", lamp.part.circuit)} if case == "one steadily" else {},
            limit=within.limit,
            because_of=f"trimmer.turned-down:{lamp.name}" if turns(lamp.part) else f"lamp.over-rating:{lamp.name}",
        )  # fmt: skip


def _track(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Trimmers by the current of their whole track, turned to least."""
    limit = survey.limits["trimmer.current"]
    for lamp in survey.electrics.lamps.values():
        resistor = lamp.part.resistor
        piece = None if resistor is None else resistor.trimmer
        if (
            piece is None
            or piece.track is None
            or lamp.part.backwards
            or lamp.turned is None
            or lamp.nominal <= 0.0
        ):
            continue  # fmt: skip
        subject, least = Subject("lamp", lamp.name), max(lamp.turned[0], lamp.nominal)
        up = least / lamp.nominal
        if destroyed(lamp.part.dice, least, survey.limits):  # that comparison is reported
            continue
        strings = lamp.part.parallel if lamp.part.shared_resistor else 1
        likely, highest = (amps * up * strings for amps in (lamp.likely_highest, lamp.highest))
        if piece.power is None:
            if above(watts := highest**2 * piece.track, ALWAYS_WITHSTOOD):
                yield open_question(
                    lamp.name,
                    "whether its trimmer of {track} stands {highest}, that much through its whole track being {watts}",
                    "the power of its track, such as resistor = {resistor}", words=_rated(lamp.part),
                    figures={"track": Figure(piece.track, "ohm"), "highest": Figure(highest, "A"), "watts": Figure(watts, "W")},
                    vital=above(watts, BURNS),
                )  # fmt: skip
            continue
        most = of_rating(limit, sqrt(piece.power / piece.track), "A")
        steps: dict[tuple[Severity, str], Within] = {
            ("stop", "likely"): Within(subject, likely, most),
            ("caution", "stacked"): Within(subject, highest, most),
        }
        yield from steps.values()
        if (broken := first_broken(steps)) is not None:
            yield Fact(
                broken[0], subject, lamp.part.resistor_path, broken[1],
                figures={
                    "current": Figure(steps[broken].value, "A"), "rated": Figure(piece.power, "W"), "track": Figure(piece.track, "ohm"),
                    "highest": Figure(highest**2 * piece.track, "W"),
                },
                limit=most, because_of=f"trimmer.turned-down:{lamp.name}",
            )  # fmt: skip


def _not_in_series(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    names: dict[float, list[str]] = {}
    paths: dict[str, tuple[str | int, ...]] = {}
    sold: dict[float, bool] = {}
    for part in survey.parts.lamps:
        for piece in part.resistor.each if part.resistor is not None else ():
            if piece.ohms not in sold and piece.track is None:
                sold[piece.ohms] = preferred.series_of(piece.ohms) is not None
            if piece.track is None and not sold[piece.ohms]:
                names.setdefault(piece.ohms, []).append(part.name)
                paths[part.name] = part.resistor_path
    for value, lamps in names.items():
        yield Fact(
            "note",
            Subject("lamp", lamps[0]),
            paths[lamps[0]],
            figures={"ohms": Figure(value, "ohm")},
            parts={"lamps": tuple(Subject("lamp", name) for name in lamps)},
        )


_HOT = "At its rating a film resistor is hot enough to melt styrene and lift paint. Beyond it the value drifts until it opens."

CHECKS: tuple[Check, ...] = (
    Check(
        "resistor.overloaded", "stop", "lamp", "a resistor that gets too hot",
        "Its heat softens plastic and paint, and beyond its rating it fails.",
        "P = I**2 R; over time where it flashes or is dimmed, and steadily on, as when a flasher sticks or in a test for hours",
        ("resistor.power.caution", "resistor.power.stop"), "the resistor's rating at 70 degC", _overloaded, dangerous=True,
        wording={
            "over": Wording("The resistor of {subject} dissipates {likely} at the likely worst, {share} of its rating of {rated}.", _HOT),
            "one over": Wording(
                "Of the resistors in series of {subject}, the {ohms} dissipate {likely} at the likely worst, {share} of their rating of {rated}.", _HOT
            ),
            "one steadily": Wording(
                "When {circuit} sticks on, and in a steady test, of the resistors in series of {subject} the {ohms} dissipate {likely} at the likely worst,"
                " {share} of their rating of {rated}.",
                _HOT,
            ),
            "steadily": Wording(
                "When {circuit} sticks on, and in a steady test, the resistor of {subject} dissipates {likely} at the likely worst,"
                " {share} of its rating of {rated}.",
                _HOT,
            ),
        },
    ),
    Check(
        "trimmer.overloaded", "stop", "lamp", "more current than the track of a trimmer stands",
        "The rating of a trimmer is for its whole track. Turned to least all current goes through the first bit of it.",
        "I turned to zero against sqrt(P / R) of the whole track", ("trimmer.current", "lamp.destroyed", "lamp.filament.destroyed"), "makers' handbooks of trimming potentiometers (from memory)", _track,
        wording={
            how: Wording(
                f"Turned to least, the trimmer of {{subject}} passes {{current:apart}} {when}. Its {{rated}} are for the whole track of {{track}}: no part of it stands more than {{limit:apart}}.",
                "All current goes through the first bit of the track, which is then as hot as the whole of it would be at its rating. It burns through there.",
                "Use one of more power, or a larger fixed resistor beside it.",
            )
            for how, when in (("likely", "at the likely worst"), ("stacked", "with every tolerance against it"))
        },
    ),
    Check(
        "resistor.not-in-series", "note", "lamp", "a resistor that nobody sells", "A typing mistake?",
        "value in E24 or E96", (), "IEC 60063", _not_in_series,
        wording={
            "": Wording(
                "{ohms} for {lamps} is in neither E24 nor E96.", "Nobody sells a value that is in no series. A typing mistake?"
            )
        },
    ),
)  # fmt: skip
