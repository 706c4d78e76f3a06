"""Strings side by side on one constant-current output, or behind one resistor: what the others get when one of them fails."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.models import Build
from postcheck.survey.network.dice import rated_at
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.figures import ParallelStringFault, UnevenStrings
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.states import States
from postcheck.wiring import Wiring
from postcheck.wiring.parts import LampPart

# With less than this share of its part of an output a string is not one that shares it.
_LIT = 0.5


def parallel_string_faults(wiring: Wiring, states: States, corner: Corner) -> tuple[ParallelStringFault, ...]:
    """For each such output the worst that one string open, and one die short, does to the strings that are left.

    Equal strings fail alike, so one of each sort is tried. Behind a resistor a short takes current from the others.
    """
    found = [fault for circuit in wiring.drivers for fault in _on(circuit, wiring, states, corner)]
    for lamp in wiring.parts.lamps:
        if lamp.shared_resistor and not lamp.backwards:
            fault = _worst_of(lamp.circuit, "open", lamp, [lamp], wiring.build, states, corner)
            found += [] if fault is None or wiring.drivers[lamp.circuit].steady is not None else [fault]
    return tuple(found)


def uneven_strings(
    wiring: Wiring, states: States, typical: Solved, corner: Corner
) -> dict[str, UnevenStrings]:
    """For each constant-current output with several strings, not all of them matched: how unevenly they may share it."""
    found = {}
    for circuit, driver in wiring.drivers.items():
        lamps = [lamp for lamp in wiring.parts.lamps if lamp.circuit == circuit and not lamp.backwards]
        strings = sum(lamp.parallel for lamp in lamps)
        if driver.steady is None or strings < 2 or all(lamp.matched for lamp in lamps):
            continue
        sorts = {(lamp.dice, lamp.resistor): lamp for lamp in reversed(lamps)}
        shared = [
            one
            for lamp in sorts.values()
            if (one := _shared(lamp, lamps, states, typical, corner)) is not None
            # one of other dice that has little is dark in any case, and told as that
            and (one.nominal >= _LIT * driver.steady / strings or len({other.dice for other in lamps}) == 1)
        ]
        if shared:
            found[circuit] = max(shared, key=lambda one: one.greatest / one.nominal)._replace(strings=strings)
    return found


def _shared(
    lamp: LampPart, lamps: list[LampPart], states: States, typical: Solved, corner: Corner
) -> UnevenStrings | None:
    """With the first string of a lamp at its least forward voltage; None where it gets nothing."""
    positions = [position for one in lamps for position in typical.of("lamp", one.name)]
    first = typical.of("lamp", lamp.name)[0]
    nominal = abs(typical.solution.amps[first])
    element = typical.maker(first)(corner._replace(dice=1), states.air(corner))
    elements = (*typical.elements[:first], element, *typical.elements[first + 1 :])
    solution = typical.network.solve(elements, typical.solution)
    if not solution.converged or nominal <= 0.0:
        return None
    others = [abs(solution.amps[position]) for position in positions if position != first]
    return UnevenStrings(lamp.name, 0, abs(solution.amps[first]), min(others), nominal)


def _on(circuit: str, wiring: Wiring, states: States, corner: Corner) -> Iterator[ParallelStringFault]:
    lamps = [lamp for lamp in wiring.parts.lamps if lamp.circuit == circuit and not lamp.backwards]
    if wiring.drivers[circuit].steady is None or sum(lamp.parallel for lamp in lamps) < 2:
        return
    sorts = {
        (lamp.dice, lamp.resistor, lamp.parallel, lamp.supply_leg.to, lamp.return_leg.to): lamp
        for lamp in lamps
    }
    for how in ("open", "short"):
        found = [
            fault
            for lamp in sorts.values()
            if (fault := _worst_of(circuit, how, lamp, lamps, wiring.build, states, corner)) is not None
        ]
        if found:
            yield max(found, key=lambda fault: fault.current / fault.rated)


def _worst_of(
    circuit: str,
    how: str,
    failing: LampPart,
    lamps: list[LampPart],
    build: Build,
    states: States,
    corner: Corner,
) -> ParallelStringFault | None:
    string = frozenset({(failing.name, 0)})
    state = states.everything._replace(
        name=f"'{failing.name}' {how}",
        open_strings=string if how == "open" else frozenset(),
        short_strings=string if how == "short" else frozenset(),
    )
    solved, _ = states.tried(state, corner)
    if solved is None:
        return None
    hottest = build.build.air[1]
    found = []
    for lamp in lamps:
        strings = solved.amps("lamp", lamp.name)
        if lamp is failing and how == "short":
            strings = strings[1:]  # nothing more is asked of the string itself
        rated = min(rated_at(die, hottest) for die in lamp.dice)
        if strings and rated > 0.0:
            amps = max(map(abs, strings))
            found.append(ParallelStringFault(circuit, how, failing.name, lamp.name, amps, rated))
    return max(found, key=lambda fault: fault.current / fault.rated, default=None)
