"""What the survey found, as plain frozen records. Currents in A, volts in V, lengths in m, heat in W, rises in K."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from postcheck.build.models import Passage
from postcheck.physics import bundle
from postcheck.physics.threading import Thick
from postcheck.physics.twist import TwistStrain
from postcheck.plain import quoted
from postcheck.survey.parts import LampPart, LoadPart, Path, RunPart, StripPart, WireData

__all__ = [
    "BatteryFigures",
    "CircuitFigures",
    "ConductorEnd",
    "ConductorFault",
    "Electrics",
    "EndBend",
    "FaultHeat",
    "LampFigures",
    "LoadFigures",
    "Member",
    "PassageFigures",
    "PlaceFigures",
    "PlugFault",
    "PlugFigures",
    "Pull",
    "RunFigures",
    "SiblingFault",
    "Step",
    "StripFigures",
    "SupplyFigures",
    "SwapFault",
    "Threaded",
    "Threading",
]


class LampFigures(NamedTuple):
    """One lamp entry (one colour of it): current through one string.

    `nominal`: all on, typical parts. `lowest` and `highest`: stacked worst of all states. `likely_lowest` and
    `likely_highest`: root of the sum of squares of the single deviations.
    `shares`: the nominal currents of strings that share one resistor, the first with the least, the others with the
    typical forward voltage. `feed_volts`: nominal voltage between its joints. `loss`: nominal volts lost between
    supply and joints. `rated`: one die's continuous rating at its hottest air, `hottest` in degC; `rated_outside`: at
    the hottest air of the room. `alone`: the most with nothing else on the lines. `resistor_nominal`,
    `resistor_highest`: heat in its resistor while it is lit, `resistor_share`: how much of that it has to stand.
    """

    part: LampPart
    nominal: float
    lowest: float
    highest: float
    alone: float
    likely_lowest: float
    likely_highest: float
    shares: tuple[float, ...]
    feed_volts: float
    loss: float
    rated: float
    rated_outside: float
    hottest: float
    resistor_nominal: float
    resistor_highest: float
    string_volts: float
    on_share: float
    resistor_share: float

    @property
    def name(self) -> str:
        """The lamp's name, with the colour where it has several."""
        return self.part.name

    @property
    def shared_resistor(self) -> bool:
        """Whether several strings have one resistor together."""
        return self.part.one_resistor and self.part.parallel > 1

    @property
    def resistor_load(self) -> float:
        """What its resistor has to stand at its highest, W.

        Behind a shared one the worst string takes the others' current, so all of them together take what they usually do.
        """
        return (
            self.resistor_nominal if self.shared_resistor else self.resistor_highest
        ) * self.resistor_share


class SupplyFigures(NamedTuple):
    """Load of a supply: `nominal` all on, `highest` at the highest corner, `average` over time, rating or None.

    `path`: the document path. `volts`: typical open voltage; `highest_volts`: at its highest. `reverse`: current that
    another supply pushes into it (0: none). `starting`: load while motors start and filaments are cold (0: none do).
    """

    name: str
    path: Path
    nominal: float
    highest: float
    average: float
    rated: float | None
    volts: float
    highest_volts: float
    reverse: float
    starting: float = 0.0

    @property
    def headroom(self) -> float | None:
        """The free share of the rating at the highest load."""
        return None if not self.rated else 1.0 - self.highest / self.rated


class RunFigures(NamedTuple):
    """A run: nominal current and drop of one of its conductors, and the highest current."""

    part: RunPart
    current: float
    drop: float
    highest: float


class CircuitFigures(NamedTuple):
    """A circuit: nominal and highest current; its limits are in the build. `volts`: nominal, behind its output."""

    name: str
    nominal: float
    highest: float
    behaviour: str


class StripFigures(NamedTuple):
    """A strip: nominal and highest current into it, volts at its first and last segment, most through its traces."""

    part: StripPart
    nominal: float
    highest: float
    first_volts: float
    last_volts: float
    lowest_volts: float
    through: float
    segment_current: float
    segment_highest: float

    @property
    def name(self) -> str:
        """The strip's name."""
        return self.part.name


