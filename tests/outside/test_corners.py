"""Brute force over every combination of corners on small builds: our per-lamp corners are never inside it.

Outside truth: exhaustive enumeration with SciPy's root finder on hand-written equations of the shared path, and with
NumPy on those of whole trees (random_trees.py); no code of postcheck's network is used for either.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from scipy.optimize import brentq

import postcheck
from postcheck.survey import Survey
from postcheck.survey.network import corners as corners_of_survey
from tests.outside import random_trees
from tests.outside.random_trees import Tree, currents, every_corner

SLOPE = 2 * 1.380649e-23 * 298.15 / 1.602176634e-19  # n V_T at 25 degC
BUILD = """
format = 1
[build]
name = "Tender"
air = "20..20 degC"
[lamp_kind.own]
forward = "2.9/3.1/3.5 V"
at = "20 mA"
low_forward = "2.75 V"
low_at = "5 mA"
rated = "20 mA"
per_kelvin = "0 mV"
[wire.shared]
strand = "0.1 mm"
outside = "0.12 mm"
ohms_per_metre = "{shared} ohm/m"
[supply.main]
kind = "adaptor"
place = "base"
volts = "{volts} V"
tolerance = "5 %"
rated = "1 A"
[place]
base = {{ access = "open" }}
hub = {{ access = "open" }}
[circuit.lights]
supply = "main"
[[run]]
line = "lights"
ends = ["base", "hub"]
length = "1 m"
wire = "shared"
[[run]]
line = "main-"
ends = ["base", "hub"]
length = "1 m"
wire = "shared"
"""
LAMP = """
[[lamp]]
name = "lamp {number}"
circuit = "lights"
kind = "own"
place = "hub"
series = {series}
resistor = "{ohms} ohm 1/4 W 5 %"
"""


def string_current(volts: float, ohms: float, series: int, shift: float) -> float:
    """One string on a stiff voltage: R I + n (slope ln(1 + I/Is) + r I + shift) = V."""
    r = ((3.1 - 2.75) - SLOPE * math.log(4)) / 0.015
    saturation = 0.005 / (math.exp((2.75 - 0.005 * r) / SLOPE) - 1)

    def excess(amps: float) -> float:
        return ohms * amps + series * (SLOPE * math.log1p(amps / saturation) + r * amps + shift) - volts

    if excess(0.0) >= 0.0:
        return 0.0  # dark: what leaks backwards is below a picoampere
    return brentq(excess, 0.0, volts / (ohms + series * r), xtol=1e-15, rtol=1e-14)


def shared_currents(volts: float, common: float, strings: list[tuple[float, int, float]]) -> list[float]:
    """Strings side by side behind a common resistance: the voltage on them by root finding on KCL."""

    def excess(at: float) -> float:
        return (volts - at) / common - sum(string_current(at, *string) for string in strings)

    at = brentq(excess, 0.5, volts, xtol=1e-13)
    return [string_current(at, *string) for string in strings]


@pytest.mark.parametrize(
    ("volts", "shared", "lamps"),
    [
        (12.0, 1.0, [(330.0, 3), (470.0, 3), (680.0, 2)]),
        (12.0, 10.0, [(150.0, 3), (1000.0, 1), (330.0, 2), (220.0, 3)]),
        (5.0, 3.0, [(100.0, 1), (150.0, 1), (47.0, 1), (330.0, 1)]),
        (24.0, 25.0, [(560.0, 6), (2200.0, 1)]),
    ],
)
def test_no_combination_lies_outside_our_corners(
    volts: float, shared: float, lamps: list[tuple[float, int]]
) -> None:
    text = BUILD.format(volts=volts, shared=shared) + "".join(
        LAMP.format(number=number, ohms=ohms, series=series) for number, (ohms, series) in enumerate(lamps)
    )
    figures = Survey(postcheck.loads(text)).electrics.lamps
    extremes = [[math.inf, 0.0] for _ in lamps]
    for supply in (0.95, 1.05):
        for signs in itertools.product((-1, 1), repeat=2 * len(lamps)):
            strings = [
                (ohms * (1 + 0.05 * signs[2 * index]), series, (-0.2, 0.4)[(signs[2 * index + 1] + 1) // 2])
                for index, (ohms, series) in enumerate(lamps)
            ]
            for index, amps in enumerate(shared_currents(volts * supply, 2 * shared, strings)):
                extremes[index][0] = min(extremes[index][0], amps)
                extremes[index][1] = max(extremes[index][1], amps)
    for index, (least, most) in enumerate(extremes):
        found = figures[f"lamp {index}"]
        assert found.lowest <= least * (1 + 1e-9)
        assert found.highest >= most * (1 - 1e-9)
        # ... and not far outside it: the corners are those of the build, not a blanket margin
        assert found.lowest == pytest.approx(least, rel=1e-6)
        assert found.highest == pytest.approx(most, rel=1e-6)
    assert np.isfinite(extremes).all()


def warmed_current(
    volts: float, ohms: float, series: int, shift: float, air: float, per_watt: float
) -> float:
    """A string whose dice warm themselves: I and the junction found together, V_F falling by 3 mV/K from 25 degC."""

    def off(rise: float) -> float:
        amps = string_current(volts, ohms, series, shift - 0.003 * (air + rise - 25.0))
        per_die = (volts - amps * ohms) / series
        return amps * per_die * per_watt - rise

    rise = brentq(off, 0.0, 500.0, xtol=1e-9)
    return string_current(volts, ohms, series, shift - 0.003 * (air + rise - 25.0))


@pytest.mark.parametrize(("volts", "ohms", "series"), [(12.0, 150.0, 3), (12.0, 470.0, 1), (5.0, 100.0, 1)])
def test_a_string_warms_itself_at_its_most_and_is_cold_at_its_least(
    volts: float, ohms: float, series: int
) -> None:
    text = BUILD.format(volts=volts, shared=1e-6) + LAMP.format(number=0, ohms=ohms, series=series)
    text = text.replace("20..20 degC", "5..35 degC").replace('"0 mV"', '"-3 mV"')
    survey = Survey(postcheck.loads(text))
    found = survey.electrics.lamps["lamp 0"]
    per_watt = survey.parts.lamps[0].dice[0].kelvin_per_watt
    most = warmed_current(volts * 1.05, ohms * 0.95, series, -0.2, 35.0, per_watt)
    least = string_current(volts * 0.95, ohms * 1.05, series, 0.4 - 0.003 * (5.0 - 25.0))
    assert found.highest == pytest.approx(most, rel=2e-5)
    assert found.lowest == pytest.approx(least, rel=2e-5)


def test_a_lamp_alone_on_a_shared_way_gets_the_most() -> None:
    lamps = [(150.0, 3), (1000.0, 1), (330.0, 2), (220.0, 3)]
    text = BUILD.format(volts=12.0, shared=10.0) + "".join(
        LAMP.format(number=number, ohms=ohms, series=series) for number, (ohms, series) in enumerate(lamps)
    )
    figures = Survey(postcheck.loads(text)).electrics.lamps
    for number, (ohms, series) in enumerate(lamps):
        [most] = shared_currents(12.0 * 1.05, 20.0, [(ohms * 0.95, series, -0.2)])
        assert figures[f"lamp {number}"].alone == pytest.approx(most, rel=1e-6)


# -- wires free, each on a tree of its own


def extremes(tree: Tree, *, one_room: bool = False) -> list[tuple[float, float]]:
    amps = currents(tree, every_corner(tree, one_room))
    assert np.isfinite(amps).all()
    return list(zip(amps.min(axis=0), amps.max(axis=0), strict=True))


@pytest.mark.parametrize("seed", [0, 1, 2, 3, 4, 6, 7, 8, 9, 10, 11, 15])
@pytest.mark.parametrize("surface", [0.002, 0.01])
def test_no_combination_in_closed_places_lies_outside(seed: int, surface: float) -> None:
    """Places that warm by 5 to 60 K: whatever warms them most, no lamp gets beyond its span, and the span is no blanket."""
    tree = random_trees.make(seed, 2, 2, surface=surface)
    electrics = Survey(postcheck.loads(tree.toml)).electrics
    assert electrics.proven
    amps = random_trees.in_closed_places(tree, every_corner(tree, one_room=True), surface)
    for lamp, least, most in zip(tree.lamps, amps.min(axis=0), amps.max(axis=0), strict=True):
        found = electrics.lamps[lamp.name]
        assert least * 0.98 <= found.lowest <= least * (1 + 1e-9)
        assert most * (1 - 1e-9) <= found.highest <= most * 1.01


# trees of two lamps and up to eight conductors, of three and up to six: 2**17 to 2**19 corners each
PROVEN = [(0, 2), (1, 2), (2, 2), (3, 2), (4, 2), (5, 2), (8, 2), (11, 2), (7, 3), (14, 3)]


@pytest.mark.parametrize(("seed", "lamps"), PROVEN)
def test_no_combination_of_wires_dice_and_warmth_lies_outside(seed: int, lamps: int) -> None:
    tree = random_trees.make(seed, lamps, lamps)
    electrics = Survey(postcheck.loads(tree.toml)).electrics
    assert electrics.proven
    for lamp, (least, most) in zip(tree.lamps, extremes(tree), strict=True):
        found = electrics.lamps[lamp.name]
        assert found.lowest <= least * (1 + 1e-9)
        assert found.highest >= most * (1 - 1e-9)
        # each conductor and each die's warmth for itself: then the extremes are those that we name
        assert found.lowest == pytest.approx(least, rel=1e-6)
        assert found.highest == pytest.approx(most, rel=1e-6)


@pytest.mark.parametrize("seed", [77, 135])
def test_where_feeds_and_returns_branch_otherwise_nothing_is_called_proven_and_nothing_lies_outside(
    seed: int,
) -> None:
    """There a lamp gets most when one of its neighbours takes most, for that starves another one."""
    tree = random_trees.make(seed, 3, 3, alike=False)
    electrics = Survey(postcheck.loads(tree.toml)).electrics
    assert not electrics.proven
    for lamp, (least, most) in zip(tree.lamps, extremes(tree, one_room=True), strict=True):
        found = electrics.lamps[lamp.name]
        assert found.lowest <= least * (1 + 1e-6)
        assert found.highest >= most * (1 - 1e-6)


@pytest.mark.parametrize("seed", [0, 2, 3, 4, 5, 7, 11, 14])
def test_the_equivalents_of_large_builds_err_to_the_safe_side(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    tree = random_trees.make(seed, 2, 2)
    monkeypatch.setattr(corners_of_survey, "EXACT_STRINGS", 0)
    figures = Survey(postcheck.loads(tree.toml)).electrics.lamps
    for lamp, (least, most) in zip(tree.lamps, extremes(tree), strict=True):
        found = figures[lamp.name]
        lost = 1.0 - found.joint_volts / tree.volts
        assert least * (1 - 2 * lost**2 - 1e-6) <= found.lowest <= least * (1 + 1e-9)
        assert most * (1 - 1e-9) <= found.highest <= most * (1 + 2 * lost**2 + 1e-6)


@pytest.mark.parametrize("seed", range(12))
def test_each_lamp_alone_on_its_wires(seed: int) -> None:
    tree = random_trees.make(seed, 3, 2)
    figures = Survey(postcheck.loads(tree.toml)).electrics.lamps
    best = random_trees.corners(tree, np.array([[1] + [1] * 12 + [0] * len(tree.edges)], dtype=bool))
    for number, lamp in enumerate(tree.lamps):
        [[most]] = currents(tree, best, lit=[number])
        assert figures[lamp.name].alone == pytest.approx(most, rel=1e-6)


NEIGHBOUR = """
format = 1
[build]
name = "Tender"
air = "20..20 degC"
[lamp_kind.own]
forward = "3.1/3.1/3.1 V"
at = "20 mA"
low_forward = "2.75 V"
low_at = "5 mA"
rated = "20 mA"
per_kelvin = "0 mV"
[supply.main]
kind = "adaptor"
place = "base"
volts = "5 V"
tolerance = "0 %"
rated = "1 A"
[place]
base = {{ access = "open" }}
hub = {{ access = "open" }}
[circuit.one]
supply = "main"
[circuit.two]
supply = "main"
[[run]]
line = "one"
ends = ["base", "hub"]
ohms = "0.1 ohm"
[[run]]
line = "two"
ends = ["base", "hub"]
ohms = "0.1 ohm"
[[run]]
line = "main-"
ends = ["base", "hub"]
ohms = "{shared} ohm"
[[lamp]]
name = "near"
circuit = "one"
kind = "own"
place = "hub"
resistor = "47 ohm 1 W 0 %"
[[lamp]]
name = "far"
circuit = "two"
kind = "own"
place = "hub"
resistor = "47 ohm 1 W 0 %"
lead = "{metres} m of enamel-0.10 to hub"
"""


@pytest.mark.parametrize(("metres", "lifts"), [(0.2, 0.0), (20.0, 1.5e-3)])
def test_the_worse_wire_of_a_neighbour_raises_a_lamp_on_the_same_return(metres: float, lifts: float) -> None:
    shared = 10.0
    figures = Survey(postcheck.loads(NEIGHBOUR.format(metres=metres, shared=shared))).electrics.lamps
    usual, worst = (2 * metres * ohms for ohms in random_trees.WIRES["enamel-0.10"])

    def near(lead: float) -> float:
        return shared_currents(5.0, shared, [(47.1, 1, 0.0), (47.1 + lead, 1, 0.0)])[0]

    found = figures["near"]
    assert found.lowest == pytest.approx(near(usual), rel=1e-7)
    assert found.nominal == pytest.approx(near(usual), rel=1e-7)
    assert found.highest == pytest.approx(near(worst), rel=1e-7)
    assert found.lowest <= found.nominal * (1 + 1e-12)
    assert found.highest >= found.nominal * (1 + lifts)
