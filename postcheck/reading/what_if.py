"""A build with some of its keys changed, as if its file said so; the file itself is neither changed nor read again."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple, TypeAlias, get_origin

import tomli

from postcheck.description.changes import Assigned
from postcheck.description.consumers import CONSUMERS, entries
from postcheck.description.frozen import FrozenDict
from postcheck.description.keys import fields_at, form_at, kinds_at
from postcheck.description.models import SEVERAL, Build
from postcheck.description.naming import run_names
from postcheck.description.problems import BuildError, Path, Problem, QuantityError
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.plain import harmless, nearest, quoted
from postcheck.reading.loading import whole
from postcheck.taken import takes
from postcheck.wiring.doors import takes_build

__all__ = ["Assignment", "Value", "assigned", "assignment", "key_steps", "what_if"]

Value: TypeAlias = "str | int | float | bool | date | Sequence[Value] | Mapping[str, Value]"


class Assignment(NamedTuple):
    """A key, step by step, and the value that it is to have, as TOML has it."""

    steps: tuple[str, ...]
    value: Any


def what_if(build: Build, changes: Mapping[str, Value]) -> Build:
    """The build as it would be if its file said something else; the file and `build` itself stay as they are.

    Each key is dotted as in TOML: `post.bore`, `supply.main.volts`. In a list of tables the next step is a name as the
    report has it, or its position from 1: `lamp."nose lamp".resistor`, `run.1.length`. Of what is written in one line a part
    can be named: `lamp."nose lamp".resistor.ohms`. Each value is what the file would have there. The new build equals the
    one that is loaded from the changed text, and `check` gives each finding the place in the file as it is.

    Raises BuildError where a key or name is not known, or what comes of it is no build.
    """
    takes_build("what_if", build)
    takes("what_if", changes, Mapping)
    found = []
    for key, value in changes.items():
        try:
            found.append(Assignment(key_steps(key), _plain(value)))
        except QuantityError as error:
            raise BuildError(build.file, [Problem(error.check, (), error.says, error.hint)]) from None
    return assigned(build, found)


def _plain(value: object) -> object:
    """A value as the TOML reader would give it."""
    if isinstance(value, str | bool | int | float | date):
        return value
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, bytes | bytearray):
        return [_plain(item) for item in value]
    raise TypeError(f"a build file holds no {type(value).__name__}")


# -- what is typed


def assignment(text: str) -> Assignment:
    """The one assignment that a text makes; a right side that is no TOML is a text, as people type it. Raises QuantityError."""
    match = re.match(r"""((?:"(?:[^"\\]|\\.)*"|'[^']*'|[^"'=])*)=(.*)""", text, re.DOTALL)
    left, right = (match[1].strip(), match[2].strip()) if match else ("", "")
    if not left or not right:
        raise _no_toml(text, "is no assignment")
    steps = key_steps(left)
    try:
        found = tomli.loads(f"value = {right}")
    except (ValueError, RecursionError):  # the reader's own error is a ValueError
        if right[0] in "\"'[{" or "\n" in right:  # it was meant as TOML
            raise _no_toml(right, "breaks a rule of TOML") from None
        return Assignment(steps, right)
    if len(found) > 1:
        raise _no_toml(text, "is more than one assignment")
    return Assignment(steps, found["value"])


def key_steps(key: str) -> tuple[str, ...]:
    """The steps of a dotted key; one with spaces needs quotes only where it has a dot as well. Raises QuantityError."""
    try:
        found: Any = tomli.loads(f"{key} = 0")
    except (ValueError, RecursionError):
        bare = tuple(" ".join(step.split()) for step in key.split("."))
        # half a surrogate pair, as of a byte that is no text, is no letter of a key
        if not all(bare) or re.search("[\"'=#\\[\\]{}\n\ud800-\udfff]", key):
            raise _no_toml(key, "is no key") from None
        return bare
    steps = []
    while isinstance(found, dict) and len(found) == 1:
        step, found = next(iter(found.items()))
        steps.append(step)
    if found != 0 or not steps:
        raise _no_toml(key, "is no key")
    return tuple(steps)


def _no_toml(text: str, what: str) -> QuantityError:
    return QuantityError("file.not-toml", f"{quoted(text)} {what}", 'write it like post.bore = "6 mm"')


# -- what is changed


