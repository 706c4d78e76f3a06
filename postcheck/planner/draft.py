"""A first wiring for what a build leaves open: strings and resistors, leads to their joints, a run for every line and stretch.

What the file says stays as it is. What is drafted here, and may be changed again while a plan is looked for, is listed
in `open`, by document path.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

from postcheck.checks.unbuilt import circuit_to_type, supply_to_type
from postcheck.description.consumers import Entry, Said, entries
from postcheck.description.frozen import FrozenDict
from postcheck.description.implied import stated
from postcheck.description.models import Build, Lamp, Lead
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.limits import Limits
from postcheck.planner.dissipated import dissipated, source_behind
from postcheck.planner.laying import DraftError, Laying, Missing, circuits_of, way_to_type
from postcheck.planner.routes import Routes, Stretch, cut, whole
from postcheck.planner.strings import Strings, longest_string, resistor_for, wanted_current
from postcheck.planner.warmth import allowances, factors, too_full
from postcheck.planner.wires import fitted
from postcheck.wiring.looked_up import USUAL_LEAD, parts_of
from postcheck.wiring.nets import Driver, drivers_of
from postcheck.wiring.parts import LampPart, Part

Path = tuple[str | int, ...]

# What a plan takes for runs where neither `[usual]` nor `[stock]` names a wire: the usual one of the trade.
USUAL_RUN = "ptfe-28"


class Structure(NamedTuple):
    """What is chosen before any wire is.

    `lines`: sealed places that the lines themselves go to, so that their lamps need no leads. `outside`: whose resistors sit
    where their leads end: nobody's, those of bodies that would get too warm, or everybody's.
    """

    lines: frozenset[str] = frozenset()
    outside: Literal["none", "warm", "all"] = "warm"


@dataclass(frozen=True)
class Draft:
    """A build with everything filled in but fuses, ratings and colours; `open`: the paths that are the plan's own.

    `first`: as it was drafted, before a search changed anything. `planned`: of each resistor, by its lamp's path, the ohms
    with which the lamp has the current that it should have.
    """

    build: Build
    structure: Structure
    first: Build
    planned: Mapping[Path, float]
    open: frozenset[Path] = field(default_factory=frozenset)

    def may_change(self, path: Path) -> bool:
        """Whether a value is the plan's to change."""
        return any(path[: len(one)] == one for one in self.open)


