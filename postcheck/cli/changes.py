"""What came and went from one check of a file to the next: names of findings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from postcheck.plain import first_few
from postcheck.renderers.order import arrange
from postcheck.renderers.words import safe
from postcheck.report import FileReport

_NAMED = 2  # findings named of those that came or went


class Changes(NamedTuple):
    """What came and went from one check to the next: names of findings."""

    gone: list[str]
    new: list[str]
    accepted: list[str]

    def __add__(self, others: Changes) -> Changes:  # type: ignore[override]
        """Both together."""
        return Changes(*(one + other for one, other in zip(self, others, strict=True)))

    def words(self) -> str:
        """The same in a line or two."""
        said = [
            f"{title}: {_listed(names)}."
            for title, names in (("Gone", self.gone), ("New", self.new), ("Accepted", self.accepted))
            if names
        ]
        return " ".join(said) or "No finding came or went."


def _listed(names: Sequence[str]) -> str:
    return first_few([safe(name, 60) for name in names], _NAMED)


class _Told(NamedTuple):
    """The names of a report's findings, each with whether it is accepted, and those that others follow from or none."""

    accepted: dict[str, bool]
    causes: frozenset[str]

    @property
    def open(self) -> list[str]:
        """Those that are not accepted."""
        return [name for name, accepted in self.accepted.items() if not accepted]

    def short(self, names: list[str]) -> list[str]:
        """Of these the causes, for what follows comes and goes with them; all where no cause is among them."""
        return [name for name in names if name in self.causes] or names


class Known:
    """The findings that were told of each file, to tell what is new.

    While a file cannot be read its findings are not gone: they are kept, and its mistakes stand beside them.
    """

    def __init__(self) -> None:
        self._told: dict[str, _Told] = {}
        self._mistakes: dict[str, list[str]] = {}

    def changes(self, name: str, report: FileReport) -> Changes:
        """What this report has that the one before had not, and the other way; nothing for the first of a file."""
        mistakes = self._mistakes.get(name, [])
        if report.verdict == "unreadable":
            wrong = self._mistakes[name] = [finding.id for finding in report.findings]
            return Changes(_without(mistakes, wrong), _without(wrong, mistakes), [])
        self._mistakes.pop(name, None)
        now = _Told(
            {finding.id: finding.accepted is not None for finding in report.findings},
            frozenset(group.cause.id for group in arrange(report).groups),
        )
        before = self._told.get(name, now)
        self._told[name] = now
        return Changes(
            [*mistakes, *before.short(_without(before.open, now.accepted))],
            now.short(_without(now.open, before.open)),
            [one for one in before.open if now.accepted.get(one)],
        )

    def forget(self, name: str) -> None:
        """A file is no more."""
        self._told.pop(name, None)
        self._mistakes.pop(name, None)


def _without(names: Iterable[str], others: Iterable[str]) -> list[str]:
    known = set(others)
    return [name for name in names if name not in known]
