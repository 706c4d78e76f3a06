"""The figures that every report carries, in the shape that other programs rely on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from postcheck.reported import (
    Figures,
    ReportedClosing,
    ReportedLamp,
    ReportedPassage,
    ReportedSupply,
)
from postcheck.survey.network.dice import destroyed

if TYPE_CHECKING:
    from postcheck.survey import Survey
    from postcheck.survey.closing.coverage import Closing
    from postcheck.survey.heat.figures import BatteryFigures
    from postcheck.survey.network.figures import LampFigures, SupplyFigures
    from postcheck.survey.post.figures import PassageFigures

__all__ = ["reported_figures"]


def reported_figures(survey: Survey) -> Figures:
    """Lamps, supplies, runs, passages and places by name; SI numbers. A battery's load comes with the time it lasts, s.

    A passage that turns has the cycles wanted, the life of its weakest wire as a band, the turn each way (rad) with which
    every wire would live, and the slack (m) that its outermost wire needs.

    A lamp has `corners`: "tried" where its lowest and highest current are the worst of the corners tried (loops, loads,
    converters, constant currents); elsewhere, on a tree of wires with lamps alone, they are proven to be the extremes.
    """
    electrics = survey.electrics
    batteries = (
        survey.batteries if any(supply.kind == "battery" for supply in survey.build.supply.values()) else {}
    )
    figures: Figures = {
        "lamps": {name: _lamp(survey, lamp) for name, lamp in electrics.lamps.items()},
        "supplies": {
            name: _supply(supply, batteries.get(name)) for name, supply in electrics.supplies.items()
        },
        "runs": {name: {"current": run.current, "drop": run.drop} for name, run in electrics.runs.items()},
        "passages": {name: _passage(passage) for name, passage in survey.passages.items()},
        "places": {name: {"heat": place.heat, "rise": place.rise} for name, place in survey.places.items()},
    }
    if survey.closing:
        figures["closing"] = {name: _closing(closing) for name, closing in survey.closing.items()}
    return figures


def _lamp(survey: Survey, lamp: LampFigures) -> ReportedLamp:
    if destroyed(lamp.part.dice, lamp.nominal, survey.limits):
        return {"nominal": None, "lowest": None, "highest": None, "fate": "destroyed"}
    row: ReportedLamp = {"nominal": lamp.nominal, "lowest": lamp.lowest, "highest": lamp.highest}
    if not survey.electrics.proven:
        row["corners"] = "tried"
    return row


def _supply(supply: SupplyFigures, battery: BatteryFigures | None) -> ReportedSupply:
    row: ReportedSupply = {
        "nominal": supply.nominal,
        "highest": supply.highest,
        "headroom": supply.headroom,
        "rated": supply.rated,
    }
    if battery is not None:
        row["lasts"] = battery.seconds
    return row


def _passage(passage: PassageFigures) -> ReportedPassage:
    row: ReportedPassage = {
        "fill": passage.fill,
        "smallest_bore": passage.smallest_bore,
        "verdict": passage.verdict,
        "bore": passage.passage.bore,
    }
    if passage.turn_borne is not None:
        lives = [
            life
            for life, member in zip(passage.life, passage.members, strict=True)
            if member.wire is not None
        ]
        row["cycles"] = passage.cycles
        row["life_least"], row["life_most"] = min(lives, default=(None, None))
        row["turn_borne"] = passage.turn_borne
        row["slack_needed"] = passage.slack_needed
    return row


def _closing(closing: Closing) -> ReportedClosing:
    held = [one.kind for one in closing.held]
    return {
        "needed": len(closing.needed),
        "proven": len(closing.needed) - len(closing.unproven),
        "lamp": held.count("lamp"),
        "strip": held.count("strip"),
        "load": held.count("load"),
        "resistor": held.count("resistor"),
        "joint": held.count("joint"),
        "join": held.count("join"),
        "conductor": held.count("conductor"),
        "plug": held.count("plug"),
        "board": held.count("board"),
        "supply": held.count("supply"),
    }
