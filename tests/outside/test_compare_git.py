"""`postcheck compare` against real git: revisions, what is staged, what a file used then, and what git does not have."""

from __future__ import annotations

import contextlib
import io
import json
import os
import subprocess
import sys
from pathlib import Path
from unittest.mock import patch

import pytest

from postcheck import BuildError, load_revision
from postcheck.cli import main
from postcheck.reading.repository import Repository
from tests.outside.test_hook import ROOT, repository, run, surroundings

TENDER = (ROOT / "example_builds" / "tender.post.toml").read_text(encoding="utf-8")
USING = TENDER.replace("format = 1\n", 'format = 1\nuse = ["shelf/workshop.toml"]\n', 1)
ENAMEL = '[wire.mine]\nstrands = 1\nstrand = "0.1 mm"\noutside = "0.13 mm"\n'


def compare(*words: str, here: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """As a shell in that folder would run it, but in this process; the hooks below start one of its own."""
    command = ["compare", "--today", "2026-11-25", *words]
    with (
        contextlib.chdir(here),
        patch.dict(os.environ, surroundings(**environment), clear=True),
        contextlib.redirect_stdout(io.StringIO()) as out,
        contextlib.redirect_stderr(io.StringIO()) as told,
    ):
        code = main(command)
    return subprocess.CompletedProcess(command, code, out.getvalue(), told.getvalue())


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
        (["HEAD:models", "models/the tender.post.toml"], "'models' is a folder at 'HEAD'"),
        (["HEAD:../../x.post.toml", "models/the tender.post.toml"], "not a git repository"),
    ],
)  # fmt: skip
def test_what_git_does_not_have_is_said_in_one_line(models: Path, words: list[str], says: str) -> None:
    done = compare(*words, here=models)
    assert (done.returncode, done.stdout) == (2, "")
    assert says in done.stderr.splitlines()[0]
    assert "Traceback" not in done.stderr
    assert "\x1b" not in done.stderr


def test_a_file_that_git_does_not_know_yet_is_said_to_be_new(models: Path) -> None:
    write(models / "new.post.toml", TENDER)
    done = compare("new.post.toml", here=models)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "postcheck: 'HEAD:new.post.toml': git has no 'new.post.toml' at 'HEAD': the file is newer than that; "
        "commit it first, or name two files to compare\n"
    )


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


def before_and_now(done: subprocess.CompletedProcess[str]) -> tuple[str, str]:
    assert done.returncode in {0, 1}, done.stdout + done.stderr
    told = json.loads(done.stdout)
    return told["before"]["file"], told["after"]["file"]


def refused(done: subprocess.CompletedProcess[str]) -> str:
    """The one line that a refusal is; a hint may follow it."""
    assert (done.returncode, done.stdout) == (2, "")
    assert "Traceback" not in done.stderr
    return done.stderr.splitlines()[0]


def test_a_single_name_with_a_revision_comes_before_what_lies_in_the_folder(models: Path) -> None:
    there = "models/the tender.post.toml"
    assert before_and_now(compare("--format", "json", f"first:{there}", here=models)) == (
        f"first:{there}",
        there,
    )
    assert before_and_now(compare("--format", "json", f":{there}", here=models)) == (f":{there}", there)
    since = compare("--format", "json", "--since", "first", f":{there}", here=models)
    assert before_and_now(since) == (f"first:{there}", f":{there}")


