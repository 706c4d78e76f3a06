"""Which findings have a remedy to try, in the order in which they are tried."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.remedies import (
    battery,
    bores,
    constant_current,
    diode,
    dips,
    drops,
    first_resistor,
    fuse,
    heat,
    longer,
    opposites,
    resistor,
    resistor_power,
    starts,
    strip,
    supply,
    switch,
    turning,
)
from postcheck.remedies.proposal import Proposal, Proposer
from postcheck.report import Finding
from postcheck.survey import Survey

STAGES: tuple[dict[str, Proposer], ...] = (
    {**strip.CURRENTS, **first_resistor.FIRST, **resistor.CURRENTS, **constant_current.OUTPUTS},
    {**starts.STARTS, **drops.DROPS, **dips.DIPS, **fuse.MOTORS},
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
"""Causes first: what sets the currents, the ways they take, and then what has to stand them or let them through."""


def proposals(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """What could cure a finding, the best first; none of it is proven."""
    for stage in STAGES:
        if finding.check in stage:
            yield from stage[finding.check](survey, finding)
