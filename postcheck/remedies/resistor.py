"""Resistors worked out: the value that brings a lamp to its current, and the power that it has to stand.

R = (V - sum of the dice's V(I)) / I - wire, with V from the present solution and V(I) as the dice warm themselves, then
the next values of the series that the builder keeps. First order where the path is shared, so several values are
proposed and each is proven. The power is the least sold that stands the stacked worst, lit for good, and none is
asked for where the usual one will do.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from postcheck.description.called import POWER_WORDS, POWERS, ohms_words
from postcheck.description.models import ResistorSpec, SeriesResistor
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.physics import preferred
from postcheck.plain import quoted
from postcheck.remedies.output_spec import changed_output
from postcheck.remedies.proposal import Change, Proposal, Proposer, quantity, set_to
from postcheck.remedies.ratings import ADAPTORS
from postcheck.remedies.resistor_spec import called, change, new_spec, shown, with_fixed, with_ohms
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.resistor_choice import (
    LEAST_HEADROOM,
    USUAL_SHARE,
    body_for,
    ohms_for,
    self_heat_volts,
    steps,
    usual_current,
    volts_at,
)
from postcheck.survey.network.supplies import converter_volts, source_of
from postcheck.wiring.looked_up import spec_of, usual_resistor
from postcheck.wiring.parts import LampPart, ResistorPart, unlimited


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
    # much too much makes a die hot, and by that lowers its voltage: it will not be so hot any more
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


def _load(survey: Survey, part: LampPart, current: float, ohms: float, tolerance: float) -> float:
    """What a resistor before `current` A a string dissipates at its highest, W.

    The supply up, the dice at their least forward voltage, the resistor at its least; lit for good, as when a flasher sticks.
    """
    if part.shared_resistor:
        return (current * part.parallel) ** 2 * ohms
    usual, most = _supplied(survey, part)
    over = current * ohms + most - usual + sum(die.forward[1] - die.forward[0] for die in part.dice)
    return (over / (1.0 - tolerance)) ** 2 / ohms


def _supplied(survey: Survey, part: LampPart) -> tuple[float, float]:
    """What the supply of a lamp usually gives, and at most, V."""
    supply = survey.build.supply.get(survey.wiring.drivers[part.circuit].supply or "")
    if supply is None:
        return 0.0, 0.0
    usual, most = (
        converter_volts(supply, corner)[0] if supply.kind == "converter" else source_of(supply, corner)[0]
        for corner in (0, 1)
    )
    return usual, most


def _with(survey: Survey, part: LampPart, value: float, current: float | None = None) -> ResistorSpec | None:
    """The lamp's resistor with another value, and with more power where `current` A a string needs that."""
    spec = spec_of(part)
    if spec is None:
        return None
    resistor = part.resistor
    new = with_ohms(spec, value)
    rated = resistor.each[0].power if resistor is not None else None
    if current is None or resistor is None or rated is None:
        return new
    watts = _load(survey, part, current, new.ohms, resistor.tolerance)
    power = body_for(watts, survey.limits)
    too_hot = watts > survey.limits.value("resistor.power.caution") * rated
    more: dict[str, object] = {"power": power[0], "size": None} if power is not None and too_hot else {}
    return new.model_copy(update=more)


def _power_for(survey: Survey, watts: float) -> float | None:
    """The power (W) to ask for of a new resistor: none where the build's usual one stands so much, else the least sold."""
    power, usual = body_for(watts, survey.limits), usual_resistor(survey.build.usual.resistor)[0]
    return None if power is None or (usual is not None and power[0] <= usual) else power[0]


def _lamp(survey: Survey, finding: Finding) -> LampFigures | None:
    return survey.electrics.lamps.get(finding.subject.name)


