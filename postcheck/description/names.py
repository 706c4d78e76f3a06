"""Every name in a build must mean something, and no two things of a kind may share one."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping
from functools import partial
from itertools import islice
from types import MappingProxyType

from postcheck import catalogue
from postcheck.description.consumers import CONSUMERS, entries
from postcheck.description.models import (
    Board,
    Build,
    Circuit,
    Die,
    FuseSpec,
    Held,
    Join,
    Lamp,
    Lead,
    Leg,
    Load,
    Passage,
    Plug,
    Proof,
    ResistorSpec,
    Run,
    SeriesResistor,
    Stock,
    Strip,
    StripKind,
    Supply,
    SwitchSpec,
    Table,
    Usual,
    UsualResistor,
    Way,
)
from postcheck.description.naming import line_names, passages_of, run_names
from postcheck.description.problems import MOST_GUESSES, Path, Problem
from postcheck.description.subjects import subjects
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.plain import harmless, nearest, quoted

_TABLES = ""  # the value is a table, a list or a table of tables, and the names stand in these

# What each key of a table names: a kind of thing that the file describes, or a kind of row of the catalogue.
REFERENCES: Mapping[type[Table], Mapping[str, str]] = MappingProxyType({
    Build: dict.fromkeys(("supply", "post", "passage", "board", "circuit", *CONSUMERS, "run", "way", "plug", "join", "strip_kind",
                          "proof", "usual", "stock"), _TABLES),
    Supply: {"place": "place", "fuse": _TABLES, "on_off": _TABLES, "fed_by": "supply", "shares_negative_with": "supply",
             "chemistry": "cell chemistry"},
    FuseSpec: {"place": "place"},
    SwitchSpec: {"place": "place"},
    Passage: {"start": "place", "end": "place", "through": "lead or run"},
    Board: {"place": "place", "may_sit": "place", "supply": "supply"},
    Circuit: {"on_off": _TABLES, "supply": "supply", "board": "board", "in_step_with": "circuit"},
    Lamp: {"circuit": "circuit", "kind": "kind of lamp", "place": "place", "resistor": _TABLES, "lead": _TABLES,
           "links": _TABLES, "places": "place", "dice": _TABLES},
    Die: {"circuit": "circuit", "resistor": _TABLES},
    ResistorSpec: {"place": "place", "size": "resistor size", "plus": _TABLES},
    SeriesResistor: {"size": "resistor size"},
    Lead: {"wire": "wire", "wires": "wire", "to": "place", "feed": _TABLES, "back": _TABLES},
    Leg: {"wire": "wire", "to": "place"},
    Strip: {"circuit": "circuit", "kind": "kind of strip", "place": "place", "far_end": "place", "lead": _TABLES},
    Load: {"circuit": "circuit", "place": "place", "lead": _TABLES},
    Run: {"ends": "place", "wire": "wire", "cable": "cable", "through": "passage", "line": "line"},
    Plug: {"at": "place", "ends": "place", "pins": "line", "through": "passage"},
    Way: {"start": "place", "end": "place", "through": "passage"},
    Join: {"place": "place", "lines": "line"},
    StripKind: {"kind": "kind of lamp"},
    Proof: {"subject": "part", "at": "place"},
    Usual: {"lead": "wire", "run": "wire", "resistor": _TABLES},
    UsualResistor: {"size": "resistor size"},
    Stock: {"wires": "wire", "leads": "wire", "have": _TABLES},
    Held: {"resistor": _TABLES, "lamp": "kind of lamp", "wire": "wire", "strip": "kind of strip"},
})  # fmt: skip
# Keys that name something only where another key of their table has this value.
_ONLY = MappingProxyType({(Run, "line"): ("carries", "power"), (Supply, "chemistry"): ("kind", "battery")})

_SHARED = tuple(f"there is no {what} " for what in ("wire", "kind of lamp", "kind of strip"))


def may_be_shared(problem: Problem) -> bool:
    """Whether a problem is an unknown name that a shared file could describe."""
    return problem.check == "file.unknown-name" and problem.says.startswith(_SHARED)


def name_problems(build: Build) -> list[Problem]:
    """All names that mean nothing, and those that are given twice."""
    return [*_Names(build).problems(), *_duplicates(build)]


class _Names:
    """What names may mean in a build; the nearest to an unknown one is looked for once."""

    def __init__(self, build: Build) -> None:
        self.build = build
        self.guesses: dict[tuple[str, str], str | None] = {}
        self.shown: set[tuple[str, str]] = set()
        # leads and resistors that say the same are one table
        self.sound: set[tuple[type[Table], int]] = set()
        names = {*(entry.name for entry in entries(build)), *run_names(build)}
        self.described: dict[str, Collection[str]] = {
            "place": build.place, "supply": build.supply, "board": build.board, "circuit": build.circuit,
            "cable": build.cable, "passage": passages_of(build), "line": dict.fromkeys(line_names(build)),
            "lead or run": names, "part": subjects(build) if build.proof else (),
        }  # fmt: skip
        self.rows: dict[str, tuple[Callable[[str], object], Collection[str]]] = {
            "wire": (catalogue.wire, build.wire),
            "kind of lamp": (catalogue.lamp, build.lamp_kind),
            "kind of strip": (catalogue.strip, build.strip_kind),
            "resistor size": (catalogue.resistor_size, ()),
            "cell chemistry": (catalogue.chemistry, ()),
        }

    def problems(self) -> Iterator[Problem]:
        yield from self._within(self.build, ())
        for index, lamp in enumerate(self.build.lamp):
            yield from self._colours(lamp, ("lamp", index, "dice"))

    def _within(self, table: Table, path: Path) -> Iterator[Problem]:
        """The unknown names in a table and in the tables that it holds."""
        kind = type(table)
        for key, what in REFERENCES[kind].items():
            value = getattr(table, key)
            other, needed = _ONLY.get((kind, key), ("", None))
            if value is not None and (not other or getattr(table, other) == needed):
                yield from self._of(what, value, (*path, kind.model_fields[key].alias or key))

    def _of(self, what: str, value: object, path: Path) -> Iterator[Problem]:
        if isinstance(value, Table):
            if (type(value), id(value)) in self.sound:
                return
            wrong = list(self._within(value, path))
            yield from wrong
            if not wrong:
                self.sound.add((type(value), id(value)))
        elif isinstance(value, Mapping):
            for name, one in value.items():
                yield from self._of(what, one, (*path, name))
        elif isinstance(value, tuple):
            for position, one in enumerate(value):
                yield from self._of(what, one, (*path, position))
        elif isinstance(value, str):
            yield from (
                self._row(what, value, path)
                if what in self.rows
                else self._known(what, value, self.described[what], path)
            )

    def _spare_line(self, path: Path, name: str) -> str | None:
        """What to do where a spare run names a line that there is not."""
        run = self.build.run[path[1]] if path[:1] == ("run",) and isinstance(path[1], int) else None
        if run is None or path[2:] != ("line",) or not (run.spare or name.casefold() == "spare"):
            return None
        return "leave `line` out: a spare carries none" + ("" if run.spare else ", and write spare = true")

    def _known(self, what: str, name: str, among: Collection[str], path: Path) -> Iterator[Problem]:
        if name in among:
            return
        near = self._guess(what, name, lambda: _meant(what, name, among))
        spare = self._spare_line(path, name)
        if spare is not None:
            hint = spare
        elif near is not None:
            hint = f"did you mean {quoted(near)}?"
            if what == "place" and re.fullmatch(rf"{re.escape(near)} [^ ]+/[^ ]+", name):
                hint = f"a comma goes before the colours: {harmless(f'to {near}, {name.removeprefix(near).strip()}', 60)}"
        elif among:
            listed = ", ".join(quoted(other) for other in islice(among, 6))
            hint = f"there is {listed}{' ...' if len(among) > 6 else ''}"
        else:
            hint = f"the file describes no {what} at all"
        yield self._unknown(what, name, hint, path)

    def _unknown(self, what: str, name: str, hint: str, path: Path) -> Problem:
        """An unknown name; where the file can describe it, with the lines that do, the first time."""
        lines: tuple[str, ...] = ()
        # a blank at an end is a slip of the finger, and no name of something new
        if (what, name) not in self.shown and name == name.strip():
            self.shown.add((what, name))
            lines = described_by(self.build, what, name)
        if lines and hint.startswith("the file describes no"):
            hint = "describe it:"
        elif lines:
            hint = f"{hint}{' Or' if hint.endswith('?') else '; or'} describe it:"
        return Problem("file.unknown-name", path, f"there is no {what} {quoted(name)}", hint, lines=lines)

    def _row(self, what: str, name: str, path: Path) -> Iterator[Problem]:
        look_up, own = self.rows[what]
        if name in own:
            return
        try:
            look_up(name)
        except catalogue.UnknownRow as unknown:
            near = self._guess(what, name, partial(_nearest_row, name, own, unknown))
            hint = f"did you mean {quoted(near)}?" if near else _listed(unknown.kind, name)
            yield self._unknown(what, name, hint, path)

    def _guess(self, what: str, name: str, near: Callable[[], str | None]) -> str | None:
        """The name that was probably meant: each is looked for once, and of very many only the first."""
        if (what, name) not in self.guesses:
            self.guesses[what, name] = near() if len(self.guesses) < MOST_GUESSES else None
        return self.guesses[what, name]

    def _colours(self, lamp: Lamp, path: Path) -> Iterator[Problem]:
        """Colours of light that a lamp of the catalogue does not have."""
        if colours := catalogue_colours(self.build, lamp):
            for colour in lamp.dice or ():
                yield from self._known(f"colour of {quoted(lamp.kind)}:", colour, colours, (*path, colour))


def catalogue_colours(build: Build, lamp: Lamp) -> list[str] | None:
    """The colours of light of a lamp of the catalogue, none of a lamp of one colour or of the file's own; None of an unknown one."""
    if lamp.kind in build.lamp_kind:
        return []
    try:
        return [die.colour for die in getattr(catalogue.lamp(lamp.kind), "dice", ())]
    except catalogue.UnknownRow:
        return None


