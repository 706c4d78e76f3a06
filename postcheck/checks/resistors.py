"""Resistors: whether they stand the heat, and whether they can be bought."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import of_rating
from postcheck.checks.record import Check
from postcheck.checks.shown import listed, ohms, percent, watts
from postcheck.physics import preferred
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, NotJudged, Severity, Subject
from postcheck.survey import Survey

__all__ = ["CHECKS"]

# Even the smallest usual resistor stands this: 1/16 W (0402) at 80 %.
ALWAYS_STOOD = 0.05


def _overloaded(survey: Survey) -> Iterator[Finding | NotJudged]:
    stop, caution = survey.limits["resistor.power.stop"], survey.limits["resistor.power.caution"]
    for lamp in survey.electrics.lamps.values():
        resistor = lamp.part.resistor
        if resistor is None or lamp.part.backwards or lamp.highest <= 0.0:
            continue
        highest = lamp.resistor_load
        likely = highest if lamp.shared_resistor else highest * (lamp.likely_highest / lamp.highest) ** 2
        if resistor.power is None:
            if highest > ALWAYS_STOOD:
                yield NotJudged(
                    lamp.name, f"whether its resistor stands the {watts(highest)} that it may give off",
                    "its power, such as resistor = \"150 ohm 1/4 W\"",
                )  # fmt: skip
            continue
        severity: Severity
        if likely > stop.value * resistor.power:
            severity, heat, limit = "stop", likely, stop
        elif highest > caution.value * resistor.power:
            severity, heat, limit = "caution", highest, caution
        else:
            continue
        yield Finding(
            "resistor.overloaded",
            severity,
            Subject("lamp", lamp.name),
            f"The resistor of {quoted(lamp.name)} gives off up to {watts(heat)}, {percent(heat / resistor.power)} of the {watts(resistor.power)} that it is made for.",
            "At its rating a film resistor is 70 to 100 K hotter than the air: enough to melt styrene and lift paint, and beyond it the value drifts until it opens.",
            lamp.part.resistor_path,
            figures={
                "nominal": Figure(lamp.resistor_nominal * lamp.resistor_share, "W"),
                "highest": Figure(highest, "W"),
                "rated": Figure(resistor.power, "W"),
            },
            limit=of_rating(limit, resistor.power, "W"),
            because_of=f"lamp.over-rating:{lamp.name}",
        )


def _not_in_series(survey: Survey) -> Iterator[Finding | NotJudged]:
    names: dict[float, list[str]] = {}
    paths: dict[str, tuple[str | int, ...]] = {}
    for part in survey.parts.lamps:
        if part.resistor is not None and preferred.series_of(part.resistor.ohms) is None:
            names.setdefault(part.resistor.ohms, []).append(part.name)
            paths[part.name] = part.resistor_path
    for value, lamps in names.items():
        yield Finding(
            "resistor.not-in-series",
            "note",
            Subject("lamp", lamps[0]),
            f"{ohms(value)} for {listed(lamps)} is neither in E24 nor in E96.",
            "Nobody sells a value that is in no series; perhaps a digit has slipped.",
            paths[lamps[0]],
            figures={"ohms": Figure(value, "ohm")},
        )


CHECKS: tuple[Check, ...] = (
    Check(
        "resistor.overloaded", "stop", "lamp", "a resistor that gets too hot",
        "Its heat softens plastic and paint, and beyond its rating it fails.",
        "P = I**2 R, over time for dimming and for flashes of up to a second",
        ("resistor.power.caution", "resistor.power.stop"), "the resistor's rating at 70 degC", _overloaded, dangerous=True,
    ),
    Check(
        "resistor.not-in-series", "note", "lamp", "a resistor that nobody sells", "Perhaps a digit has slipped.",
        "value in E24 or E96", (), "IEC 60063", _not_in_series,
    ),
)  # fmt: skip
