"""Which findings have a remedy to try, in the order in which they are tried."""

from __future__ import annotations

from postcheck.remedies import (
    bores,
    diode,
    drops,
    fuse,
    heat,
    longer,
    opposites,
    resistor,
    starts,
    strip,
    supply,
    switch,
    turning,
)
from postcheck.remedies.proposal import Proposer

STAGES: tuple[dict[str, Proposer], ...] = (
    {**strip.CURRENTS, **resistor.CURRENTS},
    {**starts.STARTS, **drops.DROPS},
    {
        **diode.DIODES_ACROSS,
        **switch.SWITCHES,
        **resistor.RATINGS,
        **heat.HEAT,
        **supply.RATINGS,
        **fuse.FUSES,
        **strip.LENGTHS,
        **bores.BORES,
        **turning.TURNING,
        **longer.LONGER,
        **opposites.OPPOSITES,
    },
)
"""Causes first: what sets the currents, the ways they take, and then what has to stand them or let them through."""
