"""Random small builds on trees of wire, and their equations written apart: Kirchhoff's laws over all corners at once.

Nothing here imports postcheck. A string's way is the list of conductors that its current goes through, found by climbing
the trees of its two lines; V = E - R I then holds for all strings together, R the resistance that two of them share.
"""

from __future__ import annotations

import itertools
import math
import random
from dataclasses import dataclass, field

import numpy as np

SLOPE = 2 * 1.380649e-23 * 298.15 / 1.602176634e-19  # n V_T at 25 degC, SI of 2019
ALPHA = 0.00393  # 1/K, copper from 20 degC, IEC 60028
PER_KELVIN, KELVIN_PER_WATT = (
    -0.003,
    500.0,
)  # V/K of the kind below; K/W of a small part of which the file says nothing
LOW, TYPICAL, LEAST, MOST = 2.75, 3.1, 2.9, 3.5
SERIES = ((TYPICAL - LOW) - SLOPE * math.log(4)) / 0.015
SATURATION = 0.005 / math.expm1((LOW - 0.005 * SERIES) / SLOPE)
# ohm/m at 20 degC: usual and the worst within its standard (IEC 60317-0-1 table 1; ASTM B258 and UL 758), as the
# catalogue prints them
WIRES = {
    "enamel-0.10": (2.1952405943709, 2.3331284880125),
    "enamel-0.08": (3.4300634287046, 3.7025478063265),
    "ptfe-30": (0.31544621135642, 0.37918425651561),
}


@dataclass
class Edge:
    """Ohm at 20 degC, usual and worst; what is measured has one value."""

    usual: float
    worst: float
    users: set[int] = field(default_factory=set)
    lies: tuple[str, ...] = ()


@dataclass
class Lamp:
    name: str
    ohms: float
    series: int
    place: str = ""
    resistor_at: str = ""


@dataclass
class Tree:
    """A build; `edges` with the lamps behind each."""

    toml: str
    volts: float
    lamps: list[Lamp]
    edges: list[Edge]
    air: tuple[float, float]


HEAD = """format = 1
[build]
name = "Tender"
air = "{low}..{high} degC"
[lamp_kind.own]
forward = "2.9/3.1/3.5 V"
at = "20 mA"
low_forward = "2.75 V"
low_at = "5 mA"
rated = "20 mA"
per_kelvin = "-3 mV"
[supply.main]
kind = "adaptor"
place = "base"
volts = "{volts} V"
tolerance = "5 %"
rated = "1 A"
"""


