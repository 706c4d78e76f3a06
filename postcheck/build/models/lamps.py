"""Lamps, strips and whatever else takes current."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from postcheck.build import oneline
from postcheck.build.fields import Current, Length, OhmsPerMetre, Positive, Voltage, one_line
from postcheck.build.models.base import Name, Table
from postcheck.build.models.leads import Lead, ResistorSpec

__all__ = ["DICE_EXAMPLE", "MOST_SEGMENTS", "Die", "Lamp", "Load", "Strip"]

# The whole form of what is refused most often, shown wherever it is.
DICE_EXAMPLE = {
    "red": {"circuit": "red", "resistor": "470 ohm"},
    "green": {"circuit": "green", "resistor": "330 ohm"},
}

MOST_SEGMENTS = 1000
"""Of one strip: 25 m of the finest there is."""


class Die(Table):
    """One colour of a lamp with several."""

    circuit: Name = Field(description="The circuit that feeds this colour.")
    resistor: Annotated[ResistorSpec | None, one_line(oneline.resistor)] = Field(
        default=None, description="Its resistor."
    )
    wanted: Current | None = Field(default=None, description="The current it is meant to have.")


class Lamp(Table):
    """A lamp, or several alike."""

    name: Name | None = Field(default=None, description="Its name; made from circuit and place if not given.")
    circuit: Name | None = Field(default=None, description="The circuit it hangs on.")
    kind: str = Field(max_length=120, description="From the catalogue, or a lamp_kind of this file.")
    place: Name = Field(description="Where it sits.")
    series: Annotated[int, Field(ge=1, le=200)] = Field(
        default=1, description="Lamps one after the other in a string."
    )
    parallel: Annotated[int, Field(ge=1, le=1000)] = Field(default=1, description="Strings side by side.")
    one_resistor: bool = Field(default=False, description="The strings share a single resistor.")
    matched: bool = Field(default=False, description="Parallel lamps come from one forward-voltage bin.")
    places: list[Name] | None = Field(
        default=None, min_length=1, max_length=200, description="Where each lamp of a chain sits."
    )
    links: list[Annotated[Lead, one_line(oneline.lead)]] | None = Field(
        default=None,
        max_length=200,
        description="The wires between the lamps of a chain.",
        examples=[["120 mm"]],
    )
    resistor: Annotated[ResistorSpec | None, one_line(oneline.resistor)] = Field(
        default=None, description="The resistor of each string.", examples=["1k5 1/4 W at keel"]
    )
    lead: Annotated[Lead | None, one_line(oneline.lead)] = Field(
        default=None, description="Its lead.", examples=["220 mm to keel, red/black"]
    )
    dice: dict[str, Die] | None = Field(
        default=None,
        description="For a lamp of several colours: each colour's circuit and resistor.",
        examples=[DICE_EXAMPLE],
    )
    wanted: Current | None = Field(
        default=None, description="The current it is meant to have: dim on purpose."
    )
    behaviour: Literal["steady", "flash", "dim"] | None = Field(
        default=None, description="What its light should do, where that is not its circuit's behaviour."
    )
    backwards: bool = Field(
        default=False, description="Wired the wrong way round, on purpose or for a what-if."
    )


class Strip(Table):
    """A cut length of LED strip."""

    name: Name | None = Field(default=None, description="Its name.")
    circuit: Name = Field(description="The circuit it hangs on.")
    kind: str = Field(max_length=120, description="From the catalogue, or a strip_kind of this file.")
    place: Name = Field(description="Where it sits.")
    length: Annotated[Length, Positive] | None = Field(
        default=None, description="Its cut length.", examples=["150 mm"]
    )
    segments: Annotated[int, Field(ge=1, le=MOST_SEGMENTS)] | None = Field(
        default=None, description="How many whole segments."
    )
    trace: OhmsPerMetre | None = Field(
        default=None, description="Measured resistance of one trace.", examples=["0.5 ohm/m"]
    )
    far_end: Name | None = Field(
        default=None, description="The place that is fed from its far end.", examples=["bow"]
    )
    through: Annotated[Current, Positive] | None = Field(
        default=None, description="Most current its traces stand."
    )
    lead: Annotated[Lead | None, one_line(oneline.lead)] = Field(default=None, description="Its lead.")


class Load(Table):
    """Anything else that takes current."""

    name: Name = Field(description="Its name.")
    kind: Literal["motor", "sound", "inverter", "pixels", "other"] = Field(
        default="other", description="What it is."
    )
    circuit: Name = Field(description="The circuit it hangs on.")
    place: Name = Field(description="Where it sits.")
    least: Current | None = Field(default=None, description="Least current.")
    typical: Current = Field(description="Typical current.")
    most: Current | None = Field(default=None, description="Most current.")
    starting: Current | None = Field(default=None, description="Current at the start.")
    lowest: Voltage | None = Field(default=None, description="Lowest voltage it works at.")
    highest: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Highest voltage it stands."
    )
    reverse: Voltage | None = Field(default=None, description="Reverse voltage it stands.")
    open_volts: Voltage | None = Field(default=None, description="Voltage a booster or inverter puts out.")
    lead: Annotated[Lead | None, one_line(oneline.lead)] = Field(default=None, description="Its lead.")
