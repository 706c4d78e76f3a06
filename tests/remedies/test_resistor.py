"""A resistor's remedy: one value and no more power than is asked for, whatever stood there before."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.report import Finding

LANTERN = """
format = 1
[build]
name = "light vessel"
stage = "wiring"
air = "5..30 degC"
[usual]
resistor = "1/4 W 5 %"
[supply.main]
kind = "adaptor"
place = "base"
volts = "{volts}"
tolerance = "5 %"
rated = "1 A"
fuse = "400 mA"
[place.base]
access = "open"
[place.hull]
access = "cover"
material = "abs"
surface = "180 cm2"
[place.lantern]
access = "sealed"
material = "styrene"
surface = "15 cm2"
[circuit.lantern]
supply = "main"
behaviour = "flash"
rate = "{rate}"
on_share = "15 %"
output = "100 mA, 0.2 V drop"
[[lamp]]
name = "lantern"
circuit = "lantern"
kind = "led-3mm-white"
place = "lantern"
resistor = "{resistor} at hull"
lead = "280 mm of enamel-0.10 to hull, white/black"
[[run]]
line = "lantern"
ends = ["base", "hull"]
length = "220 mm"
wire = "ptfe-28"
[[run]]
line = "main-"
ends = ["base", "hull"]
length = "220 mm"
wire = "ptfe-28"
"""


def told(resistor: str, volts: str = "12 V", rate: str = "12 /min") -> dict[str, Finding]:
    build = postcheck.loads(LANTERN.format(resistor=resistor, volts=volts, rate=rate))
    return {finding.id: finding for finding in postcheck.check(build).files[0].findings}


@pytest.mark.parametrize(
    "resistor", ["47 ohm", "56 ohm", "68 ohm", "100 ohm", "150 ohm", "220 ohm", "330 ohm", "430 ohm"]
)
@pytest.mark.parametrize(("volts", "good"), [("12 V", "470 ohm 1/2 W"), ("14 V", "560 ohm 1/2 W")])
def test_a_flash_is_given_the_same_resistor_whatever_stood_there(resistor, volts, good):
    # R = (V - Vf - 0.2 V of the output) / 20 mA, next value of E12 up: 430 and 530 ohm with 3.2 V of the catalogue; with
    # everything against it, and when the flasher sticks, more than 80 % of 1/4 W
    assert told(resistor, volts)["lamp.strobe:lantern"].remedy == f"Use {good} instead of {resistor}."


@pytest.mark.parametrize("rate", ["12 /min", "6 /min"])
def test_a_flash_needs_the_power_of_a_steady_lamp(rate):
    # a flasher that sticks leaves (12 - 0.2 - 3.2 V)**2 / 390 ohm = 190 mW, and from 5 % more supply, 0.4 V less of the die and
    # 5 % less resistance 27, 18 and 10 mW more: likely 224 mW, 89 % of 1/4 W
    finding = told("390 ohm 1/4 W", rate=rate)["resistor.overloaded:lantern"]
    assert finding.figures["likely"].value == pytest.approx(0.224, rel=0.03)
    assert "resistor.overloaded:lantern" not in told("390 ohm 1/2 W", rate=rate)
