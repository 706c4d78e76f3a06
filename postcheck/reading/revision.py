"""A build as it stood at a revision of git, with the files that it uses as they stood then."""

from __future__ import annotations

import errno
import os
import posixpath
import re
from collections.abc import Iterator
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.problems import BuildError, Problem, QuantityError
from postcheck.plain import quoted
from postcheck.reading.loading import build_from
from postcheck.reading.repository import GitError, Repository, repository_of
from postcheck.reading.source import MOST_BYTES, Source, decoded, too_big
from postcheck.taken import takes

# As many as Linux follows: path_resolution(7).
_MOST_LINKS = 40
# What stands before the path of a staged file: nothing, or the stage of a merge (gitrevisions(7)).
_STAGE = re.compile(r"(?::([0-3]))?")


def load_revision(revision: str, path: str | os.PathLike[str]) -> Build:
    """The build in `path` as it was at `revision`: a commit, tag or branch as git knows it; "" is what is staged.

    Its `file` is REVISION:PATH, as git writes it, and `used` is empty: nothing of it lies in a folder. In a merge
    conflict ":2" is our side, ":3" theirs. Links are followed as they were then, filters and line ends are those of a
    checkout. Raises BuildError: also where git, the revision, or the file in it is not to be had.
    """
    takes("load_revision", revision, str)
    path = os.fsdecode(path)
    name = f"{revision}:{path}"
    try:
        tree, file = _found(revision, path)
        build = build_from(tree.read(file), tree)
    except BuildError as error:
        raise BuildError(name, error.problems) from None
    except QuantityError as error:
        raise BuildError(name, [Problem(error.check, (), error.says, error.hint)]) from None
    build._file, build._used = name, ()
    return build


class _Entry(NamedTuple):
    """What git has under a path: its mode (octal, as git writes it), the number of its contents, its stage if staged."""

    mode: str
    number: str
    stage: str = ""


_FILE, _LINK = "100", "120000"


class _Tree:
    """The files of a commit, or those that are staged; its paths begin with a slash, which is the top folder."""

    def __init__(self, repository: Repository, revision: str) -> None:
        self._repository = repository
        self._revision = revision
        stage = _STAGE.fullmatch(revision)
        self._stage = (stage[1] or "0") if stage else ""
        self._commit = "" if stage else _commit(repository, revision)
        self._entries: dict[str, _Entry | None] = {}

    @property
    def when(self) -> str:
        """When the files stood so, to end a sentence."""
        return f"at {quoted(self._revision)}" if self._commit else "among what is staged"

    def top(self, path: str) -> str:  # noqa: ARG002 - it is one for all
        """The top folder: all that stood there then may be used."""
        return "/"

    def real(self, path: str) -> str:
        """Where a path leads, its links followed; "/.." out of the repository. Raises OSError, GitError."""
        done: list[str] = []
        ahead = path.replace(os.sep, "/").split("/")[::-1]
        links = 0
        while ahead:
            part = ahead.pop()
            if part == "..":
                if not done:
                    return ".."
                done.pop()
            elif part not in {"", "."}:
                done.append(part)
                entry = self._entry("/".join(done))
                if entry is None or entry.mode != _LINK:
                    continue
                links += 1
                if links > _MOST_LINKS:
                    raise OSError(errno.ELOOP, os.strerror(errno.ELOOP))
                done.pop()
                target = os.fsdecode(self._contents(entry, path))
                if target.startswith("/"):
                    return ".."
                ahead += target.split("/")[::-1]
        return "/" + "/".join(done)

    def is_file(self, path: str) -> bool:
        """Whether it is a file; links are not followed."""
        entry = self._entry(path.replace(os.sep, "/").strip("/"))
        return entry is not None and entry.mode.startswith(_FILE)

    def read(self, path: str) -> Source:
        """A file's text, as a checkout would write it. Raises BuildError."""
        try:
            real = self._followed(path)
            entry = self._entry(real)
            if entry is None:
                raise self._missing(real, entry)
            return Source(path, decoded(path, self._contents(entry, path, real)))
        except QuantityError as error:
            raise BuildError(path, [Problem(error.check, (), error.says, error.hint)]) from None

    def look_for(self, path: str) -> None:
        """Raise GitError where there is no such file."""
        real = self._followed(path)
        entry = self._entry(real)
        if entry is None or not entry.mode.startswith(_FILE):
            raise self._missing(real, entry)
        if entry.stage != self._stage:
            raise GitError(
                f"{quoted(real, 200)} is in no merge conflict: it has no stage {self._stage}",
                ":FILE is what is staged",
            )

    def _followed(self, path: str) -> str:
        try:
            real = self.real(path)
        except OSError:
            raise GitError(f"{quoted(path[1:], 200)} is a link in a circle {self.when}") from None
        if real == "..":
            raise GitError(
                f"{quoted(path[1:], 200)} is a link that leads out of the repository {self.when}",
                "name the file itself",
            )
        return real[1:]

    def _missing(self, path: str, entry: _Entry | None) -> GitError:
        shown = quoted(path, 200)
        if entry is not None and entry.mode == "040000":
            return GitError(f"{shown} is a folder {self.when}", "name the one build file")
        if os.path.exists(os.path.join(self._repository.top, path)):
            return GitError(
                f"git has no {shown} {self.when}: the file is newer than that",
                "commit it first, or name two files to compare",
            )
        return GitError(
            f"there is no file {shown} {self.when}", "name a file that git had then, from this folder on"
        )

    def _entry(self, path: str) -> _Entry | None:
        """What git has under a path; of what is staged, folders are not told."""
        if not path:
            return None
        if path not in self._entries:
            self._entries[path] = self._committed(path) if self._commit else self._staged(path)
        return self._entries[path]

    def _committed(self, path: str) -> _Entry | None:
        listing = self._repository.ask(
            "ls-tree", "-z", "--full-tree", self._commit, "--", f":(literal){path}"
        )
        for what, at in _records(listing):
            mode, _, number = what.split()
            if at == path:
                return _Entry(mode, number)
        return None

    def _staged(self, path: str) -> _Entry | None:
        # without the contents of a folder of that name, which can be thousands
        only = (f":(literal){path}", f":(exclude,literal){path}/")
        stages = {}
        for what, at in _records(self._repository.ask("ls-files", "--stage", "-z", "--", *only)):
            mode, number, stage = what.split()
            if at == path:
                stages[stage] = _Entry(mode, number, stage)
        if stages and self._stage == "0" and "0" not in stages:
            raise GitError(
                f"{quoted(path, 200)} is in a merge conflict",
                "put it right and add it; :2:FILE is our side of it, :3:FILE theirs",
            )
        # a stage is asked of one file: what it uses may be in no conflict
        return stages.get(self._stage) or stages.get("0")

    def _contents(self, entry: _Entry, name: str, filtered: str | None = None) -> bytes:
        """A file's bytes, filtered as those of this path are, or a link's target."""
        if int(self._repository.ask("cat-file", "-s", entry.number)) > MOST_BYTES:
            too_big(name)
        if filtered is None:
            return self._repository.ask("cat-file", "blob", entry.number)
        return self._repository.ask("cat-file", "--filters", f"--path={filtered}", entry.number)