class Drafter:
    """Drafts wirings for one build, a structure at a time."""

    def __init__(self, wish: Build, limits: Limits, laid: Iterable[Stretch] = ()) -> None:
        self.planned: dict[Path, float] = {}
        self.warm: frozenset[str] = frozenset()
        self.wish: Build = wish
        self.limits: Limits = limits
        self.routes: Routes = Routes(wish, laid)
        self.drivers: Mapping[str, Driver] = drivers_of(wish)
        self.entries: tuple[Entry, ...] = tuple(entries(wish))
        self.parts: Mapping[str, Part] = parts_of(wish).named
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
        lit = self._lit(
            [(entry, said) for entry, said in joined if isinstance(said, Lamp)], structure, opened
        )
        sections: dict[str, list[Said]] = {"lamp": [], "strip": [], "load": []}
        for entry, said in joined:
            sections[entry.kind].append(lit.get(entry.path, said))
        opened |= {("circuit", name, "own_return") for name, one in self.wish.circuit.items() if not one.keep}
        build = self.wish.model_copy(update={**sections, **self._threaded(threaded)})
        runs = (*build.run, *Laying(self.wish, self.routes).runs(build))
        leads = any(
            (lead is not None and said.lead != entry.said.lead) or _wireless(lead)
            for entry, said in joined
            for lead in (said.lead, *(getattr(said, "links", None) or ()))
        )
        wires = ({"run": self.run_wire} if len(runs) > len(build.run) else {}) | (
            {"lead": self.lead_wire} if leads else {}
        )
        build = build.model_copy(update={"usual": self.wish.usual.model_copy(update=wires)})
        opened |= {
            ("supply", name, key)
            for name, supply in self.wish.supply.items()
            for key in ("fuse", "rated")
            if getattr(supply, key) is None and not supply.keep
        }
        opened |= {("run", number) for number in range(len(build.run), len(runs))} | {("run", "+")}
        first = len(build.run)
        build = sharing(build.model_copy(update={"run": runs}), self.wish)
        build = stated(fitted(build, first, self.run_wire, self.limits))
        return Draft(build, structure, build, dict(self.planned), frozenset(opened))

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
        for entry in self.entries:
            for circuit in dict.fromkeys(circuits_of(entry)):
                driver = self.drivers.get(circuit)
                if driver is None or driver.supply is None:
                    yield self._unfed(entry, circuit)
            place, lead = entry.said.place, entry.said.lead
            if _joint_of(lead) is None and not entry.said.keep and self.routes.joint(place) is None:
                yield Missing(
                    entry.name, f"how far it is from {place} to where a joint can be made",
                    way_to_type(place, self._reachable(place)),
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

    def _reachable(self, place: str) -> str:
        """A place of the file that a hand gets at, other than this."""
        others = [name for name in self.wish.place if name != place]
        return next((name for name in others if self.routes.joint(name) is not None), (*others, "hub")[0])

    # -- what takes current

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
        if lead is None and (to == place or place in structure.lines):
            return said
        if to == place:
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
        if any(not self._between(name, place, to) for name in piece.through):
            for name in piece.through:
                threaded.setdefault(name, []).append(entry.name)
        opened.add((*entry.path, "lead"))
        return said.model_copy(update={"lead": new})

    def _spare(self, place: str) -> float | None:
        """The spare length that a lead needs at a joint, m, where its cover has to come off."""
        opening = self.wish.place[place].opening
        return None if opening is None else cut(opening + self.limits.value("access.slack"))

    def _between(self, passage: str, start: str, end: str) -> bool:
        one = self.wish.post if passage == "post" and self.wish.post else self.wish.passage[passage]
        return {one.start, one.end} == {start, end}

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

    def _lit(
        self, lamps: Sequence[tuple[Entry, Lamp]], structure: Structure, opened: set[Path]
    ) -> dict[Path, Lamp]:
        """The lamps with their strings and resistors: as bright as was planned where the places stand it, else less."""
        strings = [one for entry, lamp in lamps for one in self._strings(entry, lamp, opened)]
        allowed = allowances(self.wish, self.limits)
        others = [warm for _, warm in dissipated(self.wish)]
        seats = {one.path: one.seats[-1 if structure.outside == "all" else 0] for one in strings}
        self.warm = too_full([*others, *(one.warm(one.seats[0]) for one in strings)], allowed)
        if structure.outside == "warm":
            seats |= {one.path: one.seats[-1] for one in strings if one.seats[0] in self.warm}
        down = factors([*others, *(one.warm(seats[one.path]) for one in strings)], allowed)
        found = {entry.path: self._counted(lamp, strings, entry.path) for entry, lamp in lamps}
        for one in strings:
            seat = seats[one.path] if seats[one.path] != one.seats[0] else None
            spec = resistor_for(self.wish, one, one.current * down[one.path], seat, self.limits)
            if spec is not None:
                self.planned[one.path] = spec.ohms * down[one.path]
            lamp = found[one.path[:2]]
            if len(one.path) > 2 and lamp.dice is not None:
                colour = str(one.path[3])
                die = lamp.dice[colour].model_copy(update={"resistor": spec})
                update: dict[str, Any] = {"dice": FrozenDict({**lamp.dice, colour: die})}
            else:
                update = {"resistor": spec}
            found[one.path[:2]] = lamp.model_copy(update=update)
        return found

    def _strings(self, entry: Entry, lamp: Lamp, opened: set[Path]) -> Iterator[Strings]:
        """The strings of a lamp whose resistor the file leaves open."""
        joint = lamp.lead.to if lamp.lead is not None else None
        if lamp.parallel > 1 and lamp.strings_share == "lead":
            joint = None  # strings with resistors at the joint have a leg each
        seats = (lamp.place, joint) if joint else (lamp.place,)
        rows = (
            [
                ((*entry.path, "dice", colour), f"{entry.name} {colour}", die)
                for colour, die in lamp.dice.items()
            ]
            if lamp.dice
            else [(entry.path, entry.name, lamp)]
        )
        for path, name, said in rows:
            part = self.parts[name]
            dice, source = part.dice, source_behind(self.wish, self.drivers[said.circuit or ""])
            series, parallel = lamp.series, lamp.parallel
            current = wanted_current(
                dice, part.wanted if isinstance(part, LampPart) else None, self.wish.build.air[1]
            )
            if lamp.count is not None:
                opened |= {(*entry.path, "series"), (*entry.path, "parallel")}
                apart = lamp.leads is not None or dice[0].filament_volts is not None
                series = 1 if apart else longest_string(dice, lamp.count, source, current)
                parallel, dice = lamp.count // series, dice * series
            if said.resistor is None and not lamp.keep:
                opened.add((*path, "resistor"))
                yield Strings(path, dice, series, parallel, source, current, said.wanted is not None, seats)

    def _counted(self, lamp: Lamp, strings: Iterable[Strings], path: Path) -> Lamp:
        """A lamp of which the file gives only how many, put into strings."""
        if lamp.count is None:
            return lamp
        own = next((one for one in strings if one.path[:2] == path), None)
        series, parallel = (own.series, own.parallel) if own is not None else (1, lamp.count)
        return lamp.model_copy(update={"count": None, "leads": None, "series": series, "parallel": parallel})


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
    """The build with what the strings of a lamp share where the plan says so: the whole lead, or its return where resistors sit at its end."""
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