class LoadFigures(NamedTuple):
    """A load: volts at its terminals, nominal, lowest, and while it starts; `starts` is false where they are too few."""

    part: LoadPart
    volts: float
    lowest_volts: float
    start_volts: float | None


class PlugFigures(NamedTuple):
    """A plug: the currents through its pins in their order."""

    name: str
    position: int
    nominal: tuple[float, ...]
    highest: tuple[float, ...]


class Step(NamedTuple):
    """What a steady lamp does when a flashing circuit switches on: relative change of its current.

    `flasher` is None for all of them at once.
    """

    lamp: str
    flasher: str | None
    share: float
    rate: float | None


class SiblingFault(NamedTuple):
    """Strings side by side on a constant-current output, when one of them fails: what the worst of the others gets.

    `how`: open or short (one of its dice). `lamp`: the one that fails; `other` gets `current`, A, and is rated `rated`.
    """

    circuit: str
    how: str
    lamp: str
    other: str
    current: float
    rated: float


class PlugFault(NamedTuple):
    """What a plug put in wrongly, or a broken run, does to one part. `how`: crossed, part way or broken.

    `kind`: lamp, strip, board, load, converter; short (a supply that is shorted) or unsolved (no currents found, and
    `part` says which supplies are joined). `current` A against `rated`; `reverse`: the most volts the wrong way round,
    of a string those that one die of several (`string`) may take, against `reverse_stood`; `volts` the right way round.
    """

    plug: str
    how: str
    kind: str
    part: str
    current: float = 0.0
    rated: float = 0.0
    reverse: float = 0.0
    reverse_stood: float | None = None
    volts: float = 0.0
    string: bool = False


class SwapFault(NamedTuple):
    """Two adaptors with one socket: what the worst lamp (None: none) of the lower one gets from the higher one, A."""

    lower: str
    higher: str
    lamp: str | None
    current: float
    rated: float


@dataclass(frozen=True, slots=True)
class Electrics:
    """Everything the network tells. `failed`: states without a solution and why; no figure of them is given.

    `heats`: place, part and W averaged over time. `proven`: whether the corners of the lamps are shown to be the worst
    (a tree of runs with lamps alone), or are the worst of those tried. `joined`: pairs of supplies with both poles joined
    by nothing but wire; `shorted`: supplies whose own two poles are. `widest`: the highest voltage between any two points, V.
    `potentials`: of a line at a place, V, all on and typical; `drawn`: what each converter takes of its source, nominal
    and highest, A.
    """

    lamps: dict[str, LampFigures] = field(default_factory=dict)
    supplies: dict[str, SupplyFigures] = field(default_factory=dict)
    runs: dict[str, RunFigures] = field(default_factory=dict)
    circuits: dict[str, CircuitFigures] = field(default_factory=dict)
    strips: dict[str, StripFigures] = field(default_factory=dict)
    loads: dict[str, LoadFigures] = field(default_factory=dict)
    plugs: dict[str, PlugFigures] = field(default_factory=dict)
    boards: dict[str, tuple[float, float]] = field(default_factory=dict)
    steps: tuple[Step, ...] = ()
    failed: tuple[tuple[str, str], ...] = ()
    no_start: tuple[tuple[str, str], ...] = ()
    conflict: tuple[str, ...] = ()
    heats: tuple[tuple[str, str, float], ...] = ()
    siblings: tuple[SiblingFault, ...] = ()
    swaps: tuple[SwapFault, ...] = ()
    proven: bool = True
    joined: tuple[tuple[str, str], ...] = ()
    shorted: tuple[str, ...] = ()
    widest: float = 0.0
    plug_faults: tuple[PlugFault, ...] = ()
    pole_faults: tuple[PlugFault, ...] = ()
    potentials: dict[tuple[str, str], float] = field(default_factory=dict)
    drawn: dict[str, tuple[float, float]] = field(default_factory=dict)


