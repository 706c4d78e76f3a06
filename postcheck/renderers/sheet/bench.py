"""The bench card: place by place, each lead with what hurts it and the setting that does not."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.renderers.sheet import words
from postcheck.renderers.sheet.pages import BY_HAND, Block, Cell, Column, Table, heading, prose
from postcheck.renderers.sheet.wires import swatch
from postcheck.sheet import BenchPlace, BenchRow

_SWATCH = 14.0


def blocks(places: tuple[BenchPlace, ...]) -> Iterator[Block | Table]:
    """The places one after the other."""
    yield prose(
        'How each lead is tested so that nothing can be harmed. "Full supply" is what happens if the model\'s own supply touches the bare ends.',
        class_="lead",
    )
    for rule in words.BENCH_RULES:
        yield prose(rule, class_="small")
    for place in places:
        yield heading(f"{words.text(place.name)} ({words.ACCESS[place.access]})")
        rows = (*place.leads, *place.lines)
        if rows:
            yield _table(place, rows)
        for said in (*words.as_lead(place), *words.as_at(place), *words.not_worked_out(place, 12)):
            yield prose(said)


def _table(place: BenchPlace, rows: tuple[BenchRow, ...]) -> Table:
    return Table(
        f"Bench card of {words.text(place.name)}",
        (
            Column("Lead", 37.0), Column("Resistor", 22.0), Column("Full supply", 22.0),
            Column("Wrong way round", 20.0), Column("Bench supply", 27.0),
            Column("Full supply through", 27.0), Column("Read", BY_HAND),
        ),
        tuple(_row(row) for row in rows),
    )  # fmt: skip


def _row(row: BenchRow) -> tuple[Cell, ...]:
    danger = "danger" if row.fate in ("destroyed", "too much") else ""
    bare = danger if row.resistor_position in ("behind", "none") else ""
    return (
        _lead(row),
        Cell.of(words.resistor(row), class_=bare),
        _pairs(words.contact_test(row), class_=danger),
        _pairs(words.backwards(row)),
        _pairs(words.setting(row), class_="name"),
        Cell.of(*words.through(row)),
        Cell.of(" "),
    )


def _pairs(pair: tuple[str, str], class_: str = "") -> Cell:
    """What matters and its figures, the first in a class of its own."""
    first, second = pair
    return Cell(tuple(part for part in ((first, (), 0.0, class_), (second, (), 0.0, "")) if part[0]))


def _lead(row: BenchRow) -> Cell:
    name = (words.bench_name(row), (), 0.0, "name")
    ends = [
        (f"{colour} to\u00a0{pole}", (swatch(colour),), _SWATCH, "")
        for pole, colour in zip("+-", words.colours(row), strict=True)
        if colour
    ]
    marked = [(f'marked "{words.text(row.label)}"', (), 0.0, "")] if row.label else []
    return Cell((name, *ends, *marked))
