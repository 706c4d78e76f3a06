"""Every conductor's end at every place: what a hand finds there, and which line it belongs to."""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import combinations
from types import MappingProxyType
from typing import NamedTuple

from postcheck.colours import DAYLIGHT, letters
from postcheck.description.models import Lead
from postcheck.description.problems import Path
from postcheck.limits import Limits
from postcheck.physics.colour_difference import ciede2000, in_poor_light, lab_of_srgb
from postcheck.wiring import Wiring
from postcheck.wiring.consumers import Consumer, Leg
from postcheck.wiring.graph import Edge, Graph, Node
from postcheck.wiring.parts import Part, RunPart


class ConductorEnd(NamedTuple):
    """One end of a conductor at a place: a leg of a lead, or a conductor of a run.

    `net`: all that is electrically one with it there, by one name; "" where it carries nothing. `kind`: lamp, strip, load
    or run. `leg`: supply or return. `colour` and `label` as the file words them, `letters` by IEC 60757, `wire` by its name;
    "" where the file says none. `own_label`: the label hangs on this conductor, not on both legs of its lead.
    `positive`: the side it is on; None for what carries no power. `cable`: the sheath that it comes out of.
    `asked`: the file gives the colours of its lead, and which of them it has is an open question.
    """

    place: str
    net: str
    kind: str
    name: str
    path: Path
    leg: str = ""
    colour: str = ""
    letters: str = ""
    wire: str = ""
    label: str = ""
    own_label: bool = False
    positive: bool | None = None
    cable: str = ""
    asked: bool = False


def conductor_ends(wiring: Wiring) -> tuple[ConductorEnd, ...]:
    """All ends: the legs of lamps, strips and loads that have a lead, then both ends of every conductor of a run."""
    return tuple(_Ends(wiring).all())


def poor_light_differences(limits: Limits) -> Mapping[tuple[str, str], float]:
    """How different each two of the plain colours look in poor light, by CIEDE2000; their letters in either order."""
    return _differences(limits.value("colour.poor-light.lightness"), limits.value("colour.poor-light.chroma"))


@lru_cache(maxsize=8)  # alike in all builds that leave these limits as they are
def _differences(light: float, chroma: float) -> Mapping[tuple[str, str], float]:
    seen = {code: in_poor_light(lab_of_srgb(*srgb), light, chroma) for code, srgb in DAYLIGHT.items()}
    found = {}
    for one, other in combinations(seen, 2):
        found[one, other] = found[other, one] = ciede2000(seen[one], seen[other])
    return MappingProxyType(found)


class _Ends:
    def __init__(self, wiring: Wiring) -> None:
        self.wiring = wiring
        # lines that are joined anywhere count as one everywhere; a separate return is one with its pole only where it begins
        self.joints = Graph(
            Edge("joint", "", 0, Node(edge.a.net, ""), Node(edge.b.net, ""))
            for edge in wiring.edges
            if edge.kind == "joint" and edge.number >= 0
        )
        self.begins = {
            (driver.return_net, driver.place): driver.other_pole
            for driver in wiring.drivers.values()
            if driver.own_return
        }
        self.positive = {name: driver.positive for name, driver in wiring.drivers.items()}
        self.positive |= {net: sign == "+" for net, (_, sign) in wiring.poles.items()}

    def all(self) -> Iterator[ConductorEnd]:
        parts = self.wiring.parts.named
        seen: set[Leg] = set()
        for consumer in self.wiring.every_consumer:
            lead = parts[consumer.name].lead
            for leg in consumer.legs if lead is not None else ():
                if leg not in seen and lead is not None:
                    seen.add(leg)
                    yield self._leg(consumer, leg, parts[consumer.name], lead)
        for run in self.wiring.parts.runs:
            for place in run.ends:
                yield from [self._run(run, place)] * run.conductors

    def _net(self, net: str, place: str) -> str:
        """The one name for all lines that are joined to a line at a place."""
        net = self.begins.get((net, place), net)
        return self.joints.root(Node(self.wiring.nets.at(net, place), "")).net

    def _leg(self, consumer: Consumer, leg: Leg, part: Part, lead: Lead) -> ConductorEnd:
        data, said = (part.supply_leg, lead.feed) if leg.side == "supply" else (part.return_leg, lead.back)
        own = (said.label or "").strip() if said is not None else ""
        net = consumer.driver.net(leg.side)
        return ConductorEnd(
            place=data.to,
            net=self._net(net, data.to),
            kind=consumer.kind,
            name=consumer.entry,
            path=(*part.path[:2], "lead"),
            leg=leg.side,
            colour=(data.colour or "").strip(),
            letters=letters(data.colour or ""),
            wire=data.wire.name if data.wire is not None else "",
            label=own or (lead.label or "").strip(),
            own_label=bool(own),
            positive=self.positive.get(net, consumer.driver.positive is (leg.side == "supply")),
            asked=not data.colour and bool(lead.colours),
        )

    def _run(self, run: RunPart, place: str) -> ConductorEnd:
        label = (run.said.label or "").strip()
        return ConductorEnd(
            place=place,
            net=self._net(run.line, place) if run.line and not run.spare else "",
            kind="run",
            name=run.name,
            path=run.path,
            colour=(run.colour or "").strip(),
            letters=letters(run.colour or ""),
            wire=run.wire.name if run.wire is not None and not run.body else "",
            label=label,
            own_label=bool(label),
            positive=self.positive.get(run.line) if run.live else None,
            cable=run.cable or "",
        )
