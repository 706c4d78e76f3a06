"""What turning does to each wire of a passage, at its place in the packed bundle; what folding and spare length do."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor, hypot

from postcheck.description.models import Build, Passage
from postcheck.limits import Limits
from postcheck.physics import twist
from postcheck.survey.post.figures import Both, Coil, Folding, Member, Nicked, PassageFigures
from postcheck.wiring.data import wire_data

USUAL_SLACK = 0.002
"""Spare length in m that wires laid by hand have where the file does not say: judgement."""

# No hinge has so much free length (m).
_LONGEST = 10.0

Centres = Sequence[tuple[float, float]]


def free_of(passage: Passage) -> float:
    """Free length of the wires (m): that between their grips, or the whole bore."""
    return passage.free if passage.free is not None else passage.length


def helix_radii(members: Sequence[Member], centres: Centres) -> list[float]:
    """How far (m) the outermost conductor of each member lies from the middle of the bundle, round which it winds."""
    return [hypot(x, y) + member.edge for member, (x, y) in zip(members, centres, strict=True)]


def slack_of(
    passage: Passage, members: Sequence[Member], centres: Centres, length: float, turn: float
) -> float:
    """Slack (m) that the file gives; else as much as the outermost wire needs, up to what hands leave."""
    if passage.slack is not None:
        return passage.slack
    widest = max(helix_radii(members, centres), default=0.0)
    return min(twist.slack_needed(length, widest, turn), USUAL_SLACK)


def strains_of(
    passage: Passage, members: Sequence[Member], centres: Centres, length: float, turn: float
) -> tuple[twist.TwistStrain, ...]:
    """Strain range of one to and fro, per member; a sheathed cable is taken by the strands of its conductors."""
    slack = slack_of(passage, members, centres, length, turn)
    return tuple(
        _strain(member, passage.soldered_inside, length, turn, slack, helix)
        for member, helix in zip(members, helix_radii(members, centres), strict=True)
    )


def _strain(
    member: Member, soldered: bool, length: float, turn: float, slack: float, helix: float
) -> twist.TwistStrain:
    if member.wire is None or turn == 0.0:
        return twist.TwistStrain(0.0, 0.0, 0.0, 0.0)
    wire, radius = member.wire, member.working_radius(soldered=soldered)
    strain = twist.strain_range(radius, length, -turn, turn, helix, slack)
    lay = None if soldered else twist.lay_of(wire.strand_diameter, wire.strands, wire.lay)
    if lay is None:
        return strain
    along = twist.lay_strain(lay, radius, length, -turn, turn)
    whole = twist.equivalent_strain(strain.axial, strain.bend + along, strain.shear)
    return strain._replace(lay=along, equivalent=whole)


def _folded(passage: Passage, member: Member, length: float) -> float:
    """Strain range of one folding of a member over a free length (m); nothing where its copper is not known."""
    if member.wire is None:
        return 0.0
    return twist.fold_strain(member.working_radius(soldered=passage.soldered_inside), length, passage.fold)


def folding_of(
    passage: Passage, members: Sequence[Member], centres: Centres, cycles: float
) -> Folding | None:
    """What a hinge does to the wire that it strains most; None where nothing folds."""
    if passage.fold == 0.0 or not any(member.wire for member in members):
        return None
    tired = max(members, key=lambda member: member.working_radius(soldered=passage.soldered_inside))
    radius = tired.working_radius(soldered=passage.soldered_inside)
    strain = _folded(passage, tired, free_of(passage))
    band = twist.life(strain)
    needed = twist.fold_length(radius, passage.fold, twist.strain_borne(cycles))
    if passage.turn > 0.0:
        needed = _both_lived(passage, members, centres, cycles, needed)
    return Folding(tired, strain, (band.low, band.high), ceil(needed * 1e3) / 1e3)


def both_of(passage: Passage, members: Sequence[Member], strains: Sequence[twist.TwistStrain]) -> Both | None:
    """What wears out first of turning and folding together; None where not both strain it."""
    found: list[Both] = []
    for member, strain in zip(members, strains, strict=True):
        fold = _folded(passage, member, free_of(passage))
        if fold > 0.0 and strain.equivalent > 0.0:
            band = twist.life_together((strain.equivalent, fold))
            found.append(Both(member, strain.equivalent, fold, (band.low, band.high)))
    return min(found, key=lambda one: one.cycles_to_failure, default=None)


def _both_lived(
    passage: Passage, members: Sequence[Member], centres: Centres, cycles: float, least: float
) -> float:
    """The free length (m), `least` at least, with which all wires last so many turnings and foldings. By bisection: both strains fall with it."""

    def lives(length: float) -> bool:
        strains = strains_of(passage, members, centres, length, passage.turn)
        each = (
            (strain.equivalent, _folded(passage, member, length))
            for member, strain in zip(members, strains, strict=True)
        )
        return all(twist.life_together(both).low >= cycles for both in each)

    high = least
    while not lives(high) and high < _LONGEST:
        high *= 2.0
    low = max(least, high / 2.0)
    for _ in range(24 if high > least else 0):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if lives(middle) else (middle, high)
    return high if lives(high) else least


def nicked_of(
    passage: Passage, members: Sequence[Member], strains: Sequence[twist.TwistStrain], limits: Limits
) -> Nicked | None:
    """The solid wire that a nick breaks first, twisted or folded; None where none moves."""
    turned, folded = limits.value("twist.nick"), limits.value("fold.nick")
    found: list[Nicked] = []
    for member, strain in zip(members, strains, strict=True):
        if member.wire is None or not member.wire.solid or member.wire.enamelled:
            continue
        fold = twist.fold_strain(member.working_radius(), free_of(passage), passage.fold)
        both = twist.nicked_strain(strain.equivalent, turned), twist.nicked_strain(fold, folded)
        if max(both) > 0.0:
            band = twist.life_together(both)
            found.append(Nicked(member, (band.low, band.high)))
    return min(found, key=lambda one: one.cycles_to_failure, default=None)


def coil_of(passage: Passage, members: Sequence[Member], advised: float) -> Coil | None:
    """How tightly the stated slack winds the thickest conductor in the bore, had it the bore to itself; None where none is stated.

    `advised`: its least bend radius in outside diameters.
    """
    # flat cables coil the flat way, for which there are no measurements: left open
    widest = max((m for m in members if m.flat is None), key=lambda member: member.diameter, default=None)
    if widest is None or not passage.slack or free_of(passage) > passage.length:
        return None
    helix = max(0.0, (passage.bore - widest.diameter) / 2.0)
    bent = twist.coil_radius(passage.length, passage.slack, helix) / widest.diameter
    most = twist.coil_length(passage.length, helix, advised * widest.diameter)
    return Coil(widest, bent, floor(most * 1e3) / 1e3 if most < passage.slack else passage.slack)


def grip_of(build: Build, members: Sequence[Member], limits: Limits) -> float:
    """Least distance (m) from the last grip to a joint: solder creeps up strands, so a cable counts by its conductors."""
    thickest = max((_joined(build, member) for member in members), default=0.0)
    return max(limits.value("twist.grip"), limits.value("twist.grip.diameters") * thickest)


def _joined(build: Build, member: Member) -> float:
    """Outside diameter (m) of what is joined: the wire, or the thickest conductor of a cable; 0 where it is unknown."""
    if member.kind != "cable":
        return member.diameter
    names = {run.wire or build.usual.run for run in build.run if run.cable == member.name}
    return max((wire_data(build, name).max_diameter for name in names if name is not None), default=0.0)


def short_lived(figures: PassageFigures, cycles: float, length: float, turn: float) -> list[int]:
    """The members that may not last so many cycles with this free length (m) and turn each way (rad)."""
    passage, members = figures.passage, figures.members
    strains = strains_of(passage, members, figures.centres, length, turn)
    return _short_lived(passage, members, strains, length, cycles)


def _short_lived(
    passage: Passage,
    members: Sequence[Member],
    strains: Sequence[twist.TwistStrain],
    length: float,
    cycles: float,
) -> list[int]:
    """The members that strains of turning tire, beside what as many foldings over a free length (m) leave of their life.

    A member that folding tires by itself counts by its turning alone: its fold is a matter of its own.
    """
    whole = twist.strain_borne(cycles)

    def borne(member: Member) -> float:
        return (
            (twist.strain_borne(cycles, _folded(passage, member, length)) or whole) if passage.fold else whole
        )

    return [
        number
        for number, (member, strain) in enumerate(zip(members, strains, strict=True))
        if strain.equivalent > borne(member)
    ]


def turn_lived(
    passage: Passage, members: Sequence[Member], centres: Centres, cycles: float, most: float
) -> float:
    """The greatest turn each way (rad), up to `most`, with which every wire surely lives. Halving: strain grows with turn."""
    length = free_of(passage)

    def lives(turn: float) -> bool:
        strains = strains_of(passage, members, centres, length, turn)
        return not _short_lived(passage, members, strains, length, cycles)

    if lives(most):
        return most
    low, high = 0.0, most
    for _ in range(24):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if lives(middle) else (low, middle)
    return low
