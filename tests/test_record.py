"""`postcheck record`: what is asked, what is written, what a wrong reading is told, and what a cut of power leaves behind."""

from __future__ import annotations

import contextlib
import dataclasses
import io
import itertools
import math
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
import tomli

import postcheck
from postcheck import output
from postcheck.cli import main
from postcheck.cli.meter import MisreadError
from postcheck.cli.meter import reading as read_as
from postcheck.recorded import MeterReading
from tests.emulator import Terminal

ROOT = Path(__file__).parent.parent
EXAMPLES = sorted((ROOT / "example_builds").glob("*.post.toml"))
DAY = date(2026, 11, 25)


@pytest.fixture
def airship(tmp_path: Path) -> Path:
    return Path(shutil.copy(ROOT / "example_builds" / "mail_airship.post.toml", tmp_path))


class Lines(io.StringIO):
    """Readings from a pipe; `before` is called ahead of the line of its number."""

    def __init__(self, *lines: str, before: dict[int, Callable[[], object]] | None = None) -> None:
        super().__init__("".join(f"{line}\n" for line in lines))
        self.before, self.count = before or {}, itertools.count(1)

    def readline(self, *arguments: object) -> str:
        self.before.get(next(self.count), lambda: None)()
        return super().readline()


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Callable[..., int]:
    def told(file: Path, *lines: str, options: tuple[str, ...] = ("--closing", "tail"), day: date = DAY,
             before: dict[int, Callable[[], object]] | None = None) -> int:  # fmt: skip
        monkeypatch.setattr(sys, "stdin", Lines(*lines, before=before))
        return main(["record", *options, "--today", day.isoformat(), str(file)])

    return told


def proofs(file: Path) -> list[dict[str, object]]:
    found: list[dict[str, object]] = tomli.loads(file.read_text(encoding="utf-8")).get("proof", [])
    return found


BEACON = {"subject": "tail beacon", "volts": "12 V", "current": "9.7 mA", "date": DAY}
STROBE = {"subject": "tail strobe", "volts": "12 V", "current": "13.4 mA", "date": DAY}
RAN = {"hours": "24 h"}


# -- what is asked


def test_each_thing_is_asked_for_once_place_by_place() -> None:
    tests = list(postcheck.bench_tests(postcheck.load(EXAMPLES[0]), today=DAY))
    assert [(test.place, test.name) for test in tests] == [
        ("car", "port running lamp"),
        ("car", "starboard running lamp"),
        ("car", "car windows"),
        ("nose", "nose lamp"),
        ("tail", "tail beacon"),
        ("tail", "tail strobe"),
    ]


def test_what_several_places_ask_for_comes_once_and_after_its_leads() -> None:
    places = ("keel", "base", "car", "nose", "tail")
    tests = list(postcheck.bench_tests(postcheck.load(EXAMPLES[0]), closing=places, today=DAY))
    assert len({(test.kind, test.name) for test in tests}) == len(tests)
    order = [test.name for test in tests]
    build = postcheck.load(EXAMPLES[0])
    for lamp in build.lamp:
        if lamp.name in order and lamp.circuit in order:
            assert order.index(lamp.name) < order.index(lamp.circuit or "")


def test_the_setting_is_that_of_ohms_law() -> None:
    """12 V over 1 kohm and a red LED of 1.8 to 2.4 V (its data sheet): 9.6 to 10.2 mA with a resistor as it comes; 5 % of that besides.

    The limit is the next whole milliamp above 1.1 times the most (common practice: clear of what is expected, near to it).
    """
    test = next(
        one
        for one in postcheck.bench_tests(postcheck.load(EXAMPLES[0]), today=DAY)
        if one.name == "tail beacon"
    )
    assert test.expected is not None
    assert test.volts == 12.0
    assert 9.6e-3 < test.expected.usual < 10.2e-3
    assert (
        9.6e-3 / 1.05 * 0.98
        < test.expected.least
        < test.expected.usual
        < test.expected.most
        < 10.2e-3 / 0.95 * 1.02
    )
    assert test.limit is not None
    assert test.expected.most * 1.1 <= test.limit < test.expected.most * 1.1 + 1e-3
    assert test.bare == "destroyed"


