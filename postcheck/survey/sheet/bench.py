"""The bench card: for each place, how its leads and lines are tested."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field, replace
from functools import partial
from math import isclose

from postcheck.description.called import power_words
from postcheck.expected import Expected
from postcheck.sheet import BenchPlace, BenchRow
from postcheck.survey import Survey
from postcheck.survey.bench.test_points import TestPoint
from postcheck.wiring.parts import LampPart


@dataclass
class _Place:
    """What is tested at a place, what cannot be, and which circuits are tested as elsewhere or as one of its leads."""

    leads: list[BenchRow] = field(default_factory=list)
    lines: list[BenchRow] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)
    as_at: list[tuple[str, str]] = field(default_factory=list)
    as_lead: list[tuple[str, str]] = field(default_factory=list)


def bench_places(survey: Survey) -> tuple[BenchPlace, ...]:
    """Every place where ends of leads or lines can be held, in the order of the file."""
    found: dict[str, _Place] = defaultdict(_Place)
    for test_point in survey.bench.leads.values():
        row = _row(survey, test_point)
        for place in test_point.places:
            if row is None:
                found[place].unknown.append(test_point.name)
            else:
                found[place].leads.append(row)
    # of each circuit, where it was told and how
    shown: dict[str, list[tuple[str, BenchRow]]] = defaultdict(list)
    for test_point in survey.bench.lines.values():
        row, home = _row(survey, test_point), survey.wiring.drivers[test_point.circuit].place
        for place in test_point.places:
            here = found[place]
            if not here.leads and place != home:
                continue  # on the way there and where nothing else is held: the same figures again
            if row is None:
                here.unknown.append(test_point.name)
                continue
            lead = next((one.name for one in here.leads if _same_test(_as_lead(row, one), one)), None)
            before = next((where for where, other in shown[row.name] if _same_test(row, other)), None)
            if lead is not None:
                here.as_lead.append((row.name, lead))
            elif before is not None:
                here.as_at.append((row.name, before))
            else:
                shown[row.name].append((place, row))
                here.lines.append(row)
    return tuple(
        BenchPlace(
            name, place.access, tuple(here.leads), tuple(here.lines), tuple(here.unknown), tuple(here.as_at),
            tuple(here.as_lead),
        )
        for name, place in survey.build.place.items()
        if (here := found[name]).leads or here.lines or here.unknown or here.as_at  # as_lead has its lead there
    )  # fmt: skip


# Of two places on one circuit's way the currents differ by the drop between them: up to this share it is the same test.
_SAME = 0.01


def _same_test(row: BenchRow, other: BenchRow) -> bool:
    """Whether a circuit is tested at one place as at another."""

    def bare(one: BenchRow) -> BenchRow:
        return replace(
            one, contact_amps=0.0, starting=None, expected=None, through_expected=None, finished=None
        )

    def amps(one: BenchRow) -> tuple[float, ...]:
        spans = (one.expected, one.through_expected, one.finished)
        read = (value for span in spans if span is not None for value in (span.least, span.usual, span.most))
        return one.contact_amps, one.starting or 0.0, *read

    ours, theirs = amps(row), amps(other)
    near = len(ours) == len(theirs) and all(map(partial(isclose, rel_tol=_SAME), ours, theirs))
    return near and bare(row) == bare(other)


def _as_lead(row: BenchRow, lead: BenchRow) -> BenchRow:
    """A circuit's row with the names and colours of a lead."""
    return replace(
        row, kind=lead.kind, name=lead.name, plus_colour=lead.plus_colour, minus_colour=lead.minus_colour,
        label=lead.label, lights=lead.lights, strings=lead.strings,
    )  # fmt: skip


def _row(survey: Survey, test_point: TestPoint) -> BenchRow | None:
    """How a lead or line is tested; None where the volts of its supply are not known."""
    figures = survey.bench.figures(test_point)
    if figures is None:
        return None
    lamps = {lamp.name: lamp for lamp in survey.parts.lamps}
    resistor = (
        lamps[test_point.resistor_positions[0][0]].resistor
        if len(test_point.resistor_positions) == 1
        else None
    )
    setting, tester = figures.setting, figures.tester
    pulsed = survey.bench.pulsed(test_point)
    # what flows in a flash says nothing of a test that holds it on
    finished = (
        None
        if pulsed and not survey.bench.stands_for_good(test_point, figures.usual_volts)
        else figures.with_resistors
    )
    return BenchRow(
        kind=test_point.kind,
        name=test_point.name,
        plus_colour=test_point.plus.colour or "",
        minus_colour=test_point.minus.colour or "",
        resistor_position=test_point.resistor_position if test_point.resistor_positions else "",
        fate=figures.contact_test.outcome,
        contact_volts=figures.contact_test.volts,
        contact_amps=figures.contact_test.amps,
        backwards=figures.backwards.outcome,
        supply_volts=figures.usual_volts,
        seat=resistor.place if resistor is not None else "",
        ohms=resistor.ohms if resistor is not None else None,
        stood=figures.backwards.stood,
        volts=setting.volts if setting is not None else None,
        limit=setting.limit if setting is not None else None,
        held=setting.held if setting is not None else False,
        expected=Expected(*setting.expected) if setting is not None else None,
        through=tester.ohms if tester is not None else None,
        through_power=power_words(tester.power) if tester is not None else "",
        through_expected=Expected(*tester.expected) if tester is not None else None,
        finished=Expected(*finished) if finished is not None else None,
        label=test_point.label or "",
        lights=len(test_point.resistor_positions) + len(test_point.others),
        strings=_strings(lamps, test_point),
        starting=setting.starting if setting is not None else None,
        pulsed=pulsed,
        by_itself=any(lamps[name].flashes is not None for name in test_point.lamps),
    )


def _strings(lamps: dict[str, LampPart], test_point: TestPoint) -> int:
    """Of a lamp alone, its strings with a resistor each."""
    lamp = lamps[test_point.resistor_positions[0][0]] if test_point.kind == "lamp" else None
    return 1 if lamp is None else lamp.resistors
