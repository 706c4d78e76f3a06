"""A bore and what lies in it, drawn to scale as SVG elements: wires in their colours, each with its number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import asin, cos, hypot, pi, sin, sqrt
from typing import NamedTuple

from postcheck.colours import letters
from postcheck.pictured import BoreCircle, BorePicture
from postcheck.renderers.bore_words import scale_length
from postcheck.renderers.figures import show
from postcheck.renderers.leaders import Spot, leader_ends
from postcheck.renderers.markup import Element, el
from postcheck.renderers.wire_colours import paints

MARGIN = 32.0
# Room about the bore, for the numbers of what is too thin to hold them.
_ROUND = 34.0
# A bundle less than so wide in its bore is drawn by itself too: shares of the square for the bore and for that.
_LOST, _SMALL_BORE, _INSET = 4.0, 0.5, 0.64
_LEAST, _MOST = 10.0, 20.0  # sizes of the numbers


class Dot(NamedTuple):
    """A circle as drawn, in units of the drawing, y downwards."""

    circle: BoreCircle
    x: float
    y: float
    r: float


def is_lost(picture: BorePicture) -> bool:
    """Whether the bundle is so slim in its bore that it is drawn by itself too."""
    return (
        picture.verdict == "fits"
        and len(picture.circles) > 1
        and picture.bore >= _LOST * picture.smallest_bore
    )


def with_inset(picture: BorePicture, side: float) -> Iterator[Element]:
    """The whole bore in a corner, without numbers, and the bundle by itself, as large as there is room for."""
    small, large = side * _SMALL_BORE, side * _INSET
    whole = max(picture.bore, picture.smallest_bore)
    near = picture.smallest_bore
    off = side - large
    times = show(float(f"{_unit(near, large) / _unit(whole, small):.2g}"), "")
    yield el("g", *bore_drawing(picture, small, numbers=False), data_is="whole")
    yield from _zoomed(picture, small, large, off)
    yield el("g", *_bundle(picture, large), data_is="inset", transform=f"translate({off:.2f} {off:.2f})")
    yield text(f"The bundle by itself, {times} times as large", small + 8.0, 20.0, 14.0, class_="small")


def _zoomed(picture: BorePicture, small: float, large: float, off: float) -> Iterator[Element]:
    """Two lines from the bundle in its bore to the bundle by itself, along their outer tangents."""
    here, there = small / 2.0, off + large / 2.0
    r = picture.smallest_bore / 2.0 * _unit(max(picture.bore, picture.smallest_bore), small)
    far = picture.smallest_bore / 2.0 * _unit(picture.smallest_bore, large)
    for way in (1.0, -1.0):
        # both middles lie on the diagonal; the tangent's normal leans back by what the radii differ
        lean = pi / 4.0 + way * (pi / 2.0 + asin((far - r) / ((there - here) * sqrt(2.0))))
        x, y = cos(lean), sin(lean)
        yield el(
            "path",
            class_="leader",
            d=f"M{here + r * x:.2f} {here + r * y:.2f}L{there + far * x:.2f} {there + far * y:.2f}",
        )


def _bundle(picture: BorePicture, side: float) -> Iterator[Element]:
    """The bundle without its bore, with its numbers and a scale of its own."""
    span, middle = picture.smallest_bore, side / 2.0
    unit = _unit(span, side)
    yield _about(middle, span / 2.0 * unit, "slim")
    dots = _placed(picture, unit, middle)
    for dot in dots:
        yield el("g", *wire(dot), data_inset=dot.circle.number)
    yield from _numbers(dots, middle, span / 2.0 * unit + 16.0)
    yield from _scale(unit, span, side, "inset-scale")


def _unit(span: float, side: float) -> float:
    """Units of the drawing for a metre, where so much is drawn in a square with such a side."""
    return (side - 2.0 * MARGIN) / span


def bore_drawing(picture: BorePicture, side: float, *, numbers: bool = True) -> Iterator[Element]:
    """A bore in a square with such a side: its wall, its bundle, the wires with their numbers, and a scale."""
    span = max(picture.bore, picture.smallest_bore)
    fits = picture.verdict == "fits" or not picture.circles
    unit, middle = _unit(span, side), side / 2.0
    dots = _placed(picture, unit, middle)
    thin = sum(map(_is_thin, dots)) if numbers else 0
    if thin and _ring(thin, picture, unit, fits) is None:
        unit = (side - 2.0 * MARGIN - 2.0 * _ROUND) / span
        dots = _placed(picture, unit, middle)
    if fits:
        # the line of the bore lies outside it: what touches the wall is not drawn over
        yield _about(middle, picture.bore / 2.0 * unit + 2.0, "bore", "bore-wall")
    if len(dots) > 1:
        yield _about(middle, picture.smallest_bore / 2.0 * unit, "slim", "bundle")
    for dot in dots:
        yield el("g", *wire(dot), data_number=dot.circle.number)
    if not fits:
        yield _about(middle, picture.bore / 2.0 * unit, "case")
        yield _about(middle, picture.bore / 2.0 * unit, "over", "bore")
    if numbers:
        ring = _ring(sum(map(_is_thin, dots)), picture, unit, fits) or span / 2.0 * unit + 22.0
        yield from _numbers(dots, middle, ring)
    yield from _scale(unit, span, side)


def _about(middle: float, r: float, kind: str, what: str | None = None) -> Element:
    return el("circle", class_=kind, cx=middle, cy=middle, r=r, data_is=what)


def _numbers(dots: Sequence[Dot], middle: float, ring: float) -> Iterator[Element]:
    """The number of each: inside it where it has room, else on a ring about the middle."""
    thin = [dot for dot in dots if _is_thin(dot)]
    thick = [dot for dot in dots if not _is_thin(dot)]
    if thin:
        yield from _outside(thin, thick, middle, ring)
    for dot in thick:
        yield from number_inside(dot)


def _is_thin(dot: Dot) -> bool:
    """Whether a number has no room inside it."""
    return _size(dot) < _LEAST


def _placed(picture: BorePicture, unit: float, middle: float) -> list[Dot]:
    return [
        Dot(circle, middle + circle.x * unit, middle - circle.y * unit, circle.diameter / 2.0 * unit)
        for circle in picture.circles
    ]


def _ring(count: int, picture: BorePicture, unit: float, fits: bool) -> float | None:
    """The radius on which numbers stand between bundle and bore; None where they have no room there."""
    ring = max(picture.smallest_bore / 2.0 * unit + 26.0, count * 30.0 / (2.0 * pi))
    return ring if fits and ring + 14.0 <= picture.bore / 2.0 * unit else None


def wire(dot: Dot) -> Iterator[Element]:
    """The circle in its colour, a stripe where it has one, and an edge that parts it from any ground."""
    if dot.circle.flat is not None:
        yield from _flat(dot)
        return
    ground, *stripe = paints(letters(dot.circle.colour)) or (None,)
    if dot.circle.kind == "cable":
        yield el("circle", class_="sheath", cx=dot.x, cy=dot.y, r=dot.r)
        if ground is not None:
            yield el("circle", cx=dot.x, cy=dot.y, r=dot.r * 0.8, fill=ground.page)
        yield el("circle", class_="edge", cx=dot.x, cy=dot.y, r=dot.r * 0.8)
    elif ground is None:
        yield el("circle", cx=dot.x, cy=dot.y, r=dot.r, fill="url(#not-said)")
    else:
        yield el("circle", cx=dot.x, cy=dot.y, r=dot.r, fill=ground.page)
    for paint in stripe:
        if paint is not None:
            # the part beyond a chord, low on the right: the number keeps its ground
            near, far = dot.r * 0.6, dot.r * 0.8
            c = sqrt(0.5)
            first = f"{dot.x + c * near + c * far:.2f} {dot.y + c * near - c * far:.2f}"
            last = f"{dot.x + c * near - c * far:.2f} {dot.y + c * near + c * far:.2f}"
            yield el("path", d=f"M{first}A{dot.r:.2f} {dot.r:.2f} 0 0 1 {last}Z", fill=paint.page)
    # the edge lies inside the circle: neighbours that touch stay as far apart as they are
    width = min(1.5, dot.r * 0.3)
    yield el(
        "circle",
        class_="edge",
        cx=dot.x,
        cy=dot.y,
        r=dot.r - width / 2.0,
        style=None if width == 1.5 else f"stroke-width:{width:.2f}",
    )


def _flat(dot: Dot) -> Iterator[Element]:
    """A flat cable to the same scale as the circle of its area."""
    scale = 2.0 * dot.r / dot.circle.diameter
    wide, high = (length * scale for length in dot.circle.flat or (0.0, 0.0))
    yield el("rect", class_="sheath", x=dot.x - wide / 2.0, y=dot.y - high / 2.0, width=wide, height=high)
    edge = min(1.5, min(wide, high) * 0.15)
    yield el(
        "rect", class_="edge", x=dot.x - (wide - edge) / 2.0, y=dot.y - (high - edge) / 2.0, width=wide - edge, height=high - edge,
        style=None if edge == 1.5 else f"stroke-width:{edge:.2f}",
    )  # fmt: skip


def _size(dot: Dot) -> float:
    """How large its number can be inside it."""
    if dot.circle.flat is not None:
        return min(_MOST, min(dot.circle.flat) / dot.circle.diameter * 2.0 * dot.r * 0.8)
    return min(_MOST, dot.r * (1.15 if dot.circle.number < 10 else 0.95))


def _outside(thin: Sequence[Dot], others: Sequence[Dot], middle: float, ring: float) -> Iterator[Element]:
    """The numbers of what is too thin to hold them, on a ring, each with a line to its own."""
    ends = leader_ends([_at(dot) for dot in thin], [_at(dot) for dot in others], middle, ring)
    lines = []
    for dot, (x, y) in zip(thin, ends, strict=True):
        away = hypot(x - dot.x, y - dot.y)
        edge, fraction = min(1.0, dot.r / away), min(1.0, 10.0 / away)  # the line stops short of the number
        last = f"L{x + (dot.x - x) * fraction:.2f} {y + (dot.y - y) * fraction:.2f}"
        lines.append(f"M{dot.x:.2f} {dot.y:.2f}{last}")
        yield el(
            "path",
            class_="leader-case",
            d=f"M{dot.x + (x - dot.x) * edge:.2f} {dot.y + (y - dot.y) * edge:.2f}{last}",
        )
    for dot, line, (x, y) in zip(thin, lines, ends, strict=True):
        yield el("path", class_="leader", d=line)
        yield el("circle", class_="dot", cx=dot.x, cy=dot.y, r=min(1.8, dot.r / 2.0))
        yield el(
            "text",
            str(dot.circle.number),
            class_="outside",
            x=x,
            y=y + 4.3,
            font_size=12,
            text_anchor="middle",
        )


def _at(dot: Dot) -> Spot:
    return Spot(dot.x, dot.y, dot.r)


def number_inside(dot: Dot) -> Iterator[Element]:
    """Its number, and below it the letters of its colour where they have room."""
    code = letters(dot.circle.colour)
    found = paints(code)
    ink = ("on-dark" if found[0].dark else "on-light") if found else "on-hatch"
    if dot.circle.kind == "cable" and not found:
        ink = "outside"
    # a striped wire's letters run into the stripe: they get a rim in the colour of the ground
    rim: dict[str, str | float] = (
        {"stroke": found[0].page, "stroke_width": 3.5, "stroke_linejoin": "round", "paint_order": "stroke"}
        if len(found) > 1
        else {}
    )
    size = _size(dot)
    text: dict[str, str | float] = {"class_": ink, "x": dot.x, "text_anchor": "middle", **rim}
    if code and dot.r >= 21.0:
        small = min(13.0, dot.r * (0.52 if len(code) == 2 else 0.4))
        yield el("text", str(dot.circle.number), y=dot.y - 1.0, font_size=min(size, 18.0), **text)
        yield el("text", code, y=dot.y + small + 1.0, font_size=small, **text)
    else:
        yield el("text", str(dot.circle.number), y=dot.y + size * 0.36, font_size=size, **text)


def _scale(unit: float, span: float, side: float, what_it_is: str = "scale") -> Iterator[Element]:
    length = scale_length(span)
    x, y, long = MARGIN, side - 4.0, length * unit
    yield el(
        "path",
        class_="rule",
        d=f"M{x:.2f} {y - 7:.2f}V{y:.2f}H{x + long:.3f}V{y - 7:.2f}",
        data_is=what_it_is,
        data_metres=f"{length:.6g}",
    )
    yield el("text", show(length, "m"), x=x + long + 8.0, y=y, font_size=14)


def hatch() -> Iterator[Element]:
    """The pattern of a wire of which no colour is known."""
    yield el(
        "pattern",
        el("rect", class_="none", width=6, height=6),
        el("path", class_="hatch", d="M0 0V6"),
        id="not-said", width=6, height=6, patternUnits="userSpaceOnUse", patternTransform="rotate(45)",
    )  # fmt: skip


def text(words: str, x: float, y: float, size: float, **more: str | None) -> Element:
    """A line that has room: what is too long was wrapped before."""
    attributes: Mapping[str, str | float | None] = {"x": x, "y": y, "font_size": size, **more}
    return el("text", words, **attributes)
