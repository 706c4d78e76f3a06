"""Sentences that the text renderers share, and text of the file made safe for them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import isclose

from postcheck.plain import first_few, harmless
from postcheck.renderers.figures import show
from postcheck.renderers.order import Arranged, OpenQuestion, arrange
from postcheck.report import (
    SEVERITIES,
    ChangedLimit,
    FileReport,
    Finding,
    Limited,
    Report,
    Severity,
    WhatIf,
    Where,
)

_LONGEST = 2000  # of a sentence with several names; a name alone is cut far earlier
_PATH = 4096  # a path is not cut, so that an editor can open it

# Told apart by word and weight first; no pair of red and green.
STYLES = {
    "stop": "bold red", "unreadable": "bold red", "caution": "yellow", "incomplete": "yellow", "note": "cyan", "clear": "bold",
}  # fmt: skip
"""How each weight and verdict looks on a screen that has colours."""

_VERDICTS = {
    "clear": "clear",
    "incomplete": "incomplete: something vital is not known",
    "caution": "caution: think again before going on",
    "stop": "stop: do not close anything yet",
    "unreadable": "unreadable as a build",
}


def safe(text: str, most: int = _LONGEST) -> str:
    """Text of the file as it may be shown: nothing in it steers a terminal or speaks to the runner of a CI log.

    Runners obey a line that begins with two colons, or that holds "##[", "##vso[" or "##teamcity[" anywhere. Wrapping can
    bring any word to the beginning of a line, so words that begin with colons are parted, the rest where it stands; a colon
    that is the last word, too, for a renderer may put its own behind it.
    """
    return re.sub(r"##(?=\w*\[)", "# #", re.sub(r"(?<!\S):(?=:)|(?<!\S):$", ": ", harmless(text, most)))


def parted(text: str) -> str:
    """The text without two colons side by side."""
    return re.sub(r":(?=:)", ": ", text)


def obeyed(line: str) -> bool:
    """Whether the runner of a CI log would obey a line: a long word was cut where colons stand."""
    return line.lstrip().startswith("::")


def folded(line: str, width: int, hang: int) -> list[str]:
    """A line broken so that none is wider than `width`; what follows the first stands in by `hang`.

    East Asian letters and the like take two columns each (UAX 11).
    """
    from textwrap import wrap  # noqa: PLC0415 - a check needs it not
    from unicodedata import east_asian_width  # noqa: PLC0415

    if not line.isascii() and (wide := {sign for sign in line if east_asian_width(sign) in "WF"}):
        # each with a sign that no harmless text holds; a break between the two may cost a column
        line = line.translate({ord(sign): f"{sign}\0" for sign in wide})
        width -= 1
    lines = wrap(line, width, subsequent_indent=" " * hang, drop_whitespace=True, break_on_hyphens=False)
    lines = [one.replace("\0", "") for one in lines]
    return folded(parted(line.replace("\0", "")), width, hang) if any(map(obeyed, lines)) else lines or [""]


_CLEAR = {
    "planning": "clear for planning; closing not judged",
    "wiring": "clear for wiring; closing not judged",
    "closing": "clear for closing",
}
"""What a clear build is clear for, by the stage that it was judged for."""


def counted(number: int, what: str) -> str:
    """`1 stop`, `3 cautions`."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def verdict_words(file: FileReport, arranged: Arranged) -> str:
    """The verdict of one file in one sentence that begins with the verdict itself. A group counts once, as its heaviest."""
    if all(finding.check == "file.unreadable" for finding in file.findings) and file.verdict == "unreadable":
        return "unreadable"  # there is no such file, or it cannot be opened: no mistake is in it
    if file.verdict == "unreadable":
        return f"{_VERDICTS['unreadable']} ({counted(len(arranged.groups), 'mistake')})"
    said = [_groups(arranged, weight) for weight in SEVERITIES if arranged.count(weight)]
    if arranged.accepted:
        said.append(f"{len(arranged.accepted)} accepted")
    if arranged.questions:
        said.append(f"{sum(len(question.subjects) for question in arranged.questions)} not judged")
    if file.limits:
        said.append(counted(len(file.limits), "changed limit"))
    if file.what_if:
        said.append(f"with {counted(len(file.what_if), 'what-if')}")
    words = _CLEAR.get(file.stage, "clear") if file.verdict == "clear" else _VERDICTS[file.verdict]
    return words + (f" ({', '.join(said)})" if said else "")


