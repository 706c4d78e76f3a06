"""Each law by hand on both sides of where it changes, alone and in its table; diodes through two points."""

from __future__ import annotations

from math import ceil, exp, inf, log, log1p

import pytest
from scipy.optimize import brentq

from postcheck.physics.network import (
    THERMAL_VOLTAGE,
    Demand,
    Diode,
    Drop,
    Filament,
    SteadyCurrent,
    diode_through,
    fit_diode,
    thermal_voltage,
)
from postcheck.physics.network.laws import (
    FilamentTable,
    LinearTable,
    Places,
    PowerTable,
    RampTable,
    filament_law,
    ramp_of,
)

LEAK = 1e-15
LAMP = Filament(0, 1, 6.0, 0.1, 0.55)


def wired(count: int) -> tuple[Places, list[float]]:
    """So many branches, each from an unknown of its own to a common one, which is the last; offsets of 0.1 V and so on."""
    places = Places()
    for number in range(count):
        places.element.append(number)
        places.a.append(number)
        places.b.append(count)
        places.p.append(number)
        places.q.append(count)
        places.edge.append(number)
    return places, [0.1 * number for number in range(count)]


def evaluated(table: LinearTable | RampTable | FilamentTable | PowerTable, volts: list[float]) -> None:
    """With 1 A and 1 S there already: what comes in goes out at the other end."""
    count = len(volts)
    into, conductance = [1.0] * (count + 1), [1.0] * count
    x = [v - o + 0.5 for v, o in zip(volts, table.offset, strict=True)] + [0.5]
    table.evaluate(x, into, conductance)
    assert table.volts(x) == pytest.approx(volts)
    assert into[:count] == pytest.approx([1.0 - i for i in table.amps], rel=1e-12)
    assert into[count] == pytest.approx(1.0 + sum(table.amps), rel=1e-12)
    assert conductance == pytest.approx([1.0 + g for g in table.slopes], rel=1e-12)


@pytest.mark.parametrize("volts", [0.007, 0.5, 6.0, 9.0])
def test_a_filament_by_its_power_law(volts: float) -> None:
    """0.1 A (V / 6)**0.55, whose slope is 0.55 I / V."""
    amps = 0.1 * (volts / 6.0) ** 0.55
    for sign in (1.0, -1.0):
        told, slope = filament_law(LAMP, sign * volts)
        assert told == pytest.approx(sign * amps, rel=1e-12)
        assert slope == pytest.approx(0.55 * amps / volts, rel=1e-12)


@pytest.mark.parametrize("volts", [0.0059, 0.003, 0.0, -0.003])
def test_a_cold_filament_is_a_resistance(volts: float) -> None:
    """Below a thousandth of its 6 V: what it takes there over the 6 mV."""
    g = 0.1 * 1e-3**0.55 / 6e-3
    assert filament_law(LAMP, volts) == (
        pytest.approx(g * volts, rel=1e-12, abs=1e-15),
        pytest.approx(g, rel=1e-12),
    )


@pytest.mark.parametrize("volts", [1e-3, 0.2, 2.0, 7.0, -5.0])
@pytest.mark.parametrize("ohms", [0.01, 4.0, 300.0])
def test_a_filament_behind_a_resistance_by_root_finding(volts: float, ohms: float) -> None:
    lamp = Filament(0, 1, 6.0, 0.1, 0.55, ohms)

    def own(at: float) -> float:
        return filament_law(LAMP, at)[0]

    exact = own(brentq(lambda w: w + ohms * own(w) - volts, -10.0, 10.0, xtol=1e-16, rtol=1e-15))
    amps, slope = filament_law(lamp, volts)
    assert amps == pytest.approx(exact, rel=1e-10)
    step = 1e-5 * volts
    rise = filament_law(lamp, volts + step)[0] - filament_law(lamp, volts - step)[0]
    assert slope == pytest.approx(rise / (2.0 * step), rel=1e-5)


def test_filaments_in_a_table() -> None:
    places, offset = wired(3)
    table = FilamentTable(places, offset)
    table.lamps = [LAMP, Filament(1, 3, 12.0, 0.3, 0.6, 2.0), LAMP]
    evaluated(table, [3.0, 5.0, -1.0])
    assert table.amps == pytest.approx(
        [filament_law(lamp, v)[0] for lamp, v in zip(table.lamps, (3.0, 5.0, -1.0), strict=True)]
    )
    assert table.slopes == pytest.approx(
        [filament_law(lamp, v)[1] for lamp, v in zip(table.lamps, (3.0, 5.0, -1.0), strict=True)]
    )


