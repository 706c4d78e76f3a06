"""Opening times of fuses against the printed gates of their standard, and the ratings they are made in."""

from itertools import pairwise
from math import inf

import pytest

from postcheck.physics.fuse import may_hold, next_fuse, surely_open_by, surely_opens_at

# IEC 60127-2, from memory: latest opening in s at 2.1, 2.75, 4 and 10 times; sheet 2 (quick) and sheet 3 (time-lag)
GATES = {
    "quick": {2.1: 1800.0, 2.75: 2.0, 4.0: 0.3, 10.0: 0.02},
    "slow": {2.1: 120.0, 2.75: 10.0, 4.0: 3.0, 10.0: 0.3},
}


@pytest.mark.parametrize(("kind", "times"), [(kind, times) for kind in GATES for times in GATES[kind]])
def test_meets_the_gates_of_the_standard(kind, times):
    assert surely_open_by(0.5, 0.5 * times, kind) == pytest.approx(GATES[kind][times], rel=1e-6)


@pytest.mark.parametrize("kind", ["quick", "slow", "resettable"])
def test_more_current_never_takes_longer(kind):
    times = [surely_open_by(1.0, 0.5 + 0.1 * step, kind) for step in range(300)]
    assert times[0] == inf
    assert all(later <= sooner for sooner, later in pairwise(times))


def test_beyond_ten_times_the_let_through_stays():
    assert 20.0**2 * surely_open_by(1.0, 20.0) == pytest.approx(10.0**2 * 0.02)


def test_nothing_is_promised_below_the_first_gate():
    assert surely_open_by(1.0, 2.0) == inf
    # IEC 60127-2, from memory: the first gate is 210 %, and 150 % is held for an hour
    assert (surely_opens_at("quick"), may_hold("quick")) == (2.1, 1.5)
    # makers' sheets: trips at twice the current that it holds, from memory
    assert (surely_opens_at("resettable"), may_hold("resettable")) == (2.0, 1.0)


@pytest.mark.parametrize("kind", ["quick", "slow", "resettable"])
def test_it_surely_opens_just_where_a_time_is_promised(kind):
    times = surely_opens_at(kind)
    assert surely_open_by(1.0, times * 0.999, kind) == inf
    assert surely_open_by(1.0, times * 1.001, kind) < inf


@pytest.mark.parametrize(
    ("at_least", "rating"),
    # IEC 60127-1 table A.1 (R10)
    [(0.001, 0.032), (0.033, 0.04), (0.1, 0.1), (0.101, 0.125), (0.3, 0.315), (0.63, 0.63), (0.9, 1.0), (1.0, 1.0),
     (1.3, 1.6), (3.0, 3.15), (6.4, 8.0), (10.0, 10.0), (10.1, None)],
)  # fmt: skip
def test_next_fuse(at_least, rating):
    assert next_fuse(at_least) == rating
