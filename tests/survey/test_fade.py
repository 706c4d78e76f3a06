"""A fade: all of its current for what is rated, its average for heat and batteries."""

from __future__ import annotations

from math import cos, pi

import pytest

import postcheck
from postcheck.survey import Survey

BUILD = """
format = 1
[build]
name = "Tender, a sign that fades"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
rated = "1 A"
fuse = "500 mA"
[place.base]
access = "open"
[circuit.sign]
supply = "main"
behaviour = "fade"
rate = "10 /min"
{least}
frequency = "2 kHz"
output = "200 mA, 0.1 V drop"
[[lamp]]
name = "sign"
circuit = "sign"
kind = "smd-0603-white"
place = "base"
resistor = "1k 1/4 W"
"""


@pytest.mark.parametrize("least", [0.0, 0.1, 0.5])
def test_it_takes_its_average_over_time(least: float) -> None:
    said = f'least_share = "{least * 100:g} %"' if least else ""
    survey = Survey(postcheck.loads(BUILD.format(least=said)))
    supply = survey.electrics.supplies["main"]
    # a raised cosine between its least and all of it, summed over one time up and down
    steps = 1000
    wave = (least + (1.0 - least) * 0.5 * (1.0 - cos(2.0 * pi * step / steps)) for step in range(steps))
    assert supply.average == pytest.approx(supply.nominal * sum(wave) / steps, rel=1e-9)
    # ratings see the top of it: 12 V less the drop and the die, behind 1 kohm
    lamp = survey.electrics.lamps["sign"]
    assert lamp.nominal == pytest.approx((12.0 - 0.1 - lamp.string_volts) / 1000.0, rel=1e-6)
    # at ten a minute the top lasts: a resistor has to withstand it
    assert lamp.resistor_fraction == 1.0


@pytest.mark.parametrize(
    ("behaviour", "more", "says"),
    [
        ("fade", 'on_share = "10 %"', "is never off for a share of the time"),
        ("flash", 'least_share = "10 %"', "does not fade"),
    ],
)
def test_what_contradicts_a_fade_is_refused(behaviour: str, more: str, says: str) -> None:
    text = BUILD.format(least=more).replace('"fade"', f'"{behaviour}"')
    with pytest.raises(postcheck.BuildError, match=says):
        postcheck.loads(text)
