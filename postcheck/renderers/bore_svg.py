"""A bore as an SVG drawing: to scale, self-contained, light and dark, with its legend as a table that can be read out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from postcheck.pictured import BoreCircle, BorePicture
from postcheck.renderers.bore_drawing import (
    MARGIN,
    Dot,
    bore_drawing,
    hatch,
    is_lost,
    number_inside,
    text,
    wire,
    with_inset,
)
from postcheck.renderers.bore_words import (
    across,
    colour_words,
    facts,
    heading,
    source,
    what,
    where,
)
from postcheck.renderers.markup import Element, document, el
from postcheck.renderers.measure import wrapped
from postcheck.renderers.words import what_if_words

_WIDTH, _GAP = 920.0, 28.0
_SIDE, _LARGE = 520.0, 620.0  # of the square that the drawing has; the larger one where there is much in it
_BESIDE = 9  # things listed beside the drawing; more stand below it, in columns
_COLUMNS = 2
_BOLD = 1.15  # how much wider bold letters are

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
        el("defs", *hatch()),
        el("rect", class_="page", width=_WIDTH, height=top),
        *parts,
        xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {_WIDTH:.0f} {top:.0f}", width=_WIDTH, height=top, lang="en",
    )  # fmt: skip
    return document(sheet)


def figure(picture: BorePicture, key: str) -> tuple[Element, float, float]:
    """One bore as an element for a page that has `STYLE`, with its width and height; `key` begins its names on the page."""
    block, height = _block(picture, key)
    drawing = el(
        "svg", el("defs", *hatch()), el("rect", class_="page", width=_WIDTH, height=height), *block,
        viewBox=f"0 0 {_WIDTH:.0f} {height:.0f}", class_="bores",
    )  # fmt: skip
    return drawing, _WIDTH, height


def _block(picture: BorePicture, key: str) -> tuple[list[Element], float]:
    """One bore with all that belongs to it, and its height."""
    beside = len(picture.circles) <= _BESIDE
    side = _SIDE if beside else _LARGE
    wide = _WIDTH - 2 * MARGIN
    lines = list(wrapped(heading(picture), 22.0, wide / _BOLD))
    head = [text(line, MARGIN, 46.0 + 28.0 * n, 22.0, class_="head") for n, line in enumerate(lines)]
    top = 48.0 + 28.0 * len(lines)
    for line in wrapped(source(picture), 14.0, wide):
        head.append(text(line, MARGIN, top - 6.0, 14.0, class_="small"))
        top += 18.0
    top -= 18.0
    left = side + _GAP
    room = _WIDTH - MARGIN - left
    said, y = [], top + 46.0
    tried = [what_if_words(picture.what_if)] if picture.what_if else []
    for fact in (*tried, *facts(picture)):
        for line in wrapped(fact, 15.0, room):
            said.append(text(line, left, y, 15.0))
            y += 21.0
        y += 7.0
    drawing = el(
        "g",
        el("title", heading(picture), id=f"{key}-title"),
        el("desc", _described(picture), id=f"{key}-desc"),
        *(with_inset(picture, side) if is_lost(picture) else bore_drawing(picture, side)),
        role="img", aria_labelledby=f"{key}-title", aria_describedby=f"{key}-desc", transform=f"translate(0 {top:.0f})",
    )  # fmt: skip
    bottom = top + side + 14.0
    if not picture.circles:
        return [*head, drawing, el("g", *said)], bottom
    if beside:
        table, end = _legend(picture, left, y + 14.0, room, 1)
        bottom = max(bottom, end)
    else:
        table, bottom = _legend(picture, MARGIN, bottom + 16.0, _WIDTH - 2 * MARGIN, _COLUMNS)
    return [*head, drawing, el("g", *said), table], bottom + 10.0


def _described(picture: BorePicture) -> str:
    """The drawing in words, for those who hear it."""
    said = [*facts(picture)]
    said += [
        f"{circle.number}: {what(circle)}, {_looks(circle)} across, {where(circle, picture)}."
        for circle in picture.circles
    ]
    return " ".join(said)


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
    swatch = Dot(replace(circle, flat=None), x + 15.0, y + 16.0, 14.0)
    words = list(wrapped(what(circle), 14.0, width - 40.0))
    lines = [text(line, x + 40.0, y + 13.0 + 17.0 * n, 14.0) for n, line in enumerate(words)]
    below = y + 13.0 + 17.0 * len(words)
    looks = list(wrapped(_looks(circle), 12.5, width - 40.0))
    row = el(
        "g",
        el("g", *wire(swatch), *number_inside(swatch), role="cell"),
        el("g", *lines, role="cell"),
        el(
            "g",
            *(text(line, x + 40.0, below + 15.0 * n, 12.5, class_="small") for n, line in enumerate(looks)),
            role="cell",
        ),
        role="row",
    )
    return row, below + 15.0 * len(looks) - 3.0 - y


def _looks(circle: BoreCircle) -> str:
    """Colour and size."""
    colour, size = colour_words(circle), across(circle)
    return f"{colour}, {size}" if colour else size
