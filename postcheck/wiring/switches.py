"""Switches that a hand works: in which line each is, and where."""

from __future__ import annotations

from typing import Literal, NamedTuple

from postcheck.description.models import Build, SwitchSpec
from postcheck.wiring.nets import Driver

# Of a switch whose file does not say it, ohm: makers' sheets of small slide and toggle switches promise 20 to 50 mohm new (from memory).
CONTACT = 0.05


class Switch(NamedTuple):
    """A switch of a supply or a circuit (`kind`, `name`) in a line. `begins`: it sits where that line begins."""

    kind: Literal["supply", "circuit"]
    name: str
    line: str
    place: str
    begins: bool
    spec: SwitchSpec

    @property
    def ohms(self) -> float:
        """Its contact resistance, ohm."""
        return CONTACT if self.spec.contact is None else max(self.spec.contact, 1e-9)


def switches_of(build: Build, drivers: dict[str, Driver]) -> dict[str, Switch]:
    """Every switch by its line; none for a circuit of unknown beginning."""
    found = {}
    for name, supply in build.supply.items():
        if supply.on_off is not None:
            place = supply.on_off.place or supply.place
            found[f"{name}+"] = Switch(
                "supply", name, f"{name}+", place, place == supply.place, supply.on_off
            )
    for name, circuit in build.circuit.items():
        home = drivers[name].place
        if circuit.on_off is not None and home is not None:
            place = circuit.on_off.place or home
            found[name] = Switch("circuit", name, name, place, place == home, circuit.on_off)
    return found
