"""Whose findings lose their figures to a lamp that is destroyed: with findings and fates of our own."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks.past_figures import without_figures
from postcheck.report import Figure, Finding, Subject
from postcheck.survey import Survey
from postcheck.survey.beyond import Beyond
from tests.survey.small import lamp, survey

EXTRA = (
    '[board.driver]\nplace = "base"\nsupply = "main"\n[circuit.deck]\nsupply = "aft"\n'
    '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "1 A"\nshares_negative_with = "main"\n'
    '[[plug]]\nname = "foot"\nat = "hull"\npins = ["lights", "main-"]\nkeyed = true\n'
)


@pytest.fixture(scope="module")
def made() -> Survey:
    second = lamp(at=" at base").replace("bow lamp", "deck lamp").replace('"lights"', '"deck"')
    return survey(lamps=lamp(at=" at hull") + second, extra=EXTRA)


def fate(made: Survey, check: str, kind: str, name: str, case: str = "", **beyond: Any) -> Finding:
    other = Survey(made.build, made.limits)
    other.__dict__["electrics"] = made.electrics
    other.__dict__["beyond"] = Beyond(("dead",), {"main": "dead"}, {"lights": "dead"}, {"hull": "dead"}, {("supply", "main"): "lamp destroyed"})._replace(**beyond)  # fmt: skip
    figures = {"current": Figure(1.0, "A")}
    finding = Finding(
        check, "stop", Subject(kind, name), "it is so", "why", figures=figures, remedy="do", case=case
    )  # type: ignore[arg-type]
    (one,) = without_figures(other, [finding])
    return one


@pytest.mark.parametrize(
    ("check", "kind", "name", "beyond", "lost"),
    [
        ("place.too-hot", "place", "hull", {}, True), ("place.too-hot", "place", "base", {}, False), ("output.overload", "circuit", "lights", {}, True), ("output.overload", "circuit", "deck", {}, False),
        ("supply.overload", "supply", "main", {}, True), ("supply.overload", "supply", "aft", {}, False),
        # its resistor sits in a place with the dead one, the other's does not
        ("part.hot-spot", "resistor", "bow lamp", {}, True), ("part.hot-spot", "resistor", "deck lamp", {}, False), ("part.hot-spot", "resistor", "nothing", {}, False),
        ("part.hot-spot", "resistor", "deck lamp", {"places": {"base": "dead"}}, True), ("part.hot-spot", "resistor", "deck lamp", {"places": {"bow": "dead"}}, True),
        # a resistor is lost with its own lamp alone
        ("resistor.overloaded", "lamp", "bow lamp", {}, False), ("resistor.overloaded", "lamp", "bow lamp", {"lamps": ("bow lamp",)}, True), ("resistor.overloaded", "lamp", "nothing", {}, False),
        ("board.overload", "board", "driver", {}, False), ("board.overload", "board", "driver", {"fates": {("board", "driver"): "lamp destroyed"}}, True),
        ("plug.overload", "plug", "foot", {}, False), ("plug.overload", "plug", "foot", {"fates": {("plug", "foot"): "lamp destroyed"}}, True),
        # what has no words without figures keeps them
        ("lamp.dim", "lamp", "bow lamp", {}, False),
    ],
)  # fmt: skip
def test_whose_figures_are_lost(made, check, kind, name, beyond, lost):
    one = fate(made, check, kind, name, **beyond)
    if not lost:
        assert (one.says, one.remedy, len(one.figures)) == ("it is so", "do", 1)
        return
    who = "bow lamp" if "lamps" in beyond else "dead"
    assert one.says.endswith(f"No figure is given, for '{who}' is destroyed at once.")
    assert (dict(one.figures), one.parts) == ({}, {"lamp": Subject("lamp", who)})
    # what is too hot has a remedy all the same
    assert one.remedy == ("do" if check == "place.too-hot" else None)


def test_a_bare_lamp_is_its_own_cause(made):
    assert fate(made, "output.overload", "circuit", "lights", "output, bare lamp").says == "it is so"
    assert fate(made, "output.overload", "circuit", "lights", "output").says != "it is so"


def test_with_nothing_destroyed_all_keep_theirs(made):
    assert fate(made, "supply.overload", "supply", "main", fates={}).says == "it is so"
