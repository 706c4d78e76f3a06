"""A resistor for a lamp that has none: R = (V - sum Vf) / I at four fifths of its rating, or as wanted.

At the joint of its lead where that is elsewhere: there it warms no closed body with the lamp in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from postcheck.description.models import ResistorSpec
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.limits import below
from postcheck.plain import quoted
from postcheck.remedies.proposal import Proposal, Proposer, quantity, set_to
from postcheck.remedies.ratings import ADAPTORS
from postcheck.remedies.resistor_power import load_of, power_for, supplied
from postcheck.remedies.resistor_spec import (
    changed_resistor,
    joint_of,
    new_spec,
    resistor_called,
    with_ohms,
)
from postcheck.remedies.subjects import lamp_part
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.resistor_choice import (
    LEAST_HEADROOM,
    first_values,
    ohms_for,
    steps,
    usual_current,
    volts_at,
)
from postcheck.wiring.parts import LampPart
from postcheck.wiring.resistors import spec_of, usual_resistor


def first_resistor(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A resistor for each string; where the volts leave it nothing to do, the next adaptor with it."""
    part = lamp_part(survey, finding.subject.name)
    volts = supplied(survey, part)[0] if part is not None else 0.0
    if part is None or volts <= 0.0:
        return
    if ohms_for(part.dice, volts, usual_target(survey, part)) is None:
        yield from _more_volts(survey, part, usual_target(survey, part))
        return
    own = (set_to(("lamp", part.path[1], "one_resistor"), False),) if part.shared_resistor else ()
    for spec in first_specs(survey, part, volts):
        yield Proposal(
            f"Give {'each string' if part.parallel > 1 else 'it'} a resistor of {resistor_called(spec)}.",
            (changed_resistor(part, spec), *own),
        )


def usual_target(survey: Survey, part: LampPart) -> float:
    """The current (A) that a first resistor gives a string."""
    return (
        part.wanted
        or part.dice[0].usual
        or usual_current(part.dice, survey.build.build.air[1], survey.limits)
    )


def first_specs(survey: Survey, part: LampPart, volts: float) -> Iterator[ResistorSpec]:
    """Resistors for each string of a lamp that has none, at these volts; none where no volts are left for one."""
    target = usual_target(survey, part)
    ohms = ohms_for(part.dice, volts, target)
    if ohms is None:
        return
    # Behind one resistor the strings would share unequally: each gets its own.
    alone = replace(part, one_resistor=False)
    for place in dict.fromkeys((joint_of(part), None)):
        for value in first_values(part.wanted, ohms, survey.build.stock.series):
            tolerance = usual_resistor(survey.build.usual.resistor)[1]
            watts = load_of(survey, alone, target * ohms / value, value, tolerance)
            yield new_spec(value, power_for(survey, watts), place)


def _more_volts(survey: Survey, part: LampPart, target: float) -> Iterator[Proposal]:
    """The next adaptor that leaves a resistor something to do, with that resistor, for a string that has none."""
    name = survey.wiring.drivers[part.circuit].supply or ""
    supply = survey.build.supply.get(name)
    takes = sum(volts_at(die, target) for die in part.dice)
    volts = next((volts for volts in ADAPTORS if not below(volts - takes, LEAST_HEADROOM * volts)), None)
    if supply is None or supply.kind != "adaptor" or volts is None or part.shared_resistor:
        return
    for value in steps((volts - takes) / target, survey.build.stock.series, 2):
        spec = new_spec(value, None, None)
        shown = format_quantity(volts, Dimension.VOLTAGE)
        who = f"{'each string of ' if part.parallel > 1 else ''}{quoted(part.name)}"
        yield Proposal(
            f"Use an adaptor of {shown}, and give {who} a resistor of {resistor_called(spec)}.",
            (quantity(("supply", name, "volts"), volts, Dimension.VOLTAGE), changed_resistor(part, spec)),
        )


def before_filament(survey: Survey, lamp: LampFigures) -> Iterator[Proposal]:
    """A resistor that takes up what is above a filament lamp's rated volts: R = (V - rated volts) / rated current."""
    part = lamp.part
    over = lamp.joint_volts - sum(die.filament_volts or 0.0 for die in part.dice)
    if over <= 0.0 or part.shared_resistor:
        return
    for new in filament_specs(survey, part, over):
        yield Proposal(
            f"Put {resistor_called(new)} before {'each of them' if part.parallel > 1 else 'it'}.",
            (changed_resistor(part, new),),
        )


def filament_specs(survey: Survey, part: LampPart, over: float) -> Iterator[ResistorSpec]:
    """Resistors that drop `over` V, what a filament lamp's supply has above its volts, at its rated current."""
    current = part.dice[0].rated
    spec = spec_of(part) or new_spec(
        0.0, None, part.supply_leg.to if part.supply_leg.to not in part.places else None
    )
    usual, most = supplied(survey, part)
    power = power_for(survey, over * current * (most / usual) ** 2)
    for value in steps(over / current, survey.build.stock.series):
        yield with_ohms(spec, value).model_copy(update={"power": power, "size": None})


FIRST: dict[str, Proposer] = {"lamp.no-resistor": first_resistor}
