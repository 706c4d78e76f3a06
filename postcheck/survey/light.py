"""What eyes see of a build: the flashes that add up, and light that they do not see."""

from __future__ import annotations

import re
from collections.abc import Container
from functools import lru_cache

from postcheck.description.models import Build
from postcheck.limits import Limits
from postcheck.physics.irradiance import irradiance
from postcheck.report import Subject
from postcheck.survey.network.averages import comes_and_goes
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.parts import Parts

_SHORT_WAVE = frozenset({"uvb", "uvc"})
_ULTRAVIOLET = frozenset({"uv", "uva", "ultraviolet", "blacklight"}) | _SHORT_WAVE
EYE = 0.2
"""How far off (m) IEC 62471 measures what is no general lighting."""


@lru_cache(1024)
def colour_words(*texts: str) -> frozenset[str]:
    """The words of colours and names, in small letters."""
    return frozenset(re.split("[^a-z]+", " ".join(texts).casefold()))


def ultraviolet(parts: Parts) -> tuple[Subject, ...]:
    """Lamps and strips of ultraviolet LEDs, by their colour or the name of their kind."""
    return _of_colours(parts, _ULTRAVIOLET)


def short_wave(parts: Parts, among: Container[str] | None = None) -> tuple[Subject, ...]:
    """The lamps below 315 nm, which burns eyes and skin; `among`: these names only."""
    return _of_colours(parts, _SHORT_WAVE, among)


def _of_colours(
    parts: Parts, wanted: frozenset[str], among: Container[str] | None = None
) -> tuple[Subject, ...]:
    named = [("lamp", lamp.name, lamp.said.kind, lamp.dice) for lamp in parts.lamps]
    named += [("strip", strip.name, strip.said.kind, strip.dice) for strip in parts.strips]
    return tuple(
        Subject(part, name)
        for part, name, kind, dice in named
        if (among is None or name in among) and colour_words(kind, *(die.colour for die in dice)) & wanted
    )


def beam_of(lamp: LampFigures, limits: Limits) -> float | None:
    """The beam (rad) that an ultraviolet lamp is taken to have; None of a chip, which has no lens."""
    return None if lamp.part.said.kind.startswith("smd-") else limits.value("light.ultraviolet.beam")


def ultraviolet_at_eye(lamp: LampFigures, limits: Limits) -> float:
    """Irradiance (W/m2) by all dice of an ultraviolet lamp at its nominal current, 200 mm off on its axis."""
    volts = sum(die.forward[1] for die in lamp.part.dice)
    watts = limits.value("light.ultraviolet.share") * lamp.nominal * volts * lamp.part.parallel
    return irradiance(watts, EYE, beam_of(lamp, limits))


def flashes_together(build: Build, parts: Parts, limits: Limits) -> dict[Subject, float]:
    """Everything that flashes independently (circuits, and lamps with a chip), with its flashes a second.

    Circuits in step with each other count once, by the fastest of them. A fade counts by its depth: WCAG 2.2 defines a flash
    by opposing changes of a tenth, whatever their shape. Chips in lamps never keep step, so each counts.
    """
    first = {name: name for name in build.circuit}
    for name, circuit in build.circuit.items():
        if circuit.in_step_with is not None:
            one, other = first[name], first[circuit.in_step_with]
            first = {member: one if of == other else of for member, of in first.items()}
    together: dict[str, float] = {}
    for name, circuit in build.circuit.items():
        if circuit.rate and comes_and_goes(circuit, limits):
            together[first[name]] = max(together.get(first[name], 0.0), circuit.rate)
    found = {Subject("circuit", name): rate for name, rate in together.items()}
    return found | {
        Subject("lamp", lamp.name): lamp.flashes * len(lamp.dice) * lamp.parallel
        for lamp in parts.lamps
        if lamp.flashes is not None
    }
