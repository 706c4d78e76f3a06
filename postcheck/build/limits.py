"""The limits a build changes, as SI numbers."""

from __future__ import annotations

from postcheck.build.models import Build
from postcheck.build.problems import Problem, QuantityError
from postcheck.build.quantities import Dimension, parse
from postcheck.limits import LIMITS
from postcheck.plain import nearest, quoted

__all__ = ["limit_changes"]


def limit_changes(build: Build) -> tuple[dict[str, tuple[float, str]], list[Problem]]:
    """The changed limits by name, each with value and reason, and what is wrong with the others."""
    rows = {row.name: row for row in LIMITS}
    changes: dict[str, tuple[float, str]] = {}
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
            problems.append(
                Problem(
                    "file.unknown-name",
                    ("limit", index, "name"),
                    f"there is no limit {quoted(change.name)}",
                    hint,
                )
            )
            continue
        try:
            if row.dimension == "number":
                value = float(change.value)
            else:
                value = parse(change.value, Dimension(row.dimension))
        except QuantityError as error:
            problems.append(Problem(error.check, ("limit", index, "value"), error.says, error.hint))
            continue
        except ValueError:
            problems.append(
                Problem(
                    "file.not-a-quantity",
                    ("limit", index, "value"),
                    f"{quoted(change.value)} is not a plain number",
                )
            )
            continue
        changes[change.name] = (value, change.reason)
    return changes, problems
