"""Which lamps have something that limits them, so that their currents mean something."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.checks.record import SEALED
from postcheck.limits import below
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.parts import LampPart, unlimited
from postcheck.wiring.resistors import spec_of

# Below this share of its current a constant-current output is short of volts.
SHORT_OF = 0.95


def is_bare(survey: Survey, lamp: LampPart) -> bool:
    """Whether nothing but wire limits an LED string: no resistor, no constant-current output."""
    return unlimited(lamp, survey.wiring.drivers[lamp.circuit])


def on_battery(survey: Survey, lamp: LampPart) -> bool:
    """Whether a lamp's supply is a battery."""
    supply = survey.build.supply.get(survey.wiring.drivers[lamp.circuit].supply or "")
    return supply is not None and supply.kind == "battery"


def known_lamps(survey: Survey) -> Iterator[LampFigures]:
    """Lamps with figures that are wired the right way round and have something that limits them."""
    for lamp in survey.electrics.lamps.values():
        if not lamp.part.backwards and not is_bare(survey, lamp.part):
            yield lamp


def filament(lamp: LampFigures) -> bool:
    """Whether it is a filament lamp."""
    return lamp.part.dice[0].filament_volts is not None


def turns(lamp: LampPart) -> bool:
    """Whether it has a trimmer whose setting the file does not give: it is judged turned to zero, and may be turned down on purpose."""
    spec = spec_of(lamp)
    return spec is not None and any(one.set is None for one in spec.trimmers)


def first_bare(survey: Survey, circuits: set[str]) -> LampPart | None:
    """The first lamp of these circuits that has no resistor."""
    return next(
        (lamp for lamp in survey.parts.lamps if lamp.circuit in circuits and is_bare(survey, lamp)), None
    )


def bare_on(survey: Survey, circuits: set[str]) -> str | None:
    """The finding on the first lamp of these circuits that has no resistor: the cause of what its current does."""
    lamp = first_bare(survey, circuits)
    return None if lamp is None else f"lamp.no-resistor:{lamp.name}"


def short_of_current(survey: Survey, circuit: str) -> bool:
    """Whether a constant-current output gives its lamps less than it promises."""
    steady, figures = survey.wiring.drivers[circuit].steady, survey.electrics.circuits.get(circuit)
    if steady is None or figures is None or not below(figures.nominal, SHORT_OF * steady):
        return False
    return any(lamp.circuit == circuit and not lamp.backwards for lamp in survey.parts.lamps)


def rises(survey: Survey, lamp: LampFigures) -> float:
    """How far its supply can go above the volts it is called by, as a ratio."""
    supply = survey.electrics.supplies.get(survey.wiring.drivers[lamp.part.circuit].supply or "")
    return supply.highest_volts / supply.volts if supply is not None and supply.volts > 0.0 else 1.0


def sealed_in(survey: Survey, parts: Iterable[Subject]) -> str:
    """Why that these are lost cannot be accepted: one of them is in a sealed place; empty where none is."""
    build = survey.build
    for part in parts:
        if part.kind == "board":
            places: tuple[str, ...] = (build.board[part.name].place,)
        elif part.kind == "supply":
            places = (build.supply[part.name].place,)
        else:
            at = survey.parts.named[part.name]
            places = (at.place, *at.places)
        if any(build.place[place].access == "sealed" for place in places):
            return SEALED
    return ""
