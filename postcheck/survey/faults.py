"""What a short at the far end of every conductor does to it, and how hot runs get in normal use."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from heapq import heappop, heappush
from math import inf, isfinite, log10

from postcheck.build.models import Build, Supply
from postcheck.build.naming import back_line, line_at, origin_of, passages_of, supply_of
from postcheck.limits import Limits
from postcheck.physics import fuse_time, wire_heat
from postcheck.survey.figures import ConductorFault, Electrics
from postcheck.survey.parts import LampPart, LoadPart, Parts, RunPart, StripPart, WireData
from postcheck.survey.passages import legs_of, passages_of_lead
from postcheck.survey.supplies import converter_volts, rated_current, source_of

__all__ = ["conductor_faults", "hottest_in_use"]

# A small adaptor or converter gives up somewhere between 1.1 and 2 times its rating (makers' sheets, from memory);
# taken where the file states no limit. A battery has no such limit.
GIVES_UP_AT = 2.0
CONTACT = 1e-3

Node = tuple[str, str]


@dataclass(slots=True)
class _Feed:
    """What a supply can do in a fault. Volts low and typical, ohms inside, most for good and most at first, A."""

    name: str
    low: float
    volts: float
    ohms: float
    for_good: float
    at_first: float
    stated: bool
    fuse: float | None
    kind: str
    plus: dict[Node, float] = field(default_factory=dict)
    minus: dict[Node, float] = field(default_factory=dict)
    nearest: dict[tuple[bool, str], float] = field(default_factory=dict)


def conductor_faults(build: Build, parts: Parts, limits: Limits) -> tuple[ConductorFault, ...]:
    """One record for every run and every leg of a lead that a short could overload."""
    return tuple(_Faults(build, parts, limits).found())


def hottest_in_use(build: Build, electrics: Electrics) -> dict[str, float | None]:
    """The temperature in degC of one conductor of each run at its highest current in the hottest air; None: melts."""
    passages = passages_of(build)
    hottest: dict[str, float | None] = {}
    for name, figures in electrics.runs.items():
        wire = figures.part.wire
        if wire is None or figures.part.body:
            continue
        bore = min((passages[passage].bore for passage in figures.part.through), default=None)
        hottest[name] = wire_heat.settles_at(
            figures.highest, wire.ohms_per_metre_most, wire.max_diameter, build.build.air[1], bore
        )
    return hottest


class _Faults:
    def __init__(self, build: Build, parts: Parts, limits: Limits) -> None:
        self.build, self.parts = build, parts
        self.air = build.build.air[1]
        self.lasting = limits.value("fuse.lasting")
        self.insulation = limits.value("wire.insulation")
        self.short_time = limits.value("fault.short-time")
        self.edges: dict[Node, list[tuple[Node, float]]] = {}
        self.line_at = line_at(build)
        self._join_up()
        self.feeds = {name: self._feed(name, supply) for name, supply in build.supply.items()}
        self.settles = lru_cache(maxsize=None)(self._settles)
        self.sheds = lru_cache(maxsize=None)(self._sheds)

    def found(self) -> Iterator[ConductorFault]:
        for run in self.parts.runs:
            if run.live and not run.body and run.wire is not None:
                yield from self._run(run, run.wire)
        yield from self._leads()

    # -- ways

    def _at(self, line: str, place: str) -> Node:
        return (self.line_at(line, place), place)

    def _edge(self, a: Node, b: Node, ohms: float) -> None:
        self.edges.setdefault(a, []).append((b, ohms))
        self.edges.setdefault(b, []).append((a, ohms))

    def _join_up(self) -> None:
        for run in self.parts.runs:
            if run.live:
                self._edge(
                    self._at(run.line, run.ends[0]),
                    self._at(run.line, run.ends[1]),
                    run.ohms(20.0) / run.conductors,
                )
        for plug in self.build.plug:
            for line in plug.pins:
                self._edge(
                    self._at(line, plug.ends[0]), self._at(line, plug.ends[1]), plug.contact or CONTACT
                )
        for join in self.build.join:
            for line in join.lines[1:]:
                self._edge(self._at(join.lines[0], join.place), self._at(line, join.place), 0.0)
        for strip in self.parts.strips:
            if strip.far_end is not None:
                for line, leg in (
                    (strip.circuit, strip.feed),
                    (back_line(self.build, strip.circuit), strip.back),
                ):
                    trace = (strip.trace or 0.0) * strip.length
                    self._edge(self._at(line, leg.to), self._at(line, strip.far_end), leg.ohms(20.0) + trace)
        for name, circuit in self.build.circuit.items():
            supply, place = supply_of(self.build, circuit), origin_of(self.build, circuit)
            if supply is None or place is None:
                continue
            pole, other = ("+", "-") if circuit.switched == "positive" else ("-", "+")
            driver = circuit.output or self.build.board.get(circuit.board or "")
            if (
                driver is None or driver.steady is None
            ):  # what gives a constant current limits a short by itself
                self._edge(self._at(f"{supply}{pole}", place), self._at(name, place), 0.0)
            if circuit.own_return:
                self._edge(self._at(f"{supply}{other}", place), self._at(f"{name}-return", place), 0.0)

    def _ways(self, start: Node) -> dict[Node, float]:
        """The least resistance from a pole to every node it reaches, in ohm (Dijkstra)."""
        found: dict[Node, float] = {}
        heap = [(0.0, start)]
        while heap:
            ohms, node = heappop(heap)
            if node in found:
                continue
            found[node] = ohms
            for other, more in self.edges.get(node, ()):
                if other not in found:
                    heappush(heap, (ohms + more, other))
        return found

    def _feed(self, name: str, supply: Supply) -> _Feed:
        if supply.kind == "converter":
            low, volts, inside = converter_volts(supply, -1)[0], converter_volts(supply, 0)[0], 0.0
        else:
            (low, _), (volts, inside) = source_of(supply, -1), source_of(supply, 0)
        rated = rated_current(supply)
        stated = supply.current_limit
        at_first = inf if rated is None or supply.kind == "battery" else GIVES_UP_AT * rated
        feed = _Feed(
            name, low, volts, inside,
            for_good=stated if stated is not None else (rated if rated is not None else inf),
            at_first=stated if stated is not None else at_first,
            stated=stated is not None,
            fuse=supply.fuse.rated if supply.fuse is not None else None,
            kind=supply.fuse.kind if supply.fuse is not None else "quick",
        )  # fmt: skip
        feed.plus = self._ways(self._at(f"{name}+", supply.place))
        feed.minus = self._ways(self._at(f"{name}-", supply.place))
        for side, ways in ((True, feed.plus), (False, feed.minus)):
            for (_, place), ohms in ways.items():
                key = (side, place)
                feed.nearest[key] = min(feed.nearest.get(key, inf), ohms)
        return feed

    # -- conductors

    def _run(self, run: RunPart, wire: WireData) -> Iterator[ConductorFault]:
        bore = min((passages_of(self.build)[name].bore for name in run.through), default=None)
        own = run.ohms(20.0) / run.conductors
        worst: ConductorFault | None = None
        for feed in self.feeds.values():
            for side, ways in ((True, feed.plus), (False, feed.minus)):
                ends = [
                    (ways[node], place) for place in run.ends if (node := self._at(run.line, place)) in ways
                ]
                if not ends:
                    continue
                way, place = max(ends)
                # where the other pole does not come, the short goes back by a way as long as this one
                rest = way - own + feed.nearest.get((not side, place), way)
                fault = self._fault(
                    feed, max(rest, 0.0), own, wire, bore, run.conductors, (run.name, "run", run.path, "")
                )
                if worst is None or _heat(fault) > _heat(worst):
                    worst = fault
        if worst is not None:
            yield worst

    def _leads(self) -> Iterator[ConductorFault]:
        lamps = {lamp.name: lamp for lamp in self.parts.lamps}
        consumers: tuple[LampPart | StripPart | LoadPart, ...] = (
            *self.parts.lamps,
            *self.parts.strips,
            *self.parts.loads,
        )
        circuits = {part.name: part.circuit for part in consumers}
        legs = {part.name: (part.feed, part.back) for part in consumers}
        between, passages = passages_of_lead(self.build), passages_of(self.build)
        for name, _, path, leg, start, data in legs_of(self.parts):
            if leg == "link" or data.wire is None or data.length == 0.0:
                continue
            circuit = circuits[name]
            feed = self.feeds.get(supply_of(self.build, self.build.circuit[circuit]) or "")
            if feed is None:
                continue
            there, back = legs[name]
            positive = self.build.circuit[circuit].switched == "positive"
            ways = (feed.plus, feed.minus) if positive else (feed.minus, feed.plus)
            out = ways[0].get(self._at(circuit, there.to))
            home = ways[1].get(self._at(back_line(self.build, circuit), back.to))
            if out is None or home is None or _limited(lamps.get(name)):
                continue
            bore = min(
                (passages[through].bore for through in between.get(frozenset((start, data.to)), ())),
                default=None,
            )
            own = data.ohms(20.0)
            rest = out + home + there.ohms(20.0) + back.ohms(20.0) - own
            yield self._fault(feed, rest, own, data.wire, bore, 1, (name, "lead", path, leg))

    # -- what happens

    def _fault(
        self, feed: _Feed, rest: float, own: float, wire: WireData, bore: float | None, conductors: int,
        who: tuple[str, str, tuple[str | int, ...], str],
    ) -> ConductorFault:  # fmt: skip
        rest += feed.ohms
        total = max(rest + own, 1e-3)
        current = feed.low / total
        fused = (
            feed.fuse * fuse_time.carries_for_good(feed.kind, self.lasting) if feed.fuse is not None else inf
        )
        typical = feed.volts / total
        opens = min(current, feed.at_first) >= fused or (feed.stated and current >= feed.for_good)
        cap = min(feed.for_good, fused)
        lasting = min(cap, typical) / conductors
        stands = wire.insulation_celsius * self.insulation
        settled = self.settles(wire, _rounded(lasting), bore)
        if (settled is None or settled > stands) and typical <= 4.0 * cap:
            settled = self._throttled(feed.volts, rest, own, cap, conductors, wire, bore)
        peak = settled
        if feed.fuse is not None and opens:
            peak = self._until_open(feed, min(typical, feed.at_first), conductors, wire, bore, settled)
        name, kind, path, leg = who
        return ConductorFault(
            name, kind, path, wire, feed.name, current, feed.fuse, opens, peak, lasting, settled, stands,
            wire.insulation_celsius + self.short_time, leg,
        )  # fmt: skip

    def _settles(self, wire: WireData, current: float, bore: float | None) -> float | None:
        return wire_heat.settles_at(current, wire.ohms_per_metre, wire.max_diameter, self.air, bore)

    def _sheds(self, wire: WireData, bore: float | None) -> float:
        """Loss in W/(m K) near the temperature that the insulation stands for a moment."""
        rise = max(wire.insulation_celsius + self.short_time - self.air, 1.0)
        return wire_heat.loss_per_metre(wire.max_diameter, rise, self.air, bore) / rise

    def _throttled(
        self,
        volts: float,
        rest: float,
        own: float,
        cap: float,
        conductors: int,
        wire: WireData,
        bore: float | None,
    ) -> float | None:
        """Where the wire settles when its own warming holds the short back."""

        def amps(celsius: float) -> float:
            return min(cap, volts / max(rest + own * (1.0 + 0.00393 * (celsius - 20.0)), 1e-3)) / conductors

        return wire_heat.settles_at(amps, wire.ohms_per_metre, wire.max_diameter, self.air, bore)

    def _until_open(
        self,
        feed: _Feed,
        current: float,
        conductors: int,
        wire: WireData,
        bore: float | None,
        settled: float | None,
    ) -> float | None:
        """The hottest the wire gets until the fuse has surely opened, or for good where nothing promises that."""
        seconds = fuse_time.surely_open_by(feed.fuse or 1.0, current, feed.kind)
        if not isfinite(seconds):
            return settled
        peak = wire_heat.warms_to(
            current / conductors,
            seconds,
            wire.conductor_area,
            wire.ohms_per_metre,
            self.sheds(wire, bore),
            self.air,
        )
        if peak > 1083.0:  # copper melts
            return None
        return peak


def _limited(lamp: LampPart | None) -> bool:
    """Whether a lamp's resistor sits at its joint, ahead of the lead: then no short of the lead draws much."""
    if lamp is None or lamp.resistor is None:
        return False
    leg = lamp.feed if lamp.resistor.side == "feed" else lamp.back
    return lamp.resistor.place == leg.to and leg.to not in lamp.places


def _heat(fault: ConductorFault) -> float:
    """For ordering: the hottest it gets against what it stands."""
    return inf if fault.hottest is None else fault.hottest - fault.stands


def _rounded(current: float) -> float:
    """Up to three digits, so that leads much alike are worked out once."""
    if not 0.0 < current < inf:
        return 1e6 if current > 0.0 else 0.0
    step = 10.0 ** (int(log10(current)) - 3)
    return (int(current / step) + 1) * step if current / step > int(current / step) + 1e-6 else current
