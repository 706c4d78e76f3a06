"""Battery life against worked examples."""

from math import exp, log

import pytest
from scipy.interpolate import interp1d

from postcheck.physics import battery

HOUR = 3600.0
MILLIAMP_HOUR = 3.6


def test_worked_runtimes() -> None:
    # three quarters of the rated capacity: 2500 mAh AA at 100 mA 18.75 h; 1000 mAh at 60 mA 12.5 h (hand arithmetic)
    assert battery.runtime(2500 * MILLIAMP_HOUR, 0.1) / HOUR == pytest.approx(18.75)
    assert battery.runtime(1000 * MILLIAMP_HOUR, 0.06) / HOUR == pytest.approx(12.5)


def test_what_a_cell_holds_falls_with_the_current() -> None:
    points = ((0.1, 2450.0), (0.5, 1375.0), (1.0, 1000.0))
    assert [battery.capacity_at(points, at) for at in (0.1, 0.5, 1.0)] == [2450.0, 1375.0, 1000.0]
    # Peukert: the time is C (I_0 / I)^k; k of two points, and of the middle by SciPy's straight line in the logarithms
    line = interp1d([log(0.1), log(0.5)], [log(2450.0), log(1375.0)])
    assert battery.capacity_at(points, 0.2) == pytest.approx(exp(float(line(log(0.2)))))
    # beyond the ends nothing is known
    assert battery.capacity_at(points, 0.001) == 2450.0
    assert battery.capacity_at(points, 3.0) == 1000.0
    assert battery.capacity_at(points[:1], 3.0) == 2450.0


def test_coin_cell() -> None:
    # CR2032 sheets: 235 mAh at the standard drain of 0.2 mA is 1175 h
    assert battery.runtime(235 * MILLIAMP_HOUR, 0.2e-3, derate=1.0) / HOUR == pytest.approx(1175)


def test_voltage_falls_straight() -> None:
    whole = battery.runtime(9000.0, 0.1)
    assert battery.time_to_voltage(9000.0, 0.1, 1.6, 0.8, 1.2) == pytest.approx(whole / 2)
    assert battery.time_to_voltage(9000.0, 0.1, 1.6, 0.8, 0.1) == whole
    assert battery.time_to_voltage(9000.0, 0.1, 1.6, 0.8, 2.0) == 0.0


def test_what_is_left_follows_two_lines() -> None:
    # by SciPy through full, half and empty; an alkaline cell has given half at 1.25 V (makers' curves, from memory), and falls
    # straight from 1.6 to 0.9 V; one of lithium keeps near 3.7 V
    for full, half, empty in ((1.6, 1.25, 0.9), (4.2, 3.7, 3.0), (1.0, 0.2, 0.1)):
        line = interp1d([empty, half, full], [0.0, 0.5, 1.0])
        for part in (0.0, 0.1, 0.3, 0.5, 0.7, 0.95, 1.0):
            volts = empty + part * (full - empty)
            left = battery.charge_left(volts, full, empty, half)
            assert left == pytest.approx(float(line(min(volts, full))))
    assert battery.charge_left(1.48, 1.6, 0.9, 1.25) == pytest.approx(0.829, abs=1e-3)
    assert battery.charge_left(5.0, 4.2, 3.0, 3.7) == 1.0
    assert battery.charge_left(2.0, 4.2, 3.0, 3.7) == 0.0
    # one beyond the ends says nothing: straight
    assert battery.charge_left(3.6, 4.2, 3.0, 2.5) == pytest.approx(0.5)
    assert battery.time_to_voltage(3600.0, 1.0, 4.2, 3.0, 3.7, 1.0, half=3.7) == pytest.approx(1800.0)


def test_refusals() -> None:
    with pytest.raises(ValueError, match="above zero"):
        battery.runtime(1.0, 0.0)
    with pytest.raises(ValueError, match="no points"):
        battery.capacity_at((), 1.0)
    with pytest.raises(ValueError, match="less than nothing"):
        battery.runtime(-1.0, 1.0)
    with pytest.raises(ValueError, match="above empty"):
        battery.time_to_voltage(1.0, 1.0, 3.0, 3.0, 3.0)


def test_at_the_points_of_its_maker_and_at_no_charge() -> None:
    points = ((0.2, 2000.0), (0.4, 1000.0), (0.8, 250.0))
    # Peukert between: half as much for twice the current, then a quarter
    assert battery.capacity_at(points, 0.2 * 2**0.5) == pytest.approx(2000.0 / 2**0.5)
    assert battery.capacity_at(points, 0.4 * 2**0.5) == pytest.approx(500.0)
    assert battery.capacity_at(points, 0.199) == 2000.0
    assert battery.capacity_at(points, 0.801) == 250.0
    assert battery.runtime(0.0, 0.1) == 0.0
    assert battery.runtime(1000.0, 0.5, 0.6) == pytest.approx(1200.0)
