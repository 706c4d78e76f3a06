"""Values set in a text: what is read afterwards, and that nothing else has changed."""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce

import pytest
import tomli
from hypothesis import given
from hypothesis import strategies as st

from postcheck.description import positions, rewriting
from postcheck.description.positions import Span
from postcheck.description.problems import Path
from postcheck.description.rewriting import Put, RewriteError, rewritten

TEXT = """# an airship
format = 1
[build]   # what it is
name  = "Airship"   # ours
[supply.main]
kind = "adaptor"
volts = "12 V" # by its plate

[[lamp]]
name   = "bow"
kind   = 'smd-0603-red'
count  = 9   # nine

[[lamp]]
name = "stern"
lead = { length = "20 mm", to = "hub" }
"""


def test_a_value_gives_way_and_its_comment_stays() -> None:
    done = rewritten(TEXT, [Put(("supply", "main", "volts"), '"9 V"')])
    assert done == TEXT.replace('volts = "12 V" # by its plate', 'volts = "9 V" # by its plate')


def test_a_new_key_goes_under_the_last_one_lined_up() -> None:
    done = rewritten(TEXT, [Put(("lamp", 0, "wanted"), '"3 mA"'), Put(("build", "stage"), '"wiring"')])
    assert 'count  = 9   # nine\nwanted = "3 mA"\n' in done
    assert 'name  = "Airship"   # ours\nstage = "wiring"\n' in done


def test_a_key_is_taken_out_with_its_line_and_out_of_a_table_in_braces() -> None:
    done = rewritten(TEXT, [Put(("lamp", 0, "count"), None), Put(("lamp", 1, "lead", "length"), None)])
    assert "count" not in done
    assert 'lead = { to = "hub" }' in done


def test_tables_go_to_the_end_with_the_line_endings_of_the_file() -> None:
    done = rewritten(
        TEXT.replace("\n", "\r\n"), [Put(("lamp", 0, "wanted"), '"3 mA"')], '[[run]]\nline = "x"\n'
    )
    assert done.endswith('}\r\n\r\n[[run]]\r\nline = "x"\r\n')
    assert done.count("\n") == done.count("\r\n")


@pytest.mark.parametrize(
    ("text", "put", "lines"),
    [
        ("lamp.name = 1\n", Put(("lamp",), "1"), ("lamp = 1",)),
        ("[wire.own]\n", Put(("lamp", 3, "wanted"), '"3 mA"'), ("[[lamp]]", 'wanted = "3 mA"')),
        ("a = 1\n", Put(("wire", "own", "strands"), "7"), ("[wire.own]", "strands = 7")),
        ("[wire.own]\n", Put(("wire", "own", "strands"), None), ("[wire.own]", "# strands goes")),
        ("[run]\n", Put(("run", "+"), "{ line = 'a' }"), ("[[run]]", 'line = "a"')),
        ("a = 1\n", Put(("a", "b"), "2"), ("[a]", "b = 2")),
        ("[wire.own]\n", Put(("lamp", 3, "lead"), "{ to = 'x' }"), ("[[lamp]]", "lead = { to = 'x' }")),
    ],
)
def test_what_has_no_room_is_refused_with_the_lines_to_type(
    text: str, put: Put, lines: tuple[str, ...]
) -> None:
    with pytest.raises(RewriteError) as refused:
        rewritten(text, [put])
    assert refused.value.lines == lines


@pytest.mark.parametrize(
    "text", ["run = []\n", "run = [{ line = 'a' }]\n", "[run]\n", "a.b = 1\nrun = [ # none\n]\n"]
)
def test_tables_are_not_added_to_a_list_in_one_piece(text: str) -> None:
    with pytest.raises(RewriteError, match=r"no \[\[run\]\] can be added"):
        rewritten(text, [], '[[run]]\nline = "x"\n')


