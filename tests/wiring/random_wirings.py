"""Random wirings as build files, and who is joined to whom in them by a reading of their own.

A wiring is a list of pieces, each between two points: a line at a place, the supply side of a plug that sits there, the near
end of a strip. Nothing here imports postcheck; answers are found by growing sets of points until nothing is added.

How the file format is read here:
- a run joins its line at its two places, a plug with `ends` each of its pins, a join its lines at its place;
- a circuit begins where its board or supply is, by its switch, and a return of its own there at the other pole;
- a strip that feeds something from its far end joins both of its lines there to those at its near end, behind its lead;
- the negative of a converter is its source's, and supplies may share theirs: two names of one line. Where more than one of
  the names has a conductor at a place they are apart there, and a name without one goes by the nearest that it is one with;
  at a supply's own place its name is never apart;
- a plug that sits at a place parts each of its lines there: what comes from where nets begin ends on its supply side.
"""

from __future__ import annotations

import itertools
import json
import random
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any, NamedTuple

__all__ = ["Piece", "Point", "Wired", "distance", "grown", "make"]


class Point(NamedTuple):
    """A line at a place; `end`: "ahead" on the supply side of a plug there, else the strip whose near end it is."""

    line: str
    place: str
    end: str = ""


class Piece(NamedTuple):
    """What joins two points: of a kind, the how-manieth of something named."""

    kind: str
    name: str
    number: int
    a: Point
    b: Point


def grown(starts: Iterable[Point], pieces: Collection[Piece], past: Collection[Point] = ()) -> set[Point]:
    """All that is joined to some points, by no way past others."""
    found = set(starts) - set(past)
    while True:
        more = {q for piece in pieces for p, q in itertools.permutations((piece.a, piece.b)) if p in found}
        more -= found | set(past)
        if not more:
            return found
        found |= more


def distance(a: Point, b: Point, pieces: Collection[Piece]) -> int | None:
    """How many pieces lie between two points at least."""
    shell, found, far = {a}, {a}, 0
    while b not in found:
        shell = {
            q for piece in pieces for p, q in itertools.permutations((piece.a, piece.b)) if p in shell
        } - found
        if not shell:
            return None
        found |= shell
        far += 1
    return far


