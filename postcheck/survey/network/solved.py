"""One solution of a build's network, with what it belongs to."""

from __future__ import annotations

from postcheck.physics.network import Converter, Element, Network, Solution, Source
from postcheck.survey.network.elements import Corner, StringMaker
from postcheck.survey.network.netlist import Netlist
from postcheck.wiring.graph import Node


class Solved:
    """A converged solution with its network, its corner and its elements."""

    __slots__ = ("corner", "elements", "netlist", "network", "solution")

    def __init__(
        self,
        netlist: Netlist,
        network: Network,
        corner: Corner,
        elements: tuple[Element, ...],
        solution: Solution,
    ) -> None:
        self.netlist: Netlist = netlist
        self.network: Network = network
        self.corner: Corner = corner
        self.elements: tuple[Element, ...] = elements
        self.solution: Solution = solution

    def of(self, kind: str, name: str) -> list[int]:
        """Positions of a part's elements."""
        return self.netlist.index.get((kind, name), [])

    def amps(self, kind: str, name: str) -> list[float]:
        """Currents of a part's elements, in order."""
        return [self.solution.amps[position] for position in self.of(kind, name)]

    def across(self, position: int) -> float:
        """Volts across an element, from its a to its b; none where a break has left an end of it floating."""
        element = self.elements[position]
        if isinstance(element, Source | Converter):
            raise TypeError("a source has poles, not ends")
        first, last = self.solution.volts[element.a], self.solution.volts[element.b]
        return 0.0 if first is None or last is None else first - last

    def volts(self, node: Node) -> float | None:
        """Potential of a node of the wiring; None where it is not known."""
        number = self.netlist.nodes.get(node)
        return None if number is None else self.solution.volts[number]

    def maker(self, position: int) -> StringMaker:
        """What made a string: its dice, places, resistor and wires."""
        make = self.netlist.slots[position].make
        if not isinstance(make, StringMaker):
            raise TypeError(f"element {position} is no string")
        return make

    def resistor(self, position: int) -> float:
        """Ohm of the resistor that is part of a string."""
        return self.maker(position).resistor_ohms(self.corner)

    def wires(self, position: int) -> float:
        """Ohm of the wires that are part of a string."""
        return self.maker(position).wire_ohms(self.corner)
