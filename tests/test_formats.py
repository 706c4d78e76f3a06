"""`--format` as a CI step calls it: what is written, where it goes, and the exit code."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from xml.etree import ElementTree

import pytest

from postcheck.checks.table import CHECKS
from postcheck.cli import main

ROOT = Path(__file__).parent.parent
GOOD = ROOT / "example_builds" / "tender.post.toml"
BAD = ROOT / "tests" / "builds" / "faulty" / "passage-tight.post.toml"  # a caution
FORMATS = ("sarif", "junit", "github")


@pytest.fixture
def model(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with a good, a bad, a spaced and an unreadable build, and the step standing in a folder of it."""
    (tmp_path / "models").mkdir()
    shutil.copy(GOOD, tmp_path / "models" / "good.post.toml")
    shutil.copy(BAD, tmp_path / "models" / "tight post.post.toml")
    (tmp_path / "models" / "torn.post.toml").write_text("format = 1\n[build\n")
    monkeypatch.chdir(tmp_path / "models")
    monkeypatch.setenv("GITHUB_WORKSPACE", str(tmp_path))
    return tmp_path


def test_sarif_holds_all_files_rules_and_the_exit_code(
    model: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = main(
        ["check", "--format", "sarif", "good.post.toml", str(model / "models" / "tight post.post.toml"), "torn.post.toml"]
    )  # fmt: skip
    (run,) = json.loads(capsys.readouterr().out)["runs"]
    assert code == run["invocations"][0]["exitCode"] == 2
    assert [artifact["location"]["uri"] for artifact in run["artifacts"]] == [
        "good.post.toml", "tight%20post.post.toml", "torn.post.toml",
    ]  # fmt: skip
    names = [rule["id"] for rule in run["tool"]["driver"]["rules"]]
    assert names[: len(CHECKS)] == [check.name for check in CHECKS]
    assert {"file.not-toml", "not-judged"} <= set(names)
    assert {result["ruleId"] for result in run["results"]} == {
        "passage.tight",
        "passage.full",
        "file.not-toml",
    }


def suite(text: str) -> ElementTree.Element:
    (only,) = ElementTree.fromstring(text)
    return only


@pytest.mark.parametrize(("level", "code"), [("stop", 0), ("caution", 1)])
def test_junit_fails_where_the_exit_code_is_1(
    model: Path, level: str, code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "--format", "junit", "--fail-on", level, "tight post.post.toml"]) == code
    whole = suite(capsys.readouterr().out)
    assert whole.attrib["failures"] == str(code)
    assert [case.attrib["name"] for case in whole.iter("testcase")] == [check.name for check in CHECKS]


def test_junit_fails_at_closing_for_what_is_vital_and_not_known(
    model: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = GOOD.read_text(encoding="utf-8")
    wire = 'run = "ptfe-28", '
    assert wire in text
    Path("bare.post.toml").write_text(text.replace(wire, ""), encoding="utf-8")
    for stage, outcome in (("wiring", "skipped"), ("closing", "failure")):
        main(["check", "--format", "junit", "--for", stage, "bare.post.toml"])
        assert [
            child.tag for child in suite(capsys.readouterr().out).iterfind("testcase[@name='not-judged']/*")
        ] == [outcome]


def test_github_names_files_from_the_top_of_the_repository(
    model: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    summary = model / "summary.md"
    monkeypatch.setenv("GITHUB_STEP_SUMMARY", str(summary))
    assert main(["check", "--format", "github", "tight post.post.toml", "torn.post.toml"]) == 2
    out = capsys.readouterr().out
    assert "::warning title=passage.tight,file=models/tight post.post.toml,line=" in out
    assert "::error title=file.not-toml,file=models/torn.post.toml,line=2," in out
    assert not summary.exists()
    monkeypatch.delenv("GITHUB_WORKSPACE")
    main(["check", "--format", "github", "tight post.post.toml"])
    assert "title=passage.tight,file=tight post.post.toml,line=" in capsys.readouterr().out


@pytest.mark.parametrize("form", FORMATS)
def test_a_clean_build_is_reported_too_and_written_whole(
    model: Path, form: str, capsys: pytest.CaptureFixture[str]
) -> None:
    there = model / f"report.{form}"
    assert main(["check", "--format", form, "--output", str(there), "good.post.toml"]) == 0
    told = capsys.readouterr()
    assert (told.out, told.err) == ("", "")
    main(["check", "--format", form, "good.post.toml"])
    assert there.read_text(encoding="utf-8") == capsys.readouterr().out
    assert {"sarif": '"results": []', "junit": 'failures="0"', "github": ": clear"}[form] in there.read_text()


@pytest.mark.parametrize("form", FORMATS)
def test_a_report_that_cannot_be_written_leaves_the_old_one(
    model: Path, form: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    there = model / "report"
    there.write_text("old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    assert main(["check", "--format", form, "--output", str(there), "good.post.toml"]) == 2
    assert there.read_text() == "old"
    assert sorted(path.name for path in model.iterdir()) == ["models", "report"]
    assert "no space left" in capsys.readouterr().err
