"""Whatever takes current, one record each: a string of a lamp, a strip or a load, with its driver, lead and joints."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Literal, NamedTuple

from postcheck.description.consumers import Kind
from postcheck.description.models import JointSize
from postcheck.description.problems import Path
from postcheck.wiring.graph import Node
from postcheck.wiring.nets import Driver
from postcheck.wiring.parts import LegPart, Parts
from postcheck.wiring.through import Passages

Side = Literal["supply", "return"]


class Leg(NamedTuple):
    """One leg of a lead, from where it begins to its joint.

    `owner`: the lamp (with its colour, on the supply side), strip or load that it belongs to. `string`: which of several
    strings brings it; None where they share it, or there is one.
    """

    owner: str
    side: Side
    string: int | None
    start: str
    joint: Node


class Consumer(NamedTuple):
    """One string of a lamp (of one colour of it), a strip, or a load.

    `entry`: the name without the colour. `string`: its number among those side by side. `places`: of the dice along the
    string, in order. `backwards`: it is wired the wrong way round. `lead`: it has one; `fixed`: that is painted over or
    trapped. `label`: what is written on its flag.
    """

    kind: Kind
    name: str
    entry: str
    string: int
    driver: Driver
    place: str
    places: tuple[str, ...]
    supply_leg: Leg
    return_leg: Leg
    backwards: bool
    lead: bool
    fixed: bool
    label: str
    path: Path

    @property
    def legs(self) -> tuple[Leg, Leg]:
        """Its two legs, that of the supply side first."""
        return self.supply_leg, self.return_leg

    def leg(self, side: Side) -> Leg:
        """Its leg on one side."""
        return self.supply_leg if side == "supply" else self.return_leg


class FineWire(NamedTuple):
    """A fine wire: a leg of a lead, or the link between two lamps of a chain.

    `leg`: supply, return or link; `string`: which of several strings brings it, None where they share it. `through`: the
    passages that it goes through. `carries`: the names of the lamps, strips or loads whose current it carries, once for
    each string. `joint`: the thickest spot that comes with it. `owner`: whose leg it is; of one
    that colours share, the lamp itself.
    """

    name: str
    entry: str
    path: Path
    leg: Literal["supply", "return", "link"]
    string: int | None
    start: str
    to: str
    data: LegPart
    through: tuple[str, ...]
    carries: tuple[str, ...]
    joint: JointSize | None
    owner: str


def consumers_of(
    parts: Parts, drivers: Mapping[str, Driver], node: Callable[[str, str], Node]
) -> Iterator[Consumer]:
    """Every string of the lamps, every strip and load, in this order; `node`: where a line is at a place."""
    for part in parts.all:
        driver, lead = drivers[part.circuit], part.lead
        supply, back = node(driver.circuit, part.supply_leg.to), node(driver.return_net, part.return_leg.to)
        for string in range(part.parallel):
            yield Consumer(
                part.kind, part.name, part.entry, string, driver, part.place, part.places,
                Leg(part.name, "supply", None if part.share == "lead" else string, part.places[0], supply),
                Leg(part.entry, "return", string if part.share == "nothing" else None, part.places[-1], back),
                part.backwards,
                lead is not None, lead is not None and lead.fixed, (lead.label if lead is not None else None) or "",
                part.path,
            )  # fmt: skip


def fine_wires(consumers: Iterable[Consumer], parts: Parts, passages: Passages) -> tuple[FineWire, ...]:
    """Each leg of a lead and each link of a chain, once."""
    found: dict[Leg, FineWire] = {}
    carries: dict[Leg, list[str]] = {}
    links: list[FineWire] = []
    for consumer in consumers:
        part = parts.named[consumer.name]
        names, path = (part.name, part.entry), part.path[:2]
        joint = part.lead.joint if part.lead is not None else None
        for leg in consumer.legs:
            carries.setdefault(leg, []).append(part.name)
            if leg in found:
                continue
            data = part.supply_leg if leg.side == "supply" else part.return_leg
            through = passages.of_leg(names, leg.start, data.to) if consumer.lead else ()
            found[leg] = FineWire(
                *names, path, leg.side, leg.string, leg.start, data.to, data, through, (part.name,), joint, leg.owner
            )  # fmt: skip
        string = consumer.string if part.parallel > 1 else None
        for start, end, link in zip(part.places, part.places[1:], part.links, strict=False):
            through = passages.of_leg(names, start, end)
            links.append(
                FineWire(
                    *names, path, "link", string, start, end, link, through, (part.name,), joint, part.name
                )
            )
    for leg, of in carries.items():
        if len(of) > 1:
            found[leg] = found[leg]._replace(carries=tuple(of))
    return (*found.values(), *links)