def test_the_limit_stands_before_the_volts(
    airship: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str]
) -> None:
    run(airship)
    said = capsys.readouterr().out
    assert (
        "Set the limit to 12 mA, then the volts to 12 V, through its 1 kohm. Never on the bare ends" in said
    )


# -- what is written


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.name.split(".")[0])
def test_a_whole_build_goes_from_incomplete_to_clear(
    example: Path, tmp_path: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str]
) -> None:
    file = Path(shutil.copy(example, tmp_path))
    before = file.read_text(encoding="utf-8")
    tests = list(postcheck.bench_tests(postcheck.load(file), today=DAY))
    assert postcheck.check(postcheck.load(file), stage="closing", today=DAY).files[0].verdict == "stop"
    assert run(file, options=()) == 1
    assert "Incomplete for closing" in capsys.readouterr().out
    lines = [line for test in tests if test.expected for line in (f"{test.expected.usual * 1e3:.4g}", "24")]
    assert len(lines) == 2 * len(tests)
    assert run(file, *lines, options=()) == 0
    assert "Clear for closing." in capsys.readouterr().out
    assert postcheck.check(postcheck.load(file), stage="closing", today=DAY).files[0].verdict == "clear"
    assert file.read_text(encoding="utf-8").startswith(before)  # comments and order are as they were
    assert run(file, options=()) == 0
    assert "nothing is left to test" in capsys.readouterr().out


@pytest.mark.parametrize("typed", ["9.7", "9.7 mA", "9,7", "9700 uA", "0.0097 A"])
def test_a_reading_is_in_the_unit_of_the_setting_or_says_its_own(
    airship: Path, run: Callable[..., int], typed: str
) -> None:
    assert run(airship, typed, "24", "13.4 mA", "24 h") == 0
    assert proofs(airship) == [BEACON | RAN, STROBE | RAN]


def test_hours_may_come_another_day(
    airship: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(airship, "9.7", "skip", "13.4", "20") == 1
    assert "'tail beacon' and 'tail strobe' have not run long enough" in capsys.readouterr().out
    assert run(airship, "24", "24", day=date(2026, 11, 26)) == 0
    later = {"date": date(2026, 11, 26), "hours": "24 h"}
    assert proofs(airship) == [
        BEACON, STROBE | {"hours": "20 h"}, {"subject": "tail beacon"} | later, {"subject": "tail strobe"} | later,
    ]  # fmt: skip


def test_a_new_reading_of_the_day_takes_the_place_of_the_old_and_one_of_another_day_stands_beside_it(
    airship: Path, run: Callable[..., int]
) -> None:
    assert run(airship, "0", "13.4", "24") == 1
    assert run(airship, "9.7", "24") == 0
    assert proofs(airship) == [BEACON | RAN, STROBE | RAN]
    text = airship.read_text(encoding="utf-8").replace('"9.7 mA"', '"0 mA"')
    airship.write_text(text, encoding="utf-8")
    assert run(airship, "9.7", day=date(2026, 11, 26)) == 0
    assert [proof["current"] for proof in proofs(airship)] == ["0 mA", "13.4 mA", "9.7 mA"]


def test_what_was_reversed_and_lights_now_is_the_right_way_round(
    airship: Path, run: Callable[..., int]
) -> None:
    assert run(airship, "reversed", "13.4", "24") == 1
    assert proofs(airship)[0] == {"subject": "tail beacon", "polarity": False, "date": DAY}
    assert run(airship, "9.7", "24", day=date(2026, 11, 26)) == 0
    assert proofs(airship)[-1]["polarity"] is True


def test_back_takes_the_last_one_out_of_the_file(airship: Path, run: Callable[..., int]) -> None:
    before = airship.read_bytes()
    assert run(airship, "9.7", "back") == 1
    assert airship.read_bytes() == before
    assert run(airship, "9.7", "24", "back", "back", "9.6", "24", "13.4", "24") == 0
    assert proofs(airship) == [BEACON | RAN | {"current": "9.6 mA"}, STROBE | RAN]


def test_back_brings_back_what_the_day_had_before(airship: Path, run: Callable[..., int]) -> None:
    run(airship, "0", "stop")
    dark = airship.read_bytes()
    assert run(airship, "9.7", "back", "stop") == 1
    assert airship.read_bytes() == dark


def test_dry_shows_what_would_be_written_and_writes_nothing(
    airship: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str]
) -> None:
    before = airship.read_bytes()
    assert run(airship, "9.7", "24", "13.4", "24", options=("--dry", "--closing", "tail")) == 0
    said = capsys.readouterr().out
    assert 'Would be written:\n      [[proof]]\n      subject = "tail beacon"\n      volts = "12 V"\n' in said
    assert airship.read_bytes() == before
    assert [one.name for one in airship.parent.iterdir()] == [airship.name]


