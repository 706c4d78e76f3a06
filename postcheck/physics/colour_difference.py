"""How different two colours look: CIELAB from sRGB, the CIEDE2000 difference, and what poor light leaves of a colour.

CIELAB: ISO/CIE 11664-4. sRGB: IEC 61966-2-1. CIEDE2000: ISO/CIE 11664-6, written down as by Sharma, Wu and Dalal, "The
CIEDE2000 color-difference formula", Color Research and Application 30 (2005) 21-30.
"""

from __future__ import annotations

from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt
from typing import NamedTuple

from postcheck.physics.given import share as share_of

__all__ = ["Lab", "ciede2000", "in_poor_light", "lab_of_srgb"]


class Lab(NamedTuple):
    """A colour in CIELAB: lightness 0 to 100, green to red, blue to yellow."""

    light: float
    a: float
    b: float


# The rows of IEC 61966-2-1 over its white, D65 at two degrees.
_TO_XYZ = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
_WHITE = (0.9505, 1.0, 1.089)


def lab_of_srgb(red: int, green: int, blue: int) -> Lab:
    """CIELAB of an sRGB colour of 0 to 255 each, on its own white."""
    if not all(0 <= part <= 255 for part in (red, green, blue)):
        raise ValueError(f"red, green and blue lie between 0 and 255, not {(red, green, blue)!r}")
    linear = [_linear(part / 255.0) for part in (red, green, blue)]
    x, y, z = (
        _root(sum(share * part for share, part in zip(row, linear, strict=True)) / white)
        for row, white in zip(_TO_XYZ, _WHITE, strict=True)
    )
    return Lab(116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z))


def in_poor_light(colour: Lab, light: float, chroma: float) -> Lab:
    """What is left of a colour where only shares of its lightness and of its chroma are seen."""
    share_of(light=light, chroma=chroma)
    return Lab(colour.light * light, colour.a * chroma, colour.b * chroma)


def ciede2000(one: Lab, other: Lab) -> float:
    """The CIEDE2000 difference with all three weights 1; 1 is about what is just seen side by side."""
    mean = (hypot(one.a, one.b) + hypot(other.a, other.b)) / 2.0
    grey = 0.5 * (1.0 - _saturated(mean))  # near grey the red-green axis counts more
    a1, a2 = one.a * (1.0 + grey), other.a * (1.0 + grey)
    c1, c2 = hypot(a1, one.b), hypot(a2, other.b)
    h1, h2 = degrees(atan2(one.b, a1)) % 360.0, degrees(atan2(other.b, a2)) % 360.0
    turn = (h2 - h1 + 180.0) % 360.0 - 180.0
    if turn == -180.0 and h2 > h1:  # exactly opposite: the formula turns the way the angles grow
        turn = 180.0
    d_light, d_chroma = other.light - one.light, c2 - c1
    d_hue = 2.0 * sqrt(c1 * c2) * sin(radians(turn / 2.0))
    # beside a grey, which has no hue, that difference is nothing and the mean of no account
    light, chroma, hue = (one.light + other.light) / 2.0, (c1 + c2) / 2.0, _mean_hue(h1, h2)
    t = (
        1.0
        - 0.17 * cos(radians(hue - 30.0))
        + 0.24 * cos(radians(2.0 * hue))
        + 0.32 * cos(radians(3.0 * hue + 6.0))
        - 0.20 * cos(radians(4.0 * hue - 63.0))
    )
    off = (light - 50.0) ** 2
    s_light = 1.0 + 0.015 * off / sqrt(20.0 + off)
    s_chroma, s_hue = 1.0 + 0.045 * chroma, 1.0 + 0.015 * chroma * t
    turned = -2.0 * _saturated(chroma) * sin(radians(60.0 * exp(-(((hue - 275.0) / 25.0) ** 2))))
    l, c, h = d_light / s_light, d_chroma / s_chroma, d_hue / s_hue  # noqa: E741 - as the formula names them
    return sqrt(max(l * l + c * c + h * h + turned * c * h, 0.0))


def _mean_hue(h1: float, h2: float) -> float:
    if abs(h1 - h2) <= 180.0:
        return (h1 + h2) / 2.0
    return (h1 + h2 + (360.0 if h1 + h2 < 360.0 else -360.0)) / 2.0


def _saturated(chroma: float) -> float:
    return sqrt(chroma**7 / (chroma**7 + 25.0**7))


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)


def _root(share: float) -> float:
    return (
        float(share ** (1.0 / 3.0))
        if share > (6.0 / 29.0) ** 3
        else share / (3.0 * (6.0 / 29.0) ** 2) + 4.0 / 29.0
    )
