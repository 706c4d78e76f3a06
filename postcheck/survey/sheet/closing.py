"""The closing list: for each place that gets sealed, the tests that prove what is in it, and what will need cutting."""

from __future__ import annotations

from postcheck.sheet import ClosingItem, ClosingPlace, Span
from postcheck.survey import Survey
from postcheck.survey.closing import Needed, closings, origin_tap
from postcheck.survey.parts import LampPart

__all__ = ["closing_places"]

_RUN = frozenset({"lamp", "circuit"})  # what is left on for hours


def closing_places(survey: Survey) -> tuple[ClosingPlace, ...]:
    """Every sealed place of the build, whatever its stage."""
    places = [name for name, place in survey.build.place.items() if place.access == "sealed"]
    found = closings(survey.build, survey.parts, survey.bench, survey.proofs, survey.access, places)
    lamps = {lamp.name: lamp for lamp in survey.parts.lamps}
    shown = []
    for name, closing in found.items():
        tests: dict[tuple[str, str], list[Needed]] = {}
        for one in closing.needed:
            tests.setdefault(one.ask, []).append(one)
        items = tuple(_item(survey, kind, subject, tuple(of), lamps) for (kind, subject), of in tests.items())
        cut = tuple(dict.fromkeys((one.kind, one.name) for one in closing.held))
        shown.append(ClosingPlace(name, survey.build.place[name].access, items, cut))
    return tuple(shown)


def _item(
    survey: Survey, kind: str, subject: str, needed: tuple[Needed, ...], lamps: dict[str, LampPart]
) -> ClosingItem:
    volts = limit = ohms = None
    expected = None
    bench = survey.bench
    tap = origin_tap(survey.build, bench, subject) if kind == "circuit" else bench.leads.get((kind, subject))
    figures = bench.figures(tap) if tap is not None else None
    if figures is not None and figures.setting is not None:
        setting = figures.setting
        volts, expected = figures.usual_volts, Span(*(figures.guarded or setting.expected))
        if figures.guarded is None:
            volts, limit = setting.volts, setting.limit if setting.held else None
        elif kind == "lamp" and (resistor := lamps[subject].resistor) is not None:
            ohms = resistor.ohms
    by = next((one.by for one in needed if one.by is not None), None)
    proof = survey.build.proof[by] if by is not None else None
    return ClosingItem(
        kind=kind,
        subject=subject,
        proves=tuple((one.kind, one.name) for one in needed),
        done=all(one.by is not None for one in needed),
        volts=volts,
        limit=limit,
        ohms=ohms,
        expected=expected,
        hours=survey.limits.value("closing.run") / 3600.0 if kind in _RUN else None,
        measured=proof.current if proof is not None else None,
        on=proof.on.isoformat() if proof is not None and proof.on is not None else "",
    )
