"""What lies in a passage and what that does to it, as plain frozen records. Lengths in m."""

from typing import NamedTuple

from postcheck.description.models import JointSize, Passage
from postcheck.description.problems import Path
from postcheck.physics import bundle
from postcheck.physics.threading import Thick
from postcheck.physics.twist import TwistStrain, working_radius
from postcheck.plain import quoted
from postcheck.wiring.data import WireData


def _called(kind: str, name: str) -> str:
    """What goes through a passage in a sentence; a lead is not the lamp it belongs to."""
    return f"the lead of {quoted(name)}" if kind == "lead" else quoted(name)


class Member(NamedTuple):
    """One thing in a bore: a conductor, a leg of a lead (`leg`: supply, return or link) or a sheathed cable.

    `colour`: as the file words it, or None. `entry`: the lamp that a colour's leg belongs to. `string`: which of several
    strings brings it. `lines`: those that it carries. `joint`: the thickest spot that comes with it.
    `flat`: width and thickness of a flat cable, m; its `diameter` is that of a round one of its area. `bare`: outside
    diameters of the conductors of a roll that has no room for a sheath round them, m.
    """

    name: str
    kind: str
    path: Path
    diameter: float
    wire: WireData | None
    length: float | None
    leg: str = ""
    colour: str | None = None
    entry: str = ""
    string: int | None = None
    lines: tuple[str, ...] = ()
    joint: JointSize | None = None
    flat: tuple[float, float] | None = None
    bare: tuple[float, ...] = ()

    @property
    def called(self) -> str:
        """What it is called in a sentence."""
        return _called(self.kind, self.name)

    @property
    def wall(self) -> float | None:
        """Thickness of its insulation at the greatest outside diameter, m; None in a sheath, and where the wire is unknown."""
        if self.wire is None or self.kind == "cable":
            return None
        return max(0.0, self.diameter / 2.0 - self.working_radius(soldered=True))

    @property
    def edge(self) -> float:
        """How far (m) its outermost conductor lies from its middle: nothing but for a flat cable, at an edge of it."""
        return 0.0 if self.flat is None else (self.flat[0] - self.flat[1]) / 2.0

    def working_radius(self, *, soldered: bool = False) -> float:
        """Radius (m) that twists or bends as one: of a strand, or of the conductor if `soldered`; nothing where the copper is not known."""
        if self.wire is None:
            return 0.0
        return working_radius(self.wire.strand_diameter, self.wire.strands, soldered)


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

    @property
    def called(self) -> str:
        """What it is called in a sentence."""
        return _called(self.kind, self.name)


class Threading(NamedTuple):
    """What has to pass while other wires lie in the bore, first to last.

    `way`: "one by one" in the best order, "apart" or "abreast" drawn through together. `verdict`: of the whole; "cannot
    fit" is proven, one by one for every order. `free`: the order does not matter. `rest`: other wires come with it.
    `tight`: what passes, but with less room than anything is drawn with.
    """

    way: str
    verdict: str
    things: tuple[Threaded, ...]
    rest: bool
    free: bool = True
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
    `cycles_to_failure` turnings, lower, upper.
    `moves`: whether each turning flexes it; None where the passage turns and the file does not say.
    """

    member: Member
    diameters: float
    tired: Member
    strain: float
    swing: float
    breaks: float
    cycles_to_failure: tuple[float, float]
    moves: bool | None


class Folding(NamedTuple):
    """What a hinge does to the conductor that it strains most. `needed`: m, the free length with which it surely lives."""

    tired: Member
    strain: float
    cycles_to_failure: tuple[float, float]
    needed: float


class Both(NamedTuple):
    """What turning and folding do together to the conductor that breaks first of both. `strain`, `fold`: of each by itself."""

    tired: Member
    strain: float
    fold: float
    cycles_to_failure: tuple[float, float]


class Nicked(NamedTuple):
    """The solid conductor that breaks first if stripping nicked it, and its cycles to failure then, lower, upper; enamelled ones apart."""

    member: Member
    cycles_to_failure: tuple[float, float]


class Coil(NamedTuple):
    """What spare length in a bore does to its thickest conductor: bent to so many `diameters`. `most` m: slack that lies well."""

    widest: Member
    diameters: float
    most: float


class PassageFigures(NamedTuple):
    """A passage: what lies in it, how full it is, and what its turning does.

    `fill`: share of area. `smallest_bore`: smallest enclosing bore found, m. `verdict`: fits, cannot fit or not found.
    `fill_limit`: the most share for this count. `strain`: per member, the equivalent strain range of one full turning.
    `cycles_to_failure`: per member, cycles to failure (lower, upper). `cycles`: those needed. `slack_needed` m. `centres`:
    of each member in the smallest enclosing circle found, m; `upright`: flat cables stand on their edges there. `unknown`:
    what goes through with a wire that nobody knows. `strains`: the parts of each strain. `slack` m: given, or what hands
    leave. `turn_borne` rad: the most turn each way with which every wire lives for the cycles by every relation, and which
    throws no loop. `loop_turn` rad: where a straight rod loops. `weak`: N, where the thinnest wire, enamelled before others,
    stays stretched and where it breaks. `grip` m: least distance from the last grip to a joint. `metal`: the lines that its
    own metal carries.
    """

    name: str
    passage: Passage
    path: Path
    members: tuple[Member, ...]
    fill: float
    smallest_bore: float
    verdict: str
    strain: tuple[float, ...]
    cycles_to_failure: tuple[tuple[float, float], ...]
    cycles: float
    slack_needed: float
    jam_ratio: float | None
    fill_limit: float
    centres: tuple[tuple[float, float], ...]
    upright: bool
    unknown: tuple[str, ...]
    strains: tuple[TwistStrain, ...]
    slack: float
    turn_borne: float | None
    loop_turn: float
    weak: tuple[float, float] | None
    grip: float
    threading: Threading | None
    pull: Pull | None
    end_bend: EndBend | None
    folding: Folding | None
    both: Both | None
    nicked: Nicked | None
    metal: tuple[str, ...]
    coil: Coil | None

    @property
    def counted(self) -> int:
        """How many conductors a handbook counts in it: a sheathed cable is one, a roll without a sheath as many as are in it."""
        return sum(len(member.bare) or 1 for member in self.members)
