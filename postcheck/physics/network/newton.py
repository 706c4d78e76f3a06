"""Newton's method on the voltages of a compiled circuit.

Without constant-power loads the currents are the gradient of a convex potential (the co-content, Millar 1951),
so that a step cut until the slope along it no longer points back always leads to the one solution.
"""

from __future__ import annotations

from collections.abc import Sequence

from postcheck.physics.network.elements import (
    ConstantPower,
    Converter,
    Drop,
    Element,
    Filament,
    Resistance,
    Source,
    String,
)
from postcheck.physics.network.laws import (
    FilamentTable,
    LinearTable,
    PowerTable,
    RampTable,
    Table,
    ramp_of,
)
from postcheck.physics.network.sparse import Factors
from postcheck.physics.network.strings import StringTable
from postcheck.physics.network.structure import Structure, is_tie, tie_volts

__all__ = ["State", "newton"]

_CLOSE = 1e-9  # V, a Newton step this small leaves an error far below 1e-15 V
_STEPS = 150
_WARM_STEPS = 40  # a string that runs away between two steps is found otherwise


class State:
    """A compiled circuit with values and the unknown voltages `x` (the last one is earth, always 0)."""

    def __init__(self, structure: Structure, elements: Sequence[Element]) -> None:
        self.structure = structure
        self.elements = elements
        self.offset: list[float] = structure.offsets(elements)
        self.x: list[float] = [0.0] * (structure.units + 1)
        self.steps = 0
        self.linear: LinearTable = self._linear()
        self.ramps: RampTable = self._ramps()
        self.filaments: FilamentTable = self._filaments()
        self.powers: PowerTable = self._powers()
        self.strings: StringTable = self._strings()
        every = (self.linear, self.ramps, self.filaments, self.powers, self.strings)
        self.tables: tuple[Table, ...] = tuple(table for table in every if table.p)
        self.span: float = 1.0 + sum(abs(tie_volts(elements[k])) for k in structure.emfs)
        self.conductance: list[float] = []

    def _between(self, kind: str) -> list[float]:
        offset, places = self.offset, self.structure.places[kind]
        return [offset[a] - offset[b] for a, b in zip(places.a, places.b, strict=True)]

    def _linear(self) -> LinearTable:
        places = self.structure.places["linear"]
        table = LinearTable(places, self._between("linear"))
        table.slopes, table.emf = [], []
        for k in places.element:
            element = self.elements[k]
            if isinstance(element, Resistance):
                table.emf.append(0.0)
            elif isinstance(element, Source | Converter):
                table.emf.append(element.volts)
            else:
                raise TypeError(f"{element!r} is not linear")
            table.slopes.append(1.0 / element.ohms)
        return table

    def _ramps(self) -> RampTable:
        places = self.structure.places["ramps"]
        table = RampTable(places, self._between("ramps"))
        for k in places.element:
            element = self.elements[k]
            opened = isinstance(element, Drop) and is_tie(element)
            foot, g, most = (element.volts, 0.0, 0.0) if opened else ramp_of(element)  # type: ignore[arg-type, union-attr]
            table.foot.append(foot)
            table.g.append(g)
            table.most.append(most)
        return table

    def _filaments(self) -> FilamentTable:
        places = self.structure.places["filaments"]
        table = FilamentTable(places, self._between("filaments"))
        table.lamps = [e for e in (self.elements[k] for k in places.element) if isinstance(e, Filament)]
        return table

    def _powers(self) -> PowerTable:
        places = self.structure.places["powers"]
        table = PowerTable(places, self._between("powers"))
        for k in places.element:
            element = self.elements[k]
            if isinstance(element, ConstantPower | Converter):
                table.floor.append(0.02 * element.least_volts)
        table.watts = [0.0] * len(table.floor)
        return table

    def _strings(self) -> StringTable:
        places = self.structure.places["strings"]
        strings = [e for e in (self.elements[k] for k in places.element) if isinstance(e, String)]
        return StringTable(places, self._between("strings"), strings)

    def begin(self, volts: Sequence[float | None]) -> None:
        """Take the start from node voltages."""
        structure = self.structure
        for node, unit in enumerate(structure.unit):
            if structure.root[node] == node and 0 <= unit < structure.units:
                value = volts[node]
                self.x[unit] = 0.0 if value is None else value

    def evaluate(self, x: list[float]) -> list[float]:
        """Current into each unknown's supernode (A) at these voltages; conductances are kept by edge."""
        into = [0.0] * len(x)
        conductance = [0.0] * self.structure.edges
        for table in self.tables:
            table.evaluate(x, into, conductance)  # type: ignore[attr-defined]
        self.conductance = conductance
        into[-1] = 0.0
        return into

    def factor(self) -> Factors:
        """Eliminate the network of the present slopes."""
        pattern = self.structure.pattern
        pairs = len(pattern.edges)
        return pattern.factor(self.conductance[:pairs], self.conductance[pairs:-1])

    def node_currents(self) -> list[float]:
        """Current (A) into every node from all branches but the ties."""
        into = [0.0] * self.structure.nodes
        for table in self.tables:
            places = table.places
            for a, b, i in zip(places.a, places.b, table.amps, strict=True):
                into[a] -= i
                into[b] += i
        return into

    def node_volts(self) -> tuple[float | None, ...]:
        """Voltage of every node; None where it floats."""
        structure, x, offset = self.structure, self.x, self.offset
        return tuple(None if unit < 0 else x[unit] + offset[node] for node, unit in enumerate(structure.unit))

    def largest(self) -> float:
        """Largest branch current (A)."""
        return max((max(map(abs, table.amps)) for table in self.tables), default=0.0)