def test_line_ends_and_a_byte_order_mark_stay(airship: Path, run: Callable[..., int]) -> None:
    airship.write_bytes(b"\xef\xbb\xbf" + airship.read_bytes().replace(b"\n", b"\r\n"))
    assert run(airship, "9.7", "24", "13.4", "24") == 0
    data = airship.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    assert data.count(b"\n") == data.count(b"\r\n")


def test_a_list_in_one_piece_gets_another_entry(airship: Path, run: Callable[..., int]) -> None:
    text = airship.read_text(encoding="utf-8")
    top = 'proof = [{ subject = "nose lamp", volts = "12 V", current = "9 mA", date = 2026-11-20 }]\n'
    airship.write_text(text.replace("format = 1\n", f"format = 1\n{top}"), encoding="utf-8")
    assert run(airship, "9.7", "24", "13.4", "24") == 0
    assert proofs(airship)[1:] == [BEACON | RAN, STROBE | RAN]


# -- readings that are wrong


WRONG = [
    ("dark", "Stop", "Look for a lamp the wrong way round, or an open joint."),
    ("0", "Stop", "Look for a lamp the wrong way round, or an open joint."),
    (
        "6.6",
        "Caution",
        "Look for a resistor of 1.3 kohm instead of 680 ohm at 'tail strobe'.",
    ),  # (12 - 3) V / 6.6 mA
    (
        "26.4",
        "Stop",
        "Look for a resistor of 330 ohm instead of 680 ohm at 'tail strobe'.",
    ),  # (12 - 3.2) V / 26.4 mA
    ("16", "Caution", "Look for a missing or bridged resistor at 'tail strobe'."),
    ("reversed", "Stop", "Swap its two legs, test again and write that down."),
]


@pytest.mark.parametrize(("typed", "weight", "cause"), WRONG, ids=[row[0] for row in WRONG])
def test_a_wrong_reading_is_told_with_its_causes_and_never_more_volts(
    airship: Path,
    run: Callable[..., int],
    capsys: pytest.CaptureFixture[str],
    typed: str,
    weight: str,
    cause: str,
) -> None:
    assert run(airship, "skip", typed) == 1
    said = capsys.readouterr().out
    assert f"  {weight}: 'tail strobe' " in said
    assert cause in said
    assert re.search(
        r"Before you go on: .*never turn up the volts|Before you go on: .*never turn the volts up",
        said,
        re.IGNORECASE,
    )
    assert "'tail strobe' shows a fault; 'tail beacon' is not tested" in said
    assert len(proofs(airship)) == 1


