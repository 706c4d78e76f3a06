"""What lamps and strips get: currents, heat in their resistors, light lost on the way."""

from __future__ import annotations

from math import sqrt

from postcheck.physics.light import light_ratio
from postcheck.physics.network import Port
from postcheck.survey.network.averages import duty_cycle, fraction_in_resistor
from postcheck.survey.network.corners import CornerFinder
from postcheck.survey.network.dice import rated_at
from postcheck.survey.network.elements import glows_through
from postcheck.survey.network.figures import LampFigures, StripFigures
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.supplies import open_volts
from postcheck.wiring.parts import LampPart, ResistorPart, StripPart
from postcheck.wiring.resistors import spec_of

# Settings of a trimmer that are tried for the one that warms it most.
SETTINGS = 24
# Where the air alone is hotter than a die stands, its rating is nothing; this share keeps what is divided by it finite.
LEFT = 1e-3


class Lit:
    """`typical` and `heaviest`: all on, as usual and everything at its most."""

    def __init__(self, finder: CornerFinder, typical: Solved, heaviest: Solved) -> None:
        self._finder, self._states, self._air = finder, finder.states, finder.air
        self._wiring = finder.states.wiring
        self._build, self._parts = self._wiring.build, self._wiring.parts
        self._typical, self._heaviest = typical, heaviest

    def lamps(self) -> dict[str, LampFigures]:
        """The figures of each lamp that is there, by name."""
        known: dict[tuple[object, ...], LampFigures | None] = {}
        lamps: dict[str, LampFigures] = {}
        for lamp in self._parts.lamps:
            key = self._alike(lamp)
            if key not in known:
                known[key] = self._lamp(lamp)
            if (figures := known[key]) is not None:
                lamps[lamp.name] = figures if figures.part is lamp else figures._replace(part=lamp)
        return lamps

    def _alike(self, lamp: LampPart) -> tuple[object, ...]:
        """What has the same figures: like lamps that are one element of the network. One that flashes by itself has states of its own."""
        if lamp.flashes is not None:
            return (lamp.name,)
        firsts = self._typical.netlist.firsts
        return (
            self._parts.likeness[lamp.name],
            *(firsts[position] for position in self._typical.of("lamp", lamp.name)),
        )

    def _lamp(self, lamp: LampPart) -> LampFigures | None:
        positions = self._typical.of("lamp", lamp.name)
        if not positions:
            return None
        span = self._finder.span("lamp", lamp.name, 0, lamp.circuit)
        if span is None:
            return None
        position = positions[0]
        nominal = self._typical.solution.amps[position]
        within = self._typical.resistor(position) + self._typical.wires(position)
        joint_volts, before = self._path_loss(lamp)
        behind = _behind(lamp, self._typical)
        lead_drop = (
            joint_volts
            - abs(self._typical.across(position))
            + abs(nominal) * self._typical.wires(position)
            - behind
        )
        rises = self._states.air(self._finder.nominal)
        air = [self._air.high + rises.get(place, 0.0) for place in self._typical.maker(position).places]
        highest, alone = span.highest, self._alone(lamp)
        resistor_nominal, resistor_likely, resistor_highest = self._in_resistor(lamp, highest)
        figures = LampFigures(
            part=lamp, nominal=nominal, lowest=span.lowest, highest=highest, alone=max(highest, alone),
            likely_lowest=span.likely_lowest, likely_highest=span.likely_highest,
            shares=self._shares(lamp), joint_volts=joint_volts, loss=before + max(lead_drop, 0.0),
            rated=max(
                min(rated_at(die, celsius) for die, celsius in zip(lamp.dice, air, strict=True)),
                LEFT * lamp.rated,
            ),
            rated_outside=min(rated_at(die, self._air.high) for die in lamp.dice), hottest=max(air),
            resistor_nominal=resistor_nominal, resistor_likely=resistor_likely, resistor_highest=resistor_highest,
            string_volts=abs(self._typical.across(position)) - abs(nominal) * within,
            duty_cycle=duty_cycle(self._build, lamp.circuit), resistor_fraction=fraction_in_resistor(self._build, lamp.circuit),
            lead_drop=lead_drop,
            strings=tuple(self._typical.solution.amps[one] for one in positions),
            light_lost=self._light_lost(position, before + lead_drop, joint_volts + before, behind),
            spot=self._spot(lamp, resistor_nominal), turned=self._turned(lamp),
            lowest_at_usual=self._lowest_at_usual(lamp),
        )  # fmt: skip
        share = glows_through(self._build, lamp.circuit) if lamp.dice[0].filament_volts is not None else None
        return figures if share is None else self._averaged(figures, share)

    def _lowest_at_usual(self, lamp: LampPart) -> float | None:
        supply = self._build.supply.get(self._wiring.drivers[lamp.circuit].supply or "")
        if supply is None or supply.kind != "battery":
            return None
        return self._finder.extreme(self._states.everything, self._finder.low_at_usual, "lamp", lamp.name, 0)

    def _averaged(self, lamp: LampFigures, share: float) -> LampFigures:
        """The figures of a filament that does not follow the pulses of its circuit: the root mean squares of its currents."""
        [position, *_] = self._typical.of("lamp", lamp.name)
        port = self._finder.port(self._typical, self._states.everything, position)
        held_on = self._finder.through(port, self._typical.maker(position).held_on(), self._typical.corner)
        mean = sqrt(share)
        return lamp._replace(
            nominal=mean * lamp.nominal, lowest=mean * lamp.lowest, highest=mean * lamp.highest, alone=mean * lamp.alone,
            likely_lowest=mean * lamp.likely_lowest, likely_highest=mean * lamp.likely_highest,
            shares=tuple(mean * amps for amps in lamp.shares), strings=tuple(mean * amps for amps in lamp.strings),
            turned=None if lamp.turned is None else (mean * lamp.turned[0], mean * lamp.turned[1]), held_on=held_on,
        )  # fmt: skip

    def _spot(self, lamp: LampPart, watts: float) -> tuple[float, float | None]:
        """Of a lamp's resistors the one nearest to its rating: what it dissipates, and that, W. `watts`: all of them."""
        if lamp.resistor is None:
            return 0.0, None
        found: list[tuple[float, float | None]] = []
        for piece in lamp.resistor.each:
            if piece.track is None or lamp.shared_resistor or piece.ohms:
                found.append((watts * piece.ohms / lamp.resistor.ohms, piece.power))
            else:
                turned = [piece.track * step / SETTINGS for step in range(1, SETTINGS + 1)]
                found.append((max(self._at(lamp, ohms) ** 2 * ohms for ohms in turned), piece.power))
        return max(found, key=lambda one: one[0] / one[1] if one[1] else 0.0)

    def _turned(self, lamp: LampPart) -> tuple[float, float] | None:
        spec = spec_of(lamp)
        if spec is None or not spec.trimmers or not self._typical.of("lamp", lamp.name):
            return None
        now = sum(one.set or 0.0 for one in spec.trimmers)
        return (
            self._at(lamp, -now),
            self._at(lamp, sum(one.ohms for one in spec.trimmers) - now),
        )

    def _at(self, lamp: LampPart, more: float) -> float:
        """The nominal current of a lamp's first string with `more` ohm in series, A."""
        position = self._typical.of("lamp", lamp.name)[0]
        maker = self._typical.maker(position)
        port = self._finder.port(self._typical, self._states.everything, position)
        left = max((lamp.resistor.ohms if lamp.resistor is not None else 0.0) + more, 0.0)
        if lamp.shared_resistor:  # each loses what the current of all strings loses in it; the path to it is taken to have no resistance
            port = port._replace(open_volts=self._path_loss(lamp)[0], ohms=left * lamp.parallel)
        else:
            maker = maker.with_resistor(ResistorPart(left, 0.0, None, lamp.place, "supply"))
        return self._finder.through(port, maker, self._typical.corner)

    def _in_resistor(self, lamp: LampPart, highest: float) -> tuple[float, float, float]:
        """W in a lamp's resistor while it is lit, nominal, likely and at its most: current and ohms of one corner.

        Of several strings behind one resistor all together count: usually, and everything at its most.
        """
        behind = self._typical.of("resistor", lamp.name)
        if behind:
            usual, most_of_all = (
                sum(abs(solved.solution.amps[k] * solved.across(k)) for k in behind)
                for solved in (self._typical, self._heaviest)
            )
            return usual, usual, most_of_all
        [position, *_] = self._typical.of("lamp", lamp.name)
        if lamp.resistor is None:
            return 0.0, 0.0, 0.0
        maker = self._typical.maker(position)
        nominal = self._typical.solution.amps[position] ** 2 * maker.resistor_ohms(self._typical.corner)
        most = self._finder.most
        # a resistor with little of the volts dissipates more as its ohms rise
        other = self._finder.with_more_ohms("lamp", lamp.name, lamp.circuit)
        most_of_it = max(
            highest**2 * maker.resistor_ohms(most),
            other**2 * maker.resistor_ohms(most._replace(resistors=-1)),
        )
        likely = self._finder.likely_in_resistor("lamp", lamp.name, lamp.circuit)
        return nominal, min(likely, most_of_it), most_of_it

    def _alone(self, lamp: LampPart) -> float:
        """Its current with nothing else on the lines; what shares a resistor or a constant current has parallel strings instead."""
        steady = self._wiring.drivers[lamp.circuit].steady is not None
        if steady or lamp.shared_resistor:
            return 0.0
        return self._finder.alone("lamp", lamp.name) or 0.0

    def _shares(self, lamp: LampPart) -> tuple[float, ...]:
        """Nominal currents of lamps behind one resistor when the first has the least forward voltage."""
        if not lamp.shared_resistor or lamp.matched:
            return ()
        positions = self._typical.of("lamp", lamp.name)
        first = positions[0]
        nominal = self._finder.nominal
        element = self._typical.maker(first)(nominal._replace(dice=1), self._states.air(nominal))
        elements = (*self._typical.elements[:first], element, *self._typical.elements[first + 1 :])
        solution = self._typical.network.solve(elements, self._typical.solution)
        return tuple(solution.amps[position] for position in positions) if solution.converged else ()

    def _path_loss(self, lamp: LampPart) -> tuple[float, float]:
        """Volts between a lamp's joints, and those lost between the supply's poles (or output) and these."""
        driver, node, volts = self._wiring.drivers[lamp.circuit], self._wiring.node, self._typical.volts
        here = volts(node(lamp.circuit, lamp.supply_leg.to))
        there = volts(node(driver.return_net, lamp.return_leg.to))
        if here is None or there is None:
            return 0.0, 0.0
        first, last = volts(self._wiring.output(driver)), volts(self._wiring.back(driver))
        lost = 0.0 if first is None or last is None else abs(first - last) - abs(here - there)
        return abs(here - there), lost

    def strips(self) -> dict[str, StripFigures]:
        """The figures of each strip, by name."""
        return {strip.name: self._strip(strip) for strip in self._parts.strips}

    def _strip(self, strip: StripPart) -> StripFigures:
        chains = [abs(amps) for amps in self._typical.amps(strip.kind, strip.name)]
        through = [abs(amps) for amps in self._heaviest.amps("trace", strip.name)]
        positions = self._typical.of(strip.kind, strip.name)
        # the first segment gets most where the traces count, the last where the far end is the fed one
        spans = [self._finder.span(strip.kind, strip.name, n, strip.circuit) for n in {0, len(positions) - 1}]
        each = len(strip.chains)
        lowest = self._finder.lowest_volts(strip.kind, strip.name, len(positions) - 1)
        total = sum(abs(amps) for amps in self._heaviest.amps(strip.kind, strip.name))
        return StripFigures(
            part=strip, nominal=sum(chains), highest=total,
            segments=tuple(
                (abs(self._typical.across(positions[first])), sum(chains[first : first + each]))
                for first in range(0, len(positions), each)
            ),
            lowest_volts=lowest or 0.0,
            through=max(through, default=total), segment_current=chains[0], last_current=chains[-1],
            segment_highest=max((span.highest for span in spans if span is not None), default=0.0),
            light_lost=self._lost_at_the_end(strip, positions[-1]),
        )  # fmt: skip

    def _lost_at_the_end(self, strip: StripPart, last: int) -> float:
        """The share of light that the last segment of a strip lacks to what it would give on the supply's own volts."""
        driver = self._wiring.drivers[strip.circuit]
        supply = self._build.supply.get(driver.supply or "")
        if supply is None or driver.steady is not None:
            return 0.0
        here, whole = abs(self._typical.across(last)), open_volts(supply, 0)
        return self._light_lost(last, whole - here, whole)

    def _light_lost(self, position: int, lost: float, volts: float, behind: float = 0.0) -> float:
        """The share of its light that a string lacks to what it would give with all of `volts`, of which wires have `lost`.

        `behind`: the volts across a resistor that it shares, where more is lost as its current grows, in proportion.
        """
        amps = abs(self._typical.solution.amps[position])
        if lost <= 0.0 or amps <= 0.0:
            return 0.0
        maker = self._typical.maker(position).without_wires()
        port = Port(position, volts, max(behind, 0.0) / amps, abs(self._typical.across(position)), amps)
        whole = abs(self._finder.through(port, maker, self._typical.corner))
        filament = maker.dice[0].filament_volts is not None
        return max(1.0 - light_ratio(amps, whole, filament=filament), 0.0)


def _behind(lamp: LampPart, solved: Solved) -> float:
    """The volts across the resistor that a lamp's strings share; 0 where each has its own."""
    return sum(abs(solved.across(position)) for position in solved.of("resistor", lamp.name)[:1])
