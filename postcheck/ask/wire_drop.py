"""What is lost along this wire."""

from __future__ import annotations

from postcheck.answered import Answer
from postcheck.ask.small import SUPPLY, fed_through, found, limited, never_arrives, survey_of
from postcheck.ask.words import quantity, wire
from postcheck.checks.protection import CHECKS
from postcheck.checks.shown import amps, celsius, millimetres, ohms, percent, volts
from postcheck.description.units import Dimension
from postcheck.report import Figure
from postcheck.survey import Survey

# Where no supply is told, one that pushes the current through whatever wire it is.
_ENOUGH = "57 V"


def drop(length: str, name: str, current: str, on: str | None = None) -> Answer:
    """The volts lost there and back in so much of a wire at a current; where a supply is told, their share of it."""
    metres = quantity(length, Dimension.LENGTH, "the length")
    wanted = quantity(current, Dimension.CURRENT, "--current")
    row = wire(name)
    if on is not None:
        quantity(on, Dimension.VOLTAGE, "--on")
    survey = survey_of(fed_through(row.name, length, current, on or _ENOUGH))
    runs, supply = survey.electrics.runs, survey.electrics.supplies.get(SUPPLY)
    legs = [runs[run] for run in ("there", "back") if run in runs]
    through = f"{millimetres(metres)} of {row.name} there and as much back"
    if supply is None or not legs or any(abs(leg.current - wanted) > 1e-6 * wanted for leg in legs):
        supplied = quantity(on or _ENOUGH, Dimension.VOLTAGE, "--on")
        least, reason = never_arrives(survey, wanted, f"{millimetres(metres)} of {row.name}", supplied)
        return Answer(
            "drop",
            False,
            "It does not arrive",
            reason,
            {"lost": Figure(least, "V")},
            limited(survey, "drop.lamp-share"),
        )
    lost = sum(leg.drop for leg in legs)
    limit = survey.limits.value("drop.lamp-share")
    fraction = lost / supply.volts if on is not None else None
    reason = f"{amps(wanted)} through {through}, {ohms(lost / wanted)} in all"
    if fraction is not None:
        much = "and" if fraction <= limit else "where"
        reason += f"; {percent(fraction)} of {volts(supply.volts)}, {much} {percent(limit)} is the most that a lamp's way should take"
    hot = _hot(survey)
    figures = {
        "lost": Figure(lost, "V"),
        "ohms": Figure(lost / wanted, "ohm"),
        "current": Figure(wanted, "A"),
    }
    if fraction is not None:
        figures |= {"share": Figure(fraction, ""), "arrives": Figure(supply.volts - lost, "V")}
    return Answer(
        "drop", hot is None and (fraction is None or fraction <= limit), f"{volts(lost)} lost", reason, figures,
        limited(survey, "drop.lamp-share"), hot,
    )  # fmt: skip


def _hot(survey: Survey) -> str | None:
    if "wire.hot" not in found(survey, CHECKS, ("wire.hot",)):
        return None
    used = survey.in_use.wires[0]
    gets = "melts" if used.celsius is None else f"gets to {celsius(used.celsius)}"
    return f"Too much for this wire: it {gets} in warm air, and its insulation stands {celsius(used.wire.insulation_celsius)}."
