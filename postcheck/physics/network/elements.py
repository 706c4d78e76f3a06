"""The parts of a lighting circuit, as plain numbers between numbered nodes (SI units)."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isfinite
from typing import NamedTuple

__all__ = [
    "Circuit",
    "ConstantPower",
    "Converter",
    "Demand",
    "Diode",
    "Drop",
    "Element",
    "Filament",
    "Resistance",
    "Source",
    "SteadyCurrent",
    "String",
]


def _above(what: str, value: float) -> None:
    if not (isfinite(value) and value > 0):
        raise ValueError(f"{what} must be above zero, not {value!r}")


def _from_zero(what: str, value: float) -> None:
    if not (isfinite(value) and value >= 0):
        raise ValueError(f"{what} must not be below zero, not {value!r}")


@dataclass(frozen=True, slots=True)
class Resistance:
    """A conductor or resistor: I = (v[a] - v[b]) / ohms, with ohms > 0."""

    a: int
    b: int
    ohms: float

    def __post_init__(self) -> None:
        _above("ohms", self.ohms)


@dataclass(frozen=True, slots=True)
class Source:
    """An EMF with internal resistance: v[plus] - v[minus] = volts - I ohms.

    `I` is what it delivers out of `plus`. No ohms: ideal. No volts and no ohms: an ideal tie.
    """

    plus: int
    minus: int
    volts: float
    ohms: float = 0.0

    def __post_init__(self) -> None:
        _from_zero("ohms", self.ohms)
        if not isfinite(self.volts):
            raise ValueError("volts must be finite")


@dataclass(frozen=True, slots=True)
class Drop:
    """A closed switch output: v[a] - v[b] = volts + I ohms with I >= 0.

    It conducts from a to b only; where the current would be reversed, it is open (I = 0, v[a] - v[b] <= volts).
    """

    a: int
    b: int
    volts: float = 0.0
    ohms: float = 0.0

    def __post_init__(self) -> None:
        _from_zero("volts", self.volts)
        _from_zero("ohms", self.ohms)


@dataclass(frozen=True, slots=True)
class Diode:
    """V(I) = (slope ln(1 + I / saturation) + I ohm + shift) / (1 + heat I), that divisor for I > 0 only.

    Shockley's law with series resistance. `saturation` in A, `slope` = n V_T in V, `ohm` in ohm, `shift` in V (what the air
    round it adds to the forward voltage). `heat`, 1/A: of a die that has settled in its own heat minus its temperature
    coefficient (V/K) times the K/W from junction to air; 0: it has just been switched on. See `strings.py`.
    """

    saturation: float
    slope: float
    ohm: float = 0.0
    shift: float = 0.0
    heat: float = 0.0

    def __post_init__(self) -> None:
        _above("saturation", self.saturation)
        _above("slope", self.slope)
        _from_zero("ohm", self.ohm)
        if not (isfinite(self.shift) and isfinite(self.heat)):
            raise ValueError("shift and heat must be finite")


@dataclass(frozen=True, slots=True)
class String:
    """Diodes and a resistor in series, anodes toward a: v[a] - v[b] = I ohms + the sum of the diodes' V(I).

    `most`: A, above which the diodes get no hotter: where they do not live, so that a current is found in any case.
    """

    a: int
    b: int
    ohms: float
    diodes: tuple[Diode, ...]
    most: float = inf

    def __post_init__(self) -> None:
        _from_zero("ohms", self.ohms)
        if any(diode.heat for diode in self.diodes):
            if not self.most > 0.0:
                raise ValueError(f"most must be above zero, not {self.most!r}")
            if any(diode.heat < 0.0 and not 1.0 + diode.heat * self.most > 0.0 for diode in self.diodes):
                raise ValueError("heat below zero ends the law of a diode before its most current")
        if not self.diodes:
            raise ValueError("a string has at least one diode; use Resistance for none")


# A filament's resistance rises with its temperature: I ~ V^0.55 near rated voltage (common practice).
FILAMENT_EXPONENT = 0.55


@dataclass(frozen=True, slots=True)
class Filament:
    """A filament lamp with what lies in series with it: V = W + I ohms, I = amps sign(W) (|W| / volts)^exponent.

    Below a thousandth of `volts` it is a resistance (cold filament), so that the slope stays finite.
    """

    a: int
    b: int
    volts: float
    amps: float
    exponent: float = FILAMENT_EXPONENT
    ohms: float = 0.0

    def __post_init__(self) -> None:
        _above("volts", self.volts)
        _above("amps", self.amps)
        _above("exponent", self.exponent)
        _from_zero("ohms", self.ohms)


@dataclass(frozen=True, slots=True)
class SteadyCurrent:
    """A constant-current output: `amps` from `compliance` up, a resistance compliance / amps below, never reverse."""

    a: int
    b: int
    amps: float
    compliance: float

    def __post_init__(self) -> None:
        _above("amps", self.amps)
        _above("compliance", self.compliance)


@dataclass(frozen=True, slots=True)
class Demand:
    """A load that draws `amps` from `least_volts` up; a resistance least_volts / amps below; nothing in reverse."""

    a: int
    b: int
    amps: float
    least_volts: float

    def __post_init__(self) -> None:
        _above("amps", self.amps)
        _above("least_volts", self.least_volts)


@dataclass(frozen=True, slots=True)
class ConstantPower:
    """A load that draws watts / V. Below `least_volts` it is off: reported in `will_not_start`."""

    a: int
    b: int
    watts: float
    least_volts: float

    def __post_init__(self) -> None:
        _above("watts", self.watts)
        _above("least_volts", self.least_volts)


@dataclass(frozen=True, slots=True)
class Converter:
    """A DC converter: its output is a Source (volts, ohms), its input takes P_out / efficiency + idle_watts.

    `P_out` is the power at the output terminals (never below zero). Below `least_volts` at the input it is off
    (output open): reported in `will_not_start`.
    """

    in_plus: int
    in_minus: int
    out_plus: int
    out_minus: int
    volts: float
    efficiency: float
    least_volts: float
    idle_watts: float = 0.0
    ohms: float = 0.0

    def __post_init__(self) -> None:
        _above("volts", self.volts)
        _above("least_volts", self.least_volts)
        _from_zero("idle_watts", self.idle_watts)
        _from_zero("ohms", self.ohms)
        if not 0.0 < self.efficiency <= 1.0:
            raise ValueError(f"efficiency must be above 0 and at most 1, not {self.efficiency!r}")


Element = Resistance | Source | Drop | String | Filament | SteadyCurrent | Demand | ConstantPower | Converter


class Circuit(NamedTuple):
    """Elements between the nodes 0 .. nodes - 1."""

    nodes: int
    elements: tuple[Element, ...]


def ends(element: Element) -> tuple[int, int]:
    """Upper and lower node of an element; the output of a Converter."""
    if isinstance(element, Source):
        return element.plus, element.minus
    if isinstance(element, Converter):
        return element.out_plus, element.out_minus
    return element.a, element.b
