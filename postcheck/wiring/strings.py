"""What the leads of several strings, and of several colours, can share: resistors and supplies decide some of it."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.problems import Problem
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.plain import quoted
from postcheck.wiring.parts import LampPart, Parts
from postcheck.wiring.resolved import Wiring


def string_problems(parts: Parts) -> Iterator[Problem]:
    """Lamps whose strings are said to share what they cannot, or not to share what they must."""
    for lamp in parts.lamps:
        if lamp.parallel == 1 or lamp.said.strings_share is None:
            continue
        path = (*lamp.path[:2], "strings_share")
        if lamp.lead is None:
            yield Problem(
                "file.invalid", path, f"lamp {quoted(lamp.name)} has no lead whose legs its strings could share",
                'give it one, such as lead = "220 mm to hull", or leave `strings_share` out', "key",
            )  # fmt: skip
        elif lamp.resistor is not None and lamp.one_resistor and lamp.share != "lead" and _beside(lamp):
            yield Problem(
                "file.invalid", path,
                f"the strings of {quoted(lamp.name)} begin at one resistor that sits with them, so they share their lead",
                'write strings_share = "lead", or put the resistor at the joint',
            )  # fmt: skip
        elif lamp.resistor is not None and not lamp.one_resistor and lamp.share == "lead" and _at_joint(lamp):
            yield Problem(
                "file.invalid", path,
                f"each string of {quoted(lamp.name)} has its resistor at {quoted(lamp.resistor.place)}, and so a leg of its own to there",
                'write strings_share = "return" or "nothing", or give them one resistor (one_resistor = true)',
            )  # fmt: skip


def shared_leg_problems(wiring: Wiring) -> Iterator[Problem]:
    """Lamps of several colours whose circuits come back to supplies that have no pole in common."""
    for index, lamp in enumerate(wiring.build.lamp):
        poles: dict[str, tuple[str, str]] = {}  # of each net, a colour that comes back to it and the supply
        for colour, die in (lamp.dice or {}).items():
            driver = wiring.drivers[die.circuit]
            if driver.supply and driver.other_pole:
                poles.setdefault(wiring.nets.one_with(driver.other_pole), (colour, driver.supply))
        if len(poles) < 2:
            continue
        (pole, (colour, supply)), (other, (another, its)) = list(poles.items())[:2]
        hint = "feed them from one supply"
        if pole.endswith("-"):  # and so the other: all colours are switched on one side
            first, later = sorted((supply, its), key=list(wiring.build.supply).index)
            hint += f", or write shares_negative_with = {in_toml(first)} in [supply.{key_in_toml(later)}] where their negatives are joined"
        yield Problem(
            "file.invalid", ("lamp", index, "dice", another, "circuit"),
            f"{colour} goes to {quoted(pole)} and {another} to {quoted(other)}, but the colours share one leg", hint,
        )  # fmt: skip


def _beside(lamp: LampPart) -> bool:
    return lamp.resistor is not None and lamp.resistor.place in (lamp.place, *lamp.places)


def _at_joint(lamp: LampPart) -> bool:
    """Whether a resistor sits at the joint of its own leg, away from the lamp."""
    if lamp.resistor is None or _beside(lamp):
        return False
    leg = lamp.supply_leg if lamp.resistor.side == "supply" else lamp.return_leg
    return lamp.resistor.place == leg.to
