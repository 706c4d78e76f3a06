"""What the proposers of opposites are made of: changes in the words of the check itself."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from postcheck.description.problems import Path
from postcheck.description.units import Dimension
from postcheck.remedies.proposal import Change, Proposal, Proposer, in_words_of, quantity, set_to
from postcheck.report import Finding
from postcheck.survey import Survey


def by_words(changes: Callable[[Survey, Finding], Iterator[tuple[Change, ...]]]) -> Proposer:
    """Proposals in the words of the check itself."""

    def propose(survey: Survey, finding: Finding) -> Iterator[Proposal]:
        if finding.remedy is not None:
            for some in changes(survey, finding):
                yield from in_words_of(finding, *some)

    return propose


def set_here(value: object, *key: str) -> Proposer:
    """One value at the finding's own path, or under another key of that table."""
    return by_words(lambda _, finding: iter([(set_to(beside(finding, *key), value),)]))


def as_figured(name: str, dimension: Dimension, *key: str) -> Proposer:
    """A figure of the finding, as shown in it, at the finding's own path."""

    def changes(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
        if name in finding.figures:
            value = finding.figures[name].value
            yield (quantity(beside(finding, *key), value, dimension),)

    return by_words(changes)


def beside(finding: Finding, *key: str) -> Path:
    """A finding's own path, or another key of that table."""
    return (*finding.path[:-1], *key) if key else finding.path


def all_of(changes: Iterable[Change | None]) -> Iterator[tuple[Change, ...]]:
    """All of them, once each, where each can be written."""
    found = list(changes)
    known = {change.path: change for change in found if change is not None}
    if known and len(known) == len({change and change.path for change in found}):
        yield tuple(known.values())
