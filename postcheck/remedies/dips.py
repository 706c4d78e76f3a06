"""What to do about lamps that dip as a load starts: less that the two share, a supply of its own, a smaller load."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.remedies.drops import MARGIN, conductors_beside, parted, rounded_down
from postcheck.remedies.proposal import Change, Proposal, Proposer, of_another, quantity
from postcheck.report import Figure, Finding
from postcheck.survey import Survey

# A motor that may take no more than this share of what another takes is none that does the same work (judgement).
SMALLEST = 1.0 / 3.0


def _held(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    load = finding.parts["load"]
    if isinstance(load, tuple):
        return
    circuit, dip = survey.electrics.loads[load.name].part.circuit, finding.figures["dip"].value
    lamp = survey.parts.named[finding.subject.name].circuit
    yield from parted(survey, finding, circuit, dip, {circuit} & {lamp})
    if circuit != lamp:
        yield from _own_supply(survey, circuit)
    yield from _smaller(survey, finding, load.name)


def _own_supply(survey: Survey, circuit: str) -> Iterator[Proposal]:
    """Another supply of the same sort for a circuit, with a return of its own; tried, but which one it is the builder says."""
    said, driver = survey.build.circuit[circuit], survey.wiring.drivers[circuit]
    name, own = said.supply, f"{circuit}-supply"
    if name is None or said.own_return or own in survey.build.supply:
        return
    beside = conductors_beside(survey, driver.return_net, f"{own}-", circuit)
    if beside is None or any(run.line == f"{name}+" for run in survey.build.run):
        return
    names, changes = beside
    yield Proposal(
        f"Feed {quoted(circuit)} from a supply of its own, with a return of its own beside {names}.",
        (
            Change(("supply", own), survey.build.supply[name], None),
            Change(("circuit", circuit, "supply"), own, None),
            *changes,
        ),
    )


def _smaller(survey: Survey, finding: Finding, name: str) -> Iterator[Proposal]:
    """A smaller load: what it takes as it starts, and less so in use, goes with its size, and the dip with that."""
    load = survey.build.load[int(survey.electrics.loads[name].part.path[1])]
    starting = finding.figures["starting"].value
    part = 0.0 if finding.limit is None else finding.limit.value / finding.figures["dip"].value / MARGIN
    if load.typical >= starting or part < SMALLEST:
        return
    most = rounded_down(starting * part)
    path = survey.electrics.loads[name].part.path[:2]
    smaller = {"starting": most, "typical": load.typical * part}
    yield Proposal(
        f"Use a smaller one for {quoted(name)}, that takes no more than {format_quantity(most, Dimension.CURRENT)} as it starts.",
        tuple(of_another(quantity((*path, key), amps, Dimension.CURRENT)) for key, amps in smaller.items()),
        figures={"most": Figure(most, "A")},
    )


DIPS: dict[str, Proposer] = {"lamp.dip": _held}
