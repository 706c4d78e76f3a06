"""Bare metal that is live, and metal that slides: with figures of our own. 8 A is the most of a short that is let go."""

from __future__ import annotations

from math import inf, pi
from typing import Any

import pytest

from postcheck.checks import metal
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.heat.metal import BareMetal
from tests.survey.small import survey

from .facts import facts, units, values


def with_metal(turn: str = "", **more: Any) -> Survey:
    made = survey(post=f'bore = "5 mm"\nlength = "160 mm"\n{turn}')
    one = BareMetal("tube", ("run", 2), "lights", "post", **{"moves": None, **more})
    other = Survey(made.build, made.limits)
    other.__dict__["metal"] = (one,)
    return other


@pytest.mark.parametrize(
    ("short", "fuse", "limited", "severity", "case"),
    [
        (inf, None, False, "stop", "unlimited"), (8.1, None, False, "stop", "strong"), (8.0, None, False, "caution", "weak"), (50.0, 0.5, True, "caution", "fused"),
        (50.0, None, True, "caution", "weak"), (inf, 0.5, True, "caution", "fused"), (3.0, 0.5, True, "caution", "fused"),
    ],
)  # fmt: skip
def test_metal_that_is_live(short, fuse, limited, severity, case):
    (fact,) = facts(metal, "metal.live", with_metal(supply="main", short=short, fuse=fuse, limited=limited))
    assert (fact.severity, fact.case, fact.path) == (severity, case, ("run", 2, "body"))
    shown = ({} if short == inf else {"short": short}) | ({} if fuse is None else {"fuse": fuse})
    assert values(fact) == shown
    assert set(units(fact).values()) <= {"A"}
    assert fact.parts == {
        "passage": Subject("passage", "post"),
        "supply": Subject("supply", "main"),
        "line": Subject("line", "lights"),
    }
    assert fact.because_of == ("fuse.absent:main" if severity == "stop" else None)
    assert fact.limit is not None
    assert fact.limit.value == 8.0


def test_the_negative_on_metal_is_the_usual_way():
    assert facts(metal, "metal.live", with_metal(short=inf)) == []


@pytest.mark.parametrize(
    ("turn", "case", "angle"),
    [('turn = "90 deg"', "turns", pi / 2), ('fold = "45 deg"\nfree = "60 mm"', "folds", pi / 4)],
)
def test_metal_that_slides(turn, case, angle):
    (fact,) = facts(metal, "metal.slides", with_metal(turn, moves="post"))
    assert (fact.severity, fact.case, values(fact), units(fact)) == (
        "caution",
        case,
        {"turn": pytest.approx(angle)},
        {"turn": "rad"},
    )
    assert fact.parts == {"passage": Subject("passage", "post"), "line": Subject("line", "lights")}
    assert facts(metal, "metal.slides", with_metal(turn)) == []