@dataclass
class Wired:
    """A build file, and what it says: pieces in the order of the file, and the poles of its supplies."""

    rng: random.Random
    places: list[str]
    toml: list[str] = field(default_factory=list)
    supplies: dict[str, str] = field(default_factory=dict)  # name -> place
    parent: dict[str, str] = field(default_factory=dict)  # negative -> the one that it is one with
    fed: dict[str, str] = field(default_factory=dict)  # converter -> the supply that feeds it
    circuits: dict[str, tuple[str, str, str, str]] = field(
        default_factory=dict
    )  # pole, other pole, return, place
    runs: list[tuple[str, str, str, str, int]] = field(default_factory=list)  # name, line, ends, conductors
    plugs: list[tuple[str, tuple[str, ...], list[str]]] = field(default_factory=list)  # name, places, lines
    joins: list[tuple[str, list[str]]] = field(default_factory=list)
    strips: list[tuple[str, str, str, str, str | None]] = field(
        default_factory=list
    )  # name, circuit, place, far, lead
    lamps: list[tuple[str, str]] = field(default_factory=list)  # circuit, place

    def table(self, head: str, **keys: Any) -> None:
        said = (
            f"{key.rstrip('_')} = {json.dumps(value)}" for key, value in keys.items() if value is not None
        )
        self.toml += [head, *said, ""]

    @property
    def lines(self) -> list[str]:
        returns = [back for _, _, back, _ in self.circuits.values()]
        return list(
            dict.fromkeys(
                [*(f"{name}{sign}" for name in self.supplies for sign in "+-"), *self.circuits, *returns]
            )
        )

    # -- one line under several names

    def root(self, line: str) -> str:
        return self.root(self.parent[line]) if line in self.parent else line

    def home(self, line: str) -> str | None:
        return self.supplies.get(line[:-1]) if line.endswith("-") else None

    def at(self, line: str, place: str) -> Point:
        """Where a line is at a place: behind a plug that sits there."""
        conductors = [(line, end) for _, line, *ends, _ in self.runs for end in ends]
        conductors += [(line, end) for _, ends, lines in self.plugs for line in lines for end in ends]
        there = {name for name, end in conductors if end == place and self.root(name) == self.root(line)}
        if len(there) > 1:
            while line in self.parent:
                if line in there and self.home(line) != place:
                    return Point(line, place)
                line = self.parent[line]
        return Point(self.root(line), place)

    # -- pieces

    def pieces(self) -> list[Piece]:
        """All pieces, those of plugs at places too."""
        whole = list(self._whole())
        parted = list(
            dict.fromkeys(
                self.at(line, ends[0]) for _, ends, lines in self.plugs if len(ends) == 1 for line in lines
            )
        )
        begin = self.begin()
        ahead: set[tuple[Point, Piece]] = set()
        for point in parted:
            supplied = grown(begin - {point}, whole, past={point})
            for piece in whole:
                other = {piece.a: piece.b, piece.b: piece.a}.get(point)
                switched = point in begin and piece.kind in ("channel", "own return")
                if other is not None and (other in supplied or switched):
                    ahead.add((point, piece))
        moved = [
            piece._replace(**{
                side: point._replace(end="ahead")
                for side, point in (("a", piece.a), ("b", piece.b))
                if (point, piece) in ahead
            })
            for piece in whole
        ]  # fmt: skip
        for name, ends, lines in self.plugs:
            if len(ends) == 1:
                for number, line in enumerate(lines):
                    point = self.at(line, ends[0])
                    moved.append(Piece("pin", name, number, point._replace(end="ahead"), point))
        return moved

    def begin(self) -> set[Point]:
        """Where nets begin: the poles, but for a negative that is another supply's, unless that is there as well."""
        found = set()
        for name, place in self.supplies.items():
            found.add(self.at(f"{name}+", place))
            line, together = f"{name}-", True
            while line in self.parent:
                line = self.parent[line]
                together = together and self.home(line) == place
            if together:
                found.add(self.at(f"{name}-", place))
        return found

    def sources(self) -> set[Point]:
        """The poles of all supplies; where nets begin, ahead of a plug that sits there."""
        begin = self.begin()
        parted = {self.at(line, ends[0]) for _, ends, lines in self.plugs if len(ends) == 1 for line in lines}
        found = set()
        for name, place in self.supplies.items():
            for sign in "+-":
                point = self.at(f"{name}{sign}", place)
                found.add(point._replace(end="ahead") if point in parted and point in begin else point)
        return found

    def _whole(self) -> Iterator[Piece]:
        for name, line, start, end, conductors in self.runs:
            for number in range(conductors):
                yield Piece("conductor", name, number, self.at(line, start), self.at(line, end))
        for name, ends, lines in self.plugs:
            if len(ends) == 2:
                for number, line in enumerate(lines):
                    yield Piece("pin", name, number, self.at(line, ends[0]), self.at(line, ends[1]))
        for number, (place, lines) in enumerate(self.joins):
            for line in lines[1:]:
                yield Piece("joint", place, number, self.at(lines[0], place), self.at(line, place))
        for name, (pole, other, back, place) in self.circuits.items():
            if back != other:
                yield Piece("own return", name, -1, self.at(other, place), self.at(back, place))
            yield Piece("channel", name, 0, self.at(pole, place), self.at(name, place))
        for name, circuit, place, far, lead in self.strips:
            for number, line in enumerate((circuit, self.circuits[circuit][2])):
                near = self.at(line, lead or place)
                if lead is not None:
                    end = Point(near.line, place, name)
                    yield Piece("leg", name, number, near, end)
                    near = end
                yield Piece("trace", name, number, near, self.at(line, far))

    # -- what the file is refused for, or asks

    def refused(self) -> bool:
        """Whether a plug lies beside a run of its line."""
        pieces = self.pieces()
        runs = [{piece.a, piece.b} for piece in pieces if piece.kind == "conductor"]
        return any({piece.a, piece.b} in runs for piece in pieces if piece.kind == "pin")

    def half(self) -> bool:
        """Whether a lamp, strip or run is out of reach of all supplies, or a converter or board of its own."""
        pieces = self.pieces()
        live = grown(self.sources(), pieces)
        hung = [*self.lamps, *((circuit, lead or place) for _, circuit, place, _, lead in self.strips)]
        wanted = {
            self.at(line, place) for circuit, place in hung for line in (circuit, self.circuits[circuit][2])
        }
        wanted |= {point for piece in pieces if piece.kind == "conductor" for point in (piece.a, piece.b)}
        takes = [(f"{other}{sign}", self.supplies[name]) for name, other in self.fed.items() for sign in "+-"]
        for circuit, _ in hung:
            pole, other, back, place = self.circuits[circuit]
            takes += [(line, place) for line in ((pole, other) if back != other else (pole,))]
        return not wanted <= live or any(
            self.at(line, place) not in grown({self.at(line, self.supplies[line[:-1]])}, pieces)
            for line, place in takes
        )


def make(seed: int) -> Wired:
    """One wiring; some are refused."""
    rng = random.Random(seed)
    wired = Wired(rng, [f"deck{number}" for number in range(rng.randint(2, 5))])
    wired.toml.append("format = 1\n")
    wired.table("[build]", name="Tender")
    for place in wired.places:
        wired.table(f"[place.{place}]", access="open")
    wired.table("[wire.thin]", strand="0.10 mm", outside="0.5 mm")
    wired.table("[strip_kind.short]", volts="12 V", segment="50 mm", series=1, ohms="1k", kind="smd-0603-red")
    _supplies(wired)
    _circuits(wired)
    _conductors(wired)
    _hung(wired)
    return wired


