"""How a plan goes on from what was found: the remedies of the finding, and less current where that is the plan's to choose."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from postcheck.physics import preferred
from postcheck.remedies.drops import thicker_wires
from postcheck.remedies.lead_spec import changed_lead
from postcheck.remedies.proposal import Change
from postcheck.remedies.resistor_spec import change, spec_of
from postcheck.remedies.table import STAGES
from postcheck.report import Finding, NotJudged
from postcheck.survey import Survey
from postcheck.wiring.parts import LampPart

_DIMMED = {"lamp.strobe", "place.too-hot", "part.hot-spot", "supply.overload", "output.overload", "board.overload",
           "resistor.overloaded", "circuit.step", "line.drop", "lamp.over-rating", "converter.overload"}  # fmt: skip


# A short that is told of a lead wants a thicker one; tried in clear steps.
_HURT = {"fuse.absent", "fuse.never-opens", "wire.hurt-before-fuse", "wire.hot", "line.drop", "lamp.unequal"}


# Wires that move want fine strands: the strands of each of these are finer than those of the one before.
_TIRED = {"passage.strain", "passage.fold", "passage.solid", "passage.enamelled", "passage.slack"}
SUPPLE = ("ptfe-30", "fep-30", "ptfe-32", "fep-32", "silicone-28", "silicone-30")
# By how much resistors are raised; the first is the next value of E12, which may still be near what is wanted.
DIMMER = (1.15, 1.4, 2.0)


def moves_for(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """Changes that may cure a finding, the best first: its remedies, and in turn with them what a plan has besides."""
    remedies = (
        proposal.changes
        for stage in STAGES
        if finding.check in stage
        for proposal in stage[finding.check](survey, finding)
    )
    for pair in zip_longest(remedies, _own(survey, finding)):
        yield from (changes for changes in pair if changes is not None)


def _own(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    if finding.check in _TIRED:
        yield from _other_wire(survey, finding.subject.name)
    if finding.check in _HURT:
        yield from _thicker_lead(survey)
    if finding.check == "circuit.step":
        yield from _brighter(survey, finding.subject.name)
    if finding.check in _DIMMED:
        yield from _dimmer(survey, finding.subject.kind, finding.subject.name)


def moves_for_question(survey: Survey, question: NotJudged) -> Iterator[tuple[Change, ...]]:
    """Changes with which a question need not be asked: less heat in a place of unknown size, or a lead that stands a short."""
    if question.subject in survey.build.place:
        yield from _dimmer(survey, "place", question.subject)
    yield from _thicker_lead(survey)


def _dimmer(survey: Survey, kind: str, name: str) -> Iterator[tuple[Change, ...]]:
    """The next resistor up for every lamp that has to do with it."""
    for factor in DIMMER:
        changes = []
        for part in survey.parts.lamps:
            spec = spec_of(part)
            if (
                spec is not None
                and (part.wanted is None or factor == DIMMER[0])
                and _concerned(survey, part, kind, name)
            ):
                ohms = preferred.at_least(spec.ohms * factor, survey.build.stock.series)
                changes.append(change(part, spec.model_copy(update={"ohms": ohms})))
        if changes:
            yield tuple(changes)


def _concerned(survey: Survey, part: LampPart, kind: str, name: str) -> bool:
    driver = survey.wiring.drivers[part.circuit]
    return (
        (kind == "place" and name in (*part.places, part.resistor.place if part.resistor else ""))
        or (kind == "supply" and driver.supply == name)
        or (kind in ("circuit", "output") and part.circuit == name)
        or (kind == "board" and driver.board == name)
        or (kind in ("lamp", "resistor") and part.name == name)
    )


def _thicker_lead(survey: Survey) -> Iterator[tuple[Change, ...]]:
    """Thicker wire for the lead that a finding is about, and for those of its kind that are no thicker."""
    hurt = {fault.path[:2] for fault in survey.faults if fault.most.hurt}
    parts = [part for part in survey.parts.all if part.path[:2] in hurt and part.supply_leg.wire is not None]
    thinnest = max(
        (part.supply_leg.wire for part in parts if part.supply_leg.wire),
        key=lambda wire: wire.ohms_per_metre,
        default=None,
    )
    if thinnest is None:
        return
    for factor in (0.5, 0.2, 0.1):
        names = thicker_wires(survey, thinnest, factor * thinnest.ohms_per_metre)[:1]
        changes = [changed_lead(part, wire=names[0]) for part in parts] if names else []
        if changes and None not in changes:
            yield tuple(change for change in changes if change is not None)


def _other_wire(survey: Survey, passage: str) -> Iterator[tuple[Change, ...]]:
    """Another wire for all runs of a passage that moves: from the shelf, or of finer strands."""
    runs = [
        run for run in survey.parts.runs if passage in run.through and run.wire is not None and not run.body
    ]
    for name in survey.build.stock.wires or SUPPLE:
        changes = tuple(
            Change((*run.path, "wire"), name, f'"{name}"')
            for run in runs
            if run.wire and run.wire.name != name
        )
        if changes:
            yield changes


def _brighter(survey: Survey, flasher: str) -> Iterator[tuple[Change, ...]]:
    """The next resistor down for the steady lamps beside a flasher: the same volts are less of their current."""
    drivers = survey.wiring.drivers
    changes = []
    for part in survey.parts.lamps:
        driver, spec = drivers[part.circuit], spec_of(part)
        if driver.supply == drivers[flasher].supply and driver.behaviour == "steady" and spec is not None:
            ohms = preferred.at_most(spec.ohms / DIMMER[0], survey.build.stock.series)
            changes.append(change(part, spec.model_copy(update={"ohms": ohms})))
    if changes:
        yield tuple(changes)
