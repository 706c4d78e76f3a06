"""The hub map: each joint as a bar, what comes from elsewhere on its left, what leads to the lamps on its right."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest
from math import ceil

from postcheck.renderers.figures import show
from postcheck.renderers.markup import Element, el
from postcheck.renderers.measure import long, wrapped
from postcheck.renderers.sheet.pages import BOLD, LINE, ROOM, SIZE, WIDE, Block, heading, prose
from postcheck.renderers.sheet.wires import wire, worded
from postcheck.renderers.sheet.words import ACCESS, COLOUR_RULE, hub_name, own_legs, text
from postcheck.sheet import HubEnd, Joint, Sheet

_PINS = frozenset({"lamp", "plug", "supply", "board"})
_TEXT = 58.0  # room for the words on each side
_BAR = WIDE / 2.0 - 6.0
_GAP = 1.8  # between rows
_BOX = 16.5  # of a resistor with its leads
_COLOUR = 48  # letters of a colour
_STEP = LINE * 0.88  # from one line of a name to the next
_MOST = ROOM / 3.0  # height of the rows of one drawing; a longer joint goes on in a second one


def blocks(sheet: Sheet) -> Iterator[Block]:
    """The places one after the other."""
    yield prose(
        "Each bar is one joint: what is on it is joined, and nothing else may be. Left where the current comes from, right what it feeds. A box is a resistor that sits here.",
        class_="lead",
    )
    yield prose(COLOUR_RULE, class_="small")
    for note in own_legs(sheet):
        yield prose(note)
    for place in sheet.hub:
        yield heading(f"{text(place.name)} ({ACCESS[place.access]})")
        for joint in place.joints:
            yield from _joint(joint)
        if place.loose:
            yield from _joint(Joint("joined to nothing", "", place.loose))


_Pair = tuple[HubEnd | None, HubEnd | None]


def _joint(joint: Joint) -> Iterator[Block]:
    left = [end for end in joint.ends if end.comes]
    right = [end for end in joint.ends if not end.comes]
    rows: list[_Pair] = []
    high, again = 0.0, False
    pairs = list(zip_longest(left, right))
    whole = sum(map(_high, pairs))
    most = whole / ceil(whole / _MOST) + _STEP  # in parts that are about as long
    for pair in pairs:
        if rows and high + _high(pair) > min(most, _MOST):
            yield _drawn(joint, rows, again=again)
            rows, high, again = [], 0.0, True
        rows.append(pair)
        high += _high(pair)
    yield _drawn(joint, rows, again=again)


def _name_lines(end: HubEnd | None) -> list[str]:
    """All of its name, and its colour too where that has no room beside the sleeve."""
    if end is None:
        return []
    colour, name = text(end.colour, _COLOUR), hub_name(end)
    shown = not colour or end.kind in _PINS or worded(colour, _room(end))
    return list(wrapped(name if shown else f"{name}, {colour}", SIZE, _TEXT))


def _room(end: HubEnd) -> float:
    """How long its wire is drawn, mm."""
    whole = _BAR - _TEXT - 1.5 if end.comes else WIDE - _TEXT - 1.5 - _BAR
    return whole - (_BOX if end.ohms is not None and not end.comes else 0.0)


def _high(pair: _Pair) -> float:
    return max(len(_name_lines(end)) for end in pair) * _STEP + _GAP


def _drawn(joint: Joint, rows: list[_Pair], *, again: bool) -> Block:
    side = {"+": ", positive side", "-": ", negative side"}.get(joint.side, "")
    title = f"{text(joint.line)}{side}{' (goes on)' if again else ''}"
    lines = list(wrapped(title, 3.4 * BOLD, WIDE))
    top = y = 5.0 + _STEP * (len(lines) - 1)
    parts: list[Element] = [
        el("text", line, class_="h-line", x=0, y=3.8 + _STEP * number, font_size=3.4)
        for number, line in enumerate(lines)
    ]
    for pair in rows:
        left, right = pair
        middle = y + _high(pair) / 2.0
        if left is not None:
            parts += _words(_name_lines(left), _TEXT, middle, "end")
            parts += _tail(left, _TEXT + 1.5, middle, _BAR)
        if right is not None:
            parts += _head(right, _BAR, middle, WIDE - _TEXT - 1.5)
            parts += _words(_name_lines(right), WIDE - _TEXT, middle, "start")
        y += _high(pair)
    parts.append(el("path", class_="h-bar", d=f"M{_BAR:.2f} {top + 0.6:.2f}V{y - 0.6:.2f}"))
    description = "; ".join(_described(end) for pair in rows for end in pair if end is not None)
    drawing = el(
        "svg", el("title", f"Joint of {title}"), el("desc", description), *parts,
        viewBox=f"0 0 {WIDE:.0f} {y + 0.8:.2f}", class_="hub", role="img", aria_label=f"Joint of {title}: {description}",
    )  # fmt: skip
    return Block(drawing, y + 2.2)


def _described(end: HubEnd) -> str:
    colour = f", {text(end.colour, _COLOUR)}" if end.colour else ""
    each = f"{end.count} x " if end.count > 1 else ""
    ohms = f", through {each}{show(end.ohms, 'ohm')}" if end.ohms is not None else ""
    return f"{hub_name(end)}{colour}{ohms}"


def _words(lines: list[str], x: float, middle: float, anchor: str) -> Iterator[Element]:
    first = middle + 1.1 - (len(lines) - 1) * _STEP / 2.0
    for number, line in enumerate(lines):
        yield el(
            "text", line, class_="h-name", x=x, y=first + number * _STEP, font_size=SIZE,
            text_anchor=anchor,
        )  # fmt: skip


def _tail(end: HubEnd, x: float, y: float, bar: float) -> Iterator[Element]:
    if end.kind == "run":
        yield from wire(bar, y, x, text(end.colour, _COLOUR))
    else:
        yield from _pin(bar, y, x + 0.9)


def _head(end: HubEnd, bar: float, y: float, to: float) -> Iterator[Element]:
    start = bar
    if end.ohms is not None:
        said = f"{f'{end.count}x ' if end.count > 1 else ''}{show(end.ohms, 'ohm')}"
        yield el("path", class_="h-pin", d=f"M{bar:.2f} {y:.2f}H{bar + _BOX:.2f}")
        yield el("rect", class_="h-box", x=bar + 1.5, y=y - 1.9, width=15.0, height=3.8)
        yield el(
            "text", said, class_="h-ohm", x=bar + 9.0, y=y + 0.95, font_size=2.6 if long(said, 2.6) <= 14.0 else 2.1, text_anchor="middle"
        )  # fmt: skip
        start = bar + _BOX
    if end.kind in _PINS:
        yield from _pin(start, y, to - 0.9)
    else:
        yield from wire(start, y, to, text(end.colour, _COLOUR))


def _pin(bar: float, y: float, dot: float) -> Iterator[Element]:
    """What has no wire of its own: a pin, a pole, a lamp soldered here."""
    yield el("path", class_="h-pin", d=f"M{bar:.2f} {y:.2f}H{dot:.2f}")
    yield el("circle", class_="h-dot", cx=dot, cy=y, r=0.9)
