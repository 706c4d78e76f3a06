"""What a plan and a report ask to be typed: TOML as it stands, and typed into the file it answers what is asked."""

from __future__ import annotations

from pathlib import Path

import pytest
import tomli

import postcheck
from postcheck.description.rewriting import Put, rewritten
from postcheck.planner import plan
from postcheck.renderers.plan import render
from postcheck.report import NotJudged
from tests.write_expected import HALF, TODAY

FILES = sorted(HALF.glob("*.post.toml"))


def asked(text: str) -> tuple[NotJudged, ...]:
    return postcheck.check(postcheck.loads(text), today=TODAY, remedies=False).files[0].not_judged


def typed_in(text: str, question: NotJudged) -> str:
    lines = "".join(f"{line}\n" for line in question.lines)
    if not question.under:
        return f"{text}\n{lines}"
    # whatever is typed there comes from the printed line alone: its comment too is read as TOML
    said = tomli.loads(lines)
    values = (line.partition("=")[2].partition("#")[0].strip() for line in question.lines if line[0] != "#")
    puts = (Put((*question.under, key), value) for key, value in zip(said, values, strict=True))
    return rewritten(text, puts)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_what_a_report_gives_to_type_answers_the_question(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    questions = [one for one in asked(text) if one.lines]
    for question in questions:
        after = asked(typed_in(text, question))
        assert (question.subject, question.what) not in {(one.subject, one.what) for one in after}


def test_most_half_builds_are_given_something_to_type() -> None:
    with_lines = [path for path in FILES if any(one.lines for one in asked(path.read_text(encoding="utf-8")))]
    assert len(with_lines) >= 12


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_what_stands_below_write_in_a_plan_is_toml_and_is_asked_no_more(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    planned = plan(postcheck.loads(text), seconds=1.0)
    printed = render(planned).splitlines()
    for one in (*planned.missing, *planned.asks):
        said = f"'{one.subject}': {one.what}. "
        (at,) = [number for number, line in enumerate(printed) if line.startswith(said)]
        if not one.lines:
            assert printed[at].startswith(f"{said}Missing: ")
            assert one.missing
            continue
        assert printed[at].startswith(f"{said}Write")
        below = printed[at + 1 : at + 1 + len(one.lines)]
        assert tomli.loads("\n".join(below))
        if not one.table:
            after = plan(postcheck.loads("\n".join([text, *below])), seconds=1.0)
            left = {(other.subject, other.what) for other in (*after.missing, *after.asks)}
            assert (one.subject, one.what) not in left


SWITCHED = """format = 1
build = { name = "Harbour launch" }
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
[post]
from = "base"
to = "keel"
bore = "4 mm"
length = "120 mm"
edges = "bushed"
[place]
base = { access = "open" }
keel = { access = "cover", material = "abs", surface = "180 cm2" }
[[lamp]]
name = "windows"
switch = "cabin"
kind = "smd-0603-warm-white"
place = "keel"
count = 3
[[lamp]]
name = "mast lamp"
circuit = "mast lamps"
kind = "smd-0603-white"
place = "keel"
"""


@pytest.mark.parametrize(
    "more", ["", '[circuit.deck]\n[[lamp]]\nname = "deck lamp"\ncircuit = "deck"\nkind = "smd-0603-red"\nplace = "keel"\n']
)  # fmt: skip
@pytest.mark.parametrize("stage", ["planning", "wiring"])
def test_a_plan_writes_the_circuits_that_it_took_as_given(stage: str, more: str) -> None:
    text = SWITCHED.replace('launch" }', f'launch", stage = "{stage}" }}') + more
    planned = plan(postcheck.loads(text), seconds=30.0)
    assert planned.verdict == "clear"
    assert planned.text is not None
    tables = tomli.loads(planned.text)["circuit"]
    assert tables["cabin"] == tables["mast lamps"] == {"supply": "main", "behaviour": "steady"}
    assert tables.get("deck", {"supply": "main"}) == {"supply": "main"}
    again = postcheck.loads(planned.text)
    assert again.implied == {}
    assert postcheck.check(again, stage="wiring").files[0].verdict == "clear"
    assert plan(again, seconds=30.0).tables == ""


def test_circuits_in_braces_get_theirs_in_braces() -> None:
    first, rest = SWITCHED.split("[supply", 1)
    text = f'{first}circuit = {{ cabin = {{ supply = "main" }} }}\n[supply{rest}'
    planned = plan(postcheck.loads(text), seconds=30.0)
    assert planned.text is not None, planned.unwritten
    assert tomli.loads(planned.text)["circuit"]["mast lamps"] == {"supply": "main", "behaviour": "steady"}


def test_the_wire_of_a_lead_that_the_file_has_without_one_is_the_plans_to_choose() -> None:
    text = SWITCHED.replace('count = 3\n', 'series = 3\nlead = "140 mm to keel"\n').replace(
        '"keel"\nseries', '"car"\nseries'
    ).replace("[[lamp]]", '[place.car]\naccess = "open"\n[[lamp]]', 1)  # fmt: skip
    planned = plan(postcheck.loads(text), seconds=30.0)
    assert planned.verdict == "clear"
    assert planned.text is not None
    assert tomli.loads(planned.text)["usual"]["lead"] == "enamel-0.10"
    (lead,) = [one for one in asked(text) if one.what == "the resistance of its lead"]
    assert lead.missing == 'its wire, such as lead = "140 mm of enamel-0.10 to keel"'


MOTOR = """[[load]]
name = "screw"
kind = "motor"
switch = "screw"
place = "keel"
typical = "60 mA"
starting = "250 mA"
"""


def test_a_motor_without_its_highest_volts_is_asked_what_it_withstands() -> None:
    (one,) = [one for one in asked(SWITCHED + MOTOR) if "withstands" in one.what]
    assert (one.subject, one.what, one.vital) == ("screw", "whether it withstands 12 V", False)
    told = postcheck.check(postcheck.loads(typed_in(SWITCHED + MOTOR, one)), today=TODAY).files[0]
    assert [finding.check for finding in told.findings if finding.severity == "stop"] == ["load.over-volts"]


def test_all_that_is_missing_of_a_motor_is_asked_at_once() -> None:
    (one,) = [one for one in asked(SWITCHED + MOTOR) if "its case" in one.what]
    for word in ('case = "13 cm2"', "never_stalls = true", "held_off = true", "is enough for the wall"):
        assert word in one.missing


def test_the_least_case_that_is_told_is_cool_enough_and_little_less_is_not() -> None:
    """12 V x 60 mA against the wall; by Newton's law, rise = watts / (loss x surface)."""
    small = SWITCHED + MOTOR + 'never_stalls = true\ncase = "13 cm2"\n'

    def hot(text: str) -> list[postcheck.Finding]:
        told = postcheck.check(postcheck.loads(text), today=TODAY).files[0]
        return [one for one in told.findings if one.check == "motor.hot"]

    (finding,) = hot(small)
    enough = 1e4 * finding.figures["enough"].value
    assert f"{enough:.0f} cm2 outside would be cool enough" in (finding.remedy or "")
    assert hot(small.replace("13 cm2", f"{enough:g} cm2")) == []
    assert hot(small.replace("13 cm2", f"{0.9 * enough:g} cm2")) != []


WISH = """
format = 1
[build]
name = "Pilot tender"
[supply.main]
kind  = "adaptor"
place = "base"
volts = "12 V"
rated = "500 mA"
[place]
base  = { access = "open" }
bilge = { access = "cover", material = "abs", surface = "120 cm2" }
cabin = { access = "sealed", material = "styrene", surface = "50 cm2" }
[post]
from   = "base"
to     = "bilge"
bore   = "4 mm"
length = "120 mm"
edges  = "bushed"
[circuit.steady]
supply = "main"
[[lamp]]
name    = "windows"
circuit = "steady"
kind    = "smd-0603-warm-white"
place   = "cabin"
count   = 6
[[lamp]]
name    = "stern lamp"
circuit = "steady"
kind    = "smd-0603-red"
place   = "cabin"
"""


@pytest.mark.parametrize("ends", [("base", "bilge"), ("bilge", "base")])
def test_a_way_is_asked_for_once_on_the_side_of_the_post_where_the_lamps_are(ends: tuple[str, str]) -> None:
    wish = WISH.replace('"base"\nto     = "bilge"', f'"{ends[0]}"\nto     = "{ends[1]}"')
    (one,) = plan(postcheck.loads(wish), seconds=1.0).missing
    assert one.what.endswith("where the leads of 'windows', 'stern lamp' can be joined")
    (way,) = tomli.loads("\n".join(one.lines))["way"]
    assert (way["from"], way["to"]) == ("cabin", "bilge")
    planned = plan(postcheck.loads("\n".join((wish, *one.lines))), seconds=1.0)
    assert [passage.conductors for passage in planned.passages] == [2]
    assert not any("round the post" in says for says in planned.heed)


def test_a_plan_says_that_all_goes_round_the_post_and_which_way_would_not() -> None:
    way = '[[way]]\nfrom = "cabin"\nto = "base"\nlength = "100 mm"\n'
    planned = plan(postcheck.loads(WISH + way), seconds=1.0)
    (says,) = [one for one in planned.heed if "round the post" in one]
    assert says.endswith("If 'cabin' is beyond the post, write its way to 'bilge' instead.")
    assert "Post: nothing lies in its 4 mm bore\n" in render(planned)
    instead = plan(postcheck.loads(WISH + way.replace("base", "bilge")), seconds=1.0)
    assert [passage.conductors for passage in instead.passages] == [2]


def test_a_lead_that_is_said_to_end_where_nothing_leads_is_asked_for_from_there_to_the_models_side() -> None:
    wish = WISH.replace("[post]", 'hold = { access = "cover", material = "abs", surface = "50 cm2" }\n[post]')
    wish = wish.replace("count   = 6", 'count   = 6\nlead = "100 mm to hold"') + 'lead = "100 mm to hold"\n'
    (one,) = plan(postcheck.loads(wish), seconds=1.0).missing
    (way,) = tomli.loads("\n".join(one.lines))["way"]
    assert (way["from"], way["to"]) == ("hold", "bilge")


def test_lines_that_would_do_stand_below_what_is_in_the_way() -> None:
    sound = HALF.parent / "sound" / "coin-cell-behind-a-screw.post.toml"
    text = sound.read_text().replace('opens_with = "tool"\n', "")
    planned = plan(postcheck.loads(text), seconds=5.0)
    (block,) = planned.blocks
    assert block.lines == ('opens_with = "tool"',)
    assert (
        "  Close it with a screw, and write for 'hull':\n    opens_with = \"tool\"\n  Name: battery.coin:"
        in render(planned)
    )


PIXELS = """
[[load]]
name    = "glow row"
kind    = "pixels"
circuit = "steady"
place   = "bilge"
typical = "15 mA"
most    = "30 mA"
highest = "13 V"
"""
BILGE = WISH + '[[way]]\nfrom = "cabin"\nto = "bilge"\nlength = "100 mm"\n'


def test_a_plan_says_that_it_lays_no_data_with_the_lines_to_type() -> None:
    planned = plan(postcheck.loads(BILGE + PIXELS), seconds=2.0)
    (one,) = planned.asks
    assert (planned.verdict, one.subject) == ("clear", "glow row")
    text = render(planned)
    assert "Not judged, and no plan lays it:\n" in text
    assert "".join(f"  {line}\n" for line in one.lines) in text
    said = plan(postcheck.loads("\n".join((BILGE + PIXELS, *one.lines))), seconds=2.0)
    assert (said.asks, "no plan lays it" in render(said)) == ((), False)
    # one more conductor in the bore
    assert said.passages[0].conductors == planned.passages[0].conductors + 1


@pytest.mark.parametrize("more", ["", "keep = true\n"])
def test_a_run_for_data_is_as_long_as_those_beside_it(more: str) -> None:
    data = f'[[run]]\nname = "data"\nends = ["base", "bilge"]\ncarries = "data"\n{more}'
    planned = plan(postcheck.loads(BILGE + PIXELS + data), seconds=2.0)
    assert planned.text is not None
    (mine,) = [run for run in tomli.loads(planned.text)["run"] if run.get("name") == "data"]
    others = {run["length"] for run in tomli.loads(planned.text)["run"] if "line" in run}
    assert {mine.get("length")} == (others if not more else {None})
