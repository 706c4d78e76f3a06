"""Every name in a build must mean something: cross-checks that a single table cannot make for itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator
from functools import partial
from itertools import islice

from postcheck import catalogue
from postcheck.description.cells import cell_problems
from postcheck.description.consumers import CONSUMERS, entries
from postcheck.description.curves import curve_points, is_a_diode
from postcheck.description.models import (
    DICE_EXAMPLE,
    MOST_SEGMENTS,
    Build,
    FuseSpec,
    Lamp,
    LampKind,
    Lead,
    ResistorSpec,
    Strip,
)
from postcheck.description.naming import line_names, passages_of, run_names
from postcheck.description.problems import MOST_GUESSES, Path, Problem
from postcheck.description.quantities import Dimension, format_apart, format_quantity
from postcheck.description.subjects import subjects
from postcheck.description.translate import in_toml
from postcheck.physics.bundle import smallest_possible
from postcheck.plain import nearest, quoted

__all__ = ["name_problems"]


def name_problems(build: Build) -> list[Problem]:
    """All problems of names and of tables that contradict each other, in the order of the file's sections."""
    checker = _Checker(build)
    return [problem for part in checker.parts() for problem in part]


class _Checker:
    def __init__(self, build: Build) -> None:
        self.build = build
        self.lines = dict.fromkeys(line_names(build))
        self.passages = passages_of(build)
        self.entries, self.run_names = tuple(entries(build)), run_names(build)
        self.guesses: dict[tuple[str, str], str | None] = {}

    def parts(self) -> Iterator[Iterator[Problem]]:
        yield self._supplies()
        yield self._passages()
        yield self._boards()
        yield self._circuits()
        yield self._consumers()
        yield self._runs()
        yield self._cables()
        yield self._plugs_and_joins()
        yield self._described()
        yield self._test_records()
        yield self._duplicates()
        yield self._usual()

    # -- small tools

    def _known(self, name: str | None, among: Collection[str], what: str, path: Path) -> Iterator[Problem]:
        if name is None or name in among:
            return
        near = self._guess(what, name, lambda: nearest(name, among))
        if near is not None:
            hint = f"did you mean {quoted(near)}?"
        elif among:
            listed = ", ".join(quoted(other) for other in islice(among, 6))
            hint = f"there is {listed}{' ...' if len(among) > 6 else ''}"
        else:
            hint = f"the file describes no {what} at all"
        yield Problem("file.unknown-name", path, f"there is no {what} {quoted(name)}", hint)

    def _guess(self, what: str, name: str, near: Callable[[], str | None]) -> str | None:
        """The name that was probably meant: each is looked for once, and of very many only the first."""
        if (what, name) not in self.guesses:
            self.guesses[what, name] = near() if len(self.guesses) < MOST_GUESSES else None
        return self.guesses[what, name]

    def _place(self, name: str | None, path: Path) -> Iterator[Problem]:
        return self._known(name, self.build.place, "place", path)

    def _row(
        self, look_up: Callable[[str], object], own: Collection[str], name: str | None, what: str, path: Path
    ) -> Iterator[Problem]:
        if name is None or name in own:
            return
        try:
            look_up(name)
        except catalogue.UnknownRow as unknown:
            near = self._guess(what, name, partial(_nearest_row, name, own, unknown))
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
                yield from _trips(supply.fuse, (*path, "fuse"))
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
        names = {*(entry.name for entry in self.entries), *self.run_names}
        for name, passage in self.passages.items():
            path: Path = ("post",) if name == "post" and self.build.post is passage else ("passage", name)
            yield from self._place(passage.start, (*path, "from"))
            yield from self._place(passage.end, (*path, "to"))
            sizes = {"bore": passage.bore, "length": passage.length, "free": passage.free}
            for key in [key for key, size in sizes.items() if size == 0.0]:
                yield Problem(
                    "file.out-of-range",
                    (*path, key),
                    f"`{key}` is nothing; wires need more than that to go through",
                )
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
            if circuit.own_return and f"{name}-return" in self.build.circuit:
                yield Problem(
                    "file.duplicate-name",
                    ("circuit", f"{name}-return"),
                    f"{quoted(f'{name}-return')} is already the line of circuit {quoted(name)}'s own return",
                    "give the circuit another name",
                    "key",
                )
            if name.endswith(("+", "-")):
                yield Problem(
                    "file.invalid",
                    path,
                    f"the name {quoted(name)} ends like the pole of a supply",
                    "give the circuit another name",
                    "key",
                )

    def _consumers(self) -> Iterator[Problem]:
        rows = {
            "lamp": (catalogue.lamp, self.build.lamp_kind),
            "strip": (catalogue.strip, self.build.strip_kind),
        }
        for entry in self.entries:
            path, said = entry.path, entry.said
            yield from self._known(said.circuit, self.build.circuit, "circuit", (*path, "circuit"))
            if isinstance(said, Lamp | Strip):
                yield from self._row(*rows[entry.kind], said.kind, f"kind of {entry.kind}", (*path, "kind"))
            yield from self._place(said.place, (*path, "place"))
            if isinstance(said, Lamp):
                yield from self._resistor(said.resistor, (*path, "resistor"))
            elif isinstance(said, Strip):
                yield from self._place(said.far_end, (*path, "far_end"))
            yield from self._lead(said.lead, (*path, "lead"))
            if isinstance(said, Lamp):
                yield from self._chain(said, path)
                yield from self._dice(said, entry.name, path)
            elif isinstance(said, Strip):
                yield from self._segments(said, entry.name, path)

    def _chain(self, lamp: Lamp, path: Path) -> Iterator[Problem]:
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

    def _dice(self, lamp: Lamp, name: str, path: Path) -> Iterator[Problem]:
        if lamp.dice is None:
            if lamp.circuit is None:
                yield _missing(path, f"lamp {quoted(name)} needs `circuit`")
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
        sides = {
            circuit.switched: (colour, die.circuit)
            for colour, die in lamp.dice.items()
            if (circuit := self.build.circuit.get(die.circuit)) is not None
        }
        if len(sides) > 1:
            (colour, negative), (other, positive) = sides["negative"], sides["positive"]
            yield Problem(
                "file.invalid",
                (*path, "dice", colour, "circuit"),
                f"{colour} on {quoted(negative)} is switched in the negative and {other} on {quoted(positive)} in the "
                "positive, but the colours share one leg",
                "switch all colours of a lamp on the same side",
            )
        yield from self._colours(lamp, path)

    def _colours(self, lamp: Lamp, path: Path) -> Iterator[Problem]:
        """Colours in `dice` that the kind of lamp has not."""
        colours: list[str] = []
        if lamp.kind not in self.build.lamp_kind:
            try:
                colours = [die.colour for die in getattr(catalogue.lamp(lamp.kind), "dice", ())]
            except catalogue.UnknownRow:
                return
        if colours:
            for colour in lamp.dice or ():
                yield from self._known(
                    colour, colours, f"colour of {quoted(lamp.kind)}:", (*path, "dice", colour)
                )
        elif lamp.dice:
            yield Problem(
                "file.invalid", (*path, "dice"), f"{quoted(lamp.kind)} has one colour only, and needs no `dice`",
                "write `circuit` and `resistor` instead, and a [[lamp]] of its own for each colour", "key",
            )  # fmt: skip

    def _segments(self, strip: Strip, name: str, path: Path) -> Iterator[Problem]:
        if strip.length is None and strip.segments is None:
            yield _missing(path, f"strip {quoted(name)} needs `length` or `segments`")
        if (own := self.build.strip_kind.get(strip.kind)) is not None:
            segment = own.segment
        else:
            try:
                segment = catalogue.strip(strip.kind).segment_length
            except catalogue.UnknownRow:
                return
        if strip.segments is None and strip.length is not None and strip.length / segment > MOST_SEGMENTS:
            yield Problem(
                "file.out-of-range",
                (*path, "length"),
                f"{_length(strip.length)} are more than {MOST_SEGMENTS} segments of {_length(segment)}",
                "is the length of a segment right?",
            )

    def _runs(self) -> Iterator[Problem]:
        for index, run in enumerate(self.build.run):
            path: Path = ("run", index)
            for position, place in enumerate(run.ends):
                yield from self._place(place, (*path, "ends", position))
            if run.ends[0] == run.ends[1]:
                yield Problem(
                    "file.invalid",
                    (*path, "ends"),
                    f"run {quoted(self.run_names[index])} begins and ends at {quoted(run.ends[0])}",
                )
            yield from self._wire(run.wire, (*path, "wire"))
            yield from self._known(run.cable, self.build.cable, "cable", (*path, "cable"))
            for position, passage in enumerate(run.through or ()):
                yield from self._known(passage, self.passages, "passage", (*path, "through", position))
            if run.line is None and not run.spare and run.carries == "power":
                yield _missing(path, f"run {quoted(self.run_names[index])} needs `line`", "or `spare = true`")
            if run.carries == "power":
                yield from self._known(run.line, self.lines, "line", (*path, "line"))

    def _cables(self) -> Iterator[Problem]:
        within: dict[str, list[float]] = {}
        for run in self.build.run:
            diameter = self._outside(run.wire or self.build.usual.run)
            if run.cable is not None and diameter is not None and not run.body:
                within.setdefault(run.cable, []).extend([diameter] * run.conductors)
        for name, diameters in within.items():
            cable = self.build.cable.get(name)
            least = smallest_possible(diameters)
            if cable is not None and least > cable.outside * (1.0 + 1e-9):
                outside, needed = format_apart(Dimension.LENGTH, cable.outside, least)
                what = "conductor needs" if len(diameters) == 1 else f"{len(diameters)} conductors need"
                yield Problem(
                    "file.invalid",
                    ("cable", name, "outside"),
                    f"cable {quoted(name)} is {outside} outside, and its {what} at least {needed}",
                    "measure the cable, or name the wire that is in it",
                )

    def _outside(self, wire: str | None) -> float | None:
        if wire is None:
            return None
        if (own := self.build.wire.get(wire)) is not None:
            return own.outside
        try:
            return catalogue.wire(wire).max_diameter
        except catalogue.UnknownRow:
            return None

    def _plugs_and_joins(self) -> Iterator[Problem]:
        for index, plug in enumerate(self.build.plug):
            yield from self._place(plug.at, ("plug", index, "at"))
            for position, place in enumerate(plug.ends or ()):
                yield from self._place(place, ("plug", index, "ends", position))
            if plug.at is None and plug.ends is None:
                yield _missing(
                    ("plug", index),
                    f"plug {quoted(plug.name)} needs `at`",
                    'the place where it sits, such as at = "hub"',
                )
            if plug.at is not None and plug.ends is not None:
                yield Problem("file.invalid", ("plug", index, "ends"), f"plug {quoted(plug.name)} has `at` and `ends`",
                              "leave `ends` out: the runs go to the plug, and what is at the place is behind it", "key")  # fmt: skip
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
            if kind.kind == "led" and kind.forward is not None:
                yield from self._curve(kind, path)
        for name, strip in self.build.strip_kind.items():
            yield from self._row(
                catalogue.lamp, self.build.lamp_kind, strip.kind, "kind of lamp", ("strip_kind", name, "kind")
            )

    def _test_records(self) -> Iterator[Problem]:
        if not self.build.proof:
            return
        known = subjects(self.build)
        for index, record in enumerate(self.build.proof):
            what = "part"
            yield from self._known(record.subject, known, what, ("proof", index, "subject"))
            yield from self._place(record.at, ("proof", index, "at"))

    def _curve(self, kind: LampKind, path: Path) -> Iterator[Problem]:
        (low, low_at), (typical, at) = curve_points(kind)
        if kind.low_forward is not None and not (low < typical and low_at < at):
            yield Problem(
                "file.wrong-order",
                (*path, "low_forward"),
                "the second point of the curve must lie below the first, in volts and in amps",
            )
        elif not is_a_diode(kind):
            points = " and ".join(
                f"{format_quantity(max(volts, 0.0), Dimension.VOLTAGE)} at {format_quantity(amps, Dimension.CURRENT)}"
                for volts, amps in ((low, low_at), (typical, at))
            )
            yield Problem(
                "file.invalid",
                (*path, "forward" if kind.low_forward is None else "low_forward"),
                f"no LED has a curve through {points}",
                "read two points off its data sheet: the rated current, and about a quarter of it",
            )

    def _duplicates(self) -> Iterator[Problem]:
        named = {
            kind: tuple(entry.name for entry in self.entries if entry.kind == kind) for kind in CONSUMERS
        }
        others = {"run": self.run_names, "plug": tuple(plug.name for plug in self.build.plug)}
        for kind, names in (*named.items(), *others.items()):
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
        # what takes current is told apart by its name alone; each colour of a lamp bears one too
        taken: dict[str, str] = {colour: entry.kind for entry in self.entries for colour in entry.colours}
        for kind, names in named.items():
            for index, name in enumerate(names):
                if name in taken:
                    yield Problem(
                        "file.duplicate-name",
                        (kind, index, "name"),
                        f"there is already a {taken[name]} named {quoted(name)}",
                        "give each its own name",
                    )
            taken |= {name: taken.get(name, kind) for name in names}

    def _usual(self) -> Iterator[Problem]:
        yield from self._wire(self.build.usual.lead, ("usual", "lead"))
        yield from self._wire(self.build.usual.run, ("usual", "run"))
        if (usual := self.build.usual.resistor) is not None:
            yield from self._row(
                catalogue.resistor_size, (), usual.size, "resistor size", ("usual", "resistor", "size")
            )
        for position, wire in enumerate(self.build.stock.wires or ()):
            yield from self._wire(wire, ("stock", "wires", position))


