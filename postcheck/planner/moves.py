"""How a plan goes on from what was found: the remedies of the finding, and less current where that is the plan's to choose."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import zip_longest
from math import inf

from postcheck.description.models import Build
from postcheck.description.problems import Path
from postcheck.physics import preferred
from postcheck.remedies.lead_spec import changed_lead
from postcheck.remedies.proposal import Change, changed, set_to
from postcheck.remedies.resistor_spec import changed_resistor
from postcheck.remedies.table import proposals
from postcheck.remedies.wires import thicker_wire
from postcheck.report import Finding, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.wiring.parts import LampPart
from postcheck.wiring.resistors import spec_of

# Findings that less current in lamps may cure.
_DIMMED = {"lamp.strobe", "place.too-hot", "part.hot-spot", "supply.overload", "output.overload", "board.overload",
           "resistor.overloaded", "circuit.step", "line.drop", "lamp.over-rating", "converter.overload",
           "battery.too-short", "battery.dim-early", "battery.stops-early", "battery.overload", "battery.coin", "battery.hot"}  # fmt: skip


# A short that is told of a lead wants a thicker one; tried in clear steps.
_HURT = {"fuse.absent", "fuse.never-opens", "wire.hurt-before-fuse", "wire.hot", "line.drop", "lamp.unequal"}


# Wires that move want fine strands: the strands of each of these are finer than those of the one before.
_TIRED = {"passage.strain", "passage.fold", "passage.solid", "passage.enamelled", "passage.slack"}
SUPPLE = ("ptfe-30", "fep-30", "ptfe-32", "fep-32", "silicone-28", "silicone-30")
# By how much resistors are raised where no figure says it, or further than it says; the first is the next value of E12.
DIMMER = (1.15, 1.4, 2.0)
# What a finding asks for is met with this much to spare: LEDs keep a little more current than their resistors say.
SPARE = 1.03
# So far above the ohms that what is wanted would ask for a resistor may be: values that are sold, lamps that differ.
TRUSTED = 1.15


def moves_for(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """Changes that may cure a finding, the best first: its remedies, and in turn with them what a plan has besides."""
    remedies = (proposal.changes for proposal in proposals(survey, finding))
    for pair in zip_longest(remedies, _own(survey, finding)):
        yield from (changes for changes in pair if changes is not None)


def _own(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    if finding.check in _TIRED:
        yield from _other_wire(survey, finding.subject.name)
    if finding.check in _HURT:
        yield from _thicker_lead(survey)
    if finding.check == "line.drop":
        yield from _made_up(survey)
    if finding.check == "circuit.step":
        subject = finding.subject
        flasher = subject.name if subject.kind == "circuit" else survey.parts.named[subject.name].circuit
        yield from _brighter(survey, flasher)
    if finding.check in _DIMMED and _lamps_matter(survey, finding):
        yield from _dimmer(survey, finding.subject.kind, finding.subject.name, excess(finding))


def moves_for_question(survey: Survey, question: NotJudged) -> Iterator[tuple[Change, ...]]:
    """Changes with which a question need not be asked: less heat in a place of unknown size, or a lead that stands a short."""
    if question.subject in survey.build.place:
        yield from _dimmer(survey, "place", question.subject)
    yield from _thicker_lead(survey)


def excess(finding: Finding) -> float:
    """How many times too much a finding says there is of heat, current or average; one where its figures do not say it."""
    value = {name: figure.value for name, figure in finding.figures.items()}
    limit = finding.limit.value if finding.limit is not None else 0.0
    if value.get("allowed", 0.0) > 0.0 and ("heat" in value or "average" in value):
        over = value.get("heat", value.get("average", 0.0)) / value["allowed"]
    elif value.get("after", 0.0) > 0.0 and "wanted" in value:
        over = value["wanted"] / value["after"]
    elif limit > 0.0 and finding.limit is not None and finding.limit.unit in ("A", "W"):
        rows = (
            figure.value
            for name, figure in finding.figures.items()
            if name in ("highest", "likely_highest", "likely", "nominal", "starting", "load")
            and finding.limit is not None
            and figure.unit == finding.limit.unit
        )
        over = max(rows, default=limit) / limit
    else:
        over = 1.0
    return max(over, 1.0)


def _lamps_matter(survey: Survey, finding: Finding) -> bool:
    """Whether less light could cure a finding: not where what is no lamp is too much by itself."""
    subject, largest = finding.subject, finding.parts.get("largest")
    if finding.check == "place.too-hot" and isinstance(largest, Subject) and largest.kind != "lamp":
        return finding.figures["largest_heat"].value < finding.figures["allowed"].value
    over = finding.figures.get("highest")
    if subject.kind == "supply" and over is not None and finding.limit is not None:
        saved = sum(
            lamp.nominal * lamp.part.parallel * (1.0 - least_of(survey, lamp.part) / lamp.nominal)
            for lamp in survey.electrics.lamps.values()
            if lamp.nominal > 0.0 and _concerned(survey, lamp.part, subject.kind, subject.name)
        )
        return over.value / excess(finding) > over.value - 1.5 * saved
    return True


def least_of(survey: Survey, part: LampPart) -> float:
    """The least current (A) with which a string is still as it is wanted; zero where nothing is."""
    if part.wanted_range is None:
        return 0.0
    least, most = part.wanted_range
    return least if least < most else most * (1.0 - survey.limits.value("lamp.wanted"))


def as_wanted(survey: Survey, build: Build, planned: Mapping[Path, float]) -> Build:
    """A changed build with no resistor above what leaves a lamp as bright as it is wanted.

    By the currents of `survey`, and by the ohms that were `planned` for what is wanted: in a place that is far too hot a lamp
    gets more than it will once that is mended.
    """
    changes = []
    for lamp in survey.electrics.lamps.values():
        part, least = lamp.part, least_of(survey, lamp.part)
        if least == 0.0 or part.resistor is None or part.wanted is None or part.path[0] != "lamp":
            continue
        said = build.lamp[int(part.path[1])]
        spec = said.dice[str(part.path[3])].resistor if len(part.path) > 2 and said.dice else said.resistor
        if spec is None or said.series != part.said.series:
            continue
        most = lamp.nominal * part.resistor.ohms / least
        if part.path in planned:
            most = min(most, TRUSTED * planned[part.path] * part.wanted / least)
        most = max(most * (1.0 + 1e-9), part.resistor.ohms)
        if spec.ohms > most:
            ohms = max(preferred.at_most(most, survey.build.stock.series), part.resistor.ohms)
            changes.append(changed_resistor(part, spec, ohms=ohms))
    return changed(build, changes)


def _dimmer(survey: Survey, kind: str, name: str, asked: float = 1.0) -> Iterator[tuple[Change, ...]]:
    """Higher resistors for every lamp that has to do with it: as `asked`, then further; none below what is wanted of it."""
    for factor in ((asked * SPARE,) if asked > 1.0 else ()) + tuple(asked * step for step in DIMMER):
        changes = []
        for part in survey.parts.lamps:
            spec, lamp = spec_of(part), survey.electrics.lamps.get(part.name)
            if spec is None or lamp is None or not _concerned(survey, part, kind, name):
                continue
            series, least = survey.build.stock.series, least_of(survey, part)
            most = spec.ohms * lamp.nominal / least if least > 0.0 else inf
            ohms = preferred.at_least(spec.ohms * factor, series)
            if ohms > most:
                ohms = preferred.at_most(most, series)
            if ohms > spec.ohms:
                changes.append(changed_resistor(part, spec, ohms=ohms))
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
    for fraction in (0.5, 0.2, 0.1):
        name = thicker_wire(survey, thinnest, fraction)
        changes = [changed_lead(part, wire=name) for part in parts] if name else []
        if changes and None not in changes:
            yield tuple(change for change in changes if change is not None)


def _other_wire(survey: Survey, passage: str) -> Iterator[tuple[Change, ...]]:
    """Another wire for all runs of a passage that moves: from the shelf, or of finer strands."""
    runs = [
        run for run in survey.parts.runs if passage in run.through and run.wire is not None and not run.body
    ]
    for name in survey.build.stock.wires or SUPPLE:
        changes = tuple(
            set_to((*run.path, "wire"), name) for run in runs if run.wire and run.wire.name != name
        )
        if changes:
            yield changes


def _made_up(survey: Survey) -> Iterator[tuple[Change, ...]]:
    """Smaller resistors for all lamps that get less than is wanted of them: what copper takes, these need not."""
    changes = []
    for part in survey.parts.lamps:
        spec, figures = spec_of(part), survey.electrics.lamps.get(part.name)
        if (
            spec is not None
            and part.wanted is not None
            and figures is not None
            and figures.nominal < part.wanted
        ):
            ohms = preferred.nearest(spec.ohms * figures.nominal / part.wanted, survey.build.stock.series)
            if ohms < spec.ohms:
                changes.append(changed_resistor(part, spec, ohms=ohms))
    if changes:
        yield tuple(changes)


def _brighter(survey: Survey, flasher: str) -> Iterator[tuple[Change, ...]]:
    """The next resistor down for the steady lamps beside a flasher: the same volts are less of their current."""
    drivers = survey.wiring.drivers
    changes = []
    for part in survey.parts.lamps:
        driver, spec = drivers[part.circuit], spec_of(part)
        if driver.supply == drivers[flasher].supply and driver.behaviour == "steady" and spec is not None:
            ohms = preferred.at_most(spec.ohms / DIMMER[0], survey.build.stock.series)
            changes.append(changed_resistor(part, spec, ohms=ohms))
    if changes:
        yield tuple(changes)
