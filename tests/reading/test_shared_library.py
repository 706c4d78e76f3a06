"""Files under `use`: what wins, what is told of them and where, and that each is read once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import postcheck
from postcheck.description.limits import limit_changes
from postcheck.description.problems import Problem
from postcheck.reading import source
from postcheck.rendering import render

HEAD = 'format = 1\n[build]\nname = "x"\n'
LIMIT = '[[limit]]\nname = "{}"\nvalue = "{}"\nreason = "{}"\n'


def told(folder: Path, **files: str) -> tuple[Problem, ...]:
    with pytest.raises(postcheck.BuildError) as caught:
        load(folder, **files)
    return caught.value.problems


def load(folder: Path, **files: str) -> postcheck.Build:
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text)
    return postcheck.load(folder / "main.toml")


def wire(strand: str) -> str:
    return f'[wire.own]\nstrand = "{strand} mm"\noutside = "0.6 mm"\n'


def test_what_is_nearer_wins(tmp_path: Path) -> None:
    below = 'format = 1\nuse = ["deep.toml"]\n'
    deep = "format = 1\n" + wire("0.1") + LIMIT.format("lamp.dim", "1 %", "deep")
    first = "format = 1\n" + wire("0.2") + LIMIT.format("lamp.dim", "2 %", "first")
    main = 'format = 1\nuse = ["first.toml", "below.toml"]\n[build]\nname = "x"\n'
    build = load(tmp_path, main=main, first=first, below=below, deep=deep)
    assert build.wire["own"].strand == pytest.approx(0.1e-3)  # later files over earlier ones
    assert limit_changes(build)[0]["lamp.dim"] == (0.01, "deep")
    build = load(tmp_path, main=main + LIMIT.format("lamp.dim", "3 %", "own") + wire("0.3"))
    assert build.wire["own"].strand == pytest.approx(0.3e-3)
    assert limit_changes(build)[0]["lamp.dim"] == (0.03, "own")


def test_a_mistake_in_a_used_file_bears_its_name_and_line(tmp_path: Path) -> None:
    main = 'format = 1\nuse = ["a.toml", "b.toml"]\n[build]\nname = "x"\n' + LIMIT.format(
        "lamp.dmi", "1 %", "x"
    )
    problems = told(
        tmp_path,
        main=main,
        a="format = 1\n\n" + LIMIT.format("lamp.dmi", "1 %", "x"),
        b='format = 1\nuse = ["c.toml"]\n',
        c='format = 1\n[strip_kind.s]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 3\nohms = "1k"\nkind = "smd-9"\n',
    )  # fmt: skip
    assert [(problem.line, problem.says.split(":")[0]) for problem in problems] == [
        (2, "in a.toml, line 4, column 8"),
        (2, "in c.toml, line 7, column 8"),
        (6, "there is no limit 'lamp.dmi'"),
    ]
    assert problems[0].column != problems[1].column
    problems = told(tmp_path, main=main, a="format = 1\n", b='format = 1\n\nuse = ["none.toml"]\n')
    assert problems[0].says == "in b.toml, line 3, column 8: 'none.toml' is not there"


def test_each_file_is_read_once_however_often_it_is_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # three uses of the next file at each of twelve levels: 3 to the power of 12 ways
    files = {
        f"f{n}": f'format = 1\nuse = ["f{n + 1}.toml", "f{n + 1}.toml", "./f{n + 1}.toml"]\n'
        for n in range(12)
    }
    files["f12"] = "format = 1\n" + LIMIT.format("lamp.dim", "3 %", "last") + wire("0.2")
    read: list[str] = []

    def counted(path: str) -> source.Source:
        read.append(Path(path).name)
        return read_source(path)

    read_source = source.read_source
    monkeypatch.setattr(source, "read_source", counted)
    build = load(tmp_path, main=HEAD.replace("1\n", '1\nuse = ["f0.toml"]\n', 1), **files)

    assert len(read) == 13
    assert len(build.limit) == 1
    assert "own" in build.wire


def test_far_too_many_files_are_refused(tmp_path: Path) -> None:
    files = {f"f{n}": f'format = 1\nuse = ["f{n + 1}.toml"]\n' for n in range(60)}
    problems = told(
        tmp_path, main=HEAD.replace("1\n", '1\nuse = ["f0.toml"]\n', 1), **files, f60="format = 1\n"
    )
    assert [problem.check for problem in problems] == ["file.use"]
    assert "more than 50 files" in problems[0].says


def test_circles_are_told_however_they_are_reached(tmp_path: Path) -> None:
    problems = told(
        tmp_path,
        main=HEAD.replace("1\n", '1\nuse = ["a.toml", "b.toml"]\n', 1),
        a='format = 1\nuse = ["b.toml"]\n',
        b='format = 1\nuse = ["a.toml"]\n',
    )
    assert ["circle" in problem.says for problem in problems] == [True]


@pytest.mark.parametrize("wrong", ["place", "kind"])
def test_thousands_of_wrong_names_are_told_briefly(wrong: str) -> None:
    entry = {"circuit": "c", "place": "base", "kind": "smd-0402-red"}
    lamps = "".join(
        "[[lamp]]\n" + "".join(f'{key} = "{value if key != wrong else f"wrong {number}"}"\n' for key, value in entry.items())
        for number in range(3000)
    )  # fmt: skip
    text = (
        HEAD
        + '[place.base]\naccess = "open"\n[supply.main]\nkind = "usb"\nplace = "base"\n[circuit.c]\nsupply = "main"\n'
    )
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(text + lamps)
    assert len(caught.value.problems) == 201
    assert str(caught.value.problems[-1]).startswith("2800 more problems are not listed")


def test_a_build_knows_where_its_use_led_there_or_not(tmp_path: Path) -> None:
    """So that a change of one of these files can be noticed, and one that comes into being."""
    one = 'format = 1\nuse = ["two.toml"]\n'
    main = 'use = ["one.toml"]\n' + HEAD
    paths = {str(tmp_path / "one.toml"), str(tmp_path / "two.toml")}
    with pytest.raises(postcheck.BuildError) as caught:
        load(tmp_path, main=main, one=one)
    assert set(caught.value.used) == paths
    assert set(load(tmp_path, main=main, one=one, two="format = 1\n").used) == paths


def test_a_changed_limit_stands_where_it_is_written(tmp_path: Path) -> None:
    tender = Path(__file__).parents[2] / "example_builds" / "tender.post.toml"
    folder = tmp_path / "shelf"
    folder.mkdir()
    (folder / "mine.toml").write_text("format = 1\n\n\n" + LIMIT.format("lamp.dim", "1 %", "a dark case"))
    text = tender.read_text(encoding="utf-8").replace(
        "format = 1\n", 'format = 1\nuse = ["shelf/mine.toml"]\n', 1
    )
    (tmp_path / "main.toml").write_text(text + LIMIT.format("step.slow", "4 %", "own"), encoding="utf-8")
    report = postcheck.check(postcheck.load(tmp_path / "main.toml"), remedies=False)
    where = {limit.name: limit.where for limit in report.files[0].limits}
    assert (where["lamp.dim"].path, where["lamp.dim"].line) == (str(tmp_path / "shelf" / "mine.toml"), 4)
    own = (text.count("\n") + 1, str(tmp_path / "main.toml"))
    assert (where["step.slow"].line, where["step.slow"].path) == own
    # and a log of a build names that file, not the build, beside the line
    log = json.loads(render(report, "sarif"))
    notes = log["runs"][0]["invocations"][0]["toolExecutionNotifications"]
    found = {
        note["locations"][0]["logicalLocations"][0]["name"]: note["locations"][0]["physicalLocation"]
        for note in notes
        if note["message"]["text"].startswith(("lamp.dim", "step.slow"))
    }
    assert found["lamp.dim"]["artifactLocation"]["uri"].endswith("shelf/mine.toml")
    assert found["lamp.dim"]["region"]["startLine"] == 4
    assert found["step.slow"]["artifactLocation"]["uri"].endswith("main.toml")


def test_a_file_that_cannot_be_read_is_one_mistake_and_not_one_for_each_name(tmp_path: Path) -> None:
    """What it may describe is not told as unknown; a place, which it cannot, is."""
    lamp = '[[lamp]]\nname = "n"\ncircuit = "c"\nkind = "our-own"\nplace = "{}"\nresistor = "1k"\nlead = "200 mm of fine to base"\n'
    rest = '[circuit.c]\nsupply = "s"\n[supply.s]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\n[place.base]\naccess = "open"\n'
    main = HEAD.replace("1\n", '1\nuse = ["shelf.toml"]\n', 1) + rest
    for shelf in ({}, {"shelf": "format = \n"}, {"shelf": 'format = 1\n[wire.w]\nstrnd = "1 mm"\n'}):
        problems = told(tmp_path, main=main + lamp.format("base"), **shelf)
        assert all("shelf.toml" in problem.says for problem in problems)
    problems = told(tmp_path, main=main + lamp.format("bsae"))
    assert [problem.says for problem in problems if "shelf" not in problem.says] == [
        "there is no place 'bsae'"
    ]
    problems = told(tmp_path, main=main + lamp.format("base"), shelf="format = 1\n")
    assert [problem.says for problem in problems] == [
        "there is no kind of lamp 'our-own'",
        "there is no wire 'fine'",
    ]


def test_a_text_may_be_given_the_highest_folder(tmp_path: Path) -> None:
    (tmp_path / "shelf.toml").write_text("format = 1\n" + wire("0.2"))
    (tmp_path / ".git").mkdir()  # counts for files, not for a text that a program has from elsewhere
    ships = tmp_path / "ships"
    ships.mkdir()
    text = HEAD.replace("1\n", '1\nuse = ["../shelf.toml"]\n', 1)
    with pytest.raises(postcheck.BuildError, match="leads out"):
        postcheck.loads(text, folder=ships)
    assert set(postcheck.loads(text, folder=ships, top=tmp_path).wire) == {"own"}
