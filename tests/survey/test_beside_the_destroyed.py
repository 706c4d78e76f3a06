"""Lamps beside one that is destroyed: its heat is none of the build, so they are as they would be in the room."""

from __future__ import annotations

from typing import Any

import pytest

import postcheck
from postcheck.survey import Survey

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
