"""Currents, drops and loads of a build in all its states and corners, gathered from the solutions."""

from __future__ import annotations

from postcheck.build.models import Build
from postcheck.build.naming import back_line, origin_of, supply_of
from postcheck.limits import Limits
from postcheck.physics import heat
from postcheck.physics.network import String
from postcheck.survey.corners import Air, CornerFinder
from postcheck.survey.dice import rated_at
from postcheck.survey.figures import (
    CircuitFigures,
    Electrics,
    LampFigures,
    LoadFigures,
    PlugFigures,
    RunFigures,
    Step,
    StripFigures,
    SupplyFigures,
)
from postcheck.survey.parts import LampPart, LegPart, Parts, StripPart
from postcheck.survey.plug_faults import plug_faults, pole_faults
from postcheck.survey.states import Solved, States
from postcheck.survey.supplies import rated_current, source_of

__all__ = ["electrics_of", "on_share"]

# A place that warms more than this is judged for its heat; its lamps' ratings do not fall any further for it.
DERATING_RISE = 25.0


def electrics_of(build: Build, parts: Parts, limits: Limits) -> Electrics:
    """Solve a build. Where "all on" has no solution, only `failed`, `no_start` and `conflict` are filled."""
    return _Gauge(build, parts, limits).electrics()


def on_share(build: Build, circuit: str) -> float:
    """The share of the time that a circuit conducts; half where a flasher does not say."""
    said = build.circuit[circuit]
    if said.behaviour == "steady":
        return 1.0
    if said.on_share is not None:
        return said.on_share
    return 0.5 if said.behaviour == "flash" else 1.0


