"""The one table of all checks, in the order in which they run: causes before their consequences."""

from __future__ import annotations

from postcheck.checks import (
    acceptance,
    access,
    alone,
    batteries,
    bench,
    circuits,
    closing,
    colours,
    conductors,
    ends,
    flicker,
    grips,
    heat,
    lamps,
    loads,
    passages,
    plugs,
    proofs,
    protection,
    resistors,
    scope,
    starting,
    strips,
    supplies,
    threading,
    turning,
)
from postcheck.checks.record import Check

__all__ = ["CHECKS"]

CHECKS: tuple[Check, ...] = (
    *scope.CHECKS,
    *supplies.CHECKS,
    *circuits.CHECKS,
    *lamps.CHECKS,
    *alone.CHECKS,
    *resistors.CHECKS,
    *strips.CHECKS,
    *loads.CHECKS,
    *starting.CHECKS,
    *flicker.CHECKS,
    *colours.CHECKS,
    *ends.CHECKS,
    *plugs.CHECKS,
    *protection.CHECKS,
    *passages.CHECKS,
    *turning.CHECKS,
    *conductors.CHECKS,
    *threading.CHECKS,
    *grips.CHECKS,
    *heat.CHECKS,
    *batteries.CHECKS,
    *bench.CHECKS,
    *proofs.CHECKS,
    *access.CHECKS,
    *closing.CHECKS,
    *acceptance.CHECKS,
)