def newton(state: State, limit: int = _STEPS) -> bool:
    """Move state.x to the solution. False: none found (with constant power: past the nose)."""
    x = state.x
    into = state.evaluate(x)
    count = state.structure.units
    small = False
    if any(constants[-1] for constants in state.strings.constants):
        limit = min(limit, _WARM_STEPS)
    for turn in range(limit):
        factors = state.factor()
        if not factors.sound:
            return False
        state.steps += 1
        move = factors.solve(into[:count])
        move.append(0.0)
        far = max(*move, -min(move))
        if far <= _CLOSE:
            x = [a + d for a, d in zip(x, move, strict=True)]
            into = state.evaluate(x)
            state.x = x
            worst = max(map(abs, into))
            if small or worst <= 1e-12 * state.largest() + 1e-16:
                return True
            small = True
            continue
        if turn >= 12 and _at_rounding(state, into, x):
            state.x = x
            return True
        fraction = min(1.0, 1.5 * state.span / far)
        x, into = _search(state, x, move, into, fraction)
        state.x = x
    return False


def _at_rounding(state: State, into: list[float], x: list[float]) -> bool:
    """Whether the remaining currents are no more than the rounding of the voltages makes."""
    size = 4e-16 * (state.span + max(map(abs, x)))
    return (
        max(map(abs, into)) <= size * max(map(abs, state.conductance), default=0.0) + 1e-14 * state.largest()
    )


def _search(
    state: State, x: list[float], move: list[float], into: list[float], fraction: float
) -> tuple[list[float], list[float]]:
    """A point along `move` at which the potential has surely fallen; `share` of the step is tried first.

    The slope of the potential along the step is -into.move; it rises with the share (convexity). A share is taken
    where the slope is still negative or has turned by less than half of what it was.
    """
    first = -sum(map(_times, into, move))
    low, low_slope = 0.0, first
    high = high_slope = 0.0
    best = x, into
    for _ in range(60):
        trial = [a + fraction * d for a, d in zip(x, move, strict=True)]
        found = state.evaluate(trial)
        slope = -sum(map(_times, found, move))
        if slope <= -0.1 * first if high == 0.0 else abs(slope) <= -0.1 * first:
            return trial, found
        if slope <= 0.0:
            low, low_slope = fraction, slope
            best = trial, found
            if fraction - high >= -1e-3 * high:
                break
        else:
            high, high_slope = fraction, slope
        fraction = low + (high - low) * min(0.9, max(0.1, low_slope / (low_slope - high_slope)))
    if best[0] is x:
        state.evaluate(trial)
        return trial, found
    state.evaluate(best[0])
    return best


def _times(a: float, b: float) -> float:
    return a * b
