"""What eyes see of a build: the flashes that add up, and light that they do not see."""

from __future__ import annotations

import re

from postcheck.description.models import Build
from postcheck.report import Subject
from postcheck.wiring.parts import Parts

_ULTRAVIOLET = frozenset({"uv", "uva", "uvb", "uvc", "ultraviolet", "blacklight"})


def colour_words(*texts: str) -> set[str]:
    """The words of colours and names, in small letters."""
    return set(re.split("[^a-z]+", " ".join(texts).casefold()))


def ultraviolet(parts: Parts) -> tuple[Subject, ...]:
    """Lamps and strips of ultraviolet LEDs, by their colour or the name of their kind."""
    named = [("lamp", lamp.name, lamp.said.kind, lamp.dice) for lamp in parts.lamps]
    named += [("strip", strip.name, strip.said.kind, strip.dice) for strip in parts.strips]
    return tuple(
        Subject(part, name)
        for part, name, kind, dice in named
        if colour_words(kind, *(die.colour for die in dice)) & _ULTRAVIOLET
    )


def flashes_together(build: Build) -> dict[str, float]:
    """Of all that flashes at moments of its own: one circuit each by name, and its flashes a second.

    Circuits in step with each other count once, by the fastest of them.
    """
    first = {name: name for name in build.circuit}
    for name, circuit in build.circuit.items():
        if circuit.in_step_with is not None:
            one, other = first[name], first[circuit.in_step_with]
            first = {member: one if of == other else of for member, of in first.items()}
    together: dict[str, float] = {}
    for name, circuit in build.circuit.items():
        if circuit.behaviour == "flash" and circuit.rate:
            together[first[name]] = max(together.get(first[name], 0.0), circuit.rate)
    return together
