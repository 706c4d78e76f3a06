"""Heat in closed places."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.record import DANGER, Check
from postcheck.checks.shown import celsius, listed, percent, watts
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.figures import PlaceFigures

__all__ = ["CHECKS"]

# A figure that is offered is rounded when it is printed: this much below the bound it holds all the same.
SAFE = 0.99
# How well a rise is known, as a share: a closed box of unknown thickness, colour and draught.
KNOWN_TO = 0.3


def _closed_now(survey: Survey, place: str) -> bool:
    return survey.stage == "closing" and (not survey.named_closing or place in survey.named_closing)


def _too_hot(survey: Survey) -> Iterator[Finding | NotJudged]:
    margin, matters = survey.limits.value("heat.margin"), survey.limits.value("heat.matters")
    for place in survey.places.values():
        if place.rise is None or place.hottest is None:
            if place.heat > matters:
                yield NotJudged(
                    place.name,
                    f"how warm it gets from the {watts(place.heat)} in it",
                    'its outside surface, such as surface = "38 cm2"',
                    vital=_closed_now(survey, place.name),  # after that nobody can change it
                )
            continue
        if place.rise <= 0.0:
            continue
        beside = place.hottest + place.local
        most = place.stands
        if place.hottest > most:
            yield _hot(
                survey, place, "stop", f"the air in {quoted(place.name)} gets to {_air(place.hottest)}"
            )
        elif place.hottest > most - margin:
            yield _hot(
                survey, place, "caution", f"the air in {quoted(place.name)} gets to {_air(place.hottest)}"
            )
        elif beside > most + survey.limits.value("heat.spot") and place.local > 0.0:
            yield _hot(
                survey, place, "caution",
                f"the wall of {quoted(place.name)} beside the resistor of {quoted(place.local_part)} gets to {_air(beside)}",
                spot=True,
            )  # fmt: skip


# The loss per area is that of still air some tens of kelvin warmer than the room. Far beyond that, how hot no longer matters.
_BEYOND = 300.0


def _air(value: float) -> str:
    return f"more than {celsius(_BEYOND)}" if value > _BEYOND else celsius(value)


_RESISTOR = "the resistor of "


def _hot(survey: Survey, place: PlaceFigures, severity: str, what: str, *, spot: bool = False) -> Finding:
    material = f"its {place.material}" if place.material else "a wall of unknown plastic"
    first = place.parts[0][0] if place.parts else ""
    first = f"the load {quoted(first)}" if first in survey.electrics.loads else first
    largest = f", most of it from {first} ({watts(place.parts[0][1])})" if place.parts else ""
    may = _at_the_wall(survey, place)
    remedy = _less_heat(survey, place)
    if spot and may is not None:
        largest = ""
        remedy = f"Let it give off {watts(may)} there at most, take one with a larger body, or hold it off the wall."
    # a lamp that gets too much current is the cause of the heat that it and its resistor give off
    source = place.local_part if spot else place.parts[0][0].removeprefix(_RESISTOR) if place.parts else None
    return Finding(
        "place.too-hot",
        "stop" if severity == "stop" else "caution",
        Subject("place", place.name),
        f"{what} on a warm day{_taken(survey)}; {material} stands {celsius(place.stands)}. {watts(place.heat)} is given off in it{largest}.",
        f"Plastic sags and glue lets go long before anything smokes, and a lamp in hot air ages fast. The rise is known to about {percent(KNOWN_TO)}.",
        place.path,
        remedy=remedy,
        figures={
            "heat": Figure(place.heat, "W"),
            "rise": Figure(place.rise or 0.0, "K"),
            "air": Figure(place.hottest or 0.0, "degC"),
            "local": Figure(place.local, "K"),
        }
        | ({"spot": Figure(may, "W")} if spot and may is not None else {}),
        limit=Limited(place.stands, "degC", place.stands_source),
        because_of=f"lamp.over-rating:{source}" if source else None,
        # even where the rise comes out as small as it may; what is less sure may have been measured to be less
        firm=DANGER if (place.hottest or 0.0) - KNOWN_TO * (place.rise or 0.0) > place.stands else "",
    )


def _taken(survey: Survey) -> str:
    """That nobody gave the air of the room, where so."""
    if "air" in survey.build.build.model_fields_set:
        return ""
    return f" ({celsius(survey.build.build.air[1])} is taken, as the file gives no `air`)"


def _at_the_wall(survey: Survey, place: PlaceFigures) -> float | None:
    """What the resistor that warms the wall most may give off there, W: its rise goes with its heat."""
    lamp = survey.electrics.lamps.get(place.local_part)
    if lamp is None or place.hottest is None or place.local <= 0.0:
        return None
    free = place.stands + survey.limits.value("heat.spot") - place.hottest
    return SAFE * lamp.resistor_nominal * lamp.on_share * free / place.local


def _less_heat(survey: Survey, place: PlaceFigures) -> str:
    """How much heat a place may have, and whether moving its resistors out brings it down to that."""
    room = place.stands - survey.limits.value("heat.margin") - survey.build.build.air[1]
    if room <= 0.0:
        known = "air" in survey.build.build.model_fields_set
        return "The room itself is too warm for this material" + (
            "." if known else ": give the room's `air`, if it is cooler there."
        )
    allowed = SAFE * place.heat * room / (place.rise or room)
    moved, left = [], place.heat
    for part, heat in place.parts:
        if part.startswith(_RESISTOR) and left > allowed:
            moved.append(part.removeprefix(_RESISTOR))
            left -= heat
    out = (
        f", or move the {'resistors' if len(moved) > 1 else 'resistor'} of {listed(moved)} out to an open place"
        if moved and left <= allowed
        else ""
    )
    less = "less current"
    if place.parts and place.parts[0][0] in survey.electrics.loads:
        less = f"{quoted(place.parts[0][0])} is what to begin with, a smaller one or one that runs for less of the time"
    return f"Bring the heat in it down to {watts(allowed)}: {less}{out}."


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
