"""The README's file examples are builds that can be pasted, and they are clear; the second has every table."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import tomli

import postcheck
from postcheck.build.models import Build
from postcheck.faces import terminal

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
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


def test_the_screens_are_what_is_printed() -> None:
    sound = (Path(__file__).parent.parent / "example_builds" / "mail_airship.post.toml").read_text(
        encoding="utf-8"
    )
    nose = sound.index('name     = "nose lamp"')
    changed = sound[:nose] + sound[nose:].replace('"1k at keel"', '"100 ohm at keel"', 1)
    for name, text in (("mail_airship.post.toml", sound), ("changed.post.toml", changed)):
        report = postcheck.check(postcheck.loads(text, name))
        screen = terminal.render(report, width=80, colour=False)
        assert f"$ postcheck check {name}\n{screen.strip()}\n```" in README
