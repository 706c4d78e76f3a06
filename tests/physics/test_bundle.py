"""Packing of wires in a bore: never a wrong verdict, and near the published records."""

import random
import subprocess
import sys
import time
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from postcheck.physics import bundle
from postcheck.physics.bundle import bounds

# Container over circle radius for equal circles: the public record table kept by E. Specht; 1 to 14 and 19 proven
# (Graham, Pirl, Melissen, Fodor, Ekanayake and LaFountain), the rest best known (Graham, Lubachevsky, Nurmela,
# Ostergard 1998)
RECORDS = {
    1: 1.0, 2: 2.0, 3: 2.154700538379, 4: 2.414213562373, 5: 2.701301616704, 6: 3.0, 7: 3.0, 8: 3.304764870962,
    9: 3.613125929752, 10: 3.813025631398, 11: 3.923804400163, 12: 4.029601930116, 13: 4.236067977499,
    14: 4.328428554860, 15: 4.521356964706, 16: 4.615425594873, 17: 4.792033748310, 18: 4.863703305156,
    19: 4.863703305156, 20: 5.122320736991, 30: 6.197741070879, 37: 6.758770483143, 61: 8.661297575540,
}  # fmt: skip
PROVEN = {*range(1, 15), 19}
# Radii 1, 2, ... n: best known container radius, a public contest of 2005 and later papers (Huang, Li, Li, Xu 2006;
# Grosso, Jamali, Locatelli, Schoen 2010), from memory
RISING = {5: 9.001398, 6: 11.057040, 8: 16.221747, 10: 22.000193, 12: 28.371389, 15: 38.837996}


def room(packing: bundle.Packing, diameters: list[float]) -> tuple[float, float]:
    """Least gap between two wires, and the diameter about the origin that holds all, by NumPy."""
    centres = np.array(packing.centres)
    radii = np.array(diameters) / 2
    apart = np.linalg.norm(centres[:, None] - centres[None], axis=2) - radii[:, None] - radii[None]
    np.fill_diagonal(apart, np.inf)
    return float(apart.min()), float(2 * (np.linalg.norm(centres, axis=1) + radii).max())


def assert_certified(packing: bundle.Packing, diameters: list[float]) -> None:
    gap, holds = room(packing, diameters)
    assert len(packing.centres) == len(diameters)
    assert gap >= -1e-12 * max(diameters)
    assert holds <= packing.diameter * (1 + 1e-12)


@pytest.mark.parametrize(("count", "ratio"), RECORDS.items())
def test_equal_wires(count: int, ratio: float) -> None:
    wires = [0.6] * count
    found = bundle.pack(wires)
    assert found.verdict == "fits"
    assert_certified(found, wires)
    # no packer can beat a proven record; beating an unproven one by more than its rounding means a fault
    assert 0.6 * ratio * (1 - 1e-10) <= found.diameter <= 0.6 * ratio * (1.001 if count <= 20 else 1.02)


@pytest.mark.parametrize("count", sorted(RECORDS))
def test_bound_stays_below_every_record(count: int) -> None:
    bound = bundle.smallest_possible([1.0] * count)
    assert bound <= RECORDS[count] * (1 + 1e-12)  # printed to twelve decimals
    assert bound >= RECORDS[count] * (1 - 1e-11 if count in PROVEN else 0.92)


@pytest.mark.parametrize(("count", "radius"), RISING.items())
def test_rising_radii(count: int, radius: float) -> None:
    wires = [2.0 * i for i in range(1, count + 1)]
    found = bundle.pack(wires)
    assert_certified(found, wires)
    assert 2 * radius * (1 - 1e-6) <= found.diameter <= 2 * radius * 1.03
    assert bundle.smallest_possible(wires) <= 2 * radius * (1 + 1e-7)


