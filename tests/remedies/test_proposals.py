"""Whatever is proposed, proven or not: as it is typed it is read as what was worked out, and it tells what it changes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import islice
from math import isclose
from pathlib import Path

import pytest
from pydantic import BaseModel

import postcheck
from postcheck.checks.judge import judge
from postcheck.description.limits import limit_changes
from postcheck.limits import Limits
from postcheck.remedies.proposal import Proposal, changed
from postcheck.remedies.table import STAGES
from postcheck.report import Edit
from postcheck.survey import Survey
from tests.write_expected import FAULTY, TODAY, to_be_closed

from .test_proven import edited

BUILDS = sorted(FAULTY.glob("*.post.toml"))


def proposals(path: Path) -> Iterator[Proposal]:
    """The first few for every finding of a build."""
    build = postcheck.load(path)
    survey = Survey(build, Limits(limit_changes(build)[0]), closing=to_be_closed(path), today=TODAY)
    for finding in judge(survey).findings:
        for stage in STAGES:
            if finding.check in stage:
                yield from islice(stage[finding.check](survey, finding), 6)


def alike(one: object, other: object) -> bool:
    """Equal, figures to a thousandth: a value is typed with three digits or four."""
    if isinstance(one, BaseModel) and isinstance(other, BaseModel):
        return type(one) is type(other) and all(
            alike(getattr(one, name), getattr(other, name)) for name in type(one).model_fields
        )
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(alike(one[key], other[key]) for key in one)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(alike, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=1e-3, abs_tol=1e-12)
    return one == other


@pytest.mark.parametrize("path", BUILDS, ids=lambda path: path.name)
def test_what_is_typed_is_what_was_worked_out(path: Path) -> None:
    text, build = path.read_text(encoding="utf-8"), postcheck.load(path)
    for proposal in proposals(path):
        for one in (proposal, *proposal.instead):
            assert one.says.endswith((".", ":")), one.says
            if any(change.written is None for change in one.changes):
                continue
            edits = tuple(Edit(change.path, change.written or None) for change in one.changes)
            typed = postcheck.loads(edited(text, edits), str(path), folder=path.parent)
            worked_out = changed(build, one.changes)
            assert alike(typed, worked_out), one.says
