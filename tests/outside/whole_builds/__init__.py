"""Whole random builds, written twice: as a build file, and as a SPICE deck that holds the heat as well.

Nothing here imports postcheck. `make` takes the features that a build may have, and those that it has for
certain.
"""

from __future__ import annotations

from tests.outside.whole_builds.conductors import conductors
from tests.outside.whole_builds.consumers import colours, consumers
from tests.outside.whole_builds.drafts import Figure, Whole, begin
from tests.outside.whole_builds.sources import circuits, converter_heat, sources

__all__ = ["FEATURES", "Figure", "Whole", "make"]

FEATURES = frozenset({
    "second supply", "converter", "isolated", "two negatives", "converter beside two negatives", "board", "negative",
    "own return", "steady", "flash", "series", "parallel", "shared", "chain", "filament", "strip", "load", "lead",
    "sharing nothing", "sharing return", "sharing lead", "far end", "colours", "loop", "plug", "plug at", "plug ahead of converter",
    "conductors", "measured", "passage", "body", "join",
    "warm copper", "warm traces", "warming", "closed",
})  # fmt: skip


def make(seed: int, features: frozenset[str] = FEATURES, sure: frozenset[str] = frozenset()) -> Whole:
    """One random build."""
    draft = begin(seed, features, sure)
    found = sources(draft)
    driven, supplies = circuits(draft, found)
    for circuit in driven:
        consumers(draft, circuit)
    colours(draft, driven)
    conductors(draft)
    converter_heat(draft, found, driven, supplies)
    return Whole("\n".join(draft.toml), draft.deck, draft.figures, draft.inputs, frozenset(draft.covers))
