"""Plain text for pipes, hooks and logs: never wrapped; one finding begins with path:line:column."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.faces.figures import show
from postcheck.faces.words import counted, folded, place, standing, verdict_line
from postcheck.plain import harmless
from postcheck.report import FileReport, Finding, Report

__all__ = ["render"]

MOST = 2000  # characters of one sentence: names are at most 120


def render(report: Report) -> str:
    """The report as lines of text; a clear build is one line."""
    lines = [line for file in report.files for line in _file(file)]
    if len(report.files) > 1:
        lines.append(_summary(report))
    return "\n".join(lines) + "\n"


def _file(file: FileReport) -> Iterator[str]:
    for finding in standing(file.findings):
        yield from _finding(finding, file)
    for finding in file.findings:
        if finding.accepted is not None:
            yield f"{place(finding, file)}: accepted: {harmless(finding.says, MOST)} Reason: {harmless(finding.accepted, MOST)}"
    for question in file.not_judged:
        vital = "vital, " if question.vital else ""
        yield f"{harmless(file.file)}: not judged: {vital}{harmless(question.what, MOST)} of '{harmless(question.subject)}': {harmless(question.missing, MOST)} is missing"
    yield verdict_line(file)


def _finding(finding: Finding, file: FileReport) -> Iterator[str]:
    yield f"{place(finding, file)}: {finding.severity}: {harmless(finding.says, MOST)} [{harmless(finding.check)}]"
    yield f"    Why: {harmless(finding.why, MOST)}"
    if finding.remedy is not None:
        yield f"    Do: {harmless(finding.remedy, MOST)}"
    if finding.limit is not None:
        yield f"    Limit: {_limit(finding)}"
    for other in folded(finding, file.findings):
        yield f"    Follows: {harmless(other.says, MOST)}"


def _limit(finding: Finding) -> str:
    limit = finding.limit
    assert limit is not None
    return f"{show(limit.value, limit.unit or 'share')}; {harmless(limit.source, MOST)}"


def _summary(report: Report) -> str:
    verdicts = [file.verdict for file in report.files]
    said = [f"{verdicts.count(verdict)} {verdict}" for verdict in dict.fromkeys(verdicts)]
    return f"{counted(len(report.files), 'file')}: {', '.join(said)}"
