"""What a wiring costs, in the order of a plan's aims: lower is better."""

from __future__ import annotations

from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.wiring import resolve


class Cost(NamedTuple):
    """`conductors` through all passages, the tightest first; `unusual`: runs and leads that are not of the usual wire; `kinds` of wire and resistor."""

    conductors: tuple[int, ...]
    unusual: int
    kinds: int
    watts: float


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


def cost_of(build: Build) -> Cost:
    """The cost of a build."""
    passages = passages_of(build)
    counts = conductors(build)
    ordered = sorted(counts, key=lambda name: passages[name].bore)
    runs = [run for run in build.run if not run.spare]
    unusual = sum(run.wire not in (None, build.usual.run) for run in runs)
    unusual += sum(lamp.lead is not None and lamp.lead.wire not in (None, build.usual.lead) for lamp in build.lamp)
    resistors = {(lamp.resistor.ohms, lamp.resistor.power) for lamp in build.lamp if lamp.resistor is not None}
    wires = {run.wire or build.usual.run for run in runs}
    ohms = sum(lamp.parallel / lamp.resistor.ohms for lamp in build.lamp if lamp.resistor is not None and lamp.wanted is None)
    return Cost(tuple(counts[name] for name in ordered), unusual, len(resistors) + len(wires), -ohms)
