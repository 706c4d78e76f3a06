"""The README's file examples are builds that can be pasted, and they are clear; the second has every table."""

from __future__ import annotations

import io
import os
import re
import shlex
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
import tomli

import postcheck
from postcheck.checking import pictures
from postcheck.cli import main
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

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
EXAMPLES = [text for text in re.findall(r"```toml\n(.*?)```", README, re.DOTALL) if text.startswith("format")]


@pytest.mark.parametrize("text", EXAMPLES, ids=["first build", "every table"])
def test_an_example_in_the_readme_is_a_clear_build(text: str) -> None:
    report = postcheck.check(postcheck.loads(text)).files[0]
    assert report.verdict == "clear"
    assert [finding.id for finding in report.findings if finding.accepted is None] == []


def test_every_table_is_shown() -> None:
    shown = {table for text in EXAMPLES for table in tomli.loads(text)}
    assert set(Build.model_fields) - shown == {"use"}
    assert "use  = [" in README


def airships() -> list[Report]:
    """The airship, and the same with another resistor at its nose."""
    sound = (ROOT / "example_builds" / "mail_airship.post.toml").read_text(encoding="utf-8")
    nose = sound.index('name     = "nose lamp"')
    changed = sound[:nose] + sound[nose:].replace('"1k at keel"', '"100 ohm at keel"', 1)
    return [
        postcheck.check(postcheck.loads(text, name))
        for name, text in (("mail_airship.post.toml", sound), ("changed.post.toml", changed))
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
    name = "mail_airship.post.toml"
    build = postcheck.loads((ROOT / "example_builds" / name).read_text(encoding="utf-8"), name)
    told = varied(build, [Varied(("post", "bore"), values_of("1.6 mm..4 mm"))], seconds=600.0)
    shown(f'postcheck vary {name} post.bore "1.6 mm..4 mm"', varied_text.render(told, 80))


def test_the_questions_are_answered_as_shown() -> None:
    """POSTCHECK_UPDATE_GOLDEN=1 puts the answers into the README."""
    screen = re.search(r"```\n(\$ postcheck ask .*?)```\n", README, re.DOTALL)
    assert screen is not None
    asked = re.findall(r"^\$ postcheck ask (.*)$", screen[1], re.MULTILINE)
    assert len(asked) == 3
    told = "".join(
        f"$ postcheck ask {line}\n{answered(shlex.split(line), postcheck.__version__)}" for line in asked
    )
    if os.environ.get("POSTCHECK_UPDATE_GOLDEN"):
        now = (ROOT / "README.md").read_text(encoding="utf-8")  # another test may have written it meanwhile
        (ROOT / "README.md").write_text(now.replace(screen[1], told), encoding="utf-8")
        return
    assert screen[1] == told


def test_the_sheet_has_as_many_pages_as_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    build = (ROOT / "example_builds" / "mail_airship.post.toml").read_bytes()
    (tmp_path / "mail_airship.post.toml").write_bytes(build)
    out = tmp_path / "airship.html"
    assert main(["sheet", str(tmp_path / "mail_airship.post.toml"), "-o", str(out)]) == 0
    told = capsys.readouterr().out.replace(str(out), "airship.html")
    assert f"$ postcheck sheet mail_airship.post.toml -o airship.html\n{told}```" in README
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_unmarked_leads_are_told_apart_as_shown() -> None:
    name = "mail_airship.post.toml"
    build = postcheck.loads((ROOT / "example_builds" / name).read_text(encoding="utf-8"), name)
    readings = "1: 2.07 red, 2: 2.76 / 5 in nose, 3: 0 / 0"
    shown(
        f'postcheck which {name} --at keel --readings "{readings}"',
        which_renderer.render(postcheck.which(build, "keel", readings), 80),
    )


# what the meter showed: the lamps of the tail through their resistors, within what is to be expected
MEASURED = {"tail beacon": "9.7 mA", "tail strobe": "13.4 mA"}


def test_a_place_is_refused_and_then_passed_as_shown() -> None:
    """The lines that the first screen asks for, filled in, are all that the second needs."""
    text = (ROOT / "example_builds" / "mail_airship.post.toml").read_text(encoding="utf-8")
    refused = closing(text, "mail_airship.post.toml", date(2026, 11, 25))
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


def shown(command: str, screen: str) -> None:
    """POSTCHECK_UPDATE_GOLDEN=1 puts the screen into the README."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    block = re.compile(rf"(```\n\$ {re.escape(command)}\n)(.*?)(```\n)", re.DOTALL)
    if os.environ.get("POSTCHECK_UPDATE_GOLDEN"):
        readme = block.sub(lambda found: found[1] + screen + found[3], readme)
        (ROOT / "README.md").write_text(readme, encoding="utf-8")
    found = block.search(readme)
    assert found is not None
    assert found[2] == screen


def test_a_plan_is_as_shown() -> None:
    (text,) = re.findall(r"```toml\n(# ferry.post.toml.*?)```", README, re.DOTALL)
    planned = plan(postcheck.loads(text, "ferry.post.toml"))
    shown("postcheck plan ferry.post.toml", plan_renderer.render(planned, 80))
    assert planned.text is not None
    assert postcheck.check(postcheck.loads(planned.text)).files[0].verdict == "clear"


def test_the_bore_is_drawn_as_shown() -> None:
    name = "mail_airship.post.toml"
    (picture,) = pictures(postcheck.load(ROOT / "example_builds" / name), ["post"])
    shown(f"postcheck post {name}", bore_screen.render([replace(picture, file=name)], width=80, colour=False))
