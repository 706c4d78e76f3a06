"""Lamps, strips and motors: a resistor or trimmer elsewhere, a lamp fewer, a second feed, a motor off the wall."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.plain import quoted
from postcheck.remedies.fuse import with_its_fuse
from postcheck.remedies.opposites.by_words import by_words
from postcheck.remedies.proposal import Change, Proposal, Proposer, set_to
from postcheck.remedies.resistor_spec import changed_resistor
from postcheck.remedies.subjects import lamp_part, strip_part
from postcheck.report import Finding, Subject
from postcheck.survey import Survey
from postcheck.wiring.resistors import spec_of


def _held_in_metal(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """Of a motor too hot while it runs. That one never stalls is a promise, and is the builder's to write."""
    if "current" not in finding.figures:
        yield (set_to((*finding.path[:2], "held_off"), True),)


def _resistor_moved(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The resistor with the lamp, else at the joint of its lead."""
    part = lamp_part(survey, finding.subject.name)
    spec = spec_of(part) if part is not None else None
    if part is not None and spec is not None:
        for place in (None, part.supply_leg.to):
            yield (changed_resistor(part, spec, place=place),)


def _trimmer_out(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A trimmer that nobody would reach at the joint of its lamp's lead, where that opens."""
    part = lamp_part(survey, finding.subject.name)
    spec = spec_of(part) if part is not None else None
    if part is not None and spec is not None and survey.build.place[part.supply_leg.to].access != "sealed":
        to = part.supply_leg.to
        yield Proposal(f"Move it to {quoted(to)}.", (changed_resistor(part, spec, place=to),))


def _fed_twice(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Fed at its far end as well; with the fuse that what it then takes asks for."""
    part = strip_part(survey, finding.subject.name)
    if part is not None and part.far_end is None and finding.remedy is not None:
        plain = Proposal(finding.remedy, (set_to((*part.path, "far_end"), part.place),), alone=True)
        yield plain
        yield from with_its_fuse(survey, survey.wiring.drivers[part.circuit].supply or "", plain)


def _shorter_string(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    lamp = finding.parts.get("lamp")
    part = lamp_part(survey, lamp.name) if isinstance(lamp, Subject) else None
    if part is not None and part.said.series > 1 and not part.said.links:
        yield (set_to((*part.path[:2], "series"), part.said.series - 1),)


OPPOSITES: dict[str, Proposer] = {
    "motor.hot": by_words(_held_in_metal),
    "trimmer.sealed": _trimmer_out,
    "lead.bare": by_words(_resistor_moved),
    "strip.dim": _fed_twice,
    "output.compliance": by_words(_shorter_string),
}
