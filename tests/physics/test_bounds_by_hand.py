"""Lower bounds on a bundle in figures, each from its own geometry, and never above them by so much as a rounding."""

from __future__ import annotations

from decimal import Decimal, getcontext
from itertools import pairwise, permutations
from math import acos, cos, hypot, pi, sin, sqrt

import pytest
from scipy.optimize import brentq

from postcheck.physics.bundle import bounds

getcontext().prec = 50
ONE, TWO = Decimal(1), Decimal(2)
# Closed forms: Graham 1968 (to 7), Pirl 1969 (9), Fodor 2003 (13) and 1999 (19), to fifty digits.
EXACT = {
    1: ONE,
    2: TWO,
    3: 1 + 2 / Decimal(3).sqrt(),
    4: 1 + TWO.sqrt(),
    5: 1 + (2 * (1 + 1 / Decimal(5).sqrt())).sqrt(),
    6: Decimal(3),
    7: Decimal(3),
    9: 1 + (2 * (2 + TWO.sqrt())).sqrt(),
    13: 2 + Decimal(5).sqrt(),
    19: 1 + TWO.sqrt() + Decimal(6).sqrt(),
}


def just_below(told: float, exact: Decimal) -> bool:
    return exact * (1 - Decimal("3e-12")) < Decimal(told) < exact


@pytest.mark.parametrize("count", sorted(EXACT))
def test_so_many_equal_circles_need_just_that(count: int) -> None:
    assert just_below(bounds.equal_ratio(count), EXACT[count])
    if count > 3:
        bound, name = bounds.lower([1.0] * count)
        assert just_below(bound, EXACT[count])
        assert ("proven best" in name) or ("ring" in name)


@pytest.mark.parametrize("count", [20, 26, 37, 150])
def test_more_are_bounded_by_oler_and_groemer(count: int) -> None:
    """With the square of y worked out in fifty digits: 2/sqrt(3) pi y2 + pi y + 1 = n."""
    p = Decimal("3.14159265358979323846264338327950288419716939937510")
    square = 2 / Decimal(3).sqrt() * p
    y = ((p * p + 4 * square * (count - 1)).sqrt() - p) / (2 * square)
    exact = max(1 + 2 * y, EXACT[19])
    assert just_below(bounds.equal_ratio(count), exact)


def test_how_many_surely_go_into_a_wider_circle() -> None:
    told = {0.99: 0, 1.0: 0, 1.0 + 1e-11: 1, 2.1: 2, 2.2: 3, 2.42: 4, 2.71: 5, 3.0: 5, 3.0 + 1e-11: 7, 3.31: 8, 3.62: 9, 3.82: 10,
            3.93: 11, 4.03: 12, 4.24: 13, 4.33: 14, 4.86: 14, 4.87: 19, 50.0: 19}  # fmt: skip
    assert {ratio: bounds.held(ratio) for ratio in told} == told


def test_no_more_than_the_record_table_has() -> None:
    assert max(bounds.BEST_KNOWN) == 37
    assert all(bounds.BEST_KNOWN[count] < bounds.BEST_KNOWN[count + 1] for count in range(20, 37))
    # hexagon of 37: four rings about one leave 1 + 2 sqrt(3) times 2 at most, 7.93; the table's is tighter by curving them
    assert bounds.BEST_KNOWN[37] == pytest.approx(6.7588, abs=1e-4)


