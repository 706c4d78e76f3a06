"""Branch laws I(V) with their slopes, one at a time and in tables that are evaluated in one sweep.

Every law is monotone (dI/dV >= 0) except constant power. Each diode, and each kinked law, is shunted by
`LEAK`, far below any insulation, so that points between dark parts have a definite voltage; 5 fA at 5 V.
"""

from __future__ import annotations

from math import inf

from postcheck.physics.network.elements import Demand, Drop, Filament, SteadyCurrent

__all__ = [
    "LEAK",
    "FilamentTable",
    "LinearTable",
    "Places",
    "PowerTable",
    "RampTable",
    "Table",
    "filament_law",
    "ramp_of",
]

LEAK = 1e-15
"""S, across each diode and kinked law."""
_KINK = 1e-9  # V
_COLD = 1e-3  # share of its rated voltage below which a filament is taken as a resistance


def filament_law(element: Filament, volts: float) -> tuple[float, float]:
    """(I, dI/dV) of a Filament with its series resistance, from the volts across both.

    What is left for the filament is sought from all of the volts downwards: its law bends one way only, so that after
    its first step Newton's iteration runs to the root from one side.
    """
    if element.ohms == 0.0:
        return _glow(element, volts)
    own = volts
    for _ in range(60):
        amps, slope = _glow(element, own)
        step = (own + element.ohms * amps - volts) / (1.0 + element.ohms * slope)
        own -= step
        if abs(step) <= 1e-14 * abs(volts):
            break
    amps, slope = _glow(element, own)
    return amps, slope / (1.0 + element.ohms * slope)


def _glow(element: Filament, volts: float) -> tuple[float, float]:
    """(I, dI/dW) of the filament itself: amps (|W| / volts)^exponent; a resistance below a thousandth of `volts`."""
    fraction = abs(volts) / element.volts
    if fraction <= _COLD:
        g = element.amps / element.volts * float(_COLD ** (element.exponent - 1.0))
        return g * volts, g
    amps = element.amps * float(fraction**element.exponent)
    return (amps if volts > 0 else -amps), element.exponent * amps / abs(volts)


def ramp_of(element: Drop | SteadyCurrent | Demand) -> tuple[float, float, float]:
    """(foot V, slope S, most A) of the kinked law I = min(max(0, (V - foot) slope), most)."""
    if isinstance(element, Drop):
        return element.volts, 1.0 / element.ohms, inf
    volts = element.compliance if isinstance(element, SteadyCurrent) else element.least_volts
    return 0.0, element.amps / volts, element.amps


class Places:
    """Where the branches of one kind lie: element, nodes a and b, unknowns p and q, and edge: topology only, values live in the table."""

    __slots__ = ("a", "b", "edge", "element", "p", "q")

    def __init__(self) -> None:
        self.element: list[int] = []
        self.a: list[int] = []
        self.b: list[int] = []
        self.p: list[int] = []
        self.q: list[int] = []
        self.edge: list[int] = []


class Table:
    """Branches of one kind with their values. `offset` is what is added to x[p] - x[q] to give the voltage."""

    __slots__ = ("amps", "edge", "offset", "p", "places", "q", "slopes")

    def __init__(self, places: Places, offset: list[float]) -> None:
        self.places: Places = places
        self.p: list[int] = places.p
        self.q: list[int] = places.q
        self.edge: list[int] = places.edge
        self.offset: list[float] = offset
        self.amps: list[float] = [0.0] * len(self.p)
        self.slopes: list[float] = [0.0] * len(self.p)

    def volts(self, x: list[float]) -> list[float]:
        """Voltage across each branch."""
        return [x[p] - x[q] + o for p, q, o in zip(self.p, self.q, self.offset, strict=True)]


class LinearTable(Table):
    """I = g (V - emf): resistances, and sources with an internal resistance."""

    __slots__ = ("emf",)

    def __init__(self, places: Places, offset: list[float]) -> None:
        super().__init__(places, offset)
        self.emf: list[float] = []

    def evaluate(self, x: list[float], into: list[float], conductance: list[float]) -> None:
        """Add the currents into `into` (A into each node) and the slopes to `conductance` (S by edge)."""
        amps: list[float] = []
        keep = amps.append
        rows = zip(self.p, self.q, self.edge, self.offset, self.slopes, self.emf, strict=True)
        for p, q, edge, offset, g, emf in rows:
            i = (x[p] - x[q] + (offset - emf)) * g
            keep(i)
            into[p] -= i
            into[q] += i
            conductance[edge] += g
        self.amps = amps


class RampTable(Table):
    """I = min(max(0, (V - foot) g), most): one-way drops, constant-current outputs, demands."""

    __slots__ = ("foot", "g", "most")

    def __init__(self, places: Places, offset: list[float]) -> None:
        super().__init__(places, offset)
        self.foot: list[float] = []
        self.g: list[float] = []
        self.most: list[float] = []

    def evaluate(self, x: list[float], into: list[float], conductance: list[float]) -> None:
        """As LinearTable.evaluate."""
        amps, slopes = [], []
        rows = zip(self.p, self.q, self.edge, self.offset, self.foot, self.g, self.most, strict=True)
        for p, q, edge, offset, foot, g, most in rows:
            v = x[p] - x[q] + offset
            i = (v - foot) * g
            # at a kink the steep side counts: a solution can sit there, and the flat side would step far away
            slope = g + LEAK if -_KINK * g < i < most + _KINK * g else LEAK
            i = min(max(i, 0.0), most) + LEAK * (v - foot)  # an output without a load stands at its drop
            amps.append(i)
            slopes.append(slope)
            into[p] -= i
            into[q] += i
            conductance[edge] += slope
        self.amps = amps
        self.slopes = slopes


class FilamentTable(Table):
    """Filament lamps."""

    __slots__ = ("lamps",)

    def __init__(self, places: Places, offset: list[float]) -> None:
        super().__init__(places, offset)
        self.lamps: list[Filament] = []

    def evaluate(self, x: list[float], into: list[float], conductance: list[float]) -> None:
        """As LinearTable.evaluate."""
        amps, slopes = [], []
        for p, q, edge, offset, lamp in zip(self.p, self.q, self.edge, self.offset, self.lamps, strict=True):
            i, g = filament_law(lamp, x[p] - x[q] + offset)
            amps.append(i)
            slopes.append(g)
            into[p] -= i
            into[q] += i
            conductance[edge] += g
        self.amps = amps
        self.slopes = slopes


class PowerTable(Table):
    """I = watts / V: constant-power loads and converter inputs. Below `floor` the current stays (never a solution)."""

    __slots__ = ("floor", "watts")

    def __init__(self, places: Places, offset: list[float]) -> None:
        super().__init__(places, offset)
        self.watts: list[float] = []
        self.floor: list[float] = []

    def evaluate(self, x: list[float], into: list[float], conductance: list[float]) -> None:
        """As LinearTable.evaluate; the slopes are negative."""
        amps, slopes = [], []
        rows = zip(self.p, self.q, self.edge, self.offset, self.watts, self.floor, strict=True)
        for p, q, edge, offset, watts, floor in rows:
            v = x[p] - x[q] + offset
            i, g = (watts / v, -watts / (v * v)) if v > floor else (watts / floor, 0.0)
            i += LEAK * v
            g += LEAK
            amps.append(i)
            slopes.append(g)
            into[p] -= i
            into[q] += i
            conductance[edge] += g
        self.amps = amps
        self.slopes = slopes
