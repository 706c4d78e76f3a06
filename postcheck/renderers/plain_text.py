"""Plain text for pipes, hooks and logs: never wrapped; one finding begins with path:line:column."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from postcheck.renderers.order import Group, arrange
from postcheck.renderers.words import (
    at,
    clear_lines,
    limit_change,
    limit_words,
    place,
    plan_offered,
    question_words,
    safe,
    summary,
    verdict_words,
    what_if_words,
)
from postcheck.report import FileReport, Report

# ECMA-48 (SGR): bold red, yellow, cyan, as in the terminal view
_PAINTED = {
    "stop": "\x1b[1;31mstop\x1b[0m",
    "caution": "\x1b[33mcaution\x1b[0m",
    "note": "\x1b[36mnote\x1b[0m",
}


def render(report: Report, *, colour: bool = False, quiet: bool = False) -> str:
    """The report as lines of text; a clear build is one line. Colour marks the weights, and moves nothing.

    `quiet`: the clear builds share a line, and all are named by their files.
    """
    painted = _PAINTED if colour else {}
    files = [file for file in report.files if not quiet or file.verdict != "clear"]
    lines = [line for file in files for line in _file(file, painted, by_file=quiet)]
    if quiet:
        lines += clear_lines(report)
    if len(report.files) != 1:
        lines.append(summary(report))
    return "\n".join(lines) + "\n"


def _file(file: FileReport, painted: Mapping[str, str], *, by_file: bool = False) -> Iterator[str]:
    arranged = arrange(file)
    name = safe(file.file, 4096)
    for group in arranged.groups:
        yield from _group(group, file, painted)
    for finding in arranged.accepted:
        yield f"{place(finding, file)}  accepted {finding.severity}  {safe(finding.says)} Reason: {safe(finding.accepted or '')}"
        yield f"    Name: {safe(finding.id)}"
    for limit in file.limits:
        yield f"{at(limit.where, file)}  changed limit  {limit_change(limit)}"
    for one in file.what_if:
        yield f"{at(one.where, file)}  what if  {what_if_words([one])}"
    for question in arranged.questions:
        yield f"{at(question.where, file)}  not judged{', vital' if question.vital else ''}  {question_words(question)}"
        yield from (f"    {safe(line)}".rstrip() for line in question.tables)
    if (offered := plan_offered(file)) is not None:
        yield f"{name}  {offered}"
    named = safe(file.name, 80) if file.name.strip() and not by_file else name
    yield f"{named}: {verdict_words(file, arranged)}"


def _group(group: Group, file: FileReport, painted: Mapping[str, str]) -> Iterator[str]:
    finding = group.cause
    yield f"{place(finding, file)}  {painted.get(finding.severity, finding.severity)}  {safe(finding.says)}"
    yield f"    Why: {safe(finding.why)}"
    if finding.remedy is not None:
        yield f"    Do: {safe(finding.remedy)}"
        yield from (f"        {safe(line)}".rstrip() for line in finding.lines)
    if finding.limit is not None:
        yield f"    Limit: {limit_words(finding.limit)}"
    yield f"    Name: {safe(finding.id)}"
    stops = [other for other in group.consequences if other.severity == "stop"]
    for other in group.consequences:
        if other not in stops:
            yield f"    Follows, {painted.get(other.severity, other.severity)}: {safe(other.says)}"
            yield f"        Name: {safe(other.id)}"
    for other in stops:  # each has a line of its own, with its place
        yield f"{place(other, file)}  {painted.get('stop', 'stop')}  {safe(other.says)}"
        yield f"    Follows from: {safe(finding.id)}"
        yield f"    Name: {safe(other.id)}"
