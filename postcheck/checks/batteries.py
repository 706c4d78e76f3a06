"""Batteries: how long they last, and when lamps fade and loads stop."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor, log10

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.cells import listed, takes_one_more
from postcheck.limits import above, below
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.figures import BatteryFigures

# A current in a remedy is rounded when shown: kept this share below its bound, it still holds.
SAFE = 0.99
_RUNS_FOR = "runs_for in the build file"


def _too_short(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    derate = survey.limits["battery.derate"]
    for name, battery in survey.batteries.items():
        if battery.wanted is None or battery.average <= 0.0:
            continue
        wanted = Limited(battery.wanted, "s", _RUNS_FOR, derate.name)
        if battery.seconds is None:
            yield open_question(
                name,
                "whether it lasts the {wanted} wanted",
                'its capacity, such as capacity = "2000 mAh"',
                figures={"wanted": Figure(battery.wanted, "s")},
            )
        elif not below(battery.empty_volts, battery.full_volts) and battery.seconds == 0.0:
            yield Fact(
                "caution",
                Subject("supply", name),
                (*battery.path, "cut_off"),
                "empty from the start",
                figures={"full": Figure(battery.full_volts, "V"), "empty": Figure(battery.empty_volts, "V")},
                limit=wanted,
            )
        elif (
            battery.known_to is not None
            and above(battery.average, battery.known_to)
            and not below(battery.seconds, battery.wanted)
        ):
            yield open_question(
                name,
                "whether it lasts the {wanted} wanted at {average:apart} on average, for what its cells hold is published up to {known:apart} only",
                'what they hold at that current, such as capacity = "100 mAh"',
                figures={
                    "wanted": Figure(battery.wanted, "s"),
                    "average": Figure(battery.average, "A"),
                    "known": Figure(battery.known_to, "A"),
                },
            )
        else:
            yield (within := Within(Subject("supply", name), battery.seconds, wanted, least=True))
            if not within.kept:
                yield _too_small(survey, name, battery, within)


def _too_small(survey: Survey, name: str, battery: BatteryFigures, within: Within) -> Fact:
    """A battery that does not last: what its cells would have to hold, or how little may be taken of them."""
    held, rated = battery.holds or 0.0, battery.rated or 0.0
    lasts, wanted = within.value, within.limit.value
    return Fact(
        "caution",
        within.subject,
        (*battery.path, "runs_for"),
        # the capacity of a size in the catalogue is fixed
        "too small" if listed(survey.build.supply[name]) is None else "size too small",
        figures={
            "average": Figure(battery.average, "A"),
            "lasts": Figure(lasts, "s"),
            "counted": Figure(survey.limits.value("battery.derate"), "share"),
            "needed": Figure(_rounded_up(rated * wanted / lasts), "C"),
            "allowed": Figure(SAFE * battery.average * lasts / wanted, "A"),
            **({"holds": Figure(held, "C"), "rated": Figure(rated, "C")} if held != rated else {}),
        },
        limit=within.limit,
    )


def _rounded_up(charge: float) -> float:
    """A charge in C as cells are sold: two figures in mAh, and no less."""
    milliampere_hours = charge / 3.6
    step = 10.0 ** (floor(log10(milliampere_hours)) - 1)
    return ceil(milliampere_hours / step - 1e-9) * step * 3.6


def _ends_too_soon(battery: BatteryFigures) -> bool:
    """Whether it does not last as long as is wanted, which is a finding of its own."""
    return battery.wanted is not None and (battery.seconds is None or below(battery.seconds, battery.wanted))


def _dim_early(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    gone, early = survey.limits["battery.dim"], survey.limits["battery.early"]
    for name, battery in survey.batteries.items():
        if not battery.dim or _ends_too_soon(battery):
            continue
        lamp, level, left = battery.dim[0]
        if not above(level, battery.empty_volts):
            continue
        subject, too_soon = Subject("supply", name), battery.wanted is not None
        if battery.wanted is None:
            within = Within(subject, left, limited(early))
        elif battery.dim_seconds is not None:
            wanted = Limited(battery.wanted, "s", _RUNS_FOR, gone.name)
            within = Within(subject, battery.dim_seconds, wanted, least=True)
        else:
            continue
        yield within
        if within.kept:
            continue
        yield Fact(
            "caution",
            subject,
            battery.path,
            "strip" if lamp in survey.electrics.strips else _cells(survey, name),
            figures={
                "dim": Figure(level, "V"),
                "empty": Figure(battery.empty_volts, "V"),
                "left": Figure(gone.value, "share"),
                **({} if too_soon else {"inside": Figure(left, "share")}),
                **_times(after=battery.dim_seconds, wanted=battery.wanted),
            },
            parts={
                "lamp": _lit(survey, lamp),
                "early": tuple(
                    _lit(survey, other)
                    for other, _, inside in battery.dim
                    if too_soon or above(inside, early.value)
                ),
            },
            limit=limited(gone) if too_soon else within.limit,
        )


def _cells(survey: Survey, name: str) -> str:
    """Whether what helps a battery is one cell more, or another battery."""
    return "single cells" if takes_one_more(survey.build.supply[name]) else "block"


def _lit(survey: Survey, name: str) -> Subject:
    return Subject("strip" if name in survey.electrics.strips else "lamp", name)


def _fades(survey: Survey) -> Iterator[Fact | Within]:
    """For batteries that the file sets no time for: how long they last, if less than a day of a show."""
    limit, left = survey.limits["battery.show"], survey.limits.value("battery.dim")
    for name, battery in survey.batteries.items():
        if battery.wanted is not None or battery.seconds is None or battery.average <= 0.0:
            continue
        ends = {"empty": battery.seconds, "fades": battery.dim_seconds, "stops": battery.stops_seconds}
        known = {case: seconds for case, seconds in ends.items() if seconds is not None}
        case = min(known, key=lambda case: (known[case], case == "empty"))
        subject = Subject("supply", name)
        yield (within := Within(subject, known[case], limited(limit), least=True))
        if within.kept:
            continue
        part = {"fades": "dim", "stops": "stops"}.get(case)
        yield Fact(
            "note",
            subject,
            battery.path,
            case,
            figures={
                "after": Figure(known[case], "s"),
                "lasts": Figure(battery.seconds, "s"),
                "left": Figure(left, "share"),
                "average": Figure(battery.average, "A"),
            },
            parts={
                "first": _lit(survey, battery.dim[0][0]) if part == "dim" else _stopping(survey, battery.stops[0][0])
            } if part else {},
            limit=within.limit,
            because_of=f"battery.{'stops' if case == 'stops' else 'dim'}-early:{name}",
        )  # fmt: skip


def _times(**seconds: float | None) -> dict[str, Figure]:
    return {name: Figure(value, "s") for name, value in seconds.items() if value}


def _stops_early(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, battery in survey.batteries.items():
        wanted, lasts, at = battery.wanted, battery.seconds, battery.stops_seconds
        if at is None or lasts is None or _ends_too_soon(battery):
            continue
        part, level = battery.stops[0]
        # above its usual volts it does not even begin, which is a finding of its own
        if not above(level, battery.empty_volts) or above(level, battery.usual_volts):
            continue
        # where no time is asked for, only what stops in the first half is worth a finding
        enough = wanted if wanted is not None else 0.5 * lasts
        least = Limited(enough, "s", f"{_RUNS_FOR}; else half of what it lasts")
        yield (within := Within(Subject("supply", name), at, least, least=True))
        if within.kept:
            continue
        yield Fact(
            # all that a converter feeds goes dark with it
            "caution" if wanted is not None or part in survey.build.supply else "note",
            within.subject,
            battery.path,
            _cells(survey, name),
            figures={
                "stops": Figure(level, "V"),
                "empty": Figure(battery.empty_volts, "V"),
                **_times(after=at, wanted=wanted),
            },
            parts={
                "part": _stopping(survey, part),
                "stopping": tuple(_stopping(survey, other) for other, _ in battery.stops),
            },
            limit=Limited(
                level, "V", "the least voltage of the part, as the file gives it, and what its way costs"
            ),
        )


def _stopping(survey: Survey, part: str) -> Subject:
    if part in survey.build.supply:
        return Subject("supply", part)
    load = survey.electrics.loads.get(part)
    return Subject("board" if load is None else load.part.kind, part)


_WANTED = "[ It is to last {wanted:apart}.]"
_ONLY_EMPTY = "The battery counts as empty only at {empty:apart}."
_SET = "The battery is empty after about {lasts:h}."
_NOT_SAID = "The file does not say how long it is to last, and this is less than a day of a show."
_SAY_IT = "Use cells that hold more, or take less from them. If so long is enough, write it: runs_for."
_LASTS = "{subject} lasts about {lasts:apart} at {average} on average. It is to last {limit:apart}."
_COUNTED = "{counted} of the capacity is counted on. Age and cold take the rest."
_DARK = "The model goes dark before the show is over."
_DOWN = (
    "{lamp} is down to {left} of its first current once {subject} gives {dim:apart}[, after about {after:apart}][, with {inside} of its charge still inside]. "
    f"{_ONLY_EMPTY}{_WANTED}"
)
_STOPS = (
    f"{{part}} stops once {{subject}} gives {{stops:apart}}[, after about {{after:apart}}]. {_ONLY_EMPTY}{_WANTED}",
    "What needs a least voltage goes out in the middle of a battery's life: {stopping}.",
)
_FADE = "The lamps fade long before the battery is empty: {early}. Too little voltage is left for the resistors to hold the current."

CHECKS: tuple[Check, ...] = (
    Check(
        "battery.too-short", "caution", "supply", "a battery does not last as long as wanted",
        "The model goes dark before the show is over.",
        "time = share x capacity at this current / average current", ("battery.derate",),
        "a plain share of the capacity; makers' curves of alkaline AA and lead-acid cells, or else the rated capacity", _too_short,
        wording={
            "empty from the start": Wording(
                "{subject} is empty from the start. It counts as empty at {empty:apart}, and fresh it gives {full:apart}. It is to last {limit}.",
                "What is cut off above the volts of a fresh battery never runs.", "Use more cells, or a cut-off that fits these.",
            ),
            "too small": Wording(
                _LASTS, f"{_DARK} {_COUNTED}", "Use cells of {needed} or more, or bring the average down to {allowed}."
            ),
            "size too small": Wording(
                _LASTS, f"{_DARK} [At this current its cells hold {{holds:apart}} and not {{rated:apart}}. ]{_COUNTED}",
                "Bring the average down to {allowed}, or use larger cells. They have to hold {needed}.",
            ),
        },
    ),
    Check(
        "battery.dim-early", "caution", "supply", "lamps fade long before the battery is empty",
        "A lamp whose string takes nearly the whole voltage follows the battery down.",
        "V = V0 + share x (V_full - V0), V0 where the string begins to conduct; of the battery two straight lines that meet at half of its charge",
        ("battery.dim", "battery.early"),
        "straight line through the lamp's nominal point; volts of cells full, half way and empty as in the catalogue", _dim_early,
        wording={
            "single cells": Wording(_DOWN, _FADE, "Use one cell more with larger resistors, or put fewer lamps in series."),
            "block": Wording(_DOWN, _FADE, "Use a battery of more volts with larger resistors, or put fewer lamps in series."),
            "strip": Wording(_DOWN, _FADE, "Feed it by a converter that holds its volts, or use a strip for fewer volts."),
        },
    ),
    Check(
        "battery.fades", "note", "supply", "a battery that is soon through, and no time it is to last", "A dark model is what tells otherwise.",
        "time to the voltage at which lamps are down to a share of their current, a part stops, or it is empty", ("battery.show", "battery.dim"),
        "straight lines from full by half of the charge to empty, over the capacity at this current", _fades,
        wording={
            "fades": Wording(f"{{first}} is down to {{left}} of its first current after about {{after:h}} on {{subject}}. {_SET}", _NOT_SAID, _SAY_IT),
            "stops": Wording(f"{{first}} stops after about {{after:h}} on {{subject}}. {_SET}", _NOT_SAID, _SAY_IT),
            "empty": Wording("{subject} is empty after about {lasts:h} at {average} on average.", _NOT_SAID, _SAY_IT),
        },
    ),
    Check(
        "battery.stops-early", "caution", "supply", "a load, board or converter stops long before the battery is empty",
        "What needs a least voltage follows the battery down.", "volts of the battery at which the part has its least voltage",
        (), "straight lines from full by half of the charge to empty, over the capacity", _stops_early,
        wording={
            "single cells": Wording(*_STOPS, "Use one cell more where the part withstands it, or a part that works from fewer volts."),
            "block": Wording(
                *_STOPS, "Use a battery of more volts where the part withstands it, or a part that works from fewer volts."
            ),
        },
    ),
)  # fmt: skip
