"""What has no figures that mean anything.

A lamp in it or on it is destroyed at once, its supply's poles are joined, or supplies push more into each other than they keep up.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, NamedTuple

from postcheck.limits import above
from postcheck.survey.heat.faults import keeps_up
from postcheck.survey.network.dice import is_destroyed
from postcheck.survey.network.electrics import PUSHED
from postcheck.wiring.graph import Graph

if TYPE_CHECKING:
    from postcheck.survey import Survey
    from postcheck.wiring import Wiring

Why = Literal["lamp destroyed", "poles joined", "supplies joined"]


class Beyond(NamedTuple):
    """By name, with the first lamp that is destroyed there: supplies with all that feeds them, circuits, and places.

    `lamps`: all of them. `fates`: kind and name of all else whose figures hang on one, or on a supply with joined poles;
    of the kind `line` what a run or a pin of it carries. `pushed`: the supplies that are pushed backwards, each with
    the one that is asked for more than it keeps up.
    """

    lamps: tuple[str, ...]
    supplies: dict[str, str]
    circuits: dict[str, str]
    places: dict[str, str]
    fates: dict[tuple[str, str], Why]
    pushed: Mapping[str, str] = MappingProxyType({})

    @property
    def pushing(self) -> frozenset[tuple[str, str]]:
        """The runs and plugs whose current is what one supply would push into another, by kind and name."""
        return frozenset(
            of for of, why in self.fates.items() if why == "supplies joined" and of[0] in ("run", "plug")
        )


def beyond_figures(survey: Survey) -> Beyond:
    """The lamps that are destroyed by what they get, the supplies that they are on, the places that they, their resistors and leads warm."""
    wiring, electrics = survey.wiring, survey.electrics
    lamps = tuple(name for name, lamp in electrics.lamps.items() if is_destroyed(lamp, survey.limits))
    found = Beyond(lamps, {}, {}, {}, {}, _overdrawn(survey))
    for name in lamps:
        part = electrics.lamps[name].part
        found.circuits.setdefault(part.circuit, name)
        for source in _sources(wiring, part.circuit):
            found.supplies.setdefault(source, name)
        for place in part.warms:
            found.places.setdefault(place, name)
    shorted = set(electrics.shorted)
    dead = {name for name in wiring.drivers if not shorted.isdisjoint(_sources(wiring, name))}
    found.fates.update(_carried(wiring, set(found.circuits), set(found.supplies), "lamp destroyed"))
    found.fates.update({("place", name): "lamp destroyed" for name in found.places})
    found.fates.update({("lamp", name): "lamp destroyed" for name in lamps})
    for key, why in _carried(wiring, dead, shorted, "poles joined").items():
        found.fates.setdefault(key, why)
    for consumer in survey.parts.all:
        if consumer.circuit in dead:
            found.fates.setdefault((consumer.kind, consumer.name), "poles joined")
    fought = {*found.pushed, *found.pushed.values()}
    for key, why in _carried(wiring, set(), fought, "supplies joined").items():
        found.fates.setdefault(key, why)
    return found


def _overdrawn(survey: Survey) -> dict[str, str]:
    """The supplies that are pushed backwards by one that is asked for more than it keeps up, each with that one.

    What volts and wire alone would let flow, its fuse ends at once, or the supply itself gives up before.
    """
    supplies, wiring = survey.electrics.supplies, survey.wiring
    pushed = [name for name, figures in supplies.items() if above(figures.reverse, PUSHED)]
    if not pushed:
        return {}
    lasting, joined = survey.limits.value("fuse.lasting"), Graph(wiring.edges)
    beyond = [
        name
        for name, figures in supplies.items()
        if name not in pushed
        and above(figures.highest, keeps_up(wiring.build.supply[name], lasting, wiring.build.build.air[0]))
    ]
    ends = {name: joined.root(wiring.pole(name, "+")) for name in (*pushed, *beyond)}
    return {
        name: first
        for name in pushed
        if (first := next((other for other in beyond if ends[other] == ends[name]), None)) is not None
    }


def _sources(wiring: Wiring, circuit: str) -> list[str]:
    """The supply of a circuit, and all supplies that feed it."""
    found: list[str] = []
    source = wiring.drivers[circuit].supply
    while source is not None and source not in found:
        found.append(source)
        source = wiring.build.supply[source].fed_by
    return found


def _carried(wiring: Wiring, circuits: set[str], supplies: set[str], why: Why) -> dict[tuple[str, str], Why]:
    """All that carries the current of these circuits and supplies."""
    drivers = [wiring.drivers[name] for name in circuits]
    lines = {line for one in drivers for line in (one.circuit, one.return_net, one.pole) if line}
    lines |= {line for line, (supply, *_) in wiring.poles.items() if supply in supplies}
    keys = {("circuit", name) for name in circuits} | {("supply", name) for name in supplies}
    keys |= {("board", one.board) for one in drivers if one.board} | {("line", line) for line in lines}
    keys |= {("run", run.name) for run in wiring.parts.runs if run.line in lines}
    keys |= {("plug", plug.name) for plug in wiring.build.plug if lines.intersection(plug.pins)}
    return dict.fromkeys(keys, why)
