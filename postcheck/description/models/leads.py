"""Resistors and leads: what lies between a lamp and its line."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import BelowWhole, Length, Positive, Power, Resistance, Share, one_line
from postcheck.description.frozen import Several
from postcheck.description.models.base import Name, Table


class ResistorSpec(Table):
    """One limiting resistor."""

    ohms: Resistance = Field(description="Its value.", examples=["1k5", "150 ohm"])
    power: Annotated[Power, Positive] | None = Field(
        default=None, description="Power it stands.", examples=["1/4 W"]
    )
    size: str | None = Field(
        default=None, description="Chip size, where the power is not given.", examples=["0805"]
    )
    tolerance: Annotated[Share, BelowWhole] | None = Field(
        default=None, description="Its tolerance; 5 % if not said.", examples=["5 %"]
    )
    place: Name | None = Field(
        default=None, description="Where it sits; with the lamp if not said.", examples=["keel"]
    )
    side: Literal["feed", "back"] = Field(default="feed", description="Which leg of the lamp it sits in.")


class UsualResistor(Table):
    """What holds for every resistor that does not say otherwise."""

    power: Annotated[Power, Positive] | None = Field(
        default=None, description="Power it stands.", examples=["1/4 W"]
    )
    size: str | None = Field(
        default=None, description="Chip size, where the power is not given.", examples=["0805"]
    )
    tolerance: Annotated[Share, BelowWhole] | None = Field(
        default=None, description="Its tolerance; 5 % if not said.", examples=["5 %"]
    )


class JointSize(Table):
    """The thickest spot of something that is threaded: round, or flat where `thin` is given."""

    across: Annotated[Length, Positive] = Field(
        description="Diameter, sleeving included; of a flat pack its width.", examples=["2.2 mm"]
    )
    thin: Annotated[Length, Positive] | None = Field(
        default=None, description="Thickness of a flat pack.", examples=["0.8 mm"]
    )


class Leg(Table):
    """One leg of a lead, where the two differ."""

    length: Length | None = Field(default=None, description="Its length.", examples=["220 mm"])
    wire: str | None = Field(default=None, description="Its wire.", examples=["ptfe-30"])
    to: Name | None = Field(default=None, description="The place where it joins its line.", examples=["keel"])
    colour: str | None = Field(default=None, max_length=60, description="Its colour.", examples=["red"])
    label: str | None = Field(
        default=None,
        max_length=120,
        description="What is written on its own flag; it tells this leg from the other.",
        examples=["nose +"],
    )


class Lead(Table):
    """The two fine wires of a lamp, as far as their joints."""

    length: Length | None = Field(default=None, description="Length of each leg.", examples=["220 mm"])
    wire: str | None = Field(default=None, description="Wire of both legs.", examples=["enamel-0.10"])
    wires: Several[str] | None = Field(
        default=None,
        min_length=2,
        max_length=2,
        description="Wire of feed and back leg.",
        examples=[["ptfe-30", "enamel-0.10"]],
    )
    to: Name | None = Field(
        default=None, description="The place where it joins its lines.", examples=["keel"]
    )
    colours: Several[Annotated[str, Field(max_length=60)]] | None = Field(
        default=None,
        min_length=1,
        max_length=8,
        description="Colours: feed first, then back; of several colours of light each feed, then what they share.",
        examples=[["red", "black"]],
    )
    feed: Leg | None = Field(
        default=None,
        description="The feed leg, where it differs.",
        examples=[{"length": "220 mm", "colour": "red"}],
    )
    back: Leg | None = Field(
        default=None,
        description="The back leg, where it differs.",
        examples=[{"length": "180 mm", "colour": "black"}],
    )
    spare: Length | None = Field(
        default=None, description="Spare length left coiled at the joint.", examples=["80 mm"]
    )
    joint: Annotated[JointSize | None, one_line(oneline.joint)] = Field(
        default=None,
        description="What sits on it when it is threaded and has to pass: lamp, resistor or sleeved joint.",
        examples=["2.2 mm"],
    )
    label: str | None = Field(
        default=None,
        max_length=120,
        description="What is written on its flag; it tells this lead from others of its colour.",
        examples=["nose"],
    )
    fixed: bool = Field(default=False, description="Painted over or trapped: it is reached by cutting only.")
