"""Which resistor for this lamp on this supply."""

from __future__ import annotations

from typing import Any, NamedTuple

from postcheck.answered import Answer
from postcheck.ask.lamps import Lamp, lamp
from postcheck.ask.mistake import Mistake
from postcheck.ask.small import SUPPLY, found, limited, survey_of
from postcheck.ask.words import quantity
from postcheck.checks.lamps import CHECKS
from postcheck.checks.shown import amps, ohms, percent, volts, watts
from postcheck.description.units import Dimension
from postcheck.limits import above
from postcheck.physics import preferred
from postcheck.plain import quoted
from postcheck.report import Figure
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.resistor_choice import LEAST_HEADROOM, body_for, usual_current, volts_at
from postcheck.survey.network.supplies import source_of
from postcheck.wiring.parts import LampPart

# Values of a series tried upwards until the lamp is within its rating: three decades of E96.
_TRIES = 288
_MOST_IN_SERIES = 50


class _Asked(NamedTuple):
    """The lamp, its supply and the current that is wanted, as written, and the series that a value is taken from."""

    lamp: Lamp
    on: str
    current: str | None
    tolerance: str | None
    shelf: preferred.Series


def resistor(
    what: str,
    on: str,
    *,
    series: int = 1,
    current: str | None = None,
    tolerance: str | None = None,
    rated: str | None = None,
    shelf: preferred.Series = "E12",
) -> Answer:
    """The first value of a series that gives a lamp its current and keeps it within its rating in the worst corner."""
    quantity(on, Dimension.VOLTAGE, "--on")
    if current is not None:
        quantity(current, Dimension.CURRENT, "--current")
    if tolerance is not None:
        quantity(tolerance, Dimension.SHARE, "--tolerance", zero=True)
    kind = lamp(what, rated)
    count = kind.pieces * series
    if not 1 <= count <= _MOST_IN_SERIES:
        raise Mistake(f"{count} lamps in series; from 1 to {_MOST_IN_SERIES} make sense here")
    asked = _Asked(kind._replace(pieces=count), on, current, tolerance, shelf)
    survey = _survey(asked, None)
    part = survey.parts.lamps[0]
    supplied = source_of(survey.build.supply[SUPPLY], 0)[0]
    if part.dice[0].filament_volts is not None:
        return _before_filament(asked, survey, part, supplied)
    if part.dice[0].volts is not None and asked.current is None:
        figures = survey.electrics.lamps.get(part.name)
        if figures is not None and not found(survey, CHECKS, ("lamp.over-rating",)):
            return _inside(asked, part, figures, supplied)
    target = part.wanted or usual_current(part.dice, survey.build.build.air[1], survey.limits)
    takes = sum(volts_at(die, target) for die in part.dice)
    if supplied - takes < LEAST_HEADROOM * supplied:
        return _too_few(asked, survey, supplied, takes)
    passes: tuple[float, LampFigures] | None = None
    for value in _upwards((supplied - takes) / target, shelf):
        tried = _survey(asked, value)
        figures = tried.electrics.lamps.get(part.name)
        if figures is not None and not above(figures.highest, figures.rated):
            return _answer(asked, tried, figures, value, target, passes)
        if figures is not None and passes is None and not found(tried, CHECKS, ("lamp.over-rating",)):
            passes = value, figures
    return _too_few(asked, survey, supplied, takes)


def _upwards(value: float, shelf: preferred.Series) -> list[float]:
    values: list[float] = []
    for _ in range(_TRIES):
        values.append(preferred.at_least(value, shelf))
        value = values[-1] * 1.0001
    return values


def _survey(asked: _Asked, value: float | None) -> Survey:
    spec: dict[str, Any] = {} if value is None else {"resistor": {"ohms": f"{value!r} ohm"}}
    said: dict[str, Any] = {"place": "here", "series": asked.lamp.pieces, "kind": asked.lamp.kind}
    die = {"circuit": "lights", **spec, **({"wanted": asked.current} if asked.current else {})}
    said |= {"dice": {asked.lamp.colour: die}} if asked.lamp.colour else die
    supply = {"kind": "adaptor", "place": "here", "volts": asked.on}
    if asked.tolerance is not None:
        supply["tolerance"] = asked.tolerance
    tables = {
        "supply": {SUPPLY: supply},
        "circuit": {"lights": {"supply": SUPPLY}},
        "lamp": [{"name": "lamp", **said}],
    }
    if asked.lamp.own is not None:
        tables["lamp_kind"] = {asked.lamp.kind: asked.lamp.own}
    return survey_of(tables)


def _answer(
    asked: _Asked,
    survey: Survey,
    figures: LampFigures,
    value: float,
    target: float,
    passes: tuple[float, LampFigures] | None,
) -> Answer:
    """The value found; `passes`: a lower one of which `check` finds nothing, with what it gives."""
    body = body_for(figures.resistor_load, survey.limits)
    who, verb = asked.lamp.shown, asked.lamp.verb
    band = f"{amps(figures.lowest)} to {amps(figures.highest)} as parts and supply come"
    reason = (
        f"{who} then {verb('gets', 'get')} {amps(figures.nominal)} on {volts(survey.electrics.supplies[SUPPLY].volts)} ({band}); "
        f"{verb('its', 'their')} rating is {amps(figures.rated)}"
    )
    shown = {
        "ohms": Figure(value, "ohm"),
        "nominal": Figure(figures.nominal, "A"),
        "lowest": Figure(figures.lowest, "A"),
        "highest": Figure(figures.highest, "A"),
        "rated": Figure(figures.rated, "A"),
        **_power(figures, body),
    }
    return Answer(
        "resistor", True, _named(value, body), reason, shown, limited(survey, "lamp.current.nominal"),
        _caution(survey, figures, target, body is None, passes),
    )  # fmt: skip


