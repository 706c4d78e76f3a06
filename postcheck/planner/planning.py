"""A plan: the wiring found, how good it is and why; or what stands in the way, and what would free it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from itertools import combinations, islice
from typing import NamedTuple

from postcheck.checks.judge import judge
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.description.problems import Path
from postcheck.limits import Limits
from postcheck.planned import Freed, Planned
from postcheck.planner.choices import seated, sources
from postcheck.planner.clock import Clock
from postcheck.planner.cost import AIMS, conductors, cost_of, dimmed_by_heat, tightest_first
from postcheck.planner.draft import Draft, Drafter
from postcheck.planner.frees import frees, never_fits
from postcheck.planner.laying import DraftError, Missing
from postcheck.planner.lighting import Structure
from postcheck.planner.relaxing import Changes, boards_elsewhere
from postcheck.planner.routes import Stretch, whole
from postcheck.planner.search import Search, passes
from postcheck.planner.values import resistors_of
from postcheck.planner.wires import thinnest
from postcheck.remedies.proposal import changed
from postcheck.report import Finding, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.wiring.doors import takes_build

# Candidates checked in full and seconds, for one plan, and the share of these that the search may take: what would free a
# wish, and what is tried beside a plan, have the rest.
MOST_CHECKS, MOST_SECONDS, SEARCH_SHARE = 200, 8.0, 0.7
# Candidates for each change of a wish that is tried beside a plan, and its share of the seconds.
BESIDE_CHECKS, BESIDE_SHARE = 30, 0.25
# The same of each value that would free it.
FREES_CHECKS, FREES_MOST = 8, 0.2
# Sealed places for which all choices of leads or lines are tried.
MOST_CHOICES = 4


class _Asked(NamedTuple):
    """How a plan is looked for: until when, what counts first, and how far it is where the wish does not say (`laid`)."""

    clock: Clock
    progress: Callable[[int], None] | None
    aims: Sequence[str]
    laid: Sequence[Stretch]

    def within(self, seconds: float, clock: Clock) -> _Asked:
        """The same for something beside it, in so many seconds of another clock, and without a word."""
        return self._replace(clock=Clock(seconds, clock), progress=None)


class Anew(NamedTuple):
    """What becomes of a wiring that was there: the numbers of the runs that go, and whether all stays, as nothing is better."""

    gone: frozenset[int] = frozenset()
    stays: bool = False


@dataclass(frozen=True)
class Plan:
    """What was found. `build`: the wiring that passes, None where none does.

    `least`: the fewest conductors that any wiring of these lines could have through each passage. `missing`: what the file
    has to say first; `blocks`: what stood in the way of the best candidate, `nearest`, and of these what is `proven` to;
    `asks`: questions that only the file can answer. `warm`: places that would be too warm with all resistors in them;
    `dimmed`: of each resistor whose lamp is clearly darker for that, by its lamp's path, the share of the light that was
    planned, and `held`: what allows no more, of those that were tried brighter. `checked`: candidates that were judged in
    full; `partly`: broken off. `planned`: of each resistor the ohms that were meant; `anew`: what becomes of a wiring that
    was there.
    """

    wish: Build
    build: Build | None
    least: dict[str, int]
    missing: tuple[Missing, ...] = ()
    blocks: tuple[Finding, ...] = ()
    asks: tuple[NotJudged, ...] = ()
    nearest: Build | None = None
    proven: frozenset[str] = frozenset()
    warm: frozenset[str] = frozenset()
    dimmed: Mapping[Path, float] = field(default_factory=dict)
    held: Mapping[Path, tuple[Subject, ...]] = field(default_factory=dict)
    frees: tuple[Freed, ...] = ()
    beside: tuple[Freed, ...] = ()
    checked: int = 0
    partly: bool = False
    planned: Mapping[Path, float] = field(default_factory=dict)
    anew: Anew | None = None


def plan(
    build: Build, *, anew: bool = False, aims: Sequence[str] = (), seconds: float = MOST_SECONDS,
    progress: Callable[[int], None] | None = None,
) -> Planned:  # fmt: skip
    """A wiring for what a build leaves open, proven by the checks; or what stands in the way of one.

    `anew`: what a plan may choose is chosen again where that is better, but for what the file keeps.
    `aims`: what counts first, of AIMS; the others follow in their order. `seconds`: how
    long it is computed at most. `progress` is called with the number of wirings judged so far; a
    KeyboardInterrupt while it looks ends the search, and the best so far is told as such. ValueError for another aim, and
    where `seconds` is no number from 0 up.
    """
    takes_build("plan", build)
    if not seconds >= 0.0:
        raise ValueError(f"seconds is a number from 0 up; not {seconds!r}")
    for aim in aims:
        if aim not in AIMS:
            raise ValueError(f"an aim is one of {', '.join(AIMS)}; not {aim!r}")
    from postcheck.planner.telling import planned  # noqa: PLC0415 - imports this module's record

    survey = survey_of(build)
    if anew:
        from postcheck.planner.anew import found_anew  # noqa: PLC0415 - it plans by this module

        return planned(found_anew(survey, seconds, progress, aims), survey)
    return planned(found(survey, seconds, progress, aims), survey)


def survey_of(wish: Build) -> Survey:
    """The survey of a wish, at a stage at which nothing has been tested yet."""
    limits = Limits(limit_changes(wish)[0])
    return Survey(wish, limits, "planning" if wish.build.stage == "planning" else "wiring")


def found(
    survey: Survey, seconds: float = MOST_SECONDS, progress: Callable[[int], None] | None = None, aims: Sequence[str] = (),
    laid: Sequence[Stretch] = (),
) -> Plan:  # fmt: skip
    """The plan for a wish, with what is worth knowing beside it. `laid`: how far it is where the wish does not say."""
    clock = Clock(seconds)
    asked = _Asked(Clock(SEARCH_SHARE * seconds, clock), progress, aims, laid)
    result = _chosen(survey, asked)

    def works(other: Build) -> Plan | None:
        if not clock.runs:
            return None
        with clock.step():
            less = asked.within(BESIDE_SHARE * seconds, clock)
            tried = _searched(survey.again(other), less, BESIDE_CHECKS, counts_only=True)
        return tried if tried.build is not None else None

    if result.build is not None:
        return replace(result, beside=tuple(_beside(result, works)))
    if result.nearest is None:
        return result
    return _freed(survey, result, asked._replace(clock=clock, aims=()), FREES_MOST * seconds)


def _freed(survey: Survey, result: Plan, asked: _Asked, each: float) -> Plan:
    """A plan that there is not, with what is in its way told of the thinnest wire, and what would free it.

    `each`: seconds for each thing that is tried.
    """
    assert result.nearest is not None
    wish, after, clock = result.wish, survey.again(result.nearest), asked.clock
    usual = wish.usual.run or result.nearest.usual.run
    thin = thinnest(result.nearest, len(wish.run), usual, survey.limits) if usual else result.nearest
    narrow = {
        one.subject.name for one in result.blocks if one.check in ("passage.cannot-fit", "passage.tight")
    }
    if narrow and thin != result.nearest:
        found = [
            one
            for one in judge(survey.again(thin)).findings
            if one.subject.name in narrow and one.check.startswith("passage.") and one.severity != "note"
        ]
        still = {name: [one for one in found if one.subject.name == name] for name in narrow}
        blocks = (still.get(one.subject.name) or [one] for one in result.blocks)
        result = replace(result, blocks=tuple({one.id: one for of in blocks for one in of}.values()))

    @cache
    def kept(changes: Changes) -> bool:
        if not clock.runs:
            return False
        with clock.step():
            return passes(survey.again(changed(after.build, changes)))

    @cache
    def drafted(changes: Changes) -> bool:
        if not clock.runs:
            return False
        other = survey.again(changed(wish, changes))
        with clock.step():
            less = asked.within(each, clock)
            return _searched(other, less, FREES_CHECKS, any_will_do=True).build is not None

    never = never_fits(wish, result.least)
    return replace(
        result,
        proven=frozenset(
            one.id for one in result.blocks if one.subject.name in never and one.check.startswith("passage.")
        ),
        frees=frees(wish, after, result.blocks, thin, kept, drafted) if clock.runs else (),
    )


def _chosen(survey: Survey, asked: _Asked) -> Plan:
    """The plan of the source that is liked best, and of the seats of boards that cost least."""
    clock, first = asked.clock, None
    # where there are several, each leaves half of the time to the others
    share = (
        0.5
        if any(len([*islice(choices, 2)]) > 1 for choices in (sources(survey.build), seated(survey.build)))
        else 1.0
    )
    for sourced in sources(survey.build):
        plans: list[Plan] = []
        for wish in seated(sourced):
            if (first or plans) and not clock.runs:
                break
            with clock.step():
                part = asked._replace(clock=Clock(share * clock.left, clock))
                plans.append(_searched(survey.again(wish), part, MOST_CHECKS))
        if not plans:
            break
        passing = [(one, one.build) for one in plans if one.build is not None]
        if passing:
            order = tightest_first(passing[0][1])
            costs = [cost_of(build, order, {}, survey.limits).by(asked.aims) for _, build in passing]
            best, _ = passing[costs.index(min(costs))]
            return replace(best, wish=survey.build)
        first = first or plans[0]
    assert first is not None
    return first


def _searched(
    survey: Survey, asked: _Asked, checks: int, *, any_will_do: bool = False, counts_only: bool = False
) -> Plan:
    """The plan for one wish as it stands, with so many candidates checked in full at most."""
    wish, drafting = survey.build, Clock(asked.clock.left / 2.0)  # the other half is for judging
    drafts: list[Draft] = []
    try:
        drafter = Drafter(wish, survey.limits, asked.laid)
        for draft in _drafts(drafter):
            drafts.append(draft)
            if drafting.left < 0.0:
                break
    except DraftError as cannot:
        return Plan(wish, None, {}, missing=cannot.missing)
    counts = [conductors(draft.build) for draft in drafts]
    least = {name: min(count[name] for count in counts) for name in counts[0]}
    fewest = min(range(len(drafts)), key=lambda number: sum(counts[number].values()))
    order = tightest_first(drafts[fewest].build)
    search = Search(
        survey,
        lambda draft: cost_of(draft.build, order, draft.planned, survey.limits).by(asked.aims),
        checks,
        Clock(asked.clock.left, asked.clock),
        asked.progress,
        asked.aims,
        any_will_do,
        counts_only,
    )
    best = search.run(drafts)
    plan = Plan(wish, None, least, checked=search.used, partly=search.broken_off)
    if best is not None:
        dimmed = dimmed_by_heat(best.draft, survey.limits)
        ohms = {path: spec.ohms for path, spec in resistors_of(best.draft.build)}
        held = {path: one.by for path, one in search.held.items() if ohms.get(path) == one.ohms}
        return replace(
            plan, build=best.build, warm=best.draft.warm, dimmed=dimmed, held=held, planned=best.draft.planned
        )
    if search.best is None:
        return plan
    near = search.best
    return replace(plan, blocks=near.blocks, asks=near.asks, nearest=near.build)


def _drafts(drafter: Drafter) -> Iterator[Draft]:
    """A draft for each thing that can be chosen ahead of wires, those that come to the same once."""
    seen: set[Build] = set()
    for structure in _structures(drafter):
        draft = drafter.draft(structure)
        if draft.build not in seen:
            seen.add(draft.build)
            yield draft


def _structures(drafter: Drafter) -> Iterator[Structure]:
    """Leads or lines to each closed place whose leads go through a passage; resistors with their lamps or outside."""
    places: dict[str, None] = {}
    for entry in drafter.entries:
        joint = drafter.routes.joint(entry.said.place)
        if joint is not None and joint[1] and entry.said.lead is None and whole(joint[1]).through:
            places[entry.said.place] = None
    counted = any(getattr(entry.said, "count", None) for entry in drafter.entries)
    counts = range(len(places), -1, -1) if len(places) <= MOST_CHOICES else (len(places), 0)
    for count in counts:
        for lines in combinations(places, count):
            for outside in ("warm", "none", "all"):
                yield Structure(frozenset(lines), outside)
            if counted:
                yield Structure(frozenset(lines), strings="plain")


def _beside(result: Plan, works: Callable[[Build], Plan | None]) -> Iterator[Freed]:
    """A plan that is better but for where the board sits."""
    assert result.build is not None
    now = conductors(result.build)
    for place, moved in boards_elsewhere(result.wish):
        other = works(changed(result.wish, moved))
        if other is None or other.build is None:
            continue
        then = conductors(other.build)
        fewer = {name: now[name] - then[name] for name in now if now[name] > then[name]}
        if fewer and all(then[name] <= now[name] for name in now):
            name, count = max(fewer.items(), key=lambda row: row[1])
            where = "the post" if name == "post" else f"'{name}'"
            yield Freed(
                f"With the board at '{place}' {where} needs {count} {'conductor' if count == 1 else 'conductors'} fewer."
            )
            return
