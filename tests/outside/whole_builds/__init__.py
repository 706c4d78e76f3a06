"""Whole random builds, written twice: as a build file, and as a SPICE deck that holds the heat as well.

Nothing here but `reading.py` imports postcheck. `make` takes the features that a build may have, and those that it has for
certain.
"""

from __future__ import annotations

from tests.outside.whole_builds.conductors import conductors
from tests.outside.whole_builds.consumers import colours, consumers
from tests.outside.whole_builds.drafts import Figure, Whole, begin
from tests.outside.whole_builds.sources import circuits, converter_heat, sources

__all__ = ["FEATURES", "NOT_YET", "Figure", "Whole", "make"]

FEATURES = frozenset({
    "second supply", "converter", "isolated", "two negatives", "converter beside two negatives", "board", "negative",
    "own return", "steady", "flash", "series", "parallel", "shared", "chain", "filament", "strip", "load", "lead",
    "sharing nothing", "sharing return", "sharing lead", "far end", "colours", "loop", "plug", "plug at", "plug ahead of converter",
    "conductors", "measured", "passage", "body", "join",
    "warm copper", "warm traces", "warming", "closed",
})  # fmt: skip
# What is left out of the comparison, for postcheck does not have it right to 1e-6 yet, and why.
NOT_YET = {
    "flashing loop": "heat of what lies in a loop of a line that flashes, over time",
    "warming": "dice that warm themselves: heating is iterated three times only",
    "colours": "dice of the catalogue, which warm themselves",
    "closed": "heat of closed places: conductors are left out, and dice see a rise that is worked out once, from cold",
    "warm traces": "the trace of a strip away from 20 degC stays as it was measured",
    "plug ahead of converter": "the return of a converter behind a plug is taken for what comes from the supply",
    "converter beside two negatives": "its two negatives are taken for two lines where both have conductors",
}


def make(
    seed: int, features: frozenset[str] = FEATURES - set(NOT_YET), sure: frozenset[str] = frozenset()
) -> Whole:
    """One random build."""
    draft = begin(seed, features, sure)
    found = sources(draft)
    driven, supplies = circuits(draft, found)
    for circuit in driven:
        consumers(draft, circuit)
    colours(draft, driven)
    conductors(draft)
    converter_heat(draft, found, driven, supplies)
    return Whole("\n".join(draft.toml), draft.deck, draft.figures, frozenset(draft.covers))
