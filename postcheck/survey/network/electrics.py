"""Currents, drops and loads of a build in all its states and corners, gathered from the solutions."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, combinations

from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.survey.network.averages import delivered
from postcheck.survey.network.carried import Carried
from postcheck.survey.network.corners import Air, CornerFinder
from postcheck.survey.network.dice import is_destroyed
from postcheck.survey.network.figures import Electrics, LampFigures
from postcheck.survey.network.flicker import flicker_steps, start_dips, start_sags
from postcheck.survey.network.lit import Lit
from postcheck.survey.network.misconnections import plug_faults, pole_faults, turned_faults
from postcheck.survey.network.parallel_strings import parallel_string_faults, uneven_strings
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.states import States
from postcheck.survey.network.warmest import warm_places
from postcheck.survey.network.wrong_adaptor import wrong_adaptor_faults
from postcheck.wiring import Wiring
from postcheck.wiring.graph import Graph, Node

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
        poles = self._poles()
        joined = tuple((one, two) for one, two in combinations(poles, 2) if poles[one] == poles[two])
        # what flows between supplies that are joined is most where one is high and the other low, whatever is lit
        apart = [*heavy, *self._apart(joined, [typical, *heavy])]
        lit, carried = Lit(self.finder, typical, heaviest), Carried(self.finder, typical, heavy, apart)
        return Electrics(
            lamps=self._beside_destroyed(lit.lamps()),
            supplies=carried.supplies(),
            runs=carried.runs(),
            circuits=carried.circuits,
            strips=lit.strips(),
            loads=carried.loads(),
            plugs=carried.plugs(),
            switches=carried.switches(),
            boards=carried.boards,
            board_surges=carried.board_surges(),
            steps=flicker_steps(self.build, self.parts, states, self.finder.nominal),
            dips=start_dips(self.build, self.parts, states, self.finder.nominal),
            sags=start_sags(self.build, self.parts, states, self.finder.nominal),
            heats=states.heat(typical),
            steady_heats=states.steady_heat(typical),
            parallel_string_faults=parallel_string_faults(self.wiring, states, self.finder.nominal),
            uneven_strings=uneven_strings(self.wiring, states, typical, self.finder.nominal),
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

    def _beside_destroyed(self, lamps: dict[str, LampFigures]) -> dict[str, LampFigures]:
        """The lamps, with those beside a destroyed one rated by the room's air: the heat of a dead lamp does not last."""
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
                beside = Lit(cool.finder, typical, heaviest).lamps()
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

    def _poles(self) -> dict[str, tuple[Node, Node]]:
        """For each supply the connected components of its two poles, by wire, pins, joints and switches alone."""
        wires = Graph(
            edge
            for edge in self.wiring.edges
            if edge.kind != "channel" or self.wiring.drivers[edge.name].lossless
        )
        plus, minus = (
            {name: wires.root(self.wiring.pole(name, sign)) for name in self.build.supply} for sign in "+-"
        )
        return {name: (plus[name], minus[name]) for name in self.build.supply}


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