def test_tables_are_added_to_those_that_are_there_but_not_a_second_one_of_a_name() -> None:
    done = rewritten('[[run]]\nline = "a"\n', [], '[[run]]\nline = "x"\n')
    assert [run["line"] for run in tomli.loads(done)["run"]] == ["a", "x"]
    with pytest.raises(RewriteError, match="usual already"):
        rewritten("usual.lead = 'a'\n", [], '[usual]\nrun = "x"\n')


def test_a_text_that_is_not_understood_is_refused() -> None:
    with pytest.raises(RewriteError, match="understood"):
        rewritten("a = 1\n= 2\n", [Put(("a",), "3")])


@pytest.mark.parametrize(
    ("text", "put", "after"),
    [
        ("[t]\na.b = 1\n", Put(("t", "a", "b"), None), "[t]\na = {}\n"),
        ("t.a = 1 # c\nt.b = 2\n", Put(("t", "b"), None), "t.a = 1 # c\n"),
        ("t.a = 1\nt.b = 2\nx = 1\n", Put(("t",), None), "x = 1\n"),
        ("t.a='1' # c\nx = 1\n", Put(("t", "b"), "2"), "t.a='1' # c\nt.b=2\nx = 1\n"),
        ("t.u.a = 1\nx = 1\n", Put(("t", "b"), "2"), "t.u.a = 1\nt.b = 2\nx = 1\n"),
        ("v = { t.a = 1, x = 1 }\n", Put(("v", "t", "b"), "2"), "v = { t.a = 1, t.b = 2, x = 1 }\n"),
        ("v = { t.a = 1, t.b = 2 }\n", Put(("v", "t", "a"), None), "v = { t.b = 2 }\n"),
        (
            "[[lamp]]\nresistor.ohms = '390 ohm' # c\nresistor.power = '0.25 W'\n",
            Put(("lamp", 0, "resistor"), '"470 ohm 1/4 W at keel"'),
            '[[lamp]]\nresistor.ohms = "470 ohm" # c\nresistor.power = \'0.25 W\'\nresistor.place = "keel"\n',
        ),
        (
            "[[lamp]]\n[lamp.resistor] # c\nohms = '390 ohm'\nsize = '0805'\n",
            Put(("lamp", 0, "resistor"), '"470 ohm"'),
            '[[lamp]]\n[lamp.resistor] # c\nohms = "470 ohm"\n',
        ),
        (
            "[circuit.x]\noutput = '100 mA, drop 0.2 V' # c\n",
            Put(("circuit", "x", "output", "limit"), '"200 mA"'),
            "[circuit.x]\noutput = '200 mA, drop 0.2 V' # c\n",
        ),
        (
            "[[lamp]]\nlead = '220 mm to keel'\n",
            Put(("lamp", 0, "lead", "spare"), '"20 mm"'),
            '[[lamp]]\nlead = { length = "220 mm", to = "keel", spare = "20 mm" }\n',
        ),
        (
            "[post]\nthrough = [\n  'a', # one\n  'b' # two\n]\n",
            Put(("post", "through"), "['a', 'c', 'd']"),
            '[post]\nthrough = [\n  \'a\', # one\n  "c", # two\n  "d"\n]\n',
        ),
        ("a = [\n 'x',\n 'y' # why\n]\n", Put(("a",), "['x']"), "a = [\n 'x',\n]\n"),
        ("a = ['x', # why\n'y']\n", Put(("a", 1), None), "a = ['x', # why\n]\n"),
        ("a = ['x'\n, 'y']\n", Put(("a", 0), None), "a = ['y']\n"),
        ("# top\n[t]\n", Put(("x",), "1"), "x = 1\n# top\n[t]\n"),
        ("x = 1 # c\n[t]\n", Put(("y",), "2"), "x = 1 # c\ny = 2\n[t]\n"),
        ("x = 1", Put(("usual", "lead"), "'w'"), 'x = 1\n\n[usual]\nlead = "w"\n'),
        ("# b\n[a.b]\nc = 1\n", Put(("a", "x"), "1"), "[a]\nx = 1\n\n# b\n[a.b]\nc = 1\n"),
    ],
)
def test_what_stands_in_pieces_is_changed_piece_by_piece(text: str, put: Put, after: str) -> None:
    assert rewritten(text, [put]) == after


