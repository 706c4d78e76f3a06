"""The plain LED of the tests' own by Shockley's law, and what a string of it takes by SciPy: no law of the package.

In a file: forward = "1.9/2.0/2.15 V", at = "20 mA", low_forward = "1.9 V", low_at = "5 mA", per_kelvin = "0 mV".
"""

from __future__ import annotations

import math
from collections.abc import Callable

from scipy.optimize import brentq

SLOPE = 2 * 1.380649e-23 * 298.15 / 1.602176634e-19  # n V_T at 25 degC, SI of 2019
_OHMS = (0.1 - SLOPE * math.log(4)) / 0.015
_SATURATION = 0.005 / math.expm1((1.9 - 0.005 * _OHMS) / SLOPE)


def die(amps: float, shift: float = 0.0) -> float:
    """V across it, through 1.9 V at 5 mA and 2.0 V at 20 mA; moved to its least or most."""
    return SLOPE * math.log1p(max(amps, 0.0) / _SATURATION) + amps * _OHMS + shift


def alone(
    volts: float, ohms: float, dice: int = 2, shift: float = 0.0, each: Callable[[float, float], float] = die
) -> float:
    """A of some dice behind a resistance."""
    return float(
        brentq(lambda amps: volts - amps * ohms - dice * each(amps, shift), 0.0, 1.0, xtol=1e-16, rtol=1e-14)
    )
