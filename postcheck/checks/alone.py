"""A lamp that is tried first, or is the last that still works: nothing else pulls the volts down for it."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import of_rating
from postcheck.checks.known import known_lamps
from postcheck.checks.record import Check
from postcheck.checks.shown import amps, volts
from postcheck.description.models import Supply
from postcheck.description.naming import supply_of
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.supplies import source_of, typical_volts

__all__ = ["CHECKS"]


def _rises(supply: Supply | None) -> bool:
    """Whether the file says that the supply's volts rise without load."""
    return supply is not None and (supply.unloaded is not None or bool(supply.regulation))


def _unloaded(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["lamp.current.stop"]
    for name, supply in survey.build.supply.items():
        if not _rises(supply):
            continue
        worst = max(
            (lamp for lamp in known_lamps(survey) if _on(survey, lamp) == name),
            key=lambda lamp: lamp.alone / lamp.rated,
            default=None,
        )
        if worst is None or worst.alone <= limit.value * worst.rated:
            continue
        usual, unloaded = typical_volts(supply), source_of(supply, 0)[0]
        yield Finding(
            "supply.unloaded",
            "note",
            Subject("supply", name),
            f"With next to nothing on it {quoted(name)} gives {volts(unloaded)} instead of {volts(usual)}: {quoted(worst.name)}, tried first on the bench, may get {amps(worst.alone)}; {amps(worst.rated)} is its rating.",
            "An adaptor without regulation comes down to its voltage only under its rated load.",
            ("supply", name, "unloaded" if supply.unloaded is not None else "regulation"),
            remedy="Test on a regulated supply, and show the model on one.",
            figures={
                "unloaded": Figure(unloaded, "V"),
                "volts": Figure(usual, "V"),
                "current": Figure(worst.alone, "A"),
            },
            limit=of_rating(limit, worst.rated, "A"),
            because_of=f"lamp.over-rating:{worst.name}",
        )


def _alone(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["lamp.current.caution"]
    for lamp in known_lamps(survey):
        most = limit.value * lamp.rated
        if not lamp.highest <= most < lamp.alone or _rises(survey.build.supply.get(_on(survey, lamp) or "")):
            continue
        yield Finding(
            "lamp.alone",
            "note",
            Subject("lamp", lamp.name),
            f"{quoted(lamp.name)} gets {amps(lamp.nominal)} with everything on, but up to {amps(lamp.alone)} alone; {amps(lamp.rated)} is its rating.",
            "What the others pull down along the way they share is part of its protection. It is missing when this lamp is tried first, and when the others fail.",
            lamp.part.path,
            figures={
                "nominal": Figure(lamp.nominal, "A"),
                "alone": Figure(lamp.alone, "A"),
                "rated": Figure(lamp.rated, "A"),
            },
            limit=of_rating(limit, lamp.rated, "A"),
            because_of=f"line.drop:{lamp.part.circuit}",
        )


def _on(survey: Survey, lamp: LampFigures) -> str | None:
    return supply_of(survey.build, survey.build.circuit[lamp.part.circuit])


CHECKS: tuple[Check, ...] = (
    Check(
        "supply.unloaded", "note", "supply", "an adaptor whose unloaded voltage is too high for the first lamp",
        "It comes down to its voltage only under load.", "the highest current of each lamp with nothing else on", ("lamp.current.stop",),
        "Kirchhoff's laws, solved for each lamp alone", _unloaded,
    ),
    Check(
        "lamp.alone", "note", "lamp", "a lamp that relies on what the others pull down",
        "It gets too much when it is tried first, and when the others fail.", "the highest current with nothing else on",
        ("lamp.current.caution",), "Kirchhoff's laws, solved for each lamp alone", _alone,
    ),
)  # fmt: skip
