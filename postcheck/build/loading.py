"""From a file or a text to a build whose every name means something, or to one error holding all problems."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from postcheck.build.limits import limit_changes
from postcheck.build.metal import metal_problems
from postcheck.build.models import Build, Workshop
from postcheck.build.names import name_problems
from postcheck.build.positions import located
from postcheck.build.problems import BuildError, Problem, QuantityError
from postcheck.build.pruned import names_in_the_rest
from postcheck.build.reach import reach_problems
from postcheck.build.source import Source, parse_source, read_source, resolve_use
from postcheck.build.translate import problems_from

__all__ = ["load", "loads"]

_SHARED = ("wire", "lamp_kind", "strip_kind")


def load(path: str | os.PathLike[str]) -> Build:
    """Read a build file; `-` is standard input. Raises BuildError with everything that is wrong."""
    return _build(read_source(path))


def loads(text: str, name: str = "build") -> Build:
    """Read a build from a text; `name` stands for the file in messages. Raises BuildError."""
    return _build(Source(name, text))


def _build(source: Source) -> Build:
    data = parse_source(source)
    problems: list[Problem] = []
    shared = _workshops(source.name, data, problems)
    try:
        build = Build.model_validate(_merged(data, shared))
    except ValidationError as error:
        problems += problems_from(error, data, Build)
        problems += names_in_the_rest(_merged(data, shared), error)
        raise BuildError(source.name, located(problems, source.text)) from None
    problems += name_problems(build)
    _, wrong = limit_changes(build)
    problems += wrong
    if not problems:
        problems += [*reach_problems(build), *metal_problems(build)]
    if problems:
        raise BuildError(source.name, located(problems, source.text))
    build._file, build._text = source.name, source.text
    return build


def _merged(data: Mapping[str, Any], shared: Mapping[str, Any]) -> dict[str, Any]:
    """The file's tables over those of the files it uses: what the file says itself wins."""
    merged = dict(data)
    for key, value in shared.items():
        own = merged.get(key)
        if own is None:
            merged[key] = value
        elif isinstance(own, dict) and isinstance(value, dict):
            merged[key] = {**value, **own}
        elif isinstance(own, list) and isinstance(value, list):
            merged[key] = [*own, *value]
    return merged


def _workshops(
    file: str,
    data: Mapping[str, Any],
    problems: list[Problem],
    root: str | None = None,
    chain: Sequence[str] = (),
) -> dict[str, Any]:
    """The tables of the files under `use`, later ones over earlier ones; their problems are added to `problems`."""
    shared: dict[str, Any] = {}
    entries = data.get("use", [])
    for position, entry in enumerate(entries if isinstance(entries, list) else []):
        if not isinstance(entry, str):
            continue
        try:
            target = resolve_use(file, entry, root=root, chain=chain)
        except QuantityError as error:
            problems.append(Problem(error.check, ("use", position), error.says, error.hint))
            continue
        try:
            source = read_source(target)
            inner = parse_source(source)
            top = root if root is not None else os.path.dirname(os.path.abspath(file))
            deeper = _workshops(target, inner, problems, top, (*chain, file))
            try:
                Workshop.model_validate(inner)
            except ValidationError as error:
                raise BuildError(entry, located(problems_from(error, inner, Workshop), source.text)) from None
        except BuildError as error:
            problems += [_said_of(entry, position, problem) for problem in error.problems]
            continue
        shared = _merged(
            {key: inner[key] for key in (*_SHARED, "stock", "limit") if key in inner}, _merged(deeper, shared)
        )
    return shared


def _said_of(entry: str, position: int, problem: Problem) -> Problem:
    where = "" if problem.line is None else f", line {problem.line}, column {problem.column or 1}"
    return Problem(problem.check, ("use", position), f"in {entry}{where}: {problem.says}", problem.hint)
