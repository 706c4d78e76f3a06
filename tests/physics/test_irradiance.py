"""Light on an eye, against integrals of SciPy."""

from math import cos, pi, radians, sin

import pytest
from scipy.integrate import quad

from postcheck.physics.irradiance import irradiance


def test_lamberts_law_gives_back_its_watts():
    # intensity on the axis = E d2, times cos of the angle, over the half sphere
    axis = irradiance(0.05, 0.2) * 0.2**2
    whole, _ = quad(lambda angle: axis * cos(angle) * 2.0 * pi * sin(angle), 0.0, pi / 2.0)
    assert whole == pytest.approx(0.05, rel=1e-9)


@pytest.mark.parametrize("beam", [8.0, 20.0, 60.0, 180.0])
def test_a_cone_gives_back_its_watts(beam):
    even = irradiance(0.05, 0.2, radians(beam)) * 0.2**2
    whole, _ = quad(lambda angle: even * 2.0 * pi * sin(angle), 0.0, radians(beam) / 2.0)
    assert whole == pytest.approx(0.05, rel=1e-9)


def test_bad_numbers_are_refused():
    with pytest.raises(ValueError, match="above zero"):
        irradiance(0.1, 0.2, 0.0)
    with pytest.raises(ValueError, match="distance"):
        irradiance(0.1, 0.0)
