"""Where a report may go, and what becomes of what stood there."""

from __future__ import annotations

import os
import stat
import threading
from pathlib import Path

import pytest

from postcheck import output
from postcheck.cli import main

ROOT = Path(__file__).parent.parent
GOOD = (ROOT / "example_builds" / "tender.post.toml").read_bytes()


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.mark.parametrize("made", ["itself", "symlink", "hard link", "another way"])
def test_no_build_is_overwritten_by_its_own_report(
    tmp_path: Path, made: str, capsys: pytest.CaptureFixture[str]
) -> None:
    build, there = tmp_path / "a.post.toml", tmp_path / "report.txt"
    build.write_bytes(GOOD)
    if made == "symlink":
        there.symlink_to(build)
    elif made == "hard link":
        there.hardlink_to(build)
    else:
        there = build if made == "itself" else tmp_path / "." / "x" / ".." / "a.post.toml"
        (tmp_path / "x").mkdir()

    assert main(["check", "--output", str(there), str(build)]) == 2
    assert build.read_bytes() == GOOD
    assert "one of the files to check" in capsys.readouterr().err


def test_no_build_is_overwritten_that_comes_from_standard_input(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    build = tmp_path / "a.txt"
    build.write_bytes(GOOD)
    with build.open() as file:
        monkeypatch.setattr("sys.stdin", file)
        assert main(["check", "-", "-o", str(build)]) == 2
        assert build.read_bytes() == GOOD
        assert "one of the files to check" in capsys.readouterr().err
        assert main(["check", "-", "-o", str(tmp_path / "b.txt")]) == 0
    with open(os.devnull, encoding="utf-8") as nothing:
        monkeypatch.setattr("sys.stdin", nothing)
        assert output.refusal(os.devnull, ["-"]) is None


def test_a_report_goes_over_no_other_toml_file(tmp_path: Path) -> None:
    build, workshop = tmp_path / "a.post.toml", tmp_path / "workshop.toml"
    build.write_bytes(GOOD)
    workshop.write_text("format = 1\n")
    assert main(["check", "--output", str(workshop), str(build)]) == 2
    assert workshop.read_text() == "format = 1\n"
    assert main(["check", "--output", str(tmp_path / "new.txt"), str(build)]) == 0


@pytest.mark.parametrize("linked", [False, True])
@pytest.mark.parametrize(
    "command", [("check", "-o"), ("sheet", "-o"), ("post", "--svg"), ("vary", "post.bore", "3 mm..5 mm", "--svg"), ("check", "--with", 'build.name = "x"', "-o")]
)  # fmt: skip
def test_no_shared_file_is_overwritten_whatever_it_is_called(
    tmp_path: Path, command: tuple[str, ...], linked: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    build, shared = tmp_path / "a.post.toml", tmp_path / ("shop.toml" if linked else "shop.html")
    build.write_bytes(b'use = ["' + shared.name.encode() + b'"]\n' + GOOD)
    shared.write_text("format = 1\n")
    there = tmp_path / "link.html" if linked else shared
    if linked:
        there.hardlink_to(shared)
    name, *options = command
    if name == "vary":
        assert main([name, str(build), *options, str(there)]) == 2
    else:
        assert main([name, *options, str(there), str(build)]) == 2
    assert shared.read_text() == "format = 1\n"
    assert "a build uses that file" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["new.toml", "NEW.TOML", "a.post.Toml", "to nowhere", "new/", ""])
@pytest.mark.parametrize("command", [("post", "--svg"), ("check", "--output")])
def test_nothing_new_is_called_like_a_build(
    tmp_path: Path, command: tuple[str, str], name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    build = tmp_path / "build.post.toml"
    build.write_bytes(GOOD)
    (tmp_path / "to nowhere").symlink_to(tmp_path / "there.toml")
    before = sorted(path.name for path in tmp_path.iterdir())
    there = f"{tmp_path}/{name}" if name else ""
    assert main([command[0], str(build), command[1], there]) == 2
    says = {"": "no file name is given", "new/": "names a folder"}.get(name, "that of a build file")
    assert says in capsys.readouterr().err
    assert sorted(path.name for path in tmp_path.iterdir()) == before


def test_the_mode_of_a_file_is_kept_and_links_are_followed(tmp_path: Path) -> None:
    there, link, loose = tmp_path / "there", tmp_path / "link", tmp_path / "loose"
    there.write_text("old")
    there.chmod(0o640)
    link.symlink_to(there)
    loose.symlink_to(tmp_path / "not yet")

    output.save(str(link), "new")
    output.save(str(loose), "new")

    assert (there.read_text(), mode(there), link.is_symlink()) == ("new", 0o640, True)
    assert ((tmp_path / "not yet").read_text(), loose.is_symlink()) == ("new", True)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["link", "loose", "not yet", "there"]


def test_a_new_file_has_the_mode_that_the_user_wants(tmp_path: Path) -> None:
    old = os.umask(0o027)
    try:
        output.save(str(tmp_path / "new"), "x")
    finally:
        os.umask(old)
    assert mode(tmp_path / "new") == 0o640


def test_two_names_of_one_file_stay_so(tmp_path: Path) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    one.write_text("a long text that was there before")
    two.hardlink_to(one)
    output.save(str(one), "short")
    assert two.read_text() == "short"
    assert one.stat().st_ino == two.stat().st_ino


def test_a_pipe_is_written_to_and_stays_one(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    read: list[str] = []
    reader = threading.Thread(target=lambda: read.append(pipe.read_text()))
    reader.start()
    output.save(str(pipe), "for the reader")
    reader.join(5)
    assert read == ["for the reader"]
    assert pipe.is_fifo()


def test_what_cannot_be_written_is_said_and_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(OSError, match="folder"):
        output.save(str(tmp_path), "x")
    with pytest.raises(FileNotFoundError):
        output.save(str(tmp_path / "no" / "where"), "x")
    there = tmp_path / "there"
    there.write_text("old")

    def full(*_: object) -> None:
        raise OSError(28, "no space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="no space"):
        output.save(str(there), "x")
    assert there.read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["there"]
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(OSError, match="read-only"):
        output.save(str(there), "x")


def test_a_dash_is_standard_output(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--output", "-", str(ROOT / "example_builds" / "tender.post.toml")]) == 0
    assert capsys.readouterr().out == "Harbour tender, 1:50: clear for planning; closing not judged\n"
    assert not Path("-").exists()


def test_what_is_rewritten_is_on_the_disk_before_it_takes_the_old_ones_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """POSIX: a name is as lasting as the folder that was synchronised, and the bytes as the file that was."""
    file = tmp_path / "a.post.toml"
    file.write_text("old\n", encoding="utf-8")
    done: list[str] = []
    sync, replace = os.fsync, os.replace

    def synced(handle: int) -> None:
        done.append("folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file")
        sync(handle)

    def replaced(old: str, new: str) -> None:
        done.append("replaced")
        replace(old, new)

    monkeypatch.setattr(os, "fsync", synced)
    monkeypatch.setattr(os, "replace", replaced)
    output.rewrite(str(file), "old\n", "new\n")
    assert done == ["file", "replaced", "folder"]
    assert file.read_text(encoding="utf-8") == "new\n"
