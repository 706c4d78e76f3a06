"""What a plan ends with: fuses that open, adaptors that may be larger, colours that are told apart."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest

import postcheck
from postcheck.description.models import Run
from postcheck.planned import Planned
from postcheck.planner import plan
from tests.planner.wishes import random_wish, toml


def _wish(**stock: Any) -> dict[str, Any]:
    tables = random_wish(11, circuits=4, leds=9, bodies=2)
    tables["supply"]["main"] = {"kind": "adaptor", "place": "base", "volts": "12 V"}
    return tables | {"stock": tables.get("stock", {}) | stock}


def _clear(planned: Planned, rated: str) -> bool:
    """Whether the written plan passes with an adaptor of this rating."""
    assert planned.text is not None
    text = "".join(
        f'rated = "{rated}"\n' if line.startswith("rated") else line
        for line in planned.text.splitlines(keepends=True)
    )
    assert text.count(rated) >= 1
    return postcheck.check(postcheck.loads(text)).files[0].verdict == "clear"


def _planned(tables: dict[str, Any]) -> Planned:
    planned = plan(postcheck.loads(toml(tables)), seconds=60.0)
    assert planned.verdict == "clear"
    return planned


def _runs(planned: Planned) -> tuple[Run, ...]:
    assert planned.text is not None
    return postcheck.loads(planned.text).run


@pytest.mark.parametrize(
    ("fuses", "fused"), [(None, True), (["50 mA"], False), (["5 A"], False), (["100 mA", "5 A"], True)]
)
def test_an_adaptor_may_be_larger_only_where_its_fuse_protects_then_too(
    fuses: list[str] | None, fused: bool
) -> None:
    planned = _planned(_wish(**({} if fuses is None else {"fuses": fuses})))
    assert any(row[3] for row in planned.supplies) is fused
    (adaptor,) = [one.what for one in planned.bought if one.what.startswith("adaptor")]
    assert adaptor.endswith("or more" if fused else "no larger")
    assert any("has no fuse" in says for says in planned.heed) is not fused
    assert _clear(planned, "5 A") is fused


@pytest.mark.parametrize(
    "kept", [None, ["white", "yellow"], ["black"], ["red", "black", "blue", "green", "white"]]
)
def test_a_return_never_looks_like_a_feed_and_no_colour_is_made_up(kept: list[str] | None) -> None:
    runs = _runs(_planned(_wish(**({} if kept is None else {"colours": kept}))))
    assert len(runs) > 3
    for one, other in combinations(runs, 2):
        if one.line != other.line and set(one.ends) & set(other.ends) and one.colour == other.colour:
            assert one.label != other.label
            assert kept == ["black"] or "main-" not in (one.line, other.line)
    assert kept is None or {run.colour for run in runs} <= set(kept)


def test_a_line_named_after_a_colour_has_it() -> None:
    tables = _wish()
    first, *others = tables["circuit"]
    names = {first: "sail", **dict(zip(others, ("blue", "green"), strict=True))}
    tables["circuit"] = {names[name]: row for name, row in tables["circuit"].items()}
    for lamp in tables["lamp"]:
        lamp["circuit"] = names[lamp["circuit"]]
    colours = {run.line: run.colour for run in _runs(_planned(tables))}
    assert colours["blue"] == "blue"
    assert colours["green"] == "green"
    assert len({*colours.values()}) == len(colours)


def test_lengths_that_no_way_gives_are_told_as_taken() -> None:
    tables = _wish()
    (told,) = [says for says in _planned(tables).heed if "[[way]]" in says]
    assert "base to hub" in told
    tables["way"].append({"from": "base", "to": "hub", "length": "300 mm"})
    assert not [says for says in _planned(tables).heed if "base to hub" in says]
