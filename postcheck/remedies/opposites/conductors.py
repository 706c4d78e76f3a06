"""Runs and leads in a passage: longer, looser, stranded, sturdier."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.units import Dimension
from postcheck.remedies.lead_spec import changed_lead
from postcheck.remedies.opposites.by_words import all_of, as_figured, by_words, set_here
from postcheck.remedies.proposal import Change, Proposal, Proposer, length, lower_first, set_to
from postcheck.remedies.wires import thicker_wire
from postcheck.report import Finding, Subject
from postcheck.survey import Survey
from postcheck.wiring.data import wire_data

# Stranded wire for what moves, where the build has none of its own.
_STRANDED = ("ptfe-30", "ptfe-28")


def _sturdier(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Thicker wire of the same sort for the lead, or the run, that a pull stretches."""
    named = finding.parts.get("conductor")
    if not isinstance(named, Subject) or finding.remedy is None:
        return
    part = survey.parts.named.get(named.name)
    run = next((run for run in survey.parts.runs if run.name == named.name), None)
    wire = run.wire if run is not None else part.supply_leg.wire if part is not None else None
    for fraction in (0.4, 0.15):
        name = thicker_wire(survey, wire, fraction)
        if name is None:
            continue
        change = set_to((*run.path, "wire"), name) if run is not None else None
        if part is not None:
            change = changed_lead(part, wire=name)
        if change is not None:
            yield Proposal(f"Use {name} for it, or {lower_first(finding.remedy)}", (change,), alone=True)


def _spare(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    part = next((part for part in survey.parts.every if part.path[:2] == finding.path[:2]), None)
    if part is not None:
        longer = {"length": finding.figures["longer"].value} if "longer" in finding.figures else {}
        yield from all_of([changed_lead(part, spare=finding.figures["needed"].value, **longer)])


def _as_measured(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The one of the lengths that would fit the conductors."""
    for key in ("free", "to_joint", "slack"):
        if (left := finding.figures.get(f"{key}_left")) is not None:
            yield (length((*finding.path[:-1], key), left.value),)


def _stranded(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The build's usual stranded wire, or a known one, for runs and leads."""
    wires = finding.parts.get("wires")
    named = {(wire.kind, wire.name) for wire in wires} if isinstance(wires, tuple) else set()
    usual = survey.build.usual.run
    rows = [wire_data(survey.build, name) for name in dict.fromkeys((*filter(None, [usual]), *_STRANDED))]
    for row in [row for row in rows if row.strands > 1][:2]:
        runs = [run for run in survey.parts.runs if ("run", run.name) in named]
        leads = [part for part in survey.parts.every if ("lead", part.name) in named]
        yield from all_of(
            [set_to((*run.path, "wire"), row.name) for run in runs]
            + [changed_lead(part, wire=row.name) for part in leads]
        )


OPPOSITES: dict[str, Proposer] = {
    "passage.soldered": set_here(False),
    "passage.joint-inside": set_here(False, "joints_inside"),
    "passage.coiled": as_figured("most", Dimension.LENGTH, "slack"),
    "passage.fold": as_figured("needed", Dimension.LENGTH, "free"),
    "passage.pull": _sturdier,
    "lead.too-short": by_words(_spare),
    "passage.lengths": by_words(_as_measured),
    "passage.enamelled": by_words(_stranded),
    "passage.solid": by_words(_stranded),
}
