"""Heat of thin wires against published fusing currents, a handbook correlation and a numerical integration."""

from math import inf, log, log10, pi

import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from postcheck.physics import copper, wire_heat


def preece(millimetres: float) -> float:
    """A that melts a bare round copper wire in free air: 80.02 d**1.5, that is 10 244 for inches. Preece 1884."""
    return float(80.02 * millimetres**1.5)


@pytest.mark.parametrize(
    ("amps", "inches"),
    # his table for copper as printed in engineering handbooks
    [(1, 0.0021), (10, 0.0098), (100, 0.0457)],
)
def test_preece_as_printed(amps, inches):
    assert preece(inches * 25.4) == pytest.approx(amps, rel=0.015)


# His law comes from wires of about 0.1 to 2 mm, and scatters by 30 % and more.
@pytest.mark.parametrize("millimetres", [0.1, 0.127, 0.2, 0.3, 0.5, 0.8])
def test_melts_within_a_factor_of_two_of_preece(millimetres):
    d = millimetres * 1e-3
    ohms = copper.ohms_per_metre(copper.area(d))

    def melts(current):
        return 1.0 if wire_heat.settles_at(current, ohms, d) is None else -1.0

    found = brentq(melts, 0.05, 200.0, xtol=1e-3)
    assert 0.5 < found / preece(millimetres) < 2.0


def churchill_chu(outside, rise, ambient=25.0):
    """W/(m2 K): Nu = (0.60 + 0.387 Ra**(1/6) / (1 + (0.559/Pr)**(9/16))**(8/27))**2. Constants from memory."""
    middle = 273.15 + ambient + rise / 2.0
    conductivity = 0.0241 * (middle / 273.15) ** 0.9
    viscosity = 1.458e-6 * middle**1.5 / (middle + 110.4)
    kinematic = viscosity * middle * 287.05 / 101325.0
    prandtl = viscosity * 1006.0 / conductivity
    rayleigh = 9.81 / middle * rise * outside**3 * prandtl / kinematic**2
    nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1.0 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    return nusselt * conductivity / outside


# Churchill and Chu 1975 for the horizontal cylinder is an independent correlation of the same measurements.
@pytest.mark.parametrize("diameter", [0.0001, 0.0003, 0.001, 0.003, 0.01])
@pytest.mark.parametrize("rise", [20.0, 100.0, 300.0])
def test_agrees_with_churchill_and_chu(diameter, rise):
    assert wire_heat.film(diameter, rise) == pytest.approx(churchill_chu(diameter, rise), rel=0.25)


# Worked by hand from Morgan's printed coefficients: D = 10 mm, air at 300 K film (nu 15.89e-6, alpha 22.5e-6 m2/s,
# k 26.3e-3 W/(m K): Incropera, table A.4, from memory): dT = 20 K gives Ra = 9.81/300*20*1e-6/(15.89e-6*22.5e-6)
# = 1829; Nu = 0.850 * 1829**0.188 = 3.49; h = 9.18 W/(m2 K).
def test_film_of_a_ten_millimetre_rod():
    assert wire_heat.film(0.010, 20.0, ambient=16.85) == pytest.approx(9.18, rel=0.03)


def test_settled_wire_makes_what_it_sheds():
    d, ohms = 0.117e-3, 2.195
    hot = wire_heat.settles_at(0.675, ohms, d, ambient=35.0)
    made = 0.675**2 * ohms * (1 + 0.00393 * (hot - 20))
    assert wire_heat.loss_per_metre(d, hot - 35.0, 35.0) == pytest.approx(made, rel=1e-3)


def test_in_a_bore_no_more_leaves_than_conduction_allows():
    # steady conduction between coaxial cylinders, 2 pi k dT / ln(D/d): k between that of air at 20 and at 120 degC
    loss = wire_heat.loss_per_metre(0.6e-3, 100.0, 20.0, bore=1.2e-3)
    assert loss < 2 * pi * 0.033 * 100 / log(2.0)
    free = wire_heat.loss_per_metre(0.117e-3, 100.0, 20.0)
    assert 0.7 * free < wire_heat.loss_per_metre(0.117e-3, 100.0, 20.0, bore=5e-3) <= free


def test_a_long_fine_wire_throttles_its_own_short():
    d, ohms, length = 0.117e-3, 2.195, 1.0

    def current(celsius):
        return 3.7 / (0.1 + ohms * length * (1 + 0.00393 * (celsius - 20)))

    cold = current(20.0)
    throttled = wire_heat.settles_at(current, ohms, d)
    constant = wire_heat.settles_at(cold, ohms, d)
    assert throttled is not None
    assert constant is None or throttled < constant


