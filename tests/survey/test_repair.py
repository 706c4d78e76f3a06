"""How a part that fails later is got at: the example builds, with what a builder would find written down first."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

import postcheck
from postcheck.cli import main
from postcheck.description.models import Build
from postcheck.expected import Expected
from postcheck.materials import Piece
from postcheck.renderers import repaired
from postcheck.repair import Feed, Reading, Repair, Spot
from postcheck.survey.repair import repairable
from tests.pages import shown
from tests.renderers.hostile import FORBIDDEN, NAMES

EXAMPLES = Path(__file__).parents[2] / "example_builds"


def _reach(example: str, part: str, more: str = "") -> Repair:
    text = (EXAMPLES / f"{example}.post.toml").read_text() + more
    return postcheck.reach(postcheck.loads(text), part)


def _at(repair: Repair, place: str, kind: str = "line") -> Reading:
    (found,) = [one for one in repair.readings if (one.place, one.kind) == (place, kind)]
    return found


def test_the_tail_beacon_is_reached_by_cutting_and_told_from_the_base() -> None:
    found = _reach("mail_airship", "tail beacon")
    assert [(one.kind, one.place, one.reach) for one in found.spots] == [
        ("lamp", "tail", "cut"), ("joint", "keel", "cover"), ("resistor", "keel", "cover"),
    ]  # fmt: skip
    # alone on its line: 12 V less some 2.15 V of a red LED (2.2 V at 20 mA in its row), through 1 kohm; nothing once it is open
    line = _at(found, "base")
    assert (line.name, line.volts, line.tells, line.others) == ("beacon", 12.0, True, 0)
    assert line.whole.usual == pytest.approx(9.85e-3, rel=0.01)
    assert line.dark is not None
    assert line.dark.most == pytest.approx(0.0, abs=1e-9)
    lead = _at(found, "keel", "lead")
    assert (lead.plus_colour, lead.minus_colour, lead.label) == ("orange", "brown", "beacon")
    assert lead.limit is not None
    assert lead.limit <= 20e-3  # no more than the LED is rated for
    # nobody gets at the lamp's own end, so a new lead is no way; the spare lies beside its two runs
    assert found.new_lead == ()
    assert found.spares == (("spare", ("beacon feed", "negative")),)
    assert found.goes_dark == (("tail beacon", 1),)
    assert found.changed == ()


def test_one_of_many_on_a_line_is_told_at_its_own_lead() -> None:
    found = _reach("mail_airship", "port running lamp")
    line = _at(found, "base")
    assert line.others == 4  # starboard, two strings of windows, nose
    # 12 V less some 1.8 to 2 V through 1.5 kohm: its share of the current
    assert line.dark is not None
    assert line.whole.usual - line.dark.usual == pytest.approx(6.75e-3, rel=0.03)
    assert not line.tells  # 5 % of tolerance of all others together is as much
    assert _at(found, "keel", "lead").tells


def test_a_line_has_its_limit_and_names_what_it_is_measured_against() -> None:
    """Ohm's law: 12 V less some 2.1 V of the red over 1 kohm, 5 %, are 10.8 mA at most; the next whole mA above 1.1 times that is 12 mA."""
    found = _reach("mail_airship", "tail beacon")
    line = _at(found, "base")
    assert (line.limit, line.returns) == (pytest.approx(12e-3), "main-")
    assert [(one.line, one.returns, one.kind, one.name) for one in found.feeds] == [
        ("beacon", "main-", "board", "flasher")
    ]


@pytest.mark.parametrize(
    "example", sorted(EXAMPLES.glob("*.post.toml")), ids=lambda path: path.name.split(".")[0]
)
def test_no_reading_shows_more_than_its_limit(example: Path) -> None:
    build = postcheck.load(example)
    count = 0
    for words in repairable(build):
        try:
            found = postcheck.reach(build, words)
        except ValueError:  # a load or strip has no resistor
            assert words.startswith("resistor ")
            continue
        for one in found.readings:
            count += 1
            assert one.whole.most <= one.limit * (1 + 1e-9)
            assert one.volts <= 60.0
            told = repaired.render(found)
            assert told.index("limit first, then the volts") < told.index(" V. Whole")
    assert count


