"""Changes of a text, each as a builder would type it: written down by hand, and read again by another reader of TOML."""

from __future__ import annotations

import copy
from typing import Any

import pytest
import toml_rs
import tomli

from postcheck.description.fields import one_line
from postcheck.description.keys import fields_at, form_at, kinds_at
from postcheck.description.models import Build
from postcheck.description.rewriting import Put, changed_lines, rewritten

Path = tuple[str | int, ...]
TWO = '[[lamp]]\nname = "a"\n\n[[lamp]]\nname = "b"\n[lamp.lead]\nto = "x"\n\n[circuit.a]\n'

ADDED = [
    # a table behind its like, set apart as that is
    ("[place.a]\nx = 1\n\n[place.b]\nx = 2\n\n[other]\n", ("place", "c"), "{ x = 3 }",
     "[place.a]\nx = 1\n\n[place.b]\nx = 2\n\n[place.c]\nx = 3\n\n[other]\n"),
    ("[place.a]\nx = 1\n[place.b]\nx = 2\n[other]\n", ("place", "c"), "{ x = 3 }",
     "[place.a]\nx = 1\n[place.b]\nx = 2\n[place.c]\nx = 3\n[other]\n"),
    ("  [place.b]\n  open  = 2\n  to    = 3\n\n[other]\n", ("place", "c"), "{ open = 3, other = 4 }",
     "  [place.b]\n  open  = 2\n  to    = 3\n\n  [place.c]\n  open   = 3\n  other  = 4\n\n[other]\n"),
    ("[place.b]\nx = 2 # two\n# of the next\n[other]\n", ("place", "c"), "{ x = 3 }",
     "[place.b]\nx = 2 # two\n\n[place.c]\nx = 3\n# of the next\n[other]\n"),
    ("[ place . b ]\nx = 2\n[other]\n", ("place", "c"), "{ x = 3 }", "[ place . b ]\nx = 2\n\n[ place . c ]\nx = 3\n[other]\n"),
    # one below it belongs to it
    ("[place.b]\nx = 2\n[place.b.in]\ny = 1\n\n[other]\n", ("place", "c"), "{ x = 3 }",
     "[place.b]\nx = 2\n[place.b.in]\ny = 1\n\n[place.c]\nx = 3\n\n[other]\n"),
    # with none of its like, at the end
    ("[other]\nx = 1", ("place", "c"), "{ x = 3 }", "[other]\nx = 1\n\n[place.c]\nx = 3\n"),
    ("[other]\nx = 1\n", ("place", "c"), "{ x = 3 }", "[other]\nx = 1\n\n[place.c]\nx = 3\n"),
    ("[other]\r\nx = 1\r\n", ("place", "c"), "{ x = 3 }", "[other]\r\nx = 1\r\n\r\n[place.c]\r\nx = 3\r\n"),
    ("", ("place",), "{ x = 3 }", "[place]\nx = 3\n"),
    ("[other]\n", ("place", "a b"), "{ x = 3 }", '[other]\n\n[place."a b"]\nx = 3\n'),
    # a key of a table that only tables have named, before them and what is said of them
    ("# top\n[a.b]\nx = 1\n", ("a", "y"), "2", "[a]\ny = 2\n\n# top\n[a.b]\nx = 1\n"),
    ("z = 1\n\n# one\n# two\n[a.b]\nx = 1\n", ("a", "y"), "2", "z = 1\n\n[a]\ny = 2\n\n# one\n# two\n[a.b]\nx = 1\n"),
    # dotted keys
    ("a.b = 1\nc = 2\n", ("a", "d"), "3", "a.b = 1\na.d = 3\nc = 2\n"),
    ("a.b=1 # one\nc = 2\n", ("a", "d"), "3", "a.b=1 # one\na.d=3\nc = 2\n"),
    ("a.b.c = 1\nc = 2\n", ("a", "d"), "3", "a.b.c = 1\na.d = 3\nc = 2\n"),
    ("  a.b  =  1\n", ("a", "d"), "3", "  a.b  =  1\n  a.d =  3\n"),
    ("a = { b.c = 1 }\n", ("a", "b", "d"), "3", "a = { b.c = 1, b.d = 3 }\n"),
    # not below the header of a table in it
    ("[f]\na.b = 1\n[f.a.c]\nd = 2\n", ("f", "a", "x"), "3", "[f]\na.b = 1\na.x = 3\n[f.a.c]\nd = 2\n"),
    ("[f]\na.b = 1\n[f.a.c]\nd.e = 2\n", ("f", "a", "x"), "3", "[f]\na.b = 1\na.x = 3\n[f.a.c]\nd.e = 2\n"),
    ("a.b = { c = 1 }\nx = 1\n", ("a", "d"), "3", "a.b = { c = 1 }\na.d = 3\nx = 1\n"),
    # in braces
    ("a = {}\n", ("a", "b"), "3", "a = { b = 3 }\n"),
    ("a = {  }\n", ("a", "b"), "3", None),
    ("a = { b = 1 }\n", ("a", "c"), "3", "a = { c = 3, b = 1 }\n"),
    ("[t]\na = { b = 1 }\n", ("t", "a", "c", "d"), "3", "[t]\na = { c = { d = 3 }, b = 1 }\n"),
    # entries of a list
    ("a = [1, 2]\n", ("a", "+"), "3", "a = [1, 2, 3]\n"),
    ("a = [[1], [2]]\n", ("a", 0), "[3]", "a = [[3], [2]]\n"),
    ("a = [[1], [2]]\n", ("a", 1, "+"), "3", "a = [[1], [2, 3]]\n"),
    ("a = [\n  1,\n  2\n]\n", ("a", "+"), "3", "a = [\n  1,\n  2,\n  3\n]\n"),
    ("a = [\n  1,\n  2, # two\n]\n", ("a", "+"), "3", "a = [\n  1,\n  2, # two\n  3,\n]\n"),
    ("a = [\n  1,\n  2 # two\n]\n", ("a", "+"), "3", "a = [\n  1,\n  2, # two\n  3\n]\n"),
    ("a = [\r\n  1\r\n]\r\n", ("a", "+"), "3", "a = [\r\n  1,\r\n  3\r\n]\r\n"),
    ("a = [\n  1, 2]\n", ("a", "+"), "3", "a = [\n  1, 2, 3]\n"),
    ("a = []\n", ("a", "+"), "3", "a = [3]\n"),
    ("", ("lamp", "+"), '{ name = "c" }', '[[lamp]]\nname = "c"\n'),
    (TWO, ("lamp", "+"), '{ name = "c" }', TWO.replace("\n[circuit", '\n[[lamp]]\nname = "c"\n\n[circuit')),
    ("[[lamp]]\nname = 'a'\n[other]\n", ("lamp", "+"), '{ name = "c", kind = "it\'s" }',
     "[[lamp]]\nname = 'a'\n\n[[lamp]]\nname = 'c'\nkind = \"it's\"\n[other]\n"),
    ('[[lamp]]\nname   = "a"\nplace  = "b"\n', ("lamp", "+"), '{ name = "c", resistor = "d" }',
     '[[lamp]]\nname   = "a"\nplace  = "b"\n\n[[lamp]]\nname      = "c"\nresistor  = "d"\n'),
    ('[[lamp]]\nname="a"\n', ("lamp", "+"), '{ name = "c" }', '[[lamp]]\nname="a"\n\n[[lamp]]\nname="c"\n'),
    ('[[lamp]]\nname = "a"\n[[lamp]]\nname = "b"\n', ("lamp", "+"), '{ name = "c" }',
     '[[lamp]]\nname = "a"\n[[lamp]]\nname = "b"\n[[lamp]]\nname = "c"\n'),
    # keys under the last of their table
    ("x = 1\n[t]\ny = 2\n", ("z",), "3", "x = 1\nz = 3\n[t]\ny = 2\n"),
    ("[t]\ny = 2\n", ("z",), "3", "z = 3\n[t]\ny = 2\n"),
    ("[t]\r\ny = 2\r\n", ("z",), "3", "z = 3\r\n[t]\r\ny = 2\r\n"),
    ("[t]\r\ny = 2\r\n", ("t", "z"), "3", "[t]\r\ny = 2\r\nz = 3\r\n"),
    ("[t]\r\n", ("t", "z"), "3", "[t]\r\nz = 3\r\n"),
    ("[t]\n", ("t", "z"), "3", "[t]\nz = 3\n"),
    ("[t]", ("t", "z"), "3", "[t]\nz = 3"),
    ("[t]\ny = 2", ("t", "z"), "3", "[t]\ny = 2\nz = 3"),
    ("[t]\n[t.u]\nx = 1\n", ("t", "z"), "3", "[t]\nz = 3\n[t.u]\nx = 1\n"),
    ("[t]\ny = 2\n[t.u]\nx = 1\n", ("t", "z"), "3", "[t]\ny = 2\nz = 3\n[t.u]\nx = 1\n"),
    ("[t]\n  long  = 1\n  x     = 1\n", ("t", "z"), "3", "[t]\n  long  = 1\n  x     = 1\n  z     = 3\n"),
    ("[t]\nlong=1\n", ("t", "z"), "3", "[t]\nlong=1\nz   = 3\n"),
    ("[place.b]\na  =  1\nbb =   2\n", ("place", "c"), "{ d = 3 }", "[place.b]\na  =  1\nbb =   2\n\n[place.c]\nd  =  3\n"),
    ("[t]\nx = 1\n", ("t", "much longer"), "3", '[t]\nx = 1\n"much longer" = 3\n'),
]  # fmt: skip
TAKEN = [
    ("x = 1 # one\ny = 2\n", ("x",), "y = 2\n"),
    ("a.b = 1\n", ("a", "b"), "a = {}\n"),
    ("a.b = 1\na.c = 2\n", ("a", "b"), "a.c = 2\n"),
    ("a = { b = 1, c = 2 }\n", ("a", "b"), "a = { c = 2 }\n"),
    ("a = { b = 1, c = 2 }\n", ("a", "c"), "a = { b = 1 }\n"),
    ("a = { b = 1 }\n", ("a", "b"), "a = { }\n"),
    ("a = [1, 2, 3]\n", ("a", 1), "a = [1, 3]\n"),
    ("a = [1, 2, 3]\n", ("a", 2), "a = [1, 2]\n"),
    ("a = [\n 1,\n 2, # two\n 3\n]\n", ("a", 1), "a = [\n 1,\n 3\n]\n"),
    ("a = [\n 1,\n 2, # two\n 3\n]\n", ("a", 2), "a = [\n 1,\n 2, # two\n]\n"),
    ('[[l]]\nn = "a"\n[[l]]\nn = "b"\n', ("l", 0), '[[l]]\nn = "b"\n'),
    ('[[l]]\nn = "a"\n\n# the second\n[[l]]\nn = "b"\n\n[x]\n', ("l", 1), '[[l]]\nn = "a"\n\n[x]\n'),
    (
        '[[l]]\nn = "a"\n\n# one\n# two\n[[l]]\nn = "b"\n[l.in]\ny = 1\n\n# of x\n[x]\n',
        ("l", 1),
        '[[l]]\nn = "a"\n\n# of x\n[x]\n',
    ),
    (
        '[[l]]\nn = "a"\n# of the first\n\n[[l]]\nn = "b"\n# its own\n',
        ("l", 1),
        '[[l]]\nn = "a"\n# of the first\n',
    ),
    ('# its own\n[[l]]\nn = "a"\n[[l]]\nn = "b"\n', ("l", 0), '[[l]]\nn = "b"\n'),
    ('[[l]]\nn = "a"\n\n\n[[l]]\nn = "b"\n', ("l", 0), '[[l]]\nn = "b"\n'),
    ('z = 1\n\n[[l]]\nn = "a"\n\n[[l]]\nn = "b"\n', ("l", 0), 'z = 1\n\n[[l]]\nn = "b"\n'),
]


