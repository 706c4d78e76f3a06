"""Looks for files under 100 kB that take long: `python -m tests.slow.search SECONDS [SEED] [FOLDER]`.

Begins with the builds of the tests and those of `files.py`, repeats, mixes and bends them, and goes on from the slowest of
each sort: SECONDS of CPU time in all, at most 20 s and 1 GB a run. The slowest of each sort and command goes to FOLDER, and the
ten slowest are printed. Without FOLDER it makes one of its own. What it makes of builds that a builder could write, by repeating alone, is marked so.
"""

from __future__ import annotations

import copy
import re
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

import tomli

from tests.construction import sound
from tests.construction.model import NAMED, Tables, written
from tests.laws.random_tables import MADE
from tests.planner.wishes import random_wish
from tests.slow.files import FILES
from tests.slow.measure import Cost, measured, row
from tests.speed import large

MOST_BYTES = 100_000
SECONDS, KILOBYTES = 20, 1 << 20  # of one run
BREEDING = 40  # of the slowest
BUILDS = Path(__file__).parent.parent / "builds"
COMMANDS = ("check", "check", "long", "post", "sheet", "compare", "vary", "plan", "anew", "closing")
RANGES = {
    ("supply", "volts"): "4 V..24 V", ("post", "bore"): "1 mm..9 mm", ("passage", "bore"): "1 mm..9 mm",
    ("lamp", "resistor"): "100 ohm..10 kohm", ("lamp", "series"): "1..9", ("place", "surface"): "1 cm2..200 cm2",
    ("run", "length"): "10 mm..3 m", ("lamp", "parallel"): "1..9",
}  # fmt: skip


@dataclass
class Tried:
    """A command over a build, and what it cost. `sort`: what it was made of; `plain`: a builder could have written it."""

    command: str
    words: list[str]
    tables: Tables
    sort: str
    plain: bool
    cost: Cost

    @property
    def score(self) -> float:
        """How much of 10 s or 500 MB it takes."""
        return max(self.cost.seconds / 10.0, self.cost.megabytes / 500.0)


# -- where it begins


def _file(chance: Random) -> tuple[Tables, str, bool]:
    name = chance.choice(list(FILES))
    return tomli.loads(FILES[name][1]()), name, False


def _of_tests(chance: Random) -> tuple[Tables, str, bool]:
    path = chance.choice(sorted(BUILDS.rglob("*.post.toml")))
    return tomli.loads(path.read_text(encoding="utf-8")), path.name.removesuffix(".post.toml"), True


def _made(chance: Random) -> tuple[Tables, str, bool]:
    sort = chance.choice(list(MADE))
    return tomli.loads(MADE[sort](chance.randrange(10**6))), sort, True


def _constructed(chance: Random) -> tuple[Tables, str, bool]:
    return tomli.loads(sound.text(sound.made(chance.randrange(10**6)))), "constructed", True


def _wished(chance: Random) -> tuple[Tables, str, bool]:
    size = chance.choice((5, 20, 60))
    return random_wish(chance.randrange(10**6), circuits=size, leds=4 * size), "wish", True


def _hall(chance: Random) -> tuple[Tables, str, bool]:
    return tomli.loads(large.build(chance.randint(50, 600))), "hall", True


BEGINNINGS = (_file, _of_tests, _of_tests, _made, _constructed, _constructed, _wished, _hall)


# -- what is made of it


def _rows(tables: Tables) -> list[tuple[str, Any, dict[str, Any]]]:
    """Section, key or index, and the table there, of all that there may be several of."""
    rows: list[tuple[str, Any, dict[str, Any]]] = []
    for section, part in tables.items():
        if section in NAMED and isinstance(part, dict):
            rows += [(section, name, one) for name, one in part.items()]
        elif isinstance(part, list):
            rows += [(section, index, one) for index, one in enumerate(part) if isinstance(one, dict)]
    return rows


def _again(tables: Tables, chance: Random, mark: str) -> None:
    """All of it once more, under other names; or all but its places, in the same ones."""
    names = {name for section in NAMED for name in tables.get(section, {})}
    names |= {one["name"] for _, _, one in _rows(tables) if isinstance(one.get("name"), str)}
    if chance.random() < 0.4:
        names -= set(tables.get("place", {}))
    if not names:
        return
    either = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    whole = re.compile(rf"(?<![\w-])({either})(?!\w)")

    def renamed(part: Any) -> Any:
        if isinstance(part, str):
            return whole.sub(lambda found: f"{found[1]}{mark}"[:120], part)
        if isinstance(part, list):
            return [renamed(one) for one in part]
        if isinstance(part, dict):
            return {key: renamed(one) for key, one in part.items()}
        return part

    for section in list(tables):
        if section in NAMED:
            for name, one in list(tables[section].items()):
                tables[section].setdefault(renamed(name), renamed(one))
        elif isinstance(tables[section], list):
            tables[section] += renamed(tables[section])


