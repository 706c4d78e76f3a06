"""Lamps, strips and whatever else takes current."""

from typing import Annotated, Literal

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import (
    Area,
    Current,
    CurrentRange,
    Length,
    OhmsPerMetre,
    Positive,
    Voltage,
    one_line,
)
from postcheck.description.frozen import FrozenDict, Several
from postcheck.description.models.base import Name, Table, kept, optional
from postcheck.description.models.leads import Lead, ResistorSpec

# The whole form of what is refused most often, shown wherever it is.
DICE_EXAMPLE = {
    "red": {"circuit": "red", "resistor": "470 ohm"},
    "green": {"circuit": "green", "resistor": "330 ohm"},
}

MOST_SEGMENTS = 1000
"""Of one strip: 25 m of the finest there is."""


class Die(Table):
    """One colour of a lamp that has several: its circuit and its resistor."""

    circuit: Name = Field(description="The circuit that feeds this colour.", examples=["red"])
    resistor: Annotated[ResistorSpec | None, one_line(oneline.resistor)] = optional(
        "Its resistor.", "470 ohm"
    )
    wanted: CurrentRange | None = optional("The current it is meant to have.", "5 mA", "3..8 mA")


class Lamp(Table):
    """A lamp, or several alike."""

    name: Name | None = optional("Its name; made from circuit and place if not given.", "nose lamp")
    circuit: Name | None = optional("The circuit it is connected to.", "running")
    switch: Name | None = optional(
        "Instead of a circuit: what is switched together; lamps of one switch and one behaviour are one circuit.",
        "cabin",
    )
    kind: str = Field(
        max_length=120,
        description="What lamp it is: from the catalogue, or a `lamp_kind` of this file.",
        examples=["smd-0603-warm-white"],
    )
    place: Name = Field(description="Where it sits.", examples=["nose"])
    series: Annotated[int, Field(ge=1, le=200)] = Field(
        default=1, description="Lamps one after the other in a string.", examples=[3]
    )
    parallel: Annotated[int, Field(ge=1, le=1000)] = Field(
        default=1, description="Strings side by side.", examples=[2]
    )
    count: Annotated[int, Field(ge=1, le=1000)] | None = optional(
        "So many lamps alike, where nobody has decided yet how they are joined; beside `series` or `parallel`: so many in all, and the other of the two follows.",
        9,
    )
    leads: Several[Length] | None = optional(
        "How long the lead of each of them is.", ["120 mm", "140 mm"], min_length=1, max_length=1000
    )
    one_resistor: bool = Field(default=False, description="The strings share a single resistor.")
    strings_share: Literal["nothing", "return", "lead"] | None = optional(
        "What the leads of several strings share: nothing (each brings both legs), the return, or the whole lead.",
        "return",
    )
    matched: bool = Field(
        default=False,
        description="Parallel lamps come from one forward-voltage bin, as a shared resistor asks for.",
    )
    places: Several[Name] | None = optional(
        "A chain across places: where each lamp of a string sits.",
        ["keel", "bow", "bow"],
        min_length=1,
        max_length=200,
    )
    links: Several[Annotated[Lead, one_line(oneline.lead)]] | None = optional(
        "The wires between the lamps of a chain, each with its length.", ["120 mm"], max_length=200
    )
    resistor: Annotated[ResistorSpec | None, one_line(oneline.resistor)] = optional(
        "The resistor of each string: with the lamp, or where its lead ends.", "1k5 1/4 W at keel"
    )
    lead: Annotated[Lead | None, one_line(oneline.lead)] = optional("Its lead.", "220 mm to keel, red/black")
    dice: FrozenDict[str, Die] | None = optional(
        "For a lamp of several colours: each colour's circuit and resistor.", DICE_EXAMPLE
    )
    wanted: CurrentRange | None = optional(
        "The current it is meant to have: dim on purpose.", "3 mA", "3..8 mA"
    )
    behaviour: Literal["steady", "flash", "dim", "fade"] | None = optional(
        "What its light should do, where that is not its circuit's behaviour."
    )
    held_off: bool = Field(
        default=False, description="Its glass and its resistor are held off the walls, and touch none."
    )
    backwards: bool = Field(
        default=False, description="Wired the wrong way round, on purpose or for a what-if."
    )
    keep: bool = kept()


