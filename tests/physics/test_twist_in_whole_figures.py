"""Turning, folding, bending, lay and life where the figures are whole: exact, with both sides of each bound."""

from __future__ import annotations

from math import inf, pi

import numpy as np
import pytest

from postcheck.physics import twist


@pytest.mark.parametrize(("name", "ductility"), [("foil", 0.30), ("foil-poor", 0.15)])
def test_the_foil_relation_where_its_logarithm_is_whole(name: str, ductility: float) -> None:
    """At 1e5 cycles the elastic part is 0.9 Su/E and the plastic one a thousandth of Df**0.75; at 1 and 1e3 the exponents are 5 and 2."""
    elastic = 0.9 * 220.0 / 117e3
    base = np.exp(ductility) / 0.36
    for cycles, plastic, power in (
        (1e5, 1e-3, 0.0),
        (1.0, 1.0, 0.8925),
        (1e3, 10.0**-1.8, 0.357),
    ):
        exact = plastic * ductility**0.75 + elastic * base**power
        assert twist.strain_allowed(cycles, name) == pytest.approx(exact, rel=1e-9)  # type: ignore[arg-type]


@pytest.mark.parametrize(("name", "ductility"), [("slopes", 1.2), ("slopes-poor", 0.3)])
def test_the_slopes_at_one_cycle_and_at_a_hundred_thousand(name: str, ductility: float) -> None:
    """10**5 to the power of 0.12 and of 0.6 are 10**0.6 and 1000."""
    assert twist.strain_allowed(1.0, name) == pytest.approx(3.5 * 220.0 / 117e3 + ductility**0.6, rel=1e-9)  # type: ignore[arg-type]
    at = 3.5 * 220.0 / 117e3 / 10.0**0.6 + ductility**0.6 / 1000.0
    assert twist.strain_allowed(1e5, name) == pytest.approx(at, rel=1e-9)  # type: ignore[arg-type]
    assert twist.strain_allowed(1e4, "plastic") == pytest.approx(0.006, rel=1e-12)


def test_lives_of_hardly_more_than_one_cycle_and_of_hardly_less_than_the_most() -> None:
    for cycles in (1.001, 1.2, 1.4, 3.0, 1e6, 9.99e8):
        assert twist.life(twist.strain_allowed(cycles)).middle == pytest.approx(cycles, rel=1e-9)
    assert twist.life(twist.strain_allowed(1e5), most=1e4) == twist.Life(1e4, 1e4, 1e4)
    assert twist.life(0.01, most=1.0) == twist.Life(1.0, 1.0, 1.0)
    # plastic: 0.6 / sqrt(N), the fewest at a small strain
    assert twist.life(1e-3).low == pytest.approx(360_000.0, rel=1e-9)
    with pytest.raises(ValueError, match="one cycle at least"):
        twist.life(0.01, most=0.99)


def test_helices_where_the_turn_is_one_along_the_axis() -> None:
    """With k = 1/L and a = L all is whole: s = L sqrt 2, curvature 1/(2 L), torsion the same."""
    assert twist.path_length(0.2, 0.2, 1.0) == pytest.approx(0.2 * 2**0.5, rel=1e-12)
    assert twist.slack_needed(0.2, 0.2, 1.0) == pytest.approx(0.2 * (2**0.5 - 1.0), rel=1e-12)
    assert twist.curvature(0.2, 0.2, 1.0) == twist.torsion(0.2, 0.2, 1.0) == pytest.approx(2.5, rel=1e-12)
    assert twist.torsion(0.2, 0.1, -1.0) == pytest.approx(-4.0, rel=1e-12)
    assert twist.curvature(0.2, 0.1, -1.0) == pytest.approx(2.0, rel=1e-12)
    assert twist.shear_strain(0.01, 0.2, 1.0, 0.1) == pytest.approx(0.04, rel=1e-12)
    assert twist.shear_strain(0.01, 0.2, 1.0) == pytest.approx(0.05, rel=1e-12)
    # 3, 4, 5: with a turn of 0.75 over the lay of none, and of 4/3 more with some slack
    assert twist.axial_strain(0.4, 0.4, 0.75) == pytest.approx(0.25, rel=1e-12)
    assert twist.axial_strain(0.4, 0.4, 0.75, slack=0.05) == pytest.approx(0.5 / 0.45 - 1.0, rel=1e-12)
    assert twist.axial_strain(0.4, 0.4, 4.0 / 3.0 - 0.75, lay=0.75) == pytest.approx(1.0 / 3.0, rel=1e-12)
    assert twist.axial_strain(0.4, 0.4, 4.0 / 3.0 - 0.75, slack=0.1, lay=0.75) == pytest.approx(
        1.0 / 9.0, rel=1e-12
    )
    assert twist.axial_strain(0.4, 0.4, 0.5, slack=0.1) == 0.0
    assert twist.equivalent_strain(0.01, 0.02, 0.04 * 3**0.5) == pytest.approx(0.05, rel=1e-12)


