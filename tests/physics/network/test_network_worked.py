"""Worked cases: hand-written equations solved by SciPy, and figures published in handbooks and application notes."""

from __future__ import annotations

from math import exp, log, log1p

import pytest
from scipy.optimize import brentq, fsolve

from postcheck.physics.network import (
    THERMAL_VOLTAGE,
    Circuit,
    ConstantPower,
    Converter,
    Demand,
    Diode,
    Drop,
    Filament,
    Resistance,
    Source,
    SteadyCurrent,
    String,
    diode_through,
    fit_diode,
    forward_voltage,
    solve,
)

WHITE = fit_diode(2.85, 5e-3, 3.2, 20e-3)
RED = fit_diode(2.0, 5e-3, 2.1, 20e-3)


def lamp(volts_at_20: float) -> Diode:
    """A white lamp moved to another forward voltage at 20 mA, as a bin of the same maker."""
    return Diode(WHITE.saturation, WHITE.slope, WHITE.ohm, volts_at_20 - 3.2)


def test_thermal_voltage_is_k_t_over_q() -> None:
    assert pytest.approx(25.69e-3, abs=5e-6) == THERMAL_VOLTAGE


@pytest.mark.parametrize(
    ("points", "ohm", "saturation", "at_1", "at_10"),
    [  # worked fits for data sheet points of common 0603 chips, n = 2
        ((2.0, 5e-3, 2.1, 20e-3), 1.92, 7.5e-20, 1.910, 2.045),
        ((2.8, 5e-3, 3.1, 20e-3), 15.2, 4.8e-26, 2.656, 2.912),
        ((2.65, 2e-3, 3.2, 20e-3), 24.0, 2.0e-25, 2.590, 2.925),
        ((2.85, 5e-3, 3.2, 20e-3), 18.6, 2.5e-26, 2.693, 2.979),
    ],
)
def test_two_point_fit(
    points: tuple[float, float, float, float], ohm: float, saturation: float, at_1: float, at_10: float
) -> None:
    diode = fit_diode(*points)
    assert diode.ohm == pytest.approx(ohm, rel=0.01)
    assert diode.saturation == pytest.approx(saturation, rel=0.05)
    assert forward_voltage(diode, points[1]) == pytest.approx(points[0], rel=1e-12)
    assert forward_voltage(diode, points[3]) == pytest.approx(points[2], rel=1e-12)
    assert forward_voltage(diode, 1e-3) == pytest.approx(at_1, abs=1e-3)
    assert forward_voltage(diode, 10e-3) == pytest.approx(at_10, abs=1e-3)


@pytest.mark.parametrize(
    ("points", "junctions"),
    [((2.85, 0.005, 3.2, 0.02), 1), ((1.7, 0.005, 2.0, 0.02), 1), ((32.0, 0.075, 36.0, 0.3), 9)],
)
def test_a_diode_is_laid_through_two_points(
    points: tuple[float, float, float, float], junctions: int
) -> None:
    """Shockley's law with R_s, written out here; k T / q = 25.69 mV at 25 degC, n = 2 for each die in series."""
    v1, i1, v2, i2 = points
    diode = diode_through(*points)
    assert diode.slope == pytest.approx(2 * junctions * 0.025693, rel=1e-4)
    for volts, amps in ((v1, i1), (v2, i2)):
        assert diode.slope * log(1.0 + amps / diode.saturation) + amps * diode.ohm == pytest.approx(volts)


@pytest.mark.parametrize(
    "points",
    [
        (3.199, 0.005, 3.2, 0.02),
        (0.001, 0.0199, 3.2, 0.02),
        (1.0, 0.01, 3.2, 0.02),
        (3.2, 0.02, 2.9, 0.005),
        (2.8, 1e-12, 3.2, 0.02),
    ],
)
def test_points_that_no_diode_has_are_refused(points: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match="points"):
        diode_through(*points)


def test_a_fit_that_would_need_negative_resistance_is_refused() -> None:
    with pytest.raises(ValueError, match="emission coefficient"):
        fit_diode(2.0, 5e-3, 2.05, 20e-3)
    with pytest.raises(ValueError, match="rising"):
        fit_diode(2.0, 20e-3, 2.1, 5e-3)


