"""A whole file: a build, or a workshop's shelf."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, PrivateAttr

from postcheck.build import oneline
from postcheck.build.fields import CelsiusRange, Version, one_line
from postcheck.build.models.base import Name, Table
from postcheck.build.models.circuits import Board, Circuit
from postcheck.build.models.kinds import LampKind, Stock, StripKind, WireKind
from postcheck.build.models.lamps import Lamp, Load, Strip
from postcheck.build.models.leads import UsualResistor
from postcheck.build.models.places import Cable, Passage, Place
from postcheck.build.models.records import Accept, LimitChange, Proof
from postcheck.build.models.runs import Join, Plug, Run
from postcheck.build.models.supplies import Supply

__all__ = ["SEVERAL", "Build", "BuildSection", "Usual", "Workshop"]


class BuildSection(Table):
    """What the build is, and how far it has come."""

    name: str = Field(
        max_length=200, description="The model, as the client knows it.", examples=["Mail airship, 1:144"]
    )
    stage: Literal["planning", "wiring", "closing"] = Field(
        default="planning",
        description="How far the work has come; at closing nothing vital may be unknown, the heat in closed places included.",
    )
    air: CelsiusRange = Field(default=(5.0, 35.0), description="Air temperature where it is shown.")
    note: str | None = Field(default=None, max_length=2000, description="Anything worth remembering.")


class Usual(Table):
    """Defaults for what is not said further down."""

    lead: str | None = Field(default=None, description="Wire of the leads.", examples=["enamel-0.10"])
    run: str | None = Field(default=None, description="Wire of the runs.", examples=["ptfe-28"])
    resistor: Annotated[UsualResistor | None, one_line(oneline.usual_resistor)] = Field(
        default=None, description="Power or size and tolerance of the resistors.", examples=["1/4 W 5 %"]
    )


class Workshop(Table):
    """A builder's own shelf, shared by several builds through `use`."""

    format: Version = Field(description="Version of this file format.")
    use: list[Annotated[str, Field(max_length=400)]] = Field(
        default_factory=list, max_length=20, description="Further files of this kind."
    )
    stock: Stock | None = Field(default=None, description="What is on your shelf.")
    wire: dict[Name, WireKind] = Field(default_factory=dict, description="Wires of your own, by name.")
    lamp_kind: dict[Name, LampKind] = Field(default_factory=dict, description="Lamps of your own, by name.")
    strip_kind: dict[Name, StripKind] = Field(
        default_factory=dict, description="Strips of your own, by name."
    )
    limit: list[LimitChange] = Field(default_factory=list, max_length=200, description="Limits changed.")


class Build(Table):
    """A whole build file."""

    _file: str = PrivateAttr(default="build")
    _text: str | None = PrivateAttr(default=None)
    format: Version = Field(description="Version of this file format.")
    use: list[Annotated[str, Field(max_length=400)]] = Field(
        default_factory=list,
        max_length=20,
        description="Further files with your own wires, lamps, stock and limits.",
    )
    build: BuildSection = Field(description="What the build is.")
    usual: Usual = Field(default_factory=Usual, description="Defaults.")
    stock: Stock = Field(default_factory=Stock, description="What is on your shelf.")
    supply: dict[Name, Supply] = Field(default_factory=dict, description="Supplies, by name.")
    post: Passage | None = Field(default=None, description="The display post.")
    passage: dict[Name, Passage] = Field(default_factory=dict, description="Further passages, by name.")
    place: dict[Name, Place] = Field(default_factory=dict, description="Places, by name.")
    board: dict[Name, Board] = Field(default_factory=dict, description="Boards, by name.")
    circuit: dict[Name, Circuit] = Field(default_factory=dict, description="Circuits, by name.")
    lamp: list[Lamp] = Field(default_factory=list, max_length=20_000, description="The lamps.")
    strip: list[Strip] = Field(default_factory=list, max_length=2_000, description="The LED strips.")
    load: list[Load] = Field(
        default_factory=list, max_length=2_000, description="Anything else that takes current."
    )
    run: list[Run] = Field(default_factory=list, max_length=20_000, description="The runs.")
    join: list[Join] = Field(default_factory=list, max_length=2_000, description="Joints of different lines.")
    cable: dict[Name, Cable] = Field(default_factory=dict, description="Sheathed cables, by name.")
    plug: list[Plug] = Field(default_factory=list, max_length=500, description="The plugs.")
    wire: dict[Name, WireKind] = Field(default_factory=dict, description="Wires of your own, by name.")
    lamp_kind: dict[Name, LampKind] = Field(default_factory=dict, description="Lamps of your own, by name.")
    strip_kind: dict[Name, StripKind] = Field(
        default_factory=dict, description="Strips of your own, by name."
    )
    proof: list[Proof] = Field(
        default_factory=list, max_length=20_000, description="What was tested and measured."
    )
    accept: list[Accept] = Field(default_factory=list, max_length=5_000, description="Findings accepted.")
    limit: list[LimitChange] = Field(default_factory=list, max_length=200, description="Limits changed.")

    @property
    def file(self) -> str:
        """The name of the file it was read from."""
        return self._file

    @property
    def text(self) -> str | None:
        """The text it was read from, for positions; None for a build made in memory."""
        return self._text


SEVERAL = frozenset({"lamp", "strip", "load", "run", "join", "plug", "proof", "accept", "limit"})
