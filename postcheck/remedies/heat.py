"""What to do about a place that has too much heat in it, and a wall beside a warm resistor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.limits import above, below
from postcheck.plain import enumerated, quoted
from postcheck.remedies.proposal import (
    NAMED,
    Change,
    Proposal,
    Proposer,
    in_words_of,
    of_another,
    quantity,
    set_to,
)
from postcheck.remedies.resistor import in_strings, less_light, moved_out
from postcheck.remedies.resistor_power import larger_body
from postcheck.remedies.shared import rounded_down
from postcheck.report import Figure, Finding, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.figures import PlaceFigures
from postcheck.wiring.parts import LoadPart

# The least efficiency of a small switching converter: makers' sheets (from memory).
SWITCHING = 0.85
# A remedy leaves a lamp at least this share of its current.
LEAST_LIGHT = 0.4
# With this much of its current and more a lamp is as bright to the eye (judgement).
SAME_LIGHT = 0.9
# How the cases of a place begin that is too hot only with something on, or at its most, for good.
_FOR_GOOD = ("stuck", "white", "at most")


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
    yield from in_words_of(finding, set_to((*finding.path[:2], "held_off"), True))


def _cooler(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """What dissipates most made or put otherwise, resistors out to the joints of their leads, less light."""
    name = finding.subject.name
    moved = moved_out(survey, name)
    if moved is not None:
        yield moved
    yield from _switching(survey, finding)
    yield from _outside(survey, finding)
    yield from _fewer_pixels(survey, finding)
    yield from _less_heat(survey, finding, name)
    yield from _dimmer(survey, finding, name)
    yield from _longer(survey, finding, name)
    yield from _cooler_room(survey, finding)


def _cooler_room(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The words of the check, with a room that is cool enough."""
    if "room" in finding.figures:
        coolest, room = survey.build.build.air[0], finding.figures["room"].value
        change = Change(("build", "air"), (coolest, room), f'"{coolest:g}..{room:g} degC"')
        yield from in_words_of(finding, change)


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
        (set_to((*path, "linear"), False), quantity((*path, "efficiency"), SWITCHING, Dimension.SHARE)),
    )


