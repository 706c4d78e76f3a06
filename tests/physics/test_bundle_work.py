"""How much a bundle is looked for: circles moved, by hand from what `pack` says of its efforts."""

from __future__ import annotations

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
     (9, 85_000, 240_000), (10, 85_000, 280_000), (11, 85_000, 300_000), (20, 85_000, 300_000), (21, 92_000, 300_000),
     (25, 140_000, 300_000), (29, 188_000, 300_000), (31, 200_000, 300_000), (32, 200_000, 296_875), (40, 200_000, 237_500),
     (47, 200_000, 202_127), (48, 200_000, 200_000), (200, 200_000, 200_000)],
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
    [(4, EQUAL, 40_000), (8, EQUAL, 200_000), (9, EQUAL, 240_000), (10, EQUAL, 250_000), (100, EQUAL, 250_000), (101, EQUAL, 150_000),
     (6, MIXED, 120_000), (9, MIXED, 200_000), (40, MIXED, 200_000), (100, MIXED, 200_000), (101, MIXED, 150_000),
     (7, UNLIKE, 160_000), (8, UNLIKE, 200_000), (9, UNLIKE, 700_000), (10, UNLIKE, 700_000), (100, UNLIKE, 700_000), (101, UNLIKE, 150_000)],
)  # fmt: skip
def test_so_much_without_a_bore(count: int, kind: str, work: int) -> None:
    wires = radii(count, kind)
    assert bundle._free_work(wires, "quick") == work
    assert bundle._free_work(wires, "light") == work // 4
    many: dict[Effort, int] = {"long": 10 * work if count <= 40 else work * 20 // 8}
    if count <= 40 or count > 60:
        assert bundle._free_work(wires, "long") == many["long"]
