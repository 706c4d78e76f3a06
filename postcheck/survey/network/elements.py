"""The elements of the network at a corner: how each part's numbers follow from the tolerances and the temperatures."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from copy import copy
from functools import lru_cache
from math import inf
from typing import NamedTuple

from postcheck.description.models import Build, Supply
from postcheck.limits import DUST
from postcheck.physics import copper
from postcheck.physics.network import (
    FILAMENT_EXPONENT,
    Converter,
    Drop,
    Element,
    Filament,
    Resistance,
    Source,
    String,
)
from postcheck.survey.network.dice import Curve, curve_of
from postcheck.survey.network.supplies import converter_volts, efficiency_of, open_volts, source_of
from postcheck.wiring.data import DieData
from postcheck.wiring.parts import LegPart, ResistorPart


class Corner(NamedTuple):
    """One set of tolerances, each -1, 0 or +1, and temperatures.

    `supply`: supplies low, typical or high. `dice` and `resistors`: +1 lets a lamp take most (least forward
    voltage, least ohms). `loads`: +1 lets other loads take most. `copper` is the temperature of the wires in degC; `most` takes the worst wire within its standard;
    `junction` is the room's air in degC, None the 25 degC of data sheets with no heating at all. `settled`: dice have
    warmed themselves, in the air of their places; else they have just been switched on in the room's. `hottest`: that
    air is the warmest of all tolerances, else what this corner gives.
    `converters`: the output of converters where it goes another way than that of their sources; None: the same way.
    `low`: supplies at their lowest, whatever the others are at.
    """

    supply: int = 0
    dice: int = 0
    resistors: int = 0
    loads: int = 0
    copper: float = 20.0
    junction: float | None = None
    most: bool = False
    converters: int | None = None
    settled: bool = True
    hottest: bool = False
    low: frozenset[str] = frozenset()

    @property
    def warm(self) -> bool:
        """Whether dice warm themselves."""
        return self.junction is not None and self.settled

    def of(self, supply: str) -> int:
        """Where a supply is: -1 low, 0 typical, +1 high."""
        return -1 if supply in self.low else self.supply

    def words(self) -> str:
        """The corner as it is named in a report."""
        supply = {-1: "supplies at their lowest", 0: "supplies typical", 1: "supplies at their highest"}[
            self.supply
        ]
        if self.low:
            supply += f", {' and '.join(sorted(self.low))} at the lowest"
        if self.dice == self.resistors == 0:
            return supply
        return f"{supply}, lamps taking {'most' if self.dice > 0 else 'least'}"


# From this many pulses a second (Hz) the filament of a small bulb keeps one temperature: it warms and cools in some tens of
# milliseconds, and ripples by some per cent at the 100 Hz of alternating current (from memory).
FOLLOWS = 100.0
# Typical parts as their data sheets state them: copper at 20 degC, junctions at 25 degC.
REFERENCE = Corner()

# The rise in K of the air in each place above the room's.
Rises = Mapping[str, float]
Maker = Callable[[Corner, Rises], Element]


@lru_cache(maxsize=256)
def _warm_copper(celsius: float) -> float:
    """How often its resistance at 20 degC a wire has at a temperature in degC."""
    return copper.at_temperature(1.0, celsius)


def _ohms(resistor: ResistorPart, corner: Corner) -> float:
    ohms = resistor.ohms * (1.0 - corner.resistors * resistor.tolerance)
    return ohms + resistor.more if corner.resistors < 0 else ohms


def glows_through(build: Build, circuit: str) -> float | None:
    """The share of the time that a filament is on, where it is on and off too fast for it to follow; None where it follows.

    Its temperature, and so its resistance and its light, is then that of the root mean square of its volts.
    """
    said = build.circuit[circuit]
    fast = said.behaviour == "dim" and said.frequency is not None and said.frequency >= FOLLOWS
    return said.on_share if fast else None


def fixed(element: Element) -> Maker:
    """An element that is the same at every corner."""
    return lambda _corner, _rises: element


def warmed_copper(a: int, b: int, ohms20: float) -> Maker:
    """Copper of a resistance in ohm at 20 degC between two nodes."""
    return lambda corner, _rises: Resistance(a, b, copper.at_temperature(ohms20, corner.copper))


def limiting_resistor(a: int, b: int, part: ResistorPart) -> Maker:
    """A resistor of its own between two nodes."""
    return lambda corner, _rises: Resistance(a, b, _ohms(part, corner))


class StringMaker:
    """A string of dice, or of filaments, with its resistor and the wires that only it uses.

    `places`: where each die sits. `glows_through`: the share of the time that filaments are on, where they are on and off
    faster than they follow: hotter than their volts would have them for no more than that, they take more while they are on.
    """

    __slots__ = (
        "_curves",
        "_ends",
        "_hottest",
        "_least",
        "_most",
        "_share",
        "_starting",
        "dice",
        "places",
        "resistor",
    )

    def __init__(
        self,
        ends: tuple[int, int],
        dice: tuple[DieData, ...],
        places: Sequence[str],
        resistor: ResistorPart | None,
        legs: Iterable[LegPart],
        starting: bool = False,
        glows_through: float | None = None,
    ) -> None:
        legs = tuple(legs)
        self.dice: tuple[DieData, ...] = dice
        self.places: tuple[str, ...] = tuple(
            places[number * len(places) // len(dice)] for number in range(len(dice))
        )
        self.resistor: ResistorPart | None = resistor
        glows = bool(dice) and dice[0].filament_volts is not None
        self._curves: tuple[Curve, ...] = () if glows else tuple(map(curve_of, dice))
        self._hottest: float = min((curve.most for curve in self._curves), default=inf)
        self._ends = ends
        self._starting = starting
        self._share = glows_through
        # ohm at 20 degC, of the usual wire and the worst within its standard
        self._least: float = sum(leg.ohms(20.0) for leg in legs)
        self._most: float = sum(leg.ohms(20.0, most=True) for leg in legs)

    def with_resistor(self, resistor: ResistorPart | None) -> StringMaker:
        """The same string behind another resistor."""
        other = copy(self)
        other.resistor = resistor
        return other

    def without_wires(self) -> StringMaker:
        """The same string with no loss in the wires that only it uses."""
        other = copy(self)
        other._least = other._most = 0.0
        return other

    def held_on(self) -> StringMaker:
        """The same string held on."""
        other = copy(self)
        other._share = None
        return other

    def wire_ohms(self, corner: Corner) -> float:
        """Of the wires that only it uses."""
        ohms = self._most if corner.most else self._least
        return ohms * _warm_copper(corner.copper) if ohms else 0.0

    def resistor_ohms(self, corner: Corner) -> float:
        """Of its resistor; 0 where it has none of its own."""
        return 0.0 if self.resistor is None else _ohms(self.resistor, corner)

    def __call__(self, corner: Corner, rises: Rises) -> Resistance | Filament | String:
        """The string at a corner, warmed by its own heat if the corner says so."""
        a, b = self._ends
        ohms = self.wire_ohms(corner) + self.resistor_ohms(corner)
        dice = self.dice
        if not dice:
            return Resistance(a, b, max(ohms, 1e-6))
        if dice[0].filament_volts:
            volts = dice[0].filament_volts * len(dice)
            if self._starting:
                return Resistance(a, b, max(volts / dice[0].rated / dice[0].cold_ratio + ohms, 1e-6))
            amps = dice[0].rated * (1.0 + corner.dice * dice[0].rated_spread)
            if self._share is not None:
                # R is that of V sqrt(D): V / R = I0 (V sqrt(D) / V0)^n / sqrt(D)
                amps *= float(self._share ** ((FILAMENT_EXPONENT - 1.0) / 2.0))
            return Filament(a, b, volts, amps, ohms=ohms)
        room, deviation, curves = corner.junction, corner.dice, self._curves
        if room is None or not corner.settled:
            return String(a, b, ohms, tuple([curve.at(deviation, room) for curve in curves]))
        diodes = [
            curve.at(deviation, room + rises.get(place, 0.0), settled=True)
            for curve, place in zip(curves, self.places, strict=True)
        ]
        return String(a, b, ohms, tuple(diodes), self._hottest)


def output_drop(a: int, b: int, volts: float, name: str, supply: Supply) -> Maker:
    """The drop of an output, V, of which there is no more than its supply has."""
    return lambda corner, _rises: Drop(a, b, min(volts, open_volts(supply, corner.of(name))))


def supply_source(name: str, plus: int, minus: int, supply: Supply, *, never_low: bool = False) -> Maker:
    """A supply as a voltage behind its resistance; SI. `never_low`: what it feeds has stopped before it is at its lowest."""

    def make(corner: Corner, _rises: Rises) -> Element:
        sign = corner.of(name)
        volts, ohms = source_of(supply, max(sign, 0) if never_low else sign)
        return Source(plus, minus, volts, ohms)

    return make


def dc_converter(
    name: str, into: int, back: int, plus: int, minus: int, supply: Supply, source: Supply, idle_watts: float
) -> Maker:
    """A DC converter and what it is fed by, with its idle power in W."""

    def make(corner: Corner, _rises: Rises) -> Element:
        sign = corner.of(name) if corner.converters is None else corner.converters
        volts, _, least = converter_volts(supply, sign)
        efficiency = efficiency_of(supply, source, sign, corner.of(supply.fed_by or ""))
        return Converter(into, back, plus, minus, volts, efficiency, least * (1.0 - DUST), idle_watts)

    return make
