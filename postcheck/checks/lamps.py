"""Lamps: whether each is limited to a current that it withstands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.known import filament, is_bare, known_lamps, on_battery, turns
from postcheck.checks.record import DANGER, Check
from postcheck.checks.strings import on_one_output, share_weight
from postcheck.checks.wording import Wording, open_question
from postcheck.limits import LimitName, above, below
from postcheck.physics import pulse
from postcheck.physics.network import FILAMENT_EXPONENT
from postcheck.report import Figure, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.lit import LEFT
from postcheck.survey.network.pulses import pulse_of, pulse_terms
from postcheck.survey.network.supplies import typical_volts
from postcheck.wiring.parts import LampPart

# A rating below this share of that in the room's air is reported with the air that lowers it.
DERATED = 0.98
# A die is as warm as it gets after about this time, s (from memory).
WARM = 1e-3


def _no_resistor(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    yield from _open_resistors(survey)
    for part in survey.parts.lamps:
        if not is_bare(survey, part) or turns(part):
            continue
        figures = survey.electrics.lamps.get(part.name)
        rated = part.rated
        severity: Severity = "stop"
        case, shown = "not known", {"rated": Figure(rated, "A")}
        if figures is not None:
            # Far beyond its rating the curve of a die is unknown: it does not survive that.
            case = "burns out" if destroyed(part.dice, figures.nominal, survey.limits) else "too much"
            if broken_of(over_steps(survey, figures, rated)) is None:
                severity, case = "note", "held" if on_battery(survey, part) else "few volts"
            if case != "burns out":
                shown |= {"nominal": Figure(figures.nominal, "A"), "highest": Figure(figures.highest, "A")}
        nominal = survey.limits["lamp.current.nominal"]
        yield Fact(
            severity,
            Subject("lamp", part.name),
            part.path,
            case,
            figures=shown,
            parts={"there": Subject("lamp", part.name)} if _is_there(survey, part) else {},
            limit=of_rating(nominal, rated, "A"),
        )


def _is_there(survey: Survey, part: LampPart) -> bool:
    """Whether a lamp is in the model already, so that nobody may know what is inside it."""
    return part.said.keep or any(record.subject in (part.name, part.entry) for record in survey.build.proof)


def _open_resistors(survey: Survey) -> Iterator[NotJudged]:
    """LED strings that have no resistor, and no wiring either that would leave them without one."""
    for part in survey.parts.apart:
        driver = survey.wiring.drivers[part.circuit]
        if not isinstance(part, LampPart) or not is_bare(survey, part):
            continue
        from postcheck.survey.network.resistor_choice import (  # noqa: PLC0415 - most have one
            first_values,
            ohms_for,
            usual_current,
        )

        supply = survey.build.supply.get(driver.supply or "")
        volts = typical_volts(supply) - driver.drop if supply is not None else 0.0
        target = part.wanted or usual_current(part.dice, survey.build.build.air[1], survey.limits)
        ohms = ohms_for(part.dice, volts, target)
        series = survey.build.stock.series
        value = None if ohms is None else next(first_values(part.wanted, ohms, series))
        yield open_question(
            part.name,
            "what current it gets: it has no resistor yet",
            'once its volts are known, its resistor = "..."'
            if value is None
            else 'its resistor, such as resistor = "{ohms}"',
            vital=True,
            plannable=True,
            figures={} if value is None else {"ohms": Figure(value, "ohm")},
        )


def _gone(survey: Survey, lamp: LampFigures) -> bool:
    return destroyed(lamp.part.dice, lamp.nominal, survey.limits)


class _Over(NamedTuple):
    """How far a lamp is beyond the current it withstands: severity, the case, and what was compared."""

    severity: Severity
    case: str
    within: Within


def over_steps(survey: Survey, lamp: LampFigures, most: float) -> dict[tuple[Severity, str], Within]:
    """What a lamp gets against what it withstands (of LEDs `most` A), by the severity and case of more."""
    limits, subject = survey.limits, Subject("lamp", lamp.name)
    kinds: tuple[tuple[Severity, str, LimitName, float], ...]
    if volts := _filament_volts(lamp):
        kinds = (
            ("stop", "filament stop", "lamp.filament.stop", lamp.likely_highest),
            ("caution", "filament caution", "lamp.filament.caution", lamp.highest),
        )
        return {
            # a reverse current counts as none
            (severity, case): Within(
                subject,
                volts * max(current / lamp.rated, 0.0) ** (1.0 / FILAMENT_EXPONENT),
                of_rating(limits[name], volts, "V"),
            )
            for severity, case, name, current in kinds
        }
    # Strings of one bin behind one resistor move together; the corners move one alone, and would invent a spread. A lamp with
    # its resistor inside is rated for volts, whatever current it takes: a typical one stands for all.
    together = (lamp.part.shared_resistor and lamp.part.matched) or lamp.part.dice[0].volts is not None
    likely, highest = (lamp.nominal, lamp.nominal) if together else (lamp.likely_highest, lamp.highest)
    kinds = (
        ("stop", "typical" if together else "likely", "lamp.current.stop", likely),
        ("caution", "typical", "lamp.current.nominal", lamp.nominal),
        ("caution", "stacked", "lamp.current.caution", highest),
    )
    return {
        (severity, case): Within(subject, amps, of_rating(limits[name], most, "A"), slack=1e-6)
        for severity, case, name, amps in kinds
    }


def _filament_volts(lamp: LampFigures) -> float:
    """The rated voltage of a filament lamp, of all in its string together; 0 of an LED."""
    return (lamp.part.dice[0].filament_volts or 0.0) * len(lamp.part.dice)


def broken_of(steps: Mapping[tuple[Severity, str], Within]) -> _Over | None:
    """The first of these comparisons that is not kept, which is the heaviest."""
    broken = first_broken(steps)
    return None if broken is None else _Over(*broken, steps[broken])


def _over_rating(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for lamp in known_lamps(survey):
        width, _, most, counts = pulse_of(survey.build, lamp)
        # at the top of a fade it has all its current, and longer than a pulse
        steady = survey.build.circuit[lamp.part.circuit].behaviour in ("steady", "fade")
        if turns(lamp.part) or not (steady or counts or filament(lamp)):
            continue
        steps = over_steps(survey, lamp, most)
        yield from steps.values()
        over = broken_of(steps)
        if over is None or _hogs(survey, lamp):
            continue
        # if it is as far over without the heat of its place, that heat is not the cause
        cool = most * lamp.rated_outside / lamp.rated
        alike = broken_of(over_steps(survey, lamp, cool))
        warmed = alike is None or alike.severity != over.severity
        if alike is not None and not warmed:
            over, most = alike, cool
        cooked = warmed and not above(lamp.rated, LEFT * lamp.part.rated)
        shown = {"pulse": Figure(width, "s")} if counts and width is not None else {}
        if warmed and below(lamp.rated, DERATED * lamp.rated_outside) and not filament(lamp):
            shown["air"] = Figure(lamp.hottest, "degC")
        if (inside := lamp.inside_heat) > 0.0 and not cooked:
            shown |= {
                "inside": Figure(inside, "W"),
                "made": Figure(sum(die.takes for die in lamp.part.dice), "V"),
            }
        reason = "filament" if filament(lamp) else "inside" if "inside" in shown else "die"
        yield _too_much(survey, lamp, over._replace(case="cooked") if cooked else over, most, reason, shown)


def _strobe(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for lamp in known_lamps(survey):
        width, share, most, counts = pulse_of(survey.build, lamp)
        behaviour = survey.build.circuit[lamp.part.circuit].behaviour
        if turns(lamp.part) or behaviour in ("steady", "fade") or counts or filament(lamp):
            continue
        steps = over_steps(survey, lamp, most)
        yield from steps.values()
        over = broken_of(steps)
        if over is None or _hogs(survey, lamp):
            continue
        reason, shown = _no_pulse(lamp, width, share)
        yield _too_much(survey, lamp, over, most, reason, shown)


def _pulses_only(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Lamps that are safe only by their pulse rating: what drives them may stick on."""
    for lamp in known_lamps(survey):
        _, _, most, counts = pulse_of(survey.build, lamp)
        if broken_of(over_steps(survey, lamp, most)) is not None:
            continue
        if lamp.held_on is not None:
            yield from _held_on(survey, lamp, lamp.held_on)
        if not counts or filament(lamp):
            continue
        steady = of_rating(survey.limits["lamp.current.stop"], lamp.rated, "A")
        yield (within := Within(Subject("lamp", lamp.name), lamp.likely_highest, steady))
        if not within.kept:
            yield Fact(
                "note", within.subject, lamp.part.path,
                figures={"nominal": Figure(lamp.nominal, "A"), "rated": Figure(lamp.rated, "A")},
                parts={"circuit": Subject("circuit", lamp.part.circuit)}, limit=steady,
            )  # fmt: skip


