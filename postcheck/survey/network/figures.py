"""What the network tells, as plain frozen records. Currents in A, volts in V, heat in W."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

from postcheck.description.consumers import Kind
from postcheck.description.problems import Path
from postcheck.wiring.graph import Node
from postcheck.wiring.parts import LampPart, LoadPart, RunPart, StripPart
from postcheck.wiring.switches import Switch


class LampFigures(NamedTuple):
    """One lamp entry (one colour of it): current through one string.

    `nominal`: all on, typical parts. `lowest` and `highest`: stacked worst of all states. `likely_lowest` and
    `likely_highest`: root of the sum of squares of the single deviations.
    `shares`: the nominal currents of strings that share one resistor, the first with the least, the others with the
    typical forward voltage. `joint_volts`: nominal voltage between its joints. `loss`: nominal volts lost in all
    wires between supply and LEDs, its lead too. `rated`: one die's continuous rating at its hottest air, `hottest` in degC; `rated_outside`: at
    the hottest air of the room. `alone`: the most with nothing else on the lines. `resistor_nominal`,
    `resistor_likely`, `resistor_highest`: heat in its resistor while it is lit, `resistor_fraction`: how much of that it has to
    stand over time.
    `light_lost`: the share of its light that the loss costs, at most all.
    `spot`: of its resistors the one nearest to its rating, watts and rating (None: not said); of a trimmer at the setting that warms it most.
    `turned`: nominal current with its trimmer turned to zero and to its whole track; None without one.
    `held_on`: of a filament that is dimmed by pulses faster than it follows what it gets, nominal, once its circuit sticks on, A; None of
    others. All its other currents are those of direct current that lights it as much: root mean squares.
    `lead_drop`: nominal volts lost in its lead and the wires of its chain. `strings`: the nominal current of each.
    `lowest_at_usual`: on a battery, the lowest with that at its usual volts; None on other supplies.
    """

    part: LampPart
    nominal: float
    lowest: float
    highest: float
    alone: float
    likely_lowest: float
    likely_highest: float
    shares: tuple[float, ...]
    joint_volts: float
    loss: float
    rated: float
    rated_outside: float
    hottest: float
    resistor_nominal: float
    resistor_likely: float
    resistor_highest: float
    string_volts: float
    duty_cycle: float
    resistor_fraction: float
    lead_drop: float
    strings: tuple[float, ...]
    light_lost: float
    spot: tuple[float, float | None]
    turned: tuple[float, float] | None
    held_on: float | None = None
    lowest_at_usual: float | None = None

    @property
    def name(self) -> str:
        """The lamp's name, with the colour where it has several."""
        return self.part.name

    @property
    def die_volts(self) -> float:
        """What each die of a string has of its volts, with the resistor inside it, V."""
        return self.string_volts / len(self.part.dice)

    @property
    def inside_heat(self) -> float:
        """What the resistors inside its dice typically dissipate while it is lit, W; 0 where there are none."""
        return self.nominal * self.nominal * sum(die.inside for die in self.part.dice)

    @property
    def resistor_load(self) -> float:
        """What its resistor dissipates at its highest while it is lit, W.

        Behind a shared one the worst string takes the others' current, so all of them together take what they usually do.
        """
        return self.resistor_nominal if self.part.shared_resistor else self.resistor_highest


