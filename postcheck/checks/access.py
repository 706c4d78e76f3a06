"""What a later repair can reach: leads long enough to open their cover, and what is sealed in."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from postcheck.checks.record import Check
from postcheck.checks.shown import listed, millimetres
from postcheck.description.models import Lead
from postcheck.description.naming import lamp_names, strip_names
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey

__all__ = ["CHECKS"]


def _leads(survey: Survey) -> Iterator[tuple[str, str, tuple[str | int, ...], str, Lead]]:
    """Kind, name, path, place and lead of everything that has one."""
    build = survey.build
    for index, (lamp, name) in enumerate(zip(build.lamp, lamp_names(build), strict=True)):
        if lamp.lead is not None:
            yield "lamp", name, ("lamp", index), lamp.place, lamp.lead
    for index, (strip, name) in enumerate(zip(build.strip, strip_names(build), strict=True)):
        if strip.lead is not None:
            yield "strip", name, ("strip", index), strip.place, strip.lead
    for index, load in enumerate(build.load):
        if load.lead is not None:
            yield "load", load.name, ("load", index), load.place, load.lead


def _too_short(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["access.slack"]
    for kind, name, path, home, lead in _leads(survey):
        to = lead.to or home
        place = survey.build.place.get(to)
        if to == home or place is None or place.access != "cover" or place.opening is None:
            continue
        needed = place.opening + limit.value
        if lead.spare is None:
            yield NotJudged(
                name,
                f"whether its lead lets {quoted(to)} open",
                'the spare length at its joint, such as spare = "80 mm"',
            )
        elif lead.spare < needed:
            yield Finding(
                "lead.too-short", "caution", Subject(kind, name),
                f"the lead of {quoted(name)} has {millimetres(lead.spare)} to spare at {quoted(to)}; opening it takes {millimetres(place.opening)}, and re-making the joint {millimetres(limit.value)}.",
                "The first repair tears it off, at the end that is glued in.",
                (*path, "lead", "spare"),
                remedy=f"Leave {millimetres(needed)} to spare at the joint.",
                figures={"spare": Figure(lead.spare, "m"), "needed": Figure(needed, "m")},
                limit=Limited(limit.value, limit.unit, limit.source),
            )  # fmt: skip


def _sealed(survey: Survey) -> Iterator[Finding | NotJudged]:
    """What could sensibly be elsewhere.

    A lamp with its resistor, soldered straight to its line, has no other place; nor has the only lead of a small model
    that has no hub.
    """
    hubs = [name for name, place in survey.build.place.items() if place.access == "cover"]
    motors = {load.name for load in survey.build.load if load.kind == "motor"}
    held: dict[str, dict[str, list[str]]] = {}
    for one in survey.access:
        if one.reach == "cut" and (one.kind in ("board", "supply") or (one.kind == "joint" and one.apart)):
            held.setdefault(one.place, {}).setdefault(one.kind, []).append(one.name)
        elif one.reach == "cut" and one.kind == "join":
            held.setdefault(one.place, {}).setdefault("joint", []).append(one.name)
        elif one.reach == "cut" and one.kind == "load" and one.name in motors:
            held.setdefault(one.place, {}).setdefault("motor", []).append(one.name)
    for place, kinds in held.items():
        if not hubs and len(kinds.get("joint", ())) == 1:
            del kinds["joint"]
        told = [
            f"{words[len(kinds[kind]) > 1]} {listed(kinds[kind])}"
            for kind, words in _COUNTED.items()
            if kind in kinds
        ]
        if not told:
            continue
        supplies = kinds.get("supply", [])
        yield Finding(
            "access.sealed", "caution", Subject("place", place),
            f"{' and '.join(told)} will be sealed into {quoted(place)}.",
            f"{_why(kinds)}, and these are reached by cutting only.",
            ("place", place, "access"),
            remedy=f"{_out(kinds, hubs)}, or accept it with the reason why it has to be so.",
            because_of=f"battery.lithium-sealed:{supplies[0]}" if supplies and len(kinds) == 1 else None,
        )  # fmt: skip


_COUNTED = {
    "supply": ("the supply", "the supplies"),
    "board": ("the board", "the boards"),
    "joint": ("the joint of", "the joints of"),
    "motor": ("the motor", "the motors"),
}


def _why(kinds: Collection[str]) -> str:
    wears = ["brushes and bearings of a motor wear out"] if "motor" in kinds else []
    fails = ["joints and boards fail before lamps do"] if {*kinds} - {"motor"} else []
    told = ", and ".join(fails + wears)
    return f"{told[0].upper()}{told[1:]}"


def _out(kinds: Collection[str], hubs: list[str]) -> str:
    """A motor sits where it turns something: it needs a way out there."""
    if {*kinds} == {"motor"}:
        return "Leave a cover that it comes out by"
    return f"Bring them out to {listed(hubs, 2) if hubs else 'a hub behind a cover'}"


CHECKS: tuple[Check, ...] = (
    Check(
        name="lead.too-short",
        severity="caution",
        subject="lamp",
        line="a lead is too short to open its cover",
        why="A joint behind a cover must come out far enough to be re-made, more than once.",
        formula="spare length at the joint against how far the cover or hub must come out, and the length to re-make it",
        limits=("access.slack",),
        source="FAA AC 43.13-1B, 11-118: slack for two re-terminations",
        judge=_too_short,
    ),
    Check(
        name="access.sealed",
        severity="caution",
        subject="place",
        line="a board, a supply, a motor or the joint of a lead is sealed in",
        why="Joints and boards fail before lamps do, motors wear out, and these will be reached by cutting only.",
        formula="boards, supplies, motors, joins and the joints of leads whose place is sealed; not a lamp soldered straight to its line, nor its resistor, nor the only lead where there is no hub behind a cover",
        limits=(),
        source="common practice: joints, resistors, boards and motors stay where a hand can get at them",
        judge=_sealed,
    ),
)