def test_the_limit_of_a_lamp_through_its_resistor_is_no_test_of_a_bare_one() -> None:
    """16 mA at a limit of 16 mA: with the resistor bridged as much would flow, so it is never as expected."""
    build = postcheck.load(EXAMPLES[0])
    test = next(one for one in postcheck.bench_tests(build, today=DAY) if one.name == "tail strobe")
    judged = postcheck.judge_reading(build, test, MeterReading(current=test.limit), today=DAY)
    assert judged.outcome == "at the limit"
    assert not judged.proven
    assert "limit" not in tomli.loads(judged.text)["proof"][0]


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("13.4 V", "is a voltage"), ("13.4 mm", "is a length"), ("twelve", "number"), ("-13.4", "wrong way round"), ("1,234", "whichever is meant"),
        ("13.4 A", "cannot give"), ("1e999", "number"), ("13.4.2", "13.4.2"),
    ],
)  # fmt: skip
def test_nonsense_is_asked_for_again_in_one_line(typed: str, why: str) -> None:
    test = next(iter(postcheck.bench_tests(postcheck.load(EXAMPLES[0]), today=DAY)))
    with pytest.raises(MisreadError) as error:
        read_as(typed, "current", test)
    assert why in str(error.value)
    assert "\n" not in str(error.value)


def test_nonsense_in_a_list_ends_it_so_that_no_reading_is_taken_for_anothers(
    airship: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(airship, "9.7 V", "9.7") == 2
    assert "line 1 of the readings" in capsys.readouterr().err
    assert proofs(airship) == []
    assert run(airship, "9.7", "24", "13.4", "24", "9.1") == 2
    assert proofs(airship) == [BEACON | RAN, STROBE | RAN]


@pytest.mark.parametrize("typed", ["limit", "LIMIT", "setting"])
def test_limit_shows_the_setting_again_and_asks_again(
    airship: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str], typed: str
) -> None:
    assert run(airship, typed, "9.7", typed, "24", "13.4", "24") == 0
    said = capsys.readouterr().out
    assert said.count("Set the limit to 12 mA, then the volts to 12 V, through its 1 kohm.") == 3
    assert proofs(airship) == [BEACON | RAN, STROBE | RAN]


@pytest.mark.parametrize("typed", ["help", "?"])
def test_help_shows_what_is_understood_and_asks_again(
    airship: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str], typed: str
) -> None:
    assert run(airship, typed, "9.7", typed, "24", "0", typed, "stop") == 1
    said = capsys.readouterr().out
    for words in (
        "what the meter shows in mA",
        "the hours that it has run",
        "skip leaves this test",
        "limit shows",
    ):
        assert words in said
    for word in ("dark", "reversed", "skip", "back", "stop", "limit"):
        assert word in said
    assert len(proofs(airship)) == 2


def test_bytes_that_are_no_text_are_answered_in_words(airship: Path) -> None:
    command = [sys.executable, "-m", "postcheck", "record", "--closing", "tail", str(airship)]
    done = subprocess.run(
        command, input=b"9.7\n24\n\xff\xfe\n13.4\n", capture_output=True, cwd=ROOT, check=False
    )
    assert done.returncode == 2
    assert b"line 3 of the readings: these bytes are no text" in done.stderr
    assert b"\\" not in done.stdout + done.stderr
    assert [proof["current"] for proof in proofs(airship)] == ["9.7 mA"]  # what came before it stays


def test_what_is_seen_not_to_light_is_not_written(
    airship: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str]
) -> None:
    board = ("--closing", "base")
    names = [
        test.name for test in postcheck.bench_tests(postcheck.load(airship), closing=["base"], today=DAY)
    ]
    skipped = ["skip"] * names.index("flasher")
    assert run(airship, *skipped, "no", options=board) == 1
    assert "'flasher' shows a fault" in capsys.readouterr().out
    assert proofs(airship) == []
    run(airship, *skipped, "all four channels blink", options=board)
    assert proofs(airship) == [{"subject": "flasher", "done": "all four channels blink", "date": DAY}]


