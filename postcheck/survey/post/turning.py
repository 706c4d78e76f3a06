"""What turning does to each wire of a passage, at its place in the packed bundle."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from postcheck.description.models import Build, Passage
from postcheck.limits import Limits
from postcheck.physics import twist
from postcheck.survey.post.figures import Member, PassageFigures
from postcheck.wiring.data import wire_data

USUAL_SLACK = 0.002
"""Spare length in m that wires laid by hand have where the file does not say: judgement."""

Centres = Sequence[tuple[float, float]]


def free_of(passage: Passage) -> float:
    """Free length of the wires (m): that between their grips, or the whole bore."""
    return passage.free if passage.free is not None else passage.length


def slack_of(passage: Passage, centres: Centres, length: float, turn: float) -> float:
    """Slack (m) that the file gives; else as much as the outermost wire needs, up to what hands leave."""
    if passage.slack is not None:
        return passage.slack
    widest = max((hypot(x, y) for x, y in centres), default=0.0)
    return min(twist.slack_needed(length, widest, turn), USUAL_SLACK)


def strains_of(
    passage: Passage, members: Sequence[Member], centres: Centres, length: float, turn: float
) -> tuple[twist.TwistStrain, ...]:
    """Strain range of one to and fro, per member; a sheathed cable is taken by the strands of its conductors."""
    slack = slack_of(passage, centres, length, turn)
    return tuple(
        _strain(member, passage.soldered_inside, length, turn, slack, hypot(x, y))
        for member, (x, y) in zip(members, centres, strict=True)
    )


def _strain(
    member: Member, soldered: bool, length: float, turn: float, slack: float, helix: float
) -> twist.TwistStrain:
    if member.wire is None or turn == 0.0:
        return twist.TwistStrain(0.0, 0.0, 0.0, 0.0)
    radius = twist.working_radius(member.wire.strand_diameter, member.wire.strands, soldered)
    return twist.strain_range(radius, length, -turn, turn, helix, slack)


def grip_of(build: Build, members: Sequence[Member], limits: Limits) -> float:
    """Least distance (m) from the last grip to a joint: solder creeps up strands, so a cable counts by its conductors."""
    thickest = max((_joined(build, member) for member in members), default=0.0)
    return max(limits.value("twist.grip"), limits.value("twist.grip.diameters") * thickest)


def _joined(build: Build, member: Member) -> float:
    """Outside diameter (m) of what is joined: the wire, or the thickest conductor of a cable; 0 where nobody knows it."""
    if member.kind != "cable":
        return member.diameter
    names = {run.wire or build.usual.run for run in build.run if run.cable == member.name}
    return max((wire_data(build, name).max_diameter for name in names if name is not None), default=0.0)


def short_lived(figures: PassageFigures, cycles: float, length: float, turn: float) -> list[int]:
    """The members that may not live for so many cycles with this free length (m) and turn each way (rad)."""
    allowed = twist.strain_borne(cycles)
    strains = strains_of(figures.passage, figures.members, figures.centres, length, turn)
    return [number for number, strain in enumerate(strains) if strain.equivalent > allowed]


def turn_lived(
    passage: Passage, members: Sequence[Member], centres: Centres, cycles: float, most: float
) -> float:
    """The greatest turn each way (rad), up to `most`, with which every wire surely lives. Halving: strain grows with turn."""
    length, allowed = free_of(passage), twist.strain_borne(cycles)

    def lives(turn: float) -> bool:
        return all(
            strain.equivalent <= allowed for strain in strains_of(passage, members, centres, length, turn)
        )

    if lives(most):
        return most
    low, high = 0.0, most
    for _ in range(24):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if lives(middle) else (low, middle)
    return low
