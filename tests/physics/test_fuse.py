"""Faults, fusing and fuses against published tables and SciPy."""

from itertools import pairwise
from math import inf, pi

import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from postcheck.physics import copper, fuse

MIL = 25.4e-6


@pytest.mark.parametrize(
    ("amps", "inches"),
    # Preece's table for copper as printed in engineering handbooks (a = 10 244, d in inches)
    [(1, 0.0021), (10, 0.0098), (100, 0.0457)],
)
def test_preece(amps: float, inches: float) -> None:
    assert fuse.preece(inches * 25.4e-3) == pytest.approx(amps, rel=0.015)
    assert fuse.preece(inches * 25.4e-3) == pytest.approx(10_244 * inches**1.5, rel=1e-4)


@pytest.mark.parametrize(("gauge", "amps"), [(24, 29.2), (30, 10.3), (36, 3.62), (40, 1.81)])
def test_preece_by_gauge(gauge: int, amps: float) -> None:
    # the same law on ASTM B258 diameters
    assert fuse.preece(copper.awg_diameter(gauge)) == pytest.approx(amps, rel=3e-3)


def test_onderdonk() -> None:
    # 2581 circular mils for 5 s: 168.9 A with the correct sign (234 + Ta); 178 A with the sign slip passed round
    section = 2581 * pi / 4 * MIL**2
    assert fuse.onderdonk(section, 5, ambient=25) == pytest.approx(168.9, abs=0.1)
    assert fuse.onderdonk(copper.area(copper.awg_diameter(30)), 1) == pytest.approx(14.7, abs=0.05)
    with pytest.raises(ValueError, match="time"):
        fuse.onderdonk(section, 0)


@pytest.mark.parametrize(
    ("start", "end", "k"),
    # IEC 60364-5-54 tables A.54.2 to A.54.4, copper, k in A s**0.5 / mm2 (from memory)
    [(70, 160, 115), (90, 250, 143), (30, 160, 143), (30, 250, 176), (30, 200, 159)],
)
def test_adiabatic_k(start: float, end: float, k: float) -> None:
    assert fuse.adiabatic_i2t(1e-6, start, end) ** 0.5 == pytest.approx(k, abs=0.8)
    assert fuse.adiabatic_time(1e-6, k, start, end) == pytest.approx(1.0, rel=0.015)


def test_onderdonk_agrees_with_iec() -> None:
    # both are adiabatic: the current that melts 30 AWG in one second, two independent sets of constants
    section = copper.area(copper.awg_diameter(30))
    assert fuse.adiabatic_i2t(section, 25, 1083) ** 0.5 == pytest.approx(fuse.onderdonk(section, 1), rel=0.03)


def test_adiabatic_edges() -> None:
    assert fuse.adiabatic_i2t(1e-6, 25, 25) == 0.0
    assert fuse.adiabatic_time(1e-6, 0.0, 25, 80) == inf
    with pytest.raises(ValueError, match="below the start"):
        fuse.adiabatic_i2t(1e-6, 80, 25)


@pytest.mark.parametrize("amps", [0.05, 0.3, 0.6])
def test_steady_temperature(amps: float) -> None:
    # the balance I2 R'20 (1 + alpha (T - 20)) = pi D h (T - Ta) by SciPy's root finder
    ohms, outside, ambient, film = 0.3386, 0.6e-3, 35.0, 10.0
    want = brentq(
        lambda t: amps**2 * ohms * (1 + 0.00393 * (t - 20)) - pi * outside * film * (t - ambient), -200, 5000
    )
    found = fuse.steady_temperature(amps, ohms, outside, ambient, film)
    assert found == pytest.approx(want, rel=1e-9)
    assert found is not None
    assert fuse.steady_current(found, ohms, outside, ambient, film) == pytest.approx(amps)


def test_runaway_is_none() -> None:
    # 36 AWG at 2 A with a film of 10: the heat grows faster than it leaves
    assert fuse.steady_temperature(2.0, 1.361, 0.15e-3) is None
    assert fuse.temperature_after(2.0, inf, 1.267e-8, 1.361, 0.15e-3) == inf
    assert fuse.temperature_after(2.0, 3600, 1.267e-8, 1.361, 0.15e-3) == inf


