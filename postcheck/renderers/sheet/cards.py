"""The closing list with its boxes, and the client's card."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.renderers.markup import el
from postcheck.renderers.sheet import client_words, words
from postcheck.renderers.sheet.pages import Block, Cell, Column, Table, heading, prose
from postcheck.sheet import ClientCard, ClosingItem, Sheet

_BOX = 6.0


def closing(sheet: Sheet) -> Iterator[Block | Table]:
    """What is left as it is on purpose; each place that gets closed, with what must be done before."""
    places = sheet.closing
    for note in words.left_so(sheet):
        yield prose(note)
    if not places:
        yield prose(words.NOTHING_CLOSED)
        return
    yield prose(
        "Tick each box when it is done, write down what the meter showed, and put it into the build file as a [[proof]]. Then ask: postcheck check --closing PLACE.",
        class_="lead",
    )
    for caution in words.long_run(places):
        yield prose(caution, class_="stop", keep=True)
    for place in places:
        yield heading(f"{words.text(place.name)} ({words.ACCESS[place.access]})")
        for said in words.cut_open(place):
            yield prose(said, keep=bool(place.items))
        if place.items:
            yield Table(
                f"Before {words.text(place.name)} is closed",
                (Column("Done", 22.0), Column("What", 48.0), Column("How", 76.0), Column("Read, date", 40.0)),
                tuple(_item(item) for item in place.items),
            )


def _item(item: ClosingItem) -> tuple[Cell, ...]:
    box = el("span", class_="box ticked" if item.done else "box", aria_hidden="true")
    subject = words.text(item.subject)
    return (
        Cell((("done" if item.done else "to do", (box,), _BOX, ""),)),
        Cell.of(subject if item.kind == "lamp" else f"{item.kind} {subject}", class_="name"),
        Cell.of(words.how_tested(item), words.what_proves(item)),
        Cell.of(words.tested_already(item) or " "),
    )


def client(card: ClientCard) -> Iterator[Block | Table]:
    """What the owner of the model needs to know."""
    for title, said in (
        ("Take care", list(client_words.cautions(card))),
        ("What powers it", [client_words.plugs_in(supply) for supply in card.supplies]),
        ("What not to do", list(client_words.do_not(card))),
    ):
        if said:
            yield heading(title)
            for sentence in said:
                yield prose(sentence, class_="point")
    if card.note:
        yield prose(words.text(card.note, 600))
    yield heading("What is where")
    yield Table(
        "What is where",
        (Column("Place", 50.0), Column("What", 96.0), Column("To get at it", 40.0)),
        tuple(
            (
                Cell.of(words.text(place.name)),
                Cell.of(*client_words.are_where(place.things[start : start + client_words.MOST_THINGS])),
                Cell.of(words.ACCESS[place.access]),
            )
            for place in card.places
            for start in range(0, len(place.things) or 1, client_words.MOST_THINGS)
        ),
    )  # fmt: skip