class _Gauge:
    def __init__(self, build: Build, parts: Parts, limits: Limits) -> None:
        self.build, self.parts, self.limits = build, parts, limits
        self.air = Air.of(build)
        self.states = States(build, parts)
        self.finder = CornerFinder(self.states, self.air)
        self.proven = _is_tree(build, parts)

    def electrics(self) -> Electrics:
        states = self.states
        if not build_has_supply(self.build):
            return Electrics()
        self._warm_places()
        typical = states.solved(states.everything, self.finder.nominal)
        quiet = states.solved(states.quiet, self.finder.nominal)
        heaviest = states.solved(states.everything, self.finder.heaviest)
        if typical is None or quiet is None or heaviest is None:
            return self._without_figures()
        lamps = {lamp.name: self._lamp(lamp, typical) for lamp in self.parts.lamps}
        known = {name: figures for name, figures in lamps.items() if figures is not None}
        strips = {strip.name: self._strip(strip, typical, heaviest) for strip in self.parts.strips}
        circuits = self._circuits(typical, heaviest)
        return Electrics(
            lamps=known,
            supplies=self._supplies(typical, heaviest, quiet, circuits),
            runs=self._runs(typical, heaviest),
            circuits=circuits,
            strips=strips,
            loads=self._loads(typical),
            plugs=self._plugs(typical, heaviest),
            boards=self._boards(circuits),
            steps=self._steps(quiet),
            failed=tuple(states.failed.items()),
            no_start=tuple(states.no_start),
            conflict=states.conflict,
            plug_faults=plug_faults(self.build, self.parts, states, self.finder.nominal),
            pole_faults=pole_faults(self.build, self.parts, states, self.finder.nominal),
        )

    def _without_figures(self) -> Electrics:
        states = self.states
        return Electrics(
            failed=tuple(states.failed.items()), no_start=tuple(states.no_start), conflict=states.conflict
        )

    def _warm_places(self) -> None:
        """The rise of the air in closed places from a first solution; lamps then see it."""
        cold = self.states.solved(self.states.everything, self.finder.nominal._replace(junction=None))
        if cold is None:
            return
        heats: dict[str, float] = {}
        for lamp in self.parts.lamps:
            for position in cold.of("lamp", lamp.name):
                element = cold.elements[position]
                watts = (
                    abs(cold.solution.amps[position])
                    * abs(_across(cold, position))
                    * on_share(self.build, lamp.circuit)
                )
                in_resistor = 0.0
                if lamp.resistor is not None and isinstance(element, String):
                    in_resistor = min(
                        cold.solution.amps[position] ** 2
                        * lamp.resistor.ohms
                        * on_share(self.build, lamp.circuit),
                        watts,
                    )
                    heats[lamp.resistor.place] = heats.get(lamp.resistor.place, 0.0) + in_resistor
                heats[lamp.place] = heats.get(lamp.place, 0.0) + watts - in_resistor
        for strip in self.parts.strips:
            for position in cold.of("strip", strip.name):
                watts = abs(cold.solution.amps[position] * _across(cold, position)) * on_share(
                    self.build, strip.circuit
                )
                heats[strip.place] = heats.get(strip.place, 0.0) + watts
        per_area = self.limits.value("heat.per-area")
        for name, place in self.build.place.items():
            if place.access != "open" and place.surface:
                self.states.place_rise[name] = heat.place_rise(
                    heats.get(name, 0.0) + (place.heat or 0.0), place.surface, per_area
                )

    # -- lamps

    def _lamp(self, lamp: LampPart, typical: Solved) -> LampFigures | None:
        positions = typical.of("lamp", lamp.name)
        if not positions or not lamp.dice:
            return None
        span = self.finder.span("lamp", lamp.name, 0, lamp.circuit)
        if span is None:
            return None
        position = positions[0]
        nominal = typical.solution.amps[position]
        element = typical.elements[position]
        ohms = element.ohms if isinstance(element, String) else 0.0
        feed_volts, loss = self._way(lamp, typical)
        hottest = self.air.high + min(self.states.place_rise.get(lamp.place, 0.0), DERATING_RISE)
        resistor = lamp.resistor.ohms if lamp.resistor else 0.0
        strings = lamp.parallel if lamp.one_resistor else 1
        return LampFigures(
            part=lamp, nominal=nominal, lowest=span.lowest, highest=span.highest,
            lowest_state=self.states.everything.name, highest_state=self.states.highest_state(lamp.circuit).name,
            likely_lowest=span.likely_lowest, likely_highest=span.likely_highest,
            shares=self._shares(lamp, typical), feed_volts=feed_volts, loss=loss,
            rated=min(rated_at(die, hottest) for die in lamp.dice),
            resistor_nominal=(nominal * strings) ** 2 * resistor, resistor_highest=(span.highest * strings) ** 2 * resistor,
            string_volts=abs(_across(typical, position)) - abs(nominal) * ohms,
            on_share=on_share(self.build, lamp.circuit), proven=self.proven,
        )  # fmt: skip

    def _shares(self, lamp: LampPart, typical: Solved) -> tuple[float, ...]:
        """Nominal currents of lamps behind one resistor when the first has the least forward voltage."""
        if not (lamp.one_resistor and lamp.parallel > 1) or lamp.matched:
            return ()
        positions = typical.of("lamp", lamp.name)
        first = positions[0]
        element = typical.wiring.slots[first].make(
            self.finder.nominal._replace(dice=1), typical.heating.get(first, 0.0)
        )
        elements = (*typical.elements[:first], element, *typical.elements[first + 1 :])
        solution = typical.network.solve(elements, typical.solution)
        return tuple(solution.amps[position] for position in positions) if solution.converged else ()

    def _way(self, lamp: LampPart, typical: Solved) -> tuple[float, float]:
        """Volts between a lamp's joints, and those lost between the supply's poles (or output) and there."""
        return self._way_of(lamp.circuit, lamp.feed, lamp.back, typical)

    def _way_of(self, circuit: str, feed: LegPart, back: LegPart, typical: Solved) -> tuple[float, float]:
        line, back_name = circuit, back_line(self.build, circuit)
        origin = origin_of(self.build, self.build.circuit[circuit]) or ""
        here, there = typical.volts(line, feed.to), typical.volts(back_name, back.to)
        first, last = typical.volts(line, origin), typical.volts(back_name, origin)
        if here is None or there is None:
            return 0.0, 0.0
        volts = abs(here - there)
        if first is None or last is None:
            return volts, 0.0
        return volts, abs(first - last) - volts

    # -- everything else

    def _circuits(self, typical: Solved, heaviest: Solved) -> dict[str, CircuitFigures]:
        consumers: dict[str, list[tuple[str, str]]] = {name: [] for name in self.build.circuit}
        for kind, parts in (
            ("lamp", self.parts.lamps),
            ("strip", self.parts.strips),
            ("load", self.parts.loads),
        ):
            for part in parts:
                consumers[part.circuit].append((kind, part.name))
        figures = {}
        for name, circuit in self.build.circuit.items():
            total = [
                sum(abs(amps) for key in consumers[name] for amps in solved.amps(*key))
                for solved in (typical, heaviest)
            ]
            figures[name] = CircuitFigures(name, total[0], total[1], circuit.behaviour)
        return figures

    def _supplies(
        self, typical: Solved, heaviest: Solved, quiet: Solved, circuits: dict[str, CircuitFigures]
    ) -> dict[str, SupplyFigures]:
        figures = {}
        for name, supply in self.build.supply.items():
            load = [_delivered(solved, name) for solved in (typical, heaviest, quiet)]
            swing = sum(
                circuits[other].nominal * (1.0 - on_share(self.build, other))
                for other, circuit in self.build.circuit.items()
                if supply_of(self.build, circuit) == name
            )
            volts, _ = source_of(supply, 0) if supply.kind != "converter" else (supply.volts or 0.0, 0.0)
            highest_volts, _ = (
                source_of(supply, 1)
                if supply.kind != "converter"
                else (volts * (1 + (supply.tolerance or 0.05)), 0.0)
            )
            figures[name] = SupplyFigures(
                name=name, path=("supply", name), nominal=max(load[0], 0.0), highest=max(load[1], 0.0),
                average=max(load[0] - swing, 0.0), least_on=max(load[2], 0.0), rated=rated_current(supply), volts=volts,
                highest_volts=highest_volts, reverse=max(0.0, -min(load)) if min(load) < -1e-9 else 0.0,
            )  # fmt: skip
        return figures

    def _runs(self, typical: Solved, heaviest: Solved) -> dict[str, RunFigures]:
        figures = {}
        for run in self.parts.runs:
            if not run.live:
                continue
            current = typical.amps("run", run.name)[0]
            highest = heaviest.amps("run", run.name)[0]
            figures[run.name] = RunFigures(
                run, abs(current), abs(current) * run.ohms(self.air.usual), abs(highest)
            )
        return figures

    def _strip(self, strip: StripPart, typical: Solved, heaviest: Solved) -> StripFigures:
        segments = typical.amps("strip", strip.name)
        through = [abs(amps) for amps in heaviest.amps("trace", strip.name)]
        positions = typical.of("strip", strip.name)
        span = self.finder.span("strip", strip.name, len(positions) - 1, strip.circuit)
        low = self.states.solved(self.states.everything, self.finder.starving)
        last = positions[-1]
        total = sum(abs(amps) for amps in heaviest.amps("strip", strip.name))
        return StripFigures(
            part=strip, nominal=sum(abs(amps) for amps in segments), highest=total,
            first_volts=abs(_across(typical, positions[0])), last_volts=abs(_across(typical, last)),
            lowest_volts=abs(_across(low, last)) if low is not None else 0.0,
            through=max(through, default=total), segment_current=abs(segments[0]),
            segment_highest=span.highest if span is not None else 0.0,
        )  # fmt: skip

    def _loads(self, typical: Solved) -> dict[str, LoadFigures]:
        low = self.states.solved(self.states.everything, self.finder.starving)
        starting = None
        if any(load.starting for load in self.parts.loads):
            starting = self.states.solved(
                self.states.everything._replace(name="start", starting=True),
                self.finder.nominal._replace(supply=-1),
            )
        figures = {}
        for load in self.parts.loads:
            at = [
                abs(_across(solved, solved.of("load", load.name)[0])) if solved is not None else None
                for solved in (typical, low, starting)
            ]
            figures[load.name] = LoadFigures(load, at[0] or 0.0, at[1] or 0.0, at[2])
        return figures

    def _plugs(self, typical: Solved, heaviest: Solved) -> dict[str, PlugFigures]:
        return {
            plug.name: PlugFigures(
                plug.name,
                index,
                tuple(abs(amps) for amps in typical.amps("plug", plug.name)),
                tuple(abs(amps) for amps in heaviest.amps("plug", plug.name)),
            )
            for index, plug in enumerate(self.build.plug)
        }

    def _boards(self, circuits: dict[str, CircuitFigures]) -> dict[str, tuple[float, float]]:
        loads = {}
        for name in self.build.board:
            driven = [circuits[circuit] for circuit, said in self.build.circuit.items() if said.board == name]
            loads[name] = (
                sum(figures.nominal for figures in driven),
                sum(figures.highest for figures in driven),
            )
        return loads

    def _steps(self, quiet: Solved) -> tuple[Step, ...]:
        steps = []
        for flasher, state in self.states.alone.items():
            lit = self.states.solved(state, self.finder.nominal)
            if lit is None:
                continue
            before = (
                self.states.solved(
                    state._replace(on=state.on - {flasher}, name=f"'{flasher}' off"), self.finder.nominal
                )
                if state.on - {flasher} != self.states.quiet.on
                else quiet
            )
            for lamp in self.parts.lamps:
                if (
                    lamp.circuit in state.on
                    and lamp.circuit != flasher
                    and before is not None
                    and before.of("lamp", lamp.name)
                ):
                    off, on = before.amps("lamp", lamp.name)[0], lit.amps("lamp", lamp.name)[0]
                    if abs(off) > 1e-9:
                        steps.append(
                            Step(lamp.name, flasher, (on - off) / off, self.build.circuit[flasher].rate)
                        )
        return tuple(steps)


def build_has_supply(build: Build) -> bool:
    """Whether anything can be solved at all."""
    return bool(build.supply)


def _across(solved: Solved, position: int) -> float:
    return solved.across(position)


def _delivered(solved: Solved, name: str) -> float:
    """The current that leaves a supply's positive pole, A; negative where something feeds it."""
    return sum(solved.amps("supply", name)) + sum(solved.amps("converter", name))


def _is_tree(build: Build, parts: Parts) -> bool:
    """Whether the worst corners are proven: no loops among the runs, nothing of constant power or current."""
    if any(supply.kind == "converter" for supply in build.supply.values()) or parts.loads:
        return False
    if any(
        (c.output and c.output.steady) or (c.board and build.board[c.board].steady)
        for c in build.circuit.values()
    ):
        return False
    root: dict[tuple[str, str], tuple[str, str]] = {}

    def find(point: tuple[str, str]) -> tuple[str, str]:
        while point in root:
            point = root[point]
        return point

    for run in parts.runs:
        if run.live:
            a, b = find((run.line, run.ends[0])), find((run.line, run.ends[1]))
            if a == b:
                return False
            root[a] = b
    return True