def test_parallel_lamps_on_one_resistor_share_badly() -> None:
    # two whites of 2.9 V and 3.6 V on one 45 ohm at 5 V: current hogging as in the OSRAM note AN040
    one = Circuit(
        3,
        (
            Source(1, 0, 5.0),
            Resistance(1, 2, 45.0),
            String(2, 0, 0.0, (lamp(2.9),)),
            String(2, 0, 0.0, (lamp(3.6),)),
        ),
    )
    amps = solve(one).amps
    assert amps[2] == pytest.approx(35.6e-3, abs=0.1e-3)
    assert amps[3] == pytest.approx(4.0e-3, abs=0.1e-3)

    def node(v: float) -> float:
        def through(shift: float) -> float:
            law = lambda i: WHITE.slope * log1p(i / WHITE.saturation) + i * WHITE.ohm + shift - v  # noqa: E731
            return float(brentq(law, -0.5 * WHITE.saturation, 1.0, xtol=1e-18, rtol=1e-14))

        return (5.0 - v) / 45.0 - through(-0.3) - through(0.4)

    volts = float(brentq(node, 2.0, 5.0, xtol=1e-14))
    assert solve(one).volts[2] == pytest.approx(volts, rel=1e-12)


def test_own_resistors_share_well() -> None:
    amps = [
        solve(Circuit(2, (Source(1, 0, 5.0), String(1, 0, 90.0, (lamp(v),))))).amps[1] for v in (2.9, 3.6)
    ]
    assert amps[0] == pytest.approx(22.7e-3, abs=0.15e-3)
    assert amps[1] == pytest.approx(16.4e-3, abs=0.15e-3)


@pytest.mark.parametrize(
    ("volts", "ohms", "forward", "amps"),
    [(11.4, 157.5, 3.6, 7.9e-3), (12.0, 150.0, 3.2, 17.1e-3), (12.6, 142.5, 2.9, 25.3e-3)],
)
def test_three_whites_on_twelve_volts_at_the_corners(
    volts: float, ohms: float, forward: float, amps: float
) -> None:
    # linearised by hand with 18 ohm a lamp; the exponential bends away by up to 0.8 mA
    found = solve(Circuit(2, (Source(1, 0, volts), String(1, 0, ohms, (lamp(forward),) * 3)))).amps[1]
    assert found == pytest.approx(amps, abs=0.8e-3)

    def law(i: float) -> float:
        return (
            i * ohms
            + 3 * (WHITE.slope * log(i / WHITE.saturation + 1) + i * WHITE.ohm + forward - 3.2)
            - volts
        )

    assert found == pytest.approx(brentq(law, 1e-9, 1.0, xtol=1e-17, rtol=1e-14), rel=1e-11)


@pytest.mark.parametrize(
    ("volts", "kind", "count", "ohms", "flash", "shares"),
    [  # change of a steady lamp, per cent, by 0.5 m of shared return of 28, 30, 36, 40 AWG
        (5.0, WHITE, 1, 90.0, 0.020, (0.10, 0.15, 0.61, 1.55)),
        (5.0, WHITE, 1, 90.0, 0.100, (0.48, 0.76, 3.06, 7.7)),
        (5.0, WHITE, 1, 90.0, 0.200, (0.96, 1.52, 6.12, 15.4)),
        (5.0, RED, 1, 150.0, 0.100, (0.36, 0.57, 2.27, 5.8)),
        (12.0, WHITE, 3, 150.0, 0.100, (0.29, 0.46, 1.84, 4.7)),
        (3.7, WHITE, 1, 27.0, 0.100, (1.15, 1.83, 7.3, 18.5)),
    ],
)
def test_shared_return(
    volts: float, kind: Diode, count: int, ohms: float, flash: float, shares: tuple[float, ...]
) -> None:
    for wire, share in zip((0.106, 0.169, 0.681, 1.72), shares, strict=True):
        steady = String(1, 2, ohms, (kind,) * count)
        common = (Source(1, 0, volts), Resistance(2, 0, wire), steady)
        dark = solve(Circuit(3, common)).amps[2]
        lit = solve(Circuit(3, (*common, Demand(1, 2, flash, 1.0)))).amps[2]
        assert 100 * (dark - lit) / dark == pytest.approx(share, rel=0.02, abs=0.01)

        def law(i: float, extra: float, wire: float = wire) -> float:
            drop = count * (kind.slope * log1p(i / kind.saturation) + i * kind.ohm)
            return drop + i * ohms + (i + extra) * wire - volts

        assert lit == pytest.approx(brentq(law, 1e-9, 0.5, args=(flash,), xtol=1e-17, rtol=1e-14), rel=1e-10)


