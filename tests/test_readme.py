"""The README's file example is a build that can be pasted, and it is clear."""

from __future__ import annotations

import re
from pathlib import Path

import postcheck

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")


def test_the_example_in_the_readme_is_a_clear_build() -> None:
    examples = [
        text for text in re.findall(r"```toml\n(.*?)```", README, re.DOTALL) if text.startswith("format")
    ]
    assert len(examples) == 1
    report = postcheck.check(postcheck.loads(examples[0])).files[0]
    assert (report.verdict, report.findings) == ("clear", ())
