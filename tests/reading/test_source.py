import os
from pathlib import Path
from typing import Annotated, Any, Literal

import pytest
import tomli
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from postcheck.description import fields, oneline
from postcheck.description.positions import located
from postcheck.description.problems import FILE_CHECKS, MOST_PROBLEMS, BuildError, Problem, QuantityError
from postcheck.description.refused import problems_from
from postcheck.reading.loading import loads
from postcheck.reading.source import MOST_BYTES, MOST_DEPTH, Source, parse_source, read_source, resolve_use


def the_problem(error: BuildError) -> Problem:
    [problem] = error.problems
    assert problem.check in FILE_CHECKS
    return problem


@pytest.mark.parametrize(
    ("data", "check", "line", "column"),
    [
        (b"", "file.empty", 1, 1),
        (b" \n\t\n", "file.empty", 1, 1),
        (b"\xef\xbb\xbf", "file.empty", 1, 1),
        (b"a = 1\nb = '\xe9'\n", "file.not-text", 2, 6),
        (b"\xef\xbb\xbfa\xff", "file.not-text", 1, 2),
        ("ключ".encode() + b"\xff", "file.not-text", 1, 5),
        (b"a = 1\n\x00", "file.not-text", 2, 1),
        (b"\x89PNG\r\n\x1a\n\x00", "file.not-text", 1, 1),
        ("a = 1".encode("utf-16"), "file.not-text", 1, 1),
        (b"a" * (MOST_BYTES + 1), "file.too-big", None, None),
    ],
    ids=str,
)
def test_bytes_that_are_no_build(data: bytes, check: str, line: int | None, column: int | None) -> None:
    with pytest.raises(BuildError) as caught:
        read_source("-", data)

    problem = the_problem(caught.value)
    assert (problem.check, problem.line, problem.column) == (check, line, column)
    assert problem.hint


def test_a_file_is_read_with_or_without_the_mark_in_front(tmp_path: Path) -> None:
    path = tmp_path / "x.post.toml"
    path.write_bytes(b'\xef\xbb\xbfa = "\xce\xa9"\r\n')

    source = read_source(path)

    assert source == Source(str(path), 'a = "Ω"\r\n')
    assert parse_source(source) == {"a": "Ω"}
    assert read_source("-", b"a = 1").text == "a = 1"


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    secret = tmp_path / "secret"
    secret.write_text("a = 1")
    secret.chmod(0)
    loop = tmp_path / "loop"
    loop.symlink_to(loop)
    cases: list[tuple[Path | str, str]] = [
        (tmp_path / "missing", "no such file"),
        (tmp_path, "folder"),
        (loop, "cannot be read"),
        ("x" * 5000, "cannot be read"),
        ("a\0b", "no file can bear this name"),
    ]
    if os.geteuid() != 0:  # the superuser may read everything
        cases.append((secret, "may not be read"))
    for path, words in cases:
        with pytest.raises(BuildError) as caught:
            read_source(path)
        problem = the_problem(caught.value)
        assert problem.check == "file.unreadable"
        assert words in problem.says
        assert "\0" not in str(caught.value)