class SupplyFigures(NamedTuple):
    """Load of a supply: `nominal` all on, `highest` at the highest corner, `average` over time, rating or None.

    `path`: the document path. `volts`: typical open voltage; `highest_volts`: at its highest. `reverse`: current that
    another supply pushes into it (0: none). `starting`: load while motors start and filaments are cold (0: none do).
    `dark`: load while every flasher is dark, A; `gap`: how long, in s at most, it stays below what keeps a power bank
    on (0: never; None: not known). `most`: with typical lamps, and with loads at their most. `least_average`: the average
    at the lowest corner, where a power bank has a load below which it switches off; else None.
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
    starting: float
    dark: float
    gap: float | None
    most: float
    least_average: float | None

    @property
    def headroom(self) -> float | None:
        """The free share of the rating at the highest load."""
        return None if not self.rated else 1.0 - self.highest / self.rated


class RunFigures(NamedTuple):
    """A run: nominal current and drop of one of its conductors, and the highest current; the place that it comes from."""

    part: RunPart
    current: float
    drop: float
    highest: float
    source: str


class Surge(NamedTuple):
    """What an output, or all of a board, gives while its loads start, A: `starting` all whose current then is known, `motors` these of them.

    `load`: the one that takes most more, a motor before others. `unknown`: with the motors whose current the file does not give as well, as motors
    usually start; `asks` has their names. `held`: with a motor held fast, by its name, until a fuse ends that.
    """

    load: str
    starting: float
    motors: float
    unknown: float
    asks: tuple[str, ...]
    held: Mapping[str, float]


class CircuitFigures(NamedTuple):
    """A circuit: nominal and highest current; its limits are in the build.

    `drop`: nominal volts lost in its output or board, None where none stands between; `spare`: of these, what a
    constant-current output has more than it needs. `starting`: while its motors start and its filaments are cold (0: none do).
    `at_low`: of a constant-current output with its supply at its lowest, all else as usual; None of others, and on a battery,
    which gets there as it empties. `surge`: of its output while its loads start, None where none takes more then.
    """

    name: str
    nominal: float
    highest: float
    behaviour: str
    drop: float | None
    spare: float | None
    starting: float
    at_low: float | None = None
    surge: Surge | None = None


class StripFigures(NamedTuple):
    """A strip: nominal and highest current into it, nominal volts and current of each segment, most through its traces.

    `segment_current`: of one chain of its first segment, `last_current` of its last; `light_lost`: the share of its light that this
    one lacks to what it would give on the supply's own volts.
    """

    part: StripPart
    nominal: float
    highest: float
    segments: tuple[tuple[float, float], ...]
    lowest_volts: float
    through: float
    segment_current: float
    last_current: float
    segment_highest: float
    light_lost: float

    @property
    def name(self) -> str:
        """The strip's name."""
        return self.part.name

    @property
    def first_volts(self) -> float:
        """Volts at its first segment."""
        return self.segments[0][0]

    @property
    def last_volts(self) -> float:
        """Volts at its last segment."""
        return self.segments[-1][0]


class LoadFigures(NamedTuple):
    """Electronics, or a motor: the volts at its terminals, nominal, lowest, and while it starts, with a low supply and usually."""

    part: LoadPart
    volts: float
    lowest_volts: float
    start_volts: float | None
    start_usual: float | None = None

    @property
    def highest(self) -> float:
        """The most it takes, A."""
        return self.part.most


class PlugFigures(NamedTuple):
    """A plug: the currents through its pins in their order; `held`: the same while a motor is held fast, by its name, until a fuse ends that."""

    name: str
    position: int
    nominal: tuple[float, ...]
    highest: tuple[float, ...]
    held: Mapping[str, tuple[float, ...]] = MappingProxyType({})


class SwitchFigures(NamedTuple):
    """A switch: its current in A, nominal, at the highest, and as all behind it starts.

    `unknown`: what motors may take more then, of which nobody says it. `held`: its current while a motor is held fast, by
    the motor's name.
    """

    switch: Switch
    nominal: float
    highest: float
    starting: float
    unknown: float
    held: Mapping[str, float] = MappingProxyType({})


class Step(NamedTuple):
    """What a steady lamp or strip (`kind`) does when a flashing circuit switches on: relative change of its light.

    `flasher` is None for all of them at once; `by`: whether that is a circuit, or a lamp that flashes by itself.
    """

    kind: Kind
    lamp: str
    flasher: str | None
    share: float
    rate: float | None
    by: Literal["circuit", "lamp"] = "circuit"


class Dip(NamedTuple):
    """What a lit lamp or strip (`kind`) loses of its light while a load starts, as a share.

    `starting`: what the load then takes, A; `given`: the file says so, else it is what motors usually take.
    """

    kind: Kind
    lamp: str
    load: str
    share: float
    starting: float
    given: bool


class Sag(NamedTuple):
    """A load or board (`kind`) that needs a least voltage (`needs`), V, while another load starts: what it then gets.

    `volts` usually, and `before` while that runs; `lowest_volts` with a low supply. `starting`: what the other one
    takes, A; `given`: the file says so, else it is what motors usually take.
    """

    kind: str
    name: str
    load: str
    needs: float
    volts: float
    before: float
    lowest_volts: float
    starting: float
    given: bool


