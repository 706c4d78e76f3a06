"""Every remedy that a build is offered, applied to its file as it is printed, from outside: the finding goes, and no new one comes."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

import postcheck
from postcheck.report import SEVERITIES, Edit, Finding
from tests.remedies.toml_text import dumped

FAULTY = sorted((Path(__file__).parent.parent / "builds" / "faulty").glob("*.post.toml"))


def edited(text: str, edits: tuple[Edit, ...]) -> str:
    whole = tomllib.loads(text)
    for edit in edits:
        part: Any = whole
        for key in edit.path[:-1]:
            part = part.setdefault(key, {}) if isinstance(part, dict) else part[key]
        part[edit.path[-1]] = tomllib.loads(f"value = {edit.value}")["value"]
    return dumped(whole)


def findings(path: Path, text: str) -> dict[str, Finding]:
    path.write_text(text)
    return {finding.id: finding for finding in postcheck.check(postcheck.load(path)).files[0].findings}


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_edits_hold(path: Path, tmp_path: Path) -> None:
    text = path.read_text()
    before = findings(tmp_path / "a.post.toml", dumped(tomllib.loads(text)))
    assert before.keys() == {
        finding.id for finding in postcheck.check(postcheck.load(path)).files[0].findings
    }  # the text as written out again is the same build
    for name, finding in before.items():
        if not finding.edits or finding.check.startswith(("fuse.", "wire.")):
            continue
        after = findings(tmp_path / "b.post.toml", edited(text, finding.edits))
        # of what was more, no more than a note may be left
        left = after[name].severity if name in after else None
        assert left is None or (left == "note" and finding.severity != "note"), finding.remedy
        for other, found in after.items():
            was = before.get(other)
            light = SEVERITIES.index(found.severity)
            assert found.severity == "note" or (
                was is not None and light >= SEVERITIES.index(was.severity)
            ), (
                finding.remedy,
                found.says,
            )


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_a_consequence_has_no_remedy_and_stands_after_its_cause(path: Path) -> None:
    told: list[str] = []
    for finding in postcheck.check(postcheck.load(path)).files[0].findings:
        if finding.because_of is not None and finding.accepted is None:
            assert finding.remedy is None
            assert finding.edits is None
            assert finding.because_of in told
        told.append(finding.id)
