"""Runs every check over a survey and makes the findings ready: folded, accepted, in order, with a verdict."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from math import isfinite
from types import MappingProxyType
from typing import NamedTuple

from postcheck.checks.closing import open_cautions
from postcheck.checks.fact import Within
from postcheck.checks.no_figures import folded
from postcheck.checks.occasions import nothing_to_judge
from postcheck.checks.record import Check
from postcheck.checks.table import CHECKS
from postcheck.checks.waivers import matching_nothing, not_counting
from postcheck.checks.wording import open_question
from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.report import SEVERITIES, Figure, Finding, NotJudged, Subject, Verdict
from postcheck.survey import Survey


class Judgement(NamedTuple):
    """All findings in the order in which they are told, what could not be judged with vital things first, the verdict.

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
    """What the checks say of a survey, each heard once."""
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
    findings = [_unfolded(finding, found) for finding in folded(survey, _fought(found))]
    findings, unscoped = _in_scope(findings)
    open_questions.update({(question.subject, question.what): question for question in unscoped})
    findings = _weighed(survey, findings, checks)
    questions = [*open_questions.values()]
    unjudged = sorted(
        _not_hidden(survey, findings, questions, checks),
        key=lambda question: (not question.vital, question.subject, question.what),
    )
    return Judgement(
        _in_order(findings), tuple(unjudged), _verdict(findings, unjudged), nearest, compared,
        nothing_to_judge(survey, checks, (*heard, *(finding.check for finding in findings))),
    )  # fmt: skip


def _counts(survey: Survey, within: Within) -> bool:
    """Whether what is compared has figures that mean something."""
    about = (within.subject.kind, within.subject.name)
    return isfinite(within.value) and about not in survey.wiring.lacking and about not in survey.beyond.fates