class Strip(Table):
    """A cut length of LED strip."""

    name: Name | None = optional("Its name.", "cabin strip")
    circuit: Name | None = optional("The circuit it is connected to.", "cabin")
    switch: Name | None = optional("Instead of a circuit: what is switched together.", "cabin")
    kind: str = Field(
        max_length=120,
        description="What strip it is: from the catalogue, or a `strip_kind` of this file.",
        examples=["strip-12v-warm-white-60"],
    )
    place: Name = Field(description="Where it sits.", examples=["hull"])
    length: Annotated[Length, Positive] | None = optional(
        "Its cut length; it has to end at a mark.", "150 mm"
    )
    segments: Annotated[int, Field(ge=1, le=MOST_SEGMENTS)] | None = optional(
        "How many whole segments, instead of `length`.", 3
    )
    trace: OhmsPerMetre | None = optional(
        "Measured resistance of one trace; without it none is lost along the strip.", "0.5 ohm/m"
    )
    far_end: Name | None = optional("The place that is fed from its far end.", "bow")
    through: Annotated[Current, Positive] | None = optional("Most current its traces are rated for.", "2 A")
    lead: Annotated[Lead | None, one_line(oneline.lead)] = optional("Its lead.", "220 mm to hull, red/black")
    keep: bool = kept()


class DiodeSpec(Table):
    """The diode across a motor, cathode to the positive: it takes the motor's current as that is switched off."""

    kind: str | None = optional(
        "Its type, as printed on it; `board` where the board has its own.", "1N4001", max_length=40
    )
    rated: Annotated[Current, Positive] | None = optional("Forward current that it is rated for.", "1 A")
    volts: Annotated[Voltage, Positive] | None = optional("Reverse voltage that it is rated for.", "50 V")


class Load(Table):
    """Anything else that takes current: a motor, a sound board, an inverter."""

    name: Name = Field(description="Its name.", examples=["screw"])
    kind: Literal["motor", "sound", "inverter", "pixels", "other"] = Field(
        default="other",
        description="What it is: `inverter` drives electroluminescent wire, `pixels` are LEDs with a chip each, and data that a run with `carries` data brings.",
    )
    circuit: Name | None = optional("The circuit it is connected to.", "motor")
    switch: Name | None = optional("Instead of a circuit: what is switched together.", "screw")
    place: Name = Field(description="Where it sits.", examples=["hull"])
    least: Current | None = optional("Least current.", "40 mA")
    typical: Current = Field(description="Current in normal use.", examples=["60 mA"])
    most: Current | None = optional("Most current; of pixels with every one of them white.", "120 mA")
    starting: Current | None = optional(
        "Current at the start; of a motor also while its shaft is held fast.", "200 mA"
    )
    lowest: Voltage | None = optional("Lowest voltage it works at.", "6 V")
    highest: Annotated[Voltage, Positive] | None = optional(
        "Highest voltage it withstands; of a motor the volts it is made for.", "15 V"
    )
    reverse: Voltage | None = optional("Reverse voltage it withstands.", "12 V")
    open_volts: Voltage | None = optional("Voltage a booster or inverter puts out.", "18 V")
    case: Annotated[Area, Positive] | None = optional(
        "Outside surface of a motor, with its gearbox and the metal that holds it.", "13 cm2"
    )
    diode: Annotated[DiodeSpec | None, one_line(oneline.diode)] = optional(
        "The diode across a motor, by its type or by its current.", "1N4001", "1 A"
    )
    reverses: bool = Field(
        default=False, description="A motor is driven both ways round, by a reversing switch or board."
    )
    held_off: bool = Field(default=False, description="A motor's case is held in metal, and touches no wall.")
    never_stalls: bool = Field(
        default=False,
        description="A motor is never held fast under power: a clutch slips, or a cut-out of its own stops it.",
    )
    lead: Annotated[Lead | None, one_line(oneline.lead)] = optional("Its lead.", "150 mm to hull, red/black")
    keep: bool = kept()
