"""Workflow commands: written as GitHub's own library writes them, and never more than the runner shows."""

from __future__ import annotations

import json
import re
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from postcheck.renderers import github
from postcheck.renderers.ci import within
from postcheck.report import FileReport, Report, Subject
from tests.renderers.hostile import FORBIDDEN, NAMES, report
from tests.renderers.samples import FAULTY, REPORTS

CASES = json.loads((Path(__file__).parent.parent / "data" / "actions_core.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", CASES, ids=range(len(CASES)))
def test_a_command_is_written_as_the_runners_own_library_does(case: dict[str, str]) -> None:
    """Recorded from @actions/core; `.ci/run` has it write them again."""
    properties = {
        "title": case["title"],
        "file": case.get("file"),
        "line": case.get("line"),
        "col": case.get("column"),
    }
    assert github.command(case["level"], properties, case["message"]) + "\n" == case["written"]


def commands(text: str) -> list[tuple[str, dict[str, str], str]]:
    """The commands in a log, read as the runner reads them: it looks past blanks, and takes back the escapes."""
    found = []
    for line in text.split("\n"):
        assert "##[" not in line
        if (match := re.match(r"\s*::(\w+)( [^:]*)?::(.*)$", line)) is None:
            assert not line.lstrip().startswith("::")
            continue
        pairs = [pair.split("=", 1) for pair in (match[2] or "").strip().split(",") if pair]
        found.append((match[1], {key: plain(value) for key, value in pairs}, plain(match[3])))
    return found


def plain(text: str) -> str:
    for escape, sign in (("%2C", ","), ("%3A", ":"), ("%0A", "\n"), ("%0D", "\r"), ("%25", "%")):
        text = text.replace(escape, sign)
    return text


def test_what_is_told_comes_back_whole() -> None:
    told = commands(github.render(REPORTS["several"]))
    assert Counter(level for level, _, _ in told) == {"error": 2, "warning": 3, "notice": 1}
    _, where, message = told[1]
    assert where == {
        "title": "lamp.no-resistor", "file": "survey_submersible.post.toml", "line": "41", "col": "1",
    }  # fmt: skip
    assert message.startswith("'bow lamp' has no resistor")
    assert "\nIt follows, stop: 'bow' would reach 74 degC" in message


def many(stops: int, cautions: int = 0) -> Report:
    first, tight = FAULTY.findings[0], FAULTY.findings[3]
    findings = [
        replace(first, subject=Subject("lamp", f"lamp {n}"), says=f"lamp {n} is bad") for n in range(stops)
    ]
    findings += [replace(tight, subject=Subject("lamp", f"lamp {n}")) for n in range(cautions)]
    return Report((FileReport("a.post.toml", "stop", tuple(findings)),))


@pytest.mark.parametrize(("stops", "shown", "more"), [(9, 9, 0), (10, 10, 0), (11, 10, 2), (40, 10, 31)])
def test_no_more_than_ten_of_a_level_and_the_last_says_how_many_more(
    stops: int, shown: int, more: int
) -> None:
    """GitHub's toolkit documents 10 annotations of each level a step."""
    text = github.render(many(stops, 3))
    told = [message for level, _, message in commands(text) if level == "error"]
    assert len(told) == shown
    assert len([level for level, _, _ in commands(text) if level == "warning"]) == 3
    if more:
        assert told[-1] == f"{more} more errors in the log of this step"
    for n in range(stops):  # nothing is lost: what is no annotation is a line of the log
        assert len(re.findall(rf"\blamp {n} is bad", text)) == 1


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES.keys())
def test_no_name_is_a_command_or_steers_the_log(name: str) -> None:
    text = github.render(report(name))
    assert not FORBIDDEN.search(text)
    assert [(level, set(where)) for level, where, _ in commands(text)] == [
        (level, set(where) - ({"file"} if not name else set())) for level, where, _ in commands(github.render(report("lamp")))
    ]  # fmt: skip
    for _, where, message in commands(text):
        assert not FORBIDDEN.search("".join(where.values()) + message)


@settings(max_examples=40)
@given(st.text(max_size=80))
def test_any_name_is_only_told(name: str) -> None:
    assert len(commands(github.render(report(name)))) == len(commands(github.render(report("lamp"))))


@pytest.mark.parametrize(
    ("path", "folder", "here", "named"),
    [
        ("a.post.toml", "/repo", "/repo/models", "models/a.post.toml"),
        ("../b.post.toml", "/repo", "/repo/models", "b.post.toml"),
        ("/repo/a.post.toml", "/repo/", "/tmp", "a.post.toml"),
        ("/repository/a.post.toml", "/repo", "/repo", "/repository/a.post.toml"),
        ("-", "/repo", "/repo/models", "-"),
    ],
)
def test_a_path_is_told_from_the_top_of_the_repository(path: str, folder: str, here: str, named: str) -> None:
    assert within(path, folder, here) == named
