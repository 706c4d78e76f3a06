"""Adaptors that fit each other's socket: what the lamps get when the higher one is plugged into the lower one's."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.models import Build
from postcheck.description.sockets import Size, centre_of, sized, unlike
from postcheck.survey.network.dice import rated_at
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.figures import WrongAdaptorFault
from postcheck.survey.network.states import States
from postcheck.survey.network.supplies import typical_volts
from postcheck.wiring import Wiring

# Voltages nearer than this are the same for one socket.
SAME_VOLTS = 0.02


def wrong_adaptor_faults(wiring: Wiring, states: States, corner: Corner) -> tuple[WrongAdaptorFault, ...]:
    """Each adaptor with the one of most volts that fits its socket; the worst lamp of each, by its share of its rating."""
    return tuple(_fault(wiring, states, corner, lower, higher) for lower, higher in _pairs(wiring.build))


def _pairs(build: Build) -> Iterator[tuple[str, str]]:
    """Each adaptor with the one of most volts that fits its socket; one with the other pole at its centre does worse than that."""
    sockets = {name: supply.socket for name, supply in build.supply.items() if supply.socket is not None}
    plugs = {name: (sized(socket), centre_of(socket)) for name, socket in sockets.items()}
    volts = {name: typical_volts(build.supply[name]) for name in plugs}
    highest: dict[tuple[Size, str], str] = {}
    for name, plug in plugs.items():
        if plug not in highest or volts[name] > volts[highest[plug]]:
            highest[plug] = name
    for lower, (socket, pole) in plugs.items():
        fits = (
            name
            for (size, centre), name in highest.items()
            if size.goes_into(socket) and not unlike(centre, pole)
        )
        higher = max(fits, key=lambda name: volts[name])
        if volts[lower] and volts[lower] < volts[higher] * (1.0 - SAME_VOLTS):
            yield lower, higher


def _fault(wiring: Wiring, states: States, corner: Corner, lower: str, higher: str) -> WrongAdaptorFault:
    state = states.everything._replace(
        name=f"'{higher}' in place of '{lower}'", swapped=frozenset({(lower, higher)})
    )
    solved, why = states.tried_once(state, corner)
    none = WrongAdaptorFault(lower, higher, None, 0.0, 0.0, untried=why == "untried")
    if solved is None:
        return none
    found = []
    for lamp in wiring.parts.lamps:
        if lamp.backwards or wiring.drivers[lamp.circuit].supply != lower:
            continue
        amps = max(map(abs, solved.amps("lamp", lamp.name)))
        rated = min(rated_at(die, wiring.build.build.air[1]) for die in lamp.dice)
        if rated > 0.0:
            found.append(WrongAdaptorFault(lower, higher, lamp.name, amps, rated))
    return max(found, key=lambda fault: fault.current / fault.rated, default=none)
