"""Drawing wires through bends, and the bends at the ends."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees, floor, radians
from operator import itemgetter

from postcheck.description.models import Passage
from postcheck.limits import Limits
from postcheck.physics import copper, twist
from postcheck.survey.post.figures import EndBend, Member, Pull


def pull_of(passage: Passage, members: Sequence[Member], limits: Limits) -> Pull | None:
    """The weakest wire, drawn round all bends alone; None in a straight passage, where nothing multiplies the pull.

    In a bundle it may have to carry as much: what is pulled first takes everything.
    """
    wired = [
        (member.wire.conductor_area, member)
        for member in members
        if member.wire is not None and member.kind != "cable"
    ]
    if passage.bends == 0.0 or not wired:
        return None
    section, weakest = min(wired, key=itemgetter(0))
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
    """What the bend at the ends asks of the widest wire, and of the copper that it strains most."""
    members = [member for member in members if member.flat is None]
    if passage.bend_radius is None or not members:
        return None
    radius = passage.bend_radius
    widest = max(members, key=lambda member: member.diameter)
    tired = max(members, key=Member.working_radius)
    strain = twist.bend_strain(tired.working_radius(), radius)
    swing = twist.swing_range(strain, passage.turn)
    band, swings = twist.life(swing), twist.swings(passage.turn)
    # gripped ahead of the bend, the wires twist in the bore and the bend lies still (FAA AC 43.13-1B, 11-115)
    moves = False if passage.turn == 0.0 or passage.bend_held else None if passage.bend_held is None else True
    return EndBend(
        widest,
        radius / widest.diameter,
        tired,
        strain,
        swing,
        copper.minimum_elongation(tired.wire.strand_diameter if tired.wire is not None else 0.0),
        (band.low / swings, band.high / swings),
        moves,
    )


def bend_lived(bend: EndBend, turn: float, cycles: float) -> float:
    """The least inside radius (m) at which every wire surely lasts so many turnings of `turn` (rad) each way."""
    borne = twist.strain_borne(cycles * twist.swings(turn)) / twist.swing_range(1.0, turn)
    return max(0.0, twist.repeated_bend_radius(bend.tired.working_radius(), borne))
