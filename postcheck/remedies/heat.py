"""What to do about a wall beside a warm resistor, and about a place that has too much heat in it."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.remedies.resistor import larger_body, less_light, moved_out
from postcheck.report import Finding, Subject
from postcheck.survey import Survey
from postcheck.wiring.parts import LoadPart

# What a small switching converter makes of its input at least: makers' sheets (from memory).
SWITCHING = 0.85
# A lamp with less of its current than this is another lamp.
LEAST_LIGHT = 0.4


def _beside(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A larger body for the resistor that is too hot for its wall: at the same heat it gets less warm."""
    place = survey.places.get(finding.subject.name)
    if place is None or "spot" not in finding.figures:
        return
    lamp = survey.electrics.lamps.get(place.local_part)
    if lamp is None:
        return
    may = format_quantity(finding.figures["spot"].value, Dimension.POWER)
    for words, larger in larger_body(lamp):
        yield Proposal(
            f"Use one of {words} there, or hold it off the wall: as it is it may dissipate {may}.", (larger,)
        )


def _cooler(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The wall beside a resistor by itself; else what gives off most made or put otherwise, resistors out to their joints, less light."""
    name = finding.subject.name
    yield from _beside(survey, finding)
    moved = moved_out(survey, name)
    if moved is not None:
        yield moved
    yield from _switching(survey, finding)
    yield from _outside(survey, finding)
    yield from _less_heat(survey, finding, name)
    yield from _dimmer(survey, finding, name)


def _switching(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A switching converter for a linear regulator, which turns all that it drops into heat."""
    largest = finding.parts.get("largest")
    if (
        not isinstance(largest, Subject)
        or largest.kind != "supply"
        or not survey.build.supply[largest.name].linear
    ):
        return
    path, shown = ("supply", largest.name), format_quantity(SWITCHING, Dimension.SHARE)
    yield Proposal(
        f"Use a switching converter for {quoted(largest.name)}, of {shown} or more, instead of a linear one.",
        (Change((*path, "linear"), False, "false"), Change((*path, "efficiency"), SWITCHING, f'"{shown}"')),
    )


def _outside(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Electronics to where their circuit begins, if that is open. A motor has to be where it turns something."""
    begin = finding.parts.get("begin")
    part = survey.parts.named.get(begin.name) if isinstance(begin, Subject) else None
    if not isinstance(part, LoadPart) or part.lead is not None or part.motor:
        return
    home = survey.wiring.drivers[part.circuit].place
    if home is not None and home != part.place and survey.build.place[home].access == "open":
        yield Proposal(
            f"Put {quoted(part.name)} in {quoted(home)}, which is open.",
            (Change((*part.path[:2], "place"), home, f'"{home}"'),),
        )


def _dimmer(survey: Survey, finding: Finding, name: str) -> Iterator[Proposal]:
    """The lamp that gives off most in a place at so much less that the place is cool enough."""
    place, allowed, largest = (
        survey.places[name],
        finding.figures.get("allowed"),
        finding.parts.get("largest"),
    )
    lamp = survey.electrics.lamps.get(largest.name) if isinstance(largest, Subject) else None
    if lamp is None or allowed is None:
        return
    rows = place.steady_parts if (finding.case or "").startswith("stuck") else place.parts
    whole = sum(watts for _, watts in rows)
    own = sum(watts for part, watts in rows if part in (lamp.name, f"the resistor of {lamp.name}"))
    fraction = 1.0 - (whole - allowed.value) / own if own > 0.0 else 0.0
    if fraction < LEAST_LIGHT:
        return
    for dimmer, words in less_light(survey, lamp, fraction * lamp.nominal):
        yield Proposal(
            f"Use {words} for {quoted(lamp.name)}, which costs some light.",
            (dimmer,),
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


HEAT: dict[str, Proposer] = {"place.too-hot": _cooler, "battery.hot": _battery}
