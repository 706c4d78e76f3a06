"""The limits a build changes, as SI numbers."""

from __future__ import annotations

import re
from math import isfinite

from postcheck.description.models import Build
from postcheck.description.printing import format_quantity
from postcheck.description.problems import Problem, QuantityError
from postcheck.description.quantities import UNSIGNED, parse, tidy
from postcheck.description.units import Dimension
from postcheck.limits import LIMITS, Limit, LimitName
from postcheck.plain import nearest, quoted

_PER_CENT = re.compile(rf"({UNSIGNED}) ?(?:%|percent)")


def limit_changes(build: Build) -> tuple[dict[LimitName, tuple[float, str]], list[Problem]]:
    """The changed limits by name, each with value and reason, and what is wrong with the others.

    The first of several changes to one limit counts: the build's own stand before those of the files it uses.
    """
    rows: dict[str, Limit] = {row.name: row for row in LIMITS}
    changes: dict[LimitName, tuple[float, str]] = {}
    problems: list[Problem] = []
    for index, change in enumerate(build.limit):
        row = rows.get(change.name)
        if row is None:
            near = nearest(change.name, rows)
            hint = (
                f"did you mean {quoted(near)}?"
                if near
                else "`postcheck explain` names the limits of each check"
            )
            says = f"there is no limit {quoted(change.name)}"
            problems.append(Problem("file.unknown-name", ("limit", index, "name"), says, hint))
            continue
        try:
            changes.setdefault(row.name, (_value(change.value, row), change.reason))
        except QuantityError as error:
            problems.append(Problem(error.check, ("limit", index, "value"), error.says, error.hint))
    return changes, problems


def _value(text: str, row: Limit) -> float:
    if row.dimension == "number":
        value = _number(text, row.unit)
    elif row.dimension == "share":
        value = _share(text, row)
    else:
        value = parse(text, Dimension(row.dimension))
    if value <= 0.0 and not (row.zero and value == 0.0):
        raise QuantityError("file.out-of-range", f"{quoted(text)} is no limit", "it must be above zero here")
    if row.firm is not None and (value < row.value if row.least else value > row.value):
        raise QuantityError(
            "file.out-of-range",
            f"{quoted(row.name)} {row.held}",
            f"{format_quantity(row.value, Dimension(row.dimension))} or {'more' if row.least else 'less'}",
        )
    return value


def _share(text: str, row: Limit) -> float:
    """A share, which for a limit above the whole may be up to twice that limit."""
    per_cent = _PER_CENT.fullmatch(tidy(text))
    if per_cent is None:
        return parse(text, Dimension.SHARE)
    value = float(per_cent[1]) / 100.0
    most = 1.0 if row.value <= 1.0 else 2.0 * row.value
    if row.firm is None and value > most:
        raise QuantityError(
            "file.out-of-range",
            f"{quoted(text)} limits nothing",
            f"at most {100.0 * most:g} % makes sense here",
        )
    return value


def _number(text: str, unit: str) -> float:
    """A number, alone or with the unit in which the limit is explained."""
    try:
        value = float(text.strip().removesuffix(unit))
    except ValueError:
        hint = f'write it as in "4 {unit}", or the number alone' if unit else "write the number alone"
        raise QuantityError("file.not-a-quantity", f"{quoted(text)} is not a plain number", hint) from None
    if not isfinite(value):
        raise QuantityError(
            "file.not-finite", f"{quoted(text)} is no size of a real thing", "write a plain number"
        )
    return value
