"""Heat in every place that is not open: averaged over time, with all that gives it off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from postcheck import catalogue
from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.physics import heat
from postcheck.survey.heat.figures import HotSpot, PlaceFigures
from postcheck.survey.network.figures import Electrics, LampFigures
from postcheck.survey.network.heats import called_as
from postcheck.survey.network.states import loss_per_area

# How much of a resistor's rise the wall beside it gets: it touches on one side only; judgement.
TOUCHES = 0.5


def places_figures(
    build: Build,
    electrics: Electrics,
    limits: Limits,
    pushing: Iterable[tuple[str, str]] = (),
) -> dict[str, PlaceFigures]:
    """Every closed place by name.

    `pushing`: what carries a current that no supply keeps up, by kind and name; it warms nothing for long.
    """
    air = build.build.air[1]
    cold = {called_as(*of) for of in pushing}
    given, steadily = (
        _by_place(build, (row for row in rows if row[1] not in cold))
        for rows in (electrics.heats, electrics.steady_heats)
    )
    figures = {}
    for name, place in build.place.items():
        if place.access == "open":
            continue
        rows, steady = given.get(name, ()), steadily.get(name, ())
        watts, rise, held_on, bare = sum(row[1] for row in rows), None, None, None
        row = row_of(place.material)
        if place.surface:
            per_area = loss_per_area(place, limits)
            rise = heat.place_rise(watts, place.surface, per_area)
            if electrics.steady_heats:
                held_on = air + heat.place_rise(sum(row[1] for row in steady), place.surface, per_area)
            if row is not None and row.kind == "metal" and place.painted is None:
                bare = air + heat.place_rise(watts, place.surface, limits.value("heat.per-area.bare"))
        stands, source = withstands(place.material, limits)
        strips = sum(strip.part.length for strip in electrics.strips.values() if strip.part.place == name)
        figures[name] = PlaceFigures(
            name=name,
            path=("place", name),
            access=place.access,
            material=place.material,
            stands=stands,
            stands_source=source,
            heat=watts,
            rise=rise,
            hottest=None if rise is None else air + rise,
            parts=rows,
            weakest=None if row is not None else min(map(_celsius, catalogue.names("plastic"))),
            bare=bare,
            bodies=bodies(build, name, strips),
            steady=held_on,
            steady_parts=steady,
        )
    return figures


# How far above a warm room a usual plastic may get, K: styrene in 35 degC.
FREE = 25.0
# Outside surface, m2: of the smallest usual body, of what each lamp in one has to itself (30 x 30 mm), and of a metre of one that
# holds a strip (30 x 20 mm); judgement.
_BODY, _PER_LAMP, _PER_STRIP = 38e-4, 9e-4, 0.1


def bodies(build: Build, place: str, strips: float) -> float:
    """How many of the smallest usual body one has to be that holds the lamps of a place and `strips`, m; one at least."""
    space = strips * _PER_STRIP
    for lamp in build.lamp:
        each = lamp.places.count(place) if lamp.places else lamp.series * (lamp.place == place)
        space += lamp.parallel * each * _PER_LAMP
    return max(1.0, space / _BODY)


def unsized(limits: Limits, size: float, free: float) -> float:
    """The heat, W, above which the size of a place has to be known.

    `size`: how many of the smallest usual body it is at least. `free`: what its walls leave above the air, K: the less it
    is, the sooner the size matters.
    """
    most = min(limits.value("heat.vital.small") * size, limits.value("heat.vital"))
    return most * max(free / FREE, 0.1)


def spots(build: Build, limits: Limits) -> dict[str, tuple[str, float]]:
    """Of each place whose material is known, that and what a small spot of it withstands, degC; metal takes a spot's heat away."""
    allowance = limits.value("heat.spot")
    rows = {name: row_of(place.material) for name, place in build.place.items()}
    return {
        name: (row.name, row.celsius + allowance)
        for name, row in rows.items()
        if row is not None and row.kind != "metal"
    }