def test_exact_bores() -> None:
    # equal wires that just go in (geometry): 2 in 2, 3 in 1 + 2/sqrt(3), 4 in 1 + sqrt(2), 7 in 3
    for count, bore in ((1, 1.0), (2, 2.0), (3, 1 + 2 / sqrt(3)), (4, 1 + sqrt(2)), (7, 3.0)):
        assert bundle.pack([1.0] * count, bore).verdict == "fits"
        assert bundle.pack([1.0] * count, bore * (1 - 1e-6)).verdict == "cannot fit"


@pytest.mark.parametrize("wires", [[1.0, 0.9, 0.8], [1.0, 1.0, 0.7], [2.0, 0.8, 0.75], [1.0, 0.5, 0.345]])
def test_three_unequal_wires(wires: list[float]) -> None:
    # the least circle round three, by SciPy's constrained minimiser from several starts
    radii = np.array(wires) / 2

    def fits(p: np.ndarray) -> np.ndarray:
        c = p[1:].reshape(3, 2)
        inside = p[0] - radii - np.sqrt((c**2).sum(axis=1) + 1e-18)
        apart = [np.linalg.norm(c[i] - c[j]) - radii[i] - radii[j] for i, j in ((0, 1), (0, 2), (1, 2))]
        return np.concatenate([inside, apart])

    dice = np.random.default_rng(1)
    best = min(
        (minimize(lambda p: p[0], np.concatenate([[2.5], dice.normal(0, 1, 6)]), method="SLSQP",
                  constraints={"type": "ineq", "fun": fits}, options={"maxiter": 300, "ftol": 1e-12})
         for _ in range(12)),
        key=lambda r: r.fun if fits(r.x).min() > -1e-8 else 1e9,
    )  # fmt: skip
    found = bundle.pack(wires)
    assert_certified(found, wires)
    assert found.diameter == pytest.approx(2 * best.fun, rel=1e-6)
    assert bundle.smallest_possible(wires) == pytest.approx(found.diameter, rel=1e-11)


def test_third_in_the_gap() -> None:
    # Descartes' circle theorem: beside two unit circles in a circle of two there is room for radius 2/3
    assert bounds.gap_radius(1.0, 1.0) == pytest.approx(2 / 3)
    assert bundle.pack([2.0, 2.0, 4 / 3]).diameter == pytest.approx(4.0, rel=1e-11)
    assert bundle.pack([2.0, 2.0, 1.34]).diameter > 4.0 * (1 + 1e-6)


def realistic() -> list[tuple[list[float], float]]:
    # diameters in mm, and the radius that several independent long searches found
    rows = [
        ("2x1.2 4x0.6", 1.200000),
        ("1x1.6 4x0.8 4x0.35", 1.342223),
        ("1x1.6 11x0.3", 1.055037),
        ("4x1.2 10x0.5", 1.610250),
        ("10x0.75 10x0.5", 1.578088),
        ("4x1.3 5x0.9 5x0.6 6x0.4", 2.020012),
        ("4x1.3 10x0.8 20x0.5", 2.343022),
    ]
    return [
        ([float(d) for part in text.split() for n, d in [part.split("x")] for _ in range(int(n))], radius)
        for text, radius in rows
    ]


@pytest.mark.parametrize(("wires", "radius"), realistic())
def test_realistic_bundles(wires: list[float], radius: float) -> None:
    found = bundle.pack(wires)
    assert_certified(found, wires)
    assert 2 * radius * (1 - 1e-4) <= found.diameter <= 2 * radius * 1.03
    assert bundle.smallest_possible(wires) <= 2 * radius * (1 + 1e-6)
    # a bore with a tenth to spare is found at once
    roomy = bundle.pack(wires, 2.2 * radius)
    assert roomy.verdict == "fits"
    assert_certified(roomy, wires)
    assert roomy.diameter <= 2.2 * radius


def test_between_bound_and_record_is_not_found() -> None:
    # 16 equal wires at 2 % below the best known circle: no proof, and nobody has an arrangement
    packing = bundle.pack([1.0] * 16, RECORDS[16] * 0.98)
    assert packing.verdict == "not found"
    assert packing.diameter > RECORDS[16] * 0.98
    assert bundle.pack([1.0] * 16, RECORDS[16] * 0.90).verdict == "cannot fit"


