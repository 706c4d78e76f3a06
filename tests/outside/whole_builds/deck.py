"""A SPICE deck with heat: conductors, dice and outputs as cards, and every place's heat as a node of its own.

The laws, from where each is stated, and nothing of postcheck:
- wires: R = R20 (1 + 0.00393 (T - 20)), IEC 60028, at the usual air (the middle of `air`); measured ohms and traces too;
- dice: V = n V_T ln(1 + I / I_s) + I R_s with n = 2 through the two points of the data sheet, moved by the coefficient
  per kelvin from 25 degC; the junction is warmer than the air of the die's own place by P times its K/W;
- places: what is dissipated in them, averaged over time, over their surface and 3.5 W/(m2 K) (the limit heat.per-area);
  of a conductor a half at each end, but for what lies in a passage, which is in neither.

The heat of a place is the voltage of a node on 1 ohm, in W; the own rise of a junction that of a node on its K/W, in K.
So ngspice finds currents and temperatures together; it is led there from nothing by a source of its own.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

__all__ = ["ALPHA", "PER_AREA", "SLOPE", "Card", "Deck", "Die", "Point", "fitted"]

ALPHA = 0.00393  # per K, IEC 60028
PER_AREA = 3.5  # W/(m2 K)
SLOPE = 2 * 1.380649e-23 * 298.15 / 1.602176634e-19  # n V_T at 25 degC, SI of 2019
# k T / q with the constants that ngspice 39 is compiled with (CODATA 2014)
SPICE_VT = 1.38064852e-23 * 298.15 / 1.6021766208e-19
GROUND = "ground"
# A node that leads the way: from 0 to 1 V the sources rise from nothing, to 2 V the dice warm from 25 degC.
LEAD = "lead"


class Die(NamedTuple):
    """Typical forward volts at amps, a lower point of the curve, V per K, and K per W of the junction."""

    volts: float
    amps: float
    low_volts: float
    low_amps: float
    per_kelvin: float
    kelvin_per_watt: float


def fitted(die: Die) -> tuple[float, float]:
    """(I_s, R_s) of a die's two points."""
    ohms = (die.volts - die.low_volts - SLOPE * math.log(die.amps / die.low_amps)) / (die.amps - die.low_amps)
    assert ohms >= 0.0
    return die.low_amps * math.exp(-(die.low_volts - die.low_amps * ohms) / SLOPE), ohms


class Card(NamedTuple):
    """One card between its first two nodes; %0, %1, ... in the rest stand for the nodes, also those only read."""

    name: str
    nodes: tuple[str, ...]
    rest: str


