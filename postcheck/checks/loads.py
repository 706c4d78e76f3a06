"""Motors, sound boards and the rest: do they get the volts they work at."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LoadFigures

_GIVEN = "what the load works at, as the file gives it"
# Volts within this share of a bound are at it.
AT = 1e-3
_LOW: dict[Severity, str] = {"stop": "always", "caution": "supply low"}


def _battery(survey: Survey, load: LoadFigures) -> bool:
    name = survey.wiring.drivers[load.part.circuit].supply
    return name is not None and survey.build.supply[name].kind == "battery"


def _low_volts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, load in survey.electrics.loads.items():
        lowest = load.part.lowest
        if lowest is None:
            continue
        subject, limit = Subject(load.part.kind, name), Limited(lowest, "V", _GIVEN)
        steps: dict[Severity, Within] = {"stop": Within(subject, load.volts, limit, least=True, slack=AT)}
        if not _battery(survey, load):
            steps["caution"] = Within(subject, load.lowest_volts, limit, least=True, slack=AT)
        yield from steps.values()
        if (severity := first_broken(steps)) is None:
            continue
        yield Fact(
            severity,
            subject,
            (*load.part.path, "lowest"),
            _LOW[severity],
            figures={
                "volts": Figure(max(load.volts, 0.0), "V"),
                "lowest": Figure(max(load.lowest_volts, 0.0), "V"),
                "needs": Figure(lowest, "V"),
            },
            limit=limit,
        )


def _over_volts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, load in survey.electrics.loads.items():
        most = load.part.highest
        supply = survey.electrics.supplies.get(survey.wiring.drivers[load.part.circuit].supply or "")
        if supply is None or supply.volts <= 0.0:
            continue
        if most is None and load.volts <= 0.0:
            continue
        if most is None:
            yield open_question(
                name, "whether it withstands {volts}",
                'the highest voltage that it is made for, by its sheet, such as highest = "6 V"',
                figures={"volts": Figure(load.volts, "V")}, lines=('highest = "6 V"  # by its sheet',), under=load.part.path,
            )  # fmt: skip
            continue
        high = load.volts * supply.highest_volts / supply.volts
        subject, made = Subject(load.part.kind, name), Limited(most, "V", _GIVEN)
        # a motor stands a little more for good, so the tolerance of a supply of its own volts is not reported
        rise = of_rating(survey.limits["motor.volts"], most, "V") if load.part.motor else made
        steps: dict[Severity, Within] = {
            "stop": Within(subject, load.volts, made, slack=AT),
            "caution": Within(subject, high, rise, slack=AT),
        }
        yield from steps.values()
        if (severity := first_broken(steps)) is None:
            continue
        yield Fact(
            severity,
            subject,
            (*load.part.path, "highest"),
            figures={
                "volts": Figure(load.volts, "V"),
                "highest": Figure(high, "V"),
                "stands": Figure(most, "V"),
            },
            limit=steps[severity].limit,
        )


_STALLS = "Below its least voltage a motor stalls and a sound board resets, over and over."

CHECKS: tuple[Check, ...] = (
    Check(
        "load.low-volts", "stop", "load", "a load with less than its least voltage", "It stalls or resets.",
        "volts at its terminals, typical and lowest", (), "the load's data", _low_volts,
        wording={
            "always": Wording("{subject} gets {volts:apart}. It needs {needs:apart}.", _STALLS),
            "supply low": Wording(
                "{subject} gets {volts:apart} ({lowest:apart} with a low supply and everything on). It needs {needs:apart}.", _STALLS
            ),
        },
    ),
    Check(
        "load.over-volts", "stop", "load", "a load with more than its highest voltage", "Too much voltage burns it out.",
        "volts at its terminals with the supply at its highest; of a motor over motor.volts of what it is made for", ("motor.volts",), "the load's data", _over_volts, dangerous=True,
        wording={
            "": Wording(
                "{subject} gets {volts:apart} ({highest:apart} at the supply's highest). It is rated for {stands:apart}.",
                "Too much voltage burns out a motor slowly and a board at once.",
            )
        },
    ),
)  # fmt: skip
