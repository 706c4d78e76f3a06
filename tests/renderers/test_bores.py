"""Bores drawn and told: word for word as agreed, to scale, harmless, and legible without colour.

POSTCHECK_UPDATE_GOLDEN=1 writes the agreed texts anew: read the difference, and look at the drawings.
"""

from __future__ import annotations

import os
import re
from dataclasses import replace
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin
from pathlib import Path
from xml.etree import ElementTree

import pytest
from rich.cells import cell_len

from postcheck.pictured import BoreCircle, BorePicture
from postcheck.renderers import bore_screen, bore_svg, bore_words, leaders
from postcheck.renderers.leaders import Spot, leader_ends
from postcheck.renderers.wire_colours import PAINTS
from tests.renderers.bores import CABLE, EMPTY, FITS, PICTURES, TIGHT, named
from tests.renderers.hostile import FORBIDDEN, NAMES

GOLDEN = Path(__file__).parent / "golden_bores"
RENDERERS = {
    "words.txt": bore_words.render,
    "screen-80.txt": lambda bores: bore_screen.render(bores, width=80, colour=False),
    "screen-44.txt": lambda bores: bore_screen.render(bores, width=44, colour=False),
    "screen-80-colour.txt": lambda bores: bore_screen.render(bores, width=80, colour=True),
    "svg": bore_svg.render,
}
SVG = "{http://www.w3.org/2000/svg}"
by_name = pytest.mark.parametrize("name", NAMES.values(), ids=NAMES.keys())
drawn = pytest.mark.parametrize(
    "picture", [FITS, TIGHT, CABLE, EMPTY], ids=["fits", "tight", "cable", "empty"]
)


@pytest.mark.parametrize("renderer", RENDERERS)
@pytest.mark.parametrize("name", PICTURES)
def test_a_bore_reads_as_agreed(name: str, renderer: str) -> None:
    text = RENDERERS[renderer](PICTURES[name])
    file = GOLDEN / f"{name}.{renderer}"
    if os.environ.get("POSTCHECK_UPDATE_GOLDEN"):
        GOLDEN.mkdir(exist_ok=True)
        file.write_bytes(text.encode("utf-8"))
    assert text.encode("utf-8") == file.read_bytes()
    assert text.endswith("\n")


def test_no_golden_file_is_left_over() -> None:
    assert {file.name for file in GOLDEN.iterdir()} == {
        f"{name}.{renderer}" for name in PICTURES for renderer in RENDERERS
    }


# -- the drawing


def _tree(picture: BorePicture) -> ElementTree.Element:
    return ElementTree.fromstring(bore_svg.render([picture]).encode())


def _marked(tree: ElementTree.Element, what: str) -> ElementTree.Element | None:
    return next((element for element in tree.iter() if element.get("data-is") == what), None)


def _unit(tree: ElementTree.Element) -> float:
    """Units of the drawing for a metre, by its scale bar."""
    bar = _marked(tree, "scale")
    assert bar is not None
    first, _, _, last, _ = map(float, re.findall(r"[0-9.]+", bar.attrib["d"]))
    return (last - first) / float(bar.attrib["data-metres"])


@drawn
def test_the_drawing_is_to_the_scale_of_its_bar(picture: BorePicture) -> None:
    tree = _tree(picture)
    unit = _unit(tree)
    bore = _marked(tree, "bore")
    if bore is None:
        wall = _marked(tree, "bore-wall")
        assert wall is not None
        inside = float(wall.attrib["r"]) - 2.0  # the wall is a line four wide, outside the bore
        x, y = float(wall.attrib["cx"]), float(wall.attrib["cy"])
    else:
        assert picture.verdict != "fits"
        inside, x, y = (float(bore.attrib[key]) for key in ("r", "cx", "cy"))
    assert inside == pytest.approx(picture.bore / 2.0 * unit, rel=1e-4)
    groups = {
        int(group.attrib["data-number"]): group
        for group in tree.iter(f"{SVG}g")
        if "data-number" in group.attrib
    }
    assert sorted(groups) == [circle.number for circle in picture.circles]
    for circle in picture.circles:
        shape = groups[circle.number][0]
        assert float(shape.attrib["r"]) == pytest.approx(circle.diameter / 2.0 * unit, abs=2e-3)
        assert float(shape.attrib["cx"]) - x == pytest.approx(circle.x * unit, abs=2e-3)
        assert y - float(shape.attrib["cy"]) == pytest.approx(circle.y * unit, abs=2e-3)


@drawn
def test_every_number_is_drawn_once_and_stands_in_the_legend(picture: BorePicture) -> None:
    tree = _tree(picture)
    numbers = [str(circle.number) for circle in picture.circles]
    (drawing,) = [group for group in tree.iter(f"{SVG}g") if group.get("role") == "img"]
    shown = [text.text for text in drawing.iter(f"{SVG}text") if (text.text or "").isdigit()]
    assert sorted(shown, key=lambda number: int(number or 0)) == numbers
    rows = [row for row in tree.iter(f"{SVG}g") if row.get("role") == "row"]
    assert [next(row.iter(f"{SVG}text")).text for row in rows] == numbers


