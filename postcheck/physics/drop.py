"""Voltage lost along a run, and how much less current a wire stands in company.

Sources: FAA AC 43.13-1B section 5 of chapter 11; MIL-W-5088L (now AS50881); NFPA 70 table 310.15(C)(1);
IEC 60364-5-52 annex G.
"""

from __future__ import annotations

from itertools import pairwise

__all__ = [
    "bundle_derating",
    "count_adjustment",
    "drop",
    "loaded_temperature",
    "longest",
    "run_resistance",
]

# MIL-W-5088L bundle curve as digitised from its figure; rows: wires, columns: share of the bundle's rated load
_LOADS = (0.2, 0.4, 0.6, 0.8, 1.0)
_BUNDLE: tuple[tuple[int, tuple[float, float, float, float, float]], ...] = (
    (1, (1.0, 1.0, 1.0, 1.0, 1.0)),
    (2, (0.968, 0.92, 0.91, 0.87, 0.825)),
    (3, (0.935, 0.855, 0.815, 0.77, 0.725)),
    (4, (0.908, 0.805, 0.75, 0.705, 0.66)),
    (5, (0.875, 0.76, 0.695, 0.65, 0.61)),
    (6, (0.85, 0.725, 0.655, 0.605, 0.573)),
    (7, (0.82, 0.695, 0.625, 0.57, 0.54)),
    (8, (0.795, 0.668, 0.595, 0.543, 0.513)),
    (10, (0.755, 0.623, 0.55, 0.50, 0.465)),
    (12, (0.715, 0.585, 0.515, 0.465, 0.43)),
    (15, (0.67, 0.54, 0.465, 0.42, 0.385)),
    (19, (0.625, 0.495, 0.423, 0.38, 0.343)),
)
_COUNT = ((3, 1.0), (6, 0.8), (9, 0.7), (20, 0.5), (30, 0.45), (40, 0.40))


def run_resistance(ohms_per_metre: float, length: float, conductors: int = 1) -> float:
    """Resistance (ohm) of a run of this length (m), of so many equal conductors side by side: R = R' L / n."""
    if conductors < 1:
        raise ValueError("a run has at least one conductor")
    return ohms_per_metre * length / conductors


def drop(ohms_per_metre: float, length: float, current: float) -> float:
    """Voltage (V) lost along a run: V = R' L I; the length counts the way back, where that is part of the run.

    Any length unit will do if the resistance is per the same one. Source: FAA AC 43.13-1B, chapter 11, page 11-22.
    """
    return ohms_per_metre * length * current


def longest(ohms_per_metre: float, current: float, volts: float) -> float:
    """Longest run (m, way back included) that loses no more than this voltage: L = V / (R' I)."""
    if not (ohms_per_metre > 0 and current > 0):
        raise ValueError("resistance and current must be above zero")
    return volts / (ohms_per_metre * current)


def loaded_temperature(ambient: float, rated: float, current: float, ampacity: float) -> float:
    """Conductor temperature (degC) under a load: T2 = T1 + (TR - T1) sqrt(I2 / Imax).

    T1 ambient, TR rating of the wire (degC), I2 the load and Imax the derated ampacity in the same unit. This is
    the estimate of FAA AC 43.13-1B, chapter 11, page 11-27 (form from memory); by physics the rise goes with the square of the
    current, so the estimate lies on the warm side up to the rating. Valid for 0 <= I2 <= Imax.
    """
    share = current / ampacity
    if not 0.0 <= share <= 1.0:
        raise ValueError("the load must lie between zero and the ampacity")
    return ambient + (rated - ambient) * float(share**0.5)


def count_adjustment(conductors: int) -> float:
    """Factor on ampacity for so many current-carrying conductors together: NFPA 70 table 310.15(C)(1).

    Up to 3: 1; 6: 0.8; 9: 0.7; 20: 0.5; 30: 0.45; 40: 0.40; more: 0.35.
    """
    if conductors < 1:
        raise ValueError("at least one conductor")
    for most, factor in _COUNT:
        if conductors <= most:
            return factor
    return 0.35


def bundle_derating(wires: int, load: float = 1.0) -> float:
    """Factor on the free-air ampacity of one wire in a bundle of so many, loaded to this share of their ratings.

    Straight lines between the digitised points of MIL-W-5088L's curve (now AS50881; the same in FAA AC 43.13-1B,
    chapter 11). Loads below 20 % count as 20 %. Above 19 wires the value falls as 1/sqrt(n) from the last point
    (how heat leaves a growing bundle: by its girth; own extension, not in the standard).
    """
    if wires < 1 or not 0.0 <= load <= 1.0:
        raise ValueError("at least one wire, and a load between 0 and 1")
    last, row = _BUNDLE[-1]
    if wires >= last:
        return _across(row, load) * float((last / wires) ** 0.5)
    for (low, first), (high, second) in pairwise(_BUNDLE):
        if low <= wires <= high:
            share = (wires - low) / (high - low)
            return (1.0 - share) * _across(first, load) + share * _across(second, load)
    raise AssertionError("unreachable: the table starts at one wire")


def _across(row: tuple[float, ...], load: float) -> float:
    if load <= _LOADS[0]:
        return row[0]
    for at in range(1, len(_LOADS)):
        if load <= _LOADS[at]:
            share = (load - _LOADS[at - 1]) / (_LOADS[at] - _LOADS[at - 1])
            return (1.0 - share) * row[at - 1] + share * row[at]
    return row[-1]
