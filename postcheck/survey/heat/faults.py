"""What a short at the far end of every conductor does to it: which shorts there can be, and what each heats."""

from collections.abc import Callable, Iterator, Mapping
from functools import cache, cached_property
from math import inf, log10
from typing import NamedTuple

from postcheck.description.models import FuseSpec, Supply
from postcheck.description.naming import passages_of
from postcheck.limits import Limits
from postcheck.physics import copper, wire_heat
from postcheck.physics.fuse import surely_open_by, surely_opens_at
from postcheck.survey.heat.conductors import InUse
from postcheck.survey.heat.figures import ConductorFault, FaultHeat
from postcheck.survey.network.supplies import gives_up, in_a_short
from postcheck.wiring import Wiring
from postcheck.wiring.data import WireData
from postcheck.wiring.graph import Edge, Graph, Node
from postcheck.wiring.parts import Part, Parts, RunPart, StripPart

# Time constants of a wire after which it has settled.
_SETTLES = 5.0
# s, up to which insulation stands more than it is rated for; IEC 60364-4-43.
_SHORT_TIME = 5.0
# Name, kind, path and leg of a conductor.
_Who = tuple[str, str, tuple[str | int, ...], str]


class _Feed(NamedTuple):
    """What a supply can do in a fault. Volts low and typical, ohms inside; what it gives for sure and at most, A.

    `ahead`: what the positive pole feeds before its fuse, where that sits elsewhere. `nearest`, `farthest`: the least and
    most resistance of a pole's ways to a place, ohm: a short may find either.
    """

    name: str
    low: float
    volts: float
    ohms: float
    sure: float
    most: float
    fuse: FuseSpec | None
    plus: Mapping[Node, float]
    minus: Mapping[Node, float]
    nearest: Mapping[tuple[bool, str], float]
    farthest: Mapping[tuple[bool, str], float]
    ahead: frozenset[Node]


class _Short(NamedTuple):
    """A short: its resistance without and in the conductor, ohm; the conductor's wire, place and surroundings.

    `near`: the resistance of one at the conductor's near end. `fuse`: in its way. `longer`: what the longest way back has
    more, ohm.
    """

    near: float
    rest: float
    own: float
    wire: WireData
    conductors: int
    air: float
    bore: float | None
    fuse: FuseSpec | None
    longer: float = 0.0


class _Lead(NamedTuple):
    """A short at the end of a leg: its joint at the line that feeds it, the short, without a fuse, and whose leg it is."""

    fed: Node
    short: _Short
    who: _Who


def opens_at(fuse: FuseSpec | None, lasting: float, coldest: float) -> float:
    """The current (A) from which a fuse is sure to open, infinite where there is none.

    `lasting`: times a quick or slow one's rating; `coldest`: the coldest air, degC, in which a resettable one opens last.
    """
    if fuse is None:
        return inf
    fuse = fuse.in_air(coldest)
    return min(fuse.rated * surely_opens_at(fuse.kind, lasting), fuse.trips_at or inf)


def keeps_up(supply: Supply, lasting: float, coldest: float) -> float:
    """The most current (A) that a supply gives for long: above it its fuse is sure to open (`opens_at`), or it gives up by itself."""
    return min(gives_up(supply)[1], opens_at(supply.fuse, lasting, coldest))