class UnevenStrings(NamedTuple):
    """Strings on one constant-current output, one of `lamp` with the least forward voltage, the others with the usual one.

    `greatest`: the current of that string, A; `least`: what is left for one of the others; `nominal`: of it as usual.
    """

    lamp: str
    strings: int
    greatest: float
    least: float
    nominal: float


class ParallelStringFault(NamedTuple):
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
    """What a plug put in wrongly, or a broken run, does to one part.

    `how`: crossed, part way (without `pin`), broken, or turned: an adaptor (`turned`) with the other pole at its centre, in
    the socket of the supply or board `plug`.

    `kind`: lamp, strip, board, load, converter; short (a supply that is shorted) unsolved (no currents found,
    and no part), or untried (too many for a network of this size, and no part).
    `current` A against `rated`; `reverse`: the most volts the wrong way round, of a string of several `dice` those
    that one of them may take, against `reverse_stood`; `volts` the right way round.
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
    dice: int = 0
    pin: int = 0
    turned: str = ""


class WrongAdaptorFault(NamedTuple):
    """Two adaptors with one socket: what the worst lamp (None: none) of the lower one gets from the higher one, A.

    `untried`: too many for a network of this size.
    """

    lower: str
    higher: str
    lamp: str | None
    current: float
    rated: float
    untried: bool = False


class Electrics(NamedTuple):
    """Everything the network tells. `failed`: states without a solution and why; no figure of them is given.

    `heats`: place, part and W averaged over time; `steady_heats`: with what flashes or is dimmed on for good, empty where nothing
    is. `proven`: whether the corners of the lamps are shown to be the worst
    (a tree of runs with lamps alone), or are the worst of those tried. `joined`: pairs of supplies with both poles joined
    by nothing but wire; `shorted`: supplies whose own two poles are. `widest`: the highest voltage between any two points, V.
    `potentials`: of a net at a place, V, all on and typical; `drawn`: what each converter takes of its source, nominal
    and highest, A. `work`: the elements solved in all states together, which is what a survey costs.
    """

    lamps: Mapping[str, LampFigures] = MappingProxyType({})
    supplies: Mapping[str, SupplyFigures] = MappingProxyType({})
    runs: Mapping[str, RunFigures] = MappingProxyType({})
    circuits: Mapping[str, CircuitFigures] = MappingProxyType({})
    strips: Mapping[str, StripFigures] = MappingProxyType({})
    loads: Mapping[str, LoadFigures] = MappingProxyType({})
    plugs: Mapping[str, PlugFigures] = MappingProxyType({})
    switches: Mapping[str, SwitchFigures] = MappingProxyType({})
    boards: Mapping[str, tuple[float, float]] = MappingProxyType({})
    uneven_strings: Mapping[str, UnevenStrings] = MappingProxyType({})
    board_surges: Mapping[str, Surge] = MappingProxyType({})
    steps: tuple[Step, ...] = ()
    dips: tuple[Dip, ...] = ()
    sags: tuple[Sag, ...] = ()
    failed: tuple[tuple[str, str], ...] = ()
    no_start: tuple[tuple[str, str], ...] = ()
    conflict: tuple[str, ...] = ()
    heats: tuple[tuple[str, str, float], ...] = ()
    steady_heats: tuple[tuple[str, str, float], ...] = ()
    parallel_string_faults: tuple[ParallelStringFault, ...] = ()
    wrong_adaptor_faults: tuple[WrongAdaptorFault, ...] = ()
    proven: bool = True
    joined: tuple[tuple[str, str], ...] = ()
    shorted: tuple[str, ...] = ()
    widest: float = 0.0
    plug_faults: tuple[PlugFault, ...] = ()
    pole_faults: tuple[PlugFault, ...] = ()
    turned_faults: tuple[PlugFault, ...] = ()
    potentials: Mapping[Node, float] = MappingProxyType({})
    drawn: Mapping[str, tuple[float, float]] = MappingProxyType({})
    work: int = 0

    @property
    def consumers(self) -> dict[str, LampFigures | StripFigures | LoadFigures]:
        """All that takes current."""
        return {**self.lamps, **self.strips, **self.loads}
