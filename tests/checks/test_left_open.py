"""Outputs of which nobody says what they carry, what nothing is on, and what hangs on volts beyond the program."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.report import FileReport, NotJudged

STARTER = (Path(postcheck.__file__).parent / "description" / "starter.toml").read_text(encoding="utf-8")
_OUTPUT = '"100 mA, 0.2 V drop"'


def judged(*changes: tuple[str, str], more: str = "") -> FileReport:
    text = STARTER
    for right, wrong in changes:
        assert right in text
        text = text.replace(right, wrong, 1)
    return postcheck.check(postcheck.loads(text + more)).files[0]


def _carries(told: FileReport) -> list[NotJudged]:
    return [one for one in told.not_judged if "its output carries" in one.what]


def test_an_output_without_a_limit_is_asked_about_and_was_not_passed() -> None:
    stated = judged()
    assert stated.verdict == "clear"
    assert not _carries(stated)
    assert "output.overload" not in stated.nothing_to_judge
    told = judged((_OUTPUT, '"0.2 V drop"'))
    (asked,) = _carries(told)
    assert (asked.subject, asked.vital) == ("signal", False)
    assert 'output = "... mA, 0.2 V drop"' in asked.missing
    assert told.verdict == "clear"
    assert "output.overload" in told.nothing_to_judge
    assert "output.overload" not in told.figures["margins"]


@pytest.mark.parametrize(("strings", "vital"), [(1, False), (2, True)])
def test_it_is_vital_where_a_small_output_would_not_carry_it(strings: int, vital: bool) -> None:
    lamp = '\n[[lamp]]\nname = "signal {0}"\ncircuit = "signal"\nkind = "led-3mm-white"\nplace = "mast"\nresistor = "560 ohm at hub"\nlead = "100 mm to hub"\n'
    told = judged((_OUTPUT, '"0.2 V drop"'), more="".join(lamp.format(n) for n in range(1, strings)))
    (asked,) = _carries(told)
    assert asked.vital == vital
    assert (told.verdict == "incomplete") == vital


@pytest.mark.parametrize("stated", ["", 'limit = "50 mA"\n', 'total = "50 mA"\n', 'steady = "15 mA"\n'])
def test_a_board_without_a_limit_is_asked_about(stated: str) -> None:
    board = f'\n[board.flasher]\nplace = "base"\nsupply = "main"\n{stated}'
    told = judged((f"output    = {_OUTPUT}", 'board = "flasher"'), more=board)
    assert [one.subject for one in _carries(told)] == ([] if stated else ["flasher"])


def test_a_circuit_and_a_board_with_nothing_on_them_are_named() -> None:
    moved = ('circuit  = "signal"', 'circuit  = "running"')
    board = '\n[board.dimmer]\nplace = "base"\nsupply = "main"\n'
    notes = [one for one in judged(moved, more=board).findings if one.check == "circuit.empty"]
    assert {(one.severity, one.subject.kind, one.subject.name) for one in notes} == {
        ("note", "circuit", "signal"),
        ("note", "board", "dimmer"),
    }
    assert not [one for one in judged().findings if one.check == "circuit.empty"]


def test_a_spare_run_and_half_a_build_leave_no_such_note() -> None:
    moved, line = ('circuit  = "signal"', 'circuit  = "running"'), 'line   = "signal"'
    told = judged(moved, (line, f"{line}\nspare  = true"))
    assert not [one for one in told.findings if one.check == "circuit.empty"]
    half = postcheck.check(postcheck.loads(STARTER.replace(*moved, 1).partition("[[run]]")[0])).files[0]
    assert half.verdict == "incomplete"
    assert not [one for one in half.findings if one.check == "circuit.empty"]


def test_beyond_60_v_there_is_one_cause_and_the_rest_is_not_judged() -> None:
    told = judged(('= "12 V"', '= "230 V"'))
    electric = [one for one in told.findings if not one.check.startswith(("passage.", "run.", "ends."))]
    assert [one.id for one in electric] == ["scope.volts:main"]
    assert any(one.subject == "main" and one.vital and "fed by it" in one.what for one in told.not_judged)


@pytest.mark.parametrize(
    ("right", "wrong", "says"),
    [
        ('[[lamp]]\nname     = "signal', '[lamp]\nname     = "signal', "[lamp] in single brackets cannot stand beside [[lamp]]"),
        ("[[lamp]]", "[lamp]", "[lamp] in single brackets cannot stand beside [[lamp]]"),
        ("[[run]]", "=======\n[[run]]", "seven equals signs alone are the mark that a merge leaves"),
    ],
)  # fmt: skip
def test_brackets_and_a_lone_merge_mark_are_told_for_what_they_are(right: str, wrong: str, says: str) -> None:
    with pytest.raises(postcheck.BuildError) as error:
        judged((right, wrong))
    assert error.value.problems[0].says.startswith(says)


def test_each_string_is_measured_by_its_own_lead() -> None:
    strings = ("series   = 3", 'series   = 3\nparallel = 2\nstrings_share = "nothing"')
    build = postcheck.loads(STARTER.replace(*strings, 1))
    leads = [one for one in postcheck.reach(build, "cabin lamps").readings if one.kind == "lead"]
    assert [one.name for one in leads] == ["cabin lamps 1", "cabin lamps 2"]
    assert all(one.tells and one.dark is not None and one.dark.most == 0.0 for one in leads)
    shown = postcheck.render(postcheck.reach(build, "cabin lamps"))
    assert "the leads of 'cabin lamps 1' and 'cabin lamps 2' one by one, off their joints" in shown


def test_where_nothing_may_be_put_on_a_part_it_is_said_why() -> None:
    build = postcheck.loads(STARTER.replace('= "12 V"', '= "230 V"', 1))
    found = postcheck.reach(build, "signal lamp")
    assert not found.readings
    assert "nothing above 60 V is judged safe" in found.forbids
    assert found.forbids in postcheck.render(found)
    assert not postcheck.reach(postcheck.loads(STARTER), "signal lamp").forbids


_DRIVEN = Path(__file__).parents[1] / "builds" / "sound" / "strings-that-each-stand-the-output.post.toml"
_LIT = (
    '\n[[proof]]\nsubject = "halls"\ndone = "all six lit on the output"\nhours = "24 h"\ndate = 2026-11-30\n'
)


def test_a_constant_current_circuit_is_tested_on_its_own_output() -> None:
    # ohms that set no current of their own
    text = _DRIVEN.read_text(encoding="utf-8").replace('"150 ohm', '"10 ohm')

    def unproven(text: str) -> list[str]:
        told = postcheck.check(postcheck.loads(text), closing=["hull"]).files[0]
        return [line for one in told.findings if one.check == "closing.unproven" for line in one.lines]

    asked = unproven(text)
    assert 'subject = "halls"' in asked
    assert any(line.startswith("done") and "on its own output" in line for line in asked)
    assert not any(line.startswith(("volts", "#")) for line in asked)
    assert not unproven(text + _LIT)
    # at a bench supply's volts it is no such test, and without words none at all
    assert unproven(text + _LIT.replace("hours", 'volts = "12 V"\nhours'))
    assert unproven(text + _LIT.replace('done = "all six lit on the output"\n', ""))


def test_marked_leads_need_no_setting() -> None:
    text = STARTER
    for colours in ("red/black", "green/black"):
        assert f'lead     = "180 mm to hub, {colours}"' in text
    marked = postcheck.loads(text).model_copy(
        update={
            "lamp": tuple(
                lamp.model_copy(update={"lead": lamp.lead.model_copy(update={"label": lamp.name})})
                for lamp in postcheck.loads(text).lamp
                if lamp.lead is not None
            )
        }
    )
    shown = postcheck.render(postcheck.which(marked, "hub"))
    assert shown.startswith("All leads at hub are marked")
    assert "Setting A" not in shown
    assert ".lead.label" in shown


def test_a_plan_with_nothing_open_says_so() -> None:
    shown = postcheck.render(postcheck.plan(postcheck.loads(STARTER)))
    assert shown.rstrip().endswith("Nothing is open in the file: there is nothing to type.")
    assert "In the file" not in shown
