"""Parts of a builder's own, and what is in stock."""

from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from postcheck.description import oneline
from postcheck.description.fields import (
    Current,
    Length,
    OhmsPerMetre,
    Positive,
    Power,
    Rate,
    Resistance,
    Share,
    SignedCelsius,
    SignedVoltage,
    Spread,
    Thin,
    Time,
    Voltage,
    VoltageRange,
    one_line,
    refuse,
)
from postcheck.description.frozen import Several
from postcheck.description.models.base import Count, Table, optional, several
from postcheck.description.models.leads import ResistorSpec
from postcheck.description.models.supplies import FuseSpec
from postcheck.description.problems import QuantityError


class WireKind(Table):
    """A wire that the catalogue does not have."""

    strands: Count = Field(default=1, description="Strands; 1 is solid.", examples=[7])
    strand: Annotated[Length, Positive, Thin] = Field(
        description="Diameter of a strand.", examples=["0.1 mm"]
    )
    lay: Annotated[Length, Positive] | None = Field(
        default=None,
        description="Length in which a strand goes round once; 20 times the conductor if not said.",
        examples=["25 mm"],
    )
    outside: Annotated[Length, Positive, Thin] = Field(
        description="Greatest outside diameter.", examples=["0.6 mm"]
    )
    ohms_per_metre: Annotated[OhmsPerMetre, Positive] | None = optional(
        "Resistance; worked out for copper if not said.", "0.34 ohm/m"
    )
    enamelled: bool = Field(default=False, description="Enamelled winding wire.")
    stands: SignedCelsius = Field(
        default=80.0, description="Temperature its insulation is rated for.", examples=["105 degC"]
    )
    stands_briefly: SignedCelsius | None = optional(
        "Temperature it withstands for the 5 s at most of a short; the same if not said.", "160 degC"
    )
    volts: Voltage | None = optional("Voltage its insulation is rated for.", "300 V")
    source: str | None = optional(
        "Where the figures come from.", "data sheet of the maker, 2025", max_length=300
    )


class LampKind(Table):
    """An LED or filament lamp that the catalogue does not have."""

    kind: Literal["led", "filament"] = Field(default="led", description="What it is.")
    colour: str | None = optional("Its colour.", "warm white")
    forward: Annotated[Spread, Positive] | None = optional(
        "Forward voltage: least/typical/most; with a resistor inside that of the die alone, usual for its colour if not said.",
        "2.9/3.2/3.6 V",
    )
    at: Annotated[Current, Positive] | None = optional(
        "The current that the forward voltage belongs to; with `volts` what it takes on these.", "20 mA"
    )
    low_forward: Annotated[Voltage, Positive] | None = optional(
        "A second point of the curve: voltage ...", "2.7 V"
    )
    low_at: Annotated[Current, Positive] | None = optional("... at this lower current.", "2 mA")
    rated: Annotated[Current, Positive] | None = optional(
        "Rated continuous current; of an LED with its resistor inside what it takes on a quarter more than its volts, if not said.",
        "20 mA",
    )
    pulse: Annotated[Current, Positive] | None = optional("Rated pulse current.", "100 mA")
    pulse_width: Annotated[Time, Positive] | None = optional("Longest pulse that rating holds for.", "10 ms")
    pulse_share: Annotated[Share, Positive] | None = optional(
        "Largest on share that rating holds for.", "10 %"
    )
    reverse: Voltage | None = optional("Reverse voltage it withstands.", "5 V")
    per_kelvin: SignedVoltage | None = optional("Change of forward voltage per kelvin.", "-2 mV")
    volts: Annotated[Voltage, Positive] | None = optional(
        "Rated voltage of a filament lamp, or of an LED with its resistor inside.", "12 V"
    )
    flashes: Annotated[Rate, Positive] | None = optional(
        "How often it flashes by itself, by a chip inside, while its circuit stays on. Heat and charge are counted as if it were always lit.",
        "2 /s",
    )
    works: VoltageRange | None = optional(
        "Between which volts across it the chip inside flashes; with more it may be destroyed.", "3.5..14 V"
    )
    source: str | None = optional("Where the figures come from.", "measured on the bench", max_length=300)


class StripKind(Table):
    """A strip that the catalogue does not have."""

    volts: Annotated[Voltage, Positive] = Field(description="Rated voltage.", examples=["12 V"])
    segment: Annotated[Length, Positive] = Field(
        description="Length of a segment, mark to mark.", examples=["50 mm"]
    )
    series: Annotated[int, Field(ge=1, le=100)] = Field(
        description="LEDs in series in one segment.", examples=[3]
    )
    ohms: Resistance = Field(description="The resistor of one segment.", examples=["150 ohm"])
    kind: str = Field(
        max_length=120,
        description="The LED on it, from the catalogue or this file.",
        examples=["smd-0603-warm-white"],
    )
    strings: Annotated[int, Field(ge=1, le=50)] = Field(
        default=1, description="Strings side by side in one segment.", examples=[1]
    )
    source: str | None = optional("Where the figures come from.", "measured on the bench", max_length=300)


