"""The terminal view: one calm screen. Rich is loaded here and nowhere else.

Words come before symbols and nothing is told by colour alone. Every text is a `Text` object, so that a name from
the file is never read as markup.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import TYPE_CHECKING

from postcheck.faces.figures import show
from postcheck.faces.streams import ascii_words
from postcheck.faces.words import counted, folded, place, standing, verdict_line
from postcheck.plain import harmless
from postcheck.report import FileReport, Finding, Report

if TYPE_CHECKING:
    from rich.text import Text

__all__ = ["render"]

MOST = 2000
BAR = 24
_STYLES = {"stop": "bold red", "caution": "yellow", "note": "cyan"}
_VERDICT_STYLES = {
    "clear": "bold",
    "incomplete": "bold yellow",
    "caution": "bold yellow",
    "stop": "bold red",
    "unreadable": "bold red",
}

# One line: (indent, style, text); the indent hangs when the text wraps.
Line = tuple[int, str, str]


def render(report: Report, *, width: int = 80, colour: bool = True, ascii: bool = False) -> str:  # noqa: A002 - the plain word for it
    """The report for a terminal `width` characters wide."""
    from rich.console import Console  # noqa: PLC0415 - costs 40 ms, which a hook must not pay
    from rich.padding import Padding  # noqa: PLC0415
    from rich.text import Text  # noqa: PLC0415

    out = io.StringIO()
    console = Console(
        file=out, width=width, force_terminal=colour, no_color=not colour, color_system="standard" if colour else None,
        highlight=False, markup=False, emoji=False, legacy_windows=False,
    )  # fmt: skip
    for number, file in enumerate(report.files):
        if number:
            console.print()
        for indent, style, words in _lines(file, width):
            text: Text = Text(ascii_words(words) if ascii else words, style=style, overflow="fold")
            console.print(Padding(text, (0, 0, 0, indent)))
    shown = out.getvalue()
    return "\n".join(line.rstrip() for line in shown.split("\n"))


def _lines(file: FileReport, width: int) -> Iterator[Line]:
    yield 0, _VERDICT_STYLES[file.verdict], verdict_line(file)
    yield from _bars(file, width)
    yield from _passages(file)
    findings = standing(file.findings)
    for finding in findings:
        yield 0, "", ""
        yield from _finding(finding, file)
    yield from _accepted(file)
    if file.not_judged:
        yield 0, "", ""
        yield 0, "bold", "Not judged"
        for question in file.not_judged:
            vital = "vital: " if question.vital else ""
            yield (
                2,
                "",
                f"{vital}{harmless(question.what, MOST)} of '{harmless(question.subject)}': {harmless(question.missing, MOST)} is missing",
            )
    if len(findings) > 3:
        yield 0, "", ""
        yield 0, _VERDICT_STYLES[file.verdict], verdict_line(file)


def _bars(file: FileReport, width: int) -> Iterator[Line]:
    for name, row in file.figures.get("supplies", {}).items():
        highest, nominal, rated = row.get("highest"), row.get("nominal"), row.get("rated")
        if not isinstance(highest, float) or not isinstance(nominal, float):
            continue
        words = f"Supply '{harmless(name)}': {show(nominal, 'A')}, at most {show(highest, 'A')}"
        if not isinstance(rated, float) or rated <= 0:
            yield 0, "", f"{words}; its rating is not known"
            continue
        words += f" of {show(rated, 'A')}"
        share = min(1.0, highest / rated)
        filled = round(share * BAR)
        bar = f"[{'█' * filled}{'░' * (BAR - filled)}] {highest / rated * 100:.0f} %"
        if len(words) + len(bar) + 2 <= width:
            yield 0, "", f"{words}  {bar}"
        else:
            yield 0, "", words
            yield 2, "", bar


def _passages(file: FileReport) -> Iterator[Line]:
    for name, row in file.figures.get("passages", {}).items():
        fill, bore, smallest = row.get("fill"), row.get("bore"), row.get("smallest_bore")
        if isinstance(fill, float) and isinstance(bore, float) and isinstance(smallest, float):
            title = "Post" if name == "post" else f"Passage '{harmless(name)}'"
            if smallest <= 0:
                yield 0, "", f"{title}: nothing lies in its {show(bore, 'm')} bore"
            else:
                yield (
                    0,
                    "",
                    f"{title}: {fill * 100:.0f} % full; the bundle needs {show(smallest, 'm')} of the {show(bore, 'm')} bore",
                )


def _finding(finding: Finding, file: FileReport) -> Iterator[Line]:
    yield 0, _STYLES[finding.severity], f"{finding.severity.capitalize()}: {harmless(finding.says, MOST)}"
    yield 2, "", harmless(finding.why, MOST)
    if finding.remedy is not None:
        yield 2, "bold", f"Do: {harmless(finding.remedy, MOST)}"
    for other in folded(finding, file.findings):
        yield 2, "", f"It follows: {harmless(other.says, MOST)}"
    yield 2, "dim", f"{place(finding, file)}, {harmless(finding.check)}"


def _accepted(file: FileReport) -> Iterator[Line]:
    accepted = [finding for finding in file.findings if finding.accepted is not None]
    if accepted:
        yield 0, "", ""
        yield 0, "bold", f"Accepted ({counted(len(accepted), 'finding')})"
        for finding in accepted:
            yield 2, "", f"{harmless(finding.says, MOST)} Reason: {harmless(finding.accepted or '', MOST)}"
