"""Gauge, resistance and strength of copper against the tables of standards and makers."""

import pytest

from postcheck.physics import copper

# ASTM B258 diameters in mm and, at 1/58 ohm mm2/m (IEC 60028), ohm/m of the exact diameters
GAUGES = [
    (20, 0.8118, 0.03331),
    (22, 0.6438, 0.05296),
    (24, 0.5106, 0.08422),
    (26, 0.4049, 0.1339),
    (28, 0.3211, 0.2129),
    (30, 0.2546, 0.3386),
    (32, 0.2019, 0.5383),
    (34, 0.1601, 0.8560),
    (36, 0.1270, 1.361),
    (38, 0.1007, 2.164),
    (40, 0.0799, 3.441),
    (42, 0.0633, 5.472),
]
# MWS Techbook, copper magnet wire data (NEMA MW 1000): nominal ohm per 1000 ft, from diameters rounded to 0.1 mil
MAKER = {20: 10.13, 22: 16.20, 24: 25.67, 26: 41.02, 28: 65.33, 30: 103.7, 32: 162.0, 34: 261.3, 36: 414.8}


@pytest.mark.parametrize(("gauge", "millimetres", "ohms"), GAUGES)
def test_gauge_table(gauge: int, millimetres: float, ohms: float) -> None:
    diameter = copper.awg_diameter(gauge)
    assert diameter * 1e3 == pytest.approx(millimetres, abs=6e-5)
    assert copper.ohms_per_metre(copper.area(diameter)) == pytest.approx(ohms, rel=6e-4)


def test_fixed_points_of_the_gauge() -> None:
    # ASTM B258: 36 AWG is 0.0050 in, 4/0 is 0.4600 in
    assert copper.awg_diameter(36) == pytest.approx(0.0050 * 25.4e-3, rel=1e-12)
    assert copper.awg_diameter(-3) == pytest.approx(0.4600 * 25.4e-3, rel=1e-12)
    with pytest.raises(ValueError, match="no AWG 60"):
        copper.awg_diameter(60)


@pytest.mark.parametrize(("gauge", "per_1000_feet"), MAKER.items())
def test_maker_table(gauge: int, per_1000_feet: float) -> None:
    exact = copper.ohms_per_metre(copper.area(copper.awg_diameter(gauge))) * 304.8
    assert exact == pytest.approx(per_1000_feet, rel=0.015)
    # the maker's own diameter, rounded to 0.1 mil, gives every printed digit
    mils = round(copper.awg_diameter(gauge) / 25.4e-6, 1)
    rounded = copper.ohms_per_metre(copper.area(mils * 25.4e-6)) * 304.8
    assert rounded == pytest.approx(per_1000_feet, rel=1e-3)


@pytest.mark.parametrize(
    ("millimetres", "ohms"),
    # IEC 60317-0-1 sizes, nominal ohm/m at 1/58 ohm mm2/m
    [(0.063, 5.531), (0.100, 2.195), (0.150, 0.9757), (0.200, 0.5488), (0.500, 0.0878)],
)
def test_enamelled_sizes(millimetres: float, ohms: float) -> None:
    assert copper.ohms_per_metre(copper.area(millimetres * 1e-3)) == pytest.approx(ohms, rel=5e-4)


def test_stranded() -> None:
    # 7/0.127 (28 AWG): 0.0887 mm2 and 0.1983 ohm/m with the 2 % of ASTM B496
    section = copper.strand_area(7, 0.127e-3)
    assert section == pytest.approx(0.0887e-6, rel=5e-4)
    assert copper.ohms_per_metre(section, stranded=True) == pytest.approx(0.1983, rel=1e-3)
    # Elektrisola's 10 x 0.020 mm litz: 5.550 ohm/m, at their 58.5 MS/m
    assert copper.ohms_per_metre(copper.strand_area(10, 20e-6), stranded=True) == pytest.approx(
        5.550 * 58.5 / 58, rel=1e-3
    )


def test_temperature() -> None:
    # US Navy NEETS module 4: AWG 20, 2000 ft at 25 degC is 20.8 ohm (10.4 ohm per 1000 ft)
    at20 = copper.ohms_per_metre(copper.area(copper.awg_diameter(20))) * 2000 * 0.3048
    assert copper.at_temperature(at20, 25.0) == pytest.approx(20.8, rel=0.01)
    # FAA AC 43.13-1B, chapter 11: the same law as (234.5 + T)/254.5
    assert copper.at_temperature(1.0, 181.6) == pytest.approx((234.5 + 181.6) / 254.5, rel=1e-3)


@pytest.mark.parametrize(
    ("gauge", "elongation"),
    # ASTM B3 by gauge: 10 to 23 AWG 25 %, 24 to 29 20 %, 30 to 40 15 %
    [(10, 0.25), (23, 0.25), (24, 0.20), (29, 0.20), (30, 0.15), (40, 0.15), (9, 0.30), (1, 0.30), (0, 0.35)],
)
def test_elongation(gauge: int, elongation: float) -> None:
    assert copper.minimum_elongation(copper.awg_diameter(gauge)) == elongation


def test_strength() -> None:
    # UTS 220 MPa (Smithells) on ASTM B258 sections: 30 AWG 11.2 N, 36 AWG 2.79 N; yield at 75 MPa 0.95 N
    assert copper.breaking_load(0.05093e-6) == pytest.approx(11.2, rel=3e-3)
    thin = copper.area(copper.awg_diameter(36))
    assert copper.breaking_load(thin) == pytest.approx(2.79, rel=2e-3)
    assert copper.yield_load(thin) == pytest.approx(0.95, rel=2e-3)


def test_no_section() -> None:
    with pytest.raises(ValueError, match="above zero"):
        copper.ohms_per_metre(0.0)


def test_below_the_table_a_tenth_and_at_its_end_what_it_has() -> None:
    # ASTM B3-95 table 1 ends at 40 AWG, 0.079 mm
    assert copper.minimum_elongation(0.0799e-3) == 0.15
    assert copper.minimum_elongation(0.06e-3) == 0.10


def test_a_conductor_has_one_strand_at_least() -> None:
    assert copper.strand_area(1, 2e-3) == copper.area(2e-3) == pytest.approx(3.14159265e-6)
    assert copper.strand_area(7, 2e-3) == pytest.approx(7 * 3.14159265e-6)
    with pytest.raises(ValueError, match="at least one strand"):
        copper.strand_area(0, 2e-3)