def test_of_a_supply_every_line_is_named_with_what_feeds_it() -> None:
    told = repaired.render(_reach("mail_airship", "main"))
    assert "take line 'running' off supply 'main' and lines 'beacon' and 'strobe' off board 'flasher'" in told
    # and of a lamp its own alone
    told = repaired.render(_reach("mail_airship", "nose lamp"))
    assert "take line 'running' off supply 'main'." in told
    assert "strobe" not in told


def _renamed(name: str) -> Build:
    text = (EXAMPLES / "mail_airship.post.toml").read_text().replace('"tail beacon"', f'"{name}"')
    return postcheck.loads(text)


def test_of_two_with_one_name_it_is_said_which_is_meant() -> None:
    build = _renamed("main")
    lamp, supply = postcheck.reach(build, "main"), postcheck.reach(build, "supply main")
    assert (lamp.kind, lamp.namesakes) == ("lamp", (("supply", "supply main"),))
    assert (supply.kind, supply.namesakes) == ("supply", ())
    assert (
        'The lamp is meant here. There is a supply of that name too; ask for "supply main"'
        in repaired.render(lamp)
    )
    assert "'main' (not the supply)" in repaired.render(supply)
    lit_by = postcheck.reach(_renamed("beacon"), "beacon")
    assert (lit_by.kind, lit_by.namesakes) == ("lamp", (("circuit", ""),))
    assert "There is a circuit of that name too." in repaired.render(lit_by)
    assert _reach("mail_airship", "tail beacon").namesakes == ()


def test_a_painted_over_run_is_not_the_lamp_of_its_name() -> None:
    text = (EXAMPLES / "mail_airship.post.toml").read_text().replace('"beacon feed"', '"tail beacon"')
    text = text.replace('name   = "tail beacon"', 'fixed = true\nname   = "tail beacon"')
    build = postcheck.loads(text)
    assert any(run.fixed for run in build.run)
    found = postcheck.reach(build, "tail beacon")
    assert [one.kind for one in found.spots] == ["lamp", "joint", "resistor"]
    assert found.namesakes == (("run", ""),)


def test_a_circuit_is_no_part_and_what_is_on_it_is_named() -> None:
    with pytest.raises(
        ValueError, match="'beacon' is a circuit, and no part that is got at; on it is 'tail beacon'"
    ):
        _reach("mail_airship", "beacon")


def test_a_supply_behind_a_converter_names_what_that_feeds() -> None:
    sound = Path(__file__).parents[1] / "builds" / "sound" / "converter-within-its-rating.post.toml"
    found = postcheck.reach(postcheck.load(sound), "main")
    assert [(one.line, one.kind, one.name) for one in found.feeds] == [("cabin", "supply", "five")]
    assert found.goes_dark == (("windows", 5),)


@pytest.mark.parametrize(
    ("name", "part"), [("scope-volts", "bow lamp"), ("scope-volts", "main"), ("load-over-volts", "screw")]
)
def test_no_setting_for_what_a_check_stops(name: str, part: str) -> None:
    """72 V is beyond what is judged (60 V); a motor of 6 V is on 12 V."""
    build = postcheck.load(Path(__file__).parents[1] / "builds" / "faulty" / f"{name}.post.toml")
    assert postcheck.reach(build, part).readings == ()


def test_a_string_goes_dark_as_one() -> None:
    found = _reach("mail_airship", "car windows 2")
    assert found.goes_dark == (("car windows 2", 3),)  # three in series
    assert found.changed == ()  # the other string has a resistor of its own


def test_strings_behind_one_resistor_get_its_share() -> None:
    text = (EXAMPLES / "tender.post.toml").read_text()
    text = text.replace("series   = 3\n", "series = 3\nparallel = 2\none_resistor = true\nmatched = true\n")
    found = postcheck.reach(postcheck.loads(text), "cabin lamps")
    # three LEDs and 390 ohm on 12 V: what went through two strings goes through one, nearly all of it
    ((name, before, after),) = found.changed
    assert name == "cabin lamps"
    assert 1.5 < after / before < 2.0


