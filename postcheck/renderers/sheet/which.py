"""Unmarked leads: the setting that harms none of them, what each reads, and room for which it was."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.identification import LeadExpected, Setting
from postcheck.renderers import which
from postcheck.renderers.sheet import words
from postcheck.renderers.sheet.pages import BY_HAND, Block, Cell, Column, Table, heading, prose
from postcheck.sheet import WhichPlace

NOTHING = "No two unmarked leads end at one place."
NO_SETTING = "There is no setting that harms none of them: follow each lead to its lamp by hand, and mark it."


def blocks(places: tuple[WhichPlace, ...]) -> Iterator[Block | Table]:
    """The places one after the other."""
    if not places:
        yield prose(NOTHING)
    for place in places:
        yield heading(words.text(place.name))
        for said, heavy in sentences(place):
            yield prose(said, class_="name" if heavy else "small", keep=True)
        if place.first is not None and place.expected:
            yield Table(
                f"Unmarked leads at {words.text(place.name)}",
                tuple(Column(*each) for each in zip(head(place), _WIDE, strict=True)),
                tuple(tuple(Cell.of(cell or " ") for cell in row) for row in rows(place)),
            )  # fmt: skip


_WIDE = (43.0, 36.0, 36.0, 22.0, 18.0, BY_HAND)


def head(place: WhichPlace) -> tuple[str, ...]:
    """The columns, with the settings: a table may go on overleaf, and hang there alone."""
    first, more = (
        f" ({words.show(one.volts, 'V')} through {words.show(one.ohms, 'ohm')})" if one is not None else ""
        for one in (place.first, place.more)
    )
    return "Lead", f"Reads at A{first}", f"At B{more}", "Light", "Lights in", "Found"


def sentences(place: WhichPlace) -> Iterator[tuple[str, bool]]:
    """What is done at the bench, in order; the settings stand out."""
    for said in which.apart_words(place.apart):
        yield words.text(said, 300), True
    if place.first is None:
        yield NO_SETTING, True
        return
    yield which.first_words(place.first), True
    yield words.text(which.why_first(place.first), 500), False
    for rule in which.rules(place.first):
        yield rule, False
    if place.more is not None:
        first, second = which.more_words(place.more)
        yield first, True
        yield second, False


def rows(place: WhichPlace) -> Iterator[tuple[str, ...]]:
    """Each lead in the order of its reading, with room for which it was found to be."""
    assert place.first is not None
    for one in place.expected:
        yield _row(one, place.first)


def _row(one: LeadExpected, first: Setting) -> tuple[str, ...]:
    return (
        words.text(one.name),
        "dark" if which.dark(one, first) else which.reads(one.first),
        which.reads(one.more) if one.more is not None else "",
        words.text(", ".join(one.colours), 40),
        words.text(", ".join(one.places), 40),
        "",
    )
