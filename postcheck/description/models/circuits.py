"""What switches the lamps."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import Current, Positive, Rate, Share, Voltage, one_line
from postcheck.description.models.base import Name, Table


class Output(Table):
    """A switched output: what it drops, what it stands."""

    limit: Annotated[Current, Positive] | None = Field(
        default=None, description="Most current it stands.", examples=["100 mA"]
    )
    drop: Voltage = Field(default=0.0, description="What it loses when on.", examples=["0.2 V"])
    steady: Annotated[Current, Positive] | None = Field(
        default=None, description="A constant-current output gives this.", examples=["20 mA"]
    )
    compliance: Voltage | None = Field(
        default=None, description="The voltage a constant-current output needs.", examples=["1.5 V"]
    )


class Board(Table):
    """A flasher, dimmer or driver board with several outputs."""

    place: Name = Field(description="Where it sits.", examples=["base"])
    supply: Name = Field(description="The supply it is fed by.", examples=["main"])
    channels: Annotated[int, Field(ge=1, le=512)] | None = Field(
        default=None, description="How many outputs it has.", examples=[8]
    )
    limit: Annotated[Current, Positive] | None = Field(
        default=None, description="Most current of one output.", examples=["100 mA"]
    )
    total: Annotated[Current, Positive] | None = Field(
        default=None, description="Most current of all outputs together.", examples=["500 mA"]
    )
    idle: Current | None = Field(
        default=None, description="What the board takes for itself.", examples=["8 mA"]
    )
    drop: Voltage = Field(default=0.0, description="What an output loses when on.", examples=["0.2 V"])
    steady: Annotated[Current, Positive] | None = Field(
        default=None, description="Constant-current outputs give this.", examples=["20 mA"]
    )
    compliance: Voltage | None = Field(
        default=None, description="The voltage a constant-current output needs.", examples=["1.5 V"]
    )
    least_volts: Voltage | None = Field(
        default=None, description="Least voltage the board works at.", examples=["7 V"]
    )
    most_volts: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Most voltage the board stands.", examples=["15 V"]
    )
    reverse: Voltage | None = Field(
        default=None, description="Reverse voltage the board stands.", examples=["15 V"]
    )


class Circuit(Table):
    """Lamps that are switched together."""

    supply: Name | None = Field(
        default=None, description="The supply; a board's own where it hangs on a board.", examples=["main"]
    )
    behaviour: Literal["steady", "flash", "dim"] = Field(default="steady", description="What its light does.")
    rate: Annotated[Rate, Positive] | None = Field(
        default=None, description="Flashes a minute or second.", examples=["45 /min"]
    )
    on_share: Share | None = Field(
        default=None, description="Share of the time that it is on.", examples=["12 %"]
    )
    frequency: Annotated[Rate, Positive] | None = Field(
        default=None, description="Frequency of the dimming.", examples=["1 kHz"]
    )
    switched: Literal["positive", "negative"] = Field(
        default="positive", description="The side that is switched."
    )
    own_return: bool = Field(
        default=False, description="It keeps its own return, a line named after it with '-return'."
    )
    output: Annotated[Output | None, one_line(oneline.output)] = Field(
        default=None, description="The output that drives it.", examples=["100 mA, 0.2 V drop"]
    )
    board: Name | None = Field(default=None, description="The board that drives it.", examples=["flasher"])
    channel: Annotated[int, Field(ge=1, le=512)] | None = Field(
        default=None, description="Which output of the board.", examples=[1]
    )
