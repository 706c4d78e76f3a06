"""The closing list: for each place that gets sealed, the tests that prove what is in it, and what will need cutting."""

from __future__ import annotations

from postcheck.description.models import Proof
from postcheck.expected import Expected
from postcheck.limits import below
from postcheck.sheet import ClosingItem, ClosingPlace
from postcheck.survey import Survey
from postcheck.survey.closing.asked import asked_of
from postcheck.survey.closing.coverage import closings
from postcheck.survey.closing.figures import Needed
from postcheck.wiring.parts import LampPart

_NEVER = {
    "scope": "not judged", "eyes": "burns eyes", "load": "over its volts", "wire": "hot wire", "dark": "nothing lights",
    **dict.fromkeys(("rating", "shared", "strip", "traces"), "over its rating"),
}  # fmt: skip
_RUN = frozenset({"lamp", "circuit"})  # what is left on for hours


def closing_places(survey: Survey) -> tuple[ClosingPlace, ...]:
    """Every sealed place of the build, whatever its stage."""
    places = [name for name, place in survey.build.place.items() if place.access == "sealed"]
    found = closings(survey.wiring, survey.bench, survey.test_records, survey.access, places)
    shown = []
    for name, closing in found.items():
        tests: dict[tuple[str, str], list[Needed]] = {}
        for one in closing.needed:
            tests.setdefault(one.ask, []).append(one)
        ran = dict(closing.ran)
        items = tuple(_item(survey, kind, subject, tuple(of), ran) for (kind, subject), of in tests.items())
        cut = tuple(dict.fromkeys((one.kind, one.name) for one in closing.held))
        shown.append(ClosingPlace(name, survey.build.place[name].access, items, cut))
    return tuple(shown)


def _item(
    survey: Survey, kind: str, subject: str, needed: tuple[Needed, ...], ran: dict[str, float]
) -> ClosingItem:  # fmt: skip
    test = asked_of(survey, kind, subject)
    never = _NEVER[test.never.why] if test.never is not None else ""
    setting = test.setting if test.measures == "current" else None
    record, why_not = _record(survey, kind, subject, needed), _why_not(survey, kind, subject, needed, ran)
    lamp = survey.parts.named.get(subject) if kind == "lamp" else None
    own = isinstance(lamp, LampPart) and not lamp.one_resistor
    return ClosingItem(
        kind=kind,
        subject=subject,
        proves=tuple((one.kind, one.name) for one in needed),
        done=not (why_not or never),
        volts=setting.volts if setting is not None else None,
        limit=setting.limit if setting is not None else None,
        ohms=test.ohms if setting is not None and kind == "lamp" else None,
        expected=Expected(*setting.expected) if setting is not None else None,
        hours=survey.limits.value("closing.run") / 3600.0 if kind in _RUN else None,
        measured=record.current if record is not None else None,
        on=record.on.isoformat() if record is not None and record.on is not None else "",
        why_not=never or why_not,
        strings=lamp.parallel if own and isinstance(lamp, LampPart) else 1,
        as_lit=bool(test.heats),
        white=test.white,
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
    return "not run so long" if any(below(ran.get(name, 0.0), hours) for name in lamps) else ""
