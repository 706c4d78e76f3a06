"""`postcheck compare` against real git: revisions, what is staged, what a file used then, and what git does not have."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.outside.test_hook import ROOT, run

TENDER = (ROOT / "example_builds" / "tender.post.toml").read_text(encoding="utf-8")
USING = TENDER.replace("format = 1\n", 'format = 1\nuse = ["shelf/workshop.toml"]\n', 1)
ENAMEL = '[wire.mine]\nstrands = 1\nstrand = "0.1 mm"\noutside = "0.13 mm"\n'


def compare(*words: str, here: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    return run(
        sys.executable, "-m", "postcheck", "compare", "--today", "2026-11-25", *words,
        here=here, PYTHONPATH=str(ROOT), **environment,
    )  # fmt: skip


def git(here: Path, *words: str) -> None:
    done = run("git", "-c", "user.name=a", "-c", "user.email=a@example.invalid", *words, here=here)
    assert done.returncode == 0, done.stderr


def write(path: Path, text: str) -> None:
    path.parent.mkdir(exist_ok=True, parents=True)
    path.write_text(text, encoding="utf-8")


@pytest.fixture
def models(tmp_path: Path) -> Path:
    """Two commits: the tender, and the tender with a spare conductor more."""
    git(tmp_path, "init", "-q", "-b", "main")
    write(tmp_path / "models" / "the tender.post.toml", TENDER)
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-q", "-m", "the tender")
    git(tmp_path, "tag", "first")
    spare = '\n[[run]]\nname = "one more"\nspare = true\nends = ["base", "hub"]\nlength = "200 mm"\n'
    write(tmp_path / "models" / "the tender.post.toml", TENDER + spare)
    git(tmp_path, "commit", "-q", "-am", "a spare conductor")
    return tmp_path


def test_of_a_single_file_the_last_commit_is_the_other(models: Path) -> None:
    same = compare("models/the tender.post.toml", here=models)
    assert (same.returncode, same.stderr) == (0, "")
    assert same.stdout.splitlines()[1].endswith("(HEAD:models/the tender.post.toml)")
    assert "no finding and no figure differs" in same.stdout
    write(models / "models" / "the tender.post.toml", TENDER)
    changed = compare("models/the tender.post.toml", here=models)
    assert changed.returncode == 0
    assert "\nThe post: fill " in changed.stdout


def test_two_revisions_of_one_file_and_from_another_folder(models: Path) -> None:
    there = "the tender.post.toml"
    one = compare("--format", "json", f"first:{there}", f"HEAD:{there}", here=models / "models")
    since = compare("--format", "json", "--since", "first", f"HEAD:{there}", here=models / "models")
    assert one.returncode == 0, one.stderr
    assert one.stdout == since.stdout
    told = json.loads(one.stdout)
    assert (told["before"]["file"], told["after"]["file"]) == (f"first:{there}", f"HEAD:{there}")
    assert {figure["figure"] for figure in told["figures"] if figure["name"] == "post"} >= {"fill"}
    assert told["findings"] == {"new": [], "gone": [], "changed": []}


def test_what_is_staged_is_compared_and_not_what_lies_in_the_folder(models: Path) -> None:
    file = models / "models" / "the tender.post.toml"
    write(file, TENDER)
    git(models, "add", "-A")
    write(file, "format = ")
    done = compare("first:models/the tender.post.toml", ":models/the tender.post.toml", here=models)
    assert (done.returncode, done.stderr) == (0, "")
    assert "no finding and no figure differs" in done.stdout


def test_what_a_file_used_then_is_read_as_it_was_then(tmp_path: Path) -> None:
    git(tmp_path, "init", "-q", "-b", "main")
    run_of_mine = (
        '\n[[run]]\nname = "mine"\nspare = true\nends = ["base", "hub"]\nlength = "200 mm"\nwire = "mine"\n'
    )
    write(tmp_path / "b" / "tender.post.toml", USING + run_of_mine)
    write(tmp_path / "b" / "shelf" / "workshop.toml", 'format = 1\nuse = ["wires.toml"]\n')
    write(tmp_path / "b" / "shelf" / "wires.toml", "format = 1\n" + ENAMEL)
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-q", "-m", "a thin wire")
    write(tmp_path / "b" / "shelf" / "wires.toml", "format = 1\n" + ENAMEL.replace("0.13", "0.9"))
    done = compare("--format", "json", "b/tender.post.toml", here=tmp_path)
    assert done.returncode in {0, 1}, done.stderr
    (post,) = [
        figure
        for figure in json.loads(done.stdout)["figures"]
        if (figure["name"], figure["figure"]) == ("post", "smallest_bore")
    ]
    assert post["after"] > post["before"]
    (tmp_path / "b" / "shelf" / "wires.toml").unlink()
    gone = compare("b/tender.post.toml", here=tmp_path)
    assert gone.returncode == 2
    assert "is not there" in gone.stderr


def test_a_file_that_has_been_moved_is_found_where_it_was(models: Path) -> None:
    git(models, "mv", "models", "boats")
    git(models, "commit", "-q", "-m", "another folder")
    done = compare("first:models/the tender.post.toml", "boats/the tender.post.toml", here=models)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_name_with_a_colon_is_a_file_where_there_is_one(models: Path) -> None:
    write(models / "HEAD:tender.post.toml", TENDER)
    done = compare("HEAD:tender.post.toml", "models/the tender.post.toml", here=models)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["nothing:models/the tender.post.toml", "models/the tender.post.toml"], "git knows no revision 'nothing' here"),
        (["--since=--help", "models/the tender.post.toml"], "git knows no revision '--help' here"),
        (["--since=\x1b[31m", "models/the tender.post.toml"], "git knows no revision '\\x1b[31m' here"),
        (["HEAD:nowhere.post.toml", "models/the tender.post.toml"], "there is no file 'nowhere.post.toml'"),
        (["HEAD:no/where/at all.post.toml", "models/the tender.post.toml"], "there is no file 'no/where/at all.post.toml'"),
        (["HEAD:models", "models/the tender.post.toml"], "there is no file 'models'"),
        (["HEAD:../../x.post.toml", "models/the tender.post.toml"], "not a git repository"),
    ],
)  # fmt: skip
def test_what_git_does_not_have_is_said_in_one_line(models: Path, words: list[str], says: str) -> None:
    done = compare(*words, here=models)
    assert (done.returncode, done.stdout) == (2, "")
    assert says in done.stderr.splitlines()[0]
    assert "Traceback" not in done.stderr
    assert "\x1b" not in done.stderr


def test_outside_of_a_repository_and_without_git_it_is_said(tmp_path: Path) -> None:
    write(tmp_path / "tender.post.toml", TENDER)
    outside = compare("tender.post.toml", here=tmp_path, GIT_CEILING_DIRECTORIES=str(tmp_path.parent))
    assert outside.returncode == 2
    assert "not a git repository" in outside.stderr
    none = compare("tender.post.toml", here=tmp_path, PATH=os.devnull)
    assert none.returncode == 2
    assert "git is not to be found here" in none.stderr


def test_what_is_new_and_stops_is_an_exit_code_of_one(models: Path) -> None:
    lamp = '\n[[lamp]]\nname = "bare"\ncircuit = "CIRCUIT"\nkind = "smd-0402-red"\nplace = "hub"\n'
    circuit = next(
        line.split(".")[1].rstrip("]") for line in TENDER.splitlines() if line.startswith("[circuit.")
    )
    write(models / "models" / "the tender.post.toml", TENDER + lamp.replace("CIRCUIT", circuit))
    new = compare("models/the tender.post.toml", here=models)
    assert new.returncode == 1
    assert "\nNew, stop: " in new.stdout
    git(models, "commit", "-q", "-am", "a bare lamp")
    known = compare("models/the tender.post.toml", here=models)
    assert known.returncode == 0
    assert known.stdout.startswith("Stop, as before: no finding and no figure differs.\n")


def test_since_goes_with_one_file(models: Path) -> None:
    done = compare("--since", "HEAD", "a.post.toml", "b.post.toml", here=models)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("postcheck: --since goes with a single file")
