"""Flat packs in a bore in figures: rows on both faces, heaps in the two segments, and what proves that it cannot be."""

from __future__ import annotations

from math import hypot, pi, sqrt

import pytest

from postcheck.physics import bundle, flat_cable, flat_pack
from postcheck.physics.bundle import CANNOT, FITS, NOT_FOUND
from postcheck.physics.flat_pack import _in_rows, _reach, _row, _shared
from tests.physics.test_flat_pack import overlaps


@pytest.mark.parametrize(
    ("across", "thin", "bore", "free"),
    [
        (4.0, 3.0, 5.0, 1.0),  # 2.5 + 1.5 - 3
        (3.0, 4.0, 5.0, 1.0),
        (4.0, 0.4, 5.0, 3.6),  # 2.5 + 1.5 - 0.4
        (3.0, 0.4, 5.0, 4.1),  # 2.5 + 2.0 - 0.4
        (4.8, 1.2, 5.0, 2.0),  # 2.5 + 0.7 - 1.2, upright it would be 2.5 + 2.427 - 4.8
        (1.2, 4.8, 5.0, 2.0),
        (3.0, 3.0, 5.0, 1.5),
    ],
)
def test_what_is_left_beside_it_when_it_is_pushed_aside(
    across: float, thin: float, bore: float, free: float
) -> None:
    assert flat_pack.free_circle(across, thin, bore) == pytest.approx(free, rel=1e-12)
    assert flat_pack.goes_past(across, thin, [free * 1.001], bore) == CANNOT
    assert flat_pack.goes_past(across, thin, [free * 0.9999], bore) == FITS
    assert not flat_pack.cannot_pass(across, thin, [free], bore)


def test_a_face_reaches_so_far_from_the_middle() -> None:
    assert [_reach(width, 2.5) for width in (0.0, 3.0, 4.0, 5.0, 6.0)] == [2.5, 2.0, 1.5, 0.0, 0.0]


def test_ways_of_sharing() -> None:
    assert [(list(a), list(b)) for a, b in _shared([5.0, 4.0, 3.0])] == [
        ([], [5.0, 4.0, 3.0]), ([5.0], [4.0, 3.0]), ([5.0, 4.0], [3.0]), ([5.0, 4.0, 3.0], []), ([5.0, 3.0], [4.0]),
    ]  # fmt: skip


def test_a_row_stands_from_the_wall_on_with_the_thick_ones_in_the_middle() -> None:
    """By hand on a face through the middle of a bore of 5: a wire of 1 is sqrt(4 - 1/4) from the middle at the wall, then 1 apart."""
    wall = sqrt(2.0**2 - 0.5**2)
    row = _row([1.0, 1.0, 1.0], 0.0, 2.5)
    assert row == [(1.0, pytest.approx(x), 0.5) for x in (-wall, 1.0 - wall, 2.0 - wall)]
    assert _row([1.0] * 4, 0.0, 2.5) is not None  # 3 between the first and the last, of 3.873
    assert _row([1.0] * 5, 0.0, 2.5) is None
    # a thick one between two thin ones: sqrt(d1 d2) apart
    row = _row([1.6, 0.4, 0.4], 0.0, 2.5)
    assert row is not None
    assert [d for d, _, _ in row] == [0.4, 1.6, 0.4]
    left = sqrt(2.3**2 - 0.2**2)
    assert row[0] == (0.4, pytest.approx(-left), pytest.approx(0.2))
    assert row[1][1] == pytest.approx(max(-sqrt(1.7**2 - 0.8**2), 0.8 - left))
    assert row[2][1] == pytest.approx(max(row[1][1] + 0.8, row[0][1] + 0.4))
    assert row[2][2] == pytest.approx(0.2)
    # 0.5 above the middle: 4.0 is wider than what is left; 2.0 just fits in between face and wall
    assert _row([2.01], 0.5, 2.5) is None
    assert _row([2.0], 0.5, 2.5) == [(2.0, 0.0, 1.5)]
    assert _row([], 2.4, 2.5) == []
    # a thin one between two thick ones does not hold them apart
    row = _row([1.0, 0.04, 1.0], 0.0, 2.5)
    assert row is not None
    assert max(x for _, x, _ in row) <= wall