def _supplies(wired: Wired) -> None:
    rng = wired.rng
    for name in ["main", "aux", "low"][: rng.choice([1, 1, 2, 3])]:
        place = rng.choice(wired.places)
        keys: dict[str, Any] = {"kind": "adaptor", "volts": "12 V"}
        if name != "main" and rng.random() < 0.6:
            other = rng.choice(list(wired.supplies))
            wired.parent[f"{name}-"] = f"{other}-"
            if rng.random() < 0.5:
                keys["shares_negative_with"] = other
            else:
                keys = {"kind": "converter", "from_": other, "volts": "5 V"}
                wired.fed[name] = other
        wired.supplies[name] = place
        wired.table(f"[supply.{name}]", place=place, rated="1 A", **keys)


def _circuits(wired: Wired) -> None:
    rng, boards = wired.rng, {}
    for number in range(rng.randint(1, 4)):
        name, supply, negative = f"c{number}", rng.choice(list(wired.supplies)), rng.random() < 0.3
        board = f"board-{supply}" if rng.random() < 0.3 else None
        if board is not None and board not in boards:
            boards[board] = rng.choice(wired.places)
            wired.table(f"[board.{board}]", supply=supply, place=boards[board])
        own = rng.random() < 0.3
        pole, other = (f"{supply}{sign}" for sign in ("-+" if negative else "+-"))
        place = boards[board] if board else wired.supplies[supply]
        wired.circuits[name] = (pole, other, f"{name}-return" if own else other, place)
        wired.table(
            f"[circuit.{name}]", supply=None if board else supply, board=board, own_return=own or None,
            switched="negative" if negative else None,
        )  # fmt: skip


def _conductors(wired: Wired) -> None:
    """Runs and pins that mostly begin where their line is already; joins and strips anywhere."""
    rng = wired.rng
    for number in range(rng.randint(2, 9)):
        line = rng.choice(wired.lines)
        live = grown(wired.sources(), wired.pieces())
        known = [place for place in wired.places if wired.at(line, place) in live]
        start = rng.choice(known) if known and rng.random() < 0.97 else rng.choice(wired.places)
        end = rng.choice([place for place in wired.places if place != start])
        if rng.random() < 0.2:
            beside = [other for other in wired.lines if other != line and rng.random() < 0.3]
            _plug(wired, f"plug {number}", (start, end) if rng.random() < 0.5 else (end,), [line, *beside])
        elif rng.random() < 0.15 and len(wired.lines) > 2:
            wired.joins.append((start, rng.sample(wired.lines, rng.choice([2, 2, 3]))))
            wired.table("[[join]]", place=start, lines=wired.joins[-1][1])
        else:
            count = rng.choice([1, 1, 1, 2])
            ends = (start, end) if rng.random() < 0.5 else (end, start)
            wired.runs.append((f"run {number}", line, *ends, count))
            wired.table(
                "[[run]]",
                name=f"run {number}",
                line=line,
                ends=ends,
                wire="thin",
                length="1 m",
                conductors=count,
            )


def _plug(wired: Wired, name: str, ends: tuple[str, ...], lines: list[str]) -> None:
    if len(ends) == 1:  # a line goes through one plug at a place, and once
        roots: dict[str, str] = {}
        taken = {wired.root(line) for _, places, others in wired.plugs if places == ends for line in others}
        for line in lines:
            roots.setdefault(wired.root(line), line)
        lines = [line for root, line in roots.items() if root not in taken]
    if lines:
        wired.plugs.append((name, ends, lines))
        where = {"at": ends[0]} if len(ends) == 1 else {"ends": ends}
        wired.table("[[plug]]", name=name, pins=lines, contact="20 mohm", keyed=True, **where)


def _hung(wired: Wired) -> None:
    """Strips and lamps, mostly where their lines are."""
    rng = wired.rng
    for number in range(rng.choice([0, 0, 1, 2])):
        circuit = rng.choice(list(wired.circuits))
        place, joint = rng.choice(wired.places), _where(wired, circuit)
        lead = joint if joint != place or rng.random() < 0.3 else None
        far = rng.choice([other for other in wired.places if other not in (place, joint)] or [None])
        if far is None:
            continue
        wired.strips.append((f"strip {number}", circuit, place, far, lead))
        wired.table(
            "[[strip]]", name=f"strip {number}", circuit=circuit, kind="short", place=place, segments=1, far_end=far,
            lead=f"100 mm of thin to {lead}" if lead else None, trace="1 ohm/m",
        )  # fmt: skip
    for number in range(rng.randint(1, 2)):
        circuit = rng.choice(list(wired.circuits))
        wired.lamps.append((circuit, _where(wired, circuit)))
        wired.table(
            "[[lamp]]", name=f"lamp {number}", circuit=circuit, kind="smd-0603-red", place=wired.lamps[-1][1],
            resistor="1k",
        )  # fmt: skip


def _where(wired: Wired, circuit: str) -> str:
    live = grown(wired.sources(), wired.pieces())
    back = wired.circuits[circuit][2]
    good = [place for place in wired.places if {wired.at(circuit, place), wired.at(back, place)} <= live]
    return wired.rng.choice(good if good and wired.rng.random() < 0.97 else wired.places)