def _more(tables: Tables, chance: Random, mark: str) -> None:
    """More of one entry, or of all of its section, with names of their own."""
    rows = _rows(tables)
    if not rows:
        return
    section, key, one = chance.choice(rows)
    for count in range(chance.choice((1, 3, 10, 30, 100, 300))):
        more = copy.deepcopy(one)
        if section in NAMED:
            tables[section][f"{key}{mark}{count}"[-120:]] = more
            continue
        if "name" in more:
            more["name"] = f"{more['name']}{mark}{count}"[-120:]
        tables[section].append(more)


def _number(tables: Tables, chance: Random, mark: str) -> None:
    """Some number of it many times more or less."""
    rows = [one for _, _, one in _rows(tables)] + [tables.get("post", {})]
    one = chance.choice(rows)
    keys = [key for key, value in one.items() if isinstance(value, int | str) and not isinstance(value, bool)]
    if not keys:
        return
    key = chance.choice(keys)
    by = chance.choice((0.1, 0.5, 2, 3, 10, 30, 100))
    if isinstance(one[key], int):
        one[key] = max(1, round(one[key] * by))
    else:
        one[key] = re.sub(r"\d+(\.\d+)?", lambda found: f"{float(found[0]) * by:.4g}", one[key], count=1)


def _of_another(tables: Tables, chance: Random, mark: str) -> None:
    """Keys and values of an entry of another build's, put into ours."""
    other, _, _ = chance.choice(BEGINNINGS)(chance)
    theirs = [row for row in _rows(other) if row[0] in tables]
    if not theirs:
        return
    section, _, source = chance.choice(theirs)
    ours = [one for at, _, one in _rows(tables) if at == section]
    keys = [key for key in source if key != "name"]
    if not ours or not keys:
        return
    key = chance.choice(keys)
    for one in ours if chance.random() < 0.5 else [chance.choice(ours)]:
        one[key] = copy.deepcopy(source[key])


def _longer(tables: Tables, chance: Random, mark: str) -> None:
    """A list of it longer, or a text."""
    rows = [one for _, _, one in _rows(tables)] + [part for part in tables.values() if isinstance(part, dict)]
    found = [(one, key) for one in rows for key, value in one.items() if isinstance(value, list) and value]
    if found and chance.random() < 0.7:
        one, key = chance.choice(found)
        one[key] = (one[key] * chance.choice((2, 10, 50)))[:300]
    else:
        tables.setdefault("build", {})["note"] = "spare lamps " * 160


def _mixed(tables: Tables, chance: Random, mark: str, other: Tables | None = None) -> None:
    """Another build beside it."""
    if other is None:
        other, _, _ = chance.choice(BEGINNINGS)(chance)
    for section, part in copy.deepcopy(other).items():
        if isinstance(part, list) and isinstance(tables.get(section), list):
            tables[section] += part
        elif section in NAMED and isinstance(part, dict):
            tables[section] = {**part, **tables.get(section, {})}
        else:
            tables.setdefault(section, part)


def _opened(tables: Tables, chance: Random, mark: str) -> None:
    """Less of what is decided: no runs, or no resistors, or no leads; a plan has to find them."""
    what = chance.choice(("run", "resistor", "lead", "fuse"))
    if what == "run":
        tables.pop("run", None)
        return
    for _, _, one in _rows(tables):
        one.pop(what, None)


PLAIN = (_again, _again, _more, _mixed, _opened)
ODD = (_number, _of_another, _longer, _number)
Change = Callable[[Tables, Random, str], None]


def _changed(tables: Tables, chance: Random, mark: str) -> tuple[Tables, bool]:
    """A build changed in up to three ways, and whether it was by plain ones alone."""
    changes: tuple[Change, ...] = tuple(
        chance.choice(PLAIN if chance.random() < 0.65 else ODD) for _ in range(chance.randint(1, 3))
    )
    for change in changes:
        before = copy.deepcopy(tables)
        change(tables, chance, mark)
        if len(written(tables)) >= MOST_BYTES:
            tables = before
    return tables, not set(changes) & set(ODD)


