"""Random wishes, and sound builds with their wiring taken away."""

from __future__ import annotations

import copy
import json
import random
from typing import Any

KINDS = (
    "smd-0402-red",
    "smd-0402-green",
    "smd-0603-white",
    "smd-0603-warm-white",
    "smd-0603-red",
    "smd-0805-yellow",
    "led-3mm-white",
)


def random_wish(seed: int, *, circuits: int, leds: int, bodies: int = 5, passages: int = 1) -> dict[str, Any]:
    """Lamps in closed bodies round a hub on a post; some circuits flash, some currents are wanted, some bodies sit on arms."""
    chance = random.Random(seed)
    tables: dict[str, Any] = {
        "format": 1,
        "build": {"name": f"Survey airship {seed}", "stage": "planning", "air": "10..28 degC"},
        "supply": {"main": {"kind": "adaptor", "place": "base", "volts": chance.choice(["12 V", "12 V", "9 V", "5 V"])}},
        "place": {
            "base": {"access": "open"},
            "hub": {"access": "cover", "material": "abs", "surface": f"{chance.randint(80, 200)} cm2"},
        },
        "post": {
            "from": "base", "to": "hub", "bore": f"{chance.choice([3, 3.5, 4, 5, 6])} mm",
            "length": f"{chance.randint(100, 250)} mm", "edges": "bushed",
        },
        "board": {"flasher": {"place": "base", "supply": "main", "channels": 12, "limit": "200 mA", "drop": "0.2 V", "idle": "5 mA"}},
        "circuit": {}, "lamp": [], "way": [], "passage": {},
    }  # fmt: skip
    if chance.random() < 0.3:
        tables["post"] |= {
            "turn": "90 deg",
            "stop": True,
            "cycles": "5 /day for 10 years",
            "to_joint": "25 mm",
        }
    names = [f"body {number + 1}" for number in range(bodies)]
    for number, name in enumerate(names):
        material = chance.choice(["styrene", "abs", "styrene", "abs", "resin"])
        tables["place"][name] = {
            "access": "sealed",
            "material": material,
            "surface": f"{chance.randint(40, 120)} cm2",
        }
        if number < passages - 1:
            bore, length = f"{chance.choice([1.5, 2, 2.5])} mm", f"{chance.randint(60, 150)} mm"
            arm = {"from": "hub", "to": name, "bore": bore, "length": length, "edges": "rounded"}
            tables["passage"][f"arm {number + 1}"] = arm
        else:
            tables["way"].append({"from": name, "to": "hub", "length": f"{chance.randint(80, 300)} mm"})
    channel = 0
    for number in range(circuits):
        if chance.random() < 0.35:
            channel += 1
            rate, share = f"{chance.choice([12, 15, 18])} /min", f"{chance.randint(5, 40)} %"
            row = {
                "board": "flasher",
                "channel": channel,
                "behaviour": "flash",
                "rate": rate,
                "on_share": share,
            }
        else:
            row = {"supply": "main"}
        tables["circuit"][f"circuit {number + 1}"] = row
    left, number = leds, 0
    while left > 0:
        number += 1
        count = min(left, chance.choice([1, 1, 1, 2, 3, 4, 6]))
        circuit = number if number <= circuits else chance.randint(1, circuits)
        lamp = {
            "name": f"lamp {number}",
            "circuit": f"circuit {circuit}",
            "kind": chance.choice(KINDS),
            "place": chance.choice(names),
        }
        if count > 1:
            lamp["count"] = count
        if chance.random() < 0.3:
            lamp["wanted"] = f"{chance.choice([2, 3, 4, 5, 8])} mA"
        tables["lamp"].append(lamp)
        left -= count
    used = {lamp["circuit"] for lamp in tables["lamp"]}
    tables["circuit"] = {name: row for name, row in tables["circuit"].items() if name in used}
    if not any("board" in row for row in tables["circuit"].values()):
        del tables["board"]
    return {key: value for key, value in tables.items() if value}


def stripped(tables: dict[str, Any]) -> dict[str, Any]:
    """A sound build without its runs, resistors, fuses and colours; how far its runs went between places stays, as ways."""
    tables = copy.deepcopy(tables)
    ends = {
        frozenset((one["from"], one["to"]))
        for one in (tables.get("post"), *tables.get("passage", {}).values())
        if one
    }
    ways: dict[frozenset[str], dict[str, Any]] = {}
    for run in tables.get("run", []):
        between = frozenset(run["ends"])
        if run.get("length") and run.get("carries", "power") == "power" and between not in ends:
            ways.setdefault(between, {"from": run["ends"][0], "to": run["ends"][1], "length": run["length"]})
    tables["run"] = [run for run in tables.get("run", []) if run.get("carries", "power") != "power"]
    tables["way"] = [*tables.get("way", []), *ways.values()]
    for key in ("proof", "accept"):
        tables.pop(key, None)
    for lamp in tables.get("lamp", []):
        lamp.pop("resistor", None)
        for die in lamp.get("dice", {}).values():
            die.pop("resistor", None)
        if isinstance(lamp.get("lead"), str):
            lamp["lead"] = lamp["lead"].split(",")[0]
        elif lamp.get("lead"):
            lamp["lead"].pop("colours", None)
            lamp["lead"].pop("label", None)
    for supply in tables.get("supply", {}).values():
        supply.pop("fuse", None)
    return tables


def toml(tables: dict[str, Any]) -> str:
    """Tables as a file, with a comment before each."""
    lines = [f"format = {tables['format']}"]
    for section, value in tables.items():
        if section == "format" or not value:
            continue
        if isinstance(value, list):
            for number, table in enumerate(value):
                lines += ["", f"# {section} {number + 1}", f"[[{section}]]", *_pairs(table)]
        elif all(isinstance(table, dict) for table in value.values()):
            for name, table in value.items():
                lines += ["", f"# {section} {name}", f"[{section}.{_key(name)}]", *_pairs(table)]
        else:
            lines += ["", f"[{section}]  # the {section}", *_pairs(value)]
    return "\n".join(lines) + "\n"


def _pairs(table: dict[str, Any]) -> list[str]:
    return [f"{_key(key)} = {_value(value)}" for key, value in table.items()]


def _key(key: str) -> str:
    return key if key.replace("-", "").replace("_", "").isalnum() else json.dumps(key)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {_value(one)}" for key, one in value.items()) + " }"
    return json.dumps(value) if isinstance(value, str) else str(value)
