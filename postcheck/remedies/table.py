"""Which findings have a remedy to try, in the order in which they are tried."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.remedies import (
    battery,
    beside,
    bores,
    constant_current,
    diode,
    drops,
    first_resistor,
    fuse,
    heat,
    hot_wires,
    longer,
    opposites,
    resistor,
    resistor_power,
    shared,
    strip,
    supply,
    switch,
    turning,
    unlike,
)
from postcheck.remedies.proposal import Proposal, Proposer
from postcheck.report import Finding
from postcheck.survey import Survey

STAGES: tuple[dict[str, Proposer], ...] = (
    opposites.APART,
    {**strip.CURRENTS, **first_resistor.FIRST, **resistor.CURRENTS, **constant_current.OUTPUTS},
    {
        "load.no-start": shared.not_pulled_down,
        "load.resets": shared.not_pulled_down,
        "line.drop": drops.on_the_way,
        "circuit.step": shared.steadier,
        "load.low-volts": drops.to_load,
        "strip.dim": drops.to_strip,
        "lamp.unequal": unlike.as_its_fellows,
        "wire.hot": hot_wires.cooler,
        "wire.hot-beside": hot_wires.cooler_beside,
        "wire.hot-touched": hot_wires.cooler_beside,
        "metal.slides": beside.sliding_metal,
        "lamp.dip": shared.without_dip,
        **fuse.MOTORS,
    },
    {
        **diode.DIODES_ACROSS,
        **switch.SWITCHES,
        **resistor.RATINGS,
        **resistor_power.RATINGS,
        **heat.HEAT,
        **supply.RATINGS,
        **battery.CELLS,
        **fuse.FUSES,
        **strip.LENGTHS,
        **bores.BORES,
        **turning.TURNING,
        **longer.LONGER,
        **opposites.OPPOSITES,
    },
)
"""Causes first: what sets the volts, then the currents, the ways they take, and then what has to stand them or let them through."""


def proposals(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """What could cure a finding, the best first; none of it is proven."""
    for stage in STAGES:
        if finding.check in stage:
            yield from stage[finding.check](survey, finding)
