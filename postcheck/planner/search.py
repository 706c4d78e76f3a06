"""Looks for the first wiring that every check passes, the cheapest first.

A draft that does not pass is changed by the remedies of what was found on it, as far as they touch only what the plan
chose itself. Each change is a new candidate; candidates wait in the order of their cost.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from heapq import heappop, heappush
from itertools import islice
from time import monotonic

from postcheck.checks.judge import Judgement, judge
from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build
from postcheck.planner.cost import Cost, cost_of
from postcheck.planner.draft import Draft
from postcheck.planner.finish import finished
from postcheck.planner.moves import moves_for, moves_for_question
from postcheck.remedies.proposal import MORE, Change
from postcheck.report import Finding, NotJudged
from postcheck.survey import Survey
from postcheck.trial import changed

# Candidates that are checked in full before a draft is given up, and ways on from each that are kept.
MOST_CHECKS = 40
WAYS_ON = 6
PROPOSALS = 3


@dataclass(frozen=True)
class Tried:
    """A candidate with its judgement: what still stands in the way, none where it passes."""

    draft: Draft
    build: Build
    judgement: Judgement
    cost: Cost

    @property
    def blocks(self) -> tuple[Finding, ...]:
        """The findings that a plan must not have."""
        return tuple(
            finding
            for finding in self.judgement.findings
            if finding.severity != "note" and finding.accepted is None
        )

    @property
    def asks(self) -> tuple[NotJudged, ...]:
        """What only the file can say, and a clear build needs."""
        return tuple(question for question in self.judgement.not_judged if question.vital)

    @property
    def passes(self) -> bool:
        """Whether it is clear."""
        return self.judgement.verdict == "clear"


@dataclass
class Budget:
    """How many candidates may still be checked, and until when (seconds of `time.monotonic`)."""

    checks: int
    until: float
    used: int = 0

    @property
    def left(self) -> bool:
        """Whether there is any left."""
        return self.used < self.checks and monotonic() < self.until


def search(draft: Draft, wish: Build, survey: Survey, budget: Budget) -> Tried | None:
    """The first candidate that passes; else the one with least in its way. None where the budget allowed no check."""
    queue: list[tuple[Cost, int, Draft]] = [(cost_of(draft.build), 0, draft)]
    seen: set[Build] = {draft.build}
    best: Tried | None = None
    count = 0
    for _ in range(MOST_CHECKS):
        if not queue or not budget.left:
            break
        cost, _, draft = heappop(queue)
        budget.used += 1
        tried = _judged(draft, wish, survey, cost)
        if best is None or _weight(tried) < _weight(best):
            best = tried
        if tried.passes:
            return tried
        for on in _ways_on(tried, survey):
            if on.build not in seen:
                seen.add(on.build)
                count += 1
                heappush(queue, (cost_of(on.build), -count, on))
    return best


def _judged(draft: Draft, wish: Build, survey: Survey, cost: Cost) -> Tried:
    build = finished(draft, wish, survey)
    return Tried(draft, build, judge(survey.again(build)), cost)


def _weight(tried: Tried) -> tuple[int, int, Cost]:
    stops = sum(finding.severity == "stop" for finding in tried.blocks)
    return stops, len(tried.blocks) + len(tried.asks), tried.cost


def _ways_on(tried: Tried, survey: Survey) -> Iterator[Draft]:
    """Drafts that change what was found: all at once first, then one finding in another way, then each alone."""
    at = survey.again(tried.build)
    choices: list[list[tuple[Change, ...]]] = []
    roots = [one for one in tried.blocks if all(one.because_of != other.id for other in tried.blocks)]
    for what in (*roots, *tried.asks):
        allowed = (
            changes
            for changes in (moves_for(at, what) if isinstance(what, Finding) else moves_for_question(at, what))
            if all(tried.draft.may_change(change.path) for change in changes)
        )
        if some := list(islice(allowed, PROPOSALS)):
            choices.append(some)
    if not choices:
        return
    firsts = [some[0] for some in choices]
    combined = [_merged(firsts)] if len(firsts) > 1 else [firsts[0]]
    for position, some in enumerate(choices):
        for other in some[1:]:
            combined.append(_merged([*firsts[:position], other, *firsts[position + 1 :]]))
    if len(firsts) > 1:
        combined += firsts
    for changes in combined[:WAYS_ON]:
        yield _changed(tried, changes)


def _merged(all_changes: Iterable[tuple[Change, ...]]) -> tuple[Change, ...]:
    """Several changes as one; of two values for one path the first."""
    found: dict[object, Change] = {}
    for changes in all_changes:
        for change in changes:
            found.setdefault((change.path, change.value) if change.path[-1] == MORE else change.path, change)
    return tuple(found.values())


def _changed(tried: Tried, changes: tuple[Change, ...]) -> Draft:
    """The draft with some changes; a supply whose fuse or rating is among them keeps what it has got since."""
    draft = tried.draft
    before = len(draft.build.run)
    touched = {change.path[1]: tried.build.supply[str(change.path[1])] for change in changes if change.path[0] == "supply"}
    build = draft.build.model_copy(update={"supply": FrozenDict({**draft.build.supply, **touched})})
    build = changed(build, changes)
    more = {("run", number) for number in range(before, len(build.run))}
    return replace(draft, build=build, open=draft.open | more)
