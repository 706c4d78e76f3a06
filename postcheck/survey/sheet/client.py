"""The client's card: what to plug in, what is where, what not to do."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.cells import cells_in, is_coin, is_lead_acid, is_power_bank
from postcheck.description.models import Circuit, Supply
from postcheck.description.naming import passages_of
from postcheck.description.sockets import centre_of, is_barrel
from postcheck.sheet import ClientCard, ClientPassage, ClientPlace, ClientSupply
from postcheck.survey import Survey
from postcheck.survey.light import flashes_together, ultraviolet
from postcheck.survey.network.supplies import rated_current, typical_volts
from postcheck.wiring.parts import LampPart


def client_card(survey: Survey) -> ClientCard:
    """Everything of the build that its owner meets."""
    build = survey.build
    hottest = [place.hottest for place in survey.places.values() if place.hottest is not None]
    flashes = sum(flashes_together(build, survey.parts, survey.limits).values())
    slow, some = survey.limits.value("flash.rate"), survey.limits.value("dim.seizure.some")
    dimmed = [circuit.frequency for circuit in build.circuit.values() if circuit.behaviour in ("dim", "fade")]
    return ClientCard(
        supplies=tuple(
            _supply(survey, name, supply)
            for name, supply in build.supply.items()
            if supply.kind != "converter"
        ),
        passages=tuple(
            ClientPassage(name, passage.turn or None, passage.stop)
            for name, passage in passages_of(build).items()
        ),
        places=tuple(_places(survey)),
        air=build.build.air,
        flashes=any(circuit.behaviour == "flash" for circuit in build.circuit.values())
        or any(lamp.flashes is not None for lamp in survey.parts.lamps),
        fast=flashes if flashes > slow else None,
        flicker=min((rate for rate in dimmed if rate and slow <= rate < some), default=None),
        ultraviolet=bool(ultraviolet(survey.parts)),
        lit=any(part.kind != "load" for part in survey.parts.every),
        hottest=max(hottest, default=None),
        note=build.build.note or "",
    )


def _supply(survey: Survey, name: str, supply: Supply) -> ClientSupply:
    battery = survey.batteries.get(name)
    return ClientSupply(
        kind=supply.kind,
        volts=typical_volts(supply),
        rated=rated_current(supply) if supply.kind != "battery" else None,
        place=supply.place,
        socket=supply.socket or "",
        cells=cells_in(supply) if supply.kind == "battery" else 0,
        chemistry=supply.chemistry or "",
        size=supply.size or "",
        lithium=battery.lithium if battery is not None else is_power_bank(supply),
        lasts=battery.seconds if battery is not None else None,
        sealed=survey.build.place[supply.place].access == "sealed",
        coin=is_coin(supply),
        gas=is_lead_acid(supply),
        unpoled=is_barrel(supply.socket or "") and not centre_of(supply.socket),
    )


def _places(survey: Survey) -> Iterator[ClientPlace]:
    build = survey.build
    things: dict[str, list[tuple[str, str]]] = {}
    for part in survey.parts.every:
        for place in dict.fromkeys((part.place, *part.places)):
            by_itself = isinstance(part, LampPart) and part.flashes is not None
            does = "flashes by itself" if by_itself else _does(build.circuit[part.circuit])
            things.setdefault(place, []).append((part.name, does))
    for name, board in build.board.items():
        things.setdefault(board.place, []).append((name, "board"))
    for name, supply in build.supply.items():
        things.setdefault(supply.place, []).append((name, supply.kind))
    for name, said in build.place.items():
        if name in things:
            yield ClientPlace(name, said.access, tuple(things[name]))


def _does(circuit: Circuit) -> str:
    return {"steady": "steady", "flash": "flashes", "dim": "dimmed", "fade": "fades"}[circuit.behaviour]