@pytest.mark.parametrize(
    ("text", "after"),
    [
        (
            "[[run]]\nline   = 'a'\nlength = '1 mm' # c\n\n[z]\n",
            "[[run]]\nline   = 'a'\nlength = '1 mm' # c\n\n[[run]]\nline   = 'x'\ncolour = \"b's\"\n\n[z]\n",
        ),
        (
            '  [[ run ]]\r\n  line="a"\r\n  [run.joint]\r\n  across="1 mm"\r\n  [z]\r\n',
            '  [[ run ]]\r\n  line="a"\r\n  [run.joint]\r\n  across="1 mm"\r\n\r\n'
            '  [[ run ]]\r\n  line="x"\r\n  colour="b\'s"\r\n  [z]\r\n',
        ),
        ("a = 1\n", 'a = 1\n\n[[run]]\nline = "x"\ncolour = "b\'s"\n'),
        (  # most of its quotes are single
            '[[run]]\na = \'one\'\nb = [\'two\', "three", "four"]\nc = ""\n',
            '[[run]]\na = \'one\'\nb = [\'two\', "three", "four"]\nc = ""\n\n[[run]]\nline = \'x\'\ncolour = "b\'s"\n',
        ),
        ("run = []\n", "run = [{ line = 'x', colour = \"b's\" }]\n"),
        ("run = [{ line = 'a' }]\n", "run = [{ line = 'a' }, { line = 'x', colour = \"b's\" }]\n"),
        (
            "run = [\n { line = 'a' } # c\n]\n",
            "run = [\n { line = 'a' }, # c\n { line = 'x', colour = \"b's\" }\n]\n",
        ),
        (
            "run = [\n { line = 'a' }, # c\n]\n",
            "run = [\n { line = 'a' }, # c\n { line = 'x', colour = \"b's\" },\n]\n",
        ),
    ],
)
def test_a_new_run_stands_after_the_last_one_and_is_written_as_that(text: str, after: str) -> None:
    assert rewritten(text, [Put(("run", "+"), "{ line = 'x', colour = \"b's\" }")]) == after


def test_keys_that_need_quotes_get_them() -> None:
    done = rewritten(
        "[t]\nx = 1\n[u]\nv = { w = 1 }\n", [Put(("t", 'a "b"'), "2"), Put(("u", "v", "c.d"), "3")]
    )
    assert tomli.loads(done) == {"t": {"x": 1, 'a "b"': 2}, "u": {"v": {"w": 1, "c.d": 3}}}


_KEY = st.sampled_from(["a", "bb", "c-c", "d_1"])
_VALUE = st.one_of(
    st.integers(-9, 99).map(str), st.sampled_from(['"x # y"', "'l\"it'", "[1, 2]", "true", "{ k = 1 }"])
)
_TABLE = st.dictionaries(_KEY, _VALUE, max_size=4)


@st.composite
def _files(draw: st.DrawFn) -> tuple[str, list[str | int]]:
    ends = draw(st.sampled_from(["\n", "\r\n"]))
    lines, tables = [], list[str | int]()
    for name in draw(st.lists(st.sampled_from(["t", "u", "v"]), unique=True, min_size=1)):
        lines.append(f"{draw(st.sampled_from(['', '  ']))}[{name}] # {name}")
        tables.append(name)
        for key, value in draw(_TABLE).items():
            lines.append(
                f"{key}{' ' * draw(st.integers(0, 3))} = {value}{draw(st.sampled_from(['', '  # note', ' #x = 1']))}"
            )
        lines += draw(st.sampled_from([[], [""], ["# between"]]))
    return ends.join(lines) + draw(st.sampled_from(["", ends])), tables


