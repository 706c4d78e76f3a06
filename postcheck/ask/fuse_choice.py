"""Which fuse for this load, and does it protect the wire."""

from __future__ import annotations

from typing import NamedTuple

from postcheck import catalogue
from postcheck.answered import Answer
from postcheck.ask.mistake import Mistake
from postcheck.ask.small import SUPPLY, fed_through, found, limited, never_arrives, survey_of
from postcheck.ask.words import quantity, wire
from postcheck.checks.protection import CHECKS
from postcheck.checks.shown import amps, millimetres, percent, volts
from postcheck.description.units import Dimension
from postcheck.physics.fuse import next_fuse
from postcheck.report import Figure
from postcheck.survey import Survey
from postcheck.survey.heat.fuses import protecting_fuse

# What the displays of the trade run on, and the way from a base through a post, where nothing else is said.
_USUAL_VOLTS, _USUAL_LENGTH = "12 V", "300 mm"


class _Asked(NamedTuple):
    """What is asked about, as written: a load, also while it starts, its supply, and the length of wire each way."""

    current: str
    starting: str | None
    on: str
    length: str

    def survey(self, row: catalogue.Wire | None) -> Survey:
        """The survey of it with a wire, or beside its supply."""
        name = None if row is None else row.name
        return survey_of(fed_through(name, self.length, self.current, self.on, self.starting))


def fuse(
    current: str,
    name: str | None = None,
    on: str | None = None,
    length: str | None = None,
    starting: str | None = None,
) -> Answer:
    """The least quick fuse that carries a load and, where a wire is named, opens on a short at its far end in time."""
    load = quantity(current, Dimension.CURRENT, "the current")
    start = max(quantity(starting, Dimension.CURRENT, "--starting"), load) if starting is not None else load
    asked = _Asked(current, starting, on or _USUAL_VOLTS, length or _USUAL_LENGTH)
    supplied = quantity(asked.on, Dimension.VOLTAGE, "--on")
    metres = quantity(asked.length, Dimension.LENGTH, "--length")
    row = wire(name) if name is not None else None
    survey = asked.survey(row)
    fraction, holding = survey.limits.value("fuse.load"), survey.limits.value("fuse.holds")

    def answer(ok: bool, says: str, reason: str, caution: str | None = None, **more: Figure) -> Answer:
        figures = {"load": Figure(load, "A"), "carries": Figure(load / fraction, "A"), **more}
        return Answer("fuse", ok, says, reason, figures, limited(survey, "fuse.load"), caution)

    if next_fuse(max(load / fraction, start / holding)) is None:
        beyond = amps(load) if next_fuse(load / fraction) is None else f"{amps(start)} while it starts"
        return answer(False, "None of the usual ones", f"{beyond} is beyond them, which end at 10 A")
    carries = f"it carries {amps(load)} for good, up to {percent(fraction)} of its rating"
    if row is None:
        rated = _rated(survey, load)
        if rated is None:
            raise Mistake(f"no currents are found for {amps(load)} on {volts(supplied)}")
        caution = "What it does for the wire depends on the wire: ask again with --wire."
        return answer(True, f"{amps(rated)} quick", carries, caution, fuse=Figure(rated, "A"))
    takes, lost = never_arrives(survey, load, f"{millimetres(metres)} of {row.name}", supplied)
    if takes > supplied:
        return answer(False, "It does not arrive", lost, lost=Figure(takes, "V"))
    way = f"{millimetres(metres)} of {row.name} each way on {volts(supplied)}"
    rated = _rated(survey, load)
    if rated is not None:
        reason = f"{carries}, and a short at the end of {way} opens it before the wire is hurt"
        return answer(True, f"{amps(rated)} quick", reason, fuse=Figure(rated, "A"))
    hot = ", which gets too hot in use" if _gets_hot(survey) else ""
    starts = f" and holds {amps(start)} while it starts" if start / holding > load / fraction else ""
    instead = _instead(asked, row, load)
    return answer(
        False,
        "None does both",
        f"one that carries {amps(load)}{starts} does not protect {way}{hot}; {instead}",
    )


def _gets_hot(survey: Survey) -> bool:
    return bool(found(survey, CHECKS, ("wire.hot",)))


def _rated(survey: Survey, load: float) -> float | None:
    """The fuse that `check` would offer for all that is asked for: where the way costs many volts, less flows there."""
    supply = survey.electrics.supplies.get(SUPPLY)
    if supply is None or _gets_hot(survey):
        return None
    return protecting_fuse(survey.shorts, SUPPLY, max(load, supply.highest))


def _instead(asked: _Asked, row: catalogue.Wire, load: float) -> str:
    """What would do: the thinnest wire of the same sort with which one fuse does both, and that fuse."""
    thicker = [
        other
        for other in catalogue.rows("wire")
        if isinstance(other, catalogue.Wire)
        and other.family == row.family
        and other.conductor_area > row.conductor_area
    ]
    for other in sorted(thicker, key=lambda wire: wire.conductor_area):
        rated = _rated(asked.survey(other), load)
        if rated is not None:
            return f"{other.name} with {amps(rated)} quick would"
    return "use more copper, or split the load"
