"""Strings that warm themselves: the current at which a die's heat and its falling forward voltage agree.

A die at I (A) is warmer than the air round it by d = K I V, K in K/W; its forward voltage is V = V0(I) + c d, c in V/K,
V0 that of a die as cool as its air. Solved for V: V = V0(I) / (1 + r I) with r = -c K (1/A), so that the law of a warmed
die is as explicit as that of a cold one. It may bend down: where the whole loop falls with rising current nothing holds
the die, and it runs away. Beyond `most` no further heat is counted, for there the die does not live (and a current is
always found).

In a network each string is replaced by a tangent: an ordinary string with the voltage and the slope of the warmed one at
the last current. That is Newton's method on heat and currents together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import inf, log1p
from typing import NamedTuple

from postcheck.physics.network.elements import Diode, Element, String
from postcheck.physics.network.network import Network
from postcheck.physics.network.ports import Port, Replacement, respond
from postcheck.physics.network.solution import Solution

__all__ = ["Warming", "respond_warm", "settle", "warmed", "warmed_string"]

# Share of a string's voltage to which the laws of heat and network have to agree: a string of which the resistor has a
# hundredth of the volts is then still known to 1e-9 of its current.
_AGREE = 1e-11
_TANGENTS = 12
_PLAIN = 200
_STILL = 1e-13


class Warming(NamedTuple):
    """How the dice of a string warm themselves, in their order.

    `per_amp`: 1/A, minus the temperature coefficient (V/K) times the K/W from junction to air. `most`: A, above which
    no further heat is counted.
    """

    per_amp: tuple[float, ...]
    most: float = inf


def _die(diode: Diode, per_amp: float, amps: float, most: float) -> tuple[float, float, float]:
    """(V, dV/dI, V less that of the die without its own heat)."""
    cold = diode.slope * log1p(amps / diode.saturation) + amps * diode.ohm + diode.shift
    rise = diode.slope / (diode.saturation + amps) + diode.ohm
    if amps > most:
        _, _, shift = _die(diode, per_amp, most, most)
        return cold + shift, rise, shift
    if amps <= 0.0 or cold <= 0.0:
        return cold, rise, 0.0
    share = 1.0 + per_amp * amps
    warm = cold / share
    return warm, (rise - per_amp * warm) / share, warm - cold


def warmed(string: String, warming: Warming, amps: float) -> tuple[float, float, tuple[float, ...]]:
    """(V, dV/dI, shift of each die's forward voltage by its own heat, V) of a string that has settled at a current in A."""
    volts, slope = amps * string.ohms, string.ohms
    shifts = []
    for diode, per_amp in zip(string.diodes, warming.per_amp, strict=True):
        own, rise, shift = _die(diode, per_amp, amps, warming.most)
        volts += own
        slope += rise
        shifts.append(shift)
    return volts, slope, tuple(shifts)


def warmed_string(string: String, warming: Warming, amps: float) -> String:
    """The string with its dice as warm as a current in A makes them, and no warmer if it changes."""
    if amps <= 0.0:
        return string
    _, _, shifts = warmed(string, warming, amps)
    return replace(
        string,
        diodes=tuple(
            replace(diode, shift=diode.shift + shift)
            for diode, shift in zip(string.diodes, shifts, strict=True)
        ),
    )


class _Tangent(NamedTuple):
    """An ordinary string that has the volts and the slope of the warmed one at `amps`.

    There its heat shifts its voltage by `shift` (V), and by `slope` (ohm) more for each ampere more. Its resistance is not
    let fall below zero: close to running away the slope is then only met in part.
    """

    string: String
    amps: float = 0.0
    shift: float = 0.0
    slope: float = 0.0

    @classmethod
    def of(cls, string: String, warming: Warming, amps: float, plain: bool) -> _Tangent:
        """`plain`: of the volts alone."""
        if amps <= 0.0:
            return cls(string)
        _, rise, shifts = warmed(string, warming, amps)
        own = sum(diode.ohm for diode in string.diodes)
        slope, shift = 0.0, sum(shifts)
        if not plain:
            cold = string.ohms + own + sum(diode.slope / (diode.saturation + amps) for diode in string.diodes)
            slope = max(rise - cold, -(string.ohms + own))
        ohms, diodes = string.ohms + slope, string.diodes
        if ohms < 0.0:
            diodes = tuple(replace(diode, ohm=max(diode.ohm * (1.0 + ohms / own), 0.0)) for diode in diodes)
            ohms = 0.0
        first = replace(diodes[0], shift=diodes[0].shift + shift - slope * amps)
        return cls(String(string.a, string.b, ohms, (first, *diodes[1:])), amps, shift, slope)

    def agrees(self, string: String, warming: Warming, amps: float) -> bool:
        """Whether heat and current belong together at the current that was found."""
        if amps <= 0.0:
            return self.amps <= 0.0
        volts, _, shifts = warmed(string, warming, amps)
        off = sum(shifts) - self.shift - self.slope * (amps - self.amps)
        return abs(off) <= _AGREE * abs(volts)


def respond_warm(port: Port, element: Replacement, warming: Warming | None) -> float | None:
    """A through an element in the place of a port's own, a string once it has warmed itself; None where it never settles.

    Of several currents the first that is met on the way from cold. As `respond`, it takes the rest as linear.
    """
    amps, _ = respond(port, element)
    if warming is None or amps <= 0.0 or not isinstance(element, String):
        return amps
    for _ in range(_PLAIN):
        volts, slope, _ = warmed(element, warming, amps)
        rise = slope + port.ohms
        if rise <= 0.0:
            break
        step = (volts + port.ohms * amps - port.open_volts) / rise
        amps -= step
        if abs(step) <= _STILL * amps:
            return amps
        if amps <= 0.0:
            break
    return _by_turns(port, element, warming)


def _by_turns(port: Port, string: String, warming: Warming) -> float | None:
    """From cold, current and heat by turns: the current only ever rises, to the first one that holds."""
    amps, _ = respond(port, string)
    for _ in range(100 * _PLAIN):
        before = amps
        amps, _ = respond(port, warmed_string(string, warming, before))
        if abs(amps - before) <= _STILL * abs(amps):
            return amps
    return None


def settle(
    network: Network,
    elements: Sequence[Element],
    warmings: Mapping[int, Warming],
    start: Solution | None = None,
) -> Solution | None:
    """Solve a network whose strings `warmings` (by element) warm themselves; None where they do not settle.

    The solution belongs to elements that answer a small change as the warmed ones do: what `ports` and `influence` see.
    Not `converged`: the network itself has none. `start`: a solution with as many elements to begin from.
    """
    known = start.amps if start is not None and len(start.amps) == len(elements) else None
    strings = {k: element for k in warmings if isinstance(element := elements[k], String)}
    for turn in range(_TANGENTS + _PLAIN):
        tangents = {
            k: _Tangent.of(string, warmings[k], 0.0 if known is None else known[k], turn >= _TANGENTS)
            for k, string in strings.items()
        }
        trial = list(elements)
        for k, tangent in tangents.items():
            trial[k] = tangent.string
        solution = network.solve(trial, start)
        if not solution.converged:
            return solution
        known, start = solution.amps, solution
        if all(tangents[k].agrees(string, warmings[k], known[k]) for k, string in strings.items()):
            return solution
    return None
