"""Wires as they are drawn on a sheet: a thin line with a sleeve of its colour at the joint, and the colour's word beside it."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.colours import letters
from postcheck.renderers.markup import Element, el
from postcheck.renderers.measure import long
from postcheck.renderers.wire_colours import paints

# Of a sleeve, mm: its length, its height, and how far it stands from the joint.
_LONG, _HIGH, _OFF = 6.0, 2.6, 1.4
_WORD, _AIR = 2.7, 0.9  # size of the word, and the air about it, mm


def worded(colour: str, room: float) -> bool:
    """Whether a colour's word has room beside the sleeve of a wire so long (mm); else it has to stand elsewhere."""
    return long(colour, _WORD) <= room - _OFF - _LONG - 3.0 * _AIR


def wire(joint: float, y: float, end: float, colour: str) -> Iterator[Element]:
    """A wire from its joint to its end at height y (mm), to the left or to the right.

    The sleeve is dashed and empty where nobody said a colour, hatched by a cross where the word is none that can be painted.
    """
    way = 1.0 if end > joint else -1.0
    yield el("path", class_="w-line", d=f"M{joint:.2f} {y:.2f}H{end:.2f}")
    yield from _sleeve(joint + way * _OFF if way > 0.0 else joint - _OFF - _LONG, y, colour)
    if colour and worded(colour, abs(end - joint)):
        x = joint + way * (_OFF + _LONG + _AIR)
        yield el(
            "text", colour, class_="w-word", x=x, y=y + 0.9, font_size=_WORD, text_anchor="start" if way > 0.0 else "end"
        )  # fmt: skip


def _sleeve(x: float, y: float, colour: str) -> Iterator[Element]:
    """A piece of tube in the wire's colour, its second colour as a ring; its outline shows it on any paper."""
    found = paints(letters(colour))
    top = y - _HIGH / 2.0
    place = {"x": x, "y": top, "width": _LONG, "height": _HIGH, "rx": 0.7}
    if not found:
        yield el("rect", class_="w-unsaid" if not colour else "w-plain", **place)
        return
    yield el("rect", **place, fill=found[0].page)
    if len(found) > 1:
        third = _LONG / 3.0
        yield el("rect", x=x + third, y=top, width=third, height=_HIGH, fill=found[1].page)
    yield el("rect", class_="w-rim", **place)


def swatch(colour: str) -> Element:
    """A short piece of wire with its sleeve, which stands before its colour's name in a line of text."""
    return el(
        "svg", el("path", class_="w-line", d="M0.4 1.9H12.6"), *_sleeve(3.5, 1.9, colour), viewBox="0 0 13 3.8",
        class_="swatch", aria_hidden="true", width="13mm", height="3.8mm",
    )  # fmt: skip