class Held(Table):
    """Something on the shelf: one thing, and how many or how much of it."""

    count: Annotated[int, Field(ge=1, le=1_000_000)] | None = optional("How many of them.", 10)
    length: Annotated[Length, Positive] | None = optional("How much, of a wire or strip.", "5 m")
    resistor: Annotated[ResistorSpec | None, one_line(oneline.resistor)] = optional(
        "A resistor.", "680 ohm 1/4 W"
    )
    lamp: str | None = optional("A kind of lamp.", "smd-0603-white", max_length=120)
    fuse: Annotated[FuseSpec | None, one_line(oneline.fuse)] = optional("A fuse.", "500 mA")
    sleeve: Annotated[Length, Positive] | None = optional(
        "Shrink sleeving, by the diameter that it is sold by.", "2.4 mm"
    )
    wire: str | None = optional("A wire.", "ptfe-28")
    strip: str | None = optional("A kind of strip.", "strip-12v-warm-white-60", max_length=120)
    colour: str | None = optional("Its colour, of a wire; any, if not said.", "red", max_length=60)


_COUNTED = ("resistor", "lamp", "fuse", "sleeve")
_MEASURED = ("wire", "strip")


def _one_thing(held: Held) -> Held:
    """What is on the shelf names one thing, counted or measured as that is."""
    named = [key for key in (*_COUNTED, *_MEASURED) if getattr(held, key) is not None]
    hint = 'write it like "10 x resistor 680 ohm 1/4 W" or "5 m of ptfe-28, red"'
    if len(named) != 1:
        says = f"it names {' and '.join(named)} in one" if named else "it names nothing"
        raise refuse(QuantityError("file.bad-form", says, hint))
    missing, other = ("length", "count") if named[0] in _MEASURED else ("count", "length")
    if getattr(held, missing) is None or getattr(held, other) is not None:
        says = f"a {named[0]} on the shelf has a {missing}" + (
            f" and no {other}" if getattr(held, other) is not None else ""
        )
        raise refuse(QuantityError("file.bad-form", says, hint))
    if held.colour is not None and held.wire is None:
        raise refuse(QuantityError("file.bad-form", f"a {named[0]} on the shelf has no colour", hint))
    if held.resistor is not None and (held.resistor.plus or held.resistor.set is not None):
        raise refuse(
            QuantityError("file.bad-form", "resistors on the shelf are not in series, nor set", hint)
        )
    if (held.resistor or held.fuse) and getattr(held.resistor or held.fuse, "place", None) is not None:
        raise refuse(QuantityError("file.bad-form", "what is on the shelf sits at no place", hint))
    return held


class Stock(Table):
    """What is on your shelf: remedies and plans are chosen from it."""

    series: Literal["E12", "E24", "E96"] = Field(default="E12", description="Resistor series kept.")
    wires: Several[str] | None = optional(
        "Wires kept for runs, the most usual first.", ["ptfe-28", "ptfe-30"], min_length=1, max_length=200
    )
    leads: Several[str] | None = optional(
        "Wires kept for leads, the most usual first.",
        ["enamel-0.10", "ptfe-30"],
        min_length=1,
        max_length=200,
    )
    powers: Several[Annotated[Power, Positive]] | None = optional(
        "Powers of the resistors kept.", ["1/8 W", "1/4 W", "1/2 W"], min_length=1, max_length=50
    )
    fuses: Several[Annotated[FuseSpec, one_line(oneline.fuse)]] | None = optional(
        "Fuses kept.", ["250 mA", "500 mA", "1 A slow"], min_length=1, max_length=100
    )
    colours: Several[Annotated[str, Field(max_length=60)]] | None = optional(
        "Colours of wire kept.", ["red", "black", "white", "blue"], min_length=1, max_length=50
    )
    have: Several[Annotated[Held, one_line(oneline.held), AfterValidator(_one_thing)]] = several(
        "What is there already, and how much: the list of what to buy leaves it out.",
        ["10 x resistor 680 ohm 1/4 W", "20 x smd-0603-white", "5 m of ptfe-28, red"],
        most=5_000,
    )
    spares: Annotated[int, Field(ge=0, le=50)] = Field(
        default=0, description="Spare conductors wanted in each passage that is planned.", examples=[1]
    )
