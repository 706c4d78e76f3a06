"""Batteries: how long, how dim, and whether they are safe where they sit."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor, log10

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.cells import chemistries_of, is_coin, is_power_bank, listed, takes_one_more
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.figures import BatteryFigures

# A current that is offered is rounded when it is shown: this much below the bound it holds all the same.
SAFE = 0.99
_RUNS_FOR = "runs_for in the build file"
# The smallest pouches and button packs of the trade hold some 50 mAh, and give 50 mA for good, A; from memory.
_SMALLEST = 0.05


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
        elif battery.empty_volts >= battery.full_volts and battery.seconds == 0.0:
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
            and battery.average > battery.known_to
            and battery.seconds >= battery.wanted
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
            if within.kept:
                continue
            held, rated = battery.holds or 0.0, battery.rated or 0.0
            needed = rated * battery.wanted / battery.seconds
            fewer = {"holds": Figure(held, "C"), "rated": Figure(rated, "C")} if held != rated else {}
            allowed = SAFE * battery.average * battery.seconds / battery.wanted
            yield Fact(
                "caution",
                within.subject,
                (*battery.path, "runs_for"),
                # a size of the catalogue holds what it holds
                "too small" if listed(survey.build.supply[name]) is None else "size too small",
                figures={
                    "average": Figure(battery.average, "A"),
                    "lasts": Figure(battery.seconds, "s"),
                    "counted": Figure(derate.value, "share"),
                    "needed": Figure(_rounded_up(needed), "C"),
                    "allowed": Figure(allowed, "A"),
                    **fewer,
                },
                limit=wanted,
            )


def _rounded_up(charge: float) -> float:
    """A charge in C as cells are sold: two figures in mAh, and no less."""
    milliampere_hours = charge / 3.6
    step = 10.0 ** (floor(log10(milliampere_hours)) - 1)
    return ceil(milliampere_hours / step - 1e-9) * step * 3.6


def _dim_early(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    gone, early = survey.limits["battery.dim"], survey.limits["battery.early"]
    for name, battery in survey.batteries.items():
        if not battery.dim or (battery.seconds or 0.0) < (battery.wanted or 0.0):
            continue  # it is too small altogether, which is a finding of its own
        lamp, level, left = battery.dim[0]
        if level <= battery.empty_volts:
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
                    if too_soon or inside > early.value
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
    """Where nobody says how long it is to last: how long it does, if that is less than a day of a show."""
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
        if not battery.stops or (battery.seconds or 0.0) < (battery.wanted or 0.0):
            continue
        part, level = battery.stops[0]
        # above its usual volts it does not even begin, which is a finding of its own
        if level <= battery.empty_volts or level > battery.usual_volts:
            continue
        wanted, at = battery.wanted, battery.stops_seconds
        # where no time is asked for, only what goes out in the first half is worth a word
        enough = wanted if wanted is not None else 0.5 * (battery.seconds or 0.0)
        if at is None:
            continue
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


def _lithium_sealed(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    yield from _banks(survey)
    for name, battery in survey.batteries.items():
        place = survey.build.place.get(battery.place)
        if battery.lithium and place is not None and place.access == "sealed":
            yield Fact(
                "stop",
                Subject("supply", name),
                (*battery.path, "place"),
                _PROTECTED[battery.protected],
                parts={"place": Subject("place", battery.place)},
                firm="" if battery.protected else DANGER,
            )


def _banks(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Power banks are lithium packs; batteries of which nothing is said may be."""
    for name, supply in survey.build.supply.items():
        place = survey.build.place.get(supply.place)
        sealed = place is not None and place.access == "sealed"
        if is_power_bank(supply) and sealed:
            yield Fact(
                "stop",
                Subject("supply", name),
                ("supply", name, "place"),
                "power bank",
                parts={"place": Subject("place", supply.place)},
                firm=DANGER,
            )
        if supply.kind == "battery" and supply.chemistry is None:
            yield NotJudged(
                name,
                "whether it is a lithium battery, and protected",
                _chemistry(supply.volts),
                vital=sealed,
            )


def _chemistry(volts: float | None) -> str:
    """What asks for a chemistry, with those that make up the volts."""
    fit = [f'"{name}"' for name in chemistries_of(volts)] if volts is not None else []
    which = " or ".join(filter(None, (", ".join(fit[:-1]), *fit[-1:])))
    written = f"chemistry = {which}" if fit else "`postcheck catalogue battery` lists them"
    return f"its chemistry, as printed on it: {written}"


