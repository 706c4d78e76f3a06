"""A diode across a motor: the least of the usual ones that takes its current, or none where it is driven both ways."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.diodes import DIODES
from postcheck.description.models import DiodeSpec
from postcheck.limits import below
from postcheck.remedies.proposal import Change, Proposal, Proposer, taken_out
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.wiring.parts import LoadPart


def _larger(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    load = survey.parts.named.get(finding.subject.name)
    if not isinstance(load, LoadPart):
        return
    supply = survey.electrics.supplies.get(survey.wiring.drivers[load.circuit].supply or "")
    volts, start = supply.highest_volts if supply is not None else 0.0, max(load.starting or 0.0, load.most)
    for name, data in sorted(DIODES.items(), key=lambda row: (row[1].rated, row[1].reverse or 0.0)):
        stands = ((data.rated, load.most), (data.reverse or 0.0, volts), (data.surge or 0.0, start))
        if not any(below(most, asked) for most, asked in stands):
            spec = DiodeSpec.model_construct(kind=name, rated=None, volts=None)
            yield Proposal(f"Use a {name}.", (Change((*load.path, "diode"), spec, f'"{name}"'),))


def _none(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    load = survey.parts.named.get(finding.subject.name)
    if load is not None:
        yield Proposal(finding.remedy or "Take it off.", (taken_out((*load.path, "diode")),))


DIODES_ACROSS: dict[str, Proposer] = {"diode.too-small": _larger, "diode.both-ways": _none}
