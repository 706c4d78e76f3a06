"""Seeded faults: what builders do wrong, a small change each, and what has to be found."""

from __future__ import annotations

from tests.construction.faults import bodies, circuits, lamps, supplies, ways
from tests.construction.faults.record import Sort

SORTS: tuple[Sort, ...] = (*lamps.SORTS, *circuits.SORTS, *supplies.SORTS, *ways.SORTS, *bodies.SORTS)
