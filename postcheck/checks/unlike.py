"""Lamps that are lit, but unlike: unlike their fellows on a circuit or in a place, or unlike what the file wants."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.brightness import DARK, cause_of_lack
from postcheck.checks.fact import Fact, Within, first_broken, limited
from postcheck.checks.known import filament, known_lamps, turns
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.limits import above
from postcheck.physics.light import light_ratio
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.parts import LampPart

# -- as their fellows


def _unequal(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    yield from _unlike_whites(survey)
    yield from _of_a_kind(survey)
    yield from _two_whites(survey)


def _lit_alike(survey: Survey) -> Iterator[LampFigures]:
    """The lamps that are lit, and whose current nobody sets, shares or turns on purpose."""
    for lamp in known_lamps(survey):
        part = lamp.part
        on_purpose = turns(part) or part.wanted is not None or part.one_resistor
        if not on_purpose and above(lamp.nominal, DARK * lamp.rated):
            yield lamp


def _of_a_kind(survey: Survey) -> Iterator[Fact | Within]:
    """Lamps of one kind on one circuit: the one furthest from the middle one."""
    limit = survey.limits["lamp.unequal"]
    groups: dict[tuple[object, ...], list[LampFigures]] = {}
    for lamp in _lit_alike(survey):
        # strings of any length: more of the same in series is as bright with the same current
        groups.setdefault((lamp.part.circuit, frozenset(lamp.part.dice)), []).append(lamp)
    for (circuit, _), lamps in groups.items():
        if len(lamps) < 2:
            continue
        ordered = sorted(lamps, key=lambda lamp: lamp.nominal)
        usual = ordered[len(ordered) // 2]
        odd = max(ordered, key=lambda lamp: abs(lamp.nominal - usual.nominal))
        away = abs(_light(odd, usual) - 1.0)
        yield (within := Within(Subject("lamp", odd.name), away, limited(limit)))
        if within.kept:
            yield from _beside(survey, str(circuit), lamps)
            continue
        reason = _unlike(odd, usual)
        also = [
            lamp.name
            for lamp in lamps
            if lamp is not odd and above(abs(_light(lamp, usual) - 1.0), limit.value)
        ]
        yield Fact(
            "caution" if reason == "wires" else "note",
            within.subject,
            odd.part.path,
            "of a kind",
            reason,
            figures={
                "nominal": Figure(odd.nominal, "A"),
                "usual": Figure(usual.nominal, "A"),
                "difference": Figure(away, "share"),
            },
            parts={
                "other": Subject("lamp", usual.name),
                "circuit": Subject("circuit", str(circuit)),
                **({"also": tuple(Subject("lamp", name) for name in also)} if also else {}),
            },
            limit=limited(limit),
            because_of=cause_of_lack(survey, odd),
        )


def _light(lamp: LampFigures, usual: LampFigures) -> float:
    """The light of a lamp over that of another one of its kind."""
    return light_ratio(lamp.nominal, usual.nominal, filament=filament(lamp))


def _beside(survey: Survey, circuit: str, lamps: list[LampFigures]) -> Iterator[Fact | Within]:
    """Lamps of one kind in one place: seen side by side, less of a difference shows."""
    limit = limited(survey.limits["lamp.unequal.beside"])
    for place in dict.fromkeys(lamp.part.place for lamp in lamps):
        there = [lamp for lamp in lamps if lamp.part.place == place]
        least, most = (end(there, key=lambda lamp: lamp.nominal) for end in (min, max))
        if least is most:
            continue
        away = 1.0 - _light(least, most)
        yield (within := Within(Subject("lamp", least.name), away, limit))
        if within.kept:
            continue
        yield Fact(
            "note", within.subject, least.part.path, "beside", _unlike(least, most),
            figures={
                "nominal": Figure(least.nominal, "A"), "usual": Figure(most.nominal, "A"), "difference": Figure(away, "share"),
            },
            parts={
                "other": Subject("lamp", most.name), "circuit": Subject("circuit", circuit), "place": Subject("place", place),
            },
            limit=limit,
            because_of=cause_of_lack(survey, least),
        )  # fmt: skip


def _white(part: LampPart) -> str:
    """What sort of white a lamp is called, by its colour or kind; empty for another colour."""
    die = part.dice[0]
    called = (die.colour or part.said.kind).lower()
    if die.filament_volts is not None or "white" not in called:
        return ""
    return next((f"{sort} white" for sort in ("warm", "neutral") if sort in called), "white")


def _two_whites(survey: Survey) -> Iterator[Fact]:
    """Warm white beside white in one place, alike in all else: what differs in make or wiring has another purpose."""
    groups: dict[tuple[object, ...], list[LampPart]] = {}
    for part in survey.parts.lamps:
        if part.dice and (white := _white(part)):
            make = set(part.said.kind.lower().split("-")) - {*white.split(), "cool", "cold"}
            ohms = part.resistor.ohms if part.resistor is not None else 0.0
            key = (part.circuit, part.place, frozenset(make), len(part.dice), part.parallel, ohms)
            groups.setdefault(key, []).append(part)
    for parts in groups.values():
        sorts = {_white(part): part for part in reversed(parts)}
        if len(sorts) < 2:
            continue
        first, other = sorted(sorts.values(), key=parts.index)[:2]
        yield Fact(
            "note", Subject(first.kind, first.name), first.path, "two whites", "two whites",
            parts={
                "other": Subject(other.kind, other.name), "circuit": Subject("circuit", first.circuit), "place": Subject("place", first.place),
            },
            words={"white": _white(first), "another": _white(other)},
        )  # fmt: skip


def _unlike_whites(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Whites of several kinds behind equal resistors on one circuit: their forward voltages tell them apart."""
    limit = survey.limits["lamp.unequal"]
    groups: dict[tuple[object, ...], list[LampFigures]] = {}
    for lamp in _lit_alike(survey):
        part = lamp.part
        if white := _white(part):
            key = (part.circuit, white, len(part.dice), _ohms_of(lamp), part.dice[0].rated)
            groups.setdefault(key, []).append(lamp)
    for (circuit, called, *_), lamps in groups.items():
        least, most = (end(lamps, key=lambda lamp: lamp.nominal) for end in (min, max))
        if least.part.dice == most.part.dice:
            continue
        away = most.nominal / least.nominal - 1.0
        yield (within := Within(Subject("lamp", least.name), away, limited(limit)))
        if within.kept:
            continue
        yield Fact(
            "caution", within.subject, least.part.path, "whites", "whites",
            figures={
                "nominal": Figure(least.nominal, "A"), "usual": Figure(most.nominal, "A"),
                "difference": Figure(away, "share"),
            },
            parts={"other": Subject("lamp", most.name), "circuit": Subject("circuit", str(circuit))},
            words={"white": str(called)},
            limit=within.limit,
            because_of=cause_of_lack(survey, least),
        )  # fmt: skip


