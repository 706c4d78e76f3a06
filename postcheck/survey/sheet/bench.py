"""The bench card: for each place, how its leads and lines are tested."""

from __future__ import annotations

from postcheck.sheet import BenchPlace, BenchRow, Span
from postcheck.survey import Survey
from postcheck.survey.bench.figures import Band, BenchFigures
from postcheck.survey.bench.test_points import Tap
from postcheck.wiring.parts import LampPart

__all__ = ["bench_places"]


def bench_places(survey: Survey) -> tuple[BenchPlace, ...]:
    """Every place where ends of leads or lines can be held, in the order of the file."""
    bench = survey.bench
    leads: dict[str, list[BenchRow]] = {}
    lines: dict[str, list[BenchRow]] = {}
    unknown: dict[str, list[str]] = {}
    for rows, taps in ((leads, bench.leads.values()), (lines, bench.lines.values())):
        for tap in taps:
            figures = bench.figures(tap)
            for place in tap.places:
                if rows is lines and place not in leads and place != survey.wiring.drivers[tap.circuit].place:
                    continue  # on the way there and where nothing else is held: the same figures again
                if figures is None:
                    unknown.setdefault(place, []).append(tap.name)
                else:
                    rows.setdefault(place, []).append(_row(survey, tap, figures))
    return tuple(
        BenchPlace(
            name, place.access, tuple(leads.get(name, ())), tuple(lines.get(name, ())), tuple(unknown.get(name, ()))
        )
        for name, place in survey.build.place.items()
        if name in leads or name in lines or name in unknown
    )  # fmt: skip


def _row(survey: Survey, tap: Tap, figures: BenchFigures) -> BenchRow:
    lamps = {lamp.name: lamp for lamp in survey.parts.lamps}
    resistor = lamps[tap.guards[0][0]].resistor if len(tap.guards) == 1 else None
    setting, tester = figures.setting, figures.tester
    return BenchRow(
        kind=tap.kind,
        name=tap.name,
        plus_colour=tap.plus.colour or "",
        minus_colour=tap.minus.colour or "",
        guard=tap.guard if tap.guards else "",
        fate=figures.touch.outcome,
        touch_volts=figures.touch.volts,
        touch_amps=figures.touch.amps,
        backwards=figures.backwards.outcome,
        supply_volts=figures.usual_volts,
        seat=resistor.place if resistor is not None else "",
        ohms=resistor.ohms if resistor is not None else None,
        stood=figures.backwards.stood,
        volts=setting.volts if setting is not None else None,
        limit=setting.limit if setting is not None else None,
        held=setting.held if setting is not None else False,
        expected=_span(setting.expected) if setting is not None else None,
        through=tester.ohms if tester is not None else None,
        through_expected=_span(tester.expected) if tester is not None else None,
        finished=_span(figures.guarded) if figures.guarded is not None else None,
        label=tap.label or "",
        lights=len(tap.guards) + len(tap.others),
        strings=_strings(lamps, tap),
        starting=setting.starting if setting is not None else None,
    )


def _strings(lamps: dict[str, LampPart], tap: Tap) -> int:
    """Of a lamp alone, its strings with a resistor each."""
    lamp = lamps[tap.guards[0][0]] if tap.kind == "lamp" else None
    return 1 if lamp is None or lamp.one_resistor else lamp.parallel


def _span(band: Band) -> Span:
    return Span(*band)