def test_what_sits_behind_a_cover_takes_a_new_lead() -> None:
    text = (EXAMPLES / "tender.post.toml").read_text()
    text = text.replace(
        'cabin = { access = "sealed"', 'cabin = { access = "cover", opens_with = "tool", opening = "20 mm"'
    )
    found = postcheck.reach(postcheck.loads(text), "cabin lamps")
    assert [
        (one.place, one.reach, one.opens_with, one.opening) for one in found.spots if one.kind == "lamp"
    ] == [("cabin", "cover", "tool", 0.02)]
    # 150 + 5 + 15 = 170 mm each, as in the cut list
    assert [(one.colour, one.length) for one in found.new_lead] == [("red", 0.17), ("black", 0.17)]


def test_a_motor_and_a_board() -> None:
    pump = _reach("survey_submersible", "bilge pump")
    assert [(one.kind, one.place, one.reach) for one in pump.spots] == [
        ("load", "hull", "cover"), ("joint", "hull", "cover"),
    ]  # fmt: skip
    board = _reach("mail_airship", "flasher")
    assert [(one.kind, one.place, one.reach) for one in board.spots] == [("board", "base", "open")]
    assert board.goes_dark == (("tail beacon", 1), ("tail strobe", 1))
    assert {one.name for one in board.readings} == {"beacon", "strobe"}
    joint = _reach("mail_airship", "joint nose lamp")
    assert [(one.kind, one.place) for one in joint.spots] == [("joint", "keel")]


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    file = str(EXAMPLES / "mail_airship.post.toml")
    assert main(["reach", file, "tail beacon"]) == 0
    out = capsys.readouterr().out
    for said in ("by cutting", "behind a cover", "orange to +", "limit", "9.84 mA", "'spare'"):
        assert said in out.replace("\u00a0", " ")
    assert main(["reach", file, "tail beacon", "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["format"] == 1
    assert found["part"] == {"kind": "lamp", "name": "tail beacon"}
    assert found["spots"][0]["reach"] == "cut"
    assert main(["reach", file, "tail becon"]) == 2
    assert "did you mean 'tail beacon'?" in capsys.readouterr().err


def test_the_guide_shows_what_is_printed() -> None:
    shown(
        'postcheck reach mail_airship.post.toml "tail beacon"',
        repaired.render(_reach("mail_airship", "tail beacon"), 80),
    )


@pytest.mark.parametrize("name", [name for name in NAMES.values() if name.strip()])
def test_a_name_steers_nothing(name: str) -> None:
    spot = Spot("lamp", name, name, "cover", "tool", 0.02)
    span = Expected(1e-3, 2e-3, 3e-3)
    reading = Reading(name, "open", "line", name, name, name, name, 12.0, 2e-3, span, span, False, 2, (name,))
    piece = Piece(1, "lead", name, "supply", name, name, name, name, name, 0.2, 0.02, 0.22)
    found = Repair(
        "lamp", name, (spot,), (reading,), (piece,), ((name, (name,)),), ((name, 2),), ((name, 1e-3, 2e-3),),
        (Feed(name, name, "supply", name),), (("supply", name),),
    )  # fmt: skip
    text = repaired.render(found)
    assert not FORBIDDEN.search(text.replace("\n", ""))
    assert text.count("\n") == repaired.render(_named(found, "lamp")).count("\n")
    told = json.loads(repaired.render_json(found, "1"))["part"]["name"]
    assert (
        told == name.encode("utf-8", "backslashreplace").decode()
    )  # half a pair is no text to other programs


def _named(found: Repair, name: str) -> Repair:
    return replace(found, name=name)


def test_a_wrong_name_in_python() -> None:
    with pytest.raises(ValueError, match="did you mean 'nose lamp'"):
        _reach("mail_airship", "nose lmp")
    with pytest.raises(ValueError, match="'bilge pump' has no resistor"):
        _reach("survey_submersible", "resistor bilge pump")


def test_a_motor_that_stands_is_not_called_dark() -> None:
    path = Path(__file__).parents[1] / "builds" / "sound" / "motor-with-a-diode.post.toml"
    build = postcheck.load(path)
    told = repaired.render(postcheck.reach(build, build.load[0].name or ""))
    assert f"Left as it is, without current: '{build.load[0].name}'." in told
    assert "dark" not in told
