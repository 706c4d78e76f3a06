"""What a row of the catalogue holds, in SI units (temperatures in degrees Celsius), with its source."""

from typing import NamedTuple


class UnknownRow(LookupError):  # noqa: N818  (the name says what is wrong; it is caught by name)
    """There is no such row of a kind; `plain` is the name in the spelling of `known`, the names there are."""

    def __init__(self, kind: str, name: str, plain: str, known: tuple[str, ...]) -> None:
        super().__init__(kind, name)
        self.kind = kind
        self.name = name
        self._plain, self._known = plain, known

    @property
    def near(self) -> tuple[str, ...]:
        """Names that are spelt much like it, the nearest first; worked out when asked for, which takes its time."""
        from difflib import get_close_matches  # noqa: PLC0415  (only a wrong name needs it)

        return tuple(get_close_matches(self._plain, self._known, n=5, cutoff=0.5))

    def __str__(self) -> str:
        return f"there is no {self.kind} {self.name!r} in the catalogue"


class Wire(NamedTuple):
    """A wire. Lengths in m, area in m2, ohm per m at 20 degC.

    `conductor_diameter` is that of the bundle of strands, `max_diameter` the outside one at the upper end of its
    tolerance. `ohms_per_metre` is nominal with the lay of the strands; `ohms_per_metre_most` is the most that a wire
    within its standard may have. `gauge` is the AWG number, None for metric sizes.
    """

    name: str
    family: str
    gauge: int | None
    solid: bool
    strands: int
    strand_diameter: float
    conductor_diameter: float
    conductor_area: float
    max_diameter: float
    ohms_per_metre: float
    ohms_per_metre_most: float
    insulation_volts: float | None
    insulation_celsius: float
    short_celsius: float
    enamelled: bool
    source: str


class Die(NamedTuple):
    """One light-emitting die at 25 degC. Volts, amperes, seconds, degrees Celsius.

    The three forward voltages hold at `at_current`. With (`low_current`, `low_forward`) the typical one gives a
    two-point curve. `rated_current` is continuous; above `derate_above` (air) it falls by `derate_per_kelvin` (A/K).
    `pulse_current` holds for `pulse_width` at `pulse_duty` only. `colour` is numbered ("white-1") where a part holds
    several dice of one colour.
    """

    colour: str
    forward_least: float
    forward_typical: float
    forward_most: float
    at_current: float
    low_forward: float
    low_current: float
    rated_current: float
    pulse_current: float
    pulse_width: float
    pulse_duty: float
    reverse_volts: float
    volts_per_kelvin: float
    kelvin_per_watt: float
    derate_above: float
    derate_per_kelvin: float
    junction_most: float


class Inside(NamedTuple):
    """The resistor inside an LED: on `volts` it lets `current` (A) through; `tolerance`: relative, of its ohms.

    `most_volts`: what a lamp may be put on for good, above the die's `derate_above` less by `derate` (V/K).
    """

    volts: float
    current: float
    tolerance: float
    most_volts: float
    derate: float


class LedLamp(NamedTuple):
    """A lamp of one or several dice, each with its own pins; `inside`: the resistor that it has in series with each.

    `flashes`: Hz, of one with a chip that flashes it between the volts of `works`.
    """

    name: str
    package: str
    colour: str
    dice: tuple[Die, ...]
    source: str
    inside: Inside | None = None
    flashes: float | None = None
    works: tuple[float, float] | None = None


class FilamentLamp(NamedTuple):
    """A filament lamp: cold it draws `cold_ratio` times its rated current; its glass reaches `celsius`."""

    name: str
    package: str
    rated_volts: float
    rated_current: float
    cold_ratio: float
    celsius: float
    source: str

    @property
    def kind(self) -> str:
        """The word for it in a build file."""
        return "filament"


class Chain(NamedTuple):
    """One string of a strip's segment: so many dice in series with a resistor in ohm."""

    die: Die
    series: int
    ohms: float


class Strip(NamedTuple):
    """A strip, cut only between segments. Length of a segment in m, its typical current in A.

    `trace_ohms_per_metre` is None: it differs too much between makers to be tabulated, and has to be measured.
    """

    name: str
    colour: str
    volts: float
    segment_length: float
    leds_per_segment: int
    chains: tuple[Chain, ...]
    segment_current: float
    trace_ohms_per_metre: float | None
    source: str

    @property
    def die(self) -> Die:
        """The die of the first string: all strings alike, but for colour strips."""
        return self.chains[0].die

    @property
    def series(self) -> int:
        """Dice in series in the first string."""
        return self.chains[0].series

    @property
    def ohms(self) -> float:
        """Resistor of the first string, ohm."""
        return self.chains[0].ohms

    @property
    def strings(self) -> int:
        """Strings side by side in a segment."""
        return len(self.chains)


class ResistorSize(NamedTuple):
    """A size of resistor: W in air up to 70 degC, V at most, usual relative tolerance. `mount`: chip or axial; `body`: the diameter of an axial one, m."""

    name: str
    mount: str
    power: float
    max_volts: float
    tolerance: float
    film_celsius: float
    source: str
    body: float | None = None


class FuseRating(NamedTuple):
    """A rated current (A) of the series that fuses are made in."""

    name: str
    current: float
    source: str


class Plastic(NamedTuple):
    """A material beside lamps, and the highest local temperature (degC) it should see for long."""

    name: str
    kind: str
    celsius: float
    softens: str
    source: str


class CellSize(NamedTuple):
    """A cell or block of this size: cells in it, ohm and coulomb per cell, lasting current in A; None: not known.

    `at_rates`: steady A and the coulomb it gives at them, by its makers, the smallest current first; one point alone is
    the current at which `capacity` holds. `also`: its other names, those of IEC 60086 among them. `coin`: a
    button or coin, wider than high.
    """

    name: str
    cells: int
    ohms: float
    capacity: float | None
    most_current: float | None
    source: str
    also: tuple[str, ...] = ()
    at_rates: tuple[tuple[float, float], ...] = ()
    coin: bool = False


class Chemistry(NamedTuple):
    """Volts of one cell full, nominal and empty, and with half of its charge gone; ohm inside where the size is not known.

    `hourly`: how much of its capacity it may give an hour for good, where nobody states its current (1: "1C"); None: not known.
    """

    name: str
    full_volts: float
    nominal_volts: float
    empty_volts: float
    ohms: float
    lithium: bool
    sizes: tuple[CellSize, ...]
    source: str
    coin: bool
    half_volts: float
    hourly: float | None = None

    def find(self, name: str) -> CellSize | None:
        """The row of a cell size by any of its names ("9 V", "9v", "PP3"), or None where it is not listed."""
        wanted = "".join(name.split()).lower()
        return next((row for row in self.sizes if wanted in (row.name, *row.also)), None)

    def size(self, name: str | None) -> CellSize:
        """The row of a cell size, or, where it is None or not listed, one whose capacity and current are not known."""
        found = self.find(name) if name is not None else None
        return found or CellSize(
            (name or "").strip().lower(), 1, self.ohms, None, None, self.source, coin=self.coin
        )


Row = Wire | LedLamp | FilamentLamp | Strip | ResistorSize | FuseRating | Plastic | Chemistry
