"""Builds against ngspice: every lamp current and node voltage.

Outside truth: ngspice (Debian package), whose diode model with IS, N and RS is the same law. The netlists are
written by random_builds.py from the same random choices as the build files, and by none of postcheck's code.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.survey.network.elements import REFERENCE
from postcheck.survey.network.states import States
from postcheck.wiring import resolve
from tests.outside.random_builds import make
from tests.outside.spice import Unsettled, operating_point

CASES = 231
# ngspice itself does not settle on a few flat current sources; so many builds must remain.
LEAST_COMPARED = 220
BLOCKS = 11
RELATIVE, AMPS, VOLTS = 1e-6, 1e-9, 1e-6
EVERY_ELEMENT = {
    "adaptor", "regulated", "unloaded", "battery", "usb", "converter", "direct", "drop", "steady", "negative",
    "own return", "single", "series", "parallel", "shared", "lead", "chain", "filament", "strip", "load", "plug",
    "loop", "conductors", "strings share nothing", "strings share return", "strings share lead",
}  # fmt: skip


def deviation(ours: float, theirs: float, floor: float) -> float:
    """Relative deviation beyond the absolute floor."""
    return max(0.0, abs(ours - theirs) - floor) / max(abs(theirs), floor)


def compare(seed: int, folder: Path) -> tuple[float, int, set[str]]:
    """Worst relative deviation of one build, how many figures were compared, and what it covers."""
    pair = make(seed, converter=seed % 5 == 4)
    build = postcheck.loads(pair.toml, f"random-{seed}")
    wiring = resolve(build)
    states = States(wiring)
    solved = states.solved(states.everything, REFERENCE)
    assert solved is not None, (seed, states.failed)
    spice = operating_point(pair.netlist, folder)
    worst, compared = 0.0, 0
    for name, probes in pair.probes.items():
        ours = solved.amps("lamp", name) or solved.amps("strip", name)
        assert len(ours) == len(probes), (seed, name)
        for amps, probe in zip(ours, probes, strict=True):
            worst = max(worst, deviation(amps, spice[f"i({probe.lower()})"], AMPS))
            compared += 1
    for (line, place), node in pair.nodes.items():
        volts = solved.volts(wiring.node(line, place))
        if volts is not None:
            worst = max(worst, deviation(volts, spice[f"v({node.lower()})"], VOLTS))
            compared += 1
    return worst, compared, pair.covers


@pytest.mark.parametrize("block", range(BLOCKS))
def test_every_current_and_voltage_agrees_with_ngspice(block: int, tmp_path: Path) -> None:
    per_block = CASES // BLOCKS
    settled = 0
    for seed in range(block * per_block, (block + 1) * per_block):
        try:
            worst, compared, _ = compare(seed, tmp_path)
        except Unsettled:
            continue
        settled += 1
        assert compared > 3
        assert worst <= RELATIVE, f"build {seed}: {worst:.2e}"
    assert settled >= per_block - (CASES - LEAST_COMPARED) // BLOCKS - 1


def test_the_builds_cover_every_element() -> None:
    covered = set().union(*(make(seed, converter=seed % 5 == 4).covers for seed in range(CASES)))
    assert covered >= EVERY_ELEMENT, EVERY_ELEMENT - covered
