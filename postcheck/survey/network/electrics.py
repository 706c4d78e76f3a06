"""Currents, drops and loads of a build in all its states and corners, gathered from the solutions."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, combinations
from math import sqrt

from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.physics.light import light_ratio
from postcheck.physics.network import Port
from postcheck.survey.network.averages import (
    average_load,
    between_flashes,
    beyond_typical,
    delivered,
    duty_cycle,
    flows_of,
    fraction_in_resistor,
)
from postcheck.survey.network.corners import Air, CornerFinder
from postcheck.survey.network.dice import is_destroyed, rated_at
from postcheck.survey.network.elements import Corner, glows_through
from postcheck.survey.network.figures import (
    CircuitFigures,
    Electrics,
    LampFigures,
    LoadFigures,
    PlugFigures,
    RunFigures,
    StripFigures,
    SupplyFigures,
    SwitchFigures,
)
from postcheck.survey.network.flicker import flicker_steps, start_dips, start_sags
from postcheck.survey.network.misconnections import plug_faults, pole_faults, turned_faults
from postcheck.survey.network.parallel_strings import parallel_string_faults
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.states import States
from postcheck.survey.network.supplies import (
    BANK_ASKS,
    open_volts,
    rated_current,
    volts_needed,
)
from postcheck.survey.network.warmest import warm_places
from postcheck.survey.network.wrong_adaptor import wrong_adaptor_faults
from postcheck.wiring import Wiring
from postcheck.wiring.graph import Graph, Node
from postcheck.wiring.looked_up import spec_of
from postcheck.wiring.parts import MOTOR_STARTS, LampPart, LegPart, ResistorPart, StripPart

# Settings of a trimmer that are tried for the one that warms it most.
SETTINGS = 24
# Where the air alone is hotter than a die stands, its rating is nothing; this share keeps what is divided by it finite.
LEFT = 1e-3
PUSHED = 1e-4
"""A: less than this pushed backwards into a supply is the rounding of a solution, not two supplies at odds."""


def electrics_of(wiring: Wiring, limits: Limits) -> Electrics:
    """Solve a build. Where "all on" has no solution, only `failed`, `no_start` and `conflict` are filled."""
    return _Gauge(wiring, limits).electrics()


class _Gauge:
    """`unwarmed`: closed places whose air is taken as the room's."""

    def __init__(self, wiring: Wiring, limits: Limits, unwarmed: frozenset[str] = frozenset()) -> None:
        self.wiring, self.limits = wiring, limits
        self.build, self.parts = wiring.build, wiring.parts
        self.air = Air.of(self.build)
        self.states = States(wiring, limits, unwarmed)
        self.finder = CornerFinder(self.states, self.air)

    def electrics(self) -> Electrics:
        states = self.states
        if not build_has_supply(self.build):
            return Electrics()
        typical, heaviest = self.solved()
        quiet = states.solved(states.quiet, self.finder.nominal)
        if typical is None or quiet is None or heaviest is None:
            return self._without_figures()
        heavy = [heaviest]
        if any(supply.kind == "converter" for supply in self.build.supply.values()):
            sagging = states.solved(states.everything, self.finder.sagging)
            heavy += [sagging] if sagging is not None else []
        known = self._beside_destroyed(self._lamps(typical, heaviest))
        strips = {strip.name: self._strip(strip, typical, heaviest) for strip in self.parts.strips}
        circuits = self._circuits(typical, heavy)
        poles = self._poles()
        joined = tuple((one, two) for one, two in combinations(poles, 2) if poles[one] == poles[two])
        # what flows between supplies that are joined is most where one is high and the other low, whatever is lit
        apart = [*heavy, *self._apart(joined, [typical, *heavy])]
        return Electrics(
            lamps=known,
            supplies=self._supplies(typical, heavy, apart, circuits),
            runs=self._runs(typical, apart),
            circuits=circuits,
            strips=strips,
            loads=self._loads(typical),
            plugs=self._plugs(typical, apart),
            switches=self._switches(typical, apart),
            boards=self._boards(circuits),
            steps=flicker_steps(self.build, self.parts, states, self.finder.nominal),
            dips=start_dips(self.build, self.parts, states, self.finder.nominal),
            sags=start_sags(self.build, self.parts, states, self.finder.nominal),
            heats=states.heat(typical),
            steady_heats=states.steady_heat(typical),
            parallel_string_faults=parallel_string_faults(self.wiring, states, self.finder.nominal),
            wrong_adaptor_faults=wrong_adaptor_faults(self.wiring, states, self.finder.nominal),
            proven=self.finder.proven,
            joined=joined,
            shorted=tuple(name for name, (plus, minus) in poles.items() if plus == minus),
            widest=_widest(heaviest),
            failed=tuple(states.failed.items()),
            no_start=tuple(states.no_start),
            conflict=states.conflict,
            plug_faults=plug_faults(self.wiring, states, self.finder.nominal),
            pole_faults=pole_faults(self.wiring, states, self.finder.nominal),
            turned_faults=turned_faults(self.wiring, states, self.finder.nominal),
            potentials=_potentials(typical),
            drawn={
                name: (_drawn(typical, name), max(_drawn(solved, name) for solved in heavy))
                for name, supply in self.build.supply.items()
                if supply.kind == "converter" and name in self.wiring.known_supplies
            },
            work=states.work,
        )

    def _apart(self, joined: tuple[tuple[str, str], ...], known: list[Solved]) -> Iterator[Solved]:
        """Supplies that push into each other, each low or high by itself, with everything on and with nothing taken.

        A battery takes what is pushed into it however little its volts are amiss; of others those that do so anyway. What
        has no resistance at all between them has no such state, and the check on joined supplies says so.
        """
        supplies = self.build.supply
        pushed = {name for name in supplies if min(delivered(solved, name) for solved in known) < -PUSHED}
        takes = pushed | {name for name, supply in supplies.items() if supply.kind == "battery"}
        names = frozenset(chain.from_iterable(pair for pair in joined if takes.intersection(pair)))
        lows = dict.fromkeys(low for name in sorted(names) for low in (frozenset({name}), names - {name}))
        for low in lows:
            for state in (self.states.everything, self.states.unloaded):
                solved, _ = self.states.tried(state, self.finder.most._replace(low=low))
                if solved is not None:
                    yield solved

    def _without_figures(self) -> Electrics:
        states = self.states
        return Electrics(
            failed=tuple(states.failed.items()), no_start=tuple(states.no_start), conflict=states.conflict,
            work=states.work,
        )  # fmt: skip

    # -- lamps

    def _lamps(self, typical: Solved, heaviest: Solved) -> dict[str, LampFigures]:
        known: dict[tuple[object, ...], LampFigures | None] = {}
        lamps: dict[str, LampFigures] = {}
        for lamp in self.parts.lamps:
            key = self._alike(lamp, typical)
            if key not in known:
                known[key] = self._lamp(lamp, typical, heaviest)
            if (figures := known[key]) is not None:
                lamps[lamp.name] = figures if figures.part is lamp else figures._replace(part=lamp)
        return lamps

    def _alike(self, lamp: LampPart, typical: Solved) -> tuple[object, ...]:
        """What has the same figures: like lamps that are one element of the network. One that flashes by itself has states of its own."""
        if lamp.flashes is not None:
            return (lamp.name,)
        firsts = typical.netlist.firsts
        return (
            self.parts.likeness[lamp.name],
            *(firsts[position] for position in typical.of("lamp", lamp.name)),
        )

    def _beside_destroyed(self, lamps: dict[str, LampFigures]) -> dict[str, LampFigures]:
        """The lamps; those in a place that a destroyed one warms as they are in the room's air: its heat is none of the build."""
        gone = {name: lamp for name, lamp in lamps.items() if is_destroyed(lamp, self.limits)}
        places = frozenset(place for lamp in gone.values() for place in lamp.part.warms)
        warmed = [
            name
            for name, lamp in lamps.items()
            if name not in gone and not places.isdisjoint(lamp.part.warms)
        ]
        beside: dict[str, LampFigures] = {}
        if warmed and not places.isdisjoint(self.states.closed):
            cool = _Gauge(self.wiring, self.limits, places)
            typical, heaviest = cool.solved()
            if typical is not None and heaviest is not None:
                beside = cool._lamps(typical, heaviest)
        in_the_room = {
            name: lamp._replace(rated=lamp.rated_outside, hottest=self.air.high)
            for name, lamp in gone.items()
        }
        return {**lamps, **{name: beside[name] for name in warmed if name in beside}, **in_the_room}

    def solved(self) -> tuple[Solved | None, Solved | None]:
        """All on, as usual and everything at its most."""
        typical = self.states.solved(self.states.everything, self.finder.nominal)
        warm_places(self.finder)
        return typical, self.states.solved(self.states.everything, self.finder.most)

    def _lamp(self, lamp: LampPart, typical: Solved, heaviest: Solved) -> LampFigures | None:
        positions = typical.of("lamp", lamp.name)
        if not positions:
            return None
        span = self.finder.span("lamp", lamp.name, 0, lamp.circuit)
        if span is None:
            return None
        position = positions[0]
        nominal = typical.solution.amps[position]
        within = typical.resistor(position) + typical.wires(position)
        joint_volts, loss = self._path_loss(lamp, typical)
        rises = self.states.air(self.finder.nominal)
        air = [self.air.high + rises.get(place, 0.0) for place in typical.maker(position).places]
        highest, alone = span.highest, self._alone(lamp)
        resistor_nominal, resistor_likely, resistor_highest = self._in_resistor(
            lamp, typical, heaviest, highest
        )
        figures = LampFigures(
            part=lamp, nominal=nominal, lowest=span.lowest, highest=highest, alone=max(highest, alone),
            likely_lowest=span.likely_lowest, likely_highest=span.likely_highest,
            shares=self._shares(lamp, typical), joint_volts=joint_volts, loss=loss,
            rated=max(
                min(rated_at(die, celsius) for die, celsius in zip(lamp.dice, air, strict=True)),
                LEFT * lamp.rated,
            ),
            rated_outside=min(rated_at(die, self.air.high) for die in lamp.dice), hottest=max(air),
            resistor_nominal=resistor_nominal, resistor_likely=resistor_likely, resistor_highest=resistor_highest,
            string_volts=abs(typical.across(position)) - abs(nominal) * within,
            duty_cycle=duty_cycle(self.build, lamp.circuit), resistor_fraction=fraction_in_resistor(self.build, lamp.circuit),
            lead_drop=joint_volts - abs(typical.across(position)) + abs(nominal) * typical.wires(position) - _behind(lamp, typical),
            strings=tuple(typical.solution.amps[one] for one in positions),
            light_lost=self._light_lost(typical, position, joint_volts, loss),
            spot=self._spot(lamp, typical, resistor_nominal), turned=self._turned(lamp, typical),
        )  # fmt: skip
        share = glows_through(self.build, lamp.circuit) if lamp.dice[0].filament_volts is not None else None
        return figures if share is None else self._averaged(figures, typical, share)

    def _averaged(self, lamp: LampFigures, typical: Solved, share: float) -> LampFigures:
        """The figures of a filament that does not follow the pulses of its circuit: the root mean squares of its currents."""
        [position, *_] = typical.of("lamp", lamp.name)
        port = self.finder.port(typical, self.states.everything, position)
        held_on = self.finder.through(port, typical.maker(position).held_on(), typical.corner)
        mean = sqrt(share)
        return lamp._replace(
            nominal=mean * lamp.nominal, lowest=mean * lamp.lowest, highest=mean * lamp.highest, alone=mean * lamp.alone,
            likely_lowest=mean * lamp.likely_lowest, likely_highest=mean * lamp.likely_highest,
            shares=tuple(mean * amps for amps in lamp.shares), strings=tuple(mean * amps for amps in lamp.strings),
            turned=None if lamp.turned is None else (mean * lamp.turned[0], mean * lamp.turned[1]), held_on=held_on,
        )  # fmt: skip

    def _spot(self, lamp: LampPart, typical: Solved, watts: float) -> tuple[float, float | None]:
        """Of a lamp's resistors the one nearest to its rating: what it dissipates, and that, W. `watts`: all of them."""
        if lamp.resistor is None:
            return 0.0, None
        found: list[tuple[float, float | None]] = []
        for piece in lamp.resistor.each:
            if piece.track is None or lamp.shared_resistor or piece.ohms:
                found.append((watts * piece.ohms / lamp.resistor.ohms, piece.power))
            else:
                turned = [piece.track * step / SETTINGS for step in range(1, SETTINGS + 1)]
                found.append((max(self._at(lamp, typical, ohms) ** 2 * ohms for ohms in turned), piece.power))
        return max(found, key=lambda one: one[0] / one[1] if one[1] else 0.0)

    def _turned(self, lamp: LampPart, typical: Solved) -> tuple[float, float] | None:
        spec = spec_of(lamp)
        if spec is None or not spec.trimmers or not typical.of("lamp", lamp.name):
            return None
        now = sum(one.set or 0.0 for one in spec.trimmers)
        return (
            self._at(lamp, typical, -now),
            self._at(lamp, typical, sum(one.ohms for one in spec.trimmers) - now),
        )

    def _at(self, lamp: LampPart, typical: Solved, more: float) -> float:
        """The nominal current of a lamp's first string with so many ohms more in series, A; all else as usual."""
        position = typical.of("lamp", lamp.name)[0]
        maker = typical.maker(position)
        port = self.finder.port(typical, self.states.everything, position)
        left = max((lamp.resistor.ohms if lamp.resistor is not None else 0.0) + more, 0.0)
        if (
            lamp.shared_resistor
        ):  # each loses what the current of all loses in it; the way to it is taken as stiff
            port = port._replace(open_volts=self._path_loss(lamp, typical)[0], ohms=left * lamp.parallel)
        else:
            maker = maker.with_resistor(ResistorPart(left, 0.0, None, lamp.place, "supply"))
        return self.finder.through(port, maker, typical.corner)

    def _light_lost(self, typical: Solved, position: int, volts: float, loss: float) -> float:
        """The share of a string's light that `loss` of the volts costs it; it has `volts` at its joints.

        What is shared between joints and string (a leg, a resistor) loses more as its current grows, in proportion.
        """
        amps = abs(typical.solution.amps[position])
        if loss <= 0.0 or amps <= 0.0:
            return 0.0
        between = max(volts - abs(typical.across(position)), 0.0) / amps
        maker = typical.maker(position)
        whole = abs(
            self.finder.through(Port(position, volts + loss, between, volts, amps), maker, typical.corner)
        )
        filament = maker.dice[0].filament_volts is not None
        return max(1.0 - light_ratio(amps, whole, filament=filament), 0.0)

    def _in_resistor(
        self, lamp: LampPart, typical: Solved, heaviest: Solved, highest: float
    ) -> tuple[float, float, float]:
        """W in a lamp's resistor while it is lit, nominal, likely and at its most: current and ohms of one corner.

        Of several strings behind one resistor all together count: usually, and everything at its most.
        """
        behind = typical.of("resistor", lamp.name)
        if behind:
            usual, most_of_all = (
                sum(abs(solved.solution.amps[k] * solved.across(k)) for k in behind)
                for solved in (typical, heaviest)
            )
            return usual, usual, most_of_all
        [position, *_] = typical.of("lamp", lamp.name)
        if lamp.resistor is None:
            return 0.0, 0.0, 0.0
        maker = typical.maker(position)
        nominal = typical.solution.amps[position] ** 2 * maker.resistor_ohms(typical.corner)
        most = self.finder.most
        # where it has little of the volts it dissipates more with more ohms
        other = self.finder.with_more_ohms("lamp", lamp.name, lamp.circuit)
        most_of_it = max(
            highest**2 * maker.resistor_ohms(most),
            other**2 * maker.resistor_ohms(most._replace(resistors=-1)),
        )
        likely = self.finder.likely_in_resistor("lamp", lamp.name, lamp.circuit)
        return nominal, min(likely, most_of_it), most_of_it

    def _alone(self, lamp: LampPart) -> float:
        """Its current with nothing else on the lines; what shares a resistor or a constant current has parallel strings instead."""
        steady = self.wiring.drivers[lamp.circuit].steady is not None
        if steady or lamp.shared_resistor:
            return 0.0
        return self.finder.alone("lamp", lamp.name) or 0.0

    def _shares(self, lamp: LampPart, typical: Solved) -> tuple[float, ...]:
        """Nominal currents of lamps behind one resistor when the first has the least forward voltage."""
        if not lamp.shared_resistor or lamp.matched:
            return ()
        positions = typical.of("lamp", lamp.name)
        first = positions[0]
        nominal = self.finder.nominal
        element = typical.maker(first)(nominal._replace(dice=1), self.states.air(nominal))
        elements = (*typical.elements[:first], element, *typical.elements[first + 1 :])
        solution = typical.network.solve(elements, typical.solution)
        return tuple(solution.amps[position] for position in positions) if solution.converged else ()

    def _path_loss(self, lamp: LampPart, typical: Solved) -> tuple[float, float]:
        """Volts between a lamp's joints, and those lost between the supply's poles (or output) and there."""
        return self._path_loss_of(lamp.circuit, lamp.supply_leg, lamp.return_leg, typical)

    def _path_loss_of(
        self, circuit: str, feed: LegPart, back: LegPart, typical: Solved
    ) -> tuple[float, float]:
        driver, node = self.wiring.drivers[circuit], self.wiring.node
        here, there = typical.volts(node(circuit, feed.to)), typical.volts(node(driver.return_net, back.to))
        first = typical.volts(self.wiring.output(driver))
        last = typical.volts(self.wiring.back(driver))
        if here is None or there is None:
            return 0.0, 0.0
        volts = abs(here - there)
        if first is None or last is None:
            return volts, 0.0
        return volts, abs(first - last) - volts

    # -- everything else

    def _circuits(self, typical: Solved, heavy: list[Solved]) -> dict[str, CircuitFigures]:
        nominal, *highest = (flows_of(self.parts, solved) for solved in (typical, *heavy))
        start = self._starting(self.finder.nominal)
        starting = {} if start is None else flows_of(self.parts, start)
        return {
            name: CircuitFigures(
                name,
                nominal.get(name, 0.0),
                max(flowing.get(name, 0.0) for flowing in highest),
                circuit.behaviour,
                *self._in_output(name, typical),
                starting.get(name, 0.0),
                self._at_low(name),
            )
            for name, circuit in self.build.circuit.items()
            if self.wiring.drivers[name].supply in self.wiring.known_supplies
        }

    def _at_low(self, circuit: str) -> float | None:
        """The current of a constant-current output with its supply at its lowest, A."""
        driver = self.wiring.drivers[circuit]
        supply = self.build.supply.get(driver.supply or "")
        if driver.steady is None or supply is None or supply.kind == "battery":
            return None
        # what a converter is fed by may be a battery, and moves nothing behind it
        usual = self.finder.nominal
        low = usual._replace(converters=-1) if supply.kind == "converter" else usual._replace(supply=-1)
        solved = self.states.solved(self.states.everything, low)
        return None if solved is None else flows_of(self.parts, solved).get(circuit, 0.0)

    def _in_output(self, circuit: str, typical: Solved) -> tuple[float | None, float | None]:
        """The volts that a circuit's output or board takes, and those of them that a constant-current one has to spare."""
        driver = self.wiring.drivers[circuit]
        drop = next((typical.across(position) for position in typical.of("output", circuit)), None)
        if drop is None:
            return 0.0 if driver.driven else None, None
        return drop, None if driver.steady is None else drop - volts_needed(driver)

    def _supplies(
        self, typical: Solved, heavy: list[Solved], apart: list[Solved], circuits: dict[str, CircuitFigures]
    ) -> dict[str, SupplyFigures]:
        figures = {}
        starting = self._starting(self.finder.nominal)
        flowing = {name: of.nominal for name, of in circuits.items()}
        lowest = self._lowest()
        least_flowing = {} if lowest is None else flows_of(self.parts, lowest)
        for name, supply in self.build.supply.items():
            if name not in self.wiring.known_supplies:
                continue
            nominal = delivered(typical, name)
            highest = [delivered(solved, name) for solved in heavy]
            volts, highest_volts = (open_volts(supply, sign) for sign in (0, 1))
            least = min(nominal, *highest)
            highest = [delivered(solved, name) for solved in apart]
            if least < -1e-9:
                least = min(least, *highest)
            enough = supply.switches_off_below or BANK_ASKS
            dark, gap = between_flashes(self.wiring, name, nominal, flowing, enough)
            figures[name] = SupplyFigures(
                name=name, path=("supply", name), nominal=max(nominal, 0.0), highest=max(0.0, *highest),
                average=average_load(self.wiring, name, nominal, flowing), rated=rated_current(supply),
                volts=volts, highest_volts=highest_volts, reverse=-least if least < -1e-9 else 0.0,
                starting=delivered(starting, name) if starting is not None else 0.0, dark=dark, gap=gap,
                most=max(nominal, 0.0) + beyond_typical(self.wiring, name),
                least_average=average_load(self.wiring, name, delivered(lowest, name), least_flowing)
                if lowest is not None else None,
            )  # fmt: skip
        return figures

    def _lowest(self) -> Solved | None:
        """Everything on and taking least, for the loads below which a power bank switches off."""
        if all(supply.switches_off_below is None for supply in self.build.supply.values()):
            return None
        return self.states.solved(
            self.states.everything, self.finder.low.own._replace(loads=-1, settled=True)
        )

    def _starting(self, corner: Corner) -> Solved | None:
        """Everything at the moment of switching on, where motors start or filaments are cold."""
        cold = any(lamp.dice[0].filament_volts for lamp in self.parts.lamps)
        if not cold and not any(part.starting for part in self.parts.all):
            return None
        return self.states.solved(self.states.everything._replace(name="start", starting=True), corner)

    def _runs(self, typical: Solved, heavy: list[Solved]) -> dict[str, RunFigures]:
        figures = {}
        for run in self.parts.runs:
            if not run.live:
                continue
            current = typical.amps("run", run.name)[0]
            first = run.ends[current < 0.0]
            highest = max(abs(solved.amps("run", run.name)[0]) for solved in heavy)
            figures[run.name] = RunFigures(
                run, abs(current), abs(current) * run.ohms(self.air.usual), highest, first
            )
        return figures

    def _strip(self, strip: StripPart, typical: Solved, heaviest: Solved) -> StripFigures:
        chains = [abs(amps) for amps in typical.amps(strip.kind, strip.name)]
        through = [abs(amps) for amps in heaviest.amps("trace", strip.name)]
        positions = typical.of(strip.kind, strip.name)
        # the first segment gets most where the traces count, the last where the far end is the fed one
        spans = [self.finder.span(strip.kind, strip.name, n, strip.circuit) for n in {0, len(positions) - 1}]
        each = len(strip.chains)
        lowest = self.finder.lowest_volts(strip.kind, strip.name, len(positions) - 1)
        total = sum(abs(amps) for amps in heaviest.amps(strip.kind, strip.name))
        return StripFigures(
            part=strip, nominal=sum(chains), highest=total,
            segments=tuple(
                (abs(typical.across(positions[first])), sum(chains[first : first + each]))
                for first in range(0, len(positions), each)
            ),
            lowest_volts=lowest or 0.0,
            through=max(through, default=total), segment_current=chains[0], last_current=chains[-1],
            segment_highest=max((span.highest for span in spans if span is not None), default=0.0),
            light_lost=self._lost_at_the_end(strip, typical, positions[-1]),
        )  # fmt: skip

    def _lost_at_the_end(self, strip: StripPart, typical: Solved, last: int) -> float:
        """The share of light that the last segment of a strip lacks to what it would give on the supply's own volts."""
        driver, here = self.wiring.drivers[strip.circuit], abs(typical.across(last))
        supply = self.build.supply.get(driver.supply or "")
        if supply is None or driver.steady is not None:
            return 0.0
        return self._light_lost(typical, last, here, open_volts(supply, 0) - here)

    def _loads(self, typical: Solved) -> dict[str, LoadFigures]:
        nominal = self.finder.nominal
        starting = [self._starting(nominal._replace(supply=-1)), self._starting(nominal)]
        figures = {}
        for load in self.parts.loads:
            now, start, usual = (
                abs(solved.across(solved.of(load.kind, load.name)[0])) if solved is not None else None
                for solved in (typical, *starting)
            )
            lowest = self.finder.lowest_volts(load.kind, load.name, 0)
            figures[load.name] = LoadFigures(load, now or 0.0, lowest or 0.0, start, usual)
        return figures

    def _plugs(self, typical: Solved, heavy: list[Solved]) -> dict[str, PlugFigures]:
        return {
            plug.name: PlugFigures(
                plug.name,
                index,
                tuple(abs(amps) for amps in typical.amps("plug", plug.name)),
                tuple(
                    max(abs(amps) for amps in pin)
                    for pin in zip(*(solved.amps("plug", plug.name) for solved in heavy), strict=True)
                ),
            )
            for index, plug in enumerate(self.build.plug)
        }

    def _switches(self, typical: Solved, heavy: list[Solved]) -> dict[str, SwitchFigures]:
        start = self._starting(self.finder.nominal)
        figures = {}
        for line, switch in self.wiring.switches.items():
            nominal = sum(map(abs, typical.amps("switch", line)))
            behind = [
                part
                for part in self.parts.loads
                if line in (part.circuit, f"{self.wiring.drivers[part.circuit].supply}+")
            ]
            figures[line] = SwitchFigures(
                switch, nominal, max(sum(map(abs, solved.amps("switch", line))) for solved in heavy),
                sum(map(abs, start.amps("switch", line))) if start is not None else nominal,
                sum(part.surge(MOTOR_STARTS) for part in behind if part.starting is None),
            )  # fmt: skip
        return figures

    def _poles(self) -> dict[str, tuple[Node, Node]]:
        """Of each supply what stands for the connected components of its poles: of wire, pins, joints and switches alone."""
        wires = Graph(
            edge
            for edge in self.wiring.edges
            if edge.kind != "channel" or self.wiring.drivers[edge.name].lossless
        )
        plus, minus = (
            {name: wires.root(self.wiring.pole(name, sign)) for name in self.build.supply} for sign in "+-"
        )
        return {name: (plus[name], minus[name]) for name in self.build.supply}

    def _boards(self, circuits: dict[str, CircuitFigures]) -> dict[str, tuple[float, float]]:
        loads = {}
        for name in self.build.board:
            driven = [
                circuits[circuit]
                for circuit, driver in self.wiring.drivers.items()
                if driver.board == name and circuit in circuits
            ]
            loads[name] = (
                sum(figures.nominal for figures in driven),
                sum(figures.highest for figures in driven),
            )
        return loads


def _behind(lamp: LampPart, solved: Solved) -> float:
    """The volts across the resistor that a lamp's strings share; 0 where each has its own."""
    return sum(abs(solved.across(position)) for position in solved.of("resistor", lamp.name)[:1])


def build_has_supply(build: Build) -> bool:
    """Whether anything can be solved at all."""
    return bool(build.supply)


def _drawn(solved: Solved, converter: str) -> float:
    """What a converter takes of its source, A."""
    return sum(solved.solution.input_amps[position] for position in solved.of("converter", converter))


def _potentials(solved: Solved) -> dict[Node, float]:
    """The volts of every net at every place, where they are determined."""
    return {
        node: volts for node in solved.netlist.nodes if node.net and (volts := solved.volts(node)) is not None
    }


def _widest(solved: Solved) -> float:
    """The highest voltage between any two points, V: supplies one on top of another add up."""
    known = [volts for volts in solved.solution.volts if volts is not None]
    return max(known, default=0.0) - min(known, default=0.0)
