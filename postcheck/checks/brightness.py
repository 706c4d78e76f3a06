"""Lamps that are lit, but not as they should be: dark, unlike their fellows, not as wanted."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import of_rating
from postcheck.checks.known import filament, known_lamps, short_of_current, steady_current
from postcheck.checks.record import Check
from postcheck.checks.shown import amps, listed, percent, volts
from postcheck.description.naming import supply_of
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures

__all__ = ["CHECKS"]

# Below this share of its rating a lamp is as good as off.
DARK = 0.005
# A current that no meter on a bench shows, A; and the share of the volts that dice may take before it is they that leave
# too little.
NOTHING = 1e-6
MOST_TAKEN = 0.9


def _battery(survey: Survey, lamp: LampFigures) -> bool:
    name = supply_of(survey.build, survey.build.circuit[lamp.part.circuit])
    return name is not None and survey.build.supply[name].kind == "battery"


def _starved(survey: Survey, lamp: LampFigures) -> bool:
    """Whether a low supply and a high forward voltage leave less than the least share of what it usually gets.

    A battery that runs empty does that to every lamp, and is judged for itself; so is unequal sharing of a resistor.
    """
    if _battery(survey, lamp) or (lamp.part.one_resistor and lamp.part.parallel > 1):
        return False
    return lamp.lowest < survey.limits.value("lamp.dim") * lamp.nominal


def _told_elsewhere(survey: Survey, lamp: LampFigures) -> bool:
    """Whether its output lacks volts, or its converter does not run: findings of their own."""
    off = {name for name, _ in survey.electrics.no_start}
    return (
        short_of_current(survey, lamp.part.circuit)
        or supply_of(survey.build, survey.build.circuit[lamp.part.circuit]) in off
    )


def _dim(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["lamp.dim"]
    for lamp in known_lamps(survey):
        if lamp.part.wanted is not None or filament(lamp) or _told_elsewhere(survey, lamp):
            continue
        share = lamp.nominal / lamp.rated
        severity: Severity
        if share < DARK:
            severity, words = "stop", f"gets {_current(lamp.nominal)}: it stays dark"
        elif _starved(survey, lamp):
            severity, words = (
                "caution",
                f"gets {amps(lamp.nominal)}, but {'only ' if lamp.lowest >= NOTHING else ''}{_current(lamp.lowest)} with a low supply and parts as they come",
            )
        elif share < limit.value:
            severity, words = "note", f"gets {amps(lamp.nominal)}, {percent(share)} of its rating"
        else:
            continue
        yield Finding(
            "lamp.dim",
            severity,
            Subject("lamp", lamp.name),
            f"{quoted(lamp.name)} {words}.",
            _lack(lamp)
            if severity != "note"
            else f"So far below its rating makers do not specify a lamp, and two of a kind may look unlike. `wanted = \"{amps(lamp.nominal)}\"` says that it is meant.",
            lamp.part.path,
            figures={
                "nominal": Figure(lamp.nominal, "A"), "lowest": Figure(lamp.lowest, "A"), "rated": Figure(lamp.rated, "A"),
            },
            limit=of_rating(limit, lamp.rated, "A"),
            because_of=_cause_of_lack(survey, lamp),
        )  # fmt: skip


def _current(amperes: float) -> str:
    return amps(amperes) if amperes >= NOTHING else "nothing"


def _lack(lamp: LampFigures) -> str:
    """Why a lamp gets next to nothing: its dice take all the volts, or its resistor is far too large."""
    takes = sum(die.forward[1] for die in lamp.part.dice)
    there = f"{volts(lamp.feed_volts)} is at its joints"
    if takes < MOST_TAKEN * lamp.feed_volts:
        return f"{there}, and its resistor lets no more through."
    count = len(lamp.part.dice)
    dice = "die takes" if count == 1 else f"{count} dice take"
    return f"Lit as it should be, its {dice} about {volts(takes)}, and {there}: too little for its resistor to set a current."


def _cause_of_lack(survey: Survey, lamp: LampFigures) -> str:
    if steady_current(survey.build, lamp.part.circuit) is not None:
        return f"output.compliance:{lamp.part.circuit}"
    return f"line.drop:{lamp.part.circuit}"


def _unequal(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["lamp.unequal"]
    groups: dict[tuple[object, ...], list[LampFigures]] = {}
    for lamp in known_lamps(survey):
        if lamp.part.wanted is None and not lamp.part.one_resistor and lamp.nominal > DARK * lamp.rated:
            groups.setdefault((lamp.part.circuit, lamp.part.dice), []).append(lamp)
    for (circuit, _), lamps in groups.items():
        if len(lamps) < 2:
            continue
        ordered = sorted(lamps, key=lambda lamp: lamp.nominal)
        usual = ordered[len(ordered) // 2]
        odd = max(ordered, key=lambda lamp: abs(lamp.nominal - usual.nominal))
        away = abs(odd.nominal / usual.nominal - 1.0)
        if away <= limit.value:
            continue
        meant = _ohms_of(odd) != _ohms_of(usual)
        others = [lamp.name for lamp in lamps if abs(lamp.nominal / usual.nominal - 1.0) > limit.value]
        yield Finding(
            "lamp.unequal",
            "note" if meant else "caution",
            Subject("lamp", odd.name),
            f"{quoted(odd.name)} gets {amps(odd.nominal)} and {quoted(usual.name)}, the same lamp on circuit {quoted(str(circuit))}, {amps(usual.nominal)}."
            + (f" So do others: {listed([name for name in others if name != odd.name])}." if len(others) > 1 else ""),
            "Their resistors differ; if that is meant, `wanted` says so." if meant
            else "Side by side the difference shows. The wires on the way make it, not the resistors.",
            odd.part.path,
            figures={"nominal": Figure(odd.nominal, "A"), "usual": Figure(usual.nominal, "A")},
            limit=Limited(limit.value, "", limit.source),
            because_of=_cause_of_lack(survey, odd),
        )  # fmt: skip


def _ohms_of(lamp: LampFigures) -> float:
    return lamp.part.resistor.ohms if lamp.part.resistor is not None else 0.0


def _not_as_wanted(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["lamp.wanted"]
    for lamp in known_lamps(survey):
        wanted = lamp.part.wanted
        if not wanted or abs(lamp.nominal / wanted - 1.0) <= limit.value:
            continue
        more = lamp.nominal > wanted
        yield Finding(
            "lamp.not-as-wanted",
            "caution",
            Subject("lamp", lamp.name),
            f"{quoted(lamp.name)} gets {amps(lamp.nominal)}, and {amps(wanted)} is wanted: {percent(abs(lamp.nominal / wanted - 1.0))} {'more' if more else 'less'}.",
            "The light goes with the current; from about a quarter the difference is plain to see.",
            lamp.part.path,
            figures={"nominal": Figure(lamp.nominal, "A"), "wanted": Figure(wanted, "A")},
            limit=Limited(limit.value, "", limit.source),
            because_of=f"lamp.over-rating:{lamp.name}" if more else _cause_of_lack(survey, lamp),
        )


CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.dim", "stop", "lamp", "far less current than the lamp is made for",
        "It is dark, or two of a kind look unlike.", "nominal / rated; lowest / nominal", ("lamp.dim",),
        "judgement", _dim,
    ),
    Check(
        "lamp.unequal", "caution", "lamp", "lamps of a kind on one circuit that are not alike",
        "Side by side the difference shows.", "|I / I of the middle one - 1|", ("lamp.unequal",), "judgement", _unequal,
    ),
    Check(
        "lamp.not-as-wanted", "caution", "lamp", "not the current that was wanted", "The light goes with the current.",
        "|nominal / wanted - 1|", ("lamp.wanted",), "judgement", _not_as_wanted,
    ),
)  # fmt: skip
