"""What a wiring costs, in the order of a plan's aims: lower is better."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.description.problems import Path
from postcheck.wiring import resolve

AIMS = ("conductors", "wire", "light", "kinds")
"""What a plan is to be good at, in the usual order: few conductors through the tightest passage, the usual wire, light as it
was meant, few kinds of wire and resistor."""


class Cost(NamedTuple):
    """`conductors` through the passages, the tightest first; `unusual`: how many runs and leads are not of the usual wire.

    `dimmed`: how far lamps are below what they were planned for, squares added up. `kinds` of wire and resistor.
    """

    conductors: tuple[int, ...]
    unusual: int
    dimmed: float
    kinds: int

    def by(self, aims: Sequence[str]) -> tuple[object, ...]:
        """Its parts in the order of some aims, those that are not named behind them."""
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
    return Cost(tuple(counts[name] for name in order), unusual, round(dimmed, 9), len(resistors) + len(wires))


def _ohms(build: Build, path: Path) -> float:
    lamp = build.lamp[int(path[1])]
    spec = lamp.dice[str(path[3])].resistor if len(path) > 2 and lamp.dice else lamp.resistor
    return spec.ohms if spec is not None else 0.0