@pytest.mark.parametrize(
    "revision",
    ["HEAD@{2099-11-25 20:00:00}", "HEAD^{/the: tender}", ":/the: tender", "HEAD^{commit}", "first^0"],
)
def test_a_revision_may_have_a_colon(models: Path, revision: str) -> None:
    there = "models/the tender.post.toml"
    git(models, "commit", "-q", "--amend", "-m", "the: tender")
    done = compare("--format", "json", "--since", revision, there, here=models)
    assert before_and_now(done) == (f"{revision}:{there}", there)
    if not revision.startswith(":/"):  # where git takes all that follows for the text
        done = compare("--format", "json", f"{revision}:{there}", here=models)
        assert before_and_now(done) == (f"{revision}:{there}", there)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--since", "", "x.post.toml"], "postcheck: --since names no revision: is a variable empty?"),
        (["--since", "^HEAD", "models/the tender.post.toml"], "'^HEAD' is no single commit"),
        (["--since", "HEAD..first", "models/the tender.post.toml"], "git knows no revision 'HEAD..first'"),
        (["HEAD:", "x.post.toml"], "postcheck: 'HEAD:' names no file"),
        ([":"], "postcheck: ':' names no file"),
        ([""], "postcheck: compare: FILE: an empty word names nothing"),
        (["https://example.org/x.post.toml"], "'https://example.org/x.post.toml' is an address, not a file"),
        ([":2:models/the tender.post.toml"], "is in no merge conflict: it has no stage 2"),
    ],
)  # fmt: skip
def test_where_the_name_is_the_trouble_it_is_said(models: Path, words: list[str], says: str) -> None:
    assert says in refused(compare(*words, here=models))


def test_a_trace_of_git_is_not_its_reason(tmp_path: Path) -> None:
    write(tmp_path / "tender.post.toml", TENDER)
    done = compare(
        "tender.post.toml", here=tmp_path, GIT_TRACE="1", GIT_CEILING_DIRECTORIES=str(tmp_path.parent)
    )
    assert "git cannot give it: not a git repository" in refused(done)


def test_a_repository_without_files_is_said_to_be_one(models: Path) -> None:
    git(models, "clone", "-q", "--bare", str(models), str(models / "bare.git"))
    says = "without a work tree"
    assert says in refused(compare("HEAD:models/the tender.post.toml", here=models / "bare.git"))
    assert says in refused(compare("HEAD:models/the tender.post.toml", here=models / ".git"))


def test_a_merge_conflict_has_two_sides_and_none_that_is_staged(models: Path) -> None:
    there = "models/the tender.post.toml"
    git(models, "checkout", "-q", "-b", "side", "first")
    write(models / there, TENDER + "\n# another end\n")
    git(models, "commit", "-q", "-am", "another end")
    run("git", "-c", "user.name=a", "-c", "user.email=a@example.invalid", "merge", "main", here=models)
    assert "is in a merge conflict" in refused(compare(f":{there}", here=models))
    sides = compare(
        "--format", "json", ":2:the tender.post.toml", ":3:the tender.post.toml", here=models / "models"
    )
    assert before_and_now(sides) == (":2:the tender.post.toml", ":3:the tender.post.toml")
    assert {figure["name"] for figure in json.loads(sides.stdout)["figures"]} >= {"post"}


def test_a_folder_whose_name_ends_in_a_newline(tmp_path: Path) -> None:
    top = tmp_path / "boats\n"
    write(top / "tender.post.toml", TENDER)
    repository(top)
    assert (
        before_and_now(compare("--format", "json", "tender.post.toml", here=top))[0]
        == "HEAD:tender.post.toml"
    )


# Hooks: what git sets for them is told in githooks(5), and what a partial commit's index is in git-commit(1), --only.


def hooked(top: Path, name: str, *words: str) -> None:
    """A hook that compares, from the top folder where git starts it."""
    found = run("git", "rev-parse", "--git-path", f"hooks/{name}", here=top).stdout.strip()
    hook = top / found
    hook.parent.mkdir(exist_ok=True)
    hook.write_text(
        f"#!/bin/sh\nPYTHONPATH='{ROOT}' '{sys.executable}' -m postcheck compare --format json --today 2026-11-25 "
        f"{' '.join(words)} > '{top.parent}/told' 2>&1\n",
        encoding="utf-8",
    )
    hook.chmod(0o755)


