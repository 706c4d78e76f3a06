"""The figures that every report carries, in the shape that other programs rely on."""

from __future__ import annotations

from postcheck.survey import Survey
from postcheck.survey.dice import destroyed
from postcheck.survey.figures import PassageFigures

__all__ = ["reported_figures"]

HELD = ("lamp", "strip", "load", "resistor", "joint", "join", "conductor", "plug", "board", "supply")

Figures = dict[str, dict[str, dict[str, float | str | None]]]


def reported_figures(survey: Survey) -> Figures:
    """Lamps, supplies, runs, passages and places by name; SI numbers. A battery's load comes with the time it lasts, s.

    A passage that turns has the cycles wanted, the life of its weakest wire as a band, the turn each way (rad) with which
    every wire would live, and the slack (m) that its outermost wire needs.

    A lamp has `corners`: "tried" where its lowest and highest current are the worst of the corners tried (loops, loads,
    converters, constant currents); elsewhere, on a tree of wires with lamps alone, they are proven to be the extremes.
    """
    electrics = survey.electrics
    corners = {} if electrics.proven else {"corners": "tried"}
    batteries = (
        survey.batteries if any(supply.kind == "battery" for supply in survey.build.supply.values()) else {}
    )
    return {
        "lamps": {
            name: {"nominal": lamp.nominal, "lowest": lamp.lowest, "highest": lamp.highest, **corners}
            if not destroyed(lamp.part.dice, lamp.nominal, survey.limits)
            else {"nominal": None, "lowest": None, "highest": None, "fate": "destroyed"}
            for name, lamp in electrics.lamps.items()
        },
        "supplies": {
            name: {
                "nominal": supply.nominal,
                "highest": supply.highest,
                "headroom": supply.headroom,
                "rated": supply.rated,
                **({"lasts": batteries[name].seconds} if name in batteries else {}),
            }
            for name, supply in electrics.supplies.items()
        },
        "runs": {name: {"current": run.current, "drop": run.drop} for name, run in electrics.runs.items()},
        "passages": {
            name: {
                "fill": passage.fill,
                "smallest_bore": passage.smallest_bore,
                "verdict": passage.verdict,
                "bore": passage.passage.bore,
                **_turning(passage),
            }
            for name, passage in survey.passages.items()
        },
        "places": {name: {"heat": place.heat, "rise": place.rise} for name, place in survey.places.items()},
        **({"closing": _closing(survey)} if survey.closing else {}),
    }


def _closing(survey: Survey) -> dict[str, dict[str, float | str | None]]:
    """Of each place to be closed: how much has to be proven, how much is, and what will be reached by cutting only."""
    return {
        name: {
            "needed": len(closing.needed),
            "proven": len(closing.needed) - len(closing.unproven),
            **{kind: sum(one.kind == kind for one in closing.held) for kind in HELD},
        }
        for name, closing in survey.closing.items()
    }


def _turning(passage: PassageFigures) -> dict[str, float | None]:
    if passage.turn_borne is None:
        return {}
    lives = [
        life for life, member in zip(passage.life, passage.members, strict=True) if member.wire is not None
    ]
    least, most = min(lives, default=(None, None))
    return {
        "cycles": passage.cycles,
        "life_least": least,
        "life_most": most,
        "turn_borne": passage.turn_borne,
        "slack_needed": passage.slack_needed,
    }
