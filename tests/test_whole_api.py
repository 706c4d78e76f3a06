"""Whatever a command gives a program can have: the same text from the records that the functions give."""

from __future__ import annotations

import json
import math
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

import pytest

import postcheck
from postcheck.cli import main

AIRSHIP = Path(__file__).parent.parent / "example_builds" / "mail_airship.post.toml"
TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def build() -> postcheck.Build:
    return postcheck.load(AIRSHIP)


def printed(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(list(words)) == 0
    return capsys.readouterr().out


def test_records_render_to_what_the_commands_print(
    build: postcheck.Build, capsys: pytest.CaptureFixture[str]
) -> None:
    name = str(AIRSHIP)
    reach = postcheck.reach(build, "nose lamp")
    assert postcheck.render(reach) == printed(capsys, "reach", name, "nose lamp")
    assert postcheck.render(reach, "json") == printed(capsys, "reach", name, "nose lamp", "--format", "json")
    assert postcheck.render(postcheck.pictures(build)) == printed(capsys, "post", name)
    (post,) = postcheck.pictures(build, ["post"])
    assert postcheck.render(post, "svg") == printed(capsys, "post", name, "--svg", "-")
    assert "⣀" in postcheck.render(post, width=80)
    keys = {"post.bore": "1.6 mm, 4 mm"}
    assert postcheck.render(postcheck.vary(build, keys)) == printed(
        capsys, "vary", name, *next(iter(keys.items()))
    )
    for form, part in (("html", "hub"), ("markdown", "hub"), ("csv", "cut")):
        words = ("sheet", name, "--format", form, "--part", part, "-o", "-", "--today", TODAY.isoformat())
        drawn = postcheck.sheet_of(build, [part], today=TODAY)
        assert postcheck.render(drawn, form) == printed(capsys, *words)  # type: ignore[call-overload]
    which = postcheck.which(build, "keel")
    assert postcheck.render(which, "json") == printed(
        capsys, "which", name, "--at", "keel", "--format", "json"
    )


def test_other_forms_and_other_things_are_refused_in_words(build: postcheck.Build) -> None:
    with pytest.raises(ValueError, match="format is one of html, markdown, csv; not 'pdf'"):
        postcheck.render(postcheck.sheet_of(build, ["hub"]), "pdf")  # type: ignore[call-overload]
    with pytest.raises(TypeError, match=r"takes a report, Comparison, .*; not Build"):
        postcheck.render(build)  # type: ignore[call-overload]
    with pytest.raises(ValueError, match=r"a part of the sheet is one of hub, .*; not 'hob'"):
        postcheck.sheet_of(build, "hob")
    assert postcheck.sheet_of(build, "hub") == postcheck.sheet_of(build, ["hub"])
    with pytest.raises(TypeError, match="not NoneType"):
        postcheck.loads(None)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="did you mean 'lamp\\.dim'"):
        postcheck.explain("lamp.dimm")
    with pytest.raises(ValueError, match="one key or two"):
        postcheck.vary(build, {})
    with pytest.raises(ValueError, match="has not two ends"):
        postcheck.vary(build, {"post.bore": "3 mm.."})


@pytest.mark.parametrize("function", ["sheet_of", "pictures", "parts_list", "plan", "check", "bench_tests"])
def test_what_is_no_build_is_refused_in_words(function: str) -> None:
    with pytest.raises(TypeError, match=r"Build.*not NoneType"):
        getattr(postcheck, function)(None)


def test_wrong_numbers_and_names_are_refused_in_words(build: postcheck.Build) -> None:
    for seconds in (-1.0, math.nan):
        with pytest.raises(ValueError, match="seconds is a number from 0 up"):
            postcheck.plan(build, seconds=seconds)
        with pytest.raises(ValueError, match="seconds is a number from 0 up"):
            postcheck.vary(build, {"post.bore": "3 mm..8 mm"}, seconds=seconds)
    with pytest.raises(ValueError, match=r"there is no passage 'pots'; did you mean 'post'\?"):
        postcheck.pictures(build, "pots")
    assert postcheck.pictures(build, "post") == postcheck.pictures(build)


