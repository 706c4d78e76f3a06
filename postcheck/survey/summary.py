"""The figures that every report carries, in the shape that other programs rely on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

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
from postcheck.survey.beyond import beyond_figures
from postcheck.survey.network.dice import destroyed

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
    electrics = survey.electrics
    batteries = (
        survey.batteries if any(supply.kind == "battery" for supply in survey.build.supply.values()) else {}
    )
    solved = bool(electrics.supplies) or not electrics.failed
    partial, beyond = _partial(survey), beyond_figures(survey)
    figures: Figures = {
        "lamps": {name: _lamp(survey, lamp) for name, lamp in electrics.lamps.items()},
        "supplies": {
            name: _supply(
                supply,
                batteries.get(name),
                electrics.drawn.get(name),
                whole=("supply", name) not in partial,
                fate="lamp destroyed"
                if name in beyond.supplies
                else "poles joined"
                if name in electrics.shorted
                else None,
            )
            for name, supply in electrics.supplies.items()
        },
        "runs": {
            name: {"current": run.current, "drop": run.drop, "highest": run.highest, "source": run.source}
            for name, run in electrics.runs.items()
        },
        "passages": {name: _passage(passage) for name, passage in survey.passages.items()},
        "places": {
            name: _place(
                place,
                solved and ("place", name) not in partial,
                gone=name in beyond.places and place.heat > 0.0,
            )
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
            if len(lamp.strings) > 1 and not destroyed(lamp.part.dice, lamp.nominal, survey.limits)
            for number, amps in enumerate(lamp.strings, 1)
        },
        "segments": {
            f"{name} {number}": {"volts": volts, "current": amps}
            for name, strip in electrics.strips.items()
            for number, (volts, amps) in _told(strip)
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
        "margins": {},  # a judgement has them
    }
    if survey.closing:
        figures["closing"] = {name: _closing(closing) for name, closing in survey.closing.items()}
    return figures


def _lamp(survey: Survey, lamp: LampFigures) -> ReportedLamp:
    if destroyed(lamp.part.dice, lamp.nominal, survey.limits):
        row: ReportedLamp = {
            "nominal": None, "lowest": None, "highest": None, "alone": None, "joints": lamp.joint_volts,
            "lead_drop": None, "resistor": None, "resistor_highest": None, "air": lamp.hottest, "fate": "destroyed",
        }  # fmt: skip
        return row
    held = lamp.part.resistor is not None
    row = {
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
    """Kind and name of what is to carry or hold more than the network has of it."""
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


def _place(place: PlaceFigures, solved: bool, *, gone: bool) -> ReportedPlace:
    if gone:
        return {"heat": None, "rise": None, "air": None, "fate": "lamp destroyed"}
    if not solved:  # without currents there is no heat to tell
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


def _told(strip: StripFigures) -> list[tuple[int, tuple[float, float]]]:
    """The segments of a strip that are told, by their numbers: all of them, of a long one both ends."""
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
    fate: Literal["lamp destroyed", "poles joined"] | None,
) -> ReportedSupply:
    row: ReportedSupply = {
        "nominal": supply.nominal,
        "highest": supply.highest,
        "headroom": supply.headroom if whole and fate is None else None,
        "rated": supply.rated,
    }
    if battery is not None:
        row["lasts"] = battery.seconds if whole and fate is None else None
    if fate is not None:
        row["fate"] = fate
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
