"""Heat of closed places and parts against published examples."""

import pytest

from postcheck.physics import heat


def test_published_enclosure() -> None:
    # an enclosure maker's heat guide: 48 x 36 x 16 in box of 42 ft2 at 300 W rises 16.7 K, so U is 4.61 W/m2K
    surface = 42 * 0.3048**2
    assert heat.place_rise(300, surface, 4.61) == pytest.approx(16.7, rel=2e-3)
    # our default is the warmer side of it
    assert heat.place_rise(300, surface) > 16.7


def test_plastic_box() -> None:
    # 60 x 40 x 30 mm polystyrene, 1 mm, films 5 and 10: 1/(0.2 + 0.00625 + 0.1) = 3.27; 0.5 W warm it by 14.2 K
    per_area = heat.conductance(5, 1e-3, 0.16, 10)
    assert per_area == pytest.approx(1 / (1 / 5 + 1e-3 / 0.16 + 1 / 10))
    surface = 2 * (0.06 * 0.04 + 0.04 * 0.03 + 0.06 * 0.03)
    assert heat.place_rise(0.5, surface, per_area) == pytest.approx(14.2, abs=0.05)
    assert heat.place_rise(0.5, surface, heat.conductance(8, 1e-3, 0.16, 10)) == pytest.approx(10.7, abs=0.05)
    assert heat.allowed_power(14.2, surface, per_area) == pytest.approx(0.5, rel=5e-3)


def test_led_junction() -> None:
    # data sheet of an 0805 LED, 500 K/W: red 42 mW 21 K, white 64 mW 32 K
    assert heat.led_junction_rise(heat.led_heat(2.1, 0.02)) == pytest.approx(21)
    assert heat.led_junction_rise(heat.led_heat(3.2, 0.02)) == pytest.approx(32)
    assert heat.led_heat(3.2, 0.02, light_share=0.25) == pytest.approx(0.048)


def test_resistor() -> None:
    # CRCW e3 data sheet: full rating at 70 degC, nothing at 155 degC: full rating warms by 85 K
    assert 70 + heat.resistor_rise(0.1, 0.1) == pytest.approx(155)
    assert heat.resistor_rise(0.05, 0.1) == pytest.approx(42.5)
    with pytest.raises(ValueError, match="rating"):
        heat.resistor_rise(0.1, 0.0)


def test_local_temperature_adds_up() -> None:
    # superposition of steady rises (linear conduction)
    assert heat.local_temperature(25, 14.2, 32, 0.5) == pytest.approx(55.2)
    with pytest.raises(ValueError, match="finite"):
        heat.local_temperature(float("nan"))


def test_outer_wall() -> None:
    # the wall's outside is cooler than the air inside by the share of its film: U/h_o
    per_area = heat.conductance(5, 0, 0.16, 10)
    assert heat.surface_rise(1, 0.01, 10) / heat.place_rise(1, 0.01, per_area) == pytest.approx(per_area / 10)


def test_a_place_needs_a_surface() -> None:
    with pytest.raises(ValueError, match="surface"):
        heat.place_rise(1.0, 0.0)
    with pytest.raises(ValueError, match="films"):
        heat.conductance(0.0)