def _records(listing: bytes) -> Iterator[tuple[str, str]]:
    """What git says of each path, and the path."""
    for record in listing.split(b"\0")[:-1]:
        what, _, path = record.partition(b"\t")
        yield what.decode(), os.fsdecode(path)


def _commit(repository: Repository, revision: str) -> str:
    """The number of the commit that a revision is."""

    def asked(of: str) -> str:
        try:
            commit = repository.ask("rev-parse", "--verify", "--quiet", "--end-of-options", of)
        except GitError:
            return ""
        return commit.decode().strip()

    # in two steps: what is written behind the text of `:/text` would be part of the text
    number = asked(revision)
    if number.startswith("^"):
        raise GitError(f"{quoted(revision)} is no single commit", "name one, such as HEAD~1")
    commit = asked(f"{number}^{{commit}}") if number else ""
    if not commit:
        raise GitError(
            f"git knows no revision {quoted(revision)} here",
            "name a commit, tag or branch, such as HEAD~1",
        )
    return commit


def _found(revision: str, path: str) -> tuple[_Tree, str]:
    """The tree, and the file in it: under the name given, or else under that which its links lead to now."""
    try:
        os.fsencode(revision + path)
        usable = "\0" not in revision + path
    except UnicodeEncodeError:
        usable = False
    if not usable:
        raise GitError("no file or revision can bear this name")
    if not path:
        raise GitError("this names no file", "write REVISION:FILE")
    first: QuantityError | None = None
    for whole in _names(path):
        try:
            repository = repository_of(os.path.dirname(whole))
            file = _inside(repository.top, whole)
            tree = _Tree(repository, revision)
            tree.look_for(file)
            return tree, file
        except QuantityError as error:
            first = first or error
    raise first or GitError("there is no such file")


def _names(path: str) -> Iterator[str]:
    whole = os.path.abspath(path)
    names = (whole, os.path.join(os.path.realpath(os.path.dirname(whole)), os.path.basename(whole)))
    yield from dict.fromkeys((*names, os.path.realpath(whole)))


def _inside(top: str, whole: str) -> str:
    """The name from the top folder on. Links inside it stay: they are followed as they were then."""
    top = os.path.realpath(top)
    at, below = os.path.split(whole)
    while os.path.realpath(at) != top:
        up, part = os.path.split(at)
        if up == at:
            raise GitError(f"{quoted(whole, 200)} is not below {quoted(top, 200)}")
        at, below = up, os.path.join(part, below)
    return posixpath.join("/", below.replace(os.sep, "/"))
