"""Glass and resistors against what they sit on: on the bound, in pulses, in several places.

A resistor's body gets 85 K above the air at its rating (`physics/heat.py`), the wall beside it half of that. Glass goes by the watts
of the filament, and these by the current to the power of 1 + 1 / 0.55 (rerating of lamps, by makers).
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

import postcheck
from postcheck.limits import Limits
from postcheck.survey import Survey
from postcheck.survey.heat.figures import HotSpot
from postcheck.survey.heat.places import hot_spots

TENDER = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "1 A"
[place.base]
access = "open"
[place.hull]
access = "sealed"
material = "styrene"
[circuit.lights]
supply = "main"
{circuit}
[[run]]
line = "lights"
ends = ["base", "hull"]
length = "100 mm"
[[run]]
line = "main-"
ends = ["base", "hull"]
length = "100 mm"
{lamps}
"""
RED = '[[lamp]]\nname = "bow"\ncircuit = "lights"\nkind = "smd-0603-red"\nplace = "hull"\nresistor = "470 ohm 1/4 W"\n'
BULB = '[[lamp]]\nname = "bulb"\ncircuit = "lights"\nkind = "rice-12v"\nplace = "hull"\n'
GLASS = 90.0 - 25.0  # K above the air at its rated volts (the catalogue's rice-12v)


def made(lamps: str, circuit: str = "") -> Survey:
    return Survey(postcheck.loads(TENDER.format(lamps=lamps, circuit=circuit)))


def spots(survey: Survey, limits: Limits | None = None, **changed: object) -> Sequence[HotSpot]:
    """Those of a survey, of lamps with other figures if any are given."""
    lamps = {name: lamp._replace(**changed) for name, lamp in survey.electrics.lamps.items()}  # type: ignore[arg-type]
    electrics = survey.electrics._replace(lamps=lamps)
    return list(hot_spots(survey.build, electrics, limits or survey.limits, survey.places))


def test_what_is_no_warmer_than_the_limit_says_is_not_told() -> None:
    """And where the limit is nothing, neither is a resistor that has no heat at all."""
    survey = made(RED)
    rise = 0.5 * (85.0 * survey.electrics.lamps["bow"].spot[0] / 0.25)

    def told(least: float, **changed: object) -> int:
        return len(spots(survey, Limits({"heat.rise": (least, "test")}), **changed))

    assert [told(rise * times) for times in (1.0 + 1e-9, 1.0, 1.0 - 1e-9)] == [0, 0, 1]
    assert [told(0.0, spot=(watts, 0.25)) for watts in (0.0, 1e-9)] == [0, 1]
    # of one whose rating nobody knows nothing is told
    assert told(0.0, spot=(0.2, None)) == 0


def test_glass_that_does_not_follow_its_pulses_has_their_average_and_more_held_on() -> None:
    """At 2 kHz its current is the mean square's already; on for good it is what it then takes."""
    survey = made(BULB, 'behaviour = "dim"\nfrequency = "2 kHz"\non_share = "25 %"\noutput = "500 mA"')
    lamp = survey.electrics.lamps["bulb"]
    assert lamp.held_on is not None
    usual, stuck = survey.hot_spots
    power = 1.0 + 1.0 / 0.55
    assert usual.celsius == pytest.approx(35.0 + GLASS * (lamp.nominal / 0.05) ** power, rel=1e-9)
    assert stuck.celsius == pytest.approx(35.0 + GLASS * (lamp.held_on / 0.05) ** power, rel=1e-9)


def test_two_bulbs_in_series_warm_each_the_place_where_it_sits() -> None:
    more = 'series = 3\nplaces = ["hull", "base", "hull"]\nlinks = ["10 mm of enamel-0.10", "10 mm of enamel-0.10"]\n'
    survey = made(BULB.replace("rice-12v", "rice-3v") + more)
    assert [(spot.place, spot.kind) for spot in survey.hot_spots] == [("hull", "lamp"), ("base", "lamp")]