def test_heights_at_which_rows_are_tried() -> None:
    """From as low as it goes, sixteen steps to as high: 4 by 0.4 in 5 from -1.1 to 1.5, 3 by 0.4 from -1.6 to 2."""
    low = _in_rows(4.0, 0.4, [0.3], 5.0)
    assert low is not None
    assert (low.width, low.height, low.upper) == (4.0, 0.4, pytest.approx(-1.1))
    assert low.wires == ((0.3, pytest.approx(-sqrt(2.35**2 - 1.65**2)), pytest.approx(-1.65)),)
    # beside 4.9 by 0.4, which goes from -0.0975 to 0.4975, two of 2.2 lie one on each side: from 0.1 to 0.3, first at the sixth step
    mid = _in_rows(4.9, 0.4, [2.2, 2.2], 5.0)
    assert mid is not None
    reach = sqrt(2.5**2 - 2.45**2)
    assert mid.upper == pytest.approx(0.4 - reach + (2.0 * reach - 0.4) * 6 / 16)
    assert sorted(y for _, _, y in mid.wires) == [
        pytest.approx(mid.upper - 1.5),
        pytest.approx(mid.upper + 1.1),
    ]
    # two of 2.29 from 0.19 to 0.21, at the eighth; two of 2.31 nowhere
    mid = _in_rows(4.9, 0.4, [2.29, 2.29], 5.0)
    assert mid is not None
    assert mid.upper == pytest.approx(0.2)
    assert _in_rows(4.9, 0.4, [2.31, 2.31], 5.0) is None


def heaped(across: float, thin: float, wires: list[float], bore: float) -> flat_pack.Laid:
    """Laid so that a face has more than a row on it, and nothing overlaps."""
    found = flat_pack.laid(across, thin, wires, bore)
    assert found is not None
    assert overlaps(found, bore) == []
    assert sorted(d for d, _, _ in found.wires) == sorted(wires)
    heights = {round(1000.0 * y / bore) for _, _, y in found.wires}
    assert len(heights) > 2
    return found


def test_seven_heaped_on_either_side() -> None:
    """Seven of 0.75 lie in 2.25 (Graham 1968): two heaps and a pack of 0.4 are 4.9 high, where rows hold six each.

    All fourteen on one side would need 3.246, and there is 2.6.
    """
    found = heaped(4.9, 0.4, [0.75] * 14, 5.0)
    assert (found.width, found.height) == (4.9, 0.4)
    assert 0.15 - 1e-9 <= found.upper <= 0.25 + 1e-9
    assert sum(y > 0.0 for _, _, y in found.wires) == 7
    assert flat_pack.goes_past(4.9, 0.4, [0.75] * 14, 5.0) == FITS
    assert flat_pack.goes_past(4.9, 0.4, [0.77] * 14, 5.0) == NOT_FOUND  # 5.02
    small = heaped(0.049, 0.004, [0.0075] * 14, 0.05)
    assert len(small.wires) == 14
    # given upright it lies down
    turned = heaped(0.4, 4.9, [0.75] * 14, 5.0)
    assert (turned.width, turned.height) == (4.9, 0.4)


def test_all_heaped_on_one_side() -> None:
    """Fourteen of 0.75 in 3.246 (Ekanayake and LaFountain), and above a pack of 4 by 0.4 the 1.0 that its corners leave."""
    found = heaped(4.0, 0.4, [0.75] * 14, 5.0)
    assert found.upper == pytest.approx(1.5)
    assert max(y for _, _, y in found.wires) < 1.1


