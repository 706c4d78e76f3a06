"""Whole random builds as tables: those of `tests/outside` and `tests/planner/made.py`, drawn by hypothesis, and ways to change them.

A law takes a build, changes it in one respect, and compares what the checks say of both.
"""

from __future__ import annotations

import copy
import json
import os
import re
from collections.abc import Callable, Iterator
from typing import Any

import tomli
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st

import postcheck
from postcheck import FileReport
from postcheck.reading.loading import built
from postcheck.survey import Survey
from tests.outside import random_builds, random_corners, random_warm

Tables = dict[str, Any]

MADE: dict[str, Callable[[int], str]] = {
    "builds": lambda seed: random_builds.make(seed, converter=seed % 5 == 4).toml,
    "corners": lambda seed: "\n".join(random_corners.make(seed).toml),
    "warm": lambda seed: random_warm.make(seed).toml,
}
MORE = "POSTCHECK_LAWS"
# A law holds for every seed: more of them are tried by `python -m tests.laws.measure`.
seeds = st.integers(0, 10**6)


def tables_of(sort: str, seed: int) -> Tables:
    """One random build of a sort."""
    return tomli.loads(MADE[sort](seed))


def builds(*sorts: str) -> st.SearchStrategy[Tables]:
    """Random builds of these sorts, of all if none is named."""
    return st.tuples(st.sampled_from(sorts or tuple(MADE)), seeds).map(lambda one: tables_of(*one))


def law(examples: int) -> settings:
    """The same builds on every machine, so many of them; `measure` has more, and others each time."""
    times = int(os.environ.get(MORE, "0"))
    return settings(
        max_examples=examples * max(times, 1),
        derandomize=not times,
        database=None,
        deadline=None,
        phases=[Phase.explicit, Phase.generate],  # a seed has nothing smaller beside it
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
    )


def figures(tables: Tables) -> Any:
    """All figures of a build."""
    return Survey(built(tables)).figures


def judged(tables: Tables, stage: Any = None) -> FileReport:
    """What the checks say of a build, without remedies."""
    return postcheck.check(built(tables), stage=stage, remedies=False).files[0]


def changed(tables: Tables, *path: str | int, to: Any) -> Tables:
    """The build with one value put in."""
    after = copy.deepcopy(tables)
    at: Any = after
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = to
    return after


def texts(part: Any, change: Callable[[str], str]) -> Any:
    """The same tables with every text and every key of them put through `change`."""
    if isinstance(part, dict):
        return {change(key): texts(value, change) for key, value in part.items()}
    if isinstance(part, list):
        return [texts(value, change) for value in part]
    return change(part) if isinstance(part, str) else part


def told(file: FileReport) -> Any:
    """A report as plain data, as JSON has it."""
    (one,) = json.loads(postcheck.render(file, "json"))["files"]
    return one


def numbers(part: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Every leaf of plain data with its path; what stands in lists by its number."""
    if isinstance(part, dict):
        for key, value in part.items():
            yield from numbers(value, (*path, key))
    elif isinstance(part, list):
        for index, value in enumerate(part):
            yield from numbers(value, (*path, index))
    else:
        yield path, part


def alike(one: Any, other: Any, within: float = 1e-7) -> list[tuple[Any, Any, Any]]:
    """Where two pieces of plain data differ, numbers by more than a part in so many."""
    first, second = dict(numbers(one)), dict(numbers(other))
    return [
        (path, first.get(path), second.get(path))
        for path in {**first, **second}
        if not _same(first.get(path), second.get(path), within)
    ]


def _same(one: Any, other: Any, within: float) -> bool:
    if isinstance(one, float | int) and isinstance(other, float | int):
        return abs(one - other) <= within * max(abs(one), abs(other)) + 1e-12
    return bool(one == other)


OHMS = re.compile(r"^[0-9.]+(?= ohm)")


def with_ohms(tables: Tables, number: int, change: Callable[[float], float]) -> Tables:
    """The build with the resistor of a lamp changed."""
    resistor = tables["lamp"][number]["resistor"]
    path: tuple[str | int, ...] = ("lamp", number, "resistor")
    if isinstance(resistor, dict):
        path, resistor = (*path, "ohms"), resistor["ohms"]
    return changed(tables, *path, to=OHMS.sub(lambda found: repr(change(float(found[0]))), resistor))


def resisted(tables: Tables) -> list[int]:
    """The lamps that have a resistor."""
    return [number for number, lamp in enumerate(tables.get("lamp", ())) if "resistor" in lamp]
