"""The report as workflow commands of GitHub Actions: annotations at the lines of the build files.

The escaping is that of `@actions/core`, the runner's own library. What the runner would drop stays in the log, as plain
lines; nothing is written to the step's summary, which belongs to whoever writes the workflow.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

from postcheck.renderers.ci import details
from postcheck.renderers.order import Group, arrange
from postcheck.renderers.words import (
    at,
    counted,
    limit_change,
    question_words,
    safe,
    summary,
    verdict_words,
    what_if_words,
)
from postcheck.report import FileReport, Report, Where

# GitHub's documentation of the toolkit: 10 warning, 10 error and 10 notice annotations a step; the rest is not shown.
_SHOWN = 10
_LEVELS = {"stop": "error", "caution": "warning", "note": "notice"}


class _Annotation(NamedTuple):
    level: str
    file: str
    line: int | None
    column: int | None
    title: str
    message: str


def command(name: str, properties: Mapping[str, str | int | None], message: str) -> str:
    """A workflow command; a property without a value is left out."""
    given = ",".join(f"{key}={_property(str(value))}" for key, value in properties.items() if value)
    return f"::{name}{' ' if given else ''}{given}::{_data(message)}"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")


def render(report: Report, *, named: Callable[[str], str] = str) -> str:
    """The report as lines for standard output; `named` makes a path relative to the repository.

    A cause and what follows from it is one annotation, as heavy as the heaviest. Where there are more of a level than
    the runner shows, the last one shown says how many.
    """
    annotations = [one for file in report.files for one in _annotations(file, named)]
    lines: list[str] = []
    for level in _LEVELS.values():
        lines += _cut([one for one in annotations if one.level == level])
    for file in report.files:
        lines += _log(file)
    if len(report.files) != 1:
        lines.append(summary(report))
    return "\n".join(lines) + "\n"


def _annotations(file: FileReport, named: Callable[[str], str]) -> Iterator[_Annotation]:
    arranged = arrange(file)

    def annotation(level: str, where: Where | None, title: str, message: str) -> _Annotation:
        path = safe(named(file.file if where is None else where.path), 4096)
        line, column = (None, None) if where is None else (where.line, where.column)
        return _Annotation(level, path, line, column, title, message)

    for group in arranged.groups:
        cause = group.cause
        yield annotation(_LEVELS[group.weight], cause.where, safe(cause.check), "\n".join(_words(group)))
    for question in arranged.questions:
        if question.vital:
            message = f"Something vital is not known. {question_words(question)}"
            yield annotation("warning", question.where, "not judged", message)


def _words(group: Group) -> Iterator[str]:
    yield safe(group.cause.says)
    yield from details(group.cause)
    for other in group.consequences:
        yield f"It follows, {other.severity}: {safe(other.says)}"
    yield f"Name: {safe(group.cause.id)}"


def _cut(annotations: list[_Annotation]) -> Iterator[str]:
    shown = annotations if len(annotations) <= _SHOWN else annotations[: _SHOWN - 1]
    rest = annotations[len(shown) :]
    for one in shown:
        properties = {"title": one.title, "file": one.file, "line": one.line, "col": one.column}
        yield command(one.level, properties, one.message)
    if rest:
        level = rest[0].level
        yield command(
            level, {"title": "postcheck"}, f"{counted(len(rest), f'more {level}')} in the log of this step"
        )
        yield from (line for one in rest for line in _plain(one))


def _plain(one: _Annotation) -> Iterator[str]:
    """An annotation that the runner would not show, as lines of the log."""
    at = ":".join(str(part) for part in (one.file, one.line, one.column) if part is not None)
    first, *more = one.message.split("\n")
    yield f"{at}  {one.level}  {first}"
    yield from (f"    {line}" for line in more)


def _log(file: FileReport) -> Iterator[str]:
    """What is no annotation: what was accepted, the changed limits, what was not judged and is not vital, and the verdict."""
    arranged = arrange(file)
    name = safe(file.file, 4096)
    for finding in arranged.accepted:
        yield f"{name}  accepted {finding.severity}  {safe(finding.says)} Reason: {safe(finding.accepted or '')}"
    for limit in file.limits:
        yield f"{name}  changed limit  {limit_change(limit)}"
    if file.what_if:
        yield f"{name}  what if  {what_if_words(file.what_if)}"
    for question in arranged.questions:
        if not question.vital:
            yield f"{at(question.where, file)}  not judged  {question_words(question)}"
    yield f"{safe(file.name, 80) if file.name.strip() else name}: {verdict_words(file, arranged)}"
