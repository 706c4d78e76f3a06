"""What a random build is made of while it is written: its text, its deck, its lines, and what is to be compared."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from tests.outside.whole_builds.deck import PER_AREA, Deck, Die, Point

__all__ = ["RGB", "WIRES", "Circuit", "Draft", "Figure", "Line", "Whole", "begin"]

WIRES = {"thin": 2.195, "mid": 0.84, "thick": 0.2}  # ohm per metre at 20 degC
SPAR = 0.1  # m of a passage
# Lamps of the file: least, typical, most volts at 20 mA and typical at 5 mA, of a data sheet's kind, invented; the last
# is V per K. A file states no K/W: 500, that of an 0805 (reference of the physics, F), is taken.
OWN = {
    "red": (1.85, 2.05, 2.40, 1.90, -0.002),
    "white": (2.90, 3.10, 3.50, 2.75, -0.003),
    "green": (2.75, 3.00, 3.40, 2.60, -0.0034),
}
KELVIN_PER_WATT = 500.0
# The catalogue's colour LEDs by its data files: volts at 20 mA, at 5 mA, V per K; K/W of the package.
RGB = {
    "smd-5050-rgb": {"red": (2.1, 2.0, -0.002), "green": (3.1, 2.7, -0.003), "blue": (3.1, 2.8, -0.003)},
    "smd-0603-rgb": {"red": (2.1, 2.0, -0.002), "green": (3.0, 2.6, -0.003), "blue": (3.1, 2.8, -0.003)},
}
PACKAGE = {"smd-5050-rgb": 300.0, "smd-0603-rgb": 550.0}


class Figure(NamedTuple):
    """What is to be compared: section, part and key as the report has them, and how it is read off the operating point.

    A text where the figure is one; None where there is none to be told.
    """

    section: str
    name: str
    key: str
    read: Callable[[Point], float | str | None]


class Whole(NamedTuple):
    """A build file, its deck, its figures and which features it has; `inputs` of converters as shares of their sources' volts."""

    toml: str
    deck: Deck
    figures: list[Figure]
    inputs: list[Callable[[Point], float]]
    covers: frozenset[str]


class Line(NamedTuple):
    """Where a line begins, and what share of the time a current is in it."""

    origin: str
    share: float


class Circuit(NamedTuple):
    """A circuit as its lamps see it. `steady`: the constant current of its output, A."""

    name: str
    back: str
    origin: str
    negative: bool
    volts: float
    share: float
    steady: float | None


@dataclass
class Draft:
    rng: random.Random
    features: frozenset[str]
    sure: frozenset[str]  # ... of these, the ones that it has for certain
    deck: Deck
    places: list[str]
    pair: tuple[str, str] | None = None  # places that a plug joins
    at: str | None = None  # the place where a plug sits; no supply or board does
    spar: tuple[str, str] | None = None  # places that a passage joins
    toml: list[str] = field(default_factory=list)
    figures: list[Figure] = field(default_factory=list)
    inputs: list[Callable[[Point], float]] = field(
        default_factory=list
    )  # of converters, as shares of their sources' volts
    covers: set[str] = field(default_factory=set)
    lines: dict[str, Line] = field(default_factory=dict)
    alias: dict[str, str] = field(default_factory=dict)
    wanted: dict[str, dict[str, None]] = field(default_factory=dict)  # places to which each line has to come
    fed: dict[str, dict[str, str]] = field(
        default_factory=dict
    )  # ... of these, what a strip's far end feeds, from where
    probes: dict[str, list[str]] = field(default_factory=dict)  # of each circuit
    twins: dict[str, str] = field(
        default_factory=dict
    )  # lines with conductors of their own that meet at one place
    direct: dict[tuple[str, str], list[str]] = field(default_factory=dict)  # circuits straight from one pole
    joins: list[tuple[str, str]] = field(default_factory=list)  # lines that may be joined anywhere
    tangled: set[str] = field(
        default_factory=set
    )  # lines of which it is not plain what comes from the supply's side

    @property
    def homes(self) -> list[str]:
        """Places for what drives something."""
        return [place for place in self.places if place != self.at]

    def may(self, feature: str, chance: float) -> bool:
        """Whether a feature that is switched on comes to be; it then counts as covered."""
        found = (self.rng.random() < chance or feature in self.sure) and feature in self.features
        if found:
            self.covers.add(feature)
        return found

    def node(self, line: str, place: str) -> str:
        """The node of a line at a place: it has to come there."""
        line = self.alias.get(line, line)
        self.wanted.setdefault(line, {})[place] = None
        return f"{line} at {place}"

    def conductor(
        self, a: str, b: str, ohms20: float, ends: Sequence[str], share: float, metres: float | None = None
    ) -> float:  # fmt: skip
        """A conductor between places, half of it at each end; what lies in the passage between them is in neither."""
        if metres and self.spar is not None and set(ends) == set(self.spar):
            share *= 1.0 - min(SPAR, metres) / metres
        return self.deck.conductor(a, b, ohms20, ends, share)

    def table(self, head: str, **keys: Any) -> None:
        """A table of the file; keys that are None are left out, and `_` behind one is dropped."""
        self.toml += [head, *(f"{k.rstrip('_')} = {_value(v)}" for k, v in keys.items() if v is not None), ""]

    def compare(self, section: str, name: str, key: str, read: Callable[[Point], float | str | None]) -> None:
        self.figures.append(Figure(section, name, key, read))

    def flowing(self, circuit: str) -> str:
        """The current of a circuit as an expression."""
        return "(" + "+".join(f"abs(I({probe}))" for probe in self.probes.get(circuit, [])) + "+0)"