@pytest.mark.parametrize(
    ("wires", "bore"),
    [
        ([1.9, *[0.75] * 7], 4.6),  # one of 1.9 below, seven in 2.25 above: 4.55 with the pack
        ([*[0.75] * 7, *[0.8] * 4], 4.65),  # four of 0.8 in 1.932: 4.582
        ([0.6] * 21, 5.0),
    ],
)
def test_heaps_of_unlike_wires(wires: list[float], bore: float) -> None:
    heaped(3.0, 0.4, wires, bore)


def test_a_heap_on_one_side_alone() -> None:
    # a pack of 3 by 2.5 pushed aside: 2.5 + 2.0 - 2.5 leave 2.0, in which four of 0.8 lie (1.932), and seven of 0.66 (1.98)
    for wires in ([0.8] * 4, [0.66] * 7):
        found = flat_pack.laid(3.0, 2.5, wires, 5.0)
        assert found is not None
        assert overlaps(found, 5.0) == []


def test_it_cannot_be_by_diagonal_by_one_wire_or_by_area() -> None:
    assert flat_pack.cannot_pass(4.0, 3.001, [], 5.0)
    assert not flat_pack.cannot_pass(4.0, 3.0, [], 5.0)
    assert flat_pack.cannot_pass(4.0, 3.0, [0.1, 1.01], 5.0)
    # 4/pi 4 times 1 is 5.093, and 25 less that is 19.907: 79 of 0.5, not 80
    assert not flat_pack.cannot_pass(4.0, 1.0, [0.5] * 79, 5.0)
    assert flat_pack.cannot_pass(4.0, 1.0, [0.5] * 80, 5.0)
    assert 16.0 / pi + 79 * 0.25 < 25.0 < 16.0 / pi + 80 * 0.25
    # three whose sections are just what is left: it is not said that they cannot
    assert not flat_pack.cannot_pass(4.0, 1.0, [sqrt((25.0 - 16.0 / pi) / 3.0)] * 3, 5.0)
    assert flat_pack.cannot_pass(4.0, 1.0, [sqrt((25.0 - 16.0 / pi) / 3.0) * (1.0 + 1e-8)] * 3, 5.0)
    # alone its area is no more than that of the circle round it, whatever rounding says
    side = 5.0 / sqrt(2.0)
    assert flat_pack.goes_past(side, side, [], 5.0) == FITS


def test_beside_the_circle_round_it() -> None:
    """A square of 1 (1.4142) with six of 1.4142 about it, in three of that: no face of it has a row of three."""
    d = sqrt(2.0)
    assert flat_pack.goes_past(1.0, 1.0, [d] * 6, 3.0 * d * (1.0 + 1e-9)) == FITS
    assert flat_pack.goes_past(1.0, 1.0, [d] * 6, 2.9 * d) == NOT_FOUND


@pytest.mark.parametrize("bad", [0.0, -1.0])
def test_what_has_no_size_is_refused(bad: float) -> None:
    for sizes in ((bad, 1.0, 5.0), (1.0, bad, 5.0), (1.0, 1.0, bad)):
        across, thin, bore = sizes
        with pytest.raises(ValueError, match="above zero"):
            flat_pack.free_circle(across, thin, bore)
        with pytest.raises(ValueError, match="above zero"):
            flat_pack.goes_past(across, thin, [], bore)
        with pytest.raises(ValueError, match="above zero"):
            flat_pack.laid(across, thin, [], bore)
    with pytest.raises(ValueError, match="wires beside it"):
        flat_pack.goes_past(1.0, 1.0, [bad], 5.0)
    with pytest.raises(ValueError, match="wires beside it"):
        flat_pack.laid(1.0, 1.0, [bad], 5.0)


# --- flat cables ---


