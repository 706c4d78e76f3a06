"""Which tests closing still asks for, and how each is set."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.lines_to_type import mend_first
from postcheck.description.subjects import subject_of
from postcheck.expected import Expected
from postcheck.limits import below
from postcheck.recorded import BenchTest
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.closing.asked import Asked, asked, asked_of

_LEADS = frozenset({"lamp", "strip", "load"})
_ORDER = ("circuit", "run", "plug", "board", "supply")


def left_to_test(survey: Survey) -> Iterator[BenchTest]:
    """The tests that closing still asks for, place by place, each thing once."""
    found: dict[tuple[str, str], tuple[str, Asked]] = {}
    for place, closing in survey.closing.items():
        for test in (*asked(survey, closing.unproven), *_hours(survey, place)):
            place_was, before = found.get((test.kind, test.name), (place, test))
            if before.measures == "hours":
                before = test
            both = before._replace(
                needed=tuple(dict.fromkeys((*before.needed, *test.needed))),
                unseen=before.unseen or test.unseen,
            )
            found[test.kind, test.name] = (place_was if test.kind in _LEADS else place, both)
    # while a circuit runs its lamps do: nobody is asked for the same day twice
    run_with = {
        one.name for _, one in found.values() if one.kind == "circuit" and one.hours and one.never is None
    }
    for place in survey.closing:
        here = [
            one
            for at, one in found.values()
            if at == place
            and not (
                one.measures == "hours" and one.kind == "lamp" and _circuit(survey, one.name) in run_with
            )
        ]
        here.sort(key=lambda one: _ORDER.index(one.kind) if one.kind in _ORDER else -1)
        yield from (bench_test(survey, place, one) for one in here)


def _circuit(survey: Survey, lamp: str) -> str:
    return survey.parts.named[lamp].circuit


def _have_run(survey: Survey, circuit: str, least: float) -> bool:
    """Whether all lamps of a circuit that are closed in have run for so long (s), by whatever record."""
    ran = {lamp: seconds for closing in survey.closing.values() for lamp, seconds in closing.ran}
    mine = [
        lamp.name
        for lamp in survey.parts.lamps
        if lamp.circuit == circuit and not survey.closing.keys().isdisjoint((lamp.place, *lamp.places))
    ]
    return bool(mine) and all(not below(ran.get(name, 0.0), least) for name in mine)


def _hours(survey: Survey, place: str) -> Iterator[Asked]:
    """What is proven and has not run long enough: by the circuit where that was measured, else by the lamp."""
    closing, least = survey.closing[place], survey.limits.value("closing.run")
    by = {one.lamp: one.by for one in closing.needed if one.lamp and one.by is not None}
    for lamp, seconds in closing.ran:
        if below(seconds, least):
            kind, name = survey.test_records.about(survey.build.proof[by[lamp]])
            kind, name = (kind, name) if kind == "circuit" else ("lamp", lamp)
            yield asked_of(survey, kind, name)._replace(measures="hours", hours=least)


def bench_test(survey: Survey, place: str, test: Asked) -> BenchTest:
    """A test with all that is needed at the bench: its setting, what to expect, and what it proves."""
    point, setting = test.test_point, test.setting
    figures = survey.bench.figures(point) if point is not None else None
    bare = figures is not None and point is not None and point.resistor_position != "ahead"
    ran = any(
        "hours" in known.said
        and not below(survey.build.proof[known.said["hours"]].hours or 0.0, test.hours or 0.0)
        for known in survey.test_records.of(test.kind, test.name)
    )
    if test.kind == "circuit":
        ran = ran or _have_run(survey, test.name, test.hours or 0.0)
    return BenchTest(
        place=place,
        kind=test.kind,
        name=test.name,
        subject=subject_of(survey.kinds_by_name, test.kind, test.name),
        measures=test.measures,
        limit=setting.limit if setting is not None else None,
        volts=setting.volts if setting is not None else None,
        expected=Expected(*setting.expected) if setting is not None else None,
        starting=setting.starting if setting is not None else None,
        held=setting is not None and setting.held,
        bare=figures.contact_test.outcome if figures is not None and bare and not test.less else "",
        ohms=test.ohms,
        each=test.each,
        at=test.at,
        ends=point.places if point is not None else (),
        plus=(point.plus.colour or "") if point is not None else "",
        minus=(point.minus.colour or "") if point is not None else "",
        label=(point.label or "") if point is not None else "",
        look=test.unseen,
        hours=None if ran and test.measures != "hours" else test.hours,
        proves=tuple(Subject(one.kind, one.name) for one in test.needed),
        mend_first=mend_first(test.kind, test.name, test.never) if test.never is not None else "",
        stood=figures.backwards.stood
        if figures is not None
        and setting is not None
        and figures.backwards.outcome == "may destroy"
        and setting.volts > (figures.backwards.stood or 0.0)
        else None,
        heats=test.heats,
        white=test.white,
    )
