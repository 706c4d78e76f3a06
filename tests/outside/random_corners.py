"""Small random builds, and the least and most current of each of their lamps over every combination of corners.

The conductors are a linear network, of which NumPy gives the volts and the resistances that the lamps see; on these their
curves are solved by Newton's method, all combinations at once. Nothing here is postcheck's but the wires of its catalogue.

Laws: R = R20 (1 + 0.00393 (T - 20)) between the usual and the worst wire within its standard, each conductor for itself;
Shockley's law with n = 2 through two points, moved to the least or most forward volts and by the coefficient per kelvin; a
die that is warm has P times 500 K/W more than the air round it. Every place is open. The lamps are warmed through or just
switched on, all of them alike; what flashes, or has an output that can switch it off, is on or off; or one string is alone.
"""

from __future__ import annotations

import itertools
import json
import math
import random
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import numpy as np

from postcheck import catalogue
from tests.outside.random_builds import SLOPE

__all__ = ["FEATURES", "Bounds", "Small", "bounds", "make"]

# Wires that may be worse than usual, each for itself; dice that change with their temperature; air that is not always of
# 20 degC.
FEATURES = frozenset({"worst wires", "warming", "air"})

ALPHA, KELVIN_PER_WATT = 0.00393, 500.0
# Least, typical, most volts at 20 mA, typical at 5 mA, V per K: of a data sheet's kind, invented.
KINDS = {"red": (1.85, 2.05, 2.40, 1.95, -0.002), "white": (2.90, 3.10, 3.50, 2.75, -0.003)}
AIRS = ((5.0, 35.0), (15.0, 25.0), (20.0, 20.0))
OWN_WIRE = 0.7  # ohm per metre, of a wire of the file: it is what it is
WIRES = ("ptfe-28", "ptfe-30", "enamel-0.15", "enamel-0.10")
MOST_BITS = 11  # of dice, resistors and conductors together: 2048 combinations


class Conductor(NamedTuple):
    """Between two nodes; ohms at 20 degC of the usual and of the worst wire."""

    a: str
    b: str
    ohms: tuple[float, float]


class String(NamedTuple):
    """A string of a lamp from its positive node to the other, behind an output that loses `drop` volts."""

    lamp: str
    circuit: str
    kind: str
    series: int
    ohms: float
    tolerance: float
    drop: float
    a: str
    b: str


class Bounds(NamedTuple):
    """Least and most with all that may be on together, and the most with nothing else on the lines."""

    least: float
    most: float
    alone: float


@dataclass
class Small:
    rng: random.Random
    features: frozenset[str]
    toml: list[str] = field(default_factory=lambda: ["format = 1"])
    air: tuple[float, float] = AIRS[0]
    volts: tuple[float, float] = (0.0, 0.0)  # least and most of the supply, unloaded
    source_ohms: float = 0.0
    negative: bool = False
    shared: bool = True
    conductors: list[Conductor] = field(default_factory=list)
    strings: list[String] = field(default_factory=list)
    switched: set[str] = field(default_factory=set)  # circuits that may be off
    loop: bool = False

    @property
    def bits(self) -> int:
        varying = [conductor for conductor in self.conductors if conductor.ohms[0] != conductor.ohms[1]]
        return 2 * len(self.strings) + len(varying)

    def table(self, head: str, **keys: Any) -> None:
        self.toml += [
            "",
            head,
            *(f"{key} = {_value(value)}" for key, value in keys.items() if value is not None),
        ]

    def back(self, circuit: str) -> str:
        return f"{circuit}-return" if not self.shared else "main+" if self.negative else "main-"

    def per_kelvin(self, kind: str) -> float:
        return KINDS[kind][4] if "warming" in self.features else 0.0

    def at(self, line: str, place: str) -> str:
        """A line at a place; in the base it is the pole that it begins at."""
        if place != "base":
            return f"{line} at {place}"
        negative = self.negative != line.endswith("-return")
        return {"main+": "plus", "main-": "minus"}.get(line, "minus" if negative else "plus")

    def wire(self, metres: list[float]) -> tuple[str, float, tuple[float, float]]:
        name, length = self.rng.choice(WIRES), self.rng.choice(metres)
        if "worst wires" in self.features:
            row = catalogue.wire(name)
            return name, length, (row.ohms_per_metre * length, row.ohms_per_metre_most * length)
        return "own", length, (OWN_WIRE * length,) * 2


