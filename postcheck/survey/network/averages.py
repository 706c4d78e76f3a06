"""What flows and is given off over time, where circuits flash or are dimmed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from postcheck.description.models import Build
from postcheck.physics import pulse
from postcheck.physics.network import String
from postcheck.survey.network.states import Solved
from postcheck.survey.network.supplies import converter_volts, typical_volts
from postcheck.wiring import Wiring
from postcheck.wiring.parts import LampPart

__all__ = ["Heat", "average_load", "heats", "on_share", "share_in_resistor"]

# place, part, watts averaged over time
Heat = tuple[str, str, float]
# A pulse up to this long (s) only counts by its average: film resistors stand 2.5 times their rating for 5 s
# (short-time overload test of IEC 60115-1, from memory).
SHORT = 1.0


def on_share(build: Build, circuit: str) -> float:
    """The share of the time that a circuit conducts; half where a flasher does not say."""
    said = build.circuit[circuit]
    if said.behaviour == "steady":
        return 1.0
    if said.on_share is not None:
        return said.on_share
    return 0.5 if said.behaviour == "flash" else 1.0


def share_in_resistor(build: Build, circuit: str) -> float:
    """The share of its peak heat that a resistor has to stand: the average, where no pulse is longer than a second."""
    said, share = build.circuit[circuit], on_share(build, circuit)
    if said.behaviour == "dim":
        return share
    if said.behaviour == "flash" and said.rate and pulse.on_time(share, said.rate) <= SHORT:
        return share
    return 1.0


def average_load(wiring: Wiring, name: str, everything_on: float, circuits: Mapping[str, float]) -> float:
    """A supply's load in A averaged over time.

    `everything_on`: its load in A with everything on; `circuits`: each circuit's current in A while it conducts. What
    a flasher behind a converter leaves out reaches the converter's source as power: I = V_out I_out / (efficiency V_in).
    """
    return max(everything_on - _left_out(wiring, name, circuits), 0.0)


def _left_out(wiring: Wiring, name: str, circuits: Mapping[str, float]) -> float:
    build = wiring.build
    amps = sum(
        circuits.get(other, 0.0) * (1.0 - on_share(build, other))
        for other, driver in wiring.drivers.items()
        if driver.supply == name
    )
    own = typical_volts(build.supply[name])
    for fed, supply in build.supply.items():
        if supply.kind == "converter" and supply.fed_by == name and own > 0.0:
            volts, efficiency, _ = converter_volts(supply, 0)
            amps += _left_out(wiring, fed, circuits) * volts / (efficiency * own)
    return amps


def heats(wiring: Wiring, solved: Solved, averages: Mapping[str, float]) -> Iterator[Heat]:
    """All parts that turn current into heat, from the solution with everything on.

    `averages`: load of each converter in A, averaged over time. Wires are left out: what they give off is spread along
    their way. Light is counted as heat: nearly all of it stays in a closed body.
    """
    build, parts = wiring.build, wiring.parts
    for lamp in parts.lamps:
        yield from _lamp(lamp, solved, on_share(build, lamp.circuit))
    for strip in parts.strips:
        watts = sum(_watts(solved, position) for position in solved.of("strip", strip.name))
        yield strip.place, strip.name, watts * on_share(build, strip.circuit)
    for load in parts.loads:
        watts = sum(_watts(solved, position) for position in solved.of("load", load.name))
        yield load.place, load.name, watts * on_share(build, load.circuit)
    for name, driver in wiring.drivers.items():
        watts = sum(_watts(solved, position) for position in solved.of("output", name))
        if driver.place is not None:
            yield driver.place, driver.board or f"the output of {name}", watts * on_share(build, name)
    for name, board in build.board.items():
        yield board.place, name, sum(_watts(solved, position) for position in solved.of("board", name))
    for name, supply in build.supply.items():
        if supply.kind == "converter" and supply.fed_by is not None:
            volts, efficiency, _ = converter_volts(supply, 0)
            idle = (supply.idle or 0.0) * typical_volts(build.supply[supply.fed_by])
            yield supply.place, name, averages.get(name, 0.0) * volts * (1.0 / efficiency - 1.0) + idle


def _lamp(lamp: LampPart, solved: Solved, share: float) -> Iterator[Heat]:
    positions = solved.of("lamp", lamp.name)
    total = sum(_in_dice(solved, position) for position in positions)
    if lamp.resistor is not None:
        behind = solved.amps("resistor", lamp.name)  # one for all strings, an element of its own
        through = behind or solved.amps("lamp", lamp.name)
        in_resistor = sum(amps * amps for amps in through) * lamp.resistor.ohms
        if not behind and lamp.dice and lamp.dice[0].filament_volts:
            total -= in_resistor
        yield lamp.resistor.place, f"the resistor of {lamp.name}", in_resistor * share
    for place in lamp.places:
        yield place, lamp.name, total * share / len(lamp.places)


def _watts(solved: Solved, position: int) -> float:
    return abs(solved.solution.amps[position] * solved.across(position))


def _in_dice(solved: Solved, position: int) -> float:
    """What a string gives off without the resistor and leads that it holds."""
    amps, element = solved.solution.amps[position], solved.elements[position]
    within = amps * amps * element.ohms if isinstance(element, String) else 0.0
    return _watts(solved, position) - within