@pytest.mark.parametrize(("current", "seconds"), [(0.5, 1.0), (2.0, 0.3), (4.0, 0.03), (0.7, 60.0)])
def test_warming_agrees_with_integration(current, seconds):
    area, ohms, loss = copper.area(0.1e-3), 2.195, 0.05

    def slope(_, y):
        return (current**2 * ohms * (1 + 0.00393 * (y - 20)) - loss * (y - 25.0)) / (3.45e6 * area)

    exact = solve_ivp(slope, (0, seconds), [25.0], rtol=1e-9, atol=1e-9, method="LSODA").y[0, -1]
    assert wire_heat.warms_to(current, seconds, area, ohms, loss) == pytest.approx(exact, rel=1e-6)


def test_runaway_is_infinite():
    assert wire_heat.warms_to(20.0, 100.0, copper.area(0.1e-3), 2.195, 0.05) == inf


@pytest.mark.parametrize(
    ("start", "end", "k"),
    # IEC 60364-5-54 tables A.54.2 to A.54.4, copper, k in A s**0.5 / mm2 (from memory)
    [(70, 160, 115), (90, 250, 143), (30, 160, 143), (30, 250, 176), (30, 200, 159)],
)
def test_without_loss_it_is_the_adiabatic_law(start, end, k):
    # one second at k A in one square millimetre; the table's copper has 17.241 nohm m
    warm = wire_heat.warms_to(k, 1.0, 1e-6, 17.241e-3, 1e-9, ambient=start)
    assert warm - start == pytest.approx(end - start, rel=0.03)


def test_without_loss_it_melts_by_onderdonk():
    # I = A sqrt(log10((Tm - Ta)/(234 + Ta) + 1)/(33 t)), A in circular mils: 30 AWG melts at 14.7 A in 1 s
    area = copper.area(copper.awg_diameter(30))
    mils = 4 * area / pi / 25.4e-6**2
    amps = mils * log10((1083 - 25) / (234 + 25) + 1) ** 0.5 / 33**0.5
    assert amps == pytest.approx(14.7, abs=0.05)
    ohms = copper.ohms_per_metre(area)
    assert wire_heat.warms_to(0.96 * amps, 1.0, area, ohms, 1e-9) < 1083
    assert wire_heat.warms_to(1.04 * amps, 1.0, area, ohms, 1e-9) > 1083


# one wire as its own bundle: the share that its heat has in warming its surroundings is what it warms itself by
def test_company_is_the_same_way_out():
    watts, d, bore = 0.5, 0.74e-3, 5e-3
    rise = brentq(lambda k: wire_heat.loss_per_metre(d, k, 35.0, bore) - watts, 0.1, 500.0)
    assert wire_heat.company_rise(watts, d, bore, rise, 35.0) == pytest.approx(rise, rel=1e-6)


# steady conduction between coaxial cylinders, k of air 0.0282 W/(m K) at 52 degC, and the post's film of 10 W/(m2 K)
def test_a_full_bore_leaves_conduction_and_the_wall():
    by_hand = log(5.0 / 4.0) / (2 * pi * 0.0282) + 1 / (pi * 5e-3 * 10)
    assert wire_heat.company_rise(1.0, 4e-3, 5e-3, 35.0, 35.0) == pytest.approx(by_hand, rel=0.02)


# copper melts at 1083 degC (CRC Handbook): air or company as warm as that leaves no wire, however little flows in it
def test_nothing_settles_in_air_that_melts_it():
    assert wire_heat.settles_at(0.0, 0.2, 0.5e-3, 1083.0) is None
    assert wire_heat.settles_at(0.0, 0.2, 0.5e-3, 1082.0) == pytest.approx(1082.0, abs=1e-3)
    assert wire_heat.settles_at(0.0, 0.2, 0.5e-3, 90.0, most=80.0) is None
    assert wire_heat.settles_at(0.0, 0.2, 0.5e-3, 70.0, most=80.0) == pytest.approx(70.0, abs=1e-3)


def test_what_fills_its_bore_has_the_walls_film_alone():
    # 10 W/(m2 K) over pi times 1 mm, at 20 K
    assert wire_heat.loss_per_metre(1e-3, 20.0, bore=1e-3) == pytest.approx(10.0 * pi * 1e-3 * 20.0)
    assert wire_heat.loss_per_metre(1e-3, 20.0, bore=1.0001e-3) == pytest.approx(
        10.0 * pi * 1e-3 * 20.0, rel=1e-3
    )


def test_where_loss_and_rising_resistance_balance_it_warms_as_if_nothing_flowed_off():
    # 1 A in 0.1 ohm/m gives 0.1 W/m; alpha times that is 0.393 mW/(m K): at 20 degC the rise is P t / (c A)
    area, ohms = 0.1e-6, 0.1
    loss = ohms * copper.ALPHA
    rise = ohms * 10.0 / (3.45e6 * area)
    assert wire_heat.warms_to(1.0, 10.0, area, ohms, loss, 20.0) == pytest.approx(20.0 + rise)
    assert wire_heat.warms_to(1.0, 10.0, area, ohms, loss * 1.0001, 20.0) == pytest.approx(
        20.0 + rise, rel=1e-4
    )