def _value(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_value(own)}" for key, own in value.items()) + " }"
    return json.dumps(value)


def make(seed: int, features: frozenset[str] = FEATURES) -> Small:
    """One to three circuits and two to four strings behind conductors that count."""
    rng = random.Random(7000 + seed)
    while True:
        small = _try(Small(rng, features))
        if small.bits <= MOST_BITS:
            return small


def _try(small: Small) -> Small:
    rng = small.rng
    volts, tolerance, regulation = (
        rng.choice([5.0, 9.0, 12.0]),
        rng.choice([0.0, 0.03, 0.05]),
        rng.random() < 0.3,
    )
    small.air = rng.choice(AIRS) if "air" in small.features else AIRS[-1]
    small.table("[build]", name="Tender", air=f"{small.air[0]:g}..{small.air[1]:g} degC")
    small.table(
        "[supply.main]", kind="adaptor", place="base", volts=f"{volts:g} V", rated="1 A",
        tolerance=f"{tolerance * 100:g} %", regulation="6 %" if regulation else None,
    )  # fmt: skip
    open_volts = 1.06 * volts if regulation else volts
    small.source_ohms = 0.06 * volts if regulation else 0.0
    small.volts = open_volts * (1 - tolerance), open_volts * (1 + tolerance)
    places = ["base", "hub", "mast"][: rng.choice([2, 3])]
    small.table("[place]", **{place: {"access": "open"} for place in places})
    for kind, (least, typical, most, low, _) in KINDS.items():
        small.table(
            f"[lamp_kind.{kind}]", forward=f"{least}/{typical}/{most} V", at="20 mA", low_forward=f"{low} V",
            low_at="5 mA", rated="20 mA", per_kelvin=f"{small.per_kelvin(kind) * 1e3:g} mV",
        )  # fmt: skip
    small.table("[wire.own]", strand="0.1 mm", outside="0.3 mm", ohms_per_metre=f"{OWN_WIRE} ohm/m")
    small.negative, small.shared = rng.random() < 0.3, rng.random() < 0.85
    drops = {f"c{number}": rng.choice([0.0, 0.0, 0.0, 0.2]) for number in range(rng.randint(1, 3))}
    for name, drop in drops.items():
        flashes = rng.random() < 0.3
        if flashes or drop:
            small.switched.add(name)
        small.table(
            f"[circuit.{name}]", supply="main", switched="negative" if small.negative else None,
            output={"drop": f"{drop} V"} if drop else None, own_return=None if small.shared else True,
            behaviour="flash" if flashes else None,
        )  # fmt: skip
    for number in range(rng.randint(max(2, len(drops)), 4)):
        name = list(drops)[number % len(drops)]
        _lamp(small, number, name, drops[name], rng.choice(places[1:]), volts)
    _runs(small, places)
    return small


