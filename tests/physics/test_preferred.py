"""Preferred values against IEC 60063 and the worked LED resistors of textbooks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from postcheck.physics import preferred

E12 = "1.0 1.2 1.5 1.8 2.2 2.7 3.3 3.9 4.7 5.6 6.8 8.2"
E24_MORE = "1.1 1.3 1.6 2.0 2.4 3.0 3.6 4.3 5.1 6.2 7.5 9.1"
E96 = """100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169 174
    178 182 187 191 196 200 205 210 215 221 226 232 237 243 249 255 261 267 274 280 287 294 301 309
    316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453 464 475 487 499 511 523 536 549
    562 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887 909 931 953 976"""


def test_series_of_the_standard() -> None:
    # IEC 60063, as printed
    coarse = [round(float(v) * 100) for v in E12.split()]
    assert list(preferred.SERIES["E12"]) == coarse
    assert list(preferred.SERIES["E24"]) == sorted(coarse + [round(float(v) * 100) for v in E24_MORE.split()])
    assert list(preferred.SERIES["E96"]) == [int(v) for v in E96.split()]


@pytest.mark.parametrize(
    ("supply", "forward", "amps", "ohms", "series"),
    # worked examples of open textbooks and notes on LED circuits
    [
        (12, 1.8, 5e-3, 2000, None),
        (9, 1.8, 5e-3, 1500, None),
        (6, 1.7, 20e-3, 220, "E12"),
        (9, 1.7, 20e-3, 390, "E12"),
        (12, 1.7, 20e-3, 560, "E12"),
        (24, 1.7, 20e-3, 1200, "E12"),
        (6, 3.0, 20e-3, 150, "E12"),
        (3.3, 2.2, 20e-3, 56, "E12"),
    ],
)
def test_led_resistors(supply: float, forward: float, amps: float, ohms: float, series: str | None) -> None:
    exact = (supply - forward) / amps
    found = preferred.nearest(exact) if series is None else preferred.at_least(exact, series)
    assert found == ohms


def test_points_of_other_programs() -> None:
    # documentation examples of a package for E series: nearest E24 to 319 is 330, least E96 from 184 is 187
    assert preferred.nearest(319, "E24") == 330
    assert preferred.at_least(184, "E96") == 187
    assert preferred.nearest(16_834, "E96") == 16_900
    assert (preferred.at_most(5000), preferred.at_least(5000)) == (4700, 5100)


def test_membership() -> None:
    assert [preferred.series_of(v) for v in (4700, 0.47, 5100, 4990, 5000)] == [
        "E12",
        "E12",
        "E24",
        "E96",
        None,
    ]
    assert preferred.is_preferred(1e6)
    assert not preferred.is_preferred(150.5)


@given(st.floats(min_value=1e-3, max_value=1e9), st.sampled_from(["E12", "E24", "E96"]))
def test_neighbours_hold_the_value(value: float, series: str) -> None:
    low, high = preferred.at_most(value, series), preferred.at_least(value, series)
    assert low * (1 - 1e-9) <= value <= high * (1 + 1e-9)
    # IEC 60063: E12 steps are 10 % tolerance bands that meet, so no gap is wider than about 1.25
    assert high / low <= 1.26
    assert preferred.nearest(value, series) in (low, high)
    assert preferred.is_preferred(low, series)


@pytest.mark.parametrize("value", [0.0, -1.0, float("nan"), float("inf")])
def test_no_such_resistance(value: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        preferred.nearest(value)


def test_no_such_series() -> None:
    with pytest.raises(ValueError, match="E12, E24, E96"):
        preferred.nearest(100, "E13")


@pytest.mark.parametrize("series", ["E12", "E24", "E96"])
@pytest.mark.parametrize("decade", [-2, 0, 3])
def test_the_next_ones_over_the_end_of_a_decade(series: str, decade: int) -> None:
    last = {"E12": 8.2, "E24": 9.1, "E96": 9.76}[series]
    ten = 10.0**decade
    assert preferred.at_most(0.999 * ten, series) == pytest.approx(last * ten / 10.0, rel=1e-12)
    assert preferred.at_least(1.001 * last * ten, series) == pytest.approx(10.0 * ten, rel=1e-12)
    assert preferred.nearest(0.9999 * ten, series) == pytest.approx(ten, rel=1e-12)
    assert preferred.nearest(1.001 * last * ten, series) == pytest.approx(last * ten, rel=1e-12)
    assert preferred.at_most(ten * (1.0 - 5e-10), series) == preferred.at_least(ten * (1.0 + 5e-10), series)
    assert (
        preferred.at_most(ten * (1.0 - 2e-9), series) < ten < preferred.at_least(ten * (1.0 + 2e-9), series)
    )


def test_midway_by_ratio_it_is_the_lower() -> None:
    # 1.0 and 1.2 by E12: the root of 1.2 is 1.0954
    assert preferred.nearest(1.095, "E12") == 1.0
    assert preferred.nearest(1.096, "E12") == 1.2
    for wrong in (0.0, -1.0, float("inf")):
        with pytest.raises(ValueError, match="above zero and finite"):
            preferred.nearest(wrong)
