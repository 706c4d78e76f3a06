"""What a message gives to type is the builder's own value put right, and typed as printed it cures."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import postcheck
from postcheck.reading.what_if import assigned, assignment
from postcheck.renderers import github, plain_text

TENDER = (Path(__file__).parent.parent / "data" / "pilot_tender.post.toml").read_text(encoding="utf-8")
QUANTITY = re.compile(r'^(?P<key>\w+) *= "(?P<number>[0-9]+) (?P<unit>[^ "]+)"$', re.MULTILINE)
WITH_UNITS = list({found[0]: found for found in QUANTITY.finditer(TENDER)}.values())


def problem(text: str) -> postcheck.Problem:
    """The one thing that is wrong with a text."""
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(text)
    (one,) = caught.value.problems
    return one


def to_write(hint: str | None) -> str:
    """The value, in its quotes or brackets, that a message says is to be written."""
    found = re.match(r"write (?:\w+ = )?(?P<value>\"[^\"]*\"|\[[^\]]*\])", hint or "")
    assert found, hint
    return found["value"]


@pytest.mark.parametrize("found", WITH_UNITS, ids=[found[0] for found in WITH_UNITS])
@pytest.mark.parametrize("quotes", ["", '"'])
def test_a_number_without_its_unit_is_given_back_with_it(found: re.Match[str], quotes: str) -> None:
    bare = f"{found['key']} = {quotes}{found['number']}{quotes}"
    wrong = problem(TENDER.replace(found[0], bare, 1))
    right = f"{found['key']} = {to_write(wrong.hint)}"
    assert right == f'{found["key"]} = "{found["number"]} {found["unit"]}"'
    assert postcheck.loads(TENDER.replace(found[0], right, 1)) == postcheck.loads(TENDER)


@pytest.mark.parametrize(
    ("sound", "typed", "right"),
    [
        ('"5..30 degC"', '"5..30"', '"5..30 degC"'),
        ('"250 mA"', '"250 slow"', '"250 mA slow"'),
        ('"250 mA"', "1", '"1 A"'),
        ('"100 mA, drop 0.2 V"', '"100 mA, drop 0.2"', '"100 mA, drop 0.2 V"'),
        ('"100 mA, drop 0.2 V"', "100", '"100 mA"'),
        ('"680 ohm 1/4 W at bilge"', "680", '"680 ohm"'),
        ('"680 ohm 1/4 W at bilge"', '"680 at bilge"', '"680 ohm at bilge"'),
        ('"680 ohm 1/4 W at bilge"', '"680 1/4 W at bilge"', '"680 ohm 1/4 W at bilge"'),
    ],
)
def test_so_is_one_in_a_line_with_more(sound: str, typed: str, right: str) -> None:
    assert to_write(problem(TENDER.replace(sound, typed)).hint) == right
    postcheck.loads(TENDER.replace(sound, right))


@pytest.mark.parametrize(
    ("without", "asked"),
    [
        ("180 ohm at bilge", "180 ohm 1/4 W at bilge"),
        ("180 ohm 5 % at bilge", "180 ohm 1/4 W 5 % at bilge"),
        ("100 ohm + 80 ohm 1/4 W at bilge", "100 ohm 1/4 W + 80 ohm 1/4 W at bilge"),
        ("180 + trimmer 1k set 50 at bilge", "180 ohm 1/4 W + trimmer 1 kohm 1/2 W set 50 ohm at bilge"),
    ],
)
def test_a_resistor_whose_power_is_missing_is_shown_with_one(without: str, asked: str) -> None:
    def missing(resistor: str) -> list[str]:
        text = TENDER.replace("330 ohm 1/4 W at bilge", resistor)
        (file,) = postcheck.check(postcheck.loads(text), remedies=False).files
        return [
            one.missing for one in file.not_judged if "power of" in one.missing or "its power" in one.missing
        ]

    questions = missing(without)
    assert questions
    assert all(one.endswith(f'such as resistor = "{asked}"') for one in questions)
    assert missing(asked) == []


def vital(text: str) -> list[postcheck.NotJudged]:
    """The vital questions about a text, in which nothing is found."""
    (file,) = postcheck.check(postcheck.loads(text), remedies=False).files
    assert file.findings == ()
    return [one for one in file.not_judged if one.vital]


@pytest.mark.parametrize(
    ("lead", "line"),
    [
        ('"150 mm of enamel-0.10, white/black"', 'lead = "150 mm of enamel-0.10 to bilge, white/black"'),
        ('{ length = "150 mm", wire = "enamel-0.10", label = "W", colours = ["white", "black"] }', 'to = "bilge"'),
    ],
)  # fmt: skip
def test_a_lead_that_does_not_say_where_it_goes_is_asked_where(lead: str, line: str) -> None:
    text = TENDER.replace('"150 mm of enamel-0.10 to bilge, white/black"', lead)
    (question,) = vital(text)
    assert question.what.startswith("where its lead goes: it does not say")
    assert question.plannable
    assert question.missing == f"`to bilge` in it, such as {line}"
    assert question.lines == (line,)
    typed = f"lead     = {lead}", line if line.startswith("lead") else f"lead = {{ {line}, {lead[2:]}"
    assert vital(text.replace(*typed)) == []


def test_a_lead_whose_line_comes_to_it_needs_no_place() -> None:
    text = TENDER.replace('"200 mm of enamel-0.10 to bilge, red/black"', '"200 mm of enamel-0.10, red/black"')
    for line in ("steady", "main-"):
        text += f'\n[[run]]\nline = "{line}"\nends = ["bilge", "cabin"]\nwire = "ptfe-28"\nlength = "90 mm"\n'
    (file,) = postcheck.check(postcheck.loads(text), remedies=False).files
    assert not [one for one in file.not_judged if one.vital]
    found = {one.check for one in file.findings}
    assert {"lead.bare", "access.sealed"} <= found  # both are true of it then


def test_runs_to_a_place_where_no_line_comes_are_all_shown_under_their_condition() -> None:
    text = TENDER.replace("320 mm of enamel-0.10 to bilge", "320 mm of enamel-0.10 to bow")
    (file,) = postcheck.check(postcheck.loads(f'{text}\n[place.bow]\naccess = "cover"\n')).files
    asked = [one for one in file.not_judged if "[[run]]" in one.lines]
    assert [one.subject for one in asked] == ["blink", "main-"]
    (condition,) = {one.lines[0] for one in asked}
    assert condition.startswith("# unless the lead of 'masthead' goes to \"bilge\"")
    (bare,) = [one for one in file.findings if one.check == "lead.bare"]
    assert "ends bare at 'bow' (" in bare.says


def test_a_circuit_that_is_not_described_is_held_against_those_that_are() -> None:
    text = TENDER.replace('circuit  = "blink"', 'circuit  = "anchor"')
    (file,) = postcheck.check(postcheck.loads(text)).files
    (run,) = [one for one in file.not_judged if "[[run]]" in one.lines]
    (table,) = [one for one in file.not_judged if "[circuit.anchor]" in one.lines]
    for one in (run, table):
        assert (
            one.lines[0]
            == "# unless the circuit 'anchor' is one that the file describes: 'steady', 'blink'; else:"
        )
    assert "('steady', 'blink')" in table.what
    typed = "\n".join((text, *run.lines, *table.lines, ""))
    (after,) = postcheck.check(postcheck.loads(typed)).files
    assert after.verdict == "clear"
    assert not [one for one in after.findings if one.check.startswith("passage.")]


@pytest.mark.parametrize(("laid", "length"), [("", "220 mm"), ("250", "250 mm")])
def test_a_run_to_type_comes_out_at_the_far_end_of_its_passage(laid: str, length: str) -> None:
    runs = TENDER.index("[[run]]")
    text = TENDER[:runs] + '[usual]\nrun = "ptfe-28"\n'
    if laid:
        text += f'[[run]]\nline = "steady"\nends = ["base", "bilge"]\nlength = "{laid} mm"\ncolour = "red"\n'
    questions = [one for one in vital(text) if "[[run]]" in one.lines]
    typed = "".join("\n".join((*one.lines, "")) for one in questions)
    assert typed.count(f'length = "{length}"') == len(questions) == 3 - bool(laid)
    assert "wire" not in typed
    (after,) = postcheck.check(postcheck.loads(text + typed), remedies=False).files
    assert not [one for one in after.findings if one.check.startswith("passage.")]
    assert not [one for one in after.not_judged if one.vital and "[[run]]" in one.lines]


@pytest.mark.parametrize("name", ["main", '"the long one"'])
def test_a_post_with_a_name_is_told_once_with_both_that_it_can_be(name: str) -> None:
    wrong = problem(TENDER.replace("[post]", f"[post.{name}]"))
    assert wrong.says == f"[post.{name}] has a name of its own, and there is one [post] alone"
    assert wrong.hint == f"write [post], or [passage.{name}] for another way through"
    for header in re.findall(r"\[[^\]]*\]", wrong.hint):
        postcheck.loads(TENDER.replace("[post]", header))


def test_a_named_table_of_which_there_is_one_hides_nothing_else() -> None:
    wrong = problem(TENDER.replace("[build]", "[build.tender]"))
    assert (wrong.path, wrong.hint) == (("build", "tender"), "write [build]")
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(TENDER.replace("[post]", "[post.main]").replace('place    = "cabin"\n', "", 1))
    assert sorted(one.check for one in caught.value.problems) == ["file.missing", "file.unknown-key"]


def test_the_name_of_a_mistake_counts_as_what_is_typed_does() -> None:
    """The third lamp is the third in the name of what is wrong with it and behind `--with`; paths count from 0."""
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(TENDER.replace('"680 ohm 1/4 W at bilge"', '"680"'))
    (found,) = postcheck.unreadable(caught.value).findings
    assert found.id == "file.no-unit:lamp.3.resistor"
    assert found.path == ("lamp", 2, "resistor")
    typed = assignment(f'{found.subject.name} = "1k 1/4 W at bilge"')
    changed = assigned(postcheck.loads(TENDER), [typed])
    assert changed.lamp[2].resistor == changed.lamp[1].resistor


LEAD = '"150 mm of enamel-0.10 to bilge, white/black"'
RESISTOR = '"1k 1/4 W at bilge"'


@pytest.mark.parametrize(
    ("sound", "typed", "right"),
    [
        (LEAD, '"enamel-0.10 150mm to bilge white/black"', LEAD),
        (LEAD, '"150mm enamel 0.10 to bilge, white/black"', LEAD),
        (LEAD, '"150 mm enamel-0.10 white/black to bilge"', LEAD),
        (LEAD, '"white/black 150 mm ptfe 30 to bilge"', '"150 mm of ptfe-30 to bilge, white/black"'),
        (LEAD, '"white/black to bilge, 150 mm"', '"150 mm to bilge, white/black"'),
        (LEAD, '"150mm enamel-0.10"', '"150 mm of enamel-0.10"'),
        (LEAD, '"150mm bilge"', '"150mm to bilge"'),
        (RESISTOR, '"330 Ohms 250mw at bilge"', '"330 Ohms 250 mW at bilge"'),
        (RESISTOR, '"1k ¼ W at bilge"', '"1k 1/4 W at bilge"'),
        (RESISTOR, '"1k½W at bilge"', '"1k 1/2W at bilge"'),
        (RESISTOR, '"330 ohm 1/4 W bilge"', '"330 ohm 1/4 W at bilge"'),
        ('["base", "bilge"]', '"base", "bilge"', '["base", "bilge"]'),
        ('["base", "bilge"]', '"base" , "bilge",  # both', '["base", "bilge"]'),
    ],
)
def test_a_form_in_disorder_is_shown_whole_and_put_right(sound: str, typed: str, right: str) -> None:
    assert to_write(problem(TENDER.replace(sound, typed, 1)).hint) == right
    postcheck.loads(TENDER.replace(sound, right, 1))


@pytest.mark.parametrize(
    "typed", ["hello", "150 mm hello world to bilge", "red/black/", "to", "150 mm 90 mm to bilge"]
)
def test_what_is_not_plain_is_not_made_up(typed: str) -> None:
    hint = problem(TENDER.replace(LEAD, f'"{typed}"')).hint
    assert hint == 'write it like "220 mm of enamel-0.10 to keel, red/black"'


def test_a_channel_that_a_board_has_not_is_shown_one_that_is_free() -> None:
    board = '\n[board.flasher]\nplace = "base"\nsupply = "main"\nlimit = "100 mA"\nchannels = 2\n'
    text = TENDER.replace('output    = "100 mA, drop 0.2 V"', 'board = "flasher"\nchannel = 9') + board
    wrong = problem(text)
    assert (
        wrong.hint
        == "write channel = 1, which is free, or channels = 9 in [board.flasher] where it has so many"
    )
    postcheck.loads(text.replace("channel = 9", "channel = 1"))
    postcheck.loads(text.replace("channels = 2", "channels = 9"))


def test_every_question_stands_where_the_file_says_its_subject() -> None:
    text = TENDER.replace('circuit  = "blink"', 'circuit  = "anchor"').replace(" to bilge, white/black", "")
    text = text.replace("330 ohm 1/4 W", "180 ohm")
    (file,) = postcheck.check(postcheck.loads(text), remedies=False).files
    lines = text.splitlines()
    at = {
        one.subject: lines[one.where.line - 1][one.where.column - 1 :] for one in file.not_judged if one.where
    }
    assert at["windows"].startswith(("lead ", "lamp]]"))
    assert at["anchor"] == 'circuit  = "anchor"'
    assert at["post"] == "post]"
    assert all(one.where for one in file.not_judged)
    named = plain_text.render(postcheck.Report((file,)))
    for one in file.not_judged:
        assert one.where
        assert f"build:{one.where.line}:{one.where.column}  not judged" in named
    (shown, *_) = github.render(postcheck.Report((file,))).splitlines()
    assert shown.startswith("::warning title=not judged,file=build,line=")
