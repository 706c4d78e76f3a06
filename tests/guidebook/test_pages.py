"""The guide as it is asked for: topics, slips, Markdown in a pipe, a page of its width on a screen, a pager."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

import postcheck
from postcheck.cli import every_command, main
from postcheck.guidebook.book import topics
from postcheck.guidebook.topics import ALSO, PROSE
from postcheck.renderers.guide import render
from tests.emulator import Terminal
from tests.pages import GUIDE, README, ROOT

EVERY = {topic: postcheck.guide(topic) for topic in topics()}


def commands() -> set[str]:
    return {"help", *every_command().parsers}


@pytest.mark.parametrize("topic", EVERY)
def test_a_page_is_markdown_of_one_title(topic: str) -> None:
    page = EVERY[topic]
    outside = re.sub(r"^```.*?^```$", "(code)", page, flags=re.DOTALL | re.MULTILINE)
    assert page.startswith("# ")
    assert page.endswith("\n")
    assert "\n\n\n" not in outside
    assert len(re.findall(r"^# ", outside, re.MULTILINE)) == (
        len(PROSE[ALSO.get(topic, topic)].files) if ALSO.get(topic, topic) in PROSE else 1
    )
    assert page.count("\n```") % 2 == 0
    assert "<!--" not in page
    assert outside.replace("``", "").count("`") % 2 == 0
    assert not re.search(r"[ \t]$", outside, re.MULTILINE)


def test_the_list_names_every_topic_and_is_what_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["guide"]) == 0
    told = capsys.readouterr().out
    assert told == postcheck.guide()
    assert re.findall(r"^- `([a-z_]+)`: ", told, re.MULTILINE) == [
        name for name in topics() if name not in ALSO
    ]


def test_a_page_in_a_pipe_is_what_python_gives(capsys: pytest.CaptureFixture[str]) -> None:
    for topic in ("lamp", "closing", "plan"):
        assert main(["guide", topic]) == 0
        assert capsys.readouterr().out == EVERY[topic]


def test_every_topic_that_a_page_names_is_there() -> None:
    written = "".join([README.read_text(encoding="utf-8"), postcheck.guide(), *EVERY.values()])
    named = set(re.findall(r"postcheck guide\s([a-z_]+)", written)) - {"for"}
    assert named <= set(topics())
    assert len(named) > 15


def test_every_command_that_a_page_names_is_there() -> None:
    written = "".join([README.read_text(encoding="utf-8"), *EVERY.values()])
    assert set(re.findall(r"`postcheck ([a-z]+)", written)) <= commands()


def test_every_page_is_reached() -> None:
    reached = {file for prose in PROSE.values() for file in prose.files}
    assert {page.stem for page in GUIDE} <= reached | set(topics())


def test_a_slip_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    for typed, meant in (
        ("lmap", "'lamp'?"),
        ("Lamp-Kind", "'lamp_kind'?"),
        ("qqqq", "`postcheck guide` lists them"),
    ):
        assert main(["guide", typed]) == 2
        told = capsys.readouterr()
        assert (told.out, told.err.count("\n")) == ("", 1)
        assert meant in told.err
        with pytest.raises(ValueError, match="there is no topic"):
            postcheck.guide(typed)
    assert main(["guide", "\x1b[31m"]) == 2
    assert "\x1b" not in capsys.readouterr().err


def test_checks_and_pages_lead_to_each_other(capsys: pytest.CaptureFixture[str]) -> None:
    for word, topic in (("lamp", "lamp"), ("battery", "supply"), ("post", "post"), ("passage", "passage")):
        assert main(["explain", word]) == 0
        told = capsys.readouterr().out
        assert f"`postcheck guide {topic}`" in told
    assert "`postcheck explain lamp`" in EVERY["lamp"]
    assert main(["explain", "lmap"]) == 2


@pytest.mark.parametrize("topic", [None, *EVERY])
def test_a_page_fits_its_screen(topic: str | None) -> None:
    page = postcheck.guide(topic)
    code = "".join(re.findall(r"^```.*?^```$", page, re.DOTALL | re.MULTILINE))
    for width in (40, 80, 100):
        told = render(page, width=width, colour=False)
        prose = [line for line in told.splitlines() if line.strip() not in code]
        assert [line for line in prose if len(line) > width or re.match(r"#|```|\|.*\|$", line)] == []
        words = re.sub(r"^\|.*\n\|---.*$", "", page, flags=re.MULTILINE)  # heads of two columns are left out
        words = set(re.findall(r"[a-z]{4,}", words)) - set(re.findall(r"^```([a-z]+)$", page, re.MULTILINE))
        assert {word for word in words if word not in told.replace("\n", " ")} == set()
    plain = render(page, width=80, colour=False, ascii=True)
    assert plain.isascii()
    assert re.sub(r"\x1b\[[0-9;]*m", "", render(page, width=80)) == render(page, width=80, colour=False)


def shown(tmp_path: Path, *words: str, lines: int = 24, **environment: str) -> Terminal:
    """A terminal in which a page was asked for; `leaf` is a pager that says what it was given."""
    leaf = tmp_path / "leaf"
    leaf.write_text(f"#!/bin/sh\ntee {tmp_path}/given | head -n 3\necho LESS=$LESS\n")
    leaf.chmod(0o755)
    command = [sys.executable, "-m", "postcheck", "guide", *words]
    set_up = {"PAGER": str(leaf), "PYTHONPATH": str(ROOT), "LC_ALL": "C.UTF-8", **environment}
    return Terminal(command, cwd=tmp_path, lines=lines, **set_up)


def test_a_long_page_goes_through_the_pager(tmp_path: Path) -> None:
    with shown(tmp_path, "lamp") as terminal:
        terminal.wait_for("LESS=FRX")
        assert terminal.ended() == 0
        assert "[[lamp]]" in terminal.screen[0]
    given = re.sub(r"\x1b\[[0-9;]*m", "", (tmp_path / "given").read_text(encoding="utf-8"))
    assert given == render(EVERY["lamp"], width=80, colour=False)


@pytest.mark.parametrize(
    ("words", "lines", "environment"),
    [
        (("cable",), 200, {}),  # it fits
        (("cable", "--no-pager"), 10, {}),
        (("cable",), 10, {"PAGER": ""}),
        (("cable",), 10, {"PAGER": "nobody-has-this"}),
        (("cable",), 10, {"PAGER": "false"}),  # which fails
        (("cable",), 10, {"TERM": "dumb"}),
        (("cable",), 10, {"PAGER": "'"}),
    ],
)
def test_a_page_is_printed_where_no_pager_is_needed_or_had(
    tmp_path: Path, words: tuple[str, ...], lines: int, environment: dict[str, str]
) -> None:
    with shown(tmp_path, *words, lines=lines, **environment) as terminal:
        assert terminal.ended() == 0
        told = re.sub(r"\x1b\[[0-9;]*m", "", terminal.received.decode())
    assert render(EVERY["cable"], width=80, colour=False) in told.replace("\r\n", "\n")
    assert not (tmp_path / "given").exists()


def test_a_pager_that_is_left_early_leaves_nothing_behind(tmp_path: Path) -> None:
    with shown(tmp_path, "closing", PAGER="head -n 3") as terminal:
        assert terminal.ended() == 0
        assert len(terminal.screen) == 3
