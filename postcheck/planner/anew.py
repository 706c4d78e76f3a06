"""Planning anew over a wiring that is there: what a plan may choose is taken out, planned, and as much as can be put back.

A plan finds its wiring as if nothing had been there. What it has in common with the old one stays in its old table; of the
rest, what passes as it was and costs no more is taken as it was. So nobody resolders what need not be.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any, TypeAlias

from postcheck.description.consumers import CONSUMERS, Entry, entries
from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, Circuit, Lamp, Lead, Passage, Run, Supply
from postcheck.description.naming import run_names
from postcheck.planner.clock import Clock
from postcheck.planner.colouring import coloured
from postcheck.planner.cost import cost_of, tightest_first
from postcheck.planner.planning import MOST_SECONDS, Anew, Plan, found
from postcheck.planner.routes import Routes, Stretch
from postcheck.planner.search import passes
from postcheck.survey import Survey
from postcheck.wiring import resolve

# What makes a wiring better than one that is there, and what is named as an aim; they are the first in the order of aims: nobody resolders lamps to have one kind of resistor fewer.
WORTH = ("conductors", "wire")
# The share of the time that goes into the plan; putting back what was there has the rest.
PLAN_SHARE = 0.7

# Something of the old wiring: its section, and its name or number.
Old: TypeAlias = "tuple[str, str | int]"

# What the way of a lead gives back: a lead that says more is no choice of a plan.
_PLAIN = {"length", "wire", "wires", "to", "colours", "label"}


def found_anew(
    survey: Survey, seconds: float = MOST_SECONDS, progress: Callable[[int], None] | None = None, aims: Sequence[str] = (),
) -> Plan:  # fmt: skip
    """The plan for a build as if what a plan may choose were not there; what is there, where that is no worse."""
    clock, given = Clock(seconds), survey.build
    bare = bared(survey)
    result = found(survey.again(bare), PLAN_SHARE * seconds, progress, aims, tuple(laid(given)))
    sound = passes(survey.again(given))
    if result.build is None:
        if not sound or result.missing:
            return replace(result, wish=given)
        return _as_it_is(result, given)
    aims = tuple(dict.fromkeys(aims))
    worth = {*aims, *WORTH} | ({"light"} if {"heat", "drop"} & {*aims} else set())
    # more light than there is is no reason to change what is there
    meant = result.planned if "light" in aims else {}
    order = tightest_first(result.build)

    def cost(build: Build) -> tuple[Any, ...]:
        assert result.build is not None
        told_alike = build.model_copy(update={"usual": result.build.usual})
        return cost_of(told_alike, order, meant, survey.limits).by(aims)[: len(worth)]

    best, gone = _with_the_old(survey, bare, result.build, cost, clock)
    if sound and cost(best) >= cost(given):
        return _as_it_is(result, given)
    return replace(result, wish=given, build=best, anew=Anew(gone))


def _as_it_is(result: Plan, given: Build) -> Plan:
    """The plan that leaves all as it is. What would be better with a board elsewhere was found beside another plan."""
    return replace(
        result, wish=given, build=given, blocks=(), asks=(), nearest=None, proven=frozenset(), frees=(), beside=(),
        anew=Anew(stays=True),
    )  # fmt: skip


# -- what a plan may choose, taken out


def bared(survey: Survey) -> Build:
    """A build without what a plan may choose; `survey` is its own. What stays: what is kept or trapped, and all wishes."""
    given = survey.build
    gone = replaceable(given)
    names = run_names(given)
    routes = Routes(given.model_copy(update={"run": ()}))
    sections: dict[str, list[Any]] = {kind: [] for kind in CONSUMERS}
    lost = {names[number] for number in gone}
    for entry in entries(given):
        said = _bare(entry, routes)
        if entry.said.lead is not None and said.lead is None:
            lost.add(entry.name)
        sections[entry.kind].append(said)
    kept = _named(given, lambda table: table.keep)
    fed = survey.electrics.supplies
    lines = {line for plug in given.plug for line in plug.pins} | {
        line for one in given.join for line in one.lines
    }
    lines |= {run.line for number, run in enumerate(given.run) if number not in gone and run.line}
    return given.model_copy(
        update={
            **sections,
            "run": tuple(run for number, run in enumerate(given.run) if number not in gone),
            "usual": given.usual.model_copy(update=_usual_wires(given)),
            "supply": FrozenDict(
                {name: _bare_supply(one) if name in fed else one for name, one in given.supply.items()}
            ),
            "circuit": FrozenDict(
                {
                    name: _bare_circuit(one, used=f"{name}-return" in lines)
                    for name, one in given.circuit.items()
                }
            ),
            "proof": tuple(one for one in given.proof if one.subject in kept),
            **_through(given, given, lambda name: name not in lost),
        }
    )


def _usual_wires(given: Build) -> dict[str, str | None]:
    """The usual wires as they are; where neither they nor the stock say which, the ones that there are most of."""
    wires = {"run": given.usual.run, "lead": given.usual.lead}
    stock = {"run": given.stock.wires, "lead": given.stock.leads}
    for key, used in (("run", _run_wires(given)), ("lead", _lead_wires(given))):
        if wires[key] is None and not stock[key]:
            wires[key] = next((wire for wire, _ in Counter(used).most_common(1)), None)
    return wires


def replaceable(build: Build) -> frozenset[int]:
    """The numbers of the runs that are laid anew.

    A spare is a wish; a post's metal, a cable and a run without a length are no choice of a plan.
    """
    return frozenset(
        number
        for number, run in enumerate(build.run)
        if not (run.keep or run.fixed or run.spare or run.body or run.cable or run.length is None)
        and run.carries == "power"
    )


def laid(build: Build) -> Iterator[Stretch]:
    """How far it is from place to place by the runs that are there; of several along one passage, or none, the longest."""
    most: dict[tuple[frozenset[str], tuple[str, ...]], Run] = {}
    for run, part in zip(build.run, resolve(build).parts.runs, strict=True):
        if run.length and run.carries == "power" and not run.spare and not run.body:
            key = frozenset(run.ends), tuple(part.through)
            if key not in most or run.length > (most[key].length or 0.0):
                most[key] = run
    for (_, through), run in most.items():
        yield Stretch(run.ends[0], run.ends[1], run.length or 0.0, through)


def _bare(entry: Entry, routes: Routes) -> Any:
    """Something that takes current without its resistors, and its lead without wire and colours.

    Where ways lead to its joint, it has no lead.
    """
    said, lead = entry.said, entry.said.lead
    if said.keep or (lead is not None and lead.fixed):
        return said
    update: dict[str, Any] = {}
    if isinstance(said, Lamp):
        update["resistor"] = None
        if said.dice:
            update["dice"] = FrozenDict(
                {colour: die.model_copy(update={"resistor": None}) for colour, die in said.dice.items()}
            )
    if lead is not None and not (lead.feed or lead.back):
        open_ = entry.places == (said.place,) and _by_ways(lead, said.place, routes)
        bare = lead.model_copy(update={"wire": None, "wires": None, "colours": None})
        update["lead"] = None if open_ else bare
    return said.model_copy(update=update)


def _by_ways(lead: Lead, place: str, routes: Routes) -> bool:
    """Whether `[[way]]` tables lead from a place to where its lead is joined, and the lead says nothing else."""
    says = {key for key in Lead.model_fields if getattr(lead, key) not in (None, False)}
    path = routes.path(place, lead.to) if lead.to not in (None, place) and says <= _PLAIN else None
    ways = {frozenset((way.start, way.end)) for way in routes.build.way}
    return path is not None and all(frozenset((one.start, one.end)) in ways for one in path)


def _bare_circuit(circuit: Circuit, *, used: bool) -> Circuit:
    """A circuit without a return of its own, unless something that stays is on it."""
    if circuit.own_return and not circuit.keep and not used:
        return circuit.model_copy(update={"own_return": False})
    return circuit


def _bare_supply(supply: Supply) -> Supply:
    """A supply without fuse and rating, but for a fuse further on, one of a maker's figures, and an adaptor that was measured."""
    if supply.keep or supply.kind == "converter":
        return supply
    update: dict[str, Any] = {}
    fuse = supply.fuse
    if fuse is not None and fuse.kind != "resettable" and fuse.place in (None, supply.place):
        update["fuse"] = None
    measured = (supply.current_limit, supply.regulation, supply.unloaded)
    if supply.kind == "adaptor" and measured == (None, None, None):
        update["rated"] = None
    return supply.model_copy(update=update)


