"""Looks for a wiring that every check passes, the cheapest first; then takes back what it needs not.

A draft that does not pass is changed by the remedies of what was found on it, as far as they touch only what the plan
chose itself and the shelf has. Each change is a new candidate; the cheapest is taken first, and where that goes on and on,
every second one is the one with least in its way.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from heapq import heappop, heappush
from itertools import islice
from typing import Any, NamedTuple

from postcheck.checks.judge import Judgement, judge
from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, Lead
from postcheck.description.problems import Path
from postcheck.planner.bettering import BETTERS
from postcheck.planner.brightening import apart, hoped, more_light, nearer
from postcheck.planner.clock import Clock
from postcheck.planner.cost import dimmed_by_heat
from postcheck.planner.draft import Draft, sharing
from postcheck.planner.finish import RatingsAndFuses, finished, ratings_and_fuses
from postcheck.planner.held import Held, held
from postcheck.planner.moves import as_wanted, excess, moves_for, moves_for_question
from postcheck.planner.shelf import on_the_shelf
from postcheck.remedies.proposal import MORE, Change, changed
from postcheck.report import Finding, NotJudged
from postcheck.survey import Survey
from postcheck.wiring.refused import wiring_problems

# How many candidates are taken by their cost alone before the hopeful ones get their turn; and how many more are looked at,
# each cheaper than the one that passes, once there is one.
PATIENCE, MOST_AFTER = 6, 12
# Candidates that come from one draft and are checked in full, proposals heard for a finding, and ways on from a candidate.
MOST_OF_A_DRAFT = 40
# Drafts that heat dims which are made as bright as they may be, beside the best one.
HOPES = 3
PROPOSALS = 4
WAYS_ON = 8


@dataclass(frozen=True)
class Tried:
    """A candidate with its judgement: what still stands in the way, none where it passes."""

    draft: Draft
    build: Build
    judgement: Judgement
    cost: tuple[Any, ...]

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
        """What a clear build has to answer."""
        return tuple(question for question in self.judgement.not_judged if question.vital)

    @property
    def passes(self) -> bool:
        """Whether it is clear, and a file that says it would be read."""
        return self.judgement.verdict == "clear" and not wiring_problems(self.build)


class _Candidate(NamedTuple):
    """A draft that waits. `way`: what stands in the way of the one that it was changed from, and its place among such changes."""

    cost: tuple[Any, ...]
    way: tuple[float, ...]
    root: int
    draft: Draft


class _Queue:
    """Candidates in two orders: the cheapest first, and the one with least in its way first. Of equal ones the latest first.

    So a way that was begun is followed to its end. The ways on from one candidate come in with the first of them last.
    """

    def __init__(self) -> None:
        self.by_cost: list[tuple[tuple[Any, ...], int, _Candidate]] = []
        self.by_way: list[tuple[tuple[float, ...], tuple[Any, ...], int, _Candidate]] = []
        self.seen: set[Build] = set()
        self.taken: set[int] = set()
        self.count = 0

    def __bool__(self) -> bool:
        return len(self.taken) < self.count

    def add(self, one: _Candidate) -> None:
        """A candidate, unless the like of it has been there."""
        if one.draft.build in self.seen:
            return
        self.seen.add(one.draft.build)
        number = self.count
        self.count += 1
        order = number if one.way == (0, 0) else -number
        heappush(self.by_cost, (one.cost, order, one))
        heappush(self.by_way, (one.way, one.cost, order, one))

    def take(self, *, hopeful: bool) -> _Candidate | None:
        """The next one, None where none waits."""
        heap: list[Any] = self.by_way if hopeful else self.by_cost
        while heap:
            *_, order, one = heappop(heap)
            if order not in self.taken:
                self.taken.add(order)
                return one  # type: ignore[no-any-return]
        return None


@dataclass
class Search:
    """One search. `checks`: how many candidates may be checked in full, as long as the `clock` runs.

    `cost`: what is to be small; `aims`: what was asked for first of it. `best`: the candidate with least in its way so far.
    `any_will_do`: the first that passes ends it, and nothing is bettered or taken back. `counts_only`: only its conductors
    matter, and neither its light nor what else could be better. `held`: of the lamps that heat
    dimmed and that were tried brighter, by their paths, why they could not be.
    """

    survey: Survey
    cost: Callable[[Draft], tuple[Any, ...]]
    checks: int
    clock: Clock
    progress: Callable[[int], None] | None = None
    aims: Sequence[str] = ()
    any_will_do: bool = False
    counts_only: bool = False
    used: int = 0
    broken_off: bool = False
    best: Tried | None = None
    known: dict[Build, Tried] = field(default_factory=dict)
    guess: RatingsAndFuses | None = None
    latest: Survey | None = None
    held: dict[Path, Held] = field(default_factory=dict)

    @property
    def left(self) -> bool:
        """Whether more may be checked."""
        return self.used < self.checks and self.clock.runs

    def run(self, drafts: Iterable[Draft]) -> Tried | None:
        """The cheapest candidate that was found to pass; None where none was. Ctrl-C ends it with what there is."""
        passing: Tried | None = None
        try:
            for passing in self._passing(drafts):  # noqa: B007 - the last one counts
                pass
        except KeyboardInterrupt:
            self.broken_off = True
        return passing

    def _passing(self, drafts: Iterable[Draft]) -> Iterator[Tried]:
        """The first candidate that passes, and then each that is better."""
        queue, drafts = _Queue(), tuple(drafts)
        for root, draft in enumerate(drafts):
            queue.add(_Candidate(self.cost(draft), (0, 0), root, draft))
        best: Tried | None = None
        spent, tries, since = Counter[int](), 0, 0
        while self.left and since < MOST_AFTER:
            # the cheapest first; where that goes on and on, every second one is the one that has least in its way
            hopeful = best is None and tries >= PATIENCE and tries % 2 == 1
            one = queue.take(hopeful=hopeful)
            if one is None or (best is not None and not one.cost < best.cost):
                break
            if spent[one.root] >= MOST_OF_A_DRAFT:
                continue
            spent[one.root] += 1
            tries += 1
            since += best is not None
            tried = self.tried(one.draft)
            if tried.passes:
                yield tried
                if self.any_will_do:
                    return
                if best is None or tried.cost < best.cost:
                    best = tried
                continue
            weight = _weight(tried)
            if self.best is None or weight < _weight(self.best):
                self.best = tried
            if not self.clock.runs:  # what proposes surveys the build as well
                self.broken_off = True
                return
            for position, on in reversed(list(enumerate(self._ways_on(tried)))):
                queue.add(_Candidate(self.cost(on), (*weight[:-1], position), one.root, on))
        if best is None:
            self.broken_off = bool(queue) and not self.left
            return
        best = self._settled(best)
        yield best
        if self.counts_only:
            return
        best = self._brightened(best)
        yield best
        for best in self._better_once_bright(best, drafts):  # noqa: B020 - the last one counts
            yield best
        yield from self._bettered(best)

    def tried(self, draft: Draft) -> Tried:
        """A draft finished and judged."""
        if draft.build not in self.known:
            self.used += 1
            if self.progress is not None:
                self.progress(self.used)
            with self.clock.step():
                self.latest = at = finished(draft, self.survey, self.guess)
                self.guess = ratings_and_fuses(at.build)
                self.known[draft.build] = Tried(draft, at.build, judge(at), self.cost(draft))
        return self.known[draft.build]

    def _survey_of(self, tried: Tried) -> Survey:
        """What was computed for a candidate, as long as it is the latest."""
        if self.latest is not None and self.latest.build is tried.build:
            return self.latest
        return self.survey.again(tried.build)

    # -- ways on

    def _ways_on(self, tried: Tried) -> Iterator[Draft]:
        """Drafts that change what was found: all at once first, then one finding in another way, then each alone."""
        at = self._survey_of(tried)
        choices: list[list[tuple[Change, ...]]] = []
        roots = roots_of(tried.blocks)
        heard = [*(moves_for(at, one) for one in roots), *(moves_for_question(at, one) for one in tried.asks)]
        for moves in heard:
            allowed = (
                kept
                for changes in moves
                if all(tried.draft.may_change(change.path) for change in changes)
                and (kept := on_the_shelf(tried.draft.wish, changes)) is not None
            )
            if some := list(dict.fromkeys(islice(allowed, 2 * PROPOSALS)))[:PROPOSALS]:
                choices.append(some)
        if not choices:
            return
        firsts = [some[0] for some in choices]
        combined = [_merged(firsts)]
        for position, some in enumerate(choices):
            combined += [_merged([*firsts[:position], other, *firsts[position + 1 :]]) for other in some[1:]]
        if len(firsts) > 1:
            combined += firsts
        for changes in combined[:WAYS_ON]:
            draft = self._changed(tried, changes)
            # what is wanted stays: no lamp is left out to cure the others
            if _lamps(draft) == _lamps(tried.draft):
                yield replace(draft, build=as_wanted(at, draft.build, draft.planned))

    def _changed(self, tried: Tried, changes: Sequence[Change]) -> Draft:
        """The draft with some changes; a supply whose fuse or rating is among them keeps what it has got since."""
        draft = tried.draft
        before = len(draft.build.run)
        touched = {
            change.path[1]: tried.build.supply[str(change.path[1])]
            for change in changes
            if change.path[0] == "supply"
        }
        build = draft.build.model_copy(update={"supply": FrozenDict({**draft.build.supply, **touched})})
        build = sharing(changed(build, changes), draft.wish)
        more = {("run", number) for number in range(before, len(build.run))}
        return replace(draft, build=build, open=draft.open | more)

    # -- what was not needed after all

    def _settled(self, tried: Tried) -> Tried:
        """A candidate that passes, with all taken back that was changed on the way and need not have been."""
        for back in _taken_back(tried.draft):
            if not self.left:
                break
            other = self.tried(replace(tried.draft, build=sharing(back(tried.draft.build), tried.draft.wish)))
            if other.passes and other.cost <= tried.cost:
                tried = other
        return tried

    def _brightened(self, tried: Tried) -> Tried:
        """A candidate that passes, with what heat dimmed as bright as it may be: a draft reckons on the safe side with it.

        First what the file wants of a lamp. Not where what that costs, heat and perhaps another value, was asked for first.
        """
        going = self._brightens
        refused, since = set[tuple[Change, ...]](), False
        while going:
            going = False
            for changes in self._brighter(tried):
                if changes in refused:
                    continue
                if not self.left:
                    return tried
                other = self.tried(self._changed(tried, changes))
                if other.passes and _no_note_more(other, tried):
                    tried, going, since = other, True, bool(refused)
                    break
                refused.add(changes)
                self.held |= held(tried.draft.build, other.draft.build, roots_of(other.blocks), other.asks)
            if not going and since:  # what was refused beside darker lamps may do beside these
                refused, since, going = set(), False, True
        return tried

    def _better_once_bright(self, best: Tried, drafts: Iterable[Draft]) -> Iterator[Tried]:
        """Of drafts that heat dims those that are better than the `best` so far as soon as they are as bright as they may be."""
        if not self._brightens:
            return
        brighter = ((number, draft, hoped(draft)) for number, draft in enumerate(drafts))
        hopes = [(self.cost(then), number, draft) for number, draft, then in brighter if then is not None]
        for hope, _, draft in sorted(hopes, key=lambda row: row[:2])[:HOPES]:
            if not self.left or not hope < best.cost:
                return
            before, self.held = self.held, {}
            one = self.tried(draft)
            if one.passes and (one := self._brightened(one)).cost < best.cost:
                best = one
                yield best
            else:
                self.held = before

    @property
    def _brightens(self) -> bool:
        """Whether more light is looked for: not where what it costs was asked for first."""
        return not {"heat", "drop", "kinds"} & set(self.aims)

    def _brighter(self, tried: Tried) -> Iterator[tuple[Change, ...]]:
        """A lamp nearer to what is wanted of it, then more light for those that heat dimmed: at last for some that share a value alone.

        A value more is for a clear step of light, not within one.
        """
        draft, at = tried.draft, self._survey_of(tried)
        yield from nearer(draft, at)
        dimmed = dimmed_by_heat(draft, self.survey.limits)
        if not dimmed:
            return
        for changes in more_light(at, dimmed):
            if (kept := on_the_shelf(draft.wish, changes)) is not None:
                yield kept
        for steps in apart(at, dimmed):
            for changes in steps:
                kept = on_the_shelf(draft.wish, changes)
                if kept is not None and self.cost(self._changed(tried, kept)) < tried.cost:
                    yield kept
                    break

    # -- what was asked for first

    def _bettered(self, tried: Tried) -> Iterator[Tried]:
        """Candidates that pass, each better than the one before in what was asked for."""
        going = True
        while going:
            going = False
            for aim, changes in self._betters(tried):
                if not self.left:
                    return
                draft = self._changed(tried, changes)
                if draft.build in self.known or not self.cost(draft) < tried.cost:
                    continue
                other = self.tried(draft)
                if other.passes and (aim in self.aims or _no_note_more(other, tried)):
                    tried, going = other, True
                    yield tried
                    break

    def _betters(self, tried: Tried) -> Iterator[tuple[str, tuple[Change, ...]]]:
        at = self._survey_of(tried)
        # drafts have few kinds of themselves, and as many resistors at their lamps as is safe; what was changed on the way may be otherwise
        more = ("bench", "kinds") if tried.draft.build != tried.draft.first else ("bench",)
        for aim in dict.fromkeys((*self.aims, *more)):
            for changes in BETTERS[aim](at) if aim in BETTERS else ():
                if all(tried.draft.may_change(change.path) for change in changes):
                    kept = on_the_shelf(tried.draft.wish, changes)
                    if kept is not None:
                        yield aim, kept


def _no_note_more(one: Tried, than: Tried) -> bool:
    """Whether a candidate has no finding more than another: lamps that should look alike still do."""
    return len(one.judgement.findings) <= len(than.judgement.findings)


def _lamps(draft: Draft) -> list[int]:
    """How many lamps each entry has."""
    return [lamp.series * lamp.parallel for lamp in draft.build.lamp]


def passes(survey: Survey) -> bool:
    """Whether a finished wiring is clear, and a file that says it would be read."""
    return not wiring_problems(survey.build) and judge(survey).verdict == "clear"


def _taken_back(draft: Draft) -> Iterator[Callable[[Build], Build]]:
    """Steps back towards the first draft: each run's wire, each lamp's resistor, lead and strings."""
    first = draft.first
    for number, run in enumerate(draft.build.run[: len(first.run)]):
        if run != first.run[number]:
            yield partial(_with, section="run", number=number, value=first.run[number])
    for number, lamp in enumerate(draft.build.lamp):
        before = first.lamp[number]
        if lamp != before:
            yield partial(_with, section="lamp", number=number, value=before)
            if lamp.lead != before.lead:
                yield partial(_with_lead, number=number, lead=before.lead)


def _with_lead(build: Build, number: int, lead: Lead | None) -> Build:
    return _with(build, "lamp", number, build.lamp[number].model_copy(update={"lead": lead}))


def _with(build: Build, section: str, number: int, value: object) -> Build:
    rows = getattr(build, section)
    return build.model_copy(update={section: (*rows[:number], value, *rows[number + 1 :])})


def _weight(tried: Tried) -> tuple[int, int, int, float, tuple[Any, ...]]:
    """How far a candidate is from passing: what is wanted counts first, so that what is told is why that cannot be had."""
    dark = sum(finding.check == "lamp.not-as-wanted" for finding in tried.blocks)
    stops = sum(finding.severity == "stop" for finding in tried.blocks)
    over = sum(excess(finding) for finding in tried.blocks)
    return dark, stops, len(tried.blocks) + len(tried.asks), round(over, 2), tried.cost


def roots_of(blocks: Sequence[Finding]) -> list[Finding]:
    """The findings that no other one causes; of two that cause each other both."""
    causes = {one.id: one.because_of for one in blocks}
    return [
        one for one in blocks if one.because_of not in causes or causes.get(one.because_of or "") == one.id
    ]


def _merged(all_changes: Iterable[tuple[Change, ...]]) -> tuple[Change, ...]:
    """Several changes as one; of two values for one path the first, and of two ways to put lamps into strings that one whole."""
    found: dict[object, Change] = {}
    strung: set[Path] = set()
    for changes in all_changes:
        lamps = {change.path[:2] for change in changes if change.path[-1] in ("series", "parallel")}
        if lamps & strung:
            continue
        strung |= lamps
        for change in changes:
            found.setdefault((change.path, change.value) if change.path[-1] == MORE else change.path, change)
    return tuple(found.values())
