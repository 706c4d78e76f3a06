"""Converters and constant-power loads, followed from no load upwards.

A constant-power load on a resistive feed has two solutions or none; the one reached when the power taken grows
from nothing is the one that starts. All powers are multiplied by a factor that is led from 0 to 1. As long as the
network stays positive definite, and so does the coupling of the converters among themselves, the path has not
passed its nose; where it cannot go on, the load whose input has sunk furthest will not start.
"""

from __future__ import annotations

from postcheck.physics.network.elements import ConstantPower, Converter, Source
from postcheck.physics.network.newton import State, newton
from postcheck.physics.network.sparse import Factors

__all__ = ["Coupling", "emf_response", "follow", "settle", "solve_dense"]

_DENSE = 60  # converters above which the coupling is iterated instead of solved
_FIRM = 0.8  # share of its no-load voltage above which an input is surely on the upper branch
_FINEST = 1e-5


def emf_response(state: State, factors: Factors, k: int) -> list[float]:
    """DV / dE of every node (no unit) for the EMF of source or converter output k, powers held.

    By reciprocity it is also minus the change of its current (A) for a current injected into the node (A).
    """
    structure, element = state.structure, state.elements[k]
    if not isinstance(element, Source | Converter):
        raise TypeError(f"element {k} has no EMF")
    right = [0.0] * (structure.units + 1)
    unit = structure.unit
    if element.ohms > 0.0:
        right[unit[element.out_plus if isinstance(element, Converter) else element.plus]] += (
            1.0 / element.ohms
        )
        right[unit[element.out_minus if isinstance(element, Converter) else element.minus]] -= (
            1.0 / element.ohms
        )
        shift = [0.0] * structure.nodes
    else:
        shift = [0.0] * structure.nodes
        for tie, above, node, upper in structure.forest:
            shift[node] = shift[above] + ((1.0 if upper else -1.0) if tie == k else 0.0)
        for table in state.tables:
            places = table.places
            for a, b, p, q, g in zip(places.a, places.b, places.p, places.q, table.slopes, strict=True):
                change = (shift[a] - shift[b]) * g
                right[p] -= change
                right[q] += change
    move = [*factors.solve(right[:-1]), 0.0]
    return [move[u] + s if u >= 0 else 0.0 for u, s in zip(unit, shift, strict=True)]


def _outputs(state: State) -> list[tuple[int, Converter]]:
    """(position in the power table, converter) of the running converters."""
    found = []
    for position, k in enumerate(state.powers.places.element):
        element = state.elements[k]
        if isinstance(element, Converter):
            found.append((position, element))
    return found


def _wanted(state: State) -> list[float]:
    """W that each power branch asks for in the present state."""
    watts = []
    flows = state.structure.flows(state.node_currents())
    for k in state.powers.places.element:
        element = state.elements[k]
        if isinstance(element, ConstantPower):
            watts.append(element.watts)
        elif isinstance(element, Converter):
            if element.ohms == 0.0:
                power = -flows[k] * element.volts
            else:
                volts = _across(state, element.out_plus, element.out_minus)
                power = volts * (element.volts - volts) / element.ohms
            watts.append(max(0.0, power) / element.efficiency + element.idle_watts)
    return watts


def _across(state: State, a: int, b: int) -> float:
    unit, offset, x = state.structure.unit, state.offset, state.x
    return x[unit[a]] - x[unit[b]] + (offset[a] - offset[b])


class Coupling:
    """First-order coupling of the running converters in a solved state.

    `views[j]` is the emf_response of output j; `gains[j]` the W that input j asks for per A more at its output;
    `matrix` is 1 - d(W asked by j) / d(W taken by k).
    """

    def __init__(self, state: State, factors: Factors, factor: float = 1.0) -> None:
        self.state = state
        self.factors = factors
        self.outputs: list[tuple[int, Converter]] = _outputs(state)
        self.volts: list[float] = state.powers.volts(state.x)
        self.views: list[list[float]] = []
        self.gains: list[float] = []
        for position, element in self.outputs:
            self.views.append(emf_response(state, factors, state.powers.places.element[position]))
            out = _across(state, element.out_plus, element.out_minus)
            gain = 2.0 * out - element.volts  # its volts where it has no resistance
            busy = state.powers.watts[position] > factor * element.idle_watts
            self.gains.append(factor * gain / element.efficiency if busy else 0.0)
        places = state.powers.places
        self.matrix: list[list[float]] = [
            [
                float(j == k)
                - gain * (view[places.a[position]] - view[places.b[position]]) / self.volts[position]
                for k, (position, _) in enumerate(self.outputs)
            ]
            for j, (view, gain) in enumerate(zip(self.views, self.gains, strict=True))
        ]

    def pulls(self) -> list[list[float]]:
        """Change of the unknowns (V) per W more that each converter is made to ask for, all of them answering."""
        places, found, size = self.state.powers.places, [], len(self.outputs)
        for asks in range(size):
            taken = solve_dense(self.matrix, [float(j == asks) for j in range(size)]) or [0.0] * size
            right = [0.0] * (self.state.structure.units + 1)
            for (position, _), watts in zip(self.outputs, taken, strict=True):
                right[places.p[position]] -= watts / self.volts[position]
                right[places.q[position]] += watts / self.volts[position]
            found.append([*self.factors.solve(right[:-1]), 0.0])
        return found


