"""Wires as they are drawn on a sheet: in their colour, with their letters, told apart in black and white too."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.colours import letters
from postcheck.renderers.markup import Element, el
from postcheck.renderers.wire_colours import paints

_TAG = 2.5  # height of the letters on a wire, mm


def wire(x: float, y: float, end: float, colour: str) -> Iterator[Element]:
    """A wire from x to end at height y (mm), its letters in the middle; dashed where nobody said a colour."""
    found = paints(letters(colour))
    if not found:
        yield el("path", class_="w-unsaid", d=f"M{x:.2f} {y:.2f}H{end:.2f}")
        return
    yield el("path", class_="w-case", d=f"M{x:.2f} {y:.2f}H{end:.2f}")
    yield el("path", class_="w-coat", d=f"M{x:.2f} {y:.2f}H{end:.2f}", stroke=found[0].page)
    if len(found) > 1:
        yield el("path", class_="w-stripe", d=f"M{x:.2f} {y:.2f}H{end:.2f}", stroke=found[1].page)
    code = letters(colour)
    wide, middle = 2.1 * len(code) + 1.0, (x + end) / 2.0
    yield el(
        "rect", class_="w-tag", x=middle - wide / 2.0, y=y - 1.55, width=wide, height=3.1, rx=0.6,
    )  # fmt: skip
    yield el("text", code, class_="w-code", x=middle, y=y + 0.9, font_size=_TAG, text_anchor="middle")


def swatch(colour: str) -> Element:
    """A short piece of wire that stands before its colour's name in a line of text."""
    return el(
        "svg", *wire(0.4, 1.9, 12.6, colour), viewBox="0 0 13 3.8", class_="swatch", aria_hidden="true",
        width="13mm", height="3.8mm",
    )  # fmt: skip
