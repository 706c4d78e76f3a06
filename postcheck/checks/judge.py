"""Runs every check over a survey and makes the findings ready: folded, accepted, in order, with a verdict."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from postcheck.build.models import Build
from postcheck.checks.acceptance import matching_nothing
from postcheck.checks.record import Check
from postcheck.checks.table import CHECKS
from postcheck.report import SEVERITIES, Finding, NotJudged, Verdict
from postcheck.survey import Survey

__all__ = ["DANGEROUS", "judge"]

DANGEROUS = frozenset(check.name for check in CHECKS if check.dangerous)
"""Checks whose stops cannot be accepted."""


def judge(
    survey: Survey, today: date | None = None, checks: Iterable[Check] = CHECKS
) -> tuple[tuple[Finding, ...], tuple[NotJudged, ...], Verdict]:
    """All findings with stops first, what could not be judged with vital things first, and the verdict."""
    found: dict[str, Finding] = {}
    open_questions: dict[tuple[str, str], NotJudged] = {}
    for check in checks:
        for result in check.judge(survey) if check.judge is not None else ():
            if isinstance(result, NotJudged):
                open_questions.setdefault((result.subject, result.what), result)
            elif result.id not in found:
                found[result.id] = result
    for subject, what, missing, vital in survey.parts.unknown:
        open_questions.setdefault((subject, what), NotJudged(subject, what, missing, vital))
    findings = [_unfolded(finding, found) for finding in found.values()]
    findings += matching_nothing(survey.build, found, today or date.today())
    findings = _accepted(survey.build, findings, today or date.today())
    findings.sort(
        key=lambda finding: (SEVERITIES.index(finding.severity), finding.check, finding.subject.name)
    )
    unjudged = sorted(
        open_questions.values(), key=lambda question: (not question.vital, question.subject, question.what)
    )
    return tuple(findings), tuple(unjudged), _verdict(findings, unjudged)


def _unfolded(finding: Finding, found: dict[str, Finding]) -> Finding:
    """A finding whose cause was not found stands on its own."""
    if finding.because_of is not None and finding.because_of not in found:
        return replace(finding, because_of=None)
    return finding


def _accepted(build: Build, findings: list[Finding], today: date) -> list[Finding]:
    reasons = {
        accept.finding: accept.reason
        for accept in build.accept
        if accept.until is None or accept.until >= today
    }
    return [
        replace(finding, accepted=reasons[finding.id])
        if finding.id in reasons and not (finding.severity == "stop" and finding.check in DANGEROUS)
        else finding
        for finding in findings
    ]


def _verdict(findings: Iterable[Finding], unjudged: Iterable[NotJudged]) -> Verdict:
    weights = {finding.severity for finding in findings if finding.accepted is None}
    if "stop" in weights:
        return "stop"
    if any(question.vital for question in unjudged):
        return "incomplete"
    return "caution" if "caution" in weights else "clear"
