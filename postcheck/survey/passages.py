"""What lies in each passage, how full that makes it, and what its turning does to the wires."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import hypot

from postcheck.build.models import Build, Passage
from postcheck.build.naming import passages_of
from postcheck.limits import Limits
from postcheck.physics import bundle, fill, twist
from postcheck.survey.figures import Member, PassageFigures
from postcheck.survey.parts import LegPart, LoadPart, Parts, Path, RunPart, StripPart

__all__ = ["USUAL_SLACK", "legs_of", "passages_figures", "passages_of_lead", "through_by_name"]

USUAL_SLACK = 0.002
"""Spare length in m that wires laid by hand have where the file does not say: judgement."""
# Wires this close in diameter count as equal where three may jam.
_EQUAL = 1.1
# From so many members on, the slimmest bundle is not sought where there is room to spare.
_MANY = 60


def passages_figures(build: Build, parts: Parts, limits: Limits) -> dict[str, PassageFigures]:
    """Every passage by name, the post under `post`."""
    members: dict[str, list[Member]] = {name: [] for name in passages_of(build)}
    unknown: dict[str, list[str]] = {name: [] for name in members}
    for name, member in _members(build, parts):
        if member.diameter > 0.0:
            members[name].append(member)
        elif member.name not in unknown[name]:
            unknown[name].append(member.name)
    return {
        name: _figures(name, passage, tuple(members[name]), tuple(unknown[name]), limits)
        for name, passage in passages_of(build).items()
    }


def passages_of_lead(build: Build) -> dict[frozenset[str], tuple[str, ...]]:
    """The passages between each two places."""
    between: dict[frozenset[str], tuple[str, ...]] = {}
    for name, passage in passages_of(build).items():
        ends = frozenset((passage.start, passage.end))
        between[ends] = (*between.get(ends, ()), name)
    return between


def through_by_name(build: Build) -> dict[str, list[str]]:
    """The passages that list a lead, lamp or run by its name."""
    named: dict[str, list[str]] = {}
    for name, passage in passages_of(build).items():
        for other in passage.through:
            named.setdefault(other, []).append(name)
    return named


def legs_of(parts: Parts) -> Iterator[tuple[str, str, Path, str, str, LegPart]]:
    """All fine wires of lamps, strips and loads: part, its entry's name, path, leg, the place it starts at, the leg.

    The back leg that the colours of a lamp share is given once. A link of a chain goes from lamp to lamp.
    """
    shared: set[str] = set()
    for lamp in parts.lamps:
        path = lamp.path[:2]
        yield lamp.name, lamp.entry, path, "feed", lamp.places[0], lamp.feed
        if lamp.shares_back is None or lamp.shares_back not in shared:
            yield lamp.name, lamp.entry, path, "back", lamp.places[-1], lamp.back
        if lamp.shares_back is not None:
            if lamp.shares_back in shared:
                continue
            shared.add(lamp.shares_back)
        for number, link in enumerate(lamp.links):
            ends = lamp.places[number : number + 2]
            if len(ends) == 2:
                yield (
                    lamp.name,
                    lamp.entry,
                    path,
                    "link",
                    ends[0],
                    LegPart(link.length, link.wire, ends[1], link.colour),
                )
    others: tuple[StripPart | LoadPart, ...] = (*parts.strips, *parts.loads)
    for part in others:
        yield part.name, part.name, part.path, "feed", part.place, part.feed
        yield part.name, part.name, part.path, "back", part.place, part.back


def _members(build: Build, parts: Parts) -> Iterator[tuple[str, Member]]:
    named = through_by_name(build)
    yield from _runs(build, parts, named)
    between = passages_of_lead(build)
    for part, entry, path, leg, start, data in legs_of(parts):
        if data.wire is None and data.length == 0.0 and data.to == start:
            continue  # no lead at all
        extra = named.get(part, []) + (named.get(entry, []) if entry != part else [])
        for name in dict.fromkeys((*between.get(frozenset((start, data.to)), ()), *extra)):
            diameter = data.wire.max_diameter if data.wire is not None else 0.0
            yield name, Member(part, "lead", path, diameter, data.wire, data.length or None, leg, data.colour)


def _runs(build: Build, parts: Parts, named: dict[str, list[str]]) -> Iterator[tuple[str, Member]]:
    sheathed: dict[tuple[str, str], list[RunPart]] = {}
    for run in parts.runs:
        if run.body:
            continue
        for name in dict.fromkeys((*run.through, *named.get(run.name, ()))):
            if run.cable is not None:
                sheathed.setdefault((run.cable, name), []).append(run)
                continue
            diameter = run.wire.max_diameter if run.wire is not None else 0.0
            for _ in range(run.conductors):
                yield (
                    name,
                    Member(
                        run.name, "run", run.path, diameter, run.wire, run.length or None, colour=run.colour
                    ),
                )
    for (cable, name), runs in sheathed.items():
        yield name, _cable(cable, build.cable[cable].outside, runs, passages_of(build)[name].soldered_inside)


def _cable(name: str, outside: float, runs: Sequence[RunPart], soldered: bool) -> Member:
    """A sheathed cable: as long as the shortest run in it, and as stiff as its stiffest conductor."""
    length = min((run.length for run in runs if run.length > 0.0), default=None)
    wires = [run.wire for run in runs if run.wire is not None]
    wire = max(
        wires,
        key=lambda wire: (twist.working_radius(wire.strand_diameter, wire.strands, soldered), wire.name),
        default=None,
    )
    return Member(name, "cable", ("cable", name), outside, wire, length)


def _figures(
    name: str, passage: Passage, members: tuple[Member, ...], unknown: tuple[str, ...], limits: Limits
) -> PassageFigures:
    diameters = [member.diameter for member in members]
    packing = _packed(diameters, passage.bore, limits.value("passage.room"))
    verdict = bundle.FITS
    if packing.diameter > passage.bore * (1.0 + 1e-9):
        verdict = bundle.pack(diameters, passage.bore).verdict
    free = passage.free if passage.free is not None else passage.length
    widest = max((hypot(x, y) for x, y in packing.centres), default=0.0)
    needed = twist.slack_needed(free, widest, passage.turn)
    slack = passage.slack if passage.slack is not None else min(needed, USUAL_SLACK)
    strains = tuple(
        _strain(member, passage, free, slack, hypot(x, y))
        for member, (x, y) in zip(members, packing.centres, strict=True)
    )
    lives = tuple(_life(float(f"{strain:.4g}")) for strain in strains)
    bores = (
        limits.value("passage.fill.one"),
        limits.value("passage.fill.two"),
        limits.value("passage.fill.more"),
    )
    return PassageFigures(
        name=name,
        passage=passage,
        path=("post",) if name == "post" else ("passage", name),
        members=members,
        fill=fill.fill(diameters, passage.bore),
        smallest_bore=packing.diameter,
        verdict=verdict,
        strain=strains,
        life=tuple((life.low, life.high) for life in lives),
        cycles=passage.cycles if passage.cycles is not None else limits.value("twist.cycles"),
        slack_needed=needed,
        jam_ratio=_jam_ratio(diameters, passage.bore),
        fill_limit=fill.fill_limit(len(members), *bores) if members else 1.0,
        centres=packing.centres,
        unknown=unknown,
    )


def _strain(member: Member, passage: Passage, free: float, slack: float, helix: float) -> float:
    """Strain range of one to and fro; a sheathed cable is taken by the strands of its conductors."""
    if member.wire is None or passage.turn == 0.0:
        return 0.0
    wire = member.wire
    radius = twist.working_radius(wire.strand_diameter, wire.strands, passage.soldered_inside)
    return twist.strain_range(radius, free, -passage.turn, passage.turn, helix, slack).equivalent


def _packed(diameters: list[float], bore: float, room: float) -> bundle.Packing:
    """The slimmest bundle; with very many members one that leaves the usual room, which is found at once."""
    if len(diameters) > _MANY:
        roomy = bundle.pack(diameters, bore / room)
        if roomy.verdict != bundle.CANNOT:
            return roomy
    return bundle.pack(diameters)


@lru_cache(maxsize=4096)
def _life(strain: float) -> twist.Life:
    return twist.life(strain)


def _jam_ratio(diameters: list[float], bore: float) -> float | None:
    """Bore over wire where there are exactly three wires, as good as equal."""
    if len(diameters) != 3 or max(diameters) > _EQUAL * min(diameters):
        return None
    return fill.jam_ratio(bore, sum(diameters) / 3.0)
