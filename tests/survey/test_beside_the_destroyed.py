"""Lamps beside one that is destroyed: its heat is none of the build, so they are as they would be in the room."""

from __future__ import annotations

from typing import Any

import pytest

import postcheck
from postcheck.survey import Survey
from postcheck.survey.summary import reported_figures

HEAD = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[lamp_kind.plain]
forward = "1.9/2.0/2.15 V"
at = "20 mA"
low_forward = "1.9 V"
low_at = "5 mA"
per_kelvin = "-3 mV"
rated = "20 mA"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
rated = "40 A"
[place.base]
access = "open"
[place.hull]
access = "sealed"
surface = "40 cm2"
[place.bow]
access = "sealed"
surface = "40 cm2"
[circuit.lights]
supply = "main"
"""
RUNS = "".join(
    f'[[run]]\nline = "{line}"\nends = ["base", "{place}"]\nohms = "0 ohm"\n'
    for line in ("lights", "main-")
    for place in ("hull", "bow")
)
LAMP = (
    '[[lamp]]\nname = "{name}"\ncircuit = "lights"\nkind = "plain"\nplace = "{place}"\nresistor = "{ohms}"\n'
)


def lamps(*said: tuple[str, str, str], head: str = HEAD) -> Any:
    text = "".join(LAMP.format(name=name, place=place, ohms=ohms) for name, place, ohms in said)
    return Survey(postcheck.loads(head + RUNS + text)).electrics.lamps


def test_a_lamp_in_one_place_with_a_destroyed_one_is_as_in_the_room() -> None:
    bare = ("bare", "hull", "20 ohm 10 W")  # some half an ampere, 25 times its rating
    sound = ("sound", "hull", "470 ohm 1 W")
    beside = lamps(bare, sound)
    room = lamps(
        sound,
        head=HEAD.replace(
            '[place.hull]\naccess = "sealed"\nsurface = "40 cm2"', '[place.hull]\naccess = "open"'
        ),
    )["sound"]
    assert beside["bare"].nominal > 0.3
    assert beside["sound"].nominal == pytest.approx(room.nominal, rel=1e-6)
    assert beside["sound"].highest == pytest.approx(room.highest, rel=1e-6)
    assert (beside["sound"].hottest, beside["bare"].hottest) == (35.0, 35.0)
    assert beside["bare"].rated == beside["bare"].rated_outside
    # in another place it warms nobody there
    apart = lamps(bare, ("sound", "bow", "470 ohm 1 W"))["sound"]
    own = lamps(("sound", "bow", "470 ohm 1 W"))["sound"]
    assert apart.nominal == pytest.approx(own.nominal, rel=1e-6)
    assert apart.hottest > 36.0
    # two sound ones warm each other
    both = lamps(sound, ("other", "hull", "470 ohm 1 W"))
    assert both["sound"].hottest > own.hottest + 1.0


def test_a_place_that_a_destroyed_lamp_warms_by_half_a_watt_has_no_figures() -> None:
    """3 V and some 0.2 A: ten times what it is rated for. The other place has its own."""
    text = HEAD.replace('"12 V"', '"3 V"') + RUNS
    for name, place, ohms in (("bare", "hull", "5 ohm 10 W"), ("sound", "bow", "100 ohm 1 W")):
        text += LAMP.format(name=name, place=place, ohms=ohms)
    made = Survey(postcheck.loads(text))
    assert made.beyond.lamps == ("bare",)
    assert 0.2 < made.places["hull"].heat < 0.9
    places = reported_figures(made)["places"]
    assert (places["hull"]["air"], places["hull"]["fate"]) == (None, "lamp destroyed")
    assert places["bow"]["air"] == pytest.approx(made.places["bow"].hottest)