def _run_wires(build: Build) -> Iterator[str]:
    yield from (run.wire for run in build.run if run.wire is not None and run.carries == "power")


def _lead_wires(build: Build) -> Iterator[str]:
    for entry in entries(build):
        if entry.said.lead is not None and entry.said.lead.wire is not None:
            yield entry.said.lead.wire


def _through(build: Build, given: Build, stays: Callable[[str], bool]) -> dict[str, Any]:
    """The passages of a build: of the names that `given` lists those that stay, and what the build lists besides."""

    def of(one: Passage, was: Passage) -> Passage:
        own = tuple(name for name in was.through if stays(name))
        more = tuple(name for name in one.through if name not in was.through)
        return one.model_copy(update={"through": (*own, *more)})

    post = build.post
    if post is not None and given.post is not None:
        post = of(post, given.post)
    passages = {name: of(one, given.passage[name]) for name, one in build.passage.items()}
    return {"post": post, "passage": FrozenDict(passages)}


def _named(build: Build, which: Callable[[Any], bool]) -> frozenset[str]:
    """What a test record may call the lamps, loads, runs, circuits and supplies that are meant."""
    rows = [("supply", name, one) for name, one in build.supply.items()]
    rows += [("circuit", name, one) for name, one in build.circuit.items()]  # type: ignore[misc]
    found = {word for kind, name, one in rows if which(one) for word in (name, f"{kind} {name}")}
    for entry in entries(build):
        if which(entry.said):
            numbers = (f"{entry.name} {number + 1}" for number in range(entry.parallel))
            names = (entry.name, *entry.colours, *(numbers if entry.parallel > 1 else ()))
            found |= {word for name in names for word in (name, f"{entry.kind} {name}")}
    for run, name in zip(build.run, run_names(build), strict=True):
        if which(run):
            found |= {name, f"run {name}"}
    return frozenset(found)


