"""Conductors between places, and where they are joined."""

from typing import Annotated, Literal

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import Current, Length, Positive, Resistance, one_line
from postcheck.description.frozen import Several
from postcheck.description.models.base import Name, Table, kept, optional, several
from postcheck.description.models.leads import JointSize


class Run(Table):
    """A conductor of one line between places."""

    name: Name | None = optional("Its name; made from line and ends if not given.", "running feed")
    line: Name | None = optional("The line it carries.", "running", "main-")
    ends: Several[Name] = Field(
        min_length=2, max_length=2, description="The places it joins.", examples=[["base", "keel"]]
    )
    length: Length | None = optional("Its length.", "260 mm")
    wire: str | None = optional("Its wire.", "ptfe-28")
    colour: str | None = optional("Its colour.", "red", max_length=60)
    conductors: Annotated[int, Field(ge=1, le=200)] = Field(
        default=1, description="Conductors side by side on the line.", examples=[2]
    )
    spare: bool = Field(default=False, description="Laid in reserve; carries nothing.")
    carries: Literal["power", "data", "sound"] = Field(
        default="power",
        description="What it carries: data and sound count in the bundle, not in the network.",
    )
    cable: Name | None = optional("The sheathed cable it lies in.", "ribbon")
    body: bool = Field(
        default=False, description="The metal of the post itself is the conductor, with no wire."
    )
    ohms: Resistance | None = optional("Its measured resistance, instead of wire and length.", "0.2 ohm")
    through: Several[Name] | None = optional("Passages, where the ends do not tell.", ["post"], max_length=50)
    joint: Annotated[JointSize | None, one_line(oneline.joint)] = optional(
        "A joint made before it is threaded, which has to pass: diameter with its sleeving, or a flat pack.",
        "2.2 mm",
        "4 x 0.8 mm",
    )
    fixed: bool = Field(default=False, description="Painted over or trapped: it is reached by cutting only.")
    label: str | None = optional(
        "What is written on its flag; it tells this run from others of its colour.", "A1", max_length=120
    )
    keep: bool = kept()


class Way(Table):
    """How far it is from one place to another, as a wire is laid: what is laid there without a length is as long, and what is shorter is told."""

    start: Name = Field(alias="from", description="The place at one end.", examples=["car"])
    end: Name = Field(alias="to", description="The place at the other end.", examples=["keel"])
    length: Annotated[Length, Positive] = Field(
        description="Length of a wire along it, from joint to joint.", examples=["180 mm"]
    )
    through: Several[Name] = several("Passages that it goes through.", ["post"], most=20)


class Join(Table):
    """A joint at which different lines are joined into one."""

    place: Name = Field(description="Where the joint is.", examples=["hub"])
    lines: Several[Name] = Field(
        min_length=2, max_length=100, description="The lines joined there.", examples=[["running", "cabin"]]
    )


class Plug(Table):
    """A plug and its socket."""

    name: Name = Field(description="Its name.", examples=["post plug"])
    at: Name | None = optional(
        "The place where it sits: between what comes there from the supply and what is joined there, so that runs end at it.",
        "hub",
    )
    ends: Several[Name] | None = optional(
        "Instead of `at`: the two places that it joins by itself, the supply side first.",
        ["stand", "saddle"],
        min_length=2,
        max_length=2,
    )
    pins: Several[Name] = Field(
        min_length=1,
        max_length=200,
        description="The line on each pin, in order.",
        examples=[["running", "main-"]],
    )
    rated: Annotated[Current, Positive] | None = optional("Rated current of one pin.", "1 A")
    contact: Resistance | None = optional("Contact resistance of one pin.", "20 mohm")
    diameter: Annotated[Length, Positive] | None = optional("What has to pass when it is threaded.", "6 mm")
    through: Several[Name] = several("Passages it has to be threaded through.", ["post"], most=20)
    keyed: bool | None = optional(
        "It goes together one way only; where it does not (false), what a crossed plug does is judged."
    )
    part_way: bool = Field(default=False, description="It can sit half way, some pins joined and some not.")
    bare_pins: Literal["supply", "model", "none"] | None = optional(
        "Which side shows bare pins when it is apart."
    )

    @property
    def places(self) -> tuple[str, ...]:
        """The places where it is found: one that it sits at, or the two that it joins."""
        return (self.at,) if self.at is not None else tuple(self.ends or ())
