"""What follows from the rest of a wiring: ratings and fuses."""

from __future__ import annotations

from collections.abc import Iterable

from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, FuseSpec
from postcheck.planner.colouring import coloured
from postcheck.planner.draft import Draft
from postcheck.survey import Survey
from postcheck.survey.heat.faults import conductor_faults
from postcheck.survey.heat.fuses import holds_far_short, protecting_fuse
from postcheck.survey.network.supplies import gives_up
from postcheck.wiring import Wiring, resolve

# What adaptors are sold with, A: common practice.
RATINGS = (0.5, 1.0, 1.5, 2.0, 3.0, 5.0)


def finished(draft: Draft, survey: Survey) -> Build:
    """The draft with fuses, ratings and colours; `survey` is that of the wish."""
    build = coloured(draft.build, len(survey.build.run), survey)
    first = survey.again(build)
    supplies = dict(build.supply)
    for name, supply in build.supply.items():
        load = first.electrics.supplies.get(name)
        if load is None or supply.kind == "converter":
            continue
        if supply.kind == "adaptor" and supply.rated is None and not supply.keep:
            share = survey.limits.value("supply.load.caution")
            rated = next((one for one in RATINGS if load.highest <= share * one), None)
            supplies[name] = supply.model_copy(update={"rated": rated})
    build = build.model_copy(update={"supply": FrozenDict(supplies)})
    # an adaptor whose rating is the plan's may be bought larger: best is a fuse that protects then too
    open_ones = [
        name
        for name, supply in survey.build.supply.items()
        if supply.kind == "adaptor" and supply.rated is None
    ]
    wirings = ([resolve(_larger(build, open_ones))] if open_ones else []) + [resolve(build)]
    for name, supply in tuple(supplies.items()):
        load = first.electrics.supplies.get(name)
        if load is None or supply.fuse is not None or supply.keep or supply.kind == "converter":
            continue
        found = (
            _fuse(first, wiring, name, load.highest, gives_up(build.supply[name])[0]) for wiring in wirings
        )
        fuse = next((fuse for fuse in found if fuse is not None), None)
        if fuse is not None:
            supplies[name] = supply.model_copy(update={"fuse": fuse})
    return build.model_copy(update={"supply": FrozenDict(supplies)})


def may_be_larger(survey: Survey, supply: str) -> bool:
    """Whether every wire survives a short with a far larger adaptor at a supply, as its fuse is now."""
    faults = conductor_faults(resolve(_larger(survey.build, [supply])), survey.limits, survey.in_use)
    return not any(fault.most.hurt for fault in faults if fault.supply == supply)


def _larger(build: Build, names: Iterable[str]) -> Build:
    supplies = {name: build.supply[name].model_copy(update={"rated": RATINGS[-1]}) for name in names}
    return build.model_copy(update={"supply": FrozenDict({**build.supply, **supplies})})


def _fuse(first: Survey, wiring: Wiring, supply: str, load: float, most: float) -> FuseSpec | None:
    """The least fuse that carries a load (A) and protects: of those on the shelf, where it lists some.

    `most`: what the supply gives into a short, A; a larger fuse than that never opens.
    """
    limits, used = first.limits, first.in_use
    kept = first.build.stock.fuses
    if kept is None:
        amps = protecting_fuse(wiring, limits, used, supply, load)
        return None if amps is None else FuseSpec.model_construct(rated=amps, kind="quick")
    for fuse in sorted((one for one in kept if one.rated < most), key=lambda one: one.rated):
        least = protecting_fuse(wiring, limits, used, supply, load, fuse.kind, fuse.body)
        if least is None or fuse.rated < least * (1.0 - 1e-9):
            continue
        faults = conductor_faults(wiring, limits, used, {supply: fuse})
        mine = [fault for fault in faults if fault.supply == supply]
        if not any(
            fault.most.hurt or holds_far_short(fault, fuse.kind, limits.value("fuse.holds")) for fault in mine
        ):
            return fuse
    return None
