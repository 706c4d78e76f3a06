"""The whole way of one build: survey, findings, remedies, report; and positions joined at the edge."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime
from typing import TYPE_CHECKING, get_args

from postcheck.checks.causes import settled
from postcheck.checks.judge import Judgement, judge
from postcheck.checks.past_figures import without_figures
from postcheck.checks.table import CHECKS
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.description.problems import BuildError, Path
from postcheck.limits import Limits
from postcheck.plain import no_such
from postcheck.reading.instead import what_ifs
from postcheck.reading.instead import where as place_of
from postcheck.report import (
    SEVERITIES,
    ChangedLimit,
    Edit,
    Effort,
    FileReport,
    Finding,
    NotJudged,
    Report,
    Stage,
    Subject,
    Typed,
    Where,
    rank,
)
from postcheck.reported import ReportedMargin
from postcheck.survey import Survey
from postcheck.taken import takes
from postcheck.wiring.doors import takes_build

if TYPE_CHECKING:
    from postcheck.checks.fact import Within
    from postcheck.checks.record import Check
    from postcheck.description.positions import Span
    from postcheck.materials import Materials
    from postcheck.pictured import BorePicture
    from postcheck.sheet import Sheet

__all__ = ["check", "no_such_place", "parts_list", "pictures", "sheet_of", "unreadable"]


def check(
    build: Build, *, stage: Stage | None = None, today: date | None = None, remedies: bool = True,
    effort: Effort = "quick", closing: Iterable[str] = (), checks: Iterable[Check] = (),
) -> Report:  # fmt: skip
    """Judge a build: a report whose only file is that of the build.

    `stage` overrides the build's own; `today` counts for test records, and for acceptances that end. `effort`: "quick", or
    "long" for twenty times the work on how passages are packed (less beyond 40 wires). `closing`: places that are about
    to be closed, whatever the stage. `checks`: those of your own, judged after postcheck's; what one of them raises comes
    through.

    Without `remedies` none is worked out or tried, which takes a fraction of the time where there would be many. The same is
    found, with the same severities, verdict and figures. What only a trial shows is missing: a `remedy` with its `edits`,
    where a check does not say it itself, and which finding follows from another (`because_of`, and the order by it), where
    no rule of a check says so.

    BuildError for a build that was changed since it was read into one that no file could say, such as a copy without a lamp that a
    test record names. ValueError for a place that is not there, another stage or effort, a check whose name is taken or that gives a finding
    of another.
    """
    takes_build("check", build)
    closing = (closing,) if isinstance(closing, str) else tuple(closing)
    own = _usable(checks)
    report = _judged(build, stage, today, effort, closing, own, remedies=remedies)
    return Report((report,), tuple(check.rule for check in own))


def _usable(checks: Iterable[Check]) -> tuple[Check, ...]:
    checks = tuple(checks)
    if not checks:
        return ()
    from postcheck.checks.own import usable  # noqa: PLC0415 - few have any

    return usable(checks)


def _judged(
    build: Build, stage: Stage | None, today: date | None, effort: Effort, closing: tuple[str, ...],
    own: tuple[Check, ...], *, remedies: bool,
) -> FileReport:  # fmt: skip
    """The report, with line and column of each finding where the text of the build is known."""
    _one_of("stage", stage or "planning", get_args(Stage))
    _one_of("effort", effort, get_args(Effort))
    if closing:
        if problem := no_such_place(build, closing):
            raise ValueError(problem)
        stage = "closing"
    if isinstance(today, datetime):
        today = today.date()
    if today is not None and not isinstance(today, date):
        raise TypeError(f"today is a date, not {type(today).__name__}")
    survey = Survey(build, Limits(limit_changes(build)[0]), stage, effort, closing, today)
    checks = (*CHECKS, *own)
    judged = judge(survey, checks)
    findings, unjudged = judged.findings, judged.not_judged
    if findings and remedies:
        from postcheck.remedies.table import STAGES  # noqa: PLC0415
        from postcheck.trial import with_remedies  # noqa: PLC0415 - a sound build needs no remedies

        findings = with_remedies(survey, findings, unjudged, STAGES, checks, judged.compared)
    findings = tuple(without_figures(survey, settled(findings)))
    return FileReport(
        build.file, judged.verdict, _placed(build, findings), _asked_at(build, unjudged), {**survey.figures, "margins": _margins(judged.nearest)},
        build.build.name, survey.stage, _changed_limits(survey, findings, checks),
        what_ifs(build), judged.nothing,
    )  # fmt: skip


def _changed_limits(
    survey: Survey, findings: Iterable[Finding], checks: tuple[Check, ...]
) -> tuple[ChangedLimit, ...]:
    """The limits that the file changes, each with what it hides: the build is judged anew with each as it was."""
    changes, build = limit_changes(survey.build)[0], survey.build
    now = {finding.id: rank(finding) for finding in findings}
    found = []
    for name, (value, reason) in changes.items():
        others = Limits({other: change for other, change in changes.items() if other != name})
        before = judge(survey.again(limits=others), checks).findings
        hides = (finding.id for finding in before if rank(finding) < now.get(finding.id, len(SEVERITIES)))
        row = others[name]
        index = next(index for index, change in enumerate(build.limit) if change.name == name)
        unit = row.unit or ("share" if row.dimension == "share" else "")
        where = place_of(build, ("limit", index))
        found.append(ChangedLimit(name, value, row.value, unit, reason, tuple(hides), where))
    return tuple(found)


def _margins(nearest: Mapping[str, Within]) -> Mapping[str, ReportedMargin]:
    return {
        check: {
            "kind": one.subject.kind,
            "subject": one.subject.name,
            "value": one.value,
            "limit": one.limit.value,
            "unit": one.limit.unit,
            "limit_name": one.limit.name,
            "used": one.used,
        }
        for check, one in nearest.items()
    }


def _one_of(what: str, given: str, known: tuple[str, ...]) -> None:
    if given not in known:
        raise ValueError(f"{what} is one of {', '.join(known)}; not {given!r}")


def no_such_place(build: Build, closing: Iterable[str]) -> str | None:
    """What is wrong with the places that are to be closed, None where all are there."""
    return next((no_such("place", name, build.place) for name in closing if name not in build.place), None)


def pictures(
    build: Build, passages: Iterable[str] | None = None, effort: Effort = "quick"
) -> tuple[BorePicture, ...]:
    """The bores of these passages (the post is `post`), or of all, each with what lies in it, to be drawn.

    ValueError, with the name that was probably meant, for a passage that is not there.
    """
    from postcheck.survey.post.pictures import bore_picture  # noqa: PLC0415 - a check draws nothing

    takes_build("pictures", build)
    survey = Survey(build, Limits(limit_changes(build)[0]), effort=effort)
    judged = judge(survey)
    names = tuple(
        survey.passages if passages is None else (passages,) if isinstance(passages, str) else passages
    )
    for name in names:
        if name not in survey.passages:
            raise ValueError(no_such("passage", name, survey.passages))
    drawn = (bore_picture(survey.wiring, survey.passages[name], survey.limits) for name in names)
    return tuple(replace(_with_verdict(picture, build, judged), what_if=what_ifs(build)) for picture in drawn)


def _with_verdict(picture: BorePicture, build: Build, judged: Judgement) -> BorePicture:
    """The picture with what the checks of passages say of this one: a drawing of the bundle says nothing of plugs and joints."""
    name = picture.passage
    plugs = {plug.name for plug in build.plug if name in plug.through}
    about = Subject("passage", name)
    return replace(
        picture,
        findings=tuple(
            finding
            for finding in judged.findings
            if finding.check.startswith("passage.") and about in (finding.subject, *finding.parts.values())
        ),
        not_judged=tuple(
            question
            for question in judged.not_judged
            if question.subject == name or (question.subject in plugs and f"'{name}'" in question.what)
        ),
    )


def sheet_of(
    build: Build,
    parts: Iterable[str] = (),
    *,
    stage: Stage | None = None,
    today: date | None = None,
    effort: Effort = "quick",
) -> Sheet:
    """What is printed for the wall: these parts (names of `postcheck.sheet.PARTS`), or all of them.

    ValueError for a part, stage or effort that there is not.
    """
    from postcheck.sheet import PARTS  # noqa: PLC0415

    takes_build("sheet_of", build)
    parts = (parts,) if isinstance(parts, str) else tuple(parts)
    for part in parts:
        _one_of("a part of the sheet", part, tuple(PARTS))
    _one_of("stage", stage or "planning", get_args(Stage))
    _one_of("effort", effort, get_args(Effort))
    from postcheck.survey.sheet import sheet_of as put_together  # noqa: PLC0415 - a check prints none

    survey = Survey(build, Limits(limit_changes(build)[0]), stage, effort, today=today)
    judged = judge(survey)
    limits = _changed_limits(survey, judged.findings, CHECKS)
    drawn = put_together(survey, set(parts), judged.verdict, judged.findings, limits)
    bores = tuple(_with_verdict(picture, build, judged) for picture in drawn.bores)
    return replace(drawn, bores=bores, what_if=what_ifs(build))


def parts_list(build: Build) -> Materials:
    """What has to be cut for a build, and what is needed, with what `[stock]` has of it taken off."""
    from postcheck.survey.sheet.buy import materials  # noqa: PLC0415 - a check counts none

    takes_build("parts_list", build)
    return materials(Survey(build, Limits(limit_changes(build)[0])))


def unreadable(error: BuildError) -> FileReport:
    """The report of a file that cannot be read as a build: each problem is a finding under `file.*`."""
    takes("unreadable", error, BuildError)
    findings = tuple(
        Finding(
            problem.check,
            "stop",
            Subject("file", problem.about or _counted(problem.path) or error.file),
            problem.says,
            "The file cannot be judged until this is put right.",
            problem.path,
            remedy=problem.hint,
            lines=problem.lines,
            where=Where(error.file, problem.line, problem.column or 1) if problem.line is not None else None,
        )
        for problem in error.problems
    )
    return FileReport(error.file, "unreadable", findings)


def _counted(path: Path) -> str:
    """A path as `--with` takes it: positions count from 1."""
    return ".".join(str(step + 1) if isinstance(step, int) else step for step in path)


def _placed(build: Build, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    if build.text is None or not findings:
        return findings
    from postcheck.description.positions import find, line_column, locate  # noqa: PLC0415 - a sound build has none

    text = build.text
    # what is typed for an edit may depend on anything around it
    spans = locate(text, None if any(one.edits for one in findings) else (one.path for one in findings))
    placed = []
    for finding in findings:
        where = Where(build.file, *line_column(text, find(spans, finding.path).key_start))
        edits = finding.edits
        if edits and not build.changes:  # what was tried on a changed build is not proven to cure the file
            edits = tuple(_typed(text, spans, edit) for edit in edits)
        placed.append(replace(finding, where=where, edits=edits))
    return tuple(placed)


def _asked_at(build: Build, questions: tuple[NotJudged, ...]) -> tuple[NotJudged, ...]:
    """The questions, each with the place where the file says something of its subject, or of the table that its answer goes into."""
    if build.text is None or not questions:
        return questions
    from postcheck.description.positions import find, line_column, locate  # noqa: PLC0415 - a clear build asks little
    from postcheck.description.subjects import paths_by_name  # noqa: PLC0415

    text, named = build.text, paths_by_name(build)
    # the key that the answer changes, or the table that it goes into
    paths = [
        ((*one.under, one.lines[0].partition(" = ")[0]) if one.under and one.lines else one.under)
        or named.get(one.subject, ())
        for one in questions
    ]
    spans = locate(text, paths)
    return tuple(
        replace(
            one,
            where=Where(build.file, *line_column(text, find(spans, path).key_start)) if path else None,
        )
        for one, path in zip(questions, paths, strict=True)
    )


def _typed(text: str, spans: Mapping[tuple[str | int, ...], Span], edit: Edit) -> Edit:
    """The edit with what is to be typed for it."""
    from postcheck.description.edits import replacement  # noqa: PLC0415
    from postcheck.description.positions import line_column  # noqa: PLC0415

    put = None if edit.value is None else replacement(text, spans, edit.path, edit.value)
    if put is None:
        from postcheck.description.rewriting import Put, one_change  # noqa: PLC0415

        put = one_change(text, spans, Put(edit.path, edit.value))
    if put is None:
        return edit
    (line, column), (end_line, end_column) = line_column(text, put.start), line_column(text, put.end)
    return replace(edit, typed=Typed(line, column, end_line, end_column, put.text))
