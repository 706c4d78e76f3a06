"""LEDs of which nothing but the colour is known are taken as the catalogue's 5 mm ones."""

from __future__ import annotations

import pytest

from postcheck import catalogue
from postcheck.description.curves import usual_forward


@pytest.mark.parametrize(
    ("colour", "row"),
    [
        ("red", "led-5mm-red"), ("Deep-Red", "led-5mm-red"), ("warm yellow", "led-5mm-red"),
        ("blue", "led-5mm-blue"), ("warm white", "led-5mm-blue"), ("reddish", "led-5mm-blue"), (None, "led-5mm-blue"),
    ],
)  # fmt: skip
def test_usual_forward_volts_are_those_of_the_catalogue(colour: str | None, row: str) -> None:
    (die,) = catalogue.lamp(row).dice
    assert usual_forward(colour) == (die.forward_least, die.forward_typical, die.forward_most)
