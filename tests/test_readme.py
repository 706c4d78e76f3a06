"""README and guide: what is shown there is what comes of it, and every block is looked at."""

from __future__ import annotations

import io
import os
import re
import shlex
import sys
from collections import Counter
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
import tomli
import yaml

import postcheck
from postcheck.checking import pictures
from postcheck.cli import every_command, main
from postcheck.cli.ask import answered
from postcheck.cli.record import Session
from postcheck.description.models import Build
from postcheck.description.ranges import values_of
from postcheck.planner import plan
from postcheck.recording import Recording
from postcheck.renderers import bore_screen, terminal
from postcheck.renderers import plan as plan_renderer
from postcheck.renderers import varied as varied_text
from postcheck.renderers import which as which_renderer
from postcheck.report import Report
from postcheck.varying import Varied, varied
from tests.models import keys_of, tables
from tests.pages import PAGES, ROOT, Block, all_blocks, blocks, replaced, screens, shown

AIRSHIP = "mail_airship.post.toml"
SOUND = (ROOT / "example_builds" / AIRSHIP).read_text(encoding="utf-8")
FIRST = next(block.text for block in blocks("toml", "format = 1\n") if block.page == "README.md")


@pytest.mark.parametrize("block", blocks("toml", "format = 1\n"), ids=lambda block: block.page)
def test_a_whole_build_is_clear(block: Block) -> None:
    report = postcheck.check(postcheck.loads(block.text)).files[0]
    assert report.verdict == "clear"
    assert [finding.id for finding in report.findings if finding.accepted is None] == []


def test_every_table_is_shown() -> None:
    shown_there = [block.text for block in blocks("toml", "format = 1\n") if block.page == "file.md"]
    tables = {table for text in shown_there for table in tomli.loads(text)}
    assert set(Build.model_fields) - tables == {"use"}
    assert "use  = [" in "".join(shown_there)


def test_what_is_told_of_quantities_is_read() -> None:
    """The pieces of TOML in the words of the pages: `key = value` is taken by some table."""
    keys = {name for model in (Build, *tables(Build)) for name in keys_of(model)}
    seen = 0
    for page in PAGES:
        for text in re.findall(r"`([a-z_]+ = [^`]+)`", page.read_text(encoding="utf-8")):
            (key,) = tomli.loads(text.replace("...", "x"))
            assert key in keys, (page.name, text)
            seen += 1
    assert seen > 10


def written(block: Block) -> str:
    return f"{block.page}: {block.text.splitlines()[0]}"


PIECES = [
    block
    for block in blocks("toml")
    if not block.text.startswith(("format", "# ferry", "# wish", "# tombi", "# .taplo"))
]


@pytest.mark.parametrize("block", PIECES, ids=written)
def test_a_piece_of_a_file_is_read(block: Block) -> None:
    """Behind the supply, places and circuits of the first build of the guide, which the pieces name."""
    host = next(one.text for one in blocks("toml", "format = 1\n") if one.page == "file.md")
    postcheck.loads(host[: host.index("[[lamp]]")] + block.text)


def understood(words: list[str]) -> None:
    """Whether a command line can be read: Refused where not."""
    every_command().parsers[words[0]].parse_args(words[1:])


@pytest.mark.parametrize("block", blocks("sh"), ids=written)
def test_a_command_is_one_of_ours(block: Block) -> None:
    for line in block.text.splitlines():
        for said in re.findall(r"\bpostcheck (?=[a-z])([^#|>)]*)", line.partition("# ")[0]):
            understood([AIRSHIP if word == "--" else word for word in shlex.split(said)])  # what xargs adds


@pytest.mark.parametrize("block", blocks("yaml"), ids=written)
def test_a_setting_of_ci_is_yaml_that_calls_us(block: Block) -> None:
    told = yaml.safe_load(block.text.replace("<", "").replace(">", ""))
    text = str(told)
    assert "postcheck" in text
    for line in re.findall(r"postcheck (check [^']*)'", text):
        understood(shlex.split(line))


