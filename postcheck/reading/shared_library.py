"""The files under `use`: a builder's own wires, lamps, stock and limits, each file read once."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from pydantic import ValidationError

from postcheck.description.models import Workshop
from postcheck.description.models.whole import Shared
from postcheck.description.names import may_be_shared
from postcheck.description.problems import BuildError, Path, Problem, QuantityError
from postcheck.reading.source import DISK, Files, parse_source, resolve_use

# A workshop has a handful; many more are a mistake, or an attack.
MOST_FILES = 50

_NO_FOLDER = (
    "the files under `use` are looked for in the folder of the build, and a text has none",
    'give its folder, as in loads(text, folder="models"), or leave `use` out',
)

_SHARED = ("wire", "lamp_kind", "strip_kind", "stock", "limit")


class _File(NamedTuple):
    """A used file: its place in the `use` of the build, its name as it is told, its text."""

    position: int
    name: str
    text: str


class SharedLibrary:
    """A build's tables over those of the files it uses.

    What the build says itself wins, then what a file says over what that file uses, then later files over earlier
    ones. Of limits, which stand in a list, all are kept in that order. `paths`: where files were looked for, found or
    not. Without `files` none may be used. `root`: the folder that may not be left, if not the highest of these files.
    """

    def __init__(
        self, file: str, data: Mapping[str, Any], files: Files | None = DISK, root: str | None = None
    ) -> None:
        self.tables: dict[str, Any] = {
            key: dict(value) if isinstance(value, dict) else list(value) if isinstance(value, list) else value
            for key, value in data.items()
        }
        self.problems: list[Problem] = []
        self.paths: dict[str, None] = {}
        self._root = root
        self._read: set[str] = set()
        self._from: dict[Path, tuple[_File, Path]] = {}
        if files is not None:
            self._files = files
            self._take(file, data, (), None)
        elif isinstance(data.get("use"), list) and data["use"]:
            self._note(Problem("file.use", ("use",), *_NO_FOLDER), None)

    @property
    def shared(self) -> dict[Path, Shared]:
        """Of what used files say, by its path in the build, where it stands."""
        return {path: Shared(file.name, file.text, there) for path, (file, there) in self._from.items()}

    def attributed(self, problems: Iterable[Problem]) -> list[Problem]:
        """The problems; one in what a used file says bears that file's name and line.

        Where a used file is missing or wrong, names that it may describe are no mistake of their own.
        """
        return [
            problem if problem.path[:2] not in self._from else self._moved(problem)
            for problem in problems
            if not (self.problems and may_be_shared(problem))
        ]

    def _moved(self, problem: Problem) -> Problem:
        file, path = self._from[problem.path[:2]]
        (found,) = _located([problem._replace(path=(*path, *problem.path[2:]))], file.text)
        return _as_of_file(file, found)

    def _take(self, name: str, data: Mapping[str, Any], chain: Sequence[str], user: _File | None) -> None:
        entries = data.get("use", [])
        numbered = list(enumerate(entries if isinstance(entries, list) else []))
        for number, entry in reversed(numbered):
            if not isinstance(entry, str):
                continue
            if len(self._read) >= MOST_FILES:
                says = f"more than {MOST_FILES} files are used in all"
                self._note(Problem("file.use", ("use", number), says, "put what they say into fewer"), user)
                return
            if len(self.paths) < MOST_FILES:  # a list of thousands that are not there is not looked after
                self.paths[os.path.join(os.path.dirname(name), entry)] = None
            try:
                target = resolve_use(name, entry, root=self._root, chain=chain, files=self._files)
            except QuantityError as error:
                self._note(Problem(error.check, ("use", number), error.says, error.hint), user)
                continue
            if target not in self._read:
                self._read.add(target)
                folder = os.path.dirname(user.name) if user is not None else ""
                self._open(
                    target,
                    number if user is None else user.position,
                    os.path.join(folder, entry),
                    (*chain, name),
                )

    def _open(self, target: str, position: int, shown: str, chain: Sequence[str]) -> None:
        try:
            source = self._files.read(target)
            data = parse_source(source)
        except BuildError as error:
            self.problems += [_as_of_file(_File(position, shown, ""), problem) for problem in error.problems]
            return
        file = _File(position, shown, source.text)
        try:
            Workshop.model_validate(data)
        except ValidationError as error:
            from postcheck.description.refused import problems_from  # noqa: PLC0415 - most files have no mistake

            for problem in problems_from(error, data, Workshop):
                self._note(problem, file)
        else:
            self._put(data, file)
        self._take(target, data, chain, file)

    def _put(self, data: Mapping[str, Any], file: _File) -> None:
        for section in _SHARED:
            found = data.get(section)
            own = self.tables.setdefault(section, type(found)()) if found else None
            if isinstance(found, dict) and isinstance(own, dict):
                for key in found.keys() - own.keys():
                    own[key] = found[key]
                    self._from[section, key] = (file, (section, key))
            elif isinstance(found, list) and isinstance(own, list):
                for index, value in enumerate(found):
                    self._from[section, len(own)] = (file, (section, index))
                    own.append(value)

    def _note(self, problem: Problem, file: _File | None) -> None:
        """Note a problem of the build itself, or of a file that it uses."""
        if file is None:
            self.problems.append(problem)
        else:
            self.problems += [_as_of_file(file, found) for found in _located([problem], file.text)]


def _located(problems: Iterable[Problem], text: str) -> list[Problem]:
    from postcheck.description.positions import located  # noqa: PLC0415 - most files have no mistake

    return located(problems, text)


def _as_of_file(file: _File, problem: Problem) -> Problem:
    where = "" if problem.line is None else f", line {problem.line}, column {problem.column or 1}"
    return Problem(
        problem.check, ("use", file.position), f"in {file.name}{where}: {problem.says}", problem.hint
    )
