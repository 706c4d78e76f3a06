"""Every build of the corpus: sound ones give no finding, faulty ones exactly the findings beside them, word by word."""

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


def test_the_corpus_is_there() -> None:
    assert len(SOUND) >= 16
    assert len(FAULTY) >= 40


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.name)
def test_a_sound_build_gives_no_finding(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert report(path).findings == ()
    assert main(["check", str(path)]) == 0
    capsys.readouterr()


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_a_faulty_build_gives_exactly_its_findings(path: Path) -> None:
    assert expected(report(path)) == beside(path).read_text(encoding="utf-8")


def test_every_check_has_a_faulty_build() -> None:
    shown = {
        line.split(" ", 1)[1].split(":")[0]
        for path in FAULTY
        for line in beside(path).read_text(encoding="utf-8").splitlines()
        if line.startswith(SEVERITIES)
    }
    # one that only ever says what was not judged has no finding to show
    silent = {"supply.no-rating", "ends.uncoloured", "circuit.unswitched"}
    assert {check.name for check in CHECKS} - shown - silent == set()


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_findings_know_their_line(path: Path) -> None:
    for finding in report(path).findings:
        assert finding.where is not None
        assert finding.where.line >= 1
