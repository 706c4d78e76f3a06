"""A bore as an SVG drawing: to scale, self-contained, light and dark, with its legend as a table that can be read out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import asin, cos, hypot, pi, sin, sqrt
from typing import NamedTuple

from postcheck.colours import letters
from postcheck.renderers.bore_words import (
    across,
    colour_words,
    facts,
    heading,
    scale_length,
    source,
    what,
    where,
)
from postcheck.renderers.figures import show
from postcheck.renderers.leaders import Spot, leader_ends
from postcheck.renderers.markup import Element, el, markup
from postcheck.renderers.measure import wrapped
from postcheck.renderers.wire_colours import paints
from postcheck.renderers.words import what_if_words
from postcheck.report import BoreCircle, BorePicture

_WIDTH, _MARGIN, _GAP = 920.0, 32.0, 28.0
_SIDE, _LARGE = 520.0, 620.0  # of the square that the drawing has; the larger one where there is much in it
_ROUND = 34.0  # about the bore, for the numbers of what is too thin to hold them
# A bundle less than so wide in its bore is drawn by itself too: shares of the square for the bore and for that.
_LOST, _SMALL_BORE, _INSET = 4.0, 0.5, 0.64
_BESIDE = 9  # things listed beside the drawing; more stand below it, in columns
_COLUMNS = 2
_BOLD = 1.15  # how much wider bold letters are
_LEAST, _MOST = 10.0, 20.0  # sizes of the numbers

# Sizes and paint of everything but the wires; the drawing keeps its own paper, so that every colour stands on the same ground.
STYLE = """
text{font-family:system-ui,-apple-system,"Segoe UI","DejaVu Sans",Arial,sans-serif;fill:#1d2126}
.page{fill:#ffffff}.bore{fill:#f1eee8;stroke:#5b636c;stroke-width:4}.case{fill:none;stroke:#ffffff;stroke-width:7}.leader-case{fill:none;stroke:#f1eee8;stroke-width:3;stroke-opacity:.8}.over{fill:none;stroke:#b3261e;stroke-width:3;stroke-dasharray:12 7}
.slim{fill:none;stroke:#6a727b;stroke-width:1.2;stroke-dasharray:2 4}.edge{fill:none;stroke:#2b3036;stroke-width:1.5}
.leader{fill:none;stroke:#2b3036;stroke-width:1}.dot{fill:#ffffff;stroke:#111316;stroke-width:.8}.rule{stroke:#1d2126;stroke-width:1.5;fill:none}.hair{stroke:#d5d9dd;stroke-width:1}
.none{fill:#dfdcd5}.hatch{stroke:#8a8f96;stroke-width:2}.sheath{fill:#b9bec4}
.on-dark{fill:#ffffff;font-weight:600}.on-light{fill:#111316;font-weight:600}.outside{fill:#1d2126;font-weight:600}.on-hatch{fill:#1d2126;font-weight:600;stroke:#dfdcd5;stroke-width:4;stroke-linejoin:round;paint-order:stroke}.small{fill:#555d66}.head{font-weight:600}
@media (prefers-color-scheme:dark){text,.outside{fill:#e9ebee}.case{stroke:#16191d}.leader-case{stroke:#31363c}.on-hatch{fill:#ffffff;stroke:#4a5057}.page{fill:#16191d}.bore{fill:#31363c;stroke:#a3abb4}.edge{stroke:#c8cdd3}.over{stroke:#ff8a80}
.slim{stroke:#aab1b9}.leader,.rule{stroke:#e9ebee}.hair{stroke:#3a4047}.small{fill:#aeb5bd}.none{fill:#4a5057}.hatch{stroke:#9aa1a9}.sheath{fill:#6d757e}
.on-dark{fill:#ffffff}.on-light{fill:#111316}}
"""


class _Dot(NamedTuple):
    """A circle as drawn, in units of the drawing, y downwards."""

    circle: BoreCircle
    x: float
    y: float
    r: float


def render(pictures: Sequence[BorePicture]) -> str:
    """The bores one below the other, each a drawing with its facts and legend."""
    parts, top = [], 0.0
    for index, picture in enumerate(pictures):
        block, height = _block(picture, f"b{index + 1}")
        parts.append(el("g", *block, transform=f"translate(0 {top:.0f})"))
        top += height
    sheet = el(
        "svg",
        el("title", "; ".join(f"{heading(picture)} {source(picture)}" for picture in pictures)),
        el("style", STYLE),
        el("defs", *_hatch()),
        el("rect", class_="page", width=_WIDTH, height=top),
        *parts,
        xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {_WIDTH:.0f} {top:.0f}", width=_WIDTH, height=top, lang="en",
    )  # fmt: skip
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + markup(sheet)


def figure(picture: BorePicture, key: str) -> tuple[Element, float, float]:
    """One bore as an element for a page that has `STYLE`, with its width and height; `key` begins its names on the page."""
    block, height = _block(picture, key)
    drawing = el(
        "svg", el("defs", *_hatch()), el("rect", class_="page", width=_WIDTH, height=height), *block,
        viewBox=f"0 0 {_WIDTH:.0f} {height:.0f}", class_="bores",
    )  # fmt: skip
    return drawing, _WIDTH, height


def _hatch() -> Iterator[Element]:
    yield el(
        "pattern",
        el("rect", class_="none", width=6, height=6),
        el("path", class_="hatch", d="M0 0V6"),
        id="not-said", width=6, height=6, patternUnits="userSpaceOnUse", patternTransform="rotate(45)",
    )  # fmt: skip


def _block(picture: BorePicture, key: str) -> tuple[list[Element], float]:
    """One bore with all that belongs to it, and its height."""
    beside = len(picture.circles) <= _BESIDE
    side = _SIDE if beside else _LARGE
    wide = _WIDTH - 2 * _MARGIN
    lines = list(wrapped(heading(picture), 22.0, wide / _BOLD))
    head = [_text(line, _MARGIN, 46.0 + 28.0 * n, 22.0, class_="head") for n, line in enumerate(lines)]
    top = 48.0 + 28.0 * len(lines)
    for line in wrapped(source(picture), 14.0, wide):
        head.append(_text(line, _MARGIN, top - 6.0, 14.0, class_="small"))
        top += 18.0
    top -= 18.0
    left = side + _GAP
    room = _WIDTH - _MARGIN - left
    said, y = [], top + 46.0
    tried = [what_if_words(picture.what_if)] if picture.what_if else []
    for fact in (*tried, *facts(picture)):
        for line in wrapped(fact, 15.0, room):
            said.append(_text(line, left, y, 15.0))
            y += 21.0
        y += 7.0
    drawing = el(
        "g",
        el("title", heading(picture), id=f"{key}-title"),
        el("desc", _described(picture), id=f"{key}-desc"),
        *(_with_inset(picture, side) if _is_lost(picture) else _drawing(picture, side)),
        role="img", aria_labelledby=f"{key}-title", aria_describedby=f"{key}-desc", transform=f"translate(0 {top:.0f})",
    )  # fmt: skip
    bottom = top + side + 14.0
    if not picture.circles:
        return [*head, drawing, el("g", *said)], bottom
    if beside:
        table, end = _legend(picture, left, y + 14.0, room, 1)
        bottom = max(bottom, end)
    else:
        table, bottom = _legend(picture, _MARGIN, bottom + 16.0, _WIDTH - 2 * _MARGIN, _COLUMNS)
    return [*head, drawing, el("g", *said), table], bottom + 10.0


def _described(picture: BorePicture) -> str:
    """The drawing in words, for those who hear it."""
    said = [*facts(picture)]
    said += [
        f"{circle.number}: {what(circle)}, {_looks(circle)} across, {where(circle, picture)}."
        for circle in picture.circles
    ]
    return " ".join(said)


# -- the drawing


def _is_lost(picture: BorePicture) -> bool:
    """Whether the bundle is so slim in its bore that it is drawn by itself too."""
    return (
        picture.verdict == "fits"
        and len(picture.circles) > 1
        and picture.bore >= _LOST * picture.smallest_bore
    )


def _with_inset(picture: BorePicture, side: float) -> Iterator[Element]:
    """The whole bore in a corner, without numbers, and the bundle by itself, as large as there is room for."""
    small, large = side * _SMALL_BORE, side * _INSET
    whole = max(picture.bore, picture.smallest_bore)
    near = picture.smallest_bore
    off = side - large
    times = show(float(f"{_unit(near, large) / _unit(whole, small):.2g}"), "")
    yield el("g", *_drawing(picture, small, numbers=False), data_is="whole")
    yield from _zoomed(picture, small, large, off)
    yield el("g", *_bundle(picture, large), data_is="inset", transform=f"translate({off:.2f} {off:.2f})")
    yield _text(f"The bundle by itself, {times} times as large", small + 8.0, 20.0, 14.0, class_="small")


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
    yield el("circle", class_="slim", cx=middle, cy=middle, r=span / 2.0 * unit)
    dots = _placed(picture, unit, middle)
    for dot in dots:
        yield el("g", *_wire(dot), data_inset=dot.circle.number)
    thin = [dot for dot in dots if _size(dot) < _LEAST]
    thick = [dot for dot in dots if _size(dot) >= _LEAST]
    if thin:
        yield from _outside(thin, thick, middle, span / 2.0 * unit + 16.0)
    for dot in thick:
        yield from _inside(dot)
    yield from _scale(unit, span, side, "inset-scale")


def _unit(span: float, side: float) -> float:
    """Units of the drawing for a metre, where so much is drawn in a square with such a side."""
    return (side - 2.0 * _MARGIN) / span


def _drawing(picture: BorePicture, side: float, *, numbers: bool = True) -> Iterator[Element]:
    span = max(picture.bore, picture.smallest_bore)
    fits = picture.verdict == "fits" or not picture.circles
    unit, middle = _unit(span, side), side / 2.0
    dots = _placed(picture, unit, middle)
    thin = [dot for dot in dots if numbers and _size(dot) < _LEAST]
    if thin and _ring(len(thin), picture, unit, fits) is None:
        unit = (side - 2.0 * _MARGIN - 2.0 * _ROUND) / span
        dots = _placed(picture, unit, middle)
    if fits:
        # the line of the bore lies outside it: what touches the wall is not drawn over
        yield el(
            "circle",
            class_="bore",
            cx=middle,
            cy=middle,
            r=picture.bore / 2.0 * unit + 2.0,
            data_is="bore-wall",
        )
    if len(dots) > 1:
        yield el(
            "circle",
            class_="slim",
            cx=middle,
            cy=middle,
            r=picture.smallest_bore / 2.0 * unit,
            data_is="bundle",
        )
    for dot in dots:
        yield el("g", *_wire(dot), data_number=dot.circle.number)
    if not fits:
        yield el("circle", class_="case", cx=middle, cy=middle, r=picture.bore / 2.0 * unit)
        yield el("circle", class_="over", cx=middle, cy=middle, r=picture.bore / 2.0 * unit, data_is="bore")
    thin = [dot for dot in dots if numbers and _size(dot) < _LEAST]
    thick = [dot for dot in dots if numbers and _size(dot) >= _LEAST]
    if thin:
        ring = _ring(len(thin), picture, unit, fits) or span / 2.0 * unit + 22.0
        yield from _outside(thin, thick, middle, ring)
    for dot in thick:
        yield from _inside(dot)
    yield from _scale(unit, span, side)


def _placed(picture: BorePicture, unit: float, middle: float) -> list[_Dot]:
    return [
        _Dot(circle, middle + circle.x * unit, middle - circle.y * unit, circle.diameter / 2.0 * unit)
        for circle in picture.circles
    ]


def _ring(count: int, picture: BorePicture, unit: float, fits: bool) -> float | None:
    """The radius on which numbers stand between bundle and bore; None where they have no room there."""
    ring = max(picture.smallest_bore / 2.0 * unit + 26.0, count * 30.0 / (2.0 * pi))
    return ring if fits and ring + 14.0 <= picture.bore / 2.0 * unit else None


def _wire(dot: _Dot) -> Iterator[Element]:
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


def _flat(dot: _Dot) -> Iterator[Element]:
    """A flat cable to the same scale as the circle of its area."""
    scale = 2.0 * dot.r / dot.circle.diameter
    wide, high = (length * scale for length in dot.circle.flat or (0.0, 0.0))
    yield el("rect", class_="sheath", x=dot.x - wide / 2.0, y=dot.y - high / 2.0, width=wide, height=high)
    edge = min(1.5, min(wide, high) * 0.15)
    yield el(
        "rect", class_="edge", x=dot.x - (wide - edge) / 2.0, y=dot.y - (high - edge) / 2.0, width=wide - edge, height=high - edge,
        style=None if edge == 1.5 else f"stroke-width:{edge:.2f}",
    )  # fmt: skip


def _size(dot: _Dot) -> float:
    """How large its number can be inside it."""
    if dot.circle.flat is not None:
        return min(_MOST, min(dot.circle.flat) / dot.circle.diameter * 2.0 * dot.r * 0.8)
    return min(_MOST, dot.r * (1.15 if dot.circle.number < 10 else 0.95))


def _outside(thin: Sequence[_Dot], others: Sequence[_Dot], middle: float, ring: float) -> Iterator[Element]:
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


def _at(dot: _Dot) -> Spot:
    return Spot(dot.x, dot.y, dot.r)


def _inside(dot: _Dot) -> Iterator[Element]:
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
    x, y, long = _MARGIN, side - 4.0, length * unit
    yield el(
        "path",
        class_="rule",
        d=f"M{x:.2f} {y - 7:.2f}V{y:.2f}H{x + long:.3f}V{y - 7:.2f}",
        data_is=what_it_is,
        data_metres=f"{length:.6g}",
    )
    yield el("text", show(length, "m"), x=x + long + 8.0, y=y, font_size=14)


# -- the legend


def _legend(
    picture: BorePicture, left: float, top: float, width: float, columns: int
) -> tuple[Element, float]:
    """The table of what lies in the bore, column by column, and where it ends."""
    rows = -(-len(picture.circles) // columns)
    wide = (width - _GAP * (columns - 1)) / columns
    lines, end, y = [], top, top
    for index, circle in enumerate(picture.circles):
        if index % rows == 0:
            y = top
        entry, height = _entry(circle, left + index // rows * (wide + _GAP), y, wide)
        lines.append(entry)
        y += height
        end = max(end, y)
    return el("g", *lines, role="table", aria_label="What lies in the bore"), end


def _entry(circle: BoreCircle, x: float, y: float, width: float) -> tuple[Element, float]:
    """One row of the table, and its height."""
    # its number needs room that a flat one does not have
    swatch = _Dot(replace(circle, flat=None), x + 15.0, y + 16.0, 14.0)
    words = list(wrapped(what(circle), 14.0, width - 40.0))
    lines = [_text(line, x + 40.0, y + 13.0 + 17.0 * n, 14.0) for n, line in enumerate(words)]
    below = y + 13.0 + 17.0 * len(words)
    looks = list(wrapped(_looks(circle), 12.5, width - 40.0))
    row = el(
        "g",
        el("g", *_wire(swatch), *_inside(swatch), role="cell"),
        el("g", *lines, role="cell"),
        el(
            "g",
            *(_text(line, x + 40.0, below + 15.0 * n, 12.5, class_="small") for n, line in enumerate(looks)),
            role="cell",
        ),
        role="row",
    )
    return row, below + 15.0 * len(looks) - 3.0 - y


def _looks(circle: BoreCircle) -> str:
    """Colour and size."""
    colour, size = colour_words(circle), across(circle)
    return f"{colour}, {size}" if colour else size


# -- text


def _text(words: str, x: float, y: float, size: float, **more: str | None) -> Element:
    """A line that has room: what is too long was wrapped before."""
    attributes: Mapping[str, str | float | None] = {"x": x, "y": y, "font_size": size, **more}
    return el("text", words, **attributes)
