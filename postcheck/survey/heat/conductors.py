"""How hot conductors get in normal use: each in still air, or all of a bore together."""

from collections.abc import Container, Iterator, Mapping
from typing import NamedTuple

from postcheck.description.models import Passage
from postcheck.description.naming import passages_of
from postcheck.description.problems import Path
from postcheck.physics import copper, wire_heat
from postcheck.survey.network.figures import Electrics
from postcheck.survey.post.figures import PassageFigures
from postcheck.wiring import Wiring
from postcheck.wiring.data import WireData

Key = tuple[str, str, str]

# Rounds in which the conductors of a bore warm each other; a round closes most of the gap, and a bore that still
# climbs by this much, K, runs away.
_ROUNDS = 40
_STILL = 0.05


class UsedWire(NamedTuple):
    """One conductor of a run, or a leg of a lead, at its highest current (A) in use.

    `celsius`: what it gets to in the hottest air; None: it melts.
    """

    kind: str
    name: str
    leg: str
    path: Path
    wire: WireData
    current: float
    conductors: int
    passages: tuple[str, ...]
    celsius: float | None = None

    @property
    def key(self) -> Key:
        """Kind, name and leg: what tells it from the others."""
        return self.kind, self.name, self.leg


class InUse(NamedTuple):
    """Every conductor that carries something, and by how many K each, and all `together`, warm a bore that it lies in."""

    wires: tuple[UsedWire, ...]
    warming: Mapping[str, Mapping[Key, float]]
    together: Mapping[str, float]

    def company(self, passages: tuple[str, ...], key: Key) -> float:
        """How much all other conductors warm the warmest of these passages, K."""
        return max((self._others(name, key) for name in passages), default=0.0)

    def _others(self, passage: str, key: Key) -> float:
        if passage not in self.warming:  # nothing in it carries current
            return 0.0
        return self.together[passage] - self.warming[passage].get(key, 0.0)


def in_use(
    wiring: Wiring,
    electrics: Electrics,
    passages: Mapping[str, PassageFigures],
    pushing: Container[tuple[str, str]] = (),
) -> InUse:
    """All conductors at their highest current in the hottest air, together.

    Those that lie in one bore warm each other: all their heat goes from the bundle across the gap and through the wall.
    `pushing`: those whose current no supply keeps up, by kind and name.
    """
    air, bores = wiring.build.build.air[1], passages_of(wiring.build)
    wires = [
        wire
        for wire in _wires(wiring, electrics)
        if wire.current > 0.0 and (wire.kind, wire.name) not in pushing
    ]
    known: list[float | None] = [air] * len(wires)
    for _ in range(_ROUNDS):
        warming = _warming(wires, known, passages, air)
        now = InUse(tuple(wires), warming, {name: sum(each.values()) for name, each in warming.items()})
        hotter = [_settled(wire, now, air, bores) for wire in wires]
        moved = max((_gap(old, new) for old, new in zip(known, hotter, strict=True)), default=0.0)
        known = hotter
        if moved < _STILL:
            break
    else:
        known = [None if wire.passages else celsius for wire, celsius in zip(wires, known, strict=True)]
    return now._replace(
        wires=tuple(wire._replace(celsius=celsius) for wire, celsius in zip(wires, known, strict=True))
    )


def _wires(wiring: Wiring, electrics: Electrics) -> Iterator[UsedWire]:
    for name, figures in electrics.runs.items():
        run = figures.part
        if run.wire is not None and not run.body:
            yield UsedWire("run", name, "", run.path, run.wire, figures.highest, run.conductors, run.through)
    currents = {name: figures.highest for name, figures in electrics.consumers.items()}
    alike: dict[UsedWire, int] = {}
    for wire in wiring.fine_wires:
        if wire.data.wire is None or wire.data.length <= 0.0 or wire.name not in currents:
            continue
        # a lamp's lead in the open warms nothing, and no lamp takes enough to make it hot
        if wire.through or wire.name not in electrics.lamps:
            current = sum(currents.get(name, 0.0) for name in wire.carries)
            used = UsedWire("lead", wire.name, wire.leg, wire.path, wire.data.wire, current, 1, wire.through)
            alike[used] = alike.get(used, 0) + 1
    for used, count in alike.items():
        yield used._replace(conductors=count)


def _warming(
    wires: list[UsedWire], known: list[float | None], passages: Mapping[str, PassageFigures], air: float
) -> dict[str, dict[Key, float]]:
    """K by which each conductor warms each of its bores at the temperatures known so far."""
    warming: dict[str, dict[Key, float]] = {}
    for wire, celsius in zip(wires, known, strict=True):
        hot = copper.MELTING if celsius is None else celsius
        ohms = copper.at_temperature(wire.wire.ohms_per_metre_most, hot)
        watts = wire.conductors * wire.current * wire.current * ohms
        for name in wire.passages:
            figures = passages[name]
            rise = wire_heat.company_rise(watts, figures.smallest_bore, figures.passage.bore, hot - air, air)
            mine = warming.setdefault(name, {})
            mine[wire.key] = mine.get(wire.key, 0.0) + rise
    return warming


def _settled(wire: UsedWire, now: InUse, air: float, bores: Mapping[str, Passage]) -> float | None:
    """Where a conductor settles with the others of its bore as warm as they are."""
    bore = min((bores[name].bore for name in wire.passages), default=None)
    beside = now.company(wire.passages, wire.key)
    # the other conductors of its run warm it too
    own = max((now.warming[name][wire.key] for name in wire.passages), default=0.0)
    beside += own * (wire.conductors - 1) / wire.conductors
    return wire_heat.settles_at(
        wire.current, wire.wire.ohms_per_metre_most, wire.wire.max_diameter, air + beside, bore
    )


def _gap(old: float | None, new: float | None) -> float:
    if old is None or new is None:
        return 0.0 if old is new else copper.MELTING
    return abs(new - old)