@given(st.integers(0, 10**6), st.integers(2, 14))
@settings(max_examples=30, deadline=None)
def test_what_is_known_to_fit_is_never_refused(seed: int, count: int) -> None:
    # wires planted in a bore of 2 by throwing dice: an arrangement exists, so "cannot fit" would be false
    dice = random.Random(seed)
    placed: list[tuple[float, float, float]] = []
    for _ in range(400):
        x, y = dice.uniform(-1, 1), dice.uniform(-1, 1)
        free = min([1 - sqrt(x * x + y * y), *(sqrt((x - a) ** 2 + (y - b) ** 2) - r for a, b, r in placed)])
        if free > 0.08:
            placed.append((x, y, free * dice.uniform(0.7, 1.0)))
        if len(placed) == count:
            break
    wires = [2 * r for _, _, r in placed]
    packing = bundle.pack(wires, 2.0)
    assert packing.verdict != "cannot fit"
    assert_certified(packing, wires)
    assert (packing.diameter <= 2.0 * (1 + 1e-9)) == (packing.verdict == "fits")


@given(st.lists(st.floats(0.2, 3.0), min_size=1, max_size=9), st.floats(1.0, 8.0))
@settings(max_examples=25, deadline=None)
def test_verdicts_hold_together(wires: list[float], bore: float) -> None:
    packing = bundle.pack(wires, bore)
    assert_certified(packing, wires)
    bound = bundle.smallest_possible(wires)
    assert bound <= packing.diameter * (1 + 1e-9)
    assert (packing.verdict == "cannot fit") <= (bound > bore)
    assert (packing.verdict == "fits") == (packing.diameter <= bore * (1 + 1e-9))
    # area alone: no wires of more than the bore's area
    if sum(d * d for d in wires) > bore * bore:
        assert packing.verdict == "cannot fit"


def test_order_is_kept() -> None:
    wires = [0.4, 1.0, 0.7, 1.0, 0.4]
    packing = bundle.pack(wires)
    assert_certified(packing, wires)
    # the same wires in another order make the same bundle
    assert bundle.pack(sorted(wires)).diameter == packing.diameter


@pytest.mark.parametrize("wires", [[1.0] * 9, [1.2] * 2 + [0.5] * 9, [0.8] * 8 + [0.6] * 8])
def test_the_bore_asked_for_is_enough(wires: list[float]) -> None:
    least = bundle.pack(wires).diameter
    for bore in (least, least * 1.0001, least * 1.01, least * 1.1):
        packing = bundle.pack(wires, bore)
        assert packing.verdict == "fits"
        assert_certified(packing, wires)


def test_scale_does_not_matter() -> None:
    wires = [0.5, 0.75, 1.0, 0.25, 0.625]
    assert bundle.pack([d / 1024 for d in wires]).diameter * 1024 == bundle.pack(wires).diameter


def test_the_same_on_every_run() -> None:
    code = "from postcheck.physics.bundle import pack; print(repr(pack([1.2, 1.0, 0.8, 0.8, 0.6, 0.5, 0.5, 0.5], 2.75)))"
    runs = {
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
        for _ in range(2)
    }
    assert len(runs) == 1
    assert "Packing" in runs.pop()


def test_quick_in_a_roomy_bore() -> None:
    wires = [0.9] * 6 + [0.6] * 14
    bore = 1.25 * 1.2 * sqrt(sum(d * d for d in wires))
    start = time.process_time()
    assert bundle.pack(wires, bore).verdict == "fits"
    assert time.process_time() - start < 0.25  # some 10 ms; generous for a busy machine


def test_nothing_to_pack() -> None:
    assert bundle.pack([]) == bundle.Packing(0.0, (), "fits")
    assert bundle.pack([], 1.0).verdict == "fits"
    assert bundle.smallest_possible([]) == 0.0


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_no_such_wire(bad: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        bundle.pack([1.0, bad])
    with pytest.raises(ValueError, match="bore"):
        bundle.pack([1.0], bad)
