"""Drawing wires through bends, and the bends at the ends."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees, floor, radians

from postcheck.build.models import Passage
from postcheck.limits import Limits
from postcheck.physics import copper, twist
from postcheck.survey.figures import EndBend, Member, Pull

__all__ = ["end_bend_of", "pull_of"]


def pull_of(passage: Passage, members: Sequence[Member], limits: Limits) -> Pull | None:
    """The weakest wire, drawn round all bends alone; None in a straight passage, where nothing multiplies the pull.

    In a bundle it may have to carry as much: what is pulled first takes everything.
    """
    wired = [member for member in members if member.wire is not None and member.kind != "cable"]
    if passage.bends == 0.0 or not wired:
        return None
    weakest = min(wired, key=lambda member: member.wire.conductor_area if member.wire else 0.0)
    section = weakest.wire.conductor_area if weakest.wire is not None else 0.0
    tail, friction = limits.value("pull.tail"), limits.value("pull.friction")
    stands = twist.pull_limit(section, limits.value("pull.stress") * 1e6)
    borne = twist.bends_borne(tail, friction, stands)
    return Pull(
        weakest,
        twist.capstan(tail, friction, passage.bends),
        stands,
        copper.breaking_load(section),
        radians(floor(degrees(borne) / 5.0) * 5.0),
    )


def end_bend_of(passage: Passage, members: Sequence[Member]) -> EndBend | None:
    """The wire that the bend at the ends strains most; by outside diameter where the copper of none is known."""
    if passage.bend_radius is None or not members:
        return None
    radius = passage.bend_radius

    def strain(member: Member) -> float:
        if member.wire is None:
            return 0.0
        return twist.bend_strain(
            twist.working_radius(member.wire.strand_diameter, member.wire.strands), radius
        )

    worst = max(members, key=lambda member: member.diameter)
    tired = max(members, key=strain)
    life = twist.life(strain(tired))
    return EndBend(worst, radius / worst.diameter, strain(tired), (life.low, life.high))
