"""What circuits, supplies, runs, loads, plugs, switches and boards carry."""

from __future__ import annotations

from functools import cached_property

from postcheck.survey.network.averages import (
    average_load,
    between_flashes,
    beyond_typical,
    delivered,
    flows_of,
)
from postcheck.survey.network.corners import CornerFinder
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.figures import (
    CircuitFigures,
    LoadFigures,
    PlugFigures,
    RunFigures,
    SupplyFigures,
    Surge,
    SwitchFigures,
)
from postcheck.survey.network.flicker import starts
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.supplies import BANK_ASKS, open_volts, rated_current, volts_needed
from postcheck.wiring.parts import MOTOR_STARTS, LoadPart


class Carried:
    """`typical`: all on, as usual; `heavy`: at its most; `apart`: these and, of supplies that are joined, one low, one high."""

    def __init__(
        self, finder: CornerFinder, typical: Solved, heavy: list[Solved], apart: list[Solved]
    ) -> None:
        self._finder, self._states, self._air = finder, finder.states, finder.air
        self._wiring = finder.states.wiring
        self._build, self._parts = self._wiring.build, self._wiring.parts
        self._typical, self._heavy, self._apart = typical, heavy, apart

    @cached_property
    def circuits(self) -> dict[str, CircuitFigures]:
        """The figures of each circuit on a supply that is known, by name."""
        nominal, *highest = (flows_of(self._parts, solved) for solved in (self._typical, *self._heavy))
        start = self._starting(self._finder.nominal)
        starting = {} if start is None else flows_of(self._parts, start)
        return {
            name: CircuitFigures(
                name,
                nominal.get(name, 0.0),
                max(flowing.get(name, 0.0) for flowing in highest),
                circuit.behaviour,
                *self._in_output(name),
                starting.get(name, 0.0),
                self._at_low(name),
                self._surge((name,), nominal.get(name, 0.0)),
            )
            for name, circuit in self._build.circuit.items()
            if self._wiring.drivers[name].supply in self._wiring.known_supplies
        }

    @cached_property
    def _held(self) -> dict[str, float]:
        """Each motor of which the file says what it takes, that may be held fast, and what it then gets, A."""
        if not self._parts.loads:
            return {}
        from postcheck.survey.network.starting import held_fast  # noqa: PLC0415 - few builds have one

        known = self._wiring.known_supplies
        return {
            part.name: amps
            for part in self._parts.loads
            if part.starting is not None
            and part.surge()
            and self._wiring.drivers[part.circuit].supply in known
            if (amps := held_fast(self._wiring, part)) is not None
        }

    @cached_property
    def _while_held(self) -> dict[str, Solved]:
        """All on while each of these motors is held fast, where a contact has to carry that."""
        if not self._build.plug and not self._wiring.switches:
            return {}
        return {
            name: solved
            for name, amps in self._held.items()
            if (solved := self._states.tried(starts(self._states, name, amps), self._finder.nominal)[0])
        }

    def _surge(self, circuits: tuple[str, ...], nominal: float) -> Surge | None:
        """What an output or board of these circuits gives as its loads start, where it gives so much with everything running, A."""
        if not self._parts.loads:
            return None
        from postcheck.survey.network.starting import surge_of  # noqa: PLC0415 - few builds have one

        return surge_of(self._wiring, circuits, nominal, self._held)

    def _at_low(self, circuit: str) -> float | None:
        """The current of a constant-current output with its supply at its lowest, A."""
        driver = self._wiring.drivers[circuit]
        supply = self._build.supply.get(driver.supply or "")
        if driver.steady is None or supply is None or supply.kind == "battery":
            return None
        # a converter may be fed by a battery, which changes nothing behind it
        usual = self._finder.nominal
        low = usual._replace(converters=-1) if supply.kind == "converter" else usual._replace(supply=-1)
        solved = self._states.solved(self._states.everything, low)
        return None if solved is None else flows_of(self._parts, solved).get(circuit, 0.0)

    def _in_output(self, circuit: str) -> tuple[float | None, float | None]:
        """The volts that a circuit's output or board takes, and those of them that a constant-current one has to spare."""
        driver = self._wiring.drivers[circuit]
        drop = next(
            (self._typical.across(position) for position in self._typical.of("output", circuit)), None
        )
        if drop is None:
            return 0.0 if driver.driven else None, None
        return drop, None if driver.steady is None else drop - volts_needed(driver)

    def supplies(self) -> dict[str, SupplyFigures]:
        """The figures of each supply that is known, by name."""
        figures = {}
        starting = self._starting(self._finder.nominal)
        flowing = {name: of.nominal for name, of in self.circuits.items()}
        lowest = self._lowest()
        least_flowing = {} if lowest is None else flows_of(self._parts, lowest)
        for name, supply in self._build.supply.items():
            if name not in self._wiring.known_supplies:
                continue
            nominal = delivered(self._typical, name)
            highest = [delivered(solved, name) for solved in self._heavy]
            volts, highest_volts = (open_volts(supply, sign) for sign in (0, 1))
            least = min(nominal, *highest)
            highest = [delivered(solved, name) for solved in self._apart]
            if least < -1e-9:
                least = min(least, *highest)
            enough = supply.switches_off_below or BANK_ASKS
            dark, gap = between_flashes(self._wiring, name, nominal, flowing, enough)
            figures[name] = SupplyFigures(
                name=name, path=("supply", name), nominal=max(nominal, 0.0), highest=max(0.0, *highest),
                average=average_load(self._wiring, name, nominal, flowing), rated=rated_current(supply),
                volts=volts, highest_volts=highest_volts, reverse=-least if least < -1e-9 else 0.0,
                starting=delivered(starting, name) if starting is not None else 0.0, dark=dark, gap=gap,
                most=max(nominal, 0.0) + beyond_typical(self._wiring, name),
                least_average=average_load(self._wiring, name, delivered(lowest, name), least_flowing)
                if lowest is not None else None,
            )  # fmt: skip
        return figures

    def _lowest(self) -> Solved | None:
        """Everything on and taking least, for the loads below which a power bank switches off."""
        if all(supply.switches_off_below is None for supply in self._build.supply.values()):
            return None
        return self._states.solved(
            self._states.everything, self._finder.low.own._replace(loads=-1, settled=True)
        )

    def _starting(self, corner: Corner) -> Solved | None:
        """Everything at the moment of switching on, where motors start or filaments are cold."""
        cold = any(lamp.dice[0].filament_volts for lamp in self._parts.lamps)
        if not cold and not any(part.starting for part in self._parts.all):
            return None
        return self._states.solved(self._states.everything._replace(name="start", starting=True), corner)

    def runs(self) -> dict[str, RunFigures]:
        """The figures of each run that leads somewhere, by name."""
        figures = {}
        for run in self._parts.runs:
            if not run.live:
                continue
            current = self._typical.amps("run", run.name)[0]
            first = run.ends[current < 0.0]
            highest = max(abs(solved.amps("run", run.name)[0]) for solved in self._apart)
            figures[run.name] = RunFigures(
                run, abs(current), abs(current) * run.ohms(self._air.usual), highest, first
            )
        return figures

    def loads(self) -> dict[str, LoadFigures]:
        """The figures of each load, by name."""
        nominal = self._finder.nominal
        starting = [self._starting(nominal._replace(supply=-1)), self._starting(nominal)]
        figures = {}
        for load in self._parts.loads:
            start, usual = (_volts_of(load, solved) if solved is not None else None for solved in starting)
            lowest = self._finder.lowest_volts(load.kind, load.name, 0)
            now = _volts_of(load, self._typical)
            figures[load.name] = LoadFigures(load, now, lowest or 0.0, start, usual)
        return figures

    def plugs(self) -> dict[str, PlugFigures]:
        """The figures of each plug, by name."""
        return {
            plug.name: PlugFigures(
                plug.name,
                index,
                tuple(abs(amps) for amps in self._typical.amps("plug", plug.name)),
                tuple(
                    max(abs(amps) for amps in pin)
                    for pin in zip(*(solved.amps("plug", plug.name) for solved in self._apart), strict=True)
                ),
                {
                    name: tuple(map(abs, solved.amps("plug", plug.name)))
                    for name, solved in self._while_held.items()
                },
            )
            for index, plug in enumerate(self._build.plug)
        }

    def switches(self) -> dict[str, SwitchFigures]:
        """The figures of each switch, by its line."""
        start = self._starting(self._finder.nominal)
        figures = {}
        for line, switch in self._wiring.switches.items():
            nominal = sum(map(abs, self._typical.amps("switch", line)))
            behind = [
                part
                for part in self._parts.loads
                if line in (part.circuit, f"{self._wiring.drivers[part.circuit].supply}+")
            ]
            figures[line] = SwitchFigures(
                switch, nominal, max(sum(map(abs, solved.amps("switch", line))) for solved in self._apart),
                sum(map(abs, start.amps("switch", line))) if start is not None else nominal,
                sum(part.surge(MOTOR_STARTS) for part in behind if part.starting is None),
                {
                    name: sum(map(abs, solved.amps("switch", line)))
                    for name, solved in self._while_held.items()
                },
            )  # fmt: skip
        return figures

    def board_surges(self) -> dict[str, Surge]:
        """What the outputs of each board give together while the loads on them start."""
        found = {}
        for name, (nominal, _) in self.boards.items():
            circuits = tuple(
                circuit for circuit, driver in self._wiring.drivers.items() if driver.board == name
            )
            if (surge := self._surge(circuits, nominal)) is not None:
                found[name] = surge
        return found

    @cached_property
    def boards(self) -> dict[str, tuple[float, float]]:
        """What the outputs of each board carry together, nominal and at the most, A."""
        loads = {}
        for name in self._build.board:
            driven = [
                self.circuits[circuit]
                for circuit, driver in self._wiring.drivers.items()
                if driver.board == name and circuit in self.circuits
            ]
            loads[name] = (
                sum(figures.nominal for figures in driven),
                sum(figures.highest for figures in driven),
            )
        return loads


def _volts_of(load: LoadPart, solved: Solved) -> float:
    """The volts at the terminals of a load."""
    return abs(solved.across(solved.of(load.kind, load.name)[0]))
