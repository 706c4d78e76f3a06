"""How much a bundle is looked for: circles moved, by hand from what `pack` says of its efforts."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from postcheck.physics import bundle
from postcheck.physics.bundle import Effort

EQUAL, MIXED, UNLIKE = "all equal", "a few sizes", "half of them or more unlike"


def radii(count: int, kind: str) -> tuple[float, ...]:
    sizes = {EQUAL: 1, MIXED: (count - 1) // 2, UNLIKE: (count + 1) // 2}[kind]
    return tuple(1.0 - 0.001 * min(i, sizes - 1) for i in range(count))


@pytest.mark.parametrize(
    ("count", "eighths"), [(4, 160), (40, 160), (41, 141), (50, 52), (60, 21), (61, 20), (300, 20)]
)
def test_long_effort_does_twenty_times_the_work_and_falls_with_the_fifth_power_from_forty_on(
    count: int, eighths: int
) -> None:
    """160 eighths times (40 / n)**5, and two and a half times the quick one's at least."""
    assert bundle._eighths(count, "long") == eighths
    assert (bundle._eighths(count, "quick"), bundle._eighths(count, "light")) == (8, 2)


@pytest.mark.parametrize(
    ("count", "brief", "goal"),
    [(4, 20_000, 40_000), (5, 40_000, 80_000), (6, 60_000, 120_000), (7, 80_000, 160_000), (8, 85_000, 200_000),
     (9, 85_000, 240_000), (10, 85_000, 280_000), (11, 85_000, 320_000), (12, 85_000, 350_000), (20, 85_000, 350_000),
     (21, 92_000, 350_000), (25, 140_000, 350_000), (29, 188_000, 350_000), (31, 200_000, 350_000), (37, 200_000, 350_000),
     (38, 200_000, 342_105), (40, 200_000, 325_000), (64, 200_000, 203_125), (65, 200_000, 200_000), (200, 200_000, 200_000)],
)  # fmt: skip
def test_so_much_for_one_bore(count: int, brief: int, goal: int) -> None:
    """Few wires have been everywhere after 40,000 for each above three, or half of that where nothing follows."""
    wires = radii(count, MIXED)
    assert (bundle._brief_work(wires, "quick"), bundle._goal_work(wires, "quick")) == (brief, goal)
    assert (bundle._brief_work(wires, "light"), bundle._goal_work(wires, "light")) == (brief // 4, goal // 4)
    if count <= 40:
        assert (bundle._brief_work(wires, "long"), bundle._goal_work(wires, "long")) == (
            20 * brief,
            20 * goal,
        )


@pytest.mark.parametrize(
    ("count", "kind", "work"),
    [(4, EQUAL, 40_000), (8, EQUAL, 200_000), (9, EQUAL, 220_000), (10, EQUAL, 220_000), (100, EQUAL, 220_000), (101, EQUAL, 150_000),
     (6, MIXED, 120_000), (9, MIXED, 180_000), (40, MIXED, 180_000), (100, MIXED, 180_000), (101, MIXED, 150_000),
     (7, UNLIKE, 160_000), (8, UNLIKE, 180_000), (9, UNLIKE, 700_000), (10, UNLIKE, 700_000), (100, UNLIKE, 700_000), (101, UNLIKE, 150_000)],
)  # fmt: skip
def test_so_much_without_a_bore(count: int, kind: str, work: int) -> None:
    wires = radii(count, kind)
    assert bundle._free_work(wires, "quick") == work
    assert bundle._free_work(wires, "light") == work // 4
    many: dict[Effort, int] = {"long": 10 * work if count <= 40 else work * 20 // 8}
    if count <= 40 or count > 60:
        assert bundle._free_work(wires, "long") == many["long"]


Found = tuple[float, tuple[tuple[float, float], ...]]


@pytest.fixture
def sought(monkeypatch: pytest.MonkeyPatch) -> list[tuple[float | None, int]]:
    """A first layout of 2.0, and a search that finds 1.9 and then 1.8: the goals and the work that it was given."""
    told: list[tuple[float | None, int]] = []

    def slimmer(
        radii: tuple[float, ...], _found: Found, _bound: float, goal: float | None, work: int
    ) -> Iterator[Found]:
        told.append((goal, work))
        for radius in (1.9, 1.8):
            yield radius, ((radius, 0.0),) * len(radii)

    monkeypatch.setattr(bundle, "_first", lambda radii, _goal: (2.0, ((2.0, 0.0),) * len(radii)))
    monkeypatch.setattr(bundle, "_slimmer", slimmer)
    for kept in (bundle._for_goal, bundle._searched, bundle._free):
        kept.cache_clear()
    return told


@pytest.mark.parametrize(("count", "searched"), [(3, False), (4, True), (300, True), (301, False)])
def test_from_four_wires_to_three_hundred_it_is_searched(
    count: int, searched: bool, sought: list[tuple[float | None, int]]
) -> None:
    wires = radii(count, EQUAL) if count < 4 else radii(count, MIXED)
    radius, _ = bundle._for_goal(wires, 1.0, 1.7, 1000)
    assert radius == (1.8 if searched else 2.0)
    assert sought == ([(1.7, 1000)] if searched else [])
    sought.clear()
    assert bundle._searched(wires, 1.0, None, "quick")[0] == (1.8 if searched else 2.0)
    assert sought == ([(None, bundle._free_work(wires, "quick"))] if searched else [])


def test_it_ends_at_the_first_that_is_slim_enough(sought: list[tuple[float | None, int]]) -> None:
    wires = radii(9, MIXED)
    for goal, radius in (
        (2.0, 2.0),
        (2.0 * (1.0 - 5e-10), 2.0),
        (1.99, 1.9),
        (1.9, 1.9),
        (1.9 * (1.0 - 5e-10), 1.9),
        (1.85, 1.8),
    ):
        sought.clear()
        assert bundle._for_goal(wires, 1.0, goal, 500)[0] == radius
        assert len(sought) == (radius < 2.0)
        assert bundle._sought(wires, 1.0, goal, "quick")[0] == radius
    assert bundle._sought(wires, 1.0, None, "quick")[0] == 2.0
    # with nothing found for the bore the search without one follows, as far as the bore asks for
    sought.clear()
    assert bundle._searched(wires, 1.0, 1.7, "quick")[0] == 1.8
    assert sought == [(1.7, bundle._goal_work(wires, "quick")), (None, bundle._free_work(wires, "quick"))]
    # none at the bound
    sought.clear()
    assert bundle._searched(wires, 2.0, None, "quick")[0] == 2.0
    assert sought == []


def test_a_search_goes_on_from_where_another_bore_left_it(sought: list[tuple[float | None, int]]) -> None:
    wires = radii(9, MIXED)
    free = bundle._Free(wires, 1.0, "quick")
    assert [free.within(wanted)[0] for wanted in (2.0, 1.95, 1.9, 1.0, 1.85, 1.95, 3.0)] == [
        2.0,
        1.9,
        1.9,
        1.8,
        1.8,
        1.9,
        2.0,
    ]
    assert len(sought) == 1


def test_without_a_search_the_first_layout_is_judged(sought: list[tuple[float | None, int]]) -> None:
    """Of 2 wires of 1 in the unit of the largest, from a half to one: the layout of 2.0 stands for a diameter of 4."""
    for size in (1.0, 8.0, 0.25):
        packing = bundle.pack([size] * 3, 2.05 * size)
        assert packing.verdict == "cannot fit"  # 2.1547
        assert packing.diameter == pytest.approx(4.0 * size)
        assert packing.margin == pytest.approx(-1.95 * size)
        assert packing.bound == pytest.approx(2.1547005 * size)
        assert packing.centres == ((2.0 * size, 0.0),) * 3
        packing = bundle.pack([size] * 3, 5.0 * size)
        assert (packing.verdict, packing.proof) == ("fits", None)
        assert bundle.pack([size] * 3, 3.9 * size).verdict == "not found"
        assert bundle.goes_in([size] * 3, 3.9 * size) == "not found"
        assert bundle.goes_in([size] * 3, 4.0 * size) == "fits"
        just = 4.0 * size * (1.0 - 5e-10)  # touching counts as fitting, to a billionth
        assert bundle.goes_in([size] * 3, just) == bundle.pack([size] * 3, just).verdict == "fits"
        just = bundle.smallest_possible([size] * 3) * (1.0 - 5e-10)
        assert bundle.goes_in([size] * 3, just) == bundle.pack([size] * 3, just).verdict == "not found"
        assert bundle.goes_in([size] * 3, 2.1 * size) == "cannot fit"
    assert sought == []


@pytest.mark.parametrize("size", [1e-100, 1e100, 3e-7])
def test_sizes_as_far_as_floats_keep_their_places(size: float) -> None:
    assert bundle.smallest_possible([size, size]) == pytest.approx(2.0 * size, rel=1e-12)
    assert bundle.pack([size, size]).diameter == pytest.approx(2.0 * size, rel=1e-12)
    for wrong in (0.9e-100, 1.1e100):
        with pytest.raises(ValueError, match="every wire needs a diameter above zero"):
            bundle.smallest_possible([1.0, wrong])
        with pytest.raises(ValueError, match="a bore needs a diameter above zero"):
            bundle.pack([1.0], wrong)
        with pytest.raises(ValueError, match="above zero"):
            bundle.goes_in([1.0], wrong)


def test_without_a_bore_the_better_of_two_first_layouts_stands() -> None:
    """Sixteen of 0.1 round one of 0.5 have room (18 of them: pi / asin(0.1 / 0.6)): 0.7, laid from the middle."""
    assert bundle._first((0.5, *[0.1] * 16), None)[0] == pytest.approx(0.7, rel=1e-9)
    assert bundle._first((0.5, *[0.1] * 16), 0.8)[0] > 0.71  # slim enough across