def changed(tables: Any, path: Path, value: str | None) -> Any:
    """The same change, made in the tables."""
    made = copy.deepcopy(tables)
    *above, last = path
    here = made
    for step in above:
        here = (
            here.setdefault(step, [] if last == "+" and step == above[-1] else {})
            if isinstance(here, dict)
            else here[step]
        )
    if value is None:
        del here[last]
    elif last == "+":
        here.append(tomli.loads(f"x = {value}")["x"])
    else:
        here[last] = tomli.loads(f"x = {value}")["x"]
    return made


@pytest.mark.parametrize(
    ("text", "path", "value", "after"), [*ADDED, *((text, path, None, after) for text, path, after in TAKEN)]
)
def test_a_change_is_what_would_be_typed(text: str, path: Path, value: str | None, after: str | None) -> None:
    done = rewritten(text, [Put(path, value)])
    assert toml_rs.loads(done) == changed(tomli.loads(text), path, value)
    if after is not None:
        assert done == after


@pytest.mark.parametrize(
    ("text", "after"),
    [
        ("x = 1\n", "x = 1\n\n[t]\ny = 1\n"),
        ("x = 1", "x = 1\n\n[t]\ny = 1\n"),
        ("[t.a]\r\n", None),
        ("x = 1\r\n", "x = 1\r\n\r\n[t]\r\ny = 1\r\n"),
    ],
)
def test_whole_tables_go_to_the_end(text: str, after: str | None) -> None:
    if after is not None:
        assert rewritten(text, [], "[t]\ny = 1\n") == after
    else:
        assert rewritten(text, [], "[t.b]\ny = 1\n") == "[t.a]\r\n\r\n[t.b]\r\ny = 1\r\n"