def told(top: Path) -> list[str]:
    """What differed, as the hook's comparison has told it: names of figures."""
    text = (top.parent / "told").read_text(encoding="utf-8")
    assert text.startswith("{"), text
    return [figure["name"] for figure in json.loads(text)["figures"]]


SPARE = '\n[[run]]\nname = "spare {}"\nspare = true\nends = ["base", "hub"]\nlength = "200 mm"\n'


@pytest.mark.parametrize("linked", [False, True])
def test_a_hook_reads_what_the_commit_is_made_from(tmp_path: Path, linked: bool) -> None:
    top = tmp_path / "boats"
    write(top / "sub" / "a.post.toml", TENDER)
    write(top / "sub" / "b.post.toml", TENDER)
    repository(top)
    if linked:
        git(top, "worktree", "add", "-q", "-b", "side", str(tmp_path / "linked"))
        top = tmp_path / "linked"
    hooked(top, "pre-commit", "HEAD:sub/a.post.toml", ":sub/a.post.toml")
    for name in "ab":
        write(top / "sub" / f"{name}.post.toml", TENDER + SPARE.format(name))
    git(top, "add", "-A")
    git(top, "commit", "-q", "-m", "b alone", "sub/b.post.toml")  # a is staged, but not in this commit
    assert told(top) == []
    git(top, "commit", "-q", "-m", "a, by its path", "sub/a.post.toml")
    assert "post" in told(top)
    write(top / "sub" / "a.post.toml", TENDER)
    git(top, "commit", "-q", "-a", "-m", "all", "--no-verify")
    write(top / "sub" / "a.post.toml", TENDER + SPARE.format("c"))
    git(top / "sub", "commit", "-q", "-a", "-m", "from a folder below")
    assert "post" in told(top)
    hooked(top, "pre-commit", "HEAD:a.post.toml", ":a.post.toml")
    hook = top / run("git", "rev-parse", "--git-path", "hooks/pre-commit", here=top).stdout.strip()
    hook.write_text(hook.read_text(encoding="utf-8").replace("\n", "\ncd sub\n", 1), encoding="utf-8")
    write(top / "sub" / "a.post.toml", TENDER)
    git(top, "commit", "-q", "-m", "and one that goes there", "sub/a.post.toml")
    assert "post" in told(top)


def test_a_rebase_and_an_alias_in_a_linked_work_tree(tmp_path: Path) -> None:
    top = tmp_path / "boats"
    write(top / "sub" / "a.post.toml", TENDER)
    repository(top)
    git(top, "worktree", "add", "-q", "-b", "side", str(tmp_path / "linked"))
    linked = tmp_path / "linked"
    write(linked / "sub" / "a.post.toml", TENDER + SPARE.format("a"))
    git(linked, "commit", "-q", "-am", "a spare")
    words = "compare --format json --today 2026-11-25 HEAD~1:a.post.toml :a.post.toml"
    asked = f"cd sub && PYTHONPATH='{ROOT}' '{sys.executable}' -m postcheck {words} > '{tmp_path}/told' 2>&1"
    git(linked, "rebase", "-q", "--exec", asked, "HEAD~1")
    assert "post" in told(linked)
    (tmp_path / "told").unlink()
    git(linked, "-c", f"alias.what=!{asked}", "--git-dir", str(linked / ".git"), "what")
    assert "post" in told(linked)


def test_a_file_of_another_repository_is_not_asked_of_the_hooks_own(tmp_path: Path) -> None:
    top, other = tmp_path / "boats", tmp_path / "boats" / "harbour"
    write(top / "a.post.toml", TENDER)
    repository(top)
    write(other / "a.post.toml", TENDER)
    repository(other)
    write(other / "a.post.toml", TENDER + SPARE.format("a"))
    git(other, "add", "-A")
    hooked(top, "pre-commit", "HEAD:harbour/a.post.toml", ":harbour/a.post.toml")
    git(top, "commit", "-q", "--allow-empty", "-m", "nothing")
    assert "post" in told(top)
    own = {"GIT_DIR": str(top / ".git"), "GIT_INDEX_FILE": str(top / ".git" / "index")}
    done = compare("--format", "json", "HEAD:a.post.toml", ":a.post.toml", here=other, **own)
    assert "post" in {figure["name"] for figure in json.loads(done.stdout)["figures"]}


