"""What the parts of a build draw and dissipate, as far as it can be told without a survey."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import isfinite

from postcheck.description.models import Build
from postcheck.planner.strings import Source
from postcheck.planner.warmth import Warm
from postcheck.survey.network.supplies import converter_volts, source_of, volts_needed
from postcheck.wiring.looked_up import parts_of
from postcheck.wiring.nets import Driver, drivers_of
from postcheck.wiring.parts import LoadPart, Part


def source_behind(build: Build, driver: Driver) -> Source:
    """What drives a circuit; `driver`: the one of that circuit, with a supply."""
    supply = build.supply[driver.supply or ""]
    volts: Callable[[int], float] = (
        (lambda corner: converter_volts(supply, corner)[0])
        if supply.kind == "converter"
        else (lambda corner: source_of(supply, corner)[0])
    )
    drop = volts_needed(driver) if driver.steady is not None else driver.drop
    usual, least, most = (max(volts(corner) - drop, 0.0) for corner in (0, -1, 1))
    return Source(usual, least, most if isfinite(most) else usual, driver.steady)


def dissipated(build: Build) -> Iterator[tuple[Part, Warm]]:
    """Each lamp whose resistor is known, and each load, with what it draws and dissipates: a current that is not open."""
    drivers = drivers_of(build)
    for part in parts_of(build).named.values():
        driver = drivers.get(part.circuit)
        if driver is None or driver.supply is None:
            continue
        usual = source_behind(build, driver).usual
        if isinstance(part, LoadPart):
            yield part, Warm(
                path=part.path, amps=part.typical, strings=1, dice_volts=usual, resistor_volts=0.0, place=part.place,
                seat=part.place, fixed=True,
            )  # fmt: skip
        elif part.resistor is not None and part.dice and part.dice[0].filament_volts is None:
            takes = sum(die.forward[1] for die in part.dice)
            inside = sum(die.inside for die in part.dice)
            takes += inside * max(usual - takes, 0.0) / (part.resistor.ohms + inside)
            over = max(usual - takes, 0.0)
            yield part, Warm(
                path=part.path, amps=over / part.resistor.ohms, strings=part.parallel, dice_volts=takes, resistor_volts=over,
                place=part.place, seat=part.resistor.place, fixed=True,
            )  # fmt: skip
