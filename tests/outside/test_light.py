"""What lamps lose of their light as a motor starts and on their way, against ngspice and SciPy; the motor is a sink of current there."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from scipy.optimize import brentq

import postcheck
from postcheck.limits import Limits
from postcheck.survey.network.electrics import electrics_of
from postcheck.wiring import resolve
from tests.outside.random_builds import Draft, diode_card
from tests.outside.spice import operating_point

BUILD = """
format = 1
[build]
name = "Tender with a winch"
air = "25..25 degC"
[usual]
lead = "thin"
run = "thin"
[lamp_kind.white]
colour = "white"
forward = "3.1 V"
at = "20 mA"
low_forward = "2.75 V"
low_at = "5 mA"
rated = "20 mA"
[lamp_kind.wheat]
kind = "filament"
volts = "6 V"
rated = "60 mA"
[wire.thin]
strand = "0.20 mm"
outside = "0.5 mm"
ohms_per_metre = "0.5 ohm/m"
[supply.main]
kind = "adaptor"
place = "base"
volts = "5 V"
tolerance = "0 %"
rated = "3 A"
[place]
base = {{ access = "open" }}
hull = {{ access = "open" }}
[circuit.lights]
supply = "main"
[circuit.winch]
supply = "main"
[[lamp]]
name = "mast lamp"
circuit = "lights"
kind = "{kind}"
place = "hull"
{resistor}
[[load]]
name = "winch"
kind = "motor"
circuit = "winch"
place = "hull"
typical = "100 mA"
most = "100 mA"
starting = "{starting} A"
[[run]]
line = "lights"
ends = ["base", "hull"]
ohms = "0.25 ohm"
[[run]]
line = "winch"
ends = ["base", "hull"]
ohms = "0.25 ohm"
[[run]]
line = "main-"
ends = ["base", "hull"]
ohms = "0.25 ohm"
"""


WARM = 0.25 * (1.0 + 0.00393 * 5.0)  # ohm of each run at 25 degC


def led(motor: float, folder: Path, wire: float = WARM) -> float:
    """The LED's current by ngspice with so much through the motor, A; its light goes with it."""
    draft = Draft(random.Random(1))
    diode_card(draft, "white")
    cards = [
        "* a motor starts", *draft.cards, "Vs plus 0 5", f"Rfeed plus hull {wire:.15g}", f"Rback minus 0 {wire:.15g}",
        f"Rw plus motor {wire:.15g}", f"Im motor minus {motor}", "Vprobe hull top 0", "R1 top die 120", "D1 die minus white", ".end",
    ]  # fmt: skip
    return operating_point("\n".join(cards), folder)["i(vprobe)"]


def bulb(motor: float, _: Path, wire: float = WARM) -> float:
    """The light of the bulb by SciPy, without a unit: V^3.4, with I = 60 mA (V / 6 V)^0.55."""

    def left(volts: float) -> float:
        amps = 0.06 * (volts / 6.0) ** 0.55
        return 5.0 - volts - wire * amps - wire * (amps + motor)

    return float(brentq(left, 0.1, 5.0, xtol=1e-14) ** 3.4)


@pytest.mark.parametrize("starting", [0.3, 1.0, 2.0])
def test_an_led_dips_as_in_ngspice(starting: float, tmp_path: Path) -> None:
    # it heats itself a little here, and not there
    _compare("white", 'resistor = "120 ohm 1/4 W"', led, starting, 5e-3, tmp_path)


@pytest.mark.parametrize("starting", [0.3, 1.0, 2.0])
def test_the_light_of_a_bulb_dips_as_by_its_volts(starting: float, tmp_path: Path) -> None:
    _compare("wheat", "", bulb, starting, 1e-4, tmp_path)


@pytest.mark.parametrize("motor", [0.1, 1.0, 2.0])
@pytest.mark.parametrize(
    ("kind", "resistor", "light"), [("white", 'resistor = "120 ohm 1/4 W"', led), ("wheat", "", bulb)]
)
def test_what_is_lost_on_the_way_costs_so_much_light(
    kind: str, resistor: str, light: Callable[..., float], motor: float, tmp_path: Path
) -> None:
    text = BUILD.format(kind=kind, resistor=resistor, starting=motor).replace('"100 mA"', f'"{motor} A"')
    (lamp,) = electrics_of(resolve(postcheck.loads(text, "lost")), Limits()).lamps.values()
    lost = 1.0 - light(motor, tmp_path) / light(0.0, tmp_path, 1e-9)
    assert lamp.light_lost == pytest.approx(lost, rel=1e-2)  # it heats itself a little here, and not there


def _compare(
    kind: str,
    resistor: str,
    light: Callable[[float, Path], float],
    starting: float,
    within: float,
    folder: Path,
) -> None:
    build = postcheck.loads(BUILD.format(kind=kind, resistor=resistor, starting=starting), "dip")
    (dip,) = electrics_of(resolve(build), Limits()).dips
    assert dip.share == pytest.approx(1.0 - light(starting, folder) / light(0.1, folder), rel=within)
    assert (dip.load, dip.starting, dip.given) == ("winch", starting, True)