def named(build: Build, steps: Sequence[str]) -> Assigned:
    """Where a key stands: its path, how it is named to people, and what the file has there. Raises BuildError."""
    tables = _tables(build)
    try:
        path, key = _Way(build, tables).along(steps)
    except QuantityError as error:
        says = f"{_named(steps)}: {error.says}"
        raise BuildError(build.file, [Problem(error.check, (), says, error.hint)]) from None
    return Assigned(path, key, "", _at(build._tables, path), _value(build._tables, path))


def assigned(build: Build, assignments: Iterable[Assignment]) -> Build:
    """The build with these keys changed, one after the other. Raises BuildError."""
    tables = _tables(build)
    now = {one.path: one for one in build._assigned}
    for steps, value in assignments:
        try:
            path, key = _Way(build, tables).along(steps)
            now = {other: one for other, one in now.items() if other[: len(path)] != path or other == path}
            now[path] = Assigned(path, key, in_toml(value), _at(build._tables, path), value)
            tables = _with(tables, path, value)
        except QuantityError as error:
            says = f"with {harmless(f'{_named(steps)} = {in_toml(value)}')}: {error.says}"
            raise BuildError(build.file, [Problem(error.check, (), says, error.hint)]) from None
    return _read(build, tables, tuple(now.values()))


def to_write(build: Build) -> Iterator[tuple[Path, str, bool]]:
    """What a file gets, each at its path and as TOML, so that it says what the build was changed in.

    Beside it, whether the file has the table that it goes into. Of what stands there in one line, all of it: a part of a text cannot be set.
    """
    now = _tables(build) if build._assigned else None
    for one in build._assigned:
        lengths = range(1, len(one.path))
        path = next(
            (one.path[:n] for n in lengths if isinstance(_value(build._tables, one.path[:n]), str)), one.path
        )
        yield path, in_toml(_value(now, path)), _value(build._tables, path[:-1]) is not None


def _tables(build: Build) -> Any:
    """The tables that the build was made of, which hold what it was changed in."""
    if build._tables is None:
        raise ValueError("this build is a copy that was changed in memory; change the one that was read")
    tables: Any = build._tables
    for one in build._assigned:
        tables = _with(tables, one.path, one.given)
    return tables


def _read(build: Build, tables: Mapping[str, Any], changes: tuple[Assigned, ...]) -> Build:
    """The build of changed tables; what is wrong with a change names it, what is wrong elsewhere has its place."""
    try:
        changed = whole(build.file, None, tables, (), list)
    except BuildError as error:
        problems = []
        for problem in error.problems:
            own = [one for one in changes if _along(one.path, problem.path)]
            if own:
                says = f"with {harmless(f'{own[-1].key} = {own[-1].value}')}: {problem.says}"
                problems.append(problem._replace(path=(), says=says))
            elif build.text is not None:
                from postcheck.description.positions import located  # noqa: PLC0415 - most changes make no mistake

                problems += located([problem], build.text)
            else:
                problems.append(problem)
        raise BuildError(build.file, problems) from None
    changed._text, changed._used, changed._shared = build.text, build.used, build.shared
    changed._tables, changed._assigned = build._tables, changes
    return changed


def _along(one: Path, other: Path) -> bool:
    """Whether one of two paths leads to the other."""
    shorter = min(len(one), len(other))
    return shorter > 0 and one[:shorter] == other[:shorter]


def _named(steps: Iterable[str | int]) -> str:
    return ".".join(key_in_toml(str(step)) for step in steps)


def _at(tables: Any, path: Path) -> str | None:
    value = _value(tables, path)
    return None if value is None else in_toml(value)


def _value(tables: Any, path: Path) -> Any:
    """What the file has at a path, None where it has nothing; of what is written in one line, the part of it."""
    for index, part in enumerate(path):
        if isinstance(tables, str) and (form := form_at(Build, path[:index])) is not None:
            tables = form.form(tables)
        try:
            tables = tables[part]
        except (KeyError, IndexError):
            return None
    return tables


def _with(tables: Any, path: Path, value: object, above: Path = ()) -> Any:
    """The tables with another value at a path; what does not lead there is shared."""
    if not path:
        return value
    part, rest = path[0], path[1:]
    if isinstance(tables, str) and (form := form_at(Build, above)) is not None:
        tables = form.form(tables)
    below = (*above, part)
    if isinstance(tables, list) and isinstance(part, int):
        return [*tables[:part], _with(tables[part], rest, value, below), *tables[part + 1 :]]
    return {**tables, part: _with(tables.get(part, {}), rest, value, below)}


