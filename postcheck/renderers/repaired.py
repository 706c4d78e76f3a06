"""A repair as it is told: in sentences, or as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import groupby

from postcheck.expected import Expected
from postcheck.plain import enumerated, first_few
from postcheck.renderers.figures import show
from postcheck.renderers.words import counted, folded, safe
from postcheck.repair import Reading, Repair, Spot

_NAMES = 6
_FEEDS = ("board", "supply", "plug")
_NOTHING = 0.5e-6  # A, less than a bench meter shows


def render(repair: Repair, width: int | None = None) -> str:
    """Where it is got at, how to be sure, what would do instead; `width`: of a screen, None where it is piped."""
    of = repair.kind in ("joint", "resistor")
    title = f"{repair.kind} of '{safe(repair.name)}'" if of else f"'{safe(repair.name)}' ({repair.kind})"
    lines = [f"{title}:", *_namesakes(repair), *map(_spot, repair.spots), ""]
    lines += ["To be sure that it is this one:", *_sure(repair), "", "Instead:", *_instead(repair)]
    pieces = (piece for line in lines for piece in (folded(line, width, 2) if width and line else [line]))
    return "".join(f"{piece}\n" for piece in pieces)


def render_json(repair: Repair, version: str) -> str:
    """The repair as JSON text in ASCII that ends in a line break: SI numbers, and the same names as in Python."""
    from postcheck.renderers.json_text import json_text  # noqa: PLC0415 - only where it is asked for

    return json_text(
        version,
        part={"kind": repair.kind, "name": repair.name},
        spots=repair.spots,
        readings=repair.readings,
        new_lead=repair.new_lead,
        spares=[{"run": spare, "beside": runs} for spare, runs in repair.spares],
        feeds=repair.feeds,
        namesakes=[{"kind": kind, "ask": words or None} for kind, words in repair.namesakes],
        goes_dark=[{"name": name, "count": count} for name, count in repair.goes_dark],
        changed=[{"name": name, "before": before, "after": after} for name, before, after in repair.changed],
        left=repair.left,
    )


def _namesakes(repair: Repair) -> Iterator[str]:
    """What else bears its name, and how that is asked for."""
    if not repair.namesakes:
        return
    others = _listed(f"a {kind}" for kind, _ in repair.namesakes)
    asked = [f'"{safe(words)}"' for _, words in repair.namesakes if words]
    ask = (
        f"; ask for {' or '.join(asked)} if you mean {'that' if len(asked) == 1 else 'one of those'}"
        if asked
        else ""
    )
    yield f"The {repair.kind} is meant here. There is {others} of that name too{ask}."


def _listed(names: Iterable[str]) -> str:
    return enumerated([*names], most=_NAMES)


def _spot(spot: Spot) -> str:
    what = {"joint": "its joint", "resistor": "its resistor", "conductor": "its lead"}.get(
        spot.kind, f"the {spot.kind}"
    )
    how = {"open": "open to the hand", "cover": "behind a cover", "cut": "reached by cutting only"}[
        spot.reach
    ]
    if spot.kind == "conductor":
        how = "painted over or trapped: reached by cutting only"
    if spot.reach == "cover" and spot.opens_with:
        how += f" that opens with {'a tool' if spot.opens_with == 'tool' else spot.opens_with}"
    if spot.reach == "cover" and spot.opening is not None:
        how += f" that must come out by {show(spot.opening, 'm')}"
    return f"{what[0].upper()}{what[1:]} at '{safe(spot.place)}': {how}."


def _sure(repair: Repair) -> Iterator[str]:
    if not repair.readings and repair.forbids:
        yield f"Nothing is put on a bench supply here: {safe(repair.forbids)}."
        return
    if not repair.readings:
        yield "Nothing can be measured from outside: no end of it, or of its line, is in reach where its supply does no harm."
        return
    yield f"Switch off and unplug first, and take {_off(repair)}. Then put a bench supply on these ends, positive to positive: the limit first, then the volts."
    feeds = repair.kind in _FEEDS
    # strings side by side are measured one by one, and alike
    for _, alike in groupby(
        repair.readings, key=lambda one: replace(one, name="") if one.kind == "lead" else one
    ):
        each = list(alike)
        yield _reading(each[0], [one.name for one in each], feeds=feeds)
    if feeds:
        yield f"Where these read as they should, the fault is in the {repair.kind} itself or before it."


def _off(repair: Repair) -> str:
    """The lines that are taken off what feeds them, so that the bench supply has them alone."""
    by: dict[tuple[str, str], list[str]] = {}
    for feed in repair.feeds:
        by.setdefault((feed.kind, feed.name), []).append(f"'{safe(feed.line)}'")
    takes = []
    for (kind, name), lines in by.items():
        feeder = f"{kind} '{safe(name)}'" if kind else "what feeds it"
        takes.append(f"line{'s' if len(lines) > 1 else ''} {_listed(lines)} off {feeder}")
    return _listed(takes) if takes else "its line off what feeds it"


def _reading(reading: Reading, names: list[str], *, feeds: bool) -> str:
    ends = ", ".join(
        f"{safe(colour)} to {sign}"
        for sign, colour in (("+", reading.plus_colour), ("-", reading.minus_colour))
        if colour
    )
    flag = f', marked "{safe(reading.label)}"' if reading.label else ""
    cover = " (behind a cover)" if reading.reach == "cover" else ""
    if reading.kind == "lead":
        listed = _listed(f"'{safe(name)}'" for name in names)
        own = "its own lead" if len(names) == 1 else f"the leads of {listed} one by one"
        what = f"{own}, off {'its joint' if len(names) == 1 else 'their joints'}"
        what += f" ({ends}{flag})" if ends or flag else ""
    else:
        others = f"with {counted(reading.others, 'other')}" if reading.others else "nothing else on it"
        if feeds:
            others = f"with all on it ({reading.others})"
        against = f" against '{safe(reading.returns)}'" if reading.returns else ""
        what = f"line '{safe(reading.name)}'{against}, {others}" + (f" ({ends})" if ends else "")
    says = f"At '{safe(reading.place)}'{cover}, {what}: limit {show(reading.limit, 'A')}, then {show(reading.volts, 'V')}. Whole: {_span(reading.whole)}."
    if reading.dark is not None:
        says += f" Failed: {_span(reading.dark)}."
        if not reading.tells:
            says += " The two overlap, so this alone does not tell."
        elif reading.like:
            like = first_few([f"'{safe(name)}'" for name in reading.like], _NAMES)
            says += f" The same if {like} failed instead."
    return says


def _span(span: Expected) -> str:
    if span.most < _NOTHING:
        return "nothing"
    low, high = show(span.least, "A"), show(span.most, "A")
    return low if low == high else f"{low} to {high}, usually {show(span.usual, 'A')}"


def _instead(repair: Repair) -> Iterator[str]:
    if repair.new_lead:
        cut = ", ".join(
            f"{f'{one.count} x ' if one.count > 1 else ''}{show(one.length, 'm')} of {safe(one.wire)}{f', {safe(one.colour)}' if one.colour else ''}"
            for one in repair.new_lead
            if one.length is not None
        )  # fmt: skip
        if cut:
            yield f"A new lead: cut {cut}."
    elif repair.kind in ("lamp", "strip", "load"):
        cut_off = any(spot.reach == "cut" and spot.kind not in ("joint", "resistor") for spot in repair.spots)
        yield (
            "No new lead without cutting: its far end is out of reach."
            if cut_off
            else "No new lead is listed for it: it has none of its own."
        )
    for spare, beside in repair.spares:
        runs = " or ".join(f"'{safe(run)}'" for run in beside)
        yield f"If a run is broken and not the part itself: spare '{safe(spare)}' lies beside {runs}."
    dark = [
        f"'{safe(name)}'"
        + (f" (not the {repair.kind})" if name == repair.name and repair.kind in _FEEDS else "")
        + (f", {count} in it" if count > 1 else "")
        for name, count in repair.goes_dark
    ]
    if dark:
        # what a feed goes to may be motors as well as lamps
        how = "dark" if repair.kind in ("lamp", "strip") else "without current"
        yield f"Left as it is, {how}: {first_few(dark, _NAMES, '; ')}."
    for (after, before), alike in groupby(sorted(repair.changed, key=_shown), key=_shown):
        names = [f"'{safe(name)}'" for name, *_ in alike]
        gets = "gets" if len(names) == 1 else "get"
        yield f"Then {first_few(names, _NAMES)} {gets} {after} instead of {before}."
    for one in repair.left:
        yield f"Left so, {one.severity}: {safe(one.says)}"
    if dark and not repair.left and repair.changed:
        yield "No check finds fault with that."
    elif dark and not repair.left and repair.kind not in _FEEDS:
        yield "Nothing else changes so that one sees it."


def _shown(changed: tuple[str, float, float]) -> tuple[str, str]:
    """What something gets with the part gone, and with it."""
    _, before, after = changed
    return show(after, "A"), show(before, "A")
