"""A first wiring for what a build leaves open: strings and resistors, leads to their joints, a run for every line and stretch.

What the file says stays as it is. What is drafted here, and may be changed again while a plan is looked for, is listed
in `open`, by document path.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from postcheck.checks.shown import listed
from postcheck.checks.unbuilt import circuit_to_type, supply_to_type
from postcheck.description.consumers import Entry, Said, entries
from postcheck.description.frozen import FrozenDict
from postcheck.description.implied import stated
from postcheck.description.models import Build, Lamp, Lead, Run
from postcheck.description.naming import passages_between
from postcheck.description.problems import Path
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.limits import Limits
from postcheck.planner.laying import DraftError, Laying, Missing, circuits_of, way_to_type
from postcheck.planner.lighting import Lighting, Option, Structure
from postcheck.planner.routes import Routes, Stretch, whole
from postcheck.planner.splitting import split
from postcheck.planner.strings import Layout
from postcheck.planner.wires import fitted
from postcheck.survey.sheet.cut import cut
from postcheck.wiring.looked_up import USUAL_LEAD
from postcheck.wiring.nets import Driver, drivers_of

# What a plan takes for runs where neither `[usual]` nor `[stock]` names a wire: the usual one of the trade.
USUAL_RUN = "ptfe-28"


@dataclass(frozen=True)
class Draft:
    """A build with everything filled in but fuses, ratings and colours; `open`: the paths that are the plan's own.

    `wish`: what it was drafted for, with the lamps counted together in an entry for each length of their strings. `first`:
    as it was drafted, before a search changed anything. `planned`: of each resistor, by its lamp's path, the ohms with which
    the lamp has the current that it should have. `cool`: of those that get less for the heat of their place,
    the ohms without it. `warm`: places that would get too warm with all resistors in them.
    """

    build: Build
    structure: Structure
    wish: Build
    first: Build
    planned: Mapping[Path, float]
    cool: Mapping[Path, float] = field(default_factory=dict)
    warm: frozenset[str] = frozenset()
    open: frozenset[Path] = field(default_factory=frozenset)

    def may_change(self, path: Path) -> bool:
        """Whether a value is the plan's to change."""
        return any(path[: len(one)] == one for one in self.open)


