"""A constant-current output: what one of its strings withstands alone, and all its lamps in one string."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.limits import below
from postcheck.physics import preferred
from postcheck.plain import quoted
from postcheck.remedies.output_spec import changed_output
from postcheck.remedies.proposal import Proposal, Proposer, quantity, set_to
from postcheck.remedies.resistor_spec import changed_resistor, joint_of, new_spec, resistor_called
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.network.resistor_choice import BALLAST, ballast_volts
from postcheck.wiring.parts import LampPart


def less_current(survey: Survey, circuit: str, rated: float) -> Iterator[Proposal]:
    """A constant-current output set to what one string alone withstands."""
    driver = survey.wiring.drivers[circuit]
    output = survey.build.circuit[circuit].output
    current = float(f"{survey.limits.value('lamp.usual') * rated:.2g}")
    shown = format_quantity(current, Dimension.CURRENT)
    strings = sum(part.parallel for part in survey.parts.lamps if part.circuit == circuit)
    whose, alone = ("any string", " alone") if strings > 1 else ("its string", "")
    for steady, words in ((rated, format_quantity(rated, Dimension.CURRENT)), (current, shown)):
        if driver.steady is None or not below(steady, driver.steady):
            continue
        says = f"Set the output of {quoted(circuit)} to {words}: {whose} withstands that{alone}."
        figures = {"steady": Figure(steady, "A")}
        if output is not None:
            yield Proposal(says, (changed_output(circuit, output, steady=steady),), figures=figures)
        elif driver.board is not None:
            change = quantity(("board", driver.board, "steady"), steady, Dimension.CURRENT)
            yield Proposal(says, (change,), figures=figures)


def _one_string(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """All lamps of an output in one string, where the volts are there for it; else what one string withstands."""
    circuit = finding.subject.name
    parts = [part for part in survey.parts.lamps if part.circuit == circuit]
    rated, driver = finding.figures["rated"].value, survey.wiring.drivers[circuit]
    output = survey.build.circuit[circuit].output
    if len(parts) == 1 and output is not None and driver.steady is not None and not parts[0].said.links:
        (part,) = parts
        for less in less_current(survey, circuit, rated):
            count = part.said.series * part.parallel
            shown = str(less.changes[0].written).strip('"').partition(" constant")[0]
            yield Proposal(
                f"Put all of them in one string, on {shown}.",
                (
                    *less.changes,
                    set_to((*part.path[:2], "series"), count),
                    set_to((*part.path[:2], "parallel"), 1),
                ),
            )
    for less in less_current(survey, circuit, rated):
        yield less
        steady = less.figures["steady"].value
        for ballast in reversed(tuple(_ballasts(survey, parts, steady / (driver.steady or steady)))):
            says = f"{less.says} {ballast.says}"
            yield less._replace(says=says, changes=(*less.changes, *ballast.changes))


def _evened_out(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """All in one string; else a resistor in each."""
    parts = [part for part in survey.parts.lamps if part.circuit == finding.subject.name]
    if len(parts) == 1 and not parts[0].said.links:
        (part,) = parts
        count = part.said.series * part.parallel
        yield Proposal(
            "Put all of them in one string.",
            (set_to((*part.path[:2], "series"), count), set_to((*part.path[:2], "parallel"), 1)),
        )
    yield from _ballasts(survey, parts)


def _ballasts(survey: Survey, parts: list[LampPart], share: float = 1.0) -> Iterator[Proposal]:
    """A resistor in each of the strings of an output that loses several times what they differ by.

    `share`: the part of their usual current that they are to have.
    """
    strings, spread = sum(part.parallel for part in parts), survey.limits.value("lamp.parallel-spread")
    each: list[float] = []
    for part in parts:
        usual = share * survey.electrics.lamps[part.name].nominal
        if len(part.path) != 2 or part.shared_resistor or usual <= 0.0 or spread <= 0.0:
            return
        each.append(ballast_volts(part.dice, strings, spread) / usual)
    needed = max(each, default=None)
    for ohms in (BALLAST * needed, needed) if needed else ():
        value = preferred.at_least(ohms, survey.build.stock.series)
        spec = new_spec(value, None, None)
        yield Proposal(
            f"Give each string a resistor of {resistor_called(spec)}.",
            tuple(
                changed_resistor(part, spec.model_copy(update={"place": joint_of(part)})) for part in parts
            ),
        )


OUTPUTS: dict[str, Proposer] = {"lamp.sibling-open": _one_string, "output.uneven": _evened_out}
