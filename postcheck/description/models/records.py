"""What was tried, weighed and changed."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from postcheck.description.fields import Continuity, Current, Polarity, Resistance, Time, Visible, Voltage
from postcheck.description.models.base import Name, Table, optional


class Proof(Table):
    """Something that was tested: what was tried, at which volts, and what the meter showed."""

    subject: str = Field(
        max_length=200,
        description="What was tested, by name: a lamp, strip, load, circuit, run, plug, board, passage or supply. Of two with one name: `circuit NAME`; one string of several: `NAME 1`.",
        examples=["tail beacon"],
    )
    done: str | None = optional("What was done.", "lit for an hour on the bench", max_length=300)
    at: Name | None = optional(
        "The place where the meter was put on a circuit's line; where the circuit begins if not said.", "hub"
    )
    volts: Voltage | None = optional("Bench voltage.", "12 V")
    current: Current | None = optional("Measured current.", "9.8 mA")
    limit: Current | None = optional("The current limit of the bench supply, where it was reached.", "2 mA")
    through: Resistance | None = optional(
        "The resistor in the bench lead, where the test was done through one; one that belongs to the lamp is not meant.",
        "6k8",
    )
    hours: Time | None = optional("How long it ran.", "24 h")
    polarity: Polarity | None = optional(
        "Polarity was tried: true if it is the right way round, false if it was found reversed.", True
    )
    continuity: Continuity | None = optional(
        "Continuity was tried: true from end to end, false if it is open, or the resistance that the meter showed.",
        "0.3 ohm",
        True,
    )
    insulation: Resistance | None = optional("Measured insulation resistance.", "20 Mohm")
    on: date | None = optional(
        "When. Of several proofs of one thing the latest counts; one without a date counts as of the latest date above it in the file.",
        date(2026, 11, 20),
        alias="date",
    )


class Accept(Table):
    """A finding that you have weighed and live with, with the reason."""

    finding: str = Field(
        max_length=400,
        description="The finding's name, as the report gives it.",
        examples=["circuit.step:beacon"],
    )
    reason: Annotated[str, Visible] = Field(
        min_length=1, max_length=1000, description="Why it may stand.", examples=["seen and found slight"]
    )
    until: date | None = optional("After this day it counts again.", date(2027, 6, 1))
    up_to: Literal["note", "caution", "stop"] = Field(
        default="stop",
        description="Up to which weight: should it become heavier, it counts again.",
        examples=["caution"],
    )


class LimitChange(Table):
    """A limit changed for this build, with the reason."""

    name: str = Field(
        max_length=100,
        description="The limit's name: `postcheck explain CHECK` names those of a check.",
        examples=["step.slow"],
    )
    value: Annotated[str, Field(max_length=60)] = Field(
        description="The new value, with its unit.", examples=["5 %"]
    )
    reason: Annotated[str, Visible] = Field(
        min_length=1, max_length=1000, description="Why.", examples=["a working boat may wink"]
    )
