"""What the verdict promises: for which stage, with which limits changed, and nothing heavy under anything light."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

import postcheck
from postcheck.checking import sheet_of
from postcheck.checks.causes import settled
from postcheck.renderers import sheet_markdown
from postcheck.rendering import render
from postcheck.report import SEVERITIES, Finding, Report, Subject
from tests.write_expected import report

ROOT = Path(__file__).parents[1]
TENDER = (ROOT / "example_builds" / "tender.post.toml").read_text()
FAULTY = sorted((ROOT / "tests" / "builds" / "faulty").glob("*.post.toml"))


@pytest.mark.parametrize(
    ("stage", "words"),
    [
        ("planning", "clear for planning; closing not judged"),
        ("wiring", "clear for wiring; closing not judged"),
    ],
)
def test_a_clear_build_is_clear_for_its_stage(stage: postcheck.report.Stage, words: str) -> None:
    report = postcheck.check(postcheck.loads(TENDER), stage=stage)
    assert report.files[0].verdict == "clear"
    assert words in render(report, "text")
    assert json.loads(render(report, "json"))["files"][0]["stage"] == stage


# (12 V - 3 x 2.9 V) / 120 ohm: 28 mA where 20 mA is the rating, and 1.25 times that the limit
HOT = TENDER.replace("390 ohm", "120 ohm")
RAISED = '\n[[limit]]\nname = "lamp.current.{}"\nvalue = "{} %"\nreason = "shown for an hour a year"\n'


def test_a_changed_limit_says_what_it_hides() -> None:
    before = {
        finding.id: finding.severity for finding in postcheck.check(postcheck.loads(HOT)).files[0].findings
    }
    assert before["lamp.over-rating:cabin lamps"] == "stop"
    raised = postcheck.loads(HOT + RAISED.format("stop", 200))
    report = postcheck.check(raised)
    (file,) = report.files
    (stop,) = file.limits
    assert (stop.name, stop.value, stop.was, stop.unit) == ("lamp.current.stop", 2.0, 1.25, "share")
    assert stop.hides == ("lamp.over-rating:cabin lamps",)
    for text in (
        render(report, "text"),
        render(report, "json"),
        render(report, "sarif"),
        render(report, "github"),
        render(report, "junit"),
        sheet_markdown.render(sheet_of(raised, ["closing"])).replace("\\", ""),
    ):
        assert "shown for an hour a year" in text
        assert "lamp.over-rating:cabin lamps" in text


def test_a_limit_that_hides_nothing_is_listed_all_the_same() -> None:
    report = postcheck.check(postcheck.loads(TENDER + RAISED.format("stop", 200)))
    assert [limit.hides for limit in report.files[0].limits] == [()]
    assert "1 changed limit" in render(report, "text")


def found(name: str, severity: postcheck.report.Severity, because_of: str | None = None) -> Finding:
    return Finding(f"own.{name}", severity, Subject("lamp", "x"), name, name, because_of=because_of)


def test_nothing_follows_from_what_is_lighter_or_from_itself() -> None:
    light = found("light", "caution")
    heavy = found("heavy", "stop", light.id)
    one, other = found("one", "stop", "own.other:x"), found("other", "stop", "own.one:x")
    causes = {finding.id: finding.because_of for finding in settled((light, heavy, one, other))}
    assert causes[heavy.id] is None
    assert sorted(str(causes[finding.id]) for finding in (one, other)) in (
        ["None", "own.one:x"], ["None", "own.other:x"],
    )  # fmt: skip
    waived = settled((replace(light, severity="stop", accepted="as meant"), heavy))
    assert [finding.because_of for finding in waived] == [None, None]


@pytest.mark.parametrize("path", FAULTY[::7], ids=lambda path: path.name)
def test_every_stop_has_a_line_of_its_own_when_piped(path: Path) -> None:
    file = report(path)
    lines = render(Report((file,)), "text").splitlines()
    by_id = {finding.id: finding for finding in file.findings}
    for finding in file.findings:
        if finding.severity == "stop" and finding.accepted is None:
            assert finding.where is not None
            start = f"{path}:{finding.where.line}:{finding.where.column}  stop  "
            assert f"{start}{finding.says}" in lines
            assert f"    Name: {finding.id}" in lines
        if finding.because_of is not None and finding.because_of in by_id:
            cause = by_id[finding.because_of]
            assert SEVERITIES.index(cause.severity) <= SEVERITIES.index(finding.severity)


CABIN = (ROOT / "tests" / "builds" / "faulty" / "place-too-hot.post.toml").read_text()
LIMIT = '\n[[limit]]\nname = "{}"\nvalue = "{}"\nreason = "measured"\n'


def vital(text: str) -> tuple[str, list[str]]:
    (file,) = postcheck.check(postcheck.loads(text), remedies=False).files
    return file.verdict, [f"{one.subject}: {one.what}" for one in file.not_judged if one.vital]


def test_a_limit_cannot_make_what_burns_clear() -> None:
    assert vital(CABIN) == ("stop", [])
    verdict, (question,) = vital(CABIN + LIMIT.format("heat.per-area", 20))
    assert verdict == "incomplete"
    assert question.startswith("hull: whether 'place.too-hot:hull' can be left")
    assert "'heat.per-area' as this file changes it" in question


def test_what_two_limits_hide_together_is_not_clear_either() -> None:
    # 0.67 W over 50 cm2: 73 degC by 3.5 W/(m2 K), 65 degC by 4.5
    two = LIMIT.format("heat.per-area", 4.5) + LIMIT.format("heat.unknown-material", "66 degC")
    text = CABIN.replace('material = "styrene"\n', "")
    assert [vital(text + one)[0] for one in ("", LIMIT.format("heat.per-area", 4.5))] == ["stop", "stop"]
    verdict, questions = vital(text + two)
    assert verdict != "clear"
    assert any("'place.too-hot:hull' can be left" in question for question in questions)


def test_a_limit_that_is_lowered_or_hides_nothing_that_burns_asks_nothing() -> None:
    assert vital(CABIN + LIMIT.format("heat.per-area", 3)) == ("stop", [])
    assert vital(TENDER + LIMIT.format("step.slow", "5 %"))[0] == "clear"


@pytest.mark.parametrize("name", ["heat.vital", "heat.matters"])
def test_a_limit_cannot_make_a_vital_question_light(name: str) -> None:
    text = CABIN.replace('surface = "50 cm2"\n', "").replace('heat = "0.6 W"', 'heat = "3 W"')
    before = vital(text)
    assert before[0] == "incomplete"
    assert vital(text + LIMIT.format(name, "60 W")) == before