# -- what cannot be done


@pytest.mark.parametrize("arguments", [["--closing", "tial"], ["--today", "soon"]])
def test_what_is_unusable(airship: Path, capsys: pytest.CaptureFixture[str], arguments: list[str]) -> None:
    assert main(["record", *arguments, str(airship)]) == 2
    assert capsys.readouterr().err.startswith("postcheck: ")
    assert main(["record", "-"]) == 2


def test_a_file_that_cannot_be_written_ends_the_run(
    airship: Path,
    run: Callable[..., int],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(output, "_replace", full)
    before = airship.read_bytes()
    assert run(airship, "9.7", "24") == 2
    told = capsys.readouterr()
    assert "cannot be written: no space left on device" in told.err
    assert "Written" not in told.out
    assert airship.read_bytes() == before


# -- edited in another window


def edited(file: Path, old: str, new: str) -> Callable[[], object]:
    return lambda: file.write_text(file.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")


def test_what_another_window_changed_meanwhile_stays(airship: Path, run: Callable[..., int]) -> None:
    other = edited(airship, "# The flasher board", "# Here I went to lunch.\n# The flasher board")
    lamp = edited(airship, "format = 1\n", 'format = 1\naccept = [{ finding = "a:b", reason = "c" }]\n')
    assert run(airship, "9.7", "24", "13.4", "24", before={1: other, 3: lamp}) == 0
    text = airship.read_text(encoding="utf-8")
    assert "# Here I went to lunch." in text
    assert "a:b" in text
    assert proofs(airship) == [BEACON | RAN, STROBE | RAN]


def test_back_leaves_what_another_window_changed(airship: Path, run: Callable[..., int]) -> None:
    before = airship.read_text(encoding="utf-8")
    other = edited(airship, "# The flasher board", "# Here I went to lunch.\n# The flasher board")
    run(airship, "9.7", "back", "stop", before={2: other})
    assert airship.read_text(encoding="utf-8") == before.replace(
        "# The flasher board", "# Here I went to lunch.\n# The flasher board"
    )


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ('resistor = "1k at keel"\nlead     = { length', 'resistor = "470 ohm at keel"\nlead     = { length', "'tail beacon' was changed"),
        ("format = 1", "format = ", "no build any longer"),
        ("", '[[proof]]\nsubject = "tail beacon"\ndone = "lit"\n', "another test record of 'tail beacon'"),
    ],
    ids=["another resistor", "no build", "another record"],
)  # fmt: skip
def test_a_clash_is_refused_in_words(
    airship: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str], old: str, new: str, why: str
) -> None:
    change = (
        edited(airship, old, new)
        if old
        else lambda: airship.write_text(f"{airship.read_text(encoding='utf-8')}\n{new}", encoding="utf-8")
    )
    assert run(airship, "9.7", "24", before={1: change}) == 2
    assert why in capsys.readouterr().err
    assert "9.7 mA" not in airship.read_text(encoding="utf-8")
    assert new in airship.read_text(encoding="utf-8")


# -- a cut of power


LINES = ("9.7", "24", "0", "back", "13.4", "24")
HELD = [  # the file after each of them
    [BEACON], [BEACON | RAN], [BEACON | RAN, STROBE | {"current": "0 mA"}], [BEACON | RAN], [BEACON | RAN, STROBE],
    [BEACON | RAN, STROBE | RAN],
]  # fmt: skip


