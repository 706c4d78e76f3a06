"""What a build is made of, with its data: plain records of lamps, strips, loads, leads and runs."""

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal, NamedTuple, Self

from postcheck.description.consumers import Kind, Said
from postcheck.description.diodes import DiodeData
from postcheck.description.models import Lamp, Lead, Load, Run, Strip
from postcheck.description.problems import Path
from postcheck.physics import copper
from postcheck.wiring.data import DieData, WireData
from postcheck.wiring.nets import Driver

MOTOR_STARTS = 5.0
"""A small brushed motor takes three to six times its load current while it starts or is held fast, where the file does not say; from memory."""
Share = Literal["nothing", "return", "lead"]


class Piece(NamedTuple):
    """One resistor of those in series: ohm, watt (None: not said). `track`: of a trimmer the whole of it, ohm; `ohms` is what is turned in."""

    ohms: float
    power: float | None
    track: float | None = None

    @property
    def rated_ohms(self) -> float:
        """The resistance that its power rating is for, ohm: a part of a track stands the current of the whole track."""
        return self.ohms if self.track is None else self.track


class ResistorPart(NamedTuple):
    """A resistor, or several in series: ohm, relative tolerance, watt (None: not said), the place that it warms.

    Of several `power` is what all together dissipate at the current that the first of them reaches its rating with.
    `pieces`: each of them; none where there is but one plain resistor. `more`: what a trimmer that nobody says the setting of adds at most, ohm.
    """

    ohms: float
    tolerance: float
    power: float | None
    place: str
    side: Literal["supply", "return"]
    pieces: tuple[Piece, ...] = ()
    more: float = 0.0

    @property
    def each(self) -> tuple[Piece, ...]:
        """Every resistor in it."""
        return self.pieces or (Piece(self.ohms, self.power),)

    @property
    def trimmer(self) -> Piece | None:
        """The trimmer in it, the first of several."""
        return next((piece for piece in self.pieces if piece.track is not None), None)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Whatever takes current: the strings of a lamp on one circuit, a strip or a load, with what the house asks of each.

    `kind`: its section of the file; `said`: its table there; `entry`: its name there. `places`: of the dice along one
    string, in order. `dice`: of its first string; none of electronics, which take what they need at any volts. `parallel`
    strings lie side by side; `share`: what the leads of these share, `lead` where there is but one.

    Of electronics: `least_given`, `most_given`: the file says what they take at least, and at most; else that is what they
    usually take. `starting`: what they take while they start, A; `reverse`: the reverse voltage that they withstand, V,
    infinite where nothing happens, None where nobody says.
    """

    kind: Kind
    name: str
    entry: str
    path: Path
    said: Said
    circuit: str
    place: str
    places: tuple[str, ...]
    supply_leg: LegPart
    return_leg: LegPart
    links: tuple[LegPart, ...] = ()
    dice: tuple[DieData, ...] = ()
    parallel: int = 1
    resistor: ResistorPart | None = None
    resistor_path: Path = ()
    one_resistor: bool = False
    share: Share = "lead"
    backwards: bool = False
    least_given: bool = True
    most_given: bool = True
    starting: float | None = None
    reverse: float | None = None

    @property
    def lead(self) -> Lead | None:
        """Its lead, as the file has it; None where it is soldered straight to its lines."""
        return self.said.lead

    @property
    def warms(self) -> tuple[str, ...]:
        """The places that its dice, its resistor and the joints of its lead are at."""
        there = (self.place, *self.places, self.supply_leg.to, self.return_leg.to)
        at = (*there, self.resistor.place) if self.resistor is not None else there
        return tuple(dict.fromkeys(place for place in at if place))

    @property
    def shared_resistor(self) -> bool:
        """Whether several strings have one resistor together."""
        return self.one_resistor and self.parallel > 1

    @property
    def strings(self) -> tuple[tuple[DieData, ...], ...]:
        """The dice of each sort of string in it."""
        return (self.dice,) if self.dice else ()

    @property
    def resistors(self) -> int:
        """How many resistors its strings have: one for all of them, or one each."""
        return 1 if self.one_resistor else self.parallel

    @property
    def rated(self) -> float:
        """The current that a string of it is rated for, A: that of its weakest die; 0.0 of electronics."""
        return min((die.rated for die in self.dice), default=0.0)

    @property
    def beyond(self) -> float:
        """What electronics may take above what they usually do, A; strings only spread about that."""
        return 0.0

    def surge(self, motor: float = 0.0) -> float:  # noqa: ARG002 - of electronics alone
        """What it takes more while it starts, A; a motor of which nothing is said `motor` times what it takes at most."""
        return 0.0

    def spread(self, load: float, free: float, filament: float) -> Self:  # noqa: ARG002 - of electronics and filaments alone
        """As it may come, by these shares: electronics where the file gives only what they usually take, and filaments."""
        return self


@dataclass(frozen=True, slots=True, kw_only=True)
class LampPart(Part):
    """The strings of one lamp entry on one circuit. `colour`: it is one of several colours that share the return leg.

    `wanted_range`: the least and the most that a string is meant to have, A; equal where the file gives one current.
    """

    said: Lamp
    matched: bool
    wanted_range: tuple[float, float] | None
    behaviour: str | None
    colour: bool = False

    @property
    def makeup(self) -> tuple[object, ...]:
        """Everything about it but its name and its path in the file."""
        return (
            self.circuit, self.place, self.places, self.supply_leg, self.return_leg, self.links, self.dice, self.parallel,
            self.resistor, self.one_resistor, self.share, self.backwards, self.starting, self.reverse, self.matched,
            self.wanted_range, self.behaviour, self.colour,
        )  # fmt: skip

    @property
    def flashes(self) -> float | None:
        """How often a chip in one of its dice makes a string flash by itself, Hz; None where none does."""
        return next((die.flashes for die in self.dice if die.flashes is not None), None)

    @property
    def string_names(self) -> frozenset[tuple[str, int]]:
        """Its strings, as a state names them."""
        return frozenset((self.name, number) for number in range(self.parallel))

    @property
    def wanted(self) -> float | None:
        """The current that it is meant to have, A; the middle of a range."""
        return None if self.wanted_range is None else sum(self.wanted_range) / 2.0

    def out_of(self, place: str) -> str | None:
        """Where its resistor can sit instead of in a place: where its lead ends, or beside a lamp outside; None where nowhere."""
        if self.resistor is None or self.resistor.place != place:
            return None
        outside = self.supply_leg.to if self.supply_leg.to != place else self.place
        return None if outside == place else outside

    def spread(self, load: float, free: float, filament: float) -> Self:  # noqa: ARG002 - of filaments
        """With the spread of filaments, where it is one."""
        if not filament or not self.dice[0].filament_volts:
            return self
        return replace(self, dice=tuple(die._replace(rated_spread=filament) for die in self.dice))


@dataclass(frozen=True, slots=True, kw_only=True)
class StripPart(Part):
    """A strip: whole segments, each of `chains` of dice behind a resistor in ohm; trace in ohm/m or unmeasured."""

    said: Strip
    far_end: str | None
    volts: float
    segment: float
    length: float
    segments: int
    chains: tuple[tuple[tuple[DieData, ...], float], ...]
    trace: float | None
    through: float | None
    source: str

    @property
    def strings(self) -> tuple[tuple[DieData, ...], ...]:
        """The dice of each chain of a segment."""
        return tuple(dice for dice, _ in self.chains)


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadPart(Part):
    """Electronics, or a motor: currents in A, volts in V; of a motor the outside surface of its `case` in m2, and the `diode` across it."""

    least: float
    typical: float
    most: float
    lowest: float | None
    highest: float | None
    motor: bool
    case: float | None = None
    held_off: bool = False
    never_stalls: bool = False
    diode: DiodeData | None = None

    @property
    def beyond(self) -> float:
        """What it may take above what it usually does, A."""
        return self.most - self.typical

    @property
    def pixels(self) -> bool:
        """Whether it is LEDs with a chip each, that do what their data say."""
        return isinstance(self.said, Load) and self.said.kind == "pixels"

    @property
    def sound(self) -> bool:
        """Whether it is a sound board."""
        return isinstance(self.said, Load) and self.said.kind == "sound"

    @property
    def stays_at_most(self) -> bool:
        """Whether it can take its most for good: a motor is judged held fast, and the peaks of sound last milliseconds."""
        return not self.motor and not self.sound and self.beyond > 0.0

    def surge(self, motor: float = 0.0) -> float:
        """What it takes more while it starts, A."""
        usual = motor * self.most if self.motor else 0.0
        return max(0.0, (usual if self.starting is None else self.starting) - self.most)

    def spread(self, load: float, free: float, filament: float) -> Self:  # noqa: ARG002 - of electronics
        """With the usual spread of a load, where the file does not give its own; a motor may run free, and takes `free` of it."""
        least = self.least if self.least_given else self.typical * (1.0 - load)
        if self.motor:
            least = min(least, self.typical * free)
        most = self.most if self.most_given else self.typical * (1.0 + load)
        return replace(self, least=least, most=most)


def unlimited(part: Part, driver: Driver) -> bool:
    """Whether nothing but wire limits an LED string: no resistor, none inside it either, no constant-current output."""
    return (
        isinstance(part, LampPart)
        and part.resistor is None
        and bool(part.dice)
        and part.dice[0].made_for is None
        and not part.backwards
        and driver.steady is None
    )


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


class Unknown(NamedTuple):
    """What the file does not say of a part: as a question, with what to type (see `NotJudged`)."""

    subject: str
    what: str
    missing: str
    vital: bool
    lines: tuple[str, ...] = ()
    under: Path = ()


@dataclass(frozen=True)
class Parts:
    """Everything of a build that carries current or lies in a bore. `all`: what takes it, in the order of its kinds.

    `apart`: what will take current, but of which too little is known for the network. It is in `named` and `every`, and in
    no other list.
    """

    all: tuple[Part, ...]
    runs: tuple[RunPart, ...]
    unknown: tuple[Unknown, ...] = ()
    apart: tuple[Part, ...] = ()

    @cached_property
    def named(self) -> dict[str, Part]:
        """What takes current by name."""
        return {part.name: part for part in self.every}

    @property
    def every(self) -> tuple[Part, ...]:
        """All of that, what is apart last."""
        return (*self.all, *self.apart)

    @cached_property
    def likeness(self) -> dict[str, int]:
        """By the name of each lamp, a number that electrically equal lamps share."""
        numbers: dict[tuple[object, ...], int] = {}
        return {lamp.name: numbers.setdefault(lamp.makeup, len(numbers)) for lamp in self.lamps}

    @cached_property
    def lamps(self) -> tuple[LampPart, ...]:
        """The lamps of it."""
        return tuple(part for part in self.all if isinstance(part, LampPart))

    @cached_property
    def strips(self) -> tuple[StripPart, ...]:
        """The strips of it."""
        return tuple(part for part in self.all if isinstance(part, StripPart))

    @cached_property
    def loads(self) -> tuple[LoadPart, ...]:
        """The loads of it."""
        return tuple(part for part in self.all if isinstance(part, LoadPart))

    def with_part(self, part: Part) -> Self:
        """The same with another part in place of the one of its name."""
        return replace(self, all=tuple(part if one.name == part.name else one for one in self.all))
