"""Heat, faults and batteries, as plain frozen records. Heat in W, temperatures in degC, rises in K."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

from postcheck.description.problems import Path
from postcheck.wiring.data import WireData


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
    def withstands(self) -> float:
        """What its insulation withstands of what hurts it most: for good, or until the fuse opens."""
        return self.stands if _above(self.settled, self.stands) else self.for_now

    @property
    def hottest(self) -> float | None:
        """The hottest it gets, or None where it melts."""
        if self.peak is None or self.settled is None:
            return None
        return max(self.peak, self.settled)


class ConductorFault(NamedTuple):
    """A short at the far end of a conductor: a run, or a leg of a lead with nothing ahead of it that limits.

    `part_way`: it is harmless there, and hurts where it lies nearer: more flows then, and still no fuse is sure to open.
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
    leg: str
    part_way: bool

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


class PlaceFigures(NamedTuple):
    """A closed place: heat given off in it over time, the rise of its air, its hottest air, what its walls stand.

    `rise` is None where the file gives no surface. `parts`: heat by part, largest first. `weakest`: where its material is not
    known, what the weakest of the catalogue withstands, degC. `bare`: its hottest air if its metal is not painted, where the
    file does not say. `bodies`: how many of the smallest usual body it is at least, by what it has to hold. `steady`: its
    hottest air, degC, with what flashes or is dimmed on for good, and loads that can stay at their most at that (None:
    there are none, or its surface is not known), and `steady_parts`: the heat by part then.
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
    weakest: float | None
    bare: float | None
    bodies: float
    steady: float | None
    steady_parts: tuple[tuple[str, float], ...]


class HotSpot(NamedTuple):
    """A hot part and what it sits on.

    `kind`: lamp (its glass) or resistor; `celsius`: beside the wall; `stands`: what a small spot of its `material` (None: not
    known) withstands, degC; `air`: round it, degC. `stuck`: while what flashes or is dimmed is on for good.
    """

    kind: Literal["lamp", "resistor"]
    name: str
    path: Path
    place: str
    material: str | None
    celsius: float
    stands: float
    air: float
    stuck: bool


class BatteryFigures(NamedTuple):
    """A battery: average load A, seconds it lasts (None: its capacity is not known), and those wanted.

    `empty_volts`: at its cut-off; `half_volts`: with half of its charge gone. `dim`: lamps with the volts of the battery at
    which they count as gone and the fraction of its charge that is then left, the first to go first; `dim_seconds`: when
    that one does. `stops`: loads, boards and converters likewise, with the volts at which they stop; `stops_seconds`.
    `highest`: most load, `most`: what its cells may give for good, and `hourly`: the part of their capacity that this is an
    hour, where nothing but that tells it. `rated`: C that it is called by, `holds`: C at this load by its maker's figures,
    which end at `known_to` A (None: there are none, and `holds` is rated). `starts`: each load on it with the charge that is
    left, and the seconds gone (None: not known), when it no longer starts. `lithium`: of a kind that a short can set on fire
    (a coin cell's own resistance keeps it from that).
    """

    name: str
    path: Path
    average: float
    seconds: float | None
    wanted: float | None
    lithium: bool
    protected: bool | None
    empty_volts: float
    dim: tuple[tuple[str, float, float], ...]
    full_volts: float
    usual_volts: float
    half_volts: float
    dim_seconds: float | None
    highest: float
    most: float | None
    place: str
    stops: tuple[tuple[str, float], ...]
    stops_seconds: float | None
    rated: float | None
    holds: float | None
    known_to: float | None
    hourly: float | None
    starts: Mapping[str, tuple[float, float | None]] = MappingProxyType({})
