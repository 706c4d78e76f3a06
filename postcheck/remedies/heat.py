"""What to do about places that get too hot."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.remedies.resistor import dimmed, larger_body, moved_out
from postcheck.report import Figure, Finding, Subject
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
    for words, larger in larger_body(lamp):
        yield Proposal(
            f"Use one of {words} there, or hold it off the wall: as it is it may dissipate {may}.", (larger,)
        )


def _cooler(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The wall beside a resistor by itself; else the resistors out to the joints of their leads, or air through the place."""
    name = finding.subject.name
    yield from _beside(survey, finding)
    moved = moved_out(survey, name)
    if moved is not None:
        yield moved
    yield from _switching(finding)
    yield from _less_heat(survey, finding, name)
    yield from _dimmed(survey, finding)
    yield from _cooler_room(survey, finding)
    yield from aired(name)


# What small switching converters make of what they take: makers' sheets give 80 to 95 % (from memory).
_SWITCHING = 0.85


def _switching(finding: Finding) -> Iterator[Proposal]:
    """A switching converter in place of a linear regulator."""
    if isinstance(part := finding.parts.get("linear"), Subject):
        path, share = ("supply", part.name), f"{_SWITCHING:.0%}".replace("%", " %")
        yield Proposal(
            f"Use a switching converter in place of {quoted(part.name)}, of {share} or better.",
            (
                Change((*path, "linear"), False, "false"),
                Change((*path, "efficiency"), _SWITCHING, f'"{share}"'),
            ),
        )


def _dimmed(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Less current for the lamp that dissipates most of what flashes, where that alone brings a place down to what is allowed."""
    place, allowed = survey.places.get(finding.subject.name), finding.figures.get("allowed")
    part = finding.parts.get("largest")
    if place is None or allowed is None or not isinstance(part, Subject) or "circuits" not in finding.parts:
        return
    lamp = survey.electrics.lamps.get(part.name)
    own = sum(
        watts for called, watts in place.steady_parts if called in (part.name, f"the resistor of {part.name}")
    )
    if lamp is None or own <= 0.0:
        return
    left = own - (finding.figures["heat"].value - allowed.value)
    # its heat goes with its current
    if left / own * lamp.nominal < survey.limits.value("lamp.dim") * lamp.rated:
        return
    for proposal in dimmed(survey, lamp, lamp.nominal * left / own):
        yield proposal._replace(says=f"{proposal.says} Until then a steady test lasts minutes only.")


def _cooler_room(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The words of the check, with a room that is cool enough."""
    if finding.remedy is not None and "room" in finding.figures:
        coolest, room = survey.build.build.air[0], finding.figures["room"].value
        change = Change(("build", "air"), (coolest, room), f'"{coolest:g}..{room:g} degC"')
        yield Proposal(finding.remedy, (change,), alone=True)


def aired(place: str) -> Iterator[Proposal]:
    """Holes high and low, so that the air of a place changes with the room's."""
    yield Proposal(
        f"Give {quoted(place)} holes high and low, and write vented = true.",
        (Change(("place", place, "vented"), True, "true"),),
    )


# Of what the walls allow: lamps in that air may need less.
_SHARES = (1.0, 0.8, 0.6)


def _less_heat(survey: Survey, finding: Finding, name: str) -> Iterator[Proposal]:
    """Less of what else dissipates in a place, where that alone brings it down to what is allowed."""
    said, place, allowed = survey.build.place[name], survey.places.get(name), finding.figures.get("allowed")
    if place is None or allowed is None or not said.heat or finding.remedy is None:
        return
    most = format_quantity(allowed.value, Dimension.POWER)
    for share in _SHARES:
        may = format_quantity(share * allowed.value, Dimension.POWER)
        left = float(f"{said.heat - (place.heat - share * allowed.value):.2g}")
        if left > 0.0 and most in finding.remedy:
            shown = format_quantity(left, Dimension.POWER)
            yield Proposal(
                finding.remedy.replace(most, may, 1),
                (Change(("place", name, "heat"), left, f'"{shown}"'),),
                alone=True,
                figures={} if share == 1.0 else {"may": Figure(share * allowed.value, "W")},
            )


def _battery(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    place = survey.build.supply[finding.subject.name].place
    yield from _less_heat(survey, finding, place)
    yield from aired(place)


HEAT: dict[str, Proposer] = {"place.too-hot": _cooler, "battery.hot": _battery}