class Faults:
    """The shorts of a wiring. Like ones are worked out once, and those of one supply with another fuse without the others."""

    def __init__(self, wiring: Wiring, limits: Limits, used: InUse) -> None:
        self.wiring: Wiring = wiring
        self.limits: Limits = limits
        self.parts: Parts = wiring.parts
        self.used: InUse = used
        build = wiring.build
        self.runs: dict[str, RunPart] = {run.name: run for run in self.parts.runs}
        self.air: float = build.build.air[1]
        self.heat: ShortHeat = ShortHeat(limits, build.build.air[0])
        self.bores: dict[str, float] = {name: passage.bore for name, passage in passages_of(build).items()}
        # a constant-current output limits a short by itself
        self.graph: Graph = Graph(
            edge
            for edge in wiring.edges
            if (edge.kind != "channel" or wiring.drivers[edge.name].steady is None)
            and edge.kind != "unbuilt"  # what a short draws there depends on wire that is not chosen yet
        )
        self.ends: dict[str, tuple[Node, Node]] = {
            edge.name: (edge.a, edge.b) for edge in wiring.edges if edge.kind in ("conductor", "body")
        }
        self.feeds: dict[str, _Feed] = {
            name: self._feed(name, supply)
            for name, supply in build.supply.items()
            if name in wiring.known_supplies
        }
        # the supplies that come to a node, in order
        self.coming: dict[Node, dict[str, None]] = {}
        for name, feed in self.feeds.items():
            for node in (*feed.plus, *feed.minus):
                self.coming.setdefault(node, {})[name] = None
        self.fault_of: Callable[[str, _Short], ConductorFault] = cache(self._fault_of)

    def found(self) -> Iterator[ConductorFault]:
        """One record for every run and every leg of a lead that a short could overload."""
        for run, wire in self._live:
            yield from self._run(run, wire, self.feeds)
        for name, lead in self._leads:
            yield self._lead(self.feeds[name], lead)

    def of(self, supply: str, fuse: FuseSpec) -> Iterator[ConductorFault]:
        """Those of one supply, with this fuse there."""
        feed = self.feeds.get(supply)
        if feed is None:
            return
        other = feed._replace(fuse=fuse, ahead=self._ahead(supply, fuse))
        feeds = {**self.feeds, supply: other}
        for run, wire in self._live:
            # a supply that reaches one end reaches both
            if supply in self.coming.get(self.ends[run.name][0], ()):
                yield from (fault for fault in self._run(run, wire, feeds) if fault.supply == supply)
        for name, lead in self._leads:
            if name == supply:
                yield self._lead(other, lead)

    @cached_property
    def _live(self) -> tuple[tuple[RunPart, WireData], ...]:
        return tuple(
            (run, run.wire) for run in self.parts.runs if run.live and not run.body and run.wire is not None
        )

    # -- paths

    def _ohms(self, edge: Edge) -> float:
        """The cold resistance of an edge with all its parallel conductors, ohm."""
        if edge.kind in ("conductor", "body"):
            run = self.runs[edge.name]
            return run.ohms(20.0) / run.conductors
        if edge.kind == "pin":
            return self.wiring.contact(edge.name)
        if edge.kind == "switch":
            return self.wiring.switches[edge.name].ohms
        if edge.kind in ("leg", "trace"):
            strip = self.parts.named[edge.name]
            assert isinstance(strip, StripPart)
            if edge.kind == "trace":
                return (strip.trace or 0.0) * strip.length
            return (strip.supply_leg if edge.number == 0 else strip.return_leg).ohms(20.0)
        return 0.0

    def _ahead(self, name: str, fuse: FuseSpec | None) -> frozenset[Node]:
        """Everything that a supply's positive pole feeds before a fuse that sits elsewhere, and what first comes there."""
        if fuse is None or fuse.place in (None, self.wiring.build.supply[name].place):
            return frozenset()
        start = self.wiring.terminal(name, "+")
        found, left = {start}, [start]
        while left:
            node = left.pop()
            if node.place == fuse.place:
                continue
            new = {edge.other(node) for edge in self.graph.at.get(node, ())} - found
            found |= new
            left += new
        return frozenset(found)

    def _feed(self, name: str, supply: Supply) -> _Feed:
        plus, minus = (self.graph.distances(self.wiring.terminal(name, sign), self._ohms) for sign in "+-")
        nearest: dict[tuple[bool, str], float] = {}
        farthest: dict[tuple[bool, str], float] = {}
        for side, paths in ((True, plus), (False, minus)):
            for node, ohms in paths.items():
                key = (side, node.place)
                nearest[key] = min(nearest.get(key, inf), ohms)
                farthest[key] = max(farthest.get(key, 0.0), ohms)
        return _Feed(
            name, *in_a_short(supply), *gives_up(supply), supply.fuse, plus, minus, nearest, farthest,
            self._ahead(name, supply.fuse),
        )  # fmt: skip

    # -- conductors

    def _around(self, passages: tuple[str, ...], key: tuple[str, str, str]) -> tuple[float, float | None]:
        """The air (degC) that a conductor lies in with the others in use, and the slimmest bore (m) round it."""
        bore = min((self.bores[name] for name in passages), default=None)
        return self.air + self.used.company(passages, key), bore

    def _run(self, run: RunPart, wire: WireData, feeds: Mapping[str, _Feed]) -> Iterator[ConductorFault]:
        """The worst that any supply that reaches a run does to it."""
        air, bore = self._around(run.through, ("run", run.name, ""))
        nodes = {place: self.ends[run.name][number] for number, place in enumerate(run.ends)}
        own = run.ohms(20.0) / run.conductors
        worst: ConductorFault | None = None
        come = {name for node in nodes.values() for name in self.coming.get(node, ())}
        for feed in (feed for name, feed in feeds.items() if name in come):
            for side, paths in ((True, feed.plus), (False, feed.minus)):
                ends = [(paths[node], place) for place, node in nodes.items() if node in paths]
                if not ends:
                    continue
                # of two equal ends the run's first one, whatever the places are called
                path_ohms, place = max(ends, key=lambda end: end[0])
                if not side and not _live_beyond(feed, path_ohms):
                    continue  # a return that this supply's positive pole comes nowhere near
                # where the other pole does not reach, the short returns by a path as long as this one
                back = feed.nearest.get((not side, place), path_ohms)
                near = path_ohms - own
                other = next((end for end in nodes if end != place), place)
                ahead = nodes[place] in feed.ahead if side else _comes(feed.ahead, place)
                short = _Short(
                    near=max(near, 0.0) + feed.nearest.get((not side, other), near),
                    rest=max(near + back, 0.0),
                    own=own,
                    wire=wire,
                    conductors=run.conductors,
                    air=air,
                    bore=bore,
                    fuse=None if ahead else feed.fuse,
                    longer=feed.farthest.get((not side, place), path_ohms) - back,
                )
                fault = self._fault(feed, short, (run.name, "run", run.path, ""))
                if worst is None or _heat(fault) > _heat(worst):
                    worst = fault
        if worst is not None:
            yield worst

    @cached_property
    def _leads(self) -> tuple[tuple[str, _Lead], ...]:
        """The legs that a short could overload, each with its supply."""
        return tuple(self._legs())

    def _legs(self) -> Iterator[tuple[str, _Lead]]:
        consumers = {consumer.name: consumer for consumer in self.wiring.consumers}
        seen: set[tuple[str, str]] = set()  # its strings have equal legs
        for wire in self.wiring.fine_wires:
            if (
                wire.leg == "link"
                or wire.data.wire is None
                or wire.data.length == 0.0
                or (wire.name, wire.leg) in seen
            ):
                continue
            seen.add((wire.name, wire.leg))
            part, consumer = self.parts.named[wire.name], consumers.get(wire.name)
            if consumer is None:
                continue
            driver = consumer.driver
            feed = self.feeds.get(driver.supply or "")
            if feed is None:
                continue
            paths = (feed.plus, feed.minus) if driver.positive else (feed.minus, feed.plus)
            out, home = paths[0].get(consumer.supply_leg.joint), paths[1].get(consumer.return_leg.joint)
            if out is None or home is None or _limited(part):
                continue
            fed = consumer.supply_leg.joint if driver.positive else consumer.return_leg.joint
            air, bore = self._around(wire.through, ("lead", wire.name, wire.leg))
            own = wire.data.ohms(20.0)
            rest = out + home + part.supply_leg.ohms(20.0) + part.return_leg.ohms(20.0) - own
            short = _Short(
                near=out + home, rest=rest, own=own, wire=wire.data.wire, conductors=1, air=air, bore=bore, fuse=None
            )  # fmt: skip
            yield feed.name, _Lead(fed, short, (wire.name, "lead", wire.path, wire.leg))

    def _lead(self, feed: _Feed, lead: _Lead) -> ConductorFault:
        ahead = lead.fed in feed.ahead and feed.fuse is not None and lead.fed.place != feed.fuse.place
        return self._fault(feed, lead.short if ahead else lead.short._replace(fuse=feed.fuse), lead.who)

    # -- what happens

    def _fault(self, feed: _Feed, short: _Short, who: _Who) -> ConductorFault:
        name, kind, path, leg = who
        return self.fault_of(feed.name, short)._replace(name=name, kind=kind, path=path, leg=leg)

    def _fault_of(self, supply: str, short: _Short) -> ConductorFault:
        """The record of a short, whatever conductor has it."""
        feed = self.feeds[supply]  # the fuse in the way is the short's, not the feed's
        short = short._replace(rest=short.rest + feed.ohms)
        rated = short.fuse.rated if short.fuse is not None else None

        def fault(
            current: float, sure: FaultHeat, most: FaultHeat, *, part_way: bool = False
        ) -> ConductorFault:
            opens = not part_way and current >= opens_at(short.fuse, self.heat.lasting, self.heat.coldest)
            return ConductorFault(
                "", "", (), short.wire, supply, current, rated, opens, sure, most, "", part_way
            )

        total = max(short.rest + short.own, 1e-3)
        least, typical = feed.low / (total + short.longer), feed.volts / total
        sure = self.heat.heated(short, feed.volts, typical, feed.sure)
        most = sure if feed.most == feed.sure else self.heat.heated(short, feed.volts, typical, feed.most)
        near = feed.volts / max(short.near + feed.ohms, 1e-3)
        if not most.hurt and near > typical:
            nearer = self.heat.on_the_way(short, min(near, feed.sure))
            if nearer.hurt:
                return fault(nearer.lasting * short.conductors, nearer, nearer, part_way=True)
        return fault(least, sure, most)


