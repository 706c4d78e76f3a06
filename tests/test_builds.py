"""Every build of the corpus: sound ones give no finding, faulty and half ones exactly what stands beside them, word by word."""

from __future__ import annotations

from pathlib import Path

import pytest

from postcheck.checks.table import CHECKS
from postcheck.cli import main
from postcheck.report import SEVERITIES
from tests.write_expected import beside, expected, report

HERE = Path(__file__).parent
SOUND = sorted(
    [*(HERE / "builds" / "sound").glob("*.post.toml"), *(HERE.parent / "example_builds").glob("*.post.toml")]
)
FAULTY = sorted((HERE / "builds" / "faulty").glob("*.post.toml"))
HALF = sorted((HERE / "builds" / "half").glob("*.post.toml"))


def test_the_corpus_is_there() -> None:
    assert len(SOUND) >= 16
    assert len(FAULTY) >= 40
    assert len(HALF) >= 10


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.name)
def test_a_sound_build_gives_no_finding(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert report(path).findings == ()
    assert main(["check", str(path)]) == 0
    capsys.readouterr()


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_a_faulty_build_gives_exactly_its_findings(path: Path) -> None:
    assert expected(report(path)) == beside(path).read_text(encoding="utf-8")


@pytest.mark.parametrize("path", HALF, ids=lambda path: path.name)
def test_a_half_build_gives_exactly_its_questions(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = report(path)
    assert expected(file) == beside(path).read_text(encoding="utf-8")
    assert any(question.vital or question.plannable for question in file.not_judged)
    assert (file.verdict == "stop") == (main(["check", str(path)]) == 1)
    assert main(["check", "--for", "closing", str(path)]) == 1
    capsys.readouterr()


def test_every_check_has_a_faulty_build() -> None:
    shown = {
        line.split(" ", 1)[1].split(":")[0]
        for path in FAULTY
        for line in beside(path).read_text(encoding="utf-8").splitlines()
        if line.startswith(SEVERITIES)
    }
    # one that only ever says what was not judged has no finding to show
    silent = {
        "supply.no-rating",
        "ends.uncoloured",
        "diode.missing",
        "circuit.unswitched",
        "output.unlimited",
        "circuit.unfed",
        "line.unbuilt",
        "load.no-data",
    }
    assert {check.name for check in CHECKS} - shown - silent == set()


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_findings_know_their_line(path: Path) -> None:
    for finding in report(path).findings:
        assert finding.where is not None
        assert finding.where.line >= 1
