"""Every remedy that a build is offered, applied to its file as it is printed, from outside: the finding goes, and no new one comes."""

from __future__ import annotations

import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

import postcheck
from postcheck.report import SEVERITIES, Edit
from tests.remedies.toml_text import dumped
from tests.write_expected import found, report

FAULTY = sorted((Path(__file__).parent.parent / "builds" / "faulty").glob("*.post.toml"))


def edited(text: str, edits: tuple[Edit, ...]) -> str:
    whole = tomllib.loads(text)
    for edit in edits:
        part: Any = whole
        for key, below in pairwise(edit.path):
            empty: Any = [] if below == "+" else {}
            part = part.setdefault(key, empty) if isinstance(part, dict) else part[key]
        if edit.value is None:
            del part[edit.path[-1]]
        elif edit.path[-1] == "+":
            part.append(tomllib.loads(f"value = {edit.value}")["value"])
        else:
            part[edit.path[-1]] = tomllib.loads(f"value = {edit.value}")["value"]
    return dumped(whole)


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_edits_hold(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    again = postcheck.loads(dumped(tomllib.loads(text)), folder=path.parent)
    assert again == postcheck.load(path)  # the text as written out again is the same build
    before = {finding.id: finding for finding in report(path).findings}
    for name, finding in before.items():
        if not finding.edits or finding.check.startswith(("fuse.", "wire.")):
            continue
        after = found(edited(text, finding.edits), path)
        # of what was more, no more than a note may be left
        still = after[name].severity if name in after else None
        assert still is None or (still == "note" and finding.severity != "note"), finding.remedy
        for other, left in after.items():
            was = before.get(other)
            light = SEVERITIES.index(left.severity)
            assert left.severity == "note" or (was is not None and light >= SEVERITIES.index(was.severity)), (
                finding.remedy,
                left.says,
            )


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_a_consequence_has_no_remedy_and_stands_after_its_cause(path: Path) -> None:
    told: list[str] = []
    for finding in report(path).findings:
        if finding.because_of is not None and finding.accepted is None:
            assert finding.remedy is None
            assert finding.edits is None
            assert finding.because_of in told
        told.append(finding.id)
