"""Flags on conductors that look alike."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.colours import COLOURS, spelt
from postcheck.remedies.lead_spec import flagged
from postcheck.remedies.opposites.by_words import all_of, by_words
from postcheck.remedies.proposal import Change, Proposer, set_to
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.bench.ends import ConductorEnd


def _flags(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A flag on the supply leg of each lead."""
    owners = finding.parts.get("owners")
    names = {owner.name for owner in owners} if isinstance(owners, tuple) else set()
    parts = [part for part in survey.parts.every if part.name in names]
    yield tuple({change.path: change for part in parts if (change := flagged(part, "feed", "+"))}.values())


def _flagged_ends(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A flag with the name of its line on every end that looks so, but for those of one line."""
    colour, wire = finding.words["colour"], finding.words.get("wire")
    alike = [
        end for end in survey.ends
        if end.place == finding.subject.name and end.net and colour_of(end) == colour and wire in (None, end.wire)
    ]  # fmt: skip
    first = alike[0].net if alike else ""
    yield from all_of(_flag(survey, end, end.net) for end in alike if end.net != first)


def _flagged_spares(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A flag on each conductor in reserve."""
    spares = finding.parts["spares"]
    named = {one.name for one in spares} if isinstance(spares, tuple) else set()
    yield from all_of(set_to((*run.path, "label"), "spare") for run in survey.parts.runs if run.name in named)


def _flagged_sides(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A flag with its side on each conductor of the side that has fewer of the colour."""
    sides: dict[bool, dict[str, ConductorEnd]] = {True: {}, False: {}}
    for end in survey.ends:
        if end.positive is not None and colour_of(end) == finding.subject.name:
            sides[end.positive].setdefault(f"{end.kind} {end.leg} {end.name}", end)
    few = len(sides[True]) < len(sides[False])
    yield from all_of(_flag(survey, end, "+" if few else "-") for end in sides[few].values())


def _flag(survey: Survey, end: ConductorEnd, label: str) -> Change | None:
    if end.kind == "run":
        return set_to((*end.path[:2], "label"), label)
    part = survey.parts.named.get(end.name) if end.leg else None
    if part is None:
        return None
    return flagged(part, "feed" if end.leg == "supply" else "back", label)


def colour_of(end: ConductorEnd) -> str:
    """The colour as the findings name it."""
    return COLOURS.get(spelt(end.colour), end.colour)


OPPOSITES: dict[str, Proposer] = {
    "lead.same-legs": by_words(_flags),
    "ends.alike": by_words(_flagged_ends),
    "ends.spare": by_words(_flagged_spares),
    "colour.both-poles": by_words(_flagged_sides),
}
