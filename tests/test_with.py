"""`check --with`: judged as if the file said something else, and the file left as it is."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from postcheck.cli import main

ROOT = Path(__file__).parent.parent
AIRSHIP = str(ROOT / "example_builds" / "mail_airship.post.toml")
TENDER = str(ROOT / "example_builds" / "tender.post.toml")
BORE = Path(AIRSHIP).read_text(encoding="utf-8").splitlines().index('bore   = "5 mm"') + 1


def test_it_is_judged_with_the_change_and_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    before = Path(AIRSHIP).read_bytes()
    assert main(["check", AIRSHIP]) == 0
    assert "what" not in capsys.readouterr().out
    assert main(["check", AIRSHIP, "--with", "post.bore=1.9 mm", "--with", "post.turn = '30 deg'"]) == 1
    told = capsys.readouterr().out
    assert f'{AIRSHIP}:{BORE}:1  what if  With post.bore = "1.9 mm" instead of "5 mm".\n' in told
    assert 'With post.turn = "30 deg" instead of "90 deg".\n' in told
    assert told.splitlines()[-1].endswith("with 2 what-ifs)")
    assert f"{AIRSHIP}:{BORE}:1  stop  " in told
    assert Path(AIRSHIP).read_bytes() == before


def test_json_says_with_what(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", AIRSHIP, "--with", "post.bore=6 mm", "--format", "json"]) == 0
    (file,) = json.loads(capsys.readouterr().out)["files"]
    assert file["what_if"] == [
        {"key": "post.bore", "value": "6 mm", "was": "5 mm", "where": {"path": AIRSHIP, "line": BORE, "column": 1}}
    ]  # fmt: skip
    assert file["figures"]["passages"]["post"]["bore"] == 0.006


@pytest.mark.parametrize("form", ["sarif", "junit", "github"])
def test_every_form_says_with_what(form: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", AIRSHIP, "--with", "post.bore=1.9 mm", "--format", form]) == 1
    told = capsys.readouterr().out.replace("&quot;", '"').replace('\\"', '"')
    assert 'With post.bore = "1.9 mm" instead of "5 mm".' in told
    if form == "sarif":
        assert '"fixes"' not in told


def test_standard_input_can_be_changed_too(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(Path(AIRSHIP).read_bytes())))
    assert main(["check", "-", "--with", "post.bore=1.9 mm"]) == 1
    assert "Name: passage.cannot-fit:" in capsys.readouterr().out


def test_what_is_no_assignment_is_told_once(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", AIRSHIP, TENDER, "--with", "post.bore"]) == 2
    out, err = capsys.readouterr()
    assert (out, err) == (
        "",
        "postcheck: --with: 'post.bore' is no assignment; write it like post.bore = \"6 mm\"\n",
    )


def test_a_file_that_has_no_such_part_hides_no_other(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", TENDER, AIRSHIP, "--with", 'lamp."nose lamp".resistor.ohms = "2k"']) == 2
    out, err = capsys.readouterr()
    assert "Mail airship, 1:144: clear" in out
    assert err.count("\n") == 1
    assert f'{TENDER}: with lamp."nose lamp".resistor.ohms = "2k": there is no lamp \'nose lamp\'; ' in err


def test_a_name_that_is_not_known_exits_with_2_and_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", AIRSHIP, "--with", "lamp.nos lamp.wanted=5 mA"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.endswith("there is no lamp 'nos lamp'; did you mean 'nose lamp'?\n")
    assert err.count("\n") == 1


# -- the other commands


def test_a_picture_and_a_comparison_say_with_what(capsys: pytest.CaptureFixture[str]) -> None:
    before = Path(AIRSHIP).read_bytes()
    with_what = 'With post.bore = "1.9 mm" instead of "5 mm".'
    assert main(["post", AIRSHIP, "--with", "post.bore=1.9 mm"]) == 0
    assert capsys.readouterr().out.splitlines()[1] == with_what
    assert main(["post", AIRSHIP, "--with", "post.bore=1.9 mm", "--svg", "-"]) == 0
    drawing = capsys.readouterr().out.replace("\u00a0", " ")  # a number and its unit stay on one line
    assert "With post.bore = &quot;1.9 mm&quot; instead of" in drawing
    assert main(["compare", AIRSHIP, "--with", "post.bore=1.9 mm"]) == 1
    told = capsys.readouterr().out
    assert (
        f"Before: Mail airship, 1:144 ({AIRSHIP})\nNow: Mail airship, 1:144 ({AIRSHIP}). {with_what}\n"
        in told
    )
    assert "bore 1.9 mm, was 5 mm" in told
    assert main(["compare", TENDER, AIRSHIP, "--with", "post.bore=1.9 mm", "--format", "json"]) == 1
    sides = json.loads(capsys.readouterr().out)
    assert sides["before"]["what_if"] == []
    assert [one["value"] for one in sides["after"]["what_if"]] == ["1.9 mm"]
    assert Path(AIRSHIP).read_bytes() == before


def test_standard_input_is_compared_with_itself(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(Path(AIRSHIP).read_bytes())))
    assert main(["compare", "-", "--with", "post.bore=1.9 mm"]) == 1
    assert capsys.readouterr().out.startswith("Stop, was clear: ")


def test_each_page_of_a_sheet_says_with_what(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "sheet.html"
    assert main(["sheet", AIRSHIP, "-o", str(out), "--with", "post.bore=6 mm"]) == 0
    page = out.read_text(encoding="utf-8")
    assert page.count("with 1 what-if") == page.count("<footer>")
    assert (
        "With post.bore = &quot;6 mm&quot; instead of &quot;5 mm&quot;. It is not what the file says." in page
    )
    capsys.readouterr()
    assert main(["sheet", AIRSHIP, "-o", "-", "--format", "markdown"]) == 0
    assert "what-if" not in capsys.readouterr().out


@pytest.mark.parametrize("command", [["plan"], ["compare"], ["post"], ["sheet", "-o", "-"], ["vary"]])
@pytest.mark.parametrize(
    ("change", "says"),
    [("post", "--with: 'post' is no assignment"), ("post.boer=3 mm", "post knows no key 'boer'; did you mean 'bore'?")],
)  # fmt: skip
def test_each_command_refuses_alike(
    command: list[str], change: str, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    values = ["post.turn", "0..90 deg"] if command == ["vary"] else []
    assert main([*command, AIRSHIP, *values, "--with", change]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert says in err


WISH = """format = 1
[build]
name = "Harbour tug"
stage = "planning"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"  # as bought
rated = "1 A"
[post]
from = "base"
to = "hull"
bore = "5 mm"
length = "100 mm"
[place.base]
access = "open"
[place.hull]
access = "cover"
[circuit.running]
supply = "main"
[[lamp]]
name = "bow lamp"
circuit = "running"
kind = "smd-0603-white"
place = "hull"
resistor = "1k5 at hull"
"""


@pytest.mark.parametrize(
    ("change", "line"),
    [
        ("supply.main.volts = 9 V", 'volts = "9 V"  # as bought'),
        ("lamp.bow lamp.resistor.ohms = 2k2", 'resistor = { ohms = "2k2", place = "hull" }'),
        ("usual.run = ptfe-30", '[usual]\nrun = "ptfe-30"'),
        ("stock.series = E24", '[stock]\nseries = "E24"'),
    ],
)
def test_the_copy_of_a_plan_says_what_it_was_planned_with(
    change: str, line: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wish, copy = tmp_path / "wish.post.toml", tmp_path / "copy.post.toml"
    wish.write_text(WISH, encoding="utf-8")
    assert main(["plan", str(wish), "--with", change, "--write", str(copy)]) == 0
    told = capsys.readouterr().out
    assert told.splitlines()[1].startswith("With ")
    assert f"Wrote {copy}, with what it was planned with: " in told
    assert line in copy.read_text(encoding="utf-8")
    assert wish.read_text(encoding="utf-8") == WISH
    assert main(["check", str(copy)]) == 0


def test_a_plan_with_a_change_goes_into_no_file_that_is_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wish = tmp_path / "wish.post.toml"
    wish.write_text(WISH, encoding="utf-8")
    assert main(["plan", str(wish), "--with", "post.bore = 3 mm", "--in-place"]) == 2
    assert "name a copy with --write" in capsys.readouterr().err
    assert wish.read_text(encoding="utf-8") == WISH
    assert main(["plan", str(wish), "--with", "post.bore = 3 mm", "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)["plan"]
    assert [(one["key"], one["was"]) for one in told["what_if"]] == [("post.bore", '"5 mm"')]
    assert 'bore = "3 mm"' in told["text"]


def test_a_key_that_is_no_text_is_refused_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    """A byte of the command line that is not UTF-8 comes as half a character."""
    assert main(["check", TENDER, "--with", '"\udcff" = 1']) == 2
    assert "not right here" in capsys.readouterr().err
