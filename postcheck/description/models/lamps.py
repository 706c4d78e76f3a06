"""Lamps, strips and whatever else takes current."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import Current, Length, OhmsPerMetre, Positive, Voltage, one_line
from postcheck.description.frozen import FrozenDict, Several
from postcheck.description.models.base import Name, Table
from postcheck.description.models.leads import Lead, ResistorSpec

# The whole form of what is refused most often, shown wherever it is.
DICE_EXAMPLE = {
    "red": {"circuit": "red", "resistor": "470 ohm"},
    "green": {"circuit": "green", "resistor": "330 ohm"},
}

MOST_SEGMENTS = 1000
"""Of one strip: 25 m of the finest there is."""


class Die(Table):
    """One colour of a lamp with several."""

    circuit: Name = Field(description="The circuit that feeds this colour.", examples=["red"])
    resistor: Annotated[ResistorSpec | None, one_line(oneline.resistor)] = Field(
        default=None, description="Its resistor.", examples=["470 ohm"]
    )
    wanted: Current | None = Field(
        default=None, description="The current it is meant to have.", examples=["5 mA"]
    )


class Lamp(Table):
    """A lamp, or several alike."""

    name: Name | None = Field(
        default=None,
        description="Its name; made from circuit and place if not given.",
        examples=["nose lamp"],
    )
    circuit: Name | None = Field(default=None, description="The circuit it hangs on.", examples=["running"])
    kind: str = Field(
        max_length=120,
        description="From the catalogue, or a lamp_kind of this file.",
        examples=["smd-0603-warm-white"],
    )
    place: Name = Field(description="Where it sits.", examples=["nose"])
    series: Annotated[int, Field(ge=1, le=200)] = Field(
        default=1, description="Lamps one after the other in a string.", examples=[3]
    )
    parallel: Annotated[int, Field(ge=1, le=1000)] = Field(
        default=1, description="Strings side by side.", examples=[2]
    )
    one_resistor: bool = Field(default=False, description="The strings share a single resistor.")
    strings_share: Literal["nothing", "return", "lead"] | None = Field(
        default=None,
        description="What the leads of several strings share: nothing (each brings both legs), the return, or the whole lead.",
        examples=["return"],
    )
    matched: bool = Field(default=False, description="Parallel lamps come from one forward-voltage bin.")
    places: Several[Name] | None = Field(
        default=None,
        min_length=1,
        max_length=200,
        description="Where each lamp of a chain sits.",
        examples=[["keel", "bow", "bow"]],
    )
    links: Several[Annotated[Lead, one_line(oneline.lead)]] | None = Field(
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
    dice: FrozenDict[str, Die] | None = Field(
        default=None,
        description="For a lamp of several colours: each colour's circuit and resistor.",
        examples=[DICE_EXAMPLE],
    )
    wanted: Current | None = Field(
        default=None, description="The current it is meant to have: dim on purpose.", examples=["3 mA"]
    )
    behaviour: Literal["steady", "flash", "dim"] | None = Field(
        default=None, description="What its light should do, where that is not its circuit's behaviour."
    )
    backwards: bool = Field(
        default=False, description="Wired the wrong way round, on purpose or for a what-if."
    )


class Strip(Table):
    """A cut length of LED strip."""

    name: Name | None = Field(default=None, description="Its name.", examples=["cabin strip"])
    circuit: Name = Field(description="The circuit it hangs on.", examples=["cabin"])
    kind: str = Field(
        max_length=120,
        description="From the catalogue, or a strip_kind of this file.",
        examples=["strip-12v-warm-white-60"],
    )
    place: Name = Field(description="Where it sits.", examples=["hull"])
    length: Annotated[Length, Positive] | None = Field(
        default=None, description="Its cut length.", examples=["150 mm"]
    )
    segments: Annotated[int, Field(ge=1, le=MOST_SEGMENTS)] | None = Field(
        default=None, description="How many whole segments.", examples=[3]
    )
    trace: OhmsPerMetre | None = Field(
        default=None, description="Measured resistance of one trace.", examples=["0.5 ohm/m"]
    )
    far_end: Name | None = Field(
        default=None, description="The place that is fed from its far end.", examples=["bow"]
    )
    through: Annotated[Current, Positive] | None = Field(
        default=None, description="Most current its traces stand.", examples=["2 A"]
    )
    lead: Annotated[Lead | None, one_line(oneline.lead)] = Field(
        default=None, description="Its lead.", examples=["220 mm to hull, red/black"]
    )


class Load(Table):
    """Anything else that takes current."""

    name: Name = Field(description="Its name.", examples=["screw"])
    kind: Literal["motor", "sound", "inverter", "pixels", "other"] = Field(
        default="other", description="What it is."
    )
    circuit: Name = Field(description="The circuit it hangs on.", examples=["motor"])
    place: Name = Field(description="Where it sits.", examples=["hull"])
    least: Current | None = Field(default=None, description="Least current.", examples=["40 mA"])
    typical: Current = Field(description="Typical current.", examples=["60 mA"])
    most: Current | None = Field(default=None, description="Most current.", examples=["120 mA"])
    starting: Current | None = Field(default=None, description="Current at the start.", examples=["200 mA"])
    lowest: Voltage | None = Field(default=None, description="Lowest voltage it works at.", examples=["6 V"])
    highest: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Highest voltage it stands.", examples=["15 V"]
    )
    reverse: Voltage | None = Field(default=None, description="Reverse voltage it stands.", examples=["12 V"])
    open_volts: Voltage | None = Field(
        default=None, description="Voltage a booster or inverter puts out.", examples=["18 V"]
    )
    lead: Annotated[Lead | None, one_line(oneline.lead)] = Field(
        default=None, description="Its lead.", examples=["150 mm to hull, red/black"]
    )
