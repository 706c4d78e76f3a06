"""What is seen while a run takes long: one line on a terminal, and it goes away."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from postcheck.cli import folders, main
from tests.emulator import Terminal

if TYPE_CHECKING:
    import pytest

ROOT = Path(__file__).parent.parent
WAITS = """
import sys, time
from postcheck.cli.progress import working
with working("looking") as say:
    say("one")
    time.sleep({first})
    say("one of a thousand and one")
    time.sleep({second})
    say("two")
print("done")
"""


def code(first: float, second: float) -> list[str]:
    return [sys.executable, "-c", WAITS.format(first=first, second=second)]


def test_a_line_comes_after_a_second_and_goes_away(tmp_path: Path) -> None:
    with Terminal(code(1.3, 0.6), cwd=tmp_path, columns=20, PYTHONPATH=str(ROOT)) as terminal:
        assert "one" in terminal.wait(lambda rows: "one" in rows)
        terminal.wait(lambda rows: "one of a thousand a" in rows)  # cut, so that it stays one line
        rows = terminal.wait(lambda rows: "done" in "".join(rows))
        assert [row for row in rows if row.strip()] == ["done"]
        assert terminal.received.count(b"\n") == 1


def test_what_is_quick_shows_nothing(tmp_path: Path) -> None:
    with Terminal(code(0.0, 0.0), cwd=tmp_path, PYTHONPATH=str(ROOT)) as terminal:
        terminal.wait(lambda rows: "done" in rows)
        assert terminal.received.strip() == b"done"


def test_nothing_is_piped() -> None:
    done = subprocess.run(
        code(1.2, 0.0),
        capture_output=True,
        check=True,
        env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT)},
    )
    assert (done.stdout, done.stderr) == (b"done\n", b"")


def test_a_walk_over_many_builds_says_where_it_is(tmp_path: Path) -> None:
    text = (ROOT / "example_builds" / "mail_airship.post.toml").read_bytes()
    for number in range(60):
        (tmp_path / f"{number:02}.post.toml").write_bytes(text)
    command = [sys.executable, "-m", "postcheck", "check", "--quiet"]
    with Terminal(command, cwd=tmp_path, columns=60, lines=60, PYTHONPATH=str(ROOT)) as terminal:
        rows = terminal.wait(lambda rows: any("60 files" in row for row in rows))
    assert b", 59 of 60" in terminal.received or b", 60 of 60" in terminal.received
    assert not any("checking" in row for row in rows)


def test_a_long_walk_says_so_once_in_a_pipe(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "hulls" / "old").mkdir(parents=True)
    assert main(["check", str(tmp_path)]) == 2
    assert "still looking" not in capsys.readouterr().err
    monkeypatch.setattr(folders, "LONG_WALK", -1.0)
    assert main(["check", str(tmp_path)]) == 2
    first, *others = capsys.readouterr().err.splitlines()
    assert first.startswith(f"postcheck: still looking for builds in {tmp_path};")
    assert not any("still looking" in line for line in others)


def test_a_walk_over_folders_says_where_it_is(tmp_path: Path) -> None:
    waits = f"""
import time
from postcheck.cli.folders import builds
from postcheck.cli.progress import working
with working("looking for builds") as say:
    time.sleep(1.3)
    print(list(builds([{str(tmp_path)!r}], say)))
    time.sleep(0.3)
"""
    (tmp_path / "hulls" / "old").mkdir(parents=True)
    with Terminal([sys.executable, "-c", waits], columns=200, PYTHONPATH=str(ROOT)) as terminal:
        terminal.wait(lambda rows: any(f"looking for builds in {tmp_path}/hulls/old" in row for row in rows))