def _words(tables: Tables, chance: Random, command: str) -> list[str]:
    """What is typed: a command with what it needs of this build."""
    if command == "long":
        return [chance.choice(("check", "post")), "--effort", "long"]
    if command == "anew":
        return ["plan", "--anew"]
    if command == "closing":
        return ["check", *(word for name in tables.get("place", {}) for word in ("--closing", name))]
    if command == "vary":
        (section, key), values = chance.choice(list(RANGES.items()))
        rows = [name for at, name, _ in _rows(tables) if at == section]
        step = [] if section == "post" else [rows[0] if isinstance(rows[0], str) else "1"] if rows else ["x"]
        quoted = [f'"{one}"' if isinstance(one, str) and not one.isalnum() else str(one) for one in step]
        return ["vary", ".".join([section, *quoted, key]), values]
    return [command]


# -- the search


class Search:
    """The slowest of each command and sort so far, in `best` and in a folder."""

    def __init__(self, seed: int, folder: Path) -> None:
        self.chance = Random(seed)
        self.folder = folder
        self.best: dict[tuple[str, str], Tried] = {}
        self.count = 0
        self.spent = 0.0
        folder.mkdir(parents=True, exist_ok=True)

    @property
    def slowest(self) -> list[Tried]:
        """The slowest first."""
        return sorted(self.best.values(), key=lambda one: -one.score)

    def step(self) -> None:
        """One run more."""
        self.count += 1
        command, tables, sort, plain = self._from_the_slowest() or self._begun()
        tables, by_plain = _changed(tables, self.chance, f" {self.count}")
        text = written(tables)
        if len(text) >= MOST_BYTES:
            return
        words = _words(tables, self.chance, command)
        cost = measured(words, text, SECONDS, KILOBYTES, nice=19)
        self.spent += cost.seconds
        self._keep(Tried(command, words, tables, sort, plain and by_plain, cost), text)

    def _begun(self) -> tuple[str, Tables, str, bool]:
        return self.chance.choice(COMMANDS), *self.chance.choice(BEGINNINGS)(self.chance)

    def _from_the_slowest(self) -> tuple[str, Tables, str, bool] | None:
        parents, chance = self.slowest[:BREEDING], self.chance
        if not parents or chance.random() < 0.4:
            return None
        parent = parents[int(len(parents) * chance.random() ** 2)]
        tables, sort, plain = copy.deepcopy(parent.tables), parent.sort, parent.plain
        if chance.random() < 0.15:
            other = chance.choice(parents)
            _mixed(tables, chance, "", other.tables)
            sort = " with ".join(sorted({*sort.split(" with "), *other.sort.split(" with ")})[:2])
            plain = plain and other.plain
        return parent.command if chance.random() < 0.6 else chance.choice(COMMANDS), tables, sort, plain

    def _keep(self, tried: Tried, text: str) -> None:
        typed = " ".join(tried.words)
        if tried.cost.code not in (0, 1, 2) and tried.cost.seconds < SECONDS - 1:
            print(f"ended with {tried.cost.code}: {_line(tried)}", flush=True)
            (self.folder / f"failed {self.count}.post.toml").write_text(
                f"# {typed}\n{text}", encoding="utf-8"
            )
        before = self.best.get((tried.command, tried.sort))
        refused = tried.cost.code == 2 and tried.score < 0.2  # nothing comes of it
        if refused or (before is not None and tried.score <= before.score):
            return
        self.best[tried.command, tried.sort] = tried
        if tried.score > 0.2:
            print(f"{self.spent:6.0f} s  {_line(tried)}", flush=True)
            name = f"{tried.command} {tried.sort}.post.toml"
            (self.folder / name).write_text(f"# {typed}\n{text}", encoding="utf-8")


def _line(tried: Tried) -> str:
    plain = "could be written" if tried.plain else ""
    return f"{row(tried.sort[:26], tried.cost)}  {' '.join(tried.words)[:50]}  {plain}"


def main() -> None:
    """Search, and print the ten slowest."""
    seconds, seed = float(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0
    folder = Path(sys.argv[3] if len(sys.argv) > 3 else tempfile.mkdtemp(prefix="slowest-"))
    print(f"what is found goes to {folder}", flush=True)
    search = Search(seed, folder)
    while search.spent < seconds:
        search.step()
    print("\n".join(["", *map(_line, search.slowest[:10])]))


if __name__ == "__main__":
    main()
