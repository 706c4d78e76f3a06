"""Cells where they sit: in hot air, in reach of a child, in a body that keeps their gas."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, limited
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording
from postcheck.description.cells import is_coin, is_lead_acid, is_power_bank
from postcheck.report import Figure, Subject
from postcheck.survey import Survey

# A figure in a remedy is rounded when shown: kept this share below its bound, it still holds.
SAFE = 0.99


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

CHECKS: tuple[Check, ...] = (
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
