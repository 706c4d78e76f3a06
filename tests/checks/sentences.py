"""What of a finding's sentences its data explain: what is left over is a number or a name that nothing stands for."""

from __future__ import annotations

import re
from collections.abc import Iterator

from postcheck.checks.shown import HOURS, TENTHS, shown, shown_apart
from postcheck.plain import harmless, quoted
from postcheck.report import Figure, Finding, Subject

# Numbers that are names, or belong to the public source that is quoted.
CONSTANTS = {
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
    for unit in {figure.unit for figure in figures} - {"", "degC"}:
        alike = [figure for figure in figures if figure.unit == unit]
        if unit in ("A", "V", "W", "ohm", "m", "rad", "Hz", "share", "s", "K", "N"):
            found.update(spelt for one in alike for other in alike for spelt in shown_apart([one, other]))
            found.update(shown_apart(alike))
    return found