def _named(value: float, body: tuple[float, str] | None) -> str:
    """A resistor by its value (ohm) and, where one stands its power, its body."""
    return ohms(value) if body is None else f"{ohms(value)} {body[1]}"


def _power(figures: LampFigures, body: tuple[float, str] | None) -> dict[str, Figure]:
    """What a resistor dissipates, and what the body withstands that is enough for it."""
    power = {
        "power": Figure(figures.resistor_nominal, "W"),
        "power_highest": Figure(figures.resistor_highest, "W"),
    }
    return power if body is None else {**power, "body": Figure(body[0], "W")}


def _caution(
    survey: Survey,
    figures: LampFigures,
    target: float,
    no_body: bool,
    passes: tuple[float, LampFigures] | None,
) -> str | None:
    if no_body:
        return f"It dissipates up to {watts(figures.resistor_highest)}, more than any usual resistor stays cool with: more lamps in series, or fewer volts."
    if figures.nominal >= target * (1.0 - survey.limits.value("lamp.wanted")):
        return None
    wanted = f"That is less than {'the wanted' if figures.part.wanted else 'the usual'} {amps(target)}"
    if passes is None:
        return f"{wanted}: with less resistance it could get more than its rating."
    value, brighter = passes
    return f"{wanted}; {ohms(value)} gives {amps(brighter.nominal)} and passes `check`, but may come to {amps(brighter.highest)} with everything against it."


def _too_few(asked: _Asked, survey: Survey, supplied: float, takes: float) -> Answer:
    """No resistor: the string takes so much of the supply that nothing is left to set a current."""
    most = int((1.0 - LEAST_HEADROOM) * supplied / (takes / asked.lamp.pieces) + 1e-9)
    instead = f"; {most} in series would do" if 1 <= most < asked.lamp.pieces else ""
    wants = takes / (1.0 - LEAST_HEADROOM)
    reason = (
        f"{asked.lamp.shown} {asked.lamp.verb('takes', 'take')} {volts(takes)}, and of {volts(supplied)} less than "
        f"{percent(LEAST_HEADROOM)} is left to set the current{instead or f'; it wants {volts(wants)} or more'}"
    )
    return Answer(
        "resistor", False, "None does", reason,
        {"takes": Figure(takes, "V"), "supply": Figure(supplied, "V"), "wants": Figure(wants, "V")},
        limited(survey, "lamp.current.nominal"),
    )  # fmt: skip


def _inside(asked: _Asked, part: LampPart, figures: LampFigures, supplied: float) -> Answer:
    """An LED with its resistor inside needs no other one on its volts."""
    made = sum(die.takes for die in part.dice)
    who, verb = asked.lamp.shown, asked.lamp.verb
    reason = (
        f"{who} {verb('is', 'are')} made for {volts(made)}, with {verb('its', 'their')} resistor inside, "
        f"and {verb('gets', 'get')} {amps(figures.nominal)} on {volts(supplied)}"
    )
    return Answer(
        "resistor", True, "None is needed", reason,
        {"made": Figure(made, "V"), "supply": Figure(supplied, "V"), "nominal": Figure(figures.nominal, "A")}, None,
    )  # fmt: skip


def _before_filament(asked: _Asked, survey: Survey, part: LampPart, supplied: float) -> Answer:
    """A filament lamp needs none at its volts, and one that takes up the rest above them."""
    needs, flows = sum(die.filament_volts or 0.0 for die in part.dice), part.dice[0].rated
    highest = source_of(survey.build.supply[SUPPLY], 1)[0]
    limit, most = limited(survey, "lamp.filament.caution"), survey.limits.value("lamp.filament.caution")
    shown = {"rated_volts": Figure(needs, "V"), "supply": Figure(supplied, "V"), "rated": Figure(flows, "A")}
    who, verb = asked.lamp.shown, asked.lamp.verb
    if asked.current is not None:
        raise Mistake(
            f"{quoted(asked.lamp.kind)} is a filament lamp: it is made for {volts(needs)}, and no current is chosen for it"
        )
    if highest <= most * needs:
        reason = f"{who} {verb('is', 'are')} made for {volts(needs)}, and {volts(supplied)} comes to {volts(highest)} at most"
        return Answer("resistor", True, "None is needed", reason, shown, limit)
    # at volts that are its own but for the tolerance, the smallest drop already brings it within its rating
    over = max(supplied - needs, highest - most * needs)
    for value in _upwards(over / flows, asked.shelf):
        tried = _survey(asked, value)
        figures = tried.electrics.lamps.get(part.name)
        if figures is not None and figures.highest / figures.rated <= most:
            body = body_for(figures.resistor_load, tried.limits)
            reason = f"{who} then {verb('gets', 'get')} {amps(figures.nominal)} on {volts(supplied)}, {amps(figures.highest)} at most, where {amps(flows)} is the rating"
            shown |= {
                "ohms": Figure(value, "ohm"),
                "nominal": Figure(figures.nominal, "A"),
                "highest": Figure(figures.highest, "A"),
                **_power(figures, body),
            }
            return Answer("resistor", True, _named(value, body), reason, shown, limit)
    raise Mistake(f"no usual resistor takes up {volts(over)} at {amps(flows)}")
