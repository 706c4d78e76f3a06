"""The figures of a survey by the names that the decks compare: all that is known here of postcheck.

Figures of the report where it has them, sections of the survey where it has none yet.
"""

from __future__ import annotations

from postcheck.survey import Survey

__all__ = ["read"]


def read(survey: Survey) -> dict[tuple[str, str], float]:
    """(kind, name) -> the figure with all on and typical parts, SI."""
    figures, electrics = survey.figures, survey.electrics
    found: dict[tuple[str, str], float | None] = {}
    for name, lamp in figures["lamps"].items():
        found["lamp", name] = lamp["nominal"]
    for name, supply in figures["supplies"].items():
        found["supply", name] = supply["nominal"]
    for name, run in figures["runs"].items():
        found["run", name], found["drop", name] = run["current"], run["drop"]
    for name, place in figures["places"].items():
        found["heat", name], found["rise", name] = place["heat"], place["rise"]
    for name, one in electrics.lamps.items():
        found["joint volts", name], found["resistor", name] = one.joint_volts, one.resistor_nominal
    for name, (amps, _) in electrics.drawn.items():
        found["drawn", name] = amps
    for name, strip in electrics.strips.items():
        found["strip", name] = strip.nominal
        found["first segment", name], found["last segment", name] = strip.first_volts, strip.last_volts
    for name, load in electrics.loads.items():
        found["load", name] = load.volts
    for name, (amps, _) in electrics.boards.items():
        found["board", name] = amps
    for name, plug in electrics.plugs.items():
        for number, amps in enumerate(plug.nominal):
            found["pin", f"{name} {number}"] = amps
    return {key: value for key, value in found.items() if value is not None}
