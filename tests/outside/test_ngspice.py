"""Builds against ngspice: every lamp current and node voltage, cold and warmed; and how warm closed places get.

Outside truth: ngspice (Debian package), whose diode model with IS, N and RS is the same law. The netlists are
written by random_builds.py and random_warm.py from the same random choices as the build files, and by none of
postcheck's code. In the latter heat flows in the netlist too, from dice, resistors, wires and all else.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.limits import Limits
from postcheck.survey.network.corners import Air, CornerFinder
from postcheck.survey.network.elements import REFERENCE
from postcheck.survey.network.states import States
from postcheck.wiring import resolve
from tests.outside import random_warm
from tests.outside.random_builds import make
from tests.outside.spice import Unsettled, operating_point

CASES = 231
# ngspice itself does not settle on a few flat current sources; so many builds must remain.
LEAST_COMPARED = 220
BLOCKS = 11
RELATIVE, AMPS, VOLTS, KELVIN = 1e-6, 1e-9, 1e-6, 2e-7
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


WARM_CASES, WARM_COMPARED, WARM_BLOCKS = 176, 160, 8
EVERY_WARM_PART = {
    "single", "series", "parallel", "shared", "chain", "colours", "filament", "strip", "load", "plug", "converter", "board",
    "drop", "flash", "dim", "measured", "passage",
}  # fmt: skip


def compare_warm(seed: int, folder: Path) -> tuple[float, int]:
    """Worst relative deviation of a build with everything on, of currents, voltages and the air of places; how many of these."""
    made = random_warm.make(seed)
    build = postcheck.loads(made.toml, f"warm-{seed}")
    wiring = resolve(build)
    states = States(wiring, Limits())
    nominal = CornerFinder(states, Air.of(build)).nominal
    solved = states.solved(states.everything, nominal)
    assert solved is not None, (seed, states.failed)
    spice = operating_point(made.netlist, folder)
    worst, compared = 0.0, 0
    for name, probes in made.probes.items():
        ours = solved.amps("lamp", name) or solved.amps("strip", name)
        for amps, probe in zip(ours, probes, strict=True):
            worst = max(worst, deviation(amps, spice[f"i({probe.lower()})"], AMPS))
            compared += 1
    for place, node in made.air.items():
        worst = max(worst, deviation(states.air(nominal)[place], spice[f"v({node.lower()})"], KELVIN))
        compared += 1
    for (line, place), node in made.nodes.items():
        volts = solved.volts(wiring.node(line, place))
        if volts is not None and f"v({node.lower()})" in spice:
            worst = max(worst, deviation(volts, spice[f"v({node.lower()})"], VOLTS))
            compared += 1
    return worst, compared


@pytest.mark.parametrize("block", range(WARM_BLOCKS))
def test_warmed_in_closed_places_every_figure_agrees_with_ngspice(block: int, tmp_path: Path) -> None:
    per_block = WARM_CASES // WARM_BLOCKS
    settled = 0
    for seed in range(block * per_block, (block + 1) * per_block):
        try:
            worst, compared = compare_warm(seed, tmp_path)
        except Unsettled:
            continue
        settled += 1
        assert compared > 3
        assert worst <= RELATIVE, f"build {seed}: {worst:.2e}"
    assert settled >= per_block - (WARM_CASES - WARM_COMPARED) // WARM_BLOCKS


def test_the_warm_builds_cover_every_part() -> None:
    covered = set().union(*(random_warm.make(seed).covers for seed in range(WARM_CASES)))
    assert covered >= EVERY_WARM_PART, EVERY_WARM_PART - covered
