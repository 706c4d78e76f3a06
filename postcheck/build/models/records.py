"""What was tried, weighed and changed."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from pydantic import Field

from postcheck.build.fields import Current, Resistance, Time, Voltage
from postcheck.build.models.base import Table

__all__ = ["Accept", "LimitChange", "Proof"]


class Proof(Table):
    """Something that was tried and measured."""

    subject: str = Field(max_length=200, description="What was tested, by name.", examples=["tail beacon"])
    done: str | None = Field(default=None, max_length=300, description="What was done.")
    volts: Voltage | None = Field(default=None, description="Bench voltage.")
    current: Current | None = Field(default=None, description="Measured current.")
    hours: Time | None = Field(default=None, description="How long it ran.")
    polarity: bool | None = Field(default=None, description="Polarity was checked.")
    continuity: bool | None = Field(default=None, description="Continuity was checked.")
    insulation: Resistance | None = Field(default=None, description="Measured insulation resistance.")
    on: date | None = Field(default=None, alias="date", description="When.")


class Accept(Table):
    """A finding that the builder has weighed and lives with."""

    finding: str = Field(
        max_length=400,
        description="The finding's name, as the report gives it.",
        examples=["circuit.step:beacon"],
    )
    reason: str = Field(
        min_length=1, max_length=1000, description="Why it may stand.", examples=["seen and found slight"]
    )
    until: date | None = Field(default=None, description="After this day it counts again.")


class LimitChange(Table):
    """A limit changed for this build."""

    name: str = Field(max_length=100, description="The limit's name.", examples=["step.slow"])
    value: Annotated[str, Field(max_length=60)] = Field(
        description="The new value, with its unit.", examples=["5 %"]
    )
    reason: str = Field(
        min_length=1, max_length=1000, description="Why.", examples=["a working boat may wink"]
    )
