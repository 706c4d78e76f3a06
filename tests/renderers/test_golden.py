"""Whole reports, word for word. POSTCHECK_UPDATE_GOLDEN=1 writes them anew: read the difference before it is kept."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from postcheck.renderers import github, json_renderer, junit, plain_text, sarif, terminal
from tests.renderers.samples import REPORTS, RULES

GOLDEN = Path(__file__).parent / "golden"
RENDERERS = {
    "plain": plain_text.render,
    "screen-80": lambda report: terminal.render(report, width=80, colour=False, ascii=False),
    "screen-40-ascii": lambda report: terminal.render(report, width=40, colour=False, ascii=True),
    "screen-80-colour": lambda report: terminal.render(report, width=80, colour=True, ascii=False),
    "json": lambda report: json_renderer.render(report, "1.2.3"),
    "sarif": lambda report: sarif.render(report, "1.2.3", RULES, code=1),
    "junit": lambda report: junit.render(report, [rule.name for rule in RULES]),
    "github": github.render,
}


@pytest.mark.parametrize("renderer", RENDERERS)
@pytest.mark.parametrize("name", REPORTS)
def test_the_report_reads_as_agreed(name: str, renderer: str) -> None:
    text = RENDERERS[renderer](REPORTS[name])
    file = GOLDEN / f"{name}.{renderer}.txt"
    if os.environ.get("POSTCHECK_UPDATE_GOLDEN"):
        file.write_bytes(text.encode("utf-8"))
    assert text.encode("utf-8") == file.read_bytes()
    assert text.endswith("\n")


def test_no_golden_file_is_left_over() -> None:
    assert {file.name for file in GOLDEN.iterdir()} == {
        f"{name}.{renderer}.txt" for name in REPORTS for renderer in RENDERERS
    }
