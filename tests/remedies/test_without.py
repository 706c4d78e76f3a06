"""Judging without mending: the same is found, and nothing is tried."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import postcheck
from postcheck import trial
from postcheck.cli import main
from tests.test_builds import FAULTY
from tests.test_cold_start import loaded, loaded_by
from tests.write_expected import TODAY, report, to_be_closed

ROOT = Path(__file__).parent.parent.parent
AIRSHIP = ROOT / "example_builds" / "mail_airship.post.toml"


@pytest.fixture
def trials(monkeypatch: pytest.MonkeyPatch) -> list[postcheck.Build]:
    """The builds of which remedies were worked out."""
    found = []

    def counted(survey: postcheck.Survey, *given: object) -> object:
        found.append(survey.build)
        return with_remedies(survey, *given)  # type: ignore[arg-type]

    with_remedies = trial.with_remedies
    monkeypatch.setattr(trial, "with_remedies", counted)
    return found


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_the_same_is_found(path: Path, trials: list[postcheck.Build]) -> None:
    build = postcheck.load(path)
    (without,) = postcheck.check(build, remedies=False, closing=to_be_closed(path), today=TODAY).files
    assert trials == []
    mended = report(path)
    assert replace(without, findings=()) == replace(
        mended, findings=()
    )  # verdict, figures, what was not judged
    found = {finding.id: finding for finding in mended.findings}
    assert found.keys() == {finding.id for finding in without.findings}
    for finding in without.findings:
        other = found[finding.id]
        assert replace(
            other, remedy=finding.remedy, edits=finding.edits, lines=finding.lines, because_of=finding.because_of,
            remedy_figures=finding.remedy_figures
        ) == finding  # fmt: skip
        assert finding.edits is None  # no check of ours says which value would do
        if other.because_of == finding.because_of:
            assert other.lines == finding.lines
            # what the check says itself stays, unless the trial has something better
            assert other.remedy is not None or finding.remedy is None


def test_what_a_trial_alone_tells_is_not_there(trials: list[postcheck.Build]) -> None:
    build = postcheck.load(next(path for path in FAULTY if path.name.startswith("strip-wrong-volts-and-all")))
    (without,), (mended,) = postcheck.check(build, remedies=False).files, postcheck.check(build).files
    assert len(trials) == 1
    (cause,) = (finding for finding in mended.findings if finding.because_of is None)
    assert (cause.id, bool(cause.remedy)) == ("strip.wrong-volts:hall light", True)
    assert {finding.because_of for finding in mended.findings} == {None, cause.id}
    assert {finding.because_of for finding in without.findings} == {None}
    assert len(without.findings) == len(mended.findings) == 4


def test_what_a_rule_of_a_check_tells_is(trials: list[postcheck.Build]) -> None:
    text = AIRSHIP.read_text(encoding="utf-8")
    nose = text.index('name     = "nose lamp"')
    build = postcheck.loads(text[:nose] + text[nose:].replace("1k at keel", "100 ohm at keel", 1))
    (without,) = postcheck.check(build, remedies=False).files
    assert {finding.id: finding.because_of for finding in without.findings} == {
        "lamp.over-rating:nose lamp": None,
        "resistor.overloaded:nose lamp": "lamp.over-rating:nose lamp",
        "place.too-hot:keel": "lamp.over-rating:nose lamp",
        "place.too-hot:nose": "lamp.over-rating:nose lamp",
        "part.hot-spot:nose lamp": "place.too-hot:keel",
    }
    assert trials == []


def test_the_rooms_of_remedies_are_not_loaded() -> None:
    rooms = {"postcheck.trial", "postcheck.remedies", "postcheck.remedies.table"}
    faulty = str(next(path for path in FAULTY if path.name.startswith("lamp-over-rating")))
    judged = "import postcheck\npostcheck.check(postcheck.load({!r}){})"
    assert loaded_by(judged.format(faulty, "")) >= rooms
    assert not loaded_by(judged.format(faulty, ", remedies=False")) & rooms
    for words in (("ask", "bore", "5 mm", "3 ptfe-28"), ("post", faulty), ("sheet", faulty, "-o", "-")):
        assert not loaded(*words) & rooms


def test_a_comparison_in_words_mends_what_is_now_alone(
    tmp_path: Path, trials: list[postcheck.Build], capsys: pytest.CaptureFixture[str]
) -> None:
    text = AIRSHIP.read_text(encoding="utf-8")
    before, after = tmp_path / "before.post.toml", tmp_path / "after.post.toml"
    nose = text.index('name     = "nose lamp"')
    before.write_text(text[:nose] + text[nose:].replace("1k at keel", "100 ohm at keel", 1))
    after.write_text(text[:nose] + text[nose:].replace("1k at keel", "150 ohm at keel", 1))
    main(["compare", str(before), str(after)])
    assert [build.file for build in trials] == [str(after)]
    assert "Do: Use " in capsys.readouterr().out
    trials.clear()
    main(["compare", "--format", "json", str(before), str(after)])
    assert [build.file for build in trials] == [str(before), str(after)]
