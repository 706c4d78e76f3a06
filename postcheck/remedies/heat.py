"""What to do about a wall beside a warm resistor."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.remedies.proposal import Proposal, Proposer
from postcheck.remedies.resistor import larger_body
from postcheck.report import Finding
from postcheck.survey import Survey


def _beside(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A larger body for the resistor that is too hot for its wall: at the same heat it gets less warm."""
    place = survey.places.get(finding.subject.name)
    if place is None or "spot" not in finding.figures:
        return
    lamp = survey.electrics.lamps.get(place.local_part)
    if lamp is None:
        return
    may = format_quantity(finding.figures["spot"].value, Dimension.POWER)
    for words, change in larger_body(lamp):
        yield Proposal(
            f"Use one of {words} there, or hold it off the wall: as it is it may dissipate {may}.", (change,)
        )


HEAT: dict[str, Proposer] = {"place.too-hot": _beside}
