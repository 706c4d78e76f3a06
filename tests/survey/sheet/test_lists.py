"""Lengths and counts of small builds, each worked out by hand beside it; the shelf; the table for a spreadsheet."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import pandas
import pytest

import postcheck
from postcheck.checking import sheet_of
from postcheck.cli import main
from postcheck.materials import Item, Piece, Sleeved
from postcheck.renderers import sheet_csv, sheet_markdown
from postcheck.renderers.sheet import render
from postcheck.renderers.sheet.lists import sleeve_over
from tests.renderers.hostile import FORBIDDEN, NAMES
from tests.renderers.sheet.builds import hostile_sheet

ROOT = Path(__file__).parents[3]
TENDER = ROOT / "example_builds" / "tender.post.toml"

SMALL = """
format = 1
build = { name = "Pilot cutter" }
usual = { lead = "enamel-0.10", run = "ptfe-28" }
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "500 mA"
[post]
from = "base"
to = "hub"
bore = "6 mm"
length = "100 mm"
slack = "8 mm"
[place]
base = { access = "open" }
hub = { access = "cover"HUB }
cabin = { access = "sealed" }
[circuit.lights]
supply = "main"
[[way]]
from = "base"
to = "hub"
length = "183 mm"
[[way]]
from = "cabin"
to = "hub"
length = "90 mm"
[[lamp]]
name = "cabin lamp"
circuit = "lights"
kind = "smd-0603-white"
place = "cabin"
resistor = "1k 1/4 W at hub"
lead = { to = "hub", colours = ["red", "black"]LEAD }
[[run]]
name = "feed"
line = "lights"
ends = ["base", "hub"]
colour = "red"
RUN
[[run]]
name = "negative"
line = "main-"
ends = ["base", "hub"]
colour = "black"
STOCK
"""


def _build(**put: str) -> postcheck.Build:
    text = SMALL
    for word in ("HUB", "LEAD", "RUN", "STOCK"):
        text = text.replace(word, put.get(word.lower(), ""))
    return postcheck.loads(text)


def _cut(build: postcheck.Build) -> dict[tuple[str, str], int | None]:
    """Each piece in mm by name and leg."""
    return {
        (one.name, one.leg): None if one.length is None else round(one.length * 1e3)
        for one in postcheck.parts_list(build).pieces
    }


LEAD_FEED = ("cabin lamp", "supply")


@pytest.mark.parametrize(
    ("put", "piece", "mm"),
    [
        # by the way: 183 + 8 mm slack of the post + 2 x 15 = 221 -> 230
        ({}, ("feed", ""), 230),
        # by the way: 90 + 5 + 15 = 110
        ({}, LEAD_FEED, 110),
        # the file's own length holds, with its slack in it: 200 + 30 = 230; what goes over by 1 mm goes to the next centimetre
        ({"run": 'length = "200 mm"'}, ("feed", ""), 230),
        ({"run": 'length = "201 mm"'}, ("feed", ""), 240),
        # one that is shorter than its way would not reach: 183 + 30 = 213 -> 220
        ({"run": 'length = "150 mm"'}, ("feed", ""), 220),
        # a spare length stands for new ends: by the way 90 + 60 + 5 + 5 = 160; in a length that is given it is in: 170 + 10
        ({"lead": ', spare = "60 mm"'}, LEAD_FEED, 160),
        ({"lead": ', spare = "60 mm", length = "170 mm"'}, LEAD_FEED, 180),
        # a cover that comes off by 40 mm takes that, and the 30 mm of access.slack: 90 + 5 + (5 + 40 + 30) = 170
        ({"hub": ', opening = "40 mm"'}, LEAD_FEED, 170),
        # at that end of a run too: 183 + 8 + 15 + 75 = 281 -> 290
        ({"hub": ', opening = "40 mm"'}, ("feed", ""), 290),
        # one leg of its own length
        ({"lead": ', length = "100 mm", back = { length = "130 mm" }'}, ("cabin lamp", "return"), 150),
    ],
)
def test_a_length_is_the_sum_worked_out_by_hand(put: dict[str, str], piece: tuple[str, str], mm: int) -> None:
    assert _cut(_build(**put))[piece] == mm


def test_a_changed_limit_is_the_one_that_counts() -> None:
    changed = '[[limit]]\nname = "run.anew"\nvalue = "25 mm"\nreason = "thick fingers"\n'
    assert _cut(_build(stock=changed))["feed", ""] == 250  # 183 + 8 + 2 x 25 = 241


def test_without_a_length_none_is_made_up() -> None:
    text = TENDER.read_text().replace('length = "200 mm"\n', "", 1)
    listed = postcheck.parts_list(postcheck.loads(text))
    (piece,) = [one for one in listed.pieces if one.length is None]
    assert (piece.wire, piece.colour, piece.laid) == ("ptfe-28", "red", None)
    (item,) = [one for one in listed.items if (one.what, one.colour) == ("ptfe-28", "red")]
    assert (item.needed, item.unmeasured) == (0.0, 1)


def test_a_cable_is_bought_as_one_and_metal_is_not_cut() -> None:
    more = """
