"""What "cannot fit" rests on: each bound against its own condition, written another way and solved by SciPy."""

from __future__ import annotations

import random
from itertools import permutations
from math import acos, cos, inf, pi, sin, sqrt

import pytest
from scipy.optimize import brentq

from postcheck.physics import bundle
from postcheck.physics.bundle import bounds, certify
from tests.physics.bundle_cases import holds_exactly


def _turn(radii: list[float], radius: float) -> float:
    """The least sum of angles in which circles that touch the wall lie round the middle, each touching the next."""

    def between(one: float, other: float) -> float:
        a, b, d = radius - one, radius - other, one + other
        return acos(max(-1.0, min(1.0, (a * a + b * b - d * d) / (2.0 * a * b))))

    first, *rest = radii
    rings = ((first, *order) for order in permutations(rest))
    return min(sum(between(a, b) for a, b in zip(ring, (*ring[1:], first), strict=True)) for ring in rings)


@pytest.mark.parametrize("seed", range(30))
def test_a_ring_needs_a_full_turn(seed: int) -> None:
    """Least radius at which the angles of the best order (law of cosines) add up to one turn, by Brent's method."""
    chance = random.Random(seed)
    radii = sorted((chance.uniform(0.7, 1.0) for _ in range(4 + seed % 3)), reverse=True)
    low, high = radii[0] + radii[1], 3.0 * radii[-1]
    if high <= low or _turn(radii, low) <= 2.0 * pi:
        assert bounds._ring(radii, low) == low
    elif _turn(radii, high) >= 2.0 * pi:
        assert bounds._ring(radii, low) == pytest.approx(high, rel=1e-9)
    else:
        exact = brentq(lambda radius: _turn(radii, radius) - 2.0 * pi, low, high, xtol=1e-14)
        assert bounds._ring(radii, low) == pytest.approx(exact, rel=1e-9)
        assert bounds._ring(radii, low) <= exact * (1.0 + 1e-12)
        assert bounds._ring(radii, exact * 1.001) == exact * 1.001
        assert bounds._ring(radii, high * 1.001) == high * 1.001


def test_what_two_alone_are_too_wide_for_is_no_ring() -> None:
    # two of 1 with a thin one on either side would have room all round (4 times 66 degrees), but for each other
    assert bounds._turns_past([1.0, 1.0, 0.4, 0.4], 1.9)
    assert not bounds._turns_past([1.0, 1.0, 1.0, 1.0], 1.0 + sqrt(2.0) + 1e-9)
    assert bounds._turns_past([1.0, 1.0, 1.0, 1.0], 1.0 + sqrt(2.0) - 1e-9)


@pytest.mark.parametrize("count", [25, 30, 61, 200])
def test_many_equal_wires_by_oler_and_groemer(count: int) -> None:
    """Oler 1961, Groemer 1960: at the bound, 2/sqrt(3) pi y2 + pi y + 1 is the number, with y = (R - 1)/2."""
    y = (bounds.equal_ratio(count) - 1.0) / 2.0
    assert 2.0 / sqrt(3.0) * pi * y * y + pi * y + 1.0 == pytest.approx(count, rel=1e-10)


@pytest.mark.parametrize(("count", "last"), [(15, 14), (18, 14), (20, 19), (21, 19)])
def test_between_the_proven_ones_the_last_of_them_counts_too(count: int, last: int) -> None:
    """One wire more needs no less: 4.328 for 14 (Ekanayake and LaFountain), 4.863 for 19 (Fodor 1999)."""
    known = {14: 4.328428554860, 19: 4.863703305156}[last]
    assert bounds.equal_ratio(count) >= known * (1.0 - 1e-11)
    assert bounds.equal_ratio(count) < known * 1.07


def test_thinner_ones_in_the_place_of_a_thick_one() -> None:
    """Into a circle of three go seven of one (Graham 1968: 3.0 for 7), so one of a hair more and twelve of 1 need what 19 of 1 need."""
    assert bounds.held(3.000001) == 7
    assert bounds.held(2.999999) == 5
    assert bounds.held(1.99) == 1
    assert bounds.held(2.000001) == 2
    wires = [6.00001, *[2.0] * 12]
    assert bundle.smallest_possible(wires) == pytest.approx(2.0 * (1.0 + sqrt(2.0) + sqrt(6.0)), rel=1e-11)
    bore = 2.0 * (1.0 + sqrt(2.0) + sqrt(6.0))
    assert bundle.pack(wires, bore * 0.9999).verdict == "cannot fit"
    assert bundle.pack(wires, bore * 1.0001).verdict != "cannot fit"


def test_by_area_alone() -> None:
    """No bound is below the root of the summed squares: a thick one and a thousand fine ones that fill what it leaves."""
    wires = [10.0, *[0.1] * 8000]
    assert bundle.smallest_possible(wires) >= sqrt(100.0 + 8000 * 0.01) * (1.0 - 1e-11)
    assert bundle.smallest_possible(wires) < sqrt(100.0 + 8000 * 0.01) * 1.15


def test_what_is_spread_until_nothing_overlaps_overlaps_by_nothing() -> None:
    """Two that touch within the rounding of floats: by rational arithmetic, nothing allowed."""
    chance = random.Random(5)
    for _ in range(1000):
        radii = sorted((chance.uniform(0.5, 1.0), chance.uniform(0.1, 0.5)), reverse=True)
        turn, apart = chance.uniform(0.0, 2.0 * pi), sum(radii) * (1.0 + chance.uniform(-4e-16, 4e-16))
        radius, (xs, ys) = certify.tightened([0.0, apart * cos(turn)], [0.0, apart * sin(turn)], radii)
        assert holds_exactly(list(zip(xs, ys, strict=True)), [2.0 * r for r in radii], 2.0 * radius)


def test_what_lies_on_one_point_cannot_be_spread() -> None:
    assert certify.tightened([0.3, 0.3], [0.2, 0.2], [1.0, 0.5])[0] == inf
    radius, (xs, ys) = certify.tightened([0.0, 0.5], [0.0, 0.0], [1.0, 0.5])
    assert radius == pytest.approx(2.0, rel=1e-12)
    assert (xs, ys) == ([0.0, pytest.approx(1.5)], [0.0, 0.0])
    # what overlaps nothing is left as it is
    assert certify.tightened([0.0, 2.0], [0.0, 0.0], [1.0, 0.5])[1] == ([0.0, 2.0], [0.0, 0.0])
    assert certify.enclosing([0.0, 3.0], [0.0, 4.0], [1.0, 0.5]) == pytest.approx(5.5, rel=1e-14)
    assert certify.enclosing([0.0, 3.0], [0.0, 4.0], [1.0, 0.5]) > 5.5
