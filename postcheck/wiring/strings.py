"""What the leads of several strings can share: where their resistors sit decides some of it."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.problems import Problem
from postcheck.plain import quoted
from postcheck.wiring.parts import LampPart, Parts


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


def _beside(lamp: LampPart) -> bool:
    return lamp.resistor is not None and lamp.resistor.place in (lamp.place, *lamp.places)


def _at_joint(lamp: LampPart) -> bool:
    """Whether a resistor sits at the joint of its own leg, away from the lamp."""
    if lamp.resistor is None or _beside(lamp):
        return False
    leg = lamp.supply_leg if lamp.resistor.side == "supply" else lamp.return_leg
    return lamp.resistor.place == leg.to
