"""CIEDE2000 against the published test data, CIELAB against the published corners of sRGB."""

from __future__ import annotations

from math import atan2, cos, degrees, radians, sin

import pytest

from postcheck.physics.colour_difference import Lab, _mean_hue, ciede2000, in_poor_light, lab_of_srgb

# Sharma, Wu and Dalal 2005, table 1: all 34 pairs. They were chosen to catch mistakes in hue means and turns.
PAIRS = """
50.0000 2.6772 -79.7751 50.0000 0.0000 -82.7485 2.0425
50.0000 3.1571 -77.2803 50.0000 0.0000 -82.7485 2.8615
50.0000 2.8361 -74.0200 50.0000 0.0000 -82.7485 3.4412
50.0000 -1.3802 -84.2814 50.0000 0.0000 -82.7485 1.0000
50.0000 -1.1848 -84.8006 50.0000 0.0000 -82.7485 1.0000
50.0000 -0.9009 -85.5211 50.0000 0.0000 -82.7485 1.0000
50.0000 0.0000 0.0000 50.0000 -1.0000 2.0000 2.3669
50.0000 -1.0000 2.0000 50.0000 0.0000 0.0000 2.3669
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0009 7.1792
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0010 7.1792
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0011 7.2195
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0012 7.2195
50.0000 -0.0010 2.4900 50.0000 0.0009 -2.4900 4.8045
50.0000 -0.0010 2.4900 50.0000 0.0010 -2.4900 4.8045
50.0000 -0.0010 2.4900 50.0000 0.0011 -2.4900 4.7461
50.0000 2.5000 0.0000 50.0000 0.0000 -2.5000 4.3065
50.0000 2.5000 0.0000 73.0000 25.0000 -18.0000 27.1492
50.0000 2.5000 0.0000 61.0000 -5.0000 29.0000 22.8977
50.0000 2.5000 0.0000 56.0000 -27.0000 -3.0000 31.9030
50.0000 2.5000 0.0000 58.0000 24.0000 15.0000 19.4535
50.0000 2.5000 0.0000 50.0000 3.1736 0.5854 1.0000
50.0000 2.5000 0.0000 50.0000 3.2972 0.0000 1.0000
50.0000 2.5000 0.0000 50.0000 1.8634 0.5757 1.0000
50.0000 2.5000 0.0000 50.0000 3.2592 0.3350 1.0000
60.2574 -34.0099 36.2677 60.4626 -34.1751 39.4387 1.2644
63.0109 -31.0961 -5.8663 62.8187 -29.7946 -4.0864 1.2630
61.2901 3.7196 -5.3901 61.4292 2.2480 -4.9620 1.8731
35.0831 -44.1164 3.7933 35.0232 -40.0716 1.5901 1.8645
22.7233 20.0904 -46.6940 23.0331 14.9730 -42.5619 2.0373
36.4612 47.8580 18.3852 36.2715 50.5065 21.2231 1.4146
90.8027 -2.0831 1.4410 91.1528 -1.6435 0.0447 1.4441
90.9257 -0.5406 -0.9208 88.6381 -0.8985 -0.7239 1.5381
6.7747 -0.2908 -2.4247 5.8714 -0.0985 -2.2286 0.6377
2.0776 0.0795 -1.1350 0.9033 -0.0636 -0.5514 0.9082
"""
ROWS = [tuple(map(float, row.split())) for row in PAIRS.strip().splitlines()]


@pytest.mark.parametrize("row", ROWS, ids=[str(number) for number in range(1, 35)])
def test_the_published_pairs(row: tuple[float, ...]) -> None:
    one, other = Lab(*row[:3]), Lab(*row[3:6])
    assert ciede2000(one, other) == pytest.approx(row[6], abs=5e-5)
    assert ciede2000(other, one) == pytest.approx(row[6], abs=5e-5)


# The corners of sRGB in CIELAB with D65, as printed in many tables (from memory); rounded matrices differ by 0.02.
@pytest.mark.parametrize(
    ("srgb", "lab"),
    [
        ((255, 255, 255), (100.0, 0.0, 0.0)),
        ((0, 0, 0), (0.0, 0.0, 0.0)),
        ((255, 0, 0), (53.24, 80.09, 67.20)),
        ((0, 255, 0), (87.74, -86.18, 83.18)),
        ((0, 0, 255), (32.30, 79.19, -107.86)),
        # nearly black greys: L* = 903.3 Y below Y = 0.008856 (CIE 15), with Y of sRGB's straight piece, part / 12.92
        ((10, 10, 10), (903.3 * 10 / 255 / 12.92, 0.0, 0.0)),
        ((5, 5, 5), (903.3 * 5 / 255 / 12.92, 0.0, 0.0)),
        # by hand: 15/255 is 0.058824, and ((0.058824 + 0.055) / 1.055)**2.4 is 0.0047770; 903.3 times that
        ((15, 15, 15), (4.3151, 0.0, 0.0)),
        # and 119 is the middle grey: 0.184475, 116 times its cube root less 16
        ((119, 119, 119), (50.034, 0.0, 0.0)),
    ],
)
def test_the_corners_of_srgb(srgb: tuple[int, int, int], lab: tuple[float, float, float]) -> None:
    assert lab_of_srgb(*srgb) == pytest.approx(lab, abs=0.03)


def test_poor_light_takes_lightness_and_chroma_and_leaves_the_hue() -> None:
    assert in_poor_light(Lab(60.0, 30.0, -40.0), 0.5, 0.25) == pytest.approx((30.0, 7.5, -10.0))


@pytest.mark.parametrize("srgb", [(256, 0, 0), (0, 300, 0), (0, 0, -1)])
def test_what_srgb_does_not_have_is_refused(srgb: tuple[int, int, int]) -> None:
    with pytest.raises(ValueError, match="255"):
        lab_of_srgb(*srgb)


@pytest.mark.parametrize("h1", [5.0, 95.0, 183.0, 260.0, 355.0])
@pytest.mark.parametrize("h2", [1.0, 88.0, 170.0, 265.0, 359.0])
def test_the_mean_of_two_hues_lies_midway_on_the_shorter_arc(h1: float, h2: float) -> None:
    """As the sum of two vectors does; from 0 up to 360 degrees, as the turn towards blue needs it."""
    across = sin(radians(h1)) + sin(radians(h2))
    along = cos(radians(h1)) + cos(radians(h2))
    assert _mean_hue(h1, h2) == pytest.approx(degrees(atan2(across, along)) % 360.0)
    assert _mean_hue(h2, h1) == _mean_hue(h1, h2)


# near the blue where lightness and hue turn each other: some of these are opposite to the last digit of a float
@pytest.mark.parametrize("b", [1.75, 2.125, 3.875, 4.625, 5.5])
@pytest.mark.parametrize("a", [10.0, 20.0, 40.0])
def test_from_the_one_to_the_other_is_as_far_as_back(a: float, b: float) -> None:
    one, other = Lab(50.0, -a, b), Lab(45.0, 2.0 * a, -2.0 * b)
    assert ciede2000(one, other) == pytest.approx(ciede2000(other, one), rel=1e-12)
    grey = Lab(40.0, 0.0, 0.0)
    assert ciede2000(one, grey) == pytest.approx(ciede2000(grey, one), rel=1e-12)
