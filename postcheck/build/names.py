"""Every name in a build must mean something: cross-checks that a single table cannot make for itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator

from postcheck import catalogue
from postcheck.build.cells import cell_problems
from postcheck.build.models import DICE_EXAMPLE, Build, Lead, ResistorSpec
from postcheck.build.naming import lamp_names, line_names, passages_of, run_names, strip_names
from postcheck.build.problems import Path, Problem
from postcheck.build.translate import in_toml
from postcheck.plain import nearest, quoted

__all__ = ["name_problems"]


def name_problems(build: Build) -> list[Problem]:
    """All problems of names and of tables that contradict each other, in the order of the file's sections."""
    checker = _Checker(build)
    return [problem for part in checker.parts() for problem in part]


class _Checker:
    def __init__(self, build: Build) -> None:
        self.build = build
        self.lines = line_names(build)
        self.passages = passages_of(build)

    def parts(self) -> Iterator[Iterator[Problem]]:
        yield self._supplies()
        yield self._passages()
        yield self._boards()
        yield self._circuits()
        yield self._lamps()
        yield self._strips()
        yield self._loads()
        yield self._runs()
        yield self._plugs_and_joins()
        yield self._described()
        yield self._duplicates()
        yield self._usual()

    # -- small tools

    def _known(self, name: str | None, among: Collection[str], what: str, path: Path) -> Iterator[Problem]:
        if name is None or name in among:
            return
        names = list(among)
        near = nearest(name, names)
        if near is not None:
            hint = f"did you mean {quoted(near)}?"
        elif names:
            hint = f"there is {', '.join(quoted(other) for other in names[:6])}{' ...' if len(names) > 6 else ''}"
        else:
            hint = f"the file describes no {what} at all"
        yield Problem("file.unknown-name", path, f"there is no {what} {quoted(name)}", hint)

    def _place(self, name: str | None, path: Path) -> Iterator[Problem]:
        return self._known(name, self.build.place, "place", path)

    def _row(
        self, look_up: Callable[[str], object], own: Iterable[str], name: str | None, what: str, path: Path
    ) -> Iterator[Problem]:
        own = list(own)
        if name is None or name in own:
            return
        try:
            look_up(name)
        except catalogue.UnknownRow as unknown:
            near = nearest(name, [*own, *unknown.near]) or (unknown.near[0] if unknown.near else None)
            hint = f"did you mean {quoted(near)}?" if near else "`postcheck catalogue` lists them"
            yield Problem("file.unknown-name", path, f"there is no {what} {quoted(name)}", hint)

    def _wire(self, name: str | None, path: Path) -> Iterator[Problem]:
        return self._row(catalogue.wire, self.build.wire, name, "wire", path)

    def _lead(self, lead: Lead | None, path: Path) -> Iterator[Problem]:
        if lead is None:
            return
        yield from self._wire(lead.wire, (*path, "wire"))
        for position, wire in enumerate(lead.wires or ()):
            yield from self._wire(wire, (*path, "wires", position))
        yield from self._place(lead.to, (*path, "to"))
        for side, leg in (("feed", lead.feed), ("back", lead.back)):
            if leg is not None:
                yield from self._wire(leg.wire, (*path, side, "wire"))
                yield from self._place(leg.to, (*path, side, "to"))

    def _resistor(self, spec: ResistorSpec | None, path: Path) -> Iterator[Problem]:
        if spec is None:
            return
        yield from self._place(spec.place, (*path, "place"))
        yield from self._row(catalogue.resistor_size, (), spec.size, "resistor size", (*path, "size"))

    # -- sections

    def _supplies(self) -> Iterator[Problem]:
        supplies = self.build.supply
        for name, supply in supplies.items():
            path: Path = ("supply", name)
            yield from self._place(supply.place, (*path, "place"))
            if supply.fuse is not None:
                yield from self._place(supply.fuse.place, (*path, "fuse", "place"))
            yield from self._known(supply.fed_by, supplies, "supply", (*path, "from"))
            yield from self._known(
                supply.shares_negative_with, supplies, "supply", (*path, "shares_negative_with")
            )
            if supply.kind == "battery":
                yield from self._row(
                    catalogue.chemistry, (), supply.chemistry, "cell chemistry", (*path, "chemistry")
                )
                yield from cell_problems(name, supply)
            elif supply.kind in ("adaptor", "converter") and supply.volts is None:
                yield _missing(path, f"{supply.kind} {quoted(name)} needs `volts`", 'such as volts = "12 V"')
            if supply.kind == "converter" and supply.fed_by is None:
                yield _missing(path, f"converter {quoted(name)} needs `from`", "the supply it is fed by")
            if supply.kind != "converter" and supply.fed_by is not None:
                yield Problem(
                    "file.invalid",
                    (*path, "from"),
                    f"only a converter is fed by another supply; {quoted(name)} is {_a(supply.kind)}",
                )
        yield from self._circles()

    def _circles(self) -> Iterator[Problem]:
        told: set[str] = set()
        for name in self.build.supply:
            way: list[str] = []
            at: str | None = name
            while at is not None and at in self.build.supply and at not in way:
                way.append(at)
                at = self.build.supply[at].fed_by
            if at is not None and at in way and not told & set(way):
                ring = [*way[way.index(at) :], at]
                told |= set(way)
                yield Problem("file.invalid", ("supply", at, "from"), f"converters feed each other in a circle: {' from '.join(ring)}",
                              "one of them needs a supply of another kind")  # fmt: skip

    def _passages(self) -> Iterator[Problem]:
        names = {
            *lamp_names(self.build),
            *strip_names(self.build),
            *run_names(self.build),
            *(load.name for load in self.build.load),
        }
        for name, passage in self.passages.items():
            path: Path = ("post",) if name == "post" and self.build.post is passage else ("passage", name)
            yield from self._place(passage.start, (*path, "from"))
            yield from self._place(passage.end, (*path, "to"))
            for position, through in enumerate(passage.through):
                yield from self._known(through, names, "lead or run", (*path, "through", position))

    def _boards(self) -> Iterator[Problem]:
        for name, board in self.build.board.items():
            yield from self._place(board.place, ("board", name, "place"))
            yield from self._known(board.supply, self.build.supply, "supply", ("board", name, "supply"))

    def _circuits(self) -> Iterator[Problem]:
        taken: dict[tuple[str, int], str] = {}
        for name, circuit in self.build.circuit.items():
            path: Path = ("circuit", name)
            yield from self._known(circuit.supply, self.build.supply, "supply", (*path, "supply"))
            yield from self._known(circuit.board, self.build.board, "board", (*path, "board"))
            if circuit.supply is None and circuit.board is None:
                yield _missing(path, f"circuit {quoted(name)} needs `supply` or `board`")
            board = self.build.board.get(circuit.board or "")
            if board is not None and circuit.supply is not None and circuit.supply != board.supply:
                yield Problem(
                    "file.invalid",
                    (*path, "supply"),
                    f"board {quoted(circuit.board or '')} is fed by {quoted(board.supply)}, not by {quoted(circuit.supply)}",
                )
            if circuit.board is not None and circuit.channel is not None:
                if board is not None and board.channels is not None and circuit.channel > board.channels:
                    yield Problem(
                        "file.out-of-range",
                        (*path, "channel"),
                        f"board {quoted(circuit.board)} has {board.channels} channels, not {circuit.channel}",
                    )
                other = taken.setdefault((circuit.board, circuit.channel), name)
                if other != name:
                    yield Problem(
                        "file.duplicate-name",
                        (*path, "channel"),
                        f"channel {circuit.channel} of board {quoted(circuit.board)} already drives circuit {quoted(other)}",
                    )
            if name.endswith(("+", "-")):
                yield Problem(
                    "file.invalid",
                    path,
                    f"the name {quoted(name)} ends like the pole of a supply",
                    "give the circuit another name",
                    "key",
                )

    def _lamps(self) -> Iterator[Problem]:
        kinds = self.build.lamp_kind
        for index, lamp in enumerate(self.build.lamp):
            path: Path = ("lamp", index)
            yield from self._known(lamp.circuit, self.build.circuit, "circuit", (*path, "circuit"))
            yield from self._row(catalogue.lamp, kinds, lamp.kind, "kind of lamp", (*path, "kind"))
            yield from self._place(lamp.place, (*path, "place"))
            yield from self._resistor(lamp.resistor, (*path, "resistor"))
            yield from self._lead(lamp.lead, (*path, "lead"))
            for position, link in enumerate(lamp.links or ()):
                yield from self._lead(link, (*path, "links", position))
            for position, place in enumerate(lamp.places or ()):
                yield from self._place(place, (*path, "places", position))
            if lamp.places is not None and len(lamp.places) != lamp.series:
                yield Problem(
                    "file.out-of-range",
                    (*path, "places"),
                    f"{lamp.series} lamps in series need {lamp.series} places, not {len(lamp.places)}",
                )
            if lamp.links is not None and len(lamp.links) != lamp.series - 1:
                yield Problem(
                    "file.out-of-range",
                    (*path, "links"),
                    f"{lamp.series} lamps in series have {lamp.series - 1} links, not {len(lamp.links)}",
                )
            yield from self._dice(index, path)

    def _dice(self, index: int, path: Path) -> Iterator[Problem]:
        lamp = self.build.lamp[index]
        if lamp.dice is None:
            if lamp.circuit is None:
                yield _missing(path, f"lamp {quoted(lamp_names(self.build)[index])} needs `circuit`")
            return
        form = f"write dice = {in_toml(DICE_EXAMPLE)}"
        for_all = [
            key for key, said in (("circuit", lamp.circuit), ("resistor", lamp.resistor)) if said is not None
        ]
        if for_all:
            yield Problem(
                "file.invalid", (*path, for_all[0]),
                f"a lamp with `dice` has a {' and a '.join(for_all)} for each colour, and none for all",
                f"leave {'it' if len(for_all) == 1 else 'them'} out and {form}", "key",
            )  # fmt: skip
        elif not lamp.dice:
            yield Problem("file.out-of-range", (*path, "dice"), "no colour is given", form)
        for colour, die in lamp.dice.items():
            yield from self._known(
                die.circuit, self.build.circuit, "circuit", (*path, "dice", colour, "circuit")
            )
            yield from self._resistor(die.resistor, (*path, "dice", colour, "resistor"))
        if lamp.kind not in self.build.lamp_kind:
            try:
                row = catalogue.lamp(lamp.kind)
            except catalogue.UnknownRow:
                return
            colours = [die.colour for die in getattr(row, "dice", ())]
            for colour in lamp.dice:
                yield from self._known(
                    colour, colours, f"colour of {quoted(lamp.kind)}:", (*path, "dice", colour)
                )

    def _strips(self) -> Iterator[Problem]:
        for index, strip in enumerate(self.build.strip):
            path: Path = ("strip", index)
            yield from self._known(strip.circuit, self.build.circuit, "circuit", (*path, "circuit"))
            yield from self._row(
                catalogue.strip, self.build.strip_kind, strip.kind, "kind of strip", (*path, "kind")
            )
            yield from self._place(strip.place, (*path, "place"))
            yield from self._place(strip.far_end, (*path, "far_end"))
            yield from self._lead(strip.lead, (*path, "lead"))
            if strip.length is None and strip.segments is None:
                yield _missing(
                    path, f"strip {quoted(strip_names(self.build)[index])} needs `length` or `segments`"
                )

    def _loads(self) -> Iterator[Problem]:
        for index, load in enumerate(self.build.load):
            yield from self._known(load.circuit, self.build.circuit, "circuit", ("load", index, "circuit"))
            yield from self._place(load.place, ("load", index, "place"))
            yield from self._lead(load.lead, ("load", index, "lead"))

    def _runs(self) -> Iterator[Problem]:
        for index, run in enumerate(self.build.run):
            path: Path = ("run", index)
            for position, place in enumerate(run.ends):
                yield from self._place(place, (*path, "ends", position))
            if run.ends[0] == run.ends[1]:
                yield Problem(
                    "file.invalid",
                    (*path, "ends"),
                    f"run {quoted(run_names(self.build)[index])} begins and ends at {quoted(run.ends[0])}",
                )
            yield from self._wire(run.wire, (*path, "wire"))
            yield from self._known(run.cable, self.build.cable, "cable", (*path, "cable"))
            for position, passage in enumerate(run.through or ()):
                yield from self._known(passage, self.passages, "passage", (*path, "through", position))
            if run.line is None and not run.spare and run.carries == "power":
                yield _missing(
                    path, f"run {quoted(run_names(self.build)[index])} needs `line`", "or `spare = true`"
                )
            if run.carries == "power":
                yield from self._known(run.line, self.lines, "line", (*path, "line"))

    def _plugs_and_joins(self) -> Iterator[Problem]:
        for index, plug in enumerate(self.build.plug):
            for position, place in enumerate(plug.ends):
                yield from self._place(place, ("plug", index, "ends", position))
            for position, line in enumerate(plug.pins):
                yield from self._known(line, self.lines, "line", ("plug", index, "pins", position))
            for position, passage in enumerate(plug.through):
                yield from self._known(
                    passage, self.passages, "passage", ("plug", index, "through", position)
                )
        for index, join in enumerate(self.build.join):
            yield from self._place(join.place, ("join", index, "place"))
            for position, line in enumerate(join.lines):
                yield from self._known(line, self.lines, "line", ("join", index, "lines", position))

    def _described(self) -> Iterator[Problem]:
        for name, kind in self.build.lamp_kind.items():
            path: Path = ("lamp_kind", name)
            if kind.kind == "led" and kind.forward is None:
                yield _missing(
                    path, f"LED {quoted(name)} needs `forward`", 'such as forward = "2.9/3.2/3.6 V"'
                )
            if kind.kind == "filament" and kind.volts is None:
                yield _missing(path, f"filament lamp {quoted(name)} needs `volts`")
            if kind.forward is not None and kind.low_forward is not None:
                at, low = (
                    kind.at or kind.rated,
                    kind.low_at if kind.low_at is not None else (kind.at or kind.rated) / 4,
                )
                if not (kind.low_forward < kind.forward[1] and low < at):
                    yield Problem(
                        "file.wrong-order",
                        (*path, "low_forward"),
                        "the second point of the curve must lie below the first, in volts and in amps",
                    )
        for name, strip in self.build.strip_kind.items():
            yield from self._row(
                catalogue.lamp, self.build.lamp_kind, strip.kind, "kind of lamp", ("strip_kind", name, "kind")
            )

    def _duplicates(self) -> Iterator[Problem]:
        loads = tuple(load.name for load in self.build.load)
        kinds = (("lamp", lamp_names(self.build)), ("strip", strip_names(self.build)), ("load", loads),
                 ("run", run_names(self.build)), ("plug", tuple(plug.name for plug in self.build.plug)))  # fmt: skip
        for kind, names in kinds:
            twice = {name for name, count in Counter(names).items() if count > 1}
            seen: set[str] = set()
            for index, name in enumerate(names):
                if name in twice and name in seen:
                    yield Problem(
                        "file.duplicate-name",
                        (kind, index, "name"),
                        f"there is already a {kind} named {quoted(name)}",
                        "give each its own name",
                    )
                seen.add(name)
        lamps = set(lamp_names(self.build))
        for kind, names in kinds[1:3]:
            for index, name in enumerate(names):
                if name in lamps:
                    yield Problem(
                        "file.duplicate-name",
                        (kind, index, "name"),
                        f"there is already a lamp named {quoted(name)}",
                        "give each its own name",
                    )

    def _usual(self) -> Iterator[Problem]:
        yield from self._wire(self.build.usual.lead, ("usual", "lead"))
        yield from self._wire(self.build.usual.run, ("usual", "run"))
        for position, wire in enumerate(self.build.stock.wires or ()):
            yield from self._wire(wire, ("stock", "wires", position))


def _missing(path: Path, says: str, hint: str | None = None) -> Problem:
    return Problem("file.missing", path, says, hint, "key")


def _a(word: str) -> str:
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"
