"""Glass and resistors against what they sit on: what each makes warm, on both sides of each bound.

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
from postcheck.survey.network.figures import LampFigures

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
material = "abs"
[place.hull]
access = "sealed"
material = "{material}"
{surface}
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
RED = '[[lamp]]\nname = "{name}"\ncircuit = "lights"\nkind = "smd-0603-red"\nplace = "{place}"\nresistor = "470 ohm 1/4 W at {at}"\n{more}\n'
BULB = '[[lamp]]\nname = "bulb"\ncircuit = "lights"\nkind = "rice-12v"\nplace = "hull"\n'
FLASH = 'behaviour = "flash"\nrate = "60 /min"\non_share = "25 %"\noutput = "500 mA"'
GLASS = 90.0 - 25.0  # K above the air at its rated volts (the catalogue's rice-12v)


def made(lamps: str, circuit: str = "", material: str = "styrene", surface: str = "") -> Survey:
    return Survey(
        postcheck.loads(TENDER.format(lamps=lamps, circuit=circuit, material=material, surface=surface))
    )


def spots(survey: Survey, limits: Limits | None = None, **changed: object) -> Sequence[HotSpot]:
    """Those of a survey, of lamps with other figures if any are given."""
    lamps = {name: lamp._replace(**changed) for name, lamp in survey.electrics.lamps.items()}  # type: ignore[arg-type]
    electrics = survey.electrics._replace(lamps=lamps)
    return list(hot_spots(survey.build, electrics, limits or survey.limits, survey.places))


def red(name: str, place: str = "hull", at: str | None = None, more: str = "") -> str:
    return RED.format(name=name, place=place, at=at or place, more=more)


def one(lamp: LampFigures, at: float) -> object:
    return pytest.approx(at + 0.5 * 85.0 * lamp.spot[0] / 0.25, rel=1e-9)


@pytest.mark.parametrize("at", ["hull", "base"])
def test_the_wall_beside_a_resistor_takes_half_its_rise(at: str) -> None:
    """In a place without a size, above the room's air; styrene is good to 60 degC and abs to 65, a spot of them to 10 K more."""
    survey = made(red("bow", at=at))
    lamp = survey.electrics.lamps["bow"]
    (spot,) = survey.hot_spots
    assert (spot.kind, spot.name, spot.place, spot.path) == ("resistor", "bow", at, ("lamp", 0))
    assert spot.celsius == one(lamp, 35.0)
    assert (spot.air, spot.stuck) == (35.0, False)
    wall = survey.build.place[at].material
    assert (spot.material, spot.stands) == (wall, {"styrene": 70.0, "abs": 75.0}[wall or ""])


def test_in_a_closed_place_its_own_air_counts_and_on_for_good_that_of_all_on_for_good() -> None:
    survey = made(red("bow"), FLASH, surface='surface = "40 cm2"')
    lamp, place = survey.electrics.lamps["bow"], survey.places["hull"]
    assert place.hottest is not None
    assert place.steady is not None
    assert 35.5 < place.hottest < place.steady - 1.0
    usual, stuck = survey.hot_spots
    assert (usual.stuck, stuck.stuck) == (False, True)
    assert (usual.air, stuck.air) == (place.hottest, place.steady)
    assert usual.celsius == pytest.approx(place.hottest + 0.25 * 0.5 * 85.0 * lamp.spot[0] / 0.25, rel=1e-9)
    assert stuck.celsius == one(lamp, place.steady)


def test_what_is_no_warmer_than_the_limit_says_is_not_told() -> None:
    """And where the limit is nothing, neither is a resistor that has no heat at all."""
    survey = made(red("bow"))
    rise = 0.5 * (85.0 * survey.electrics.lamps["bow"].spot[0] / 0.25)

    def told(least: float, **changed: object) -> int:
        return len(spots(survey, Limits({"heat.rise": (least, "test")}), **changed))

    assert [told(rise * times) for times in (1.0 + 1e-9, 1.0, 1.0 - 1e-9)] == [0, 0, 1]
    assert [told(0.0, spot=(watts, 0.25)) for watts in (0.0, 1e-9)] == [0, 1]
    # of one whose rating nobody knows nothing is told
    assert told(0.0, spot=(0.2, None)) == 0


def test_what_is_held_off_and_what_sits_on_metal_is_passed_over_and_the_next_is_not() -> None:
    bow = red("bow", "base")
    assert [spot.name for spot in made(red("off", more="held_off = true") + bow).hot_spots] == ["bow"]
    lamps = red("stern") + bow
    assert [spot.name for spot in made(lamps, material="brass").hot_spots] == ["bow"]


@pytest.mark.parametrize(("circuit", "share"), [("", 1.0), (FLASH, 0.25)])
def test_glass_goes_by_the_watts_of_its_filament(circuit: str, share: float) -> None:
    survey = made(BULB, circuit)
    lamp = survey.electrics.lamps["bulb"]
    watts = (lamp.nominal / 0.05) ** (1.0 + 1.0 / 0.55)
    usual, *stuck = survey.hot_spots
    assert (usual.kind, usual.name, usual.place, usual.stuck) == ("lamp", "bulb", "hull", False)
    assert usual.celsius == pytest.approx(35.0 + share * GLASS * watts, rel=1e-9)
    assert [(spot.stuck, spot.celsius) for spot in stuck] == (
        [(True, pytest.approx(35.0 + GLASS * watts, rel=1e-9))] if circuit else []
    )


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
