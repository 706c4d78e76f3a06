"""What of a finding's sentences its data explain: what is left over is a number or a name that nothing stands for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

import tomli

from postcheck import catalogue
from postcheck.checks.shown import HOURS, TENTHS, shown, shown_apart
from postcheck.plain import harmless, quoted
from postcheck.report import Figure, Finding, Subject

# Numbers that are names, or belong to the public source that is quoted.
CONSTANTS = {
    "UL 4200A": "the standard for products with button and coin cells",
    "16 CFR 1263": "the US rule that takes it in",
    "E24": "a series of preferred values, IEC 60063",
    "E96": "a series of preferred values, IEC 60063",
}
# So many parts of a list may be named before "and 2 more".
NAMED = (1, 2, 3, 8)
_NAME = re.compile(r"(?<!\w)'[^']+'(?!\w)")
# a digit that does not end a word (mm2): what is left of a number
_NUMBER = re.compile(r"(?<![A-Za-z])\d[\d.,]*")


def unexplained(finding: Finding, text: str) -> list[str]:
    """Numbers and quoted names in a text of a finding that are no figure, limit, part or word of it."""
    for name in sorted(_names(finding), key=len, reverse=True):
        text = text.replace(name, "_")
    for word in sorted([*finding.words.values(), *CONSTANTS], key=len, reverse=True):
        text = re.sub(rf"(?<!\w){re.escape(harmless(word))}(?!\w)", "_", text)
    for spelt in sorted(_spellings(finding), key=len, reverse=True):
        text = re.sub(rf"(?<![\w.,]){re.escape(spelt)}(?!\w|[.,]\d)", "_", text)
    return [*_NAME.findall(text), *_NUMBER.findall(text)]


def unexplained_in_remedy(finding: Finding, build: str) -> list[str]:
    """Numbers in the remedy of a finding that stand in none of its figures, edits and lines, and not where an edit is made."""
    known = [*_spellings(finding), *finding.lines, *finding.words.values(), *catalogue.names("wire")]
    known += [shown(figure) for figure in finding.remedy_figures.values()]
    document = tomli.loads(build)
    for edit in finding.edits or ():
        known += [edit.value or "", str(_at(document, edit.path))]
    numbers = {number for text in known for number in _numbers(text)}
    text = finding.remedy or ""
    for name in _names(finding):
        text = text.replace(name, "_")
    return [number for number in _numbers(text) if number not in numbers]


def _at(document: Any, path: Iterable[str | int]) -> Any:
    """What stands in a document at a path; nothing where there is none."""
    for step in path:
        if step == "+":  # a new entry of a list
            return ""
        if isinstance(document, dict if isinstance(step, str) else list):
            document = document.get(step, "") if isinstance(document, dict) else document[int(step)]
    return document


def _numbers(text: str) -> list[str]:
    return re.findall(r"(?<![A-Za-z])\d+(?:\.\d+)?", text)


def parts_of(finding: Finding) -> list[Subject]:
    """All parts that a finding has in its data."""
    more = [[part] if isinstance(part, Subject) else [*part] for part in finding.parts.values()]
    return [finding.subject, *(part for parts in more for part in parts)]


def _names(finding: Finding) -> Iterator[str]:
    for part in parts_of(finding):
        yield quoted(part.name)
        yield quoted(part.name, 200)


def _spellings(finding: Finding) -> set[str]:
    """All ways in which the numbers of a finding are spelt; of a list of parts, how many more there are."""
    figures = list(finding.figures.values())
    if finding.limit is not None:
        figures.append(Figure(finding.limit.value, finding.limit.unit))
    lists = [parts for parts in finding.parts.values() if isinstance(parts, tuple)]
    found = {str(len(parts) - named) for parts in lists for named in NAMED if len(parts) > named}
    for figure in figures:
        found |= {shown(figure), shown(figure, {"s": HOURS, "m": TENTHS}.get(figure.unit, ""))}
    for unit in {figure.unit for figure in figures}:
        alike = [figure for figure in figures if figure.unit == unit]
        if unit in ("A", "V", "W", "ohm", "m", "rad", "Hz", "share", "s", "K", "N", "degC", ""):
            found.update(spelt for one in alike for other in alike for spelt in shown_apart([one, other]))
            found.update(shown_apart(alike))
    return found
