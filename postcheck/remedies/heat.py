"""What to do about a warm place, and the wall beside a warm resistor."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.remedies.resistor import larger_body, moved_out
from postcheck.report import Finding
from postcheck.survey import Survey


def _beside(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A larger body for the resistor that is too hot for its wall: at the same heat it gets less warm; else hold it off."""
    lamp, may = survey.electrics.lamps.get(finding.subject.name), finding.figures.get("may")
    if lamp is not None and may is not None:
        shown = format_quantity(may.value, Dimension.POWER)
        for words, larger in larger_body(lamp):
            yield Proposal(
                f"Use one of {words} there, or hold it off the wall: as it is it may dissipate {shown}.",
                (larger,),
            )
    held = Change((*finding.path[:2], "held_off"), True, "true")
    if finding.remedy is not None:
        yield Proposal(finding.remedy, (held,), alone=True)


def _cooler(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The resistors out to the joints of their leads, or air through the place."""
    name = finding.subject.name
    moved = moved_out(survey, name)
    if moved is not None:
        yield moved
    yield from _less_heat(survey, finding, name)
    yield from aired(name)


def aired(place: str) -> Iterator[Proposal]:
    """Holes high and low, so that the air of a place changes with the room's."""
    yield Proposal(
        f"Give {quoted(place)} holes high and low, and write vented = true.",
        (Change(("place", place, "vented"), True, "true"),),
    )


def _less_heat(survey: Survey, finding: Finding, name: str) -> Iterator[Proposal]:
    """Less of what else dissipates in a place, where that alone brings it down to what is allowed."""
    said, place, allowed = survey.build.place[name], survey.places.get(name), finding.figures.get("allowed")
    if place is None or allowed is None or not said.heat or finding.remedy is None:
        return
    left = float(f"{said.heat - (place.heat - allowed.value):.2g}")
    if left > 0.0:
        shown = format_quantity(left, Dimension.POWER)
        yield Proposal(finding.remedy, (Change(("place", name, "heat"), left, f'"{shown}"'),), alone=True)


def _battery(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    place = survey.build.supply[finding.subject.name].place
    yield from _less_heat(survey, finding, place)
    yield from aired(place)


HEAT: dict[str, Proposer] = {"place.too-hot": _cooler, "part.hot-spot": _beside, "battery.hot": _battery}
