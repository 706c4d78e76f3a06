"""Where the power comes from."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import (
    BelowWhole,
    Charge,
    Current,
    Positive,
    Resistance,
    Share,
    Time,
    Voltage,
    one_line,
)
from postcheck.description.models.base import Count, Name, Table


class FuseSpec(Table):
    """A fuse in the supply's positive lead."""

    rated: Annotated[Current, Positive] = Field(description="Rated current of the fuse.", examples=["500 mA"])
    kind: Literal["quick", "slow", "UL", "resettable"] = Field(
        default="quick",
        description='How fast it opens: "quick" (F) and "slow" (T) by IEC 60127, or "UL" by UL 248-14.',
    )
    body: Literal["glass", "ceramic"] | None = Field(
        default=None,
        description="What its body is of: glass breaks 35 A, ceramic 1500 A; slow ones of ceramic open later.",
        examples=["ceramic"],
    )
    trips_at: Annotated[Current, Positive] | None = Field(
        default=None,
        description="Of a resettable one, by its maker: the current at which it trips...",
        examples=["2.5 A"],
    )
    trips_in: Annotated[Time, Positive] | None = Field(
        default=None, description="... within this time.", examples=["4 s"]
    )
    place: Name | None = Field(
        default=None,
        description="Where it sits, and guards what lies behind; at the supply if not said.",
        examples=["base"],
    )

    @property
    def trips(self) -> tuple[float, float] | None:
        """Current (A) and time (s) at which a resettable one trips, by its maker."""
        return None if self.trips_at is None or self.trips_in is None else (self.trips_at, self.trips_in)


class Supply(Table):
    """Where the power comes from."""

    kind: Literal["adaptor", "battery", "usb", "converter"] = Field(description="What it is.")
    place: Name = Field(description="Where it sits.", examples=["base"])
    volts: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Rated output voltage.", examples=["12 V"]
    )
    tolerance: Annotated[Share, BelowWhole] | None = Field(
        default=None, description="Output tolerance, each way.", examples=["5 %"]
    )
    rated: Annotated[Current, Positive] | None = Field(
        default=None, description="Rated output current.", examples=["1 A"]
    )
    fuse: Annotated[FuseSpec | None, one_line(oneline.fuse)] = Field(
        default=None, description="The fuse at the supply.", examples=["500 mA", "500 mA slow"]
    )
    regulation: Share | None = Field(
        default=None,
        description="Stated fall of voltage from no load to rated load; where none is stated, give `unloaded`.",
        examples=["5 %"],
    )
    unloaded: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Adaptor voltage with nothing connected.", examples=["17 V"]
    )
    current_limit: Annotated[Current, Positive] | None = Field(
        default=None, description="The current at which the supply itself gives up.", examples=["1.3 A"]
    )
    socket: str | None = Field(
        default=None, max_length=60, description="The socket it plugs into.", examples=["barrel 5.5/2.1"]
    )
    shares_negative_with: Name | None = Field(
        default=None, description="A supply whose negative pole is joined to this one's.", examples=["main"]
    )
    # batteries
    chemistry: str | None = Field(default=None, description="Cell chemistry.", examples=["alkaline", "lipo"])
    size: str | None = Field(default=None, description="Size of a cell or block.", examples=["aa"])
    cells: Count | None = Field(
        default=None, description="Cells in series; a 9 V block has six.", examples=[3]
    )
    capacity: Annotated[Charge, Positive] | None = Field(
        default=None, description="Capacity of one cell.", examples=["2000 mAh"]
    )
    protected: bool | None = Field(default=None, description="The cell or pack has a protection board.")
    resistance: Resistance | None = Field(
        default=None, description="Internal resistance of the whole supply.", examples=["0.3 ohm"]
    )
    cut_off: Voltage | None = Field(
        default=None, description="Voltage at which the pack is taken as empty.", examples=["3 V"]
    )
    runs_for: Time | None = Field(
        default=None, description="How long it has to last on one charge.", examples=["8 h"]
    )
    # usb
    port: Literal["plain", "type-c", "power-bank"] | None = Field(
        default=None, description="Kind of USB source."
    )
    cc_resistors: bool | None = Field(
        default=None, description="The type C lead or socket has the resistors that make a source deliver."
    )
    switches_off_below: Current | None = Field(
        default=None, description="A power bank switches off below this load.", examples=["60 mA"]
    )
    # converters
    fed_by: Name | None = Field(
        default=None, alias="from", description="The supply a converter is fed by.", examples=["main"]
    )
    efficiency: Annotated[Share, Positive] | None = Field(
        default=None, description="Converter efficiency.", examples=["85 %"]
    )
    least_input: Voltage | None = Field(
        default=None, description="Least input voltage of a converter.", examples=["7 V"]
    )
    idle: Current | None = Field(
        default=None, description="What the converter takes with no load.", examples=["5 mA"]
    )
    reverse: Voltage | None = Field(
        default=None, description="Reverse voltage a converter's input stands.", examples=["12 V"]
    )
    isolated: bool = Field(
        default=False, description="A converter whose output does not share the negative pole."
    )