def _ohms_of(lamp: LampFigures) -> float:
    return lamp.part.resistor.ohms if lamp.part.resistor is not None else 0.0


def _unlike(one: LampFigures, other: LampFigures) -> str:
    """Why two lamps of a kind differ in light: by what was chosen for them, or by the wires on the way."""
    if _ohms_of(one) != _ohms_of(other):
        return "resistors"
    return "strings" if len(one.part.dice) != len(other.part.dice) else "wires"


# -- as wanted


def _not_as_wanted(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["lamp.wanted"]
    for lamp in known_lamps(survey):
        if lamp.part.wanted_range is None:
            continue
        least, most = lamp.part.wanted_range
        if least < most:
            yield from _out_of_range(survey, lamp, least, most)
            continue
        wanted = most
        if not wanted:
            continue
        gets, turned = _reached(lamp, wanted)
        away = abs(gets / wanted - 1.0)
        yield (within := Within(Subject("lamp", lamp.name), away, limited(limit)))
        if within.kept:
            continue
        more = above(gets, wanted)
        yield Fact(
            "caution",
            within.subject,
            lamp.part.path,
            "more" if more else "less",
            figures={
                "nominal": Figure(gets, "A"),
                "wanted": Figure(wanted, "A"),
                "difference": Figure(away, "share"),
            },
            words={"turned": turned} if turned else {},
            limit=within.limit,
            because_of=f"lamp.over-rating:{lamp.name}" if more else cause_of_lack(survey, lamp),
        )


def _reached(lamp: LampFigures, wanted: float) -> tuple[float, str]:
    """What a lamp gets, A; with a trimmer that may be turned, the nearest to what is wanted, and which end of the track that is."""
    if not turns(lamp.part) or lamp.turned is None:
        return lamp.nominal, ""
    most, least = lamp.turned
    reached = min(max(wanted, least), most)
    return reached, "zero" if reached == most else "its whole track" if reached == least else ""


def _out_of_range(survey: Survey, lamp: LampFigures, least: float, most: float) -> Iterator[Fact | Within]:
    """A current that is outside the range that the file gives for it."""
    subject, source = Subject("lamp", lamp.name), "what the file says is wanted"
    gets, turned = _reached(lamp, max(least, min(lamp.nominal, most)))
    steps = {
        "above": Within(subject, gets, Limited(most, "A", source)),
        "below": Within(subject, gets, Limited(least, "A", source), least=True),
    }
    yield from steps.values()
    case = first_broken(steps)
    if case is not None:
        yield Fact(
            "caution",
            subject,
            lamp.part.path,
            case,
            figures={"nominal": Figure(gets, "A")},
            words={"turned": turned} if turned else {},
            limit=steps[case].limit,
            because_of=f"lamp.over-rating:{lamp.name}" if case == "above" else cause_of_lack(survey, lamp),
        )


_UNLIKE = {
    "resistors": "Their resistors differ; if that is meant, `wanted` says so.",
    "strings": "They are in strings of another length, and their resistors are the same.",
    "wires": "Side by side the difference shows. It comes from the wires on the way, not from the resistors.",
}

CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.unequal", "caution", "lamp", "lamps of a kind, or whites, on one circuit that are not alike",
        "Side by side the difference shows.", "|I / I of the middle one - 1|, in one place 1 - least / most; of bulbs to the power of 3.4 / 0.55; of whites of several kinds behind equal resistors most / least - 1", ("lamp.unequal", "lamp.unequal.beside"),
        "judgement; of whites: one of 3000 K is 333 mired, one of 6500 K 154, and the eye tells 5.5 apart (Judd, from memory)", _unequal,
        wording={
            "whites": Wording(
                "{subject} gets {nominal}. {other}, of another kind of {white} behind the same resistor on circuit {circuit}, gets {usual}, {difference} more.",
                {"whites": "Their forward voltages differ, and side by side the difference shows. It grows as the supply falls."},
                "Give one of them another resistor, or use lamps of one kind.",
            ),
            "two whites": Wording(
                "{subject} is {white}. {other}, beside it in {place} on circuit {circuit}, is {another}.",
                {"two whites": "Side by side the one looks yellow and the other blue."},
                "Use lamps of one white. If both are meant, accept this note.",
            ),
            "beside": Wording(
                "{subject} gets {nominal:apart}. {other}, the same lamp beside it in {place} on circuit {circuit}, gets {usual:apart}. The dimmer gives {difference} less light.",
                _UNLIKE,
            ),
            "of a kind": Wording(
                "{subject} gets {nominal}. {other}, the same lamp on circuit {circuit}, gets {usual}.[ Others that differ from it: {also}.]",
                _UNLIKE,
            )
        },
    ),
    Check(
        "lamp.not-as-wanted", "caution", "lamp", "not the current that was wanted", "The light goes with the current.",
        "|nominal / wanted - 1|", ("lamp.wanted",), "judgement", _not_as_wanted,
        wording={
            how: Wording(
                f"{{subject}} gets {{nominal}}[ with its trimmer turned to {{turned}}], {{difference}} {how} than the {{wanted}} that is wanted.",
                "The light goes with the current. From about a quarter the difference is plain to see.",
            )
            for how in ("more", "less")
        }
        | {
            case: Wording(
                f"{{subject}} gets {{nominal:apart}}[ with its trimmer turned to {{turned}}]. {end} {{limit:apart}} is wanted.", "The light goes with the current."
            )
            for case, end in (("above", "At most"), ("below", "At least"))
        },
    ),
)  # fmt: skip
