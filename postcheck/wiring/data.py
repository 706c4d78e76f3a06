"""The data of wires and dice, wherever they are described: in the file or in the catalogue.

Names were checked when the build was read, so a lookup that fails here is our own fault.
"""

from typing import NamedTuple

from postcheck import catalogue
from postcheck.description.curves import curve_points, usual_forward
from postcheck.description.models import Build, LampKind, WireKind
from postcheck.physics import copper
from postcheck.physics.network import diode_through, forward_voltage


class WireData(NamedTuple):
    """A wire, wherever it was described. Lengths in m, ohm per m at 20 degC, temperature in degC; `lay` m, None where nobody states it."""

    name: str
    solid: bool
    strands: int
    strand_diameter: float
    conductor_area: float
    max_diameter: float
    ohms_per_metre: float
    ohms_per_metre_most: float
    insulation_celsius: float
    short_celsius: float
    insulation_volts: float | None
    enamelled: bool
    source: str
    lay: float | None = None


class DieData(NamedTuple):
    """One die or filament. The curve goes through (low_current, low_forward) and (at_current, forward).

    `volts`: of an LED with its resistor inside what it is made for, V, `inside`: that resistor, ohm, within a share of
    `inside_spread`, and `usual` what it takes on its volts, A; its curve is that of the die alone, its heat (`kelvin_per_watt`) that of both.
    `flashes`: Hz, of one with a chip that flashes it, which `works` between these volts across it.
    `rated_spread`: share of `rated` that a filament may take less or more.
    `glass`: what that of a filament lamp gets to in free air of 25 degC at its rated volts, degC; None where nobody says.
    """

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
    glass: float | None = None
    volts: float | None = None
    inside: float = 0.0
    inside_spread: float = 0.0
    usual: float | None = None
    flashes: float | None = None
    works: tuple[float, float] | None = None
    rated_spread: float = 0.0

    @property
    def made_for(self) -> float | None:
        """The volts that it is put on as it is: a filament's, or those of an LED with its resistor inside; None of a bare LED."""
        return self.filament_volts if self.filament_volts is not None else self.volts

    @property
    def takes(self) -> float:
        """The volts that it takes lit as it should be, with the resistor inside it."""
        return self.volts if self.volts is not None else self.forward[1]


def wire_data(build: Build, name: str) -> WireData:
    """A wire of the file or the catalogue."""
    own = build.wire.get(name)
    if own is not None:
        return _described_wire(name, own)
    row = catalogue.wire(name)
    return WireData(
        row.name, row.solid, row.strands, row.strand_diameter, row.conductor_area, row.max_diameter,
        row.ohms_per_metre, row.ohms_per_metre_most, row.insulation_celsius, row.short_celsius,
        row.insulation_volts, row.enamelled, row.source,
    )  # fmt: skip


def _described_wire(name: str, own: WireKind) -> WireData:
    area = copper.strand_area(own.strands, own.strand)
    ohms = own.ohms_per_metre
    if ohms is None:
        ohms = copper.ohms_per_metre(area, stranded=own.strands > 1)
    return WireData(
        name, own.strands == 1, own.strands, own.strand, area, own.outside, ohms, ohms, own.stands,
        own.stands_briefly or own.stands, own.volts, own.enamelled, own.source or "described in the file", own.lay,
    )  # fmt: skip


# For a lamp that the file describes without them: the usual temperature coefficient (red -1.2 to -2.4,
# white -2 to -4 mV/K, Lumileds SunPlus 2835) and junction-to-air resistance of a small part (0805, 500 K/W; data sheet).
_USUAL_VOLTS_PER_KELVIN = -0.002
_USUAL_KELVIN_PER_WATT = 500.0
# Of a filament that the file describes: it takes ten times its current cold.
_USUAL_COLD_RATIO = 10.0
# Of a resistor inside an LED that the file describes: a chip of 5 %, and what makers leave themselves (judgement).
_INSIDE_SPREAD = 0.1
# How far above its volts an LED with its resistor inside may be put for good where the file does not say: lamps for 12 V
# withstand 15 V, those for 5 V 7.5 V (data sheets, from memory).
_VOLTS_MORE = 0.25


