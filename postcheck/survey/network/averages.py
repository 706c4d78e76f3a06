"""What flows, and what flows over time where circuits flash or are dimmed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from postcheck.description.models import Build, Circuit
from postcheck.limits import Limits
from postcheck.physics import pulse
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.supplies import converter_volts, efficiency_of, typical_volts
from postcheck.wiring import Wiring
from postcheck.wiring.parts import Parts

# A pulse up to this long (s) only counts by its average: film resistors stand 2.5 times their rating for 5 s
# (short-time overload test of IEC 60115-1, from memory).
SHORT = 1.0


def flashes(circuit: Circuit, limits: Limits) -> bool:
    """Whether its light comes and goes as flashes do: a fade only where it goes faster and deeper than is harmless."""
    slow = circuit.behaviour == "fade" and (
        circuit.rate is None or circuit.rate <= limits.value("flash.rate")
    )
    return not slow and comes_and_goes(circuit, limits)


def comes_and_goes(circuit: Circuit, limits: Limits) -> bool:
    """Whether its light changes as far as that of a flash, however fast: with other lights it may be too much."""
    fades = circuit.behaviour == "fade" and fade_depth(circuit) >= limits.value("fade.depth")
    return fades or circuit.behaviour == "flash"


def fade_depth(circuit: Circuit) -> float:
    """The share of its full current by which a circuit comes and goes: all of it, but for a fade that stops before."""
    return round(1.0 - (circuit.least_share or 0.0), 12) if circuit.behaviour == "fade" else 1.0


def duty_cycle(build: Build, circuit: str) -> float:
    """The share of the time that a circuit conducts; half where a flasher does not say.

    Of a fade that of its full current which flows on average: half way between its least and all, as every wave that goes
    up as it comes down has it. Dimmed by pulses it heats a resistor by that share too, smoothly by less.
    """
    said = build.circuit[circuit]
    if said.behaviour == "steady":
        return 1.0
    if said.behaviour == "fade":
        return 1.0 - fade_depth(said) / 2.0
    if said.on_share is not None:
        return said.on_share
    return 0.5 if said.behaviour == "flash" else 1.0


def on_time(build: Build, circuit: str) -> float | None:
    """How long a circuit that flashes, or is dimmed by pulses, is on at a stretch, s; None where the file does not say."""
    said = build.circuit[circuit]
    rate = said.rate if said.behaviour == "flash" else said.frequency if said.behaviour == "dim" else None
    return None if rate is None else pulse.on_time(duty_cycle(build, circuit), rate)


def fraction_in_resistor(build: Build, circuit: str) -> float:
    """The share of its peak heat that a resistor has to stand: the average, where no pulse is longer than a second."""
    said, fraction = build.circuit[circuit], duty_cycle(build, circuit)
    if said.behaviour == "dim":
        return fraction
    if said.behaviour in ("flash", "fade") and said.rate and pulse.on_time(fraction, said.rate) <= SHORT:
        return fraction
    return 1.0


def flows_of(parts: Parts, solved: Solved) -> dict[str, float]:
    """The current of each circuit while it conducts, A; of a circuit without consumers nothing is listed."""
    flowing: dict[str, float] = {}
    for part in parts.all:
        amps = sum(map(abs, solved.amps(part.kind, part.name)))
        flowing[part.circuit] = flowing.get(part.circuit, 0.0) + amps
    return flowing


def delivered(solved: Solved, supply: str) -> float:
    """The current that leaves a supply's positive pole, A; negative where something feeds it."""
    return sum(solved.amps("supply", supply)) + sum(solved.amps("converter", supply))


def average_load(wiring: Wiring, name: str, everything_on: float, circuits: Mapping[str, float]) -> float:
    """A supply's load in A averaged over time.

    `everything_on`: its load in A with everything on; `circuits`: each circuit's current in A while it conducts. What
    a flasher behind a converter leaves out reaches the converter's source as power: I = V_out I_out / (efficiency V_in).
    """
    left_out = (
        amps * (1.0 - duty_cycle(wiring.build, circuit)) for circuit, amps in _seen_by(wiring, name, circuits)
    )
    return max(everything_on - sum(left_out), 0.0)


def between_flashes(
    wiring: Wiring, name: str, everything_on: float, circuits: Mapping[str, float], enough: float
) -> tuple[float, float | None]:
    """A supply's load while every flasher is dark, A, and how long it stays below `enough` A, s.

    At most so long: until the first flasher comes on that lifts it to `enough` by itself. None where no flasher surely
    does. `everything_on`, `circuits`: as for the average.
    """
    build = wiring.build
    flashers = {
        circuit: amps
        for circuit, amps in _seen_by(wiring, name, circuits)
        if build.circuit[circuit].behaviour == "flash"
    }
    dark = max(everything_on - sum(flashers.values()), 0.0)
    gaps = (
        (1.0 - duty_cycle(build, circuit)) / rate
        for circuit, amps in flashers.items()
        if (rate := build.circuit[circuit].rate) and dark + amps >= enough
    )
    return dark, 0.0 if dark >= enough else min(gaps, default=None)


def beyond_typical(wiring: Wiring, name: str) -> float:
    """What motors and electronics behind a supply may take beyond their typical current, as it sees it, A."""
    beyond: dict[str, float] = {}
    for part in wiring.parts.all:
        beyond[part.circuit] = beyond.get(part.circuit, 0.0) + part.beyond
    return sum(amps for _, amps in _seen_by(wiring, name, beyond))


def _seen_by(wiring: Wiring, name: str, circuits: Mapping[str, float]) -> Iterator[tuple[str, float]]:
    """Each circuit behind a supply, and the current in A that it takes from it, through converters by its power."""
    build, own = wiring.build, typical_volts(wiring.build.supply[name])
    for circuit, driver in wiring.drivers.items():
        if driver.supply == name:
            yield circuit, circuits.get(circuit, 0.0)
    for fed, supply in build.supply.items():
        if supply.fed_by == name and fed in wiring.known_supplies:
            volts, efficiency = converter_volts(supply, 0)[0], efficiency_of(supply, build.supply[name])
            for circuit, amps in _seen_by(wiring, fed, circuits):
                yield circuit, amps * volts / (efficiency * own)