def test_a_work_tree_that_is_named_holds_the_files_below_it(tmp_path: Path) -> None:
    home = tmp_path / "home"
    write(home / "sub" / "a.post.toml", TENDER)
    git(home, "init", "-q", "--bare", "kept.git")
    tree = ("--git-dir=kept.git", "--work-tree=.")
    git(home, *tree, "add", "sub")
    git(home, *tree, "commit", "-q", "-m", "one")
    named = {"GIT_DIR": "kept.git", "GIT_WORK_TREE": "."}
    done = compare("--format", "json", "HEAD:sub/a.post.toml", ":sub/a.post.toml", here=home, **named)
    assert before_and_now(done) == ("HEAD:sub/a.post.toml", ":sub/a.post.toml")


# Links


@pytest.mark.parametrize("before", ["HEAD", ""])
def test_links_in_the_repository_are_followed(tmp_path: Path, before: str) -> None:
    top = tmp_path / "boats"
    write(top / "kept" / "deep" / "tender.post.toml", USING)
    write(top / "kept" / "deep" / "shelf" / "real.toml", "format = 1\n" + ENAMEL)
    (top / "kept" / "deep" / "shelf" / "workshop.toml").symlink_to("real.toml")
    (top / "linked").symlink_to("kept/deep")
    (top / "here.post.toml").symlink_to("linked/tender.post.toml")
    (top / "round").symlink_to("round")
    (top / "away.post.toml").symlink_to("../tender.post.toml")
    (top / "whole.post.toml").symlink_to(top / "kept" / "deep" / "tender.post.toml")
    repository(top)
    write(tmp_path / "tender.post.toml", TENDER)
    for name in ("here.post.toml", "linked/tender.post.toml", "whole.post.toml"):
        assert before_and_now(compare("--format", "json", f"{before}:{name}", here=top)) == (
            f"{before}:{name}",
            name,
        )
    (tmp_path / "outside").symlink_to(top / "kept")
    (tmp_path / "there.post.toml").symlink_to("boats/kept/deep/tender.post.toml")
    write(top / "kept" / "deep" / "tender.post.toml", TENDER)
    git(top, "add", "-A")
    git(top, "commit", "-q", "-m", "without the shelf")
    for name in ("outside/deep/tender.post.toml", "there.post.toml"):
        done = compare("--format", "json", f"{before}:{name}", here=tmp_path)
        assert before_and_now(done) == (f"{before}:{name}", name)
    away = refused(compare(f"{before}:away.post.toml", "tender.post.toml", here=top))
    assert "'away.post.toml' is a link that leads out of the repository" in away
    assert "is a link in a circle" in refused(compare(f"{before}:round", "tender.post.toml", here=top))


def test_a_linked_folder_is_followed_as_it_was_then(tmp_path: Path) -> None:
    write(tmp_path / "old" / "a.post.toml", TENDER)
    write(tmp_path / "new" / "a.post.toml", TENDER + SPARE.format("a"))
    (tmp_path / "now").symlink_to("old")
    repository(tmp_path)
    (tmp_path / "now").unlink()
    (tmp_path / "now").symlink_to("new")
    done = compare("--format", "json", "now/a.post.toml", here=tmp_path)
    assert "post" in {figure["name"] for figure in json.loads(done.stdout)["figures"]}


# Filters, gitattributes(5)