@given(_files(), st.data())
def test_any_file_has_the_new_values_and_keeps_all_others_and_its_comments(
    file: tuple[str, list[str | int]], data: st.DataObject
) -> None:
    text, tables = file
    wanted = tomli.loads(text)
    puts = []
    for _ in range(data.draw(st.integers(1, 4))):
        table, key = str(data.draw(st.sampled_from(tables))), data.draw(_KEY)
        value = data.draw(st.one_of(st.none(), _VALUE))
        if value is None and key not in wanted[table]:
            continue
        puts.append(Put((table, key), value))
        if value is None:
            del wanted[table][key]
        else:
            wanted[table][key] = tomli.loads(f"x = {value}")["x"]
    done = rewritten(text, puts)
    assert tomli.loads(done) == wanted
    assert done == reduce(lambda so_far, put: rewritten(so_far, [put]), puts, text)
    kept = [line for line in text.splitlines() if line.startswith("#") or line.lstrip().startswith("[")]
    assert [line for line in done.splitlines() if line in kept] == kept


def test_what_touches_tables_of_their_own_is_found_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan gives each of hundreds of lamps a resistor and a lead, and takes out as many runs; to find them takes its time."""
    looked: list[str] = []

    def counted(text: str) -> Mapping[Path, Span]:
        looked.append(text)
        return positions.locate(text)

    monkeypatch.setattr(rewriting, "locate", counted)
    lamps = [{"name": f"{number}", "resistor": f"{number} ohm", "lead": "30 mm"} for number in range(200)]
    text = "".join(
        f'[[lamp]]\nname = "{number}"\n[[run]]\n# of {number}\nline = "{number}"\n' for number in range(200)
    )
    puts = [
        Put(("lamp", number, key), f'"{lamp[key]}"')
        for number, lamp in enumerate(lamps)
        for key in ("resistor", "lead")
    ]
    done = rewritten(text, [*puts, *(Put(("run", number), None) for number in range(199, -1, -1))])
    assert tomli.loads(done) == {"lamp": lamps}
    assert len(looked) == 3


RUNS = """# of the keel

# the feed
#   by the port side
[[run]]  # old
line = "a"
note = '''
# no comment
'''
[run.joint]
across = "2 mm"
# kept too long

# Returns

# the return
[[run]]
line = "b"
# the spare
[[run]]
line = "c"

