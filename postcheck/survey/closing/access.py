"""What a later repair can reach: every joint, resistor, board, plug and lamp, and what has to be cut open for it."""

from collections.abc import Iterator
from typing import Literal, NamedTuple

from postcheck.description.models import Build
from postcheck.description.problems import Path
from postcheck.wiring import Wiring

Reach = Literal["open", "cover", "cut"]
_REACH: dict[str, Reach] = {"open": "open", "cover": "cover", "sealed": "cut"}


class Reached(NamedTuple):
    """One thing at one place. `reach`: open, behind a cover, or only by cutting something open.

    `kind`: lamp, strip, load, resistor, joint (of the lead of `name` with its line), join (of lines), conductor (one that is
    painted over or trapped), plug, switch, board or supply. `apart`: of a joint, whether it was brought here by a lead, and
    so could be elsewhere; a lamp that is soldered straight to its line where it sits has no other place for it.
    """

    kind: str
    name: str
    place: str
    reach: Reach
    path: Path
    apart: bool = False
    lines: tuple[str, ...] = ()
    number: int = 0


def reached(wiring: Wiring) -> tuple[Reached, ...]:
    """Everything that may once need a repair, in the order of the file."""
    return (*_consumers(wiring), *_lines(wiring), *_fixtures(wiring))


def _reach(build: Build, place: str) -> Reach:
    return _REACH[build.place[place].access]


def _consumers(wiring: Wiring) -> Iterator[Reached]:
    build = wiring.build
    seen: set[str] = set()
    for part in wiring.parts.every:
        path = part.path[:2]
        if part.entry not in seen:
            seen.add(part.entry)
            for place in dict.fromkeys((part.place, *part.places)):
                yield Reached(part.kind, part.entry, place, _reach(build, place), path)
            if part.lead is not None and part.lead.fixed:
                yield Reached("conductor", part.entry, part.place, "cut", (*path, "lead"))
        for place in dict.fromkeys((part.supply_leg.to, part.return_leg.to)):
            yield Reached("joint", part.name, place, _reach(build, place), part.path, part.lead is not None)
        if part.resistor is not None:
            place = part.resistor.place
            yield Reached("resistor", part.name, place, _reach(build, place), part.resistor_path)


def _lines(wiring: Wiring) -> Iterator[Reached]:
    for run in wiring.parts.runs:
        if run.said.fixed:
            for place in run.ends:
                yield Reached("conductor", run.name, place, "cut", run.path)
    for index, join in enumerate(wiring.build.join):
        reach = _reach(wiring.build, join.place)
        yield Reached(
            "join",
            " and ".join(join.lines),
            join.place,
            reach,
            ("join", index),
            True,
            tuple(join.lines),
            index,
        )


def _fixtures(wiring: Wiring) -> Iterator[Reached]:
    build = wiring.build
    for index, plug in enumerate(build.plug):
        for place in plug.places:
            yield Reached("plug", plug.name, place, _reach(build, place), ("plug", index))
    for switch in wiring.switches.values():
        path = (switch.kind, switch.name, "on_off")
        yield Reached("switch", switch.name, switch.place, _reach(build, switch.place), path)
    for name, board in build.board.items():
        yield Reached("board", name, board.place, _reach(build, board.place), ("board", name))
    for name, supply in build.supply.items():
        yield Reached("supply", name, supply.place, _reach(build, supply.place), ("supply", name))
