"""How a plan goes on from what was found: the remedies of the finding, and less current where that is the plan's to choose."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.physics import preferred
from postcheck.remedies.proposal import Change
from postcheck.remedies.resistor_spec import change, spec_of
from postcheck.remedies.table import STAGES
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.wiring.parts import LampPart

_DIMMED = {"place.too-hot", "part.hot-spot", "supply.overload", "output.overload", "board.overload",
           "resistor.overloaded", "circuit.step", "line.drop", "lamp.over-rating", "converter.overload"}  # fmt: skip


def moves_for(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """Changes that may cure a finding, the best first."""
    for stage in STAGES:
        if finding.check in stage:
            for proposal in stage[finding.check](survey, finding):
                yield proposal.changes
    if finding.check in _DIMMED:
        yield from _dimmer(survey, finding)


def _dimmer(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The next resistor up for every lamp that has to do with it."""
    for factor in (1.2, 1.5, 2.0):
        changes = []
        for part in survey.parts.lamps:
            spec = spec_of(part)
            if spec is not None and part.wanted is None and _concerned(survey, part, finding):
                ohms = preferred.at_least(spec.ohms * factor, survey.build.stock.series)
                changes.append(change(part, spec.model_copy(update={"ohms": ohms})))
        if changes:
            yield tuple(changes)


def _concerned(survey: Survey, part: LampPart, finding: Finding) -> bool:
    kind, name = finding.subject.kind, finding.subject.name
    driver = survey.wiring.drivers[part.circuit]
    return (
        (kind == "place" and name in (*part.places, part.resistor.place if part.resistor else ""))
        or (kind == "supply" and driver.supply == name)
        or (kind in ("circuit", "output") and part.circuit == name)
        or (kind == "board" and driver.board == name)
        or (kind == "lamp" and part.name == name)
    )
