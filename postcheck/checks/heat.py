"""Heat in closed places."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.record import Check
from postcheck.checks.shown import celsius, watts
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.figures import PlaceFigures

__all__ = ["CHECKS"]


def _too_hot(survey: Survey) -> Iterator[Finding | NotJudged]:
    margin, matters = survey.limits.value("heat.margin"), survey.limits.value("heat.matters")
    for place in survey.places.values():
        if place.rise is None or place.hottest is None:
            if place.heat > matters:
                yield NotJudged(
                    place.name,
                    f"how warm it gets from the {watts(place.heat)} in it",
                    "its outside surface (surface)",
                    vital=survey.stage == "closing",  # after that nobody can change it
                )
            continue
        if place.rise <= 0.0:
            continue
        beside = place.hottest + place.local
        most = place.stands
        if place.hottest > most:
            yield _hot(
                survey, place, "stop", f"the air in {quoted(place.name)} gets to {celsius(place.hottest)}"
            )
        elif place.hottest > most - margin:
            yield _hot(
                survey, place, "caution", f"the air in {quoted(place.name)} gets to {celsius(place.hottest)}"
            )
        elif beside > most + survey.limits.value("heat.spot") and place.local > 0.0:
            yield _hot(
                survey, place, "caution",
                f"the wall of {quoted(place.name)} beside the resistor of {quoted(place.local_part)} gets to {celsius(beside)}",
            )  # fmt: skip


def _hot(survey: Survey, place: PlaceFigures, severity: str, what: str) -> Finding:
    rise = place.rise or 0.0
    material = f"its {place.material}" if place.material else "a wall of unknown plastic"
    largest = f", most of it from {place.parts[0][0]} ({watts(place.parts[0][1])})" if place.parts else ""
    allowed = (
        place.heat
        * max(place.stands - survey.limits.value("heat.margin") - survey.build.build.air[1], 0.0)
        / rise
    )
    return Finding(
        "place.too-hot",
        "stop" if severity == "stop" else "caution",
        Subject("place", place.name),
        f"{what[0].upper()}{what[1:]} on a warm day; {material} stands {celsius(place.stands)}. {watts(place.heat)} is given off in it{largest}.",
        "Plastic sags and glue lets go long before anything smokes, and a lamp in hot air ages fast. The rise is known to about 30 %.",
        place.path,
        remedy=f"Bring the heat in it down to {watts(allowed)}: less current, or the resistors moved out to an open place."
        if allowed > 0.0
        else "The room itself is too warm for this material.",
        figures={
            "heat": Figure(place.heat, "W"),
            "rise": Figure(rise, "K"),
            "air": Figure(place.hottest or 0.0, "degC"),
            "local": Figure(place.local, "K"),
        },
        limit=Limited(place.stands, "degC", place.stands_source),
        # a lamp that gets too much current is the cause of the heat that it and its resistor give off
        because_of=f"lamp.over-rating:{place.parts[0][0].removeprefix('the resistor of ')}"
        if place.parts
        else None,
    )


CHECKS: tuple[Check, ...] = (
    Check(
        name="place.too-hot",
        severity="stop",
        subject="place",
        line="a closed place gets hotter than its walls stand",
        why="Kit plastic softens from 60 to 70 degC, cast resin from 40: a glued body cannot be opened to cool it.",
        formula="rise = heat averaged over time / (U x outside surface); air = hottest room + rise; beside a resistor + half its own rise",
        limits=("heat.per-area", "heat.unknown-material", "heat.margin", "heat.spot", "heat.matters"),
        source="Newton's law of cooling; U between a worked polystyrene box (3.3) and a published enclosure curve (4.6 W/m2K)",
        judge=_too_hot,
    ),
)
