"""The warmest that the air of closed places gets, by all tolerances together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf
from typing import NamedTuple

from postcheck.physics.network import Port, String, forward_voltage, respond
from postcheck.survey.network.averages import duty_cycle
from postcheck.survey.network.corners import CornerFinder
from postcheck.survey.network.elements import Corner, Rises, StringMaker
from postcheck.survey.network.heats import take
from postcheck.survey.network.paths import TAKERS
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.states import DOES_NOT_SETTLE, MOST_ROUNDS, Climb

# K, how closely the warmest air is solved; it is added, which raises a current by less than a millionth.
WITHIN = 1e-4


def warm_places(finder: CornerFinder) -> None:
    """Find by how much the air of each closed place rises at most, and give it to the states.

    Each string dissipates in each place the most that its own tolerances allow while all others take least, a conductor
    what all strings behind it take at their most; all other parts what they do with everything at its most. Where the
    rises so found give themselves no combination warms a place more: for that it would need more heat than all its parts
    have at that warmth.
    """
    states = finder.states
    if not states.closed:
        return
    climb = Climb(states.air(finder.nominal), states.slopes)
    heavy = states.at(states.everything, finder.most, climb.rises)
    if heavy is None:
        return
    strings = tuple(_strings(finder, heavy))
    for _ in range(MOST_ROUNDS):
        if climb.still(states.rises(_most(finder, heavy, strings, climb.rises)), WITHIN):
            states.hottest = {name: rise + 2.0 * WITHIN for name, rise in climb.rises.items()}
            return
    states.failed.setdefault("everything at its most", DOES_NOT_SETTLE)


class _Connected(NamedTuple):
    """A string: its place in the network, what it sees of all else while that takes least, the share of the time it is lit."""

    position: int
    port: Port
    maker: StringMaker
    share: float


def _strings(finder: CornerFinder, heavy: Solved) -> Iterator[_Connected]:
    """All but those behind one resistor, which together take what they do with everything at its most."""
    states = finder.states
    for part in states.parts.all:
        if not part.dice:
            continue
        state, share = states.highest_state(part.circuit), duty_cycle(states.build, part.circuit)
        base = states.solved(state, finder.high.others)
        if base is None or part.shared_resistor:
            continue
        for position, there in zip(
            base.of(part.kind, part.name), heavy.of(part.kind, part.name), strict=True
        ):
            port = finder.seen(state, finder.high, base, position)
            yield _Connected(there, port, base.maker(position), share)


def _most(
    finder: CornerFinder, heavy: Solved, strings: tuple[_Connected, ...], rises: Rises
) -> Mapping[str, float]:
    """W by place, with their air at these rises (K); `heavy` is the solution with everything at its most."""
    states = finder.states
    watts: dict[str, float] = dict.fromkeys(states.closed, 0.0)
    amps = list(heavy.solution.amps)
    known: dict[int, tuple[float, dict[str, float]]] = {}
    for connected in strings:
        alike = heavy.netlist.firsts[connected.position]
        if alike not in known:
            known[alike] = _at_most(finder, connected, watts, rises)
        through, most = known[alike]
        amps[connected.position] = max(amps[connected.position], through)
        for place, more in most.items():
            if place in watts:
                watts[place] += more * connected.share
    for lamp in states.parts.lamps:
        if lamp.shared_resistor:
            for place, _, more in states.heats(heavy).of_string(lamp.name, heavy):
                if place in watts:
                    watts[place] += more
    _load_conductors(finder, heavy, amps)
    paths = states.paths(states.everything, heavy)
    worst = heavy.corner._replace(copper=finder.air.high, most=True)
    for place, _, more in states.heats(heavy).of_others(heavy, paths, amps, worst):
        if place in watts:
            watts[place] += more
    return watts


def _at_most(
    finder: CornerFinder, connected: _Connected, closed: Mapping[str, float], rises: Rises
) -> tuple[float, dict[str, float]]:
    """The most that a string takes, A, and the most that it dissipates in each place, W."""
    most: dict[str, float] = {}
    highest = -inf
    for corner in _corners(connected.maker, finder.most, closed):
        element = connected.maker(corner, rises)
        through = respond(connected.port, element)[0]
        highest = max(highest, through)
        if through > 0.0:
            for place, more in _dissipated(connected, element, corner, through):
                most[place] = max(most.get(place, 0.0), more)
    return highest, most


def _load_conductors(finder: CornerFinder, heavy: Solved, amps: list[float]) -> None:
    """Give every conductor what all consumers behind it take."""
    slots = heavy.netlist.slots
    consumers = [k for k, slot in enumerate(slots) if slot.kind in TAKERS or slot.kind == "converter"]
    taken: dict[int, float] = {}
    take(taken, heavy, amps, consumers)
    for positions, passing in finder.states.paths(finder.states.everything, heavy).flows(taken):
        for position in positions:
            amps[position] = max(abs(amps[position]), abs(passing) / len(positions))


def _corners(maker: StringMaker, most: Corner, closed: Mapping[str, float]) -> Iterator[Corner]:
    """The corners of a string, one of which makes it dissipate most in any one of some places.

    All of it together dissipates most at the most current. Dice alone may do so with the most forward voltage, and a
    resistor alone with the most ohms.
    """
    yield most
    resistor, places = maker.resistor, set(maker.places)
    if resistor is not None and {resistor.place} != places:
        if places & closed.keys():
            yield most._replace(dice=-1)
        if resistor.place in closed:
            yield most._replace(resistors=-1)


def _dissipated(
    connected: _Connected, element: object, corner: Corner, amps: float
) -> Iterator[tuple[str, float]]:
    """Place and W of a string at a current in A, one row for each place."""
    maker = connected.maker
    found, resistor = dict.fromkeys(maker.places, 0.0), maker.resistor_ohms(corner)
    if isinstance(element, String):
        for place, diode in zip(maker.places, element.diodes, strict=True):
            found[place] += amps * forward_voltage(diode, amps, element.most)
    else:
        volts = connected.port.open_volts - amps * (connected.port.ohms + resistor + maker.wire_ohms(corner))
        for place in maker.places:
            found[place] += amps * volts / len(maker.places)
    if maker.resistor is not None:
        place = maker.resistor.place
        found[place] = found.get(place, 0.0) + amps * amps * resistor
    yield from found.items()