def _outside(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Electronics to where their circuit begins, if that is open. A motor has to be where it turns something, a light where it shines."""
    begin = finding.parts.get("begin")
    part = survey.parts.named.get(begin.name) if isinstance(begin, Subject) else None
    if not isinstance(part, LoadPart) or part.lead is not None or part.motor or part.pixels:
        return
    home = survey.wiring.drivers[part.circuit].place
    if home is not None and home != part.place and survey.build.place[home].access == "open":
        yield Proposal(
            f"Put {quoted(part.name)} in {quoted(home)}, which is open.",
            (set_to((*part.path[:2], "place"), home),),
        )


def _fewer_pixels(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Pixels that take no more than the place stands: fewer of them, or, where their most is not given, what their controller holds them to."""
    largest, allowed = finding.parts.get("largest"), finding.figures.get("allowed")
    part = survey.parts.named.get(largest.name) if isinstance(largest, Subject) else None
    if not isinstance(part, LoadPart) or not part.pixels or allowed is None:
        return
    place, hangs = survey.places[finding.subject.name], _for_good(finding)
    most = _may_take(part.name, part.most if hangs else part.typical, _rows(finding, place), allowed)
    if most is None:
        return
    bounds = {"typical": most, "most": most} if part.most_given else {"typical": most}
    figures, usually = {"most": Figure(most, "A")}, ""
    if hangs and (near := finding.figures.get("usual_allowed")) is not None:
        usual = _may_take(part.name, part.typical, place.parts, near)
        if usual is None:
            return
        if below(usual, min(most, part.typical)):
            bounds["typical"], figures["usual"] = usual, Figure(usual, "A")
            usually = f", and {format_quantity(usual, Dimension.CURRENT)} usually"
    # what hangs dims no more
    dimmed = (
        "" if hangs or ("most" in bounds and above(part.most, most)) else ", or dim them by their controller"
    )
    yield Proposal(
        f"Fit fewer pixels in {quoted(part.name)}{dimmed}: no more than "
        f"{format_quantity(most, Dimension.CURRENT)} in all{usually}.",
        tuple(
            of_another(quantity((*part.path[:2], key), bound, Dimension.CURRENT))
            for key, bound in bounds.items()
            if above(getattr(part, key), bound)
        ),
        figures=figures,
    )


def _may_take(name: str, takes: float, rows: tuple[tuple[str, float], ...], allowed: Figure) -> float | None:
    """What a load that `takes` so much may take, A, to leave all the heat of a place at no more than allowed; None for nothing."""
    watts = dict(rows)
    own = watts.get(name, 0.0)
    left = allowed.value - (sum(watts.values()) - own)
    return rounded_down(takes * min(left / own, 1.0)) if own > 0.0 and left > 0.0 else None


def _dimmer(survey: Survey, finding: Finding, name: str) -> Iterator[Proposal]:
    """Less light from the lamp that dissipates most in a place, or else from all there, until it is cool enough."""
    place, allowed, largest = (
        survey.places[name],
        finding.figures.get("allowed"),
        finding.parts.get("largest"),
    )
    if allowed is None:
        return
    own, over = _of_lamps(survey, finding, place)
    over -= allowed.value
    worst = [largest.name] if isinstance(largest, Subject) and largest.name in own else []
    for names in (worst, list(own)) if len(own) > 1 else (worst,):
        whole = sum(own[one] for one in names)
        if whole > 0.0 and not below(1.0 - over / whole, LEAST_LIGHT):
            yield from _dimmed(survey, names, 1.0 - over / whole, allowed)


def _rows(finding: Finding, place: PlaceFigures) -> tuple[tuple[str, float], ...]:
    """The heat of a place by part that a finding on it is about: over time, or with all on or at its most for good."""
    return place.steady_parts if _for_good(finding) else place.parts


def _for_good(finding: Finding) -> bool:
    return (finding.case or "").startswith(_FOR_GOOD)


def _of_lamps(survey: Survey, finding: Finding, place: PlaceFigures) -> tuple[dict[str, float], float]:
    """What each lamp dissipates in a place with its resistor, W, and what all does there."""
    rows = _rows(finding, place)
    own: dict[str, float] = {}
    for called, watts in rows:
        lamp = called.removeprefix("the resistor of ")
        if lamp in survey.electrics.lamps:
            own[lamp] = own.get(lamp, 0.0) + watts
    return own, sum(watts for _, watts in rows)


def _longer(survey: Survey, finding: Finding, name: str) -> Iterator[Proposal]:
    """The LEDs that dissipate most in a place in fewer and longer strings: the same light of fewer volts lost."""
    allowed = finding.figures.get("allowed")
    if allowed is None:
        return
    own, heat = _of_lamps(survey, finding, survey.places[name])
    worst = max(own, key=lambda one: own[one], default=None)
    if worst is None:
        return
    lamp = survey.electrics.lamps[worst]
    said, left = lamp.part.said, allowed.value - (heat - own[worst])
    steady = survey.wiring.drivers[lamp.part.circuit].steady
    if lamp.nominal <= 0.0 or lamp.part.dice[0].filament_volts is not None or steady is not None:
        return
    # the volts of a string whose power stays in the place
    volts = own[worst] / (lamp.nominal * said.parallel)
    for count in range(said.series * said.parallel, said.series, -1):
        strings = said.series * said.parallel / count
        target = min(left / (volts * strings), lamp.nominal)
        if not below(target, LEAST_LIGHT * lamp.nominal):
            costs = ", which costs some light." if below(target, SAME_LIGHT * lamp.nominal) else "."
            for proposal in in_strings(survey, lamp, count, target, f" of {quoted(worst)}"):
                yield proposal._replace(says=proposal.says.removesuffix(".") + costs)


def _dimmed(survey: Survey, names: Sequence[str], fraction: float, allowed: Figure) -> Iterator[Proposal]:
    """Resistors that reduce lamps to a share of their current, all together; the next values where these are not enough."""
    lamps = [survey.electrics.lamps[name] for name in names]
    most = format_quantity(allowed.value, Dimension.POWER)
    fewer = f", or fit fewer lamps, of {most} in all at most" if len(names) > 1 else ""
    for choice in zip(*(less_light(survey, lamp, fraction * lamp.nominal) for lamp in lamps), strict=False):
        alike: dict[str, list[str]] = {}
        for lamp, (_, words) in zip(lamps, choice, strict=True):
            alike.setdefault(words, []).append(quoted(lamp.name))
        listed = "; ".join(
            f"{words} for {enumerated(of) if len(of) <= NAMED else f'each of {len(of)} lamps there'}"
            for words, of in alike.items()
        )
        counts = {f"lamps_{n}": Figure(len(of), "") for n, of in enumerate(alike.values()) if len(of) > NAMED}
        counts |= {"allowed": allowed} if fewer else {}
        yield Proposal(
            f"Use {listed}, which costs some light{fewer}.",
            tuple(change for change, _ in choice),
            figures=counts,
        )


# Share of what the walls allow: lamps in that air may need less.
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
            yield Proposal(
                finding.remedy.replace(most, may, 1),
                (quantity(("place", name, "heat"), left, Dimension.POWER),),
                alone=True,
                figures={} if share == 1.0 else {"may": Figure(share * allowed.value, "W")},
            )


def _battery(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    place = survey.build.supply[finding.subject.name].place
    yield from _less_heat(survey, finding, place)


HEAT: dict[str, Proposer] = {"place.too-hot": _cooler, "part.hot-spot": _beside, "battery.hot": _battery}