# -- what was there, put back


def _with_the_old(
    survey: Survey, bare: Build, new: Build, cost: Callable[[Build], tuple[Any, ...]], clock: Clock
) -> tuple[Build, frozenset[int]]:
    """A plan with as much of the old wiring as passes and costs no more, and the numbers of the runs that go."""
    given = survey.build
    both = _Both(survey, bare, new)
    if not passes(survey.again(both.build(()))):  # in its old tables it is not what was judged
        both = _Both(survey, bare, new, matching=False)
        if not passes(survey.again(both.build(()))):
            return new.model_copy(update={"way": given.way}), both.gone
    least = cost(both.build(()))
    back: tuple[Old, ...] = ()

    def taken(more: Iterable[Old]) -> bool:
        nonlocal back
        wider = tuple(dict.fromkeys((*back, *more)))
        if wider == back or not clock.runs:
            return wider == back
        with clock.step():
            other = both.build(wider)
            if cost(other) > least or not passes(survey.again(other)):
                return False
        back = wider
        return True

    groups = both.old()
    if not taken(old for group in groups for old in group):
        for group in groups:
            if not taken(group) and len(group) > 1:
                for old in group:
                    taken((old,))
    best = both.build(back)
    tested = both.tested(best)
    return (tested if tested != best and passes(survey.again(tested)) else best), both.gone