def test_a_file_is_read_as_a_checkout_writes_it(tmp_path: Path) -> None:
    write(tmp_path / ".gitattributes", "*.post.toml filter=turned\n")
    write(tmp_path / "sub" / "tender.post.toml", TENDER)
    turn = "tr a-zA-Z n-za-mN-ZA-M"
    git(tmp_path, "init", "-q")
    for way in ("clean", "smudge"):
        git(tmp_path, "config", f"filter.turned.{way}", turn)
    repository(tmp_path)
    kept = run("git", "cat-file", "blob", "HEAD:sub/tender.post.toml", here=tmp_path)
    assert kept.stdout != TENDER
    for name in ("HEAD:tender.post.toml", ":tender.post.toml"):
        done = compare(name, here=tmp_path / "sub")
        assert (done.returncode, done.stderr) == (0, "")
        assert "no finding and no figure differs" in done.stdout


def test_what_stands_in_place_of_the_file_is_told(tmp_path: Path) -> None:
    # from memory: the example of git-lfs's docs/spec.md, version 1, and the header of git-crypt
    pointer = "version https://git-lfs.github.com/spec/v1\noid sha256:" + "4d" * 32 + "\nsize 12345\n"
    write(tmp_path / "kept.post.toml", pointer)
    (tmp_path / "locked.post.toml").write_bytes(b"\0GITCRYPT\0\x8f\x01")
    write(tmp_path / "tender.post.toml", TENDER)
    repository(tmp_path)
    for name, says in (
        ("kept", "this is a pointer of git-lfs"),
        ("locked", "the file is locked by git-crypt"),
    ):
        assert says in refused(compare(f"HEAD:{name}.post.toml", "tender.post.toml", here=tmp_path))
        assert says in refused(compare("tender.post.toml", f"{name}.post.toml", here=tmp_path))


# The function


def test_a_name_that_no_file_can_bear_is_a_build_error(models: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(models)
    for revision, path in (("HEAD\0", "a"), ("HEAD", "a\0"), ("\ud800", "a"), ("HEAD", "\ud800")):
        with pytest.raises(BuildError, match="no file or revision can bear this name"):
            load_revision(revision, path)


def test_a_name_far_too_long_is_not_a_missing_git(models: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(models)
    with pytest.raises(BuildError, match="git knows no revision '1111"):
        load_revision("1" * 200_000, "models/the tender.post.toml")
    with pytest.raises(BuildError, match="far longer than any that git knows"):
        load_revision("HEAD", "1" * 200_000)


def test_nothing_is_written_and_nothing_named_that_is_not_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(tmp_path / "b" / "tender.post.toml", USING)
    write(tmp_path / "b" / "shelf" / "workshop.toml", "format = 1\n" + ENAMEL)
    repository(tmp_path)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "nowhere"))
    build = load_revision("HEAD", "b/tender.post.toml")
    assert (build.file, build.used) == ("HEAD:b/tender.post.toml", ())
    assert "mine" in build.wire
    write(tmp_path / "b" / "shelf" / "workshop.toml", "format = ")
    git(tmp_path, "commit", "-q", "-am", "broken")
    with pytest.raises(BuildError, match=r"in shelf/workshop\.toml, line 1") as error:
        load_revision("HEAD", "b/tender.post.toml")
    assert (error.value.file, error.value.used) == ("HEAD:b/tender.post.toml", ())


def test_what_is_far_too_big_is_not_read(models: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(models / "big.post.toml", "# " + "x" * 4_000_000)
    git(models, "add", "-A")
    asked: list[tuple[str, ...]] = []
    ask = Repository.ask

    def noted(self: Repository, *words: str) -> bytes:
        asked.append(words)
        return ask(self, *words)

    monkeypatch.setattr(Repository, "ask", noted)
    monkeypatch.chdir(models)
    with pytest.raises(BuildError, match="bigger than 4 MB"):
        load_revision("", "big.post.toml")
    assert [words[1] for words in asked if words[0] == "cat-file"] == ["-s"]
