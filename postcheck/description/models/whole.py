"""A whole file: a build, or a library that builds share."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple, Self

from pydantic import Field, PrivateAttr

from postcheck.description import oneline
from postcheck.description.changes import Assigned
from postcheck.description.fields import CelsiusRange, Version, one_line
from postcheck.description.frozen import FrozenDict, Several
from postcheck.description.models.base import Name, Table, optional, several, tables
from postcheck.description.models.circuits import Board, Circuit
from postcheck.description.models.kinds import LampKind, Stock, StripKind, WireKind
from postcheck.description.models.lamps import Lamp, Load, Strip
from postcheck.description.models.leads import UsualResistor
from postcheck.description.models.places import Cable, Passage, Place
from postcheck.description.models.records import Accept, LimitChange, Proof
from postcheck.description.models.runs import Join, Plug, Run, Way
from postcheck.description.models.supplies import Supply
from postcheck.description.problems import Path

# Examples of what builds and workshop files both hold.
_WIRE = {"fine": {"strands": 7, "strand": "0.05 mm", "outside": "0.4 mm"}}
_LAMP_KIND = {"old-stock": {"forward": "1.8/2.0/2.4 V", "at": "20 mA", "rated": "20 mA"}}
_STRIP_KIND = {
    "old-stock": {
        "volts": "12 V",
        "segment": "50 mm",
        "series": 3,
        "ohms": "180 ohm",
        "kind": "smd-0603-warm-white",
    }
}
_LIMIT = [{"name": "step.slow", "value": "5 %", "reason": "a working boat may wink"}]


class BuildSection(Table):
    """What the build is called, how far it has come, how warm it is where it stands."""

    name: str = Field(
        max_length=200, description="The model, as the client knows it.", examples=["Mail airship, 1:144"]
    )
    stage: Literal["planning", "wiring", "closing"] = Field(
        default="planning",
        description="How far the work has come; at closing nothing vital may be unknown, the heat in closed places included.",
    )
    air: CelsiusRange = Field(default=(5.0, 35.0), description="Air temperature where it is shown.")
    note: str | None = optional(
        "Anything worth remembering.", "the client has the spare lamps", max_length=2000
    )


class Usual(Table):
    """What holds where nothing else is said further down."""

    lead: str | None = optional("Wire of the leads.", "enamel-0.10")
    run: str | None = optional("Wire of the runs.", "ptfe-28")
    resistor: Annotated[UsualResistor | None, one_line(oneline.usual_resistor)] = optional(
        "Power or size and tolerance of the resistors.", "1/4 W 5 %"
    )


class Workshop(Table):
    """A builder's own library, shared by several builds through `use`."""

    format: Version = Field(description="Version of this file format.")
    use: Several[Annotated[str, Field(max_length=400)]] = several(
        "Further files of this kind.", ["lamps-of-mine.toml"], most=20
    )
    stock: Stock | None = optional("What is on your shelf.", {"series": "E24"})
    wire: FrozenDict[Name, WireKind] = tables("Wires of your own, by name.", _WIRE)
    lamp_kind: FrozenDict[Name, LampKind] = tables("Lamps of your own, by name.", _LAMP_KIND)
    strip_kind: FrozenDict[Name, StripKind] = tables("Strips of your own, by name.", _STRIP_KIND)
    limit: Several[LimitChange] = several("Limits changed.", _LIMIT, most=200)


class Shared(NamedTuple):
    """Where something stands that a used file says: that file's name as `use` has it, its text, and the path there."""

    file: str
    text: str
    path: Path


class Kept:
    """What was worked out of a build and lives as long as it does; what is made of a build by pickle has none of it."""

    __slots__ = ("what",)

    def __init__(self) -> None:
        self.what: object = None

    def __reduce__(self) -> "tuple[type[Kept], tuple[()]]":
        return Kept, ()


