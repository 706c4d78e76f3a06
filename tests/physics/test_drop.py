"""Voltage drop and derating against the worked examples of handbooks."""

from itertools import pairwise

import pytest

from postcheck.physics import drop

# FAA AC 43.13-1B CHG 1, tables 11-7 and 11-8: ohm/ft, run in ft, A, printed V
FAA = [
    (0.00044, 107, 20, 0.942),
    (0.00028, 90, 20, 0.504),
    (0.00202, 88, 20, 3.60),  # 3.555 rounded up generously
    (0.00306, 100, 20, 6.12),
    (0.00126, 39, 20, 0.98),
    (0.00126, 156, 20, 3.93),
    (0.00126, 273, 20, 6.88),
]


@pytest.mark.parametrize(("ohms", "feet", "amps", "printed"), FAA)
def test_faa_rows(ohms: float, feet: float, amps: float, printed: float) -> None:
    assert drop.drop(ohms, feet, amps) == pytest.approx(printed, rel=0.013)


def test_faa_misprint() -> None:
    # the same tables print 0.366 V for this row; half of the 39 ft row's 0.98 V is right
    assert drop.drop(0.00126, 19.5, 20) == pytest.approx(0.98 / 2, rel=5e-3)


def test_size_selection() -> None:
    # FAA AC 43.13-1B, page 11-26: 50 ft with return, 20 A, at most 1 V: No. 10 (1.26 mohm/ft) is too thin, No. 8
    # (0.70 mohm/ft) does
    assert drop.longest(0.00126, 20, 1.0) < 50 < drop.longest(0.00070, 20, 1.0)
    assert drop.drop(0.00126, drop.longest(0.00126, 20, 1.0), 20) == pytest.approx(1.0)


def test_hot_wire_example() -> None:
    # FAA AC 43.13-1B, page 11-27: #14, 20 A, 50 degC, 200 degC wire, 47 A free air, 0.91 for 20 000 ft, 0.6 for
    # 8 wires at 60 %: 26 A; 181.6 degC; 15.5 ft become 9.48 ft
    ampacity = 47 * 0.91 * round(drop.bundle_derating(8, 0.6), 1)
    assert ampacity == pytest.approx(26, abs=0.5)
    hot = drop.loaded_temperature(50, 200, 20, 26)
    assert hot == pytest.approx(181.6, abs=0.05)
    assert 254.5 * 15.5 / (234.5 + hot) == pytest.approx(9.48, abs=5e-3)
    with pytest.raises(ValueError, match="ampacity"):
        drop.loaded_temperature(50, 200, 30, 26)


def test_navy_example() -> None:
    # US Navy NEETS module 4: AWG 20, 10.4 ohm per 1000 ft, 2000 ft: 20.8 ohm
    assert drop.run_resistance(10.4 / 1000, 2000) == pytest.approx(20.8)
    assert drop.run_resistance(10.4 / 1000, 2000, conductors=2) == pytest.approx(10.4)
    with pytest.raises(ValueError, match="at least one"):
        drop.run_resistance(1.0, 1.0, 0)


@pytest.mark.parametrize(
    ("count", "factor"),
    # NFPA 70 table 310.15(C)(1)
    [(1, 1), (3, 1), (4, 0.8), (6, 0.8), (7, 0.7), (9, 0.7), (10, 0.5), (20, 0.5), (21, 0.45), (30, 0.45), (31, 0.4),
     (40, 0.4), (41, 0.35), (200, 0.35)],
)  # fmt: skip
def test_count_adjustment(count: int, factor: float) -> None:
    assert drop.count_adjustment(count) == factor


def test_count_examples() -> None:
    # worked on NFPA 70 310.15: 9 conductors of 30 A carry 21 A; 4 of 40 A carry 32 A (EC&M code questions)
    assert 30 * drop.count_adjustment(9) == pytest.approx(21)
    assert 40 * drop.count_adjustment(4) == pytest.approx(32)


def test_bundle_curve() -> None:
    # FAA AC 43.13-1B reads 0.6 off the curve of MIL-W-5088L for 8 wires at 60 %
    assert drop.bundle_derating(8, 0.6) == pytest.approx(0.6, abs=0.006)
    assert drop.bundle_derating(1, 1.0) == 1.0
    # the curve falls with the count and with the load
    for load in (0.1, 0.2, 0.5, 0.6, 0.9, 1.0):
        row = [drop.bundle_derating(n, load) for n in range(1, 60)]
        assert all(a > b for a, b in pairwise(row))
    for wires in (2, 9, 19, 40):
        assert (
            drop.bundle_derating(wires, 0.3)
            > drop.bundle_derating(wires, 0.7)
            > drop.bundle_derating(wires, 1.0)
        )
    # half way between two points of the curve
    assert drop.bundle_derating(9, 0.5) == pytest.approx((0.668 + 0.595 + 0.623 + 0.55) / 4)
    with pytest.raises(ValueError, match="at least one wire"):
        drop.bundle_derating(0)
