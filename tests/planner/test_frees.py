"""Wishes that cannot be fulfilled: the real reason is named, and what is said to free them does."""

from __future__ import annotations

import copy
import re
from typing import Any

import pytest
import tomli

from postcheck.planned import Planned
from postcheck.planner import plan
from postcheck.reading.loading import built
from tests.planner.infeasible import CAUSES, Cause, infeasible, tender


def _applied(tables: dict[str, Any], says: str) -> dict[str, Any]:
    """The tables with what a sentence says put into them."""
    tables = copy.deepcopy(tables)
    for piece in re.split(r" and (?=\w+ = )", says.removeprefix("With ").removesuffix(" there is a plan.")):
        written, where = re.split(r" (?=in \[|for ')", piece, maxsplit=1)
        ((key, value),) = tomli.loads(written).items()
        if where.startswith("in ["):
            table: Any = tables
            for step in next(iter(_path(tomli.loads(where.removeprefix("in "))))):
                table = table[step]
            table[key] = value
        else:
            names = re.findall(r"'([^']*)'", where)
            for lamp in tables["lamp"]:
                if lamp["name"] in names:
                    lamp[key] = value
    return tables


def _path(tables: dict[str, Any]) -> list[list[str]]:
    ((name, inner),) = tables.items()
    return [[name, *rest] for rest in _path(inner)] if inner else [[name]]


def _planned(tables: dict[str, Any]) -> Planned:
    return plan(built(tables))


@pytest.mark.parametrize("seed", range(3))
def test_the_tender_itself_has_a_plan(seed: int) -> None:
    assert _planned(tender(seed)).verdict == "clear"


@pytest.mark.parametrize("cause", CAUSES, ids=lambda cause: cause.name)
def test_the_real_reason_is_named_and_what_frees_does(cause: Cause) -> None:
    tables = infeasible(cause.name, 0)
    planned = _planned(tables)
    assert planned.verdict is None
    assert any(one.check in cause.checks for one in planned.blocks), planned.blocks
    keys = [one.says.split()[1] for one in planned.frees]
    assert keys
    assert keys[0] in cause.keys
    assert len(keys) <= 4
    for one in planned.frees:
        assert _planned(_applied(tables, one.says)).verdict == "clear", one.says


def test_a_range_that_is_wanted_is_all_the_plans() -> None:
    """A 9 V block of 566 mAh (the catalogue's curve) lasts eight hours at the lower end of a range, not in its middle."""
    tables = tender(0)
    tables["supply"]["main"] = {
        "kind": "battery", "place": "stand", "chemistry": "alkaline", "size": "9 V", "runs_for": "10 h",
    }  # fmt: skip
    for lamp in tables["lamp"]:
        lamp["wanted"] = "2..16 mA"
    planned = _planned(tables)
    assert planned.verdict == "clear"
    assert all(2e-3 <= lamp.current <= 16e-3 for lamp in planned.lamps)
    assert any(lamp.current < 0.8 * 9e-3 for lamp in planned.lamps)


def test_less_current_is_the_plans_to_choose_where_a_battery_is_to_last() -> None:
    tables = tender(0)
    tables["supply"]["main"] = {
        "kind": "battery", "place": "stand", "chemistry": "alkaline", "size": "9 V", "runs_for": "10 h",
    }  # fmt: skip
    assert _planned(tables).verdict == "clear"


def test_a_plan_takes_from_a_pouch_what_it_may_give_and_rates_it_for_no_more() -> None:
    """A pouch gives its capacity in an hour (cell makers' and hobby guides): 30 mA of 30 mAh, where these lamps had more."""
    tables = tender(0)
    ample, small = (
        _planned(tables | {"supply": {"main": {"kind": "battery", "place": "stand", "chemistry": "lipo", "cells": 3, "capacity": holds, "protected": True}}})
        for holds in ("600 mAh", "30 mAh")
    )  # fmt: skip
    assert (ample.verdict, small.verdict) == ("clear", "clear")
    assert max(lamp.current for lamp in small.lamps) < max(lamp.current for lamp in ample.lamps)
    assert "rated" not in [one.key for plan in (ample, small) for one in plan.values]


def test_a_lamp_is_not_dimmed_below_what_is_wanted_to_hide_the_heat() -> None:
    planned = _planned(infeasible("hot body", 1))
    assert "lamp.not-as-wanted" not in [one.check for one in planned.blocks]


def test_the_bundle_told_is_of_the_thinnest_wire_there_is_to_choose() -> None:
    """Two circles side by side are as wide as both: the bundle is no more than three of the thinnest wire across."""
    (block,) = [one for one in _planned(infeasible("bore", 0)).blocks if one.check == "passage.cannot-fit"]
    bundle = re.search(r"smallest bundle found is ([\d.]+) mm", block.says)
    assert bundle
    # winding wire of 0.18 mm is 0.212 mm over its enamel at most (IEC 60317-0-1, grade 1: from memory)
    assert float(bundle[1]) < 3 * 0.25
