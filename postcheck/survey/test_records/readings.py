"""What was measured, beside what was to be expected, as plain frozen records. Currents in A, volts in V."""

from __future__ import annotations

from typing import Literal, NamedTuple

from postcheck.description.models import Proof
from postcheck.survey.bench.figures import Band
from postcheck.survey.bench.test_points import TestPoint


class Expected(NamedTuple):
    """A current to expect. `resistor`: with every resistor that belongs between the supply and the lamps."""

    band: Band
    resistor: bool


class Explanation(NamedTuple):
    """What would give the measured current, worked out on the network. `names`: the parts of which it is true.

    `what`: `dark` (no current at all: reversed or open), `held` (the bench supply's limit), `bridged` (no resistor in
    the way), `past` (more than `value` A, the most through the resistor of `given` ohm), `short` (one LED of a string conducts like wire), `open` (`value` of its strings dark), `missing` (that
    lamp dark), `pair` (two of these dark), `resistor` (`value` ohm instead of `given`), `unstated` (`value` ohm in a lamp that has none in the file), `forward` (`value` volts a die instead of `given`, `kinds`
    of the catalogue have it), `segments` (`value` instead of `given`), `volts` (`value` at the bench instead of `given`).
    """

    what: Literal[
        "dark",
        "held",
        "bridged",
        "past",
        "short",
        "open",
        "missing",
        "pair",
        "resistor",
        "unstated",
        "forward",
        "segments",
        "volts",
    ]
    names: tuple[str, ...] = ()
    value: float = 0.0
    given: float = 0.0
    kinds: tuple[str, ...] = ()


class Reading(NamedTuple):
    """A measured current: where it was measured, what was to be expected, and whether it is that.

    `held`: it is the limit that the bench supply was set to, as it would be with a short.
    `through`: it came through every resistor that belongs there, and would be another without. `missing`: why it cannot be judged, else empty.
    `nearer`: what usual parts take, A, with one string dark ("open") or one LED shorted ("short"), where that comes nearer than
    with all of them lit; then it does not fit. `coarse`: with one of its strings dark ("open"), or one LED of a string shorted ("short"), the current could be the same.
    `rated`: what the lamps behind the test point are rated for together, None where other loads are connected there or none is known.
    """

    position: int
    record: Proof
    kind: str
    name: str
    test_point: TestPoint | None
    expected: tuple[Expected, ...] = ()
    fits: bool | None = None
    through: bool = False
    rated: float | None = None
    missing: str = ""
    held: bool = False
    coarse: Literal["", "open", "short"] = ""
    nearer: tuple[Literal["open", "short"], float] | None = None

    @property
    def volts(self) -> float:
        """What the bench supply was set to; 0 where the record does not say."""
        return self.record.volts or 0.0

    @property
    def ohms(self) -> float:
        """The resistor in the bench lead, none is 0."""
        return self.record.through or 0.0

    @property
    def amps(self) -> float:
        """What was measured."""
        return self.record.current or 0.0


class Known(NamedTuple):
    """All that test records say of one thing at one place: for each of their keys, the position of the latest that has it."""

    kind: str
    name: str
    at: str | None
    said: dict[str, int]