def make(seed: int, lamps: int = 2, decks: int = 2, alike: bool = True, surface: float | None = None) -> Tree:
    """`alike`: returns branch as feeds do, so that what two conductors feed is nested or apart. `surface`: m2 of each deck, if closed."""
    r = random.Random(seed)
    volts = r.choice([5.0, 12.0])
    air = (5, 35)
    places = ["base", *(f"deck{n}" for n in range(decks))]
    toml = [HEAD.format(low=air[0], high=air[1], volts=volts), "[place]"]
    closed = f'{{ access = "sealed", surface = "{(surface or 0.0) * 1e4:g} cm2" }}'
    bodies = [f"body{n}" for n in range(lamps)] if surface else []
    toml += [
        f"{place} = " + (closed if surface and place != "base" else '{ access = "open" }')
        for place in (*places, *bodies)
    ]
    circuits = [f"c{n}" for n in range(r.randint(1, 2))]
    toml += [f'[circuit.{name}]\nsupply = "main"' for name in circuits]
    edges: list[Edge] = []
    above: dict[tuple[str, str], tuple[str, int]] = {}
    shape = {place: r.choice(places[: n + 1]) for n, place in enumerate(places[1:])}
    for line in (*circuits, "main-"):
        own = shape if alike else {place: r.choice(places[: n + 1]) for n, place in enumerate(places[1:])}
        for place, parent in own.items():
            toml += ["[[run]]", f'line = "{line}"', f'ends = ["{parent}", "{place}"]']
            if r.random() < 0.3:
                ohms = r.choice([0.5, 4.0])
                toml.append(f'ohms = "{ohms} ohm"')
                edges.append(Edge(ohms, ohms, lies=(parent, place)))
            else:
                wire, metres = r.choice(list(WIRES)), r.choice([0.3, 2.0, 5.0])
                toml += [f'wire = "{wire}"', f'length = "{metres} m"']
                edges.append(Edge(WIRES[wire][0] * metres, WIRES[wire][1] * metres, lies=(parent, place)))
            above[line, place] = (parent, len(edges) - 1)
    connected = []
    for number in range(lamps):
        circuit, place = r.choice(circuits), r.choice(places[1:])
        series = r.randint(1, 3) if volts > 6 else 1
        ohms = r.choice([150.0, 330.0, 1000.0]) if volts > 6 else r.choice([47.0, 150.0])
        wire, metres = r.choice(["enamel-0.10", "enamel-0.08"]), r.choice([0.2, 1.0, 20.0])
        toml += [
            "[[lamp]]",
            f'name = "lamp {number}"',
            f'circuit = "{circuit}"',
            'kind = "own"',
            f'place = "{bodies[number] if bodies else place}"',
        ]
        body = bodies[number] if bodies else place
        at_resistor = r.choice([place, body]) if bodies else place
        toml += [
            f"series = {series}",
            f'resistor = "{ohms} ohm 1 W 5 % at {at_resistor}"',
            f'lead = "{metres} m of {wire} to {place}"',
        ]
        edges.append(Edge(2 * WIRES[wire][0] * metres, 2 * WIRES[wire][1] * metres, {number}, (body, place)))
        for line in (circuit, "main-"):
            at = place
            while at != "base":
                at, edge = above[line, at]
                edges[edge].users.add(number)
        connected.append(Lamp(f"lamp {number}", ohms, series, body, at_resistor))
    return Tree("\n".join(toml) + "\n", volts, connected, [edge for edge in edges if edge.users], air)


@dataclass
class Corners:
    """So many corners at once, an array each with one row a corner."""

    supply: np.ndarray  # V
    air: np.ndarray  # degC, by lamp
    shift: np.ndarray  # V a die, by lamp
    ohms: np.ndarray  # of the resistors, by lamp
    settled: np.ndarray  # whether it has warmed itself, by lamp
    edges: np.ndarray  # ohm, by edge


def every_corner(tree: Tree, one_room: bool = False) -> Corners:
    """All combinations: the supply; of each lamp air, dice, resistor, cold or settled; each conductor at either end of its range.

    `one_room`: the air is the same for all.
    """
    n, e = len(tree.lamps), len(tree.edges)
    rooms = 1 if one_room else n
    bits = np.array(list(itertools.product((0, 1), repeat=1 + rooms + 3 * n + e)), dtype=bool)
    supply, air, rest = np.split(bits, [1, 1 + rooms], axis=1)
    return corners(tree, np.hstack([supply, np.broadcast_to(air, (len(bits), n)), rest]))


def corners(tree: Tree, bits: np.ndarray) -> Corners:
    n = len(tree.lamps)
    low, high = tree.air
    least = np.array([edge.usual * (1 + ALPHA * (low - 20)) for edge in tree.edges])
    most = np.array([edge.worst * (1 + ALPHA * (high - 20)) for edge in tree.edges])
    air, dice, ohms, settled, edges = np.split(bits[:, 1:], [n, 2 * n, 3 * n, 4 * n], axis=1)
    nominal = np.array([lamp.ohms for lamp in tree.lamps])
    return Corners(
        supply=tree.volts * np.where(bits[:, 0], 1.05, 0.95),
        air=np.where(air, high, low).astype(float),
        shift=np.where(dice, LEAST - TYPICAL, MOST - TYPICAL),
        ohms=nominal * np.where(ohms, 0.95, 1.05),
        settled=settled,
        edges=np.where(edges, most, least),
    )


