"""`check --watch` on a real terminal: files are saved as editors save them, and the screen is read.

What should appear is waited for; no time is fixed.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from postcheck.cli.changes import Changes, Known
from postcheck.cli.watched import GONE, QUIET, Stamps
from postcheck.report import FileReport, Finding, Subject
from tests.emulator import PATIENCE, Terminal

ROOT = Path(__file__).parent.parent
SOUND = (ROOT / "example_builds" / "mail_airship.post.toml").read_text(encoding="utf-8")
NOSE = SOUND.index('name     = "nose lamp"')
FAULTY = SOUND[:NOSE] + SOUND[NOSE:].replace('"1k at keel"', '"100 ohm at keel"', 1)
BROKEN = SOUND.replace("format = 1", "format = ", 1)
# its wires are run, and nothing of it is closed
CLEAR = "Clear for wiring; closing not judged"
# 100 ohm let the lamp glow and the resistor, and both heat the air about them
STOP = "Stop: do not close anything yet (1 stop and 4 that follow from it)."
STATE = re.compile(r"Checked \d\d:\d\d:\d\d\. Watching (.*)\. Ctrl-C leaves\.$")


@pytest.fixture
def build(tmp_path: Path) -> Path:
    path = tmp_path / "airship.post.toml"
    path.write_text(SOUND, encoding="utf-8")
    return path


def watching(*arguments: str, cwd: Path, columns: int = 80, lines: int = 40, **environment: str) -> Terminal:
    return Terminal(
        [sys.executable, "-m", "postcheck", "check", "--watch", *arguments], cwd=cwd, columns=columns, lines=lines,
        **{"PYTHONPATH": str(ROOT), "PYTHONUTF8": "1", **environment},
    )  # fmt: skip


def save(path: Path, text: str) -> None:
    """As most editors do: a new file is moved over the old one."""
    beside = path.with_name(".new")
    beside.write_text(text, encoding="utf-8")
    beside.replace(path)


def leave(terminal: Terminal) -> int:
    terminal.type("\x03")
    return terminal.ended()


def test_a_save_draws_the_same_screen_anew_and_what_came_and_went_is_told(build: Path) -> None:
    with watching(build.name, cwd=build.parent) as terminal:
        rows = terminal.wait_for("Ctrl-C leaves.")
        assert rows[0] == f"{CLEAR}: Mail airship, 1:144 (airship.post.toml)"
        assert STATE.fullmatch(rows[-1])[1] == "airship.post.toml"  # type: ignore[index]
        assert rows[-2] == ""
        save(build, FAULTY)
        rows = terminal.wait_for("New: lamp.over-rating:nose lamp.")
        assert rows[0] == STOP
        assert sum(bool(STATE.fullmatch(row)) for row in rows) == 1
        build.write_text(SOUND, encoding="utf-8")  # in place
        rows = terminal.wait_for("Gone: lamp.over-rating:nose lamp.")
        assert rows[0].startswith(f"{CLEAR}: ")
        build.touch()
        terminal.wait_for("No finding came or went.")
        assert terminal.scrolled == 0
        assert leave(terminal) == 0


def test_leaving_gives_the_terminal_back_with_the_last_report_and_its_exit_code(build: Path) -> None:
    with watching(build.name, cwd=build.parent) as terminal:
        terminal.wait_for("Ctrl-C leaves.")
        assert terminal.settings[3] != terminal.before[3]  # no echo: what is typed would scroll the screen
        terminal.type("what\r\r\r\ris this\r")
        save(build, FAULTY)
        terminal.wait_for("New:")
        assert terminal.scrolled == 0
        assert "what" not in "".join(terminal.screen)
        assert leave(terminal) == 1
        assert terminal.other is None  # the usual screen again
        assert not terminal.usual.cursor.hidden
        assert terminal.settings == terminal.before
        left = "\n".join(terminal.screen)
    bare = subprocess.run(
        [sys.executable, "-m", "postcheck", "check", "airship.post.toml"], cwd=build.parent, capture_output=True, text=True,
        check=False, env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"},
    )  # fmt: skip
    assert bare.returncode == 1
    assert "lamp.over-rating:nose lamp" in bare.stdout
    assert "At: airship.post.toml:107:3, lamp.over-rating:nose lamp" in left
    assert "Ctrl-C" not in left
    assert "Traceback" not in left


def test_a_file_in_halves_is_judged_when_it_is_whole(build: Path) -> None:
    """The first half alone would not be a build: no such screen is ever drawn."""
    with watching(build.name, cwd=build.parent) as terminal:
        terminal.wait_for("Ctrl-C leaves.")
        half = len(FAULTY) // 2
        with open(build, "w", encoding="utf-8") as file:
            for start in range(0, len(FAULTY), half // 4):
                file.write(FAULTY[start : start + half // 4])
                file.flush()
                terminal.read(QUIET / 4)
        terminal.wait_for("New: lamp.over-rating:nose lamp.")
        drawn = terminal.received.decode().count("Checking airship.post.toml")
        unread = "nreadable" in terminal.received.decode()
        leave(terminal)
    # On a busy machine two pieces may lie further apart than a file is given; then it may be seen twice, and is cured.
    assert drawn >= 2
    assert not unread or drawn > 2


def test_mistakes_are_shown_and_cured_and_hide_no_finding(build: Path) -> None:
    save(build, FAULTY)
    with watching(build.name, cwd=build.parent) as terminal:
        terminal.wait_for("Ctrl-C leaves.")
        save(build, FAULTY.replace("format = 1", "format = ", 1))
        rows = terminal.wait_for("New: file.not-toml")
        assert rows[0] == "Unreadable as a build (1 mistake)."
        assert not any("Gone" in row for row in rows)
        save(build, FAULTY)
        rows = terminal.wait_for("Gone: file.not-toml")
        assert not any("New" in row for row in rows)
        save(build, BROKEN)
        terminal.wait_for("New: file.not-toml")
        assert leave(terminal) == 2


def test_a_file_that_goes_away_comes_back(build: Path) -> None:
    with watching(build.name, cwd=build.parent) as terminal:
        terminal.wait_for("Ctrl-C leaves.")
        aside = build.with_name("aside")
        build.rename(aside)
        assert "there is no such file" in "\n".join(terminal.wait_for("New: file.unreadable"))
        aside.rename(build)
        assert terminal.wait_for("Gone: file.unreadable")[0].startswith(f"{CLEAR}:")
        leave(terminal)


def test_only_what_was_saved_is_judged_again_and_a_used_file_counts_for_its_users(tmp_path: Path) -> None:
    uses = 'format = 1\n[lamp_kind.old]\nforward = "1.8/2.0/2.4 V"\nat = "20 mA"\nrated = "{}"\n'
    (tmp_path / "workshop.toml").write_text(uses.format("20 mA"), encoding="utf-8")
    users = SOUND.replace("format = 1", 'format = 1\nuse = ["workshop.toml"]', 1)
    before = users[users.index("[[lamp]]") :].split("kind")[1].split('"')[1]
    users = users.replace(f'"{before}"', '"old"')
    for name, text in (("alone", SOUND), ("first", users), ("second", users)):
        (tmp_path / f"{name}.post.toml").write_text(text, encoding="utf-8")
    with watching(".", cwd=tmp_path) as terminal:
        terminal.wait_for("Watching 3 files and 1 file they use.")
        save(tmp_path / "alone.post.toml", FAULTY)
        terminal.wait_for("New: lamp.over-rating:nose lamp in alone.post.toml.")
        save(tmp_path / "workshop.toml", uses.format("1 mA"))
        rows = terminal.wait(
            lambda rows: "New: lamp.over-rating" in "\n".join(rows[-4:]) and "alone" not in "".join(rows[-4:])
        )
        assert "first.post.toml" in "\n".join(rows[-4:])
        (tmp_path / "workshop.toml").unlink()
        terminal.wait_for("New: file.use")
        save(tmp_path / "workshop.toml", uses.format("20 mA"))
        terminal.wait(lambda rows: "Gone: file.use" in "\n".join(rows[-4:]))
        # what was at work is named: one file, then the two that use it
        assert re.findall(rb"Checking (.*?) \.\.\.", terminal.received) == [
            b"3 files", b"alone.post.toml", b"2 files", b"2 files", b"2 files",
        ]  # fmt: skip
        leave(terminal)


def test_builds_come_into_a_folder_and_go(tmp_path: Path) -> None:
    folder = tmp_path / "models"
    folder.mkdir()
    with watching("models", cwd=tmp_path) as terminal:
        assert "no build in the folder 'models'" in "\n".join(terminal.wait_for("Ctrl-C leaves."))
        (folder / "one.post.toml").write_text(SOUND, encoding="utf-8")
        rows = terminal.wait_for("New: one.post.toml.")
        assert rows[:2] == [f"{CLEAR}: Mail airship, 1:144", "  (models/one.post.toml)"]
        (folder / "inner").mkdir()
        (folder / "inner" / "two.post.toml").write_text(FAULTY, encoding="utf-8")
        assert "Watching 2 files." in terminal.wait_for("New: two.post.toml.")[-1]
        (folder / "inner" / "two.post.toml").unlink()
        assert "Watching one.post.toml." in terminal.wait_for("Gone: two.post.toml.")[-1]
        assert leave(terminal) == 0


def test_a_long_report_shows_its_top_and_how_much_is_left_out(build: Path) -> None:
    save(build, FAULTY)
    with watching(build.name, cwd=build.parent, columns=80, lines=12) as terminal:
        rows = terminal.wait_for("more lines; Ctrl-C leaves and shows them all.")
        assert len(rows) == 12
        assert rows[0] == STOP
        left_out = int(re.search(r"(\d+) more lines", "\n".join(rows))[1])  # type: ignore[index]
        terminal.resize(80, 60)
        whole = terminal.wait(lambda rows: len(rows) > 12 and STATE.fullmatch(rows[-1]) is not None)
        assert len(whole) == len(rows) - 1 + left_out
        for columns, lines in ((30, 10), (12, 4), (200, 3), (80, 24)):
            terminal.resize(columns, lines)
            rows = terminal.wait(
                lambda rows: bool(rows) and any("Ctrl" in row or "eaves" in row for row in rows)
            )
            assert len(rows) <= lines
            assert terminal.scrolled == 0
        assert leave(terminal) == 1


def test_looks_obey_no_color_and_an_ascii_terminal(build: Path) -> None:
    hostile = "\x1b[31mred.post.toml"
    build.rename(build.with_name(hostile))
    with watching(
        hostile, cwd=build.parent, NO_COLOR="1", PYTHONUTF8="0", PYTHONIOENCODING="ascii"
    ) as terminal:
        rows = terminal.wait_for("Ctrl-C leaves.")
        assert "\\x1b[31mred.post.toml" in rows[1]
        leave(terminal)
    assert terminal.received.isascii()
    assert not re.search(rb"\x1b\[[0-9;]*m", terminal.received)


BREAKS = """
import os, sys
from postcheck import checking
from postcheck.cli import main
sound = checking.check
def breaks(build, **options):
    if "100 ohm" in build.text:
        raise ZeroDivisionError("float division by zero")
    return sound(build, **options)
