"""Random small builds against every combination of their corners: no interval of a lamp is too narrow.

Outside truth: exhaustive enumeration with NumPy on networks that random_corners.py writes beside the build files: each
conductor usual or worst, each string's dice and resistor at least or most, the supply low or high, the air cold or warm, the
lamps just switched on or warmed through, what flashes or has an output on or off, each string alone.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

import postcheck
from postcheck.survey import Survey
from tests.outside.random_corners import FEATURES, bounds, make

BUILDS, EXACT, BLOCKS = 200, 100, 10
RELATIVE = 1e-6
# How much too wide an interval may be where temperatures differ: the coldest wires are taken together with the warmest dice.
WIDEST = 0.3


class Span(NamedTuple):
    """Lowest, nominal and highest current of a lamp with what may be on together, and its most with nothing else on."""

    lowest: float
    nominal: float
    highest: float
    alone: float


def read(text: str) -> dict[str, Span]:
    lamps = Survey(postcheck.loads(text)).figures["lamps"]
    return {name: Span(*(lamp[key] for key in Span._fields)) for name, lamp in lamps.items()}


@pytest.mark.parametrize("block", range(BLOCKS))
def test_no_combination_lies_outside_an_interval(block: int) -> None:
    for seed in range(block, BUILDS, BLOCKS):
        small = make(seed)
        found = read("\n".join(small.toml))
        for name, true in bounds(small).items():
            span = found[name]
            assert span.lowest <= true.least * (1 + RELATIVE), (seed, name, span, true)
            assert span.highest >= true.most * (1 - RELATIVE), (seed, name, span, true)
            assert span.alone >= true.alone * (1 - RELATIVE), (seed, name, span, true)
            assert span.lowest <= span.nominal <= span.highest, (seed, name, span)
            assert span.lowest >= true.least * (1 - WIDEST), (seed, name, span, true)
            assert span.highest <= max(true.most, true.alone) * (1 + WIDEST), (seed, name, span, true)


@pytest.mark.parametrize("block", range(BLOCKS))
def test_intervals_are_exact_where_nothing_warms(block: int) -> None:
    for seed in range(block, EXACT, BLOCKS):
        small = make(seed, FEATURES - {"warming", "air"})
        found = read("\n".join(small.toml))
        for name, true in bounds(small).items():
            span = found[name]
            assert span.lowest == pytest.approx(true.least, rel=RELATIVE), (seed, name)
            assert span.alone == pytest.approx(max(true.alone, true.most), rel=RELATIVE), (seed, name)
            assert span.highest == pytest.approx(true.most, rel=RELATIVE), (seed, name)


def test_the_builds_are_of_every_sort() -> None:
    smalls = [make(seed) for seed in range(BUILDS)]
    assert sum(small.loop for small in smalls) >= 20
    assert sum(small.negative for small in smalls) >= 30
    assert sum(small.shared and len({s.circuit for s in small.strings}) > 1 for small in smalls) >= 70
    assert sum(bool(small.switched) for small in smalls) >= 60
    assert sum(len({s.lamp for s in small.strings}) < len(small.strings) for small in smalls) >= 20
    assert {small.air for small in smalls} == {(5.0, 35.0), (15.0, 25.0), (20.0, 20.0)}
