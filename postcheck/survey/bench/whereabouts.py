"""Where the things of a build are: each with every place that it sits in, ends at or goes through."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.consumers import CONSUMERS
from postcheck.description.naming import passages_of, string_name
from postcheck.wiring import Wiring
from postcheck.wiring.parts import Part


def places_of(wiring: Wiring, kind: str, name: str) -> frozenset[str] | None:
    """The places of a thing by its kind and name; None where it is in no place, or in all of them."""
    return frozenset(_places(wiring, kind, name)) or None


def _places(wiring: Wiring, kind: str, name: str) -> Iterator[str]:
    build = wiring.build
    if kind in (*CONSUMERS, "lead", "resistor"):
        for part in wiring.parts.every:
            strings = range(part.parallel if part.parallel > 1 else 0)
            if name in (part.name, part.entry, *(string_name(part.name, string) for string in strings)):
                yield from _of_part(wiring, part)
    elif kind == "circuit" and name in wiring.drivers:
        yield from _of_circuit(wiring, name)
    elif kind == "run":
        for run in wiring.parts.runs:
            if run.name == name:
                yield from (*run.ends, *_ends(wiring, run.through))
    elif kind == "passage":
        yield from _ends(wiring, (name,))
    elif kind == "plug" and name in wiring.plugs:
        yield from wiring.plugs[name].places
    elif kind in ("place", "join") and name in build.place:
        yield name
    elif kind == "board" and name in build.board:
        yield build.board[name].place
    elif kind == "supply" and name in build.supply:
        yield build.supply[name].place


def _of_part(wiring: Wiring, part: Part) -> Iterator[str]:
    yield from (part.place, *part.places, part.supply_leg.to, part.return_leg.to)
    if part.resistor is not None:
        yield part.resistor.place
    for wire in wiring.wires_of.get(part.entry, ()):
        yield from _ends(wiring, wire.through)


def _ends(wiring: Wiring, passages: tuple[str, ...]) -> Iterator[str]:
    known = passages_of(wiring.build)
    for passage in passages:
        if passage in known:
            yield from (known[passage].start, known[passage].end)


def _of_circuit(wiring: Wiring, name: str) -> Iterator[str]:
    """Where its lamps sit and are joined, and where its two lines end."""
    driver = wiring.drivers[name]
    for part in wiring.parts.every:
        if part.circuit == name:
            yield from _of_part(wiring, part)
    for run in wiring.parts.runs:
        if run.line in (name, driver.return_net):
            yield from run.ends
