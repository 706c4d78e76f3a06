"""A build over a range as an SVG drawing: the curve of a margin over the verdicts, or a map of them; light and dark."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby, pairwise

from postcheck.renderers import varied_words as words
from postcheck.renderers.markup import Element, document, el
from postcheck.renderers.measure import cut, folded, long
from postcheck.renderers.words import safe
from postcheck.report import Verdict
from postcheck.variation import Axis, Point, Variation

_WIDTH, _MARGIN = 920.0, 32.0
_LEFT, _HIGH, _BAND = 76.0, 300.0, 30.0
_PLOT = _WIDTH - _LEFT - _MARGIN
_SIZE, _TEXT = 13.0, 15.0
_CELL = 34.0
_MOST_LEFT = 220.0  # for the values of a map's rows
_KINDS: dict[Verdict, str] = {
    "clear": "v-clear", "caution": "v-caution", "stop": "v-stop", "incomplete": "v-open", "unreadable": "v-none",
}  # fmt: skip

# Every verdict has its letter, so that no colour is needed to tell one from the other.
STYLE = """
text{font-family:system-ui,-apple-system,"Segoe UI","DejaVu Sans",Arial,sans-serif;fill:#1d2126}
.page{fill:#ffffff}.head{font-weight:600}.small{fill:#555d66}.frame{fill:none;stroke:#5b636c;stroke-width:1.2}
.limit{stroke:#b3261e;stroke-width:1.6;stroke-dasharray:8 5}.curve{fill:none;stroke:#1d4f91;stroke-width:2.4;stroke-linejoin:round}
.dot{fill:#1d4f91}.own{stroke:#1d2126;stroke-width:1.2;stroke-dasharray:2 4}.own-box{fill:none;stroke:#1d2126;stroke-width:2.5}.hair{stroke:#d5d9dd;stroke-width:1}
.v-clear{fill:#e8eef5}.v-caution{fill:#f3d27a}.v-stop{fill:#8f1d18}.v-open{fill:#cfc6e3}.v-none{fill:#b9bec4}.letter{fill:#1d2126;font-weight:600}.on-stop{fill:#ffffff;font-weight:600}
@media (prefers-color-scheme:dark){text{fill:#e9ebee}.page{fill:#16191d}.small{fill:#aeb5bd}.frame{stroke:#a3abb4}.limit{stroke:#ff8a80}.curve{stroke:#8fb8f0}.dot{fill:#8fb8f0}
.own,.own-box{stroke:#e9ebee}.hair{stroke:#3a4047}.v-clear{fill:#31404f}.letter{fill:#e9ebee}.v-caution{fill:#7a5c0c}.v-open{fill:#4b4163}.v-none{fill:#4a5057}}
"""


def render(variation: Variation) -> str:
    """The drawing, with its sentences above it and what its letters mean below."""
    wide = _WIDTH - 2 * _MARGIN
    parts = [
        _line(one, _MARGIN, 46.0 + 26.0 * n, 20.0, "head")
        for n, one in enumerate(folded(words.heading(variation), 20.0, wide / 1.15))
    ]
    y = 46.0 + 26.0 * len(parts)
    for sentence in (words.source(variation), *words.sentences(variation)):
        for one in folded(sentence, _TEXT, wide):
            parts.append(
                _line(one, _MARGIN, y, _TEXT, "small" if sentence == words.source(variation) else None)
            )
            y += 21.0
    drawing, high = _map(variation) if len(variation.axes) == 2 else _curve(variation)
    said = " ".join(words.sentences(variation))
    parts.append(
        el(
            "g", el("title", words.heading(variation), id="title"), el("desc", said, id="desc"), *drawing,
            role="img", aria_labelledby="title", aria_describedby="desc", transform=f"translate(0 {y:.0f})",
        )
    )  # fmt: skip
    bottom = y + high
    own = (
        "; in the frame: as in the file"
        if len(variation.axes) == 2 and None not in words.own_place(variation)
        else ""
    )
    firsts = words.firsts(variation) if len(variation.axes) == 2 else ()
    for one in (
        line for text in (f"{words.legend(variation)}{own}.", *firsts) for line in folded(text, _SIZE, wide)
    ):
        parts.append(_line(one, _MARGIN, bottom + 8.0, _SIZE, "small"))
        bottom += 19.0
    bottom += 16.0
    sheet = el(
        "svg", el("title", words.heading(variation)), el("style", STYLE), el("rect", class_="page", width=_WIDTH, height=bottom), *parts,
        xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {_WIDTH:.0f} {bottom:.0f}", width=_WIDTH, height=bottom, lang="en",
    )  # fmt: skip
    return document(sheet)


def _line(
    text: str, x: float, y: float, size: float, kind: str | None = None, anchor: str | None = None
) -> Element:
    return el("text", text, x=x, y=y, font_size=size, class_=kind, text_anchor=anchor)


def _rect(kind: str, x: float, y: float, width: float, height: float, *inside: Element) -> Element:
    return el("rect", *inside, class_=kind, x=x, y=y, width=width, height=height)


def _on(verdict: Verdict, name: str, x: float, y: float) -> Element:
    """A word on the ground of a verdict."""
    return _line(name, x, y, _SIZE, "on-stop" if verdict == "stop" else "letter", "middle")


# -- one key


def _curve(variation: Variation) -> tuple[list[Element], float]:
    axis = variation.axes[0]
    xs = [_LEFT + place * _PLOT for place in words.places_of(axis)]
    parts: list[Element] = []
    top, y = 18.0, 18.0
    if variation.margin:
        caption = cut(f"{words.margin_words(variation)}.", _SIZE, _WIDTH - 2 * _MARGIN)
        parts.append(_line(caption, _MARGIN, top, _SIZE, "small"))
        top += 14.0
        y = top + _HIGH
        parts += _plot(variation, xs, top)
    parts += _band(variation, xs, y)
    y += _BAND
    if axis.own is not None:
        x = xs[axis.own]
        parts.append(el("path", class_="own", d=f"M{x:.2f} {top:.2f}V{y:.2f}"))
    parts += _values(variation, axis, xs, y + 18.0)
    return parts, y + 46.0


def _plot(variation: Variation, xs: list[float], top: float) -> Iterator[Element]:
    """The curve with its points, and the limit across it."""
    most = words.top_used(variation)

    def at(used: float) -> float:
        return top + (1.0 - used / most) * _HIGH

    yield _rect("frame", _LEFT, top, _PLOT, _HIGH)
    for share in (0.0, 0.5, 1.0, 1.5, 2.0):
        if share <= most:
            yield el(
                "path",
                class_="limit" if share == 1.0 else "hair",
                d=f"M{_LEFT:.2f} {at(share):.2f}h{_PLOT:.2f}",
            )
            yield _line(f"{share * 100:.0f} %", _LEFT - 8.0, at(share) + 4.0, _SIZE, "small", "end")
    yield el("clipPath", el("rect", x=_LEFT, y=top, width=_PLOT, height=_HIGH), id="plot")
    pairs = list(zip(xs, variation.points, strict=True))
    lines = []
    for known, group in groupby(pairs, key=lambda pair: pair[1].used is not None):
        if known and variation.axes[0].numbers:
            lines.append("M" + "L".join(f"{x:.2f} {at(point.used or 0.0):.2f}" for x, point in group))
    if lines:
        yield el("path", class_="curve", d="".join(lines), clip_path="url(#plot)")
    for x, point in pairs:
        if point.used is not None and point.used <= most:
            yield el(
                "circle", el("title", _point_words(variation, point)), class_="dot", cx=x, cy=at(point.used), r=3.0
            )  # fmt: skip


def _point_words(variation: Variation, point: Point) -> str:
    said = ", ".join(
        filter(None, (words.place_words(variation, point), point.verdict, words.used_words(point)))
    )
    return f"{said}. {words.first_words(point)}".rstrip()


def _band(variation: Variation, xs: list[float], y: float) -> Iterator[Element]:
    """The verdicts, each as wide as it holds: half way to the next point."""
    edges = [_LEFT, *((a + b) / 2.0 for a, b in pairwise(xs)), _LEFT + _PLOT]
    at = 0
    for verdict, group in groupby(variation.points, key=lambda point: point.verdict):
        count = len(list(group))
        left, right = edges[at], edges[at + count]
        at += count
        yield _rect(_KINDS[verdict], left, y, right - left, _BAND, el("title", verdict))
        name = verdict if long(verdict, _SIZE) < right - left - 6.0 else words.LETTERS[verdict]
        yield _on(verdict, name, (left + right) / 2.0, y + 20.0)


def _values(variation: Variation, axis: Axis, xs: list[float], y: float) -> Iterator[Element]:
    """The values below: ends, the file's own and both sides of a turn of the verdict first, as many as have room."""
    last = len(xs) - 1
    wanted = [0, last]
    wanted += [axis.own] if axis.own is not None else []
    wanted += [segment.first for segment in variation.segments[1:]]
    wanted += list(range(1, last)) if not axis.numbers else []
    taken: list[tuple[float, float]] = []
    for index in dict.fromkeys(wanted):
        words_here = cut(words.value_words(axis, index), _SIZE, 160.0)
        half = long(words_here, _SIZE) / 2.0
        x = min(max(xs[index], _MARGIN + half), _WIDTH - _MARGIN / 2.0 - half)
        if all(x + half + 8.0 < left or x - half - 8.0 > right for left, right in taken):
            taken.append((x - half, x + half))
            yield el("path", class_="frame", d=f"M{xs[index]:.2f} {y - 18.0:.2f}v5")
            yield _line(words_here, x, y, _SIZE, "head" if index == axis.own else None, "middle")
    if axis.own is not None:
        yield _line("dotted: as in the file", _WIDTH - _MARGIN, y + 18.0, _SIZE, "small", "end")


# -- two keys


def _map(variation: Variation) -> tuple[list[Element], float]:
    """The verdicts in cells, the first key's values down and the second's across."""
    down, across = variation.axes
    names = [cut(words.value_words(down, index), _SIZE, _MOST_LEFT) for index in range(len(down.values))]
    left = _MARGIN + max(long(name, _SIZE) for name in names) + 10.0
    wide = min((_WIDTH - _MARGIN - left) / len(across.values), 90.0)
    heads = [cut(words.value_words(across, index), _SIZE, 160.0) for index in range(len(across.values))]
    upright = max(long(head, _SIZE) for head in heads) > wide - 4.0
    top = 44.0 + (max(long(head, _SIZE) for head in heads) if upright else 16.0)
    words_above = f"Down: {down.key}; across: {across.key}."
    parts = [_line(cut(safe(words_above), _SIZE, _WIDTH - 2 * _MARGIN), _MARGIN, 18.0, _SIZE, "small")]
    for index, head in enumerate(heads):
        parts.append(_head(head, left + (index + 0.5) * wide, top - 8.0, upright=upright))
    for index, name in enumerate(names):
        parts.append(_line(name, left - 8.0, top + (index + 0.5) * _CELL + 4.0, _SIZE, None, "end"))
    own = words.own_place(variation)
    for point in variation.points:
        row, column = point.at
        x, y = left + column * wide, top + row * _CELL
        title = el("title", _point_words(variation, point))
        parts.append(_rect(_KINDS[point.verdict], x + 1.0, y + 1.0, wide - 2.0, _CELL - 2.0, title))
        letter = words.LETTERS[point.verdict]
        parts.append(_on(point.verdict, letter, x + wide / 2.0, y + _CELL / 2.0 + 4.0))
    # the frame comes last, over its neighbours
    for row, column in (point.at for point in variation.points if point.at == own):
        parts.append(_rect("own-box", left + column * wide, top + row * _CELL, wide, _CELL))
    return parts, top + len(names) * _CELL + 24.0


def _head(words_above: str, x: float, y: float, *, upright: bool) -> Element:
    """What stands over a column, turned where it has no room."""
    if not upright:
        return _line(words_above, x, y, _SIZE, anchor="middle")
    return el(
        "text", words_above, x=x + 4.0, y=y, font_size=_SIZE, text_anchor="start", transform=f"rotate(-90 {x + 4.0:.1f} {y:.1f})",
    )  # fmt: skip
