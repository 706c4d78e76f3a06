"""A flat pack in a bore against NumPy: a fine grid of places, and SciPy's search for a way to lay the wires."""

from __future__ import annotations

import random
from fractions import Fraction
from math import hypot, pi

import numpy as np
import pytest
from scipy.optimize import minimize

from postcheck.physics import bundle, flat_pack


def largest_beside(across: float, thin: float, bore: float) -> float:
    """The largest circle beside a rectangle in a circle: a grid over the rectangle's place and the circle's middle."""
    radius = bore / 2
    best = 0.0
    x, y = np.meshgrid(np.linspace(-radius, radius, 201), np.linspace(-radius, radius, 201))
    for cx in np.linspace(-radius, radius, 41):
        for cy in np.linspace(-radius, radius, 41):
            if hypot(abs(cx) + across / 2, abs(cy) + thin / 2) > radius:
                continue
            gap = np.hypot(np.maximum(abs(x - cx) - across / 2, 0), np.maximum(abs(y - cy) - thin / 2, 0))
            best = max(best, float(np.minimum(gap, radius - np.hypot(x, y)).max()))
    return 2 * best


@pytest.mark.parametrize(("across", "thin"), [(4.2, 2.6), (4.4, 0.8), (3.0, 2.0), (2.0, 2.0), (1.0, 4.5)])
def test_the_largest_circle_beside_it(across: float, thin: float) -> None:
    free = flat_pack.free_circle(across, thin, 5.0)
    grid = largest_beside(across, thin, 5.0)
    # a grid finds a little less, and nothing finds more
    assert grid <= free + 1e-9
    assert grid == pytest.approx(free, abs=0.25)


def test_it_goes_in_by_its_diagonal() -> None:
    assert flat_pack.free_circle(4.0, 3.0, 5.0) == pytest.approx(
        1.0
    )  # 3, 4, 5: half the bore is 2.5, so 2.5 + 1.5 - 3
    assert flat_pack.free_circle(4.0, 3.01, 5.0) < 0
    assert flat_pack.goes_past(4.0, 3.01, [], 5.0) == bundle.CANNOT
    assert flat_pack.goes_past(4.0, 3.0, [], 5.0) == bundle.FITS
    # three wires of 0.74 side by side on each long face: the outermost at 0.74 from the middle, its edge
    # hypot(0.74, 1.87) + 0.37 = 2.38 from it
    assert flat_pack.goes_past(4.0, 3.0, [0.74] * 6, 5.0) == bundle.FITS
    assert flat_pack.goes_past(4.0, 3.0, [1.01], 5.0) == bundle.CANNOT


def lain(across: float, thin: float, wires: list[float], bore: float, seed: int) -> bool:
    """SciPy's try: rectangle and wires moved until nothing overlaps by more than a hair."""
    chance = np.random.default_rng(seed)
    count = len(wires)
    r = np.array(wires) / 2

    def overlap(z: np.ndarray) -> float:
        cy, x, y = z[0], z[1 : 1 + count], z[1 + count :]
        bad = max(0.0, hypot(across / 2, abs(cy) + thin / 2) - bore / 2) ** 2
        bad += float((np.maximum(0, np.hypot(x, y) + r - bore / 2) ** 2).sum())
        gap = np.hypot(np.maximum(abs(x) - across / 2, 0), np.maximum(abs(y - cy) - thin / 2, 0))
        bad += float((np.maximum(0, r - gap) ** 2).sum())
        for i in range(count):
            for j in range(i):
                bad += max(0.0, r[i] + r[j] - float(np.hypot(x[i] - x[j], y[i] - y[j]))) ** 2
        return bad

    for _ in range(6):
        start = chance.uniform(-bore / 2, bore / 2, 1 + 2 * count)
        if minimize(overlap, start, method="BFGS").fun < 1e-12:
            return True
    return False


def test_verdicts_against_a_free_search() -> None:
    chance = random.Random(11)
    seen = {bundle.FITS: 0, bundle.CANNOT: 0, bundle.NOT_FOUND: 0}
    for number in range(40):
        across, thin = chance.uniform(2.5, 4.6), chance.uniform(0.6, 2.6)
        wires = [chance.choice((0.5, 0.74, 1.0, 1.6, 2.2)) for _ in range(chance.randint(1, 4))]
        verdict = flat_pack.goes_past(across, thin, wires, 5.0)
        seen[verdict] += 1
        if verdict == bundle.CANNOT:
            assert not lain(across, thin, wires, 5.0, number)
    assert seen[bundle.FITS] >= 15
    assert seen[bundle.CANNOT] >= 3
    # in real bores little is left open
    assert seen[bundle.NOT_FOUND] <= 4


# A checker of its own, in exact fractions but for the square roots that squaring takes away.
def overlaps(found: flat_pack.Laid, bore: float) -> list[str]:
    hair = Fraction(1, 10**8)
    radius, half = Fraction(bore) / 2, Fraction(found.width) / 2
    upper, lower = Fraction(found.upper), Fraction(found.upper) - Fraction(found.height)
    bad = [f"corner {face}" for face in (upper, lower) if half**2 + face**2 > (radius + hair) ** 2]
    wires = [(Fraction(d) / 2, Fraction(x), Fraction(y)) for d, x, y in found.wires]
    for n, (r, x, y) in enumerate(wires):
        if x**2 + y**2 > (radius - r + hair) ** 2:
            bad.append(f"wire {n} in the wall")
        dx, dy = max(abs(x) - half, Fraction(0)), max(y - upper, lower - y, Fraction(0))
        if dx**2 + dy**2 < (r - hair) ** 2:
            bad.append(f"wire {n} in the pack")
        for m, (other, ox, oy) in enumerate(wires[:n]):
            if (x - ox) ** 2 + (y - oy) ** 2 < (r + other - hair) ** 2:
                bad.append(f"wires {n} and {m}")
    return bad


def test_every_arrangement_holds() -> None:
    chance = random.Random(5)
    found = 0
    for _ in range(300):
        across, thin = chance.uniform(1.0, 4.8), chance.uniform(0.4, 3.0)
        wires = [round(chance.uniform(0.3, 1.6), 2) for _ in range(chance.randint(1, 9))]
        way = flat_pack.laid(across, thin, wires, 5.0)
        if way is None:
            continue
        found += 1
        assert overlaps(way, 5.0) == []
        assert sorted(d for d, _, _ in way.wires) == sorted(wires)
        assert {way.width, way.height} == {across, thin}
    assert found > 100


def test_more_than_a_side_holds_is_not_said_to_fit() -> None:
    assert flat_pack.goes_past(4.0, 2.0, [0.74] * 20, 5.0) == bundle.NOT_FOUND
    assert (
        flat_pack.goes_past(4.0, 2.0, [0.74] * 30, 5.0) == bundle.CANNOT
    )  # 0.55 x 30 + 8 x 4/pi is above 25


def test_more_area_than_the_bore_has_cannot_pass() -> None:
    # each wire alone goes past, but 3 x 1 mm and 25 wires of 0.7 mm have 3 + 9.6 mm2, and a bore of 4 mm has 12.57
    assert flat_pack.free_circle(3.0, 1.0, 4.0) > 0.7
    assert flat_pack.cannot_pass(3.0, 1.0, [0.7] * 25, 4.0)
    assert not flat_pack.cannot_pass(3.0, 1.0, [0.7] * 24, 4.0)
    assert pi * 0.35**2 * 25 + 3.0 > pi * 2.0**2 > pi * 0.35**2 * 24 + 3.0
