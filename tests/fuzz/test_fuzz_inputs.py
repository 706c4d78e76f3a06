"""Inputs that once failed, and builds by the grammar: each is read or refused in words, and rendered in every form."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from tests.fuzz.grammar import texts
from tests.fuzz.whole_way import text_of, whole

CORPUS = sorted((Path(__file__).parent / "corpus").iterdir())
TIMES = int(os.environ.get("POSTCHECK_FUZZ", "0"))


@pytest.mark.parametrize("path", CORPUS, ids=lambda path: path.name)
def test_what_once_failed_does_so_no_more(path: Path) -> None:
    whole(text_of(path.read_bytes()))


@settings(
    max_examples=60 * max(TIMES, 1),
    derandomize=not TIMES,
    database=None,
    phases=[Phase.generate],
    suppress_health_check=list(HealthCheck),
)
@given(texts())
def test_builds_by_the_grammar_go_the_whole_way(text: str) -> None:
    try:
        whole(text)
    except BaseException:
        if TIMES:
            Path("failed.post.toml").write_bytes(text.encode("utf-8", "surrogatepass"))
        raise