def test_no_permission_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError

    monkeypatch.setattr("builtins.open", refuse)
    with pytest.raises(BuildError) as caught:
        read_source("x.post.toml")
    assert "may not be read" in the_problem(caught.value).says


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("[post]\nlength = 260 mm", 2, 10, 'write length = "260 mm"'),
        ("a = 12V # c", 1, 5, 'write a = "12V"'),
        ("a = 4k7", 1, 5, 'write a = "4k7"'),
        ("stage = wiring", 1, 9, 'write stage = "wiring"'),
        ('o = { limit = 100 mA, drop = "1 V" }', 1, 15, 'write limit = "100 mA"'),
        ("use = [workshop.toml]", 1, 8, 'write ["workshop.toml"]'),
        ("keyed = True", 1, 9, "write keyed = true"),
        ("a = ”12 V”", 1, 5, 'write straight ones: "12 V"'),
        ('bore = "1/4""', 1, 13, 'write "1/4 in"'),
        ("d = 2026-13-45", 1, 5, "is not a date"),
        ("a = 1\nb = 2\na = 3", 3, 1, "the key 'a' is given twice"),
        ("t = {a = 1, a = 2}", 1, 13, "'a' is given twice"),
        ("[place.car]\n[b]\n[place.car]", 3, 2, "it stands on line 1 already"),
        ("a = { x = 1 }\na.y = 2", 2, 1, "already complete"),
        ('\nk = "abc\nx = 1', 2, 5, "the text that opens here"),
        ("k = 'abc\n", 1, 5, "the text that opens here"),
        ('a = 1\nk = """abc\nx = 1\n', 2, 5, "the text that opens here"),
        ("l = [1,\n2\nx = 3\n", 1, 5, "the list that opens here is not closed"),
        ("t = {a = 1\nb = 2", 1, 5, "the table that opens here is not closed"),
        ("l = [1 2]", 1, 8, "a comma or a closing ] is missing"),
        ("[a\nb = 1", 1, 1, "the header of the table is not closed"),
        ('name = "x" extra', 1, 12, "more on this line than one value"),
        ("x", 1, 2, "there is no = after the key"),
        ("= 3", 1, 1, "this line is not understood"),
        ('p = "C:\\wire"', 1, 10, "single backslash"),
        ('a = "\x01"', 1, 6, "U+0001"),
        ("n = " + "1" * 5000, 1, 5, "thousands of digits"),
        ("# nothing\n", 1, 1, "only comments"),
        ("a = 1\r\nb = 2 V\r\n", 2, 5, 'write b = "2 V"'),
    ],
)
def test_broken_toml_is_explained_where_it_breaks(text: str, line: int, column: int, words: str) -> None:
    with pytest.raises(BuildError) as caught:
        parse_source(Source("b.post.toml", text))

    problem = the_problem(caught.value)
    assert (problem.line, problem.column) == (line, column)
    assert words in str(problem)
    assert str(caught.value) == f"b.post.toml:{line}:{column}: {problem}"


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * (MOST_DEPTH + 5) + "]" * (MOST_DEPTH + 5),
        "a = " + "[" * 100_000,
        "a = " + "{a=" * 5000,
        ".".join("a" * 200) + " = 1",
        "[" + ".".join("a" * 200) + "]",
        ".".join("a" * 50_000) + " = 1",
    ],
    ids=["lists", "many lists", "tables", "dotted", "header", "very long key"],
)
def test_deep_nesting_is_refused(text: str) -> None:
    with pytest.raises(BuildError) as caught:
        parse_source(Source("b.post.toml", text))

    assert the_problem(caught.value).check == "file.too-deep"
    assert the_problem(caught.value).line in {1, None}


@given(st.text("ab=[]{}\"'\\#.,\n\r\t \x1b\u202e1-:", max_size=40))
def test_any_text_is_a_document_or_a_problem_in_its_own_words(text: str) -> None:
    refusal: BuildError | None = None
    try:
        data = parse_source(Source("f", text))
    except BuildError as error:
        refusal = error
    if refusal is None:
        assert data == tomli.loads(text)
        return
    problem = the_problem(refusal)
    assert problem.line is not None
    assert 1 <= problem.line <= text.count("\n") + 1
    assert problem.column is not None
    assert problem.column >= 1
    assert "\x1b" not in str(refusal)
    assert "\u202e" not in str(refusal)


# Files named under `use`.


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    inside = tmp_path / "job"
    (inside / "parts").mkdir(parents=True)
    for name in ("b.post.toml", "workshop.toml", "parts/wires.toml"):
        (inside / name).write_text("a = 1")
    (tmp_path / "outside.toml").write_text("a = 1")
    (inside / "link.toml").symlink_to(tmp_path / "outside.toml")
    (inside / "up").symlink_to(tmp_path)
    (inside / "ring").symlink_to(inside / "ring")
    return inside


def test_a_used_file_is_found_beside_the_build(workshop: Path) -> None:
    build = str(workshop / "b.post.toml")

    assert resolve_use(build, "workshop.toml") == str((workshop / "workshop.toml").resolve())
    assert resolve_use(build, "parts/wires.toml") == str((workshop / "parts/wires.toml").resolve())


@pytest.mark.parametrize(
    "entry",
    [
        "../outside.toml",
        "parts/../../outside.toml",
        "..\\outside.toml",
        "link.toml",
        "up/outside.toml",
        "ring",
        "/etc/hostname",
        "C:\\wires.toml",
        "\\\\server\\wires.toml",
        "~/wires.toml",
        "missing.toml",
        "parts",
        "",
        "a\0b",
        "b.post.toml",
        "x" * 5000,
    ],
    ids=lambda entry: repr(entry[:25]),
)
def test_nothing_outside_the_folder_is_used(workshop: Path, entry: str) -> None:
    with pytest.raises(QuantityError) as caught:
        resolve_use(str(workshop / "b.post.toml"), entry)

    assert caught.value.check == "file.use"
    assert caught.value.hint
    assert len(str(caught.value)) < 250


