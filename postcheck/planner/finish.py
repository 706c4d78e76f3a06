"""What follows from the rest of a wiring: ratings and fuses."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TypeAlias

from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, FuseSpec
from postcheck.limits import above, below
from postcheck.planner.colouring import coloured
from postcheck.planner.draft import Draft
from postcheck.survey import Survey
from postcheck.survey.heat.faults import Faults
from postcheck.survey.heat.fuses import holds_far_short, protecting_fuse
from postcheck.survey.network.supplies import gives_up
from postcheck.wiring import resolve

# What adaptors are sold with, A: common practice.
RATINGS = (0.5, 1.0, 1.5, 2.0, 3.0, 5.0)


RatingsAndFuses: TypeAlias = "Mapping[str, tuple[float | None, FuseSpec | None]]"
"""Rating and fuse of each supply by its name."""


def finished(draft: Draft, survey: Survey, guess: RatingsAndFuses | None = None) -> Survey:
    """The survey of a draft with ratings, fuses and colours; `survey` is that of the wish.

    `guess`: what was chosen for a draft much like it. Where that is right nothing is computed twice; the result is the same.
    """
    wish = survey.build
    build = coloured(draft.build, len(wish.run), survey)
    first = survey.again(_with(build, wish, guess or {}))
    chosen = dict(_chosen(first, build, survey))
    final = _with(build, wish, chosen)
    return first if final == first.build else survey.again(final)


def ratings_and_fuses(build: Build) -> RatingsAndFuses:
    """What a finished build has."""
    return {name: (supply.rated, supply.fuse) for name, supply in build.supply.items()}


def _with(build: Build, wish: Build, chosen: RatingsAndFuses) -> Build:
    """A build with some ratings and fuses where neither the draft nor the wish has one."""
    supplies = {}
    for name, supply in build.supply.items():
        rated, fuse = chosen.get(name, (None, None))
        open_ = not wish.supply[name].keep and supply.kind != "converter"
        update: dict[str, object] = {}
        if open_ and supply.rated is None and rated is not None:
            update["rated"] = rated
        if open_ and supply.fuse is None and fuse is not None:
            update["fuse"] = fuse
        supplies[name] = supply.model_copy(update=update) if update else supply
    return build.model_copy(update={"supply": FrozenDict(supplies)})


def _chosen(
    first: Survey, build: Build, survey: Survey
) -> Iterator[tuple[str, tuple[float | None, FuseSpec | None]]]:
    """The rating of each adaptor and the fuse of each supply that are open in `build`, by the currents of a survey of it."""
    wish, found = survey.build, {}
    for name, supply in build.supply.items():
        load = first.electrics.supplies.get(name)
        if load is not None and supply.kind == "adaptor" and supply.rated is None:
            share = survey.limits.value("supply.load.caution")
            found[name] = next((one for one in RATINGS if not above(load.highest, share * one)), None)
    rated = _with(build, wish, {name: (amps, None) for name, amps in found.items()})
    # an adaptor whose rating is the plan's may be bought larger: best is a fuse that protects then too
    open_ones = [
        name for name, supply in wish.supply.items() if supply.kind == "adaptor" and supply.rated is None
    ]
    builds = [_larger(rated, open_ones), rated] if open_ones else [rated]
    shorts = [Faults(resolve(build), first.limits, first.in_use) for build in builds]
    for name, supply in rated.supply.items():
        load, fuse = first.electrics.supplies.get(name), None
        if load is not None and supply.fuse is None and not supply.keep and supply.kind != "converter":
            most = gives_up(supply)[0]
            fuses = (_fuse(one, name, load.highest, most) for one in shorts)
            fuse = next((one for one in fuses if one is not None), None)
        yield name, (found.get(name), fuse)


def may_be_larger(survey: Survey, supply: str) -> bool:
    """Whether every wire survives a short with a far larger adaptor at a supply, as its fuse is now."""
    shorts = Faults(resolve(_larger(survey.build, [supply])), survey.limits, survey.in_use)
    return not any(fault.most.hurt for fault in shorts.found() if fault.supply == supply)


def _larger(build: Build, names: Iterable[str]) -> Build:
    supplies = {name: build.supply[name].model_copy(update={"rated": RATINGS[-1]}) for name in names}
    return build.model_copy(update={"supply": FrozenDict({**build.supply, **supplies})})


def _fuse(shorts: Faults, supply: str, load: float, most: float) -> FuseSpec | None:
    """The least fuse that carries a load (A) and protects: of those on the shelf, where it lists some.

    `most`: what the supply gives into a short, A; a larger fuse than that never opens.
    """
    kept, holds = shorts.wiring.build.stock.fuses, shorts.limits.value("fuse.holds")
    if kept is None:
        amps = protecting_fuse(shorts, supply, load)
        return None if amps is None else FuseSpec.model_construct(rated=amps, kind="quick")
    for fuse in sorted((one for one in kept if one.rated < most), key=lambda one: one.rated):
        least = protecting_fuse(shorts, supply, load, fuse.kind, fuse.body)
        if least is None or below(fuse.rated, least):
            continue
        if not any(
            fault.most.hurt or holds_far_short(fault, fuse.kind, holds) for fault in shorts.of(supply, fuse)
        ):
            return fuse
    return None