[cable.ribbon]
outside = "3 mm"
[[run]]
name = "data"
carries = "data"
ends = ["base", "hub"]
length = "210 mm"
cable = "ribbon"
[[run]]
name = "clock"
carries = "data"
ends = ["base", "hub"]
length = "200 mm"
cable = "ribbon"
[[run]]
name = "metal"
line = "main-"
ends = ["base", "hub"]
body = true
"""
    listed = postcheck.parts_list(_build(stock=more))
    assert "metal" not in {one.name for one in listed.pieces}
    (cable,) = [one for one in listed.items if one.kind == "cable"]
    assert (cable.what, cable.needed) == ("ribbon", 0.3)  # the longer: 210 + 30 = 240 -> 264 mm


def _items(have: str, usual: str = "") -> dict[tuple[str, str], Item]:
    text = TENDER.read_text() + f"[stock]\nhave = {have}\n"
    if usual:
        text = text.replace('resistor = "1/4 W 5 %"', usual)
    return {(one.what, one.colour): one for one in postcheck.parts_list(postcheck.loads(text)).items}


@pytest.mark.parametrize(
    ("have", "item", "buy"),
    [
        ('["2 x smd-0603-warm-white"]', ("smd-0603-warm-white", ""), 1),
        ('["20 x lamp smd-0603-warm-white"]', ("smd-0603-warm-white", ""), 0),
        ('["2 x smd-0603-white"]', ("smd-0603-warm-white", ""), 3),
        ('["10 x resistor 390 ohm 1/4 W"]', ("390 ohm 1/4 W 5 %", ""), 0),
        ('["10 x resistor 390R"]', ("390 ohm 1/4 W 5 %", ""), 0),  # of the usual power
        ('["10 x resistor 390 ohm 1/2 W 1 %"]', ("390 ohm 1/4 W 5 %", ""), 0),  # more than enough
        ('["10 x resistor 390 ohm 1/8 W"]', ("390 ohm 1/4 W 5 %", ""), 1),  # too weak
        ('["10 x resistor 390 ohm 1/4 W 10 %"]', ("390 ohm 1/4 W 5 %", ""), 1),  # too coarse
        ('["10 x resistor 390 ohm 1206"]', ("390 ohm 1/4 W 5 %", ""), 1),  # a chip has no leads
        ('["10 x resistor 330 ohm 1/4 W"]', ("390 ohm 1/4 W 5 %", ""), 1),
        ('["1 x fuse 250 mA"]', ("250 mA", ""), 0),
        ('["1 x fuse 250 mA glass"]', ("250 mA", ""), 0),
        ('["1 x fuse 250 mA slow"]', ("250 mA", ""), 1),
        ('["5 m of ptfe-28"]', ("ptfe-28", "red"), 0),
        ('["100 mm of ptfe-28, RD"]', ("ptfe-28", "red"), 0.2),  # 0.3 less 0.1 m
        ('["5 m of ptfe-28, black"]', ("ptfe-28", "red"), 0.3),
        ('["5 m of ptfe-30"]', ("ptfe-28", "red"), 0.3),
        ('["3 x sleeve 3.2 mm"]', ("3.2 mm", ""), 0),
        ('["3 x sleeve 2.4 mm"]', ("3.2 mm", ""), 1),
        ('[{ count = 2, lamp = "smd-0603-warm-white" }]', ("smd-0603-warm-white", ""), 1),
    ],
)
def test_what_is_on_the_shelf_is_taken_off(have: str, item: tuple[str, str], buy: float) -> None:
    assert _items(have)[item].buy == pytest.approx(buy, abs=1e-9)


def test_what_serves_for_two_is_given_out_once() -> None:
    # 0.3 m of red and 0.3 m of black are needed; 0.4 m of any colour and 0.2 m of red are there: 0.6 m, all of it used
    found = _items('["0.4 m of ptfe-28", "0.2 m of ptfe-28, red"]')
    red, black = found["ptfe-28", "red"], found["ptfe-28", "black"]
    assert (red.have, black.have) == (0.3, 0.3)
    found = _items('["0.3 m of ptfe-28", "0.2 m of ptfe-28, red"]')
    assert found["ptfe-28", "red"].have + found["ptfe-28", "black"].have == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("have", "says"),
    [
        ('["5 m ptfe-29"]', "there is no wire 'ptfe-29'"),
        ('["2 x smd-0603-whit"]', "there is no kind of lamp 'smd-0603-whit'"),
        ('["ptfe-28"]', "does not say how many"),
        ('["0 x rice"]', "out of range"),
        ('["10 x resistor 1k at hub"]', "sits at no place"),
        ('[{ wire = "ptfe-28", count = 3 }]', "has a length and no count"),
        ('[{ wire = "ptfe-28", lamp = "rice", count = 3 }]', "in one"),
        ("[{ count = 3 }]", "names nothing"),
        ('[{ lamp = "rice", count = 3, colour = "red" }]', "has no colour"),
    ],
)
def test_a_mistake_on_the_shelf_is_told_with_its_place(have: str, says: str) -> None:
    text = TENDER.read_text() + f"[stock]\nhave = {have}\n"
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(text)
    (problem,) = caught.value.problems
    assert says in problem.says
    assert (problem.line, (problem.column or 0) >= 8) == (text.count("\n"), True)


def test_a_workshop_file_may_say_what_is_on_the_shelf(tmp_path: Path) -> None:
    (tmp_path / "workshop.toml").write_text('format = 1\n[stock]\nhave = ["3 x smd-0603-warm-white"]\n')
    build = tmp_path / "tender.post.toml"
    build.write_text(TENDER.read_text().replace("format = 1", 'format = 1\nuse = ["workshop.toml"]'))
    lamps = [one for one in postcheck.parts_list(postcheck.load(build)).items if one.kind == "lamp"]
    assert [(one.needed, one.buy) for one in lamps] == [(3, 0)]


# -- the table of numbers, as pandas reads it: a reader that is not ours, which guesses types as spreadsheets do


def _read(text: str) -> pandas.DataFrame:
    return pandas.read_csv(StringIO(text, newline=""), keep_default_na=False)


@pytest.mark.parametrize(
    "path", sorted((ROOT / "example_builds").glob("*.post.toml")), ids=lambda path: path.name
)
def test_the_tables_read_back_as_numbers(path: Path) -> None:
    build = postcheck.load(path)
    listed = postcheck.parts_list(build)
    table = _read(sheet_csv.render(sheet_of(build, ["cut"])))
    assert pandas.api.types.is_numeric_dtype(table["Cut to (mm)"])
    assert list(table["Cut to (mm)"] / 1e3) == pytest.approx([one.length for one in listed.pieces])
    assert list(table["Count"]) == [one.count for one in listed.pieces]
    assert list(table["Colour"]) == [one.colour for one in listed.pieces]
    table = _read(sheet_csv.render(sheet_of(build, ["buy"])))
    for column in ("Needed", "There", "To buy"):
        assert pandas.api.types.is_numeric_dtype(table[column])
    assert list(table["To buy"]) == pytest.approx([one.buy for one in listed.items])
    assert list(table["Kind"]) == [one.kind for one in listed.items]


@pytest.mark.parametrize(
    "name",
    [*NAMES.values(), '=HYPERLINK("http://example.test","x")', "+1", "-2+3", "@SUM(A1)", " =1", "\uff1d1"],
)
@pytest.mark.parametrize("part", ["cut", "buy"])
def test_no_name_becomes_a_formula_or_another_row(name: str, part: str) -> None:
    from dataclasses import replace  # noqa: PLC0415

    text = sheet_csv.render(replace(hostile_sheet(name), parts=(part,)))
    assert not FORBIDDEN.search(text.replace("\r\n", ""))
    table = _read(text)
    assert len(table) == (2 if part == "cut" else 3)
    for column in table.columns:
        if not pandas.api.types.is_numeric_dtype(table[column]):
            assert not any(
                str(cell).lstrip().startswith(("=", "+", "-", "@", "\uff1d")) for cell in table[column]
            )
    text.encode("utf-8")
    assert all(line.endswith("\r\n") for line in text.splitlines(keepends=True) if "\n" in line)


def test_the_command_writes_one_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "cut.csv"
    assert main(["sheet", str(TENDER), "--part", "cut", "-o", str(out)]) == 0
    raw = out.read_bytes()
    assert raw.count(b"\r\n") == raw.count(b"\n") == 5  # a head and four rows
    assert b'1,enamel-0.10,red,,"cabin lamps, feed",cabin,hub,1,150,170,' in raw
    capsys.readouterr()
    assert main(["sheet", str(TENDER), "--part", "buy", "--format", "csv", "-o", "-"]) == 0
    assert capsys.readouterr().out.startswith("Kind,What,")
    for parts in ([], ["--part", "hub"], ["--part", "cut", "--part", "buy"]):
        other = tmp_path / "other.csv"
        assert main(["sheet", str(TENDER), *parts, "-o", str(other)]) == 2
        assert "--part cut" in capsys.readouterr().err
        assert not other.exists()


@pytest.mark.parametrize("form", ["html", "markdown", "csv"])
def test_each_sleeve_is_listed_with_what_it_goes_over(form: str) -> None:
    drawn = sheet_of(postcheck.load(ROOT / "example_builds" / "survey_submersible.post.toml"), ["buy"])
    text = {"html": render, "markdown": sheet_markdown.render, "csv": sheet_csv.render}[form](drawn)
    for over in ("lamps- (loose) at hull", "navigation, search at hull", "each resistor of 1/8 W (5)"):
        assert over in text


def test_a_sleeve_inside_a_run_names_the_run() -> None:
    item = Item("sleeve", "1.6 mm", "", 2, over=(Sleeved("hub", "main-"), Sleeved(run="feed", loose=True)))
    assert sleeve_over(item) == "main- at hub; the joint in run feed (loose)"


def test_pieces_alike_are_one_row() -> None:
    pieces = postcheck.parts_list(_build(run="conductors = 3\n")).pieces
    (feed,) = [one for one in pieces if one.name == "feed"]
    assert isinstance(feed, Piece)
    assert feed.count == 3
