"""The diode law of a lamp from two points of its data sheet."""

from __future__ import annotations

from math import ceil, exp, log

from postcheck.physics.network.elements import Diode

__all__ = ["THERMAL_VOLTAGE", "diode_through", "fit_diode", "thermal_voltage"]

_BOLTZMANN = 1.380649e-23  # J/K, exact since the SI of 2019
_CHARGE = 1.602176634e-19  # C, exact since the SI of 2019

# n of the ideal diode is 1; a third below leaves room for points that were read off a printed curve.
_LEAST_EMISSION = 0.67


def thermal_voltage(celsius: float) -> float:
    """V_T = k T / q in V: 25.69 mV at 25 degC."""
    if not celsius > -273.15:
        raise ValueError("a temperature above absolute zero")
    return _BOLTZMANN * (celsius + 273.15) / _CHARGE


THERMAL_VOLTAGE = thermal_voltage(25.0)


def fit_diode(v1: float, i1: float, v2: float, i2: float, n: float = 2.0, celsius: float = 25.0) -> Diode:
    """Diode through (v1 V, i1 A) and (v2, i2) with emission coefficient n: V = n V_T ln(1 + I / I_s) + I R_s.

    R_s = [(v2 - v1) - n V_T ln(i2 / i1)] / (i2 - i1); ln I_s = ln i1 - (v1 - i1 R_s) / (n V_T).
    Valid between the two points; above the second the lamp heats and the law is not to be trusted.
    ValueError unless 0 < i1 < i2, 0 < v1 < v2 and n is small enough that R_s >= 0:
    n <= (v2 - v1) / (V_T ln(i2 / i1)).
    For other temperatures keep the diode and set its `shift`; scaling V_T with a fixed I_s moves it the wrong way.
    Source: Shockley's law with series resistance, solved for two points.
    """
    if not (0.0 < i1 < i2 and 0.0 < v1 < v2 and n > 0.0):
        raise ValueError("two points with rising current and rising voltage, both above zero")
    slope = n * thermal_voltage(celsius)
    rise = log(i2 / i1)
    most = (v2 - v1) / (thermal_voltage(celsius) * rise)
    if n > most * (1.0 + 1e-9):
        raise ValueError(f"the two points allow an emission coefficient of {most:.3g} at most, not {n:g}")
    ohm = max(0.0, (v2 - v1 - slope * rise) / (i2 - i1))
    saturation = i1 * exp(-(v1 - i1 * ohm) / slope)
    if not saturation > 1e-250:
        raise ValueError("the saturation current vanishes: the emission coefficient is too small")
    return Diode(saturation, slope, ohm)


def diode_through(v1: float, i1: float, v2: float, i2: float) -> Diode:
    """Diode through two points of a data sheet at 25 degC, as `fit_diode`, with the emission coefficient n worked out.

    n is 2 for each die in series (one for each 4 V begun), or the most that leaves a series resistance. ValueError
    for points that no LED has: n below 1 for the lot, or a line through them that begins below 0 V.
    """
    if not (0.0 < i1 < i2 and 0.0 < v1 < v2):
        raise ValueError("two points with rising current and rising voltage, both above zero")
    n = min(2.0 * max(1, ceil(v2 / 4.0)), (v2 - v1) / (THERMAL_VOLTAGE * log(i2 / i1)))
    if n < _LEAST_EMISSION:
        raise ValueError(f"the voltage rises too little between the two points: n = {n:.3g}")
    if v1 < i1 * (v2 - v1) / (i2 - i1):
        raise ValueError("the voltage rises too much between the two points")
    return fit_diode(v1, i1, v2, i2, n=n)
