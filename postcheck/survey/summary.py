"""The figures that every report carries, in the shape that other programs rely on."""

from __future__ import annotations

from postcheck.survey import Survey
from postcheck.survey.dice import destroyed

__all__ = ["reported_figures"]

Figures = dict[str, dict[str, dict[str, float | str | None]]]


def reported_figures(survey: Survey) -> Figures:
    """Lamps, supplies, runs, passages and places by name; SI numbers. A battery's load comes with the time it lasts, s.

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
            }
            for name, passage in survey.passages.items()
        },
        "places": {name: {"heat": place.heat, "rise": place.rise} for name, place in survey.places.items()},
    }