def clear_lines(report: Report) -> list[str]:
    """The clear builds of a quiet report, by file, with what is told of each besides: a line a stage, mostly one."""
    lines: dict[str, list[str]] = {}
    for file in report.files:
        if file.verdict == "clear":
            words = _CLEAR.get(file.stage, "clear")
            besides = verdict_words(file, arrange(file)).removeprefix(words)
            lines.setdefault(words, []).append(safe(file.file, _PATH) + besides)
    return [f"{words[0].upper()}{words[1:]}: {', '.join(files)}" for words, files in lines.items()]


def _groups(arranged: Arranged, weight: Severity) -> str:
    """`1 stop and 3 that follow from it`: causes of this weight, and what is told under them."""
    groups = [group for group in arranged.groups if group.weight == weight]
    follow = sum(len(group.consequences) for group in groups)
    causes = counted(len(groups), weight)
    if not follow:
        return causes
    return f"{causes} and {follow} that {'follows' if follow == 1 else 'follow'} from {'it' if len(groups) == 1 else 'them'}"


def limit_change(limit: ChangedLimit) -> str:
    """A limit that the file changes, why, and what that hides."""
    was, now = (show(value, limit.unit) for value in (limit.was, limit.value))
    hides = f" It hides {', '.join(safe(name, 100) for name in limit.hides)}." if limit.hides else ""
    return f"{limit.name} is {now} instead of {was}.{hides} Reason: {safe(limit.reason)}"


def what_if_words(changes: Sequence[WhatIf]) -> str:
    """With which values a build was judged, instead of those of its file."""
    said = [f"{safe(one.key, 200)} = {safe(one.value, 200)}{_instead(one)}" for one in changes]
    return f"With {', '.join(said)}."


def _instead(change: WhatIf) -> str:
    return " (not in the file)" if change.was is None else f" instead of {safe(change.was, 200)}"


def summary(report: Report) -> str:
    """The verdicts on several files in one line."""
    verdicts = [file.verdict for file in report.files]
    said = [f"{verdicts.count(verdict)} {verdict}" for verdict in _VERDICTS if verdict in verdicts]
    return f"{counted(len(verdicts), 'file')}: {', '.join(said)}" if said else "no files"


def place(finding: Finding, file: FileReport) -> str:
    """path:line:column of a finding, as far as it is known."""
    return at(finding.where, file)


def at(where: Where | None, file: FileReport) -> str:
    """path:line:column, as far as it is known."""
    if where is None:
        return safe(file.file, _PATH)
    return f"{safe(where.path, _PATH)}:{where.line}:{where.column}"


def limit_words(limit: Limited) -> str:
    """The limit and its source. Without a unit it is a share or a count: up to 1 it is told in per cent.

    A length that five digits give exactly, as a bore of 1.998 mm, has them: what is held against it may come close.
    """
    unit = limit.unit or ("share" if abs(limit.value) <= 1.0 else "")
    exact = unit == "m" and isclose(float(f"{limit.value:.5g}"), limit.value)
    return f"{safe(show(limit.value, unit, 5 if exact else 3))}; {safe(limit.source)}"


def plan_offered(file: FileReport) -> str | None:
    """What proposes the things that are missing, where a plan would."""
    if any(question.plannable for question in file.not_judged):
        return f"`postcheck plan {safe(file.file, 4096)}` proposes what is missing."
    return None


def question_words(question: OpenQuestion, most: int | None = None) -> str:
    """Of what it was not judged, what, and what is missing; `most` names at most."""
    names = [f"'{safe(name, 60)}'" for name in question.subjects]
    return f"{first_few(names, most or len(names))}: {safe(question.what)}; missing: {safe(question.missing)}"