def test_a_range_through_straight_counts_from_straight() -> None:
    """0.4 m at a = 0.4 m from -0.75 (stretched by a quarter) to 4/3 (by two thirds) and from 0.75 on."""
    told = twist.strain_range(0.01, 0.4, -0.75, 4.0 / 3.0, 0.4)
    assert told.axial == pytest.approx(2.0 / 3.0, rel=1e-12)
    # k = 10/3: 0.4 k2 / (1 + 16/9) = 1.6
    assert told.bend == pytest.approx(0.016, rel=1e-12)
    # torsions 1.2 and -1.2
    assert told.shear == pytest.approx(0.024, rel=1e-12)
    assert told.equivalent == pytest.approx(((2.0 / 3.0 + 0.016) ** 2 + 0.024**2 / 3.0) ** 0.5, rel=1e-12)
    assert told == twist.strain_range(0.01, 0.4, 4.0 / 3.0, -0.75, 0.4)
    onward = twist.strain_range(0.01, 0.4, 0.75, 4.0 / 3.0, 0.4)
    assert onward.axial == pytest.approx(2.0 / 3.0 - 0.25, rel=1e-12)
    assert onward.bend == pytest.approx(0.016 - 0.01 * 0.9, rel=1e-12)
    assert onward.shear == pytest.approx(0.0, abs=1e-15)
    back = twist.strain_range(0.01, 0.4, -4.0 / 3.0, -0.75, 0.4)
    assert (back.axial, back.bend) == (pytest.approx(onward.axial), pytest.approx(onward.bend))
    for low, high in ((0.0, 0.75), (-0.75, 0.0), (0.75, 0.0)):
        assert twist.strain_range(0.01, 0.4, low, high, 0.4).axial == pytest.approx(0.25, rel=1e-12)
    slack = twist.strain_range(0.01, 0.4, 0.75, 4.0 / 3.0, 0.4, slack=0.05)
    assert slack.axial == pytest.approx((2.0 / 3.0 - 0.5) / 0.45, rel=1e-12)


@pytest.mark.parametrize(
    ("strands", "across"),
    [(2, 2.0), (3, 2.154), (4, 2.414), (5, 2.7), (6, 3.0), (7, 3.0), (19, 5.0), (25, 5.775), (100, 11.55)],
)
def test_conductors_of_so_many_strands(strands: int, across: float) -> None:
    """Cabling factors; 1.155 sqrt(n) where none is known."""
    assert twist.working_radius(2e-4, strands, soldered=True) == pytest.approx(across * 1e-4, rel=1e-12)
    assert twist.working_radius(2e-4, strands) == 1e-4


@pytest.mark.parametrize(
    ("strands", "radius", "spread"),
    # in strand diameters: six at 1, mean square 6/7; twelve at 2 and sqrt 3 in the mean, 48/19; else a disc, half of its radius squared
    [
        (7, 1.0, 6.0 / 7.0),
        (19, 2.0, 48.0 / 19.0),
        (3, 0.577, 0.577**2 / 2.0),
        (100, 5.275, 5.275**2 / 2.0),
    ],
)
def test_how_strands_lie(strands: int, radius: float, spread: float) -> None:
    """The greatest difference of a squared radius from the mean: of the core, or of the outermost where that is more."""
    lay = twist.lay_of(1e-4, strands, 5e-3)
    assert lay is not None
    assert lay == (5e-3, pytest.approx(radius * 1e-4, rel=1e-9), pytest.approx(spread * 1e-8, rel=1e-9))
    usual = twist.lay_of(1e-4, strands)
    assert usual is not None
    assert usual.length == pytest.approx(20.0 * (2.0 * radius + 1.0) * 1e-4, rel=1e-9)
    assert usual[1:] == lay[1:]


