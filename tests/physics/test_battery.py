"""Battery life against worked examples."""

import pytest

from postcheck.physics import battery

HOUR = 3600.0
MILLIAMP_HOUR = 3.6


def test_worked_runtimes() -> None:
    # three quarters of the rated capacity: 2500 mAh AA at 100 mA 18.75 h; 1000 mAh at 60 mA 12.5 h (hand arithmetic)
    assert battery.runtime(2500 * MILLIAMP_HOUR, 0.1) / HOUR == pytest.approx(18.75)
    assert battery.runtime(1000 * MILLIAMP_HOUR, 0.06) / HOUR == pytest.approx(12.5)


def test_coin_cell() -> None:
    # CR2032 sheets: 235 mAh at the standard drain of 0.2 mA is 1175 h
    assert battery.runtime(235 * MILLIAMP_HOUR, 0.2e-3, derate=1.0) / HOUR == pytest.approx(1175)


def test_voltage_falls_straight() -> None:
    whole = battery.runtime(9000.0, 0.1)
    assert battery.time_to_voltage(9000.0, 0.1, 1.6, 0.8, 1.2) == pytest.approx(whole / 2)
    assert battery.time_to_voltage(9000.0, 0.1, 1.6, 0.8, 0.1) == whole
    assert battery.time_to_voltage(9000.0, 0.1, 1.6, 0.8, 2.0) == 0.0


def test_refusals() -> None:
    with pytest.raises(ValueError, match="above zero"):
        battery.runtime(1.0, 0.0)
    with pytest.raises(ValueError, match="less than nothing"):
        battery.runtime(-1.0, 1.0)
    with pytest.raises(ValueError, match="above empty"):
        battery.time_to_voltage(1.0, 1.0, 3.0, 3.0, 3.0)
