"""Heat in every place that is not open: averaged over time, with all that gives it off."""

from __future__ import annotations

from postcheck import catalogue
from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.physics import heat
from postcheck.survey.heat.figures import PlaceFigures
from postcheck.survey.network.figures import Electrics

# How much of a resistor's own rise the wall beside it takes: it touches on one side only; judgement.
TOUCHES = 0.5


def places_figures(
    build: Build,
    electrics: Electrics,
    limits: Limits,
) -> dict[str, PlaceFigures]:
    """Every closed place by name."""
    given: dict[str, list[tuple[str, float]]] = {}
    for where, part, watts in electrics.heats:
        if watts > 0.0:
            given.setdefault(where, []).append((part, watts))
    for name, place in build.place.items():
        if place.heat:
            given.setdefault(name, []).append(("what else is in it", place.heat))
    warm = _warmest_resistors(electrics)
    figures = {}
    for name, place in build.place.items():
        if place.access == "open":
            continue
        rows = sorted(given.get(name, ()), key=lambda row: (-row[1], row[0]))
        watts = sum(row[1] for row in rows)
        rise = None
        if place.surface:
            rise = heat.place_rise(watts, place.surface, limits.value("heat.per-area"))
        stands, source = _stands(place.material, limits)
        local, local_part = warm.get(name, (0.0, ""))
        figures[name] = PlaceFigures(
            name, ("place", name), place.access, place.material, stands, source, watts, rise,
            None if rise is None else build.build.air[1] + rise, tuple(rows), local, local_part,
        )  # fmt: skip
    return figures


def _stands(material: str | None, limits: Limits) -> tuple[float, str]:
    """What walls of a material stand, in degC, and where that is from."""
    if material is not None:
        try:
            row = catalogue.plastic(material)
        except catalogue.UnknownRow:
            pass
        else:
            return row.celsius, row.source
    limit = limits["heat.unknown-material"]
    return limit.value, limit.source


def _warmest_resistors(electrics: Electrics) -> dict[str, tuple[float, str]]:
    """In each place the most that a resistor warms the wall it lies against, K, and whose it is."""
    warmest: dict[str, tuple[float, str]] = {}
    for lamp in electrics.lamps.values():
        resistor = lamp.part.resistor
        if resistor is None or not resistor.power:
            continue
        rise = TOUCHES * heat.resistor_rise(lamp.resistor_nominal * lamp.duty_cycle, resistor.power)
        if rise > warmest.get(resistor.place, (0.0, ""))[0]:
            warmest[resistor.place] = (rise, lamp.name)
    return warmest