def test_bytes_are_read_as_a_file_is(build: postcheck.Build) -> None:
    data = AIRSHIP.read_bytes()
    assert postcheck.loads(b"\xef\xbb\xbf" + data) == build == postcheck.load(str(AIRSHIP).encode())
    with pytest.raises(postcheck.BuildError, match="is not UTF-8"):
        postcheck.loads(data.replace(b"nose", b"n\xf6se"))


def test_questions_of_the_bench_are_functions(capsys: pytest.CaptureFixture[str]) -> None:
    """Each gives the figures that the command does."""
    asked = {
        ("drop", "260 mm", "ptfe-28", "--current", "120 mA"): postcheck.ask.drop("260 mm", "ptfe-28", "120 mA"),
        ("resistor", "smd-0402-red", "--on", "12 V"): postcheck.ask.resistor("smd-0402-red", "12 V"),
        ("bore", "5 mm", "3 ptfe-28"): postcheck.ask.bore("5 mm", ["3 ptfe-28"]),
        ("fuse", "340 mA", "--wire", "ptfe-28"): postcheck.ask.fuse("340 mA", "ptfe-28"),
        ("battery", "cr2032", "--current", "2 mA"): postcheck.ask.battery("cr2032", "2 mA"),
        ("turn", "160 mm", "5 ptfe-28", "--cycles", "5000 times"): postcheck.ask.turn("160 mm", ["5 ptfe-28"], "5000 times"),
    }  # fmt: skip
    for words, answer in asked.items():
        whole = json.loads(printed(capsys, "ask", *words, "--format", "json"))
        assert whole["says"] == answer.says
        assert {name: figure["value"] for name, figure in whole["figures"].items()} == {
            name: figure.value for name, figure in answer.figures.items()
        }
    with pytest.raises(postcheck.ask.Mistake, match="no wire 'ptfe-99'"):
        postcheck.ask.drop("260 mm", "ptfe-99", "120 mA")


def test_the_catalogue_as_json_has_every_row_and_figure(capsys: pytest.CaptureFixture[str]) -> None:
    whole = json.loads(printed(capsys, "catalogue", "--format", "json"))["catalogue"]
    assert {kind: len(rows) for kind, rows in whole.items()} == {
        kind: len(postcheck.catalogue.names(kind)) for kind in postcheck.catalogue.KINDS
    }
    (wire,) = [row for row in whole["wire"] if row["name"] == "ptfe-28"]
    assert wire["ohms_per_metre"] == postcheck.catalogue.wire("ptfe-28").ohms_per_metre
    assert all(row["source"] for rows in whole.values() for row in rows)


def test_a_source_stands_once_below_the_list(capsys: pytest.CaptureFixture[str]) -> None:
    text = printed(capsys, "catalogue", "plastic")
    rows, _, sources = text.partition("\nSources\n")
    (line,) = [line for line in rows.splitlines() if line.startswith("styrene ")]
    number = line[line.rindex("(") :]
    assert f"{number} {postcheck.catalogue.plastic('styrene').source}" in sources.splitlines()
    listed = [line.partition(") ")[2] for line in sources.splitlines() if line]
    assert len(listed) == len(set(listed)) == len({row.source for row in postcheck.catalogue.rows("plastic")})


def test_figures_come_one_by_one_with_their_units(build: postcheck.Build) -> None:
    (file,) = postcheck.check(build).files
    known = list(file.each_figure())
    (nominal,) = [one for one in known if (one.name, one.figure) == ("nose lamp", "nominal")]
    assert (nominal.section, nominal.unit, nominal.value) == (
        "lamps",
        "A",
        file.figures["lamps"]["nose lamp"]["nominal"],
    )
    assert len(known) == sum(len(row) for rows in file.figures.values() for row in rows.values())  # type: ignore[attr-defined]
    assert all(isinstance(one.value, str) or one.value is None or math.isfinite(one.value) for one in known)


def test_threads_get_what_one_alone_gets(build: postcheck.Build) -> None:
    def told(_: int) -> tuple[str, str]:
        return postcheck.render(postcheck.check(build), "json"), postcheck.ask.bore(
            "5 mm", ["3 ptfe-28"]
        ).says

    with ThreadPoolExecutor(4) as pool:
        assert len(set(pool.map(told, range(8)))) == 1
