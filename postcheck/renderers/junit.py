"""The report as JUnit XML, which nearly every CI system shows: a suite a file, a case a check.

There is no standard. It keeps to the elements and attributes of `junit-10.xsd` of Jenkins' xUnit plug-in.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from postcheck.renderers.ci import details
from postcheck.renderers.markup import Element, document, el
from postcheck.renderers.order import arrange
from postcheck.renderers.words import counted, limit_change, place, question_words, safe, what_if_words
from postcheck.report import FailOn, FileReport, Finding, NotJudged, Report


def render(report: Report, checks: Sequence[str], fail_on: FailOn = "stop") -> str:
    """The report as XML in ASCII that ends in a line break.

    `checks`: all that were run. What of a file makes the exit code 1, from `fail_on` up, fails its case; the rest is told in
    the output of a case that passes. A check that had nothing to judge is skipped. A file that cannot be read has errors and
    no cases of checks.
    """
    suites = [_suite(file, checks, file.failing(fail_on)) for file in report.files]
    sums = {name: sum(counts[name] for _, counts in suites) for name in ("tests", "failures", "errors")}
    whole = el("testsuites", *(suite for suite, _ in suites), name_="postcheck", **_words(sums))
    # ASCII, so that no stream needs another spelling
    return document(whole).encode("ascii", "xmlcharrefreplace").decode("ascii")


def _words(counts: dict[str, int]) -> dict[str, str]:
    return {name: str(count) for name, count in counts.items()}


def _suite(
    file: FileReport, checks: Sequence[str], failing: Sequence[Finding | NotJudged]
) -> tuple[Element, dict[str, int]]:
    name = safe(file.file, 4096)
    questions = arrange(file).questions
    if file.verdict == "unreadable":
        cases = [
            el("testcase", el("error", _listed(file, [finding]), message=safe(finding.says), type_=safe(finding.check)),
               classname=name, name_=safe(f"{finding.check} {place(finding, file)}", 5000))
            for finding in file.findings
        ]  # fmt: skip
    else:
        cases = list(_cases(file, checks, failing))
    rest = "\n".join(question_words(question) for question in questions if not question.vital)
    changed = "\n".join(limit_change(limit) for limit in file.limits)
    asked = what_if_words(file.what_if) if file.what_if else ""
    log = "\n".join(
        f"{title}:\n{lines}"
        for title, lines in (("What if", asked), ("Changed limits", changed), ("Not judged", rest))
        if lines
    )
    properties = [
        el("property", name_=key, value=safe(value))
        for key, value in (("verdict", file.verdict), ("build", file.name), ("stage", file.stage))
        if value
    ]
    counts = {
        "tests": len(cases),
        "failures": _count(cases, "failure"),
        "errors": _count(cases, "error"),
        "skipped": _count(cases, "skipped"),
    }
    suite = el(
        "testsuite",
        el("properties", *properties),
        *cases,
        el("system-out", log) if log else None,
        name_=name,
        **_words(counts),
    )
    return suite, counts


def _count(cases: Iterable[Element], outcome: str) -> int:
    return sum(
        any(isinstance(child, Element) and child.name == outcome for child in case.children) for case in cases
    )


def _cases(
    file: FileReport, checks: Sequence[str], failing: Sequence[Finding | NotJudged]
) -> Iterator[Element]:
    found: dict[str, list[Finding]] = {name: [] for name in checks}
    for finding in file.findings:
        found.setdefault(finding.check, []).append(finding)
    classname = safe(file.file, 4096)
    for check, findings in found.items():
        bad = [finding for finding in findings if finding in failing]
        good = [finding for finding in findings if finding not in failing]
        yield el(
            "testcase",
            el("failure", _listed(file, bad), message=_first(bad), type_=bad[0].severity) if bad else None,
            el("skipped", message="nothing to judge in this build")
            if check in file.nothing_to_judge
            else None,
            el("system-out", _listed(file, good)) if good else None,
            classname=classname,
            name_=safe(check),
        )
    vital = [question for question in arrange(file).questions if question.vital]
    if vital:
        fails = any(isinstance(question, NotJudged) for question in failing)
        listed = "\n".join(question_words(question) for question in vital)
        yield el(
            "testcase",
            el("failure" if fails else "skipped", listed, message="something vital is not known", type_="not judged"),
            classname=classname,
            name_="not-judged",
        )  # fmt: skip


def _first(findings: Sequence[Finding]) -> str:
    more = f" (and {counted(len(findings) - 1, 'finding')} more)" if len(findings) > 1 else ""
    return safe(findings[0].says) + more


def _listed(file: FileReport, findings: Iterable[Finding]) -> str:
    """The findings with all that is known of each; the first line of each begins with path:line:column."""
    lines: list[str] = []
    for finding in findings:
        lines += [f"{place(finding, file)}  {finding.severity}  {safe(finding.says)}", *details(finding)]
        if finding.because_of is not None:
            lines.append(f"It follows from: {safe(finding.because_of)}")
        lines.append(f"Name: {safe(finding.id)}")
    return "\n".join(lines)
