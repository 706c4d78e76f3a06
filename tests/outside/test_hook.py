"""The hook as pre-commit runs it: cloned, installed into an environment of its own, handed the files it asks for."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from identify import identify
from pre_commit.clientlib import load_manifest

import postcheck
from tests.install.checkout import copied
from tests.pages import blocks

ROOT = Path(__file__).parent.parent.parent
MANIFEST = ROOT / ".pre-commit-hooks.yaml"
GOOD = ROOT / "example_builds" / "tender.post.toml"
BAD = ROOT / "tests" / "builds" / "faulty" / "lamp-no-resistor.post.toml"


def surroundings(**environment: str) -> dict[str, str]:
    # a hook's own git may not see the one that this test is started from
    clean = {
        name: value
        for name, value in os.environ.items()
        if not name.startswith("GIT_") and name != "PYTHONPATH"
    }
    author = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}
    return clean | author | environment


def run(*command: str | Path, here: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        list(map(str, command)),
        cwd=here,
        capture_output=True,
        text=True,
        check=False,
        env=surroundings(**environment),
    )


def repository(folder: Path) -> Path:
    """All that is there, as the one commit of a repository."""
    for command in (
        ["init", "-q", "-b", "main"],
        ["add", "-A"],
        ["-c", "user.name=a", "-c", "user.email=a@example.invalid", "commit", "-q", "-m", "all"],
    ):
        done = run("git", *command, here=folder)
        assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture(scope="module")
def hook(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A repository of postcheck as it stands here, committed or not."""
    return repository(copied(tmp_path_factory.mktemp("postcheck")))