checking.check = breaks
sys.exit(main(["check", "--watch", "airship.post.toml"]))
"""


def test_a_bug_of_ours_is_shown_and_watching_goes_on(build: Path) -> None:
    with Terminal(
        [sys.executable, "-c", BREAKS], cwd=build.parent, lines=40, PYTHONPATH=str(ROOT), PYTHONUTF8="1"
    ) as terminal:
        terminal.wait_for(f"{CLEAR}:")
        save(build, FAULTY)
        rows = terminal.wait_for("a bug of ours, not of your build")
        assert "ZeroDivisionError" in "\n".join(rows)
        save(build, SOUND)
        terminal.wait_for(f"{CLEAR}:")
        save(build, FAULTY)
        terminal.wait_for("a bug of ours")
        assert leave(terminal) == 70
        assert "a bug of ours" in "\n".join(terminal.screen)


MIDNIGHT = """
import os, sys
from datetime import date
from pathlib import Path
import postcheck.cli.watch as watch
class Day(date):
    @classmethod
    def today(cls):
        return date.fromisoformat(Path("day").read_text())
watch.date = Day
from postcheck.cli import main
sys.exit(main(["check", "--watch", *sys.argv[1:], "airship.post.toml"]))
"""


def test_a_new_day_is_taken_anew_unless_one_is_given(build: Path) -> None:
    """An acceptance that ended yesterday counts no more, though nothing was saved."""
    accepts = '\n[[accept]]\nfinding = "lamp.over-rating:nose lamp"\nreason = "a try"\nuntil = 2026-11-25\n'
    save(build, FAULTY + accepts)
    day = build.with_name("day")
    for arguments, changes in (((), True), (("--today", "2026-11-25"), False)):
        save(day, "2026-11-25")
        with Terminal(
            [sys.executable, "-c", MIDNIGHT, *arguments], cwd=build.parent, lines=60, PYTHONPATH=str(ROOT), PYTHONUTF8="1"
        ) as terminal:  # fmt: skip
            rows = terminal.wait_for("Ctrl-C leaves.")
            save(day, "2026-11-26")
            if changes:
                terminal.wait(lambda now, before=rows: now[:-2] != before[:-1] and "New:" in "\n".join(now))  # type: ignore[misc]
            else:
                build.touch()
                terminal.wait_for("No finding came or went.")
            leave(terminal)


def test_ctrl_z_gives_the_screen_back_and_fg_takes_it_again(build: Path) -> None:
    with Terminal(
        ["/bin/bash", "--norc", "-i"], cwd=build.parent, lines=40, PYTHONPATH=str(ROOT), PYTHONUTF8="1", PS1="ready> "
    ) as terminal:  # fmt: skip
        terminal.wait_for("ready>")
        terminal.type(f"{sys.executable} -m postcheck check --watch airship.post.toml\r")
        terminal.wait_for("Ctrl-C leaves.")
        terminal.type("\x1a")
        terminal.wait_for("Stopped")
        assert terminal.other is None
        terminal.type("fg\r")
        terminal.wait_for("Ctrl-C leaves.")
        assert terminal.other is not None
        terminal.type("\x03")
        terminal.wait(lambda rows: terminal.other is None and rows[-1] == "ready>")
        terminal.type("echo code $?\r")
        terminal.wait_for("code 0")
        terminal.type("exit\r")
        terminal.ended()


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT])
def test_being_ended_from_elsewhere_gives_the_terminal_back(build: Path, number: signal.Signals) -> None:
    with watching(build.name, cwd=build.parent) as terminal:
        terminal.wait_for("Ctrl-C leaves.")
        os.kill(terminal.process.pid, number)
        assert terminal.ended() == 128 + number
        assert terminal.other is None
        assert terminal.settings == terminal.before


def plain(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "postcheck", "check", "--watch", *arguments], capture_output=True, text=True, check=False, cwd=ROOT,
        timeout=PATIENCE, env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT), **environment},
    )  # fmt: skip


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["a.post.toml"], "needs a terminal"),
        (["--format", "json", "a.post.toml"], "--format json"),
        (["--output", "out", "a.post.toml"], "--output"),
        (["--output", "-", "a.post.toml"], "--output"),
        (["-"], "standard input"),
    ],
)
def test_what_cannot_be_watched_is_said_in_a_line(arguments: list[str], says: str) -> None:
    done = plain(*arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("postcheck: --watch ")
    assert says in done.stderr
    assert done.stderr.count("\n") == 1


def test_a_dumb_terminal_is_no_screen(build: Path) -> None:
    with watching(build.name, cwd=build.parent, TERM="dumb") as terminal:
        assert terminal.ended() == 2
        assert "TERM=dumb" in "\n".join(terminal.screen)


# -- the small parts


def test_a_file_has_changed_when_it_has_stopped_changing(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_text("one")
    stamps = Stamps()
    stamps.take([str(path)])
    assert not stamps.settled(str(path), 0.0)
    path.write_text("one two")
    assert not stamps.settled(str(path), 1.0)
    assert stamps.moving(str(path))
    path.write_text("one two three")
    assert not stamps.settled(str(path), 1.0 + QUIET)  # it changed again since it was looked at
    assert stamps.settled(str(path), 1.0 + 2.1 * QUIET)
    stamps.take([str(path)])
    assert not stamps.settled(str(path), 9.0)
    path.unlink()
    assert not stamps.settled(str(path), 10.0)
    assert not stamps.settled(str(path), 10.0 + QUIET)
    assert stamps.settled(str(path), 10.0 + 1.1 * GONE)


def test_a_copy_that_keeps_size_and_times_is_a_change(tmp_path: Path) -> None:
    """As `cp -p` and backup programs leave it."""
    path, other = tmp_path / "a", tmp_path / "b"
    path.write_text("one")
    other.write_text("two")
    shutil.copystat(path, other)
    stamps = Stamps()
    stamps.take([str(path)])
    path.write_text("two")
    shutil.copystat(other, path)
    assert not stamps.settled(str(path), 0.0)
    assert stamps.settled(str(path), 2.0 * QUIET)


def test_what_reading_led_to_is_read_again_if_it_changed_meanwhile(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_text("one")
    stamps = Stamps()
    stamps.take_new([str(path)], began=time.time_ns() - 10_000_000_000)
    assert not stamps.settled(str(path), 0.0)
    assert stamps.settled(str(path), 2.0 * QUIET)
    stamps.take_new([str(path)], began=time.time_ns() + 10_000_000_000)
    assert not stamps.settled(str(path), 9.0)


def report(
    *findings: tuple[str, str | None], verdict: str = "stop", following: tuple[str, ...] = ()
) -> FileReport:
    made = [
        Finding("a", "stop", Subject("lamp", name), "", "", accepted=accepted, because_of=None)
        for name, accepted in findings
    ]
    made += [Finding("a", "stop", Subject("lamp", name), "", "", because_of=made[0].id) for name in following]
    return FileReport("f", verdict, tuple(made))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("reports", "gone", "new", "accepted"),
    [
        ([report(("x", None)), report(("y", None))], ["a:x"], ["a:y"], []),
        ([report(("x", None)), report(("x", "known"))], [], [], ["a:x"]),
        ([report(("x", "known")), report(("x", None))], [], ["a:x"], []),
        ([report(), report(("x", None), following=("y", "z"))], [], ["a:x"], []),
        ([report(("x", None)), report(("x", None), following=("y",))], [], ["a:y"], []),
        (
            [report(("x", None)), report(("m", None), verdict="unreadable"), report(("x", None))],
            ["a:m"],
            [],
            [],
        ),
        ([report(("m", None), verdict="unreadable"), report(("x", None))], ["a:m"], [], []),
    ],
)
def test_what_came_and_went(
    reports: list[FileReport], gone: list[str], new: list[str], accepted: list[str]
) -> None:
    known = Known()
    changes: Iterator[Changes] = (known.changes("f", each) for each in reports)
    assert list(changes)[-1] == Changes(gone, new, accepted)


def test_names_are_few_and_harmless() -> None:
    words = Changes(["a:\x1b[2J", "b", "c", "d"], [], ["e"]).words()
    assert words == "Gone: a:\\x1b[2J, b and 2 more. Accepted: e."
