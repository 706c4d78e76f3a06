"""What a printed sheet has to bear wherever it hangs: its warnings, room to write, every name whole, nothing twice."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

import postcheck
from postcheck.checking import check, pictures, sheet
from postcheck.renderers import bore_svg, bore_words
from postcheck.renderers.sheet import page_count, render, words
from postcheck.renderers.sheet.style import STYLE
from postcheck.report import BorePicture
from postcheck.sheet import CircuitPath, ClientSupply, PathPoint, Sheet
from tests.renderers.bores import FITS
from tests.renderers.sheet.builds import hostile_sheet, long_build
from tests.renderers.sheet.pages import columns, leaves, marked, said

ROOT = Path(__file__).parents[3]
EXAMPLES = sorted((ROOT / "example_builds").glob("*.post.toml"))
FAULTY = ROOT / "tests" / "builds" / "faulty"
AIRSHIP = EXAMPLES[0]

every_example = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)


def _sheet(path: Path, *parts: str) -> Sheet:
    return sheet(postcheck.load(path), parts)


# -- 1, 2: settings


STROBE = """[build]
name = "Buoy with one lamp"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "1 A"
[place.base]
access = "open"
[place.hull]
access = "sealed"
[circuit.light]
supply = "main"
behaviour = "{behaviour}"
{more}
[[lamp]]
name = "light"
circuit = "light"
kind = "smd-0603-red"
place = "hull"
resistor = "{ohms} ohm {watts}"
lead = "100 mm to base"
"""


@pytest.mark.parametrize("ohms", [240, 270, 300, 330, 390, 470, 1000])
@pytest.mark.parametrize("watts", ["2 W", "1/8 W"])
def test_what_flashes_is_tested_with_no_more_than_it_stands_for_good(ohms: int, watts: str) -> None:
    text = "format = 1\n" + STROBE.format(
        behaviour="flash", more='rate = "1 Hz"\non_share = "1 %"', ohms=ohms, watts=watts
    )
    build = postcheck.loads(text)
    rows = [row for place in sheet(build, ["bench"]).bench for row in (*place.leads, *place.lines)]
    assert rows
    # 30 mA is what the catalogue has from its data sheet; P = I**2 R is what the resistor turns into heat
    most = min(0.030, (float(watts[:-2].replace("1/8", "0.125")) / ohms) ** 0.5)
    for row in rows:
        assert row.pulsed
        assert row.expected is not None
        assert row.expected.most <= most * 1.001
        assert "stands it held on" in words.setting(row)[1]


def test_a_steady_circuit_is_not_told_to_be_held_on() -> None:
    text = "format = 1\n" + STROBE.format(behaviour="steady", more="", ohms=560, watts="1/4 W")
    rows = [row for place in sheet(postcheck.loads(text), ["bench"]).bench for row in place.leads]
    assert rows
    assert not any("held on" in words.setting(row)[1] for row in rows)


@every_example
def test_a_run_of_hours_has_its_limit_and_its_caution(path: Path) -> None:
    drawn = _sheet(path, "closing")
    long = [item for place in drawn.closing for item in place.items if item.hours and item.volts is not None]
    assert long
    for item in long:
        assert item.limit is not None
        assert item.expected is not None
        assert item.limit >= item.expected.most * 0.999
        assert "limit" in words.how_tested(item)
    (caution,) = words.long_run(drawn.closing)
    assert all(word in caution for word in ("limit", "does not burn", "watch over it"))
    assert sum(" ".join(caution.split()) in said(leaf) for leaf in leaves(drawn)) == 1


# -- 3: every page by itself


@pytest.mark.parametrize("drawn", [_sheet(EXAMPLES[0]), _sheet(EXAMPLES[1]), sheet(long_build(90))], ids=["airship", "submersible", "long"])  # fmt: skip
def test_every_page_warns_for_itself(drawn: Sheet) -> None:
    seen = set()
    for leaf in leaves(drawn):
        first = " ".join(map(said, marked(leaf, "first")))
        tables = {
            head for table in leaf.iter("table") for head in columns(table) if head in ("Bench supply", "How")
        }
        if tables:
            assert "Set the limit first" in first
        if marked(leaf, "hub") or "Bench supply" in tables:
            assert "No power while soldering" in first
        seen |= tables | ({"hub"} if marked(leaf, "hub") else set())
    assert seen == {"hub", "Bench supply", "How"}


# -- 4: the client's card


def test_the_card_begins_with_what_can_hurt_and_in_this_order() -> None:
    card = hostile_sheet("lamp").client
    assert card is not None
    coin = ClientSupply("battery", 3.0, None, "belly", cells=1, size="cr2032", coin=True, gas=True)
    told = [*words.cautions(replace(card, supplies=(*card.supplies, coin), ultraviolet=True))]
    order = ["Coin cells", "seizure", "Lithium", "approved for your country", "hydrogen"]
    places = [next(n for n, sentence in enumerate(told) if word in sentence) for word in order]
    assert places == [0, 1, 2, 3, 4]


@every_example
def test_take_care_is_the_first_heading_of_the_card(path: Path) -> None:
    heads = [said(head) for leaf in leaves(_sheet(path, "client")) for head in leaf.iter("h3")]
    assert heads[0] == "Take care"


# -- 5: room to write


@every_example
def test_a_reading_has_room_to_be_written(path: Path) -> None:
    found = [
        columns(table) for leaf in leaves(_sheet(path, "bench", "closing")) for table in leaf.iter("table")
    ]
    by_hand = [wide for each in found for head, wide in each.items() if head.startswith("Read")]
    assert by_hand
    assert min(by_hand) >= 30.0


# -- 6: nothing twice


@every_example
def test_no_circuit_stands_twice_on_the_bench_card_with_the_same_figures(path: Path) -> None:
    rows = [row for place in _sheet(path, "bench").bench for row in place.lines]
    shown = [
        (words.bench_name(row), words.colours(row), words.setting(row), words.contact_test(row))
        for row in rows
    ]
    assert len(set(shown)) == len(shown)
    for place in _sheet(path, "bench").bench:
        for circuit, before in place.as_at:
            assert before != place.name
            assert any(f"'{circuit}'" in line for line in words.as_at(place))


def _path(circuit: str, lost: float) -> CircuitPath:
    return CircuitPath(circuit, "main", "lamp", (PathPoint("base", 0.0, 12.0), PathPoint("hub", 0.3, 12.0 - lost)), 2.1, 6e-3)  # fmt: skip


@pytest.mark.parametrize(("lost", "charts"), [(0.004, 0), (0.016, 0), (0.017, 1), (0.5, 1)])
def test_volts_that_hardly_fall_are_a_row(lost: float, charts: int) -> None:
    drawn = replace(hostile_sheet("lamp"), parts=("volts",), paths=(_path("deck", lost),))
    (leaf,) = leaves(drawn)
    assert len(marked(leaf, "chart")) == charts
    assert len(list(leaf.iter("table"))) == 1 - charts


def test_circuits_with_the_same_figures_are_one_chart() -> None:
    text = "format = 1\n" + STROBE.format(behaviour="steady", more="", ohms=560, watts="1/4 W")
    lamp = text[text.index("[[lamp]]") :]
    second = lamp.replace('"light"', '"other"')
    drawn = sheet(postcheck.loads(f'{text}\n[circuit.other]\nsupply = "main"\n{second}'), ["volts"])
    (path,) = drawn.paths
    assert (path.circuit, path.alike) == ("light", ("other",))
    assert "light, other" in said(leaves(drawn)[0])


# -- 7, 8, 10, 12: the hub map


def test_a_channel_is_named_where_it_is_joined() -> None:
    said_there = " ".join(said(leaf) for leaf in leaves(_sheet(AIRSHIP, "hub")))
    assert "board flasher, channel 1" in said_there
    assert "board flasher, channel 2" in said_there


@every_example
def test_each_wire_has_a_sleeve_with_an_outline_and_its_word(path: Path) -> None:
    drawn = _sheet(path, "hub")
    ends = [
        end
        for place in drawn.hub
        for end in (*(end for joint in place.joints for end in joint.ends), *place.loose)
        if end.colour and end.kind in ("run", "lead")
    ]
    pages = leaves(drawn)
    rims = [rim for leaf in pages for rim in (*marked(leaf, "w-rim"), *marked(leaf, "w-plain"))]
    hubs = " ".join(said(hub) for leaf in pages for hub in marked(leaf, "hub"))
    assert len(rims) == len(ends) > 0
    for end in ends:
        assert hubs.count(end.colour) >= sum(other.colour == end.colour for other in ends)


@pytest.mark.parametrize("scheme", [0, 1])
def test_a_sleeve_of_any_colour_has_an_outline_that_shows(scheme: int) -> None:
    # WCAG 2.2, 1.4.11: 3 to 1 for what is drawn; the outline is the ink, which is held to 7 to 1 against the paper elsewhere
    rim = re.search(r"\.w-rim\{fill:none;stroke:var\(--ink\);stroke-width:([.0-9]+)\}", STYLE)
    assert rim is not None
    assert float(rim[1]) >= 0.3
    assert re.findall(r":root\{[^}]*--ink:(#[0-9a-f]{6})", STYLE)[scheme]


LONG = "supply of the illuminated promenade deck with its forward saloon and the awning above it, port side"


def test_no_name_of_the_hub_map_is_cut() -> None:
    drawn = replace(hostile_sheet(LONG), parts=("hub",))
    there = said(leaves(drawn)[0]).replace(" ", "")
    assert LONG.replace(" ", "") in there
    assert not [text for leaf in leaves(drawn) for text in marked(leaf, "h-name") if "…" in said(text)]


def test_a_name_that_the_head_cuts_stands_whole_on_the_first_page() -> None:
    first = leaves(replace(hostile_sheet(LONG), parts=("supply",)))[0]
    assert "…" in said(next(first.iter("h1")))
    assert LONG in [said(note) for note in marked(first, "small")]


@pytest.mark.parametrize("name", [LONG, "w" * 60])
def test_no_line_of_a_legend_is_cut(name: str) -> None:
    circles = tuple(replace(circle, name=name[:60], wire=name) for circle in FITS.circles)
    text = bore_svg.render([replace(FITS, circles=circles)])
    assert "…" not in re.sub(r"<(title|desc)[^>]*>[^<]*", "", text) or len(name) > 60
    shown = re.sub(r"\s", "", "".join(re.findall(r"<text[^>]*>([^<]*)<", text)))
    assert shown.count(bore_words.what(circles[0]).replace(" ", "")) == len(circles)


# -- 9: a slim bundle


def _slim(across: float) -> BorePicture:
    scale = across / FITS.smallest_bore
    circles = tuple(
        replace(c, x=c.x * scale, y=c.y * scale, diameter=c.diameter * scale) for c in FITS.circles
    )
    return replace(FITS, circles=circles, smallest_bore=across)


@pytest.mark.parametrize(("across", "inset"), [(0.6e-3, True), (1.2e-3, True), (2e-3, False), (4e-3, False)])
def test_a_slim_bundle_is_drawn_by_itself_to_its_own_scale(across: float, *, inset: bool) -> None:
    picture = _slim(across)
    text = bore_svg.render([picture])
    assert ('data-is="inset"' in text) is inset
    numbered = re.findall(r'<g data-inset="(\d+)">\s*<circle cx="[^"]*" cy="[^"]*" r="([^"]*)"', text)
    assert len(numbered) == (len(picture.circles) if inset else 0)
    if inset:
        bar = re.search(r'd="M([\d.]+) [\d.]+V[\d.]+H([\d.]+)V[\d.]+" data-is="inset-scale" data-metres="([^"]+)"', text)  # fmt: skip
        assert bar is not None
        unit = (float(bar[2]) - float(bar[1])) / float(bar[3])
        for number, r in numbered:
            assert float(r) == pytest.approx(picture.circles[int(number) - 1].diameter / 2.0 * unit, rel=1e-3)
            assert float(r) > 10.0  # large enough for a number inside it


# -- 11: pages


@every_example
def test_no_page_is_nearly_empty_but_the_card(path: Path) -> None:
    drawn = _sheet(path)
    assert page_count(drawn) == len(leaves(drawn)) == render(drawn).count('class="leaf"')
    for leaf in leaves(drawn):
        assert len(list(leaf)) > 3  # head, foot, and more than one block


# -- 13: the post and the check


@pytest.mark.parametrize(
    "name",
    ["passage-plug", "passage-widest-bore", "passage-joint-inside", "passage-joint-inside-turning", "passage-widest-barely"],
)  # fmt: skip
def test_the_picture_says_what_the_check_says(name: str) -> None:
    build = postcheck.load(FAULTY / f"{name}.post.toml")
    (picture,) = pictures(build, ["post"])
    (report,) = check(build).files
    passing = [finding for finding in report.findings if finding.check.startswith("passage.")]
    assert passing
    told = bore_words.render([picture])
    for finding in passing:
        assert f"{finding.severity.capitalize()}: {finding.says}" in told
    worst = "stop" if any(finding.severity == "stop" for finding in passing) else "caution"
    assert bore_words.worst_open(picture) == worst
    assert "all fit." not in told
    (on_sheet,) = sheet(build, ["post"]).bores
    assert on_sheet.findings == picture.findings


def test_a_clear_passage_is_said_to_fit() -> None:
    (picture,) = pictures(postcheck.load(AIRSHIP), ["post"])
    assert bore_words.heading(picture).endswith("all fit.")
