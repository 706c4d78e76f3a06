"""The parts of a build with their data: wires, dice and resistors looked up, defaults filled in.

Names were checked when the build was read, so a lookup that fails here is our own fault.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, NamedTuple

from postcheck import catalogue
from postcheck.description.curves import curve_points
from postcheck.description.models import (
    Build,
    Lamp,
    LampKind,
    Lead,
    Leg,
    ResistorSpec,
    Run,
    Strip,
    UsualResistor,
    WireKind,
)
from postcheck.description.naming import lamp_names, run_names, strip_names
from postcheck.physics import copper
from postcheck.wiring.through import passages_between

__all__ = [
    "BESIDE_THE_MARK",
    "STRIP_TRACE",
    "DieData",
    "LampPart",
    "LegPart",
    "LoadPart",
    "Parts",
    "ResistorPart",
    "RunPart",
    "StripPart",
    "WireData",
    "die_data",
    "parts_of",
    "usual_resistor",
    "whole_segments",
    "wire_data",
]

Path = tuple[str | int, ...]

# Of resistors of which the file says nothing: the commonest film parts are 5 % (the E24 series of IEC 60063).
USUAL_RESISTOR_TOLERANCE = 0.05
# What is to be typed where a strip's traces were not measured.
STRIP_TRACE = 'the measured resistance of its trace, such as trace = "0.5 ohm/m"'
# A cut this far beside the mark is still within the copper of its pads, m: common practice.
BESIDE_THE_MARK = 1e-3


class WireData(NamedTuple):
    """A wire, wherever it was described. Lengths in m, ohm per m at 20 degC, temperature in degC."""

    name: str
    solid: bool
    strands: int
    strand_diameter: float
    conductor_area: float
    max_diameter: float
    ohms_per_metre: float
    ohms_per_metre_most: float
    insulation_celsius: float
    insulation_volts: float | None
    enamelled: bool
    source: str


class DieData(NamedTuple):
    """One die or filament. The curve goes through (low_current, low_forward) and (at_current, forward)."""

    kind: str
    colour: str
    forward: tuple[float, float, float]
    at_current: float
    low_forward: float
    low_current: float
    rated: float
    pulse: float | None
    pulse_width: float | None
    pulse_share: float | None
    reverse: float | None
    volts_per_kelvin: float
    kelvin_per_watt: float
    derate_above: float
    derate_per_kelvin: float
    filament_volts: float | None = None
    cold_ratio: float = 1.0
    source: str = ""


class ResistorPart(NamedTuple):
    """A resistor: ohm, relative tolerance, watt (None: not said), the place that it warms."""

    ohms: float
    tolerance: float
    power: float | None
    place: str
    side: str


class LegPart(NamedTuple):
    """One leg of a lead: length in m, wire, the place of its joint, its colour."""

    length: float
    wire: WireData | None
    to: str
    colour: str | None

    def ohms(self, celsius: float, *, most: bool = False) -> float:
        """Resistance in ohm at a copper temperature in degC; `most`: of the worst wire within its standard."""
        if self.wire is None:
            return 0.0
        per_metre = self.wire.ohms_per_metre_most if most else self.wire.ohms_per_metre
        return copper.at_temperature(per_metre * self.length, celsius)


class LampPart(NamedTuple):
    """The strings of one lamp entry on one circuit. `dice`: in order along one string.

    `feeds`, `backs`: how many wires its lead has on each side; where every string has its resistor at the joint, each
    needs one of its own as far as there.
    """

    name: str
    entry: str
    path: Path
    circuit: str
    place: str
    places: tuple[str, ...]
    kind: str
    dice: tuple[DieData, ...]
    parallel: int
    one_resistor: bool
    matched: bool
    resistor: ResistorPart | None
    resistor_path: Path
    feed: LegPart
    back: LegPart
    links: tuple[LegPart, ...]
    wanted: float | None
    behaviour: str | None
    backwards: bool
    shares_back: str | None = None
    has_lead: bool = False
    feeds: int = 1
    backs: int = 1


class StripPart(NamedTuple):
    """A strip: whole segments, each of `chains` of dice behind a resistor in ohm; trace in ohm/m or unmeasured."""

    name: str
    path: Path
    circuit: str
    place: str
    far_end: str | None
    kind: str
    volts: float
    segment: float
    length: float
    segments: int
    chains: tuple[tuple[tuple[DieData, ...], float], ...]
    trace: float | None
    through: float | None
    feed: LegPart
    back: LegPart
    source: str

    @property
    def dice(self) -> tuple[DieData, ...]:
        """The dice of the first chain of a segment."""
        return self.chains[0][0]


class LoadPart(NamedTuple):
    """Another load: currents in A, volts in V."""

    name: str
    path: Path
    circuit: str
    place: str
    least: float
    typical: float
    most: float
    starting: float | None
    lowest: float | None
    feed: LegPart
    back: LegPart


class RunPart(NamedTuple):
    """A run, named; `wire` or `measured` ohm gives its resistance; `conductors` lie side by side."""

    name: str
    path: Path
    line: str
    ends: tuple[str, str]
    length: float
    wire: WireData | None
    measured: float | None
    conductors: int
    spare: bool
    carries: str
    cable: str | None
    body: bool
    through: tuple[str, ...]
    colour: str | None

    @property
    def live(self) -> bool:
        """Whether it is part of the network."""
        return not self.spare and self.carries == "power"

    def ohms(self, celsius: float, *, most: bool = False) -> float:
        """Resistance in ohm of one of its conductors at a copper temperature in degC."""
        if self.measured is not None:
            return max(copper.at_temperature(self.measured, celsius), 1e-6)
        if self.wire is None:
            return 1e-6
        per_metre = self.wire.ohms_per_metre_most if most else self.wire.ohms_per_metre
        return max(copper.at_temperature(per_metre * self.length, celsius), 1e-6)


@dataclass(frozen=True, slots=True)
class Parts:
    """Everything of a build that carries current or lies in a bore."""

    lamps: tuple[LampPart, ...]
    strips: tuple[StripPart, ...]
    loads: tuple[LoadPart, ...]
    runs: tuple[RunPart, ...]
    unknown: tuple[tuple[str, str, str, bool], ...] = field(default=())


def whole_segments(length: float, segment: float) -> int:
    """How many whole segments a length of strip has, cut at a mark or within the pads there (all in m)."""
    if not segment > 0.0:
        raise ValueError("a segment has a length above zero")
    beside = min(BESIDE_THE_MARK, segment / 4.0)
    return int(length / segment + beside / segment + 1e-9)


def parts_of(build: Build) -> Parts:
    """Look up every wire, die and resistor of a build and fill in what `[usual]` says."""
    return _Gatherer(build).gather()


class _Gatherer:
    def __init__(self, build: Build) -> None:
        self.build = build
        self.unknown: list[tuple[str, str, str, bool]] = []
        self.usual_power, self.usual_tolerance = usual_resistor(build.usual.resistor)
        self.between = passages_between(build)
        self.lamp_names, self.strip_names, self.run_names = (
            lamp_names(build),
            strip_names(build),
            run_names(build),
        )
        self.wire = lru_cache(maxsize=None)(self._wire)
        self.dice = lru_cache(maxsize=None)(self._dice)

    def gather(self) -> Parts:
        lamps = tuple(part for index, lamp in enumerate(self.build.lamp) for part in self._lamps(index, lamp))
        strips = tuple(self._strip(index, strip) for index, strip in enumerate(self.build.strip))
        loads = tuple(
            LoadPart(
                name=load.name,
                path=("load", index),
                circuit=load.circuit,
                place=load.place,
                least=load.typical if load.least is None else load.least,
                typical=load.typical,
                most=load.typical if load.most is None else load.most,
                starting=load.starting,
                lowest=load.lowest,
                **self._legs(load.name, load.lead, load.place),
            )
            for index, load in enumerate(self.build.load)
        )
        runs = self._runs()
        if not (lamps or strips or loads):
            self.unknown.append(
                (
                    self.build.build.name,
                    "anything that is lit or driven",
                    'a [[lamp]], [[strip]] or [[load]], such as [[lamp]] with name = "bow lamp"',
                    True,
                )
            )
        return Parts(lamps, strips, loads, runs, tuple(self.unknown))

    # -- wires and legs

    def _wire(self, name: str) -> WireData:
        return wire_data(self.build, name)

    def _legs(self, name: str, lead: Lead | None, place: str, last: str | None = None) -> dict[str, Any]:
        if lead is None:
            return {"feed": LegPart(0.0, None, place, None), "back": LegPart(0.0, None, last or place, None)}
        wires: list[str | None] = [*lead.wires] if lead.wires else [lead.wire or self.build.usual.lead] * 2
        colours = [*(lead.colours or []), None, None]
        legs = {}
        for position, (side, own) in enumerate((("feed", lead.feed), ("back", lead.back))):
            leg = own or Leg()
            wire = leg.wire or wires[position]
            length = leg.length if leg.length is not None else lead.length
            if length is None or wire is None:
                missing = (
                    'its length, such as lead = "220 mm to hull"'
                    if length is None
                    else 'its wire, such as lead = "220 mm of enamel-0.10 to hull"'
                )
                self.unknown.append((name, "the resistance of its lead", missing, True))
            legs[side] = LegPart(
                length or 0.0,
                self.wire(wire) if wire else None,
                leg.to or lead.to or (place if side == "feed" else last or place),
                leg.colour or colours[position],
            )
        return legs

    def _runs(self) -> tuple[RunPart, ...]:
        runs = []
        for index, (run, name) in enumerate(zip(self.build.run, self.run_names, strict=True)):
            wire = run.wire or self.build.usual.run
            if (
                run.ohms is None
                and not run.spare
                and run.carries == "power"
                and (wire is None or run.length is None)
            ):
                missing = (
                    'its wire, such as wire = "ptfe-28"'
                    if wire is None
                    else 'its length, such as length = "300 mm"'
                )
                self.unknown.append((name, "its resistance and voltage drop", missing, True))
            runs.append(
                RunPart(
                    name=name,
                    path=("run", index),
                    line=run.line or "",
                    ends=(run.ends[0], run.ends[1]),
                    length=run.length or 0.0,
                    wire=self.wire(wire) if wire else None,
                    measured=run.ohms,
                    conductors=run.conductors,
                    spare=run.spare,
                    carries=run.carries,
                    cable=run.cable,
                    body=run.body,
                    through=tuple(self._through(run)),
                    colour=run.colour,
                )
            )
        return tuple(runs)

    def _through(self, run: Run) -> Iterator[str]:
        if run.through is not None:
            yield from run.through
        elif not run.body:
            yield from self.between.get(frozenset(run.ends), ())

    # -- lamps

    def _dice(self, kind: str) -> tuple[DieData, ...]:
        own = self.build.lamp_kind.get(kind)
        if own is not None:
            return (_described_die(own),)
        row = catalogue.lamp(kind)
        if isinstance(row, catalogue.FilamentLamp):
            return (
                DieData("filament", "", (row.rated_volts,) * 3, row.rated_current, row.rated_volts, row.rated_current,
                        row.rated_current, None, None, None, None, 0.0, 0.0, 1e3, 0.0, row.rated_volts,
                        row.cold_ratio, row.source),
            )  # fmt: skip
        return tuple(die_data(die, row.source) for die in row.dice)

    def _resistor(self, spec: ResistorSpec | None, place: str) -> ResistorPart | None:
        if spec is None or spec.ohms == 0.0:  # a link of zero ohm limits nothing
            return None
        power = spec.power
        if power is None and spec.size is not None:
            power = catalogue.resistor_size(spec.size).power
        return ResistorPart(
            spec.ohms,
            spec.tolerance if spec.tolerance is not None else self.usual_tolerance,
            power if power is not None else self.usual_power,
            spec.place or place,
            spec.side,
        )

    def _lamps(self, index: int, lamp: Lamp) -> Iterator[LampPart]:
        path: Path = ("lamp", index)
        name = self.lamp_names[index]
        last = lamp.places[-1] if lamp.places else lamp.place
        legs = self._legs(name, lamp.lead, lamp.places[0] if lamp.places else lamp.place, last)
        links = tuple(self._legs(name, link, lamp.place)["feed"] for link in lamp.links or ())
        common: dict[str, Any] = {
            "entry": name, "place": lamp.place, "places": tuple(lamp.places or (lamp.place,)), "kind": lamp.kind,
            "parallel": lamp.parallel, "one_resistor": lamp.one_resistor, "matched": lamp.matched, "links": links,
            "behaviour": lamp.behaviour, "backwards": lamp.backwards, "has_lead": lamp.lead is not None, **legs,
        }  # fmt: skip
        dice = self.dice(lamp.kind)
        if lamp.dice:
            by_colour = {die.colour: die for die in dice}
            for number, (colour, die) in enumerate(lamp.dice.items()):
                common |= _legs_of_die(lamp, legs, number)
                own = self._resistor(die.resistor, lamp.place)
                yield LampPart(
                    name=f"{name} {colour}", path=(*path, "dice", colour), circuit=die.circuit,
                    dice=(by_colour[colour],) * lamp.series, resistor=own,
                    resistor_path=(*path, "dice", colour, "resistor"), wanted=die.wanted, shares_back=name,
                    **(common | _wires_each(lamp, own, legs)),
                )  # fmt: skip
        else:
            own = self._resistor(lamp.resistor, lamp.place)
            yield LampPart(
                name=name, path=path, circuit=lamp.circuit or "", dice=(dice * lamp.series)[: lamp.series * len(dice)],
                resistor=own, resistor_path=(*path, "resistor"), wanted=lamp.wanted,
                **(common | _wires_each(lamp, own, legs)),
            )  # fmt: skip

    def _strip(self, index: int, strip: Strip) -> StripPart:
        own = self.build.strip_kind.get(strip.kind)
        name = self.strip_names[index]
        chains: tuple[tuple[tuple[DieData, ...], float], ...]
        if own is not None:
            volts, segment = own.volts, own.segment
            chains = ((self.dice(own.kind)[:1] * own.series, own.ohms),) * own.strings
            source = own.source or "described in the file"
        else:
            row = catalogue.strip(strip.kind)
            volts, segment, source = row.volts, row.segment_length, row.source
            chains = tuple(
                ((die_data(chain.die, row.source),) * chain.series, chain.ohms) for chain in row.chains
            )
        length = strip.length if strip.length is not None else (strip.segments or 1) * segment
        segments = strip.segments if strip.segments is not None else max(1, whole_segments(length, segment))
        if strip.trace is None:
            self.unknown.append((name, "the voltage along the strip", STRIP_TRACE, False))
        return StripPart(
            name=name, path=("strip", index), circuit=strip.circuit, place=strip.place, far_end=strip.far_end,
            kind=strip.kind, volts=volts, segment=segment, length=length, segments=segments, chains=chains, trace=strip.trace, through=strip.through, source=source,
            **self._legs(name, strip.lead, strip.place),
        )  # fmt: skip


def _legs_of_die(lamp: Lamp, legs: Mapping[str, LegPart], number: int) -> dict[str, LegPart]:
    """The legs of one colour of a lamp: each has a feed of its own, and the last colour of the lead is what they share.

    Where the lead has another number of colours, which feed has which is not said.
    """
    assert lamp.dice is not None
    said = (lamp.lead.colours if lamp.lead is not None else None) or ()
    if len(lamp.dice) == 1:
        return {}
    each = len(said) == len(lamp.dice) + 1
    own = lamp.lead or Lead()
    feed, back = own.feed or Leg(), own.back or Leg()
    return {
        "feed": legs["feed"]._replace(colour=said[number] if each else feed.colour),
        "back": legs["back"]._replace(colour=back.colour or (said[-1] if len(said) > 1 else None)),
    }


def _wires_each(lamp: Lamp, resistor: ResistorPart | None, legs: dict[str, LegPart]) -> dict[str, int]:
    """How many wires a lead has on the side where each of several strings has its resistor at the joint."""
    if lamp.lead is None or resistor is None or lamp.parallel == 1 or lamp.one_resistor:
        return {}
    with_lamp = resistor.place in (lamp.place, *(lamp.places or ()))
    if with_lamp or resistor.place != legs[resistor.side].to:
        return {}
    return {f"{resistor.side}s": lamp.parallel}


def wire_data(build: Build, name: str) -> WireData:
    """A wire of the file or the catalogue."""
    own = build.wire.get(name)
    if own is not None:
        return _described_wire(name, own)
    row = catalogue.wire(name)
    return WireData(
        row.name, row.solid, row.strands, row.strand_diameter, row.conductor_area, row.max_diameter,
        row.ohms_per_metre, row.ohms_per_metre_most, row.insulation_celsius, row.insulation_volts,
        row.enamelled, row.source,
    )  # fmt: skip


def _described_wire(name: str, own: WireKind) -> WireData:
    area = copper.strand_area(own.strands, own.strand)
    ohms = own.ohms_per_metre
    if ohms is None:
        ohms = copper.ohms_per_metre(area, stranded=own.strands > 1)
    return WireData(
        name, own.strands == 1, own.strands, own.strand, area, own.outside, ohms, ohms, own.stands, own.volts,
        own.enamelled, own.source or "described in the file",
    )  # fmt: skip


# Where a lamp described in the file says nothing of it: usual temperature coefficient (AlInGaP about -2,
# InGaN -2 to -4 mV/K, from memory) and junction-to-air resistance of a small part (0805, 500 K/W; data sheet).
_USUAL_VOLTS_PER_KELVIN = -0.002
_USUAL_KELVIN_PER_WATT = 500.0


def _described_die(own: LampKind) -> DieData:
    source = own.source or "described in the file"
    if own.kind == "filament":
        volts = own.volts or 0.0
        return DieData(
            "filament", "", (volts,) * 3, own.rated, volts, own.rated, own.rated, None, None, None, None, 0.0, 0.0,
            1e3, 0.0, volts, 10.0, source,
        )  # fmt: skip
    least, _, most = own.forward or (0.0, 0.0, 0.0)
    (low, low_at), (typical, at) = curve_points(own)
    return DieData(
        "led", own.colour or "", (least, typical, most), at, low, low_at, own.rated, own.pulse, own.pulse_width,
        own.pulse_share, own.reverse, own.per_kelvin if own.per_kelvin is not None else _USUAL_VOLTS_PER_KELVIN,
        _USUAL_KELVIN_PER_WATT, 1e3, 0.0, source=source,
    )  # fmt: skip


def die_data(die: catalogue.Die, source: str) -> DieData:
    """A die as the catalogue has it."""
    return DieData(
        "led", die.colour, (die.forward_least, die.forward_typical, die.forward_most), die.at_current,
        die.low_forward, die.low_current, die.rated_current, die.pulse_current, die.pulse_width, die.pulse_duty,
        die.reverse_volts, die.volts_per_kelvin, die.kelvin_per_watt, die.derate_above, die.derate_per_kelvin,
        source=source,
    )  # fmt: skip


def usual_resistor(usual: UsualResistor | None) -> tuple[float | None, float]:
    """Power (W, None: not said) and tolerance of a resistor of which no more is said, by `[usual]`."""
    if usual is None:
        return None, USUAL_RESISTOR_TOLERANCE
    power = usual.power
    if power is None and usual.size is not None:
        power = catalogue.resistor_size(usual.size).power
    return power, usual.tolerance if usual.tolerance is not None else USUAL_RESISTOR_TOLERANCE
