"""A plan costs as much as the best of all wirings of a small model, and what has a wiring is planned."""

from __future__ import annotations

import random

import numpy as np
import pytest

import postcheck
from postcheck.planner import plan
from postcheck.planner.planning import found, survey_of
from postcheck.reading.loading import built
from tests.planner.brute_force import BOUNDS, Search, best, wish
from tests.planner.made import made, unmade
from tests.planner.measure import MOST, cost, two_arms
from tests.planner.reckoning import Returns, reckoned
from tests.planner.wishes import toml

# The whole sets take minutes: `python -m tests.planner.measure`.
SEEDS = range(1)


@pytest.mark.parametrize("by", BOUNDS)
@pytest.mark.parametrize("seed", SEEDS)
def test_no_wiring_is_better_than_the_plan(seed: int, by: str) -> None:
    tables = wish(seed, by=by)
    truth = best(tables, MOST)
    assert truth.unsure == 0
    assert cost(found(survey_of(built(tables))).build) == (truth.best and truth.best[:2])


@pytest.mark.parametrize("by", BOUNDS)
def test_what_is_ruled_out_by_arithmetic_the_judge_refuses_too(by: str) -> None:
    """The brute force shows the judge only what passes by arithmetic of its own: that may not be more severe than the judge."""
    judged = 0
    for seed in range(2):
        tries, chance = Search(wish(seed, by=by), MOST), random.Random(seed)
        returns = Returns(tries.count, [one for one in range(tries.count) if chance.random() < 0.3])
        wires = tuple(chance.randrange(5) for _ in range(returns.lines))
        strains, ohms, seats = reckoned(tries.circuits, returns, np.array([wires], dtype=np.int8))
        for one in np.argsort(strains[0])[:: max(strains.size // 4, 1)]:
            tables = tries.whole(wires, returns, ohms[0, one], int(seats[0, one]))
            if tries.passing(tables) is not None:
                judged += 1
                assert strains[0, one] <= 1.03
    assert judged


def test_nine_circuits_that_were_wired_by_rules_of_the_bench_are_planned() -> None:
    planned = plan(built(unmade(made(0)[0])))
    assert planned.verdict == "clear"


def test_what_lies_behind_two_passages_in_a_row_is_planned() -> None:
    planned = plan(postcheck.loads(toml(two_arms(0))))
    assert planned.text is not None
    read = postcheck.check(postcheck.loads(planned.text), stage="wiring", remedies=False)
    assert read.files[0].verdict == "clear"
