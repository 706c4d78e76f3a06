"""What a wiring of a small model comes to, by arithmetic of the tests' own: currents, steps, heat and bundles of many wirings at once.

A wiring's *strain* is the largest of its figures, each as a share of what is allowed: it passes below 1, as far as this
arithmetic goes, and what is far above 1 need not be shown to a judge.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from postcheck.physics import bundle

Floats = NDArray[np.float64]

E12 = (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)
VALUES = np.array([step * 10.0**decade for decade in range(5) for step in E12])
# Ohms per metre and greatest diameter in mm: MIL-W-16878/6, UL 10064 and IEC 60317-0-1 by makers' tables, as in the catalogue.
WIRES = {
    "ptfe-28": (0.1983, 0.74), "ptfe-30": (0.3154, 0.66), "fep-30": (0.3199, 0.58), "fep-32": (0.4998, 0.41),
    "enamel-0.25": (0.3512, 0.281),
}  # fmt: skip
# Volts at two currents (A), typical, by the data sheets that the catalogue names.
FORWARD = {
    "smd-0603-red": ((2.1, 0.005), (2.2, 0.02)),
    "smd-0603-white": ((2.85, 0.005), (3.2, 0.02)),
    "smd-0603-green": ((2.65, 0.002), (3.2, 0.02)),
}
# What a warm body takes off a forward voltage: 2 to 3 mV/K by data sheets, some 15 K.
WARMER = 0.04
# Limits: judgement or source of each in the project's table of limits. Wanted current, step of light below 3 Hz, bore per bundle.
WANTED, STEP, ROOM = 0.25, 0.03, 1.25
# W/(m2 K) of closed places; what their walls withstand, degC; of the rise that is kept free, and at most so many K; of a small spot.
PER_AREA, WITHSTANDS, KEPT, MOST_KEPT, SPOT = 3.5, {"abs": 65.0, "styrene": 60.0}, 0.3, 5.0, 10.0
# Rise at its rating of a resistor, K, and of the wall that it touches half as much.
RESISTOR, TOUCHES = 85.0, 0.5
RESISTOR_POWER = 0.5
# Loss of copper is a tenth more at what is warm; leads of the small models are 0.1 m of 0.25 mm wire.
LEAD = 0.1 * WIRES["enamel-0.25"][0]
ROUNDS = 30


@dataclass(frozen=True)
class Circuits:
    """The circuits of a small model as columns: volts behind the board, strings, current that is wanted (A), whether it flashes."""

    volts: Floats
    strings: Floats
    wanted: Floats
    flashes: NDArray[np.bool_]
    duty: Floats
    offset: Floats
    slope: Floats
    run: float
    bore: float
    room: float
    surfaces: tuple[float, float]
    free: tuple[float, float]

    @classmethod
    def of(cls, tables: dict[str, Any]) -> Circuits:
        """Those of a wish."""
        volts = _number(tables["supply"]["main"]["volts"])
        lamps = tables["lamp"]
        rows = [tables["circuit"][lamp["circuit"]] for lamp in lamps]
        flashes = np.array([row.get("behaviour") == "flash" for row in rows])
        laws = np.array([_law(lamp["kind"]) for lamp in lamps])
        air = _number(tables["build"]["air"].split("..")[1])
        places = [tables["place"][name] for name in ("body", "hub")]
        body, hub = places
        return cls(
            np.where(flashes, volts - 0.1, volts),
            np.array([float(lamp["parallel"]) for lamp in lamps]),
            np.array([_number(lamp["wanted"]) / 1000.0 for lamp in lamps]),
            flashes,
            np.array([_number(row["on_share"]) / 100.0 if "on_share" in row else 1.0 for row in rows]),
            laws[:, 0],
            laws[:, 1],
            _number(tables["way"][0]["length"]) / 1000.0,
            _number(tables["post"]["bore"]),
            air,
            (_number(body["surface"]) / 1e4, _number(hub["surface"]) / 1e4),
            (WITHSTANDS[body["material"]] - air, WITHSTANDS[hub["material"]] - air),
        )

    def forward(self, amps: Floats) -> Floats:
        """Volts across an LED."""
        return self.offset + self.slope * np.log(np.maximum(amps, 1e-6))


def _number(text: str) -> float:
    return float(text.split(maxsplit=1)[0])


def _law(kind: str) -> tuple[float, float]:
    (low, at_low), (high, at_high) = FORWARD[kind]
    slope = (high - low) / np.log(at_high / at_low)
    return low - slope * np.log(at_low) - WARMER, slope


class Returns:
    """Whose current goes through whose return: `own` are circuits with one of their own, the others share the first."""

    def __init__(self, count: int, own: Sequence[int]) -> None:
        self.own: tuple[int, ...] = tuple(own)
        self.shared: bool = len(own) < count
        self.lines: int = count + len(own) + self.shared
        group = [own.index(one) + 1 if one in own else 0 for one in range(count)]
        self.together: Floats = np.array([[float(a == b) for a in group] for b in group])
        self.column: list[int] = [
            count + own.index(one) if one in own else self.lines - 1 for one in range(count)
        ]


def wires_that_may_do(circuits: Circuits, returns: Returns, wires: NDArray[np.int8]) -> NDArray[np.bool_]:
    """Which rows of wires leave volts for a resistor and keep steps small, with the resistors free to choose: a bound, with a tenth to spare."""
    ohms = np.array([row[0] for row in WIRES.values()]) * circuits.run
    count = len(circuits.wanted)
    feed, back = ohms[wires[:, :count]], ohms[wires[:, returns.column]]
    least = (1.0 - WANTED) * circuits.wanted
    through = circuits.strings * least
    left = (
        circuits.volts - circuits.forward(least) - feed * through - back * (through @ returns.together)
    ) + 0.1
    dips = back * ((through * circuits.flashes) @ returns.together)
    over = circuits.volts - circuits.forward(least)
    steps = np.where(circuits.flashes, 0.0, dips / over)
    return np.asarray(np.logical_and(left > 0.0, steps < 1.1 * STEP).all(axis=1), dtype=np.bool_)


def bundle_strain(circuits: Circuits, names: Sequence[str]) -> float:
    """How much of its bore a bundle takes, with its room."""
    wide = [WIRES[name][1] for name in names]
    found = bundle.pack(wide, bore=circuits.bore / ROOM)
    return 0.9 if found.verdict == "fits" else 2.0


def coolest(circuits: Circuits) -> float:
    """The least strain of heat that any wiring can have, over all seats of resistors.

    Each current is as low as a value of the series makes it that leaves enough light with no copper at all; what copper
    takes off is at most what the thinnest wire takes at the highest currents.
    """
    wanted = (1.0 - WANTED) * circuits.wanted
    lost = np.array([max(row[0] for row in WIRES.values())]) * circuits.run * 1.1
    lost = lost * 2.0 * (circuits.strings * circuits.wanted * (1.0 + WANTED)).sum()
    greatest = (circuits.volts - circuits.forward(wanted)) / wanted
    value = VALUES[np.maximum(np.searchsorted(VALUES, greatest, side="right") - 1, 0)]
    amps = wanted
    for _ in range(ROUNDS):
        amps = 0.5 * (amps + np.maximum((circuits.volts - circuits.forward(amps) - lost) / value, 1e-6))
    amps = np.maximum(amps, wanted)
    across = np.maximum(circuits.volts - circuits.forward(amps) - lost, 0.0)
    return float(_seated(circuits, amps[None, :], across[None, :])[0].min())


def reckoned(
    circuits: Circuits, returns: Returns, wires: NDArray[np.int8]
) -> tuple[Floats, Floats, NDArray[np.int64]]:
    """The strain of every row of wires with every choice of values, with the seats that are best for each.

    Gives strains (rows, choices), ohms (rows, choices, circuits) and seats (rows, choices) as bits: set where a resistor
    sits at the hub.
    """
    ohms = np.array([row[0] for row in WIRES.values()]) * circuits.run * 1.02
    count = len(circuits.wanted)
    feed, back = ohms[wires[:, :count]][:, None, :], ohms[wires[:, returns.column]][:, None, :]
    most = (1.0 + WANTED) * circuits.wanted
    through = circuits.strings * circuits.wanted
    left = (
        circuits.volts
        - circuits.forward(most)
        - feed[:, 0] * through
        - back[:, 0] * (through @ returns.together)
    )
    first = np.maximum(np.searchsorted(VALUES, np.maximum(left / most, 1.0)) - 1, 0)
    steps = np.array(list(product(range(5), repeat=count)))
    values = VALUES[np.minimum(first[:, None, :] + steps[None], len(VALUES) - 1)]
    everything = _amps(circuits, returns, feed, back, values, np.ones(count))
    quiet = _amps(circuits, returns, feed, back, values, (~circuits.flashes).astype(float))
    wanted = (np.abs(everything / circuits.wanted - 1.0) / WANTED).max(axis=2)
    with np.errstate(divide="ignore", invalid="ignore"):
        step = np.where(circuits.flashes, 0.0, np.abs(everything / quiet - 1.0)).max(axis=2) / STEP
    strain = np.maximum(wanted, step)
    heat, seats = _seated(circuits, everything, everything * values, np.flatnonzero(strain.ravel() < 1.2))
    return np.maximum(strain, heat), values, seats


def _amps(
    circuits: Circuits, returns: Returns, feed: Floats, back: Floats, values: Floats, lit: Floats
) -> Floats:
    """The current of one string of each circuit, those that are lit, by going round until it holds."""
    amps = np.broadcast_to(circuits.wanted, values.shape).copy()
    fixed = values + LEAD + circuits.strings * (feed + LEAD)
    for _ in range(ROUNDS):
        shared = back * ((circuits.strings * amps * lit) @ returns.together)
        amps = 0.5 * (amps + np.maximum((circuits.volts - circuits.forward(amps) - shared) / fixed, 1e-6))
    return amps


def _seated(
    circuits: Circuits, amps: Floats, across: Floats, rows: NDArray[np.int64] | None = None
) -> tuple[Floats, NDArray[np.int64]]:
    """The strain of heat with the best seats, and these as bits; only of some rows, where they are given."""
    shape, count = amps.shape[:-1], amps.shape[-1]
    amps, across = amps.reshape(-1, count), across.reshape(-1, count)
    rows = np.arange(len(amps)) if rows is None else rows
    amps, across = amps[rows], across[rows]
    dice = circuits.strings * amps * circuits.forward(amps)
    resistors = circuits.strings * amps * across
    spots = TOUCHES * RESISTOR * amps * across / RESISTOR_POWER
    least, seats = np.full(len(rows), np.inf), np.zeros(len(rows), dtype=np.int64)
    for bits in range(2**count):
        out = np.array([(bits >> one) & 1 for one in range(count)], dtype=bool)
        strain = np.zeros(len(rows))
        for place, here in enumerate((~out, out)):
            watts = resistors * here + (dice if place == 0 else 0.0)
            loss, free = PER_AREA * circuits.surfaces[place], circuits.free[place]
            rise, stuck = (watts * circuits.duty).sum(axis=1) / loss, watts.sum(axis=1) / loss
            may = max(free - MOST_KEPT, free / (1.0 + KEPT))
            strain = np.maximum(strain, np.where(rise > 2.0, rise / may, 0.0))
            strain = np.maximum(strain, np.where(stuck > 2.0, stuck / free, 0.0))
            spot = np.where(here, spots + stuck[:, None], 0.0).max(axis=1)
            strain = np.maximum(strain, spot / (free + SPOT))
        better = strain < least - 1e-12
        least, seats = np.where(better, strain, least), np.where(better, bits, seats)
        if (least < 0.8).all():
            break
    whole, where = np.zeros(int(np.prod(shape))), np.zeros(int(np.prod(shape)), dtype=np.int64)
    whole[rows], where[rows] = least, seats
    return whole.reshape(shape), where.reshape(shape)
