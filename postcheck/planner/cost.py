"""What a wiring costs, in the order of a plan's aims: lower is better."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.description.problems import Path
from postcheck.limits import Limits
from postcheck.planner.dissipated import dissipated
from postcheck.planner.draft import Draft
from postcheck.planner.strings import steps_down
from postcheck.planner.values import equal_light, resistors_of
from postcheck.planner.warmth import Warm
from postcheck.wiring import resolve
from postcheck.wiring.nets import drivers_of
from postcheck.wiring.parts import Part

AIMS = ("conductors", "wire", "light", "bench", "heat", "drop", "kinds")
"""What a plan is to be good at, in the usual order: few conductors through the tightest passage, the usual wire, light as it
was meant, leads that a bench supply does not harm, little heat in closed places, little drop, few kinds of wire and resistor."""


# How warm copper is taken to be where a drop is estimated, degC.
COPPER_CELSIUS = 20.0


class Cost(NamedTuple):
    """`conductors` through the passages, the tightest first; `unusual`: how many runs and leads are not of the usual wire.

    `dimmed`: by how many clear steps each LED is below what it was planned for, squares added up. `bare`: ends of leads
    without the resistor of their string. `heat` in sealed places, and in all that are not open, W, and the greatest `drop` from a
    supply to what a line feeds and back, V, both of usual parts and estimated without a survey. `kinds` of wire and resistor.
    """

    conductors: tuple[int, ...]
    unusual: int
    dimmed: int
    bare: int
    heat: tuple[float, float]
    drop: float
    kinds: int

    def by(self, aims: Sequence[str]) -> tuple[object, ...]:
        """Its parts in the order of some aims, those that are not named behind them.

        Less heat or drop is not bought with light, unless that was named behind them.
        """
        first = next((number for number, aim in enumerate(aims) if aim in ("heat", "drop")), None)
        if first is not None and "light" not in aims:
            aims = (*aims[:first], "light", *aims[first:])
        return tuple(self[AIMS.index(aim)] for aim in (*aims, *(one for one in AIMS if one not in aims)))


def conductors(build: Build) -> dict[str, int]:
    """How many conductors go through each passage."""
    wiring = resolve(build)
    found = dict.fromkeys(passages_of(build), 0)
    for run in wiring.parts.runs:
        for name in run.through:
            found[name] += 0 if run.body else run.conductors
    for wire in wiring.fine_wires:
        for name in wire.through:
            found[name] += 1
    return found


def tightest_first(build: Build) -> tuple[str, ...]:
    """The passages of a build by how full they are, the fullest first."""
    wiring, area = resolve(build), dict.fromkeys(passages_of(build), 0.0)
    for run in wiring.parts.runs:
        for name in run.through:
            area[name] += run.conductors * (run.wire.max_diameter if run.wire else 0.0) ** 2
    for wire in wiring.fine_wires:
        for name in wire.through:
            area[name] += (wire.data.wire.max_diameter if wire.data.wire else 0.0) ** 2
    return tuple(sorted(area, key=lambda name: -area[name] / passages_of(build)[name].bore ** 2))


def cost_of(build: Build, order: tuple[str, ...], planned: Mapping[Path, float], limits: Limits) -> Cost:
    """The cost of a build; `order`: its passages, the tightest first; `planned`: ohms by the path of a lamp or its colour."""
    counts = conductors(build)
    runs = [run for run in build.run if not run.spare]
    unusual = sum(run.wire not in (None, build.usual.run) for run in runs)
    unusual += sum(
        lamp.lead is not None and lamp.lead.wire not in (None, build.usual.lead) for lamp in build.lamp
    )
    resistors = dict(resistors_of(build))
    kinds = {(spec.ohms, spec.power) for spec in resistors.values()}
    wires = {run.wire or build.usual.run for run in runs}
    equal = equal_light(limits)
    dimmed = sum(
        _leds(build, path) * steps_down(ohms / spec.ohms, equal) ** 2
        for path, ohms in planned.items()
        if (spec := resistors.get(path)) is not None and spec.ohms > ohms
    )
    lamps = ((build.lamp[int(path[1])], spec) for path, spec in resistors.items())
    bare = sum(
        1 if lamp.one_resistor else lamp.parallel
        for lamp, spec in lamps
        if lamp.lead is not None and spec.place not in (None, lamp.place)
    )
    rows = tuple(dissipated(build))
    heats = {
        name: (place.access, sum(warm.heat(name) for _, warm in rows)) for name, place in build.place.items()
    }
    sealed = sum(heat for access, heat in heats.values() if access == "sealed")
    closed = sum(heat for access, heat in heats.values() if access != "open")
    return Cost(
        tuple(counts[name] for name in order), unusual, dimmed, bare, (round(sealed, 4), round(closed, 4)), round(_drop(build, rows), 4),
        len(kinds) + len(wires),
    )  # fmt: skip


def dimmed_by_heat(draft: Draft, limits: Limits) -> dict[Path, float]:
    """Of each resistor whose lamp has clearly less light for the heat of its place, by its path, the share of what it would have."""
    resistors = dict(resistors_of(draft.build))
    shares = {path: ohms / resistors[path].ohms for path, ohms in draft.cool.items()}
    return {path: share for path, share in shares.items() if steps_down(share, equal_light(limits))}


def _drop(build: Build, rows: Iterable[tuple[Part, Warm]]) -> float:
    """What a line loses at most with its return and a lead on it, all of its current taken through all of its runs, V."""
    drivers = drivers_of(build)
    amps: defaultdict[str, float] = defaultdict(float)
    ohms: defaultdict[str, float] = defaultdict(float)
    leads: defaultdict[str, float] = defaultdict(float)
    for part, warm in rows:
        driver = drivers[part.circuit]
        shared = warm.strings if part.share == "lead" else 1
        legs = part.supply_leg.ohms(COPPER_CELSIUS) + part.return_leg.ohms(COPPER_CELSIUS)
        leads[part.circuit] = max(leads[part.circuit], legs * warm.amps * shared)
        for net in (part.circuit, driver.return_net):
            amps[net] += warm.amps * warm.strings
    for run in resolve(build).parts.runs:
        if run.live:
            ohms[run.line] += run.ohms(COPPER_CELSIUS) / run.conductors
    return max(
        (
            leads[name] + sum(amps[net] * ohms[net] for net in (name, driver.return_net))
            for name, driver in drivers.items()
        ),
        default=0.0,
    )


def _leds(build: Build, path: Path) -> int:
    lamp = build.lamp[int(path[1])]
    return lamp.series * lamp.parallel
