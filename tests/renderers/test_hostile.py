"""No name in a build file may steer a terminal, start a line of its own, or break a document."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from postcheck.renderers import catalogue_list, json_renderer, plain_text, terminal
from postcheck.renderers.words import safe
from tests.renderers.hostile import FORBIDDEN, NAMES, report

by_name = pytest.mark.parametrize("name", NAMES.values(), ids=NAMES.keys())


def commands(text: str) -> list[str]:
    """Lines that the runner of a CI log would obey: it looks past blanks at the beginning."""
    return [
        line for line in text.split("\n") if line.lstrip().startswith("::") or re.search(r"##\w*\[", line)
    ]


@by_name
def test_plain_text_is_harmless_and_keeps_its_lines(name: str) -> None:
    text = plain_text.render(report(name))
    assert not FORBIDDEN.search(text)
    assert commands(text) == []
    assert text.count("\n") == plain_text.render(report("lamp")).count("\n")
    text.encode("utf-8")


@by_name
@pytest.mark.parametrize("width", [24, 40, 80, 100])
@pytest.mark.parametrize("ascii_only", [False, True])
def test_the_terminal_is_harmless_and_never_too_wide(name: str, width: int, ascii_only: bool) -> None:
    text = terminal.render(report(name), width=width, colour=False, ascii=ascii_only)
    assert not FORBIDDEN.search(text)
    assert commands(text) == []
    assert max(cell_len(line) for line in text.split("\n")) <= width
    text.encode("ascii" if ascii_only else "utf-8")


@by_name
def test_colour_adds_nothing_but_colour(name: str) -> None:
    coloured = terminal.render(report(name), width=80, colour=True, ascii=False)
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == terminal.render(
        report(name), width=80, colour=False, ascii=False
    )


@by_name
def test_json_keeps_the_name(name: str) -> None:
    text = json_renderer.render(report(name), "1")
    text.encode("ascii")
    shown = json.loads(text)["files"][0]["findings"][0]["subject"]["name"]
    assert shown == name.replace("\udc80", "\\udc80")
    assert text.count("\n") == json_renderer.render(report("lamp"), "1").count("\n")


@by_name
def test_a_list_of_rows_keeps_one_line_a_row(name: str) -> None:
    @dataclass
    class Row:
        name: str
        celsius: float
        source: str

    text = catalogue_list.render("plastic", [Row(name, 60.0, name), Row("styrene", 60.0, "a table")])
    assert not FORBIDDEN.search(text)
    assert text.count("\n") == 7  # head, two rows, a blank, "Sources" and two of them


@settings(max_examples=40)
@given(st.text(max_size=80))
def test_any_name_is_harmless(name: str) -> None:
    plain = plain_text.render(report(name))
    screen = terminal.render(report(name), width=40, colour=False, ascii=True)
    assert not FORBIDDEN.search(plain + screen)
    assert commands(plain + screen) == []
    assert max(len(line) for line in screen.split("\n")) <= 40
    json.loads(json_renderer.render(report(name), "1"))


def test_an_ordinary_name_is_left_alone() -> None:
    for name in ("port running lamp", "Lämpchen 3 (0402)", "[bow] lamp: 12 V", "main+", "a/b #2"):
        assert safe(name) == name


def test_colons_within_a_name_stay() -> None:
    assert safe("a::b") == "a::b"
    assert plain_text.render(report("hull::nose")).count("hull::nose") > 5
