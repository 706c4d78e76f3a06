"""What a text of the file may look like, as regular expressions for editors.

They take every spelling that is meant to be read. They refuse a number without a unit, the unit of something else, a
minus where nothing is below zero, and a one-line form with a piece that belongs to none. Sizes, sums and names are
for the reader. Only what every engine knows is used: no look-around, no named groups.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from postcheck.description.oneline import SIZES
from postcheck.description.units import MEASURES, Dimension

_D = Dimension
_NUMBER: Final = (
    r"\.?[0-9]+\.?[0-9]*(?:[eE][-+]?[0-9]+)?"  # short: an editor shows it to whom it refuses something
)
_FRACTION: Final = (
    "(?:[0-9]+[-\u2212\\s]+)?[0-9]+/\\s*[0-9]+"  # "1 1/2", "1-1/2" with a hyphen or a minus sign
)
# Signs in the names of units, and what is read as them: Greek letters, the signs for micro, ohm, degree and inch.
_SIGNS: Final = {
    "u": "[u\u00b5\u03bc]",
    "ohm": "(?:[oO]hm|OHM|[\u03a9\u2126])",
    "kohm": "[kK]\\s*(?:[oO]hm|OHM|[\u03a9\u2126])",
    "Mohm": "M\\s*(?:[oO]hm|OHM|[\u03a9\u2126])",
    "deg": "(?:deg|[\u00b0\u00ba])\\s*",
    "2": "(?:\\^?2|\u00b2)",
    '"': '["\u2033\u201d]',
    "/": r"(?:/|per\s)\s*",
    " ": r"\s+",
}
_SIGN = re.compile(r'^u|^[kM]ohm(?!/)|ohm|^deg(?=[CF]|$)|2|"|/| ')
_TO: Final = "\\s*(?:\\.\\.|\u2026)\\s*"
_OR_MORE: Final = "\\s*(?:\\.\\.|\u2026|/)\\s*"
_EACH_WAY: Final = "(?:\\+/-|\u00b1)?"
_BY: Final = "[x\u00d7]"
_LETTER: Final = "[BCDFGJKM]?"  # tolerances of IEC 60062
_AT: Final = r"(?:\s+at\s.*)?"


def pattern(text: str) -> str:
    """The pattern of a kind of text: a dimension ("length", "signed voltage"), or a form ("lead", "cycles")."""
    name = text.removeprefix("signed ")
    form = _forms().get(text) or _quantity(Dimension(name), signed=name != text)
    return rf"^\s*{form}\s*$".replace(r"^\s*\s*", r"^\s*")


@cache
def _forms() -> dict[str, str]:
    """What is more than one quantity; the grammars are those of `quantities` and `oneline`."""
    volts, current, length = map(_quantity, (_D.VOLTAGE, _D.CURRENT, _D.LENGTH))
    driven = rf"{current}|(?:drop|compliance)\s+{volts}|{volts}\s+(?:drop|compliance)|constant|steady"
    service = rf"{_quantity(_D.RATE)}\s+for\s+{_quantity(_D.TIME)}"
    habit = rf"{_EACH_WAY}\s*[0-9.][0-9./eE+-]*\s*(?:%|{_unit(_D.POWER)})|{SIZES}"
    piece = rf"(?:(?:{habit}|{_resistance(_LETTER)})\s*)"
    return {
        "temperature range": rf"(?:{_bare(_D.TEMPERATURE)}{_TO})?{_quantity(_D.TEMPERATURE)}",
        "current range": rf"(?:{_bare(_D.CURRENT)}{_TO})?{current}",
        "voltage range": rf"(?:{_bare(_D.VOLTAGE)}{_TO})?{volts}",
        "voltage spread": rf"(?:{_bare(_D.VOLTAGE)}{_OR_MORE}){{0,2}}{volts}",
        "cycles": rf"(?:{_NUMBER}\s*(?:cycles?|times|turns?)|{service})",
        "marked resistance": _resistance(_LETTER),
        # each piece may be missing or stand anywhere here: told in full it would fill the screen that shows it
        # several in series are for the reader: all that each of them may be would be a page
        "resistor": rf"(?:{piece}{{1,4}}(?:at\s.*)?|trimmer\s.*|.*[^\seE]\s*\+\s*(?:[0-9.RrkKM]|trimmer\s).*)",
        "usual_resistor": rf"(?:(?:{habit})\s*){{1,3}}",
        "lead": rf"(?:{length}(?:\s+(?:of|to)\s.*|\s*,.*)?|(?:of|to)\s.*|,.*)",
        "output": rf"[\s,]*(?:(?:{driven})[\s,]*){{1,4}}",
        "diode": rf"(?:[A-Za-z]+|[0-9]*[A-Za-z]+[0-9][0-9A-Za-z-]*|{current}(?:\s*,?\s+{volts})?)",
        "source": rf"(?=.*\b(?:adaptor|usb|USB)\b)(?:(?:adaptor|usb|USB|plain|(?:[Tt]ype[- ])?[Cc]|power[- ]bank|{volts}|{current})[\s,]*)+",
        "switch": rf"(?:at\s.*|{current}(?:\s*DC)?(?:\s*,?\s+{volts}(?:\s*DC)?)?{_AT})",
        "fuse": rf"{current}(?:\s+(?:quick|fast|slow|UL|ul|resettable))?(?:\s+(?:glass|ceramic))?{_AT}",
        "held": rf"(?:[0-9]+\s*{_BY}\s*\S.*|{length}\s+\S.*)",
        "joint": rf"(?:{_bare(_D.LENGTH)}\s*{_BY}\s*)?{length}",
    }


def _quantity(dimension: Dimension, *, signed: bool = False) -> str:
    """One number with its unit."""
    if dimension is _D.RESISTANCE:
        return _resistance("")
    return rf"{_size(dimension, signed=signed)}\s*{_unit(dimension)}"


def _bare(dimension: Dimension) -> str:
    """One number, its unit perhaps left to what follows."""
    return rf"{_size(dimension)}\s*{_unit(dimension)}?"


def _resistance(letter: str) -> str:
    """A number with its unit, or the letter code of IEC 60062."""
    code = rf"(?:[0-9]+[RrkKM][0-9]*|[RrkKM][0-9]+){letter}(?:\s*{_SIGNS['ohm']}s?)?"
    return rf"(?:{code}|{_size(_D.RESISTANCE)}\s*{_unit(_D.RESISTANCE)})"


def _size(dimension: Dimension, *, signed: bool = False) -> str:
    sign = "[-\u2212+]?\\s*" if signed or dimension is _D.TEMPERATURE else r"\+?\s*"
    return sign + (rf"(?:{_FRACTION}|{_NUMBER})" if MEASURES[dimension].fractions else _NUMBER)


def _unit(dimension: Dimension) -> str:
    """Any name of the unit; one that may bear an s stands once."""
    units = MEASURES[dimension].units
    plurals = {unit + "s" for unit in units} & units.keys()
    spelt = [
        _SIGN.sub(lambda found: _SIGNS[found[0]], unit) + ("s?" if unit + "s" in plurals else "")
        for unit in units
        if unit not in plurals
    ]
    return f"(?:{'|'.join(spelt)})"