def test_bundle_example() -> None:
    # ten 30 AWG at 20 mA in a bundle of 3 mm, h 10: 0.014 K; one at 0.3 A, 0.6 mm: 1.6 K (hand arithmetic)
    assert fuse.bundle_rise(10 * 0.02**2 * 0.3386, 3e-3) == pytest.approx(0.0144, abs=5e-4)
    assert fuse.bundle_rise(0.3**2 * 0.3386, 0.6e-3) == pytest.approx(1.6, abs=0.05)
    with pytest.raises(ValueError, match="diameter"):
        fuse.bundle_rise(1.0, 0.0)


@pytest.mark.parametrize(("outside", "rise"), [(0.1e-3, 50), (0.15e-3, 200), (0.6e-3, 30), (3e-3, 20)])
def test_film_against_another_correlation(outside: float, rise: float) -> None:
    # Morgan 1975, Nu = C Ra**m, with air at the film temperature by Sutherland (coefficients from memory)
    middle = 273.15 + 25 + rise / 2
    kinematic = 1.458e-6 * middle**1.5 / (middle + 110.4) * middle * 287.05 / 101325
    rayleigh = 9.81 / middle * rise * outside**3 * 0.71 / kinematic**2
    factor, power = next(
        (c, m)
        for top, c, m in ((1e-2, 0.675, 0.058), (1e2, 1.02, 0.148), (1e4, 0.85, 0.188))
        if rayleigh <= top
    )
    film = factor * rayleigh**power * 0.0241 * (middle / 273.15) ** 0.84 / outside
    assert fuse.film_in_air(outside, rise) == pytest.approx(film, rel=0.25)


def test_steady_in_air_meets_preece() -> None:
    # Preece's current brings a bare wire to copper's melting point: the balance must cross there, within the 35 %
    # that measured fusing currents scatter
    for gauge in (30, 36):
        diameter = copper.awg_diameter(gauge)
        ohms = copper.ohms_per_metre(copper.area(diameter))
        melts = fuse.preece(diameter)
        assert fuse.steady_temperature_in_air(1.35 * melts, ohms, diameter, emissivity=0.5) is None
        settled = fuse.steady_temperature_in_air(0.65 * melts, ohms, diameter)
        assert settled is not None
        assert 100 < settled < 1083


def heated(amps: float, seconds: float, section: float, ohms: float, outside: float, ambient: float) -> float:
    """The lumped thermal equation by SciPy's integrator."""

    def slope(_: float, t: list[float]) -> list[float]:
        made = amps**2 * ohms * (1 + 0.00393 * (t[0] - 20))
        return [(made - pi * outside * 10.0 * (t[0] - ambient)) / (3.45e6 * section)]

    return float(solve_ivp(slope, (0, seconds), [ambient], rtol=1e-10, atol=1e-9, method="LSODA").y[0][-1])


@pytest.mark.parametrize(("amps", "seconds"), [(0.3, 5.0), (0.5, 60.0), (2.0, 0.5), (3.0, 0.3)])
def test_heating_against_an_integrator(amps: float, seconds: float) -> None:
    case = (1.267e-8, 1.361, 0.15e-3)
    found = fuse.temperature_after(amps, seconds, *case, ambient=30.0)
    assert found == pytest.approx(heated(amps, seconds, *case, ambient=30.0), rel=1e-6)
    assert fuse.rises_to(found, amps, *case, ambient=30.0) == pytest.approx(seconds, rel=1e-6)


def test_heating_without_loss_is_the_adiabatic_law() -> None:
    # IEC 60364-5-54 annex A against the lumped equation with a negligible film (beta 234.5 against alpha 0.00393)
    seconds = fuse.adiabatic_time(1.267e-8, 3.0, 25, 160)
    assert fuse.temperature_after(3.0, seconds, 1.267e-8, 1.361, 0.15e-3, film=1e-6) == pytest.approx(
        160, rel=5e-3
    )


