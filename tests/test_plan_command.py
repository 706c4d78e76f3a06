"""`postcheck plan` and `postcheck mend` as commands: what they print, what they write, what they refuse."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import postcheck
from postcheck.cli import main
from tests.planner.wishes import random_wish, toml

EXAMPLE = Path(__file__).parent.parent / "example_builds" / "mail_airship.post.toml"


@pytest.fixture
def wish(tmp_path: Path) -> Path:
    file = tmp_path / "wish.post.toml"
    file.write_text(toml(random_wish(11, circuits=2, leds=4, bodies=1)), encoding="utf-8")
    return file


@pytest.fixture
def faulty(tmp_path: Path) -> Path:
    file = tmp_path / "faulty.post.toml"
    text = EXAMPLE.read_text(encoding="utf-8")
    nose = text.index('name     = "nose lamp"')
    file.write_text(
        text[:nose] + text[nose:].replace('"1k at keel"', '"100 ohm at keel"  # too little', 1),
        encoding="utf-8",
    )
    return file


def test_a_plan_is_printed_and_nothing_written(wish: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = wish.read_bytes()
    assert main(["plan", str(wish)]) == 0
    assert capsys.readouterr().out.startswith("A wiring that passes every check")
    assert wish.read_bytes() == before
    assert [one.name for one in wish.parent.iterdir()] == [wish.name]


def test_json_has_the_same(wish: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", "--format", "json", str(wish)]) == 0
    told = json.loads(capsys.readouterr().out)["plan"]
    assert told["verdict"] == "clear"
    assert postcheck.check(postcheck.loads(told["text"])).files[0].verdict == "clear"


def test_a_copy_is_written_and_no_file_goes_over_another(
    wish: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new = wish.parent / "new.post.toml"
    assert main(["plan", str(wish), "--write", str(new)]) == 0
    assert main(["check", str(new)]) == 0
    written = new.read_bytes()
    assert main(["plan", str(wish), "--write", str(new)]) == 2
    assert "already there" in capsys.readouterr().err
    assert new.read_bytes() == written


def test_in_place_keeps_the_old_text(wish: Path) -> None:
    before = wish.read_bytes()
    assert main(["plan", str(wish), "--in-place"]) == 0
    assert Path(f"{wish}~").read_bytes() == before
    assert main(["check", str(wish)]) == 0


def test_without_a_plan_nothing_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tables = random_wish(11, circuits=2, leds=4, bodies=1)
    tables["post"]["bore"] = "0.4 mm"
    file = tmp_path / "narrow.post.toml"
    file.write_text(toml(tables), encoding="utf-8")
    assert main(["plan", str(file), "--in-place"]) == 1
    assert "frees the plan" in capsys.readouterr().out
    assert not Path(f"{file}~").exists()


@pytest.mark.parametrize(
    "words", [["--write", "a.post.toml", "--in-place"], ["--seconds", "0"], ["--seconds", "nan"]]
)
def test_words_that_make_no_sense_are_refused(words: list[str], wish: Path) -> None:
    assert main(["plan", str(wish), *words]) == 2


def test_mend_shows_lines_and_writes_nothing_when_dry(
    faulty: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = faulty.read_bytes()
    assert main(["mend", "--dry", str(faulty)]) in (0, 1)
    told = capsys.readouterr().out
    assert 'resistor = "100 ohm at keel"  # too little' in told
    assert "becomes" in told
    assert faulty.read_bytes() == before


def test_mend_takes_all_and_keeps_comments(faulty: Path) -> None:
    lines = faulty.read_text(encoding="utf-8").splitlines()
    assert main(["mend", "--yes", str(faulty)]) == 0
    now = faulty.read_text(encoding="utf-8").splitlines()
    (changed,) = [number for number, (old, new) in enumerate(zip(lines, now, strict=True)) if old != new]
    assert now[changed].endswith("# too little")
    assert postcheck.check(postcheck.load(faulty)).files[0].verdict in ("clear", "caution")


def test_mend_asks_nobody_who_is_not_there(faulty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = faulty.read_bytes()
    assert main(["mend", str(faulty)]) == 2
    assert "--yes" in capsys.readouterr().err
    assert faulty.read_bytes() == before
