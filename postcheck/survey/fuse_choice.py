"""The fuse that carries the load and still protects the thinnest conductor."""

from __future__ import annotations

from postcheck.build.models import Build, FuseSpec
from postcheck.limits import Limits
from postcheck.physics.fuse import next_fuse
from postcheck.survey.faults import conductor_faults
from postcheck.survey.parts import Parts
from postcheck.survey.supplies import rated_current

__all__ = ["protecting_fuse", "with_fuse"]


def with_fuse(build: Build, supply: str, rated: float, kind: str = "quick") -> Build:
    """The build with another fuse at a supply."""
    fuse = FuseSpec.model_construct(rated=rated, kind=kind)
    changed = build.supply[supply].model_copy(update={"fuse": fuse})
    return build.model_copy(update={"supply": {**build.supply, supply: changed}})


def protecting_fuse(build: Build, parts: Parts, limits: Limits, supply: str, load: float) -> float | None:
    """The largest preferred rating (A, IEC 60127-1, R10) that carries a load and protects every conductor, or None.

    The load with its margin, the rating not above what the supply is rated for. Proven by working out the faults
    again, halving the list: a smaller fuse protects no worse. None where no rating does both: then no fuse helps, and
    a conductor has to be thicker.
    """
    most = rated_current(build.supply[supply]) or 10.0
    ratings: list[float] = []
    rated = next_fuse(max(load / limits.value("fuse.load"), 0.032))
    while rated is not None and (rated <= most or not ratings):
        ratings.append(rated)
        rated = next_fuse(rated * 1.01)

    def protects(rating: float) -> bool:
        faults = conductor_faults(with_fuse(build, supply, rating), parts, limits)
        return not any(fault.hurt for fault in faults if fault.supply == supply)

    if not ratings or not protects(ratings[0]):
        return None
    low, high = 0, len(ratings)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if protects(ratings[middle]) else (low, middle)
    return ratings[low]
