"""A constant-current output: what one of its strings withstands alone, and all its lamps in one string."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.remedies.output_spec import changed_output
from postcheck.remedies.proposal import Proposal, Proposer, quantity, set_to
from postcheck.report import Finding
from postcheck.survey import Survey


def less_current(survey: Survey, circuit: str, rated: float) -> Iterator[Proposal]:
    """A constant-current output set to what one string alone withstands."""
    driver = survey.wiring.drivers[circuit]
    output = survey.build.circuit[circuit].output
    current = float(f"{survey.limits.value('lamp.usual') * rated:.2g}")
    shown = format_quantity(current, Dimension.CURRENT)
    strings = sum(part.parallel for part in survey.parts.lamps if part.circuit == circuit)
    whose, alone = ("any string", " alone") if strings > 1 else ("its string", "")
    for steady, words in ((rated, format_quantity(rated, Dimension.CURRENT)), (current, shown)):
        if driver.steady is None or steady >= driver.steady:
            continue
        says = f"Set the output of {quoted(circuit)} to {words}: {whose} withstands that{alone}."
        if output is not None:
            yield Proposal(says, (changed_output(circuit, output, steady=steady),))
        elif driver.board is not None:
            yield Proposal(says, (quantity(("board", driver.board, "steady"), steady, Dimension.CURRENT),))


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
    yield from less_current(survey, circuit, rated)


OUTPUTS: dict[str, Proposer] = {"lamp.sibling-open": _one_string}