def _value(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{k} = {_value(v)}" for k, v in value.items() if v is not None) + " }"
    return json.dumps(value)


def begin(seed: int, features: frozenset[str], sure: frozenset[str]) -> Draft:
    """A draft with its places, wires and kinds of lamp."""
    rng = random.Random(seed)
    low, high = rng.choice([(5, 35), (15, 45), (2, 18), (20, 20)] if "warm copper" in features else [(5, 35)])
    places = ["base", *(f"deck{n}" for n in range(rng.randint(2 if "plug at" in sure else 1, 4)))]
    draft = Draft(rng, features, sure, Deck((low + high) / 2, {}, {}), places)
    if (low + high) / 2 != 20.0:
        draft.covers.add("warm copper")
    if len(places) > 1 and draft.may("plug", 0.5):
        draft.pair = (places[0], rng.choice(places[1:]))
    elif len(places) > 1 and draft.may("plug at", 0.5):
        draft.at = rng.choice(places[1:])
    if len(places) > 1 and draft.may("passage", 0.15):
        draft.spar = tuple(rng.sample(places, 2))
    draft.toml += ["format = 1", ""]
    draft.table("[build]", name=f"Tender {seed}", air=f"{low}..{high} degC")
    for place in places:
        closed = draft.may("closed", 0.3 if place == "base" else 0.6)
        surface = rng.choice([60, 120, 250]) if closed and rng.random() < 0.9 else None
        heat = rng.choice([0.05, 0.2]) if closed and rng.random() < 0.3 else None
        draft.table(
            f"[place.{place}]",
            access=rng.choice(["cover", "sealed"]) if closed else "open",
            surface=None if surface is None else f"{surface} cm2",
            heat=None if heat is None else f"{heat} W",
        )
        draft.deck.rises[place] = 1.0 / (PER_AREA * surface * 1e-4) if surface else 0.0
        if heat:
            draft.deck.heat(place, f"{heat}")
        if closed:
            draft.compare("places", place, "heat", lambda point, p=place: point.heat(p))
            if surface:
                rise = draft.deck.rises[place]
                draft.compare("places", place, "rise", lambda point, p=place, k=rise: k * point.heat(p))
    if draft.spar is not None:
        start, end = draft.spar
        draft.table("[passage.spar]", from_=start, to=end, bore="12 mm", length=f"{SPAR * 1e3:g} mm")
    for name, ohms in WIRES.items():
        draft.table(f"[wire.{name}]", strand="0.10 mm", outside="0.5 mm", ohms_per_metre=f"{ohms} ohm/m")
    for kind, (least, typical, most, lower, per_kelvin) in OWN.items():
        shift = per_kelvin if draft.may("warming", 1.0) else 0.0
        draft.table(
            f"[lamp_kind.{kind}]", forward=f"{least}/{typical}/{most} V", at="20 mA", low_forward=f"{lower} V",
            low_at="5 mA", rated="30 mA", per_kelvin=f"{shift * 1e3:g} mV",
        )  # fmt: skip
        draft.deck.kinds[kind] = Die(typical, 0.02, lower, 0.005, shift, KELVIN_PER_WATT)
    for kind, colours in RGB.items():
        for colour, (volts, lower, shift) in colours.items():
            draft.deck.kinds[f"{kind}-{colour}"] = Die(volts, 0.02, lower, 0.005, shift, PACKAGE[kind])
    return draft
