"""Unknown and repeated names, and limits, in a file that has other mistakes too, so that all are told in one pass."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from postcheck.description.contradictions import contradictions
from postcheck.description.implied import filled_in
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.description.names import name_problems
from postcheck.description.problems import Problem
from postcheck.plain import quoted

_OF_NAMES = ("file.unknown-name", "file.duplicate-name")


def names_in_the_rest(data: Mapping[str, Any], error: ValidationError) -> list[Problem]:
    """The unknown and repeated names of a file without the entries that are wrong in themselves.

    An entry that is left out still counts as described: what refers to it is not told as unknown.
    """
    wrong = {tuple(detail["loc"][:2]) for detail in error.errors(include_url=False, include_input=False)}
    if () in wrong:  # a key that is no text, as a command line can hold it: the whole file is wrong
        return []
    rest, kept, left_out = dict(data), {}, set[str]()
    for section in {str(path[0]) for path in wrong}:
        entries = rest.get(section)
        if isinstance(entries, list):
            kept[section] = [index for index in range(len(entries)) if (section, index) not in wrong]
            rest[section] = [entries[index] for index in kept[section]]
        elif isinstance(entries, dict) and section not in ("post", "build", "usual", "stock"):
            left_out |= {str(path[1]) for path in wrong if path[0] == section and len(path) > 1}
            rest[section] = {name: entry for name, entry in entries.items() if (section, name) not in wrong}
        else:
            rest.pop(section, None)
    rest.setdefault("format", 1)
    rest.setdefault("build", {"name": "-"})
    try:
        build = filled_in(Build.model_validate(rest))
    except ValidationError:
        return []
    problems = (*name_problems(build), *contradictions(build))
    wrong_names = [problem for problem in problems if problem.check in _OF_NAMES]
    # what a test record is about may be among the entries that are left out
    wrong_names = [problem for problem in wrong_names if not (kept and problem.path[:1] == ("proof",))]
    wrong_names += limit_changes(build)[1]
    # a table without a name of its own leaves out all that it would have named
    unnamed = [
        section
        for section in {str(path[0]) for path in wrong if len(path) > 1}
        if isinstance(data.get(section), dict)
        and any(not isinstance(entry, dict) for entry in data[section].values())
    ]
    whose = [
        f"there is no {what} "
        for section in unnamed
        for what in (section, "line" if section in ("supply", "circuit") else section)
    ]
    wrong_names = [problem for problem in wrong_names if not problem.says.startswith(tuple(whose))]
    known = [quoted(name + end) for name in left_out for end in ("", "+", "-", "-return")]
    return [
        _moved(problem, kept) for problem in wrong_names if not any(name in problem.says for name in known)
    ]


def _moved(problem: Problem, kept: Mapping[str, list[int]]) -> Problem:
    """A problem with its path as it is in the whole file."""
    match problem.path:
        case (str(section), int(index), *rest) if section in kept:
            return problem._replace(path=(section, kept[section][index], *rest))
    return problem