class FaultHeat(NamedTuple):
    """How hot a short makes a conductor. Temperatures in degC; None: it melts.

    `lasting`: the largest current in it that nothing is sure to end, A. `settled`: where it settles at that; `stands`:
    what its insulation stands for good. `peak`: the hottest it gets until a fuse opens; `for_now`: what its insulation
    stands for so long.
    """

    lasting: float
    settled: float | None
    peak: float | None
    stands: float
    for_now: float

    @property
    def hurt(self) -> bool:
        """Whether its insulation gets hotter than it stands, for good or until the fuse opens."""
        return _above(self.settled, self.stands) or _above(self.peak, self.for_now)

    @property
    def hottest(self) -> float | None:
        """The hottest it gets, or None where it melts."""
        if self.peak is None or self.settled is None:
            return None
        return max(self.peak, self.settled)


class ConductorFault(NamedTuple):
    """A short at the far end of a conductor: a run, or a leg of a lead with nothing ahead of it that limits.

    `current`: the least that flows (lowest voltage, whole way, no help from the supply's limit). `fuse`: the rated
    current of the fuse in its way, or None. `opens`: whether that current surely opens it. `sure`: what the conductor
    suffers from what the supply is sure to give; `most`: from the most it may give before it gives up by itself.
    """

    name: str
    kind: str
    path: Path
    wire: WireData
    supply: str
    current: float
    fuse: float | None
    opens: bool
    sure: FaultHeat
    most: FaultHeat
    leg: str = ""

    @property
    def hurt(self) -> bool:
        """Whether it surely overheats."""
        return self.sure.hurt

    @property
    def unsure(self) -> bool:
        """Whether it overheats only if the supply gives more than it is rated for."""
        return self.most.hurt and not self.sure.hurt


def _above(celsius: float | None, most: float) -> bool:
    return celsius is None or celsius > most


class ConductorEnd(NamedTuple):
    """One end of a conductor at a place: a leg of a lead, or a conductor of a run.

    `line`: all that is electrically one with it there, by one name; "" where it carries nothing. `kind`: lamp, strip, load
    or run. `leg`: feed or back. `colour` and `label` as the file words them, `letters` by IEC 60757, `wire` by its name;
    "" where the file says none. `own_label`: the label hangs on this conductor, not on both legs of its lead.
    `positive`: the side it is on; None for what carries no power. `cable`: the sheath that it comes out of.
    """

    place: str
    line: str
    kind: str
    name: str
    path: Path
    leg: str = ""
    colour: str = ""
    letters: str = ""
    wire: str = ""
    label: str = ""
    own_label: bool = False
    positive: bool | None = None
    cable: str = ""


class Member(NamedTuple):
    """One thing in a bore: a conductor, a leg of a lead (`leg`: feed, back or link) or a sheathed cable.

    `colour`: as the file words it, or None.
    """

    name: str
    kind: str
    path: Path
    diameter: float
    wire: WireData | None
    length: float | None
    leg: str = ""
    colour: str | None = None

    @property
    def called(self) -> str:
        """What it is called in a sentence; a lead is not the lamp it belongs to."""
        return f"the lead of {quoted(self.name)}" if self.kind == "lead" else quoted(self.name)


class Threaded(NamedTuple):
    """One thing to be threaded: its thickest spot, the wires it leaves in the bore, and whether it goes past the others.

    `kind`: run, cable, lead or plug. `room`: m, the thickest round thing that surely passes in its place; given for the
    first of those that do worst.
    """

    name: str
    kind: str
    path: Path
    thick: Thick
    wires: tuple[float, ...]
    verdict: str
    room: float | None = None


class Threading(NamedTuple):
    """What has to pass while other wires lie in the bore, first to last.

    `way`: "one by one" in the best order, "apart" or "abreast" drawn through together. `verdict`: of the whole; "cannot
    fit" is proven, one by one for every order. `free`: the order does not matter. `rest`: other wires come with it.
    `tight`: what passes, but with less room than anything is drawn with.
    """

    way: str
    verdict: str
    things: tuple[Threaded, ...]
    free: bool = True
    rest: bool = True
    tight: Threaded | None = None

    @property
    def easy(self) -> bool:
        """Whether all passes with some room."""
        return self.verdict == bundle.FITS and self.tight is None

    @property
    def stuck(self) -> Threaded | None:
        """The first of those that do worst; None where all pass."""
        wrong = [thing for thing in self.things if thing.verdict != bundle.FITS]
        return next((thing for thing in wrong if thing.verdict == self.verdict), wrong[0] if wrong else None)


