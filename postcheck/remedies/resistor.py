"""Another resistor for a lamp that has one: the value that brings it to its current.

R = (V - sum of the dice's V(I)) / I - wire, with V from the present solution and V(I) as the dice warm themselves, then
the next values of the series that the builder keeps. First order where the path is shared, so several values are
proposed and each is proven.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from postcheck.description.models import ResistorSpec
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.limits import above, below
from postcheck.physics import preferred
from postcheck.plain import enumerated, quoted
from postcheck.remedies.constant_current import less_current
from postcheck.remedies.first_resistor import (
    before_filament,
    filament_specs,
    first_resistor,
    first_specs,
    usual_target,
)
from postcheck.remedies.proposal import Change, Proposal, Proposer, set_to
from postcheck.remedies.resistor_power import load_of, power_for, supplied
from postcheck.remedies.resistor_spec import (
    changed_resistor,
    instead,
    resistor_called,
    shares_lead,
    value_words,
    with_fixed,
    with_ohms,
)
from postcheck.remedies.subjects import lamp_figures
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.resistor_choice import (
    LEAST_HEADROOM,
    body_for,
    ohms_for,
    self_heat_volts,
    steps,
    usual_current,
    volts_at,
)
from postcheck.wiring.parts import LampPart, unlimited
from postcheck.wiring.resistors import spec_of, usual_resistor


def resistance_for(lamp: LampFigures, target: float) -> float | None:
    """The resistance (ohm) of its resistor that gives a lamp `target` A in one string, or None where none does."""
    resistor = lamp.part.resistor
    if (
        resistor is None
        or lamp.nominal <= 0.0
        or target <= 0.0
        or lamp.part.dice[0].filament_volts is not None
    ):
        return None
    strings = lamp.part.parallel if lamp.part.one_resistor else 1
    dice = lamp.part.dice
    takes = sum(volts_at(die, target) for die in dice)
    # the excess made the die hot and so lowered its voltage: it will be cooler
    cooler = self_heat_volts(dice, lamp.nominal, lamp.string_volts) - self_heat_volts(dice, target, takes)
    over = (
        lamp.joint_volts
        - lamp.string_volts
        + sum(volts_at(die, lamp.nominal) for die in dice)
        - takes
        + cooler
    )
    wire = max((lamp.joint_volts - lamp.string_volts) / lamp.nominal / strings - resistor.ohms, 0.0)
    value = over / (target * strings) - wire
    return value if value > 0.0 else None


def with_value(
    survey: Survey, part: LampPart, value: float, current: float | None = None
) -> ResistorSpec | None:
    """The lamp's resistor with another value, and with more power where `current` A a string needs that."""
    spec = spec_of(part)
    if spec is None:
        return None
    resistor = part.resistor
    new = with_ohms(spec, value)
    rated = resistor.each[0].power if resistor is not None else None
    if current is None or resistor is None or rated is None:
        return new
    watts = load_of(survey, part, current, new.ohms, resistor.tolerance)
    power = body_for(watts, survey.limits)
    too_hot = above(watts, survey.limits.value("resistor.power.caution") * rated)
    more: dict[str, object] = {"power": power[0], "size": None} if power is not None and too_hot else {}
    return new.model_copy(update=more)


