"""All wirings of a small model, one after the other by cost: code of its own for what a plan decides, the checks as the judge.

A model here has a base, one hub and one closed body; each circuit has one lamp entry. What is decided: the wire of each
run, returns of their own, and the seat and value of each resistor.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from itertools import combinations, product
from typing import Any, NamedTuple

import postcheck
from postcheck.reading.loading import built

STOCK = ("ptfe-28", "ptfe-30", "fep-30", "fep-32", "enamel-0.25")
E12 = (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)
# Typical forward volts near 10 mA, by the catalogue's data sheets.
FORWARD = {"smd-0603-red": 1.95, "smd-0603-white": 3.0, "smd-0603-green": 2.9}


class Wiring(NamedTuple):
    """Conductors through the post, runs that are not of the first wire in stock, and the tables of the build."""

    conductors: int
    unusual: int
    tables: dict[str, Any]


def wish(seed: int, *, by: str) -> dict[str, Any]:
    """A small model that is bound by its copper, or by its bore and the heat in it."""
    chance = random.Random(seed)
    circuits = chance.randint(1, 3)
    copper = by == "copper"
    length = chance.choice([1.2, 2.0, 3.0, 4.0]) if copper else chance.choice([0.2, 0.3])
    volts = chance.choice([5, 9]) if copper else chance.choice([5, 9, 12])
    kinds = ["smd-0603-red"] if volts == 5 else list(FORWARD)
    tables: dict[str, Any] = {
        "format": 1,
        "build": {"name": f"Small tender {seed}", "air": "10..28 degC"},
        "usual": {"lead": "enamel-0.25", "run": "fep-32" if copper else STOCK[0], "resistor": "1/2 W 5 %"},
        "stock": {"wires": list(STOCK)},
        "supply": {"main": {"kind": "adaptor", "place": "base", "volts": f"{volts} V", "tolerance": "3 %", "rated": "2 A"}},
        "post": {
            "from": "base", "to": "hub", "length": f"{length * 1000 - 60:.0f} mm", "edges": "bushed",
            "bore": f"{chance.choice([4, 5]) if copper else chance.choice([1.6, 1.8, 2.0, 2.2, 2.4])} mm",
        },
        "way": [
            {"from": "base", "to": "hub", "length": f"{length * 1000:.0f} mm"},
            {"from": "body", "to": "hub", "length": "100 mm"},
        ],
        "place": {
            "base": {"access": "open"},
            "hub": {"access": "cover", "material": "abs", "surface": "1500 cm2" if copper else "150 cm2"},
            "body": {"access": "sealed", "material": "styrene", "surface": f"{chance.choice([60, 90, 150]) * (10 if copper else 1)} cm2"},
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


def wirings(tables: dict[str, Any]) -> Iterator[Wiring]:
    """Every wiring of a wish, the fewest conductors first, then the fewest runs of unusual wire."""
    circuits = list(tables["circuit"])
    flashing = [name for name in circuits if tables["circuit"][name].get("behaviour") == "flash"]
    for own in (own for count in range(len(flashing) + 1) for own in combinations(flashing, count)):
        lines = [*circuits, *(f"{name}-return" for name in own), "main-"]
        usual = STOCK.index(tables["usual"]["run"])
        choices = sorted(
            product(range(len(STOCK)), repeat=len(lines)), key=lambda row: sum(one != usual for one in row)
        )
        for wires in choices:
            for lamps in product(*(_lamps(tables, lamp) for lamp in tables["lamp"])):
                yield Wiring(
                    len(lines), sum(one != usual for one in wires), _whole(tables, lines, wires, lamps, own)
                )


def _lamps(tables: dict[str, Any], lamp: dict[str, Any]) -> Sequence[dict[str, Any]]:
    volts = float(tables["supply"]["main"]["volts"].split()[0])
    drop = 0.1 if tables["circuit"][lamp["circuit"]].get("behaviour") == "flash" else 0.0
    ohms = (volts - drop - FORWARD[lamp["kind"]]) / (float(lamp["wanted"].split()[0]) / 1000.0)
    values = sorted(
        (step * 10.0**decade for decade in range(1, 5) for step in E12),
        key=lambda value: max(value / ohms, ohms / value),
    )[:2]
    rows = []
    for value in values:
        several = lamp["parallel"] > 1
        rows.append(lamp | {"resistor": f"{value:g} ohm"} | ({"strings_share": "lead"} if several else {}))
        rows.append(
            lamp | {"resistor": f"{value:g} ohm at hub"} | ({"strings_share": "return"} if several else {})
        )
    return rows


def _whole(
    tables: dict[str, Any], lines: Sequence[str], wires: Sequence[int], lamps: Sequence[dict[str, Any]], own: Sequence[str]
) -> dict[str, Any]:  # fmt: skip
    colours = ("white", "blue", "yellow", "green", "brown", "orange", "violet", "pink")
    runs = [
        {
            "line": line, "ends": ["base", "hub"], "length": tables["way"][0]["length"], "wire": STOCK[wire],
            "colour": "black" if line == "main-" else colours[number],
        }
        for number, (line, wire) in enumerate(zip(lines, wires, strict=True))
    ]  # fmt: skip
    circuits = {
        name: row | ({"own_return": True} if name in own else {}) for name, row in tables["circuit"].items()
    }
    labelled = [
        lamp | {"lead": {"length": "100 mm", "to": "hub", "colours": ["red", "black"], "label": lamp["name"]}}
        for lamp in lamps
    ]
    return tables | {"circuit": circuits, "lamp": labelled, "run": runs}


FUSES = (
    "63 mA",
    "80 mA",
    "100 mA",
    "125 mA",
    "160 mA",
    "200 mA",
    "250 mA",
    "315 mA",
    "400 mA",
    "500 mA",
    "630 mA",
    "1 A",
)


def passes(tables: dict[str, Any]) -> bool:
    """Whether the checks call a wiring clear with some fuse."""
    first = postcheck.check(built(tables), remedies=False).files[0]
    names = {finding.check for finding in first.findings if finding.severity != "note"}
    if any(not name.startswith(("fuse.", "wire.")) for name in names):
        return False
    load = first.figures["supplies"]["main"]["highest"] or 0.0
    for fuse in FUSES:
        amps = float(fuse.split()[0]) * (1e-3 if fuse.endswith("mA") else 1.0)
        if load > 0.9 * amps:
            continue
        main = tables["supply"]["main"] | {"fuse": fuse}
        if (
            postcheck.check(built(tables | {"supply": {"main": main}}), remedies=False).files[0].verdict
            == "clear"
        ):
            return True
    return False


def best(tables: dict[str, Any], most: int) -> tuple[int, int] | str | None:
    """Conductors and unusual wires of the cheapest wiring that passes; None where none does, "?" where `most` tries do not tell."""
    for number, wiring in enumerate(wirings(tables)):
        if number >= most:
            return "?"
        if passes(wiring.tables):
            return wiring.conductors, wiring.unusual
    return None
