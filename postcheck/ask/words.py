"""The words of a question: quantities, wires, lamps and cells by name, and how many of each."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from postcheck import catalogue
from postcheck.ask.mistake import Mistake
from postcheck.description.problems import QuantityError
from postcheck.description.quantities import MOST_CHARACTERS, parse, parse_cycles
from postcheck.description.units import Dimension
from postcheck.plain import nearest, quoted

MOST_THINGS = 100
"""Of what lies in one bore: more is a typing mistake, and takes minutes to arrange."""

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


# 30 awg, 12 x 30awg, awg 30
_GAUGE = re.compile(
    r"(?:[0-9]+ ?[x×] ?)?(?:(?P<before>[0-9]{1,2})[ -]?awg|awg[ -]?(?P<behind>[0-9]{1,2}))\b.*", re.IGNORECASE
)
# in a name's place, and in no name
_FILLING = frozenset(
    ("a", "an", "one", "of", "lamp", "lamps", "leds", "light", "lights", "the", "wire", "wires")
)
_MOST_OFFERED = 3


def wire(name: str) -> catalogue.Wire:
    """The wire of this name."""
    _no_bare_gauge(name)
    try:
        return catalogue.wire(name)
    except catalogue.UnknownRow as row:
        raise unknown(row) from None


def unknown(row: catalogue.UnknownRow, more: Iterable[str] = ()) -> Mistake:
    """What to say of a name that the catalogue does not have."""
    head = f"there is no {row.kind} {quoted(row.name)} in the catalogue"
    if holding := _holding(row):
        return Mistake(f"{head}; did you mean {either(holding)}?")
    near = nearest(row.name, [*more, *row.near]) if len(row.name) <= MOST_CHARACTERS else None
    if near is not None:
        return Mistake(f"{head}; did you mean {quoted(near)}?")
    return Mistake(f"{head}; `postcheck catalogue {row.kind}` lists them")


def _holding(row: catalogue.UnknownRow) -> list[str]:
    """The first names that hold every word of what was written, those without further words first."""
    words = [word for word in row.name.lower().split()[:6] if word not in _FILLING]
    names = [
        name
        for name in catalogue.names(row.kind)
        if words and all(f"-{word}-" in f"-{name}-" for word in words)
    ]
    return sorted(names, key=lambda name: name.count("-"))[:_MOST_OFFERED]


def either(names: Sequence[str]) -> str:
    """Names in quotes to choose from: 'a', 'b' or 'c'."""
    *others, last = map(quoted, names)
    return f"{', '.join(others)} or {last}" if others else last


def _no_bare_gauge(text: str) -> None:
    """Mistake where a wire is told by its gauge alone: how thick it is outside, its insulation decides."""
    gauge = _GAUGE.fullmatch(" ".join(text.split()))
    if gauge is None:
        return
    number = int(gauge["before"] or gauge["behind"])
    of_gauge = [
        row.name for row in catalogue.rows("wire") if isinstance(row, catalogue.Wire) and row.gauge == number
    ]
    # one of each insulation, the plain name first
    plain = {name.partition("-")[0]: name for name in sorted(of_gauge, key=len, reverse=True)}
    order = sorted(plain.values(), key=lambda name: (not name.startswith("ptfe"), of_gauge.index(name)))
    if not order:
        raise Mistake(
            f"{quoted(text)}: no wire of AWG {number} is in the catalogue; `postcheck catalogue wire` lists them"
        )
    raise Mistake(
        f"{quoted(text)} does not say how it is insulated, and that decides how thick it is; write {either(order[:_MOST_OFFERED])}"
    )


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
    _no_bare_gauge(plain)
    # "1 1/4 in" is a length, "1 x 1/4 in" one thing of a quarter inch
    if "x" not in plain and "×" not in plain and (diameter := _length(plain)) is not None:
        return Thing(1, None, diameter, plain)
    if re.match(r"[0-9]*\.[0-9]+ ?[a-z]* ?[x×]", plain):
        raise Mistake(
            f"{quoted(text)}: only round ones are arranged here, such as {quoted('6.4 mm')} or {quoted('2 x 1.2 mm')}; "
            "a flat cable is judged in a build file"
        )
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
