"""Nothing is offered for a lamp that has no figures, nor for one that the build does not have."""

from __future__ import annotations

import pytest

from postcheck.remedies.table import proposals
from tests.survey.small import survey

from .offers import given, offers

FIGURES = {"ohms": 123.0, "highest": 1.0, "rated": 0.02, "lost": 1.0, "difference": 0.3}


@pytest.mark.parametrize(
    "check",
    [
        "lamp.backwards", "lamp.shared-resistor", "lamp.over-rating", "trimmer.turned-down", "lamp.strobe", "lamp.not-as-wanted", "lamp.dim",
        "lamp.no-resistor", "resistor.not-in-series", "resistor.overloaded", "trimmer.overloaded", "lamp.unequal", "diode.too-small",
        "diode.both-ways",
    ],
)  # fmt: skip
def test_nothing_is_offered(check: str) -> None:
    assert offers(survey(), given(check, ("lamp", "no such"), figures=FIGURES)) == []
    assert [*proposals(survey(lamps=""), given(check, ("lamp", "bow lamp"), figures=FIGURES))] == []


def test_two_wires_do_not_jam() -> None:
    assert offers(survey(), given("passage.jam", ("passage", "post"))) == []


def test_a_lamp_without_a_lead_has_no_thicker_one() -> None:
    made = survey(
        lamps='[[lamp]]\nname = "bow lamp"\ncircuit = "lights"\nkind = "smd-0402-red"\nplace = "hull"\nresistor = "1k5"\n'
    )
    assert offers(made, given("lamp.unequal", ("lamp", "bow lamp"))) == []


def test_a_strip_that_is_not_there_gets_no_more_volts() -> None:
    finding = given(
        "strip.dim",
        ("strip", "no such"),
        figures={"missing": 1.0, "lost": 0.1, "dimmer": 0.2},
        limit=0.1,
        case="before it",
    )
    assert offers(survey(), finding) == []
