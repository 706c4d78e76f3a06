"""White beside another white: what of two lamps has to be alike for that to be told."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import unlike
from postcheck.checks.fact import Fact
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import survey

from .facts import facts
from .test_lamps import string

EXTRA = '[circuit.deck]\nsupply = "main"\n[place.stern]\naccess = "open"\n'
LED = '[lamp_kind.{}]\nforward = "2.9/3.2/3.6 V"\nat = "20 mA"\nrated = "20 mA"\n'
BULB = '[lamp_kind.{}]\nkind = "filament"\nvolts = "12 V"\nrated = "60 mA"\n'


def kinds(*names: str, **more: Any) -> Survey:
    """A lamp of each kind, the last one with other keys; those of the catalogue, or described by their first word."""
    described = {"led": LED, "bulb": BULB}
    extra = "".join(described[name.split("-")[0]].format(name) for name in dict.fromkeys(names) if name.split("-")[0] in described)  # fmt: skip
    lamps = "".join(
        string(kind, None if kind.startswith("bulb") else "1k 1/4 W").replace("bow lamp", f"lamp {number}")
        for number, kind in enumerate(names)
    )
    head, last = lamps.rsplit("[[lamp]]", 1)
    for key, value in more.items():
        last = (
            "\n".join(line for line in last.split("\n") if not line.startswith(f"{key} ="))
            + f"{key} = {value}\n"
        )
    return survey(lamps=f"{head}[[lamp]]{last}", extra=EXTRA + extra)


def told(made: Survey) -> list[Fact]:
    return [fact for fact in facts(unlike, "lamp.unequal", made) if fact.case == "two whites"]


@pytest.mark.parametrize(
    ("first", "second", "whites"),
    [
        ("smd-0603-white", "smd-0603-warm-white", ("white", "warm white")), ("smd-0603-warm-white", "smd-0603-white", ("warm white", "white")),
        ("led-neutral-white", "led-white", ("neutral white", "white")), ("led-cool-white", "led-warm-white", ("white", "warm white")),
        ("smd-0603-white", "smd-0603-white", None), ("led-cool-white", "led-white", None), ("led-cold-white", "led-cool-white", None),
        ("smd-0603-white", "smd-0805-warm-white", None), ("smd-0603-red", "smd-0603-green", None), ("smd-0603-red", "smd-0603-warm-white", None),
        # a bulb has the white of its heat
        ("bulb-white", "bulb-warm-white", None),
    ],
)  # fmt: skip
def test_two_sorts_of_white_in_lamps_that_are_alike(first, second, whites):
    got = told(kinds(first, second))
    assert [(fact.words["white"], fact.words["another"]) for fact in got] == ([whites] if whites else [])
    for fact in got:
        assert (fact.severity, fact.subject, fact.path) == ("note", Subject("lamp", "lamp 0"), ("lamp", 0))
        assert fact.parts == {"other": Subject("lamp", "lamp 1"), "circuit": Subject("circuit", "lights"), "place": Subject("place", "bow")}  # fmt: skip


@pytest.mark.parametrize(
    "more", [{"place": '"stern"'}, {"circuit": '"deck"'}, {"series": 2}, {"parallel": 2}, {"resistor": '"1k2 1/4 W"'}],
)  # fmt: skip
def test_what_differs_in_more_than_its_white_is_meant(more):
    assert told(kinds("smd-0603-white", "smd-0603-warm-white", **more)) == []


def test_of_several_the_first_of_each_sort():
    (fact,) = told(kinds("smd-0603-white", "smd-0603-white", "smd-0603-warm-white", "smd-0603-warm-white"))
    assert (fact.subject.name, fact.parts["other"]) == ("lamp 0", Subject("lamp", "lamp 2"))
    assert (
        len(told(kinds("smd-0603-white", "smd-0603-warm-white", "smd-0805-white", "smd-0805-warm-white")))
        == 2
    )
