"""A clear build of which something is left out is not clear for closing, and a waiver changes what it waives alone."""

from __future__ import annotations

import copy
import os
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import tomli
from hypothesis import assume, given
from hypothesis import strategies as st

import postcheck
from tests.laws.random_tables import MORE, Tables, alike, builds, judged, law, told

BUILDS = Path(__file__).parents[1] / "builds"
SOUND = sorted(
    [*(BUILDS / "sound").glob("*.post.toml"), *(BUILDS.parents[1] / "example_builds").glob("*.toml")]
)
FOLLOWS = ("because_of", "remedy", "edits")
"""What goes with a finding that nobody accepted alone."""
FED = ("lamp", "strip", "load")


def verdict(tables: Tables) -> str:
    """The verdict for closing."""
    try:
        return judged(tables, "closing").verdict
    except postcheck.BuildError:
        return "unreadable"


def without(tables: Tables) -> Iterator[tuple[str, Tables]]:
    """The build with one thing left out that it cannot do without.

    A lamp whose neighbours keep the line in use is no such thing: what is left is a smaller build, as good as it was. Nor
    is a spare run, or one of two that run side by side; nor a fuse where what can flow without it hurts no wire.
    """
    for number, lamp in enumerate(tables.get("lamp", ())):
        if "resistor" in lamp:
            less = copy.deepcopy(tables)
            del less["lamp"][number]["resistor"]
            yield f"resistor of {lamp.get('name', number)}", less
        elif "dice" in lamp:
            continue
        circuit = lamp.get("circuit")
        runs = [run for run in tables.get("run", ()) if run.get("line") == circuit]
        others = [one for section in FED for one in tables.get(section, ()) if one is not lamp]
        if circuit and runs and not any(_on(one, circuit) for one in others):
            less = copy.deepcopy(tables)
            del less["lamp"][number]
            yield f"lamp {lamp.get('name', number)}", less
    for number, run in enumerate(tables.get("run", ())):
        if _needed(tables, number):
            less = copy.deepcopy(tables)
            del less["run"][number]
            yield f"run {run.get('name', number)}", less


def _on(entry: dict[str, Any], circuit: str) -> bool:
    return entry.get("circuit") == circuit or f"'{circuit}'" in str(entry.get("dice"))


def _needed(tables: Tables, number: int) -> bool:
    """Whether a run is the only one of its line that comes to a place where something is on it."""
    run = tables["run"][number]
    if run.get("spare") or run.get("body"):
        return False
    others = [one for one in tables["run"] if one is not run and one.get("line") == run.get("line")]
    return not any(set(one["ends"]) == set(run["ends"]) for one in others)


def clear(path: Path) -> Tables | None:
    tables = tomli.loads(path.read_text(encoding="utf-8"))
    tables.pop("use", None)
    return tables if verdict(tables) == "clear" else None


def test_what_is_left_out_of_a_clear_build_is_missed_before_closing() -> None:
    tried = 0
    for path in SOUND if os.environ.get(MORE) else SOUND[::4]:
        tables = clear(path)
        for what, less in without(tables) if tables else ():
            tried += 1
            assert verdict(less) != "clear", (path.name, what)
    assert tried > 50


def test_a_battery_that_gives_all_it_has_is_not_clear_without_its_fuse() -> None:
    path = BUILDS / "sound" / "protected-pack-and-a-fuse.post.toml"
    tables = clear(path)
    assert tables is not None
    del tables["supply"]["main"]["fuse"]
    assert verdict(tables) != "clear"


@law(25)
@given(builds(), st.data())
def test_a_waiver_changes_nothing_but_what_it_waives(tables: Tables, data: st.DataObject) -> None:
    before = told(judged(tables))
    assume(before["findings"])
    waived = data.draw(st.sampled_from([row["id"] for row in before["findings"]]), label="finding")
    waiver = {"finding": waived, "reason": "tried for an evening, and it holds", "until": date(2099, 1, 1)}
    after = told(judged({**tables, "accept": [waiver]}))
    refused = {row["id"] for row in after["findings"]} - {row["id"] for row in before["findings"]}
    assert all(name.startswith("accept.") for name in refused)
    assert alike(before["figures"], after["figures"]) == []
    assert before["not_judged"] == after["not_judged"]
    rest = {row["id"]: row for row in after["findings"]}
    for old in before["findings"]:
        new = rest[old["id"]]
        accepted = waiver["reason"] if old["id"] == waived and not refused else None
        # what followed from a finding that is accepted stands by itself, or follows from another
        assert new == {**old, "accepted": accepted, **{key: new[key] for key in FOLLOWS}}, (old, new)
        assert old["id"] == waived or old["because_of"] or new["because_of"] is None
