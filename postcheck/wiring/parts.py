"""What a build is made of, with its data: plain records of lamps, strips, loads, leads and runs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from postcheck.description.models import (
    Lamp,
    Lead,
    Load,
    Run,
    Strip,
)
from postcheck.physics import copper
from postcheck.wiring.data import DieData, WireData

Path = tuple[str | int, ...]
Share = Literal["nothing", "return", "lead"]


class ResistorPart(NamedTuple):
    """A resistor: ohm, relative tolerance, watt (None: not said), the place that it warms."""

    ohms: float
    tolerance: float
    power: float | None
    place: str
    side: Literal["supply", "return"]


class LegPart(NamedTuple):
    """One leg of a lead: length in m, wire, the place of its joint, its colour."""

    length: float
    wire: WireData | None
    to: str
    colour: str | None

    def ohms(self, celsius: float, *, most: bool = False) -> float:
        """Resistance in ohm at a copper temperature in degC; `most`: of the worst wire within its standard."""
        if self.wire is None:
            return 0.0
        per_metre = self.wire.ohms_per_metre_most if most else self.wire.ohms_per_metre
        return copper.at_temperature(per_metre * self.length, celsius)


class LampPart(NamedTuple):
    """The strings of one lamp entry on one circuit. `said`: its table in the file. `dice`: in order along one string.

    `colour`: it is one of several colours that share the return leg. `share`: what the leads of its strings share;
    `lead` where there is but one string.
    """

    name: str
    entry: str
    path: Path
    said: Lamp
    circuit: str
    place: str
    places: tuple[str, ...]
    kind: str
    dice: tuple[DieData, ...]
    parallel: int
    one_resistor: bool
    matched: bool
    resistor: ResistorPart | None
    resistor_path: Path
    supply_leg: LegPart
    return_leg: LegPart
    links: tuple[LegPart, ...]
    wanted: float | None
    behaviour: str | None
    backwards: bool
    colour: bool = False
    share: Share = "lead"

    @property
    def lead(self) -> Lead | None:
        """Its lead, as the file has it."""
        return self.said.lead

    @property
    def has_lead(self) -> bool:
        """Whether it has a lead, and is not soldered straight to its lines."""
        return self.said.lead is not None


class StripPart(NamedTuple):
    """A strip: whole segments, each of `chains` of dice behind a resistor in ohm; trace in ohm/m or unmeasured."""

    name: str
    path: Path
    said: Strip
    circuit: str
    place: str
    far_end: str | None
    kind: str
    volts: float
    segment: float
    length: float
    segments: int
    chains: tuple[tuple[tuple[DieData, ...], float], ...]
    trace: float | None
    through: float | None
    supply_leg: LegPart
    return_leg: LegPart
    source: str

    @property
    def dice(self) -> tuple[DieData, ...]:
        """The dice of the first chain of a segment."""
        return self.chains[0][0]

    @property
    def entry(self) -> str:
        """Its name."""
        return self.name

    @property
    def places(self) -> tuple[str, ...]:
        """Where it sits."""
        return (self.place,)

    @property
    def lead(self) -> Lead | None:
        """Its lead, as the file has it."""
        return self.said.lead


class LoadPart(NamedTuple):
    """Another load: currents in A, volts in V."""

    name: str
    path: Path
    said: Load
    circuit: str
    place: str
    least: float
    typical: float
    most: float
    starting: float | None
    lowest: float | None
    supply_leg: LegPart
    return_leg: LegPart

    @property
    def entry(self) -> str:
        """Its name."""
        return self.name

    @property
    def places(self) -> tuple[str, ...]:
        """Where it sits."""
        return (self.place,)

    @property
    def lead(self) -> Lead | None:
        """Its lead, as the file has it."""
        return self.said.lead


Part = LampPart | StripPart | LoadPart
"""Whatever takes current, with the data of its kind."""


class RunPart(NamedTuple):
    """A run, named; `wire` or `measured` ohm gives its resistance; `conductors` lie side by side."""

    name: str
    path: Path
    said: Run
    line: str
    ends: tuple[str, str]
    length: float
    wire: WireData | None
    measured: float | None
    conductors: int
    spare: bool
    carries: str
    cable: str | None
    body: bool
    through: tuple[str, ...]
    colour: str | None

    @property
    def live(self) -> bool:
        """Whether it is part of the network."""
        return not self.spare and self.carries == "power"

    def ohms(self, celsius: float, *, most: bool = False) -> float:
        """Resistance in ohm of one of its conductors at a copper temperature in degC."""
        if self.measured is not None:
            return max(copper.at_temperature(self.measured, celsius), 1e-6)
        if self.wire is None:
            return 1e-6
        per_metre = self.wire.ohms_per_metre_most if most else self.wire.ohms_per_metre
        return max(copper.at_temperature(per_metre * self.length, celsius), 1e-6)


@dataclass(frozen=True, slots=True)
class Parts:
    """Everything of a build that carries current or lies in a bore."""

    lamps: tuple[LampPart, ...]
    strips: tuple[StripPart, ...]
    loads: tuple[LoadPart, ...]
    runs: tuple[RunPart, ...]
    unknown: tuple[tuple[str, str, str, bool], ...] = field(default=())

    @property
    def all(self) -> tuple[Part, ...]:
        """Lamps, strips and loads, in this order."""
        return (*self.lamps, *self.strips, *self.loads)