@pytest.mark.parametrize(("first", "second"), [(1.0, 1.0), (1.0, 0.5), (0.8, 0.3), (3.0, 2.5)])
def test_the_circle_in_the_gap_touches_both_and_the_wall(first: float, second: float) -> None:
    """Two across a wall of r1 + r2: a third of radius r is r1 + r, r2 + r and R - r from the three middles."""
    wall = first + second

    def off(r: float) -> float:
        # where it touches the two, as the intersection of two circles about (second, 0) and (-first, 0)
        a, b = first + r, second + r
        x = ((second**2 - first**2) - (a * a - b * b)) / (2.0 * (second + first))
        y = sqrt(max(a * a - (x - second) ** 2, 0.0))
        return hypot(x, y) + r - wall

    exact = brentq(off, 1e-9, second, xtol=1e-15)
    assert bounds.gap_radius(first, second) == pytest.approx(exact, rel=1e-9)
    assert bounds.three([first, second, exact * 0.999]) == wall
    assert bounds.three([first, second, exact * 1.01, exact]) > wall * (1.0 + 1e-6)


@pytest.mark.parametrize("radii", [(1.0, 1.0, 1.0), (1.0, 0.9, 0.8), (1.0, 0.8, 0.7), (1.3, 1.2, 0.9)])
def test_three_that_touch_each_other_and_the_wall(radii: tuple[float, float, float]) -> None:
    """Seen from the middle the angles between them make a full turn (law of cosines)."""

    def turn(wall: float) -> float:
        total = 0.0
        for one, other in ((0, 1), (1, 2), (2, 0)):
            a, b, d = wall - radii[one], wall - radii[other], radii[one] + radii[other]
            total += acos(max(-1.0, (a * a + b * b - d * d) / (2.0 * a * b)))
        return total - 2.0 * pi

    exact = brentq(turn, radii[0] + radii[1], 3.0 * radii[0], xtol=1e-15)
    assert bounds.three([*radii, 0.1]) == pytest.approx(exact, rel=1e-12)
    told, name = bounds.lower(list(radii))
    assert exact * (1.0 - 4e-12) < told < exact * (1.0 - 1e-13)
    assert name == "the circle round the three thickest (Descartes)" or radii[2] == 1.0


def test_which_bound_is_the_greatest_and_its_name() -> None:
    assert bounds.lower([0.7]) == (0.7, "the thickest wire alone")
    assert bounds.lower([0.7, 0.2]) == (0.7 + 0.2, "the two thickest side by side")
    assert bounds.lower([1.0, 0.7, 0.2]) == (1.7, "the two thickest side by side")
    assert bounds.lower([1.0, 0.7, 0.2, 0.2]) == (1.7, "the two thickest side by side")
    # a thick one and so many fine ones: 1 + 2000 times 0.0025 is 6, and by the number of the fine ones it is less
    told, name = bounds.lower([1.0] + [0.05] * 2000)
    assert name == "area: the wires' sections together"
    assert just_below(told, (1 + 2000 * Decimal("0.05") ** 2).sqrt())
    # seven of 1 in one of 3 and a hair, twelve more: 19
    told, name = bounds.lower([3.000001, *[1.0] * 12])
    assert name == "equal circles: at least 19 as thick as one of the wires (proven best)"
    assert just_below(told, EXACT[19])
    told, name = bounds.lower([1.2, 1.1, *[1.0] * 28])
    assert name == "equal circles: at least 30 as thick as one of the wires (Oler and Groemer)"
    assert told == bounds.equal_ratio(30)
    # those as thick as the k-th, whatever is thinner
    told, name = bounds.lower([1.0] * 8 + [0.1])
    assert name == "equal circles: at least 8 as thick as one of the wires (proven best)"
    assert told == bounds.equal_ratio(8)


@pytest.mark.parametrize("thinner", [[], [0.01]])
@pytest.mark.parametrize("count", [4, 5, 6])
@pytest.mark.parametrize("last", [0.93, 0.97])
def test_in_a_ring_the_thickest_lie_as_near_as_the_best_order_lets_them(
    count: int, last: float, thinner: list[float]
) -> None:
    """All but one alike, so that there is but one order: two angles beside the thin one, and the rest, make a full turn."""
    radii = [*[1.0] * (count - 1), last]

    def turn(wall: float) -> float:
        def between(one: float, other: float) -> float:
            a, b, d = wall - one, wall - other, one + other
            return acos((a * a + b * b - d * d) / (2.0 * a * b))

        return 2.0 * between(1.0, last) + (count - 2) * between(1.0, 1.0) - 2.0 * pi

    exact = brentq(turn, 2.0 + 1e-9, 4.0, xtol=1e-15)
    told, name = bounds.lower([*radii, *thinner])
    if exact < 3.0 * last:
        assert told == pytest.approx(exact, rel=1e-10)
        assert told < exact
        assert name == f"the {count} thickest in a ring: none has room in the middle"
    else:  # there one has room in the middle from three of its own on
        assert told == pytest.approx(3.0 * last, rel=1e-10)
        assert told < 3.0 * last


