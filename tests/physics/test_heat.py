"""Heat of closed places and parts against published examples."""

import pytest

from postcheck.limits import Limits
from postcheck.physics import heat
from postcheck.physics.light import light_ratio


def test_published_enclosure() -> None:
    # an enclosure maker's heat guide: 48 x 36 x 16 in box of 42 ft2 at 300 W rises 16.7 K, so U is 4.61 W/m2K
    surface = 42 * 0.3048**2
    assert heat.place_rise(300, surface, 4.61) == pytest.approx(16.7, rel=2e-3)
    # the default is the warmer side of it
    assert heat.place_rise(300, surface, Limits().value("heat.per-area")) > 16.7


def test_plastic_box() -> None:
    # 60 x 40 x 30 mm polystyrene, 1 mm, films 5 and 10: 1/(0.2 + 0.00625 + 0.1) = 3.27; 0.5 W warm it by 14.2 K, and
    # with a film of 8 inside by 10.7 K (films in series, any handbook of heat transfer)
    surface = 2 * (0.06 * 0.04 + 0.04 * 0.03 + 0.06 * 0.03)
    for inside, rise in ((5, 14.2), (8, 10.7)):
        per_area = 1 / (1 / inside + 1e-3 / 0.16 + 1 / 10)
        assert heat.place_rise(0.5, surface, per_area) == pytest.approx(rise, abs=0.05)
    # the default takes the box for what it is
    assert heat.place_rise(0.5, surface, Limits().value("heat.per-area")) == pytest.approx(14.2, rel=0.1)


def test_resistor() -> None:
    # CRCW e3 data sheet: full rating at 70 degC, nothing at 155 degC: full rating warms by 85 K
    assert 70 + heat.resistor_rise(0.1, 0.1) == pytest.approx(155)
    assert heat.resistor_rise(0.05, 0.1) == pytest.approx(42.5)
    with pytest.raises(ValueError, match="rating"):
        heat.resistor_rise(0.1, 0.0)


def test_a_place_needs_a_surface() -> None:
    with pytest.raises(ValueError, match="surface"):
        heat.place_rise(1.0, 0.0, 3.5)


def test_light_goes_with_the_current_and_of_a_filament_far_more() -> None:
    """A filament's volts go with the current to the power of 1 / 0.55, its light with the volts to that of 3.4."""
    assert light_ratio(0.015, 0.02) == pytest.approx(0.75, rel=1e-12)
    volts = 0.75 ** (1.0 / 0.55)
    assert light_ratio(0.015, 0.02, filament=True) == pytest.approx(volts**3.4, rel=1e-12)
    assert light_ratio(0.0, 0.02) == light_ratio(0.0, 0.02, filament=True) == 0.0
    with pytest.raises(ValueError, match="usual"):
        light_ratio(0.01, 0.0)
