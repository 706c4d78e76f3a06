"""Lamps that get their current in pulses: how long these are, and whether a pulse rating counts."""

from __future__ import annotations

from postcheck.description.models import Build
from postcheck.physics import pulse
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.data import DieData


def pulse_terms(lamp: LampFigures) -> tuple[DieData, float, float]:
    """The die with the least rating, with the longest pulse (s) and the largest share for its pulse rating."""
    die = min(lamp.part.dice, key=lambda die: die.rated)
    return die, die.pulse_width or pulse.PULSE_WIDTH, die.pulse_share or pulse.PULSE_DUTY


def pulse_of(build: Build, lamp: LampFigures) -> tuple[float | None, float | None, float, bool]:
    """Length of a pulse in s and share (None: not said), the current it may have, whether the pulse rating counts."""
    circuit = build.circuit[lamp.part.circuit]
    rate = circuit.rate if circuit.behaviour == "flash" else circuit.frequency
    if circuit.behaviour in ("steady", "fade") or not rate or circuit.on_share is None:
        return None, None, lamp.rated, False
    width = pulse.on_time(circuit.on_share, rate)
    die, longest, most = pulse_terms(lamp)
    counts = die.pulse is not None and pulse.applies_pulse_rating(width, circuit.on_share, longest, most)
    limit = pulse.pulse_limit(lamp.rated, die.pulse, width, circuit.on_share, longest, most)
    return width, circuit.on_share, limit, counts