def test_what_is_linear_in_a_table() -> None:
    """(V - emf) g: 2 V over 0.1 S; 12 V less 9 V over 0.5 S, against it."""
    places, offset = wired(2)
    table = LinearTable(places, offset)
    table.slopes, table.emf = [0.1, 0.5], [0.0, 12.0]
    evaluated(table, [2.0, 9.0])
    assert table.amps == pytest.approx([0.2, -1.5])


def test_laws_with_a_kink_as_foot_slope_and_most() -> None:
    assert ramp_of(Drop(0, 1, 0.7, 0.25)) == (0.7, 4.0, inf)
    assert ramp_of(SteadyCurrent(0, 1, 0.02, 2.5)) == (0.0, pytest.approx(0.008), 0.02)
    assert ramp_of(Demand(0, 1, 0.5, 4.0)) == (0.0, 0.125, 0.5)


@pytest.mark.parametrize(
    ("volts", "amps", "slope"),
    [
        (-3.0, 0.0, 0.0),
        (1.0 - 1e-6, 0.0, 0.0),
        (1.0 + 1e-6, 0.2e-6, 0.2),
        (1.0 - 0.5e-9, 0.0, 0.2),  # at the foot the steep side counts
        (2.0, 0.2, 0.2),
        (4.0 - 1e-6, 0.6 - 0.2e-6, 0.2),
        (4.0 + 0.5e-9, 0.6, 0.2),  # and at the top
        (4.0 + 1e-6, 0.6, 0.0),
        (9.0, 0.6, 0.0),
    ],
)
def test_a_kinked_law_in_a_table(volts: float, amps: float, slope: float) -> None:
    """0.2 S from 1 V on, up to 0.6 A; the leak beside it in any case."""
    places, offset = wired(2)
    table = RampTable(places, offset)
    table.foot, table.g, table.most = [1.0, 1.0], [0.2, 0.2], [0.6, inf]
    evaluated(table, [volts, 1.5])
    assert table.amps[0] == pytest.approx(amps + LEAK * (volts - 1.0), rel=1e-9, abs=1e-17)
    assert table.slopes[0] == pytest.approx(slope + LEAK, rel=1e-12, abs=1e-20)
    assert table.amps[1] == pytest.approx(0.1, rel=1e-9)


@pytest.mark.parametrize(
    ("volts", "amps", "slope"),
    [(4.0, 0.5, -0.125), (1.0, 2.0, -2.0), (0.51, 2.0 / 0.51, -2.0 / 0.51**2), (0.5, 4.0, 0.0), (0.2, 4.0, 0.0), (-1.0, 4.0, 0.0)],
)  # fmt: skip
def test_constant_power_in_a_table(volts: float, amps: float, slope: float) -> None:
    """2 W; below half a volt, where no solution is, what it takes there."""
    places, offset = wired(2)
    table = PowerTable(places, offset)
    table.watts, table.floor = [2.0, 0.0], [0.5, 0.1]
    evaluated(table, [volts, 3.0])
    assert table.amps == pytest.approx([amps + LEAK * volts, 3.0 * LEAK], rel=1e-12)
    assert table.slopes == pytest.approx([slope + LEAK, LEAK], rel=1e-12, abs=1e-20)


def volts_of(diode: Diode, amps: float) -> float:
    return diode.slope * log1p(amps / diode.saturation) + diode.ohm * amps


def test_thermal_volts() -> None:
    # 8.617333262e-5 eV/K (CODATA 2018): times 298.15 K, and at 0 degC 273.15 K
    assert thermal_voltage(25.0) == THERMAL_VOLTAGE == pytest.approx(8.617333262e-5 * 298.15, rel=1e-9)
    assert thermal_voltage(0.0) == pytest.approx(8.617333262e-5 * 273.15, rel=1e-9)
    for cold in (-273.15, -300.0):
        with pytest.raises(ValueError, match="absolute zero"):
            thermal_voltage(cold)


def through(n: float, ohm: float) -> tuple[float, float, float, float]:
    """Two points of a diode of this emission coefficient and resistance: 2.0 V at 5 mA and what it has at 20 mA."""
    return 2.0, 0.005, 2.0 + n * THERMAL_VOLTAGE * log(4.0) + ohm * 0.015, 0.02


