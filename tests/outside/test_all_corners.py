"""Random small builds against every combination of their corners: no interval of a lamp is too narrow.

Outside truth: exhaustive enumeration with NumPy on networks that random_corners.py writes beside the build files: each
conductor usual or worst, each string's dice and resistor at least or most, the supply low or high, the air cold or warm, the
lamps just switched on or warmed through, what flashes on or off, each string alone.
"""

from __future__ import annotations

import pytest

import postcheck
from postcheck.survey import Survey
from tests.outside.random_corners import FEATURES, bounds, make

BUILDS, BLOCKS = 200, 8
RELATIVE = 1e-6
# How much too wide an interval may be, so that no blanket margin passes.
WIDEST = 0.2
# What postcheck does not cover yet, and why.
NOT_YET = {
    "worst wires": "a neighbour's worse wire on a shared return lifts a lamp",
    "air": "cold wires of a neighbour lower a lamp, and hot ones lift it",
    "second place": "a lamp further on, starved by one on another circuit, leaves more to those of its own",
    "loops": "a lamp gets least where another takes most by the nearer of two ways",
    "warming": "a lamp's own heat at its highest is iterated to 5 mK only",
}
HIGHEST_COVERS_ALONE = False


def read(text: str) -> dict[str, tuple[float, float, float, float]]:
    """Lowest, nominal and highest current of each lamp, and its most with nothing else on the lines."""
    survey = Survey(postcheck.loads(text))
    return {
        name: (lamp["lowest"], lamp["nominal"], lamp["highest"], survey.electrics.lamps[name].alone)
        for name, lamp in survey.figures["lamps"].items()
    }


@pytest.mark.parametrize("block", range(BLOCKS))
def test_no_combination_lies_outside_an_interval(block: int) -> None:
    for seed in range(block, BUILDS, BLOCKS):
        small = make(seed, FEATURES - set(NOT_YET))
        found = read("\n".join(small.toml))
        for name, true in bounds(small).items():
            lowest, nominal, highest, alone = found[name]
            assert lowest <= true.least * (1 + RELATIVE), (seed, name, lowest, true)
            assert highest >= true.most * (1 - RELATIVE), (seed, name, highest, true)
            assert alone >= true.alone * (1 - RELATIVE), (seed, name, alone, true)
            if HIGHEST_COVERS_ALONE:
                assert highest >= true.alone * (1 - RELATIVE), (seed, name, highest, true)
            assert lowest * (1 - RELATIVE) <= nominal <= highest * (1 + RELATIVE), (seed, name)
            assert lowest >= true.least * (1 - WIDEST), (seed, name, lowest, true)
            assert highest <= max(true.most, true.alone) * (1 + WIDEST), (seed, name, highest, true)


def test_the_builds_are_of_every_sort() -> None:
    smalls = [make(seed) for seed in range(BUILDS)]
    assert sum(small.loop for small in smalls) >= 20
    assert sum(small.negative for small in smalls) >= 30
    assert sum(small.shared and len({s.circuit for s in small.strings}) > 1 for small in smalls) >= 70
    assert sum(bool(small.flashing) for small in smalls) >= 60
    assert sum(len({s.lamp for s in small.strings}) < len(small.strings) for small in smalls) >= 20
    assert {small.air for small in smalls} >= {(5.0, 35.0), (15.0, 25.0), (20.0, 20.0)}
