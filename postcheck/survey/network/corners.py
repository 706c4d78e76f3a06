"""Each lamp's lowest and highest current: its own parts at one extreme, all others at the opposite one.

All-high and all-low alone miss the worst on a shared path: a lamp gets most when the others take least. Where a
build has few different strings each corner is a full solution; above that, the rest of the network is replaced
by its driving-point equivalent from one sweep and the lamp's own step is solved on it. Diode strings take
ever more current per volt, so for the highest current that equivalent errs to the safe side.
"""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.physics.network import Element, Port, Resistance, String, respond
from postcheck.survey.network.elements import REFERENCE, Corner
from postcheck.survey.network.netlist import State
from postcheck.survey.network.states import Solved, States

__all__ = ["Air", "CornerFinder", "Span"]

# Up to this many different strings, every corner is solved in full.
EXACT_STRINGS = 48
# A string warms itself by its own highest current: each pass shrinks what is left about twentyfold, and five
# millikelvin are a fiftieth of a millivolt.
WARMING_PASSES = 6
SAME_RISE = 0.005


class Air(NamedTuple):
    """Air temperatures in degC: usual, lowest, highest."""

    usual: float
    low: float
    high: float

    @classmethod
    def of(cls, build: Build) -> Air:
        """The air of a build; usual is the middle of its range."""
        low, high = build.build.air
        return cls((low + high) / 2, low, high)


class Span(NamedTuple):
    """Lowest and highest current of a string, A: stacked worst, and likely."""

    lowest: float
    highest: float
    likely_lowest: float
    likely_highest: float


class CornerFinder:
    """Finds the spans of strings; equal strings at one pair of nodes are worked out once."""

    def __init__(self, states: States, air: Air) -> None:
        self.states = states
        self.air = air
        self.nominal: Corner = REFERENCE._replace(copper=air.usual, junction=air.usual)
        self._changed: dict[tuple[State, Corner, Element], float | None] = {}
        self._ports: dict[tuple[State, Corner], dict[int, Port]] = {}
        self._exact: bool | None = None

    # The bases: everything but the lamp in question at the extreme that favours (or starves) it.

    @property
    def favouring(self) -> Corner:
        """Supplies high, all others taking least, wires cold."""
        return Corner(1, -1, -1, -1, self.air.low, self.air.low)

    @property
    def starving(self) -> Corner:
        """Supplies low, all others taking most, wires hot and at their most."""
        return Corner(-1, 1, 1, 1, self.air.high, self.air.high, most=True)

    @property
    def heaviest(self) -> Corner:
        """Supplies high and everything taking most: the highest load."""
        return Corner(1, 1, 1, 1, self.air.low, self.air.high)

    @property
    def sagging(self) -> Corner:
        """The highest load of a converter's source: it is low, what the converter feeds takes most."""
        return self.heaviest._replace(supply=-1, converters=1)

    @property
    def exact(self) -> bool:
        """Whether corners are full solutions here."""
        if self._exact is None:
            solved = self.states.solved(self.states.everything, self.nominal)
            strings = set() if solved is None else {solved.elements[p] for p in self._strings(solved)}
            self._exact = len(strings) <= EXACT_STRINGS
        return self._exact

    @staticmethod
    def _strings(solved: Solved) -> list[int]:
        return [
            p
            for (kind, _), places in solved.netlist.index.items()
            if kind in ("lamp", "strip")
            for p in places
        ]

    def span(self, kind: str, name: str, number: int, circuit: str) -> Span | None:
        """The span of string `number` of a part, or None where a state it needs has no solution."""
        high_state, low_state = self.states.highest_state(circuit), self.states.everything
        highest = self._own(
            high_state, self.favouring, kind, name, number, dice=1, resistors=1, junction=self.air.high
        )
        lowest = self._own(
            low_state, self.starving, kind, name, number, dice=-1, resistors=-1, junction=self.air.low
        )
        likely_high = self._likely(high_state, 1, kind, name, number)
        likely_low = self._likely(low_state, -1, kind, name, number)
        if highest is None or lowest is None or likely_high is None or likely_low is None:
            return None
        return Span(lowest, highest, max(lowest, likely_low), min(highest, likely_high))

    def alone(self, kind: str, name: str) -> float | None:
        """The most that a string gets when nothing else takes current: tried first, or the last that still works."""
        return self._own(
            self.states.unloaded, self.favouring, kind, name, 0, dice=1, resistors=1, junction=self.air.high,
            full=False,  # with all else dark the rest is linear, and its equivalent exact
        )  # fmt: skip

    def _own(
        self, state: State, corner: Corner, kind: str, name: str, number: int, *, dice: int, resistors: int,
        junction: float | None, full: bool | None = None,
    ) -> float | None:  # fmt: skip
        """One string's current with its own parts at a corner.

        At its highest it has warmed itself by that very current; at its lowest it has just been switched on.
        """
        base = self.states.solved(state, corner)
        if base is None:
            return None
        position = base.of(kind, name)[number]
        own = corner._replace(dice=dice, resistors=resistors, junction=junction)
        make = base.netlist.slots[position].make
        if corner == self.starving:
            return self._with(state, corner, base, position, make(own, 0.0), full)
        rise = base.heating.get(position, 0.0)
        amps = self._with(state, corner, base, position, make(own, rise), full)
        for _ in range(WARMING_PASSES if corner == self.favouring else 0):
            before, rise = (
                rise,
                0.0 if amps is None else self.states.rise_of((kind, name), make(own, rise), amps),
            )
            if abs(rise - before) < SAME_RISE:
                break
            amps = self._with(state, corner, base, position, make(own, rise), full)
        return amps

    def _with(
        self, state: State, corner: Corner, base: Solved, position: int, element: Element, full: bool | None
    ) -> float | None:
        if element == base.elements[position]:
            return base.solution.amps[position]
        # The element names its nodes, so equal elements of one state and corner are one case.
        key = (state, corner, element)
        if key not in self._changed:
            self._changed[key] = self._respond(
                state, corner, base, position, element, self.exact if full is None else full
            )
        return self._changed[key]

    def _respond(
        self, state: State, corner: Corner, base: Solved, position: int, element: Element, full: bool
    ) -> float | None:
        if full:
            return self.states.changed(base, position, element)
        if (state, corner) not in self._ports:
            indices = tuple(self._strings(base))
            self._ports[state, corner] = dict(zip(indices, base.solution.ports(indices), strict=True))
        if not isinstance(element, String | Resistance):
            return self.states.changed(base, position, element)
        return respond(self._ports[state, corner][position], element)[0]

    def _likely(self, state: State, sign: int, kind: str, name: str, number: int) -> float | None:
        """Root of the sum of squares of single deviations: supply, forward voltage, resistor, air."""
        typical = self.states.solved(state, self.nominal)
        shifted = self.states.solved(state, self.nominal._replace(supply=sign))
        if typical is None or shifted is None:
            return None
        position = typical.of(kind, name)[number]
        nominal = typical.solution.amps[position]
        deviations = [shifted.solution.amps[position] - nominal]
        air = self.air.high if sign > 0 else self.air.low
        for dice, resistors, junction in ((sign, 0, self.air.usual), (0, sign, self.air.usual), (0, 0, air)):
            amps = self._own(
                state,
                self.nominal,
                kind,
                name,
                number,
                dice=dice,
                resistors=resistors,
                junction=junction,
                full=False,
            )
            if amps is None:
                return None
            deviations.append(amps - nominal)
        return nominal + sign * sqrt(sum(deviation * deviation for deviation in deviations))
