"""Which fuse for this load, and does it protect the wire."""

from __future__ import annotations

from typing import Any

from postcheck import catalogue
from postcheck.answered import Answer
from postcheck.ask.mistake import Mistake
from postcheck.ask.small import SUPPLY, found, limited, never_arrives, survey_of
from postcheck.ask.words import quantity, wire
from postcheck.checks.protection import CHECKS
from postcheck.checks.shown import amps, millimetres, percent, volts
from postcheck.description.units import Dimension
from postcheck.physics.fuse import next_fuse
from postcheck.report import Figure
from postcheck.survey import Survey
from postcheck.survey.heat.fuses import protecting_fuse

# What the displays of the trade run on, and the way from a base through a post, where nothing else is told.
_USUAL_VOLTS, _USUAL_LENGTH = "12 V", "300 mm"


def fuse(
    current: str,
    name: str | None = None,
    on: str | None = None,
    length: str | None = None,
    starting: str | None = None,
) -> Answer:
    """The least quick fuse that carries a load and, where a wire is told, opens on a short at its far end in time."""
    load = quantity(current, Dimension.CURRENT, "the current")
    start = max(quantity(starting, Dimension.CURRENT, "--starting"), load) if starting is not None else load
    on, length = on or _USUAL_VOLTS, length or _USUAL_LENGTH
    supplied = quantity(on, Dimension.VOLTAGE, "--on")
    metres = quantity(length, Dimension.LENGTH, "--length")
    row = wire(name) if name is not None else None
    survey = survey_of(_tables(current, row, on, length, starting))
    fraction, holding = survey.limits.value("fuse.load"), survey.limits.value("fuse.holds")
    figures = {"load": Figure(load, "A"), "carries": Figure(load / fraction, "A")}
    limit = limited(survey, "fuse.load")
    if next_fuse(max(load / fraction, start / holding)) is None:
        beyond = amps(load) if next_fuse(load / fraction) is None else f"{amps(start)} while it starts"
        reason = f"{beyond} is beyond them, which end at 10 A"
        return Answer("fuse", False, "None of the usual ones", reason, figures, limit)
    if row is None:
        rated = _rated(survey, load)
        if rated is None:
            raise Mistake(f"no currents are found for {amps(load)} on {volts(supplied)}")
        holds = f"it carries {amps(load)} for good, up to {percent(fraction)} of its rating"
        caution = "What it does for the wire depends on the wire: ask again with --wire."
        return Answer(
            "fuse",
            True,
            f"{amps(rated)} quick",
            holds,
            figures | {"fuse": Figure(rated, "A")},
            limit,
            caution,
        )
    takes, lost = never_arrives(survey, load, f"{millimetres(metres)} of {row.name}", supplied)
    if takes > supplied:
        return Answer(
            "fuse", False, "It does not arrive", lost, figures | {"lost": Figure(takes, "V")}, limit
        )
    way = f"{millimetres(metres)} of {row.name} each way on {volts(supplied)}"
    rated = _rated(survey, load)
    if rated is not None:
        reason = (
            f"it carries {amps(load)} for good, up to {percent(fraction)} of its rating, "
            f"and a short at the end of {way} opens it before the wire is hurt"
        )
        return Answer(
            "fuse", True, f"{amps(rated)} quick", reason, figures | {"fuse": Figure(rated, "A")}, limit
        )
    thicker = _thicker(row, load, current, on, length, starting)
    instead = (
        f"; {thicker[0]} with {amps(thicker[1])} quick would"
        if thicker
        else "; use more copper, or split the load"
    )
    hot = ", which gets too hot in use" if "wire.hot" in found(survey, CHECKS, ("wire.hot",)) else ""
    starts = f" and holds {amps(start)} while it starts" if start / holding > load / fraction else ""
    reason = f"one that carries {amps(load)}{starts} does not protect {way}{hot}{instead}"
    return Answer("fuse", False, "None does both", reason, figures, limit)


def _tables(
    current: str, row: catalogue.Wire | None, on: str, length: str, starting: str | None
) -> dict[str, Any]:
    load: dict[str, Any] = {
        "name": "load",
        "circuit": "lights",
        "place": "here" if row is None else "there",
        "typical": current,
    }
    run = {"ends": ["here", "there"], "length": length, "wire": row.name} if row is not None else {}
    tables: dict[str, Any] = {
        "supply": {SUPPLY: {"kind": "adaptor", "place": "here", "volts": on}},
        "circuit": {"lights": {"supply": SUPPLY}},
        "load": [load if starting is None else {**load, "starting": starting}],
    }
    if row is not None:
        tables["run"] = [
            {**run, "name": "there", "line": "lights"},
            {**run, "name": "back", "line": f"{SUPPLY}-"},
        ]
    return tables


def _rated(survey: Survey, load: float) -> float | None:
    """The fuse that `check` would offer for all that is asked for: where the way costs many volts, less flows there."""
    supply = survey.electrics.supplies.get(SUPPLY)
    if supply is None or "wire.hot" in found(survey, CHECKS, ("wire.hot",)):
        return None
    return protecting_fuse(survey.wiring, survey.limits, survey.in_use, SUPPLY, max(load, supply.highest))


def _thicker(
    row: catalogue.Wire, load: float, current: str, on: str, length: str, starting: str | None
) -> tuple[str, float] | None:
    """The thinnest wire of the same sort with which one fuse does both, and that fuse."""
    alike = [
        other
        for other in catalogue.rows("wire")
        if isinstance(other, catalogue.Wire)
        and other.family == row.family
        and other.conductor_area > row.conductor_area
    ]
    for other in sorted(alike, key=lambda wire: wire.conductor_area):
        rated = _rated(survey_of(_tables(current, other, on, length, starting)), load)
        if rated is not None:
            return other.name, rated
    return None
