"""Whole builds with their heat against ngspice: every figure with all on and typical parts.

Outside truth: ngspice (Debian package), which solves currents and temperatures of a deck together; that it has settled on a
solution, and how near it came, is shown without it. The decks are written by whole_builds/ from the same random choices as the build
files, and by none of postcheck's code.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

import postcheck
from postcheck.survey import Survey
from tests.outside.spice import led
from tests.outside.whole_builds import FEATURES, Whole, make
from tests.outside.whole_builds.deck import Point
from tests.outside.whole_builds.newton import left_over, refined

# So many builds with all of RICH in each and a plug of either form, then so many with less in them.
RICH = frozenset({"warming", "colours", "strip", "converter", "board"})
PLUGS = ("plug", "plug at")
RICH_BUILDS, BUILDS = 172, 210
LEAST_RICH, LEAST_OF_EACH = 150, 8
BLOCKS = 10
RELATIVE = 1e-6
# How a deck is led: with its sources on, from dice at 25 degC; or, should that fail, from nothing at all.
WAYS = ((1.0, 2.0, 0.5), (0.0, 2.0, 0.1))
SETTLED = 1e-7
# From nothing upwards the input of a converter never gets to so small a share of its source's volts.
SUNK = 0.5
# Below these differences nothing is compared: A, V, W, K. Rounding of 12 V behind 20 mohm leaves 1e-13 A.
FLOOR = 1e-11


@cache
def whole(seed: int) -> Whole:
    return make(seed, sure=sure(seed))


def sure(seed: int) -> frozenset[str]:
    return RICH | {PLUGS[seed % 2]} if seed < RICH_BUILDS else frozenset()


def solved(build: Whole, folder: Path) -> Point:
    for way in WAYS:
        found = led(build.deck.text(), "Vlead", way, folder)
        if found and left_over(Point(build.deck, found)) < SETTLED:
            return Point(build.deck, found)
    raise AssertionError("ngspice found no operating point")


def deviation(ours: float, theirs: float) -> float:
    return max(0.0, abs(ours - theirs) - FLOOR) / max(abs(theirs), FLOOR)


@pytest.mark.parametrize("block", range(BLOCKS))
def test_every_figure_agrees_with_ngspice(block: int, tmp_path: Path) -> None:
    for seed in range(block, BUILDS, BLOCKS):
        build = whole(seed)
        point = solved(build, tmp_path)
        survey = Survey(postcheck.loads(build.toml, f"whole-{seed}"))
        assert not survey.electrics.failed, (seed, survey.electrics.failed)
        if any(share(point) < SUNK for share in build.inputs):
            assert survey.electrics.no_start, seed
            continue
        for section, name, key, read in build.figures:
            ours, true = survey.figures[section][name][key], read(point)
            close = (
                ours == true if isinstance(true, str) else true is None or deviation(ours, true) <= RELATIVE
            )
            assert close, f"build {seed}, {section} {name} {key}: {ours!r}, {true!r}"


@pytest.mark.parametrize("seed", [1, RICH_BUILDS, RICH_BUILDS + 1])
def test_ngspice_itself_is_near_enough(seed: int, tmp_path: Path) -> None:
    build = whole(seed)
    point = solved(build, tmp_path)
    better = refined(point)
    both = [(figure.read(point), figure.read(better)) for figure in build.figures]
    numbers = [pair for pair in both if isinstance(pair[0], float)]
    assert max(deviation(*pair) for pair in numbers) <= RELATIVE / 100
    assert len(numbers) > 20


def test_the_builds_hold_everything() -> None:
    counts = Counter(feature for seed in range(BUILDS) for feature in whole(seed).covers)
    assert {feature: counts[feature] for feature in FEATURES if counts[feature] < LEAST_OF_EACH} == {}
    rich = [whole(seed).covers for seed in range(BUILDS) if whole(seed).covers >= RICH]
    assert sum(not covers.isdisjoint(PLUGS) for covers in rich) >= LEAST_RICH
