"""The closing list with its boxes, and the client's card."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.faces.markup import el
from postcheck.faces.sheet import words
from postcheck.faces.sheet.pages import Block, Cell, Column, Table, prose
from postcheck.sheet import ClientCard, ClosingPlace

__all__ = ["client", "closing"]

_BOX = 6.0


def closing(places: tuple[ClosingPlace, ...]) -> Iterator[Block | Table]:
    """Each place that gets closed, with what must be done before."""
    if not places:
        yield prose("Nothing in this build is closed for good.")
        return
    yield prose(
        "Tick each box when it is done, write down what the meter showed, and put it into the build file as a [[proof]]. Then ask: postcheck check --closing PLACE.",
        class_="lead",
    )
    for place in places:
        yield Block(
            el("h3", el("bdi", f"{words.text(place.name)} ({words.ACCESS[place.access]})")), 8.5, keep=True
        )
        if place.cut:
            names = ", ".join(words.text(name, 60) for name in place.cut[:12])
            more = f" and {len(place.cut) - 12} more" if len(place.cut) > 12 else ""
            yield prose(f"Needs cutting to reach, once closed: {names}{more}.", keep=bool(place.items))
        if place.items:
            yield Table(
                f"Before {words.text(place.name)} is closed",
                (Column("Done", 14.0), Column("What", 56.0), Column("How", 76.0), Column("Read, date", 40.0)),
                tuple(
                    (
                        Cell(
                            (
                                (
                                    "yes" if item.done else " ",
                                    (
                                        el(
                                            "span",
                                            class_="box ticked" if item.done else "box",
                                            aria_hidden="true",
                                        ),
                                    ),
                                    _BOX,
                                    "",
                                ),
                            )
                        ),
                        Cell.of(words.text(item.subject), class_="name"),
                        Cell.of(words.text(item.what, 300)),
                        Cell.of(words.text(item.proof, 120) or " "),
                    )
                    for item in place.items
                ),
            )


def client(card: ClientCard) -> Iterator[Block | Table]:
    """What the owner of the model needs to know."""
    for heading, said in (
        ("What to plug in", [words.plugs_in(supply) for supply in card.supplies]),
        ("What not to do", list(words.do_not(card))),
        ("Take care", list(words.cautions(card))),
    ):
        if said:
            yield Block(el("h3", heading), 8.5, keep=True)
            for sentence in said:
                yield prose(sentence, class_="point")
    if card.note:
        yield prose(words.text(card.note, 600))
    yield Block(el("h3", "What is where"), 8.5, keep=True)
    yield Table(
        "What is where",
        (Column("Place", 50.0), Column("What", 96.0), Column("To get at it", 40.0)),
        tuple(
            (
                Cell.of(words.text(place.name)),
                Cell.of(
                    *(
                        words.is_where(name, does)
                        for name, does in place.things[:_MOST_THINGS]
                    ),
                    f"and {len(place.things) - _MOST_THINGS} more" if len(place.things) > _MOST_THINGS else "",
                ),
                Cell.of(words.ACCESS[place.access]),
            )
            for place in card.places
        ),
    )  # fmt: skip


_MOST_THINGS = 20
