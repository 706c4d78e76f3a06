"""The elements of the network at a corner: how each part's numbers follow from the tolerances and the temperatures."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from postcheck.description.models import Supply
from postcheck.physics.network import Converter, Element, Filament, Resistance, Source, String
from postcheck.survey.network.dice import diode_of
from postcheck.survey.network.supplies import converter_volts, source_of
from postcheck.wiring.data import DieData
from postcheck.wiring.parts import LegPart, ResistorPart

__all__ = [
    "REFERENCE",
    "Corner",
    "Maker",
    "dc_converter",
    "fixed",
    "lamp_string",
    "limiting_resistor",
    "supply_source",
]


class Corner(NamedTuple):
    """One set of tolerances, each -1, 0 or +1.

    `supply`: supplies low, typical or high. `dice` and `resistors`: +1 lets a lamp take most (least forward
    voltage, least ohms). `loads`: +1 lets other loads take most. `copper` is the temperature of the wires in degC; `most` takes the worst wire within its standard;
    `junction` is the ambient of the dice in degC, None the 25 degC of data sheets with no heating of their own.
    `converters`: the output of converters where it goes another way than that of their sources; None: the same way.
    """

    supply: int = 0
    dice: int = 0
    resistors: int = 0
    loads: int = 0
    copper: float = 20.0
    junction: float | None = None
    most: bool = False
    converters: int | None = None

    def words(self) -> str:
        """The corner as it is named in a report."""
        supply = {-1: "supplies at their lowest", 0: "supplies typical", 1: "supplies at their highest"}[
            self.supply
        ]
        if self.dice == self.resistors == 0:
            return supply
        return f"{supply}, lamps taking {'most' if self.dice > 0 else 'least'}"


# Typical parts as their data sheets state them: copper at 20 degC, junctions at 25 degC.
REFERENCE = Corner()

Maker = Callable[[Corner, float], Element]


def _ohms(resistor: ResistorPart, corner: Corner) -> float:
    return resistor.ohms * (1.0 - corner.resistors * resistor.tolerance)


def fixed(element: Element) -> Maker:
    """An element that is the same at every corner."""
    return lambda _corner, _rise: element


def limiting_resistor(a: int, b: int, part: ResistorPart) -> Maker:
    """A resistor of its own between two nodes."""
    return lambda corner, _h: Resistance(a, b, _ohms(part, corner))


def lamp_string(
    a: int,
    b: int,
    dice: tuple[DieData, ...],
    resistor: ResistorPart | None,
    legs: Iterable[LegPart],
    starting: bool,
) -> Maker:
    """A string of dice, or of filaments, with its resistor and the wires that only it uses."""
    legs = tuple(legs)

    def make(corner: Corner, rise: float) -> Element:
        ohms = sum(leg.ohms(corner.copper, most=corner.most) for leg in legs)
        if resistor is not None:
            ohms += _ohms(resistor, corner)
        if dice and dice[0].filament_volts:
            volts = dice[0].filament_volts * len(dice)
            if starting:
                return Resistance(a, b, max(volts / dice[0].rated / dice[0].cold_ratio + ohms, 1e-6))
            return Filament(a, b, volts, dice[0].rated, ohms=ohms)
        if not dice:
            return Resistance(a, b, max(ohms, 1e-6))
        return String(a, b, ohms, tuple(diode_of(die, corner.dice, corner.junction, rise) for die in dice))

    return make


def supply_source(plus: int, minus: int, supply: Supply) -> Maker:
    """A supply as a voltage behind its resistance; SI."""

    def make(corner: Corner, _rise: float) -> Element:
        volts, ohms = source_of(supply, corner.supply)
        return Source(plus, minus, volts, ohms)

    return make


def dc_converter(into: int, back: int, plus: int, minus: int, supply: Supply, idle_watts: float) -> Maker:
    """A DC converter, with its idle power in W."""

    def make(corner: Corner, _rise: float) -> Element:
        sign = corner.supply if corner.converters is None else corner.converters
        volts, efficiency, least = converter_volts(supply, sign)
        return Converter(into, back, plus, minus, volts, efficiency, least, idle_watts)

    return make
