"""A build from a text: no file is opened unless a folder is given, and with one only files in its tree."""

from __future__ import annotations

import builtins
import io
import os
from collections.abc import Callable
from pathlib import Path

import pytest

import postcheck
from postcheck.reading.loading import load

ROOT = Path(__file__).parent.parent.parent
AIRSHIP = (ROOT / "example_builds" / "mail_airship.post.toml").read_text(encoding="utf-8")
USING = 'format = 1\n\nuse = ["workshop.toml", "parts/wires.toml"]\n[build]\nname = "x"\n'


def told(read: Callable[[], postcheck.Build]) -> tuple[postcheck.Problem, ...]:
    with pytest.raises(postcheck.BuildError) as caught:
        read()
    return caught.value.problems


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    folder = tmp_path / "workshop"
    (folder / "parts").mkdir(parents=True)
    (folder / "workshop.toml").write_text('format = 1\n[wire.own]\nstrand = "0.1 mm"\noutside = "0.6 mm"\n')
    (folder / "parts" / "wires.toml").write_text(
        'format = 1\nuse = ["more.toml"]\n[wire.other]\nstrand = "0.2 mm"\noutside = "0.6 mm"\n'
    )
    (folder / "parts" / "more.toml").write_text(
        'format = 1\n[wire.more]\nstrand = "0.3 mm"\noutside = "0.6 mm"\n'
    )
    return folder


_TOUCHING = [
    (builtins, "open"), (io, "open"), (os, "open"), (os, "stat"), (os, "lstat"), (os, "readlink"), (os, "scandir"),
    (os, "listdir"), (os, "getcwd"),
]  # fmt: skip


def test_without_a_folder_nothing_of_the_file_system_is_touched(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*given: object, **_named: object) -> None:
        touched.append(given)
        raise OSError("no file may be touched")

    postcheck.check(postcheck.loads(AIRSHIP))  # our own modules and catalogue are read once
    touched: list[tuple[object, ...]] = []
    with monkeypatch.context() as patched:
        for module, name in _TOUCHING:
            patched.setattr(module, name, refused)
        with pytest.raises(postcheck.BuildError):  # so that it would be seen
            load("airship.post.toml")
        assert touched
        touched.clear()
        build = postcheck.loads(AIRSHIP, "models/airship.post.toml")
        told(lambda: postcheck.loads(USING, "models/airship.post.toml"))
        assert postcheck.check(build).files[0].verdict == "clear"
    assert touched == []


def test_what_uses_files_is_refused_once_with_its_line_and_what_to_do(
    workshop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(workshop)  # the files are there, but nobody said so
    for name in ("build", "main.post.toml", str(workshop / "main.post.toml"), "-"):
        (problem,) = told(lambda: postcheck.loads(USING, name))  # noqa: B023 - called at once
        assert (problem.check, problem.path, problem.line) == ("file.use", ("use",), 3)
        assert 'loads(text, folder="' in str(problem)
        assert "leave `use` out" in str(problem)


def test_with_other_mistakes_all_are_told() -> None:
    text = USING + '[place.hull]\naccess = "shut"\n'
    assert {problem.check for problem in told(lambda: postcheck.loads(text))} == {"file.use", "file.choice"}


def test_a_list_that_is_empty_or_none_uses_no_file() -> None:
    assert postcheck.loads(USING.replace('"workshop.toml", "parts/wires.toml"', "")).use == ()
    (problem,) = told(lambda: postcheck.loads(USING.replace('["workshop.toml", "parts/wires.toml"]', '"a"')))
    assert problem.check == "file.wrong-type"


@pytest.mark.parametrize("as_text", [True, False])
def test_with_a_folder_it_is_as_the_file_there(workshop: Path, as_text: bool) -> None:
    (workshop / "main.post.toml").write_text(USING)
    folder = str(workshop) if as_text else workshop
    build = postcheck.loads(USING, "a what-if", folder=folder)
    assert set(build.wire) == {"own", "other", "more"}
    assert build == postcheck.load(workshop / "main.post.toml")
    assert build.used == postcheck.load(workshop / "main.post.toml").used
    assert build.file == "a what-if"


@pytest.mark.parametrize("folder", [".", ""])
def test_the_folder_may_be_the_current_one(
    workshop: Path, folder: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(workshop)
    assert set(postcheck.loads(USING, folder=folder).wire) == {"own", "other", "more"}


def test_the_name_is_for_messages_and_leads_nowhere(workshop: Path) -> None:
    build = postcheck.loads(USING, "/elsewhere/main.post.toml", folder=workshop)
    assert (build.file, set(build.wire)) == ("/elsewhere/main.post.toml", {"own", "other", "more"})


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        ("../secret.toml", "leads out of '{}/workshop'"),
        ("parts/../../secret.toml", "leads out of '{}/workshop'"),
        ("linked.toml", "leads out of '{}/workshop'"),
        ("{}/secret.toml", "is not beside this file"),
        ("absent.toml", "is not there"),
        ("main.post.toml", "uses itself in a circle"),
    ],
)
def test_never_outside_the_tree_of_the_folder(workshop: Path, entry: str, says: str) -> None:
    secret = workshop.parent / "secret.toml"
    secret.write_text('format = 1\n[wire.secret]\nstrand = "0.1 mm"\noutside = "0.6 mm"\n')
    (workshop / "linked.toml").symlink_to(secret)
    (workshop / "main.post.toml").write_text(USING)
    text = f'format = 1\nuse = ["{entry.format(workshop.parent)}"]\n[build]\nname = "x"\n'
    (problem,) = told(lambda: postcheck.loads(text, "main.post.toml", folder=workshop))
    assert (problem.check, problem.path, problem.line) == ("file.use", ("use", 0), 2)
    assert says.format(workshop.parent) in problem.says


def test_nor_by_a_file_further_in(workshop: Path) -> None:
    (workshop / "parts" / "more.toml").write_text('format = 1\nuse = ["../../secret.toml"]\n')
    (problem,) = told(lambda: postcheck.loads(USING, folder=workshop))
    assert f"leads out of '{workshop}'" in problem.says