def test_filament_behind_a_wire() -> None:
    found = solve(Circuit(3, (Source(1, 0, 12.0), Resistance(1, 2, 20.0), Filament(2, 0, 12.0, 0.08, 0.55))))
    volts = brentq(lambda v: 0.08 * (v / 12) ** 0.55 - (12 - v) / 20, 1, 12, xtol=1e-14)
    assert found.volts[2] == pytest.approx(volts, rel=1e-12)


@pytest.mark.parametrize("ohms", [0.01, 1.0, 20.0, 100.0, 5e3])
@pytest.mark.parametrize("volts", [-12.0, 0.004, 0.5, 6.0, 13.2])
def test_a_filament_with_its_resistor_is_as_two_parts(ohms: float, volts: float) -> None:
    one = solve(Circuit(2, (Source(1, 0, volts), Filament(1, 0, 6.0, 0.06, 0.55, ohms=ohms))))
    two = solve(Circuit(3, (Source(1, 0, volts), Resistance(1, 2, ohms), Filament(2, 0, 6.0, 0.06, 0.55))))
    assert one.amps[1] == pytest.approx(two.amps[1], rel=1e-9)
    if abs(volts) > 1.0 and ohms < 1e3:  # both within the glowing part
        law = brentq(lambda i: 6.0 * (i / 0.06) ** (1 / 0.55) + i * ohms - abs(volts), 1e-9, 1.0, xtol=1e-16)
        assert abs(one.amps[1]) == pytest.approx(law, rel=1e-9)


def test_two_lamps_and_a_filament_by_fsolve() -> None:
    circuit = Circuit(
        4,
        (
            Source(1, 0, 9.0, 0.5),
            Resistance(1, 2, 3.0),
            Resistance(3, 0, 2.0),
            String(2, 3, 220.0, (RED, WHITE)),
            String(1, 3, 47.0, (lamp(3.4),)),
            Filament(2, 0, 9.0, 0.1, 0.55),
        ),
    )

    def equations(x: list[float]) -> list[float]:
        v1, v2, v3, i, j = x
        f = 0.1 * (v2 / 9) ** 0.55
        return [
            (9 - v1) / 0.5 - (v1 - v2) / 3 - j,
            (v1 - v2) / 3 - i - f,
            i + j - v3 / 2,
            220 * i + sum(d.slope * log1p(i / d.saturation) + i * d.ohm for d in (RED, WHITE)) - (v2 - v3),
            47 * j + WHITE.slope * log1p(j / WHITE.saturation) + j * WHITE.ohm + 0.2 - (v1 - v3),
        ]

    root = fsolve(equations, [8.5, 8.2, 0.2, 0.015, 0.05], xtol=1e-11)
    found = solve(circuit)
    assert found.volts[1:] == pytest.approx(root[:3], rel=1e-9)
    assert found.amps[3:5] == pytest.approx(root[3:], rel=1e-9)


def test_constant_current_output_below_and_above_its_compliance() -> None:
    def through(ohms: float) -> float:
        return solve(
            Circuit(3, (Source(1, 0, 5.0), Resistance(1, 2, ohms), SteadyCurrent(2, 0, 0.02, 0.5)))
        ).amps[2]

    assert through(100.0) == pytest.approx(0.02, rel=1e-9)  # 3 V left of which 0.5 V are needed
    assert through(400.0) == pytest.approx(5.0 / (400.0 + 25.0), rel=1e-9)
    back = solve(Circuit(2, (Source(1, 0, 5.0), SteadyCurrent(0, 1, 0.02, 0.5), Demand(0, 1, 0.1, 3.0))))
    assert back.amps[1:] == pytest.approx((0.0, 0.0), abs=1e-13)


