"""The hub map: each joint as a bar, what comes from elsewhere on its left, what leads to the lamps on its right."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.faces.figures import show
from postcheck.faces.markup import Element, el
from postcheck.faces.measure import cut, folded
from postcheck.faces.sheet.pages import LINE, SIZE, WIDE, Block, prose
from postcheck.faces.sheet.wires import wire
from postcheck.faces.sheet.words import ACCESS, COLOUR_RULE, hub_name, text
from postcheck.sheet import HubEnd, HubPlace, Joint

__all__ = ["blocks"]

_WIRED = frozenset({"run", "lead", "strip", "load"})
_TEXT = 58.0  # room for the words on each side
_BAR = WIDE / 2.0 - 6.0
_GAP = 1.8  # between rows
_MOST_ROWS = 24  # of one drawing; a longer joint goes on in a second one


def blocks(places: tuple[HubPlace, ...]) -> Iterator[Block]:
    """The places one after the other."""
    yield prose(
        "Each bar is one joint: what is on it is joined, and nothing else may be. Left where the current comes from, right what it feeds. A box is a resistor that sits here.",
        class_="lead",
    )
    yield prose(COLOUR_RULE, class_="small")
    for place in places:
        yield Block(el("h3", el("bdi", f"{text(place.name)} ({ACCESS[place.access]})")), 8.5, keep=True)
        for joint in place.joints:
            yield from _joint(joint)
        if place.loose:
            yield from _joint(Joint("joined to nothing", "", place.loose))


def _joint(joint: Joint) -> Iterator[Block]:
    left = [end for end in joint.ends if end.comes]
    right = [end for end in joint.ends if not end.comes]
    pieces = max(1, -(-max(len(left), len(right)) // _MOST_ROWS))
    for piece in range(pieces):
        part = slice(piece * _MOST_ROWS, (piece + 1) * _MOST_ROWS)
        yield _drawn(joint, left[part], right[part], again=piece > 0)


def _drawn(joint: Joint, left: list[HubEnd], right: list[HubEnd], *, again: bool) -> Block:
    side = {"+": ", positive side", "-": ", negative side"}.get(joint.side, "")
    title = f"{text(joint.line)}{side}{' (goes on)' if again else ''}"
    rows = max(len(left), len(right))
    top = 5.6
    parts: list[Element] = [el("text", cut(title, 3.6, WIDE), class_="h-line", x=0, y=3.8, font_size=3.4)]
    y = top
    for row in range(rows):
        pair = (left[row] if row < len(left) else None, right[row] if row < len(right) else None)
        said = [list(folded(hub_name(end), SIZE, _TEXT))[:2] if end is not None else [] for end in pair]
        high = max(len(words) for words in said) * LINE * 0.88 + _GAP
        middle = y + high / 2.0
        if pair[0] is not None:
            parts += _words(said[0], _TEXT, middle, "end")
            parts += _tail(pair[0], _TEXT + 1.5, middle, _BAR)
        if pair[1] is not None:
            parts += _head(pair[1], _BAR, middle, WIDE - _TEXT - 1.5)
            parts += _words(said[1], WIDE - _TEXT, middle, "start")
        y += high
    parts.append(el("path", class_="h-bar", d=f"M{_BAR:.2f} {top + 0.6:.2f}V{y - 0.6:.2f}"))
    told = "; ".join(_told(end) for end in (*left, *right))
    drawing = el(
        "svg", el("title", f"Joint of {title}"), el("desc", told), *parts,
        viewBox=f"0 0 {WIDE:.0f} {y + 1.0:.2f}", class_="hub", role="img", aria_label=f"Joint of {title}: {told}",
    )  # fmt: skip
    return Block(drawing, y + 3.0)


def _told(end: HubEnd) -> str:
    colour = f", {text(end.colour, 24)}" if end.colour else ""
    ohms = f", through {show(end.ohms, 'ohm')}" if end.ohms is not None else ""
    return f"{hub_name(end)}{colour}{ohms}"


def _words(lines: list[str], x: float, middle: float, anchor: str) -> Iterator[Element]:
    step = LINE * 0.88
    first = middle + 1.1 - (len(lines) - 1) * step / 2.0
    for number, line in enumerate(lines):
        yield el(
            "text", cut(line, SIZE, _TEXT), class_="h-name", x=x, y=first + number * step, font_size=SIZE,
            text_anchor=anchor,
        )  # fmt: skip


def _tail(end: HubEnd, x: float, y: float, bar: float) -> Iterator[Element]:
    if end.kind == "run":
        yield from wire(x, y, bar, end.colour)
    else:
        yield from _pin(bar, y, x + 0.9)


def _head(end: HubEnd, bar: float, y: float, to: float) -> Iterator[Element]:
    start = bar
    if end.ohms is not None:
        said = show(end.ohms, "ohm")
        yield el("path", class_="h-pin", d=f"M{bar:.2f} {y:.2f}H{bar + 16.5:.2f}")
        yield el("rect", class_="h-box", x=bar + 1.5, y=y - 1.9, width=15.0, height=3.8)
        yield el(
            "text", said, class_="h-ohm", x=bar + 9.0, y=y + 0.95, font_size=2.6, text_anchor="middle"
        )  # fmt: skip
        start = bar + 16.5
    if end.kind in _WIRED:
        yield from wire(start, y, to, end.colour)
    else:
        yield from _pin(start, y, to - 0.9)


def _pin(bar: float, y: float, dot: float) -> Iterator[Element]:
    """What has no wire of its own: a pin, a pole, a lamp soldered here."""
    yield el("path", class_="h-pin", d=f"M{bar:.2f} {y:.2f}H{dot:.2f}")
    yield el("circle", class_="h-dot", cx=dot, cy=y, r=0.9)
