"""What a builder says, as frozen models: SI inside, names still names.

Every key carries its meaning for editors. Nothing is computed here beyond the one-line forms, which
are rewritten to their table forms before anything looks at them.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr

from postcheck.build import oneline
from postcheck.build.fields import (
    Angle,
    Area,
    BelowWhole,
    CelsiusRange,
    Charge,
    Current,
    Cycles,
    Length,
    OhmsPerMetre,
    Positive,
    Power,
    Rate,
    Resistance,
    Share,
    SignedCelsius,
    SignedVoltage,
    Spread,
    Thin,
    Time,
    Version,
    Voltage,
    one_line,
)

__all__ = [
    "Accept",
    "Board",
    "Build",
    "BuildSection",
    "Cable",
    "Circuit",
    "Die",
    "FuseSpec",
    "Join",
    "JointSize",
    "Lamp",
    "LampKind",
    "Lead",
    "Leg",
    "LimitChange",
    "Load",
    "Output",
    "Passage",
    "Place",
    "Plug",
    "Proof",
    "ResistorSpec",
    "Run",
    "Stock",
    "Strip",
    "StripKind",
    "Supply",
    "Usual",
    "UsualResistor",
    "WireKind",
    "Workshop",
]

# The whole form of what is refused most often, shown wherever it is.
DICE_EXAMPLE = {
    "red": {"circuit": "red", "resistor": "470 ohm"},
    "green": {"circuit": "green", "resistor": "330 ohm"},
}

Name = Annotated[str, Field(min_length=1, max_length=120, description="A name, unique among its kind.")]
MOST_SEGMENTS = 1000
"""Of one strip: 25 m of the finest there is."""
Count = Annotated[int, Field(ge=1, le=10_000)]


class Table(BaseModel):
    """A table of the file: strict, frozen, no key that is not in the list."""

    model_config = ConfigDict(
        strict=True,
        frozen=True,
        extra="forbid",
        allow_inf_nan=False,
        populate_by_name=True,
        use_enum_values=True,
        defer_build=True,  # a validator for Build alone, not one a table: half the time at start
    )


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


class Usual(Table):
    """Defaults for what is not said further down."""

    lead: str | None = Field(default=None, description="Wire of the leads.", examples=["enamel-0.10"])
    run: str | None = Field(default=None, description="Wire of the runs.", examples=["ptfe-28"])
    resistor: Annotated[UsualResistor | None, one_line(oneline.usual_resistor)] = Field(
        default=None, description="Power or size and tolerance of the resistors.", examples=["1/4 W 5 %"]
    )


class FuseSpec(Table):
    """A fuse in the supply's positive lead."""

    rated: Annotated[Current, Positive] = Field(description="Rated current of the fuse.", examples=["500 mA"])
    kind: Literal["quick", "slow", "resettable"] = Field(default="quick", description="How fast it opens.")
    place: Name | None = Field(
        default=None, description="Where it sits, and guards what lies behind; at the supply if not said."
    )


