"""The order in which people are told: causes with their consequences, the heaviest first."""

from collections.abc import Iterable
from typing import NamedTuple

from postcheck.report import SEVERITIES, FileReport, Finding, NotJudged, Severity, Where, rank


class Group(NamedTuple):
    """A finding and what follows from it, however indirectly."""

    cause: Finding
    consequences: tuple[Finding, ...]

    @property
    def weight(self) -> Severity:
        """The heaviest severity in the group: a caution may cause a stop."""
        return min((finding.severity for finding in (self.cause, *self.consequences)), key=SEVERITIES.index)


class OpenQuestion(NamedTuple):
    """One thing that was not judged for one reason, and all the subjects of which that is true."""

    subjects: tuple[str, ...]
    what: str
    missing: str
    vital: bool
    tables: tuple[str, ...] = ()
    """Whole tables that would answer it, line by line."""
    where: Where | None = None
    """What the file says of the first of them."""


class Arranged(NamedTuple):
    """What one file's report tells, in the order in which it is told."""

    groups: tuple[Group, ...]
    accepted: tuple[Finding, ...]
    questions: tuple[OpenQuestion, ...]

    def count(self, severity: Severity) -> int:
        """The number of groups of this weight."""
        return sum(group.weight == severity for group in self.groups)

    @property
    def vital(self) -> int:
        """The number of vital things that were not judged."""
        return sum(len(question.subjects) for question in self.questions if question.vital)


def arrange(file: FileReport) -> Arranged:
    """Fold consequences under their causes and gather open questions. Nothing is dropped.

    A finding whose cause was accepted, or is not in the report, stands on its own; so does the first of a ring.
    """
    live = tuple(finding for finding in file.findings if finding.accepted is None)
    groups = sorted(_groups(live), key=lambda group: SEVERITIES.index(group.weight))
    accepted = tuple(finding for finding in file.findings if finding.accepted is not None)
    return Arranged(tuple(groups), accepted, tuple(_questions(file.not_judged)))


def _groups(live: tuple[Finding, ...]) -> Iterable[Group]:
    first: dict[str, int] = {}
    for index, finding in enumerate(live):
        first.setdefault(finding.id, index)
    roots: dict[int, int] = {}
    for index in range(len(live)):
        trail: list[int] = []
        at = index
        while at not in roots:
            if at in trail:  # a ring: its first member stands for the cause
                roots[min(trail[trail.index(at) :])] = at = min(trail[trail.index(at) :])
                break
            trail.append(at)
            cause = first.get(live[at].because_of or "", at)
            if cause == at:
                roots[at] = at
                break
            at = cause
        roots.update(dict.fromkeys(trail, roots[at]))
    folded: dict[int, list[Finding]] = {root: [] for root in sorted(set(roots.values()))}
    for index, finding in enumerate(live):
        if roots[index] != index:
            folded[roots[index]].append(finding)
    for root, consequences in folded.items():
        consequences.sort(key=rank)
        yield Group(live[root], tuple(consequences))


def _questions(not_judged: Iterable[NotJudged]) -> Iterable[OpenQuestion]:
    subjects: dict[tuple[bool, str, str], dict[str, None]] = {}
    tables: dict[tuple[bool, str, str], list[str]] = {}
    where: dict[tuple[bool, str, str], Where | None] = {}
    for question in not_judged:
        key = (not question.vital, question.what, question.missing)
        subjects.setdefault(key, {})[question.subject] = None
        where.setdefault(key, question.where)
        if question.lines and not question.under:
            typed = tables.setdefault(key, [])
            typed += [*([""] if typed else []), *question.lines]
    for not_vital in (False, True):
        for (lesser, what, missing), names in subjects.items():
            if lesser == not_vital:
                lines = tuple(tables.get((lesser, what, missing), ()))
                yield OpenQuestion(
                    tuple(names), what, missing, not lesser, lines, where[lesser, what, missing]
                )
