"""How hot the case of a motor gets, running and held fast, in a place whose walls could take harm."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.physics.fuse import surely_open_by
from postcheck.physics.heat import place_rise
from postcheck.survey.heat.figures import PlaceFigures
from postcheck.survey.heat.places import row_of, withstands
from postcheck.survey.network.figures import Electrics, LoadFigures
from postcheck.survey.network.states import loss_per_area
from postcheck.survey.network.supplies import gives_up
from postcheck.wiring import Wiring
from postcheck.wiring.parts import MOTOR_STARTS, Path

USUAL_CASE = 13e-4
"""Outside surface of the smallest usual geared motor, m2: can of 10 x 12 x 15 mm, gearbox 9 mm long (makers' drawings, from memory)."""
# One that is larger is built for what it usually takes: class 105 allows a winding 60 K above the room (IEC 60034-1, from memory).
_BUILT_FOR = 60.0
# No motor that goes into a model is so many times larger than the smallest usual one: judgement.
_LARGEST = 10.0
# A fuse that is sure to open by then ends it: small motors take minutes to get hot (makers' sheets of 10 to 25 mm, from memory).
_SOON = 120.0


class Warm(NamedTuple):
    """A motor in one state: A, W that all turn into heat, the hottest that its case touches, degC, and what that withstands.

    `least`: the outside surface, m2, with which it stays as cool as that; None where no motor for a model has that, or it touches nothing.
    """

    current: float
    watts: float
    celsius: float
    withstands: float
    least: float | None = None


class MotorHeat(NamedTuple):
    """A motor and what its case touches.

    `material`: of its place, None where it is not known. `measured`: the file gives its outside surface; else that of the
    smallest that is built for what it usually takes is taken. `said`: the file gives what it takes while held fast. `running`: None where it is held off
    the walls; `held`: None where it is never held fast, or something ends that in time.
    """

    name: str
    path: Path
    place: str
    material: str | None
    measured: bool
    said: bool
    running: Warm | None
    held: Warm | None


def motors(
    wiring: Wiring, electrics: Electrics, limits: Limits, places: Mapping[str, PlaceFigures]
) -> Iterator[MotorHeat]:
    """Every motor whose place is not of metal, and of known material where it is open."""
    for load in electrics.loads.values():
        part, place = load.part, wiring.build.place[load.part.place]
        row = row_of(place.material)
        if (
            not part.motor
            or (row is None and place.access == "open")
            or (row is not None and row.kind == "metal")
        ):
            continue
        at = _Place(wiring.build, limits, places.get(part.place), part.place, load)
        current = _held(wiring, electrics, load)
        yield MotorHeat(
            part.name, part.path, part.place, None if row is None else row.name,
            part.case is not None, part.starting is not None,
            None if part.held_off else at.warm(part.most, load.volts * part.most),
            None if current is None or (part.held_off and place.access == "open") else at.warm(*current),
        )  # fmt: skip


class _Place:
    """Where a motor sits, and how warm it gets there."""

    def __init__(
        self, build: Build, limits: Limits, figures: PlaceFigures | None, name: str, load: LoadFigures
    ) -> None:
        self.place = build.place[name]
        self.room: float = build.build.air[1]
        self.limits = limits
        self.figures = figures
        self.load = load

    def warm(self, current: float, watts: float) -> Warm:
        """With so much in it, A and W."""
        part, stands = self.load.part, withstands(self.place.material, self.limits)[0]
        air = self.room
        if self.figures is not None and self.figures.hottest is not None and self.place.surface:
            more = max(watts - self.load.volts * part.typical, 0.0)
            air = self.figures.hottest + place_rise(
                more, self.place.surface, loss_per_area(self.place, self.limits)
            )
        if part.held_off:
            return Warm(current, watts, air, stands)
        loss = self.limits.value("heat.case")
        case = part.case or max(USUAL_CASE, self.load.volts * part.typical / (loss * _BUILT_FOR))
        beside, may = place_rise(watts, case, loss), stands + self.limits.value("heat.spot")
        # Newton's law of cooling, the other way round; no motor for a model is much larger than the usual ones
        least = watts / (loss * (may - air)) if may > air else None
        least = least if least is not None and least <= _LARGEST * USUAL_CASE else None
        return Warm(current, watts, air + beside, may, least)


def _held(wiring: Wiring, electrics: Electrics, load: LoadFigures) -> tuple[float, float] | None:
    """What a motor takes while it is held fast, A and W; None where it never is, or its fuse soon ends that.

    It is a resistor then: where a limit leaves it less current, it has fewer volts as well.
    """
    part, driver = load.part, wiring.drivers[load.part.circuit]
    wants = part.most + part.surge(MOTOR_STARTS)
    if part.never_stalls or wants <= 0.0:
        return None
    supply = wiring.build.supply.get(driver.supply or "")
    gets = min(wants, driver.steady or wants)
    if supply is not None:
        gets = min(gets, gives_up(supply)[1])
        if supply.fuse is not None:
            others = max(electrics.supplies[driver.supply or ""].nominal - part.typical, 0.0)
            fuse = supply.fuse
            if surely_open_by(fuse.rated, gets + others, fuse.kind, fuse.body, fuse.trips) <= _SOON:
                return None
    return gets, gets * gets * load.volts / wants
