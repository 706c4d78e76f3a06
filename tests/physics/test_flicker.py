"""The step a flasher puts on steady lamps, against an exact solution; flash area against WCAG."""

import math

import pytest
from scipy.optimize import brentq

from postcheck.physics import flicker

N_VT = 2 * 0.02569


def exact_step(
    supply: float, lamps: int, series: float, shared: float, flash: float
) -> tuple[float, float, float]:
    """Steady current, its fall when the flasher is on, and dynamic resistance, by SciPy's root finder."""
    # white LED: 2.85 V at 5 mA and 3.2 V at 20 mA
    rs = (3.2 - 2.85 - N_VT * math.log(4)) / 0.015
    log_is = math.log(0.005) - (2.85 - 0.005 * rs) / N_VT

    def current(extra: float) -> float:
        def excess(i: float) -> float:
            return (
                i * series + lamps * (N_VT * (math.log(i) - log_is) + i * rs) + (i + extra) * shared - supply
            )

        return float(brentq(excess, 1e-9, 1.0, xtol=1e-15))

    steady = current(0.0)
    return steady, steady - current(flash), N_VT / steady + rs


@pytest.mark.parametrize(
    ("supply", "lamps", "series", "shared", "flash"),
    # half a metre of common return of 28, 30, 36, 40 AWG (ASTM B258, IEC 60028)
    [(5, 1, 90, 0.106, 0.02), (5, 1, 90, 0.169, 0.2), (12, 3, 150, 0.681, 0.1), (5, 1, 90, 0.681, 0.1)],
)
def test_against_the_exact_network(
    supply: float, lamps: int, series: float, shared: float, flash: float
) -> None:
    steady, fall, dynamic = exact_step(supply, lamps, series, shared, flash)
    assert flicker.shared_step(flash, shared, series, dynamic, lamps) == pytest.approx(fall, rel=0.01)
    assert flicker.step_share(flash, shared, steady, series, dynamic, lamps) == pytest.approx(
        fall / steady, rel=0.01
    )


def test_hand_example() -> None:
    # 0.2 A * 0.169 ohm / (90 + 21.2 + 0.169) ohm = 0.304 mA of 19.97 mA: 1.52 %
    assert flicker.shared_step(0.2, 0.169, 90, 21.2) == pytest.approx(0.304e-3, rel=2e-3)
    assert flicker.step_share(0.2, 0.169, 19.97e-3, 90, 21.2) == pytest.approx(0.0152, rel=2e-3)


def test_modulation() -> None:
    # definition (Lmax - Lmin)/(Lmax + Lmin), IEEE 1789
    for step in (0.0, 0.02, 0.5, 1.0):
        assert flicker.modulation(step) == pytest.approx((1 - (1 - step)) / (1 + (1 - step)))


def test_flash_area() -> None:
    # WCAG 2.2: 0.006 sr, that is 5.4, 15, 60 cm2 at 0.3, 0.5, 1 m
    assert [round(flicker.flash_area(d) * 1e4, 1) for d in (0.3, 0.5, 1.0)] == [5.4, 15.0, 60.0]
    assert flicker.solid_angle(flicker.flash_area(0.7), 0.7) == pytest.approx(0.006)
    # a disc of that area seen square on, exactly: 2 pi (1 - cos)
    half = math.atan(math.sqrt(flicker.flash_area(1.0) / math.pi))
    assert 2 * math.pi * (1 - math.cos(half)) == pytest.approx(0.006, rel=2e-3)


def test_rate() -> None:
    # 14 CFR 25.1401: 40 to 100 a minute
    assert flicker.flashes_per_second(90) == 1.5


def test_refusals() -> None:
    with pytest.raises(ValueError, match="resistance"):
        flicker.shared_step(0.1, 0.0, 0.0)
    with pytest.raises(ValueError, match="above zero"):
        flicker.step_share(0.1, 0.1, 0.0, 100)
    with pytest.raises(ValueError, match="distance"):
        flicker.solid_angle(1.0, 0.0)
    with pytest.raises(ValueError, match="solid angle"):
        flicker.flash_area(1.0, 7.0)
