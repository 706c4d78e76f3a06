"""A check explained, and the list of all checks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import groupby
from typing import Protocol

from postcheck.renderers.figures import show
from postcheck.renderers.markdown import plain
from postcheck.renderers.words import folded, safe


class _Explained(Protocol):
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
    @property
    def not_waived(self) -> str: ...
    @property
    def asks(self) -> bool: ...


class _LimitRow(Protocol):
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
    @property
    def held(self) -> str: ...


def render_check(check: _Explained, limits: Sequence[_LimitRow], width: int | None = None) -> str:
    """One check: what it looks at, why, by which formula, against which limits, and where they come from.

    With `width` no line is wider.
    """
    lines = [
        f"{check.name} ({'asks' if check.asks else f'{check.severity} at most'})",
        check.line,
        "",
        f"Why: {check.why}",
        f"How: {check.formula}",
    ]
    for limit in limits:
        lines += [
            f"Limit {limit.name} = {_value(limit)}: {safe(limit.says)}",
            f"    Source: {safe(limit.source)}",
        ]
        if limit.held:
            lines.append(f"    It {limit.held}.")
    lines += [f"Source: {check.source}"]
    if check.not_waived:
        lines.append(f"Cannot be waived: {check.not_waived}.")
    if limits:
        lines += ["", "A build can change a limit:", "", *(f"    {line}" for line in _change(limits[0]))]
    return _fitted(lines, width, lambda line: len(line) - len(line.lstrip()) + 2)


def render_markdown(check: _Explained, limits: Sequence[_LimitRow]) -> str:
    """The same as Markdown, without the name, which stands above it wherever it is shown."""
    lines = [
        f"**Why:** {plain(check.why)}",
        f"**How:** {plain(check.formula)}",
        *(_limit_in_markdown(limit) for limit in limits),
        f"**Source:** {plain(check.source)}",
        *([f"**Cannot be waived:** {plain(check.not_waived)}."] if check.not_waived else []),
    ]
    if limits:
        lines += ["A build can change a limit:", "\n".join(("```toml", *_change(limits[0]), "```"))]
    return "\n\n".join(lines) + "\n"


def _limit_in_markdown(limit: _LimitRow) -> str:
    held = f" It {limit.held}." if limit.held else ""
    says = plain(f"{safe(limit.says)}. Source: {safe(limit.source)}.{held}")
    return f"- `{limit.name}` = {plain(_value(limit))}: {says}"


def _value(limit: _LimitRow) -> str:
    return show(limit.value, "share" if limit.dimension == "share" else limit.unit)


def _change(limit: _LimitRow) -> list[str]:
    return ["[[limit]]", f'name   = "{limit.name}"', 'value  = "..."', 'reason = "..."']


def render_list(checks: Iterable[_Explained], width: int | None = None) -> str:
    """All checks by subject, a line each; with `width` no line is wider."""
    lines: list[str] = []
    listed = list(checks)
    column = max((len(check.name) for check in listed), default=0)
    for subject, group in groupby(
        sorted(listed, key=lambda check: check.name), key=lambda check: check.name.split(".")[0]
    ):
        lines += ["", subject] if lines else [subject]
        lines += [f"    {check.name:<{column}}  {check.line}" for check in group]
    return _fitted(lines, width, lambda _: column + 6)


def _fitted(lines: Iterable[str], width: int | None, hang: Callable[[str], int]) -> str:
    if width is not None:
        lines = [part for line in lines for part in folded(line, width, hang(line))]
    return "\n".join(lines) + "\n"