def _lamp(small: Small, number: int, circuit: str, drop: float, place: str, volts: float) -> None:
    rng = small.rng
    kind, tolerance, name = rng.choice(list(KINDS)), rng.choice([0.0, 0.01, 0.05]), f"lamp {number}"
    most = int((volts * 0.94 - drop - 0.5) / KINDS[kind][2])  # of so many the darkest still conducts
    series = rng.randint(1, max(1, min(3, most)))
    ohms = float(f"{(volts - drop - series * KINDS[kind][1]) / rng.choice([0.006, 0.012, 0.016]):.2g}")
    parallel = 2 if rng.random() < 0.15 else 1
    feed, back = small.at(circuit, place), small.at(small.back(circuit), place)
    lead, share, ends = None, None, [(feed, back)] * parallel
    if rng.random() < 0.25:
        wire, length, both = small.wire([0.3, 2.0])
        lead, share = f"{length:g} m of {wire} to {place}", rng.choice(["nothing", "return", "lead"])
        begins = [f"{name} feed {n}" for n in range(1 if share == "lead" else parallel)]
        returns = [f"{name} back {n}" for n in range(parallel if share == "nothing" else 1)]
        small.conductors += [Conductor(feed, end, both) for end in begins]
        small.conductors += [Conductor(back, end, both) for end in returns]
        ends = [(begins[n % len(begins)], returns[n % len(returns)]) for n in range(parallel)]
    small.table(
        "[[lamp]]", name=name, circuit=circuit, kind=kind, place=place, series=series, lead=lead,
        parallel=parallel if parallel > 1 else None, strings_share=share if parallel > 1 else None,
        resistor={"ohms": f"{ohms:g} ohm", "tolerance": f"{tolerance * 100:g} %", "power": "1 W"},
    )  # fmt: skip
    for begin, end in ends:
        a, b = (end, begin) if small.negative else (begin, end)
        small.strings.append(String(name, circuit, kind, series, ohms, tolerance, drop, a, b))


def _runs(small: Small, places: list[str]) -> None:
    """Each line from place to place as far as it is wanted; some have a second way, which makes a loop."""
    circuits = {string.circuit: None for string in small.strings}
    wanted = {node for string in small.strings for node in (string.a, string.b)}
    wanted |= {conductor.a for conductor in small.conductors}
    for line in dict.fromkeys([*circuits, *(small.back(circuit) for circuit in circuits)]):
        last = max((place for place in places if small.at(line, place) in wanted), key=places.index)
        ways = list(itertools.pairwise(places[: places.index(last) + 1]))
        if small.rng.random() < 0.1:
            ways.append(("base", last))
            small.loop = True
        for start, end in ways:
            wire, length, both = small.wire([0.3, 3.0, 20.0])
            keys: dict[str, Any] = {"wire": wire, "length": f"{length:g} m"}
            if small.rng.random() < 0.2:
                keys, both = {"ohms": f"{both[0]:.3g} ohm"}, (float(f"{both[0]:.3g}"),) * 2
            small.table("[[run]]", line=line, ends=[start, end], **keys)
            small.conductors.append(Conductor(small.at(line, start), small.at(line, end), both))


# -- every combination


def bounds(small: Small) -> dict[str, Bounds]:
    """Of each lamp the least and most of its strings."""
    found: dict[str, list[float]] = {string.lamp: [math.inf, 0.0, 0.0] for string in small.strings}
    everything = range(len(small.strings))
    steady = [k for k in everything if small.strings[k].circuit not in small.switched]
    for off in itertools.product((False, True), repeat=len(small.switched)):
        on = {name for name, dark in zip(sorted(small.switched), off, strict=True) if not dark}
        lit = [k for k in everything if k in steady or small.strings[k].circuit in on]
        if lit:
            for k, amps in zip(lit, _currents(small, lit), strict=True):
                row = found[small.strings[k].lamp]
                row[0], row[1] = min(row[0], amps.min()), max(row[1], amps.max())
    for k in everything:
        row = found[small.strings[k].lamp]
        row[2] = max(row[2], _currents(small, [k])[0].max())
    return {name: Bounds(*row) for name, row in found.items()}


def _currents(small: Small, lit: list[int]) -> np.ndarray:
    """The currents of some strings with the others dark, over every combination of all that they depend on."""
    strings = [small.strings[k] for k in lit]
    parts = [
        (string.ohms * (1 + ohms * string.tolerance), volts)
        for string in strings
        for ohms in (-1, 1)
        for volts in (KINDS[string.kind][0], KINDS[string.kind][2])
    ]
    picks = np.array(list(itertools.product(range(4), repeat=len(strings)))) + 4 * np.arange(len(strings))
    ohms, forward = (np.array(column)[picks] for column in zip(*parts, strict=True))  # combinations x strings
    found = []
    for air, warm in itertools.product(small.air, (False, True)):
        seen, between = _ports(small, strings, air)
        for volts in small.volts:
            open_volts = seen * volts - np.array([string.drop for string in strings])
            kelvin = KELVIN_PER_WATT if warm else 0.0
            found.append(_solved(small, strings, open_volts, between, ohms, forward, air, kelvin))
    return np.concatenate(found, axis=1)


