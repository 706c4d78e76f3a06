"""Adaptors that fit each other's socket: what the lamps get when the higher one is plugged into the lower one's."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

from postcheck.description.models import Build
from postcheck.survey.network.dice import rated_at
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.figures import WrongAdaptorFault
from postcheck.survey.network.states import States
from postcheck.survey.network.supplies import typical_volts
from postcheck.wiring import Wiring

# Voltages nearer than this are the same for one socket.
SAME_VOLTS = 0.02


def wrong_adaptor_faults(wiring: Wiring, states: States, corner: Corner) -> tuple[WrongAdaptorFault, ...]:
    """Every pair with one socket and unlike volts; the worst lamp of each, by its share of its rating."""
    return tuple(_fault(wiring, states, corner, lower, higher) for lower, higher in _pairs(wiring.build))


def _pairs(build: Build) -> Iterator[tuple[str, str]]:
    sockets = [name for name, supply in build.supply.items() if supply.socket is not None]
    for lower, higher in permutations(sockets, 2):
        low, high = (typical_volts(build.supply[name]) for name in (lower, higher))
        if build.supply[lower].socket == build.supply[higher].socket and 0.0 < low < high * (
            1.0 - SAME_VOLTS
        ):
            yield lower, higher


def _fault(wiring: Wiring, states: States, corner: Corner, lower: str, higher: str) -> WrongAdaptorFault:
    state = states.everything._replace(
        name=f"'{higher}' in place of '{lower}'", swapped=frozenset({(lower, higher)})
    )
    solved, _ = states.tried(state, corner)
    worst = WrongAdaptorFault(lower, higher, None, 0.0, 0.0)
    if solved is None:
        return worst
    for lamp in wiring.parts.lamps:
        if not lamp.dice or lamp.backwards or wiring.drivers[lamp.circuit].supply != lower:
            continue
        amps = max((abs(amps) for amps in solved.amps("lamp", lamp.name)), default=0.0)
        rated = min(rated_at(die, wiring.build.build.air[1]) for die in lamp.dice)
        if rated > 0.0 and (worst.lamp is None or amps / rated > worst.current / worst.rated):
            worst = WrongAdaptorFault(lower, higher, lamp.name, amps, rated)
    return worst
