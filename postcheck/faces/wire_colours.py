"""Colours of wires: letters by IEC 60757 for the words that people write, and paint to draw them with."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

__all__ = ["PAINTS", "Paint", "letters", "paints"]


class Paint(NamedTuple):
    """How a colour is drawn: its word, on a page, in one of a terminal's 256 colours ("" for the usual), and whether it is dark."""

    word: str
    page: str
    screen: str
    dark: bool


# IEC 60757, in the order of its table. Told apart by letters first, for no set of fourteen can be told apart by all eyes;
# light and dark are spread so that most can also be told in grey. On a screen black and white have no colour of their own, for one
# of them would be lost on any background, and the light ones are darkened so far that they show on white too.
PAINTS: dict[str, Paint] = {
    "BK": Paint("black", "#1c1c1e", "", True),
    "BN": Paint("brown", "#7b4a1e", "color(130)", True),
    "RD": Paint("red", "#c8262c", "color(160)", True),
    "OG": Paint("orange", "#f08c1e", "color(208)", False),
    "YE": Paint("yellow", "#fadc3c", "color(178)", False),
    "GN": Paint("green", "#237d40", "color(34)", True),
    "BU": Paint("blue", "#1f5fae", "color(33)", True),
    "VT": Paint("violet", "#7a48b0", "color(98)", True),
    "GY": Paint("grey", "#8d959d", "color(243)", False),
    "WH": Paint("white", "#ffffff", "", False),
    "PK": Paint("pink", "#f6a8bf", "color(205)", False),
    "TQ": Paint("turquoise", "#3fc1bd", "color(37)", False),
    "GD": Paint("gold", "#c79a26", "color(136)", False),
    "SR": Paint("silver", "#c9ced4", "color(247)", False),
}
_WORDS = {
    **{paint.word: code for code, paint in PAINTS.items()},
    "gray": "GY", "purple": "VT", "amber": "OG", "golden": "GD", "cyan": "TQ", "teal": "TQ",
}  # fmt: skip


@lru_cache(maxsize=512)
def letters(colour: str) -> str:
    """The letters of a colour in words or letters, two at most: "red" is RD, "white/red" WHRD, "GNYE" itself.

    Words that tell a shade ("light blue") are passed over; "" where no colour is meant that has letters.
    """
    found: list[str] = []
    for word in re.findall(r"[^\W\d_]+", colour):
        upper = word.upper()
        parts = [upper[:2], upper[2:]] if len(upper) == 4 else [upper]
        if all(part in PAINTS for part in parts):
            found += parts
        elif word.lower() in _WORDS:
            found.append(_WORDS[word.lower()])
    return "".join(list(dict.fromkeys(found))[:2])


def paints(code: str) -> tuple[Paint, ...]:
    """The paints of such letters, the ground first and then the stripe."""
    return tuple(PAINTS[code[place : place + 2]] for place in range(0, len(code), 2))
