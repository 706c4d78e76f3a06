"""What lies in each passage, how full that makes it, and what its turning does to the wires."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from math import pi, sqrt
from typing import NamedTuple

from postcheck.description.models import Build, Cable, Passage
from postcheck.description.naming import passages_of
from postcheck.limits import Limits
from postcheck.physics import bundle, copper, fill, twist
from postcheck.survey.post.bores import most_fill
from postcheck.survey.post.figures import Member, PassageFigures
from postcheck.survey.post.pulling import end_bend_of, pull_of
from postcheck.survey.post.threading import threading_of
from postcheck.survey.post.turning import (
    both_of,
    coil_of,
    folding_of,
    free_of,
    grip_of,
    helix_radii,
    nicked_of,
    slack_of,
    strains_of,
    turn_lived,
)
from postcheck.wiring import Wiring
from postcheck.wiring.data import WireData
from postcheck.wiring.parts import RunPart

# Wires this close in diameter count as equal where three may jam.
_EQUAL = 1.1
# With this many members or more, the smallest enclosing circle is not sought where there is room to spare.
_MANY = 60
_HAIR = 1e-9  # relative: what is left of rounding


def passages_figures(
    wiring: Wiring, limits: Limits, effort: bundle.Effort = "quick"
) -> dict[str, PassageFigures]:
    """Every passage by name, the post under `post`; packed with quick or long effort."""
    members: dict[str, list[Member]] = {name: [] for name in passages_of(wiring.build)}
    unknown: dict[str, list[str]] = {name: [] for name in members}
    for name, member in _members(wiring):
        if member.diameter > 0.0:
            members[name].append(member)
        elif member.name not in unknown[name]:
            unknown[name].append(member.name)
    return {
        name: _figures(wiring, name, passage, tuple(members[name]), tuple(unknown[name]), limits, effort)
        for name, passage in passages_of(wiring.build).items()
    }


class ConductorPath(NamedTuple):
    """A conductor of known length (m), and how long all the passages are that it goes through, by name."""

    member: Member
    long: float
    through: tuple[str, ...]
    length: float

    @property
    def short(self) -> bool:
        """Whether nothing of the conductor comes out to be joined."""
        return self.long <= self.length * (1.0 + _HAIR)

    def taken(self, passage: Passage) -> dict[str, float]:
        """The least length (m) of it that one passage takes, by the key of its table that says so.

        It lies between the grips with all its slack and reaches the first joint, which is as near on no other conductor;
        and it goes through all its passages.
        """
        free, to_joint = free_of(passage), passage.to_joint or 0.0
        slack = {"slack": passage.slack or 0.0}
        if free + to_joint < self.length:
            return {"length": self.length, **slack}
        return {"length" if passage.free is None else "free": free, "to_joint": to_joint, **slack}

    def lacks(self, passage: Passage) -> bool:
        """Whether one passage takes more than there is of it."""
        return sum(self.taken(passage).values()) > self.long * (1.0 + _HAIR)


def paths_through(passages: Mapping[str, PassageFigures]) -> list[ConductorPath]:
    """Every conductor of known length, each leg of a lead by itself."""
    paths: dict[tuple[str, str, str], ConductorPath] = {}
    for name, passage in passages.items():
        for member in {(each.name, each.kind, each.leg): each for each in passage.members}.values():
            if member.length is None:
                continue
            key = (member.name, member.kind, member.leg)
            so_far = paths.get(key, ConductorPath(member, member.length, (), 0.0))
            paths[key] = so_far._replace(
                through=(*so_far.through, name), length=so_far.length + passage.passage.length
            )
    return list(paths.values())


def opened_by(build: Build, member: Member) -> dict[str, float]:
    """How far (m) the covers at the ends of a run or cable must come out, by place: a joint comes along with its conductor."""
    runs = [
        run
        for index, run in enumerate(build.run)
        if member.path == ("run", index) or (member.kind == "cable" and run.cable == member.name)
    ]
    places = dict.fromkeys(place for run in runs for place in run.ends)
    return {
        place: opening
        for place in places
        if build.place[place].access == "cover" and (opening := build.place[place].opening)
    }


def _members(wiring: Wiring) -> Iterator[tuple[str, Member]]:
    """Every passage with each thing that lies in it."""
    yield from _runs(wiring)
    drivers = {name: wiring.drivers[part.circuit] for name, part in wiring.parts.named.items()}
    for wire in wiring.fine_wires:
        data = wire.data
        side = wire.leg if wire.leg != "link" else None
        nets = [drivers[name].net(side) for name in wire.carries] if side else []
        lines = tuple(dict.fromkeys(net for net in nets if net))
        for name in wire.through:
            yield (
                name,
                Member(
                    name=wire.name,
                    kind="lead",
                    path=wire.path,
                    diameter=_diameter(data.wire),
                    wire=data.wire,
                    length=data.length or None,
                    leg=wire.leg,
                    colour=data.colour,
                    entry=wire.entry,
                    string=wire.string,
                    lines=lines,
                    joint=wire.joint,
                ),
            )


def _runs(wiring: Wiring) -> Iterator[tuple[str, Member]]:
    sheathed: dict[tuple[str, str], list[RunPart]] = {}
    for run in wiring.parts.runs:
        if run.body:
            continue
        for name in run.through:
            if run.cable is not None:
                sheathed.setdefault((run.cable, name), []).append(run)
                continue
            member = Member(
                name=run.name,
                kind="run",
                path=run.path,
                diameter=_diameter(run.wire),
                wire=run.wire,
                length=run.length or None,
                colour=run.colour,
                lines=(run.line,) if run.line else (),
                joint=run.said.joint,
            )
            yield from [(name, member)] * run.conductors
    passages = passages_of(wiring.build)
    for (cable, name), runs in sheathed.items():
        yield name, _cable(cable, wiring.build.cable[cable], runs, soldered=passages[name].soldered_inside)


def _diameter(wire: WireData | None) -> float:
    """How thick a wire is at most (m), 0 where it is not known."""
    return 0.0 if wire is None else wire.max_diameter


# A wall (m) thinner than this is no sheath: thin sleeves have 0.2 to 0.3 mm (makers' sheets, from memory).
_SHEATH = 0.2e-3


def _cable(name: str, said: Cable, runs: Sequence[RunPart], *, soldered: bool) -> Member:
    """A sheathed or flat cable: as long as the shortest run in it, and as stiff as its stiffest conductor."""
    length = min((run.length for run in runs if run.length > 0.0), default=None)
    wires = [run.wire for run in runs if run.wire is not None]
    wire = max(
        wires,
        key=lambda wire: (twist.working_radius(wire.strand_diameter, wire.strands, soldered), wire.name),
        default=None,
    )
    joints = [run.said.joint for run in runs if run.said.joint is not None]
    flat = None if said.flat is None else (said.flat.across, said.flat.thin or said.flat.across)
    diameter = said.outside or (0.0 if flat is None else 2.0 * sqrt(flat[0] * flat[1] / pi))
    within = [run.wire.max_diameter for run in runs if run.wire is not None for _ in range(run.conductors)]
    sheath = (
        (diameter - bundle.smallest_possible(within)) / 2.0 if len(within) > 1 and flat is None else _SHEATH
    )
    return Member(
        name=name,
        kind="cable",
        path=("cable", name),
        diameter=diameter,
        wire=wire,
        length=length,
        lines=tuple(run.line for run in runs if run.line),
        joint=max(joints, key=lambda size: size.across, default=None),
        flat=flat,
        bare=tuple(within) if sheath < _SHEATH else (),
    )


def _figures(
    wiring: Wiring,
    name: str,
    passage: Passage,
    members: tuple[Member, ...],
    unknown: tuple[str, ...],
    limits: Limits,
    effort: bundle.Effort,
) -> PassageFigures:
    any_flat = any(member.flat for member in members)
    packing, upright = _arranged(members, passage.bore, limits, effort)
    free, centres = free_of(passage), packing.centres
    strains = strains_of(passage, members, centres, free, passage.turn)
    cycles = passage.cycles if passage.cycles is not None else limits.value("twist.cycles")
    # NFPA 70 chapter 9, notes to the tables (from memory): a cable counts as one conductor, and wires that are laid
    # together without a covering as each of them
    counted = [diameter for member in members for diameter in member.bare or (member.diameter,)]
    return PassageFigures(
        name=name,
        passage=passage,
        path=("post",) if name == "post" else ("passage", name),
        members=members,
        fill=fill.fill(counted, passage.bore),
        smallest_bore=packing.diameter,
        verdict=packing.verdict,
        strain=tuple(strain.equivalent for strain in strains),
        cycles_to_failure=tuple(_cycles_to_failure(float(f"{strain.equivalent:.4g}")) for strain in strains),
        cycles=cycles,
        slack_needed=twist.slack_needed(free, max(helix_radii(members, centres), default=0.0), passage.turn),
        jam_ratio=None if any_flat else _jam_ratio(members, passage.bore),
        fill_limit=most_fill(len(counted), limits).value if members else 1.0,
        centres=centres,
        upright=upright,
        unknown=unknown,
        strains=strains,
        slack=slack_of(passage, members, centres, free, passage.turn),
        turn_borne=turn_lived(passage, members, centres, cycles, limits.value("twist.turn.caution"))
        if passage.turn > 0.0 and members
        else None,
        loop_turn=twist.loop_limit(),
        weak=_weak(members),
        grip=grip_of(wiring.build, members, limits),
        # whether anything gets past a flat cable is not worked out
        threading=None
        if any_flat
        else threading_of(wiring, name, passage, members, limits.value("passage.room.past")),
        pull=pull_of(passage, members, limits),
        end_bend=end_bend_of(passage, members),
        folding=folding_of(passage, members, centres, cycles),
        both=both_of(passage, members, strains),
        nicked=nicked_of(passage, members, strains, limits),
        metal=_metal(wiring, name, passage),
        coil=coil_of(passage, members, limits.value("bend.rest")),
    )


def _metal(wiring: Wiring, name: str, passage: Passage) -> tuple[str, ...]:
    """The lines of the runs that are a passage's own metal."""
    ends = {passage.start, passage.end}
    runs = [run for run in wiring.parts.runs if run.body and run.line]
    return tuple(dict.fromkeys(run.line for run in runs if name in run.through or {*run.ends} == ends))


