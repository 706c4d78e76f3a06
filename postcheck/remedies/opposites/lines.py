"""What is joined that should be apart, and what should lie on another line."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.models import Circuit
from postcheck.description.toml_text import in_toml
from postcheck.plain import quoted
from postcheck.remedies.opposites.by_words import by_words
from postcheck.remedies.proposal import Change, Proposal, Proposer, set_to, taken_out
from postcheck.remedies.table_spec import more, table_of
from postcheck.report import Finding
from postcheck.survey import Survey


def _without_joint(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A joint taken out, or one of its lines: what joins what has to be apart."""
    number = finding.path[1] if finding.path[:1] == ("join",) and len(finding.path) > 1 else None
    for index in [int(number)] if number is not None else range(len(survey.build.join)):
        yield (taken_out(("join", index)),)


def _parted(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Supplies parted: what goes with the joint of theirs came of it, whatever it is."""
    for proposal in by_words(_without_joint)(survey, finding):
        yield proposal._replace(alone=False)


def _own_line(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A line that shines steadily and ends where the lead of the light does; else one of its own, as long as the flashing one."""
    if (finding.case or "").partition(":")[0] != "lamp":
        yield from by_words(_without_joint)(survey, finding)
        return
    part = next((part for part in survey.parts.all if part.entry == finding.subject.name), None)
    if part is None or finding.remedy is None:
        return
    driver = survey.wiring.drivers[part.circuit]
    if driver.supply is None:
        return
    path, build = (*part.path[:2], "circuit"), survey.build
    for name, circuit in build.circuit.items():
        if circuit.behaviour == "steady" and survey.wiring.drivers[name].supply == driver.supply:
            yield Proposal(f"Connect it to {quoted(name)}, which is steady.", (set_to(path, name),))
    own = f"{finding.subject.name} feed"
    runs = [run for run in build.run if run.line == driver.circuit and not run.spare and not run.body]
    if own in build.circuit or not runs or driver.own_return:
        return
    steady = Circuit(supply=driver.supply, switched=build.circuit[driver.circuit].switched)
    yield Proposal(
        finding.remedy,
        (
            Change(("circuit", own), steady, in_toml(table_of(steady))),
            set_to(path, own),
            *(more(run.model_copy(update={"line": own, "name": None})) for run in runs),
        ),
        alone=True,
    )


def _swapped(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The negative on the metal, and its wire for what was there."""
    runs = survey.parts.runs
    metal = next((run for run in runs if run.path == finding.path[:2]), None)
    if metal is None:
        return
    negatives = {driver.return_net for driver in survey.wiring.drivers.values()}
    beside = [
        run
        for run in runs
        if set(run.ends) == set(metal.ends) and run.line in negatives and not run.said.body
    ]
    if len(beside) != 1 or not metal.line:
        return
    (wire,) = beside
    yield (
        set_to((*metal.path, "line"), wire.line),
        set_to((*wire.path, "line"), metal.line),
    )


def _second_run(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """Another conductor beside the only one of a line."""
    run = survey.build.run[int(finding.path[1])]
    yield (more(run.model_copy(update={"name": f"{finding.subject.name} 2"})),)


APART: dict[str, Proposer] = {"supply.conflict": _parted, "supply.backfeed": _parted}
"""What sets the volts of all that is joined, and so comes before any current."""

OPPOSITES: dict[str, Proposer] = {
    "circuit.joined-outputs": by_words(_without_joint),
    "circuit.steady-on-flasher": _own_line,
    "metal.live": by_words(_swapped),
    "line.broken-pole": by_words(_second_run),
}
