"""The README's file examples are builds that can be pasted, and they are clear; the second has every table."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import tomli

import postcheck
from postcheck.build.models import Build

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
