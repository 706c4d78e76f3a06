"""A plan as it is typed: values set in the tables that are there, and the tables to add."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.consumers import entries
from postcheck.description.models import Build, FuseSpec, Lamp, Run, Supply
from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path
from postcheck.description.rewriting import Put, rewritten
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.description.units import Dimension
from postcheck.reading.what_if import to_write
from postcheck.remedies.lead_spec import lead_toml
from postcheck.remedies.resistor_spec import resistor_toml


def text_of(text: str, wish: Build, build: Build) -> str:
    """The text of a wish with the plan in it, and what the wish was changed in. RewriteError where its form does not let a value be set."""
    there: list[Put] = []
    added: dict[Path, str] = {}
    for path, value, has_table in to_write(wish):
        if has_table:
            there.append(Put(path, value))
        else:
            head = f"[{'.'.join(key_in_toml(str(step)) for step in path[:-1])}]\n"
            added[path[:-1]] = added.get(path[:-1], head) + f"{key_in_toml(str(path[-1]))} = {value}\n"
    text = rewritten(text, there, "\n".join(added.values()))
    return rewritten(text, puts(wish, build), tables(wish, build))


def tables(wish: Build, build: Build) -> str:
    """The runs that a plan adds, and the usual wires where the file has no table of them."""
    usual = [] if "usual" in wish.model_fields_set else list(_usual(wish, build))
    first = "".join(f"{key_in_toml(str(put.path[1]))} = {put.value}\n" for put in usual)
    added = [f"[usual]\n{first}"] if first else []
    return "\n".join([*added, *(_table(run) for run in build.run[len(wish.run) :])])


def puts(wish: Build, build: Build) -> Iterator[Put]:
    """The values that a plan sets in the tables of the file."""
    if "usual" in wish.model_fields_set:
        yield from _usual(wish, build)
    for name, supply in build.supply.items():
        yield from _supply(("supply", name), wish.supply[name], supply)
    for name, board in build.board.items():
        if board.place != wish.board[name].place:
            yield Put(("board", name, "place"), in_toml(board.place))
    for name, circuit in build.circuit.items():
        if circuit.own_return and not wish.circuit[name].own_return:
            yield Put(("circuit", name, "own_return"), "true")
    if build.post is not None and wish.post is not None and build.post.through != wish.post.through:
        yield Put(("post", "through"), in_toml(build.post.through))
    for name, passage in build.passage.items():
        if passage.through != wish.passage[name].through:
            yield Put(("passage", name, "through"), in_toml(passage.through))
    for now, then in zip(entries(build), entries(wish), strict=True):
        if isinstance(now.said, Lamp) and isinstance(then.said, Lamp):
            yield from _lamp(now.path, then.said, now.said)
        if now.said.lead != then.said.lead and now.said.lead is not None:
            yield Put((*now.path, "lead"), lead_toml(now.said.lead))


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
    if supply.fuse != before.fuse and supply.fuse is not None:
        yield Put((*path, "fuse"), in_toml(fuse_words(supply.fuse)))


def _usual(wish: Build, build: Build) -> Iterator[Put]:
    for key in ("lead", "run"):
        wire = getattr(build.usual, key)
        if wire != getattr(wish.usual, key) and wire is not None:
            yield Put(("usual", key), in_toml(wire))


def _lamp(path: tuple[str | int, ...], before: Lamp, now: Lamp) -> Iterator[Put]:
    for key in ("count", "leads"):
        if getattr(before, key) is not None:
            yield Put((*path, key), None)
    for key in ("series", "parallel"):
        # of a count nothing of this stands in the file, whatever it is taken to be until then
        said = getattr(before, key) if before.count is None else 1
        if getattr(now, key) != said:
            yield Put((*path, key), str(getattr(now, key)))
    if now.strings_share != before.strings_share:
        yield Put((*path, "strings_share"), in_toml(now.strings_share))
    if now.resistor != before.resistor and now.resistor is not None:
        yield Put((*path, "resistor"), resistor_toml(now.resistor))
    was = before.dice
    for colour, die in now.dice.items() if now.dice and was else ():
        own = was[colour] if was else die
        if die.resistor != own.resistor and die.resistor is not None:
            yield Put((*path, "dice", colour, "resistor"), resistor_toml(die.resistor))


def fuse_words(fuse: FuseSpec) -> str:
    """A fuse in the one-line form of the file."""
    words = [format_quantity(fuse.rated, Dimension.CURRENT)]
    words += [fuse.kind] if fuse.kind != "quick" else []
    words += [fuse.body] if fuse.body is not None else []
    return " ".join(words)


def _table(run: Run) -> str:
    rows = {
        "name": run.name,
        "line": run.line,
        "spare": run.spare,
        "ends": run.ends,
        "through": run.through,
        "length": None if run.length is None else format_quantity(run.length, Dimension.LENGTH, 6),
        "wire": run.wire,
        "conductors": run.conductors if run.conductors > 1 else None,
        "colour": run.colour,
        "label": run.label,
    }
    said = {key: in_toml(value) for key, value in rows.items() if value or value == ()}
    width = max(map(len, said))
    return "[[run]]\n" + "".join(f"{key:<{width}} = {value}\n" for key, value in said.items())
