"""All of a plan keeps to the seconds that it has: counted with a clock that only judging moves."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

import postcheck
from postcheck.planner import clock, plan, planning, search
from postcheck.planner.clock import Clock
from postcheck.reading.loading import built
from tests.planner.wishes import random_wish
from tests.slow import files

JUDGED = 0.7  # s


@pytest.fixture
def now(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """The time, to which each judgement adds."""
    time = [0.0]
    monkeypatch.setattr(clock, "thread_time", lambda: time[0])

    def slow(judge: Callable[..., Any]) -> Callable[..., Any]:
        def judged(*given: Any) -> Any:
            time[0] += JUDGED
            return judge(*given)

        return judged

    for room in (search, planning):
        monkeypatch.setattr(room, "judge", slow(room.judge))
    return time


def test_a_step_that_would_end_too_late_is_not_begun(now: list[float]) -> None:
    whole = Clock(10.0)
    part = Clock(20.0, whole)
    assert part.until == whole.until == 10.0
    with whole.step():
        now[0] += 4.0
    assert whole.runs
    now[0] += 3.0
    assert not whole.runs
    assert part.runs  # that has had no step yet
    now[0] = 10.0
    assert not part.runs


@pytest.mark.parametrize("circuits", [2, 6, 12])
@pytest.mark.parametrize("again", [False, True])
def test_a_plan_keeps_to_its_seconds(circuits: int, again: bool, now: list[float]) -> None:
    for seed in range(3):
        now[0] = 0.0
        plan(built(random_wish(seed, circuits=circuits, leds=4 * circuits)), anew=again, seconds=8.0)
        # what is told at the end is judged once more, and a wiring that was there before all
        assert 0.0 < now[0] <= 8.0 + 3.0 * JUDGED


def test_choices_of_sources_share_the_seconds(now: list[float]) -> None:
    text = files.adaptors(8).replace(
        'fuse = "500 mA"', 'fuse = "500 mA"\ninstead = ["9 V 1 A adaptor", "5 V 1 A adaptor"]'
    )
    plan(postcheck.loads(text), seconds=8.0)
    assert 0.0 < now[0] <= 8.0 + 3.0 * JUDGED
