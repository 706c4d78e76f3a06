"""Roots against SciPy's brentq, which brackets them too, and how soon they are found."""

from __future__ import annotations

from collections.abc import Callable
from math import atan, exp, log

import pytest
from scipy.optimize import brentq

from postcheck.physics.root import root_between

Function = Callable[[float], float]
STEADY: dict[str, tuple[Function, float, float, int]] = {
    # a function, the ends, and how often it is called at most
    "rising": (lambda x: x * x - 2.0, 0.0, 5.0, 14),
    "falling": (lambda x: 3.0 - exp(x), -1.0, 4.0, 16),
    "steep at one end": (lambda x: log(x / 7.0), 0.01, 1e3, 24),
    "flat at both": (lambda x: atan(x - 1.0), -20.0, 30.0, 20),
    "a straight line": (lambda x: 4.0 - 2.0 * x, -3.0, 11.0, 1),
    "a diode": (lambda x: 1e-12 * (exp(x / 0.05) - 1.0) - 0.02, 0.0, 2.0, 60),
}


@pytest.mark.parametrize("name", STEADY)
def test_the_root_is_that_of_scipy_and_soon_found(name: str) -> None:
    function, low, high, most = STEADY[name]
    calls: list[float] = []

    def counted(x: float) -> float:
        calls.append(x)
        return function(x)

    found = root_between(counted, low, high, function(low), function(high), within=1e-13)
    assert found == pytest.approx(brentq(function, low, high, xtol=1e-14), rel=1e-11)
    assert found == calls[-1]
    assert len(calls) <= most


def test_it_ends_within_what_is_asked_for() -> None:
    calls: list[float] = []

    def line(x: float) -> float:
        calls.append(x)
        return x**3 - 1.0

    found = root_between(line, 0.0, 3.0, -1.0, 26.0, within=0.25)
    assert abs(found**3 - 1.0) <= 0.25
    assert all(abs(x**3 - 1.0) > 0.25 for x in calls[:-1])


def test_it_ends_where_the_ends_have_met() -> None:
    # a step: no value is near nothing, and the ends close in on it
    def step(x: float) -> float:
        return 1.0 if x > 0.3 else -1.0

    assert root_between(step, 0.0, 1.0, -1.0, 1.0, within=1e-9, narrow=1e-6) == pytest.approx(0.3, abs=1e-6)


def test_an_end_that_is_nothing_is_closed_in_on_by_halves() -> None:
    # the line through both ends leads to the end itself
    calls: list[float] = []

    def line(x: float) -> float:
        calls.append(x)
        return x - 3.0

    assert root_between(line, 3.0, 4.0, 0.0, 1.0, within=0.1) == 3.0625
    assert calls == [3.5, 3.25, 3.125, 3.0625]


def test_a_value_of_just_nothing_is_the_root() -> None:
    calls: list[float] = []

    def line(x: float) -> float:
        calls.append(x)
        return x - 1.0

    assert root_between(line, 0.0, 4.0, -1.0, 3.0, within=0.0) == 1.0
    assert calls == [1.0]


def test_an_end_that_is_kept_twice_in_a_row_counts_half() -> None:
    """By hand: a step at 2.9, between ends of -1 and 3; where a line through both ends is nothing, the next is tried."""
    calls: list[float] = []

    def step(x: float) -> float:
        calls.append(x)
        return -1.0 if x < 2.9 else 1.0

    root_between(step, 0.0, 4.0, -1.0, 3.0, within=0.5, narrow=0.3)
    high = (2.65 * 0.75 + 4.0) / 1.75  # 3.42, the first beyond the step
    middle = (2.65 + high) / 2.0
    assert calls == pytest.approx(
        [
            4.0 / 4.0,
            (1.0 * 3.0 + 4.0) / 4.0,  # the upper end has its 3 still
            (1.75 * 1.5 + 4.0) / 2.5,  # kept twice: 1.5
            high,  # and 0.75
            middle,  # 1 by now, the lower end -1 still
            (2.65 * 1.0 + middle * 0.5) / 1.5,  # kept twice: -0.5
        ],
        rel=1e-12,
    )


def test_what_is_nothing_all_the_way_is_so_half_way() -> None:
    assert root_between(lambda _: 0.0, 2.0, 4.0, 0.0, 0.0, within=0.0) == 3.0