def _in_scope(findings: Sequence[Finding]) -> tuple[list[Finding], list[NotJudged]]:
    """The findings without those of what hangs on a supply beyond the scope, and that as an open question instead."""
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
    now = {finding.id: _weight(finding) for finding in findings}
    told = {finding.subject.name for finding in findings if finding.accepted is None}
    vital = {(question.subject, question.case or question.what) for question in questions if question.vital}
    asked = {
        (question.subject, question.case or question.what): question
        for question in before.not_judged
        if question.vital and question.subject not in told
    }
    kept = [question for key, question in asked.items() if key not in vital]
    same = {(question.subject, question.case or question.what) for question in kept}
    dangerous = frozenset(check.name for check in checks if check.dangerous)
    hidden = (
        finding
        for finding in before.findings
        if _never(finding, dangerous) and now.get(finding.id, len(SEVERITIES)) > _weight(finding)
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


def settled(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings in order, causes before their consequences; those have no remedy but that of their cause.

    Nobody looks for a stop below a caution.
    """
    linked = unlinked(findings)
    live = {finding.id: finding for finding in linked if finding.accepted is None}
    return _in_order(
        replace(finding, remedy=None, edits=None, lines=(), remedy_figures={})
        if finding.because_of in live and finding.accepted is None
        else finding
        for finding in linked
    )


def unlinked(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings, those by themselves whose cause is lighter, waived, not there, or a consequence of theirs."""
    findings = tuple(findings)
    live = {finding.id: finding for finding in findings if finding.accepted is None}
    for finding in findings:
        cause = live.get(finding.because_of or "")
        if finding.id in live and (
            cause is None or _weight(cause) > _weight(finding) or _in_ring(finding, live)
        ):
            live[finding.id] = replace(finding, because_of=None)
    return tuple(live.get(finding.id, finding) for finding in findings)


def _weight(finding: Finding) -> int:
    return SEVERITIES.index(finding.severity)


def _in_ring(finding: Finding, live: Mapping[str, Finding]) -> bool:
    """Whether a finding follows from itself."""
    seen: set[str] = set()
    cause = live.get(finding.because_of or "")
    while cause is not None and cause.id not in seen:
        if cause.id == finding.id:
            return True
        seen.add(cause.id)
        cause = live.get(cause.because_of or "")
    return False


_PLACES = {check.name: place for place, check in enumerate(CHECKS)}


def _in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Groups of a cause and its consequences by their heaviest, then in the order of the table; the cause first."""
    live = {finding.id: finding for finding in findings}
    roots = {name: _root(finding, live) for name, finding in live.items()}
    weights: dict[str, int] = {}
    for name, finding in live.items():
        weight = SEVERITIES.index(finding.severity)
        weights[roots[name]] = min(weights.get(roots[name], weight), weight)

    def place(finding: Finding) -> tuple[int, int, str]:
        return (
            SEVERITIES.index(finding.severity),
            _PLACES.get(finding.check, len(_PLACES)),
            finding.subject.name,
        )

    def key(finding: Finding) -> tuple[object, ...]:
        root = roots[finding.id]
        beyond = live[root].check != "scope.volts"  # what can hurt comes before all else
        return (weights[root], beyond, place(live[root])[1:], root, finding.id != root, place(finding))

    return tuple(sorted(live.values(), key=key))


def _root(finding: Finding, live: Mapping[str, Finding]) -> str:
    """The name of the cause of causes; that of the finding itself where it stands alone."""
    while finding.accepted is None:
        cause = live.get(finding.because_of or "")
        if cause is None or cause.accepted is not None or _in_ring(finding, live):
            break
        finding = cause
    return finding.id


# Where one supply pushes into another, what they give is no load to choose anything by.
_LOADS = frozenset(
    {"battery.overload", "converter.overload", "fuse.too-small", "supply.overload", "wire.hot"}
)


def _fought(found: Mapping[str, Finding]) -> Iterator[Finding]:
    cause = next((name for name, finding in found.items() if finding.check == "supply.backfeed"), None)
    for finding in found.values():
        follows = cause is not None and finding.check in _LOADS and finding.because_of not in found
        yield replace(finding, because_of=cause) if follows else finding


def _unfolded(finding: Finding, found: dict[str, Finding]) -> Finding:
    """A finding whose cause was not found stands on its own."""
    if finding.because_of is not None and finding.because_of not in found:
        return replace(finding, because_of=None)
    return finding


def _weighed(survey: Survey, findings: list[Finding], checks: Sequence[Check]) -> list[Finding]:
    """The findings with those that are accepted marked, and what is to be said of the acceptances themselves."""
    build, today = survey.build, survey.today
    dangerous = frozenset(check.name for check in checks if check.dangerous)
    findings = _accepted(build, findings, today, dangerous)
    findings += open_cautions(survey, findings)
    found = {finding.id: finding for finding in findings}
    refused = {finding.id for finding in findings if _never(finding, dangerous)}
    families = {check.name.partition(".")[0] for check in checks}
    known = {*found, *_no_longer_told(survey, found, checks)}
    said = [
        *matching_nothing(build, known, today, survey.closing, families),
        *not_counting(build, found, refused, today),
    ]
    return [*findings, *_accepted(build, said, today, dangerous)]


def _no_longer_told(survey: Survey, found: Mapping[str, Finding], checks: Sequence[Check]) -> frozenset[str]:
    """What is not looked at any more once something is closed, but was there to be accepted before."""
    if not survey.closing or all(accept.finding in found for accept in survey.build.accept):
        return frozenset()
    before = judge(Survey(survey.build, survey.limits, "wiring", survey.effort, today=survey.today), checks)
    return frozenset(finding.id for finding in before.findings)


def _never(finding: Finding, dangerous: frozenset[str]) -> bool:
    """Whether a finding cannot be waived: what can burn, melt or hurt, however heavy it is, but for a note."""
    if finding.severity == "note":
        return False
    return bool(finding.firm) or (finding.severity == "stop" and finding.check in dangerous)


def _accepted(
    build: Build, findings: Iterable[Finding], today: date, dangerous: frozenset[str]
) -> list[Finding]:
    reasons = {
        (accept.finding, severity): accept.reason
        for accept in build.accept
        if accept.until is None or accept.until >= today
        for severity in SEVERITIES[SEVERITIES.index(accept.up_to) :]
    }
    return [
        finding
        if (reason := reasons.get((finding.id, finding.severity))) is None or _never(finding, dangerous)
        else replace(finding, accepted=reason)
        for finding in findings
    ]


def _verdict(findings: Iterable[Finding], unjudged: Iterable[NotJudged]) -> Verdict:
    weights = {finding.severity for finding in findings if finding.accepted is None}
    if "stop" in weights:
        return "stop"
    if any(question.vital for question in unjudged):
        return "incomplete"
    return "caution" if "caution" in weights else "clear"