class Drafter:
    """Drafts wirings for one build, a structure at a time."""

    def __init__(
        self, wish: Build, limits: Limits, laid: Iterable[Stretch] = (), *, whole: bool = False
    ) -> None:
        self._split: dict[Build, Drafter] = {}
        self.wish: Build = wish
        self.limits: Limits = limits
        self.laid: tuple[Stretch, ...] = tuple(laid)
        self.routes: Routes = Routes(wish, self.laid)
        self.drivers: Mapping[str, Driver] = drivers_of(wish)
        self.entries: tuple[Entry, ...] = tuple(entries(wish))
        self.lighting: Lighting = Lighting(wish, limits, self.routes, self.drivers, whole=whole)
        self.run_wire: str = wish.usual.run or next(iter(wish.stock.wires or ()), USUAL_RUN)
        self.lead_wire: str = wish.usual.lead or next(iter(wish.stock.leads or ()), USUAL_LEAD)
        missing = tuple(dict.fromkeys(self._missing()))
        if missing:
            raise DraftError(missing)

    def draft(self, structure: Structure) -> Draft:
        """The wiring of a structure. DraftError where a place is not on any path."""
        opened: set[Path] = set()
        threaded: dict[str, list[str]] = {}
        joined = [(entry, self._joined(entry, structure, opened, threaded)) for entry in self.entries]
        lamps = [(entry, said) for entry, said in joined if isinstance(said, Lamp)]
        options = {entry.path: self.lighting.options(entry, lamp, structure, opened) for entry, lamp in lamps}
        chosen = self.lighting.chosen(options, structure)
        two = {path: _layout(strings) for path, strings in chosen.items() if len(_layout(strings)) > 1}
        if two:
            wish = split(self.wish, two)
            if wish not in self._split:
                self._split[wish] = Drafter(wish, self.limits, self.laid, whole=True)
            return self._split[wish].draft(structure)
        lit = self.lighting.lit(lamps, chosen, structure)
        sections: dict[str, list[Said]] = {"lamp": [], "strip": [], "load": []}
        for entry, said in joined:
            sections[entry.kind].append(lit.lamps.get(entry.path, said))
        opened |= {("circuit", name, "own_return") for name, one in self.wish.circuit.items() if not one.keep}
        build = self.wish.model_copy(update={**sections, **self._threaded(threaded)})
        runs = (*map(self._cut, build.run), *Laying(self.wish, self.routes).runs(build))
        first = len(build.run)
        wires = {"run": self.run_wire} if len(runs) > first else {}
        if any(_leaves_wire_open(entry, said) for entry, said in joined):
            wires["lead"] = self.lead_wire
        usual = self.wish.usual.model_copy(update=wires)
        opened |= {
            ("supply", name, key)
            for name, supply in self.wish.supply.items()
            for key in ("fuse", "rated")
            if getattr(supply, key) is None and not supply.keep and (key, supply.kind) != ("rated", "battery")
        }
        opened |= {("run", number) for number in range(first, len(runs))} | {("run", "+")}
        build = sharing(build.model_copy(update={"run": runs, "usual": usual}), self.wish)
        build = stated(fitted(build, first, self.run_wire, self.limits))
        return Draft(build, structure, self.wish, build, lit.planned, lit.cool, lit.warm, frozenset(opened))

    def _cut(self, run: Run) -> Run:
        """A run for data, of the length that its way takes where the file says none: no plan lays it."""
        if run.length is not None or run.carries != "data" or run.keep or run.fixed or run.cable:
            return run
        way = self.routes.path(*run.ends)
        if not way or any(one.plug for one in way):
            return run
        return run.model_copy(update={"length": cut(sum(one.length for one in way))})

    # -- what the file has to say

    def _missing(self) -> Iterator[Missing]:
        if not self.entries:
            somewhere = next(iter(self.wish.place), "base")
            yield Missing(
                self.wish.build.name,
                "anything that is lit or driven",
                (
                    "[[lamp]]",
                    'switch = "cabin"',
                    'kind = "smd-0603-warm-white"',
                    f"place = {in_toml(somewhere)}",
                ),
            )
        cut_off: dict[str, list[Entry]] = {}
        for entry in self.entries:
            for circuit in dict.fromkeys(circuits_of(entry)):
                driver = self.drivers.get(circuit)
                if driver is None or driver.supply is None:
                    yield self._unfed(entry, circuit)
            place, lead = entry.said.place, entry.said.lead
            if _joint_of(lead) is None and not entry.said.keep and self.routes.joint(place) is None:
                cut_off.setdefault(place, []).append(entry)
        for place, some in cut_off.items():
            drivers = (self.drivers.get(circuit) for entry in some for circuit in circuits_of(entry))
            home = next((driver.place for driver in drivers if driver and driver.place), "")
            leads = f"the {'lead' if len(some) == 1 else 'leads'} of {listed([entry.name for entry in some])}"
            yield Missing(
                place, f"how far it is from there to where {leads} can be joined",
                way_to_type(place, self.routes.side_of(place, home)),
            )  # fmt: skip

    def _unfed(self, entry: Entry, circuit: str) -> Missing:
        what = "the supply that feeds it"
        how = self.wish.implied.get(circuit)
        if how == "nothing":
            table = f"[[{entry.kind}]] '{entry.name}'"
            return Missing(entry.name, "its circuit or switch", ('switch = "cabin"',), table)
        if not self.wish.supply:
            return Missing(circuit, what, supply_to_type(self.wish))
        lines = circuit_to_type(self.wish, circuit)
        return Missing(circuit, what, lines, f"[circuit.{key_in_toml(circuit)}]" if how == "supply" else "")

    # -- leads

    def _joined(
        self, entry: Entry, structure: Structure, opened: set[Path], threaded: dict[str, list[str]]
    ) -> Said:
        """An entry with its lead: to the nearest place where a hand gets at the joint; none where its line comes to it."""
        said, place = entry.said, entry.said.place
        lead = said.lead
        if said.keep:
            return said
        if lead is not None and not (lead.wire or lead.wires or lead.feed or lead.back):
            opened.add((*entry.path, "lead"))
        if _joint_of(lead) is not None or entry.places != (place,):
            return said
        joint = self.routes.joint(place)
        assert joint is not None
        to, path = joint
        if to == place or (lead is None and place in structure.lines):
            return said
        piece = whole(path)
        lengths = getattr(said, "leads", None)
        length = (max(lengths) if lengths else None) or (lead.length if lead is not None else None)
        spare = self._spare(to)
        if length is None:
            length = cut(piece.length + (spare or 0.0))
        new = (lead or Lead.model_construct()).model_copy(
            update={"length": length, "to": to, "spare": (lead.spare if lead is not None else None) or spare}
        )
        if not {*piece.through} <= {*passages_between(self.wish, (place, to))}:
            for name in piece.through:
                threaded.setdefault(name, []).append(entry.name)
        opened.add((*entry.path, "lead"))
        return said.model_copy(update={"lead": new})

    def _spare(self, place: str) -> float | None:
        """The spare length that a lead needs at a joint, m, where its cover has to come off."""
        opening = self.wish.place[place].opening
        return None if opening is None else cut(opening + self.limits.value("access.slack"))

    def _threaded(self, threaded: Mapping[str, list[str]]) -> dict[str, Any]:
        """The passages, with the leads listed that go through on their way to places further on."""
        if not threaded:
            return {}
        post, passages = self.wish.post, dict(self.wish.passage)
        for name, more in threaded.items():
            one = post if name == "post" and post is not None else passages[name]
            new = one.model_copy(update={"through": tuple(dict.fromkeys((*one.through, *more)))})
            if name == "post" and post is not None:
                post = new
            else:
                passages[name] = new
        return {"post": post, "passage": FrozenDict(passages)}


