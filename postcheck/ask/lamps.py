"""The lamp of a question: one of the catalogue, one colour of it, or one of which only volts and current are known."""

from __future__ import annotations

import re
from typing import Any, NamedTuple

from postcheck import catalogue
from postcheck.ask.mistake import Mistake
from postcheck.ask.words import counted, quantity, unknown
from postcheck.description.problems import QuantityError
from postcheck.description.quantities import parse_spread
from postcheck.description.units import Dimension
from postcheck.plain import nearest, quoted

_DESCRIBED = re.compile(r"(?P<forward>.+?) (?:at|@) (?P<at>.+)")


class Lamp(NamedTuple):
    """So many lamps of a kind in series: `colour` of several, or `own` as a table of a kind of its own."""

    pieces: int
    kind: str
    colour: str | None = None
    own: dict[str, Any] | None = None

    @property
    def shown(self) -> str:
        """What it is called in an answer."""
        what = self.kind if self.colour is None else f"{self.kind} {self.colour}"
        return what if self.pieces == 1 else f"{self.pieces} {what} in series"

    def verb(self, one: str, many: str) -> str:
        """The verb that goes with it, or the word for what it has."""
        return one if self.pieces == 1 else many


def lamp(text: str, rated: str | None = None) -> Lamp:
    """The lamp of "smd-0402-red", "3 smd-0603-white", "smd-5050-rgb red" or "1.8 V at 20 mA"."""
    plain = " ".join(text.split())
    if (described := _DESCRIBED.fullmatch(plain)) is not None:
        return _described(described["forward"], described["at"], rated)
    if rated is not None:
        raise Mistake("--rated is for a lamp written as volts and current; one of the catalogue has its own")
    if re.match(r"[0-9.]+ ?V\b", plain):
        raise Mistake(f'{quoted(text)} has no current; write "2.0 V at 20 mA"')
    count, whole = counted(plain)
    name, colour = _parted(whole)
    try:
        row = catalogue.lamp(name)
    except catalogue.UnknownRow as row_unknown:
        if name in catalogue.names("strip"):
            raise Mistake(f"{quoted(name)} is a strip, which bears its resistors on it already") from None
        raise unknown(_of_all_words(whole) or row_unknown) from None
    if isinstance(row, catalogue.FilamentLamp):
        if colour is not None:
            raise Mistake(f"{quoted(row.name)} has no colours to choose from")
        return Lamp(count, row.name)
    return Lamp(count, row.name, _colour(row, colour))


def _of_all_words(whole: str) -> catalogue.UnknownRow | None:
    """What is to be said of "3mm white", where no colour was meant for a lamp of its own."""
    try:
        catalogue.lamp(whole)
    except catalogue.UnknownRow as unknown_whole:
        return unknown_whole
    return None


def _parted(name: str) -> tuple[str, str | None]:
    head, space, last = name.rpartition(" ")
    return (head, last.lower()) if space else (name, None)


def _colour(row: catalogue.LedLamp, wanted: str | None) -> str | None:
    """Which die of a lamp is meant; None where it has one."""
    colours = [die.colour for die in row.dice]
    alike = {colour.rpartition("-")[0] for colour in colours if colour[-1].isdigit()}
    if len(colours) == 1:
        if wanted not in (None, colours[0], row.colour):
            raise Mistake(f"{quoted(row.name)} is {row.colour} and has no {quoted(wanted or '')}")
        return None
    if wanted in colours:
        return wanted
    if len(alike) == 1 and wanted in (None, *alike):
        return colours[0]
    near = nearest(wanted, colours) if wanted else None
    hint = f"did you mean {quoted(near)}?" if near else f'say which, such as "{row.name} {colours[0]}"'
    raise Mistake(
        f"{quoted(row.name)} has {', '.join(colours[:-1])} and {colours[-1]}, each with a resistor of its own; {hint}"
    )


def _described(forward: str, at: str, rated: str | None) -> Lamp:
    count, forward = counted(forward) if re.match(r"[0-9]+ ?(?:x|×|of )", forward) else (1, forward)
    try:
        volts = parse_spread(forward, Dimension.VOLTAGE)
    except QuantityError as error:
        raise Mistake(f"the forward voltage: {error}") from None
    if not volts.least > 0.0:
        raise Mistake(f"the forward voltage: {quoted(forward)} is nothing; it has to be above zero")
    quantity(at, Dimension.CURRENT, "the lamp's current")
    if rated is not None:
        quantity(rated, Dimension.CURRENT, "--rated")
    return Lamp(count, f"a lamp of {forward}", None, {"forward": forward, "at": at, "rated": rated or at})
