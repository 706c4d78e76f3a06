"""What a printed sheet has to bear wherever it hangs: its warnings, room to write, every name whole, nothing twice."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

import postcheck
from postcheck.checking import check, pictures, sheet_of
from postcheck.pictured import BorePicture
from postcheck.renderers import bore_svg, bore_words
from postcheck.renderers.sheet import client_words, page_count, render, words
from postcheck.renderers.sheet.style import STYLE
from postcheck.sheet import CircuitPath, ClientSupply, HubEnd, HubPlace, Joint, PathPoint, Sheet
from tests.renderers.bores import FITS
from tests.renderers.sheet.builds import hostile_sheet, long_build
from tests.renderers.sheet.pages import columns, leaves, marked, said

ROOT = Path(__file__).parents[3]
EXAMPLES = sorted((ROOT / "example_builds").glob("*.post.toml"))
FAULTY = ROOT / "tests" / "builds" / "faulty"
AIRSHIP = EXAMPLES[0]

every_example = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)


def _sheet(path: Path, *parts: str) -> Sheet:
    return sheet_of(postcheck.load(path), parts)


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
    rows = [row for place in sheet_of(build, ["bench"]).bench for row in (*place.leads, *place.lines)]
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
    rows = [row for place in sheet_of(postcheck.loads(text), ["bench"]).bench for row in place.leads]
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


@pytest.mark.parametrize("drawn", [_sheet(EXAMPLES[0]), _sheet(EXAMPLES[1]), sheet_of(long_build(90))], ids=["airship", "submersible", "long"])  # fmt: skip
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
    told = [*client_words.cautions(replace(card, supplies=(*card.supplies, coin), ultraviolet=True))]
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
        columns(table)
        for leaf in leaves(_sheet(path, "bench", "which", "closing"))
        for table in leaf.iter("table")
    ]
    by_hand = [
        wide for each in found for head, wide in each.items() if head in ("Read", "Read, date", "Found")
    ]
    assert len(by_hand) == len(found) > 0
    assert min(by_hand) >= 30.0


# -- 6: nothing twice


@every_example
def test_no_circuit_stands_twice_on_the_bench_card_with_the_same_figures(path: Path) -> None:
    drawn = _sheet(path, "bench").bench
    rows = [row for place in drawn for row in place.lines]
    shown = [
        (words.bench_name(row), words.colours(row), words.setting(row), words.contact_test(row))
        for row in rows
    ]
    assert len(set(shown)) == len(shown)
    for place in drawn:
        tests = [(words.resistor(row), words.setting(row), words.contact_test(row)) for row in place.leads]
        joined = [(words.resistor(row), words.setting(row), words.contact_test(row)) for row in place.lines]
        assert not {*tests} & {*joined}
        for circuit, before in place.as_at:
            assert before != place.name
            assert any(f"'{circuit}'" in line for line in words.as_at(place))


def test_a_circuit_of_one_motor_is_tested_as_its_lead() -> None:
    hull = next(place for place in _sheet(EXAMPLES[1], "bench").bench if place.name == "hull")
    assert hull.as_lead == (("pump", "bilge pump"),)
    assert "pump" not in [row.name for row in hull.lines]
    assert list(words.as_lead(hull)) == ["Circuit 'pump', joined, is tested as 'bilge pump'."]


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
    drawn = sheet_of(postcheck.loads(f'{text}\n[circuit.other]\nsupply = "main"\n{second}'), ["volts"])
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


# -- a resistor that is not drawn is a resistor that is not put in


def _seats(name: str) -> list[tuple[str, str, str, float]]:
    """Every box of a hub map: the place, the conductor that it is drawn in, its colour, its ohms."""
    (path,) = (ROOT / "tests" / "builds").glob(f"*/{name}.post.toml")
    return [
        (place.name, end.name, end.colour, end.ohms)
        for place in _sheet(path, "hub").hub
        for joint in place.joints
        for end in joint.ends
        if end.ohms is not None
    ]


def test_a_resistor_before_a_run_is_drawn_in_the_run() -> None:
    assert _seats("lead-bare-strings") == [
        ("base", "stern feed", "yellow", 1000.0),
        ("hull", "deck lamp", "white", 1000.0),
    ]


def test_a_resistor_where_the_other_leg_ends_is_drawn_in_that_leg() -> None:
    assert _seats("resistor-where-the-legs-part") == [
        ("hull", "deck lamp", "white", 1000.0),
        ("keel", "stern lamp", "brown", 1000.0),
    ]


@pytest.mark.parametrize(
    "path",
    sorted((ROOT / "tests" / "builds" / "sound").glob("*.post.toml"))[::4] + EXAMPLES,
    ids=lambda path: path.name,
)
def test_each_resistor_that_is_not_with_its_lamp_is_drawn_once(path: Path) -> None:
    build = postcheck.load(path)
    away = [
        round(lamp.resistor.ohms, 6)
        for lamp in build.lamp
        if lamp.resistor is not None and lamp.resistor.place not in (None, lamp.place)
        for _ in range(1 if lamp.one_resistor else lamp.parallel)
    ]
    drawn = [
        round(end.ohms, 6)
        for place in sheet_of(build, ["hub"]).hub
        for joint in place.joints
        for end in joint.ends
        if end.ohms is not None
        for _ in range(end.count)
    ]
    assert not Counter(away) - Counter(drawn)


def test_strings_are_tested_through_a_resistor_each() -> None:
    items = {item.subject: item for place in _sheet(AIRSHIP, "closing").closing for item in place.items}
    assert "through each string's own 390" in words.how_tested(items["car windows"])
    assert "through its 1" in words.how_tested(items["nose lamp"])


def test_a_battery_may_give_all_that_its_cells_are_rated_for() -> None:
    # batteries are judged by what their cells give, other supplies by four fifths of their rating
    lamps, works = _sheet(EXAMPLES[1], "supply").supplies
    assert (lamps.kind, lamps.most_share, works.kind, works.most_share) == ("usb", 0.8, "battery", 1.0)
    assert "may be used" in " ".join(words.budget(lamps))
    assert "may be used" not in " ".join(words.budget(works))


@pytest.mark.parametrize(
    ("kinds", "off"),
    [
        (("battery",), "switch it off"),
        (("adaptor",), "unplug it"),
        (("battery", "usb"), "unplug it and switch it off"),
    ],
)
def test_the_card_says_how_it_is_put_out(kinds: tuple[str, ...], off: str) -> None:
    card = hostile_sheet("lamp").client
    assert card is not None
    supplies = tuple(ClientSupply(kind, 5.0, None, "base") for kind in kinds)
    assert f"; {off} when nobody" in list(client_words.cautions(replace(card, supplies=supplies)))[-1]


def test_the_card_leaves_out_no_lamp() -> None:
    card = " ".join(said(leaf) for leaf in leaves(sheet_of(long_build(90), ["client"])))
    for number in range(90):
        assert f"window {number} of the long saloon deck" in card


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
def test_the_pages_counted_are_the_pages_made(path: Path) -> None:
    drawn = _sheet(path)
    assert page_count(drawn) == len(leaves(drawn)) == render(drawn).count('class="leaf"')


def _places(leaf: ElementTree.Element) -> Iterator[tuple[str, ElementTree.Element]]:
    """Each joint and each table of a page, with the heading that stands over it there."""
    over = ""
    for each in leaf:
        if each.tag == "h2" or "h2" in (each.get("class") or "").split():
            over = ""
        elif each.tag == "h3" or "h3" in (each.get("class") or "").split():
            over = said(each).removesuffix(", continued")
        elif each.tag in ("table", "svg"):
            yield over, each


@pytest.mark.parametrize("drawn", [_sheet(path, "hub", "bench", "which", "closing") for path in EXAMPLES] + [sheet_of(long_build(90), ["hub", "bench", "closing"])], ids=["airship", "submersible", "tender", "long"])  # fmt: skip
def test_what_goes_on_overleaf_has_its_place_over_it_again(drawn: Sheet) -> None:
    places = {place.name for place in (*drawn.hub, *drawn.bench, *drawn.which, *drawn.closing)}
    found = [over for leaf in leaves(drawn) for over, _ in _places(leaf)]
    assert found
    assert {re.sub(r" \(.*", "", over) for over in found} <= places


def test_a_page_that_begins_within_a_place_says_so() -> None:
    again = [
        said(head) for leaf in leaves(sheet_of(long_build(90), ["bench"])) for head in marked(leaf, "h3")
    ]
    assert len(again) > 5
    assert set(again) == {"hub (behind a cover), continued"}


def test_unmarked_leads_have_their_setting_over_every_part_of_their_table() -> None:
    (place,) = _sheet(AIRSHIP, "which").which
    many = replace(place, expected=place.expected * 12)
    heads = [
        columns(table)
        for leaf in leaves(replace(_sheet(AIRSHIP, "which"), which=(many,)))
        for table in leaf.iter("table")
    ]
    assert len(heads) > 1
    for head in heads:
        assert "Reads at A (5\u00a0V through 1\u00a0kohm)" in [
            each.replace(" V", "\u00a0V").replace(" kohm", "\u00a0kohm") for each in head
        ]


def test_a_joint_of_many_wires_is_drawn_in_parts_about_as_long() -> None:
    # 14 rows do not fit one drawing, and leave no single one for a second
    ends = tuple(HubEnd("lead", f"lamp {n}", "supply", "red", "enamel-0.10", "deck") for n in range(14))
    drawn = replace(
        hostile_sheet("lamp"), parts=("hub",), hub=(HubPlace("hub", "cover", (Joint("deck", "+", ends),)),)
    )
    counts = [len(marked(hub, "h-name")) for leaf in leaves(drawn) for hub in marked(leaf, "hub")]
    assert sum(counts) == 14
    assert max(counts) - min(counts) <= 2


def test_a_page_without_a_test_has_no_word_of_one() -> None:
    card = replace(hostile_sheet("lamp"), parts=("closing",), closing=())
    assert "Set the limit" not in said(leaves(card)[0])
    assert "Set the limit" in said(leaves(replace(hostile_sheet("lamp"), parts=("closing",)))[0])


@pytest.mark.parametrize(
    ("given", "says"), [((), "the build has none"), ((_path("deck", 0.5),), "does not begin at zero")]
)
def test_a_heading_has_something_under_it(given: tuple[CircuitPath, ...], says: str) -> None:
    (leaf,) = leaves(replace(hostile_sheet("lamp"), parts=("volts",), paths=given))
    assert says in said(leaf)


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
    (on_sheet,) = sheet_of(build, ["post"]).bores
    assert on_sheet.findings == picture.findings


def test_a_clear_passage_is_said_to_fit() -> None:
    (picture,) = pictures(postcheck.load(AIRSHIP), ["post"])
    assert bore_words.heading(picture).endswith("all fit.")
