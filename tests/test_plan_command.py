"""`postcheck plan` and `postcheck mend` as commands: what they print, what they write, what they refuse."""

from __future__ import annotations

import json
import stat
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import postcheck
from postcheck import output
from postcheck.cli import every_command, main
from postcheck.description.rewriting import RewriteError
from postcheck.mending import Mending, Step
from postcheck.planner import planning
from postcheck.planner.cost import AIMS
from postcheck.report import Severity
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


@pytest.mark.parametrize("name", ['the "hub"', "hub\\\\n", "hub, aft", "bow to hub", "hub\\tof tin"])
def test_names_of_any_signs_are_planned(name: str, tmp_path: Path) -> None:
    tables = random_wish(11, circuits=2, leds=4, bodies=1)
    text = toml(tables).replace('"hub"', json.dumps(name)).replace("place.hub]", f"place.{json.dumps(name)}]")
    assert json.dumps(name) in text
    file = tmp_path / "wish.post.toml"
    file.write_text(text, encoding="utf-8")
    assert main(["plan", str(file), "--in-place"]) == 0
    assert main(["check", str(file)]) == 0


def test_without_a_plan_nothing_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tables = random_wish(11, circuits=2, leds=4, bodies=1)
    tables["post"]["bore"] = "0.4 mm"
    file = tmp_path / "narrow.post.toml"
    file.write_text(toml(tables), encoding="utf-8")
    assert main(["plan", str(file), "--in-place"]) == 1
    assert "frees the plan" in capsys.readouterr().out
    assert not Path(f"{file}~").exists()


@pytest.mark.parametrize("form", ["file", "folder", "dangling link"])
def test_in_place_goes_over_no_older_copy(form: str, wish: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy, before = Path(f"{wish}~"), wish.read_bytes()
    if form == "file":
        copy.write_text("older")
    elif form == "folder":
        copy.mkdir()
    else:
        copy.symlink_to(wish.parent / "gone")
    assert main(["plan", str(wish), "--in-place"]) == 2
    told = capsys.readouterr()
    assert "already there" in told.err
    assert told.out == ""
    assert wish.read_bytes() == before
    assert not (wish.parent / "gone").exists()
    assert form != "file" or copy.read_text() == "older"


def test_in_place_keeps_bytes_mark_and_mode(wish: Path) -> None:
    before = b"\xef\xbb\xbf" + wish.read_bytes().replace(b"\n", b"\r\n")
    wish.write_bytes(before)
    wish.chmod(0o640)
    assert main(["plan", str(wish), "--in-place"]) == 0
    copy = Path(f"{wish}~")
    assert copy.read_bytes() == before
    assert [stat.S_IMODE(one.stat().st_mode) for one in (wish, copy)] == [0o640, 0o640]
    now = wish.read_bytes()
    assert now.startswith(b"\xef\xbb\xbf")
    assert now.count(b"\xef\xbb\xbf") == 1
    assert now.count(b"\n") == now.count(b"\r\n")
    assert main(["check", str(wish)]) == 0


def test_a_copy_keeps_the_mark(wish: Path) -> None:
    wish.write_bytes(b"\xef\xbb\xbf" + wish.read_bytes())
    assert main(["plan", str(wish), "--write", str(wish.parent / "new.post.toml")]) == 0
    assert (wish.parent / "new.post.toml").read_bytes().startswith(b"\xef\xbb\xbf")


def test_a_plan_that_changes_nothing_writes_nothing(wish: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(wish), "--in-place"]) == 0
    Path(f"{wish}~").unlink()
    before, when = wish.read_bytes(), wish.stat().st_mtime_ns
    assert main(["plan", str(wish), "--in-place"]) == 0
    assert "changes nothing" in capsys.readouterr().err
    assert (wish.read_bytes(), wish.stat().st_mtime_ns) == (before, when)
    assert not Path(f"{wish}~").exists()