def _weak(members: Sequence[Member]) -> tuple[float, float] | None:
    """Yield and breaking load (N) of the thinnest enamelled wire; of the thinnest of all where none is enamelled."""
    wires = [member.wire for member in members if member.wire is not None]
    sections = [wire.conductor_area for wire in wires if wire.enamelled] or [
        wire.conductor_area for wire in wires
    ]
    if not sections:
        return None
    return copper.yield_load(min(sections)), copper.breaking_load(min(sections))


def _arranged(
    members: Sequence[Member], bore: float, limits: Limits, effort: bundle.Effort
) -> tuple[bundle.Packing, bool]:
    """The slimmest arrangement found, as a bundle, and whether flat cables stand on their edges in it."""
    flats = [member.flat for member in members if member.flat is not None]
    round_ones = [member.diameter for member in members if member.flat is None]
    if not flats:
        return _packed(round_ones, bore, limits.value("passage.room"), effort), False
    from postcheck.physics import flat_cable  # noqa: PLC0415 - few builds have any

    packing = flat_cable.pack(flats, round_ones, bore)
    lying, beside = iter(packing.flats), iter(packing.wires)
    centres = tuple(next(lying if member.flat is not None else beside) for member in members)
    return bundle.Packing(packing.diameter, centres, packing.verdict), packing.upright


