"""Parts of a builder's own, and what is on the shelf."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from postcheck.build.fields import (
    Current,
    Length,
    OhmsPerMetre,
    Positive,
    Resistance,
    Share,
    SignedCelsius,
    SignedVoltage,
    Spread,
    Thin,
    Time,
    Voltage,
)
from postcheck.build.models.base import Count, Table

__all__ = ["LampKind", "Stock", "StripKind", "WireKind"]


class WireKind(Table):
    """A wire that the catalogue does not have."""

    strands: Count = Field(default=1, description="Strands; 1 is solid.")
    strand: Annotated[Length, Positive, Thin] = Field(
        description="Diameter of a strand.", examples=["0.1 mm"]
    )
    outside: Annotated[Length, Positive, Thin] = Field(
        description="Greatest outside diameter.", examples=["0.6 mm"]
    )
    ohms_per_metre: Annotated[OhmsPerMetre, Positive] | None = Field(
        default=None, description="Resistance; worked out for copper if not said."
    )
    enamelled: bool = Field(default=False, description="Enamelled winding wire.")
    stands: SignedCelsius = Field(default=80.0, description="Temperature its insulation stands.")
    volts: Voltage | None = Field(default=None, description="Voltage its insulation stands.")
    source: str | None = Field(default=None, max_length=300, description="Where the figures come from.")


class LampKind(Table):
    """An LED or filament lamp that the catalogue does not have."""

    kind: Literal["led", "filament"] = Field(default="led", description="What it is.")
    colour: str | None = Field(default=None, description="Its colour.")
    forward: Annotated[Spread, Positive] | None = Field(
        default=None, description="Forward voltage: least/typical/most.", examples=["2.9/3.2/3.6 V"]
    )
    at: Annotated[Current, Positive] | None = Field(
        default=None, description="The current that the forward voltage belongs to."
    )
    low_forward: Annotated[Voltage, Positive] | None = Field(
        default=None, description="A second point of the curve: voltage ..."
    )
    low_at: Annotated[Current, Positive] | None = Field(
        default=None, description="... at this lower current."
    )
    rated: Annotated[Current, Positive] = Field(description="Rated continuous current.")
    pulse: Annotated[Current, Positive] | None = Field(default=None, description="Rated pulse current.")
    pulse_width: Annotated[Time, Positive] | None = Field(
        default=None, description="Longest pulse that rating holds for."
    )
    pulse_share: Annotated[Share, Positive] | None = Field(
        default=None, description="Largest on share that rating holds for."
    )
    reverse: Voltage | None = Field(default=None, description="Reverse voltage it stands.")
    per_kelvin: SignedVoltage | None = Field(
        default=None, description="Change of forward voltage per kelvin.", examples=["-2 mV"]
    )
    volts: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Rated voltage of a filament lamp."
    )
    source: str | None = Field(default=None, max_length=300, description="Where the figures come from.")


class StripKind(Table):
    """A strip that the catalogue does not have."""

    volts: Annotated[Voltage, Positive] = Field(description="Rated voltage.")
    segment: Annotated[Length, Positive] = Field(
        description="Length of a segment, mark to mark.", examples=["50 mm"]
    )
    series: Annotated[int, Field(ge=1, le=100)] = Field(
        description="LEDs in series in one segment.", examples=[3]
    )
    ohms: Resistance = Field(description="The resistor of one segment.")
    kind: str = Field(max_length=120, description="The LED on it, from the catalogue or this file.")
    strings: Annotated[int, Field(ge=1, le=50)] = Field(
        default=1, description="Strings side by side in one segment."
    )
    source: str | None = Field(default=None, max_length=300, description="Where the figures come from.")


class Stock(Table):
    """What is on the builder's shelf: remedies are chosen from it."""

    series: Literal["E12", "E24", "E96"] = Field(default="E12", description="Resistor series kept.")
    wires: list[str] | None = Field(
        default=None, max_length=200, description="Wires kept; not chosen from yet."
    )