def test_every_kind_of_block_is_looked_at() -> None:
    kinds = Counter(block.language for block in all_blocks())
    assert set(kinds) == {"", "toml", "sh", "yaml", "python", "text"}
    asked = {line[2:] for block in screens() for line in block.text.splitlines() if line.startswith("$ ")}
    assert {line for line in asked if not line.startswith("postcheck ask ")} == SHOWN
    others = [block for block in blocks("") if not block.text.startswith("$ postcheck ")]
    assert [block.text for block in others] == ["#:schema ./build.schema.json\n"]


SHOWN = {
    f"postcheck check {AIRSHIP}",
    "postcheck check changed.post.toml",
    "postcheck check forgotten.post.toml",
    "postcheck check submersible.post.toml",
    f"postcheck compare {AIRSHIP} changed.post.toml",
    f'postcheck vary {AIRSHIP} post.bore "1.6 mm..4 mm"',
    f"postcheck sheet {AIRSHIP} -o airship.html",
    f'postcheck which {AIRSHIP} --at keel --readings "1: 2.07 red, 2: 2.76 / 5 in nose, 3: 0 / 0"',
    f"postcheck check --closing tail --today 2026-11-25 {AIRSHIP}",
    "postcheck check --closing tail --today 2026-11-26 tested.post.toml",
    f"postcheck record --closing tail {AIRSHIP}",
    "postcheck plan ferry.post.toml",
    "postcheck plan wish.post.toml",
    f"postcheck post {AIRSHIP}",
    f'postcheck reach {AIRSHIP} "tail beacon"',
}  # the tests below print them, that of `reach` stands in tests/survey/test_repair.py


def test_the_first_build_and_what_was_forgotten_in_it() -> None:
    forgotten = "".join(line for line in FIRST.splitlines(keepends=True) if not line.startswith("resistor"))
    for name, text in (("submersible.post.toml", FIRST), ("forgotten.post.toml", forgotten)):
        report = postcheck.check(postcheck.loads(text, name))
        shown(f"postcheck check {name}", terminal.render(report, width=80, colour=False))


def test_the_first_build_is_planned_as_shown() -> None:
    """The first build without what a plan finds, and with the lines that are shown."""
    (wish,) = (block.text for block in blocks("toml", "# wish.post.toml"))
    bare = re.sub(r"^(fuse|rated) .*\n", "", FIRST[: FIRST.index("[[lamp]]")], flags=re.MULTILINE)
    planned = plan(postcheck.loads(bare + wish, "wish.post.toml"))
    shown("postcheck plan wish.post.toml", plan_renderer.render(planned, 80))
    assert planned.text is not None
    assert postcheck.check(postcheck.loads(planned.text)).files[0].verdict == "clear"


def airships() -> list[Report]:
    """The airship, and the same with another resistor at its nose."""
    nose = SOUND.index('name     = "nose lamp"')
    changed = SOUND[:nose] + SOUND[nose:].replace('"1k at keel"', '"100 ohm at keel"', 1)
    return [
        postcheck.check(postcheck.loads(text, name))
        for name, text in ((AIRSHIP, SOUND), ("changed.post.toml", changed))
    ]


def test_the_screens_are_what_is_printed() -> None:
    for report in airships():
        shown(f"postcheck check {report.files[0].file}", terminal.render(report, width=80, colour=False))


def test_what_is_different_is_told_as_shown() -> None:
    before, after = airships()
    shown(
        f"postcheck compare {before.files[0].file} {after.files[0].file}",
        postcheck.render(postcheck.compare(before, after), width=80),
    )


def test_a_range_is_told_as_shown() -> None:
    name = AIRSHIP
    build = postcheck.loads(SOUND, name)
    told = varied(build, [Varied(("post", "bore"), values_of("1.6 mm..4 mm"))], seconds=600.0)
    shown(f'postcheck vary {name} post.bore "1.6 mm..4 mm"', varied_text.render(told, 80))