@dataclass
class Deck:
    """Cards between named nodes; `tie` makes two nodes one. `air`: usual air, degC; `rises`: K per W of each place."""

    air: float
    rises: dict[str, float]
    kinds: dict[str, Die]
    cards: list[Card] = field(default_factory=lambda: [Card("Vlead", (LEAD, GROUND), "2")])
    _same: dict[str, str] = field(default_factory=dict)
    _names: dict[str, str] = field(default_factory=dict)
    _count: int = 0

    def tie(self, first: str, last: str) -> None:
        first, last = self.root(first), self.root(last)
        if last == GROUND:
            first, last = last, first
        if first != last:
            self._same[last] = first

    def root(self, node: str) -> str:
        while node in self._same:
            node = self._same[node]
        return node

    def called(self, node: str) -> str:
        """The name of a node in the netlist."""
        root = self.root(node)
        return "0" if root == GROUND else self._names.setdefault(root, f"n{len(self._names) + 1}")

    def fresh(self) -> str:
        self._count += 1
        return f"between {self._count}"

    # -- cards

    def card(self, letter: str, nodes: Sequence[str], rest: str) -> str:
        name = f"{letter}{len(self.cards) + 1}"
        self.cards.append(Card(name, tuple(nodes), rest))
        return name

    def probe(self, start: str) -> tuple[str, str]:
        """A source of no volts that measures, and the node behind it."""
        behind = self.fresh()
        return self.card("V", (start, behind), "0"), behind

    def source(self, plus: str, minus: str, volts: float) -> str:
        """An ideal source; minus its current is what it delivers."""
        return self.card("B", (plus, minus, LEAD), f"V={{{volts:.17g}*min(1, V(%2))}}")

    def heat(self, place: str, watts: str, *nodes: str) -> None:
        """Watts in a place; %2, %3, ... stand for the nodes."""
        self.card("B", (GROUND, heat_of(place), *nodes), f"I={{{watts}}}")

    def resistor(self, a: str, b: str, ohms: float, places: Sequence[str], share: float) -> float:
        """A resistance that warms `places` alike, `share` of the time."""
        self.card("R", (a, b), f"{ohms:.17g}")
        for place in places:
            self.heat(place, f"{share / (ohms * len(places)):.17g}*V(%2,%3)*V(%2,%3)", a, b)
        return ohms

    def conductor(self, a: str, b: str, ohms20: float, places: Sequence[str], share: float) -> float:
        """A conductor by its resistance at 20 degC; what it has at the usual air is given back."""
        return self.resistor(a, b, ohms20 * (1.0 + ALPHA * (self.air - 20.0)), places, share)

    def ramp(self, a: str, b: str, amps: float, knee: float, place: str, share: float) -> str:
        """A load or constant-current output: `amps` from `knee` volts up, in proportion below, none in reverse."""
        probe, behind = self.probe(a)
        self.card("B", (behind, b), f"I={{{amps:.17g}*min(1, max(0, V(%0,%1)/{knee:.17g}))}}")
        self.heat(place, f"{share:.17g}*I({probe})*V(%2,%3)", behind, b)
        return probe

    def die(self, a: str, b: str, kind: str, place: str, probe: str, share: float) -> None:
        """A die from a to b, of which `probe` measures the current."""
        die, warmed = self.kinds[kind], a
        self.heat(place, f"{share:.17g}*I({probe})*V(%2,%3)", a, b)
        if die.per_kelvin:
            junction, warmed = self.fresh(), self.fresh()
            self.card("R", (junction, GROUND), f"{die.kelvin_per_watt:.17g}")
            self.card("B", (GROUND, junction, a, b), f"I={{I({probe})*V(%2,%3)}}")
            above = f"{self.air - 25:.17g} + {self.rises[place]:.17g}*V(%2) + V(%3)"
            shift = f"V={{{die.per_kelvin:.17g}*max(0, V(%4)-1)*({above})}}"
            self.card("B", (a, warmed, heat_of(place), junction, LEAD), shift)
        self.card("D", (warmed, b), kind)

    # -- text

    def text(self) -> str:
        lines = ["* a whole build"]
        for kind, die in self.kinds.items():
            saturation, ohms = fitted(die)
            lines.append(f".model {kind} D(IS={saturation:.17g} N={SLOPE / SPICE_VT:.17g} RS={ohms:.17g})")
        warm = [Card(f"Rh{n}", (heat_of(place), GROUND), "1") for n, place in enumerate(self.rises)]
        for card in (*self.cards, *warm):
            names = [self.called(node) for node in card.nodes]
            if card.name[0] != "R" or names[0] != names[1]:
                lines.append(f"{card.name} {names[0]} {names[1]} {_filled(card.rest, names)}")
        return "\n".join([*lines, ".end"])


def _filled(rest: str, names: list[str]) -> str:
    return re.sub(r"%(\d)", lambda found: names[int(found[1])], rest)


def heat_of(place: str) -> str:
    """The node whose volts are the heat of a place in W."""
    return f"heat in {place}"


class Point(NamedTuple):
    """An operating point, read by the nodes and sources of its deck."""

    deck: Deck
    found: dict[str, float]

    def volts(self, first: str, last: str = GROUND) -> float:
        return self._at(first) - self._at(last)

    def heat(self, place: str) -> float:
        return self._at(heat_of(place))

    def amps(self, source: str) -> float:
        return self.found[f"i({source.lower()})"]

    def _at(self, node: str) -> float:
        name = self.deck.called(node)
        return 0.0 if name == "0" else self.found[f"v({name})"]
