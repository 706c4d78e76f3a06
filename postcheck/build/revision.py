"""A build as it stood at a revision of git, with the files that it uses as they stood then."""

from __future__ import annotations

import os
import subprocess
import tempfile
from collections.abc import Iterator
from typing import NamedTuple, NoReturn

from postcheck.build.loading import load
from postcheck.build.models import Build
from postcheck.build.problems import BuildError, Problem
from postcheck.build.shelf import MOST_FILES
from postcheck.build.source import Source, parse_source
from postcheck.plain import harmless, quoted

__all__ = ["load_revision"]


def load_revision(revision: str, path: str | os.PathLike[str]) -> Build:
    """The build in `path` as it was at `revision`: a commit, tag or branch as git knows it; "" is what is staged.

    Its `file` is REVISION:PATH, as git writes it. Raises BuildError: also where git, the revision, or the file in it is
    not to be had.
    """
    path = os.fspath(path)
    name = f"{revision}:{path}"
    repository = _repository(name, path)
    tree = _tree(name, repository, revision)
    with tempfile.TemporaryDirectory(prefix="postcheck-") as folder:
        for file, data in _wanted(name, repository, tree):
            there = os.path.join(folder, *file.split("/"))
            os.makedirs(os.path.dirname(there), exist_ok=True)
            with open(there, "wb") as written:
                written.write(data)
        try:
            build = load(os.path.join(folder, *repository.path.split("/")))
        except BuildError as error:
            raise BuildError(name, error.problems) from None
    build._file = name
    return build


class _Repository(NamedTuple):
    """The top folder, and the file as git calls it: from the top on, with forward slashes."""

    top: str
    path: str


def _repository(name: str, path: str) -> _Repository:
    folder = os.path.dirname(os.path.abspath(path))
    near = folder
    while not os.path.isdir(near):  # the folder may have been there then only
        near = os.path.dirname(near)
    top = os.fsdecode(_git(name, near, "rev-parse", "--show-toplevel")).rstrip("\n")
    # the folder's own links are followed, as git does; the file may be one
    whole = os.path.join(os.path.realpath(folder), os.path.basename(path))
    return _Repository(top, os.path.relpath(whole, os.path.realpath(top)).replace(os.sep, "/"))


def _tree(name: str, repository: _Repository, revision: str) -> str:
    """What stands before the colon when git is asked for a file: a commit's number, or nothing for what is staged."""
    if not revision:
        return ""
    commit = f"{revision}^{{commit}}"
    try:
        found = _git(name, repository.top, "rev-parse", "--verify", "--quiet", "--end-of-options", commit)
    except BuildError:
        _stop(
            name,
            f"git knows no revision {quoted(revision)} here",
            "name a commit, tag or branch, such as HEAD~1",
        )
    return found.decode().strip()


def _wanted(name: str, repository: _Repository, tree: str) -> Iterator[tuple[str, bytes]]:
    """The file and all that it uses, each with what stood in it; what is not there is for the reader to tell."""
    try:
        data = _blob(name, repository, tree, repository.path)
    except BuildError:
        when = f"at {quoted(tree[:10])}" if tree else "among what is staged"
        _stop(
            name,
            f"there is no file {quoted(repository.path, 200)} {when}",
            "name a file that git had then, from this folder on",
        )
    yield repository.path, data
    root = repository.path.rpartition("/")[0]
    queue, known = [(repository.path, data)], {repository.path}
    while queue and len(known) <= MOST_FILES:
        file, data = queue.pop()
        for entry in _used(data):
            target = os.path.normpath(os.path.join(os.path.dirname(file), entry)).replace(os.sep, "/")
            if (
                target in known
                or not target.startswith(f"{root}/" if root else "")
                or target.startswith(("/", ".."))
            ):
                continue
            known.add(target)
            try:
                data = _blob(name, repository, tree, target)
            except BuildError:
                continue
            yield target, data
            queue.append((target, data))


def _used(data: bytes) -> list[str]:
    """The names under `use`; none of a file that cannot be read, which the reader tells."""
    try:
        entries = parse_source(Source("", data.decode("utf-8-sig"))).get("use", [])
    except (BuildError, UnicodeDecodeError):
        return []
    return (
        [entry for entry in entries if isinstance(entry, str) and "\0" not in entry]
        if isinstance(entries, list)
        else []
    )


def _blob(name: str, repository: _Repository, tree: str, path: str) -> bytes:
    return _git(name, repository.top, "cat-file", "blob", f"{tree}:{path}")


def _git(name: str, folder: str, *words: str) -> bytes:
    """What git answers in a folder."""
    try:
        done = subprocess.run(["git", "-C", folder, *words], capture_output=True, check=False)  # noqa: S603, S607 - the builder's own git
    except OSError:
        _stop(name, "git is not to be found here", "install git, or compare two files")
    if done.returncode:
        told = harmless(
            done.stderr.decode(errors="replace").strip().partition("\n")[0].removeprefix("fatal: ")
        )
        _stop(name, f"git cannot give it: {told}" if told else "git cannot give it", None)
    return done.stdout


def _stop(name: str, says: str, hint: str | None) -> NoReturn:
    raise BuildError(name, [Problem("file.unreadable", (), says, hint)]) from None