def test_never_gets_there() -> None:
    settled = fuse.steady_temperature(0.3, 1.361, 0.15e-3)
    assert settled is not None
    assert fuse.rises_to(settled + 0.1, 0.3, 1.267e-8, 1.361, 0.15e-3) == inf
    assert fuse.rises_to(20, 0.3, 1.267e-8, 1.361, 0.15e-3) == 0.0
    assert fuse.rises_to(80, 0.0, 1.267e-8, 1.361, 0.15e-3) == inf
    assert fuse.temperature_after(0.3, inf, 1.267e-8, 1.361, 0.15e-3) == pytest.approx(settled)
    assert fuse.temperature_after(0.0, inf, 1.267e-8, 1.361, 0.15e-3) == 25.0


@pytest.mark.parametrize(
    ("kind", "times", "soonest", "latest"),
    [
        # UL 248-14: carries 100 %, opens at 135 % within 1 h, at 200 % within 2 min
        ("ul", 1.0, inf, inf),
        ("ul", 1.34, 0.0, inf),
        ("ul", 1.35, 0.0, 3600.0),
        ("ul", 2.0, 0.0, 120.0),
        # IEC 60127-2 sheets 2 and 3 (from memory)
        ("quick", 1.5, 3600.0, inf),
        ("quick", 2.1, 0.01, 1800.0),
        ("quick", 10.0, 0.0, 0.02),
        ("slow", 2.1, 0.2, 120.0),
        ("slow", 4.0, 0.04, 3.0),
        ("slow", 10.0, 0.01, 0.3),
        ("any", 3.0, 0.0, 10.0),
    ],
)
def test_gates(kind: str, times: float, soonest: float, latest: float) -> None:
    assert fuse.fuse_opens(0.5, 0.5 * times, kind) == fuse.Opening(soonest, latest)


@pytest.mark.parametrize("kind", fuse.FUSE_KINDS)
def test_more_current_opens_no_later(kind: str) -> None:
    bands = [fuse.fuse_opens(1.0, 0.5 + 0.05 * i, kind) for i in range(300)]
    assert all(a.latest >= b.latest and a.soonest >= b.soonest for a, b in pairwise(bands))
    assert all(band.soonest <= band.latest for band in bands)


def test_no_such_fuse() -> None:
    with pytest.raises(ValueError, match="ul, quick, slow, any"):
        fuse.fuse_opens(1.0, 1.0, "brass")
    with pytest.raises(ValueError, match="rating"):
        fuse.fuse_opens(0.0, 1.0)


def test_peak_before_opening() -> None:
    # 22 AWG on a 500 mA quick fuse, 10 A fault: within 20 ms the adiabatic law of IEC 60364-5-54 gives a hair
    section, ohms = 0.32553e-6, 0.05296
    peak = fuse.peak_before_opening(0.5, 10, section, ohms, 1.3e-3, kind="quick")
    assert fuse.adiabatic_time(section, 10, 25, peak) == pytest.approx(0.02, rel=0.02)
    # 40 AWG on a 1 A fuse at 1.5 A: nothing promises that it opens, and the wire runs away
    assert fuse.peak_before_opening(1.0, 1.5, 5.01e-9, 3.441, 0.1e-3) == inf


@pytest.mark.parametrize(
    ("at_least", "rating"),
    # IEC 60127-1 table A.1 (R10)
    [(0.001, 0.032), (0.033, 0.04), (0.1, 0.1), (0.101, 0.125), (0.3, 0.315), (0.63, 0.63), (0.9, 1.0), (1.0, 1.0),
     (1.3, 1.6), (3.0, 3.15), (6.4, 8.0), (10.0, 10.0)],
)  # fmt: skip
def test_next_fuse(at_least: float, rating: float) -> None:
    assert fuse.next_fuse(at_least) == rating
    assert fuse.largest_fuse(rating) == rating


def test_fuse_list_ends() -> None:
    assert fuse.next_fuse(10.1) is None
    assert fuse.largest_fuse(0.03) is None
    assert fuse.next_fuse(1.05, "R20") == 1.12
    assert fuse.largest_fuse(0.48) == 0.4
    with pytest.raises(ValueError, match="R10, R20"):
        fuse.next_fuse(1.0, "R5")
