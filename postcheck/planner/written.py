"""A plan as it is typed: values set in the tables that are there, and the tables to add."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from postcheck.description.called import fuse_words
from postcheck.description.consumers import entries
from postcheck.description.models import Build, Lamp, Run, Supply
from postcheck.description.positions import locate
from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path
from postcheck.description.rewriting import Put, rewritten
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.description.units import Dimension
from postcheck.planner.splitting import origins, said_of
from postcheck.reading.what_if import to_write
from postcheck.remedies.lead_spec import lead_toml
from postcheck.remedies.resistor_spec import resistor_toml


def text_of(text: str, wish: Build, build: Build, gone: frozenset[int] = frozenset()) -> str:
    """The text of a wish with the plan in it, and what the wish was changed in; `gone`: without the runs of these numbers.

    RewriteError where its form does not let a value be set.
    """
    there: list[Put] = []
    added: dict[Path, str] = {}
    for path, value, has_table in to_write(wish):
        if has_table:
            there.append(Put(path, value))
        else:
            head = f"[{'.'.join(key_in_toml(str(step)) for step in path[:-1])}]\n"
            added[path[:-1]] = added.get(path[:-1], head) + f"{key_in_toml(str(path[-1]))} = {value}\n"
    text = rewritten(text, there, "\n".join(added.values()))
    return rewritten(text, puts(wish, build, gone), tables(wish, build, gone, text))


def tables(wish: Build, build: Build, gone: frozenset[int] = frozenset(), text: str | None = None) -> str:
    """The circuits, runs and lamps that a plan adds, and the usual wires where the file has no table of them.

    `text`: of the wish, if changed.
    """
    usual = [] if "usual" in wish.model_fields_set else list(_usual(wish, build))
    first = "".join(f"{key_in_toml(str(put.path[1]))} = {put.value}\n" for put in usual)
    added = [f"[usual]\n{first}"] if first else []
    if not _in_braces(wish):
        added += [f"[circuit.{key_in_toml(name)}]\n{_lined(row)}" for name, row in _circuits(wish, build)]
    text = wish.text if text is None else text
    lamps = (_lamp_table(said_of(text, number), lamp) for number, lamp in origins(wish, build))
    runs = (_table(run) for run in build.run[len(wish.run) - len(gone) :])
    return "\n".join([*added, *lamps, *runs])


def puts(wish: Build, build: Build, gone: frozenset[int] = frozenset()) -> Iterator[Put]:
    """The values that a plan sets in the tables of the file, and last of all the tables that it takes out."""
    if "usual" in wish.model_fields_set:
        yield from _usual(wish, build)
    for name, supply in build.supply.items():
        yield from _supply(("supply", name), wish.supply[name], supply)
    for name, board in build.board.items():
        if board.place != wish.board[name].place:
            yield Put(("board", name, "place"), in_toml(board.place))
    yield from _in_circuits(wish, build)
    if build.post is not None and wish.post is not None and build.post.through != wish.post.through:
        yield Put(("post", "through"), _listed(build.post.through))
    for name, passage in build.passage.items():
        if passage.through != wish.passage[name].through:
            yield Put(("passage", name, "through"), _listed(passage.through))
    yield from _entries(wish, build)
    stay = [number for number in range(len(wish.run)) if number not in gone]
    for number, run in zip(stay, build.run, strict=False):  # those behind are new
        yield from _run(("run", number), wish.run[number], run)
    yield from (Put(("run", number), None) for number in sorted(gone, reverse=True))
    old = [number for number, proof in enumerate(wish.proof) if proof not in build.proof]
    yield from (Put(("proof", number), None) for number in reversed(old))


def _entries(wish: Build, build: Build) -> Iterator[Put]:
    before = {entry.path: entry for entry in entries(wish)}
    for now in entries(build):
        then = before.get(now.path)
        if then is None:  # an entry that was split from another is a table of its own
            continue
        if isinstance(now.said, Lamp) and isinstance(then.said, Lamp):
            yield from _lamp(now.path, then.said, now.said)
        taken_out = getattr(then.said, "leads", None) and not getattr(now.said, "leads", None)
        if now.said.lead != then.said.lead or taken_out:  # with `leads` goes what they said of its length
            yield Put((*now.path, "lead"), None if now.said.lead is None else lead_toml(now.said.lead))


def _listed(names: tuple[str, ...]) -> str | None:
    return in_toml(names) if names else None


def _run(path: Path, before: Run, run: Run) -> Iterator[Put]:
    was, now = _rows(before), _rows(run)
    for key in was:
        if now[key] != was[key]:
            yield Put((*path, key), in_toml(now[key]) if now[key] else None)


def _in_circuits(wish: Build, build: Build) -> Iterator[Put]:
    if _in_braces(wish):
        yield from (Put(("circuit", name), in_toml(row)) for name, row in _circuits(wish, build))
    for name, circuit in build.circuit.items():
        how = wish.implied.get(name)
        if how == "supply" and name not in build.implied:
            yield Put(("circuit", name, "supply"), in_toml(circuit.supply))
        if circuit.own_return != wish.circuit[name].own_return and how in (None, "supply"):
            yield Put(("circuit", name, "own_return"), "true" if circuit.own_return else None)


def _circuits(wish: Build, build: Build) -> Iterator[tuple[str, dict[str, object]]]:
    """The tables of the circuits that were understood by a switch or a name: what was judged, said."""
    for name, circuit in build.circuit.items():
        if wish.implied.get(name) in ("switch", "name") and name not in build.implied:
            own = {"own_return": True} if circuit.own_return else {}
            yield name, {"supply": circuit.supply, "behaviour": circuit.behaviour, **own}


def _in_braces(wish: Build) -> bool:
    """Whether the circuits of the file are one value, such as { ... }, to which no table can be added."""
    if wish.text is None:
        return False
    section = locate(wish.text).get(("circuit",))
    return section is not None and not wish.text.startswith("[", section.value_start)


def _supply(path: tuple[str, ...], before: Supply, supply: Supply) -> Iterator[Put]:
    for key in ("kind", "port"):
        if getattr(supply, key) != getattr(before, key):
            value = getattr(supply, key)
            yield Put((*path, key), None if value is None else in_toml(value))
    if supply.volts != before.volts:
        volts = None if supply.volts is None else in_toml(format_quantity(supply.volts, Dimension.VOLTAGE))
        yield Put((*path, "volts"), volts)
    if supply.rated is None and before.rated is not None:
        yield Put((*path, "rated"), None)
    if supply.rated != before.rated and supply.rated is not None:
        yield Put((*path, "rated"), in_toml(format_quantity(supply.rated, Dimension.CURRENT)))
    if supply.fuse != before.fuse:
        yield Put((*path, "fuse"), None if supply.fuse is None else in_toml(fuse_words(supply.fuse)))


def _usual(wish: Build, build: Build) -> Iterator[Put]:
    for key in ("lead", "run"):
        wire = getattr(build.usual, key)
        if wire != getattr(wish.usual, key) and wire is not None:
            yield Put(("usual", key), in_toml(wire))


def _lamp(path: Path, before: Lamp, now: Lamp) -> Iterator[Put]:
    for key in ("count", "leads"):
        if getattr(before, key) is not None and getattr(now, key) is None:
            yield Put((*path, key), None)
    for key in ("series", "parallel"):
        # of a count nothing of this stands in the file, whatever it is taken to be until then
        stated = getattr(before, key) if before.count == now.count else 1
        if getattr(now, key) != stated:
            yield Put((*path, key), str(getattr(now, key)))
    share = before.strings_share if before.count == now.count else None
    if now.strings_share != share and now.strings_share is not None:
        yield Put((*path, "strings_share"), in_toml(now.strings_share))
    if now.resistor != before.resistor:
        yield Put((*path, "resistor"), None if now.resistor is None else resistor_toml(now.resistor))
    was = before.dice
    for colour, die in now.dice.items() if now.dice and was else ():
        own = was[colour] if was else die
        if die.resistor != own.resistor:
            resistor = None if die.resistor is None else resistor_toml(die.resistor)
            yield Put((*path, "dice", colour, "resistor"), resistor)


def _lamp_table(before: dict[str, Any], lamp: Lamp) -> str:
    """A lamp that was split from an entry of the file: what that says, and what was planned."""
    written = {
        "series": lamp.series if lamp.series > 1 else None,
        "parallel": lamp.parallel if lamp.parallel > 1 else None,
        "strings_share": lamp.strings_share,
    }
    name = {"name": lamp.name} if lamp.name is not None else {}
    lines = {**name, **before, **{key: value for key, value in written.items() if value}}
    rows = {key: in_toml(value) for key, value in lines.items()}
    if lamp.resistor is not None:
        rows["resistor"] = resistor_toml(lamp.resistor)
    if lamp.lead is not None:
        rows["lead"] = lead_toml(lamp.lead)
    width = max(map(len, rows))
    return "[[lamp]]\n" + "".join(f"{key_in_toml(key):<{width}} = {value}\n" for key, value in rows.items())


def _rows(run: Run) -> dict[str, Any]:
    """What a plan says of a run, as values of the file."""
    return {
        "name": run.name,
        "line": run.line,
        "spare": run.spare,
        "ends": run.ends,
        "through": run.through,
        "length": None if run.length is None else format_quantity(run.length, Dimension.LENGTH, 6),
        "wire": run.wire,
        "conductors": run.conductors if run.conductors > 1 else None,
        "ohms": None if run.ohms is None else format_quantity(run.ohms, Dimension.RESISTANCE, 6),
        "colour": run.colour,
        "label": run.label,
    }


def _table(run: Run) -> str:
    return "[[run]]\n" + _lined({key: value for key, value in _rows(run).items() if value or value == ()})


def _lined(table: Mapping[str, object]) -> str:
    """The keys of a table with their values, one below the other."""
    width = max(map(len, table))
    return "".join(f"{key:<{width}} = {in_toml(value)}\n" for key, value in table.items())
