"""What switches the lamps."""

from typing import Annotated, Literal

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import Current, Positive, Rate, Share, Voltage, one_line
from postcheck.description.frozen import Several
from postcheck.description.models.base import Name, Table, kept, optional
from postcheck.description.models.switches import SwitchSpec


class Output(Table):
    """An output that drives a circuit: what it drops, what it stands, or its constant current."""

    limit: Annotated[Current, Positive] | None = optional("Most current it stands.", "100 mA")
    drop: Voltage = Field(default=0.0, description="What it loses when on.", examples=["0.2 V"])
    steady: Annotated[Current, Positive] | None = optional("A constant-current output gives this.", "20 mA")
    compliance: Voltage | None = optional("The voltage a constant-current output needs.", "1.5 V")


class Board(Table):
    """A flasher, dimmer or driver board with several outputs."""

    place: Name = Field(description="Where it sits.", examples=["base"])
    may_sit: Several[Name] | None = optional(
        "Further places where it may sit: a plan takes the best.", ["hub"], max_length=20
    )
    supply: Name = Field(description="The supply it is fed by.", examples=["main"])
    channels: Annotated[int, Field(ge=1, le=512)] | None = optional("How many outputs it has.", 8)
    limit: Annotated[Current, Positive] | None = optional("Most current of one output.", "100 mA")
    total: Annotated[Current, Positive] | None = optional("Most current of all outputs together.", "500 mA")
    idle: Current | None = optional("What the board takes for itself.", "8 mA")
    drop: Voltage = Field(default=0.0, description="What an output loses when on.", examples=["0.2 V"])
    steady: Annotated[Current, Positive] | None = optional("Constant-current outputs give this.", "20 mA")
    compliance: Voltage | None = optional("The voltage a constant-current output needs.", "1.5 V")
    least_volts: Voltage | None = optional("Least voltage the board works at.", "7 V")
    most_volts: Annotated[Voltage, Positive] | None = optional("Most voltage the board stands.", "15 V")
    reverse: Voltage | None = optional("Reverse voltage the board stands.", "15 V")
    socket: str | None = optional(
        "The socket that its supply plugs into, and the pole at its centre.",
        "5.5/2.1 mm, centre positive",
        max_length=60,
    )


class Circuit(Table):
    """Lamps that are switched together; their switched wire is the line of this name."""

    supply: Name | None = optional("The supply; a board's own where it is connected to a board.", "main")
    behaviour: Literal["steady", "flash", "dim", "fade"] = Field(
        default="steady",
        description="What its light does; `fade`: smoothly up and down, over and over.",
        examples=["fade"],
    )
    rate: Annotated[Rate, Positive] | None = optional(
        "Flashes a minute or second; of a fade how often it goes up and down.", "45 /min"
    )
    in_step_with: Name | None = optional("A circuit that flashes at the same moments.", "beacon")
    on_share: Annotated[Share, Positive] | None = optional(
        "Share of the time that a flasher is on, half if not said, or that dimming leaves it.", "12 %"
    )
    least_share: Share | None = optional(
        "How far down a fade goes, as a share of its full current; to dark if not said.", "10 %"
    )
    frequency: Annotated[Rate, Positive] | None = optional(
        "Frequency of the dimming, and of that a fade is made of.", "1 kHz"
    )
    switched: Literal["positive", "negative"] = Field(
        default="positive", description="The side that is switched."
    )
    on_off: Annotated[SwitchSpec | None, one_line(oneline.switch)] = optional(
        "The switch that turns it on and off by hand.", "1 A at base"
    )
    own_return: bool = Field(
        default=False, description="It keeps its own return, a line named after it with '-return'."
    )
    output: Annotated[Output | None, one_line(oneline.output)] = optional(
        "The output that drives it.", "100 mA, 0.2 V drop"
    )
    board: Name | None = optional("The board that drives it.", "flasher")
    channel: Annotated[int, Field(ge=1, le=512)] | None = optional("Which output of the board.", 1)
    keep: bool = kept()
