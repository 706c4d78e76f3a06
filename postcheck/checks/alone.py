"""A lamp that is tried first, or is the last that still works: no other lamp loads the shared wires."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, of_rating
from postcheck.checks.known import known_lamps
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.description.models import Supply
from postcheck.limits import above
from postcheck.report import Figure, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.supplies import source_of, typical_volts


def _rises(supply: Supply | None) -> bool:
    """Whether the file says that the supply's volts rise without load."""
    return supply is not None and (supply.unloaded is not None or bool(supply.regulation))


def _unloaded(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["lamp.current.stop"]
    for name, supply in survey.build.supply.items():
        if not _rises(supply):
            continue
        worst = max(
            (lamp for lamp in known_lamps(survey) if _on(survey, lamp) == name),
            key=lambda lamp: lamp.alone / lamp.rated,
            default=None,
        )
        if worst is None:
            continue
        yield (within := Within(Subject("supply", name), worst.alone, of_rating(limit, worst.rated, "A")))
        if within.kept:
            continue
        usual, unloaded = typical_volts(supply), source_of(supply, 0)[0]
        yield Fact(
            "note",
            within.subject,
            ("supply", name, "unloaded" if supply.unloaded is not None else "regulation"),
            figures={
                "unloaded": Figure(unloaded, "V"),
                "volts": Figure(usual, "V"),
                "current": Figure(worst.alone, "A"),
                "rated": Figure(worst.rated, "A"),
            },
            parts={"lamp": Subject("lamp", worst.name)},
            limit=within.limit,
            because_of=f"lamp.over-rating:{worst.name}",
        )


def _alone(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["lamp.current.caution"]
    for lamp in known_lamps(survey):
        most = of_rating(limit, lamp.rated, "A")
        if above(lamp.highest, most.value) or _rises(survey.build.supply.get(_on(survey, lamp) or "")):
            continue
        yield (within := Within(Subject("lamp", lamp.name), lamp.alone, most))
        if within.kept:
            continue
        yield Fact(
            "note",
            within.subject,
            lamp.part.path,
            figures={
                "nominal": Figure(lamp.nominal, "A"),
                "alone": Figure(lamp.alone, "A"),
                "rated": Figure(lamp.rated, "A"),
            },
            limit=most,
            because_of=f"line.drop:{lamp.part.circuit}",
        )


def _on(survey: Survey, lamp: LampFigures) -> str | None:
    return survey.wiring.drivers[lamp.part.circuit].supply


CHECKS: tuple[Check, ...] = (
    Check(
        "supply.unloaded", "note", "supply", "an adaptor whose unloaded voltage is too high for the first lamp",
        "It comes down to its voltage only under load.", "the highest current of each lamp with nothing else on", ("lamp.current.stop",),
        "Kirchhoff's laws, solved for each lamp alone", _unloaded,
        wording={
            "": Wording(
                "With hardly any load {subject} gives {unloaded} instead of {volts}. {lamp}, tried first on the bench, may get {current}. Its rating is {rated}.",
                "An adaptor without regulation comes down to its voltage only under its rated load.",
                "Test on a regulated supply, and show the model on one.",
            )
        },
    ),
    Check(
        "lamp.alone", "note", "lamp", "a lamp that relies on the voltage that the others lose on shared wires",
        "It gets too much when it is tried first, and when the others fail.", "the highest current with nothing else on",
        ("lamp.current.caution",), "Kirchhoff's laws, solved for each lamp alone", _alone,
        wording={
            "": Wording(
                "{subject} gets {nominal} with everything on, and up to {alone} alone. Its rating is {rated}.",
                "The voltage that the others lose on the shared wires is part of its protection. It is missing when this lamp is tried first, and when the others fail.",
            )
        },
    ),
)  # fmt: skip