def test_the_lines_that_change() -> None:
    assert list(changed_lines("a\nb\nc\n", "a\nx\ny\nc\n")) == [(2, "b", "x"), (3, None, "y")]
    assert list(changed_lines("a\nb\nc\n", "a\nc\n")) == [(2, "b", None)]
    assert list(changed_lines("a\nb\nc\nd\n", "a\nx\nd\n")) == [(2, "b", "x"), (3, "c", None)]
    assert list(changed_lines("a\nd\n", "a\nx\ny\nd\n")) == [(2, None, "x"), (3, None, "y")]
    assert list(changed_lines("a\n", "a\n")) == []
    # blank lines between them are as they were, however many there are
    before, after = ([*map(str, range(200)), *[""] * 20, one, "", "", other] for one, other in ("ab", "cd"))
    assert list(changed_lines("\n".join(before), "\n".join(after))) == [(221, "a", "c"), (224, "b", "d")]


# -- what may stand where


@pytest.mark.parametrize(
    ("path", "has"),
    [
        (("lamp", 0, "resistor"), True),
        (("lamp", 0, "lead"), True),
        (("lamp", 3, "kind"), False),
        (("supply", "main", "fuse"), True),
        (("supply", "main", "instead", 1), True),  # each of a list
        (("supply", "main", "instead"), True),
        (("stock", "fuses", 0), True),
        (("stock", "series"), False),
        (("run", 0, "ends"), False),
        (("lamp", 0), False),
        (("lamp", "x", "resistor"), False),
        (("supply", 0, "fuse"), False),
        (("nothing", "fuse"), False),
        (("nothing",), False),
        ((), False),
        ((0,), False),
    ],
)
def test_where_a_one_line_form_stands(path: Path, has: bool) -> None:
    found = form_at(Build, path)
    assert (found is not None) is has
    assert found is None or isinstance(found, one_line)


@pytest.mark.parametrize(
    ("path", "key", "has"),
    [
        (("lamp", 0), "resistor", True),
        (("lamp",), "resistor", False),
        (("supply", "main"), "from", True),  # as the file has it
        (("supply", "main"), "fed_by", False),
        (("supply", "main", "fuse"), "rated", True),
        ((), "lamp", True),
        (("build",), "name", True),
        (("lamp", 0, "lead", "feed"), "colour", True),
    ],
)
def test_which_keys_a_table_may_have(path: Path, key: str, has: bool) -> None:
    assert any(key in fields for fields in fields_at(Build, path)) is has
    assert kinds_at(None, path) == []