def _layout(strings: Option) -> Layout:
    """What strings come to; of colours the first, which the others follow."""
    rows = [one for one in strings if one.path[-1] == "+" or one is strings[0]]
    return tuple((one.series, one.parallel) for one in rows)


def _leaves_wire_open(entry: Entry, said: Said) -> bool:
    """Whether a lead of it is new, or leaves its wire to `[usual]`."""
    return any(
        (lead is not None and said.lead != entry.said.lead) or _wireless(lead)
        for lead in (said.lead, *(getattr(said, "links", None) or ()))
    )


def _wireless(lead: Lead | None) -> bool:
    """Whether a lead is there of which the wire is left to `[usual]`, in a leg of it at least."""
    if lead is None or lead.wire or lead.wires:
        return False
    return any(leg is None or leg.wire is None for leg in (lead.feed, lead.back))


def _joint_of(lead: Lead | None) -> str | None:
    """Where a lead is said to end; None where that is open."""
    if lead is None:
        return None
    legs = [leg.to for leg in (lead.feed, lead.back) if leg is not None and leg.to is not None]
    return lead.to or (legs[0] if len(legs) == 2 else None)


def sharing(build: Build, wish: Build) -> Build:
    """The build with what the strings of a lamp share where the plan says so.

    That is the whole lead, or its return where resistors sit at its end.
    """
    lamps = []
    for lamp, before in zip(build.lamp, wish.lamp, strict=True):
        counted = before.count is not None or (
            before.resistor is None and before.strings_share is None and not before.keep
        )
        if counted and lamp.parallel > 1 and lamp.lead is not None and not lamp.one_resistor:
            out = lamp.resistor is not None and lamp.resistor.place not in (None, lamp.place)
            share = "nothing" if before.leads else "return" if out else "lead"
            lamps.append(lamp.model_copy(update={"strings_share": share}))
        else:
            lamps.append(lamp)
    return build.model_copy(update={"lamp": tuple(lamps)})
