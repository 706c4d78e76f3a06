"""All wirings of a small model, one after the other by cost: code of its own for what a plan decides, the checks as the judge.

A model here has a base, one hub and one closed body; each circuit has one lamp entry. What is decided: the wire of each
run, returns of their own, and the seat and value of each resistor.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from itertools import combinations, groupby
from typing import Any, NamedTuple

import numpy as np

import postcheck
from postcheck.reading.loading import built
from tests.planner.reckoning import (
    WIRES,
    Circuits,
    Returns,
    bundle_strain,
    coolest,
    reckoned,
    wires_that_may_do,
)

STOCK = tuple(WIRES)
BOUNDS = ("bore", "heat", "copper")
# Up to this strain a wiring is shown to the judge, and below the second it likely passes; rows of wires that are reckoned at once.
MAYBE, LIKELY = 1.06, 0.93
AT_ONCE = 128
# Choices of values that are shown to the judge with one row of wires.
CHOICES = 6


class Wiring(NamedTuple):
    """Conductors through the post, runs that are not of the first wire in stock, and the tables of the build."""

    conductors: int
    unusual: int
    tables: dict[str, Any]
    strain: float


class _Row(NamedTuple):
    """A row of wires with its best choices: strain, ohms of each resistor, seats as bits."""

    strain: float
    wires: tuple[int, ...]
    choices: list[tuple[float, tuple[float, ...], int]]


class Found(NamedTuple):
    """The cheapest wiring that passes, None where none does; `unsure`: cheaper ones that nobody decided, `judged` by the checks."""

    best: Wiring | None
    unsure: int
    judged: int


def wish(seed: int, *, by: str) -> dict[str, Any]:
    """A small model that is bound by its copper, by its bore or by the heat in its closed places."""
    chance = random.Random(f"{by} {seed}")
    circuits = chance.randint(1, 4)
    copper, heat = by == "copper", by == "heat"
    length = chance.choice([1.2, 2.0, 3.0, 4.0]) if copper else chance.choice([0.2, 0.3])
    volts = chance.choice([5, 9]) if copper else chance.choice([9, 12]) if heat else chance.choice([5, 9, 12])
    kinds = ["smd-0603-red"] if volts == 5 else list(WIRES_OF_LAMPS)
    bore = chance.choice([4, 5] if copper else [2.2, 2.4, 2.8] if heat else [1.6, 1.8, 2.0, 2.2, 2.4])
    hub = chance.choice([1500] if copper else [10, 16, 25, 40] if heat else [150])
    body = chance.choice([600, 900, 1500] if copper else [8, 12, 16, 24] if heat else [60, 90, 150])
    tables: dict[str, Any] = {
        "format": 1,
        "build": {"name": f"Small tender {seed}", "air": "10..28 degC"},
        "usual": {"lead": "enamel-0.25", "run": "fep-32" if copper else STOCK[0], "resistor": "1/2 W 5 %"},
        "stock": {"wires": list(STOCK)},
        "supply": {"main": {"kind": "adaptor", "place": "base", "volts": f"{volts} V", "tolerance": "3 %", "rated": "2 A"}},
        "post": {
            "from": "base", "to": "hub", "length": f"{length * 1000 - 60:.0f} mm", "edges": "bushed", "bore": f"{bore} mm",
        },
        "way": [
            {"from": "base", "to": "hub", "length": f"{length * 1000:.0f} mm"},
            {"from": "body", "to": "hub", "length": "100 mm"},
        ],
        "place": {
            "base": {"access": "open"},
            "hub": {"access": "cover", "material": "abs", "surface": f"{hub} cm2"},
            "body": {"access": "sealed", "material": "styrene", "surface": f"{body} cm2"},
        },
        "circuit": {}, "lamp": [],
    }  # fmt: skip
    for number in range(circuits):
        flashes = chance.random() < 0.35
        tables["circuit"][f"c{number}"] = {"supply": "main"} | (
            {"behaviour": "flash", "rate": "20 /min", "on_share": "20 %", "output": "1 A, 0.1 V drop"}
            if flashes
            else {}
        )
        tables["lamp"].append({
            "name": f"lamp {number}", "circuit": f"c{number}", "kind": chance.choice(kinds), "place": "body",
            "parallel": chance.choice([5, 10, 20]) if copper else chance.choice([1, 2, 3]),
            "wanted": f"{chance.choice([4, 8, 12])} mA", "lead": "100 mm to hub, red/black",
        })  # fmt: skip
    return tables


WIRES_OF_LAMPS = ("smd-0603-red", "smd-0603-white", "smd-0603-green")

FUSES = ("63 mA", "80 mA", "100 mA", "125 mA", "160 mA", "200 mA", "250 mA", "315 mA", "400 mA", "500 mA", "630 mA", "1 A", "1.25 A", "1.6 A")  # fmt: skip


class Search:
    """A search through all wirings of one wish; `most` of them are shown to the judge."""

    def __init__(self, tables: dict[str, Any], most: int) -> None:
        self.tables: dict[str, Any] = tables
        self.circuits: Circuits = Circuits.of(tables)
        self.count: int = len(tables["lamp"])
        self.usual: int = STOCK.index(tables["usual"]["run"])
        self.most: int = most
        self.judged: int = 0
        self.known: set[tuple[tuple[int, ...], Returns]] = set()
        self.bundles: dict[tuple[int, ...], bool] = {}

    def run(self) -> Found:
        """The cheapest wiring that passes."""
        if coolest(self.circuits) > MAYBE:
            return Found(None, 0, 0)
        unsure = 0
        for size in range(self.count + 1):
            rows = []
            for own in combinations(range(self.count), size):
                returns = Returns(self.count, own)
                rows += [(returns.lines, *row, returns) for row in self._rows(returns)]
            rows.sort(key=lambda row: row[:2])
            for _, level in groupby(rows, key=lambda row: row[:2]):
                best, open_ = self._cheapest([(wires, returns) for *_, wires, returns in level])
                unsure += open_
                if best is not None:
                    return Found(best, unsure, self.judged)
                if self.judged >= self.most:
                    return Found(None, unsure + 1, self.judged)
        return Found(None, unsure, self.judged)

    def _rows(self, returns: Returns) -> Iterator[tuple[int, tuple[int, ...]]]:
        """Rows of wires that may do, each with its number of unusual ones."""
        kinds, lines = len(STOCK), returns.lines
        wires = np.indices((kinds,) * lines, dtype=np.int8).reshape(lines, -1).T
        for row in wires[wires_that_may_do(self.circuits, returns, wires)]:
            yield int((row != self.usual).sum()), tuple(int(one) for one in row)

    def _goes_through(self, wires: Sequence[int]) -> bool:
        """Whether a bundle has its room; one with each wire no thinner than in one that has none needs no packing."""
        kept = tuple(sorted(wires))  # the stock is from thick to thin, by its diameters
        if kept not in self.bundles:
            alike = [(other, fits) for other, fits in self.bundles.items() if len(other) == len(kept)]
            if any(not fits and all(map(int.__le__, kept, other)) for other, fits in alike):
                self.bundles[kept] = False
            elif any(fits and all(map(int.__ge__, kept, other)) for other, fits in alike):
                self.bundles[kept] = True
            else:
                self.bundles[kept] = bundle_strain(self.circuits, [STOCK[one] for one in kept]) < MAYBE
        return self.bundles[kept]

    def _cheapest(self, level: Sequence[tuple[tuple[int, ...], Returns]]) -> tuple[Wiring | None, int]:
        """A wiring that passes among those of one cost; how many rows of wires are left open where none does."""
        waiting: list[tuple[float, int, _Row, Returns]] = []
        unsure = 0
        by_returns: dict[int, list[tuple[int, ...]]] = {}
        of = {id(returns): returns for _, returns in level}
        for wires, returns in level:
            if self._goes_through(wires):
                by_returns.setdefault(id(returns), []).append(wires)
        for key, rows in by_returns.items():
            for start in range(0, len(rows), AT_ONCE):
                some = sorted(self._reckoned(rows[start : start + AT_ONCE], of[key]))
                # what is likely to pass is shown at once, and spares the others
                for row in some[:2]:
                    if row.strain < LIKELY and (wiring := self._judged(row, of[key])) is not None:
                        return wiring, 0
                waiting += [(row.strain, number, row, of[key]) for number, row in enumerate(some)]
        for *_, row, returns in sorted(waiting, key=lambda one: one[:2]):
            if self.judged >= self.most:
                return None, unsure + 1
            if (wiring := self._judged(row, returns)) is not None:
                return wiring, 0
            unsure += len(row.choices) > CHOICES
        return None, unsure

    def _reckoned(self, rows: Sequence[tuple[int, ...]], returns: Returns) -> Iterator[_Row]:
        """The rows of wires that are not ruled out, with their best choices of values and seats."""
        strains, ohms, seats = reckoned(self.circuits, returns, np.array(rows, dtype=np.int8))
        for number, wires in enumerate(rows):
            order = np.argsort(strains[number])[: CHOICES + 1]
            kept = [
                (float(strains[number, one]), tuple(map(float, ohms[number, one])), int(seats[number, one]))
                for one in order
                if strains[number, one] <= MAYBE
            ]
            if kept:
                yield _Row(kept[0][0], wires, kept)

    def _judged(self, row: _Row, returns: Returns) -> Wiring | None:
        """A row of wires with the first of its best choices that the checks call clear."""
        if (row.wires, returns) in self.known:
            return None
        self.known.add((row.wires, returns))
        for strain, values, seats in row.choices[:CHOICES]:
            unusual = sum(one != self.usual for one in row.wires)
            tables = self.passing(self.whole(row.wires, returns, values, seats))
            if tables is not None:
                return Wiring(returns.lines, unusual, tables, strain)
        return None

    def whole(
        self, wires: Sequence[int], returns: Returns, values: Sequence[float], seats: int
    ) -> dict[str, Any]:
        tables, names = self.tables, list(self.tables["circuit"])
        own = [names[one] for one in returns.own]
        lines = [*names, *(f"{name}-return" for name in own), *(["main-"] if returns.shared else [])]
        runs = [
            {
                "line": line, "ends": ["base", "hub"], "length": tables["way"][0]["length"], "wire": STOCK[wire],
                "colour": "black" if line == "main-" else COLOURS[number], "label": line,
            }
            for number, (line, wire) in enumerate(zip(lines, wires, strict=True))
        ]  # fmt: skip
        lamps = []
        for number, lamp in enumerate(tables["lamp"]):
            out = bool(seats >> number & 1)
            lead = {"length": "100 mm", "to": "hub", "colours": ["red", "black"], "label": lamp["name"]}
            more = {"strings_share": "return" if out else "lead"} if lamp["parallel"] > 1 else {}
            lamps.append(
                lamp | {"lead": lead, "resistor": f"{values[number]:g} ohm{' at hub' if out else ''}"} | more
            )
        circuits = {
            name: row | ({"own_return": True} if name in own else {})
            for name, row in tables["circuit"].items()
        }
        return tables | {"circuit": circuits, "lamp": lamps, "run": runs}

    def passing(self, tables: dict[str, Any]) -> dict[str, Any] | None:
        """The build with a fuse with which the checks call it clear; None where they do with none."""
        load = float((self.circuits.strings * self.circuits.wanted).sum()) * 0.75
        for fuse in FUSES:
            amps = float(fuse.split()[0]) * (1e-3 if fuse.endswith("mA") else 1.0)
            if load > 0.9 * amps:
                continue
            main = tables["supply"]["main"] | {"fuse": fuse}
            whole = tables | {"supply": {"main": main}}
            self.judged += 1
            report = postcheck.check(built(whole), remedies=False).files[0]
            if report.verdict == "clear":
                return whole
            load = max(load, report.figures["supplies"]["main"]["highest"] or 0.0)
            if load <= 0.9 * amps:
                return None  # a greater fuse protects no better
        return None


COLOURS = ("white", "blue", "yellow", "green", "brown", "orange", "violet", "pink", "grey", "red")


def best(tables: dict[str, Any], most: int) -> Found:
    """The cheapest wiring of a wish that passes."""
    return Search(tables, most).run()