@pytest.fixture(scope="module")
def models(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop's repository: a good build, good ones with a blank and a dash in their names, a bad one, and what is none."""
    folder = tmp_path_factory.mktemp("models")
    (folder / "old boats").mkdir()
    shutil.copy(GOOD, folder / "tender.post.toml")
    shutil.copy(GOOD, folder / "old boats" / "harbour tender.post.toml")
    shutil.copy(GOOD, folder / "-old.post.toml")
    shutil.copy(BAD, folder / "bad.post.toml")
    (folder / "settings.toml").write_text("no = 'build'\n")
    (folder / "post.toml").write_text("no = 'build'\n")
    return repository(folder)


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where pre-commit keeps what it has cloned and installed, from one run to the next."""
    return tmp_path_factory.mktemp("kept")


def tried(
    hook: Path, models: Path, kept: Path, *files: str, settings: str = ""
) -> subprocess.CompletedProcess[str]:
    given = ["--files", *files] if files else ["--all-files"]
    revision = run("git", "rev-parse", "HEAD", here=hook).stdout.strip()
    config = kept / "config.yaml"
    config.write_text(f"repos:\n- repo: {hook}\n  rev: {revision}\n  hooks:\n  - id: postcheck\n{settings}")
    return run(
        sys.executable, "-m", "pre_commit", "run", "--config", config, "--color=never", *given,
        here=models, PRE_COMMIT_HOME=str(kept),
    )  # fmt: skip


def test_the_manifest_is_valid() -> None:
    (hook,) = load_manifest(str(MANIFEST))
    assert (hook["id"], hook["language"], hook["require_serial"]) == ("postcheck", "python", True)


@pytest.mark.parametrize(
    ("path", "taken"),
    [
        ("a.post.toml", True),
        ("old boats/harbour tender.post.toml", True),
        ("post.toml", False),
        (".post.toml", False),
        ("apost.toml", False),
        ("a.post.toml.txt", False),
        ("a.post.toml/readme", False),
    ],
)
def test_only_builds_are_asked_for(path: str, taken: bool) -> None:
    (hook,) = load_manifest(str(MANIFEST))
    tags = identify.tags_from_filename(path)
    assert (bool(re.search(hook["files"], path)) and set(hook["types"]) <= tags) is taken


def test_good_builds_pass(hook: Path, models: Path, kept: Path) -> None:
    done = tried(
        hook, models, kept, "tender.post.toml", "old boats/harbour tender.post.toml", "settings.toml"
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert re.search(r"^postcheck\.+Passed$", done.stdout, re.MULTILINE)


def test_a_bad_build_stops_the_commit_and_is_told_with_its_line(hook: Path, models: Path, kept: Path) -> None:
    done = tried(hook, models, kept)
    assert done.returncode == 1, done.stdout + done.stderr
    assert re.search(r"^postcheck\.+Failed$", done.stdout, re.MULTILINE)
    assert "- exit code: 1" in done.stdout
    assert re.search(
        r"^bad\.post\.toml:\d+:\d+  stop  .*\n(    .*\n)*    Name: lamp\.no-resistor:",
        done.stdout,
        re.MULTILINE,
    )
    assert "4 files: 3 clear, 1 stop" in done.stdout  # one process, the blank in one piece, and no other TOML


def test_where_builds_share_files_each_commit_checks_all_of_them(
    hook: Path, kept: Path, tmp_path: Path
) -> None:
    """As the guide says it: a shared file above the builds goes, and no build is touched."""
    (tmp_path / "models").mkdir()
    text = GOOD.read_text(encoding="utf-8").replace(
        "format = 1\n", 'format = 1\nuse = ["../shelf.toml"]\n', 1
    )
    (tmp_path / "models" / "tender.post.toml").write_text(text, encoding="utf-8")
    (tmp_path / "shelf.toml").write_text('format = 1\n[wire.own]\nstrand = "0.1 mm"\noutside = "0.6 mm"\n')
    repository(tmp_path)
    page = postcheck.guide("ci")
    lines = ("always_run: true", "pass_filenames: false", "args: [--, models]")
    assert [line for line in lines if f"`{line}`" not in page] == []
    settings = "".join(f"    {line}\n" for line in lines)
    assert tried(hook, tmp_path, kept, "shelf.toml", settings=settings).returncode == 0
    run("git", "rm", "-q", "shelf.toml", here=tmp_path)
    done = tried(hook, tmp_path, kept, "models/none.toml", settings=settings)
    assert done.returncode == 1, done.stdout
    assert re.search(
        r"^models/tender\.post\.toml:\d+:8  stop  '\.\./shelf\.toml' is not there", done.stdout, re.MULTILINE
    )
    assert done.stdout.count("  stop  ") == 1


def script(begins: str) -> str:
    """A shell script of README or guide, the same wherever it stands."""
    (found,) = {block.text for block in blocks("sh", begins)}
    return found


@pytest.fixture
def path(tmp_path: Path) -> str:
    """A PATH on which `postcheck` is this very one."""
    command = tmp_path / "bin" / "postcheck"
    command.parent.mkdir()
    command.write_text(f'#!/bin/sh\nPYTHONPATH="{ROOT}" exec "{sys.executable}" -m postcheck "$@"\n')
    command.chmod(0o755)
    return f"{command.parent}:{os.environ['PATH']}"


def test_gits_own_hook_of_the_readme_lets_the_good_pass_and_stops_the_bad(tmp_path: Path, path: str) -> None:
    folder = tmp_path / "models"
    (folder / "old boats").mkdir(parents=True)
    (folder / "notes.txt").write_text("nothing to check\n")
    repository(folder)
    hook = folder / ".git" / "hooks" / "pre-commit"
    hook.parent.mkdir(exist_ok=True)
    hook.write_text(script("#!/bin/sh"))
    hook.chmod(0o755)

    def commit() -> subprocess.CompletedProcess[str]:
        run("git", "add", "-A", here=folder)
        author = ("-c", "user.name=a", "-c", "user.email=a@example.invalid")
        return run("git", *author, "commit", "-q", "-m", "more", here=folder, PATH=path)

    (folder / "notes.txt").write_text("still nothing\n")
    assert commit().returncode == 0
    shutil.copy(GOOD, folder / "tender.post.toml")
    shutil.copy(GOOD, folder / "old boats" / "harbour tender.post.toml")
    good = commit()
    assert good.returncode == 0, good.stderr
    assert "2 files: 2 clear" in good.stdout + good.stderr
    shutil.copy(BAD, folder / "bad.post.toml")
    bad = commit()
    assert bad.returncode != 0
    assert re.search(r"^bad\.post\.toml:\d+:\d+  stop", bad.stdout + bad.stderr, re.MULTILINE)
    (folder / "bad.post.toml").unlink()
    (folder / "tender.post.toml").unlink()  # a build that goes is not looked for
    assert commit().returncode == 0


def test_the_step_of_the_readme_fails_where_postcheck_does(models: Path, path: str, tmp_path: Path) -> None:
    done = run("sh", "-c", script("git ls-files"), here=models, PATH=path)
    assert done.returncode != 0
    assert "4 files: 3 clear, 1 stop" in done.stdout
    folder = tmp_path / "good"
    folder.mkdir()
    shutil.copy(GOOD, folder / "harbour tender.post.toml")
    repository(folder)
    assert run("sh", "-c", script("git ls-files"), here=folder, PATH=path).returncode == 0
