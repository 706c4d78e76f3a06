"""Resistors and leads: what lies between a lamp and its line."""

from typing import Annotated, Literal

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import BelowWhole, Length, Positive, Power, Resistance, Share, one_line
from postcheck.description.frozen import Several
from postcheck.description.models.base import Name, Table, optional, several


class SeriesResistor(Table):
    """One resistor or trimmer of several in series."""

    ohms: Resistance = Field(
        description="Its value; of a trimmer that of the whole track.", examples=["1k5", "150 ohm"]
    )
    power: Annotated[Power, Positive] | None = optional(
        "Power it is rated for; of a trimmer that of the whole track.", "1/4 W"
    )
    size: str | None = optional("Chip size, where the power is not given.", "0805")
    tolerance: Annotated[Share, BelowWhole] | None = optional("Its tolerance; 5 % if not said.", "5 %")
    trimmer: bool = Field(
        default=False,
        description="It is a trimmer: it can be turned down to zero, and up to its whole track.",
    )
    set: Resistance | None = optional("What a trimmer is set to, as measured.", "300 ohm")


class ResistorSpec(SeriesResistor):
    """What limits the current of a string: one resistor, or several in series."""

    plus: Several[SeriesResistor] = several(
        "What else is in series with it.", [{"ohms": "1k", "trimmer": True}], most=9
    )
    place: Name | None = optional("Where it sits; with the lamp if not said.", "keel")
    side: Literal["feed", "back"] = Field(default="feed", description="Which leg of the lamp it sits in.")

    @property
    def pieces(self) -> tuple[SeriesResistor, ...]:
        """Itself, and what is in series with it."""
        return (self, *self.plus)

    @property
    def trimmers(self) -> tuple[SeriesResistor, ...]:
        """Those of them that are trimmers."""
        return tuple(piece for piece in self.pieces if piece.trimmer)

    @property
    def whole(self) -> float:
        """All of them together, ohm; a trimmer as it is set, or turned to zero where it does not say."""
        return sum((piece.set or 0.0) if piece.trimmer else piece.ohms for piece in self.pieces)


class UsualResistor(Table):
    """What holds for every resistor that does not say otherwise."""

    power: Annotated[Power, Positive] | None = optional("Power it is rated for.", "1/4 W")
    size: str | None = optional("Chip size, where the power is not given.", "0805")
    tolerance: Annotated[Share, BelowWhole] | None = optional("Its tolerance; 5 % if not said.", "5 %")


class JointSize(Table):
    """The thickest spot of something that is threaded: round, or flat where `thin` is given."""

    across: Annotated[Length, Positive] = Field(
        description="Diameter, sleeving included; of a flat pack its width.", examples=["2.2 mm"]
    )
    thin: Annotated[Length, Positive] | None = optional("Thickness of a flat pack.", "0.8 mm")


class Leg(Table):
    """One leg of a lead, where the two differ."""

    length: Length | None = optional("Its length.", "220 mm")
    wire: str | None = optional("Its wire.", "ptfe-30")
    to: Name | None = optional("The place where it joins its line.", "keel")
    colour: str | None = optional("Its colour.", "red", max_length=60)
    label: str | None = optional(
        "What is written on its own flag; it tells this leg from the other.", "nose +", max_length=120
    )


class Lead(Table):
    """The two fine wires of a lamp, to where they join their lines."""

    length: Length | None = optional("Length of each leg.", "220 mm")
    wire: str | None = optional("Wire of both legs.", "enamel-0.10")
    wires: Several[str] | None = optional(
        "Wire of feed and back leg.", ["ptfe-30", "enamel-0.10"], min_length=2, max_length=2
    )
    to: Name | None = optional("The place where it joins its lines.", "keel")
    colours: Several[Annotated[str, Field(max_length=60)]] | None = optional(
        "Colours: feed first, then back; of several colours of light each feed, then what they share.",
        ["red", "black"],
        min_length=1,
        max_length=8,
    )
    feed: Leg | None = optional("The feed leg, where it differs.", {"length": "220 mm", "colour": "red"})
    back: Leg | None = optional("The back leg, where it differs.", {"length": "180 mm", "colour": "black"})
    spare: Length | None = optional("Spare length left coiled at the joint.", "80 mm")
    joint: Annotated[JointSize | None, one_line(oneline.joint)] = optional(
        "What sits on it when it is threaded and has to pass: lamp, resistor or sleeved joint.", "2.2 mm"
    )
    label: str | None = optional(
        "What is written on its flag; it tells this lead from others of its colour.", "nose", max_length=120
    )
    fixed: bool = Field(default=False, description="Painted over or trapped: it is reached by cutting only.")
