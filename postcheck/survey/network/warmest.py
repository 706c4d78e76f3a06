"""The warmest that the air of closed places gets, by all tolerances together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from postcheck.physics.network import Port, String, forward_voltage
from postcheck.survey.network.averages import on_share
from postcheck.survey.network.corners import CornerFinder
from postcheck.survey.network.elements import Corner, Rises, StringMaker
from postcheck.survey.network.heats import take
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.states import DOES_NOT_SETTLE, MOST_ROUNDS, Climb
from postcheck.wiring.parts import LampPart, StripPart

__all__ = ["warm_places"]


def warm_places(finder: CornerFinder) -> None:
    """Find by how much the air of each closed place rises at most, and give it to the states.

    Each string dissipates in each place the most that its own tolerances allow while all others take least, a conductor
    what all strings behind it take at their most; all other parts what they do with everything at its most. Each of them
    dissipates more in warmer air, so that where the rises so found give themselves, no combination warms a place more.
    """
    states = finder.states
    own = finder.most._replace(hottest=False)
    heavy = states.solved(states.everything, own) if states.closed else None
    if heavy is None:
        return
    climb = Climb(states.air(own))
    for _ in range(MOST_ROUNDS):
        states.hottest = dict(climb.rises)
        if climb.still(states.rises(_most(finder, heavy))):
            return
    states.failed.setdefault("everything at its most", DOES_NOT_SETTLE)


def _most(finder: CornerFinder, heavy: Solved) -> dict[str, float]:
    """W by place; `heavy` is the solution with everything at its most."""
    states = finder.states
    watts: dict[str, float] = {}

    def add(place: str, more: float) -> None:
        watts[place] = watts.get(place, 0.0) + more

    amps = list(heavy.solution.amps)
    for kind, parts in (("lamp", states.parts.lamps), ("strip", states.parts.strips)):
        for part in parts:
            if isinstance(part, LampPart) and part.one_resistor and part.parallel > 1:
                for place, _, more in states.heats(heavy).of_string(
                    part.name, heavy
                ):  # together they take what they do there
                    add(place, more)
                continue
            share = on_share(states.build, part.circuit)
            for position, most, by_place in _strings(finder, kind, part, heavy):
                amps[position] = max(amps[position], most)
                for place, more in by_place.items():
                    add(place, more * share)
    taken: dict[int, float] = {}
    consumers = [
        k
        for k, slot in enumerate(heavy.wiring.slots)
        if slot.kind in ("lamp", "strip", "load", "board", "converter")
    ]
    take(taken, heavy, amps, consumers)
    paths = states.paths(states.everything, heavy)
    for positions, passing in paths.flows(taken):
        for position in positions:
            amps[position] = max(abs(amps[position]), abs(passing) / len(positions))
    worst = heavy.corner._replace(copper=finder.air.high, most=True)
    for place, _, more in states.heats(heavy).of_others(heavy, paths, amps, worst):
        add(place, more)
    return watts


def _strings(
    finder: CornerFinder, kind: str, part: LampPart | StripPart, heavy: Solved
) -> Iterator[tuple[int, float, Mapping[str, float]]]:
    """Of each string its place in `heavy`, its most current in A, and the most W in each place."""
    states = finder.states
    state = states.highest_state(part.circuit)
    base = states.solved(state, finder.high.others)
    if base is None:
        return
    for position, there in zip(base.of(kind, part.name), heavy.of(kind, part.name), strict=True):
        port, maker = finder.seen(state, finder.high, base, position), base.maker(position)
        most: dict[str, float] = {}
        highest = 0.0
        for corner in _corners(maker, finder.most):
            amps = finder.through(port, maker, corner)
            if amps is None or amps <= 0.0:
                continue
            highest = max(highest, amps)
            for place, watts in _dissipated(port, maker, corner, states.air(corner), amps):
                most[place] = max(most.get(place, 0.0), watts)
        yield there, highest, most


def _corners(maker: StringMaker, most: Corner) -> Iterator[Corner]:
    """The corners of a string, one of which makes it dissipate most in any one place.

    All of it together dissipates most at the most current. Dice alone may do so with the most forward voltage, and a
    resistor alone with the most ohms.
    """
    yield most
    if maker.resistor is not None and {maker.resistor.place} != set(maker.places):
        yield most._replace(dice=-1)
        yield most._replace(resistors=-1)


def _dissipated(
    port: Port, maker: StringMaker, corner: Corner, rises: Rises, amps: float
) -> Iterator[tuple[str, float]]:
    """Place and W of a string at a current in A, what one place gets of it together."""
    element, found = maker(corner, rises), dict.fromkeys(maker.places, 0.0)
    resistor = maker.resistor_ohms(corner)
    if isinstance(element, String):
        for place, diode in zip(maker.places, element.diodes, strict=True):
            found[place] += amps * forward_voltage(diode, amps, element.most)
    else:
        volts = port.open_volts - amps * (port.ohms + resistor + maker.wire_ohms(corner))
        for place in maker.places:
            found[place] += amps * volts / len(maker.places)
    if maker.resistor is not None:
        place = maker.resistor.place
        found[place] = found.get(place, 0.0) + amps * amps * resistor
    yield from found.items()