class Supply(Table):
    """Where the power comes from."""

    kind: Literal["adaptor", "battery", "usb", "converter"] = Field(description="What it is.")
    place: Name = Field(description="Where it sits.")
    volts: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Rated output voltage.", examples=["12 V"]
    )
    tolerance: Annotated[Share, BelowWhole] | None = Field(
        default=None, description="Output tolerance, each way.", examples=["5 %"]
    )
    rated: Annotated[Current, Positive] | None = Field(
        default=None, description="Rated output current.", examples=["1 A"]
    )
    fuse: Annotated[FuseSpec | None, one_line(oneline.fuse)] = Field(
        default=None, description="The fuse at the supply.", examples=["500 mA", "500 mA slow"]
    )
    regulation: Share | None = Field(
        default=None,
        description="Stated fall of voltage from no load to rated load; where none is stated, give `unloaded`.",
        examples=["5 %"],
    )
    unloaded: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Adaptor voltage with nothing connected.", examples=["17 V"]
    )
    current_limit: Annotated[Current, Positive] | None = Field(
        default=None, description="The current at which the supply itself gives up.", examples=["1.3 A"]
    )
    socket: str | None = Field(default=None, max_length=60, description="The socket it plugs into.")
    shares_negative_with: Name | None = Field(
        default=None, description="A supply whose negative pole is joined to this one's."
    )
    # batteries
    chemistry: str | None = Field(default=None, description="Cell chemistry.", examples=["alkaline", "lipo"])
    size: str | None = Field(default=None, description="Size of a cell or block.", examples=["aa"])
    cells: Count | None = Field(
        default=None, description="Cells in series; a 9 V block has six.", examples=[3]
    )
    capacity: Annotated[Charge, Positive] | None = Field(
        default=None, description="Capacity of one cell.", examples=["2000 mAh"]
    )
    protected: bool | None = Field(default=None, description="The cell or pack has a protection board.")
    resistance: Resistance | None = Field(
        default=None, description="Internal resistance of the whole supply."
    )
    cut_off: Voltage | None = Field(default=None, description="Voltage at which the pack is taken as empty.")
    runs_for: Time | None = Field(default=None, description="How long it has to last on one charge.")
    # usb
    port: Literal["plain", "type-c", "power-bank"] | None = Field(
        default=None, description="Kind of USB source."
    )
    cc_resistors: bool | None = Field(
        default=None, description="The type C lead or socket has the resistors that make a source deliver."
    )
    switches_off_below: Current | None = Field(
        default=None, description="A power bank switches off below this load.", examples=["60 mA"]
    )
    # converters
    fed_by: Name | None = Field(default=None, alias="from", description="The supply a converter is fed by.")
    efficiency: Annotated[Share, Positive] | None = Field(
        default=None, description="Converter efficiency.", examples=["85 %"]
    )
    least_input: Voltage | None = Field(default=None, description="Least input voltage of a converter.")
    idle: Current | None = Field(default=None, description="What the converter takes with no load.")
    reverse: Voltage | None = Field(default=None, description="Reverse voltage a converter's input stands.")
    isolated: bool = Field(
        default=False, description="A converter whose output does not share the negative pole."
    )


class Passage(Table):
    """A post, spar, arm or hinge that conductors go through."""

    start: Name = Field(alias="from", description="The place at one end.")
    end: Name = Field(alias="to", description="The place at the other end.")
    bore: Annotated[Length, Positive] = Field(description="Inside diameter.", examples=["5 mm", "1/4 in"])
    length: Annotated[Length, Positive] = Field(description="Length of the bore.", examples=["160 mm"])
    free: Annotated[Length, Positive] | None = Field(
        default=None, description="Free length of the wires between their grips."
    )
    slack: Length | None = Field(default=None, description="Spare length left in the passage.")
    turn: Angle = Field(default=0.0, description="How far it turns, each way.", examples=["90 deg"])
    stop: bool | None = Field(default=None, description="A stop keeps it from turning further.")
    cycles: Cycles | None = Field(
        default=None, description="How often it turns.", examples=["10 /day for 10 years"]
    )
    edges: Literal["rounded", "bushed", "sharp"] | None = Field(
        default=None, description="The ends of the bore."
    )
    joints_inside: bool = Field(default=False, description="A joint lies inside.")
    soldered_inside: bool = Field(
        default=False, description="Strands are soldered solid inside the free length."
    )
    bends: Angle = Field(default=0.0, description="All bends of the way through, added up.")
    staggered: bool | None = Field(
        default=None,
        description="All is drawn through together, its joints apart (true) or side by side (false); one by one if not said.",
    )
    bend_radius: Length | None = Field(
        default=None,
        description="Tightest bend of the wires where they leave it, inside radius.",
        examples=["8 mm"],
    )
    to_joint: Length | None = Field(
        default=None, description="From the last grip of the wires to the first joint.", examples=["15 mm"]
    )
    through: list[Name] = Field(
        default_factory=list, max_length=500, description="Leads and runs that also go through, by name."
    )


class Place(Table):
    """Somewhere in the model: a body, a hub, the base."""

    access: Literal["open", "cover", "sealed"] = Field(description="How one gets at it once it is finished.")
    material: str | None = Field(
        default=None, description="What its walls are made of.", examples=["styrene"]
    )
    surface: Annotated[Area, Positive] | None = Field(
        default=None, description="Outside surface of the closed space.", examples=["38 cm2"]
    )
    heat: Power | None = Field(
        default=None, description="What else gives off heat in it.", examples=["0.2 W"]
    )
    opening: Length | None = Field(
        default=None,
        description="How far its cover or hub must come out to get at the joints.",
        examples=["40 mm"],
    )


