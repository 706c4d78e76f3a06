"""The data of wires and dice, wherever they are described: in the file or in the catalogue.

Names were checked when the build was read, so a lookup that fails here is our own fault.
"""

from __future__ import annotations

from typing import NamedTuple

from postcheck import catalogue
from postcheck.description.curves import curve_points
from postcheck.description.models import Build, LampKind, WireKind
from postcheck.physics import copper


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
    short_celsius: float
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
        own.stands_briefly or own.stands, own.volts, own.enamelled, own.source or "described in the file",
    )  # fmt: skip


# Where a lamp described in the file says nothing of it: usual temperature coefficient (red -1.2 to -2.4,
# white -2 to -4 mV/K, Lumileds SunPlus 2835) and junction-to-air resistance of a small part (0805, 500 K/W; data sheet).
_USUAL_VOLTS_PER_KELVIN = -0.002


_USUAL_KELVIN_PER_WATT = 500.0


def described_die(own: LampKind) -> DieData:
    """A lamp that the file describes."""
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
