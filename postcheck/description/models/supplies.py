"""Where the power comes from."""

from typing import Annotated, Literal, Self

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import (
    BelowWhole,
    Charge,
    Current,
    Positive,
    Resistance,
    Share,
    Time,
    Voltage,
    one_line,
)
from postcheck.description.frozen import Several
from postcheck.description.models.base import Count, Name, Table, kept, optional
from postcheck.description.models.switches import SwitchSpec
from postcheck.physics.fuse import resettable_in_air


class FuseSpec(Table):
    """A fuse in the supply's positive lead."""

    rated: Annotated[Current, Positive] = Field(description="Rated current of the fuse.", examples=["500 mA"])
    kind: Literal["quick", "slow", "UL", "resettable"] = Field(
        default="quick",
        description='How fast it opens: "quick" (F) and "slow" (T) by IEC 60127, or "UL" by UL 248-14.',
    )
    body: Literal["glass", "ceramic"] | None = optional(
        "What its body is of: glass breaks 35 A, ceramic 1500 A; slow ones of ceramic open later.", "ceramic"
    )
    trips_at: Annotated[Current, Positive] | None = optional(
        "Of a resettable one, by its maker: the current at which it trips...", "2.5 A"
    )
    trips_in: Annotated[Time, Positive] | None = optional("... within this time.", "4 s")
    place: Name | None = optional(
        "Where it sits, and guards what lies behind; at the supply if not said.", "base"
    )

    @property
    def trips(self) -> tuple[float, float] | None:
        """Current (A) and time (s) at which a resettable one trips, by its maker."""
        return None if self.trips_at is None or self.trips_in is None else (self.trips_at, self.trips_in)

    def in_air(self, celsius: float) -> Self:
        """What it is in air of so many degC: a resettable one holds less in warm air, and takes more to trip in cold."""
        if self.kind != "resettable":
            return self
        share = resettable_in_air(celsius)
        trips = None if self.trips_at is None else share * self.trips_at
        return self.model_copy(update={"rated": share * self.rated, "trips_at": trips})


class Instead(Table):
    """Another source that would do, where a plan may choose."""

    kind: Literal["adaptor", "usb"] = Field(description="What it is.")
    volts: Annotated[Voltage, Positive] | None = optional("Rated output voltage.", "9 V")
    rated: Annotated[Current, Positive] | None = optional("Rated output current.", "1 A")
    port: Literal["plain", "type-c", "power-bank"] | None = optional("Kind of USB source.")


class Supply(Table):
    """Where the power comes from: an adaptor, a battery, USB or a converter."""

    kind: Literal["adaptor", "battery", "usb", "converter"] = Field(description="What it is.")
    place: Name = Field(description="Where it sits.", examples=["base"])
    volts: Annotated[Voltage, Positive] | None = optional("Rated output voltage.", "12 V")
    tolerance: Annotated[Share, BelowWhole] | None = optional(
        "Output tolerance, each way; of an adaptor or USB 5 % if not said.", "5 %"
    )
    rated: Annotated[Current, Positive] | None = optional(
        "Rated output current; of a battery what its cells may give for good, by default the capacity in an hour (1C).",
        "1 A",
    )
    fuse: Annotated[FuseSpec | None, one_line(oneline.fuse)] = optional(
        "The fuse in its positive lead.", "500 mA", "500 mA slow"
    )
    on_off: Annotated[SwitchSpec | None, one_line(oneline.switch)] = optional(
        "The switch in its positive that turns all it feeds on and off by hand.", "1 A at base"
    )
    instead: Several[Annotated[Instead, one_line(oneline.source)]] | None = optional(
        "What it may be instead, in order of liking: a plan takes the first that passes.",
        ["usb C 3 A", "12 V adaptor 1 A"],
        max_length=20,
    )
    regulation: Share | None = optional(
        "Stated fall of voltage from no load to rated load; where none is stated, give `unloaded`.", "5 %"
    )
    unloaded: Annotated[Voltage, Positive] | None = optional(
        "Adaptor voltage with nothing connected.", "17 V"
    )
    current_limit: Annotated[Current, Positive] | None = optional(
        "The current at which the supply itself gives up.", "1.3 A"
    )
    socket: str | None = optional(
        "The socket of the model that it plugs into, and the pole at its centre.",
        "5.5/2.1 mm, centre positive",
        max_length=60,
    )
    shares_negative_with: Name | None = optional(
        "A supply whose negative pole is joined to this one's.", "main"
    )
    # batteries
    chemistry: str | None = optional(
        "Of a battery: cell chemistry; `postcheck catalogue battery` lists them.", "alkaline", "lipo"
    )
    size: str | None = optional("Size of a cell or block.", "aa")
    cells: Count | None = optional("Cells in series; a 9 V block has six.", 3)
    capacity: Annotated[Charge, Positive] | None = optional("Capacity of one cell.", "2000 mAh")
    protected: bool | None = optional("The cell or pack has a protection board.")
    resistance: Resistance | None = optional("Internal resistance of the whole supply.", "0.3 ohm")
    cut_off: Voltage | None = optional(
        "Voltage at which the pack is taken as empty: all its cells in series together.", "6 V"
    )
    runs_for: Time | None = optional("How long it has to last on one charge.", "8 h")
    # usb
    port: Literal["plain", "type-c", "power-bank"] | None = optional("Of USB: what kind of source.")
    cc_resistors: bool | None = optional(
        "The type C lead or socket has the resistors that make a source deliver; false with more than 5 V, which a board asks for."
    )
    switches_off_below: Current | None = optional("A power bank switches off below this load ...", "60 mA")
    switches_off_after: Time | None = optional("... that lasts so long.", "30 s")
    # converters
    fed_by: Name | None = optional("Of a converter: the supply that it is fed by.", "main", alias="from")
    efficiency: Annotated[Share, Positive] | None = optional(
        "Converter efficiency; 85 % if not said.", "85 %"
    )
    linear: bool = Field(
        default=False,
        description="A linear regulator: it takes the current that it gives, and the rest is heat.",
    )
    least_input: Voltage | None = optional("Least input voltage of a converter.", "7 V")
    idle: Current | None = optional("What the converter takes with no load.", "5 mA")
    reverse: Voltage | None = optional("Reverse voltage a converter's input withstands.", "12 V")
    isolated: bool = Field(
        default=False,
        description="A converter whose output does not share the negative pole of what feeds it.",
    )
    keep: bool = kept()