def described_die(own: LampKind) -> DieData:
    """A lamp that the file describes."""
    source = own.source or "described in the file"
    if own.kind == "filament":
        return _filament(own.volts or 0.0, own.rated or 0.0, _USUAL_COLD_RATIO, source)
    least, _, most = own.forward or usual_forward(own.colour)
    (low, low_at), (typical, at) = curve_points(own)
    inside = 0.0 if own.volts is None else (own.volts - typical) / at
    rated = own.rated
    if rated is None:
        rated = at + _VOLTS_MORE * (own.volts or 0.0) / inside if inside else at
    return DieData(
        "led", own.colour or "", (least, typical, most), at, low, low_at, rated, own.pulse, own.pulse_width,
        own.pulse_share, own.reverse, own.per_kelvin if own.per_kelvin is not None else _USUAL_VOLTS_PER_KELVIN,
        _USUAL_KELVIN_PER_WATT, 1e3, 0.0, source=source, volts=own.volts, inside=inside,
        inside_spread=_INSIDE_SPREAD if inside else 0.0, usual=at if inside else None,
        flashes=own.flashes, works=own.works,
    )  # fmt: skip


def die_data(die: catalogue.Die, source: str) -> DieData:
    """A die as the catalogue has it."""
    return DieData(
        "led", die.colour, (die.forward_least, die.forward_typical, die.forward_most), die.at_current,
        die.low_forward, die.low_current, die.rated_current, die.pulse_current, die.pulse_width, die.pulse_duty,
        die.reverse_volts, die.volts_per_kelvin, die.kelvin_per_watt, die.derate_above, die.derate_per_kelvin,
        source=source,
    )  # fmt: skip


def _filament(
    volts: float, amps: float, cold_ratio: float, source: str, glass: float | None = None
) -> DieData:
    """A filament: it has no junction, no pulse rating and no wrong way round."""
    return DieData(
        "filament", colour="", forward=(volts,) * 3, at_current=amps, low_forward=volts, low_current=amps, rated=amps,
        pulse=None, pulse_width=None, pulse_share=None, reverse=None, volts_per_kelvin=0.0, kelvin_per_watt=0.0,
        derate_above=1e3, derate_per_kelvin=0.0, filament_volts=volts, cold_ratio=cold_ratio, source=source, glass=glass,
    )  # fmt: skip


def lamp_dice(row: catalogue.LedLamp | catalogue.FilamentLamp) -> tuple[DieData, ...]:
    """The dice of a lamp of the catalogue, each with the resistor that is inside; or its filament."""
    if isinstance(row, catalogue.FilamentLamp):
        return (_filament(row.rated_volts, row.rated_current, row.cold_ratio, row.source, row.celsius),)
    dice = [die_data(die, row.source)._replace(flashes=row.flashes, works=row.works) for die in row.dice]
    return tuple(die if row.inside is None else _with_resistor(die, row.inside) for die in dice)


def _with_resistor(die: DieData, inside: catalogue.Inside) -> DieData:
    """A die with the resistor inside that gives it its current: R = (V - Vf(I)) / I; rated for what it takes on the most volts."""
    curve = diode_through(die.low_forward, die.low_current, die.forward[1], die.at_current)
    ohms = (inside.volts - forward_voltage(curve, inside.current)) / inside.current
    # of the volts above that, the die takes less and less as it warms
    more = inside.most_volts - inside.volts
    watts = inside.most_volts * inside.current * inside.most_volts / inside.volts
    return die._replace(
        volts=inside.volts,
        inside=ohms,
        inside_spread=inside.tolerance,
        usual=inside.current,
        rated=inside.current + (more - die.volts_per_kelvin * die.kelvin_per_watt * watts) / ohms,
        derate_per_kelvin=inside.derate / ohms,
    )