def test_flat_cables_on_each_other_are_a_stack_about_the_middle() -> None:
    """4 by 1 and 3 by 0.5: 4 by 1.5, hypot 4.272; the lower one first."""
    found = flat_cable.pack([(4.0, 1.0), (3.0, 0.5)], [], 4.3)
    assert found.verdict == FITS
    assert found.diameter == pytest.approx(hypot(4.0, 1.5), rel=1e-3)
    assert found.diameter >= hypot(4.0, 1.5)
    assert found.flats == ((0.0, -0.25), (0.0, 0.5))
    assert (found.wires, found.upright) == ((), False)
    assert flat_cable.pack([(4.0, 1.0), (3.0, 0.5)], [], 4.2).verdict == NOT_FOUND
    assert flat_cable.pack([(4.0, 1.0), (3.0, 0.5)], [], 3.99).verdict == CANNOT


@pytest.mark.parametrize(
    ("flats", "wires", "least"),
    [
        ([(4.0, 1.0)], [], 4.0),  # four in a row are 4 across
        ([(4.0, 0.3)], [0.5], 4.0),
        ([(1.0, 1.0)], [2.0], 3.0),  # as a round one of 1
        ([(2.5, 1.0)], [], 2.5),
        ([(1.9, 1.0)], [1.0], 2.0),  # one in it, not two
        ([(2.0, 1.0)], [1.0], 1.0 + 2.0 / sqrt(3.0)),  # two of 1 in it
        ([(2.0, 1.0), (2.0, 1.0)], [1.0, 1.0, 1.0], 3.0),  # seven of 1
        ([(0.3, 0.6)], [1.0], 1.6),  # given the other way round: one of the second
    ],
)
def test_the_least_bore_of_flat_cables(
    flats: list[tuple[float, float]], wires: list[float], least: float
) -> None:
    assert flat_cable.smallest_possible(flats, wires) == pytest.approx(least, rel=1e-9)


def test_wires_beside_a_flat_cable_lie_where_the_answer_says() -> None:
    for flats, wires, bore in (
        ([(4.0, 1.0)], [1.2, 1.2, 0.8], 5.0),
        ([(3.0, 0.5), (2.5, 0.6)], [1.0, 0.7, 1.0, 0.7], 4.6),
        ([(1.0, 3.0)], [1.0, 0.9], 4.2),
    ):
        found = flat_cable.pack(flats, wires, bore)
        assert found.verdict == FITS
        assert found.diameter <= bore * (1.0 + 1e-9)
        assert flat_cable.lies(found, flats, wires)
        # a hundredth smaller in all, and something overlaps
        tighter = found._replace(diameter=found.diameter * 0.99, flats=tuple((0.99 * x, 0.99 * y) for x, y in found.flats),
                                 wires=tuple((0.99 * x, 0.99 * y) for x, y in found.wires))  # fmt: skip
        assert not flat_cable.lies(tighter, flats, wires)


FLAT = flat_cable.FlatPacking(FITS, 5.0, ((0.0, -0.5),), ((0.0, 0.5),), False)