def test_planned_anew_the_file_loses_what_is_not_needed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = EXAMPLE.read_text(encoding="utf-8")
    more = '\n# the old feed\n[[run]]\nname = "old feed"\nline = "running"\nends = ["base", "keel"]\nlength = "270 mm"\n'
    file = tmp_path / "twice.post.toml"
    file.write_text(text + more, encoding="utf-8")
    assert main(["plan", str(file), "--anew"]) == 0
    told = capsys.readouterr().out
    assert "Post: 5 conductors, the fewest" in told
    assert "(before: 6, " in told
    assert "  without the table of run 'old feed'\n" in told
    assert main(["plan", str(file), "--anew", "--in-place"]) == 0
    assert file.read_text(encoding="utf-8") == text
    assert main(["plan", str(file), "--anew", "--format", "json"]) == 0
    capsys.readouterr()


def test_no_better_than_what_is_there_is_said_and_nothing_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "airship.post.toml"
    file.write_bytes(EXAMPLE.read_bytes())
    assert main(["plan", str(file), "--anew", "--in-place"]) == 0
    told = capsys.readouterr()
    assert "Planned anew, no better than what is there: " in told.out
    assert "changes nothing" in told.err
    assert [one.name for one in tmp_path.iterdir()] == [file.name]
    assert file.read_bytes() == EXAMPLE.read_bytes()


