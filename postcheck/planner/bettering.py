"""How a wiring that passes could be better in an aim: changes to try, each of its own."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise

from postcheck.description.models import ResistorSpec
from postcheck.description.problems import Path
from postcheck.planner.dissipated import dissipated
from postcheck.remedies.lead_spec import changed_lead
from postcheck.remedies.proposal import Change, set_to
from postcheck.remedies.resistor_spec import changed_resistor
from postcheck.remedies.wires import thicker_wires
from postcheck.survey import Survey
from postcheck.wiring.data import WireData
from postcheck.wiring.parts import LampPart, Part
from postcheck.wiring.resistors import spec_of

# A resistor becomes another's only where that takes a lamp no further down than to this share: still the same to most eyes
# where the two are not side by side (judgement).
SAME_LIGHT = 0.65
# Wires tried for each line.
WIRES = 3

Betters = Callable[[Survey], Iterator[tuple[Change, ...]]]


def less_drop(survey: Survey) -> Iterator[tuple[Change, ...]]:
    """Each line on thicker wire, and the leads of each circuit, the thickest first."""
    lines = dict.fromkeys(run.line for run in survey.parts.runs if run.live and run.wire is not None)
    for line in lines:
        runs = [run for run in survey.parts.runs if run.line == line and run.live and run.wire is not None]
        thinnest = max((run.wire for run in runs if run.wire), key=lambda wire: wire.ohms_per_metre)
        names = thicker_wires(survey, thinnest, thinnest.ohms_per_metre * (1.0 - 1e-9))[:WIRES]
        for name in reversed(names):
            yield tuple(set_to((*run.path, "wire"), name) for run in runs)
    leads: dict[tuple[str, WireData], dict[Path, Part]] = {}
    for part in survey.parts.all:
        if part.lead is not None and (wire := part.supply_leg.wire) is not None:
            leads.setdefault((part.circuit, wire), {}).setdefault(part.path[:2], part)
    for (_, wire), parts in leads.items():
        for name in reversed(thicker_wires(survey, wire, wire.ohms_per_metre * (1.0 - 1e-9))[:WIRES]):
            changes = tuple(changed_lead(part, wire=name) for part in parts.values())
            if None not in changes:
                yield tuple(change for change in changes if change is not None)


def fewer_kinds(survey: Survey) -> Iterator[tuple[Change, ...]]:
    """The runs of one wire on another that is used, or the resistors of one value at the next one up that is."""
    runs = [run for run in survey.parts.runs if run.live and run.wire is not None]
    wires = dict.fromkeys(run.wire.name for run in runs if run.wire)
    for old in wires:
        for new in wires:
            if new != old:
                yield tuple(
                    set_to((*run.path, "wire"), new) for run in runs if run.wire and run.wire.name == old
                )
    specs = [(part, spec) for part in survey.parts.lamps if (spec := spec_of(part)) is not None]
    values = sorted({spec.ohms for _, spec in specs})
    for old_ohms, new_ohms in pairwise(values):
        if old_ohms >= SAME_LIGHT * new_ohms:
            yield tuple(
                changed_resistor(part, spec, ohms=new_ohms) for part, spec in specs if spec.ohms == old_ohms
            )
    powers = sorted({spec.power for _, spec in specs if spec.power is not None})
    for old_power, new_power in pairwise(powers):
        yield tuple(
            changed_resistor(part, spec, power=new_power) for part, spec in specs if spec.power == old_power
        )


def fewer_bare_ends(survey: Survey) -> Iterator[tuple[Change, ...]]:
    """Of the resistors that sit where leads end those back at their lamps that dissipate least in each place, like lamps together.

    Half of them at once, then fewer: a large build has many, and each try is a check of the whole.
    """
    groups = defaultdict[tuple[str, ...], list[tuple[LampPart, ResistorSpec, float]]](list)
    for part, warm in dissipated(survey.build):
        spec = spec_of(part) if isinstance(part, LampPart) else None
        if isinstance(part, LampPart) and spec is not None and spec.place not in (None, part.said.place):
            watts = warm.amps * warm.strings * warm.resistor_volts
            groups[part.said.place, str(part.said.kind), part.circuit].append((part, spec, watts))
    places = defaultdict[str, list[list[tuple[LampPart, ResistorSpec, float]]]](list)
    for (place, *_), group in sorted(groups.items(), key=lambda row: sum(watts for *_, watts in row[1])):
        places[place].append(group)
    for some in places.values():
        count = (len(some) + 1) // 2
        while count:
            yield tuple(
                changed_resistor(part, spec, place=None) for group in some[:count] for part, spec, _ in group
            )
            count //= 2


BETTERS: Mapping[str, Betters] = {"bench": fewer_bare_ends, "drop": less_drop, "kinds": fewer_kinds}
"""By aim. The others are met by what is drafted: structures for conductors, seats for heat, the usual wire ahead of others."""
