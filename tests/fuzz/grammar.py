"""Builds by the grammar of the format: valid ones, ones that are valid but for a few values, and crossings of two."""

from __future__ import annotations

import copy
import json
import re
from datetime import date
from typing import Any

import tomli
from hypothesis import strategies as st

from tests.laws.random_tables import MADE, Tables, seeds
from tests.test_fuzz import EXTRA, TEXTS, VALUES

# Names as no builder should write them, in every script and with every sign that something might take for its own.
NAMES = [
    "", " ", "    a", "a" * 300, "\u706f" * 40, "e\u0301" * 30, "\u0928\u093f" * 20, "a::b", "::error::x", "http://a.example", "a@b.example",
    "x\ty", "x\ny", "\x1b[31m", "\u202ex", "\u200b", "[x]", "'", '"', "\\", "main+", "main-", "base", "post", "-", "+", "1e5", "nan", "#", "a.b",
    "\U0001f6a2", "\ufeff", "None", "__class__", "{x}", "%s", "{0}", "a - b", "x at y",
]  # fmt: skip
# A slip of the point, or a part far off the usual.
SIZES = st.sampled_from([0.001, 0.01, 0.1, 0.3, 0.7, 1.0, 1.0, 1.5, 3.0, 10.0, 100.0, 1000.0])
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
READ = [tomli.loads(text) for text in TEXTS]
ODD: list[Any] = [
    *(tomli.loads(f"x = {value}")["x"] for value in VALUES if "nan" not in value and "1e400" not in value),
    *NAMES, 1.5, -1, 10**30, date(2026, 1, 1), [[]], {"": ""}, ["a", 1], "1/0 in", "1 1/4 in", "4k7", "1..2 V", "5..1 V", "1/2/3 V",
    "1e308 V", "1e-308 A", "0.1 um", "100 /min", "4 h", "330 ohm 1/4 W at base", "2 m of ptfe-28 to base, red/black", "red/black",
]  # fmt: skip


def written(tables: Tables) -> str:
    """Tables as the text of a file."""
    lines: list[str] = []
    for key, part in tables.items():
        if isinstance(part, list) and part and all(isinstance(row, dict) for row in part):
            for row in part:
                lines += ["", f"[[{_text(key)}]]", *_keys(row)]
        elif isinstance(part, dict) and all(isinstance(row, dict) for row in part.values()):
            for name, row in part.items():
                lines += ["", f"[{_text(key)}.{_text(name)}]", *_keys(row)]
        elif isinstance(part, dict):
            lines += ["", f"[{_text(key)}]", *_keys(part)]
        else:
            lines.insert(0, f"{_text(key)} = {_value(part)}")
    return "\n".join(lines) + "\n"


def _keys(row: dict[str, Any]) -> list[str]:
    return [f"{_text(key)} = {_value(value)}" for key, value in row.items()]


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _value(value: Any) -> str:
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, dict):
        return "{ " + ", ".join(_keys(value)) + " }"
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    return str(value).lower() if isinstance(value, bool) else str(value)


def steps(part: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every path below a part."""
    rows = part.items() if isinstance(part, dict) else enumerate(part) if isinstance(part, list) else ()
    return [one for step, below in rows for one in ((*path, step), *steps(below, (*path, step)))]


def _at(part: Any, path: tuple[Any, ...]) -> Any:
    for step in path:
        part = part[step]
    return part


valid = st.one_of(
    st.tuples(st.sampled_from(sorted(MADE)), seeds).map(lambda one: tomli.loads(MADE[one[0]](one[1]))),
    st.sampled_from(READ),
)


@st.composite
def crossed(draw: st.DrawFn) -> Tables:
    """Of each section one build's or the other's, or the entries of both."""
    one, other = draw(valid), draw(valid)
    both: Tables = {}
    for key in {**one, **other}:
        first, second = one.get(key), other.get(key)
        if isinstance(first, list) and isinstance(second, list) and draw(st.booleans()):
            both[key] = [*first, *second]
        elif isinstance(first, dict) and isinstance(second, dict) and draw(st.booleans()):
            both[key] = {**first, **second}
        elif (part := draw(st.sampled_from([first, second]))) is not None:
            both[key] = part
    return both


@st.composite
def texts(draw: st.DrawFn) -> str:
    """The text of a build that is valid, or nearly so."""
    tables = copy.deepcopy(draw(st.one_of(valid, crossed())))
    for _ in range(draw(st.integers(0, 3))):
        paths = steps(tables)
        if not paths:
            break
        path = draw(st.sampled_from(paths))
        inside, last = _at(tables, path[:-1]), path[-1]
        what = draw(st.sampled_from(["odd", "odd", "size", "size", "lose", "take", "name", "double"]))
        if what == "odd":
            inside[last] = copy.deepcopy(draw(st.sampled_from(ODD)))
        elif what == "size" and isinstance(inside[last], str):
            inside[last] = _NUMBER.sub(lambda one: f"{float(one[0]) * draw(SIZES):.6g}", inside[last])
        elif what == "lose":
            del inside[last]
        elif what == "take":  # the value of another key
            inside[last] = copy.deepcopy(_at(tables, draw(st.sampled_from(paths))))
        elif what == "name" and isinstance(inside, dict):
            inside[draw(st.sampled_from(NAMES))] = inside.pop(last)
        elif what == "double" and isinstance(inside, list):
            inside.insert(last, copy.deepcopy(inside[last]))
    extra = draw(st.sampled_from(["", "", "", *EXTRA]))
    return written(tables) + ("" if "=" in extra.split("\n")[0] else extra + "\n")
