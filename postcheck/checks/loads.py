"""Motors, sound boards and the rest: do they get the volts they work at."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.record import Check
from postcheck.checks.shown import volts
from postcheck.description.naming import supply_of
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LoadFigures

__all__ = ["CHECKS"]

_GIVEN = "what the load works at, as the file gives it"
# Volts within this share of a bound are at it.
AT = 1e-3


def _battery(survey: Survey, load: LoadFigures) -> bool:
    name = supply_of(survey.build, survey.build.circuit[load.part.circuit])
    return name is not None and survey.build.supply[name].kind == "battery"


def _low_volts(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, load in survey.electrics.loads.items():
        lowest = load.part.lowest
        if lowest is None:
            continue
        severity: Severity
        if load.volts < lowest * (1.0 - AT):
            severity, words = "stop", f"gets {volts(max(load.volts, 0.0))}"
        elif load.lowest_volts < lowest * (1.0 - AT) and not _battery(survey, load):
            severity, words = (
                "caution",
                f"gets {volts(load.volts)}, but only {volts(max(load.lowest_volts, 0.0))} when the supply is low and everything is on",
            )
        else:
            continue
        yield Finding(
            "load.low-volts", severity, Subject("load", name),
            f"{quoted(name)} {words}; it needs {volts(lowest)}.",
            "Below its least voltage a motor stalls and a sound board resets, over and over.",
            (*load.part.path, "lowest"),
            figures={"volts": Figure(load.volts, "V"), "lowest": Figure(load.lowest_volts, "V"), "needs": Figure(lowest, "V")},
            limit=Limited(lowest, "V", _GIVEN),
        )  # fmt: skip


def _over_volts(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, load in survey.electrics.loads.items():
        most = survey.build.load[int(load.part.path[1])].highest
        supply = survey.electrics.supplies.get(
            supply_of(survey.build, survey.build.circuit[load.part.circuit]) or ""
        )
        if most is None or supply is None or supply.volts <= 0.0:
            continue
        high = load.volts * supply.highest_volts / supply.volts
        if high <= most * (1.0 + AT):
            continue
        yield Finding(
            "load.over-volts", "stop" if load.volts > most * (1.0 + AT) else "caution", Subject("load", name),
            f"{quoted(name)} gets {volts(load.volts)}, up to {volts(high)}; it stands {volts(most)}.",
            "Too much voltage burns out a motor slowly and a board at once.",
            (*load.part.path, "highest"),
            figures={"volts": Figure(load.volts, "V"), "highest": Figure(high, "V"), "stands": Figure(most, "V")},
            limit=Limited(most, "V", _GIVEN),
        )  # fmt: skip


CHECKS: tuple[Check, ...] = (
    Check(
        "load.low-volts", "stop", "load", "a load with less than its least voltage", "It stalls or resets.",
        "volts at its terminals, typical and lowest", (), "the load's data", _low_volts,
    ),
    Check(
        "load.over-volts", "stop", "load", "a load with more than its highest voltage", "Too much voltage burns it out.",
        "volts at its terminals with the supply at its highest", (), "the load's data", _over_volts, dangerous=True,
    ),
)  # fmt: skip
