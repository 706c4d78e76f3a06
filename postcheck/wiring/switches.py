"""Switches that a hand works: in which line each is, and where."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal, NamedTuple

from postcheck.description.models import Build, SwitchSpec
from postcheck.description.problems import Problem
from postcheck.plain import quoted
from postcheck.wiring.nets import Driver

if TYPE_CHECKING:
    from postcheck.wiring.resolved import Wiring

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
    """Every switch by its line; of a circuit of which nobody knows where it begins there is none."""
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


def switch_problems(wiring: Wiring) -> Iterator[Problem]:
    """Switches away from where their line begins that nothing, or not everything, of it goes through."""
    open_lines = {one.line for one in wiring.unbuilt}
    for switch in wiring.switches.values():
        path = (switch.kind, switch.name, "on_off")
        plug = next(
            (plug for plug in wiring.build.plug if plug.at == switch.place and switch.line in plug.pins), None
        )
        if switch.begins or switch.line in open_lines:
            continue
        if plug is not None:
            says = f"plug {quoted(plug.name)} sits at {quoted(switch.place)} too, and the file does not say which of them comes first"
            yield Problem("file.invalid", path, says, "give one of them a place of its own", "key")
            continue
        own = [edge for edge in wiring.edges if edge.kind == "switch" and edge.name == switch.line]
        ahead = wiring.fed.reached(wiring.sources, without=own)
        passed = [
            consumer.name
            for consumer in wiring.every_consumer
            if switch.line in (consumer.driver.circuit, consumer.driver.pole)
            and not all(leg.joint in ahead for leg in consumer.legs)
        ]
        missed = [
            consumer.name
            for consumer in wiring.every_consumer
            if switch.line in (consumer.driver.circuit, consumer.driver.pole) and consumer.name not in passed
        ]
        if missed:
            says = f"the switch of {quoted(switch.name)} at {quoted(switch.place)} does not turn {quoted(missed[0])} off: its current does not go through {quoted(switch.place)} on line {quoted(switch.line)}"
            yield Problem(
                "file.invalid",
                path,
                says,
                "lay the runs of that line by way of that place, or leave the place out",
                "key",
            )
