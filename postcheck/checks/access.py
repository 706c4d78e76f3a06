"""What a later repair can reach: leads long enough to open their cover, and what is sealed in."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.cells import is_lead_acid
from postcheck.description.consumers import Said, entries
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.closing.access import Reached


def _too_short(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    opens, anew = survey.limits["access.slack"], survey.limits["run.anew"]
    for entry in entries(survey.build):
        lead, name, home = entry.said.lead, entry.name, entry.said.place
        if lead is None:
            continue
        to = lead.to or home
        place = survey.build.place.get(to)
        if to == home or place is None or place.access == "sealed":
            continue
        opening = place.opening if place.access == "cover" else None
        limit = anew if opening is None else opens
        needed = (opening or 0.0) + limit.value
        least = Limited(needed, "m", limit.source, limit.name)
        subject = Subject(entry.kind, name)
        whole = min(_lengths(entry.said), default=None)
        if opening is not None and whole is not None:
            # a lead cannot have more to spare than its length
            yield (within := Within(subject, whole, least, least=True))
            if not within.kept:
                yield Fact(
                    "caution", subject, (*entry.path, "lead"), "whole",
                    figures={
                        "length": Figure(whole, "m"), "opening": Figure(opening, "m"), "needed": Figure(needed, "m"),
                        "longer": Figure(whole + needed, "m"),
                    },
                    parts={"lead": Subject("lead", name), "place": Subject("place", to)},
                    limit=limited(limit),
                )  # fmt: skip
                continue
        if lead.spare is None:
            if opening is not None:
                yield open_question(
                    name,
                    "whether its lead lets {place} open",
                    'the spare length at its joint, such as spare = "80 mm"',
                    parts={"place": Subject("place", to)},
                )
            continue
        yield (within := Within(subject, lead.spare, least, least=True))
        if not within.kept:
            yield Fact(
                "caution",
                within.subject,
                (*entry.path, "lead", "spare"),
                "anew" if opening is None else "",
                figures={
                    "spare": Figure(lead.spare, "m"),
                    **({} if opening is None else {"opening": Figure(opening, "m")}),
                    "needed": Figure(needed, "m"),
                },
                parts={"lead": Subject("lead", name), "place": Subject("place", to)},
                limit=limited(limit),
            )


def _lengths(said: Said) -> Iterator[float]:
    """How long the legs of a lead are, m, as far as the file says."""
    lead = said.lead
    if lead is not None:
        legs = (leg.length for leg in (lead.feed, lead.back) if leg is not None)
        yield from filter(None, (lead.length, *legs, *(getattr(said, "leads", None) or ())))


_KINDS = ("supply", "board", "joint", "motor")


def _kind(one: Reached, motors: Collection[str], adaptors: Collection[str]) -> str:
    """What may need a repair and could be elsewhere; empty for all else. An adaptor belongs into no body at all."""
    if one.kind == "supply" and one.name in adaptors:
        return ""
    if one.kind == "joint":
        return "joint" if one.apart else ""
    if one.kind == "load":
        return "motor" if one.name in motors else ""
    return {"join": "joint", "board": "board", "supply": "supply"}.get(one.kind, "")


def _sealed(survey: Survey) -> Iterator[Fact]:
    """What could sensibly be elsewhere.

    A lamp with its resistor, soldered straight to its line, has no other place; nor has the only lead of a small model
    that has no hub.
    """
    hubs = _hubs(survey)
    motors = {load.name for load in survey.build.load if load.kind == "motor"}
    adaptors = {name for name, supply in survey.build.supply.items() if supply.kind == "adaptor"}
    sealed: dict[str, dict[str, list[Subject]]] = {}
    for one in survey.access:
        if one.kind == "joint" and one.name in survey.wiring.open_ends:  # it may well go elsewhere
            continue
        if one.reach == "cut" and (kind := _kind(one, motors, adaptors)):
            sealed.setdefault(one.place, {}).setdefault(kind, []).append(Subject(kind, one.name))
    for place, kinds in sealed.items():
        if not hubs and len(kinds.get("joint", ())) == 1:
            del kinds["joint"]
        if not kinds:
            continue
        supplies = kinds.get("supply", [])
        alone = kinds.keys() == {"motor"}
        yield Fact(
            "caution",
            Subject("place", place),
            ("place", place, "access"),
            "motor" if alone else "hub" if hubs else "no hub",
            "motor" if alone else "motor too" if "motor" in kinds else "",
            parts={
                "held": tuple(part for kind in _KINDS for part in kinds.get(kind, ())),
                **({"hubs": hubs} if hubs else {}),
            },
            because_of=_worse(survey, supplies[0].name) if supplies and len(kinds) == 1 else None,
        )


def _hubs(survey: Survey) -> tuple[Subject, ...]:
    """Where a joint could be instead: places behind a cover; else open ones at which runs end and no supply sits."""
    build = survey.build
    covered = [name for name, place in build.place.items() if place.access == "cover"]
    ends = {place for run in build.run for place in run.ends} - {
        supply.place for supply in build.supply.values()
    }
    return tuple(
        Subject("place", name)
        for name in covered or [name for name in build.place if name in ends]
        if build.place[name].access != "sealed"
    )


def _worse(survey: Survey, supply: str) -> str:
    """What is found on a battery that is sealed in, and weighs more than being out of reach."""
    gas = is_lead_acid(survey.build.supply[supply])
    return f"battery.{'gas' if gas else 'lithium-sealed'}:{supply}"


_WEARS = {"motor": "Brushes and bearings of a motor wear out. It is reached by cutting only."}
_FAILS = {
    "": "Joints and boards fail before lamps do. These are reached by cutting only.",
    "motor too": "Joints and boards fail before lamps do, and brushes and bearings of a motor wear out. These are reached by cutting only.",
}
_LEFT = "or waive this with the reason why it has to be so."

CHECKS: tuple[Check, ...] = (
    Check(
        name="lead.too-short",
        severity="caution",
        subject="lamp",
        line="a lead is too short to open its cover or re-make its joint",
        why="A joint behind a cover must come out far enough to be re-made, more than once.",
        formula="spare length at the joint against how far the cover or hub must come out, and the length to re-make it",
        limits=("access.slack", "run.anew"),
        source="FAA AC 43.13-1B, 11-118: slack for two re-terminations",
        judge=_too_short,
        wording={
            "": Wording(
                "{lead} has {spare:apart} to spare at {place}. Opening {place} takes {opening:apart}, and re-making the joint {limit:apart}.",
                "The first repair tears it off, at the end that is glued in.",
                "Leave {needed} to spare at the joint.",
            ),
            "whole": Wording(
                "{lead} is {length:apart} long in all. Opening {place} takes {opening:apart}, and re-making the joint {limit:apart}.",
                "The first repair tears it off, at the end that is glued in.",
                "Use one of {longer}, and leave {needed} of it to spare at the joint.",
            ),
            "anew": Wording(
                "{lead} has {spare:apart} to spare at {place}. Re-making its joint twice takes {limit:apart}.",
                "A joint that fails is cut off and made again. Each time that takes some of the lead.",
                "Leave {needed} to spare at the joint.",
            ),
        },
    ),
    Check(
        name="access.sealed",
        severity="caution",
        subject="place",
        line="a board, a supply, a motor or the joint of a lead is sealed in",
        why="Joints and boards fail before lamps do, motors wear out, and these will be reached by cutting only.",
        formula="boards, supplies, motors, joins and the joints of leads whose place is sealed; not a lamp soldered straight to its line, nor its resistor, nor the only lead where there is no hub: a place behind a cover, or an open one where runs end and no supply sits",
        limits=(),
        source="common practice: joints, resistors, boards and motors stay where a hand can get at them",
        judge=_sealed,
        wording={
            case: Wording("{held:kind} will be sealed into {subject}.", why, f"{remedy}, {_LEFT}")
            for case, why, remedy in (
                # a motor sits where it drives something
                ("motor", _WEARS, "Leave a cover that it comes out by"),
                ("hub", _FAILS, "Move {held:kind} to {hubs:2}"),
                ("no hub", _FAILS, "Move {held:kind} to a hub behind a cover"),
            )
        },
    ),
)