class Pull(NamedTuple):
    """The weakest wire drawn through alone: pull at its head and most that it stands unharmed, N; breaking load, N."""

    member: Member
    force: float
    stands: float
    breaks: float
    bends_borne: float


class EndBend(NamedTuple):
    """The tightest bend at the ends, for the wire of which it asks most, and for the one whose copper it strains most.

    `member`: the widest, and `diameters`: inside radius over its outside diameter. `tired`: the other one, `strain` of
    its bend, `swing` the range as the turn carries that round it, `breaks` the least at which its copper is sure to hold,
    `life` turnings, lower, upper.
    `moves`: whether each turning flexes it; None where the passage turns and the file does not say.
    """

    member: Member
    diameters: float
    tired: Member
    strain: float
    swing: float
    breaks: float
    life: tuple[float, float]
    moves: bool | None


class PassageFigures(NamedTuple):
    """A passage: what lies in it, how full it is, and what its turning does.

    `fill`: share of area. `smallest_bore`: smallest enclosing bore found, m. `verdict`: fits, cannot fit or not found.
    `fill_limit`: the most share for this count. `strain`: per member, the equivalent strain range of one full turning.
    `life`: per member, cycles it lives (lower, upper). `cycles`: those needed. `slack_needed` m. `centres`: of
    each member in the slimmest bundle found, m. `unknown`: what goes through with a wire that nobody knows. `strains`:
    the parts of each strain. `slack` m: given, or what hands leave. `turn_borne` rad: the most turn each way with which
    every wire lives for the cycles by every relation, and which throws no loop. `loop_turn` rad: where a straight rod
    loops. `weak`: N, where the thinnest wire, enamelled before others, stays stretched and where it breaks. `grip` m: least distance from the last grip to a joint.
    """

    name: str
    passage: Passage
    path: Path
    members: tuple[Member, ...]
    fill: float
    smallest_bore: float
    verdict: str
    strain: tuple[float, ...]
    life: tuple[tuple[float, float], ...]
    cycles: float
    slack_needed: float
    jam_ratio: float | None
    fill_limit: float = 1.0
    centres: tuple[tuple[float, float], ...] = ()
    unknown: tuple[str, ...] = ()
    strains: tuple[TwistStrain, ...] = ()
    slack: float = 0.0
    turn_borne: float | None = None
    loop_turn: float = 0.0
    weak: tuple[float, float] | None = None
    grip: float = 0.0
    threading: Threading | None = None
    pull: Pull | None = None
    end_bend: EndBend | None = None


class PlaceFigures(NamedTuple):
    """A closed place: heat given off in it over time, the rise of its air, its hottest air, what its walls stand.

    `rise` is None where the file gives no surface. `parts`: heat by part, largest first. `local`: how much hotter
    than the air the wall gets where the warmest resistor lies against it, K, and `local_part` whose that is.
    """

    name: str
    path: Path
    access: str
    material: str | None
    stands: float
    stands_source: str
    heat: float
    rise: float | None
    hottest: float | None
    parts: tuple[tuple[str, float], ...]
    local: float = 0.0
    local_part: str = ""


class BatteryFigures(NamedTuple):
    """A battery: average load A, seconds it lasts (None: its capacity is not known), and those wanted.

    `empty_volts`: at its cut-off. `dim`: lamps with the volts of the battery at which they count as gone, the first
    to go first; `dim_seconds`: when that one does. `stops`: loads and boards likewise, with the volts at which they
    stop; `stops_seconds`. `highest`: most load, `most`: what its cells may give for good.
    `lithium`: of a kind that a short can set on fire (a coin cell's own resistance keeps it from that).
    """

    name: str
    path: Path
    average: float
    seconds: float | None
    wanted: float | None
    lithium: bool
    protected: bool | None
    empty_volts: float
    dim: tuple[tuple[str, float], ...]
    full_volts: float = 0.0
    usual_volts: float = 0.0
    dim_seconds: float | None = None
    highest: float = 0.0
    most: float | None = None
    place: str = ""
    stops: tuple[tuple[str, float], ...] = ()
    stops_seconds: float | None = None