class Output(Table):
    """A switched output: what it drops, what it stands."""

    limit: Annotated[Current, Positive] | None = Field(
        default=None, description="Most current it stands.", examples=["100 mA"]
    )
    drop: Voltage = Field(default=0.0, description="What it loses when on.", examples=["0.2 V"])
    steady: Annotated[Current, Positive] | None = Field(
        default=None, description="A constant-current output gives this."
    )
    compliance: Voltage | None = Field(
        default=None, description="The voltage a constant-current output needs."
    )


class Board(Table):
    """A flasher, dimmer or driver board with several outputs."""

    place: Name = Field(description="Where it sits.")
    supply: Name = Field(description="The supply it is fed by.")
    channels: Annotated[int, Field(ge=1, le=512)] | None = Field(
        default=None, description="How many outputs it has."
    )
    limit: Annotated[Current, Positive] | None = Field(
        default=None, description="Most current of one output."
    )
    total: Annotated[Current, Positive] | None = Field(
        default=None, description="Most current of all outputs together."
    )
    idle: Current | None = Field(default=None, description="What the board takes for itself.")
    drop: Voltage = Field(default=0.0, description="What an output loses when on.")
    steady: Annotated[Current, Positive] | None = Field(
        default=None, description="Constant-current outputs give this."
    )
    compliance: Voltage | None = Field(
        default=None, description="The voltage a constant-current output needs."
    )
    least_volts: Voltage | None = Field(default=None, description="Least voltage the board works at.")
    most_volts: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Most voltage the board stands."
    )
    reverse: Voltage | None = Field(default=None, description="Reverse voltage the board stands.")


class Circuit(Table):
    """Lamps that are switched together."""

    supply: Name | None = Field(
        default=None, description="The supply; a board's own where it hangs on a board."
    )
    behaviour: Literal["steady", "flash", "dim"] = Field(default="steady", description="What its light does.")
    rate: Annotated[Rate, Positive] | None = Field(
        default=None, description="Flashes a minute or second.", examples=["45 /min"]
    )
    on_share: Share | None = Field(
        default=None, description="Share of the time that it is on.", examples=["12 %"]
    )
    frequency: Annotated[Rate, Positive] | None = Field(
        default=None, description="Frequency of the dimming.", examples=["1 kHz"]
    )
    switched: Literal["positive", "negative"] = Field(
        default="positive", description="The side that is switched."
    )
    own_return: bool = Field(
        default=False, description="It keeps its own return, a line named after it with '-return'."
    )
    output: Annotated[Output | None, one_line(oneline.output)] = Field(
        default=None, description="The output that drives it.", examples=["100 mA, 0.2 V drop"]
    )
    board: Name | None = Field(default=None, description="The board that drives it.")
    channel: Annotated[int, Field(ge=1, le=512)] | None = Field(
        default=None, description="Which output of the board."
    )


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
    place: Name | None = Field(default=None, description="Where it sits; with the lamp if not said.")
    side: Literal["feed", "back"] = Field(default="feed", description="Which leg of the lamp it sits in.")


class JointSize(Table):
    """The thickest spot of something that is threaded: round, or flat where `thin` is given."""

    across: Length = Field(
        description="Diameter, sleeving included; of a flat pack its width.", examples=["2.2 mm"]
    )
    thin: Length | None = Field(default=None, description="Thickness of a flat pack.", examples=["0.8 mm"])


class Leg(Table):
    """One leg of a lead, where the two differ."""

    length: Length | None = Field(default=None, description="Its length.")
    wire: str | None = Field(default=None, description="Its wire.")
    to: Name | None = Field(default=None, description="The place where it joins its line.")
    colour: str | None = Field(default=None, max_length=60, description="Its colour.")


