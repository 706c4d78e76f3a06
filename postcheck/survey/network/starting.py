"""What outputs and boards give while loads start, and what they and the pins of plugs carry while a motor is held fast for good."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from postcheck.physics.fuse import surely_open_by
from postcheck.survey.network.figures import Electrics, Surge
from postcheck.survey.network.supplies import gives_up
from postcheck.wiring import Wiring
from postcheck.wiring.parts import MOTOR_STARTS, LoadPart


def held_fast(wiring: Wiring, part: LoadPart) -> float | None:
    """What a motor gets while it is held fast, A, until a fuse ends it; None where it never is."""
    driver = wiring.drivers[part.circuit]
    wants = part.most + part.surge(MOTOR_STARTS)
    if not part.motor or part.never_stalls or wants <= 0.0:
        return None
    supply = wiring.build.supply.get(driver.supply or "")
    gets = min(wants, driver.steady or wants)
    return gets if supply is None else min(gets, gives_up(supply)[1])


def held_for_good(wiring: Wiring, electrics: Electrics, part: LoadPart, soon: float) -> float | None:
    """What a motor gets while it is held fast, A; None where it never is, or its fuse is sure to end that within `soon` s."""
    gets, name = held_fast(wiring, part), wiring.drivers[part.circuit].supply or ""
    supply, figures = wiring.build.supply.get(name), electrics.supplies.get(name)
    if gets is None or supply is None or supply.fuse is None:
        return gets
    fuse = supply.fuse.in_air(wiring.build.build.air[0])
    others = max((figures.nominal if figures is not None else 0.0) - part.typical, 0.0)
    ends = surely_open_by(fuse.rated, gets + others, fuse.kind, fuse.body, fuse.trips) <= soon
    return None if ends else gets


def surge_of(
    wiring: Wiring, circuits: Collection[str], nominal: float, held: Mapping[str, float]
) -> Surge | None:
    """What an output, or a board, of these circuits gives as its loads start; None where none takes more then.

    `nominal`: with everything running, A; `held`: each motor that may be held fast, and what it then takes, A. A load takes
    its current whatever the volts are, so that what it takes more is what its output gives more.
    """
    loads = [part for part in wiring.parts.loads if part.circuit in circuits and part.surge(MOTOR_STARTS)]
    stated = [part for part in loads if part.starting is not None]
    if not loads:
        return None
    first = max(stated or loads, key=lambda part: (part.motor, part.surge(MOTOR_STARTS)))
    return Surge(
        load=first.name,
        starting=nominal + sum(_more(part, part.starting) for part in stated),
        motors=nominal + sum(_more(part, part.starting) for part in stated if part.motor),
        unknown=nominal + sum(_more(part, part.most + part.surge(MOTOR_STARTS)) for part in loads),
        asks=tuple(part.name for part in loads if part.starting is None),
        held={part.name: nominal + _more(part, held[part.name]) for part in stated if part.name in held},
    )  # fmt: skip


def _more(part: LoadPart, current: float | None) -> float:
    """What a load takes more than in use, A."""
    return max((current or 0.0) - part.typical, 0.0)
