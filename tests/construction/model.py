"""A build while it is made: the tables of its file, and what its maker knows of them."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from datetime import date
from random import Random
from typing import Any

Tables = dict[str, Any]


def bare(value: Any) -> str:
    """A value as TOML has it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value)
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key(name)} = {bare(one)}" for name, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(bare, value)) + "]"
    return value.isoformat() if isinstance(value, date) else str(value)


def key(name: str) -> str:
    """A key as TOML has it."""
    return name if name.replace("-", "").replace("_", "").isalnum() else json.dumps(name)


NAMED = ("supply", "passage", "place", "board", "circuit", "cable", "lamp_kind", "wire", "strip_kind")


def written(tables: Tables) -> str:
    """A whole file."""
    blocks = []
    for name, value in tables.items():
        if isinstance(value, list) and value and isinstance(value[0], dict):
            blocks += [(f"[[{name}]]", row) for row in value]
        elif name in NAMED:
            blocks += [(f"[{name}.{key(one)}]", row) for one, row in value.items()]
        elif isinstance(value, dict):
            blocks.append((f"[{name}]", value))
    top = "".join(
        f"{name} = {bare(value)}\n" for name, value in tables.items() if not isinstance(value, dict | list)
    )
    return top + "".join(
        f"\n{head}\n" + "".join(f"{key(one)} = {bare(value)}\n" for one, value in row.items())
        for head, row in blocks
    )


@dataclass
class Part:
    """Something that takes current: its entry in the file, and its figures, A and W."""

    entry: dict[str, Any]
    sort: str  # led, inside, bulb, chip, colours, strip, motor
    circuit: str
    amps: float
    most: float
    least: float = 0.0
    series: int = 1
    parallel: int = 1
    ohms: float = 0.0
    starting: float = 0.0

    @property
    def name(self) -> str:
        """Its name in the file."""
        return str(self.entry["name"])


@dataclass
class Source:
    """A supply: its volts at the least, usually, at the most; A that it is surely good for, ohms inside."""

    name: str
    least: float
    usual: float
    most: float
    ohms: float = 0.0
    stiff: bool = False  # a battery: it gives what its resistance lets

    @property
    def fed(self) -> float:
        """Volts by which its lamps are worked out."""
        return self.usual


@dataclass
class Model:
    """A build that is being made."""

    chance: Random
    wants: frozenset[str]
    source: Source
    tables: Tables = field(default_factory=dict)
    parts: list[Part] = field(default_factory=list)
    hub: str = "base"
    bodies: list[str] = field(default_factory=list)
    has: set[str] = field(default_factory=set)
    wire: str = "ptfe-28"
    lead: str = "ptfe-30"
    way: int = 0  # from base to hub, mm
    lined: set[str] = field(default_factory=set)  # bodies that lines go on to
    heat: dict[str, float] = field(default_factory=dict)

    def may(self, what: str, odds: float) -> bool:
        """Whether it has such a thing, because it is wanted or by chance."""
        yes = what in self.wants or (f"no {what}" not in self.wants and self.chance.random() < odds)
        if yes:
            self.has.add(what)
        return yes

    def warm(self, place: str, watts: float) -> None:
        """Heat in a place."""
        self.heat[place] = self.heat.get(place, 0.0) + watts

    def of(self, *sorts: str) -> list[Part]:
        """Parts of these sorts."""
        return [part for part in self.parts if part.sort in sorts]