class Lead(Table):
    """The two fine wires of a lamp, as far as their joints."""

    length: Length | None = Field(default=None, description="Length of each leg.", examples=["220 mm"])
    wire: str | None = Field(default=None, description="Wire of both legs.", examples=["enamel-0.10"])
    wires: list[str] | None = Field(
        default=None, min_length=2, max_length=2, description="Wire of feed and back leg."
    )
    to: Name | None = Field(default=None, description="The place where it joins its lines.")
    colours: list[Annotated[str, Field(max_length=60)]] | None = Field(
        default=None, min_length=1, max_length=8, description="Colours: feed first, then back."
    )
    feed: Leg | None = Field(default=None, description="The feed leg, where it differs.")
    back: Leg | None = Field(default=None, description="The back leg, where it differs.")
    spare: Length | None = Field(
        default=None, description="Spare length left coiled at the joint.", examples=["80 mm"]
    )
    joint: Annotated[JointSize | None, one_line(oneline.joint)] = Field(
        default=None,
        description="What sits on it when it is threaded and has to pass: lamp, resistor or sleeved joint.",
        examples=["2.2 mm"],
    )
    label: str | None = Field(
        default=None, max_length=120, description="What is written on its flag; kept, not judged."
    )
    fixed: bool = Field(default=False, description="Painted over or trapped; kept, not judged.")


class Die(Table):
    """One colour of a lamp with several."""

    circuit: Name = Field(description="The circuit that feeds this colour.")
    resistor: Annotated[ResistorSpec | None, one_line(oneline.resistor)] = Field(
        default=None, description="Its resistor."
    )
    wanted: Current | None = Field(default=None, description="The current it is meant to have.")


class Lamp(Table):
    """A lamp, or several alike."""

    name: Name | None = Field(default=None, description="Its name; made from circuit and place if not given.")
    circuit: Name | None = Field(default=None, description="The circuit it hangs on.")
    kind: str = Field(max_length=120, description="From the catalogue, or a lamp_kind of this file.")
    place: Name = Field(description="Where it sits.")
    series: Annotated[int, Field(ge=1, le=200)] = Field(
        default=1, description="Lamps one after the other in a string."
    )
    parallel: Annotated[int, Field(ge=1, le=1000)] = Field(default=1, description="Strings side by side.")
    one_resistor: bool = Field(default=False, description="The strings share a single resistor.")
    matched: bool = Field(default=False, description="Parallel lamps come from one forward-voltage bin.")
    places: list[Name] | None = Field(
        default=None, min_length=1, max_length=200, description="Where each lamp of a chain sits."
    )
    links: list[Annotated[Lead, one_line(oneline.lead)]] | None = Field(
        default=None,
        max_length=200,
        description="The wires between the lamps of a chain.",
        examples=[["120 mm"]],
    )
    resistor: Annotated[ResistorSpec | None, one_line(oneline.resistor)] = Field(
        default=None, description="The resistor of each string.", examples=["1k5 1/4 W at keel"]
    )
    lead: Annotated[Lead | None, one_line(oneline.lead)] = Field(
        default=None, description="Its lead.", examples=["220 mm to keel, red/black"]
    )
    dice: dict[str, Die] | None = Field(
        default=None,
        description="For a lamp of several colours: each colour's circuit and resistor.",
        examples=[DICE_EXAMPLE],
    )
    wanted: Current | None = Field(
        default=None, description="The current it is meant to have: dim on purpose."
    )
    behaviour: Literal["steady", "flash", "dim"] | None = Field(
        default=None, description="What its light should do, where that is not its circuit's behaviour."
    )
    backwards: bool = Field(
        default=False, description="Wired the wrong way round, on purpose or for a what-if."
    )


class Strip(Table):
    """A cut length of LED strip."""

    name: Name | None = Field(default=None, description="Its name.")
    circuit: Name = Field(description="The circuit it hangs on.")
    kind: str = Field(max_length=120, description="From the catalogue, or a strip_kind of this file.")
    place: Name = Field(description="Where it sits.")
    length: Annotated[Length, Positive] | None = Field(
        default=None, description="Its cut length.", examples=["150 mm"]
    )
    segments: Annotated[int, Field(ge=1, le=MOST_SEGMENTS)] | None = Field(
        default=None, description="How many whole segments."
    )
    trace: OhmsPerMetre | None = Field(
        default=None, description="Measured resistance of one trace.", examples=["0.5 ohm/m"]
    )
    far_end: Name | None = Field(
        default=None, description="The place that is fed from its far end.", examples=["bow"]
    )
    through: Annotated[Current, Positive] | None = Field(
        default=None, description="Most current its traces stand."
    )
    lead: Annotated[Lead | None, one_line(oneline.lead)] = Field(default=None, description="Its lead.")


