"""What a wiring costs, in the order of a plan's aims: lower is better."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.description.problems import Path
from postcheck.planner.dissipated import dissipated
from postcheck.planner.warmth import Warm
from postcheck.wiring import resolve
from postcheck.wiring.nets import drivers_of
from postcheck.wiring.parts import Part

AIMS = ("conductors", "wire", "light", "bench", "heat", "drop", "kinds")
"""What a plan is to be good at, in the usual order: few conductors through the tightest passage, the usual wire, light as it
was meant, leads that a bench supply does not harm, little heat in closed places, little drop, few kinds of wire and resistor."""


# The copper of which the estimate of a drop is made, degC.
WARM = 20.0


class Cost(NamedTuple):
    """`conductors` through the passages, the tightest first; `unusual`: how many runs and leads are not of the usual wire.

    `dimmed`: how far lamps are below what they were planned for, squares added up. `bare`: leads that end without the
    resistor of their lamp. `heat` in closed places, W, and the greatest `drop` from a supply to what a line feeds and back,
    V, both of usual parts and estimated without a survey. `kinds` of wire and resistor.
    """

    conductors: tuple[int, ...]
    unusual: int
    dimmed: float
    bare: int
    heat: float
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


def cost_of(build: Build, order: tuple[str, ...], planned: Mapping[Path, float]) -> Cost:
    """The cost of a build; `order`: its passages, the tightest first; `planned`: ohms by the path of a lamp or its colour."""
    counts = conductors(build)
    runs = [run for run in build.run if not run.spare]
    unusual = sum(run.wire not in (None, build.usual.run) for run in runs)
    unusual += sum(
        lamp.lead is not None and lamp.lead.wire not in (None, build.usual.lead) for lamp in build.lamp
    )
    specs = [(lamp, lamp.resistor) for lamp in build.lamp if lamp.resistor is not None]
    resistors = {(spec.ohms, spec.power) for _, spec in specs}
    wires = {run.wire or build.usual.run for run in runs}
    dimmed = sum(
        (1.0 - ohms / now) ** 2 for path, ohms in planned.items() if (now := _ohms(build, path)) > ohms
    )
    bare = sum(lamp.lead is not None and spec.place not in (None, lamp.place) for lamp, spec in specs)
    rows = tuple(dissipated(build))
    closed = [name for name, place in build.place.items() if place.access == "sealed"]
    heat = sum(warm.heat(name) for _, warm in rows for name in closed)
    return Cost(
        tuple(counts[name] for name in order), unusual, round(dimmed, 9), bare, round(heat, 4), round(_drop(build, rows), 4),
        len(resistors) + len(wires),
    )  # fmt: skip


def _drop(build: Build, rows: Iterable[tuple[Part, Warm]]) -> float:
    """What a line loses at most with its return, all of its current taken through all of its runs, V."""
    drivers = drivers_of(build)
    amps: defaultdict[str, float] = defaultdict(float)
    ohms: defaultdict[str, float] = defaultdict(float)
    for part, warm in rows:
        driver = drivers[part.circuit]
        for net in (part.circuit, driver.return_net):
            amps[net] += warm.amps * warm.strings
    for run in resolve(build).parts.runs:
        if run.live:
            ohms[run.line] += run.ohms(WARM) / run.conductors
    return max(
        (sum(amps[net] * ohms[net] for net in (name, driver.return_net)) for name, driver in drivers.items()),
        default=0.0,
    )


def _ohms(build: Build, path: Path) -> float:
    lamp = build.lamp[int(path[1])]
    spec = lamp.dice[str(path[3])].resistor if len(path) > 2 and lamp.dice else lamp.resistor
    return spec.ohms if spec is not None else 0.0