class _Both:
    """The old wiring and the new one: each run of the new one that goes where an old one went has that one's table."""

    def __init__(self, survey: Survey, bare: Build, new: Build, *, matching: bool = True) -> None:
        given = survey.build
        self.survey: Survey = survey
        self.given: Build = given
        self.bare: Build = bare
        self.new: Build = new
        went = replaceable(given)
        kept = len(given.run) - len(went)
        old, now = resolve(given).parts.runs, resolve(new).parts.runs
        free = list(range(kept, len(new.run)))
        self.matched: dict[int, int] = {}
        for number in sorted(went) if matching else ():
            for other in free:
                mine, its = given.run[number], new.run[other]
                same = mine.line == its.line and set(mine.ends) == set(its.ends)
                if same and not its.spare and set(old[number].through) == set(now[other].through):
                    self.matched[number] = other
                    free.remove(other)
                    break
        self.gone: frozenset[int] = went - self.matched.keys()
        self.added: list[int] = free
        names = run_names(given)
        self.lost: frozenset[str] = frozenset(names[number] for number in self.gone)

    def old(self) -> list[list[Old]]:
        """All that could be as it was, group by group."""
        rows: list[Old] = [
            (entry.kind, entry.path[1])
            for entry in entries(self.given)
            if getattr(entry.said, "count", None) is None
        ]
        return [
            [("run", number) for number in self.matched],
            [("supply", name) for name in self.given.supply],
            rows,
            [("usual", "")],
        ]

    def build(self, back: Iterable[Old]) -> Build:
        """The new wiring with some of it as it was."""
        given, new, back = self.given, self.new, frozenset(back)
        runs = []
        for number, run in enumerate(given.run):
            if number in self.matched and ("run", number) not in back:
                runs.append(_as(run, new.run[self.matched[number]], new.usual.run))
            elif number not in self.gone:
                runs.append(run)
        first = len(runs)
        runs += [new.run[number].model_copy(update={"colour": None, "label": None}) for number in self.added]
        sections: dict[str, list[Any]] = {kind: [] for kind in CONSUMERS}
        leads = set[str]()
        before = {entry.path: entry for entry in entries(given)}
        for now in entries(new):
            was = before.get(now.path, now)  # lamps that were counted together may have got an entry more
            said = was.said if (was.kind, was.path[1]) in back else now.said
            sections[now.kind].append(said)
            leads |= {was.name} if said.lead is None and was.said.lead is not None else set()
        supplies = {
            name: given.supply[name] if ("supply", name) in back else one for name, one in new.supply.items()
        }
        build = new.model_copy(
            update={
                **sections,
                **_through(new, given, lambda name: name not in self.lost | leads),
                "run": tuple(runs),
                "supply": FrozenDict(supplies),
                "usual": given.usual if ("usual", "") in back else new.usual,
                "way": given.way,
            }
        )
        told_apart = coloured(build, first, self.survey)
        return told_apart.model_copy(update=sections)  # a lead that is as it was has the colours that it had

    def tested(self, build: Build) -> Build:
        """The build with the test records of what is as it was."""
        old = {*self.given.run, *(entry.said for entry in entries(self.given))}
        kept = _named(build, lambda one: getattr(one, "keep", False) or one in old)
        return build.model_copy(
            update={"proof": tuple(one for one in self.given.proof if one.subject in kept)}
        )


def _as(old: Run, new: Run, usual: str | None) -> Run:
    """An old run as the new plan has it: what is not a plan's to choose stays."""
    wire = old.wire if (old.wire or usual) == (new.wire or usual) else new.wire
    same = wire == old.wire and old.length == new.length
    return old.model_copy(
        update={
            "wire": wire,
            "length": new.length,
            "conductors": new.conductors,
            "colour": new.colour,
            "label": new.label or old.label,
            "ohms": old.ohms if same else None,
        }
    )
