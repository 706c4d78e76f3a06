"""Heat in closed places."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import ceil, floor

from postcheck.checks.fact import Fact, Within
from postcheck.checks.record import DANGER, Check
from postcheck.checks.shown import rounded_down, rounded_up
from postcheck.checks.wording import Wording, open_question
from postcheck.description.consumers import CONSUMERS
from postcheck.limits import above, below
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.figures import PlaceFigures
from postcheck.survey.heat.places import FREE, unsized
from postcheck.survey.network.states import loss_per_area
from postcheck.wiring.parts import LampPart

# A figure in a remedy is rounded when shown: kept this share below its bound, it still holds.
SAFE = 0.99
# How well a rise is known, as a share: a closed box of unknown thickness, colour and draught.
KNOWN_TO = 0.3
# The loss per area holds for air some tens of kelvin above the room. Far beyond that, degC, it no longer matters how hot.
BEYOND = 300.0
# A flasher that adds no more than this share of what loads at their most make is not named with them.
WORTH_NAMING = 0.05


def _too_hot(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for place in survey.places.values():
        if place.weakest is not None and place.material is not None:
            yield NotJudged(
                place.name,
                "how warm its walls may get: the catalogue has no such material",
                'one that it has, such as material = "styrene" (`postcheck catalogue plastic` lists them)',
            )
        yield from _white_unknown(survey, place.name)
        if place.rise is None or place.hottest is None:
            yield from _size_unknown(survey, place)
        else:
            yield from _against_walls(survey, place, place.hottest, place.rise)


def _white_unknown(survey: Survey, place: str) -> Iterator[NotJudged]:
    """What is asked of pixels in a closed place of which the file gives what they usually take alone."""
    for part in survey.parts.loads:
        if part.pixels and part.place == place and not part.most_given:
            yield open_question(
                part.name, "how warm {place} gets with every pixel of it white",
                'what it then takes, such as most = "1.2 A"; small ones take some 60 mA each',
                parts={"place": Subject("place", place)}, vital=survey.closes(place),
            )  # fmt: skip


def _size_unknown(survey: Survey, place: PlaceFigures) -> Iterator[NotJudged]:
    """What is asked of a place of unknown surface with enough heat in it to matter."""
    free = place.stands - survey.build.build.air[1]
    heat = place.heat + sum(_at_most(survey, place).values())
    if not above(heat, survey.limits.value("heat.matters") * min(max(free / FREE, 0.1), 1.0)):
        return
    enough = _enough(survey, place)
    # for an unknown material: the size that does for walls of usual kit plastic
    walls, stands = "its walls", {}
    if place.weakest is not None:
        walls, stands = "walls that withstand {stands}", {"stands": Figure(place.stands, "degC")}
    yield open_question(
        place.name,
        "how warm it gets from the {heat} in it",
        'its outside surface, length times width of each side, as in surface = "... cm2"'
        + (f"; {{enough}} is enough for {walls}" if enough else ""),
        # once closed it cannot be changed
        vital=above(heat, unsized(survey.limits, place.bodies, free)) or survey.closes(place.name),
        figures={"heat": Figure(heat, "W"), **enough, **(stands if enough else {})},
    )


def _against_walls(
    survey: Survey, place: PlaceFigures, air: float, rise: float
) -> Iterator[Fact | Within | NotJudged]:
    """The air of a place (degC, and K above the room) against what its walls withstand, as it is and with all of it on for good."""
    subject, matters = Subject("place", place.name), survey.limits.value("heat.rise")
    stuck: Within | None = None
    if place.steady is not None and above(place.steady - survey.build.build.air[1], matters):
        yield (stuck := Within(subject, place.steady, Limited(place.stands, "degC", place.stands_source)))
    heated, near = above(rise, matters), False  # a hot room is no fault of the build
    if heated:
        margin, unsure = survey.limits["heat.margin"], KNOWN_TO * rise
        # a rise is known to some tenths of itself: the margin is no larger than that
        name = margin.name if below(margin.value, unsure) else ""
        most = Limited(place.stands - min(margin.value, unsure), "degC", margin.source, name)
        yield (usual := Within(subject, air, most))
        # near the limit as it usually is, and over it with all on for good: the hotter is told, and stays
        near = not usual.kept
        if near and (stuck is None or stuck.kept or above(air, place.stands)):
            yield _air(survey, place, air, rise)
            return
    if stuck is not None and not stuck.kept:
        yield _stuck(survey, place, air, rise, near=near)
    elif heated:
        yield from _walls_unknown(survey, place, air)


def _walls_unknown(survey: Survey, place: PlaceFigures, air: float) -> Iterator[NotJudged]:
    """What is asked of walls that may not withstand the air (degC) inside, by their paint or their material."""
    if place.bare is not None and above(place.bare, place.stands):
        yield open_question(
            place.name, "how warm it gets: {bare} if its metal is bare, {hottest} if it is painted",
            "whether it is, as painted = true or painted = false", vital=True,
            figures={"bare": Figure(place.bare, "degC"), "hottest": Figure(air, "degC")},
        )  # fmt: skip
    elif place.weakest is not None and place.material is None and above(air, place.weakest):
        yield open_question(
            place.name,
            "whether its walls withstand the {hottest} of the air in it: printed resin, PLA and some glues do not",
            'what it is made of, such as material = "styrene"',
            vital=above(air, survey.limits.value("heat.asked")),
            lines=('material = "styrene"',),
            under=("place", place.name),
            figures={"hottest": Figure(air, "degC")},
        )


def _may_rise(survey: Survey, stands: float) -> float:
    """How far above the room the air of a place may get, K, with a margin to what its walls withstand."""
    free = stands - survey.build.build.air[1]
    return max(free - survey.limits.value("heat.margin"), free / (1.0 + KNOWN_TO))


def _is_electronics(survey: Survey, part: Subject) -> bool:
    """Whether it takes current and is no light: a smaller one may do, or it may sit elsewhere."""
    return part.kind in CONSUMERS and not survey.parts.named[part.name].dice


def _usual_heat(survey: Survey, place: PlaceFigures, rise: float) -> float:
    """The heat, W, that a place bears over time, with its margin; what it has makes it `rise` K warmer than the room."""
    return SAFE * place.heat * _may_rise(survey, place.stands) / rise


def _enough(survey: Survey, place: PlaceFigures) -> dict[str, Figure]:
    """The least outside surface with which a place stays as cool as its walls need it, as a figure; none where none does."""
    loss = loss_per_area(survey.build.place[place.name], survey.limits)
    stuck, free = sum(watts for _, watts in place.steady_parts), place.stands - survey.build.build.air[1]
    if free <= 0.0:
        return {}
    least = max(place.heat / _may_rise(survey, place.stands), stuck / free) / loss / SAFE
    return {"enough": Figure(rounded_up(least), "m2")}


def _air(survey: Survey, place: PlaceFigures, air: float, rise: float) -> Fact:
    """The air of a place is too hot: by how much heat, and what to do about that."""
    largest, heat = _part(survey, place.parts[0][0]), place.parts[0][1]
    allowed = _usual_heat(survey, place, rise)
    figures = {"largest_heat": Figure(heat, "W")}
    if above(air, BEYOND):
        figures["beyond"] = Figure(BEYOND, "degC")
    parts: dict[str, Subject | tuple[Subject, ...]] = {}
    if largest is not None:
        parts["largest"] = largest
    if allowed <= 0.0:
        kept = min(survey.limits.value("heat.margin"), KNOWN_TO * rise)
        # whole degrees, as they are shown, on the safe side
        figures["needs"] = Figure(ceil(air + kept), "degC")
        if (cooler := floor(place.stands - kept - rise)) >= survey.build.build.air[0]:
            figures["room"] = Figure(cooler, "degC")
    else:
        figures["allowed"] = Figure(rounded_down(allowed), "W")
        if largest is not None and _is_electronics(survey, largest):
            parts["begin"] = largest
        moved, outside = _moved(survey, place, allowed)
        if moved:
            parts |= {"moved": moved, "outside": outside}
        figures |= _enough(survey, place)
    severity: Severity = "stop" if above(air, place.stands) else "caution"
    firm = DANGER if severity == "stop" else ""
    fact = Fact(
        severity, Subject("place", place.name), place.path, "far beyond" if above(air, BEYOND) else "air",
        figures=figures, parts=parts, firm=firm,
    )  # fmt: skip
    return _with_heat(survey, fact, place, place.parts[0][0])


def _stuck(survey: Survey, place: PlaceFigures, air: float, rise: float, *, near: bool) -> Fact:
    """The air of a place, usually `rise` K above the room, is too hot once all that can be on, or at its most, is so for good.

    `near`: usually it is already within the margin of what its walls withstand.
    """
    room, steady = air - rise, place.steady or air
    whole = sum(watts for _, watts in place.steady_parts)
    called, largest = place.steady_parts[0]
    part, allowed = _part(survey, called), SAFE * whole * (place.stands - room) / (steady - room)
    figures = {
        "heat": Figure(whole, "W"), "largest_heat": Figure(largest, "W"),
        "air": Figure(steady, "degC"), "rise": Figure(steady - room, "K"),
    }  # fmt: skip
    if above(steady, BEYOND):
        figures["beyond"] = Figure(BEYOND, "degC")
    if allowed > 0.0:
        figures["allowed"] = Figure(rounded_down(allowed), "W")
    if near:
        figures["usual_air"] = Figure(air, "degC")
        figures["usual_allowed"] = Figure(rounded_down(_usual_heat(survey, place, rise)), "W")
    case, parts, firm = _on_for_good(survey, place)
    if part is not None:
        parts["largest"] = part
        if near and _is_electronics(survey, part):
            parts["begin"] = part
    if near or case != "stuck":
        figures |= _enough(survey, place)
    fact = Fact(
        "caution", Subject("place", place.name), place.path, case + (" far beyond" if above(steady, BEYOND) else ""),
        figures=figures, parts=parts, firm=firm,
    )  # fmt: skip
    return _with_heat(survey, fact, place, called)


def _at_most(survey: Survey, place: PlaceFigures) -> dict[str, float]:
    """What each load that can stay at its most then dissipates more in a place than usually, W."""
    usual, steady = dict(place.parts), dict(place.steady_parts)
    names = (load.name for load in survey.parts.loads if load.stays_at_most)
    return {name: steady[name] - usual.get(name, 0.0) for name in names if name in steady}


def _on_for_good(
    survey: Survey, place: PlaceFigures
) -> tuple[str, dict[str, Subject | tuple[Subject, ...]], str]:
    """The case, what makes a place hotter than usual for good, and why that cannot be waived: what peaks shortly its builder knows."""
    more = _at_most(survey, place)
    loads = [load for load in survey.parts.loads if load.stays_at_most]
    unsteady = [name for name, circuit in survey.build.circuit.items() if circuit.behaviour != "steady"]
    named = [load for load in loads if more.get(load.name, 0.0) > 0.0]
    if not named and not unsteady:  # a converter in the place warms it more for loads elsewhere
        named = loads
    whole = sum(watts for _, watts in place.steady_parts)
    others = whole - sum(more.values()) - place.heat > WORTH_NAMING * whole
    circuits = tuple(Subject("circuit", name) for name in unsteady if others or not named)
    parts: dict[str, Subject | tuple[Subject, ...]] = {"circuits": circuits} if circuits or not named else {}
    if not named:
        return "stuck", parts, "its walls sag once it sticks"
    parts["loads"] = tuple(Subject("load", load.name) for load in named)
    unsure = tuple(Subject("load", load.name) for load in named if not load.pixels)
    if not unsure and not circuits:
        return "white", parts, "its walls sag once every pixel is white"
    if len(unsure) == len(named) and not circuits:
        parts["peaks"] = unsure
        return "at most", parts, ""
    return "at most", parts, "its walls sag once that is on for good"


def _with_heat(survey: Survey, fact: Fact, place: PlaceFigures, called: str) -> Fact:
    """A fact on a place that is too hot, with its heat and what its walls withstand; what it says itself stays.

    `called`: what dissipates most of it, as the survey has it, where the file describes no such part.
    """
    described = survey.build.build
    taken = {} if "air" in described.model_fields_set else {"taken": Figure(described.air[1], "degC")}
    return fact._replace(
        figures={
            "heat": Figure(place.heat, "W"),
            "rise": Figure(place.rise or 0.0, "K"),
            "air": Figure(place.hottest or 0.0, "degC"),
            "known_to": Figure(KNOWN_TO, "share"),
            **taken,
            **fact.figures,
        },
        words={
            "material": place.material or "unknown plastic",
            **({} if "largest" in fact.parts else {"largest": called}),
        },
        limit=Limited(place.stands, "degC", place.stands_source),
        because_of=_cause(survey, fact.parts.get("largest")),
    )


def _cause(survey: Survey, largest: Subject | tuple[Subject, ...] | None) -> str | None:
    """The finding that the heat of a place may come from: too much current in what dissipates most."""
    if not isinstance(largest, Subject) or _only_warm(survey, largest):
        return None
    return f"{'wire.hot' if largest.kind == 'wire' else 'lamp.over-rating'}:{largest.name}"


def _only_warm(survey: Survey, part: Subject) -> bool:
    """Whether a lamp is over its rating for its warm air alone. Too much current is the cause of the heat, warm air is not."""
    lamp = survey.electrics.lamps.get(part.name)
    return (
        lamp is not None
        and below(lamp.rated, lamp.rated_outside)
        and not above(lamp.likely_highest, lamp.rated_outside)
    )


# What the survey calls heat of a part without a name of its own: "the resistor of nose lamp".
_OF = "the ([a-z]+) of (.*)"


def _part(survey: Survey, called: str) -> Subject | None:
    """The part that a row of heat is about; None for what the file only gives as heat."""
    if of := re.fullmatch(_OF, called):
        return Subject(of[1], of[2])
    if called in survey.parts.named:
        return Subject(survey.parts.named[called].kind, called)
    if called in survey.build.board:
        return Subject("board", called)
    return Subject("supply", called) if called in survey.build.supply else None


def _moved(
    survey: Survey, place: PlaceFigures, allowed: float
) -> tuple[tuple[Subject, ...], tuple[Subject, ...]]:
    """The resistors to move out of a place to leave it no more heat than allowed, W, and the places they go to; none where that is not enough.

    Only those that can sit elsewhere: where a lead ends, or beside a lamp outside, and only where that stays cool with them.
    """
    moved, outside, left = list[Subject](), dict[str, float](), place.heat
    steady = dict(place.steady_parts)
    for called, heat in place.parts:
        part = _part(survey, called)
        if part is None or part.kind != "resistor" or not above(left, allowed):
            continue
        lamp = survey.parts.named[part.name]
        if isinstance(lamp, LampPart) and (there := lamp.out_of(place.name)) is not None:
            moved.append(part)
            outside[there] = outside.get(there, 0.0) + max(heat, steady.get(called, 0.0))
            left -= heat
    if above(left, allowed) or not all(_stays_cool(survey, name, more) for name, more in outside.items()):
        return (), ()
    return tuple(moved), tuple(Subject("place", name) for name in outside)


def _stays_cool(survey: Survey, name: str, more: float) -> bool:
    """Whether a place stays as cool as its walls need it with `more` W in it."""
    place = survey.places.get(name)
    if place is None:  # an open one
        return True
    heat = more + max(place.heat, sum(watts for _, watts in place.steady_parts))
    described = survey.build.place[name]
    if not described.surface:
        most = unsized(survey.limits, place.bodies, place.stands - survey.build.build.air[1])
    else:
        most = _may_rise(survey, place.stands) * loss_per_area(described, survey.limits) * described.surface
    return not above(heat, most)


_TAKEN = " at the warmest room temperature[ ({taken} is taken, as the file gives no `air`)]. A wall of {material} withstands {limit:apart}."
_HEAT = " {heat} is dissipated in it, {largest_heat} of that by {largest}."
_SAGS = "Plastic sags and glue lets go long before anything smokes, and a lamp in hot air ages fast. The rise is known to about {known_to}."
_COOLER = (
    "[Bring the heat in it down to {allowed}.][ Begin with {begin}: use a smaller one.]"
    "[ Or move {moved:6} out to {outside:6}.][ With {enough} of outside surface what is in it can stay.]"
    "[Use a material that withstands {needs}.][ Or show it in a room of {room} at most, and write that as the end of `air`.][ Give the room's `air`, if it is cooler than {taken}.]"
)
_ON = {
    "stuck": "With {circuits} on for good, as when a flasher sticks and in a steady test,",
    "white": "With every pixel of {loads} white for good, as a program or a data line that hangs may leave them,",
    "at most": "With {loads} at full current for good[ and {circuits} on for good],",
}
_DOWN = "[Bring the heat in it with all of that on down to {allowed}. ][Bring what is usually in it down to {usual_allowed}. ]"
_USUALLY = "[ Usually it gets to {usual_air}, too near that.]"
_TAKES = (
    _DOWN
    + "[With {enough} of outside surface what is in it can stay. ][Where {peaks} may take so much for moments only, accept this and give that as the reason. ]"
)
_MINUTES = "Until it is cooler let a steady test last minutes only."

CHECKS: tuple[Check, ...] = (
    Check(
        name="place.too-hot",
        severity="stop",
        subject="place",
        line="a closed place gets hotter than its walls withstand",
        why="Kit plastic softens from 60 to 70 degC, cast resin from 40: a glued body cannot be opened to cool it.",
        formula="rise = heat averaged over time, and with all of it on / (U x outside surface); air = hottest room + rise; a stop above what the walls withstand, a caution nearer than the margin, or once what flashes sticks on and loads take their most for good (pixels all white, inverters and other electronics; a sound board's peaks last milliseconds, and a motor is judged held fast)",
        limits=(
            "heat.per-area", "heat.per-area.bare", "heat.unknown-material", "heat.margin", "heat.matters", "heat.vital", "heat.vital.small",
            "heat.rise", "heat.asked",
        ),
        source="Newton's law of cooling; U between a worked polystyrene box (3.3) and a published enclosure curve (4.6 W/m2K)",
        judge=_too_hot,
        held="any stop, and what is too hot once a flasher sticks on or pixels are all white",
        wording={
            "air": Wording("The air in {subject} gets to {air:apart}" + _TAKEN + _HEAT, _SAGS, _COOLER),
            "far beyond": Wording("The air in {subject} gets to more than {beyond:apart}" + _TAKEN + _HEAT, _SAGS, _COOLER),
            **{
                case + far: Wording(f"{on} the air in {{subject}} gets to {air}{_TAKEN}{_HEAT}{_USUALLY}", _SAGS, _TAKES + _MINUTES)
                for case, on in _ON.items()
                for far, air in (("", "{air:apart}"), (" far beyond", "more than {beyond:apart}"))
            },
        },
    ),
)  # fmt: skip
