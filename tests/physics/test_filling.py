"""How a wall is filled circle by circle: where the first lie, which corner each next one takes, what is left over."""

from __future__ import annotations

import random
from itertools import combinations
from math import hypot, sqrt

import pytest

from postcheck.physics.bundle.dice import Dice
from postcheck.physics.bundle.greedy import _Table, compact, emptiest, exact, fill
from tests.physics.test_first_layouts import free_corners

SEEDS = range(400)


def begun(radii: list[float], radius: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Of many fillings, where the first and the second lie."""
    found = []
    for seed in SEEDS:
        spot, _ = fill(radii, radius, Dice(seed))
        n = len(radii)
        found.append(((spot[0], spot[n]), (spot[1], spot[n + 1])))
    return found


def test_a_quarter_begins_in_the_middle_where_the_next_fits_in_beside_it() -> None:
    radii = [1.0, 0.8, 0.5]
    told = begun(radii, 4.0)
    middle = [second for first, second in told if first == (0.0, 0.0)]
    assert 80 <= len(middle) <= 120
    assert set(middle) == {(1.8, 0.0)}  # beside it, touching
    assert {first for first, _ in told} == {(0.0, 0.0), (3.0, 0.0)}  # else at the wall
    # 1 + 2 times 0.5 is just the wall of 2
    assert any(first == (0.0, 0.0) for first, _ in begun([1.0, 0.5, 0.2], 2.0))
    assert not any(first == (0.0, 0.0) for first, _ in begun([1.0, 0.5, 0.2], 1.999))
    assert any(first == (0.0, 0.0) for first, _ in begun([1.0, 0.6, 0.2], 2.25))
    assert any(first == (0.0, 0.0) for first, _ in begun([1.0, 0.5], 3.0))
    assert {tuple(fill([1.0], 3.0, Dice(seed))[0]) for seed in SEEDS} == {(2.0, 0.0)}


@pytest.mark.parametrize("seed", range(30))
def test_each_goes_to_a_corner_nearly_as_near_to_a_third_as_any(seed: int) -> None:
    """Luck is worth 0.3 of the squared nearness at most."""
    radii = [1.0, 1.0, 0.9, 0.8, 0.8, 0.7, 0.6, 0.5, 0.5, 0.4]
    spot, left = fill(radii, 3.6, Dice(seed))
    assert left == 0
    table = _Table(3.6)
    for i, r in enumerate(radii):
        x, y = spot[i], spot[10 + i]
        if i > 1:
            ranks = {(a, b): rank for rank, a, b in table.corners(r)}
            assert ranks[x, y] < min(ranks.values()) + 0.3
        table.lay(x, y, r)


def test_luck_decides_among_corners_that_are_alike() -> None:
    chosen = {tuple(fill([1.0] * 5, 5.0, Dice(seed))[0]) for seed in range(40)}
    assert len(chosen) > 10


def test_what_finds_no_corner_is_counted_and_laid_in_an_empty_spot() -> None:
    # two of 1 leave no room in a wall of 1.5, nor has a third: each lies inside, on the other
    for seed in range(20):
        spot, left = fill([1.0, 1.0, 0.9], 1.5, Dice(seed))
        assert left == 2
        assert (spot[0], spot[3]) == (0.5, 0.0)
        for i, r in ((1, 1.0), (2, 0.9)):
            assert hypot(spot[i], spot[3 + i]) <= 1.5 - r
            assert (spot[i], spot[3 + i]) != (0.0, 0.0)


@pytest.mark.parametrize("seed", range(10))
def test_the_first_free_spot_is_as_good_as_any(seed: int) -> None:
    x, y = Dice(seed).in_disc()
    assert emptiest([9.0], [9.0], [1.0], 1.0, 3.0, 20, Dice(seed)) == (2.0 * x, 2.0 * y)
    dice = Dice(seed)
    emptiest([9.0], [9.0], [1.0], 1.0, 3.0, 20, dice)
    begun_again = Dice(seed)
    begun_again.in_disc()
    assert dice.share() == begun_again.share()


@pytest.mark.parametrize("seed", range(10))
def test_of_crowded_spots_the_least_squared_overlap_counts(seed: int) -> None:
    xs, ys, radii = [0.5, -0.7, 0.1], [0.9, -0.2, -1.1], [0.8, 0.9, 0.5]
    dice = Dice(seed)
    spots = [tuple(1.4 * v for v in dice.in_disc()) for _ in range(25)]

    def crowd(at: tuple[float, ...]) -> float:
        gaps = [r + 0.6 - hypot(at[0] - x, at[1] - y) for x, y, r in zip(xs, ys, radii, strict=True)]
        return sum(max(gap, 0.0) ** 2 for gap in gaps)

    expected = next((at for at in spots if crowd(at) == 0.0), min(spots, key=crowd))
    assert emptiest(xs, ys, radii, 0.6, 2.0, 25, Dice(seed)) == expected


# The hexagonal lattice of spacing 2, where a new one may touch three at once: nothing is lost for that, nor allowed.
LATTICE = [(2.0 * a + b, sqrt(3.0) * b) for b in (-1, 0, 1) for a in (-1, 0, 1)]


@pytest.mark.parametrize("wall", [None, 3.0, 4.0])
@pytest.mark.parametrize("turn", range(3))
def test_corners_where_three_touch_at_once(wall: float | None, turn: int) -> None:
    places = sorted(
        (p for p in LATTICE if wall is None or hypot(*p) + 1.0 <= wall + 1e-12), key=lambda p: hypot(*p)
    )
    places = places[: 7 if wall == 3.0 else 9]
    places = places[turn:] + places[:turn]
    table = _Table(wall)
    table.corners(1.0)
    laid: list[tuple[float, float, float]] = []
    for x, y in places:
        table.lay(x, y, 1.0)
        laid.append((x, y, 1.0))
        told = table.corners(1.0)
        free = free_corners(laid, wall, 1.0)
        assert sorted((round(a, 6), round(b, 6)) for _, a, b in told) == sorted(
            (round(a, 6), round(b, 6)) for _, a, b in free
        )
        if wall is not None:
            ranks = {(round(a, 6) + 0.0, round(b, 6) + 0.0): rank for rank, a, b in free}
            for rank, a, b in told:
                near = ranks[round(a, 6) + 0.0, round(b, 6) + 0.0]
                if near < 1.5:
                    assert rank == pytest.approx(near)


def test_a_corner_just_between_two() -> None:
    table = _Table(None)
    table.lay(-2.0, 0.0, 1.0)
    table.lay(2.0, 0.0, 1.0)
    assert table.corners(1.0) == [(0.0, 0.0, 0.0)] * 2
    assert table.corners(0.9) == []


@pytest.mark.parametrize("wall", [1.5, 0.9])
def test_corners_in_a_small_wall(wall: float) -> None:
    """A third of the wall at its rim, and next to it one more of the same."""
    r = wall / 3.0
    table = _Table(wall)
    table.lay(wall - r, 0.0, r)
    told = table.corners(r)
    # their middles lie at two thirds of the wall, a sixth of a turn apart
    assert sorted((x, y) for _, x, y in told) == [
        (pytest.approx(r), pytest.approx(-sqrt(3.0) * r)),
        (pytest.approx(r), pytest.approx(sqrt(3.0) * r)),
    ]
    assert [rank for rank, _, _ in told] == [4.0, 4.0]
    table = _Table(wall)
    table.lay(0.0, 0.0, r)
    assert table.corners(r) == []  # in the middle it touches no wall with another


def test_a_third_that_is_thin_lies_on_the_upper_side_of_two() -> None:
    xs, ys = exact([1.0, 0.7, 0.1])
    assert (xs[:2], ys[:2]) == ([0.7, -1.0], [0.0, 0.0])
    assert hypot(xs[2] - 0.7, ys[2]) == pytest.approx(1.1)
    assert hypot(xs[2] + 1.0, ys[2]) == pytest.approx(0.8)


@pytest.mark.parametrize(
    ("radii", "least"),
    [
        # by hand: two of 1 across, four of 0.3 beside them: 2, for in each gap there is room for 2/3
        ([1.0, 1.0, 0.3, 0.3], 2.0),
        ([1.0, 0.6, 0.3, 0.2], 1.6),
        # six round one of the same
        ([1.0] * 7, 3.0),
    ],
)
def test_the_better_of_two_beginnings(radii: list[float], least: float) -> None:
    radius, (xs, ys) = compact(radii)
    assert radius == pytest.approx(least, rel=1e-6)
    for i, j in combinations(range(len(radii)), 2):
        assert hypot(xs[i] - xs[j], ys[i] - ys[j]) >= radii[i] + radii[j]
    if radii[2] < 0.5:  # the two largest across do
        assert compact(radii, 10.0)[0] == pytest.approx(least, rel=1e-6)
    small = [0.01 * r for r in radii]
    assert compact(small)[0] == pytest.approx(0.01 * least, rel=1e-6)


def test_where_the_first_is_slim_enough_there_is_no_second() -> None:
    radii = [1.0] * 7
    across = compact(radii, 10.0)[0]
    assert across > 3.01  # the two largest across the middle; from the middle it would be 3
    assert compact(radii, across)[0] == across
    assert compact(radii, across * 0.999)[0] == pytest.approx(3.0, rel=1e-6)
    # nor where there are many
    assert compact([1.0] * 61)[0] == compact([1.0] * 61, 100.0)[0]
    dice = random.Random(5)
    some = sorted((dice.uniform(0.5, 1.0) for _ in range(60)), reverse=True)
    assert compact(some)[0] < 0.99 * compact(some, 100.0)[0]