@pytest.mark.parametrize(
    ("change", "flats", "wires", "right"),
    [
        ({}, [(4.0, 1.0)], [1.0], True),
        ({"wires": ((0.0, 0.499),)}, [(4.0, 1.0)], [1.0], False),  # in the cable
        ({"wires": ((1.0, 1.79),)}, [(4.0, 1.0)], [1.0], False),  # hypot 2.05, half a millimetre more is over 2.5
        ({"wires": ((1.0, 1.7),)}, [(4.0, 1.0)], [1.0], True),
        ({"wires": ((-1.0, -1.7),)}, [(4.0, 1.0)], [1.0], True),
        ({"wires": ((2.3, -0.5),)}, [(4.0, 1.0)], [0.4], False),  # beside its edge it is 0.3 off: into the wall? 2.354 + 0.2
        ({"wires": ((2.25, 0.0),)}, [(4.0, 1.0)], [0.5], True),  # touches the edge and the wall
        ({"wires": ((2.2, 0.1),)}, [(4.0, 1.0)], [0.5], False),  # at its corner: hypot(0.2, 0.1) is below 0.25
        ({"wires": ((2.2, 0.16),)}, [(4.0, 1.0)], [0.5], True),  # hypot(0.2, 0.16) is 0.256
        ({"flats": ((0.0, -1.01),)}, [(4.0, 1.0)], [1.0], False),  # hypot(2, 1.51) is 2.506
        ({"flats": ((0.0, -1.0),)}, [(4.0, 1.0)], [1.0], True),
        ({"flats": ((0.51, -0.5),)}, [(4.0, 1.0)], [1.0], False),  # hypot(2.51, 1) is over 2.5
        ({"upright": True, "flats": ((-0.5, 0.0),), "wires": ((0.5, 0.0),)}, [(4.0, 1.0)], [1.0], True),
        ({"upright": True, "flats": ((-0.5, 0.0),), "wires": ((0.0, 0.5),)}, [(4.0, 1.0)], [1.0], False),
        ({"flats": ((0.0, -0.5), (0.0, 0.5)), "wires": ()}, [(4.0, 1.0), (3.0, 1.0)], [], True),
        ({"flats": ((0.0, -0.5), (0.0, 0.49)), "wires": ()}, [(4.0, 1.0), (3.0, 1.0)], [], False),
        ({"flats": ((-1.0, 0.0), (1.0, 0.0)), "wires": ()}, [(2.0, 1.0), (2.0, 1.0)], [], True),  # edge to edge
        ({"flats": ((-1.0, 0.0), (0.99, 0.0)), "wires": ()}, [(2.0, 1.0), (2.0, 1.0)], [], False),
        ({"wires": ((-0.5, 0.5), (0.5, 0.5))}, [(4.0, 1.0)], [1.0, 1.0], True),
        ({"wires": ((-0.5, 0.5), (0.49, 0.5))}, [(4.0, 1.0)], [1.0, 1.0], False),
        ({"wires": ((0.0, 0.5), (0.0, 1.4))}, [(4.0, 1.0)], [1.0, 0.8], True),
        ({"wires": ((0.0, 0.5), (0.0, 1.39))}, [(4.0, 1.0)], [1.0, 0.8], False),
    ],
)  # fmt: skip
def test_what_overlaps_is_seen(
    change: dict[str, object], flats: list[tuple[float, float]], wires: list[float], right: bool
) -> None:
    packing = FLAT._replace(**change)  # type: ignore[arg-type]
    assert flat_cable.lies(packing, flats, wires) == right


def test_what_just_fits_fits() -> None:
    assert flat_cable.pack([(4.0, 3.0)], [], 5.0).verdict == FITS  # 3, 4, 5
    assert flat_cable.pack([(4.0, 3.0)], [], 5.0 * (1.0 - 1e-8)).verdict == NOT_FOUND
    # as wide as the bore: its circles do, its corners do not
    assert flat_cable.pack([(4.0, 1.0)], [], 4.0).verdict == NOT_FOUND
    assert flat_cable.pack([(4.0, 1.0)], [], 4.0 * (1.0 - 1e-8)).verdict == CANNOT


def test_round_cables_are_a_bundle() -> None:
    assert flat_cable.pack([(1.0, 1.0)], [], 1.5).diameter == pytest.approx(sqrt(2.0), rel=1e-3)
    assert bundle.pack([sqrt(2.0)]).diameter == pytest.approx(sqrt(2.0))


@pytest.mark.parametrize("beside", [(1.0, 1.5, 2.0), (2.0, 1.5, 1.0), (1.5, 1.0, 2.0)])
def test_wires_are_laid_in_whatever_order_they_are_given(beside: tuple[float, ...]) -> None:
    """A row with its thinnest in the middle goes nowhere beside this pack."""
    found = flat_pack.laid(4.0, 3.0, beside, 6.0)
    assert found is not None
    assert sorted(d for d, _, _ in found.wires) == [1.0, 1.5, 2.0]