@drawn
def test_the_drawing_can_be_heard(picture: BorePicture) -> None:
    tree = _tree(picture)
    assert tree[0].tag == f"{SVG}title"
    (drawing,) = [group for group in tree.iter(f"{SVG}g") if group.get("role") == "img"]
    title, description = drawing[0], drawing[1]
    assert drawing.attrib["aria-labelledby"] == title.attrib["id"]
    assert drawing.attrib["aria-describedby"] == description.attrib["id"]
    for circle in picture.circles:
        assert f"{circle.number}: {bore_words.what(circle)}, " in (description.text or "")
    if picture.circles:
        (table,) = [group for group in tree.iter(f"{SVG}g") if group.get("role") == "table"]
        assert all(cell.get("role") == "cell" for row in table for cell in row)


def test_nothing_in_the_drawing_runs_or_is_fetched() -> None:
    text = bore_svg.render([FITS, CABLE])
    assert not re.search(r"<script|href|@import|url\((?!#)|\son\w+=", text)


@by_name
def test_a_name_stays_text(name: str) -> None:
    text = bore_svg.render([named(name)])
    tree = ElementTree.fromstring(text.encode("utf-8"))
    plain = ElementTree.fromstring(bore_svg.render([named("lamp")]).encode("utf-8"))
    kinds = {element.tag for element in plain.iter()} | {f"{SVG}tspan"}
    assert {element.tag for element in tree.iter()} <= kinds
    assert not FORBIDDEN.search(text)