@pytest.mark.parametrize("kind", ["folder", "file"])  # the latter in a work tree beside its repository
def test_a_shelf_may_stand_above_the_build_up_to_the_top_of_the_repository(workshop: Path, kind: str) -> None:
    ship = workshop / "ships" / "1907"
    ship.mkdir(parents=True)
    build = str(ship / "b.post.toml")
    with pytest.raises(QuantityError, match="leads out"):
        resolve_use(build, "../../workshop.toml")
    (workshop / ".git").mkdir() if kind == "folder" else (workshop / ".git").write_text("gitdir: elsewhere\n")
    assert resolve_use(build, "../../workshop.toml") == str((workshop / "workshop.toml").resolve())
    for outside in ("../../../outside.toml", "../../link.toml", "../../up/outside.toml"):
        with pytest.raises(QuantityError, match="leads out"):
            resolve_use(build, outside)


def test_the_highest_folder_can_be_named_once(workshop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    build = str(workshop / "b.post.toml")
    monkeypatch.setenv("POSTCHECK_TOP", str(workshop.parent))
    assert resolve_use(build, "../outside.toml") == str((workshop.parent / "outside.toml").resolve())
    monkeypatch.setenv("POSTCHECK_TOP", str(workshop / "parts"))  # of other builds
    with pytest.raises(QuantityError, match="leads out"):
        resolve_use(build, "../outside.toml")


def test_circles_and_nested_files(workshop: Path) -> None:
    build, shop, wires = (
        str(workshop / name) for name in ("b.post.toml", "workshop.toml", "parts/wires.toml")
    )

    with pytest.raises(QuantityError, match="circle"):
        resolve_use(shop, "b.post.toml", chain=[build])
    (workshop / "parts" / "shop").symlink_to(workshop / "workshop.toml")
    assert resolve_use(wires, "shop", chain=[build]) == str(Path(shop).resolve())
    assert resolve_use(build, "parts/../workshop.toml") == str(Path(shop).resolve())
    with pytest.raises(QuantityError, match="leads out"):
        resolve_use(wires, "shop", root=str(workshop / "parts"), chain=[build])
    with pytest.raises(QuantityError, match="standard input"):
        resolve_use("-", "workshop.toml")


# What the models refuse.


class Table(BaseModel):
    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", allow_inf_nan=False)


class Lead(Table):
    length: fields.Length | None = None
    to: str | None = None
    wire: str | None = None
    colours: list[str] | None = None


class Lamp(Table):
    name: str | None = None
    place: Annotated[str, Field(min_length=1, max_length=20, description="Where it sits.")]
    series: Annotated[int, Field(ge=1, le=10)] = 1
    lead: Annotated[Lead | None, fields.one_line(oneline.lead)] = None
    share: Annotated[float, Field(gt=0)] | None = None
    tags: list[str] | None = None
    bore: fields.Length = 0.1


class Place(Table):
    access: Literal["open", "cover", "sealed"]


class Build(Table):
    format: Literal[1]
    place: dict[Annotated[str, Field(min_length=1)], Place] = {}
    lamp: list[Lamp] = []

    @model_validator(mode="after")
    def check(self) -> "Build":
        if any(lamp.name == "forbidden" for lamp in self.lamp):
            raise ValueError("no lamp may be called that")
        if any(lamp.name == "odd" for lamp in self.lamp):
            raise QuantityError("file.duplicate-name", "two lamps bear one name", "rename one")
        return self


def refused(text: str) -> list[Problem]:
    data = parse_source(Source("b", text))
    with pytest.raises(ValidationError) as caught:
        Build.model_validate(data)
    return located(problems_from(caught.value, data, Build), text)


def test_six_mistakes_give_six_problems_each_in_its_place() -> None:
    text = """format = 2
[place.car]
acess = "open"
[[lamp]]
name = "tail"
place = "car"
lead = "220 V to keel"
bore = 5
[[lamp]]
series = 0
"""
    assert [(p.check, p.line, p.column, str(p)) for p in refused(text)] == [
        ("file.choice", 1, 10, "'format' cannot be 2; write 1"),
        ("file.unknown-key", 3, 1, "place 'car' knows no key 'acess'; did you mean 'access'?"),
        ("file.wrong-dimension", 7, 8, "'220 V' is a voltage; a length is needed, such as \"260 mm\""),
        (
            "file.no-unit",
            8,
            8,
            'the number 5 has no unit; write bore = "5 mm", in the unit that you measured it in',
        ),
        ("file.missing", 9, 1, "lamp number 2 has no 'place'; add it: where it sits"),
        ("file.out-of-range", 10, 10, "0 is out of range; it must be at least 1"),
    ]


@pytest.mark.parametrize(
    ("line", "check", "words"),
    [
        ('name = 3\nplace = "car"', "file.wrong-type", "this is a number; a text in quotes is needed"),
        ("place = ['car']", "file.wrong-type", "this is a list; a text in quotes is needed"),
        ("place = ''", "file.out-of-range", "the text is empty"),
        (f"place = '{'x' * 21}'", "file.too-long", "longer than 20 characters"),
        ("place = 'car'\nseries = '3'", "file.wrong-type", "a whole number is needed"),
        ("place = 'car'\nseries = 1.5", "file.wrong-type", "a whole number is needed"),
        ("place = 'car'\nseries = true", "file.wrong-type", "a whole number is needed"),
        ("place = 'car'\nseries = 11", "file.out-of-range", "at most 10"),
        ("place = 'car'\nshare = nan", "file.not-finite", "no size of a real thing"),
        ("place = 'car'\nshare = 0.0", "file.out-of-range", "above 0"),
        ("place = 'car'\ntags = 3", "file.wrong-type", "a list in [ ] is needed"),
        ("place = 'car'\ntags = ['a', 3]", "file.wrong-type", "a text in quotes is needed"),
        ("place = 'car'\nlead = 3", "file.wrong-type", 'write "3 mm"'),
        ("place = 'car'\nlead = 2026-03-01", "file.wrong-type", "this is a date or time"),
        ("place = 'car'\nlead = 'red'", "file.bad-form", "'red' is not understood"),
        ("place = 'car'\nlead = { lenght = '2 mm' }", "file.unknown-key", "did you mean 'length'?"),
        ("place = 'car'\nlead = { to = 5 }", "file.wrong-type", "a text in quotes"),
        ("place = 'car'\nname = 'forbidden'", "file.invalid", "no lamp may be called that"),
        ("place = 'car'\nname = 'odd'", "file.duplicate-name", "two lamps bear one name; rename one"),
        ("place = 'car'\n\"\\u001b[31m\" = 1", "file.unknown-key", "'\\x1b[31m'"),
    ],
)
def test_what_is_refused_is_said_in_our_words(line: str, check: str, words: str) -> None:
    problems = refused(f"format = 1\n[[lamp]]\n{line}\n")

    assert [problem.check for problem in problems if problem.check == check]
    assert words in "\n".join(map(str, problems))


def test_an_empty_key_is_shown_at_the_key() -> None:
    [problem] = refused('format = 1\n[place]\n"" = { access = "open" }\n')

    assert (problem.check, problem.line, problem.column, problem.on) == ("file.out-of-range", 3, 1, "key")


def test_thousands_of_problems_are_cut_short_and_counted() -> None:
    text = 'format = 1\n[build]\nname = "x"\n' + "\n".join(
        f"[[lamp]]\nkind = 'smd-0402-red'\nplace = 'car'\ncolr{number} = 1" for number in range(5000)
    )

    with pytest.raises(BuildError) as caught:
        loads(text)
    problems = caught.value.problems

    assert len(problems) == MOST_PROBLEMS + 1
    assert [str(p) for p in problems if p.check == "file.more"] == [
        "4800 more problems are not listed; put these right first"
    ]
    assert problems[-1].check == "file.more"


VALUES: Any = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5) | st.dates(),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["a", "lead", "to", ""]), inner, max_size=3)
    ),
    max_leaves=5,
)