def _held_on(survey: Survey, lamp: LampFigures, current: float) -> Iterator[Fact | Within]:
    """A bulb that is dimmed down to its volts, with those that it gets once what dims it sticks on."""
    made = _filament_volts(lamp)
    pulsed, held = (
        made * (amps / lamp.rated) ** (1.0 / FILAMENT_EXPONENT) for amps in (lamp.nominal, current)
    )
    stands = of_rating(survey.limits["lamp.filament.stop"], made, "V")
    yield (within := Within(Subject("lamp", lamp.name), held, stands))
    if not within.kept:
        yield Fact(
            "note", within.subject, lamp.part.path, "bulb",
            figures={"pulsed": Figure(pulsed, "V"), "held": Figure(held, "V"), "made": Figure(made, "V")},
            parts={"circuit": Subject("circuit", lamp.part.circuit)}, limit=stands,
        )  # fmt: skip


def _no_pulse(lamp: LampFigures, width: float | None, share: float | None) -> tuple[str, dict[str, Figure]]:
    """Why a pulse rating does not count: whichever of its conditions is not met, with the figures of that."""
    die, longest, most = pulse_terms(lamp)
    if width is None or share is None:
        return "length not known", {}
    shown = {"width": Figure(width, "s"), "on": Figure(share, "share")}
    if die.pulse is None:
        return "no pulse rating", shown
    shown["pulse"] = Figure(die.pulse, "A")
    if not pulse.short_enough(width, longest):
        shown["longest"] = Figure(longest, "s")
    if not pulse.rare_enough(share, most):
        shown["most_on"] = Figure(most, "share")
    return "warm" if above(width, WARM) else "beyond", shown