def _unprotected(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, battery in survey.batteries.items():
        if battery.lithium and battery.protected is False:
            yield Fact(
                "stop",
                Subject("supply", name),
                (*battery.path, "protected"),
                because_of=f"battery.lithium-sealed:{name}",
            )
        elif battery.lithium and battery.protected is None:
            yield NotJudged(
                name,
                "whether anything ends a short of its lithium cells, or stops them from being emptied too far",
                "whether they have a protection board: protected = true or false",
                vital=True,
            )


def _overload(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, battery in survey.batteries.items():
        if (
            battery.most is None
            and survey.build.supply[name].chemistry == "lithium-coin"
            and battery.highest > 0.0
        ):
            yield open_question(
                name,
                "whether its cells may give {highest}",
                'their size, such as size = "cr2032"',
                figures={"highest": Figure(battery.highest, "A")},
            )
        elif battery.most is None and battery.hourly is not None and battery.highest > _SMALLEST:
            yield open_question(
                name,
                "whether its cells may give {highest}",
                'their capacity, such as capacity = "500 mAh"',
                figures={"highest": Figure(battery.highest, "A")},
                vital=battery.lithium,
            )
        if battery.most is None:
            continue
        most = Limited(battery.most, "A", may_give(battery))
        by_capacity = {} if battery.hourly is None else {"hourly": Figure(battery.hourly, "")}
        yield (within := Within(Subject("supply", name), battery.highest, most))
        if within.kept:
            continue
        coin = is_coin(survey.build.supply[name])
        yield Fact(
            "stop" if battery.lithium else "caution",
            within.subject,
            battery.path,
            "lithium" if battery.lithium else "coin cells" if coin else "other cells",
            figures={"load": Figure(battery.highest, "A"), **by_capacity},
            words={} if battery.hourly is None else {"rate": f"{battery.hourly:g}C"},
            limit=most,
        )


def may_give(battery: BatteryFigures) -> str:
    """Where it stands what the cells of a battery may give for good."""
    if battery.hourly is None:
        return "the cell's data"
    return (
        f"{battery.hourly:g}C, their capacity in an hour: common practice where the cell's data are not known"
    )


_PROTECTED = {True: "protected", False: "unprotected", None: "protection not stated"}
_WANTED = "[ It is to last {wanted:apart}.]"
_ONLY_EMPTY = "The battery counts as empty only at {empty:apart}."
_SET = "The battery is empty after about {lasts:h}."
_NOT_SAID = "The file does not say how long it is to last, and this is less than a day of a show."
_SAY_IT = "Use cells that hold more, or take less from them. If so long is enough, write it: runs_for."
_BURNS = (
    "A lithium cell that is shorted, overcharged or too empty can swell and burn, and here nobody can look at it or take it out. "
    "Follow its maker's rules and local codes. Never charge it inside the model."
)
_COVER = "Put it behind a cover from which it comes out for charging"
_AND_PROTECT = f"{_COVER}, and use a cell or pack with a protection board."
_NO_END = (
    "Nothing ends a short or stops it from being emptied too far: it can swell and burn. "
    "Use protected cells only, a proper charger, and never charge it unattended."
)
_PROTECT = "Use a cell or pack with a protection board, and write protected = true."
_TOO_HARD = "{subject} gives up to {load:apart}. Its cells are rated for {limit:apart}[ ({rate}, as the file states no other)]."
_STATE_IT = (
    "[ {rate} of a cell is its capacity in an hour. If its label or sheet allows more, write it: rated.]"
)
_STRONGER = "Use cells that are rated for more, or take less from them."

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
    Check(
        "battery.lithium-sealed", "stop", "supply", "a lithium battery is sealed in",
        "A lithium cell must be seen and reached; one without protection may burn.",
        "chemistry and access; with a protection board it can be waived", (),
        "cell makers' rules: removable, protected, not charged inside; defers to local codes", _lithium_sealed,
        held="any stop but that of a battery with a protection board",
        wording={
            "protected": Wording("{subject} is a lithium battery sealed into {place}, where nobody can see it swell.", _BURNS, f"{_COVER}."),
            "unprotected": Wording("{subject} is a lithium battery without a protection board, sealed into {place}.", _BURNS, _AND_PROTECT),
            "protection not stated": Wording(
                "{subject} is a lithium battery sealed into {place}. The file does not say that it has a protection board.", _BURNS, _AND_PROTECT
            ),
            "power bank": Wording(
                "{subject} is a power bank, a lithium battery with its charger, sealed into {place}.",
                "It can swell and burn, it must be seen and taken out to be charged, "
                "and it never lies still. Follow its maker's rules and local codes.", f"{_COVER}.",
            ),
        },
    ),
    Check(
        "battery.unprotected", "stop", "supply", "a lithium battery has no protection board",
        "Nothing ends a short or deep discharge.", "chemistry, and protected = false; where the file does not say, it is asked", (),
        "cell makers' rules: protected cells only", _unprotected, dangerous=True,
        wording={
            "": Wording("{subject} is a lithium battery without a protection board.", _NO_END, _PROTECT),
        },
    ),
    Check(
        "battery.overload", "stop", "supply", "more current than the cells may give",
        "Cells drawn on too hard sag, heat up and age.", "highest load against the cell's most current: a stop for lithium cells that a short can set on fire, a caution for others", (),
        "the cell's data, file or catalogue; where they state no current, 1C of the capacity", _overload, dangerous=True,
        wording={
            "lithium": Wording(
                _TOO_HARD, f"Cells drawn on too hard sag and get hot, and lithium cells may burn.{_STATE_IT}", _STRONGER
            ),
            "coin cells": Wording(
                _TOO_HARD,
                "So much is for moments. Its volts sag at once, and it gives a small part of what is printed on it. Its own resistance keeps it from getting hot.",
                _STRONGER,
            ),
            "other cells": Wording(
                _TOO_HARD, f"Cells drawn on too hard sag and get hot, and last far shorter than their rating says.{_STATE_IT}", _STRONGER
            ),
        },
    ),
)  # fmt: skip
