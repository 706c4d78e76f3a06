"""The whole way of one build: survey, findings, remedies, report; and positions joined at the edge."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from postcheck.build.edits import replacement
from postcheck.build.limits import limit_changes
from postcheck.build.models import Build
from postcheck.build.positions import Span, find, line_column, locate
from postcheck.build.problems import BuildError
from postcheck.checks.judge import judge, settled
from postcheck.limits import Limits
from postcheck.plain import nearest, quoted
from postcheck.report import BorePicture, Edit, FileReport, Finding, Report, Subject, Typed, Where
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.sheet import Sheet

__all__ = ["check", "check_one", "no_such_place", "pictures", "sheet", "unreadable"]


def check(
    build: Build, *, stage: str | None = None, today: date | None = None, effort: str = "quick",
    closing: Iterable[str] = (),
) -> Report:  # fmt: skip
    """Judge a build. `stage` overrides the build's own; `today` counts for proofs, and for acceptances that end.

    `closing`: places that are about to be closed, each as the file says that it is got at later; ValueError for one that is not there. `effort`: "quick",
    or "long" for twenty times the work on how passages are packed (less beyond 40 wires).
    """
    return Report((check_one(build, stage=stage, today=today, effort=effort, closing=closing),))


def check_one(
    build: Build, *, stage: str | None = None, today: date | None = None, effort: str = "quick",
    closing: Iterable[str] = (),
) -> FileReport:  # fmt: skip
    """The report of one build, with line and column of each finding where its text is known."""
    closing = tuple(closing)
    if closing:
        if problem := no_such_place(build, closing):
            raise ValueError(problem)
        stage = "closing"
    survey = Survey(build, Limits(limit_changes(build)[0]), stage, effort, closing, today)
    findings, unjudged, verdict = judge(survey)
    if findings:
        from postcheck.proof import with_remedies  # noqa: PLC0415 - a sound build needs no remedies
        from postcheck.remedies.table import STAGES  # noqa: PLC0415

        findings = settled(with_remedies(survey, findings, unjudged, STAGES))
    return FileReport(
        build.file, verdict, tuple(_placed(build, findings)), unjudged, survey.figures,
        build.build.name, survey.stage,
    )  # fmt: skip


def no_such_place(build: Build, closing: Iterable[str]) -> str | None:
    """What is wrong with the places that are to be closed, None where all are there."""
    for name in closing:
        if name not in build.place:
            near = nearest(name, build.place)
            hint = f"did you mean {quoted(near)}?" if near else f"it has {_several(list(build.place))}"
            return f"there is no place {quoted(name)}; {hint}"
    return None


def _several(names: list[str]) -> str:
    listed = ", ".join(map(quoted, names[:8]))
    return (f"{listed} and {len(names) - 8} more" if len(names) > 8 else listed) or "no places at all"


def pictures(build: Build, passages: Iterable[str], effort: str = "quick") -> tuple[BorePicture, ...]:
    """The bores of these passages (the post is `post`), each with what lies in it, to be drawn."""
    from postcheck.survey.pictures import bore_picture  # noqa: PLC0415 - a check draws nothing

    survey = Survey(build, Limits(limit_changes(build)[0]), effort=effort)
    return tuple(bore_picture(survey, name) for name in passages)


def sheet(
    build: Build,
    parts: Iterable[str] = (),
    *,
    stage: str | None = None,
    today: date | None = None,
    effort: str = "quick",
) -> Sheet:
    """What is printed for the wall: these parts (names of `postcheck.sheet.PARTS`), or all of them."""
    from postcheck.survey.sheet import sheet_of  # noqa: PLC0415 - a check prints none

    survey = Survey(build, Limits(limit_changes(build)[0]), stage, effort, today=today)
    findings, _, verdict = judge(survey)
    return sheet_of(survey, set(parts), verdict, findings)


def unreadable(error: BuildError) -> FileReport:
    """The report of a file that cannot be read as a build: each problem is a finding under `file.*`."""
    findings = tuple(
        Finding(
            problem.check,
            "stop",
            Subject("file", ".".join(map(str, problem.path)) or error.file),
            problem.says,
            "The file cannot be judged until this is put right.",
            problem.path,
            remedy=problem.hint,
            where=Where(error.file, problem.line, problem.column or 1) if problem.line is not None else None,
        )
        for problem in error.problems
    )
    return FileReport(error.file, "unreadable", findings)


def _placed(build: Build, findings: Iterable[Finding]) -> Iterable[Finding]:
    if build.text is None:
        yield from findings
        return
    spans = None
    for finding in findings:
        if spans is None:
            spans = locate(build.text)
        span = find(spans, finding.path)
        line, column = line_column(build.text, span.key_start)
        edits = finding.edits and tuple(_typed(build.text, spans, edit) for edit in finding.edits)
        yield replace(finding, where=Where(build.file, line, column), edits=edits)


def _typed(text: str, spans: Mapping[tuple[str | int, ...], Span], edit: Edit) -> Edit:
    """The edit with what is to be typed for it."""
    put = replacement(text, spans, edit.path, edit.value)
    if put is None:
        return edit
    (line, column), (end_line, end_column) = line_column(text, put.start), line_column(text, put.end)
    return replace(edit, typed=Typed(line, column, end_line, end_column, put.text))