def _nearest_row(name: str, own: Collection[str], unknown: catalogue.UnknownRow) -> str | None:
    near = unknown.near
    return nearest(name, [*own, *near]) or (near[0] if near else None)


def _length(metres: float) -> str:
    return format_quantity(metres, Dimension.LENGTH)


def _trips(fuse: FuseSpec, path: Path) -> Iterator[Problem]:
    """What is said of a resettable fuse by its maker, by half or of another kind."""
    said = {key: getattr(fuse, key) is not None for key in ("trips_at", "trips_in")}
    given = [key for key, there in said.items() if there]
    if len(given) == 1:
        other = "trips_in" if given == ["trips_at"] else "trips_at"
        example = "4 s" if other == "trips_in" else "2.5 A"
        yield _missing(
            path, f"{given[0]} goes with {other}, from its maker's table", f'such as {other} = "{example}"'
        )
    elif given and fuse.kind != "resettable":
        yield Problem(
            "file.invalid", (*path, "trips_at"), f"a {fuse.kind} fuse melts and trips no more than once",
            'write kind = "resettable", or leave trips_at and trips_in out', "key",
        )  # fmt: skip


def _missing(path: Path, says: str, hint: str | None = None) -> Problem:
    return Problem("file.missing", path, says, hint, "key")


def _a(word: str) -> str:
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"
