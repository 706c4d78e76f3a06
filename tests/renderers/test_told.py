"""What every report has to tell: nothing dropped, causes first, the shape that other programs rely on."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from dataclasses import replace
from typing import Any

import pytest

from postcheck.renderers import json_renderer, plain_text, terminal
from postcheck.renderers.order import arrange
from postcheck.report import Figure, FileReport, Finding, Limited, NotJudged, Report, Severity, Subject
from postcheck.reported import Figures, no_figures
from tests.renderers.samples import FAULTY, REPORTS, SOUND


def found(
    name: str, severity: Severity = "stop", because_of: str | None = None, accepted: str | None = None
) -> Finding:
    cause = None if because_of is None else f"a.b:{because_of}"
    return Finding(
        "a.b",
        severity,
        Subject("lamp", name),
        f"{name} says",
        f"{name} why",
        because_of=cause,
        accepted=accepted,
    )


def told(*findings: Finding) -> tuple[str, str]:
    report = Report((FileReport("f.post.toml", "stop", findings),))
    return plain_text.render(report), terminal.render(report, width=80, colour=False, ascii=False)


CHAINS = {
    "chain of three": (found("one"), found("two", because_of="one"), found("three", because_of="two")),
    "reversed": (found("three", because_of="two"), found("two", because_of="one"), found("one")),
    "ring": (found("one", because_of="two"), found("two", because_of="one")),
    "ring with a tail": (
        found("tail", because_of="one"),
        found("one", because_of="two"),
        found("two", because_of="one"),
    ),
    "of itself": (found("one", because_of="one"),),
    "accepted cause": (found("one", accepted="as wished"), found("two", because_of="one")),
    "cause not there": (found("one", because_of="gone"),),
    "two of one name": (found("one"), found("one"), found("two", because_of="one")),
}


@pytest.mark.parametrize("findings", CHAINS.values(), ids=CHAINS.keys())
def test_no_finding_is_dropped(findings: tuple[Finding, ...]) -> None:
    for text in told(*findings):
        for finding in findings:
            assert text.count(finding.says) == sum(other.says == finding.says for other in findings)


def test_a_stop_that_follows_from_a_caution_comes_before_other_cautions() -> None:
    groups = arrange(
        FileReport(
            "f",
            "stop",
            (found("calm", "caution"), found("cause", "caution"), found("burns", "stop", "cause")),
        )
    ).groups
    assert [(group.cause.subject.name, group.weight) for group in groups] == [
        ("cause", "stop"),
        ("calm", "caution"),
    ]
    plain, screen = told(found("cause", "caution"), found("burns", "stop", "cause"))
    assert "  stop  burns says" in plain  # with a line and a place of its own
    assert "It follows, stop: burns says" in screen


def test_many_consequences_are_counted_on_the_screen_and_all_told_in_plain_text() -> None:
    plain, screen = told(found("cause"), *(found(f"no {index}", "note", "cause") for index in range(9)))
    assert plain.count("Follows, note") == 9
    assert screen.count("It follows, note") == 5
    assert "4 findings more" in screen


def test_plain_text_begins_each_finding_with_its_position_and_severity() -> None:
    *lines, last = plain_text.render(Report((FAULTY,))).splitlines()
    assert last.startswith("Survey submersible, 1:72: stop: do not close anything yet")
    assert lines[0].startswith("survey_submersible.post.toml:41:1  stop  'bow lamp' has no resistor")
    assert [
        line
        for line in lines
        if not line.startswith(" ") and not line.startswith("survey_submersible.post.toml")
    ] == []


def test_a_clear_file_is_one_line_and_several_files_end_in_one() -> None:
    assert plain_text.render(Report((SOUND,))).count("\n") == 1
    assert plain_text.render(Report((SOUND, SOUND))).splitlines()[-1] == "2 files: 2 clear"


def test_vital_questions_come_first_and_none_is_lost() -> None:
    questions = (
        NotJudged("a", "heat", "surface"), NotJudged("b", "heat", "surface"), NotJudged("c", "fit", "wire", vital=True),
    )  # fmt: skip
    report = Report((FileReport("f", "incomplete", not_judged=questions),))
    plain = plain_text.render(report).splitlines()
    assert plain[0] == "f  not judged, vital  'c': fit; missing: wire"
    assert plain[1] == "f  not judged  'a', 'b': heat; missing: surface"
    assert "(3 not judged)" in plain[2]


def test_the_verdict_stands_first_and_again_after_a_long_list() -> None:
    long = terminal.render(Report((FAULTY,)), width=80, colour=False, ascii=False).splitlines()
    assert long[0].startswith("Stop: do not close anything yet")
    assert long[0] in long[-2:]
    short = terminal.render(Report((SOUND,)), width=80, colour=False, ascii=False).splitlines()
    assert sum("Clear" in line for line in short) == 1
    assert len(short) < 24


def test_a_plain_number_is_no_percentage() -> None:
    cycles = replace(found("post"), limit=Limited(36525.0, "", "cycles in the build file"))
    share = replace(found("post"), limit=Limited(0.4, "", "a table"))
    for findings, words in ((cycles, "36525; cycles"), (share, "40 %; a table")):
        assert all(f"Limit: {words}" in text for text in told(findings))


# -- JSON: the keys and their order are a promise to other programs

FILE = [
    "file",
    "verdict",
    "stage",
    "findings",
    "not_judged",
    "limits",
    "what_if",
    "nothing_to_judge",
    "figures",
]
FINDING = [
    "id", "check", "severity", "subject", "says", "why", "remedy", "edits", "where", "figures", "limit", "because_of", "accepted",
    "parts", "remedy_figures",
]  # fmt: skip


@pytest.mark.parametrize("name", REPORTS)
def test_json_has_the_promised_keys_in_their_order(name: str) -> None:
    document = json.loads(json_renderer.render(REPORTS[name], "1.2.3"))
    assert list(document) == ["postcheck", "format", "files"]
    assert (document["postcheck"], document["format"]) == ("1.2.3", 1)
    assert len(document["files"]) == len(REPORTS[name].files)
    for file, given in zip(document["files"], REPORTS[name].files, strict=True):
        assert list(file) == FILE
        assert [finding["id"] for finding in file["findings"]] == [finding.id for finding in given.findings]
        for finding in file["findings"]:
            assert list(finding) == FINDING
            assert list(finding["subject"]) == ["kind", "name"]
            assert finding["where"] is None or list(finding["where"]) == ["path", "line", "column"]
            assert finding["limit"] is None or list(finding["limit"]) == ["value", "unit", "source", "name"]
        for question in file["not_judged"]:
            assert list(question) == [
                "subject",
                "what",
                "missing",
                "vital",
                "plannable",
                "lines",
                "under",
                "where",
            ]


def test_json_numbers_are_finite() -> None:
    finding = replace(
        found("one"),
        figures={"good": Figure(1.5, "A"), "bad": Figure(math.inf, "A")},
        limit=Limited(math.nan, "A", "s"),
    )
    row: Any = {"nominal": math.nan, "highest": 1.0, "headroom": None, "rated": 1.0}
    rows: Figures = {**no_figures(), "supplies": {"main": row}}

    def refuse(word: str) -> None:
        pytest.fail(f"{word} is no JSON number")

    text = json_renderer.render(Report((FileReport("f", "stop", (finding,), figures=rows),)), "1")
    file = json.loads(text, parse_constant=refuse)["files"][0]
    assert file["findings"][0]["figures"] == {"good": {"value": 1.5, "unit": "A"}}
    assert file["findings"][0]["limit"] is None
    assert file["figures"]["supplies"]["main"] == {
        "nominal": None,
        "highest": 1.0,
        "headroom": None,
        "rated": 1.0,
    }


def test_screens_of_unknown_figures_do_not_fail() -> None:
    unknown = {"nominal": None, "highest": None, "headroom": None, "rated": None}
    rows: Any = {
        **no_figures(),
        "supplies": {"main": {**unknown, "nominal": math.nan, "highest": 1.0}, "other": unknown},
        "passages": {
            "post": {"verdict": "not found", "fill": None, "smallest_bore": None, "bore": math.nan},
            "arm": {"verdict": "fits", "fill": math.inf, "smallest_bore": 0.0, "bore": 0.002},
        },
        "places": {"car": {"heat": None, "rise": math.nan}},
    }
    screen = terminal.render(
        Report((FileReport("f", "incomplete", figures=rows),)), width=80, colour=False, ascii=True
    )
    assert "Post: not found" in screen
    assert "nan" not in screen


def test_only_the_terminal_loads_rich() -> None:
    code = (
        "import sys; from postcheck.renderers import json_renderer, plain_text, terminal, explain, catalogue_list, streams;"
        "from postcheck.report import Report; plain_text.render(Report(())); json_renderer.render(Report(()), '1');"
        "assert not {'rich', 'pydantic', 'numpy', 'logging'} & set(sys.modules), sorted(sys.modules);"
        "terminal.render(Report(()), width=80, colour=False, ascii=False); assert 'rich' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


NOTE = replace(found("ferry", "note"), says="A note.")
QUESTION = NotJudged("ferry", "how warm it gets", "its surface")
FIGURES: Figures = {
    **no_figures(),
    "supplies": {
        "cells": {"nominal": 0.02, "highest": 0.03, "headroom": 0.7, "rated": 0.1, "lasts": 288000.0}
    },
}


def screen(*files: FileReport) -> list[str]:
    return terminal.render(Report(files), width=80, colour=False, ascii=True).splitlines()


def test_a_clear_build_has_its_verdict_and_its_name_on_one_line_whatever_else_is_told() -> None:
    for findings, questions, head in (
        ((), (), "Clear: Ferry (f.post.toml)"),
        ((NOTE,), (), "Clear (1 note): Ferry (f.post.toml)"),
        ((), (QUESTION,), "Clear (1 not judged): Ferry (f.post.toml)"),
    ):
        assert screen(FileReport("f.post.toml", "clear", findings, questions, FIGURES, "Ferry"))[0] == head


def test_among_several_files_only_those_with_findings_show_their_figures() -> None:
    plain = FileReport("a.post.toml", "clear", figures=FIGURES, name="Ferry")
    asked = replace(plain, file="b.post.toml", not_judged=(QUESTION,))
    noted = replace(plain, file="c.post.toml", findings=(NOTE,))
    lines = screen(plain, asked, noted)
    assert lines[0] == "Clear: Ferry (a.post.toml)"
    assert sum(line.startswith("Supply 'cells'") for line in lines) == 1
    assert lines.index("Clear (1 note): Ferry (c.post.toml)") < next(
        index for index, line in enumerate(lines) if line.startswith("Supply")
    )


def test_the_screen_says_how_long_a_battery_lasts() -> None:
    assert "Battery 'cells': lasts about 80 h" in screen(
        FileReport("f.post.toml", "clear", (), (), FIGURES, "Ferry")
    )