def _killed(file: Path, lines: tuple[str, ...], code: str = "") -> str:
    """What a run said that was killed when it had answered all of these lines, or by what `code` does to it."""
    command = f"{code}\nfrom postcheck.cli import run\nrun()"
    arguments = ["record", "--closing", "tail", "--today", DAY.isoformat(), str(file)]
    process = subprocess.Popen(
        [sys.executable, "-c", command, *arguments], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT
    )  # fmt: skip
    assert process.stdin is not None
    assert process.stdout is not None
    said = ""
    for line in lines:
        with contextlib.suppress(BrokenPipeError):  # it is dead already
            process.stdin.write(f"{line}\n")
            process.stdin.flush()
        while not re.search(r"(Written|Taken back).*\n$", said):
            piece = process.stdout.readline()
            if not piece:
                break
            said += piece
        said += "|"
    process.kill()
    process.wait(20)
    with contextlib.suppress(BrokenPipeError):
        process.stdin.close()
    process.stdout.close()
    assert process.returncode == -signal.SIGKILL
    return said


@pytest.mark.parametrize("step", range(len(LINES)))
def test_killed_after_any_answer_the_file_is_whole_and_holds_it(airship: Path, step: int) -> None:
    before = airship.read_text(encoding="utf-8")
    _killed(airship, LINES[: step + 1])
    assert airship.read_text(encoding="utf-8").startswith(before)
    assert proofs(airship) == HELD[step]
    postcheck.load(airship)


@pytest.mark.parametrize("moment", ["before", "after"])
@pytest.mark.parametrize("step", range(len(LINES)))
def test_killed_while_it_writes_the_file_is_as_before_or_after(airship: Path, step: int, moment: str) -> None:
    """Killed just before the new file takes the old one's place, and just behind that."""
    kill = "os.kill(os.getpid(), 9)"
    code = f"""import os
count, real = 0, os.replace
def replace(*names):
    global count
    count += 1
    if count == {step + 1} and {moment == "before"}: {kill}
    real(*names)
    if count == {step + 1}: {kill}
os.replace = replace"""
    _killed(airship, LINES, code)
    held = [[], *HELD]
    assert proofs(airship) == held[step + (moment == "after")]
    postcheck.load(airship)


# -- at a terminal


def test_at_a_terminal_it_asks_again_and_keeps_to_its_columns(airship: Path) -> None:
    arguments = [
        sys.executable,
        "-m",
        "postcheck",
        "record",
        "--closing",
        "tail",
        "--today",
        DAY.isoformat(),
        airship.name,
    ]
    with Terminal(arguments, cwd=airship.parent, columns=80, lines=50) as terminal:
        terminal.wait_for("mA:")
        terminal.type("\r")
        terminal.wait_for("type what is asked for, or limit, skip, back, stop or help")
        terminal.type("Limit\r")
        terminal.wait(lambda rows: sum("Set the limit to 12 mA" in row for row in rows) == 2)
        terminal.type("?\r")
        terminal.wait_for("Understood: what the meter shows in mA")
        terminal.type("9.7 V\r")
        terminal.wait_for("what does it show, in mA?")
        terminal.type("9,7\r")
        terminal.wait_for("Hours it has run")
        terminal.type("24\r")
        terminal.wait_for("'tail strobe'")
        terminal.type("0\r")
        rows = terminal.wait_for("back, or stop:")
        assert all(len(row) <= 80 for row in rows)
        terminal.type("back\r")
        terminal.wait_for("Taken back")
        terminal.type("\x04")
        assert terminal.ended() == 1
    assert proofs(airship) == [BEACON | RAN]


# -- for programs


def test_a_program_can_do_the_same() -> None:
    build = postcheck.load(EXAMPLES[0])
    for place in ("car", "nose", "tail"):
        for test in postcheck.bench_tests(build, closing=place, today=DAY):
            assert test.expected is not None
            for reading in (MeterReading(current=test.expected.usual), MeterReading(hours=86400.0)):
                judged = postcheck.judge_reading(build, test, reading, closing=place, today=DAY)
                assert (judged.outcome, judged.findings, judged.proven) == ("as expected", (), True)
                build = postcheck.loads(judged.text, build.file)
    assert postcheck.check(build, stage="closing", today=DAY).files[0].verdict == "clear"