def test_in_place_leaves_what_was_changed_meanwhile(
    wish: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = planning.plan

    def slow(*args: Any, **words: Any) -> Any:
        planned = real(*args, **words)
        wish.write_bytes(wish.read_bytes() + b"# mine\n")
        return planned

    monkeypatch.setattr(planning, "plan", slow)
    assert main(["plan", str(wish), "--in-place"]) == 2
    assert f"'{wish}' was changed meanwhile and is left as it is" in capsys.readouterr().err
    assert wish.read_bytes().endswith(b"# mine\n")
    assert not Path(f"{wish}~").exists()


def test_a_copy_goes_again_where_the_file_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a"
    file.write_text("old")

    def full(*_: object, **__: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(output, "_save", full)
    with pytest.raises(OSError, match="no space"):
        output.rewrite(str(file), "old", "new", f"{file}~")
    assert [one.name for one in tmp_path.iterdir()] == ["a"]


def test_written_to_standard_output_is_the_file_and_nothing_else(
    wish: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["plan", str(wish), "--write", "-"]) == 0
    printed = capfdbinary.readouterr().out
    assert main(["plan", str(wish), "--write", str(wish.parent / "new.post.toml")]) == 0
    assert printed == (wish.parent / "new.post.toml").read_bytes()


def test_without_a_plan_standard_output_stays_empty(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tables = random_wish(11, circuits=2, leds=4, bodies=1)
    tables["post"]["bore"] = "0.4 mm"
    file = tmp_path / "narrow.post.toml"
    file.write_text(toml(tables), encoding="utf-8")
    assert main(["plan", str(file), "--write", "-"]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert "frees the plan" in told.err


def test_a_file_that_cannot_be_written_to_is_told_with_its_reason(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "list.post.toml"
    file.write_text("run = []\n" + toml(random_wish(11, circuits=2, leds=4, bodies=1)), encoding="utf-8")
    before = file.read_bytes()
    assert main(["plan", str(file), "--in-place"]) == 2
    assert "no [[run]] can be added" in capsys.readouterr().err
    assert [one.read_bytes() for one in tmp_path.iterdir()] == [before]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--write", ""], "needs the name of a file"),
        (["--write", "nowhere/"], "needs the name of a file"),
        (["--write", "-", "--format", "json"], "one of them"),
    ],
)
def test_a_name_that_is_none_is_refused(
    words: list[str], says: str, wish: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan", str(wish), *words]) == 2
    assert says in capsys.readouterr().err


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


def test_mend_adds_runs_after_their_like(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = Path(__file__).parent / "builds" / "faulty" / "line-broken-pole.post.toml"
    path = tmp_path / source.name
    path.write_bytes(source.read_bytes())
    assert main(["mend", "--dry", str(path)]) in (0, 1)
    assert 'name   = "negative 2"' in capsys.readouterr().out
    assert main(["mend", "--yes", str(path)]) == 0
    added = '[[run]]\nname   = "negative 2"\nline   = "low-"\nends   = ["base", "deck"]\nlength = "300 mm"\nwire   = "ptfe-28"\n'
    assert path.read_text(encoding="utf-8") == source.read_text(encoding="utf-8") + added


def test_mend_shows_the_lines_that_it_cannot_put_into_the_file(
    faulty: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = faulty.read_bytes()

    def refusing(*_: object) -> str:
        raise RewriteError("no", ("[[lamp]]", 'resistor = "680 ohm"'))

    monkeypatch.setattr("postcheck.mending.rewritten", refusing)
    main(["mend", "--yes", str(faulty)])
    told = capsys.readouterr().out
    assert '    Type where its table stands:\n      [[lamp]]\n      resistor = "680 ohm"\n' in told
    assert faulty.read_bytes() == before


BUOY = """
format = 1
build = { name = "Buoy" }
supply.cell = { kind = "battery", place = "float", chemistry = "lithium-coin", size = "cr2032", cells = 2 }
place.float = { access = "open" }
circuit.light = { supply = "cell" }
lamp = [{ name = "top", circuit = "light", kind = "smd-0603-red", place = "float", LAMP }]
"""


def test_mend_puts_in_the_lines_that_a_coin_cell_asks_for(tmp_path: Path) -> None:
    path = tmp_path / "buoy.post.toml"
    path.write_text(BUOY.replace("LAMP", 'resistor = "3.9 kohm"'), encoding="utf-8")
    assert main(["mend", "--yes", str(path)]) == 0
    place = postcheck.load(path).place["float"]
    assert (place.access, place.opens_with) == ("cover", "tool")


def test_mend_names_what_is_still_to_be_answered(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Stronger cells warm a place of unknown size by more than may go unasked."""
    path = tmp_path / "buoy.post.toml"
    shut = BUOY.replace('"open"', '"cover", opens_with = "tool"')
    path.write_text(shut.replace("LAMP", 'parallel = 3, resistor = "150 ohm"'), encoding="utf-8")
    main(["mend", "--yes", str(path)])
    told = capsys.readouterr().out
    assert "It is incomplete then, and this is left for your own hand:" in told
    assert "  Not judged, vital: 'float': how warm it gets" in told
    assert "surface" in told.partition("Not judged")[2]


def test_mend_asks_nobody_who_is_not_there(faulty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = faulty.read_bytes()
    assert main(["mend", str(faulty)]) == 2
    assert "--yes" in capsys.readouterr().err
    assert faulty.read_bytes() == before


def test_mend_keeps_the_mark(faulty: Path) -> None:
    faulty.write_bytes(b"\xef\xbb\xbf" + faulty.read_bytes())
    assert main(["mend", "--yes", str(faulty)]) == 0
    now = faulty.read_bytes()
    assert now.startswith(b"\xef\xbb\xbf")
    assert b'"100 ohm at keel"' not in now


def test_mend_leaves_what_was_changed_meanwhile(
    faulty: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = Mending.take

    def slow(self: Mending, step: Step) -> bool:
        faulty.write_bytes(faulty.read_bytes() + b"# mine\n")
        return real(self, step)

    monkeypatch.setattr(Mending, "take", slow)
    assert main(["mend", "--yes", str(faulty)]) == 2
    assert "was changed meanwhile and is left as it is" in capsys.readouterr().err
    assert b'"100 ohm at keel"' in faulty.read_bytes()


@pytest.mark.parametrize(
    ("before", "after", "takes"),
    [("caution", "note", True), ("note", "note", False), ("stop", "caution", False)],
)
def test_mend_takes_a_remedy_that_leaves_no_more_than_a_note(
    before: Severity, after: Severity, takes: bool, faulty: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mending = Mending(postcheck.load(faulty))
    step = mending.next()
    assert step is not None
    report = replace(mending.report, findings=(replace(step.finding, severity=after),))
    monkeypatch.setattr(Mending, "_judged", lambda *_: report)
    assert mending.take(replace(step, finding=replace(step.finding, severity=before))) is takes


def test_the_command_offers_every_aim_that_there_is() -> None:
    for aim in AIMS:
        assert every_command().parsers["plan"].parse_args(["--aim", aim, "x"]).aim == [aim]
