"""Heat in every place that is not open: averaged over time, with all that gives it off."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck import catalogue
from postcheck.build.models import Build
from postcheck.build.naming import origin_of, supply_of
from postcheck.limits import Limits
from postcheck.physics import heat
from postcheck.survey.electrics import on_share
from postcheck.survey.figures import Electrics, LampFigures, PlaceFigures
from postcheck.survey.parts import Parts

__all__ = ["places_figures"]

# How much of a resistor's own rise the wall beside it takes: it touches on one side only; judgement.
TOUCHES = 0.5


def places_figures(
    build: Build,
    parts: Parts,  # noqa: ARG001 - all sections of the survey are made alike
    electrics: Electrics,
    limits: Limits,
) -> dict[str, PlaceFigures]:
    """Every closed place by name."""
    given: dict[str, list[tuple[str, float]]] = {}
    for where, part, watts in _heats(build, electrics):
        if watts > 0.0:
            given.setdefault(where, []).append((part, watts))
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


def _heats(build: Build, electrics: Electrics) -> Iterator[tuple[str, str, float]]:
    """(place, part, watts averaged over time) of everything that gives off heat."""
    for lamp in electrics.lamps.values():
        yield from _lamp(lamp)
    for name, strip in electrics.strips.items():
        volts = (strip.first_volts + strip.last_volts) / 2.0
        yield strip.part.place, name, strip.nominal * volts * on_share(build, strip.part.circuit)
    for name, load in electrics.loads.items():
        yield load.part.place, name, load.volts * load.part.typical * on_share(build, load.part.circuit)
    yield from _outputs(build, electrics)
    for name, board in build.board.items():
        supply = electrics.supplies.get(board.supply)
        if supply is not None and board.idle:
            yield board.place, name, board.idle * supply.volts
    for name, supply_said in build.supply.items():
        figures = electrics.supplies.get(name)
        if supply_said.kind == "converter" and figures is not None:
            lost = 1.0 / (supply_said.efficiency or 0.85) - 1.0
            idle = (
                (supply_said.idle or 0.0) * electrics.supplies[supply_said.fed_by].volts
                if supply_said.fed_by
                else 0.0
            )
            yield supply_said.place, name, figures.average * figures.volts * lost + idle
    for name, place in build.place.items():
        if place.heat:
            yield name, "what else is in it", place.heat


def _lamp(lamp: LampFigures) -> Iterator[tuple[str, str, float]]:
    part = lamp.part
    strings = part.parallel
    in_resistor = lamp.resistor_nominal * (1 if part.one_resistor else strings)
    in_dice = lamp.string_volts * abs(lamp.nominal) * strings
    if part.dice and part.dice[0].filament_volts:  # its string is measured with its resistor
        in_dice -= in_resistor
    if part.resistor is not None:
        yield part.resistor.place, f"the resistor of {lamp.name}", in_resistor * lamp.on_share
    for place in part.places:
        yield place, lamp.name, in_dice * lamp.on_share / len(part.places)


def _outputs(build: Build, electrics: Electrics) -> Iterator[tuple[str, str, float]]:
    """Heat in the outputs that drive circuits: their drop, or what a constant-current output takes up."""
    for name, circuit in build.circuit.items():
        driver = circuit.output or build.board.get(circuit.board or "")
        figures, place = electrics.circuits.get(name), origin_of(build, circuit)
        supply = electrics.supplies.get(supply_of(build, circuit) or "")
        if driver is None or figures is None or place is None or supply is None:
            continue
        volts = driver.drop
        if driver.steady is not None:
            needed = max(
                (lamp.feed_volts for lamp in electrics.lamps.values() if lamp.part.circuit == name),
                default=supply.volts,
            )
            volts = max(supply.volts - needed, 0.0)
        yield place, circuit.board or f"the output of {name}", figures.nominal * volts * on_share(build, name)


def _warmest_resistors(electrics: Electrics) -> dict[str, tuple[float, str]]:
    """In each place the most that a resistor warms the wall it lies against, K, and whose it is."""
    warmest: dict[str, tuple[float, str]] = {}
    for lamp in electrics.lamps.values():
        resistor = lamp.part.resistor
        if resistor is None or not resistor.power:
            continue
        rise = TOUCHES * heat.resistor_rise(lamp.resistor_nominal * lamp.on_share, resistor.power)
        if rise > warmest.get(resistor.place, (0.0, ""))[0]:
            warmest[resistor.place] = (rise, lamp.name)
    return warmest
