"""Sentences that the text faces share."""

from __future__ import annotations

from collections.abc import Sequence

from postcheck.plain import harmless
from postcheck.report import FileReport, Finding

__all__ = ["counted", "folded", "place", "standing", "verdict_line"]

_VERDICTS = {
    "clear": "clear",
    "incomplete": "incomplete: something vital is not known",
    "caution": "caution",
    "stop": "stop: do not close anything yet",
    "unreadable": "cannot be read as a build",
}


def counted(number: int, what: str) -> str:
    """`1 stop`, `3 cautions`."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def verdict_line(file: FileReport) -> str:
    """The verdict of one file in one line."""
    name = harmless(file.name or file.file)
    if file.verdict == "unreadable":
        return f"{name}: {_VERDICTS['unreadable']} ({counted(len(file.findings), 'problem')})"
    weights = [finding.severity for finding in standing(file.findings)]
    said = [
        counted(weights.count(weight), weight) for weight in ("stop", "caution", "note") if weight in weights
    ]
    accepted = sum(finding.accepted is not None for finding in file.findings)
    if accepted:
        said.append(f"{accepted} accepted")
    if file.not_judged:
        said.append(f"{len(file.not_judged)} not judged")
    return f"{name}: {_VERDICTS[file.verdict]}" + (f" ({', '.join(said)})" if said else "")


def standing(findings: Sequence[Finding]) -> list[Finding]:
    """The findings shown on their own: not accepted, not folded under their cause."""
    ids = {finding.id for finding in findings}
    return [finding for finding in findings if finding.accepted is None and finding.because_of not in ids]


def folded(finding: Finding, findings: Sequence[Finding]) -> list[Finding]:
    """What follows from a finding."""
    return [other for other in findings if other.because_of == finding.id and other.accepted is None]


def place(finding: Finding, file: FileReport) -> str:
    """path:line:column of a finding, as far as it is known."""
    if finding.where is None:
        return harmless(file.file)
    return f"{harmless(finding.where.path)}:{finding.where.line}:{finding.where.column}"
