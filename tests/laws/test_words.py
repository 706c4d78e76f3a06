"""What a build is called, in which order it stands and in which units changes nothing but that."""

from __future__ import annotations

import copy
import random
import re
from collections.abc import Callable
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from tests.laws.random_tables import Tables, alike, builds, judged, law, texts, told

# Colours are no names of the builder's, and some kinds of lamps are called like them.
COLOURS = {"red", "green", "blue", "white", "yellow", "rgb"}
NAMED = ("supply", "circuit", "place", "lamp_kind", "wire", "board", "strip_kind", "passage", "cable")
LISTED = ("lamp", "run", "plug", "load", "strip", "switch", "join", "way", "proof", "accept")


def names_of(tables: Tables) -> list[str]:
    """Every name that the builder gave."""
    names = [name for section in NAMED for name in tables.get(section, ())]
    names += [
        entry["name"]
        for section in LISTED
        for entry in tables.get(section, ())
        if isinstance(entry, dict) and "name" in entry
    ]
    return sorted(set(names) - COLOURS)


def renaming(names: list[str], chance: random.Random, letters: str) -> Callable[[str], str]:
    """Puts new names for these into a text, wherever they stand as words."""
    order = list(range(len(names)))
    chance.shuffle(order)
    new = {
        name: f"{chance.choice(letters)}{letters}{number}" for name, number in zip(names, order, strict=True)
    }
    words = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    found = re.compile(rf"(?<![\w.-])(?:{words})(?!\w)")
    return lambda text: found.sub(lambda one: new[one[0]], text)


def loose(report: Any) -> Any:
    """A report without any order: of findings, of questions, of the words of a sentence."""
    plain = dict(report)
    for key in ("findings", "not_judged", "limits"):
        rows = [
            {
                name: sorted(re.findall(r"[\w+.-]+", value))
                if isinstance(value, str) and " " in value
                else value
                for name, value in row.items()
                if name != "edits"
            }
            for row in plain.get(key) or ()
        ]
        plain[key] = sorted(rows, key=lambda row: str(sorted(row.items(), key=lambda pair: pair[0])))
    return plain


def without_order(report: Any) -> Any:
    """Verdict, figures, and findings without which of several alike parts stands for the others: the first of the file does.

    So of a margin there is how near it is alone. From which end a run in a loop is fed may be either.
    """
    margins = {
        check: margin["value"] / margin["limit"] if margin["limit"] else margin["value"]
        for check, margin in report["figures"].get("margins", {}).items()
    }
    runs = {name: {**run, "source": None} for name, run in report["figures"].get("runs", {}).items()}
    findings = sorted(
        (row["check"], row["severity"], sorted(figure["value"] for figure in row["figures"].values()))
        for row in report["findings"]
    )
    questions = sorted(f"{row['subject']} {row['vital']}" for row in report["not_judged"])
    return {
        "verdict": report["verdict"],
        "figures": {**report["figures"], "margins": margins, "runs": runs},
        "findings": [list(row) for row in findings],
        "questions": questions,
    }


def named_runs(tables: Tables) -> Tables:
    """The build with a name for each run: one that is made follows the order of the file."""
    after = copy.deepcopy(tables)
    for number, run in enumerate(after.get("run", ())):
        run.setdefault("name", f"run {number}")
    return after


@law(40)
@given(builds(), st.randoms(use_true_random=False))
def test_other_names_change_names_alone(tables: Tables, chance: random.Random) -> None:
    tables = named_runs(tables)
    tables = texts(tables, renaming(names_of(tables), chance, "Qx"))  # no name is a word of ours
    rename = renaming(names_of(tables), chance, "Zk")
    before = texts(told(judged(tables)), rename)
    after = told(judged(texts(tables, rename)))
    assert alike(loose(before), loose(after)) == []


@law(40)
@given(builds(), st.randoms(use_true_random=False))
def test_another_order_changes_the_order_alone(tables: Tables, chance: random.Random) -> None:
    tables = named_runs(tables)
    other: Tables = {}
    for key in chance.sample(list(tables), len(tables)):
        part = tables[key]
        if isinstance(part, list):
            other[key] = chance.sample(part, len(part))
        elif key in NAMED:
            other[key] = {name: part[name] for name in chance.sample(list(part), len(part))}
        else:
            other[key] = part
    assert alike(without_order(told(judged(tables))), without_order(told(judged(other)))) == []


OTHERS = {
    "mm": (25.4, "in"), "cm": (2.54, "in"), "m": (0.3048, "ft"), "V": (0.001, "mV"), "mA": (1000.0, "A"), "A": (0.001, "mA"),
    "ohm": (1000.0, "kohm"), "kohm": (0.001, "ohm"), "mV": (1000.0, "V"), "W": (0.001, "mW"), "mohm": (1000.0, "ohm"),
}  # fmt: skip
QUANTITY = re.compile(rf"(?<![\w./])([0-9.]+(?:e-?[0-9]+)?) ({'|'.join(OTHERS)})(?![\w/])")


def in_other_units(text: str) -> str:
    """Lengths in inches or feet, all else in the unit beside its own."""
    return QUANTITY.sub(
        lambda one: (
            f"{float(one[1]) / OTHERS[one[2]][0]!r} {OTHERS[one[2]][1]}"
            if "e" not in repr(float(one[1]) / OTHERS[one[2]][0])
            else one[0]
        ),
        text,
    )


@law(40)
@given(builds())
def test_inches_equal_millimetres(tables: Tables) -> None:
    other = texts(tables, in_other_units)
    assert other != tables
    assert alike(told(judged(tables)), told(judged(other))) == []
