"""Paint to draw the colours of wires with, by their letters."""

from __future__ import annotations

from typing import NamedTuple


class Paint(NamedTuple):
    """How a colour is drawn: on a page, in one of a terminal's 256 colours ("" for the usual), and whether it is dark."""

    page: str
    screen: str
    dark: bool


# In the order of IEC 60757. Told apart by letters first, for no set of fourteen can be told apart by all eyes;
# light and dark are spread so that most can also be told in grey. On a screen black and white have no colour of their own, for one
# of them would be lost on any background, and the light ones are darkened so far that they show on white too.
PAINTS: dict[str, Paint] = {
    "BK": Paint("#1c1c1e", "", True),
    "BN": Paint("#7b4a1e", "color(130)", True),
    "RD": Paint("#c8262c", "color(160)", True),
    "OG": Paint("#f08c1e", "color(208)", False),
    "YE": Paint("#fadc3c", "color(178)", False),
    "GN": Paint("#237d40", "color(34)", True),
    "BU": Paint("#1f5fae", "color(33)", True),
    "VT": Paint("#7a48b0", "color(98)", True),
    "GY": Paint("#8d959d", "color(243)", False),
    "WH": Paint("#ffffff", "", False),
    "PK": Paint("#f6a8bf", "color(205)", False),
    "TQ": Paint("#3fc1bd", "color(37)", False),
    "GD": Paint("#c79a26", "color(136)", False),
    "SR": Paint("#c9ced4", "color(247)", False),
}


def paints(code: str) -> tuple[Paint, ...]:
    """The paints of such letters, the ground first and then the stripe."""
    return tuple(PAINTS[code[place : place + 2]] for place in range(0, len(code), 2))
