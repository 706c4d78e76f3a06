"""The locator against tomli, which decides what a document means, and against toml-rs, an independent parser."""

import contextlib
import datetime
import json
import math
import random
from collections.abc import Iterator
from time import process_time
from typing import Any

import pytest
import tomli
from hypothesis import given, settings
from hypothesis import strategies as st

from postcheck.description.positions import Span, find, line_column, locate, located
from postcheck.description.problems import Path, Problem

CORPUS = {
    "plain": 'a = 1\nb = "x" # c\n\n# end',
    "crlf": 'a = 1\r\n[t]\r\nb = """x\r\ny"""\r\n[[r]]\r\nc = [1,\r\n 2]\r\n',
    "bom": "\ufeffa = 1\n[t]\nb = 2\n",
    "dotted": "a.b.c = 1\na.b.d = 2\na . e = 3\n'x.y'.\"z\" = 4\n",
    "quoted keys": '"" = 1\n"a\\u00e9\\"b" = 2\n\'c"d\' = 3\n"# no" = 4\n"= ]" = 5\n',
    "not ascii": '"ключ" = "значение"\n"🛳" = { "🛳" = ["🛳", 1] }\n',
    "super-table last": "[a.b.c]\nx = 1\n[a]\ny = 2\n[a.b]\nz = 3\n",
    "tables in arrays": "[[r]]\nn=1\n[r.s]\nk='#'\n[[r]]\n[[r.deep]]\n[[r.deep]]\nv={}\n[r.deep.w]\nu=1\n[[r]]\n",
    "dotted header": "[ a . 'b c' . \"d\" ]\nx = 1\n[[ a.q ]]\ny = 2\n[a.q.r.s]\n z=1\n",
    "inline": "a = { b = 1, c.d = 2, e = { f = [ { g = 1 }, { h = 2 } ] } , i = [] }\nj={}\n",
    "inline over lines": "a = {\n  b = 1, # one\n  c = [\n    1,\n  ],\n}\n",
    "nested lists": "a = [ [1, 2], [ ], [[[]]], # x ] y\n \"]\", ']', 3 ]\n",
    "many-line texts": 'a = """\n[no]\nb = 1\n""\\""" x"""\nc = \'\'\'\n[[no]]\n\'\' # x\'\'\'\nd = """"q""""" \ne = \'\'\'\'q\'\'\'\'\'\n',
    "escapes": 'a = "\\\\" # "\nb = "\\"]" \nc = [ "\\\\\\"", "," ]\nd = \'\\\'\n',
    "dates": "a = 1979-05-27 07:32:00Z\nb = [1979-05-27 07:32:00, 07:32:00]\nc = 1979-05-27 # x\n",
    "numbers": "a = +1_000\nb = 0xFF\nc = -inf\nd = [ 1e3 ,-0.5,nan]\ne = true#x\n",
    "named like metadata": "[value]\nkey = 1\nvalue = { value = { key = 2 } }\n",
    "no end of line": "[a]\nb = 'c'",
    "blank": "\n \t\r\n# only\n",
}


def paths_of(value: Any, path: Path = ()) -> set[Path]:
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    found = {path} if path else set()
    for key, inner in items:
        found |= paths_of(inner, (*path, key))
    return found


def at(data: Any, path: Path) -> Any:
    for part in path:
        data = data[part]
    return data


def same(left: Any, right: Any) -> bool:
    if isinstance(left, float) and isinstance(right, float) and math.isnan(left):
        return math.isnan(right)
    if isinstance(left, list) and isinstance(right, list):
        return len(left) == len(right) and all(map(same, left, right))
    return bool(left == right)


def agrees_with_tomli(text: str) -> int:
    """Check every span of `text`, and return how many values were read again from their span."""
    data = tomli.loads(text.removeprefix("\ufeff"))
    spans = locate(text)
    assert set(spans) == paths_of(data)
    read_again = 0
    for path, (key_start, key_end, value_start, value_end) in spans.items():
        value = at(data, path)
        if isinstance(path[-1], str):
            assert list(tomli.loads(f"{text[key_start:key_end]} = 0")) == [path[-1]]
        else:
            assert key_start == value_start or text[value_start : value_start + 2] == "[["
        if value_start < key_start:  # a header
            assert text[value_start] == "["
            assert text[value_end - 1] == "]"
        elif isinstance(path[-1], str) and value_start == key_start:  # a part of a dotted key
            assert isinstance(value, dict)
        else:
            assert same(tomli.loads(f"x = {text[value_start:value_end]}")["x"], value)
            read_again += 1
    for path in spans:  # what is asked for alone is found alike, and so is what is not there
        for asked in (path, (*path, "no such key")):
            assert find(locate(text, [asked]), asked) == find(spans, asked)
    return read_again