def _too_much(
    survey: Survey, lamp: LampFigures, over: _Over, most: float, reason: str, shown: dict[str, Figure]
) -> Fact:
    gone = _gone(survey, lamp)
    burns_out = gone and over.case != "cooked"  # beyond that, no current means anything
    volts = _filament_volts(lamp)
    figures = {"rated": Figure(most, "A"), **shown}
    if not burns_out:
        figures |= {
            "nominal": Figure(lamp.nominal, "A"),
            "likely_highest": Figure(lamp.likely_highest, "A"),
            "highest": Figure(lamp.highest, "A"),
        }
        if volts:
            figures |= {
                "share": Figure(over.within.value / volts, "share"),
                "volts": Figure(over.within.value, "V"),
                "rated_volts": Figure(volts, "V"),
            }
    return Fact(
        over.severity,
        Subject("lamp", lamp.name),
        lamp.part.path,
        "burns out" if burns_out else over.case,
        reason,
        figures=figures,
        parts={"place": Subject("place", lamp.part.place)} if over.case == "cooked" else {},
        # a rating that heat has brought to nearly nothing is no meaningful limit
        limit=None if over.case == "cooked" else over.within.limit,
        because_of=_behind(survey, lamp, most),
        firm=DANGER if gone else "",
    )


def _behind(survey: Survey, lamp: LampFigures, most: float) -> str | None:
    """The finding that a lamp's excess comes from: strings on one output, or the heat of its place."""
    if on_one_output(survey, lamp):
        return f"lamp.sibling-open:{lamp.part.circuit}"
    cool = most * lamp.rated_outside / lamp.rated
    if below(most, lamp.rated_outside) and broken_of(over_steps(survey, lamp, cool)) is None:
        return f"place.too-hot:{lamp.part.place}"
    return None


def _hogs(survey: Survey, lamp: LampFigures) -> bool:
    """Whether its excess comes from strings that share one resistor unequally, which another check reports."""
    within = not above(lamp.nominal, survey.limits.value("lamp.current.nominal") * lamp.rated)
    return within and bool(lamp.shares) and share_weight(survey, lamp) is not None


_ROOT = "nominal: typical parts, all on; likely: root of the sum of squares of the single deviations; highest: all stacked"

_BARE = "{subject} has no resistor: nothing but wire limits its current."
_SOARS = "An LED takes ever more current from a few hundredths of a volt more. Only a resistor, or a constant-current output, sets it.[ If {there} has one inside it that nobody knows, say so by a `lamp_kind` of its own, with `volts` and `at`: what it took on them.]"
_RATING = "Its rating[ for pulses of {pulse}][ in air of {air}] is {rated}."
_AGES = {
    "die": "Too much current ages an LED fast and makes it hot, where nobody will get at it again. Much too much kills it at once.",
    "inside": "Its resistor is inside it, for {made}, and heats the die with {inside}. Too much ages both fast, where nobody will get at them again.",
    "filament": "A filament's life falls with the twelfth power of its voltage: a few per cent more cost half of it.",
}
_ON = " while it is on[, in pulses of {width}]. Its continuous rating of {rated} counts."
_CONTINUOUS = {
    "length not known": "How long it is on at a time is not known, and a pulse rating counts for short pulses only.",
    "no pulse rating": "Its data give no pulse rating, so its continuous rating is all that is known.",
    "beyond": "Its pulse rating of {pulse} does not count here.[ It holds for pulses of at most {longest}.][ It holds for at most {most_on} of the time, and this lamp is on for {on}.]",
}
_CONTINUOUS["warm"] = (
    f"{_CONTINUOUS['beyond']} A die is warm within about a millisecond, so to it a long pulse is direct current."
)

CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.no-resistor", "stop", "lamp", "an LED with nothing but wire to limit its current",
        "An LED takes ever more current from a few hundredths of a volt more.",
        "I where V(I) of the dice + I * wire = supply voltage",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.current.caution", "lamp.usual", "lamp.destroyed"),
        "Shockley's law; OSRAM AN040, comparison of LED circuits", _no_resistor, dangerous=True,
        wording={
            "not known": Wording(f"{_BARE} Its rating is {{rated}}.", _SOARS),
            "burns out": Wording(f"{_BARE} It gets far more than its rating of {{rated}} and burns out.", _SOARS),
            "too much": Wording(f"{_BARE} Up to {{highest}} flows. Its rating is {{rated}}.", _SOARS),
            "held": Wording(
                f"{_BARE} The supply's own resistance and its forward voltage keep it to {{highest}}.",
                "It holds as long as the same kind of cell is put in; any stiffer supply destroys the lamp.",
            ),
            "few volts": Wording(
                f"{_BARE} At the volts of its supply at most {{highest}} flows.",
                "It holds for this supply only: a few tenths of a volt above what its dice take destroy the lamp.",
            ),
        },
    ),
    Check(
        "lamp.over-rating", "stop", "lamp", "more current than the lamp withstands",
        "Too much current ages an LED fast, and much too much kills it.", f"I / rated; {_ROOT}",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.current.caution", "lamp.filament.caution", "lamp.filament.stop",
         "lamp.destroyed", "lamp.filament.destroyed", "lamp.parallel-spread"),
        "the lamp's data sheet", _over_rating,
        held="what burns a lamp out",
        wording={
            "likely": Wording(f"{{subject}} gets {{nominal}} ({{likely_highest}} at the likely worst). {_RATING}", _AGES),
            "typical": Wording(f"{{subject}} gets {{nominal}}. {_RATING}", _AGES),
            "stacked": Wording(f"{{subject}} gets {{nominal}} ({{highest}} with every tolerance against it). {_RATING}", _AGES),
            "burns out": Wording(
                "{subject} gets far more than its rating of {rated}[ for pulses of {pulse}][ in air of {air}] and burns out.", _AGES
            ),
            "cooked": Wording("{subject} gets {nominal}. The air in {place} is too hot for it at any current.", _AGES, "Bring less heat into {place}, or put it elsewhere."),
            "filament stop": Wording(
                "{subject} gets {volts} at the likely worst, {share} of its rated {rated_volts}. It then takes {likely_highest}.", _AGES
            ),
            "filament caution": Wording(
                "{subject} gets up to {volts}, {share} of its rated {rated_volts}. It then takes {highest}.", _AGES
            ),
        },
    ),
    Check(
        "lamp.strobe", "stop", "lamp", "a flash with more than the continuous rating",
        "Pulse ratings hold for short and rare pulses only.",
        "width = on share / rate; the pulse rating counts up to 0.1 ms and a tenth of the time",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.current.caution", "lamp.destroyed"),
        "pulse conditions of LED data sheets (at most 0.1 ms, 1/10)", _strobe,
        held="what burns a lamp out",
        wording={
            "likely": Wording(f"{{subject}} gets {{nominal}} ({{likely_highest}} at the likely worst){_ON}", _CONTINUOUS),
            "typical": Wording(f"{{subject}} gets {{nominal}}{_ON}", _CONTINUOUS),
            "stacked": Wording(f"{{subject}} gets {{nominal}} ({{highest}} with every tolerance against it){_ON}", _CONTINUOUS),
            "burns out": Wording(
                "{subject} gets far more than its rating of {rated} while it is on[, in pulses of {width}]. It burns out.", _CONTINUOUS
            ),
        },
    ),
    Check(
        "lamp.pulses-only", "note", "lamp", "a lamp that is lost when its flasher sticks on",
        "Its pulse rating holds as long as the pulses are short.", "I likely at its highest / the continuous rating; of bulbs the volts with its circuit on for good / the rated ones",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.current.caution", "lamp.filament.stop", "lamp.filament.caution"), "the lamp's data sheet", _pulses_only,
        wording={
            "": Wording(
                "{subject} gets {nominal} in pulses, and stands {rated} for good: if {circuit} sticks on, it is lost.",
                "Its pulse rating holds as long as the pulses are short. A board that hangs, or a steady test, is one long pulse.",
                "Test it steadily with no more than {rated}, and use a board whose output goes dark when it hangs.",
            ),
            "bulb": Wording(
                "{subject} gets {pulsed} on average (root mean square) from its pulses, and is made for {made}: if {circuit} sticks on, it gets {held} and is lost.",
                "A filament does not follow fast pulses: it is as hot as their average makes it. A board that hangs, or a steady test, is one long pulse.",
                "Test it steadily with no more than {made}, and use a board whose output goes dark when it hangs.",
            ),
        },
    ),
)  # fmt: skip
