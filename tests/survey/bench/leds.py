"""LEDs of the tests' own, by Shockley's law and SciPy's root finder: what a string of them takes, with no law of the package."""

from __future__ import annotations

from math import expm1, log, log1p
from typing import NamedTuple

from scipy.constants import elementary_charge, k
from scipy.optimize import brentq

SLOPE = (
    2.0 * k * 298.15 / elementary_charge
)  # two for the recombination in the junction, as data sheets of LEDs have it
LEAST, USUAL, MOST = -1, 0, 1  # what is taken: by the hardest parts, by usual ones, by the easiest


class Led(NamedTuple):
    """Forward volts at `at` (A), and at a lower current. `kelvin`: V/K; the file's usual part gets 500 K/W warmer in its own heat."""

    name: str
    forward: tuple[float, float, float]
    low: float
    rated: float
    at: float = 0.020
    low_at: float = 0.005
    reverse: float | None = 7.0
    kelvin: float = 0.0
    colour: str = "red"

    def __str__(self) -> str:
        least, typical, most = self.forward
        reverse = "" if self.reverse is None else f'reverse = "{self.reverse} V"\n'
        return (
            f'[lamp_kind.{self.name}]\ncolour = "{self.colour}"\nforward = "{least}/{typical}/{most} V"\nat = "{self.at} A"\n'
            f'low_forward = "{self.low} V"\nlow_at = "{self.low_at} A"\nrated = "{self.rated} A"\n'
            f'per_kelvin = "{self.kelvin} V"\n{reverse}'
        )

    def volts(self, amps: float, taken: int = USUAL, *, warm: bool = False) -> float:
        """Across it at a current."""
        ohms = (self.forward[1] - self.low - SLOPE * log(self.at / self.low_at)) / (self.at - self.low_at)
        # Shockley's one beside the exponential, so that nothing flows at no volts
        saturation = self._saturation(ohms)
        shift = (0.0, self.forward[0] - self.forward[1], self.forward[2] - self.forward[1])[taken]
        cold = SLOPE * log1p(amps / saturation) + ohms * amps + shift
        return cold / (1.0 - 500.0 * self.kelvin * amps) if warm else cold

    def _saturation(self, ohms: float) -> float:
        return self.low_at / expm1((self.low - self.low_at * ohms) / SLOPE)


RED = Led("crimson", (1.9, 2.0, 2.3), 1.8, 0.030)
BLUE = Led("azure", (2.9, 3.2, 3.6), 2.85, 0.024, reverse=5.5, colour="blue")


def amps(volts: float, ohms: float, *string: Led, taken: int = USUAL, warm: bool = False) -> float:
    """What a string takes behind a resistance."""

    def over(current: float) -> float:
        return sum(led.volts(current, taken, warm=warm) for led in string) + ohms * current - volts

    return float(brentq(over, 0.0, 100.0, xtol=1e-16, rtol=1e-13)) if over(0.0) < 0.0 else 0.0


def ohms_for(volts: float, current: float, *string: Led, taken: int = USUAL) -> float:
    """The resistance behind which a string takes just that."""
    return (volts - sum(led.volts(current, taken) for led in string)) / current


def band(
    volts: float, ohms: float, *string: Led, tolerance: float = 0.05, more: float = 0.0
) -> tuple[float, ...]:
    """Least, usual and most, with a resistor of a tolerance; `more`: ohms beside it that have none."""
    return tuple(
        amps(volts, ohms * (1.0 - taken * tolerance) + more, *string, taken=taken)
        for taken in (LEAST, USUAL, MOST)
    )


WIRE = '[wire.bar]\nstrand = "0.5 mm"\noutside = "1 mm"\nohms_per_metre = "0.01 ohm/m"\n'
WIRES = 0.003
"""Both legs of a lead of `hung`, ohm."""


def hung(
    led: Led | str = RED,
    resistor: str = "",
    more: str = "",
    *,
    name: str = "lamp",
    circuit: str = "a",
    at: str = "hub",
) -> str:
    """A lamp in the car of the boat, its lead 150 mm of that wire."""
    kind = led if isinstance(led, str) else led.name
    lead = f'{{ length = "150 mm", to = "{at}", wire = "bar", colours = ["red", "black"] }}'
    said = f'resistor = "{resistor}"\n' if resistor else ""
    return f'[[lamp]]\nname = "{name}"\ncircuit = "{circuit}"\nkind = "{kind}"\nplace = "car"\nlead = {lead}\n{said}{more}\n'