def _other_value(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """What makes a lamp cooler, a smaller current of its output, its first resistor, or other values of the one that it has."""
    lamp = lamp_figures(survey, finding)
    if lamp is None:
        return
    part = lamp.part
    if part.dice[0].filament_volts is not None:
        yield from before_filament(survey, lamp)
        return
    if lamp.rated < lamp.rated_outside and lamp.nominal <= lamp.rated_outside:
        # without the heat of others it is within its rating: move that heat elsewhere, and its light stays
        moved = moved_out(survey, part.place)
        if moved is not None:
            yield moved
    if survey.wiring.drivers[part.circuit].steady is not None:
        yield from less_current(survey, part.circuit, lamp.rated)
    if part.resistor is None and lamp.inside_heat > 0.0:
        yield from first_resistor(survey, finding)
    before = spec_of(part)
    if before is None or before.whole == 0.0 or lamp.highest <= 0.0:
        return
    rated = finding.figures["rated"].value if "rated" in finding.figures else lamp.rated
    for value, current in _values(survey, lamp, rated).items():
        spec = with_value(survey, part, value, current)
        if spec is not None and abs(value / before.whole - 1.0) >= 1e-9:
            yield Proposal(f"Use {instead(survey.build, spec, before)}.", (changed_resistor(part, spec),))


def _values(survey: Survey, lamp: LampFigures, rated: float) -> dict[float, float]:
    """Values (ohm) for a lamp, each with its current (A): the nearest to what is wanted, or those that keep it within a rating (A)."""
    series, limits, wanted = survey.build.stock.series, survey.limits, lamp.part.wanted
    # a lamp that burns out has no current to go by: values from its data are tried too, but not for pulses, which allow more
    burns_out = rated <= lamp.rated and destroyed(lamp.part.dice, lamp.nominal, limits)
    by_data = dict(_by_data(survey, lamp.part)) if burns_out else {}
    if wanted and (value := resistance_for(lamp, wanted)) is not None:
        near = preferred.nearest(value, series)
        return {near: wanted * value / near} | by_data
    fraction = min(
        limits.value("lamp.current.nominal"),
        lamp.nominal * limits.value("lamp.current.caution") / lamp.highest,
        lamp.nominal * limits.value("lamp.current.stop") / lamp.likely_highest,
    )
    values: dict[float, float] = {}
    for most, count in _ratings(lamp, rated):
        target = fraction * most
        if (value := resistance_for(lamp, target)) is not None:
            values |= {ohms: target * value / ohms for ohms in steps(value, series, count)}
    return values | by_data if values or wanted else dict(_by_data(survey, lamp.part))


def less_light(survey: Survey, lamp: LampFigures, current: float) -> Iterator[tuple[Change, str]]:
    """Resistors that give a lamp a current (A) or less, each with its words."""
    value, before = resistance_for(lamp, current), spec_of(lamp.part)
    for ohms in steps(value, survey.build.stock.series, 2) if value is not None else ():
        spec = with_value(survey, lamp.part, ohms, current)
        if spec is not None and before is not None and ohms > before.whole:
            yield changed_resistor(lamp.part, spec), instead(survey.build, spec, before)


def moved_out(survey: Survey, place: str) -> Proposal | None:
    """The resistors of a place out to where their leads end, or to their lamps outside; None where there are none."""
    moved: dict[str, list[Change]] = {}
    names: list[str] = []
    strings = 0
    for part in survey.parts.lamps:
        spec, outside = spec_of(part), part.out_of(place)
        if spec is None or outside is None:
            continue
        there = survey.places.get(outside)
        if there is not None and there.hottest is not None and above(there.hottest, there.stands):
            continue
        moved.setdefault(outside, []).append(changed_resistor(part, spec, place=outside))
        names.append(part.name)
        strings += part.parallel
    if not moved:
        return None
    whose = f"the resistors in {quoted(place)}" if strings > 1 else f"the resistor of {quoted(names[0])}"
    where = " and ".join(map(quoted, moved))
    return Proposal(f"Move {whose} out to {where}.", tuple(one for of in moved.values() for one in of))


def _by_data(survey: Survey, part: LampPart) -> Iterator[tuple[float, float]]:
    """Values (ohm) for a lamp by the volts of its supply and its data alone, each with its current (A)."""
    target = part.wanted or usual_current(part.dice, survey.build.build.air[1], survey.limits)
    over = supplied(survey, part)[0] - sum(volts_at(die, target) for die in part.dice)
    strings = part.parallel if part.one_resistor else 1
    if over > 0.0:
        ohms, series = over / (target * strings), survey.build.stock.series
        for value in [preferred.nearest(ohms, series)] if part.wanted else steps(ohms, series, 3):
            yield value, over / value / strings


def _ratings(lamp: LampFigures, rated: float) -> Iterator[tuple[float, int]]:
    """Ratings (A) that a lamp may have once its current is mended, and how many values to try for each.

    Where the heat of its place has lowered its rating, that comes back as far as the heat was its own.
    """
    cool = lamp.rated_outside
    if lamp.rated >= cool or rated not in (lamp.rated, cool):
        yield rated, 3
        return
    yield cool, 1
    yield (cool + lamp.rated) / 2.0, 2
    yield lamp.rated, 1


def _more_light(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a lamp that stays dark or dim: less resistance, or fewer in series and more strings; for a bare one its first."""
    lamp = lamp_figures(survey, finding)
    if lamp is None:
        return
    if lamp.part.resistor is None:
        if unlimited(lamp.part, survey.wiring.drivers[lamp.part.circuit]):
            yield from first_resistor(survey, finding)
        return
    part, series = lamp.part, survey.build.stock.series
    spec = spec_of(part)
    if made := sum(die.filament_volts or 0.0 for die in part.dice):
        over = lamp.joint_volts - made
        for less in filament_specs(survey, part, over) if over > 0.0 else ():
            if spec is not None and less.whole < spec.whole:
                yield Proposal(f"Use {instead(survey.build, less, spec)}.", (changed_resistor(part, less),))
        yield from _split(survey, lamp, part.dice[0].rated)
        return
    target = survey.limits.value("lamp.usual") * lamp.rated
    value = resistance_for(lamp, target)
    if value is not None and spec is not None:
        for ohms in steps(value, series, 2):
            new = with_value(survey, part, ohms, target * value / ohms)
            if new is not None and ohms < spec.whole:
                yield Proposal(
                    f"Use {instead(survey.build, new, spec)}.",
                    (changed_resistor(part, new),),
                    figures={"old": Figure(spec.whole, "ohm")},
                )
    yield from _split(survey, lamp, target)


def _split(survey: Survey, lamp: LampFigures, target: float) -> Iterator[Proposal]:
    """Fewer in series and more strings of them, each with `target` A."""
    for count in range(lamp.part.said.series - 1, 0, -1):
        yield from in_strings(survey, lamp, count, target)


def in_strings(
    survey: Survey, lamp: LampFigures, count: int, target: float, of: str = ""
) -> Iterator[Proposal]:
    """As many lamps as there are, `count` in series, with the resistor for `target` A in each string; none where no volts are left.

    `of`: whose they are, in words, where the finding does not say it.
    """
    part, series = lamp.part, survey.build.stock.series
    spec, said = spec_of(part), part.said
    strings, rest = divmod(said.series * said.parallel, count)
    if rest or len(part.path) > 2 or spec is None or said.links or part.one_resistor:
        return
    one = part.dice[: len(part.dice) // said.series]
    over = lamp.joint_volts - count * sum(die.filament_volts or volts_at(die, target) for die in one)
    if below(over, LEAST_HEADROOM * lamp.joint_volts):
        return
    ohms = preferred.at_least(over / target, series)
    new = with_value(survey, replace(part, dice=count * one), ohms, over / ohms)
    if new is not None:
        together = (
            f"Put them in {strings} strings of one"
            if count == 1
            else f"Put {count}{of} in series, in {strings} strings"
            if strings > 1
            else f"Put all {count}{of} in series"
        )
        yield Proposal(
            f"{together}, {'each ' if strings > 1 else ''}with {value_words(survey.build, new, spec)}.",
            (
                changed_resistor(part, new),
                set_to(("lamp", part.path[1], "series"), count),
                set_to(("lamp", part.path[1], "parallel"), strings),
            ),
        )


def _before_trimmer(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The fixed resistor with which a lamp is within its rating however its trimmer is turned; one that is set gets less."""
    lamp = lamp_figures(survey, finding)
    spec = spec_of(lamp.part) if lamp is not None else None
    if lamp is None or spec is None or lamp.part.shared_resistor:
        return
    part, volts = lamp.part, supplied(survey, lamp.part)[0]
    made = sum(die.filament_volts or 0.0 for die in part.dice)
    target = part.dice[0].rated if made else survey.limits.value("lamp.usual") * lamp.rated
    over = (volts - made) / target if volts > made else None
    ohms = over if made else ohms_for(part.dice, volts, target)
    if ohms is None:
        return
    before = spec.whole
    for value in steps(ohms, survey.build.stock.series, 4):
        watts = load_of(
            survey, part, target * ohms / value, value, usual_resistor(survey.build.usual.resistor)[1]
        )
        new = with_fixed(spec, value, power_for(survey, watts), before)
        yield Proposal(f"Make it {resistor_called(new)}.", (changed_resistor(part, new),))


def at_other_volts(survey: Survey, supply: str, more: float) -> tuple[str, tuple[Change, ...]]:
    """Larger resistors for all lamps of a supply that gives so many more volts, a first one for a bare lamp: in words, and the changes.

    None where a lamp shares its resistor, or no value serves it.
    """
    changes: list[Change] = []
    names: dict[str, list[str]] = {}
    for lamp in survey.electrics.lamps.values():
        part, spec = lamp.part, spec_of(lamp.part)
        if survey.wiring.drivers[part.circuit].supply != supply:
            continue
        if part.shared_resistor or lamp.nominal <= 0.0:
            return "", ()
        if survey.wiring.drivers[part.circuit].steady is not None:
            continue  # its output holds the current
        volts = supplied(survey, part)[0] + more
        if made := sum(die.filament_volts or 0.0 for die in part.dice):
            if volts <= made:
                continue  # the bulb is made for these volts
            new = next(filament_specs(survey, part, volts - made), None)
        elif spec is None:
            new = next(first_specs(survey, part, volts), None)
        else:
            current, target = lamp.nominal, usual_target(survey, part)
            ohms: float | None = spec.whole + more / current
            if current < survey.limits.value("lamp.dim.far") * target:
                # a dark lamp has no current worth keeping
                current, ohms = target, ohms_for(part.dice, volts, target)
            value = None if ohms is None else preferred.at_least(ohms, survey.build.stock.series)
            new = None if value is None else with_value(survey, part, value, current)
        if new is None:
            return "", ()
        changes.append(changed_resistor(part, new))
        called = resistor_called(new) if spec is None else value_words(survey.build, new, spec)
        names.setdefault(called, []).append(quoted(part.name))
    words = "; ".join(f"{value} for {enumerated(of)}" for value, of in names.items())
    return words, tuple(changes)


def _own_resistors(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """One resistor a string: as many times the shared one, or what its rating asks for where that is more.

    At the joint, where the middle of a line has room for one alone.
    """
    lamp = lamp_figures(survey, finding)
    before = spec_of(lamp.part) if lamp is not None else None
    if lamp is None or lamp.part.resistor is None or before is None:
        return
    part, shared, own_one = lamp.part, lamp.part.resistor.ohms, replace(lamp.part, one_resistor=False)
    here = (part.place, *part.places, part.supply_leg.to, part.return_leg.to)
    moved = None if lamp.part.resistor.place in here else part.supply_leg.to
    beside = shares_lead(part)  # the lead then begins after the resistors
    values: dict[float, float | None] = dict.fromkeys(
        steps(shared * part.parallel, survey.build.stock.series)
    )
    if (
        above(lamp.nominal, lamp.rated) and part.dice[0].filament_volts is None
    ):  # as much in each string would be too much
        values = dict(_by_data(survey, own_one)) or values
    for value, current in values.items():
        spec = with_value(survey, own_one, value, current)
        if spec is not None:
            apart = set_to(("lamp", lamp.part.path[1], "one_resistor"), False)
            own, where = value_words(survey.build, spec, before), ""
            if beside:
                spec, where = spec.model_copy(update={"place": None}), " beside it"
            elif moved is not None:
                spec, where = spec.model_copy(update={"place": moved}), f" at {quoted(moved)}"
            yield Proposal(
                f"Give each string its own {own}{where}.",
                (changed_resistor(lamp.part, spec), apart),
            )


def _turned(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    lamp = lamp_figures(survey, finding)
    if lamp is None:
        return
    part, turned = lamp.part, set_to(("lamp", lamp.part.path[1], "backwards"), False)
    yield Proposal("Swap its two wires.", (turned,))
    # turned round, its resistor has to stand the current
    spec = spec_of(part)
    takes = sum(volts_at(die, die.rated) for die in part.dice)
    if part.resistor is None or spec is None:
        return
    current = (lamp.joint_volts - takes) / part.resistor.ohms
    stronger = with_value(survey, part, part.resistor.ohms, current) if current > 0.0 else None
    if stronger is not None and stronger != spec:
        says = f"Swap its two wires, and use {value_words(survey.build, stronger, spec)} instead of its resistor."
        yield Proposal(says, (turned, changed_resistor(part, stronger)))


def _swapped(spec: ResistorSpec, value: float, near: float) -> ResistorSpec:
    """With another value in place of one."""
    plus = tuple(
        one.model_copy(update={"ohms": near}) if one.ohms == value and not one.trimmer else one
        for one in spec.plus
    )
    own = {"ohms": near} if spec.ohms == value and not spec.trimmer else {}
    return spec.model_copy(update={"plus": plus, **own})


def _sold(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The nearest value that is sold, for one lamp."""
    value = finding.figures["ohms"].value
    parts = [
        part
        for part in survey.parts.lamps
        if part.resistor is not None and any(piece.ohms == value for piece in part.resistor.each)
    ]
    near = preferred.nearest(value, "E24")
    specs = [_swapped(spec, value, near) for part in parts if (spec := spec_of(part)) is not None]
    words = {value_words(survey.build, spec, spec) for spec in specs if not spec.plus}
    changes = tuple(
        changed_resistor(part, spec) for part, spec in zip(parts, specs, strict=True) if spec is not None
    )
    if changes:
        shown = words.pop() if len(words) == 1 else format_quantity(near, Dimension.RESISTANCE)
        yield Proposal(f"Use {shown}, the nearest in E24.", changes)


CURRENTS: dict[str, Proposer] = {
    "lamp.backwards": _turned,
    "lamp.shared-resistor": _own_resistors,
    "lamp.over-rating": _other_value,
    "trimmer.turned-down": _before_trimmer,
    "lamp.strobe": _other_value,
    "lamp.not-as-wanted": _other_value,
    "lamp.dim": _more_light,
}
RATINGS: dict[str, Proposer] = {"resistor.not-in-series": _sold}
