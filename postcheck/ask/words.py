"""The words of a question: quantities, wires, lamps and cells by name, and how many of each."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from postcheck import catalogue
from postcheck.ask.mistake import Mistake
from postcheck.build.problems import QuantityError
from postcheck.build.quantities import MOST_CHARACTERS, Dimension, parse, parse_cycles
from postcheck.plain import nearest, quoted

__all__ = ["MOST_THINGS", "Thing", "counted", "cycles", "quantity", "things", "unknown", "wire"]

MOST_THINGS = 100
"""Of what lies in one bore: more is a slip, and takes minutes to arrange."""

_COUNTED = re.compile(r"(?P<count>[0-9]+) ?(?:[x×] ?|of | )(?P<what>.+)")


class Thing(NamedTuple):
    """So many alike in a bore: of a wire of the catalogue, or as thick as measured (m, and as it was written)."""

    pieces: int
    wire: catalogue.Wire | None
    diameter: float
    written: str


def quantity(text: str, dimension: Dimension, what: str, *, zero: bool = False) -> float:
    """The SI value of a quantity above zero; `what` names it where it cannot be read."""
    try:
        value = parse(text, dimension)
    except QuantityError as error:
        raise Mistake(f"{what}: {error}") from None
    if value == 0.0 and not zero:
        raise Mistake(f"{what}: {quoted(text)} is nothing; it has to be above zero")
    return value


def cycles(text: str) -> float:
    """How many times, from "5000 times" or "10 /day for 10 years"."""
    try:
        value = parse_cycles(text)
    except QuantityError as error:
        raise Mistake(f"--cycles: {error}") from None
    if value < 1.0:
        raise Mistake(f"--cycles: {quoted(text)} is less than once")
    return value


def wire(name: str) -> catalogue.Wire:
    """The wire of this name."""
    try:
        return catalogue.wire(name)
    except catalogue.UnknownRow as row:
        raise unknown(row) from None


def unknown(row: catalogue.UnknownRow, more: Iterable[str] = ()) -> Mistake:
    """What to say of a name that the catalogue does not have."""
    head = f"there is no {row.kind} {quoted(row.name)} in the catalogue"
    near = nearest(row.name, [*more, *row.near]) if len(row.name) <= MOST_CHARACTERS else None
    if near is not None:
        return Mistake(f"{head}; did you mean {quoted(near)}?")
    return Mistake(f"{head}; `postcheck catalogue {row.kind}` lists them")


def counted(text: str) -> tuple[int, str]:
    """How many, and of what: "3 ptfe-28", "3x ptfe-28", "3 of ptfe-28"; one where no number stands before it."""
    text = " ".join(text.split())
    match = _COUNTED.fullmatch(text)
    if match is None:
        return 1, text
    if len(match["count"]) > 6:
        raise Mistake(f"{quoted(text)} counts far too many")
    return int(match["count"]), match["what"]


def things(texts: Iterable[str]) -> tuple[Thing, ...]:
    """What lies in a bore: "3 ptfe-28", "1.2 mm", "2 x 1.2 mm". Alike wires are counted together."""
    found: list[Thing] = []
    for text in texts:
        thing = _thing(text)
        if thing.pieces < 1:
            raise Mistake(f"{quoted(text)} counts none")
        same = next((n for n, other in enumerate(found) if other[1:] == thing[1:]), None)
        if same is None:
            found.append(thing)
        else:
            found[same] = thing._replace(pieces=thing.pieces + found[same].pieces)
    total = sum(thing.pieces for thing in found)
    if total > MOST_THINGS:
        raise Mistake(f"{total} in one bore are more than the {MOST_THINGS} that are arranged here")
    return tuple(found)


def _thing(text: str) -> Thing:
    plain = " ".join(text.split())
    # "1 1/4 in" is a length, "1 x 1/4 in" one thing of a quarter inch
    if "x" not in plain and "×" not in plain and (diameter := _length(plain)) is not None:
        return Thing(1, None, diameter, plain)
    count, what = counted(plain)
    if not re.match(r"[-+.0-9]", what):
        row = wire(what)
        return Thing(count, row, row.max_diameter, row.name)
    return Thing(count, None, quantity(what, Dimension.LENGTH, "what lies in the bore"), what)


def _length(text: str) -> float | None:
    try:
        return parse(text, Dimension.LENGTH) or None
    except QuantityError:
        return None