class Load(Table):
    """Anything else that takes current."""

    name: Name = Field(description="Its name.")
    kind: Literal["motor", "sound", "inverter", "pixels", "other"] = Field(
        default="other", description="What it is."
    )
    circuit: Name = Field(description="The circuit it hangs on.")
    place: Name = Field(description="Where it sits.")
    least: Current | None = Field(default=None, description="Least current.")
    typical: Current = Field(description="Typical current.")
    most: Current | None = Field(default=None, description="Most current.")
    starting: Current | None = Field(default=None, description="Current at the start.")
    lowest: Voltage | None = Field(default=None, description="Lowest voltage it works at.")
    highest: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Highest voltage it stands."
    )
    reverse: Voltage | None = Field(default=None, description="Reverse voltage it stands.")
    open_volts: Voltage | None = Field(default=None, description="Voltage a booster or inverter puts out.")
    lead: Annotated[Lead | None, one_line(oneline.lead)] = Field(default=None, description="Its lead.")


class Run(Table):
    """A conductor of one line between places."""

    name: Name | None = Field(default=None, description="Its name; made from line and ends if not given.")
    line: Name | None = Field(default=None, description="The line it carries.", examples=["running", "main-"])
    ends: list[Name] = Field(
        min_length=2, max_length=2, description="The places it joins.", examples=[["base", "keel"]]
    )
    length: Length | None = Field(default=None, description="Its length.", examples=["260 mm"])
    wire: str | None = Field(default=None, description="Its wire.", examples=["ptfe-28"])
    colour: str | None = Field(default=None, max_length=60, description="Its colour.")
    conductors: Annotated[int, Field(ge=1, le=200)] = Field(
        default=1, description="Conductors side by side on the line."
    )
    spare: bool = Field(default=False, description="Laid in reserve; carries nothing.")
    carries: Literal["power", "data", "sound"] = Field(
        default="power", description="Data and sound count in the bundle, not in the network."
    )
    cable: Name | None = Field(default=None, description="The sheathed cable it lies in.")
    body: bool = Field(default=False, description="The metal of the post itself is the conductor.")
    ohms: Resistance | None = Field(
        default=None, description="Its measured resistance, instead of wire and length."
    )
    through: list[Name] | None = Field(
        default=None, max_length=50, description="Passages, where the ends do not tell."
    )
    joint: Annotated[JointSize | None, one_line(oneline.joint)] = Field(
        default=None,
        description="A joint made before it is threaded, which has to pass: diameter with its sleeving, or a flat pack.",
        examples=["2.2 mm", "4 x 0.8 mm"],
    )
    fixed: bool = Field(default=False, description="Painted over or trapped; kept, not judged.")
    label: str | None = Field(
        default=None, max_length=120, description="What is written on its flag; kept, not judged."
    )


class Join(Table):
    """A joint at which different lines are joined into one."""

    place: Name = Field(description="Where the joint is.")
    lines: list[Name] = Field(
        min_length=2, max_length=100, description="The lines joined there.", examples=[["running", "cabin"]]
    )


class Cable(Table):
    """A sheathed cable: counted once in a bore."""

    outside: Annotated[Length, Positive] = Field(description="Its outside diameter.", examples=["3 mm"])


class Plug(Table):
    """A plug and its socket."""

    name: Name = Field(description="Its name.")
    ends: list[Name] = Field(
        min_length=2,
        max_length=2,
        description="Supply side first, then the other side.",
        examples=[["stand", "saddle"]],
    )
    pins: list[Name] = Field(
        min_length=1,
        max_length=200,
        description="The line on each pin, in order.",
        examples=[["running", "main-"]],
    )
    rated: Annotated[Current, Positive] | None = Field(default=None, description="Rated current of one pin.")
    contact: Resistance | None = Field(
        default=None, description="Contact resistance of one pin.", examples=["20 mohm"]
    )
    diameter: Length | None = Field(
        default=None, description="What has to pass when it is threaded.", examples=["6 mm"]
    )
    through: list[Name] = Field(
        default_factory=list, max_length=20, description="Passages it has to be threaded through."
    )
    keyed: bool | None = Field(default=None, description="It goes together one way only.")
    part_way: bool = Field(default=False, description="It can sit half way, some pins joined and some not.")
    bare_pins: Literal["supply", "model", "none"] | None = Field(
        default=None, description="Which side shows bare pins when it is apart."
    )