def currents(tree: Tree, at: Corners, lit: list[int] | None = None) -> np.ndarray:
    """A through each lamp, one row a corner: Newton's method on u = ln(1 + I / saturation), heat and currents together.

    `lit`: only these lamps are there.
    """
    n = len(tree.lamps)
    shared = np.zeros((len(at.supply), n, n))
    for number, edge in enumerate(tree.edges):
        users = np.zeros(n)
        users[list(edge.users)] = 1.0
        shared += at.edges[:, number, None, None] * np.outer(users, users)
    series = np.array([lamp.series for lamp in tree.lamps], dtype=float)
    if lit is not None:
        shared, series = shared[:, lit][:, :, lit], series[lit]
        at = Corners(
            at.supply, at.air[:, lit], at.shift[:, lit], at.ohms[:, lit], at.settled[:, lit], at.edges
        )
    count = len(series)
    cold = at.shift + PER_KELVIN * (at.air - 25.0)
    u = np.full((len(at.supply), count), 30.0)
    for _ in range(200):
        amps = SATURATION * np.expm1(u)
        # V of a die: V0(I) + c rise with rise = K I V, so V (1 - c K I) = V0(I); dV/dI alike
        by_heat = np.where(at.settled, 1.0 - PER_KELVIN * KELVIN_PER_WATT * amps, 1.0)
        die = (SLOPE * u + SERIES * amps + cold) / by_heat
        slope = (
            SLOPE / (SATURATION + amps)
            + SERIES
            - np.where(at.settled, -PER_KELVIN * KELVIN_PER_WATT * die, 0)
        ) / by_heat
        off = at.supply[:, None] - at.ohms * amps - series * die - np.einsum("mij,mj->mi", shared, amps)
        jacobian = shared.copy()
        index = np.arange(count)
        jacobian[:, index, index] += at.ohms + series * slope
        jacobian *= (SATURATION + amps)[:, None, :]
        step = np.linalg.solve(jacobian, off[:, :, None])[:, :, 0]
        u = np.maximum(u + np.clip(step, -2.0, 2.0), 1e-9)
        if np.abs(step).max() < 1e-12:
            break
    return SATURATION * np.expm1(u)


def in_closed_places(tree: Tree, at: Corners, surface: float, walls: float = 3.5) -> np.ndarray:
    """A through each lamp where decks and lamps' bodies are closed: their air rises by all that is dissipated there, W / (U A).

    A lamp that has settled sits in that air, one that has just been switched on in the room's.
    """
    room = at.air
    places = {place for lamp in tree.lamps for place in (lamp.place, lamp.resistor_at)}
    rises = {place: np.zeros(len(room)) for place in places}
    for _ in range(200):
        warm = np.stack([rises[lamp.place] for lamp in tree.lamps], axis=1)
        amps = currents(
            tree, Corners(at.supply, room + warm * at.settled, at.shift, at.ohms, at.settled, at.edges)
        )
        heat = {place: np.zeros(len(room)) for place in rises}
        through = np.stack([amps[:, list(edge.users)].sum(axis=1) for edge in tree.edges], axis=1)
        drops = np.zeros_like(amps)
        for number, edge in enumerate(tree.edges):
            volts = through[:, number] * at.edges[:, number]
            for user in edge.users:
                drops[:, user] += volts
            for place in edge.lies:
                if place in heat:
                    heat[place] += volts * through[:, number] / len(edge.lies)
        for number, lamp in enumerate(tree.lamps):
            resistor = at.ohms[:, number] * amps[:, number]
            dice = at.supply - drops[:, number] - resistor
            heat[lamp.place] += dice * amps[:, number]
            if lamp.resistor_at in heat:
                heat[lamp.resistor_at] += resistor * amps[:, number]
        moved = max(np.abs(heat[place] / (walls * surface) - rises[place]).max() for place in rises)
        rises = {place: heat[place] / (walls * surface) for place in rises}
        if moved < 1e-9:
            break
    return amps