def _live_beyond(feed: _Feed, path_ohms: float) -> bool:
    """Whether a supply's positive pole reaches any place that lies at least this far (ohm) along its negative."""
    return any(ohms >= path_ohms and (True, node.place) in feed.nearest for node, ohms in feed.minus.items())


def _comes(ahead: frozenset[Node], place: str) -> bool:
    """Whether anything ahead of the fuse reaches a place."""
    return any(node.place == place for node in ahead)


def _limited(lamp: Part) -> bool:
    """Whether a lamp's resistor sits at its joint, ahead of the lead: then no short of the lead draws much."""
    if lamp.resistor is None:
        return False
    leg = lamp.supply_leg if lamp.resistor.side == "supply" else lamp.return_leg
    return lamp.resistor.place == leg.to and leg.to not in lamp.places


def _heat(fault: ConductorFault) -> tuple[bool, float]:
    """A sort key: sure harm first, then how far the wire gets above what it withstands."""
    heat = fault.most
    return fault.sure.hurt, inf if heat.hottest is None else heat.hottest - heat.stands


class ShortHeat:
    """What shorts heat, like ones worked out once.

    `lasting`, `coldest`: as `opens_at` takes them; `insulation`: the share of its rating that is used.
    """

    def __init__(self, limits: Limits, coldest: float) -> None:
        self.lasting: float = limits.value("fuse.lasting")
        self.coldest: float = coldest
        self.insulation: float = limits.value("wire.insulation")
        self.settles: Callable[[WireData, float, float, float | None], float | None] = cache(self._settles)
        self.sheds: Callable[[WireData, float, float | None], float] = cache(self._sheds)

    def on_the_way(self, short: _Short, most: float) -> FaultHeat:
        """What a short nearer than the far end makes of a conductor: somewhere on it the most flows that nothing is sure to end."""
        stands = short.wire.insulation_celsius * self.insulation
        lasting = min(most, opens_at(short.fuse, self.lasting, self.coldest)) / short.conductors
        settled = self.settles(short.wire, _rounded(lasting), short.air, short.bore)
        return FaultHeat(lasting, settled, settled, stands, stands)

    def heated(self, short: _Short, volts: float, typical: float, limit: float) -> FaultHeat:
        """What the conductor suffers where the supply gives no more than `limit` (A).

        `volts`: the supply's usual ones, `typical`: what these drive through the short while it is cold, A.
        """
        wire, opens = short.wire, opens_at(short.fuse, self.lasting, self.coldest)
        stands = wire.insulation_celsius * self.insulation
        flows = min(typical, limit)
        lasting = min(flows, opens)
        settled = self._held_back(short, volts, typical, min(limit, opens), stands)
        peak, for_now = settled, stands
        if (fuse := short.fuse) is not None and flows >= opens:
            fuse = fuse.in_air(self.coldest)
            seconds = surely_open_by(fuse.rated, flows, fuse.kind, fuse.body, fuse.trips)
            peak = self._until_open(short, volts, typical, limit, seconds)
            if seconds <= _SHORT_TIME:
                for_now = max(wire.short_celsius, stands)
        return FaultHeat(lasting / short.conductors, settled, peak, stands, for_now)

    def _held_back(
        self, short: _Short, volts: float, typical: float, cap: float, matters: float
    ) -> float | None:
        """Where the wire settles at no more than a current; its own warming holds the short back."""
        current = _rounded(min(typical, cap) / short.conductors)
        settled = self.settles(short.wire, current, short.air, short.bore)
        # a cold short far above the cap stays above it when hot; a wire that is cool enough needs no second look
        if (settled is None or settled > matters) and typical <= 4.0 * cap:
            settled = self._throttled(short, volts, cap)
        return settled

    def _settles(self, wire: WireData, current: float, air: float, bore: float | None) -> float | None:
        return wire_heat.settles_at(current, wire.ohms_per_metre_most, wire.max_diameter, air, bore)

    def _sheds(self, wire: WireData, air: float, bore: float | None) -> float:
        """Loss in W/(m K) near the temperature that the insulation withstands briefly."""
        rise = max(wire.short_celsius - air, 1.0)
        return wire_heat.loss_per_metre(wire.max_diameter, rise, air, bore) / rise

    def _throttled(self, short: _Short, volts: float, cap: float) -> float | None:
        """Where the wire settles when its own warming holds the short back."""
        wire = short.wire

        def amps(celsius: float) -> float:
            ohms = short.rest + copper.at_temperature(short.own, celsius)
            return min(cap, volts / max(ohms, 1e-3)) / short.conductors

        return wire_heat.settles_at(amps, wire.ohms_per_metre_most, wire.max_diameter, short.air, short.bore)

    def _until_open(
        self, short: _Short, volts: float, typical: float, limit: float, seconds: float
    ) -> float | None:
        """The hottest the wire gets in so long, which is never more than where it would settle."""
        wire = short.wire
        loss, held = self.sheds(wire, short.air, short.bore), copper.VOLUMETRIC_HEAT * wire.conductor_area
        peak: float | None = None
        if seconds * loss < _SETTLES * held:
            current = min(typical, limit) / short.conductors
            peak = wire_heat.warms_to(
                current, seconds, wire.conductor_area, wire.ohms_per_metre_most, loss, short.air
            )
            if peak <= wire.insulation_celsius:
                return peak
        settled = self._held_back(short, volts, typical, limit, wire.insulation_celsius)
        if peak is None:
            return settled
        hottest = peak if settled is None else min(peak, settled)
        return None if hottest > copper.MELTING else hottest


def _rounded(current: float) -> float:
    """Up to three digits, so that leads much alike are worked out once."""
    if not 0.0 < current < inf:
        return 1e6 if current > 0.0 else 0.0
    step = 10.0 ** (int(log10(current)) - 3)
    return (int(current / step) + 1) * step if current / step > int(current / step) + 1e-6 else current
