"""The sheet as Markdown, for a build log: the same parts in the same words, tables instead of drawings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.materials import Materials
from postcheck.pictured import BorePicture
from postcheck.renderers import bore_words
from postcheck.renderers.figures import show
from postcheck.renderers.markdown import plain
from postcheck.renderers.sheet import client_words, lists, which, words
from postcheck.sheet import BenchRow, HubPlace, Sheet


def render(sheet: Sheet) -> str:
    """The parts of the sheet, each under its heading."""
    lines = [f"# {plain(words.text(sheet.build))}", "", plain(words.verdict(sheet)), ""]
    for warning in words.asked(sheet):
        lines += [f"**{plain(warning)}**", ""]
    for part in sheet.parts:
        lines += [f"## {words.HEADINGS[part]}", "", *_part(sheet, part)]
    return "\n".join(lines).rstrip() + "\n"


def _part(sheet: Sheet, part: str) -> Iterator[str]:
    match part:
        case "hub":
            for note in words.own_legs(sheet):
                yield from (plain(note), "")
            for place in sheet.hub:
                yield from _hub(place)
        case "bench":
            yield from _bench(sheet)
        case "which":
            yield from _which(sheet)
        case "post":
            for picture in sheet.bores:
                yield from _bore(picture)
        case "volts":
            yield from _volts(sheet)
        case "supply":
            for budget in sheet.supplies:
                yield from _heading(budget.name)
                yield from (plain(said) + "  " for said in words.budget(budget))
                yield ""
                yield from _table(
                    ("Takes", "usually", "at most"),
                    (
                        (f"{part.kind} {words.text(part.name)}", show(part.nominal, "A"), show(part.highest, "A"))
                        for part in budget.shares
                    ),
                )  # fmt: skip
        case "cut" | "buy" if sheet.materials is not None:
            yield from _list(part, sheet.materials)
        case "closing":
            yield from _closing(sheet)
        case "client":
            yield from _client(sheet)


def _volts(sheet: Sheet) -> Iterator[str]:
    for path in sheet.paths:
        yield from _heading(path.circuit)
        yield from (plain(said) for said in words.circuit_path(path))
        yield ""
        yield from _table(
            ("Point", "From the supply", "Volts"),
            (
                (words.text(point.name), show(point.metres, "m"), f"{point.volts:.4g} V")
                for point in path.points
            ),
        )


def _list(part: str, materials: Materials) -> Iterator[str]:
    cut = part == "cut"
    rules = lists.cut_rules(materials) if cut else lists.buy_rules(materials)
    yield from (f"- {plain(rule)}" for rule in rules)
    yield ""
    if cut:
        yield from _table(lists.CUT_HEAD, map(lists.cut_row, materials.pieces))
    else:
        yield from _table(lists.BUY_HEAD, map(lists.buy_row, materials.items))


def _bore(picture: BorePicture) -> Iterator[str]:
    yield from _heading(bore_words.title(picture))
    yield from (plain(line) + "  " for line in (bore_words.heading(picture), *bore_words.facts(picture)))
    yield ""
    yield from _table(
        ("No", "What", "Colour", "Across"),
        (
            (str(c.number), bore_words.what(c), bore_words.colour_words(c), bore_words.across(c))
            for c in picture.circles
        ),
    )


def _hub(place: HubPlace) -> Iterator[str]:
    yield from _heading(place.name, words.ACCESS[place.access])
    rows = [
        (
            f"{words.text(joint.line)} {joint.side if joint.line[-1:] != joint.side else ''}".strip(),
            words.hub_name(end), words.text(end.colour, 24), words.text(end.wire, 40),
            f"{f'{end.count} x ' if end.count > 1 else ''}{show(end.ohms, 'ohm')}" if end.ohms is not None else "",
        )
        for joint in place.joints
        for end in joint.ends
    ]  # fmt: skip
    rows += [
        ("joined to nothing", words.hub_name(end), words.text(end.colour, 24), words.text(end.wire, 40), "")
        for end in place.loose
    ]
    yield from _table(("Line", "What", "Colour", "Wire", "Resistor here"), rows)


def _bench(sheet: Sheet) -> Iterator[str]:
    for rule in words.BENCH_RULES:
        yield f"- {plain(rule)}"
    yield ""
    for place in sheet.bench:
        yield from _heading(place.name, words.ACCESS[place.access])
        yield from _table(
            ("Lead", "Colours", "Resistor", "Full supply", "Wrong way round", "Bench supply", "Full supply through"),
            (_bench_row(row) for row in (*place.leads, *place.lines)),
        )  # fmt: skip
        for said in (*words.as_lead(place), *words.as_at(place), *words.not_worked_out(place)):
            yield from (plain(said), "")


def _bench_row(row: BenchRow) -> tuple[str, ...]:
    ends = (f"{colour} to {pole}" for pole, colour in zip("+-", words.colours(row), strict=True) if colour)
    return (
        words.bench_name(row) + (f', marked "{words.text(row.label)}"' if row.label else ""),
        ", ".join(ends), words.resistor(row), _both(words.contact_test(row)), _both(words.backwards(row)),
        _both(words.setting(row)), "; ".join(words.through(row)),
    )  # fmt: skip


def _which(sheet: Sheet) -> Iterator[str]:
    if not sheet.which:
        yield from (which.NOTHING, "")
    for place in sheet.which:
        yield from _heading(place.name)
        for said, heavy in which.sentences(place):
            yield f"**{plain(said)}**" if heavy else plain(said)
            yield ""
        if place.first is not None and place.expected:
            yield from _table(which.head(place), which.rows(place))


def _both(pair: tuple[str, str]) -> str:
    return ": ".join(part for part in pair if part)


def _closing(sheet: Sheet) -> Iterator[str]:
    for note in words.left_so(sheet):
        yield from (plain(note), "")
    if not sheet.closing:
        yield from (words.NOTHING_CLOSED, "")
    for caution in words.long_run(sheet.closing):
        yield from (f"**{plain(caution)}**", "")
    for place in sheet.closing:
        yield from _heading(place.name, words.ACCESS[place.access])
        for item in place.items:
            pieces = [words.text(item.subject), words.how_tested(item), words.what_proves(item)]
            pieces.append(words.tested_already(item))
            yield f"- [{'x' if item.done else ' '}] {plain('; '.join(part for part in pieces if part))}"
        for said in words.cut_open(place):
            yield from ("", plain(said))
        yield ""


def _client(sheet: Sheet) -> Iterator[str]:
    if sheet.client is None:
        return
    card = sheet.client
    for said in (
        *client_words.cautions(card),
        *map(client_words.plugs_in, card.supplies),
        *client_words.do_not(card),
    ):
        yield f"- {plain(said)}"
    yield ""
    yield from _table(
        ("Place", "What", "To get at it"),
        (
            (
                words.text(place.name),
                "; ".join(client_words.are_where(place.things)),
                words.ACCESS[place.access],
            )
            for place in card.places
        ),
    )
    if card.note:
        yield plain(words.text(card.note, 600))
        yield ""


def _heading(name: str, more: str = "") -> Iterator[str]:
    yield f"### {plain(words.text(name))}" + (f" ({more})" if more else "")
    yield ""


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    yield f"| {' | '.join(head)} |"
    yield f"|{' --- |' * len(head)}"
    for row in rows:
        yield f"| {' | '.join(map(plain, row))} |"
    yield ""