# Morgan's printed table: Nu = C Ra**m for Ra up to 1e-2, 1e2, 1e4, 1e7. Air: Sutherland's viscosity (1.458e-6, 110.4 K), gas
# constant 287.05 J/(kg K) at 101 325 Pa, Prandtl 0.71, conductivity 0.0241 W/(m K) at 0 degC with the power 0.84
@pytest.mark.parametrize(
    ("rayleigh", "c", "m"),
    [
        (1e-8, 0.675, 0.058), (1e-4, 0.675, 0.058), (0.0099, 0.675, 0.058), (0.0101, 1.02, 0.148), (1.0, 1.02, 0.148),
        (99.0, 1.02, 0.148), (101.0, 0.850, 0.188), (9.9e3, 0.850, 0.188), (1.01e4, 0.480, 0.250), (9.9e6, 0.480, 0.250),
    ],
)  # fmt: skip
@pytest.mark.parametrize(("ambient", "rise"), [(16.85, 20.0), (35.0, 300.0)])
def test_the_film_is_that_of_morgans_table(rayleigh, c, m, ambient, rise):
    middle = 273.15 + ambient + rise / 2
    density = 101325.0 / (287.05 * middle)
    kinematic = 1.458e-6 * middle**1.5 / (middle + 110.4) / density
    diameter = (rayleigh * kinematic**2 / 0.71 / (9.81 / middle * rise)) ** (1 / 3)
    conductivity = 0.0241 * (middle / 273.15) ** 0.84
    nusselt = c * rayleigh**m
    assert wire_heat.film(diameter, rise, ambient) == pytest.approx(
        nusselt * conductivity / diameter, rel=1e-6
    )
    free = pi * conductivity * nusselt * rise
    assert wire_heat.loss_per_metre(diameter, rise, ambient) == pytest.approx(free, rel=1e-6)
    # in a bore of three diameters: conduction across the gap, and the post's film of 10 W/(m2 K)
    gap = log(3.0) / (2 * pi * conductivity) + 1 / (pi * 3 * diameter * 10.0)
    assert wire_heat.loss_per_metre(diameter, rise, ambient, 3 * diameter) == pytest.approx(
        rise / gap, rel=1e-6
    )


def test_what_is_no_thin_wire_is_refused():
    assert wire_heat.film(0.1, 100.0) > 0.0
    with pytest.raises(ValueError, match="not a thin wire"):
        wire_heat.film(0.5, 100.0)
    # Ra goes with the cube of the diameter: it is 1e7 where a wire of 1 mm has so many times less
    rayleigh = (wire_heat.film(1e-3, 100.0) * 1e-3 / 0.0241 / (348.15 / 273.15) ** 0.84 / 1.02) ** (
        1.0 / 0.148
    )
    most = 1e-3 * (1e7 / rayleigh) ** (1.0 / 3.0)
    assert wire_heat.film(most * 0.999, 100.0) > 0.0
    with pytest.raises(ValueError, match="not a thin wire"):
        wire_heat.film(most * 1.001, 100.0)


# the film goes with the cube root of the rise at no rise at all, too: a thousandth of a kelvin is the least that is taken
def test_without_a_rise_there_is_a_film_all_the_same():
    assert wire_heat.film(1e-4, 0.0) == pytest.approx(wire_heat.film(1e-4, 1e-3), rel=1e-5)
    # half a kelvin's thousandth less is the same, twice as much is more: by Ra**0.058, the power of a wire so thin
    assert wire_heat.film(1e-4, 5e-4) == pytest.approx(wire_heat.film(1e-4, 0.0), rel=1e-5)
    assert wire_heat.film(1e-4, 2e-3) == pytest.approx(wire_heat.film(1e-4, 0.0) * 2.0**0.058, rel=1e-5)
    assert wire_heat.loss_per_metre(1e-4, 0.0) == 0.0
    # company is taken near a kelvin at least
    near, cool = (wire_heat.company_rise(0.01, 1e-3, 5e-3, rise) for rise in (1.0, 0.0))
    assert cool == near
    assert wire_heat.company_rise(0.01, 1e-3, 5e-3, 1.25) < near * (1.0 - 1e-6)
    assert wire_heat.company_rise(0.01, 1e-3, 5e-3, 100.0) < near
    assert wire_heat.company_rise(0.02, 1e-3, 5e-3, 1.0) == pytest.approx(2.0 * near)
