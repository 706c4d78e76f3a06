"""Whether cells are safe: lithium, more current than they may give, hot air, in reach of a child, a body that keeps their gas."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, limited
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.cells import chemistries_of, is_coin, is_lead_acid, is_power_bank, most_of_any_size
from postcheck.limits import above
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.figures import BatteryFigures

# A figure in a remedy is rounded when shown: kept this share below its bound, it still holds.
SAFE = 0.99


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
    """Power banks, which are lithium packs, and batteries of unknown chemistry, which may be."""
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
    unrated = survey.limits.value("battery.unrated")
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
        elif battery.most is None and battery.hourly is not None and above(battery.highest, unrated):
            yield open_question(
                name,
                "whether its cells may give {highest}",
                'their size, such as size = "aa"'
                if battery.hourly < 1.0
                else 'their capacity, such as capacity = "500 mAh"',
                figures={"highest": Figure(battery.highest, "A")},
                vital=battery.lithium or above(battery.highest, most_of_any_size(survey.build.supply[name])),
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
            words={}
            if battery.hourly is None
            else {"rate": f"{battery.hourly:g}C", "part": by_the_hour(battery.hourly)},
            limit=most,
        )


def may_give(battery: BatteryFigures) -> str:
    """Where it stands what the cells of a battery may give for good."""
    if battery.hourly is None:
        return "the cell's data"
    return f"{battery.hourly:g}C, {by_the_hour(battery.hourly)}: common practice where the cell's data are not known"


def by_the_hour(rate: float) -> str:
    """In words, what part of the capacity cells give in an hour."""
    return (
        "their capacity in an hour"
        if rate == 1.0
        else f"{rate:.0%} of their capacity in an hour".replace("%", " %")
    )


def _hot(survey: Survey) -> Iterator[Fact | Within]:
    use, charge = survey.limits["cell.use"], survey.limits["cell.charge"]
    for name, supply in survey.build.supply.items():
        bank = is_power_bank(supply)
        place = survey.places.get(supply.place)
        if (supply.kind != "battery" and not bank) or place is None:
            continue
        air, rise = place.hottest, place.rise
        if air is None or not rise:
            continue
        lithium = bank or (name in survey.batteries and survey.batteries[name].lithium)
        subject = Subject("supply", name)
        steps = {"in use": Within(subject, air, limited(use))}
        if lithium:
            steps["charging"] = Within(subject, air, limited(charge))
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        in_use, limit, room = broken == "in use", steps[broken].limit, survey.build.build.air[1]
        allowed = SAFE * place.heat * (limit.value - room) / rise
        yield Fact(
            ("stop" if lithium else "caution") if in_use else "note",
            subject,
            ("supply", name, "place"),
            ("lithium" if lithium else "other cells") if in_use else "charging",
            figures={
                "air": Figure(air, "degC"),
                **({"allowed": Figure(allowed, "W")} if allowed > 0.0 else {}),
            },
            parts={"place": Subject("place", supply.place)},
            limit=limit,
            because_of=f"place.too-hot:{supply.place}",
            firm=DANGER if lithium and in_use else "",
        )


def inside(survey: Survey, supply: str, line: str, firm: str) -> Fact:
    """A supply in a body that it must not be in, be that sealed or not; the line to type where it is sound all the same."""
    place = survey.build.supply[supply].place
    return Fact(
        "stop", Subject("supply", supply), ("supply", supply, "place"), survey.build.place[place].access,
        parts={"place": Subject("place", place)}, lines=(line,), firm=firm,
    )  # fmt: skip


def _coin(survey: Survey) -> Iterator[Fact]:
    for name, supply in survey.build.supply.items():
        place = survey.build.place.get(supply.place)
        if not is_coin(supply) or place is None or place.access == "sealed":
            continue
        in_the_open = place.access == "open"
        if place.opens_with and not in_the_open:
            continue
        yield Fact(
            "caution",
            Subject("supply", name),
            ("supply", name, "place"),
            place.access,
            firm="a child that swallows it can die of it",
            parts={"place": Subject("place", supply.place)},
            lines=(*(('access = "cover"',) if in_the_open else ()), 'opens_with = "tool"'),
        )


def _gas(survey: Survey) -> Iterator[Fact]:
    for name, supply in survey.build.supply.items():
        place = survey.build.place.get(supply.place)
        if not is_lead_acid(supply) or place is None or place.access == "open" or place.vented:
            continue
        yield inside(survey, name, "vented = true", "the hydrogen of a lead-acid battery can explode")


_SWALLOWED = "A swallowed coin cell burns through within hours. By UL 4200A and 16 CFR 1263 what holds it opens with a tool only, or by two movements at once."
_SCREW = "Close it with a screw, and write for {place}:"
_HYDROGEN = (
    "Charged too far it gives off hydrogen, and a spark sets that off. Nothing lets it out of a closed body."
)
_VENT = "Put it outside, charge it there, or give {place} holes high and low and write:"
_COOLER = "Put it elsewhere[, or bring the heat in {place} down to {allowed}]."

_PROTECTED = {True: "protected", False: "unprotected", None: "protection not stated"}
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
_STATE_IT = "[ {rate} is {part}. If their label or sheet allows more, write it: rated.]"
_STRONGER = "Use cells that are rated for more, or take less from them."

CHECKS: tuple[Check, ...] = (
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
        "Cells drawn on too hard sag, heat up and age.", "highest load against the cell's most current: a stop for lithium cells that a short can set on fire, a caution for others", ("battery.unrated",),
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
    Check(
        "battery.hot", "stop", "supply", "cells in air that is too hot for them", "A hot lithium cell can burn, other cells leak.",
        "air of the place, as for place.too-hot, against what cells withstand in use (a stop for lithium, a caution for others), and lithium ones while they are charged (a note)",
        ("cell.use", "cell.charge"), "makers' sheets of lithium polymer and LiFePO4 cells", _hot,
        held="any stop",
        wording={
            "lithium": Wording(
                "The air around {subject} in {place} gets to {air:apart}. A lithium cell withstands {limit:apart} in use.",
                "A lithium cell that gets too hot ages fast, swells, and can burn.", _COOLER,
            ),
            "other cells": Wording(
                "The air around {subject} in {place} gets to {air:apart}. Cells withstand {limit:apart} in use.",
                "A cell that gets too hot dries out or leaks.", _COOLER,
            ),
            "charging": Wording(
                "The air around {subject} in {place} gets to {air:apart}. Above {limit:apart} a lithium cell must not be charged.",
                "A lithium cell that is charged hot can swell and burn.", "Let it cool before it is charged, outside the model.",
            ),
        },
    ),
    Check(
        "battery.coin", "caution", "supply", "a coin cell that a child could get at", "A swallowed coin cell burns through within hours.",
        "button and coin cells whose place is open, or opens with neither a tool nor two movements", (),
        "UL 4200A and 16 CFR 1263, for toys IEC 62115 (from memory): a compartment that takes a tool or two movements at once", _coin,
        held="any finding",
        wording={
            "open": Wording("{subject} is a coin cell in the open, at {place}.", _SWALLOWED, _SCREW),
            "cover": Wording(
                "{subject} is a coin cell behind the cover of {place}. The file does not say what that takes to open.", _SWALLOWED, _SCREW
            ),
        },
    ),
    Check(
        "battery.gas", "stop", "supply", "a lead-acid battery in a closed body", "It gives off hydrogen when it is charged.",
        "lead-acid, in a place that is neither open nor vented", (),
        "hydrogen explodes in air from 4 % (CCOHS); EN 50272-2 asks for ventilation; makers of sealed ones allow no closed container (from memory)", _gas,
        held="any finding",
        wording={
            "cover": Wording("{subject} is a lead-acid battery in {place}, behind a cover.", _HYDROGEN, _VENT),
            "sealed": Wording("{subject} is a lead-acid battery sealed into {place}.", _HYDROGEN, _VENT),
        },
    ),
)  # fmt: skip
