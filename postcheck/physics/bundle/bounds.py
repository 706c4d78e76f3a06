"""Proven lower bounds on the radius of a circle that holds given circles (radii in falling order)."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, sqrt

__all__ = ["RATIOS", "equal_ratio", "gap_radius", "lower", "three"]

RATIOS = {
    1: 1.0,
    2: 2.0,
    3: 1.0 + 2.0 / sqrt(3.0),
    4: 1.0 + sqrt(2.0),
    5: 1.0 + sqrt(2.0 * (1.0 + 1.0 / sqrt(5.0))),
    6: 3.0,
    7: 3.0,
    8: 3.304764870962,
    9: 1.0 + sqrt(2.0 * (2.0 + sqrt(2.0))),
    10: 3.813025631398,
    11: 3.923804400163,
    12: 4.029601930116,
    13: 2.0 + sqrt(5.0),
    14: 4.328428554860,
    19: 1.0 + sqrt(2.0) + sqrt(6.0),
}
"""Least container radius for k unit circles, proven: Graham 1968, Pirl 1969, Melissen 1994, Fodor 1999 to 2003,
Ekanayake and LaFountain (14); values from the record table kept by E. Specht."""


def equal_ratio(count: int) -> float:
    """Container radius that k unit circles need at least.

    The proven best where there is one; else the greater of the last proven one below k and the bound of Oler (1961)
    and Groemer (1960): with y = (R - 1)/2, k <= 2/sqrt(3) pi y**2 + pi y + 1.
    """
    if count in RATIOS:
        # the printed values have twelve decimals: take off the last
        return RATIOS[count] * (1.0 - 1e-12)
    last = RATIOS[19] if count > 19 else RATIOS[14]
    square = 2.0 / sqrt(3.0) * pi
    y = (sqrt(pi * pi + 4.0 * square * (count - 1)) - pi) / (2.0 * square)
    return max(last, 1.0 + 2.0 * y) * (1.0 - 1e-12)


def gap_radius(first: float, second: float) -> float:
    """Largest circle beside two touching ones that lie across their common container: r1 r2 (r1 + r2)/(r1**2 + r1 r2 + r2**2)."""
    return first * second * (first + second) / (first * first + first * second + second * second)


def three(radii: Sequence[float]) -> float:
    """Least container radius for the three largest, in falling order: Descartes' circle theorem, outer solution."""
    first, second, third = radii[0], radii[1], radii[2]
    if third <= gap_radius(first, second):
        return first + second
    a, b, c = 1.0 / first, 1.0 / second, 1.0 / third
    return -1.0 / (a + b + c - 2.0 * sqrt(a * b + b * c + c * a))


def lower(radii: Sequence[float]) -> float:
    """Greatest of the lower bounds for these radii, in falling order."""
    best = radii[0]
    if len(radii) > 1:
        best = radii[0] + radii[1]
    if len(radii) > 2:
        best = max(best, three(radii))
    area = 0.0
    for k, radius in enumerate(radii, 1):
        area += radius * radius
        best = max(best, radius * equal_ratio(k))
    return max(best, sqrt(area) * (1.0 - 1e-12))
