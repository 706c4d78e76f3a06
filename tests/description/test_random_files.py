"""Random TOML files with values put in, out and beside others: tomli reads what was meant, and all other text stays as it was."""

from __future__ import annotations

import copy
import os
import re
from difflib import SequenceMatcher
from random import Random
from typing import Any

import pytest
import tomli

from postcheck.description.rewriting import Put, rewritten

FILES = int(os.environ.get("POSTCHECK_RANDOM_FILES", "100"))
NAMES = ["bow", "Fähre", "夜灯", "a b", "c.d", "it's", 'so "said"', "x-1", "#no", "k_2"]
QUOTES = [
    lambda text: f'"{text}"',
    lambda text: f"'{text}'",
    lambda text: f'"""{text}"""',
    lambda text: f"'''{text}'''",
]


class File:
    """A file line by line: what it says is for tomli to tell."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)
        self.noted = 0
        self.used: set[tuple[str, ...]] = set()
        lines = [f"first{self.equals()}{self.value()}"] if self.chance(0.5) else []
        lines += self.keys("top.sub") if self.chance(0.5) else []
        names = self.random.sample(NAMES, 4)
        lines += self.table(f"[{self.key(names[0])}]") + self.table(
            f"[{self.key(names[1])}.{self.key(names[2])}]"
        )
        for _ in range(self.random.randint(1, 3)):
            lines += self.table("[[many]]")
            lines += self.table(f"[many.{self.key(names[3])}]") if self.chance(0.3) else []
        self.text = self.random.choice(["\n", "\r\n"]).join([*lines, ""] if self.chance(0.8) else lines)

    def chance(self, odds: float) -> bool:
        return self.random.random() < odds

    def blanks(self) -> str:
        return self.random.choice(["", " ", " ", "  ", "\t"])

    def equals(self) -> str:
        return f"{self.blanks()}={self.blanks()}"

    def note(self) -> str:
        self.noted += 1
        return f"# note {self.noted} x = [\"'"

    def key(self, name: str) -> str:
        bare = re.fullmatch(r"[A-Za-z0-9_-]+", name) is not None
        if bare and self.chance(0.8):
            return name
        return f"'{name}'" if "'" not in name else '"' + name.replace('"', '\\"') + '"'

    def value(self, depth: int = 0) -> str:
        kind = self.random.randrange(8 if depth < 2 else 5)
        if kind < 2:
            return self.random.choice(QUOTES)(self.random.choice(["5 mm", "ä # no", "[x]", "a, b = c", ""]))
        if kind < 5:
            return self.random.choice(["1", "true", "1.5", "1979-05-27 07:32:00", "-3"])
        if kind == 5:
            keys = self.random.sample(["p", "q", "r.s", '"u v"', "t"], self.random.randint(0, 3))
            inside = ", ".join(f"{key}{self.equals()}{self.value(depth + 1)}" for key in keys)
            return f"{{{self.blanks()}{inside}{self.blanks()}}}"
        several = [self.value(depth + 1) for _ in range(self.random.randint(0, 3))]
        if kind == 6 or not several:
            return f"[{self.blanks()}{', '.join(several)}]"
        rows = [f"  {one}{self.blanks()}, {self.note() if self.chance(0.5) else ''}\n" for one in several]
        return "[\n" + "".join(rows) + "]"

    def keys(self, prefix: str = "") -> list[str]:
        lines = []
        for name in self.random.sample(
            ["k", "long_key", "m.n", "m.o", "'quoted key'", "m.u.v"], self.random.randint(0, 5)
        ):
            key = f"{prefix}.{name}" if prefix else name
            comment = f"{self.blanks()}{self.note()}" if self.chance(0.4) else ""
            lines.append(f"{self.blanks()}{key}{self.equals()}{self.value()}{comment}")
            lines += self.random.choice([[], [], [""], [f"{self.blanks()}{self.note()}"]])
        return lines

    def table(self, header: str) -> list[str]:
        comment = f" {self.note()}" if self.chance(0.3) else ""
        return [f"{self.blanks()}{header}{comment}", *self.keys()]


def paths(part: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Every path below a part."""
    steps = part.items() if isinstance(part, dict) else enumerate(part) if isinstance(part, list) else ()
    return [one for step, below in steps for one in ((*path, step), *paths(below, (*path, step)))]


def put(random: Random, whole: Any, text: str) -> tuple[Put, Any]:
    """A change that a file can take, and what the file says after it."""
    after = copy.deepcopy(whole)
    every = paths(whole)
    path = random.choice(every)
    at = after
    for step in path[:-1]:
        at = at[step]
    value = random.choice(['"new"', "7", '{ p = 1, w = "x" }', '["y", 8]'])
    read = tomli.loads(f"x = {value}")["x"]
    kind = random.randrange(4)
    if kind == 0 and not isinstance(at[path[-1]], dict | list):
        at[path[-1]] = read
        return Put(path, value), after
    if kind == 1 and not isinstance(at[path[-1]], dict | list):
        del at[path[-1]]
        return Put(path, None), after
    if kind == 2:
        entry = "{ name = 'x', ends = ['a', 'b'] }"
        after["many"].append(tomli.loads(f"x = {entry}")["x"])
        return Put(("many", "+"), entry), after
    new = random.choice(["new", "a b", "Größe"])
    inside = at[path[-1]] if isinstance(at[path[-1]], dict) else at
    if isinstance(inside, dict) and new not in inside:
        where = path if inside is not at else path[:-1]
        inside[new] = read
        return Put((*where, new), value), after
    at[path[-1]] = read if not isinstance(at[path[-1]], dict | list) else at[path[-1]]
    return (Put(path, value), after) if at[path[-1]] == read else put(random, whole, text)


@pytest.mark.parametrize("seed", range(FILES))
def test_a_file_differs_only_where_the_change_says_so(seed: int) -> None:
    file = File(seed)
    whole = tomli.loads(file.text)
    change, wanted = put(file.random, whole, file.text)
    done = rewritten(file.text, [change])
    assert tomli.loads(done) == wanted, change
    before, after = file.text.splitlines(keepends=True), done.splitlines(keepends=True)
    differs = [
        (before[start:end], after[now:then])
        for kind, start, end, now, then in SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
        if kind != "equal"
    ]
    assert len(differs) <= 2, change  # a value alone, or an entry and the comma before it
    gone = set(re.findall(r"# note \d+", file.text)) - set(re.findall(r"# note \d+", done))
    if change.value is not None:
        assert not gone, change
        assert all(len(old) <= 1 for old, _ in differs) or '"""' in file.text, change
    else:
        assert len(gone) <= 1, change
    ends = "\r\n" if "\r\n" in file.text else "\n"
    if ends == "\r\n":  # lists over several lines keep their own, all that is new has those of the file
        assert not [
            line
            for _, new in differs
            for line in new
            if line.strip() and line not in before and not line.endswith(ends)
        ][1:]
