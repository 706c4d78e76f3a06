"""A plan: the wiring found, how good it is and why; or what stands in the way, and what would free it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from time import monotonic

from postcheck.checks.judge import judge
from postcheck.description.consumers import entries
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.planner.cost import conductors, cost_of, tightest_first
from postcheck.planner.draft import CannotDraft, Drafter, Missing, Structure
from postcheck.planner.routes import whole
from postcheck.planner.search import Search
from postcheck.report import Finding, NotJudged
from postcheck.survey import Survey

# Candidates checked in full, and seconds, for one plan.
MOST_CHECKS, MOST_SECONDS = 200, 20.0


@dataclass(frozen=True)
class Plan:
    """What was found. `build`: the wiring that passes, None where none does.

    `conductors`: through each passage, and the fewest that any wiring of these lines could have there (`least`). `missing`:
    what the file has to say first; `blocks`: what stood in the way of the best candidate; `asks`: questions that only the
    file can answer. `checked`: candidates that were judged in full.
    """

    wish: Build
    build: Build | None
    conductors: dict[str, int]
    least: dict[str, int]
    missing: tuple[Missing, ...] = ()
    blocks: tuple[Finding, ...] = ()
    asks: tuple[NotJudged, ...] = ()
    checked: int = 0


def plan(wish: Build, *, seconds: float = MOST_SECONDS) -> Plan:
    """Plan what a build leaves open."""
    stage = "planning" if wish.build.stage == "planning" else "wiring"  # what is planned has not been tested
    survey = Survey(wish, Limits(limit_changes(wish)[0]), stage)
    try:
        drafter = Drafter(wish, survey.limits)
        rows = [drafter.draft(structure) for structure in _structures(drafter)]
    except CannotDraft as cannot:
        return Plan(wish, None, {}, {}, missing=cannot.missing)
    counts = [conductors(draft.build) for draft in rows]
    least = {name: min(count[name] for count in counts) for name in counts[0]}
    order = tightest_first(min(zip(counts, rows, strict=True), key=lambda row: sum(row[0].values()))[1].build)
    search = Search(wish, survey, lambda build: cost_of(build, order), MOST_CHECKS, monotonic() + seconds)
    found = search.run(rows)
    if found is not None:
        return Plan(wish, found.build, conductors(found.build), least, checked=search.used)
    if search.best is None:
        return Plan(wish, None, {}, least, checked=search.used)
    best = search.best
    return Plan(wish, None, conductors(best.build), least, (), best.blocks, best.asks, search.used)


def _structures(drafter: Drafter) -> Iterator[Structure]:
    """What can be chosen ahead of wires."""
    sealed: dict[str, list[str]] = {}
    for entry in drafter.entries:
        joint = drafter.routes.joint(entry.said.place)
        lead = entry.said.lead
        if joint and joint[1] and (lead is None or lead.to is None) and whole(joint[1]).through and lead is None:
            sealed.setdefault(entry.said.place, []).append(entry.name)
    places = tuple(sealed)
    for count in range(len(places), -1, -1):
        for lines in combinations(places, count):
            for outside in ("warm", "none", "all"):
                yield Structure(frozenset(lines), outside)
