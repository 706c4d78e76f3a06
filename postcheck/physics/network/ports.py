"""What each lamp sees of the rest of the circuit, and what a small change does.

All of it is linear about a solution: exact for small changes, a good first answer for larger ones.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from postcheck.physics.network.converters import Coupling
from postcheck.physics.network.elements import (
    Demand,
    Drop,
    Filament,
    Resistance,
    SteadyCurrent,
    String,
)
from postcheck.physics.network.laws import filament_law, ramp_of
from postcheck.physics.network.newton import State
from postcheck.physics.network.solution import Solution
from postcheck.physics.network.sparse import Factors
from postcheck.physics.network.strings import behind, string_constants, string_law

__all__ = ["Port", "Replacement", "influence", "ports", "respond", "short_current"]

_LARGEST = 1e15  # ohm; a constant current is given this resistance

Replacement = Resistance | String | Filament | SteadyCurrent | Demand | Drop | None


class Port(NamedTuple):
    """The rest of a circuit at the terminals of one element: V = open_volts - ohms I, near (volts, amps).

    `element`: its number in the circuit. `open_volts` in V and `ohms`: what it would see with nothing in its place, and
    behind what resistance. `volts`, `amps`: what it has and takes in the solution. `ohms` is at most 1e15 (a constant-current feed). It can be below zero beside constant-power loads.
    """

    element: int
    open_volts: float
    ohms: float
    volts: float
    amps: float


def ports(solution: Solution, indices: Iterable[int] | None = None) -> list[Port]:
    """Thevenin equivalents of everything else, for each String and Filament (or those of `indices`), in order.

    One elimination and one backward sweep for the entries of the inverse on the pattern of the circuit
    (Takahashi's recurrence): z = Z_aa + Z_bb - 2 Z_ab, then the element's own conductance g is taken away:
    1 / ohms = 1 / z - g. Converters answer to first order. Elements that float see 1e15 ohm and no voltage.
    ValueError for ideal ties, converters and constant power, and for a solution that is none.
    """
    state = _state(solution)
    elements = state.elements
    if indices is None:
        wanted = [k for k, e in enumerate(elements) if isinstance(e, String | Filament)]
    else:
        wanted = list(indices)
        for k in wanted:
            if not 0 <= k < len(elements):
                raise ValueError(f"there is no element {k!r}: they go from 0 to {len(elements) - 1}")
    tables = [t for t in state.tables if t is not state.powers]
    where = {k: (t, n) for t in tables for n, k in enumerate(t.places.element)}
    factors = state.factor()
    diagonal, off = factors.inverse()
    coupling = Coupling(state, factors) if state.powers.p else None
    if coupling is not None and not coupling.outputs:
        coupling = None
    pulls = coupling.pulls() if coupling else []
    index, count = state.structure.pattern.index, state.structure.units
    found = []
    for k in wanted:
        if k not in where:
            if isinstance(elements[k], Resistance | String | Filament | SteadyCurrent | Demand):
                found.append(Port(k, 0.0, _LARGEST, 0.0, 0.0))
                continue
            raise ValueError(f"element {k} has no port: {elements[k]!r}")
        table, n = where[k]
        p, q, amps, g = table.p[n], table.q[n], table.amps[n], table.slopes[n]
        volts = state.x[p] - state.x[q] + table.offset[n]
        z = 0.0
        if p != q:
            if p < count:
                z += diagonal[p]
            if q < count:
                z += diagonal[q]
                if p < count:
                    z -= 2.0 * off[index[(p, q) if p < q else (q, p)]]
        if coupling:
            a, b = table.places.a[n], table.places.b[n]
            asked = [
                -gain * (view[a] - view[b]) for view, gain in zip(coupling.views, coupling.gains, strict=True)
            ]
            z += sum(watts * (pull[p] - pull[q]) for watts, pull in zip(asked, pulls, strict=True))
        rest = 1.0 - g * z
        ohms = z / rest if abs(rest) > abs(z) / _LARGEST else _LARGEST
        found.append(Port(k, volts + ohms * amps, ohms, volts, amps))
    return found


def short_current(port: Port) -> float:
    """A that would flow through a short in place of the element, if the rest stayed linear: open_volts / ohms.

    An ideal source gives infinity. Real lamps nearby go dark and let it grow a little less: solve again to be sure.
    """
    if port.ohms == 0.0:
        return float("inf") if port.open_volts > 0 else float("-inf") if port.open_volts < 0 else 0.0
    return port.open_volts / port.ohms


def respond(port: Port, element: Replacement) -> tuple[float, float]:
    """(A, V) of another element in the place of the port's own, None for an open end.

    Solves I = law(open_volts - ohms I) exactly; only the rest of the circuit is taken as linear.
    """
    if element is None:
        return 0.0, port.open_volts
    if isinstance(element, String) and port.ohms >= 0.0:
        amps, _, _ = string_law(port.open_volts, behind(string_constants(element), port.ohms))
        return amps, port.open_volts - port.ohms * amps
    if isinstance(element, Resistance):
        amps = port.open_volts / (element.ohms + port.ohms)
        return amps, amps * element.ohms
    if isinstance(element, Drop) and element.ohms == 0.0:
        over = port.open_volts - element.volts
        return (over / port.ohms, element.volts) if over > 0.0 < port.ohms else (0.0, port.open_volts)
    return _meet(port, element)


def _law(element: Replacement, volts: float) -> tuple[float, float]:
    if isinstance(element, Filament):
        return filament_law(element, volts)
    if isinstance(element, String):
        amps, slope, _ = string_law(volts, string_constants(element))
        return amps, slope
    if isinstance(element, SteadyCurrent | Demand | Drop):
        foot, g, most = ramp_of(element)
        amps = (volts - foot) * g
        if 0.0 < amps < most:
            return amps, g
        return min(max(amps, 0.0), most), 0.0
    raise TypeError(f"no law for {element!r}")


def _meet(port: Port, element: Replacement) -> tuple[float, float]:
    """Where the law meets the port's line: Newton kept inside a shrinking interval."""
    low, high = sorted((0.0, port.open_volts)) if port.ohms >= 0.0 else (-1e6, 1e6)
    volts = min(max(port.volts, low), high)
    amps = 0.0
    for _ in range(200):
        amps, slope = _law(element, volts)
        value = volts - port.open_volts + port.ohms * amps
        rise = 1.0 + port.ohms * slope
        if value > 0.0:
            high = volts
        else:
            low = volts
        after = volts - value / rise if rise > 0.0 else low
        if not low <= after <= high:
            after = 0.5 * (low + high)
        if abs(after - volts) <= 1e-14 * (abs(after) + 1e-3):
            break
        volts = after
    return amps, volts


def influence(solution: Solution, injected: Mapping[int, float]) -> tuple[float | None, ...]:
    """Change of every node voltage (V) for small currents injected into nodes (A, taken back out at earth).

    One forward and one backward sweep; divide by the injected current for ohm. None where a node floats. With
    {a: 1, b: -1} it is the response to one ampere from b to a, and equals by reciprocity the weight of every
    node in v[a] - v[b] (but for converters, which are not reciprocal).
    """
    state = _state(solution)
    structure = state.structure
    right = [0.0] * (structure.units + 1)
    for node, amps in injected.items():
        if not 0 <= node < structure.nodes:
            raise ValueError(f"there is no node {node!r}: they go from 0 to {structure.nodes - 1}")
        if structure.unit[node] < 0:
            raise ValueError(f"node {node} floats")
        right[structure.unit[node]] += amps
    factors: Factors = state.factor()
    move = [*factors.solve(right[:-1]), 0.0]
    if state.powers.p:
        coupling = Coupling(state, factors)
        asked = [
            -gain * sum(view[node] * amps for node, amps in injected.items())
            for view, gain in zip(coupling.views, coupling.gains, strict=True)
        ]
        for watts, pull in zip(asked, coupling.pulls(), strict=True):
            move = [m + watts * d for m, d in zip(move, pull, strict=True)]
    return tuple(None if unit < 0 else move[unit] for unit in structure.unit)


def _state(solution: Solution) -> State:
    if solution.state is None:
        raise ValueError(f"there is no solution to look into: {solution.reason}")
    return solution.state
