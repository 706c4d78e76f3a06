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
        {"key": "post.bore", "value": '"6 mm"', "was": '"5 mm"', "where": {"path": AIRSHIP, "line": BORE, "column": 1}}
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
    assert "[passage.cannot-fit]" in capsys.readouterr().out


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