def test_of_what_is_not_asked_for_little_is_kept() -> None:
    text = "".join(f'[[lamp]]\nname = "lamp {n}"\nplaces = ["hub", "bow"]\n' for n in range(100))
    asked = ("lamp", 70, "places", 1)
    assert len(locate(text, [asked])) < 10 < len(locate(text)) / 50
    assert find(locate(text, [asked]), asked) == find(locate(text), asked)


def test_long_lists_of_what_is_not_asked_for_take_no_time() -> None:
    words = "a" * 40 + "." + "1" * 40
    for inside in (words, f'"{words}"', ", ".join([words] * 200), '""' * 40):
        text = f"[a]\nlist = [{inside} # and on\n]\n[b]\nkey = 1\n"
        began = process_time()
        locate(text, [("b", "key")])
        assert (
            process_time() - began < 1.0
        )  # a thousandth of that; for ever where a pattern can match in many ways


@pytest.mark.parametrize("text", CORPUS.values(), ids=CORPUS)
def test_tricky_documents(text: str) -> None:
    again = agrees_with_tomli(text)

    assert again or not tomli.loads(text.removeprefix("\ufeff"))


def test_the_corpus_reads_many_values_again() -> None:
    assert sum(agrees_with_tomli(text) for text in CORPUS.values()) > 80


def values_of_toml_rs(nodes: dict[str, Any], path: Path = ()) -> Iterator[tuple[Path, int, int, str]]:
    """Yield path, line, column and text of every key's value that toml-rs knows the place of."""
    for key, node in nodes.items():
        raw = node.get("value_raw")
        if not isinstance(raw, str):
            if "key_raw" not in node:  # a table
                yield from values_of_toml_rs(node, (*path, key))
            continue
        line, column = node["value_line"], node["value_col"]
        yield (
            (*path, key),
            line if isinstance(line, int) else line[0],
            column if isinstance(column, int) else column[0],
            raw,
        )


PLAIN = [
    "plain",
    "dotted",
    "super-table last",
    "nested lists",
    "many-line texts",
    "escapes",
    "dates",
    "numbers",
]


@pytest.mark.parametrize("name", PLAIN)
def test_values_stand_where_toml_rs_finds_them(name: str) -> None:
    toml_rs = pytest.importorskip("toml_rs")
    text = CORPUS[name]
    spans = locate(text)

    known = list(values_of_toml_rs(toml_rs.load_with_metadata(text).meta["nodes"]))

    assert known
    for path, line, column, raw in known:
        span = spans[path]
        assert (*line_column(text, span.value_start), text[span.value_start : span.value_end]) == (
            line,
            column,
            raw,
        )


# Random documents: a tree, written in a randomly chosen style.

KEYS = st.one_of(
    st.sampled_from(["a", "b", "lamp", "value", "key", "x-1", "0"]),
    st.text(st.characters(exclude_categories=["Cs"]), max_size=4),
)
SCALARS = st.one_of(
    st.integers(-(2**40), 2**40),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(st.characters(exclude_categories=["Cs"]), max_size=8),
    st.sampled_from(["#", "]", '"', "'''", "\\", "[x]\n", "a = 1", '""""']),
    st.dates(datetime.date(1900, 1, 1)),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=8,
)
TABLES = st.recursive(
    st.dictionaries(KEYS, VALUES, max_size=4),
    lambda inner: st.dictionaries(KEYS, VALUES | inner | st.lists(inner, min_size=1, max_size=3), max_size=4),
    max_leaves=6,
)


