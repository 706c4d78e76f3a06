"""A deck's cards evaluated without ngspice: how well its operating point keeps Kirchhoff's laws and the heat balances.

Each card's law is evaluated in Python, its slopes by differences; a step of Newton's method in NumPy then shows how far
from the solution ngspice stopped.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable

import numpy as np

from tests.outside.whole_builds.deck import GROUND, SLOPE, Card, Deck, Point, fitted, heat_of

__all__ = ["left_over", "refined"]

Law = Callable[[np.ndarray], float]


def left_over(point: Point) -> float:
    """The most by which a node or a law is out, in A, V or W."""
    system = _System(point.deck)
    return float(np.abs(system.residual(system.start(point))).max())


def refined(point: Point) -> Point:
    """The operating point after one step."""
    system = _System(point.deck)
    x = system.start(point)
    x = x - np.linalg.solve(system.slopes(x), system.residual(x))
    found = {f"v({name})": x[position] for name, position in system.nodes.items()}
    return Point(point.deck, found | {f"i({name.lower()})": x[at] for name, at in system.flows.items()})


class _System:
    """Unknowns: volts of the nodes, then the current of each card that is no resistance."""

    def __init__(self, deck: Deck) -> None:
        self.deck = deck
        warm = [Card(f"Rh{n}", (heat_of(place), GROUND), "1") for n, place in enumerate(deck.rises)]
        cards = [*deck.cards, *warm]
        self.cards = [
            card for card in cards if card.name[0] != "R" or len({*map(deck.called, card.nodes)}) > 1
        ]
        names = {deck.called(node) for card in self.cards for node in card.nodes} - {"0"}
        self.nodes = {name: position for position, name in enumerate(sorted(names))}
        self.own = [card for card in self.cards if card.name[0] != "R"]
        self.flows = {card.name: len(self.nodes) + position for position, card in enumerate(self.own)}
        self.size = len(self.nodes) + len(self.flows)
        self.laws = [self._law(card) for card in self.own]

    def _volts(self, node: str) -> Law:
        position = self.nodes.get(self.deck.called(node))
        return (lambda _x: 0.0) if position is None else (lambda x: x[position])

    def _law(self, card: Card) -> Law:
        """What is zero where the law of a card holds."""
        seen, flow = [self._volts(node) for node in card.nodes], self.flows[card.name]
        if card.name[0] == "V":
            return lambda x: seen[0](x) - seen[1](x) - float(card.rest)
        if card.name[0] == "D":
            saturation, ohms = fitted(self.deck.kinds[card.rest])
            return lambda x: x[flow] - _shockley(seen[0](x) - seen[1](x), saturation, ohms)
        what, text = re.fullmatch(r"(I|V)=\{(.*)\}", card.rest).groups()
        text = re.sub(r"V\(%(\d)\)", r"s[\1](x)", re.sub(r"V\(%(\d),%(\d)\)", r"(s[\1](x)-s[\2](x))", text))
        text = re.sub(r"I\((\w+)\)", lambda found: f"x[{self.flows[found[1]]}]", text)
        value: Law = eval(f"lambda x: {text}", {"s": seen})
        if what == "V":
            return lambda x: seen[0](x) - seen[1](x) - value(x)
        return lambda x: x[flow] - value(x)

    def start(self, point: Point) -> np.ndarray:
        """As ngspice found it; currents that it does not write down follow from the volts by their own laws."""
        volts = [point.found[f"v({name})"] for name in self.nodes]
        x = np.array([*volts, *(point.found.get(f"i({card.name.lower()})", 0.0) for card in self.own)])
        for card, law in zip(self.own, self.laws, strict=True):
            if card.name[0] == "D" or card.rest.startswith("I="):
                x[self.flows[card.name]] = 0.0
                x[self.flows[card.name]] = -law(x)
        return x

    def residual(self, x: np.ndarray) -> np.ndarray:
        left = np.zeros(self.size + 1)  # the last for the ground
        for card in self.cards:
            a, b = (self.nodes.get(self.deck.called(node), -1) for node in card.nodes[:2])
            if card.name[0] == "R":
                amps = ((x[a] if a >= 0 else 0.0) - (x[b] if b >= 0 else 0.0)) / float(card.rest)
            else:
                amps = x[self.flows[card.name]]
            left[a] += amps
            left[b] -= amps
        left[len(self.nodes) : self.size] = [law(x) for law in self.laws]
        return left[:-1]

    def slopes(self, x: np.ndarray) -> np.ndarray:
        matrix = np.zeros((self.size, self.size))
        for position in range(self.size):
            step = np.zeros(self.size)
            step[position] = 1e-7 * max(1e-3, abs(x[position]))
            change = self.residual(x + step) - self.residual(x - step)
            matrix[:, position] = change / (2 * step[position])
        return matrix


def _shockley(volts: float, saturation: float, ohms: float) -> float:
    """The current in A through junction and resistance in series, by halving."""
    if volts <= 0.0:
        return saturation * math.expm1(volts / SLOPE)
    low, high = 0.0, volts / ohms
    while True:
        amps = (low + high) / 2
        if amps in (low, high):
            return amps
        if SLOPE * math.log1p(amps / saturation) + ohms * amps > volts:
            high = amps
        else:
            low = amps