def _meant(what: str, name: str, among: Collection[str]) -> str | None:
    """The name that was probably meant: that of a pole by what it is called, a place before its colours, the nearest."""
    if what == "line" and name.casefold() in _POLES:
        poles = [line for line in among if line.endswith(_POLES[name.casefold()])]
        return poles[0] if len(poles) == 1 else None
    if what == "place" and (first := next((place for place in among if name.startswith(f"{place} ")), None)):
        return first
    return nearest(name, among)


_POLES = MappingProxyType(
    dict.fromkeys(("negative", "minus", "ground", "gnd", "-", "return", "common", "0v", "earth"), "-")
    | dict.fromkeys(("positive", "plus", "+", "feed", "live"), "+")
)


def _listed(kind: str, name: str) -> str:
    """Where the rows of a kind are found, and those that have a word of the name in them."""
    from postcheck.description.meant import words_in  # noqa: PLC0415 - only where there is a mistake

    some = words_in(name, catalogue.names(kind))
    such = f", such as {', '.join(map(quoted, some))}" if some else ""
    return f"`postcheck catalogue {kind}` lists them{such}"


def described_by(build: Build, what: str, name: str) -> tuple[str, ...]:
    """The lines that describe what a name stands for, as they are typed at the end of the file; none where a file describes no such thing."""
    place = in_toml(next(iter(build.place), "base"))
    supply = in_toml(next(iter(build.supply), "main"))
    kinds: dict[str, tuple[str, ...]] = {
        "place": ("place", 'access = "cover"  # or open, sealed'),
        "supply": ("supply", 'kind = "adaptor"', f"place = {place}", 'volts = "12 V"', 'rated = "1 A"'),
        "board": ("board", f"place = {place}", f"supply = {supply}"),
        "circuit": ("circuit", f"supply = {supply}", 'behaviour = "steady"  # or flash, dim'),
        "cable": ("cable", 'outside = "3 mm"  # as you measure it'),
        "wire": ("wire", 'strand = "0.10 mm"', 'outside = "0.12 mm"  # as you measure them'),
        "kind of lamp": (
            "lamp_kind", 'forward = "2.9/3.2/3.6 V"', 'at = "20 mA"', 'rated = "20 mA"  # from its data sheet',
        ),
    }  # fmt: skip
    if what not in kinds:
        return ()
    table, *lines = kinds[what]
    return (f"[{table}.{key_in_toml(name)}]", *lines)


