"""Plain text for pipes, hooks and logs: never wrapped; one finding begins with path:line:column."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.faces.order import Group, arrange
from postcheck.faces.words import limit_words, place, question_words, safe, summary, verdict_words
from postcheck.report import FileReport, Report

__all__ = ["render"]


def render(report: Report) -> str:
    """The report as lines of text; a clear build is one line."""
    lines = [line for file in report.files for line in _file(file)]
    if len(report.files) != 1:
        lines.append(summary(report))
    return "\n".join(lines) + "\n"


def _file(file: FileReport) -> Iterator[str]:
    told = arrange(file)
    name = safe(file.file, 4096)
    for group in told.groups:
        yield from _group(group, file)
    for finding in told.accepted:
        yield f"{place(finding, file)}  accepted {finding.severity}  {safe(finding.says)} Reason: {safe(finding.accepted or '')}"
        yield f"    Name: {safe(finding.id)}"
    for question in told.questions:
        yield f"{name}  not judged{', vital' if question.vital else ''}  {question_words(question)}"
    yield f"{safe(file.name, 80) if file.name.strip() else name}: {verdict_words(file, told)}"


def _group(group: Group, file: FileReport) -> Iterator[str]:
    finding = group.cause
    yield f"{place(finding, file)}  {finding.severity}  {safe(finding.says)} [{safe(finding.check)}]"
    yield f"    Why: {safe(finding.why)}"
    if finding.remedy is not None:
        yield f"    Do: {safe(finding.remedy)}"
    if finding.limit is not None:
        yield f"    Limit: {limit_words(finding.limit)}"
    for other in group.consequences:
        yield f"    Follows, {other.severity}: {safe(other.says)} ({safe(other.id)})"
    yield f"    Name: {safe(finding.id)}"