[way]
"""


def test_a_table_of_several_goes_with_the_comment_directly_above_it() -> None:
    first = rewritten(RUNS, [Put(("run", 0), None)])
    assert first == RUNS[: RUNS.index("# the feed")] + RUNS[RUNS.index("# Returns") :]
    second = rewritten(RUNS, [Put(("run", 1), None)])
    assert second == RUNS.replace('# the return\n[[run]]\nline = "b"\n', "")
    third = rewritten(RUNS, [Put(("run", 2), None)])
    assert third == RUNS.replace('# the spare\n[[run]]\nline = "c"\n', "")
    none = rewritten(RUNS, [Put(("run", number), None) for number in (2, 1, 0)])
    assert none == "# of the keel\n\n# Returns\n\n[way]\n"


def test_the_end_of_a_text_above_a_table_is_no_comment_of_it() -> None:
    text = "[a]\nb = '''\n# c'''\n[[run]]\nd = 1"
    assert rewritten(text, [Put(("run", 0), None)]) == "[a]\nb = '''\n# c'''\n"


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("run = [{ a = 1 }, { a = 2 }]\n", [2]),
        ("run = [\n  { a = 1 },  # one\n  { a = 2 },\n]\n", [2]),
        ("run = [{ a = 1 }]\n", []),
    ],
)
def test_one_of_a_list_goes(text: str, left: list[int]) -> None:
    done = tomli.loads(rewritten(text, [Put(("run", 0), None)]))
    assert [one["a"] for one in done["run"]] == left


def test_the_last_of_a_list_goes() -> None:
    done = rewritten("run = [{ a = 1 }, # one\n  { a = 2 }]\n", [Put(("run", 1), None)])
    assert tomli.loads(done) == {"run": [{"a": 1}]}
    assert "# one" in done


def test_a_table_that_is_torn_apart_is_not_taken_out() -> None:
    with pytest.raises(RewriteError):
        rewritten("[[run]]\na = 1\n[way]\nb = 1\n[run.joint]\nc = 1\n", [Put(("run", 0), None)])


@given(
    st.lists(
        st.tuples(
            st.booleans(), st.sampled_from(["", "\n", "# above\n", "\n# alone\n\n", "\n# one\n\n# two\n"])
        ),
        min_size=1,
        max_size=6,
    ),
    st.sampled_from(["\n", "\r\n"]),
)
def test_tables_that_stay_stay_as_they_are(rows: list[tuple[bool, str]], end: str) -> None:
    tables = [f"{above}[[run]]\nname = 'run {number}'\n" for number, (_, above) in enumerate(rows)]
    text = ("format = 1\n" + "".join(tables) + "\n[way]\n").replace("\n", end)
    gone = [number for number, (goes, _) in enumerate(rows) if goes]
    puts = [Put(("run", number), None) for number in reversed(gone)]
    done = rewritten(text, puts)
    assert done == reduce(lambda so_far, put: rewritten(so_far, [put]), puts, text)
    data = tomli.loads(text)
    data["run"] = [run for number, run in enumerate(data["run"]) if number not in gone]
    assert tomli.loads(done) == {key: value for key, value in data.items() if value or key == "way"}
    kept = iter(text.splitlines(keepends=True))
    assert all(line in kept for line in done.splitlines(keepends=True))  # lines go, and none comes or changes
    assert done.count("# alone") == text.count("# alone")
    assert done.count("# one") == text.count("# one")  # that is cut off by an empty line


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_what_was_added_at_the_end_goes_without_a_trace(end: str) -> None:
    text = "format = 1\n\n[way]\na = 1 # one\n".replace("\n", end)
    more = rewritten(text, [Put(("proof", "+"), '{ subject = "x" }')])
    assert more != text
    assert rewritten(more, [Put(("proof", 0), None)]) == text


def test_a_key_at_the_top_goes_behind_the_last_that_stands_there():
    text = "format = 1\nuse = ['shelf.toml']\n\n# what it is\n[build]\nname = 'Tender'\n"
    assert rewritten(text, [Put(("more",), "2")]) == text.replace(
        "['shelf.toml']\n", "['shelf.toml']\nmore = 2\n"
    )


@pytest.mark.parametrize(
    ("keys", "written"),
    [
        ('line = "a"\n', 'line = "x"\nspare = true\n'),
        ('line = "a"\nspare = false\n', 'line = "x"\nspare = true\n'),
        ('line = "a"\nname = "b"\n', 'line = "x"\nspare = true\n'),
        ('line  = "a"\nspare = false\n', 'line  = "x"\nspare = true\n'),
        ('line   = "a"\njoints = 2\n', 'line   = "x"\nspare  = true\n'),
        ('line     = "a"\nspare    = false\n', 'line     = "x"\nspare    = true\n'),
    ],
)
def test_keys_of_a_new_table_are_lined_up_where_those_beside_it_are(keys: str, written: str) -> None:
    done = rewritten(f"[[run]]\n{keys}", [Put(("run", "+"), '{ line = "x", spare = true }')])
    assert done == f"[[run]]\n{keys}\n[[run]]\n{written}"


@pytest.mark.parametrize(
    ("keys", "written"),
    [
        ("line = 'a'\nname = \"b\"\n", '"x"'),
        ("line = 'a'\nname = 'b'\n", "'x'"),
        ("line = 'a'\nname = 'b'\nwire = \"c\"\n", "'x'"),
        ('line = "a"\n', '"x"'),
        ("spare = true\n", '"x"'),
    ],
)
def test_a_new_table_has_the_quotes_that_most_beside_it_have(keys: str, written: str) -> None:
    done = rewritten(f"[[run]]\n{keys}", [Put(("run", "+"), '{ line = "x" }')])
    assert done == f"[[run]]\n{keys}\n[[run]]\nline = {written}\n"