def test_what_does_not_answer_the_test_is_not_as_expected() -> None:
    build = postcheck.load(EXAMPLES[0])
    test = next(iter(postcheck.bench_tests(build, today=DAY)))
    assert test.measures == "current"
    for reading in (
        MeterReading(hours=86400.0),
        MeterReading(done="looked at it"),
        MeterReading(continuity=True),
    ):
        judged = postcheck.judge_reading(build, test, reading, today=DAY)
        assert (judged.outcome, judged.proven) == ("not judged", False)


def test_a_reading_that_says_nothing_is_refused() -> None:
    build = postcheck.load(EXAMPLES[0])
    test = next(iter(postcheck.bench_tests(build, today=DAY)))
    with pytest.raises(ValueError, match="nothing was read"):
        postcheck.judge_reading(build, test, MeterReading(), today=DAY)
    for number in (math.nan, math.inf, -1e300, -1.0):
        for reading in (
            MeterReading(current=number),
            MeterReading(hours=number),
            MeterReading(continuity=number),
        ):
            with pytest.raises(ValueError, match="a number from 0 up"):
                postcheck.judge_reading(build, test, reading, today=DAY)
    with pytest.raises(ValueError, match="no place 'tial'"):
        list(postcheck.bench_tests(build, closing=["tial"]))


def test_a_lamp_and_a_circuit_of_one_name_are_told_apart_at_the_end(
    tmp_path: Path, run: Callable[..., int], capsys: pytest.CaptureFixture[str]
) -> None:
    text = """
format = 1
build = { name = "Pilot cutter" }
supply.main = { kind = "adaptor", place = "base", volts = "12 V", rated = "500 mA", fuse = "100 mA" }
post = { from = "base", to = "hull", bore = "4 mm", length = "80 mm", edges = "bushed" }
circuit.cabin = { supply = "main" }
[place]
base = { access = "open" }
hull = { access = "sealed", material = "styrene", surface = "120 cm2" }
[[lamp]]
name = "cabin"
circuit = "cabin"
kind = "smd-0603-warm-white"
place = "hull"
series = 3
parallel = 2
resistor = "330 ohm 1/4 W"
[[run]]
line = "cabin"
ends = ["base", "hull"]
wire = "ptfe-28"
length = "200 mm"
[[run]]
line = "main-"
ends = ["base", "hull"]
wire = "ptfe-28"
length = "200 mm"
"""
    file = tmp_path / "cutter.post.toml"
    file.write_text(text, encoding="utf-8")
    run(file, "60 mA", "skip", options=("--dry",))
    assert "'cabin' shows a fault; circuit 'cabin' is not tested." in capsys.readouterr().out
    run(file, "60 mA", "60 mA", options=("--dry",))
    assert "'cabin' and circuit 'cabin' show a fault." in capsys.readouterr().out


BUOY = """
format = 1
[build]
name = "Buoy tender"
[usual]
lead = "enamel-0.10"
run = "ptfe-28"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "1 A"
fuse = "500 mA"
[place.base]
access = "open"
[place.hull]
access = "sealed"
material = "styrene"
surface = "500 cm2"
[circuit.beacon]
supply = "main"
[[lamp]]
name = "beacon"
circuit = "beacon"
kind = "smd-0603-white"
place = "hull"
resistor = "1k 1/4 W"
lead = "100 mm to hull, red/black"
[[run]]
line = "beacon"
ends = ["base", "hull"]
length = "260 mm"
[[run]]
line = "main-"
ends = ["base", "hull"]
length = "260 mm"
"""
LIT = '[[proof]]\nsubject = "beacon"\nvolts = "12 V"\ncurrent = "9.04 mA"\ndate = 2026-11-25\n'


