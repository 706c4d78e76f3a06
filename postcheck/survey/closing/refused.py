"""What is not put on a bench supply as it is: it would harm a part or a person, or light nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, NamedTuple, Protocol

from postcheck.limits import Limits, above
from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.test_points import TestPoint
from postcheck.survey.heat.conductors import InUse
from postcheck.survey.heat.figures import HotSpot, PlaceFigures
from postcheck.survey.light import short_wave
from postcheck.survey.network.figures import Electrics
from postcheck.survey.network.pulses import pulse_of
from postcheck.wiring.parts import LampPart, LoadPart, Part, Parts, StripPart

Why = Literal["scope", "eyes", "rating", "shared", "load", "strip", "traces", "wire", "dark"]
# How near to a bound checks take volts to be at it.
_AT = 1e-3
# Less than this (A) makes no wire hot: 0.05 mm of copper in still air gets some 22 K warmer of it (`wire_heat.loss_per_metre`).
_WARMS = 0.3


class Sections(Protocol):
    """What is read of a survey."""

    @property
    def bench(self) -> Bench:
        """Every conductor end, and how it is tested."""
        ...

    @property
    def electrics(self) -> Electrics:
        """Currents in the finished model."""
        ...

    @property
    def in_use(self) -> InUse:
        """How hot conductors get."""
        ...

    @property
    def places(self) -> Mapping[str, PlaceFigures]:
        """Heat in every closed place."""
        ...

    @property
    def hot_spots(self) -> Iterable[HotSpot]:
        """Glass and resistors that get warm, against what they sit on."""
        ...

    @property
    def limits(self) -> Limits:
        """What judges."""
        ...

    @property
    def parts(self) -> Parts:
        """Wires, dice and resistors, looked up."""
        ...


class Never(NamedTuple):
    """Why something is not tested as it is, at `volts` of its supply: `name` has a `value` above its `limit`.

    `why`: beyond the volts that are judged (`scope`; `name` is a load where it puts them out), light that burns `eyes`, more
    than a lamp is rated for (`rating`, `shared` where one string takes the others' part), more volts than a `load`
    withstands, more current than a `strip`'s LEDs or its `traces`, a `wire` above its insulation (degC; it melts where
    `value` is 0), or nothing lights (`dark`). A and V.
    """

    why: Why
    volts: float
    name: str = ""
    value: float = 0.0
    limit: float = 0.0


def beyond(survey: Sections, test_point: TestPoint) -> Never | None:
    """What no setting makes safe: volts that this program does not judge, and light that burns."""
    bench, limit = survey.bench, survey.limits.value("volts.scope")
    if (never := out_of_scope(survey, test_point.circuit)) is not None:
        return never
    loads = {load.name: load.open_volts or 0.0 for load in survey.bench.build.load}
    behind = {*test_point.lamps, *test_point.others}
    for name in behind & loads.keys():
        if above(loads[name], limit):
            return Never("scope", bench.usual_volts(test_point) or 0.0, name, loads[name], limit)
    burning = next((one.name for one in short_wave(survey.parts, behind)), None)
    return None if burning is None else Never("eyes", bench.usual_volts(test_point) or 0.0, burning)


def out_of_scope(survey: Sections, circuit: str) -> Never | None:
    """That the supply of a circuit has more volts than are judged here, by itself or in a stack with others."""
    highest, limit = survey.bench.highest_on(circuit), survey.limits.value("volts.scope")
    if not above(highest, limit):
        highest = survey.electrics.widest
    return Never("scope", highest, "", highest, limit) if above(highest, limit) else None


def refused(survey: Sections, test_point: TestPoint, volts: float) -> Never | None:
    """Why a test point is not tested at the volts of its supply, with its resistors."""
    if (found := beyond(survey, test_point)) is not None:
        return found
    if (over := survey.bench.over(test_point, volts)) is not None:
        return Never("rating", volts, *over)
    behind = [survey.parts.named[name] for name in (*test_point.lamps, *test_point.others)]
    for part in behind:
        if (found := _overdone(survey, part, volts)) is not None:
            return found
    band = survey.bench.expected(test_point, volts, with_resistors=True)
    if band is None:
        return None
    if (found := _hot_wire(survey, test_point, volts, band.most)) is not None:
        return found
    lit = bool(behind) and all(part.dice for part in behind)
    return Never("dark", volts) if lit and band.most < survey.limits.value("bench.lights") else None


def pulses_alone(survey: Sections, test_point: TestPoint) -> bool:
    """Whether what takes more there than it is rated for gets that in pulses in the model, and its pulse rating lets it."""
    most, over = survey.limits.value("lamp.current.stop"), 0
    for name in test_point.lamps:
        lamp = survey.electrics.lamps.get(name)
        if lamp is None or lamp.likely_highest <= most * lamp.rated:
            over += lamp is not None and (lamp.held_on or 0.0) > lamp.rated
            continue
        _, _, pulsed, counts = pulse_of(survey.bench.build, lamp)
        if not counts or lamp.likely_highest > most * pulsed:
            return False
        over += 1
    return over > 0


def loads_at(survey: Sections, test_point: TestPoint) -> Iterator[LoadPart]:
    """The loads that are tested at a test point."""
    return (load for load in survey.parts.loads if load.name in test_point.others)


def held_on_too_hot(survey: Sections, test_point: TestPoint) -> str:
    """A place whose walls do not withstand it that what is tested there is held on, or at its most, for good; empty where there is none."""
    at_most = any(load.stays_at_most for load in loads_at(survey, test_point))
    if not at_most and not survey.bench.pulsed(test_point):
        return ""
    names = {*test_point.lamps, *test_point.others}
    called = names | {f"the resistor of {name}" for name in names}
    for place in survey.places.values():
        if (
            place.steady is not None
            and above(place.steady, place.stands)
            and any(part in called for part, _ in place.steady_parts)
        ):
            return place.name
    return next(
        (
            one.place
            for one in survey.hot_spots
            if one.stuck and one.name in names and above(one.celsius, one.stands)
        ),
        "",
    )


def _overdone(survey: Sections, part: Part, volts: float) -> Never | None:
    """A part that gets too much by the network of the build, where the bench alone would not show it."""
    limits, electrics = survey.limits, survey.electrics
    most = limits.value("lamp.current.stop") * part.rated
    if isinstance(part, LampPart) and part.shared_resistor:
        lamp = electrics.lamps.get(part.name)
        if lamp is not None and lamp.shares and lamp.shares[0] > most:
            return Never("shared", volts, part.name, lamp.shares[0], part.rated)
    if isinstance(part, StripPart) and (strip := electrics.strips.get(part.name)):
        if above(strip.segment_current, most):
            return Never("strip", volts, part.name, strip.segment_current, part.rated)
        if part.through is not None and above(strip.through, limits.value("strip.through") * part.through):
            return Never("traces", volts, part.name, strip.through, part.through)
    if isinstance(part, LoadPart) and part.highest is not None and volts > part.highest * (1.0 + _AT):
        return Never("load", volts, part.name, volts, part.highest)
    return None


def _hot_wire(survey: Sections, test_point: TestPoint, volts: float, amps: float) -> Never | None:
    """A run of the circuit's own line that gets too hot in use, for it is left on for hours."""
    if test_point.kind != "circuit" or amps < _WARMS:
        return None
    share = survey.limits.value("wire.insulation")
    own = {run.name for run in survey.parts.runs if run.line == test_point.circuit}
    for used in survey.in_use.wires:
        stands = used.wire.insulation_celsius
        if (
            used.kind == "run"
            and used.name in own
            and (used.celsius is None or used.celsius > share * stands)
        ):
            return Never("wire", volts, used.name, used.celsius or 0.0, stands)
    return None
