"""What the models refuse, in our own words: the text of the validation library never reaches a user."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from postcheck.description.problems import MOST_GUESSES, MOST_PROBLEMS, Path, Problem
from postcheck.description.refused.tables import LONGEST, meant, missing, one_table, unknown, unnamed
from postcheck.description.refused.values import words
from postcheck.description.refused.written import Refused, rewritten
from postcheck.plain import harmless

if TYPE_CHECKING:
    from pydantic import BaseModel, ValidationError
    from pydantic_core import ErrorDetails

__all__ = ["problems_from"]


def problems_from(
    error: ValidationError, data: Mapping[str, Any], model: type[BaseModel] | None = None
) -> list[Problem]:
    """Return one problem for each of the first MOST_PROBLEMS things wrong with `data`, the parsed document.

    `model` is the model that refused it; with it, unknown and missing keys come with a guess or an example.
    """
    details = [
        one for one in error.errors(include_url=False, include_input=False) if not _left_short(one, data)
    ][:MOST_PROBLEMS]
    found = [
        _problem(detail, data, model, guess=number < MOST_GUESSES) for number, detail in enumerate(details)
    ]
    return _once(list(dict.fromkeys(found)), model)


def _left_short(detail: ErrorDetails, data: Mapping[str, Any]) -> bool:
    """Whether a list is told to be too short only because what stands in it is wrong, and is told as well."""
    value = _existing(detail["loc"], data)[2]
    return detail["type"] == "too_short" and len(value) >= detail["ctx"]["min_length"]  # type: ignore[arg-type]


def _problem(
    detail: ErrorDetails, data: Mapping[str, Any], model: type[BaseModel] | None, *, guess: bool
) -> Problem:
    kind, context = detail["type"], detail.get("ctx", {})
    path, rest, value = _existing(detail["loc"], data)
    if kind == "missing":
        return missing(path, str(rest[-1]) if rest else "", data, model)
    if kind == "extra_forbidden":
        return unknown(path, data, model, guess=guess)
    if (problem := unnamed(path, value, model)) is not None:
        return problem
    check, says, hint = words(kind, context, value, str(path[-1]) if path else "")
    on_key = bool(rest) and rest[-1] == "[key]"
    bare = context.get("bare", "")
    hint = rewritten(Refused(check, path, rest, value), hint, bare, model, by_example=not on_key)
    return Problem(check, path, says, hint and harmless(hint, LONGEST), on="key" if on_key else "value")


def _existing(loc: Path, data: Any) -> tuple[Path, Path, object]:
    """Part a location into the path that stands in the document, what follows it, and the value there."""
    for position, part in enumerate(loc):
        if not _holds(data, part):
            return loc[:position], loc[position:], data
        data = data[part]
    return loc, (), data


def _holds(data: object, part: str | int) -> bool:
    if isinstance(data, list | tuple):
        return isinstance(part, int)
    return isinstance(data, Mapping) and part in data


def _once(problems: list[Problem], model: type[BaseModel] | None) -> list[Problem]:
    """The problems without keys that are missing only because they bear another name, and of two names for one key the first.

    Nor is anything missing in a table that has a name which it cannot have.
    """
    named = {
        problem.path[:-1]
        for problem in problems
        if problem.check == "file.unknown-key" and problem.hint == one_table(problem.path)
    }
    problems = [one for one in problems if one.check != "file.missing" or one.path[:-1] not in named]
    strange = [problem for problem in problems if problem.check == "file.unknown-key" and problem.path]
    if not strange:
        return problems
    absent = {problem.path for problem in problems if problem.check == "file.missing"}
    borne: dict[Path, Path] = {}
    again: set[Path] = set()
    for problem in strange[:MOST_GUESSES]:
        ours = (*problem.path[:-1], meant(problem.path, model) or "")
        if ours in absent and borne.setdefault(ours, problem.path) != problem.path:
            again.add(problem.path)
    return [
        problem
        for problem in problems
        if not (problem.check == "file.missing" and problem.path in borne) and problem.path not in again
    ]
