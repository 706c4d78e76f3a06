"""Resistors: whether they withstand the heat, and whether they can be bought."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.physics import preferred
from postcheck.report import Figure, NotJudged, Severity, Subject
from postcheck.survey import Survey

# Even the smallest usual resistor withstands this: 1/16 W (0402) at 80 %. More than 1/8 W burns small ones that are
# in many hands (0603, 0805, 1/8 W).
ALWAYS_WITHSTOOD, BURNS = 0.05, 0.125


def _overloaded(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    stop, caution = survey.limits["resistor.power.stop"], survey.limits["resistor.power.caution"]
    for lamp in survey.electrics.lamps.values():
        resistor = lamp.part.resistor
        if resistor is None or lamp.part.backwards or lamp.highest <= 0.0:
            continue
        if resistor.power is None:
            if lamp.resistor_load > ALWAYS_WITHSTOOD:
                yield open_question(
                    lamp.name,
                    "whether its resistor withstands the {highest} that it may dissipate",
                    'its power, such as resistor = "150 ohm 1/4 W"',
                    figures={"highest": Figure(lamp.resistor_load, "W")},
                    vital=lamp.resistor_load > BURNS,
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


def _not_in_series(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    names: dict[float, list[str]] = {}
    paths: dict[str, tuple[str | int, ...]] = {}
    for part in survey.parts.lamps:
        if part.resistor is not None and preferred.series_of(part.resistor.ohms) is None:
            names.setdefault(part.resistor.ohms, []).append(part.name)
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
            "steadily": Wording(
                "When {circuit} sticks on, and in a steady test, the resistor of {subject} dissipates {likely} at the likely worst,"
                " {share} of its rating of {rated}.",
                _HOT,
            ),
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
