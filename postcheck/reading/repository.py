"""Which repository of git holds a file, and what git answers there."""

from __future__ import annotations

import errno
import os
import subprocess
from collections.abc import Mapping
from typing import NamedTuple

from postcheck.description.problems import QuantityError
from postcheck.plain import harmless

# What ties git to one repository, as in a hook or under --git-dir; `git rev-parse --local-env-vars` lists more.
_TIED = (
    "GIT_DIR",
    "GIT_WORK_TREE",
    "GIT_COMMON_DIR",
    "GIT_INDEX_FILE",
    "GIT_OBJECT_DIRECTORY",
    "GIT_ALTERNATE_OBJECT_DIRECTORIES",
)
# What would change how our own words to git are read.
_UNWANTED = (
    "GIT_PREFIX",
    "GIT_LITERAL_PATHSPECS",
    "GIT_GLOB_PATHSPECS",
    "GIT_NOGLOB_PATHSPECS",
    "GIT_ICASE_PATHSPECS",
)


class GitError(QuantityError):
    """Something that git does not have, or cannot say: in words."""

    def __init__(self, says: str, hint: str | None = None) -> None:
        super().__init__("file.unreadable", says, hint)


class Repository(NamedTuple):
    """A repository with its files: their top folder, git's own folder, the environment in which git reads it."""

    top: str
    git_folder: str
    environment: Mapping[str, str]

    def ask(self, *words: str) -> bytes:
        """What git answers in the top folder. Raises GitError."""
        return _git(self.environment, "-C", self.top, *words)


def repository_of(folder: str) -> Repository:
    """The repository whose work tree holds `folder`, which may be gone from the disk. Raises GitError.

    Where the environment names a repository, as in a hook, what it says (the index that a commit is made from) holds
    for the files of that one only.
    """
    near = folder
    while not os.path.isdir(near) and os.path.dirname(near) != near:
        near = os.path.dirname(near)
    plain = {
        name: value
        for name, value in os.environ.items()
        if name not in _TIED and name not in _UNWANTED and not name.startswith("GIT_TRACE")
    } | {"LC_ALL": "C"}
    tied = {name: os.environ[name] for name in _TIED if name in os.environ}
    if not tied:
        return _repository(plain, near)
    try:
        named = _repository(plain | tied, os.curdir)
    except GitError:
        return _repository(plain, near)
    holds = _below(near, named.top)
    try:
        found = _repository(plain, near)
    except GitError:
        if not holds:
            raise
        return _bound(named, named.top, tied)
    # Without GIT_WORK_TREE git takes the folder it is started in for the top: then the file's own folder knows better.
    wanted = holds and "GIT_WORK_TREE" in tied
    if os.path.realpath(found.git_folder) == os.path.realpath(named.git_folder):
        return _bound(named, named.top if wanted else found.top, tied)
    inner = _below(found.top, named.top) and not _below(named.top, found.top)
    return _bound(named, named.top, tied) if wanted and not inner else found


def _repository(environment: Mapping[str, str], folder: str) -> Repository:
    top, git_folder = (
        os.fsdecode(_git(environment, "-C", folder, "rev-parse", asked).removesuffix(b"\n"))
        for asked in ("--show-toplevel", "--absolute-git-dir")
    )
    return Repository(top, git_folder, environment)


def _bound(named: Repository, top: str, tied: Mapping[str, str]) -> Repository:
    """The repository that the environment names, its paths made whole: git reads them from the top folder on."""
    whole = {
        name: os.path.join(named.top, value) for name, value in tied.items() if not name.startswith("GIT_ALT")
    }
    folders = {"GIT_DIR": named.git_folder, "GIT_WORK_TREE": top}
    return Repository(top, named.git_folder, {**named.environment, **whole, **folders})


def _below(path: str, folder: str) -> bool:
    """Whether a path is a folder or lies in it, links followed."""
    path, folder = os.path.realpath(path), os.path.realpath(folder)
    try:
        return os.path.commonpath([path, folder]) == folder
    except ValueError:  # two drives
        return False


def _git(environment: Mapping[str, str], *words: str) -> bytes:
    try:
        done = subprocess.run(  # noqa: S603 - the builder's own git
            ["git", *words],  # noqa: S607
            stdin=subprocess.DEVNULL,
            capture_output=True,
            check=False,
            env=environment,
        )
    except (FileNotFoundError, NotADirectoryError):
        raise GitError("git is not to be found here", "install git, or compare two files") from None
    except OSError as error:
        if error.errno == errno.E2BIG:
            raise GitError("the name is far longer than any that git knows") from None
        raise GitError(f"git cannot be started: {(error.strerror or 'no reason given').lower()}") from None
    if done.returncode:
        raise GitError(*_refusal(done.stderr.decode(errors="replace")))
    return done.stdout


def _refusal(complaint: str) -> tuple[str, str | None]:
    lines = [line.strip() for line in complaint.splitlines() if line.strip()]
    reasons = [
        line.removeprefix(begins)
        for begins in ("fatal: ", "error: ")
        for line in lines
        if line.startswith(begins)
    ]
    reason = (reasons or lines or [""])[0]
    if "must be run in a work tree" in reason:
        return (
            "this repository, or this folder of it, is without a work tree",
            "compare in a checkout (git worktree add FOLDER makes one)",
        )
    return f"git cannot give it: {harmless(reason)}" if reason else "git cannot give it", None
