"""The fuse that carries the load and still protects the thinnest conductor."""

from __future__ import annotations

from collections.abc import Callable

from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, FuseSpec
from postcheck.limits import LimitName
from postcheck.physics.fuse import FuseBody, FuseKind, may_hold, next_fuse
from postcheck.survey.heat.faults import Faults
from postcheck.survey.heat.figures import ConductorFault
from postcheck.survey.network.supplies import gives_up
from postcheck.wiring import Wiring
from postcheck.wiring.parts import MOTOR_STARTS

# A, the least fuse to offer where a larger one protects as well: smaller ones have ohms of their own, which dim lamps
# (IEC 60127-2 allows a 100 mA fuse some 3 V at its rating, one of 32 mA 10 V; from memory).
USUAL_LEAST = 0.1
LEAST = 0.032


LOADS: dict[str, LimitName] = {"resettable": "fuse.load.resettable", "UL": "fuse.load.ul"}
"""The limit of what a fuse carries in continuous use, where it is not that of quick and slow ones."""


def with_fuse(
    build: Build, supply: str, rated: float, kind: FuseKind = "quick", body: FuseBody | None = None
) -> Build:
    """The build with another fuse at a supply."""
    changed = build.supply[supply].model_copy(update={"fuse": _fuse(rated, kind, body)})
    return build.model_copy(update={"supply": FrozenDict({**build.supply, supply: changed})})


def _fuse(rated: float, kind: FuseKind = "quick", body: FuseBody | None = None) -> FuseSpec:
    return FuseSpec.model_construct(rated=rated, kind=kind, body=body)


def holds_far_short(fault: ConductorFault, kind: FuseKind, holds: float) -> bool:
    """Whether a short draws so little that the fuse in its way is made to hold it."""
    return fault.fuse is not None and fault.current < may_hold(kind, holds) * fault.fuse


def protects_at_supply(shorts: Faults, supply: str) -> bool:
    """Whether the fuse of a supply, moved to the supply itself, protects every conductor."""
    fuse = shorts.wiring.build.supply[supply].fuse
    if fuse is None:
        return False
    return not any(fault.most.hurt for fault in shorts.of(supply, _fuse(fuse.rated, fuse.kind)))


def protecting_fuse(
    shorts: Faults, supply: str, load: float, kind: FuseKind = "quick", body: FuseBody | None = None
) -> float | None:
    """The least usual rating (A, IEC 60127-1, R10) of a fuse that carries a load and protects, or None.

    It carries the load with its margin, holds while motors start, harms no conductor, holds no far short, and is not above
    what the supply is rated for: proven by working out the faults again. None where no rating does: then a conductor has to
    be thicker.
    """
    wiring, limits = shorts.wiring, shorts.limits
    most, holds = gives_up(wiring.build.supply[supply])[0], limits.value("fuse.holds")

    def protects(rating: float) -> bool:
        return not any(
            fault.most.hurt or holds_far_short(fault, kind, holds)
            for fault in shorts.of(supply, _fuse(rating, kind, body))
        )

    start = load + _starting(wiring, supply)
    carries = max(load / limits.value(LOADS.get(kind, "fuse.load")), start / may_hold(kind, holds))
    return _least(carries, most, protects)


def _starting(wiring: Wiring, supply: str) -> float:
    """The extra current of everything on a supply while it starts, A; the usual one of motors where the file does not say."""
    return sum(
        part.surge(MOTOR_STARTS) for part in wiring.parts.all if wiring.drivers[part.circuit].supply == supply
    )


def _least(carries: float, most: float, protects: Callable[[float], bool]) -> float | None:
    """The first rating from the usual least up that protects; else one below it. A smaller fuse protects no worse."""
    rated = next_fuse(max(carries, USUAL_LEAST))
    if rated is not None and rated <= most and protects(rated):
        return rated
    smaller = []
    rated = next_fuse(max(carries, LEAST))
    while rated is not None and rated < USUAL_LEAST and rated <= most:
        smaller.append(rated)
        rated = next_fuse(rated * 1.01)
    return next((rating for rating in reversed(smaller) if protects(rating)), None)
