"""The closing list: for each place that gets sealed, the tests that prove what is in it, and what will need cutting."""

from __future__ import annotations

from postcheck.description.models import Proof
from postcheck.sheet import ClosingItem, ClosingPlace, Span
from postcheck.survey import Survey
from postcheck.survey.bench.settings import limit_above
from postcheck.survey.closing.coverage import closings
from postcheck.survey.closing.current_paths import origin_test_point
from postcheck.survey.closing.figures import Needed
from postcheck.wiring.parts import LampPart

_RUN = frozenset({"lamp", "circuit"})  # what is left on for hours


def closing_places(survey: Survey) -> tuple[ClosingPlace, ...]:
    """Every sealed place of the build, whatever its stage."""
    places = [name for name, place in survey.build.place.items() if place.access == "sealed"]
    found = closings(survey.wiring, survey.bench, survey.test_records, survey.access, places)
    lamps = {lamp.name: lamp for lamp in survey.parts.lamps}
    shown = []
    for name, closing in found.items():
        tests: dict[tuple[str, str], list[Needed]] = {}
        for one in closing.needed:
            tests.setdefault(one.ask, []).append(one)
        ran = dict(closing.ran)
        items = tuple(
            _item(survey, kind, subject, tuple(of), lamps, ran) for (kind, subject), of in tests.items()
        )
        cut = tuple(dict.fromkeys((one.kind, one.name) for one in closing.held))
        shown.append(ClosingPlace(name, survey.build.place[name].access, items, cut))
    return tuple(shown)


def _item(
    survey: Survey, kind: str, subject: str, needed: tuple[Needed, ...], lamps: dict[str, LampPart],
    ran: dict[str, float],
) -> ClosingItem:  # fmt: skip
    volts = limit = ohms = None
    expected = None
    bench = survey.bench
    test_point = (
        origin_test_point(survey.wiring, bench, subject) if kind == "circuit" else bench.lead(kind, subject)
    )
    figures = bench.figures(test_point) if test_point is not None else None
    too_much = gently = False
    if test_point is not None and figures is not None and test_point.resistor_positions:
        bare = test_point.resistor_position == "none" and figures.setting is not None and figures.setting.held
        # through its own resistors it would get more than it stands: no test to ask anybody for
        # what is only for flashes is left on for hours at what it stands for good
        gently = bench.pulsed(test_point) and not bench.stands_for_good(test_point, figures.usual_volts)
        too_much = not bare and not gently and bench.over(test_point, figures.usual_volts) is not None
    if figures is not None and figures.setting is not None and not too_much:
        setting = figures.setting
        volts, expected, limit = setting.volts, Span(*setting.expected), setting.limit
        if figures.with_resistors is not None and not gently:
            volts, expected = figures.usual_volts, Span(*figures.with_resistors)
            limit = limit_above(figures.with_resistors.most)
        if (
            figures.with_resistors is not None
            and not gently
            and kind == "lamp"
            and test_point is not None
            and (resistor := lamps[test_point.resistor_positions[0][0]].resistor) is not None
        ):
            ohms = resistor.ohms
    record, why_not = _record(survey, kind, subject, needed), _why_not(survey, kind, subject, needed, ran)
    return ClosingItem(
        kind=kind,
        subject=subject,
        proves=tuple((one.kind, one.name) for one in needed),
        done=not (why_not or too_much),
        volts=volts,
        limit=limit,
        ohms=ohms,
        expected=expected,
        hours=survey.limits.value("closing.run") / 3600.0 if kind in _RUN else None,
        measured=record.current if record is not None else None,
        on=record.on.isoformat() if record is not None and record.on is not None else "",
        why_not="over its rating" if too_much else why_not,
    )


def _record(survey: Survey, kind: str, subject: str, needed: tuple[Needed, ...]) -> Proof | None:
    """What proves it, else the latest reading of it."""
    by = next((one.by for one in needed if one.by is not None), None)
    if by is None:
        own = (known.said.get("current") for known in survey.test_records.of(kind, subject))
        by = next((at for at in own if at is not None), None)
    return survey.build.proof[by] if by is not None else None


def _why_not(
    survey: Survey, kind: str, subject: str, needed: tuple[Needed, ...], ran: dict[str, float]
) -> str:
    """What keeps the box empty; nothing where it may be ticked."""
    test_records = survey.test_records
    if any(
        known.said.get(key) is not None and getattr(survey.build.proof[known.said[key]], key) is False
        for known in test_records.of(kind, subject)
        for key in ("polarity", "continuity")
    ):
        return "failed"
    if any((one.kind, one.name) == (kind, subject) and one.fits is False for one in test_records.readings):
        return "not as expected"
    if any(one.by is None for one in needed):
        return "not tested"
    hours = survey.limits.value("closing.run")
    lamps = [one.lamp for one in needed if one.lamp]
    return "not run so long" if any(ran.get(name, 0.0) < hours * (1.0 - 1e-9) for name in lamps) else ""