@pytest.mark.parametrize(
    ("n", "ohm", "expected"),
    [(2.0, 3.0, 2.0), (3.0, 0.0, 2.0), (1.5, 0.0, 1.5), (0.68, 0.0, 0.68), (2.0, 0.0, 2.0), (1.2, 1.0, None)],
)
def test_the_emission_coefficient_is_two_or_the_most_that_leaves_a_resistance(
    n: float, ohm: float, expected: float | None
) -> None:
    points = through(n, ohm)
    diode = diode_through(*points)
    most = (points[2] - points[0]) / (THERMAL_VOLTAGE * log(4.0))
    told = diode.slope / THERMAL_VOLTAGE
    assert told == pytest.approx(min(2.0, most), rel=1e-9)
    assert expected is None or told == pytest.approx(expected, rel=1e-9)
    assert diode.ohm == pytest.approx((points[2] - points[0] - diode.slope * log(4.0)) / 0.015, abs=1e-9)
    assert volts_of(diode, 0.005) == pytest.approx(points[0], rel=1e-12)
    assert volts_of(diode, 0.02) == pytest.approx(points[2], rel=1e-9)


def test_two_for_each_four_volts_begun() -> None:
    for v2 in (3.9, 4.0, 4.1, 8.0, 8.1, 12.5):
        diode = diode_through(0.9 * v2, 0.005, v2, 0.02)
        assert diode.slope == pytest.approx(2.0 * ceil(v2 / 4.0) * THERMAL_VOLTAGE, rel=1e-12)


def test_points_that_no_led_has() -> None:
    with pytest.raises(ValueError, match=r"too little between the two points: n = 0\.66"):
        diode_through(*through(0.66, 0.0))
    # a line through them that begins below nothing: 1 V at 10 mA, 2.1 V at 20 mA, and at none -0.1 V
    with pytest.raises(ValueError, match="too much"):
        diode_through(1.0, 0.01, 2.1, 0.02)
    assert diode_through(1.0, 0.01, 1.99, 0.02).ohm > 90.0
    for points in (
        (2.0, 0.02, 2.1, 0.02),
        (2.1, 0.01, 2.1, 0.02),
        (0.0, 0.01, 2.0, 0.02),
        (2.0, 0.0, 2.1, 0.02),
    ):
        with pytest.raises(ValueError, match="rising current and rising voltage"):
            diode_through(*points)
        with pytest.raises(ValueError, match="rising current and rising voltage"):
            fit_diode(*points)
    with pytest.raises(ValueError, match="both above zero"):
        fit_diode(2.0, 0.01, 2.1, 0.02, n=0.0)


def test_a_fit_at_another_temperature_and_its_limits() -> None:
    diode = fit_diode(1.9, 0.004, 2.05, 0.02, n=1.5, celsius=85.0)
    assert diode.slope == pytest.approx(1.5 * 8.617333262e-5 * 358.15, rel=1e-9)
    for amps, volts in ((0.004, 1.9), (0.02, 2.05)):
        assert volts_of(diode, amps) == pytest.approx(volts, rel=1e-12)
    # by hand: 0.15 V less 0.04629 V of the exponent's 1.609, over 16 mA
    ohm = (0.15 - diode.slope * log(5.0)) / 0.016
    assert diode.ohm == pytest.approx(ohm, rel=1e-12)
    assert diode.saturation == pytest.approx(0.004 * exp(-(1.9 - 0.004 * ohm) / diode.slope), rel=1e-9)
    # the most that leaves no resistance, and a hair more, which is rounding; then it is refused
    most = 0.15 / (8.617333262e-5 * 298.15 * log(5.0))
    assert fit_diode(1.9, 0.004, 2.05, 0.02, n=most * (1.0 - 1e-12)).ohm == pytest.approx(0.0, abs=1e-9)
    assert fit_diode(1.9, 0.004, 2.05, 0.02, n=most * (1.0 + 1e-10)).ohm == 0.0
    with pytest.raises(ValueError, match=f"coefficient of {most:.3g} at most, not 3.7"):
        fit_diode(1.9, 0.004, 2.05, 0.02, n=3.7)
    with pytest.raises(ValueError, match="saturation current vanishes"):
        fit_diode(19.0, 0.004, 20.0, 0.02, n=1.0)