@pytest.mark.parametrize("block", blocks("", "$ postcheck ask "), ids=lambda block: block.page)
def test_the_questions_are_answered_as_shown(block: Block) -> None:
    """POSTCHECK_UPDATE_GOLDEN=1 puts the answers into the page."""
    asked = re.findall(r"^\$ postcheck ask (.*)$", block.text, re.MULTILINE)
    assert len(asked) == 3
    told = "".join(
        f"$ postcheck ask {line}\n{answered(shlex.split(line), postcheck.__version__)}" for line in asked
    )
    if os.environ.get("POSTCHECK_UPDATE_GOLDEN"):
        replaced(next(page for page in PAGES if page.name == block.page), block.text, told)
    else:
        assert block.text == told


def test_the_sheet_has_as_many_pages_as_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / AIRSHIP).write_text(SOUND, encoding="utf-8")
    out = tmp_path / "airship.html"
    assert main(["sheet", str(tmp_path / AIRSHIP), "-o", str(out)]) == 0
    told = capsys.readouterr().out.replace(str(out), "airship.html")
    shown(f"postcheck sheet {AIRSHIP} -o airship.html", told)
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_unmarked_leads_are_told_apart_as_shown() -> None:
    name = AIRSHIP
    build = postcheck.loads(SOUND, name)
    readings = "1: 2.07 red, 2: 2.76 / 5 in nose, 3: 0 / 0"
    shown(
        f'postcheck which {name} --at keel --readings "{readings}"',
        which_renderer.render(postcheck.which(build, "keel", readings), 80),
    )


# what the meter showed: the lamps of the tail through their resistors, within what is to be expected
MEASURED = {"tail beacon": "9.7 mA", "tail strobe": "13.4 mA"}


def test_a_place_is_refused_and_then_passed_as_shown() -> None:
    """The lines that the first screen asks for, filled in, are all that the second needs."""
    text = SOUND
    refused = closing(text, AIRSHIP, date(2026, 11, 25))
    assert refused.files[0].verdict == "stop"
    (finding,) = refused.files[0].findings
    lines, name = [], ""
    for line in finding.lines:
        name = line.split('"')[1] if line.startswith("subject") else name
        lines.append(line.replace('"..."', f'"{MEASURED.get(name)}"'))
    passed = closing("\n".join((text, *lines, "")), "tested.post.toml", date(2026, 11, 26))
    assert (passed.files[0].verdict, passed.files[0].findings) == ("clear", ())
    for day, report in (("2026-11-25", refused), ("2026-11-26", passed)):
        shown(
            f"postcheck check --closing tail --today {day} {report.files[0].file}",
            terminal.render(report, width=80, colour=False),
        )


def test_readings_are_taken_as_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """As typed at 80 columns; a pipe shows each answer where a terminal does."""
    name = "mail_airship.post.toml"
    (tmp_path / name).write_bytes((ROOT / "example_builds" / name).read_bytes())
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "stdin", io.StringIO("9.7\nskip\ndark\nback\n13.4\nskip\n"))
    recording = Recording(postcheck.load(name), closing=["tail"])
    assert Session(name, recording, dry=False, width=80).run() == 1
    told = capsys.readouterr().out
    assert all(len(line) <= 80 for line in told.splitlines())
    shown(f"postcheck record --closing tail {name}", told)
    assert [record.current for record in postcheck.load(name).proof] == [9.7e-3, 13.4e-3]


def closing(text: str, name: str, today: date) -> Report:
    return postcheck.check(postcheck.loads(text, name), closing=["tail"], today=today)


def test_a_plan_is_as_shown() -> None:
    (ferry,) = blocks("toml", "# ferry.post.toml")
    planned = plan(postcheck.loads(ferry.text, "ferry.post.toml"))
    shown("postcheck plan ferry.post.toml", plan_renderer.render(planned, 80))
    assert planned.text is not None
    assert postcheck.check(postcheck.loads(planned.text)).files[0].verdict == "clear"


def test_the_bore_is_drawn_as_shown() -> None:
    name = "mail_airship.post.toml"
    (picture,) = pictures(postcheck.load(ROOT / "example_builds" / name), ["post"])
    shown(f"postcheck post {name}", bore_screen.render([replace(picture, file=name)], width=80, colour=False))
