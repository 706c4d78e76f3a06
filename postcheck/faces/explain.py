"""A check explained, and the list of all checks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Protocol

from postcheck.faces.figures import show
from postcheck.faces.words import safe

__all__ = ["render_check", "render_list"]


class Explained(Protocol):
    """What is needed of a check's record."""

    @property
    def name(self) -> str: ...
    @property
    def severity(self) -> str: ...
    @property
    def line(self) -> str: ...
    @property
    def why(self) -> str: ...
    @property
    def formula(self) -> str: ...
    @property
    def source(self) -> str: ...


class LimitRow(Protocol):
    """What is needed of a limit."""

    @property
    def name(self) -> str: ...
    @property
    def value(self) -> float: ...
    @property
    def unit(self) -> str: ...
    @property
    def dimension(self) -> str: ...
    @property
    def says(self) -> str: ...
    @property
    def source(self) -> str: ...


def render_check(check: Explained, limits: Sequence[LimitRow]) -> str:
    """One check: what it looks at, why, by which formula, against which limits, and where they come from."""
    lines = [
        f"{check.name} ({check.severity} at most)",
        check.line,
        "",
        f"Why: {check.why}",
        f"How: {check.formula}",
    ]
    for limit in limits:
        value = show(limit.value, "share" if limit.dimension == "share" else limit.unit)
        lines += [f"Limit {limit.name} = {value}: {safe(limit.says)}", f"    Source: {safe(limit.source)}"]
    lines += [f"Source: {check.source}"]
    if limits:
        lines += [
            "",
            "A build can change a limit:",
            "",
            "    [[limit]]",
            f'    name   = "{limits[0].name}"',
            '    value  = "..."',
            '    reason = "..."',
        ]
    return "\n".join(lines) + "\n"


def render_list(checks: Iterable[Explained]) -> str:
    """All checks by subject, a line each."""
    lines: list[str] = []
    listed = list(checks)
    width = max((len(check.name) for check in listed), default=0)
    for subject, group in groupby(
        sorted(listed, key=lambda check: check.name), key=lambda check: check.name.split(".")[0]
    ):
        lines += ["", subject] if lines else [subject]
        lines += [f"    {check.name:<{width}}  {check.line}" for check in group]
    return "\n".join(lines) + "\n"