class Writer:
    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.newline = self.random.choice(["\n", "\r\n"])

    def key(self, key: str) -> str:
        if (
            key
            and all(c.isascii() and (c.isalnum() or c in "-_") for c in key)
            and self.random.random() < 0.7
        ):
            return key
        if "'" not in key and key.isprintable() and self.random.random() < 0.5:
            return f"'{key}'"
        return self.basic(key)

    def basic(self, text: str) -> str:
        return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f").replace("\\/", "/")

    def text(self, text: str) -> str:
        style = self.random.randrange(4)
        printable = text.replace("\n", "").isprintable()
        if style == 1 and "'" not in text and text.isprintable():
            return f"'{text}'"
        if style == 2 and printable and "'" not in text and "\n" not in text:
            return f"'''{self.newline}{text}'''"
        if style == 3:
            return f'""{self.basic(text)}""'
        return self.basic(text)

    def gap(self, *, lines: bool) -> str:
        return self.random.choice(
            ["", " ", "\t", *([f' # ] }} , "{self.newline}', self.newline] if lines else [])]
        )

    def value(self, value: Any) -> str:
        if isinstance(value, bool):
            return "true" if value else "false"
        if isinstance(value, str):
            return self.text(value)
        if isinstance(value, float):
            return repr(value)
        if isinstance(value, dict | list):
            entries = (
                [self.value(inner) for inner in value]
                if isinstance(value, list)
                else [f"{self.dotted(key, inner)}" for key, inner in value.items()]
            )
            body = ",".join(self.gap(lines=True) + entry + self.gap(lines=True) for entry in entries)
            comma = "," if entries and self.random.random() < 0.3 else ""
            opening, closing = "[]" if isinstance(value, list) else "{}"
            return opening + body + comma + self.gap(lines=True) + closing
        return str(value)

    def dotted(self, key: str, value: Any) -> str:
        keys = [key]
        while isinstance(value, dict) and len(value) == 1 and self.random.random() < 0.5:
            [(inner, value)] = value.items()
            keys.append(inner)
        name = f"{self.gap(lines=False)}.{self.gap(lines=False)}".join(map(self.key, keys))
        return f"{name}{self.gap(lines=False)}={self.gap(lines=False)}{self.value(value)}"

    def table(self, table: dict[str, Any], path: tuple[str, ...] = ()) -> list[str]:
        lines: list[str] = []
        later: list[str] = []
        for key, value in table.items():
            header = ".".join(map(self.key, (*path, key)))
            many = isinstance(value, list) and value and all(isinstance(inner, dict) for inner in value)
            if isinstance(value, dict) and self.random.random() < 0.5:
                later += [f" [ {header} ] # [x]", *self.table(value, (*path, key))]
            elif many and self.random.random() < 0.7:
                for inner in value:
                    later += [f"[[{header}]]", *self.table(inner, (*path, key))]
            else:
                lines.append(f"{self.gap(lines=False)}{self.dotted(key, value)}{self.gap(lines=False)}")
        return [*lines, "", "# x = [", *later]

    def document(self, table: dict[str, Any]) -> str:
        return self.random.choice(["", "\ufeff"]) + self.newline.join(self.table(table))


@settings(max_examples=150)
@given(TABLES, st.integers(0, 2**32))
def test_random_documents(table: dict[str, Any], seed: int) -> None:
    text = Writer(seed).document(table)

    assert tomli.loads(text.removeprefix("\ufeff")) == table
    agrees_with_tomli(text)


def test_what_is_missing_is_found_at_what_holds_it() -> None:
    text = '[[lamp]]\nname = "a"\n\n[[lamp]]\nlead = "220 V to keel"\n'
    spans = locate(text)

    assert find(spans, ("lamp", 1, "place")) == spans["lamp", 1]
    assert line_column(text, spans["lamp", 1].value_start) == (4, 1)
    assert find(spans, ("lamp", 1, "lead", "length")) == spans["lamp", 1, "lead"]
    assert find(spans, ("nothing",)) == Span(0, 0, 0, 0)
    assert find(spans, ()) == Span(0, 0, 0, 0)


def test_problems_get_line_and_column_in_code_points_and_in_order() -> None:
    text = '[place."🛳"]\r\n"🛳é" = 1\r\nb = { "🛳" = 2, c = 3 }\r\n'
    problems = [
        Problem("file.wrong-type", ("place", "🛳", "b", "c"), "second"),
        Problem("file.unknown-key", ("place", "🛳", "🛳é"), "first", on="key"),
        Problem("file.invalid", (), "kept", line=9, column=9),
    ]

    found = located(problems, text)

    assert [(p.says, p.line, p.column) for p in found] == [("first", 2, 1), ("second", 3, 20), ("kept", 9, 9)]


@given(st.text("ab=[]{}\"'\\#.,\n\r\t 1-:", max_size=30))
def test_any_text_comes_to_an_end(text: str) -> None:
    try:
        data = tomli.loads(text)
    except tomli.TOMLDecodeError:
        with contextlib.suppress(ValueError):
            locate(text)
    else:
        assert set(locate(text)) == paths_of(data)


def test_deep_and_long_documents_are_no_trouble() -> None:
    deep = "a = " + "[" * 300 + "]" * 300
    assert len(locate(deep)) == 300
    wide = "\n".join(f"[[lamp]]\nname = 'lamp {number}'" for number in range(3000))
    assert len(locate(wide)) == 1 + 2 * 3000
