"""Switches that a hand works."""

from typing import Annotated

from postcheck.description.fields import Current, Positive, Resistance, Voltage
from postcheck.description.models.base import Name, Table, optional


class SwitchSpec(Table):
    """The switch by which a supply or a circuit is turned on and off."""

    rated: Annotated[Current, Positive] | None = optional("Direct current that it is rated for.", "1 A")
    volts: Annotated[Voltage, Positive] | None = optional(
        "Direct volts that this holds for; 30 V if not said.", "30 V"
    )
    contact: Resistance | None = optional("Contact resistance.", "20 mohm")
    place: Name | None = optional("Where it sits; where its line begins if not said.", "base")