def _other_value(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The next values up that keep a lamp within its rating, or the nearest to what is wanted."""
    lamp = _lamp(survey, finding)
    if lamp is not None and lamp.part.dice[0].filament_volts is not None:
        yield from _before_filament(survey, lamp)
        return
    if lamp is not None and lamp.rated < lamp.rated_outside and lamp.nominal <= lamp.rated_outside:
        # at its own heat alone it is within its rating: what warms it goes elsewhere, and its light stays
        moved = moved_out(survey, lamp.part.place)
        if moved is not None:
            yield moved
    if lamp is not None and survey.wiring.drivers[lamp.part.circuit].steady is not None:
        yield from _less_current(survey, lamp.part.circuit, lamp.rated)
    if lamp is not None and lamp.part.resistor is None and lamp.inside_heat > 0.0:
        yield from _first_resistor(survey, finding)
    if lamp is None or lamp.part.resistor is None or lamp.highest <= 0.0:
        return
    series = survey.build.stock.series
    limits = survey.limits
    rated = finding.figures["rated"].value if "rated" in finding.figures else lamp.rated
    fraction = min(
        limits.value("lamp.current.nominal"),
        lamp.nominal * limits.value("lamp.current.caution") / lamp.highest,
        lamp.nominal * limits.value("lamp.current.stop") / lamp.likely_highest,
    )
    values: list[tuple[float, float]] = []
    if lamp.part.wanted and (value := resistance_for(lamp, lamp.part.wanted)) is not None:
        near = preferred.nearest(value, series)
        values.append((near, lamp.part.wanted * value / near))
    else:
        for most, count in _ratings(lamp, rated):
            target = fraction * most
            if (value := resistance_for(lamp, target)) is not None:
                values += [(ohms, target * value / ohms) for ohms in steps(value, series, count)]
    if not values and not lamp.part.wanted:
        # what burns out has no current to go by: the sum of its data
        values = [(value, current) for value, current in _by_data(survey, lamp.part)]
    before = spec_of(lamp.part)
    for value, current in dict(values).items():
        spec = _with(survey, lamp.part, value, current)
        if spec is None or before is None or abs(value / lamp.part.resistor.ohms - 1.0) < 1e-9:
            continue
        old = ohms_words(before)
        yield Proposal(f"Use {shown(spec, before)} instead of {old}.", (change(lamp.part, spec),))


def less_light(survey: Survey, lamp: LampFigures, current: float) -> Iterator[tuple[Change, str]]:
    """Resistors that give a lamp so much (A) or less, each with its words."""
    value, before = resistance_for(lamp, current), spec_of(lamp.part)
    for ohms in steps(value, survey.build.stock.series, 2) if value is not None else ():
        spec = _with(survey, lamp.part, ohms, current)
        if spec is not None and before is not None and ohms > before.whole:
            old = ohms_words(before)
            yield change(lamp.part, spec), f"{shown(spec, before)} instead of {old}"


def moved_out(survey: Survey, place: str) -> Proposal | None:
    """The resistors of a place out to where their leads end, or to their lamps outside; None where there are none."""
    moved: dict[str, list[Change]] = {}
    names: list[str] = []
    strings = 0
    for part in survey.parts.lamps:
        spec, joint = spec_of(part), part.supply_leg.to
        outside = joint if joint != place else part.place
        if spec is None or part.resistor is None or part.resistor.place != place or outside == place:
            continue
        there = survey.places.get(outside)
        if there is not None and there.hottest is not None and there.hottest > there.stands:
            continue
        moved.setdefault(outside, []).append(change(part, spec.model_copy(update={"place": outside})))
        names.append(part.name)
        strings += part.parallel
    if not moved:
        return None
    whose = f"the resistors in {quoted(place)}" if strings > 1 else f"the resistor of {quoted(names[0])}"
    where = " and ".join(map(quoted, moved))
    return Proposal(f"Move {whose} out to {where}.", tuple(one for of in moved.values() for one in of))


def _by_data(survey: Survey, part: LampPart) -> Iterator[tuple[float, float]]:
    """Values (ohm) for a lamp by the volts of its supply and its data alone, each with its current (A)."""
    target = usual_current(part.dice, survey.build.build.air[1])
    over = _supplied(survey, part)[0] - sum(volts_at(die, target) for die in part.dice)
    if over > 0.0:
        for value in steps(over / target, survey.build.stock.series, 3):
            yield value, over / value


def _less_current(survey: Survey, circuit: str, rated: float) -> Iterator[Proposal]:
    """A constant-current output set to what one string alone withstands."""
    driver = survey.wiring.drivers[circuit]
    output = survey.build.circuit[circuit].output
    current = float(f"{USUAL_SHARE * rated:.2g}")
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
        for less in _less_current(survey, circuit, rated):
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
    yield from _less_current(survey, circuit, rated)


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


def _before_filament(survey: Survey, lamp: LampFigures) -> Iterator[Proposal]:
    """A resistor that takes up what is above a filament lamp's rated volts: R = (V - rated volts) / rated current."""
    part = lamp.part
    rated, current = sum(die.filament_volts or 0.0 for die in part.dice), part.dice[0].rated
    over = lamp.joint_volts - rated
    if over <= 0.0 or part.shared_resistor:
        return
    spec = spec_of(part) or new_spec(
        0.0, None, part.supply_leg.to if part.supply_leg.to not in part.places else None
    )
    usual, most = _supplied(survey, part)
    fraction = (most / usual) ** 2 if usual > 0.0 else 1.0
    power = _power_for(survey, over * current * fraction)
    for value in steps(over / current, survey.build.stock.series):
        new = with_ohms(spec, value).model_copy(update={"power": power, "size": None})
        yield Proposal(
            f"Put {called(new)} before {'each of them' if part.parallel > 1 else 'it'}.",
            (change(part, new),),
        )


def _more_light(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a lamp that stays dark or dim: less resistance, or fewer in series and more strings; for a bare one its first."""
    lamp = _lamp(survey, finding)
    if lamp is None:
        return
    if lamp.part.resistor is None:
        if unlimited(lamp.part, survey.wiring.drivers[lamp.part.circuit]):
            yield from _first_resistor(survey, finding)
        return
    part, series = lamp.part, survey.build.stock.series
    spec = spec_of(part)
    target = USUAL_SHARE * lamp.rated
    value = resistance_for(lamp, target)
    if value is not None and spec is not None:
        for ohms in steps(value, series, 2):
            new = _with(survey, part, ohms, target * value / ohms)
            if new is not None and ohms < spec.whole:
                old = ohms_words(spec)
                yield Proposal(
                    f"Use {shown(new, spec)} instead of {old}.",
                    (change(part, new),),
                    figures={"old": Figure(spec.whole, "ohm")},
                )
    yield from _split(survey, lamp, target)


def _split(survey: Survey, lamp: LampFigures, target: float) -> Iterator[Proposal]:
    """Fewer in series and more strings of them, each with `target` A."""
    part, series = lamp.part, survey.build.stock.series
    spec, said = spec_of(part), part.said
    if len(part.path) > 2 or spec is None or said.series < 2 or said.links or part.one_resistor:
        return
    each = sum(volts_at(die, target) for die in part.dice) / said.series
    for count in range(said.series - 1, 0, -1):
        strings, rest = divmod(said.series * said.parallel, count)
        over = lamp.joint_volts - count * each
        if rest or over < LEAST_HEADROOM * lamp.joint_volts:
            continue
        ohms = preferred.at_least(over / target, series)
        new = _with(survey, replace(part, dice=part.dice[:count]), ohms, over / ohms)
        if new is not None:
            split = (
                f"Put {count} in series, in {strings} strings"
                if count > 1
                else f"Put them in {strings} strings of one"
            )
            yield Proposal(
                f"{split}, each with {format_quantity(ohms, Dimension.RESISTANCE)}.",
                (
                    change(part, new),
                    set_to(("lamp", part.path[1], "series"), count),
                    set_to(("lamp", part.path[1], "parallel"), strings),
                ),
            )


def _before_trimmer(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The fixed resistor with which a lamp is within its rating however its trimmer is turned; one that is set gets less."""
    lamp = _lamp(survey, finding)
    spec = spec_of(lamp.part) if lamp is not None else None
    if lamp is None or spec is None or lamp.part.shared_resistor:
        return
    part, supplied = lamp.part, _supplied(survey, lamp.part)[0]
    made = sum(die.filament_volts or 0.0 for die in part.dice)
    target = part.dice[0].rated if made else USUAL_SHARE * lamp.rated
    over = (supplied - made) / target if supplied > made else None
    ohms = over if made else ohms_for(part.dice, supplied, target)
    if ohms is None:
        return
    before = spec.whole
    for value in steps(ohms, survey.build.stock.series, 4):
        watts = _load(
            survey, part, target * ohms / value, value, usual_resistor(survey.build.usual.resistor)[1]
        )
        new = with_fixed(spec, value, _power_for(survey, watts), before)
        yield Proposal(f"Make it {called(new)}.", (change(part, new),))


def _first_resistor(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A resistor for a string that has none: R = (V - sum Vf) / I at four fifths of its rating, or as wanted.

    At the joint of its lead where that is elsewhere: there it warms no closed body with the lamp in it.
    """
    part = next((part for part in survey.parts.lamps if part.name == finding.subject.name), None)
    volts = _supplied(survey, part)[0] if part is not None else 0.0
    if part is None or volts <= 0.0:
        return
    target = part.wanted or part.dice[0].usual or usual_current(part.dice, survey.build.build.air[1])
    ohms = ohms_for(part.dice, volts, target)
    if ohms is None:
        yield from _more_volts(survey, part, target)
        return
    # Behind one resistor the strings would share unequally: each gets its own.
    alone = replace(part, one_resistor=False)
    own = (set_to(("lamp", part.path[1], "one_resistor"), False),) if part.shared_resistor else ()
    joint = part.supply_leg.to if part.supply_leg.to not in part.places else None
    for place in dict.fromkeys((joint, None)):
        for value in steps(ohms, survey.build.stock.series, 2):
            tolerance = usual_resistor(survey.build.usual.resistor)[1]
            watts = _load(survey, alone, target * ohms / value, value, tolerance)
            spec = new_spec(value, _power_for(survey, watts), place)
            yield Proposal(
                f"Give {'each string' if part.parallel > 1 else 'it'} a resistor of {called(spec)}.",
                (change(part, spec), *own),
            )


def _more_volts(survey: Survey, part: LampPart, target: float) -> Iterator[Proposal]:
    """The next adaptor that leaves a resistor something to do, with that resistor, for a string that has none."""
    name = survey.wiring.drivers[part.circuit].supply or ""
    supply = survey.build.supply.get(name)
    takes = sum(volts_at(die, target) for die in part.dice)
    volts = next((volts for volts in ADAPTORS if volts - takes >= LEAST_HEADROOM * volts), None)
    if supply is None or supply.kind != "adaptor" or volts is None or part.shared_resistor:
        return
    for value in steps((volts - takes) / target, survey.build.stock.series, 2):
        spec = new_spec(value, None, None)
        shown = format_quantity(volts, Dimension.VOLTAGE)
        who = f"{'each string of ' if part.parallel > 1 else ''}{quoted(part.name)}"
        yield Proposal(
            f"Use an adaptor of {shown}, and give {who} a resistor of {called(spec)}.",
            (quantity(("supply", name, "volts"), volts, Dimension.VOLTAGE), change(part, spec)),
        )


def at_other_volts(survey: Survey, supply: str, more: float) -> tuple[str, tuple[Change, ...]]:
    """Larger resistors for all lamps of a supply that gives so many more volts, in words, and the changes; none where a lamp has no own one."""
    changes: list[Change] = []
    names: dict[str, list[str]] = {}
    for lamp in survey.electrics.lamps.values():
        part, spec = lamp.part, spec_of(lamp.part)
        if survey.wiring.drivers[part.circuit].supply != supply:
            continue
        if spec is None or part.shared_resistor or lamp.nominal <= 0.0:
            return "", ()
        value = preferred.at_least(spec.whole + more / lamp.nominal, survey.build.stock.series)
        new = _with(survey, part, value, lamp.nominal)
        if new is None:
            return "", ()
        changes.append(change(part, new))
        names.setdefault(shown(new, spec), []).append(quoted(part.name))
    words = "; ".join(
        f"{value} for {', '.join(of[:-1])}{' and ' if of[:-1] else ''}{of[-1]}" for value, of in names.items()
    )
    return words, tuple(changes)


def as_bright(survey: Survey, part: LampPart, factor: float) -> Iterator[Proposal]:
    """More resistance for a lamp that gets so many times what its fellows get."""
    before = spec_of(part)
    if before is None:
        return
    lamp = survey.electrics.lamps[part.name]
    value = resistance_for(lamp, lamp.nominal / factor)
    for ohms in steps(value, survey.build.stock.series, 2) if value is not None else ():
        spec = _with(survey, part, ohms)
        if spec is not None:
            old = ohms_words(before)
            yield Proposal(
                f"Use {shown(spec, before)} instead of {old} for {quoted(part.name)}, or lamps of one kind.",
                (change(part, spec),),
                figures={"old": Figure(before.whole, "ohm")},
            )


def _own_resistors(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """One resistor a string: as many times the shared one; at the joint, where the middle of a line has room for one alone."""
    lamp = _lamp(survey, finding)
    if lamp is None or lamp.part.resistor is None:
        return
    part = lamp.part
    here = (part.place, *part.places, part.supply_leg.to, part.return_leg.to)
    moved = None if lamp.part.resistor.place in here else part.supply_leg.to
    for value in steps(lamp.part.resistor.ohms * lamp.part.parallel, survey.build.stock.series):
        spec = _with(survey, lamp.part, value)
        if spec is not None:
            apart = set_to(("lamp", lamp.part.path[1], "one_resistor"), False)
            own, where = format_quantity(value, Dimension.RESISTANCE), ""
            if moved is not None:
                spec, where = spec.model_copy(update={"place": moved}), f" at {quoted(moved)}"
            yield Proposal(
                f"Give each string its own {own}{where}.",
                (change(lamp.part, spec), apart),
            )


def _turned(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    lamp = _lamp(survey, finding)
    if lamp is None:
        return
    part, turned = lamp.part, set_to(("lamp", lamp.part.path[1], "backwards"), False)
    yield Proposal("Swap its two wires.", (turned,))
    # the right way round its resistor has to bear the current
    spec = spec_of(part)
    takes = sum(volts_at(die, die.rated) for die in part.dice)
    if part.resistor is None or spec is None:
        return
    current = (lamp.joint_volts - takes) / part.resistor.ohms
    stronger = _with(survey, part, part.resistor.ohms, current) if current > 0.0 else None
    if stronger is not None and stronger != spec:
        says = f"Swap its two wires, and use {shown(stronger, spec)} instead of its resistor."
        yield Proposal(says, (turned, change(part, stronger)))


def _more_power(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The least power sold that stands the heat well."""
    lamp = _lamp(survey, finding)
    spec = spec_of(lamp.part) if lamp is not None else None
    watts = finding.figures["highest"].value
    power = body_for(watts, survey.limits)
    if lamp is None or spec is None or power is None:
        return
    resistor: ResistorPart | None = lamp.part.resistor
    if resistor is not None and resistor.pieces:
        yield from _more_power_of_one(survey, lamp, spec)
    elif resistor is not None and (resistor.power or 0.0) < power[0]:
        stronger = spec.model_copy(update={"power": power[0], "size": None})
        yield Proposal(
            f"Use one of {power[1]}: it is then loaded to {100.0 * watts / power[0]:.0f} % at most.",
            (change(lamp.part, stronger),),
            figures={"load": Figure(float(f"{watts / power[0]:.2f}"), "share")},
        )


def _more_power_of_one(survey: Survey, lamp: LampFigures, spec: ResistorSpec) -> Iterator[Proposal]:
    """Of several in series the power of each that is too small."""
    resistor = lamp.part.resistor
    assert resistor is not None
    amps = lamp.nominal * lamp.part.parallel if lamp.part.shared_resistor else lamp.highest
    powers = [
        None if piece.track is not None else body_for(amps**2 * piece.ohms, survey.limits)
        for piece in resistor.pieces
    ]
    yield from _of_power(lamp, spec, powers)


def _stronger_track(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The least power sold with which the whole track of a trimmer stands the current."""
    lamp = _lamp(survey, finding)
    spec = spec_of(lamp.part) if lamp is not None else None
    if lamp is None or spec is None:
        return
    watts = finding.figures["highest"].value
    power = next((row for row in zip(POWERS, POWER_WORDS, strict=True) if row[0] >= watts), None)
    yield from _of_power(lamp, spec, [power if piece.trimmer else None for piece in spec.pieces])


def _of_power(
    lamp: LampFigures, spec: ResistorSpec, powers: list[tuple[float, str] | None]
) -> Iterator[Proposal]:
    """Resistors in series with more power where it is given."""
    stronger: list[SeriesResistor] = []
    said: list[str] = []
    for own, power in zip(spec.pieces, powers, strict=True):
        more = power is not None and own.power is not None and own.power < power[0]
        stronger.append(own.model_copy(update={"power": power[0], "size": None}) if power and more else own)
        if power and more:
            what = "a trimmer" if own.trimmer else f"the {format_quantity(own.ohms, Dimension.RESISTANCE)}"
            said.append(f"{power[1]} for {what}")
    if said:
        first = stronger[0]
        new = spec.model_copy(update={"power": first.power, "size": first.size, "plus": tuple(stronger[1:])})
        yield Proposal(f"Use {' and '.join(said)}.", (change(lamp.part, new),))


def larger_body(lamp: LampFigures) -> Iterator[tuple[str, Change]]:
    """The powers sold above that of a lamp's resistor, in words, with the change that each of them is."""
    spec, resistor = spec_of(lamp.part), lamp.part.resistor
    if spec is None or resistor is None or not resistor.power or resistor.pieces:
        return
    for power, words in zip(POWERS, POWER_WORDS, strict=True):
        if power > resistor.power:
            yield words, change(lamp.part, spec.model_copy(update={"power": power, "size": None}))


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
    changes = tuple(change(part, spec) for part, spec in zip(parts, specs, strict=True) if spec is not None)
    if changes:
        yield Proposal(f"Use {format_quantity(near, Dimension.RESISTANCE)}, the nearest in E24.", changes)


CURRENTS: dict[str, Proposer] = {
    "lamp.backwards": _turned,
    "lamp.no-resistor": _first_resistor,
    "lamp.shared-resistor": _own_resistors,
    "lamp.over-rating": _other_value,
    "trimmer.turned-down": _before_trimmer,
    "lamp.strobe": _other_value,
    "lamp.not-as-wanted": _other_value,
    "lamp.sibling-open": _one_string,
    "lamp.dim": _more_light,
}
RATINGS: dict[str, Proposer] = {
    "resistor.overloaded": _more_power,
    "trimmer.overloaded": _stronger_track,
    "resistor.not-in-series": _sold,
}
