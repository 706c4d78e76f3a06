"""How hot the case of a motor gets, running and held fast, in a place whose walls could take harm."""

from collections.abc import Iterator, Mapping
from math import ceil
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.problems import Path
from postcheck.limits import Limits
from postcheck.physics.heat import place_rise
from postcheck.survey.heat.figures import PlaceFigures
from postcheck.survey.heat.places import row_of, withstands
from postcheck.survey.network.figures import Electrics, LoadFigures
from postcheck.survey.network.starting import held_for_good
from postcheck.survey.network.states import loss_per_area
from postcheck.wiring import Wiring
from postcheck.wiring.parts import MOTOR_STARTS

USUAL_CASE = 13e-4
"""Outside surface of the smallest usual geared motor, m2: can of 10 x 12 x 15 mm, gearbox 9 mm long (makers' drawings, from memory)."""
# A larger motor is built for its usual current: class 105 allows a winding 60 K above the room (IEC 60034-1, from memory).
_BUILT_FOR = 60.0
# No motor in a model is more than this many times larger than the smallest usual one: judgement.
_LARGEST = 10.0


class Warm(NamedTuple):
    """A motor in one state: A, W that all turn into heat, its air and its case, degC, and what a spot of its wall withstands.

    `least`: the outside surface, m2, with which its case stays as cool as that; None where no motor for a model has that.
    """

    current: float
    watts: float
    air: float
    celsius: float
    withstands: float
    least: float | None = None


class MotorHeat(NamedTuple):
    """A motor and what its case touches.

    `material`: of its place, None where it is not known. `walls`: what those withstand, degC, and where that is from, None
    in an open place. `case`: its outside surface, m2: that of the file where it is `measured`, else of the smallest that is
    built for what it usually takes. `said`: the file gives what it takes while held fast. `touches`: its case touches a wall
    that heat can harm. `running`: None where it does not; `held`: None where it is never held fast, or something ends that
    in time.
    """

    name: str
    path: Path
    place: str
    material: str | None
    walls: tuple[float, str] | None
    case: float
    measured: bool
    said: bool
    touches: bool
    running: Warm | None
    held: Warm | None


def motors(
    wiring: Wiring, electrics: Electrics, limits: Limits, places: Mapping[str, PlaceFigures]
) -> Iterator[MotorHeat]:
    """Every motor whose place is not of metal, which takes its heat away."""
    for load in electrics.loads.values():
        part, place = load.part, wiring.build.place[load.part.place]
        row = row_of(place.material)
        if not part.motor or (row is not None and row.kind == "metal"):
            continue
        closed = place.access != "open"
        touches = not part.held_off and (closed or row is not None)
        at = _Place(wiring.build, limits, places.get(part.place), part.place, load)
        held = _held(wiring, electrics, load, limits.value("motor.fuse"))
        yield MotorHeat(
            name=part.name,
            path=part.path,
            place=part.place,
            material=None if row is None else row.name,
            walls=withstands(place.material, limits) if closed else None,
            case=at.case,
            measured=part.case is not None,
            said=part.starting is not None,
            touches=touches,
            running=at.warm(part.most, load.volts * part.most) if touches else None,
            held=None if held is None else at.warm(*held),
        )


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
        self.loss = limits.value("heat.case")
        usual = load.volts * load.part.typical / (self.loss * _BUILT_FOR)
        # in whole cm2, as it is shown and typed
        self.case = load.part.case or ceil(max(USUAL_CASE, usual) * 1e4 * (1.0 - 1e-9)) / 1e4

    def warm(self, current: float, watts: float) -> Warm:
        """How warm it gets with this current (A) and power (W)."""
        air = self.room
        if self.figures is not None and self.figures.hottest is not None and self.place.surface:
            more = max(watts - self.load.volts * self.load.part.typical, 0.0)
            air = self.figures.hottest + place_rise(
                more, self.place.surface, loss_per_area(self.place, self.limits)
            )
        may = withstands(self.place.material, self.limits)[0] + self.limits.value("heat.spot")
        celsius = air + place_rise(watts, self.case, self.loss)
        return Warm(current, watts, air, celsius, may, self.least(watts, air, may))

    def least(self, watts: float, air: float, may: float) -> float | None:
        """The outside surface, m2, with which its case gets no hotter than it may: Newton's law of cooling, the other way round."""
        least = watts / (self.loss * (may - air)) if may > air else None
        # no motor for a model is much larger than the usual ones
        return least if least is not None and least <= _LARGEST * USUAL_CASE else None


def _held(wiring: Wiring, electrics: Electrics, load: LoadFigures, soon: float) -> tuple[float, float] | None:
    """What a motor takes while it is held fast, A and W; None where it never is, or its fuse soon ends that.

    It is a resistor then: where a limit leaves it less current, it has fewer volts as well.
    """
    part = load.part
    gets = held_for_good(wiring, electrics, part, soon)
    if gets is None:
        return None
    return gets, gets * gets * load.volts / (part.most + part.surge(MOTOR_STARTS))