def _luminance(colour: str) -> float:
    """Relative luminance by WCAG 2.2."""
    parts = [int(colour[place : place + 2], 16) / 255.0 for place in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("code", PAINTS)
def test_numbers_stand_out_from_their_wire(code: str) -> None:
    # WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text
    paint = PAINTS[code]
    ground, ink = _luminance(paint.page), _luminance("#ffffff" if paint.dark else "#111316")
    assert (max(ground, ink) + 0.05) / (min(ground, ink) + 0.05) >= 4.5


# -- on the screen


@by_name
@pytest.mark.parametrize("width", [24, 44, 80, 100])
def test_the_screen_is_harmless_and_never_too_wide(name: str, width: int) -> None:
    text = bore_screen.render([named(name)], width=width, colour=False)
    assert not FORBIDDEN.search(text)
    assert max(cell_len(line) for line in text.split("\n")) <= width
    assert not any(line.lstrip().startswith("::") for line in text.split("\n"))


def test_a_colour_that_takes_two_lines_beside_the_drawing_stays_on_the_page() -> None:
    wide = "\u706f" * 24
    one = replace(FITS, circles=(replace(FITS.circles[0], colour=wide, name=wide),))
    text = bore_screen.render([one], width=80, colour=False)
    assert max(cell_len(line) for line in text.split("\n")) <= 80


@drawn
def test_colour_adds_dabs_and_colour_only(picture: BorePicture) -> None:
    coloured = re.sub(r"\x1b\[[0-9;]*m", "", bore_screen.render([picture], width=80, colour=True))
    plain = bore_screen.render([picture], width=80, colour=False)
    assert sorted(re.findall(r"[\w'.]+", coloured)) == sorted(re.findall(r"[\w'.]+", plain))


def _dots(lines: list[str]) -> set[tuple[int, int]]:
    """Row and column of every dot: the bits by the Unicode chart of U+2800."""
    places = ((0, 0), (1, 0), (2, 0), (0, 1), (1, 1), (2, 1), (3, 0), (3, 1))
    return {
        (4 * row + down, 2 * column + right)
        for row, line in enumerate(lines)
        for column, sign in enumerate(line)
        if 0x2800 <= ord(sign) <= 0x28FF
        for bit, (down, right) in enumerate(places)
        if (ord(sign) - 0x2800) >> bit & 1
    }


@pytest.mark.parametrize(
    ("across", "x", "y"), [(2.0, 1.0, 0.5), (1.5, -1.2, -0.8), (3.0, 0.0, 0.0), (0.9, 0.3, 1.9)]
)
def test_the_screen_is_to_scale(across: float, x: float, y: float) -> None:
    wire = BoreCircle(1, "a", "run", across * 1e-3, x * 1e-3, y * 1e-3)
    picture = replace(EMPTY, bore=0.005, circles=(wire,), smallest_bore=0.0025)
    lines = bore_screen.render([picture], width=80, colour=False).split("\n")
    first = lines.index("") + 1
    dots = _dots([line[2:46] for line in lines[first : first + 22]])
    bar = _dots([lines[first + 22][2:46]])
    per_metre = (max(c for _, c in bar) - min(c for _, c in bar) + 1) / 1e-3
    assert per_metre == pytest.approx(87 / 5e-3, rel=0.03)  # 88 dots, one kept for the line itself
    ring = {dot for dot in dots if hypot(dot[1] - 43.5, dot[0] - 43.5) > 42.0}
    inner = dots - ring
    assert len(ring) > 0.9 * pi * 87
    for low, high, middle in (
        (min(c for _, c in inner), max(c for _, c in inner), 43.5 + x * 87 / 5),
        (min(r for r, _ in inner), max(r for r, _ in inner), 43.5 - y * 87 / 5),
    ):
        assert high - low + 1 == pytest.approx(across * 87 / 5, abs=1.6)
        assert (high + low) / 2 == pytest.approx(middle, abs=1.0)


def test_what_has_no_room_for_a_number_is_named() -> None:
    crowd = tuple(BoreCircle(n, f"w{n}", "lead", 2e-5, 4e-5 * (n - 6), 0.0) for n in range(1, 13))
    text = bore_screen.render(
        [
            replace(
                EMPTY, circles=(*crowd, BoreCircle(13, "big", "run", 0.001, 0.0, 0.001)), smallest_bore=0.003
            )
        ],
        colour=False,
    )
    assert "Too small here for a number: 1, 2, 3, 4, 5, 6, 7, 8 and 4 more; --svg has them all." in " ".join(
        text.split()
    )


# -- in words


@pytest.mark.parametrize(
    ("x", "y", "words"),
    [
        (0.0, 1.0, "1 mm off at 12 o'clock"), (1.0, 0.0, "1 mm off at 3 o'clock"), (0.0, -1.0, "1 mm off at 6 o'clock"),
        (-1.0, 0.0, "1 mm off at 9 o'clock"), (0.5, 0.866, "1 mm off at 1 o'clock"), (-0.5, 0.866, "1 mm off at 11 o'clock"),
        (0.01, 0.0, "in the middle"),
    ],
)  # fmt: skip
def test_places_are_told_by_the_clock(x: float, y: float, words: str) -> None:
    assert bore_words.where(BoreCircle(1, "a", "run", 1e-3, x * 1e-3, y * 1e-3), FITS) == words


@by_name
def test_words_are_harmless_and_keep_their_lines(name: str) -> None:
    text = bore_words.render([named(name)])
    assert not FORBIDDEN.search(text)
    assert text.count("\n") == bore_words.render([named("lamp")]).count("\n")


@pytest.mark.parametrize(
    ("span", "length"),
    [(0.005, 0.001), (0.0079, 0.001), (0.008, 0.002), (0.02, 0.005), (0.0005, 0.0001), (0.04, 0.01)],
)
def test_the_scale_bar_is_of_a_round_length(span: float, length: float) -> None:
    assert bore_words.scale_length(span) == pytest.approx(length)


def test_numbers_outside_stand_apart_and_on_their_ring() -> None:
    thin = [Spot(100.0 + 3.0 * n, 100.0, 1.5) for n in range(20)]
    ends = leader_ends(thin, [Spot(120.0, 130.0, 20.0)], 130.0, 100.0)
    assert all(hypot(x - 130.0, y - 130.0) == pytest.approx(100.0) for x, y in ends)
    apart = [hypot(a[0] - b[0], a[1] - b[1]) for n, a in enumerate(ends) for b in ends[:n]]
    assert min(apart) >= pi * 100.0 / 20 - 1e-6


def test_very_many_numbers_get_their_places_by_direction(monkeypatch: pytest.MonkeyPatch) -> None:
    def tried(*_: object) -> float:
        raise AssertionError("a place was tried")

    monkeypatch.setattr(leaders, "_cost", tried)
    directions = [2.4 * n for n in range(leaders.MOST_TRIED + 1)]
    thin = [Spot(130.0 + 50.0 * cos(turn), 130.0 + 50.0 * sin(turn), 1.5) for turn in directions]
    ends = leader_ends(thin, [], 130.0, 100.0)
    assert all(hypot(x - 130.0, y - 130.0) == pytest.approx(100.0) for x, y in ends)
    round_about = sorted(ends, key=lambda end: atan2(end[1] - 130.0, end[0] - 130.0))
    for a, b in pairwise(round_about):
        assert hypot(a[0] - b[0], a[1] - b[1]) == pytest.approx(200.0 * sin(pi / len(thin)))
    # each lies in the direction of its own, as near as an even ring lets it
    for spot, (x, y) in zip(thin, ends, strict=True):
        assert hypot(x - 130.0 - 2.0 * (spot.x - 130.0), y - 130.0 - 2.0 * (spot.y - 130.0)) < 15.0


@pytest.mark.parametrize(
    ("count", "told"),
    [(1, "1 conductor does not go in."), (4, "4 conductors cannot fit, however they are laid.")],
)
def test_one_that_is_too_thick_is_not_laid_this_way_or_that(count: int, told: str) -> None:
    picture = replace(TIGHT, verdict="cannot fit", circles=TIGHT.circles[:count])
    assert bore_words.heading(picture).endswith(told)
