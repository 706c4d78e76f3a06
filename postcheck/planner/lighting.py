"""The light of a draft: LEDs in strings, the resistor of each, and what closed places stand of their heat."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import Any, Literal, NamedTuple

from postcheck.description.consumers import Entry
from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, Die, Lamp
from postcheck.description.problems import Path
from postcheck.limits import Limits
from postcheck.planner.dissipated import dissipated, source_behind
from postcheck.planner.routes import Routes, whole
from postcheck.planner.strings import Layout, Strings, layouts, steps_down, wanted_current
from postcheck.planner.values import equal_light, valued
from postcheck.planner.warmth import Warm, allowances, factors, too_full
from postcheck.wiring.looked_up import parts_of
from postcheck.wiring.nets import Driver
from postcheck.wiring.parts import LampPart
from postcheck.wiring.through import Passages

# The strings of a lamp, of each of its colours, and of both lengths where it has two.
Option = tuple[Strings, ...]


class Structure(NamedTuple):
    """What is chosen before any wire is.

    `lines`: sealed places that the lines themselves go to, so that their lamps need no leads. `outside`: whose resistors sit
    where their leads end: nobody's, those of bodies that would get too warm, or everybody's. `strings`: as long as the
    volts allow at a little less current and of two lengths where that saves some, or all alike at the full current.
    """

    lines: frozenset[str] = frozenset()
    outside: Literal["none", "warm", "all"] = "warm"
    strings: Literal["long", "plain"] = "long"


class Lit(NamedTuple):
    """The lamps of a draft by their paths, and what a `Draft` tells of them."""

    lamps: Mapping[Path, Lamp]
    planned: Mapping[Path, float]
    cool: Mapping[Path, float]
    warm: frozenset[str]


class _Warmed(NamedTuple):
    """Places too warm for their resistors, where each resistor sits, by what each current comes down for the heat."""

    warm: frozenset[str]
    seats: dict[Path, str]
    down: dict[Path, float]


class Lighting:
    """How the lamps of one wish can be put into strings, and get their resistors. `whole`: all strings of a lamp alike."""

    def __init__(
        self, wish: Build, limits: Limits, routes: Routes, drivers: Mapping[str, Driver], *, whole: bool
    ) -> None:
        self._wish = wish
        self._limits = limits
        self._routes = routes
        self._drivers = drivers
        self._whole = whole
        self._parts = parts_of(wish).named
        self._passages = Passages(wish)

    def options(
        self, entry: Entry, lamp: Lamp, structure: Structure, opened: set[Path]
    ) -> tuple[Option, ...]:
        """The ways to put a lamp's LEDs into strings, the longest first: one of no strings where its resistors are given."""
        joint = lamp.lead.to if lamp.lead is not None else None
        if lamp.parallel > 1 and lamp.strings_share == "lead":
            joint = None  # strings with resistors at the joint have a leg each
        seats = (lamp.place, joint) if joint else (lamp.place,)
        if lamp.count is not None:
            opened |= {(*entry.path, "series"), (*entry.path, "parallel")}
        if not lamp.dice:
            return tuple(self._strings(entry.path, entry.name, lamp, lamp, structure, opened, seats)) or ((),)
        colours = [
            next(
                self._strings(
                    (*entry.path, "dice", colour), f"{entry.name} {colour}", lamp, die, structure, opened, seats
                ),
                (),
            )
            for colour, die in lamp.dice.items()
        ]  # fmt: skip
        return (tuple(one for some in colours for one in some),)

    def chosen(self, options: Mapping[Path, Sequence[Option]], structure: Structure) -> dict[Path, Option]:
        """How each lamp is put into strings: the longest with the light that was meant; longer ones where heat takes more."""
        equal = equal_light(self._limits)
        found = {
            path: next((one for one in some if _light(one) > equal), some[-1])
            for path, some in options.items()
        }

        def dimmed(chosen: Mapping[Path, Option]) -> int:
            strings = [one for some in chosen.values() for one in some]
            down = self._warmed(strings, structure).down
            return sum(
                one.series * one.parallel * steps_down(min(down[one.path], _light((one,))), equal) ** 2
                for one in strings
            )

        if any(len(some) > 1 for some in options.values()) and (now := dimmed(found)):
            for path, some in options.items():
                for other in some[: some.index(found[path])]:
                    then = dimmed({**found, path: other})
                    if then < now:
                        now, found[path] = then, other
        return found

    def lit(
        self, lamps: Sequence[tuple[Entry, Lamp]], chosen: Mapping[Path, Option], structure: Structure
    ) -> Lit:
        """The lamps with their strings and resistors: as bright as was planned where the places stand it, else less."""
        strings = [one for some in chosen.values() for one in some]
        warm, seats, down = self._warmed(strings, structure)
        found = {entry.path: _counted(lamp, chosen[entry.path]) for entry, lamp in lamps}
        rows = {row.one.path: row for row in valued(self._wish, strings, down, seats, self._limits)}
        for one in strings:
            spec = rows[one.path].spec if one.path in rows else None
            lamp = found[one.path[:2]]
            if len(one.path) > 2 and lamp.dice is not None:
                colour = str(one.path[3])
                die = lamp.dice[colour].model_copy(update={"resistor": spec})
                update: dict[str, Any] = {"dice": FrozenDict({**lamp.dice, colour: die})}
            else:
                update = {"resistor": spec}
            found[one.path[:2]] = lamp.model_copy(update=update)
        planned = {path: row.planned for path, row in rows.items()}
        cool = {path: row.cool for path, row in rows.items() if down[path] < _light((row.one,))}
        return Lit(found, planned, cool, warm)

    def _warmed(self, strings: Sequence[Strings], structure: Structure) -> _Warmed:
        allowed, others = self._stood, self._others
        seats = {one.path: one.seats[-1 if structure.outside == "all" else 0] for one in strings}
        warm = too_full([*others, *(one.warm(one.seats[0]) for one in strings)], allowed)
        if structure.outside == "warm":
            seats |= {one.path: one.seats[-1] for one in strings if one.seats[0] in warm}
        down = factors([*others, *(one.warm(seats[one.path]) for one in strings)], allowed)
        return _Warmed(warm, seats, down)

    @cached_property
    def _stood(self) -> dict[str, float]:
        return allowances(self._wish, self._limits)

    @cached_property
    def _others(self) -> tuple[Warm, ...]:
        return tuple(warm for _, warm in dissipated(self._wish))

    def _strings(
        self, path: Path, name: str, lamp: Lamp, said: Lamp | Die, structure: Structure, opened: set[Path], seats: tuple[str, ...]
    ) -> Iterator[Option]:  # fmt: skip
        """The strings of a lamp, or of one of its colours, whose resistor the file leaves open: each way to make them."""
        if said.resistor is not None or lamp.keep:
            return
        opened.add((*path, "resistor"))
        part = self._parts[name]
        dice, source = part.dice, source_behind(self._wish, self._drivers[said.circuit or ""])
        wanted = part.wanted if isinstance(part, LampPart) else None
        meant = wanted_current(dice, wanted, self._wish.build.air[1], self._limits)
        like = (lamp.kind, said.circuit or "", *map(str, path[3:]))
        ways: Iterable[tuple[Layout, float]] = [(((lamp.series, lamp.parallel),), meant)]
        if lamp.count is not None:
            filament = dice[0].made_for is not None
            ways = [(((1, lamp.count),), meant)]
            if lamp.leads is None and not filament:
                fixed = wanted is not None or source.steady is not None or structure.strings == "plain"
                uneven = source.steady is None and structure.strings == "long" and not self._whole
                uneven = uneven and self._may_be_split(name, lamp)
                ways = layouts(dice, lamp.count, source, meant, self._limits, fixed=fixed, uneven=uneven)
        for layout, current in ways:
            each = dice if lamp.count is not None else dice[: len(dice) // lamp.series]
            yield tuple(
                Strings(
                    (*path, *(("+",) if number else ())), each * series, series, parallel, source, current,
                    wanted is not None, seats, meant, like,
                )
                for number, (series, parallel) in enumerate(layout)
            )  # fmt: skip

    def _may_be_split(self, name: str, lamp: Lamp) -> bool:
        """Whether its LEDs may come in two entries: not where that takes another lead through a passage."""
        several = lamp.dice or lamp.places or lamp.links
        implied = self._wish.implied.get(lamp.circuit or "") == "nothing"
        if several or implied:
            return False
        if lamp.lead is None:
            return True
        joint, to = self._routes.joint(lamp.place), lamp.lead.to
        if joint is not None and to in (None, joint[0]):
            return not whole(joint[1]).through
        # the file says where it goes, and not by which way
        return to is not None and not self._passages.of_leg((name,), lamp.place, to)


def _counted(lamp: Lamp, strings: Option) -> Lamp:
    """A lamp of which the file gives only how many, put into strings."""
    if lamp.count is None:
        return lamp
    series, parallel = (strings[0].series, strings[0].parallel) if strings else (1, lamp.count)
    # what they share follows from where their resistors sit
    update = {"count": None, "leads": None, "series": series, "parallel": parallel, "strings_share": None}
    return lamp.model_copy(update=update)


def _light(strings: Option) -> float:
    return min((one.current / one.meant for one in strings), default=1.0)