def _ports(small: Small, strings: list[String], air: float) -> tuple[np.ndarray, np.ndarray]:
    """Of each choice of wires: what each string sees of the supply's volts, and the ohms between the strings."""
    nodes = {"plus": 0} | {
        name: 1 + number
        for number, name in enumerate(
            sorted({node for c in small.conductors for node in (c.a, c.b)} - {"plus", "minus"})
        )
    }
    warmth = 1 + ALPHA * (air - 20)
    choices = np.array(list(itertools.product(*((0, 1)[: len({*c.ohms})] for c in small.conductors))))
    matrix = np.zeros((len(choices), len(nodes) + 1, len(nodes) + 1))  # the last for the minus pole
    for number, conductor in enumerate(small.conductors):
        siemens = 1 / (warmth * np.array(conductor.ohms)[choices[:, number]])
        a, b = nodes.get(conductor.a, -1), nodes.get(conductor.b, -1)
        for row, column, sign in ((a, a, 1), (b, b, 1), (a, b, -1), (b, a, -1)):
            matrix[:, row, column] += sign * siemens
    inside = 1 / max(small.source_ohms, 1e-9)
    matrix[:, 0, 0] += inside
    ports = np.zeros((len(nodes) + 1, len(strings)))
    for k, string in enumerate(strings):
        ports[nodes.get(string.a, -1), k] += 1
        ports[nodes.get(string.b, -1), k] -= 1
    drive = np.zeros((len(nodes), 1))
    drive[0] = inside
    response = np.linalg.solve(matrix[:, :-1, :-1], np.hstack([drive, ports[:-1]])[None])
    across = ports[:-1].T @ response
    return across[:, :, 0], across[:, :, 1:]


def _solved(
    small: Small, strings: list[String], seen: np.ndarray, between: np.ndarray, ohms: np.ndarray, forward: np.ndarray, air: float,
    kelvin_per_watt: float,
) -> np.ndarray:  # fmt: skip
    """Strings x (wires x combinations): V = Z I + R I + n V_die(I), by Newton's method from above."""
    count = np.array([string.series for string in strings])
    rows = np.array([KINDS[string.kind] for string in strings]).T
    series_ohms = (rows[1] - rows[3] - SLOPE * math.log(4)) / 0.015
    log_saturation = math.log(0.005) - (rows[3] - 0.005 * series_ohms) / SLOPE
    per_kelvin = np.array([small.per_kelvin(string.kind) for string in strings])
    shift = forward - rows[1] + per_kelvin * (air - 25)
    open_volts = seen[:, None, :]
    z = between[:, None] + np.eye(len(strings)) * ohms[None, :, :, None]
    amps = np.full(z.shape[:3], 0.01)
    for _ in range(60):
        # V_die = V(I) + k (air + K P - 25) with P = I V_die: no iteration is wanted for its own heat
        own = 1 - per_kelvin * kelvin_per_watt * amps
        cold = SLOPE * (np.log(amps) - log_saturation) + series_ohms * amps + shift
        slope = (SLOPE / amps + series_ohms) / own + cold * per_kelvin * kelvin_per_watt / own**2
        left = np.einsum("wcij,wcj->wci", z, amps) + count * cold / own - open_volts
        step = np.linalg.solve(z + np.eye(len(strings)) * (count * slope)[..., None], left[..., None])[..., 0]
        amps = np.maximum(amps - step, amps / 5)
        if np.abs(step).max() < 1e-13:
            break
    else:
        raise ArithmeticError("no combination may leave a lamp dark")
    return np.moveaxis(amps, 2, 0).reshape(len(strings), -1)