def solve_dense(matrix: list[list[float]], right: list[float]) -> list[float] | None:
    """Solve by Gauss with row exchange; None where the determinant is not above zero."""
    n = len(right)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    below = False
    for i in range(n):
        best = max(range(i, n), key=lambda r: abs(rows[r][i]))
        if rows[best][i] == 0.0:
            return None
        if best != i:
            rows[i], rows[best] = rows[best], rows[i]
            below = not below
        if rows[i][i] < 0.0:
            below = not below
        for r in range(i + 1, n):
            ratio = rows[r][i] / rows[i][i]
            for c in range(i, n + 1):
                rows[r][c] -= ratio * rows[i][c]
    if below:
        return None
    x = [0.0] * n
    for i in reversed(range(n)):
        x[i] = (rows[i][n] - sum(rows[i][c] * x[c] for c in range(i + 1, n))) / rows[i][i]
    return x


def settle(state: State, factor: float) -> bool:
    """Solve with the given share of every power, starting from state.x and state.powers.watts."""
    outputs = _outputs(state)
    taken = state.powers.watts
    for position, k in enumerate(state.powers.places.element):
        element = state.elements[k]
        if isinstance(element, ConstantPower):
            taken[position] = factor * element.watts
    for turn in range(80):
        if not newton(state):
            break
        if not outputs:
            return True
        wanted = _wanted(state)
        lacking = [factor * wanted[position] - taken[position] for position, _ in outputs]
        # the rounding of thick wires' currents may leave more than 1e-13 of a small output
        close = 1e-13 if turn < 5 else 1e-9
        if max(map(abs, lacking)) <= close * max(taken) + 1e-16:
            return True
        change = lacking
        if len(outputs) <= _DENSE:
            solved = solve_dense(Coupling(state, state.factor(), factor).matrix, lacking)
            if solved is None:
                break
            change = solved
        for (position, _), step in zip(outputs, change, strict=True):
            taken[position] = max(0.0, taken[position] + step)
        if max(map(abs, change)) <= 1e-12 * max(taken):
            return newton(state)
    return False


def follow(state: State) -> tuple[int, ...] | None:
    """Lead the powers from nothing to their full value. Elements that will not start, () when all do.

    None when not even the unloaded network can be solved.
    """
    powers = state.powers
    powers.watts = [0.0] * len(powers.watts)
    if not settle(state, 0.0):
        return None
    element = powers.places.element
    if not element:
        return ()
    least = [state.elements[k].least_volts for k in element]  # type: ignore[union-attr]
    empty = powers.volts(state.x)
    low = tuple(k for k, v, limit in zip(element, empty, least, strict=True) if v < limit)
    if low:
        return low
    reached, step = 0.0, 1.0
    while reached < 1.0:
        before = state.x[:], powers.watts[:]
        aim = min(1.0, reached + step)
        good = settle(state, aim)
        volts = powers.volts(state.x)
        if good and step == 1.0:
            good = all(v >= _FIRM * v0 for v, v0 in zip(volts, empty, strict=True))
        if good and min(volts) > 0.0:
            reached, step = aim, min(0.5, 2.0 * step)
            continue
        state.x, powers.watts = before
        step = 0.25 if step == 1.0 else step / 2.0
        if step < _FINEST:
            return (_sunk(element, powers.volts(state.x), empty),)
    volts = powers.volts(state.x)
    if any(v < limit for v, limit in zip(volts, least, strict=True)):
        return (_sunk(element, volts, least),)
    return ()


def _sunk(element: list[int], volts: list[float], full: list[float]) -> int:
    """The element whose voltage is the smallest share of what it was, or should be."""
    return min(zip((v / f for v, f in zip(volts, full, strict=True)), element, strict=True))[1]
