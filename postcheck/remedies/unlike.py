"""What to do about lamps unlike their fellows: thicker wire for their leads, more resistance for the brighter one."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.plain import quoted
from postcheck.remedies.lead_spec import changed_lead
from postcheck.remedies.proposal import Proposal
from postcheck.remedies.resistor import resistance_for, with_value
from postcheck.remedies.resistor_spec import changed_resistor, instead
from postcheck.remedies.wires import thicker_wires
from postcheck.report import Figure, Finding, Subject
from postcheck.survey import Survey
from postcheck.survey.network.resistor_choice import steps
from postcheck.wiring.parts import LampPart
from postcheck.wiring.resistors import spec_of

# Wires are tried from this share of the resistance of the leads down.
HALF = 0.5


def as_its_fellows(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Thicker wire for the leads of the lamps that get less."""
    also = finding.parts.get("also")
    names = (
        [finding.subject.name, *(other.name for other in also)]
        if isinstance(also, tuple)
        else [finding.subject.name]
    )
    if finding.case == "whites:whites":
        other = finding.parts["other"]
        brighter = next(
            part for part in survey.parts.lamps if isinstance(other, Subject) and part.name == other.name
        )
        yield from _as_bright(survey, brighter, 1.0 + finding.figures["difference"].value)
        return
    parts = [part for part in survey.parts.lamps if part.name in names]
    wire = parts[0].supply_leg.wire if parts else None
    if wire is None:
        return
    for name in thicker_wires(survey, wire, HALF * wire.ohms_per_metre):
        changes = [changed_lead(part, wire=name) for part in parts]
        known = tuple(change for change in changes if change is not None)
        if len(known) == len(changes):
            whose = " and ".join(quoted(part.name) for part in parts)
            yield Proposal(f"Use {name} for the lead of {whose}.", known)


def _as_bright(survey: Survey, part: LampPart, factor: float) -> Iterator[Proposal]:
    """More resistance for a lamp that gets `factor` times what its fellows get."""
    before = spec_of(part)
    if before is None:
        return
    lamp = survey.electrics.lamps[part.name]
    value = resistance_for(lamp, lamp.nominal / factor)
    for ohms in steps(value, survey.build.stock.series, 2) if value is not None else ():
        spec = with_value(survey, part, ohms)
        if spec is not None:
            yield Proposal(
                f"Use {instead(survey.build, spec, before)} for {quoted(part.name)}, or lamps of one kind.",
                (changed_resistor(part, spec),),
                figures={"old": Figure(before.whole, "ohm")},
            )
