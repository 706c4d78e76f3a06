"""Flat cables in a bore: bounds and arrangements against geometry worked out by hand, and against random trials."""

from __future__ import annotations

from math import hypot, pi, sqrt
from random import Random

import pytest

from postcheck.physics import bundle
from postcheck.physics.flat_cable import lies, pack, smallest_possible


def test_alone_it_needs_its_diagonal_and_no_less_than_its_width() -> None:
    packing = pack([(6.4, 0.9)], [], 8.0)
    assert packing.verdict == bundle.FITS
    assert packing.diameter == pytest.approx(hypot(6.4, 0.9), rel=1e-3)
    # with round edges it goes in at 6.4, with square ones at 6.463: nobody says which
    assert pack([(6.4, 0.9)], [], 6.43).verdict == bundle.NOT_FOUND
    assert pack([(6.4, 0.9)], [], 6.39).verdict == bundle.CANNOT


def test_two_on_each_other_need_the_diagonal_of_the_stack() -> None:
    packing = pack([(5.0, 1.0), (5.0, 1.0)], [], 6.0)
    assert packing.diameter == pytest.approx(hypot(5.0, 2.0), rel=1e-3)
    assert packing.flats == ((0.0, -0.5), (0.0, 0.5))


def test_a_wire_beside_it_goes_where_the_segment_is_highest() -> None:
    # the pack at the wall: its far corners at sqrt(R2 - w2/4); the wire touches its face and the wall opposite
    across, thin, bore = 4.0, 1.0, 5.0
    largest = bore / 2.0 + sqrt(bore * bore / 4.0 - across * across / 4.0) - thin
    assert pack([(across, thin)], [largest * 0.98], bore).verdict == bundle.FITS
    assert pack([(across, thin)], [largest * 1.02], bore).verdict != bundle.FITS


def test_bounds_by_hand() -> None:
    # the widest; with a wire of 6 beside it, that and one of its seven circles side by side, or a little more
    assert smallest_possible([(6.4, 0.9)], []) == pytest.approx(6.4)
    assert 6.9 <= smallest_possible([(6.4, 0.9)], [6.0]) < 6.92
    # area: 20 rows of 10 circles in a bore
    assert smallest_possible([(10.0, 1.0)] * 20, []) >= sqrt(20 * 10) * (1 - 1e-9)


@pytest.mark.parametrize("seed", range(30))
def test_what_is_found_is_right_and_never_below_what_is_proven(seed: int) -> None:
    random = Random(seed)
    flats = [(random.uniform(2.0, 7.0), random.uniform(0.4, 1.2)) for _ in range(random.randint(1, 3))]
    wires = [random.uniform(0.3, 2.0) for _ in range(random.randint(0, 7))]
    bore = random.uniform(4.0, 14.0)
    packing = pack(flats, wires, bore)
    assert lies(packing, flats, wires)
    assert packing.diameter >= smallest_possible(flats, wires) * (1.0 - 1e-9)
    assert (packing.verdict == bundle.FITS) == (packing.diameter <= bore * (1.0 + 1e-9))
    if packing.verdict == bundle.CANNOT:
        assert smallest_possible(flats, wires) > bore
    area = sum(a * t for a, t in flats) + pi / 4.0 * sum(d * d for d in wires)
    assert pi / 4.0 * packing.diameter**2 >= area * (1.0 - 1e-9)


def test_an_arrangement_that_overlaps_is_seen() -> None:
    packing = pack([(4.0, 1.0)], [1.0, 1.0], 6.0)
    assert lies(packing, [(4.0, 1.0)], [1.0, 1.0])
    assert not lies(packing._replace(wires=(packing.flats[0], packing.wires[1])), [(4.0, 1.0)], [1.0, 1.0])
    assert not lies(packing._replace(wires=(packing.wires[0],) * 2), [(4.0, 1.0)], [1.0, 1.0])
    assert not lies(packing._replace(diameter=packing.diameter * 0.9), [(4.0, 1.0)], [1.0, 1.0])