def _by_place(
    build: Build, heats: Iterable[tuple[str, str, float]]
) -> dict[str, tuple[tuple[str, float], ...]]:
    """In each place the parts that give off heat, with their W, the largest first; alike ones as the file has them."""
    given: dict[str, list[tuple[str, float]]] = {}
    for where, part, watts in heats:
        if watts > 0.0:
            given.setdefault(where, []).append((part, watts))
    for name, place in build.place.items():
        if place.heat:
            given.setdefault(name, []).append(("what else is in it", place.heat))
    return {name: tuple(sorted(rows, key=lambda row: -row[1])) for name, rows in given.items()}


def hot_spots(
    build: Build, electrics: Electrics, limits: Limits, places: Mapping[str, PlaceFigures]
) -> Iterator[HotSpot]:
    """Glass of filaments and resistors, wherever they sit, against the material of the place.

    What flashes or is dimmed is judged as it is meant, and on for good. Metal takes the heat of a spot away.
    """
    spot, least = limits.value("heat.spot"), limits.value("heat.rise")
    for lamp in electrics.lamps.values():
        part = lamp.part
        if part.said.held_off:
            continue
        for kind, name, rise, stuck in _warm(lamp):
            place = build.place[name]
            row = row_of(place.material)
            if rise <= least or (row is not None and row.kind == "metal"):
                continue
            figures, air = places.get(name), build.build.air[1]
            if figures is not None and figures.hottest is not None:
                air = figures.steady if stuck and figures.steady is not None else figures.hottest
            yield HotSpot(
                kind=kind,
                name=part.name,
                path=part.path,
                place=name,
                material=None if row is None else row.name,
                celsius=air + rise,
                stands=withstands(place.material, limits)[0] + spot,
                air=air,
                stuck=stuck,
            )


def _warm(lamp: LampFigures) -> Iterator[tuple[Literal["lamp", "resistor"], str, float, bool]]:
    """The warm parts of a lamp: what and where, how many K above its air, and whether only while it is held on."""
    part, resistor = lamp.part, lamp.part.resistor
    die = part.dice[0]
    if die.glass is not None:
        by_watts = (die.glass - 25.0) / float(die.rated**_WATTS_BY_CURRENT)
        usual, on = (
            by_watts * float(abs(amps) ** _WATTS_BY_CURRENT)
            for amps in (lamp.nominal, lamp.held_on or lamp.nominal)
        )
        # glass takes a minute to warm up; a filament that does not follow its pulses is at their average already
        usual *= lamp.duty_cycle if lamp.held_on is None else 1.0
        for place in dict.fromkeys(part.places):
            yield "lamp", place, usual, False
            if lamp.duty_cycle < 1.0:
                yield "lamp", place, on, True
    watts, rated = lamp.spot
    if resistor is None or not rated:
        return
    lit = TOUCHES * heat.resistor_rise(watts, rated)
    yield "resistor", resistor.place, lit * lamp.duty_cycle, False
    if lamp.duty_cycle < 1.0:
        yield "resistor", resistor.place, lit, True


# A filament's current goes with the volts to the power of 0.55, and so its watts with the current to 1 + 1 / 0.55:
# rerating of lamps, by makers.
_WATTS_BY_CURRENT = 1.0 + 1.0 / 0.55


def row_of(material: str | None) -> catalogue.Plastic | None:
    """A material of the catalogue, None where it is not said or not there."""
    try:
        return None if material is None else catalogue.plastic(material)
    except catalogue.UnknownRow:
        return None


def _celsius(material: str) -> float:
    return catalogue.plastic(material).celsius


def withstands(material: str | None, limits: Limits) -> tuple[float, str]:
    """What walls of a material withstand, in degC, and where that is from."""
    row, limit = row_of(material), limits["heat.unknown-material"]
    return (limit.value, limit.source) if row is None else (row.celsius, row.source)