class WireKind(Table):
    """A wire that the catalogue does not have."""

    strands: Count = Field(default=1, description="Strands; 1 is solid.")
    strand: Annotated[Length, Positive, Thin] = Field(
        description="Diameter of a strand.", examples=["0.1 mm"]
    )
    outside: Annotated[Length, Positive, Thin] = Field(
        description="Greatest outside diameter.", examples=["0.6 mm"]
    )
    ohms_per_metre: Annotated[OhmsPerMetre, Positive] | None = Field(
        default=None, description="Resistance; worked out for copper if not said."
    )
    enamelled: bool = Field(default=False, description="Enamelled winding wire.")
    stands: SignedCelsius = Field(default=80.0, description="Temperature its insulation stands.")
    volts: Voltage | None = Field(default=None, description="Voltage its insulation stands.")
    source: str | None = Field(default=None, max_length=300, description="Where the figures come from.")


class LampKind(Table):
    """An LED or filament lamp that the catalogue does not have."""

    kind: Literal["led", "filament"] = Field(default="led", description="What it is.")
    colour: str | None = Field(default=None, description="Its colour.")
    forward: Annotated[Spread, Positive] | None = Field(
        default=None, description="Forward voltage: least/typical/most.", examples=["2.9/3.2/3.6 V"]
    )
    at: Annotated[Current, Positive] | None = Field(
        default=None, description="The current that the forward voltage belongs to."
    )
    low_forward: Annotated[Voltage, Positive] | None = Field(
        default=None, description="A second point of the curve: voltage ..."
    )
    low_at: Annotated[Current, Positive] | None = Field(
        default=None, description="... at this lower current."
    )
    rated: Annotated[Current, Positive] = Field(description="Rated continuous current.")
    pulse: Annotated[Current, Positive] | None = Field(default=None, description="Rated pulse current.")
    pulse_width: Annotated[Time, Positive] | None = Field(
        default=None, description="Longest pulse that rating holds for."
    )
    pulse_share: Annotated[Share, Positive] | None = Field(
        default=None, description="Largest on share that rating holds for."
    )
    reverse: Voltage | None = Field(default=None, description="Reverse voltage it stands.")
    per_kelvin: SignedVoltage | None = Field(
        default=None, description="Change of forward voltage per kelvin.", examples=["-2 mV"]
    )
    volts: Annotated[Voltage, Positive] | None = Field(
        default=None, description="Rated voltage of a filament lamp."
    )
    source: str | None = Field(default=None, max_length=300, description="Where the figures come from.")


class StripKind(Table):
    """A strip that the catalogue does not have."""

    volts: Annotated[Voltage, Positive] = Field(description="Rated voltage.")
    segment: Annotated[Length, Positive] = Field(
        description="Length of a segment, mark to mark.", examples=["50 mm"]
    )
    series: Annotated[int, Field(ge=1, le=100)] = Field(
        description="LEDs in series in one segment.", examples=[3]
    )
    ohms: Resistance = Field(description="The resistor of one segment.")
    kind: str = Field(max_length=120, description="The LED on it, from the catalogue or this file.")
    strings: Annotated[int, Field(ge=1, le=50)] = Field(
        default=1, description="Strings side by side in one segment."
    )
    source: str | None = Field(default=None, max_length=300, description="Where the figures come from.")


class Stock(Table):
    """What is on the builder's shelf: remedies are chosen from it."""

    series: Literal["E12", "E24", "E96"] = Field(default="E12", description="Resistor series kept.")
    wires: list[str] | None = Field(
        default=None, max_length=200, description="Wires kept; not chosen from yet."
    )


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
        default_factory=list, max_length=20_000, description="What was tested; kept, not judged."
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


# The tables of which there may be several without a name: those with double brackets.
SEVERAL = frozenset({"lamp", "strip", "load", "run", "join", "plug", "proof", "accept", "limit"})
