"""Runs every check over a survey and makes the findings ready: folded, accepted, in order, with a verdict."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import replace
from math import isfinite
from types import MappingProxyType
from typing import NamedTuple

from postcheck.checks.causes import fought, in_order, unfolded
from postcheck.checks.closing import open_cautions
from postcheck.checks.fact import Within
from postcheck.checks.no_figures import folded
from postcheck.checks.occasions import nothing_to_judge
from postcheck.checks.record import Check
from postcheck.checks.table import CHECKS
from postcheck.checks.waivers import matching_nothing, never, not_counting, with_acceptances
from postcheck.checks.wording import open_question
from postcheck.limits import Limits
from postcheck.report import SEVERITIES, Figure, Finding, NotJudged, Subject, Verdict, rank
from postcheck.survey import Survey


class Judgement(NamedTuple):
    """All findings in the order of the report, what could not be judged with vital things first, and the verdict.

    `nearest`: of each check that found nothing but compared something, what came nearest to its limit; what is not all
    there yet does not count.
    """

    findings: tuple[Finding, ...]
    not_judged: tuple[NotJudged, ...]
    verdict: Verdict
    nearest: Mapping[str, Within]
    compared: Mapping[str, Within] = MappingProxyType({})
    """Of each check that compared something, found or not, what uses up most of its limit."""
    nothing: tuple[str, ...] = ()
    """The checks that had nothing to judge."""


def judge(survey: Survey, checks: Sequence[Check] = CHECKS) -> Judgement:
    """The judgement of a survey: each check runs once."""
    found: dict[str, Finding] = {}
    open_questions: dict[tuple[str, str], NotJudged] = {}
    nearest: dict[str, Within] = {}
    compared: dict[str, Within] = {}
    heard: dict[str, None] = {}
    for check in checks:
        passed, most, near = True, 0.0, -1.0
        closest: Within | None = None
        result = None
        for result in check.heard(survey):
            if isinstance(result, Within):
                used = result.used
                if used >= most:
                    compared[check.name], most = result, used
                if used > near and result.kept and _counts(survey, result):
                    closest, near = result, used
            elif isinstance(result, NotJudged):
                open_questions.setdefault((result.subject, result.what), result)
            else:
                passed = False
                if result.id not in found:
                    found[result.id] = replace(result, says=_sentence(result.says))
        if result is not None:
            heard[check.name] = None
        if passed and closest is not None:
            nearest[check.name] = closest
    for one in survey.parts.unknown:
        asked = NotJudged(one.subject, one.what, one.missing, one.vital, lines=one.lines, under=one.under)
        open_questions.setdefault((one.subject, one.what), asked)
    findings = [unfolded(finding, found) for finding in folded(survey, fought(found))]
    findings, unscoped = _in_scope(findings)
    open_questions.update({(question.subject, question.what): question for question in unscoped})
    findings = _weighed(survey, findings, checks)
    questions = [*open_questions.values()]
    unjudged = sorted(
        _not_hidden(survey, findings, questions, checks),
        key=lambda question: (not question.vital, question.subject, question.what),
    )
    return Judgement(
        in_order(findings), tuple(unjudged), _verdict(findings, unjudged), nearest, compared,
        nothing_to_judge(survey, checks, (*heard, *(finding.check for finding in findings))),
    )  # fmt: skip


def _counts(survey: Survey, within: Within) -> bool:
    """Whether what is compared has figures that mean something."""
    about = (within.subject.kind, within.subject.name)
    return isfinite(within.value) and about not in survey.wiring.lacking and about not in survey.beyond.fates


def _in_scope(findings: Sequence[Finding]) -> tuple[list[Finding], list[NotJudged]]:
    """The findings without those that follow from a supply beyond the scope, and an open question instead of them."""
    causes = {finding.id: finding for finding in findings if finding.check == "scope.volts"}
    left_out = {finding.because_of for finding in findings if finding.because_of in causes}
    asked = [
        open_question(
            cause.subject.name,
            "whatever is fed by it, for its volts are beyond this program",
            'a supply of no more than {limit}, such as volts = "12 V"',
            vital=True,
            figures={"limit": Figure(cause.limit.value, cause.limit.unit)} if cause.limit is not None else {},
        )
        for name, cause in causes.items()
        if name in left_out
    ]
    return [finding for finding in findings if finding.because_of not in causes], asked


def _not_hidden(
    survey: Survey, findings: Sequence[Finding], questions: Sequence[NotJudged], checks: Sequence[Check]
) -> list[NotJudged]:
    """The open questions, and what a changed limit hides though it can burn or is vital: that does not make a build clear."""
    changed = frozenset(name for name, limit in survey.limits.items() if limit.changed is not None)
    if not changed:
        return list(questions)
    before = judge(survey.again(limits=Limits()), checks)
    now = {finding.id: rank(finding) for finding in findings}
    faulty = {finding.subject.name for finding in findings if finding.accepted is None}
    vital = {(question.subject, question.case or question.what) for question in questions if question.vital}
    asked = {
        (question.subject, question.case or question.what): question
        for question in before.not_judged
        if question.vital and question.subject not in faulty
    }
    kept = [question for key, question in asked.items() if key not in vital]
    same = {(question.subject, question.case or question.what) for question in kept}
    dangerous = frozenset(check.name for check in checks if check.dangerous)
    hidden = (
        finding
        for finding in before.findings
        if never(finding, dangerous) and now.get(finding.id, len(SEVERITIES)) > rank(finding)
    )
    return [
        *(
            question
            for question in questions
            if (question.subject, question.case or question.what) not in same
        ),
        *kept,
        *(_hidden(finding, changed, checks) for finding in hidden),
    ]


def _hidden(finding: Finding, changed: Container[str], checks: Sequence[Check]) -> NotJudged:
    read = next(check.limits for check in checks if check.name == finding.check)
    names = tuple(Subject("limit", name) for name in read if name in changed)
    return open_question(
        finding.subject.name,
        "whether {finding} can be left: it destroys parts or can start a fire, and is hidden by"
        + (" {limits} as this file changes it" if names else " a limit that this file changes"),
        "the build changed so that it is well by the limit as it was",
        vital=True,
        parts={"finding": Subject("finding", finding.id), **({"limits": names} if names else {})},
    )


def _sentence(says: str) -> str:
    """A whole sentence begins with a capital; a wire, a number or a quoted name stays as it is written."""
    first = says.partition(" ")[0]
    return says[:1].upper() + says[1:] if first.isalpha() else says


def _weighed(survey: Survey, findings: list[Finding], checks: Sequence[Check]) -> list[Finding]:
    """The findings, with accepted ones marked, and the findings about the waivers themselves."""
    build, today = survey.build, survey.today
    dangerous = frozenset(check.name for check in checks if check.dangerous)
    findings = with_acceptances(build, findings, today, dangerous)
    findings += with_acceptances(build, open_cautions(survey, findings), today, dangerous)
    found = {finding.id: finding for finding in findings}
    refused = {finding.id for finding in findings if never(finding, dangerous)}
    families = {check.name.partition(".")[0] for check in checks}
    known = {*found, *_no_longer_told(survey, found, checks)}
    about_waivers = [
        *matching_nothing(build, known, today, survey.closing, families),
        *not_counting(build, found, refused, today),
    ]
    return [*findings, *with_acceptances(build, about_waivers, today, dangerous)]


def _no_longer_told(survey: Survey, found: Mapping[str, Finding], checks: Sequence[Check]) -> frozenset[str]:
    """What is not looked at any more once something is closed, but was there to be accepted before."""
    if not survey.closing or all(accept.finding in found for accept in survey.build.accept):
        return frozenset()
    before = judge(Survey(survey.build, survey.limits, "wiring", survey.effort, today=survey.today), checks)
    return frozenset(finding.id for finding in before.findings)


def _verdict(findings: Iterable[Finding], unjudged: Iterable[NotJudged]) -> Verdict:
    weights = {finding.severity for finding in findings if finding.accepted is None}
    if "stop" in weights:
        return "stop"
    if any(question.vital for question in unjudged):
        return "incomplete"
    return "caution" if "caution" in weights else "clear"
