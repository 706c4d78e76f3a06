"""A plan costs no more than the best of all wirings of a small model, found one by one."""

from __future__ import annotations

import pytest

from postcheck.planner.cost import conductors
from postcheck.planner.planning import found, survey_of
from postcheck.reading.loading import built
from tests.planner.brute_force import best, wish

# With more, a few of these models are not through in a minute; what is not told by so many is not counted.
MOST = 250


@pytest.mark.parametrize("by", ["copper", "bore"])
@pytest.mark.parametrize("seed", range(8))
def test_no_wiring_is_better_than_the_plan(seed: int, by: str) -> None:
    tables = wish(seed, by=by)
    planned = found(survey_of(built(tables)))
    cheapest = best(tables, MOST)
    if cheapest is None:
        assert planned.build is None
        return
    assert planned.build is not None
    unusual = sum(run.wire not in (None, planned.build.usual.run) for run in planned.build.run)
    mine = conductors(planned.build)["post"], unusual
    if cheapest != "?":
        assert mine == cheapest