@given(
    st.fixed_dictionaries(
        {"format": VALUES},
        optional={
            "lamp": VALUES
            | st.lists(
                st.dictionaries(st.sampled_from(list(Lamp.model_fields)), VALUES), min_size=1, max_size=2
            ),
            "place": VALUES | st.dictionaries(st.text(max_size=3), VALUES, max_size=2),
        },
    )
)
def test_whatever_is_refused_the_library_behind_does_not_speak(data: dict[str, Any]) -> None:
    refusal: ValidationError | None = None
    try:
        Build.model_validate(data)
    except ValidationError as error:
        refusal = error
    if refusal is not None:
        problems = problems_from(refusal, data, Build)
        assert problems
        assert {problem.check for problem in problems} <= set(FILE_CHECKS)
        assert all(problem.says for problem in problems)
        assert not [
            problem for problem in problems if "nput should" in str(problem) or "pydantic" in str(problem)
        ]
        assert problems_from(refusal, data)


def test_the_error_names_file_line_and_column_of_each_problem() -> None:
    error = BuildError(
        "bad\x1b.toml",
        [
            Problem("file.invalid", (), "one", "do it", line=3, column=4),
            Problem("file.unreadable", (), "two"),
        ],
    )

    assert str(error) == "bad\\x1b.toml:3:4: one; do it\nbad\\x1b.toml: two"
    assert len(error.problems) == 2
