"""The figures that every report carries, in the shape that other programs rely on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, TypeVar, cast

from postcheck.reported import (
    MOST_SEGMENTS,
    Figures,
    ReportedCircuit,
    ReportedClosing,
    ReportedLamp,
    ReportedPassage,
    ReportedPlace,
    ReportedStrip,
    ReportedSupply,
)

if TYPE_CHECKING:
    from postcheck.survey import Survey
    from postcheck.survey.closing.figures import Closing
    from postcheck.survey.heat.figures import BatteryFigures, PlaceFigures
    from postcheck.survey.network.figures import CircuitFigures, LampFigures, StripFigures, SupplyFigures
    from postcheck.survey.post.figures import PassageFigures


def reported_figures(survey: Survey) -> Figures:
    """What each part does, by section and name; SI numbers. A battery's load comes with the time it lasts, s.

    A passage that turns has the cycles wanted, the life of its weakest wire as a band, the turn each way (rad) with which
    every wire would live, and the slack (m) that its outermost wire needs.

    A lamp has `corners`: "tried" where its lowest and highest current are the worst of the corners tried (loops, loads,
    converters, constant currents); elsewhere, on a tree of wires with lamps alone, they are proven to be the extremes.
    """
    electrics, batteries = survey.electrics, survey.batteries
    solved = bool(electrics.supplies) or not electrics.failed
    partial = _partial(survey)
    figures: Figures = {
        "lamps": {name: _lamp(survey, lamp) for name, lamp in electrics.lamps.items()},
        "supplies": {
            name: _supply(
                supply,
                batteries.get(name),
                electrics.drawn.get(name),
                whole=("supply", name) not in partial,
            )
            for name, supply in electrics.supplies.items()
        },
        "runs": {
            name: {"current": run.current, "drop": run.drop, "highest": run.highest, "source": run.source}
            for name, run in electrics.runs.items()
        },
        "passages": {name: _passage(passage) for name, passage in survey.passages.items()},
        "places": {
            name: _place(place, solved and ("place", name) not in partial)
            for name, place in survey.places.items()
        },
        "strips": {name: _strip(strip) for name, strip in electrics.strips.items()},
        "loads": {
            name: {"volts": load.volts, "lowest": load.lowest_volts, "starting": load.start_volts}
            for name, load in electrics.loads.items()
        },
        "circuits": {
            name: _circuit(circuit)
            for name, circuit in electrics.circuits.items()
            if ("circuit", name) not in partial
        },
        "boards": {
            name: {"nominal": nominal, "highest": highest, "rated": survey.build.board[name].total}
            for name, (nominal, highest) in electrics.boards.items()
            if ("board", name) not in partial
        },
        "strings": {
            f"{name} {number}": {"nominal": amps}
            for name, lamp in electrics.lamps.items()
            if len(lamp.strings) > 1
            for number, amps in enumerate(lamp.strings, 1)
        },
        "segments": {
            f"{name} {number}": {"volts": volts, "current": amps}
            for name, strip in electrics.strips.items()
            for number, (volts, amps) in _segments_reported(strip)
        },
        "pins": {
            f"{name} {number}": {
                "nominal": nominal,
                "highest": highest,
                "drop": abs(nominal) * survey.wiring.contact(name),
            }
            for name, plug in electrics.plugs.items()
            for number, (nominal, highest) in enumerate(zip(plug.nominal, plug.highest, strict=True), 1)
        },
        "margins": {},  # judging does
    }
    if survey.closing:
        figures["closing"] = {name: _closing(closing) for name, closing in survey.closing.items()}
    return _with_fates(survey, figures)


_Row = TypeVar("_Row")
# What a row keeps where its figures have no meaning: what the file says, and what is no figure.
_KEPT = frozenset({"rated", "source"})


def _with_fates(survey: Survey, figures: Figures) -> Figures:
    """The figures, null where they depend on a destroyed lamp or on joined poles, with that as the `fate` of their row."""
    beyond = survey.beyond
    if not beyond.fates:
        return figures
    electrics, plugs = survey.electrics, survey.build.plug
    pins = {f"{plug.name} {n}": line for plug in plugs for n, line in enumerate(plug.pins, 1)}
    of_strings = {
        f"{name} {n}": name for name, lamp in electrics.lamps.items() for n in range(1, len(lamp.strings) + 1)
    }
    of_segments = {
        f"{name} {n}": name
        for name, strip in electrics.strips.items()
        for n in range(1, len(strip.segments) + 1)
    }

    def fated(rows: Mapping[str, _Row], kind: str, names: Mapping[str, str] | None = None) -> dict[str, _Row]:
        whys = {name: beyond.fates.get((kind, name if names is None else names[name])) for name in rows}
        return {name: row if whys[name] is None else _null(row, whys[name]) for name, row in rows.items()}

    heated = {name for name, place in survey.places.items() if name in beyond.places and place.heat > 0.0}
    places, lamps = dict(figures["places"]), fated(figures["lamps"], "lamp")
    for name in heated:
        places[name] = _null(places[name], "lamp destroyed")
    for name, lamp in electrics.lamps.items():
        if name in beyond.lamps:
            lamps[name]["fate"] = "destroyed"
        elif "fate" not in lamps[name] and not heated.isdisjoint(lamp.part.places):
            lamps[name] = {**lamps[name], "air": None, "fate": "lamp destroyed"}
    return {
        **figures,
        "lamps": lamps,
        "places": places,
        "supplies": fated(figures["supplies"], "supply"),
        "runs": fated(figures["runs"], "run"),
        "strips": fated(figures["strips"], "strip"),
        "loads": fated(figures["loads"], "load"),
        "circuits": fated(figures["circuits"], "circuit"),
        "boards": fated(figures["boards"], "board"),
        "strings": fated(figures["strings"], "lamp", of_strings),
        "segments": fated(figures["segments"], "strip", of_segments),
        "pins": fated(figures["pins"], "line", pins),
    }


def _null(row: _Row, fate: object) -> _Row:
    """A row of figures with all of them null."""
    figures = cast("Mapping[str, object]", row)
    kept = {name: figure if name in _KEPT else None for name, figure in figures.items() if name != "corners"}
    return cast("_Row", {**kept, "fate": fate})


def _lamp(survey: Survey, lamp: LampFigures) -> ReportedLamp:
    held = lamp.part.resistor is not None
    row: ReportedLamp = {
        "nominal": lamp.nominal,
        "lowest": lamp.lowest,
        "highest": lamp.highest,
        "alone": lamp.alone,
        "joints": lamp.joint_volts,
        "lead_drop": max(lamp.lead_drop, 0.0),
        "resistor": lamp.resistor_nominal if held else None,
        "resistor_highest": lamp.resistor_highest if held else None,
        "air": lamp.hottest,
    }
    if not survey.electrics.proven:
        row["corners"] = "tried"
    return row


def _partial(survey: Survey) -> set[tuple[str, str]]:
    """Kind and name of what will carry or hold more than is described yet."""
    build, found = survey.build, set[tuple[str, str]]()
    for part in survey.parts.apart:
        found |= {("circuit", part.circuit), *(("place", place) for place in (part.place, *part.places))}
        driver = survey.wiring.drivers[part.circuit]
        found.add(("board", driver.board or ""))
        source = driver.supply
        while source is not None:
            found.add(("supply", source))
            source = build.supply[source].fed_by
    return found


def _place(place: PlaceFigures, solved: bool) -> ReportedPlace:
    if not solved:  # without currents there is no heat to report
        return {"heat": None, "rise": None, "air": None}
    return {"heat": place.heat, "rise": place.rise, "air": place.hottest}


def _strip(strip: StripFigures) -> ReportedStrip:
    return {
        "nominal": strip.nominal,
        "highest": strip.highest,
        "through": strip.through,
        "first_volts": strip.first_volts,
        "last_volts": strip.last_volts,
        "first_current": strip.segment_current,
        "last_current": strip.last_current,
    }


def _segments_reported(strip: StripFigures) -> list[tuple[int, tuple[float, float]]]:
    """The segments of a strip that are reported, by their numbers: all of them, of a long one both ends."""
    numbered = list(enumerate(strip.segments, 1))
    return numbered if len(numbered) <= MOST_SEGMENTS else [numbered[0], numbered[-1]]


def _circuit(circuit: CircuitFigures) -> ReportedCircuit:
    row: ReportedCircuit = {"nominal": circuit.nominal, "highest": circuit.highest}
    if circuit.drop is not None:
        row["drop"] = circuit.drop
    if circuit.spare is not None:
        row["spare"] = circuit.spare
    return row


def _supply(
    supply: SupplyFigures,
    battery: BatteryFigures | None,
    drawn: tuple[float, float] | None,
    *,
    whole: bool,
) -> ReportedSupply:
    row: ReportedSupply = {
        "nominal": supply.nominal,
        "highest": supply.highest,
        "headroom": supply.headroom if whole else None,
        "rated": supply.rated,
    }
    if battery is not None:
        row["lasts"] = battery.seconds if whole else None
        dims, lasts = battery.dim_seconds, battery.seconds
        sooner = dims is not None and lasts is not None and dims < lasts
        row["dims"] = dims if whole and sooner else None
    if drawn is not None:
        row["input"], row["input_highest"] = drawn
    return row


def _passage(passage: PassageFigures) -> ReportedPassage:
    row: ReportedPassage = {
        "fill": passage.fill,
        "smallest_bore": passage.smallest_bore,
        "verdict": passage.verdict,
        "bore": passage.passage.bore,
    }
    if passage.turn_borne is not None:
        bands = [
            band
            for band, member in zip(passage.cycles_to_failure, passage.members, strict=True)
            if member.wire is not None
        ]
        row["cycles"] = passage.cycles
        row["life_least"], row["life_most"] = min(bands, default=(None, None))
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
