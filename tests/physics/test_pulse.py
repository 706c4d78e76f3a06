"""Pulse ratings against data sheets, averages against NumPy."""

import numpy as np
import pytest

from postcheck.physics import pulse


def test_data_sheet_condition() -> None:
    # 0603 LED data sheets: 100 mA for pulses of at most 0.1 ms at a duty of at most 1/10, else 20 mA
    assert pulse.pulse_limit(0.02, 0.1, 1e-4, 0.1) == 0.1
    assert pulse.pulse_limit(0.02, 0.1, 1.01e-4, 0.1) == 0.02
    assert pulse.pulse_limit(0.02, 0.1, 1e-4, 0.11) == 0.02
    assert pulse.pulse_limit(0.02, None, 1e-5, 0.01) == 0.02
    # another part: 10 ms at 1/10
    assert pulse.pulse_limit(0.075, 0.1, 0.01, 0.1, longest=0.01) == 0.1


def test_a_model_strobe_is_direct_current() -> None:
    # 45 flashes a minute, 12 % on: 160 ms
    width = pulse.on_time(0.12, 45 / 60)
    assert width == pytest.approx(0.16)
    assert not pulse.applies_pulse_rating(width, 0.12)
    assert pulse.applies_pulse_rating(pulse.on_time(0.1, 1000), 0.1)


def test_averages_of_a_sampled_train() -> None:
    wave = np.where(np.arange(1000) < 250, 0.04, 0.0)
    assert pulse.average(0.04, 0.25) == pytest.approx(wave.mean())
    assert pulse.root_mean_square(0.04, 0.25) == pytest.approx(np.sqrt((wave**2).mean()))
    assert pulse.average(0.04, 0.25, off=0.01) == pytest.approx(np.where(wave > 0, 0.04, 0.01).mean())


def test_duty() -> None:
    assert pulse.duty(1e-4, 1000) == pytest.approx(0.1)
    with pytest.raises(ValueError, match="overlap"):
        pulse.duty(0.1, 11)
    with pytest.raises(ValueError, match="rate above zero"):
        pulse.on_time(0.5, 0.0)


def test_pulses_that_just_touch_are_on_all_the_time() -> None:
    assert pulse.duty(0.25, 4.0) == 1.0
    assert pulse.duty(0.25 * (1.0 + 5e-13), 4.0) == 1.0
    with pytest.raises(ValueError, match="overlap"):
        pulse.duty(0.25 * (1.0 + 4e-12), 4.0)
    with pytest.raises(ValueError, match="rate"):
        pulse.duty(0.25, 0.0)
    assert (pulse.on_time(0.0, 4.0), pulse.on_time(1.0, 4.0)) == (0.0, 0.25)
    for share in (-0.1, 1.1):
        with pytest.raises(ValueError, match="share between 0 and 1"):
            pulse.on_time(share, 4.0)


def test_what_is_short_and_rare_enough() -> None:
    assert pulse.short_enough(1e-4)
    assert not pulse.short_enough(1.0001e-4)
    assert not pulse.short_enough(0.0)
    assert pulse.rare_enough(0.1)
    assert pulse.rare_enough(0.0)
    assert not pulse.rare_enough(0.1001)
    assert pulse.applies_pulse_rating(2e-3, 0.4, 2e-3, 0.4)
    assert not pulse.applies_pulse_rating(2.1e-3, 0.4, 2e-3, 0.4)
    # a pulse rating below the continuous one holds nobody back
    assert pulse.pulse_limit(0.02, 0.01, 1e-5, 0.01) == 0.02