def _packed(diameters: list[float], bore: float, room: float, effort: bundle.Effort) -> bundle.Packing:
    """The smallest enclosing circle found, with the verdict on the bore.

    It is sought lightly where there is the usual room, and not at all for very many members there; where what was found
    is wider than the bore, it is sought again for that very bore.
    """
    roomy = bundle.pack(diameters, bore / room, bundle.LIGHT)
    if len(diameters) > _MANY and roomy.verdict != bundle.CANNOT:
        slim = roomy
    else:
        spare = roomy.verdict == bundle.FITS and effort != bundle.LONG
        slim = bundle.pack(diameters, effort=bundle.LIGHT if spare else effort)
    if slim.diameter <= bore * (1.0 + _HAIR):
        return slim._replace(verdict=bundle.FITS)
    sought = bundle.pack(diameters, bore, effort)
    return sought if sought.diameter <= slim.diameter else slim._replace(verdict=sought.verdict)


@lru_cache(maxsize=4096)
def _cycles_to_failure(strain: float) -> tuple[float, float]:
    life = twist.life(strain)
    return life.low, life.high


def _jam_ratio(members: Sequence[Member], bore: float) -> float | None:
    """Bore over wire where there are exactly three wires, as good as equal."""
    diameters = [member.diameter for member in members]
    if len(diameters) != 3 or max(diameters) > _EQUAL * min(diameters):
        return None
    return fill.jam_ratio(bore, sum(diameters) / 3.0)