# angles in degrees, each below 180, and whether they add up to more than 360
@pytest.mark.parametrize(
    ("angles", "past"),
    [([90.0] * 4, False), ([90.0] * 5, True), ([90.0] * 3, False), ([90.0] * 6, True), ([90.0] * 2, False), ([100.0] * 4, True), ([89.0] * 4, False), ([91.0] * 4, True),
     ([150.0, 150.0, 59.0], False), ([150.0, 150.0, 61.0], True), ([179.0, 179.0, 1.0], False), ([179.0, 179.0, 3.0], True),
     ([170.0] * 4, True), ([170.0] * 3, True), ([170.0, 170.0], False), ([60.0] * 6, False), ([60.1] * 6, True), ([59.9] * 6, False),
     ([120.0, 30.0], False), ([70.0] * 8, True), ([100.0, 90.0], False), ([10.0] * 37, True), ([10.0] * 35, False)],
)  # fmt: skip
def test_whether_angles_are_more_than_a_turn(angles: list[float], past: bool) -> None:
    turns = [(cos(a * pi / 180.0), sin(a * pi / 180.0)) for a in angles]
    if set(angles) == {90.0}:
        turns = [(0.0, 1.0)] * len(angles)  # exactly
    assert bounds._past_full_turn(turns) == past


@pytest.mark.parametrize("radii", [(1.0, 0.95, 0.9, 0.8), (1.0, 0.9, 0.9, 0.8, 0.75)])
def test_in_whichever_order_they_are_given_the_best_ring_decides(radii: tuple[float, ...]) -> None:
    def turn(order: tuple[float, ...], wall: float) -> float:
        total = 0.0
        for one, other in zip(order, (*order[1:], order[0]), strict=True):
            a, b, d = wall - one, wall - other, one + other
            total += acos(max(-1.0, (a * a + b * b - d * d) / (2.0 * a * b)))
        return total - 2.0 * pi

    orders = sorted(permutations(radii))
    walls = {order: brentq(lambda wall, o=order: turn(o, wall), 1.96, 4.0, xtol=1e-15) for order in orders}
    least, most = min(walls.values()), max(walls.values())
    assert least < most * (1.0 - 1e-4)
    for order in orders:
        assert bounds._turns_past(order, least * (1.0 - 1e-6))
        assert not bounds._turns_past(order, least * (1.0 + 1e-6))


def test_a_ring_is_no_bound_where_it_is_known_to_be_more() -> None:
    square = 1.0 + sqrt(2.0)
    assert bounds._ring([1.0] * 4, 2.0) == pytest.approx(square, rel=1e-11)
    assert bounds._ring([1.0] * 4, 2.0) < square
    assert bounds._ring([1.0] * 4, 2.41) == pytest.approx(square, rel=1e-11)
    assert [bounds._ring([1.0] * 4, known) for known in (2.42, 3.0, 3.5)] == [2.42, 3.0, 3.5]
    # of one of three as much there is room in the middle: no more than that
    assert bounds._ring([1.0] * 6, 2.5) == pytest.approx(3.0, rel=1e-11)


def test_the_bounds_rise_with_every_wire() -> None:
    told = [bounds.lower([1.0] * count)[0] for count in range(1, 60)]
    assert all(before <= after for before, after in pairwise(told))