class _Way:
    """From the steps that a person names to a path of the document."""

    def __init__(self, build: Build, tables: Mapping[str, Any]) -> None:
        self.build = build
        self.tables = tables

    def along(self, steps: Sequence[str]) -> tuple[Path, str]:
        """The path, and the key as it is named to people. Raises QuantityError."""
        if steps[0] == "use":
            raise QuantityError(
                "file.use",
                "`use` cannot be changed so: other files would have to be read",
                "change what they say",
            )
        here: Any = self.tables
        path: Path = ()
        named: list[str] = []
        for index, step in enumerate(steps):
            last = index == len(steps) - 1
            if isinstance(here, str) and (form := form_at(Build, path)) is not None:
                here = form.form(here)
            part: str | int = step
            if isinstance(here, list):
                names = self._names(path)
                part = self._position(path, len(here), names, step, named)
                here = here[part]
                named.append(names[part] if part < len(names) else step)
            elif isinstance(here, Mapping):
                here = self._below(path, here, step, named, last=last)
                named.append(step)
            else:
                raise QuantityError(
                    "file.wrong-type",
                    f"{quoted(_named(named))} is {in_toml(here)}",
                    "nothing stands below it",
                )
            path = (*path, part)
        if len(path) == 1 and path[0] in SEVERAL:
            raise QuantityError(
                "file.wrong-type",
                f"{quoted(steps[0])} is a list of tables",
                f"name one of them and its key, as in {steps[0]}.1.KEY",
            )
        return path, _named(named)

    def _below(self, path: Path, table: Mapping[str, Any], step: str, named: list[str], *, last: bool) -> Any:
        if last or step in table:
            return table.get(step)
        if any(get_origin(kind) is FrozenDict for kind in kinds_at(Build, path)):
            raise _unknown(_one(path), step, list(table))
        missing = kinds_at(Build, (*path, step))
        needs = [
            field.is_required() for fields in fields_at(Build, (*path, step)) for field in fields.values()
        ]
        if any(needs):
            raise QuantityError(
                "file.missing",
                f"the file has no {_named((*named, step)) if path else f'[{step}]'}",
                "describe it there first",
            )
        if any(get_origin(kind) is FrozenDict for kind in missing):
            return {}
        if step in SEVERAL and not path:
            return []
        return {}  # a key that is not known is told by the models, with the nearest

    def _position(self, path: Path, count: int, names: Sequence[str], step: str, named: list[str]) -> int:
        """Where in a list a name stands, or a position from 1."""
        if names.count(step) == 1:
            return names.index(step)
        if step.isdecimal() and len(step) < 9 and 1 <= int(step) <= count:
            return int(step) - 1
        if step.isdecimal() or not names:
            hint = f"positions go from 1 to {count}" if count else "the list is empty"
            listed = len(path) > 1  # a list in a table, such as `ends`
            says = (
                f"{quoted(_named(named))} has no {quoted(step)}"
                if listed
                else f"there is no {_one(path)} {quoted(step)}"
            )
            raise QuantityError("file.unknown-name", says, hint)
        raise _unknown(_one(path), step, names)

    def _names(self, path: Path) -> list[str]:
        """The names in a list of tables, as the report has them."""
        section = path[0] if len(path) == 1 else ""
        if section in CONSUMERS:
            return [entry.name for entry in entries(self.build) if entry.kind == section]
        if section == "run":
            return list(run_names(self.build))
        if section == "plug":
            return [plug.name for plug in self.build.plug]
        if section == "limit":
            return [limit.name for limit in self.build.limit]
        if section == "accept":
            return [accept.finding for accept in self.build.accept]
        return []


def _one(path: Path) -> str:
    return str(next((part for part in reversed(path) if isinstance(part, str)), "entry")).replace("_", " ")


def _unknown(what: str, name: str, among: Sequence[str]) -> QuantityError:
    near = nearest(name, among)
    listed = ", ".join(map(quoted, among[:6])) + (" ..." if len(among) > 6 else "")
    hint = f"did you mean {quoted(near)}?" if near else f"there is {listed}" if among else "the file has none"
    return QuantityError("file.unknown-name", f"there is no {what} {quoted(name)}", hint)