class Build(Table):
    """A whole build file."""

    _file: str = PrivateAttr(default="build")
    _text: str | None = PrivateAttr(default=None)
    _used: tuple[str, ...] = PrivateAttr(default=())
    _implied: FrozenDict[str, str] = PrivateAttr(default_factory=FrozenDict)
    _shared: FrozenDict[Path, Shared] = PrivateAttr(default_factory=FrozenDict)
    _kept: Kept = PrivateAttr(default_factory=Kept)
    # as read; with `_assigned` put in, what it was made of
    _tables: Mapping[str, Any] | None = PrivateAttr(default=None)
    _assigned: tuple[Assigned, ...] = PrivateAttr(default=())
    format: Version = Field(description="Version of this file format.")
    use: Several[Annotated[str, Field(max_length=400)]] = several(
        "Further files beside this one, with your own wires, lamps, stock and limits.",
        ["workshop.toml"],
        most=20,
    )
    build: BuildSection = Field(
        description="What the build is.", examples=[{"name": "Mail airship, 1:144", "stage": "wiring"}]
    )
    usual: Usual = Field(
        default_factory=Usual.model_construct,
        description="Defaults.",
        examples=[{"lead": "enamel-0.10", "run": "ptfe-28", "resistor": "1/4 W 5 %"}],
    )
    stock: Stock = Field(
        default_factory=Stock.model_construct,
        description="What is on your shelf.",
        examples=[{"series": "E24"}],
    )
    supply: FrozenDict[Name, Supply] = tables(
        "Supplies, by name.", {"main": {"kind": "adaptor", "place": "base", "volts": "12 V", "rated": "1 A"}}
    )
    post: Passage | None = optional(
        "The display post that conductors go through.",
        {"from": "base", "to": "keel", "bore": "5 mm", "length": "160 mm"},
    )
    passage: FrozenDict[Name, Passage] = tables(
        "Further passages, by name.",
        {"mast": {"from": "hull", "to": "mast", "bore": "3 mm", "length": "60 mm"}},
    )
    place: FrozenDict[Name, Place] = tables("Places, by name.", {"base": {"access": "open"}})
    board: FrozenDict[Name, Board] = tables(
        "Boards, by name.", {"flasher": {"place": "base", "supply": "main", "channels": 8, "limit": "100 mA"}}
    )
    circuit: FrozenDict[Name, Circuit] = tables(
        "Circuits, by name.",
        {
            "running": {"supply": "main"},
            "beacon": {
                "supply": "main",
                "behaviour": "flash",
                "rate": "45 /min",
                "on_share": "12 %",
                "output": "100 mA, 0.2 V drop",
            },
        },
    )
    lamp: Several[Lamp] = several(
        "The lamps.",
        [{"circuit": "running", "kind": "smd-0603-red", "place": "keel", "resistor": "1k"}],
        most=20_000,
    )
    strip: Several[Strip] = several(
        "The LED strips.",
        [{"circuit": "cabin", "kind": "strip-12v-warm-white-60", "place": "hull", "segments": 3}],
        most=2_000,
    )
    load: Several[Load] = several(
        "Anything else that takes current.",
        [{"name": "screw", "kind": "motor", "circuit": "motor", "place": "hull", "typical": "60 mA"}],
        most=2_000,
    )
    run: Several[Run] = several(
        "The runs.", [{"line": "running", "ends": ["base", "keel"], "length": "260 mm"}], most=20_000
    )
    way: Several[Way] = several(
        "Ways between places, which wires are laid along.",
        [{"from": "car", "to": "keel", "length": "180 mm"}],
        most=500,
    )
    join: Several[Join] = several(
        "Joints of different lines.", [{"place": "hub", "lines": ["running", "cabin"]}], most=2_000
    )
    cable: FrozenDict[Name, Cable] = tables("Sheathed cables, by name.", {"ribbon": {"outside": "3 mm"}})
    plug: Several[Plug] = several(
        "The plugs.", [{"name": "post plug", "at": "keel", "pins": ["running", "main-"]}], most=500
    )
    wire: FrozenDict[Name, WireKind] = tables("Wires of your own, by name.", _WIRE)
    lamp_kind: FrozenDict[Name, LampKind] = tables("Lamps of your own, by name.", _LAMP_KIND)
    strip_kind: FrozenDict[Name, StripKind] = tables("Strips of your own, by name.", _STRIP_KIND)
    proof: Several[Proof] = several(
        "What was tested and measured.",
        [{"subject": "tail beacon", "volts": "12 V", "current": "9.8 mA"}],
        most=20_000,
    )
    accept: Several[Accept] = several(
        "Findings accepted.",
        [{"finding": "circuit.step:beacon", "reason": "seen and found slight"}],
        most=5_000,
    )
    limit: Several[LimitChange] = several("Limits changed.", _LIMIT, most=200)

    @property
    def file(self) -> str:
        """The name of the file it was read from."""
        return self._file

    @property
    def text(self) -> str | None:
        """The text it was read from, for positions; None for a build made in memory."""
        return self._text

    @property
    def used(self) -> tuple[str, ...]:
        """The paths of the files that it uses, and of those that they use."""
        return self._used

    @property
    def implied(self) -> FrozenDict[str, str]:
        """Circuits that were understood without being said, and how: by switch, name or supply, or by nothing."""
        return self._implied

    @property
    def shared(self) -> FrozenDict[Path, Shared]:
        """Of what a used file says, by its path here, where it stands."""
        return self._shared

    @property
    def changes(self) -> FrozenDict[str, str]:
        """What it was changed in after it was read, by `what_if`: each key with its value as TOML."""
        return FrozenDict({one.key: one.value for one in self._assigned})

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy with some values changed, as of any table. What the file said is not what such a copy says."""
        copy = super().model_copy(update=update, deep=deep)
        if update:
            copy._tables = None
        return copy


SEVERAL = frozenset({"lamp", "strip", "load", "run", "way", "join", "plug", "proof", "accept", "limit"})
