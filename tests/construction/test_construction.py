"""A share of the random builds: every sound one is clear, every seeded fault is found by the check that has to find it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.construction import sound
from tests.construction.faults import SORTS
from tests.construction.faults.record import Found, Sort
from tests.construction.measure import caught, faulty_one, judged, told

HERE = Path(__file__).parent
SOUND = 240


def test_the_makers_know_nothing_of_the_checker() -> None:
    makers = [path for path in HERE.rglob("*.py") if path.name not in ("measure.py", "test_construction.py")]
    assert len(makers) >= 12
    for path in makers:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            named = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            named += [name.name for name in node.names] if isinstance(node, ast.Import) else []
            assert not any(name.startswith("postcheck") for name in named), path


def test_there_are_many_sorts_of_faults() -> None:
    assert len({sort.name for sort in SORTS}) == len(SORTS) >= 100


def test_a_seed_always_makes_the_same_build() -> None:
    assert sound.text(sound.made(7)) == sound.text(sound.made(7)) != sound.text(sound.made(8))


@pytest.mark.parametrize("tens", range(SOUND // 10))
def test_sound_builds_are_clear(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        report = judged(sound.text(sound.made(seed)), f"sound-{seed}")
        assert (report.verdict, told(report)) == ("clear", []), seed


@pytest.mark.parametrize("sort", SORTS, ids=lambda sort: sort.name)
def test_a_fault_is_found_by_its_check(sort: Sort) -> None:
    made = faulty_one(SORTS.index(sort), sort)
    assert made is not None
    text, wanted = made
    report = judged(text, "faulty")
    assert caught(report, wanted) == "caught", (wanted, told(report))


def test_a_build_without_the_fault_is_not_caught() -> None:
    report = judged(sound.text(sound.made(0)), "sound")
    assert caught(report, Found("lamp.over-rating", "*")) == "missed"
