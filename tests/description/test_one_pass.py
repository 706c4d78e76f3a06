"""A file with many mistakes tells them all, in one pass and in the order of its lines."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck

GOOD = (Path(__file__).parents[2] / "example_builds" / "mail_airship.post.toml").read_text()


def test_six_mistakes_are_six_problems() -> None:
    text = (
        GOOD.replace('bore   = "5 mm"', 'bore   = "5 V"')
        .replace('rated     = "1 A"', "rated     = 1")
        .replace('kind     = "smd-0402-red"', 'kind     = "smd-0402-rde"')
        .replace('resistor = "1k at keel"', 'resistor = "1k at kele"', 1)
        .replace('access = "open"', 'acess = "open"', 1)
        .replace('line   = "strobe"', 'line   = "strob"')
    )
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(text, "airship.post.toml")
    problems = caught.value.problems
    assert [problem.check for problem in problems if problem.check != "file.missing"] == [
        "file.no-unit", "file.wrong-dimension", "file.unknown-key", "file.unknown-name", "file.unknown-name",
        "file.unknown-name",
    ]  # fmt: skip
    lines = text.splitlines()
    for problem in problems:
        assert problem.line is not None
        assert problem.column is not None
    named = [problem for problem in problems if problem.check == "file.unknown-name"]
    assert [
        "smd-0402-rde" in lines[named[0].line - 1],
        "kele" in lines[named[1].line - 1],
        "strob" in lines[named[2].line - 1],
    ] == [True] * 3
    assert all(problem.hint is not None and "did you mean" in problem.hint for problem in named)


def test_what_refers_to_a_mistaken_entry_is_not_told_as_unknown() -> None:
    text = GOOD.replace('kind      = "adaptor"', 'kind      = "adapter"')
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(text)
    assert [problem.check for problem in caught.value.problems] == ["file.choice"]
