"""Remedies as the lines of the file that change, and what came of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Protocol

from postcheck.renderers.order import arrange
from postcheck.renderers.words import counted, question_words, safe
from postcheck.report import FileReport, Finding


class _Line(Protocol):
    @property
    def number(self) -> int: ...
    @property
    def old(self) -> str | None: ...
    @property
    def new(self) -> str | None: ...


def step(finding: Finding, lines: Iterable[_Line]) -> str:
    """A remedy: what is wrong, what to do, and each line as it stands and as it becomes."""
    rows = [safe(f"{finding.severity.capitalize()}: {finding.says}"), safe(f"  Do: {finding.remedy}")]
    for line in lines:
        if line.old is not None:
            rows.append(f"  line {line.number}:  {safe(line.old)}")
        if line.new is not None:
            word = "becomes" if line.old is not None else f"new behind line {line.number - 1}"
            rows.append(f"    {word}:  {safe(line.new)}")
    return "".join(f"{row}\n" for row in rows) + "\n"


def summary(
    report: FileReport,
    file: str,
    taken: int,
    *,
    written: bool,
    left: bool,
    by_hand: Mapping[str, tuple[str, ...]] = MappingProxyType({}),
) -> str:
    """What was done, and how the file stands now; `by_hand`: by findings, the lines that could not be put into the file."""
    done = f"{counted(taken, 'remedy')}" if taken != 1 else "1 remedy"
    done = done.replace("remedys", "remedies")
    what = (
        f"Wrote {done} into {file}." if written else f"Nothing written: {done} left out." if left and taken
        else "Nothing written." if left or not taken else f"{done.capitalize()} would go into {file}; nothing written."
    )  # fmt: skip
    open_still = [
        finding for finding in report.findings if finding.accepted is None and finding.severity != "note"
    ]
    asked = [question for question in arrange(report).questions if question.vital]
    by_you = open_still or asked
    rest = [f"It is {report.verdict} then" + (", and this is left for your own hand:" if by_you else ".")]
    for finding in open_still:
        rest.append(safe(f"  {finding.severity.capitalize()}: {finding.says}"))
        if finding.id in by_hand:
            rest.append("    Type where its table stands:")
            rest += [safe(f"      {line}") for line in by_hand[finding.id]]
    rest += [f"  Not judged, vital: {question_words(question)}" for question in asked]
    return "".join(f"{row}\n" for row in (what, *rest))
