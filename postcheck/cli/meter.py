"""What is typed of a meter: a number in the unit that is asked for, or a word for it."""

from __future__ import annotations

import re
from dataclasses import replace

from postcheck.description.problems import QuantityError
from postcheck.description.quantities import parse
from postcheck.description.units import Dimension
from postcheck.plain import harmless
from postcheck.recorded import BenchTest, MeterReading

__all__ = ["PROMPTS", "UNDERSTOOD", "MisreadError", "reading"]

PROMPTS = {
    "volts": "V: ",
    "current": "mA: ",
    "continuity": "ohm, yes or no: ",
    "work": "what was seen, yes or no: ",
    "look": "Is all of it lit? yes or no: ",
    "hours": "Hours it has run ({least:g} are asked for): ",
}
"""What is asked, by what is measured."""

UNDERSTOOD = {
    "volts": "the volts of the bench supply, such as 12 or 12 V",
    "current": "what the meter shows in mA, such as 9.7, or with its unit, such as 0.0097 A; dark, if nothing flows; reversed, if it lights the wrong way round only",
    "continuity": "the ohms from end to end, such as 0.4; or yes or no",
    "work": "what was seen, in a few words; or yes or no",
    "look": "yes or no, or what was seen in a few words",
    "hours": "the hours that it has run, such as 24 or 1.5 h",
}
"""What is understood as an answer, by what is measured."""

_UNITS = {
    "volts": ("V", Dimension.VOLTAGE),
    "current": ("mA", Dimension.CURRENT),
    "continuity": ("ohm", Dimension.RESISTANCE),
    "hours": ("h", Dimension.TIME),
}
_YES, _NO = ("yes", "y", "true", "ok", "lit"), ("no", "n", "false", "open", "dark")
_COMMA = re.compile(r"(0),([0-9]+)|([0-9]+),([0-9]{1,2}|[0-9]{4,})(?![0-9])")
_NUMBER = re.compile(r"[+-]?[0-9.,]+")
# Nobody reads so many times what the supply was limited to.
_BEYOND = 100.0
_MOST_WORDS = 300


class MisreadError(ValueError):
    """What was typed is no reading of this; its text says why, on one line."""


def reading(typed: str, asked: str, test: BenchTest) -> MeterReading | None:
    """What was typed for a question of `PROMPTS`; None for a "no" that no test record can say. Raises MisreadError."""
    word = typed.casefold()
    if asked in ("look", "work"):
        return _seen(typed, asked)
    if asked == "current" and word == "dark":
        return MeterReading(current=0.0)
    if asked == "current" and word == "reversed":
        return MeterReading(reversed=True)
    if asked == "continuity" and word in (*_YES, *_NO):
        return MeterReading(continuity=word in _YES)
    value = _quantity(typed, asked)
    if asked == "volts":
        return MeterReading(volts=value)
    if asked == "hours":
        if value <= 0.0:
            raise MisreadError("no time at all is none; type skip where it has not run yet")
        return MeterReading(hours=value)
    if asked == "continuity":
        return MeterReading(continuity=value)
    if test.limit is not None and value > _BEYOND * test.limit:
        raise MisreadError(
            f"a supply that is limited to {test.limit * 1e3:g} mA cannot give {value * 1e3:g} mA; what does it show, in mA?"
        )
    return MeterReading(current=value)


def with_volts(one: MeterReading, volts: float | None) -> MeterReading:
    """A reading with the volts that were read before it."""
    return one if volts is None else replace(one, volts=volts)


def _quantity(typed: str, asked: str) -> float:
    unit, dimension = _UNITS[asked]
    text = _COMMA.sub(lambda found: found[0].replace(",", "."), typed, count=1)
    if text.startswith("-"):
        raise MisreadError(
            "a minus says that the meter or the supply is the wrong way round; put that right and read again"
        )
    try:
        return parse(f"{text} {unit}" if _NUMBER.fullmatch(text) else text, dimension)
    except QuantityError as error:
        hint = (
            f"; {error.hint}" if error.check == "file.decimal-comma" else f"; what does it show, in {unit}?"
        )
        raise MisreadError(f"{error.says}{hint}") from None


def _seen(typed: str, asked: str) -> MeterReading | None:
    word = typed.casefold()
    if word in _NO:
        return None
    if word in _YES:
        return MeterReading(done="all of it seen to light" if asked == "look" else "seen to work")
    if _NUMBER.match(typed) or not re.search(r"[^\W\d_]{2}", typed):
        raise MisreadError("what was seen is said in words; or type yes or no")
    if len(typed) > _MOST_WORDS:
        raise MisreadError(f"that is {len(typed)} characters; say it in {_MOST_WORDS}")
    return MeterReading(done=harmless(typed))