@pytest.mark.parametrize(
    ("more", "asked"),
    [
        ("", [("circuit", "current", 86400.0)]),
        # the lamp was measured: its joint and the runs are not, and a day of the circuit is a day of its lamp
        (LIT, [("circuit", "current", 86400.0)]),
        (LIT + 'hours = "24 h"\n', [("circuit", "current", None)]),
        # once the circuit is measured too, only that one of them runs is left
        (LIT + LIT.replace('"beacon"', '"circuit beacon"'), [("lamp", "hours", 86400.0)]),
        (LIT + LIT.replace('"beacon"', '"circuit beacon"') + 'hours = "24 h"\n', []),
    ],
)
def test_a_lamp_and_the_circuit_of_its_name_run_one_day_together(
    more: str, asked: list[tuple[str, str, float | None]]
) -> None:
    tests = postcheck.bench_tests(postcheck.loads(BUOY + more), today=DAY)
    assert [(one.kind, one.measures, one.hours) for one in tests] == asked


def test_what_gets_too_hot_held_on_is_read_in_minutes(
    run: Callable[..., int], capsys: pytest.CaptureFixture[str]
) -> None:
    file = ROOT / "tests" / "builds" / "faulty" / "closing-too-hot-held-on.post.toml"
    assert run(file, "87", options=("--closing", "bow", "--dry")) == 1
    out = capsys.readouterr().out
    hot = "held on it gets 'hub' too hot."
    assert f"Let the reading last minutes only, and its hours be as it is lit in the model: {hot}" in out
    (read,) = postcheck.bench_tests(postcheck.load(file), closing=["bow"])
    assert (read.heats, read.volts, read.hours) == ("hub", 12.0, 86400.0)
    from postcheck.renderers import recorded  # noqa: PLC0415

    told = recorded.test(dataclasses.replace(read, measures="hours"), 1, 1, None)
    assert told.endswith(f"  It was measured, and has to run as it is lit in the model: {hot}\n")


def test_on_the_sheet_too() -> None:
    from postcheck.renderers.sheet.words import how_tested  # noqa: PLC0415

    file = ROOT / "tests" / "builds" / "faulty" / "closing-too-hot-held-on.post.toml"
    (place,) = postcheck.sheet_of(postcheck.load(file), "closing").closing
    told = how_tested(next(item for item in place.items if item.kind == "circuit")).replace("\u00a0", " ")
    assert told.startswith("12 V, limit 110 mA: ")
    assert told.endswith(", minutes only, then as it is lit in the model for 24 h")


def test_pixels_run_all_white(run: Callable[..., int], capsys: pytest.CaptureFixture[str]) -> None:
    from postcheck.renderers import recorded  # noqa: PLC0415
    from postcheck.renderers.sheet.words import how_tested  # noqa: PLC0415

    file = ROOT / "tests" / "builds" / "faulty" / "closing-unproven-pixels.post.toml"
    white = "Let its hours be with its data on and every pixel white: so it gets warmest, and the bench alone leaves it dark."
    read, *others = postcheck.bench_tests(postcheck.load(file), closing=["gondola"])
    assert (read.name, read.white, read.heats, [one.white for one in others]) == ("cabin", True, "", [False])
    assert white in recorded.test(read, 1, 2, None)
    # in a body that does not bear it there is nothing to run all white
    hot = postcheck.loads(file.read_text(encoding="utf-8").replace("900 cm2", "120 cm2"))
    read, *_ = postcheck.bench_tests(hot, closing=["gondola"])
    assert (read.white, read.heats) == (True, "gondola")
    told = recorded.test(read, 1, 2, None)
    assert white not in told
    assert "its hours be as it is lit in the model: all white it gets 'gondola' too hot." in told
    closed = postcheck.loads(
        file.read_text(encoding="utf-8").replace('access = "cover"', 'access = "sealed"')
    )
    (place,) = postcheck.sheet_of(closed, "closing").closing
    item = next(item for item in place.items if item.kind == "circuit")
    assert how_tested(item).replace("\u00a0", " ").endswith(", left on with every pixel white for 24 h")