def test_the_strain_along_a_strand_by_hand() -> None:
    """Laid 2 pi mm long, 1 mm from the middle, so that a k0 is 1: 0.2 rad one way and 0.1 the other over 100 mm."""
    lay = twist.Lay(2e-3 * pi, 1e-3, 4e-7)
    low, high = 1000.0 - 1.0, 1000.0 + 2.0
    along = 4e-7 * (high**2 - low**2) / 2.0 / 2.0
    bends = [1e-3 * k * k / (1.0 + (1e-3 * k) ** 2) for k in (low, high)]
    exact = along + 1e-4 * (bends[1] - bends[0])
    assert twist.lay_strain(lay, 1e-4, 0.1, -0.1, 0.2) == pytest.approx(exact, rel=1e-9)
    assert twist.lay_strain(lay, 1e-4, 0.1, 0.2, -0.1) == pytest.approx(exact, rel=1e-9)
    # untwisted beyond straight it is laid the other way round
    beyond = twist.lay_strain(lay, 1e-4, 1e-3, -1.5, 0.0)
    assert beyond == pytest.approx(4e-7 * (1e6 - 0.25e6) / 4.0 + 1e-4 * (500.0 - 200.0), rel=1e-9)
    for wrong in (0.0, -1e-3):
        with pytest.raises(ValueError, match="length"):
            twist.lay_of(1e-4, 7, wrong)
        with pytest.raises(ValueError, match="length"):
            twist.lay_strain(lay, 1e-4, wrong, 0.0, 1.0)


def test_folds_and_bends_and_coils_in_whole_figures() -> None:
    peak = twist.LOOP_ROOT / 2.0 / np.sin(twist.LOOP_ROOT / 2.0)
    assert pytest.approx(peak, rel=1e-12) == twist.FOLD_PEAK
    assert twist.fold_strain(1e-4, 0.05, 2.0) == pytest.approx(2e-3 * peak * 2.0 * 1.0772, rel=1e-9)
    assert twist.fold_length(1e-4, 2.0, 0.01) == pytest.approx(0.01 * peak * 2.0 * 1.0772, rel=1e-9)
    assert twist.bend_strain(1.0, 3.0) == 0.25
    assert twist.repeated_bend_radius(2.0, 0.25) == 6.0
    assert twist.repeated_bend_radius(2.0, 1.5) == 0.0
    assert twist.swings(pi) == 2.0
    assert (twist.minimum_bend_radius(2.0), twist.minimum_bend_radius(2.0, moving=True)) == (12.0, 20.0)
    # a quarter more than its bore: (a k)2 = 9/16, so R = a 25/9; and back
    assert twist.coil_radius(0.1, 0.025, 1e-3) == pytest.approx(1e-3 * 25.0 / 9.0, rel=1e-9)
    assert twist.coil_length(0.1, 9e-3, 25e-3) == pytest.approx(0.025, rel=1e-9)
    assert twist.coil_length(0.1, 5e-3, 5e-3) == inf
    assert twist.shortest_span(1e-3, 3.0**0.5, 0.01) == pytest.approx(0.1, rel=1e-12)
    assert twist.loop_limit(0.5) == pytest.approx(3.0 * twist.LOOP_ROOT, rel=1e-12)
    for wrong in (-1.0, 0.51):
        with pytest.raises(ValueError, match="Poisson"):
            twist.loop_limit(wrong)
    # doubled, with n = 1: kt; with n = 0: kt squared
    assert twist.nicked_strain(0.01, 1.5, 0.0) == pytest.approx(0.0225, rel=1e-12)
    assert twist.nicked_strain(0.01, 2.0) == pytest.approx(0.01 * 2.0 ** (2.0 / 1.54), rel=1e-12)
    assert twist.pull_limit(2e-6) == pytest.approx(100.0, rel=1e-12)
