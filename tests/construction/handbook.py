"""Small laws and figures of handbooks and data sheets, by which the builds are made. Nothing here comes from postcheck."""

from __future__ import annotations

from math import ceil, log, log10, pi, sqrt
from typing import NamedTuple

# IEC 60063.
E12 = (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)
# IEC 60127-1, R10 series, A.
FUSES = (0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1.0, 1.25, 1.6)
# Plates of small adaptors, A.
PLATES = (0.5, 1.0, 1.5, 2.0, 3.0)
# Smallest circle round n equal ones, in diameters: proven to 14 (Graham, Melissen, Fodor), the best known above.
ROUND = (
    0,
    1,
    2,
    2.155,
    2.414,
    2.701,
    3,
    3,
    3.305,
    3.613,
    3.813,
    3.924,
    4.03,
    4.236,
    4.328,
    4.521,
    4.615,
    4.792,
    4.864,
    4.864,
    5.122,
)


class Die(NamedTuple):
    """Forward volts at 20 mA (least, typical, most), typical at 5 mA, rated A: data sheets of small LEDs."""

    least: float
    usual: float
    most: float
    at_five: float
    rated: float = 0.02

    def volts(self, amps: float) -> float:
        """Typical forward volts: n V_T ln(I / I0) with n = 2, and the rest of the rise a resistance."""
        thermal = 2 * 0.02569
        bulk = max((self.usual - self.at_five - thermal * log(4)) / 0.015, 0.0)
        return self.at_five + thermal * log(max(amps, 1e-6) / 0.005) + bulk * (amps - 0.005)


RED = Die(1.7, 2.2, 2.6, 2.1, 0.03)
RED_3MM = Die(1.7, 2.0, 2.6, 1.9, 0.03)  # lamps with wires
WHITE, GREEN, BLUE = Die(2.8, 3.2, 4.0, 2.85), Die(2.8, 3.2, 4.0, 2.75), Die(2.8, 3.15, 4.0, 2.85)
DICE = {
    "smd-0402-red": RED._replace(rated=0.02), "smd-0603-red": RED, "smd-0805-amber": RED._replace(rated=0.02), "led-3mm-red": RED_3MM, "smd-0603-yellow": RED,
    "smd-0603-white": WHITE, "smd-0402-warm-white": WHITE, "led-3mm-white": WHITE, "smd-0805-warm-white": WHITE,
    "smd-0603-green": GREEN, "led-3mm-green": GREEN, "smd-0603-blue": BLUE,
}  # fmt: skip


def string_amps(volts: float, die: Die, series: int, ohms: float) -> float:
    """Typical current of a string, A, by bisection."""
    low, high = 0.0, 0.2
    for _ in range(40):
        amps = (low + high) / 2
        low, high = (amps, high) if series * die.volts(amps) + amps * ohms < volts else (low, amps)
    return low


def most_amps(volts: float, die: Die, series: int, ohms: float) -> float:
    """All against it: the highest volts, the least forward ones, 5 % less of resistor."""
    return string_amps(volts + series * (die.usual - die.least), die, series, 0.95 * ohms)


def least_amps(volts: float, die: Die, series: int, ohms: float) -> float:
    """The other way round."""
    return string_amps(volts - series * (die.most - die.usual), die, series, 1.05 * ohms)


def e12_above(ohms: float) -> float:
    """The next value of the series."""
    decade = 10.0 ** int(log10(ohms))
    return next(
        round(base * scale * decade, 3)
        for scale in (1, 10)
        for base in E12
        if base * scale * decade >= 0.999 * ohms
    )


class Wire(NamedTuple):
    """Copper mm2, outside mm, strand mm, whether enamelled."""

    area: float
    outside: float
    strand: float
    enamelled: bool = False

    @property
    def ohms(self) -> float:
        """A metre: IEC 60028, a tenth more for lay and tolerance."""
        return 1.1 / (58 * self.area)


WIRES = {
    "ptfe-24": Wire(0.24, 0.99, 0.127), "ptfe-26": Wire(0.15, 0.86, 0.1), "ptfe-28": Wire(0.0887, 0.74, 0.127),
    "ptfe-30": Wire(0.0557, 0.66, 0.1), "pvc-26": Wire(0.14, 1.05, 0.16), "pvc-28": Wire(0.0887, 0.95, 0.127),
    "silicone-28": Wire(0.08, 1.3, 0.08), "silicone-30": Wire(0.055, 0.9, 0.08), "fep-28": Wire(0.0887, 0.63, 0.127),
    "enamel-0.10": Wire(0.00785, 0.117, 0.1, True), "enamel-0.125": Wire(0.0123, 0.144, 0.125, True),
    "enamel-0.20": Wire(0.0314, 0.226, 0.2, True),
}  # fmt: skip


def warms(wire: Wire, amps: float) -> float:
    """Rise of a lone wire for good, K: I2R over the loss of a thin cylinder, Nu = 0.4 in still air and 6 W/(m2 K) radiated."""
    loss = 0.4 * 0.026 / (wire.outside / 1e3) + 6
    return amps**2 * wire.ohms / (pi * wire.outside / 1e3 * loss)


def holds_until(wire: Wire, amps: float, fuse: float) -> bool:
    """Whether it stays well below 155 degC until a quick fuse opens: I2t against (115 A)2, no heat lost, with half to spare."""
    times = amps / fuse
    seconds = 0.02 if times >= 10 else 0.3 if times >= 4 else 2.0 if times >= 2.75 else 1800.0
    return amps**2 * seconds <= 0.5 * (115 * wire.area) ** 2


def bore(diameters: list[float]) -> float:
    """A bore, mm, with room: 1.3 times the circle round so many of the thickest (FAA: 1.25), filled to 37 % (NFPA 70: 40), never near the jam ratio of three."""
    wide, many = max(diameters), len(diameters)
    around = ROUND[min(many, 20)] * wide * (sqrt(many / 20) if many > 20 else 1)
    times = {1: 1.5, 2: 2.9, 3: 3.6}.get(many, 0)
    return ceil(2 * max(1.3 * around + 0.1, times * wide, wide * sqrt(many / 0.37))) / 2


def surface(watts: float, rise: float) -> int:
    """Outside surface of a closed body, cm2, by 3.5 W/(m2 K)."""
    return max(40, ceil(watts / (3.5 * rise) * 1e4 / 10) * 10)


def strain(wire: Wire, turn: float, length: float) -> float:
    """Range of a strand in pure torsion, r dtheta / (sqrt(3) L); turn in rad from end to end, length in mm."""
    return wire.strand / 2 * turn / (sqrt(3) * length)