def test_one_converter_by_its_quadratic() -> None:
    # 5 V into 50 ohm: 0.5 W; / 0.8 + 0.01 W = 0.635 W behind 10 ohm from 12 V, which the input shares a return with
    circuit = Circuit(
        4,
        (
            Source(1, 0, 12.0),
            Resistance(1, 2, 10.0),
            Converter(2, 0, 3, 0, 5.0, 0.8, 4.0, 0.01),
            Resistance(3, 0, 50.0),
        ),
    )
    found = solve(circuit)
    volts = (12 + (144 - 4 * 10 * 0.635) ** 0.5) / 2
    assert found.volts[2] == pytest.approx(volts, rel=1e-12)
    assert found.input_amps[2] == pytest.approx(0.635 / volts, rel=1e-12)
    assert found.amps[2] == pytest.approx(0.1, rel=1e-12)
    assert found.amps[0] == pytest.approx(0.635 / volts, rel=1e-12)


def test_a_load_past_its_nose_will_not_start() -> None:
    most = 12.0**2 / (4 * 10.0)

    def at(watts: float, least: float) -> tuple[int, ...]:
        found = solve(
            Circuit(3, (Source(1, 0, 12.0), Resistance(1, 2, 10.0), ConstantPower(2, 0, watts, least)))
        )
        assert found.converged
        if found.will_not_start:
            assert found.amps[2] == 0.0
            assert found.amps[0] == pytest.approx(0.0, abs=1e-12)
        return found.will_not_start

    assert at(0.99999 * most, 2.0) == ()
    assert at(1.00001 * most, 2.0) == (2,)
    assert at(0.9 * most, 7.8) == ()  # 6 (1 + sqrt(0.1)) = 7.897 V
    assert at(0.9 * most, 8.0) == (2,)


def test_a_converter_that_will_not_start_leaves_its_lamps_floating_and_the_others_lit() -> None:
    parts = (
        Source(1, 0, 6.0),
        Resistance(1, 2, 30.0),
        Converter(2, 0, 3, 4, 12.0, 0.8, 3.0),
        Resistance(3, 4, 100.0),
        Converter(3, 4, 5, 4, 5.0, 0.8, 3.0),
        Resistance(5, 4, 100.0),
        String(1, 0, 150.0, (WHITE,)),
    )
    found = solve(Circuit(6, parts))
    assert found.converged
    assert found.will_not_start == (2, 4)
    assert found.floating == (3, 4, 5)
    assert found.volts[3] is None
    assert found.amps[3] == 0.0
    assert found.amps[6] > 0.01
    assert "will not start" in found.reason


def test_converters_that_hinder_each_other_stop_one_at_a_time() -> None:
    parts = (
        Source(1, 0, 12.0),
        Resistance(1, 2, 10.0),
        ConstantPower(2, 0, 2.5, 3.0),
        Resistance(2, 3, 5.0),
        ConstantPower(3, 0, 2.5, 3.0),
    )
    found = solve(Circuit(4, parts))
    assert found.will_not_start == (4,)
    assert found.amps[2] * (found.volts[2] or 0.0) == pytest.approx(2.5, rel=1e-12)


def test_idle_converter_without_load() -> None:
    found = solve(
        Circuit(
            4, (Source(1, 0, 12.0, 1.0), Converter(1, 0, 2, 3, 5.0, 0.9, 6.0, 0.12), Resistance(2, 3, 1e9))
        )
    )
    volts = (12 + (144 - 4 * (0.12 + 25e-9 / 0.9)) ** 0.5) / 2
    assert found.volts[1] == pytest.approx(volts, rel=1e-12)


def test_diode_law_is_shockleys() -> None:
    bare = Diode(1e-12, 0.05)
    amps = solve(Circuit(2, (Source(1, 0, 0.9), String(1, 0, 0.0, (bare,))))).amps[1]
    assert amps == pytest.approx(1e-12 * (exp(0.9 / 0.05) - 1), rel=1e-12)


def test_drop_with_resistance_and_without() -> None:
    for ohms in (0.0, 2.0):
        found = solve(Circuit(3, (Source(1, 0, 12.0), Drop(1, 2, 0.4, ohms), Resistance(2, 0, 100.0))))
        assert found.amps[1] == pytest.approx(11.6 / (100 + ohms), rel=1e-12)
        assert found.amps[0] == pytest.approx(found.amps[1], rel=1e-12)
        back = solve(Circuit(3, (Source(0, 1, 12.0), Drop(1, 2, 0.4, ohms), Resistance(2, 0, 100.0))))
        assert back.amps[1] == pytest.approx(0.0, abs=1e-12)
        assert back.off == (1,)
