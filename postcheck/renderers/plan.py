"""A plan as text for people, or as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from math import ceil

from postcheck.plain import enumerated, first_few, harmless
from postcheck.planned import Joined, Planned, PlannedLamp, Unsaid
from postcheck.renderers.figures import show
from postcheck.renderers.words import folded, safe, what_if_words

_SHOWN = 6
# A lamp with less than this share of the light that was planned is hardly lit, and told at once: judgement.
FAINT = 0.1


def render(planned: Planned, width: int | None = None, *, written_to: str | None = None) -> str:
    """The plan in words; `width`: of a screen, None where it is piped. `written_to`: the file that it was written to."""
    first, *rest = _found(planned, written_to) if planned.verdict is not None else _none(planned)
    lines = [first, *([what_if_words(planned.what_if)] if planned.what_if else []), *rest]
    # what is indented is typed or counted, and stays on its line
    pieces = (
        piece
        for line in lines
        for piece in (
            folded(line, width, 2) if width and line.strip() and not line.startswith("  ") else [line]
        )
    )
    return "".join(f"{piece}\n" for piece in pieces)


def render_json(planned: Planned, version: str) -> str:
    """The plan as JSON text in ASCII that ends in a line break; SI numbers."""
    from postcheck.renderers.json_text import json_text  # noqa: PLC0415 - only where it is asked for

    return json_text(version, plan=planned)


def _title(planned: Planned) -> str:
    return safe(f"{harmless(planned.name)} ({harmless(planned.file)})")


def _found(planned: Planned, written_to: str | None) -> Iterator[str]:
    yield _heading(planned)
    yield ""
    yield from _passages(planned)
    yield from _supplies(planned)
    yield from _drop_and_heat(planned)
    yield ""
    yield from map(_line, planned.lines)
    if planned.lamps:
        yield ""
        yield from map(_lamp, planned.lamps)
    yield ""
    yield "To have at hand:"
    for one in planned.bought:
        amount = (
            f"{ceil(one.amount * 10.0 - 1e-6) / 10.0:g} m of" if one.unit == "m" else f"{one.amount:.0f} x"
        )
        yield f"  {amount} {safe(one.what)}"
    for says in (*planned.heed, *(other.says for other in planned.beside)):
        yield ""
        yield safe(says)
    if planned.asks:
        yield ""
        yield "Not judged, and no plan lays it:"
        for asked in planned.asks:
            yield from _unsaid(asked)
    yield ""
    if written_to is not None:
        too = ", with what it was planned with" if planned.what_if else ""
        yield f"Wrote {safe(written_to)}{too}: check it, and change in it what you like."
    elif planned.stays:
        yield "Nothing is to be changed."
        yield ""
        yield (
            "Against a wiring that stands only conductors, wire and what `--aim` names count; lamps keep their strings, unless the "
            "file gives `count` instead of `series` and `parallel`."
        )
    else:
        yield from _typed(planned)


def _heading(planned: Planned) -> str:
    if planned.stays:
        far = ", as far as was looked" if planned.partly else ""
        return f"Planned anew, no better than what is there{far}: {_title(planned)}"
    stage = " for wiring" if planned.stage == "wiring" else ""
    whole = "The best wiring so far, broken off: it passes" if planned.partly else "A wiring that passes"
    faint = [lamp.dimmed for lamp in planned.lamps if lamp.dimmed is not None and lamp.dimmed < FAINT]
    but = ""
    if faint:
        count = f"{len(faint)} of {len(planned.lamps)} lamps" if len(planned.lamps) > 1 else "its lamp"
        but = f", but with {count} dimmed to {100.0 * max(faint):.0f} % of the light that was planned or less"
    return f"{whole} every check{stage}{but}: {_title(planned)}"


def _supplies(planned: Planned) -> Iterator[str]:
    lasts = dict(planned.lasts)
    for name, load, rated, fuse in planned.supplies:
        of = f" of {show(rated, 'A')}" if rated else ""
        yield (
            f"Supply '{safe(name)}': {show(load, 'A')}{of}"
            + (f", fuse {fuse}" if fuse else "")
            + (f"; lasts {show(lasts[name], 's')}" if name in lasts else "")
        )


def _drop_and_heat(planned: Planned) -> Iterator[str]:
    was = planned.was
    if planned.drop is not None:
        before = f" (before: {show(was.drop, 'V')})" if was.drop is not None else ""
        yield f"Worst drop on the way to a lamp: {show(planned.drop, 'V')}{before}"
    if planned.warmest is not None:
        before = (
            f" (before: '{safe(was.warmest.place)}', {show(was.warmest.rise, 'K')})" if was.warmest else ""
        )
        of = "" if planned.warmest.known else " of known size"
        yield f"Warmest{of}: '{safe(planned.warmest.place)}', {show(planned.warmest.rise, 'K')} above the air around the model{before}"


def _passages(planned: Planned) -> Iterator[str]:
    """How full each passage is, before and after, and how near that is to the best there could be."""
    was = {name: (count, bundle) for name, count, bundle in planned.was.passages}
    for passage in planned.passages:
        name = "Post" if passage.name == "post" else f"'{safe(passage.name)}'"
        if not passage.conductors:
            yield f"{name}: nothing lies in its {show(passage.bore, 'm')} bore"
            continue
        least = (
            "the fewest that these lines can have"
            if passage.conductors <= passage.fewest
            else f"{passage.fewest} would be the fewest"
        )
        count, bundle = was.get(passage.name, (0, 0.0))
        before = f" (before: {count}, {show(bundle, 'm')})" if count else ""
        yield f"{name}: {passage.conductors} conductors, {least}; {show(passage.bundle, 'm')} of the {show(passage.bore, 'm')} bore{before}"
    thinner = planned.thinner
    if thinner is None:
        return
    usual = safe(thinner.usual)
    if thinner.other == 0:
        best = all(passage.conductors <= passage.fewest for passage in planned.passages)
        yield f"Wire: all {thinner.runs} runs are of {usual}" + (
            "; proven: nothing is better in conductors or wire" if best and planned.passages else ""
        )
    else:
        are = f"{thinner.other} of {thinner.runs} runs {'is' if thinner.other == 1 else 'are'} not of {usual}"
        least = (
            f"the bores rule it out for {thinner.fewest} of them at least"
            if thinner.fewest
            else "whether fewer would do is not proven"
        )
        yield f"Wire: {are}; " + (
            "proven: the bore leaves room for no more of it" if thinner.other <= thinner.fewest else least
        )


def _typed(planned: Planned) -> Iterator[str]:
    if not (planned.values or planned.gone or planned.tables.strip()):
        yield "Nothing is open in the file: there is nothing to type."
        return
    besides = ", besides what it was planned with" if planned.what_if else ""
    yield f"In the file{besides} (`--write NEW.post.toml` does it in a copy, with every comment kept):"
    for (table, name), values in groupby(planned.values, key=lambda one: (one.table, one.name)):
        yield f"  {safe(table)}" + (f"  # {safe(name)}" if name else "")
        for one in values:
            yield f"  {safe(one.key)} = {safe(one.value)}" if one.value else f"  without {safe(one.key)}"
        yield ""
    for gone in planned.gone:
        yield f"  without the table of {safe(gone)}"
    if planned.gone:
        yield ""
    yield from (f"  {safe(line)}".rstrip() for line in planned.tables.splitlines())


def _line(line: Joined) -> str:
    verb = "brings back" if line.returns else "feeds"
    named = first_few([f"'{safe(part)}'" for part in line.parts], _SHOWN)
    apart = f"; joined to nothing else: {line.why}" if line.why else ""
    return f"Line '{safe(line.line)}' {verb} {named}{apart}."


def _lamp(lamp: PlannedLamp) -> str:
    strings = f"{lamp.series} in series" if lamp.series > 1 else ""
    if lamp.parallel > 1:
        strings = f"{strings or 'single lamps'}, {lamp.parallel} strings"
    pieces = [strings, f"{lamp.resistor} at '{safe(lamp.seat)}'" if lamp.resistor else "no resistor"]
    pieces += [f"lead {safe(lamp.lead)}"] if lamp.lead else []
    pieces.append(show(lamp.current, "A") + (" in each" if lamp.parallel > 1 else ""))
    why = " (with the resistors inside its place would get too warm)" if lamp.outside else ""
    if lamp.dimmed is not None:
        pieces[-1] += why
        share = f"{100.0 * lamp.dimmed:.0f} %"
        pieces.append(f"dimmed to {share} of what was planned{_held(lamp)}")
        why = ""
    return f"'{safe(lamp.name)}': {'; '.join(piece for piece in pieces if piece)}{why}."


def _held(lamp: PlannedLamp) -> str:
    """What keeps it from more light, as far as that was tried."""
    if lamp.held_by is None:
        return "; brighter was not tried"
    if not lamp.held_by:
        return "; the next resistor down brings a finding"
    named = enumerated([f"{one.kind} '{safe(one.name)}'" for one in lamp.held_by])
    return f": {named} {'allow' if len(lamp.held_by) > 1 else 'allows'} no more"


def _none(planned: Planned) -> Iterator[str]:
    if planned.missing:
        yield f"The file has to say more first: {_title(planned)}"
        for one in planned.missing:
            yield ""
            yield from _unsaid(one)
        return
    if planned.partly:
        yield f"No plan so far, broken off: {_title(planned)}"
        yield "There may be one: look longer, with --seconds."
    else:
        yield f"No plan: {_title(planned)}"
    if planned.blocks:
        count = "one wiring" if planned.checked == 1 else f"{planned.checked} wirings"
        yield f"The best of {count} that {'was' if planned.checked == 1 else 'were'} judged in full still has this in its way:"
    for block in planned.blocks:
        yield ""
        yield safe(block.says) + (" Proven: no wiring of these lines does without." if block.proven else "")
        if block.lines:
            yield f"  {safe(block.remedy)}"
            yield from (f"    {safe(line)}" for line in block.lines)
        yield f"  Name: {block.check}:{safe(block.subject)}"
    for one in planned.asks:
        yield ""
        yield from _unsaid(one)
    if planned.frees:
        yield ""
        yield "Tried, and it frees the plan:"
        for free in planned.frees:
            yield f"  {safe(free.says)}"


def _unsaid(one: Unsaid) -> Iterator[str]:
    if not one.lines:
        yield f"'{safe(one.subject)}': {safe(one.what)}. Missing: {safe(one.missing)}"
        return
    where = f" under {safe(one.table)}" if one.table else ""
    yield f"'{safe(one.subject)}': {safe(one.what)}. Write{where}:"
    yield from (f"  {safe(line)}" for line in one.lines)