def _nearest_row(name: str, own: Collection[str], unknown: catalogue.UnknownRow) -> str | None:
    from postcheck.description.meant import all_words_in  # noqa: PLC0415

    if row := all_words_in(name, [*own, *catalogue.names(unknown.kind)]):
        return row
    near = unknown.near
    return nearest(name, [*own, *near]) or (near[0] if near else None)


def _duplicates(build: Build) -> Iterator[Problem]:
    all_entries = tuple(entries(build))
    named = {kind: tuple(entry.name for entry in all_entries if entry.kind == kind) for kind in CONSUMERS}
    others = {"run": run_names(build), "plug": tuple(plug.name for plug in build.plug)}
    for kind, names in (*named.items(), *others.items()):
        seen: set[str] = set()
        for index, name in enumerate(names):
            if name in seen:
                yield _repeated(kind, index, kind, name)
            seen.add(name)
    # what takes current is told apart by its name alone; each colour of a lamp bears one too
    taken: dict[str, str] = {colour: entry.kind for entry in all_entries for colour in entry.colours}
    for kind, names in named.items():
        for index, name in enumerate(names):
            if name in taken:
                yield _repeated(kind, index, taken[name], name)
        taken |= {name: taken.get(name, kind) for name in names}


def _repeated(kind: str, index: int, other: str, name: str) -> Problem:
    says = f"there is already a {other} named {quoted(name)}"
    return Problem("file.duplicate-name", (kind, index, "name"), says, "give each its own name")
