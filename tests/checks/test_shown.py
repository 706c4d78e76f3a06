"""Figures that are held against each other in one sentence."""

from __future__ import annotations

import pytest

from postcheck.checks.shown import shown, shown_apart, shown_parts
from postcheck.report import Figure, Subject

HOUR = 3600.0


@pytest.mark.parametrize(
    ("figures", "spelt"),
    [
        # each unit by itself
        ([(12.0, "V"), (12.04, "V"), (0.3, "A")], ("12 V", "12.04 V", "300 mA")),
        # whole degrees where they tell the two apart, tenths where they do not
        ([(60.2, "degC"), (65.0, "degC")], ("60 degC", "65 degC")),
        ([(60.2, "degC"), (60.0, "degC")], ("60.2 degC", "60.0 degC")),
        # all in hours where people count hours, so that they can be compared
        ([(18.75 * HOUR, "s"), (80 * HOUR, "s")], ("18.8 h", "80 h")),
        ([(18.75 * HOUR, "s"), (240 * HOUR, "s")], ("18.8 h", "10 days")),
        ([(0.5 * HOUR, "s"), (5 * HOUR, "s")], ("0.5 h", "5 h")),
        ([(600.0, "s"), (1800.0, "s")], ("10 min", "30 min")),
        ([(19.997 * HOUR, "s"), (20 * HOUR, "s")], ("19.997 h", "20 h")),
        # what is left of rounding is nothing
        ([(2.85e-19, "V"), (9.0, "V")], ("0 V", "9 V")),
        # what is alike may look alike
        ([(5.0, "V"), (5.0, "V")], ("5 V", "5 V")),
    ],
)
def test_figures_told_apart(figures: list[tuple[float, str]], spelt: tuple[str, ...]) -> None:
    assert shown_apart([Figure(*figure) for figure in figures]) == spelt


def test_a_charge_is_shown_as_cells_are_sold() -> None:
    assert shown(Figure(2700 * 3.6, "C")) == "2.7 Ah"
    assert shown(Figure(850 * 3.6, "C")) == "850 mAh"


def test_a_part_without_a_name_of_its_own_has_that_of_what_it_belongs_to() -> None:
    parts = [Subject("lead", "bow lamp"), Subject("resistor", "bow lamp"), Subject("lamp", "bow lamp")]
    assert shown_parts(parts) == "the lead of 'bow lamp', the resistor of 'bow lamp' and 'bow lamp'"
