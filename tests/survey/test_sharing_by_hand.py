"""Loops, supplies side by side, and what comes and goes: Kirchhoff's and Ohm's laws by hand.

The room's air is 5 to 35 degC: wires are at 20 degC as usual, and 15 x 0.393 % more or less at its ends (IEC 60028).
"""

from __future__ import annotations

import math
from itertools import product
from typing import Any

import numpy as np
import pytest
from scipy.optimize import root

import postcheck
from postcheck.limits import Limits
from postcheck.survey import Survey
from postcheck.survey.network.averages import (
    average_load,
    between_flashes,
    comes_and_goes,
    duty_cycle,
    fade_depth,
    flashes,
    fraction_in_resistor,
)
from tests.survey.plain_led import alone, die

WARM, COLD = 1.0 + 15.0 * 0.00393, 1.0 - 15.0 * 0.00393

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
per_kelvin = "0 mV"
rated = "20 mA"
[supply.main]
place = "base"
{main}
[place.base]
access = "open"
[place.hull]
access = "cover"
[circuit.lights]
supply = "main"
{circuit}
"""
ADAPTOR = 'kind = "adaptor"\nvolts = "12 V"\ntolerance = "5 %"\nresistance = "0.5 ohm"\nrated = "1 A"'
RUN = '[[run]]\nname = "{name}"\nline = "{line}"\nends = ["base", "hull"]\nohms = "{ohms} ohm"\n'
LAMP = '[[lamp]]\nname = "one"\ncircuit = "lights"\nkind = "plain"\nplace = "hull"\nseries = 2\nresistor = "330 ohm 1/4 W 5 %"\n'
LOAD = '[[load]]\nname = "{name}"\nkind = "sound"\ncircuit = "{circuit}"\nplace = "{place}"\ntypical = "{amps}"\n'


def survey(text: str, main: str = ADAPTOR, circuit: str = "") -> Survey:
    return Survey(postcheck.loads(HEAD.format(main=main, circuit=circuit) + text))


def near(value: Any) -> Any:
    return pytest.approx(value, rel=1e-8, abs=1e-9)


def test_a_lamp_that_two_feeds_come_to() -> None:
    """2 and 3 ohm side by side are 1.2; a loop is no tree, and at the ends of its span each of them goes the lamp's way."""
    feeds = RUN.format(name="short", line="lights", ohms=2) + RUN.format(name="long", line="lights", ohms=3)
    made = survey(feeds + RUN.format(name="back", line="main-", ohms=4) + LAMP)
    electrics = made.electrics
    lamp = electrics.lamps["one"]
    assert not electrics.proven
    usual = alone(12.0, 0.5 + 5.2 + 330.0)
    assert lamp.nominal == near(usual)
    assert lamp.highest == near(alone(12.6, 0.5 + 5.2 * COLD + 330.0 * 0.95, shift=-0.1))
    assert lamp.lowest == near(alone(11.4, 0.5 + 5.2 * WARM + 330.0 * 1.05, shift=0.15))
    currents = {name: run.current for name, run in electrics.runs.items()}
    assert currents == {"short": near(0.6 * usual), "long": near(0.4 * usual), "back": near(usual)}
    heats = {(place, part): watts for place, part, watts in electrics.heats}
    assert heats["hull", "the wire of short"] == near((0.6 * usual) ** 2)
    assert heats["hull", "the wire of long"] == near((0.4 * usual) ** 2 * 1.5)


def test_a_loop_that_flashes_warms_by_the_share_of_what_it_feeds() -> None:
    feeds = RUN.format(name="short", line="lights", ohms=2) + RUN.format(name="long", line="lights", ohms=3)
    text = feeds + RUN.format(name="back", line="main-", ohms=4)
    made = survey(
        text + LOAD.format(name="horn", circuit="lights", place="hull", amps="100 mA"),
        circuit='behaviour = "flash"\nrate = "60 /min"\non_share = "20 %"',
    )
    heats = {(place, part): watts for place, part, watts in made.electrics.heats}
    assert heats["hull", "the wire of short"] == near(0.2 * 0.06**2)
    assert heats["hull", "the wire of long"] == near(0.2 * 0.04**2 * 1.5)
    assert heats["hull", "the wire of back"] == near(0.2 * 0.1**2 * 2.0)


def test_what_a_board_takes_itself_flows_all_the_time_beside_a_flasher() -> None:
    """10 mA for good and 100 mA for a fifth of the time: 0.2 x 0.11^2 + 0.8 x 0.01^2 A2 through the return of both."""
    text = (
        '[board.driver]\nplace = "hull"\nsupply = "main"\nidle = "10 mA"\n'
        + RUN.format(name="there", line="main+", ohms=2)
        + RUN.format(name="feed", line="lights", ohms=3)
        + RUN.format(name="back", line="main-", ohms=4)
    )
    made = survey(
        text + LOAD.format(name="horn", circuit="lights", place="hull", amps="100 mA"),
        circuit='behaviour = "flash"\nrate = "60 /min"\non_share = "20 %"',
    )
    heats = {(place, part): watts for place, part, watts in made.electrics.heats}
    assert heats["hull", "the wire of there"] == near(0.01**2 * 1.0)
    assert heats["hull", "the wire of feed"] == near(0.2 * 0.1**2 * 1.5)
    assert heats["hull", "the wire of back"] == near((0.2 * 0.11**2 + 0.8 * 0.01**2) * 2.0)


PAIR = '[supply.aux]\nplace = "base"\nkind = "battery"\nvolts = "{volts}"\nresistance = "1 ohm"\n[[join]]\nplace = "base"\nlines = ["main+", "aux+"]\n[[join]]\nplace = "base"\nlines = ["main-", "aux-"]\n'
NINE = 'kind = "battery"\nvolts = "9 V"\nresistance = "1 ohm"'


@pytest.mark.parametrize(
    ("volts", "main", "aux"),
    [
        # 200 mA in all: (9 - V) + (8 - V) = 0.2 at 8.4 V; with the horn off 1 V over 2 ohm goes into the lower
        ("8 V", (0.6, 0.0), (0.0, 0.5)),
        ("9 V", (0.1, 0.0), (0.1, 0.0)),
        ("8.9 V", (0.15, 0.0), (0.05, 0.0)),
        ("10 V", (0.0, 0.5), (0.6, 0.0)),
    ],
)
def test_two_batteries_side_by_side_and_what_one_pushes_into_the_other(
    volts: str, main: tuple[float, float], aux: tuple[float, float]
) -> None:
    text = PAIR.format(volts=volts) + LOAD.format(name="horn", circuit="lights", place="base", amps="200 mA")
    electrics = survey(text, NINE).electrics
    assert electrics.joined == (("main", "aux"),)
    assert electrics.shorted == ()
    for name, (nominal, reverse) in (("main", main), ("aux", aux)):
        found = electrics.supplies[name]
        assert (found.nominal, found.highest, found.reverse) == near((nominal, nominal, reverse))


def test_what_flows_round_a_loop_of_supplies_does_so_all_the_time() -> None:
    """9 V at the base and 8 V in the hull, with 1 ohm each and 2 of wire: a quarter of an ampere. What flashes is on another supply."""
    text = (
        PAIR.format(volts="8 V").replace('place = "base"', 'place = "hull"')
        + RUN.format(name="there", line="main+", ohms=0.5)
        + RUN.format(name="back", line="main-", ohms=1.5)
        + '[supply.third]\nplace = "base"\nkind = "adaptor"\nvolts = "5 V"\nrated = "1 A"\n'
        + '[circuit.beacon]\nsupply = "third"\nbehaviour = "flash"\nrate = "60 /min"\non_share = "20 %"\n'
        + LOAD.format(name="horn", circuit="beacon", place="base", amps="10 mA")
    )
    made = survey(text, NINE)
    amps = 0.25
    assert made.electrics.runs["there"].current == near(amps)
    heats = {(place, part): watts for place, part, watts in made.electrics.heats}
    assert heats["hull", "the wire of there"] == near(amps**2 * 0.25)
    assert heats["hull", "the wire of back"] == near(amps**2 * 0.75)


@pytest.mark.parametrize("share", [0.2, 0.5])
@pytest.mark.parametrize(
    # 10 mA at the base are taken where 1 ohm lies on one side and 3 on the other, in the hull 2.5 and 1.5
    ("place", "lit"),
    [("base", 0.25 - 0.01 / 4), ("hull", 0.25 - 0.01 * 2.5 / 4)],
)
def test_what_flows_round_a_loop_of_supplies_is_not_thinned_by_a_flasher_on_one_of_them(
    share: float, place: str, lit: float
) -> None:
    """While it is lit it turns aside a little of the quarter of an ampere, and while it is dark all of that flows."""
    text = (
        PAIR.format(volts="8 V").replace('place = "base"', 'place = "hull"')
        + RUN.format(name="there", line="main+", ohms=0.5)
        + RUN.format(name="back", line="main-", ohms=1.5)
        + f'[circuit.beacon]\nsupply = "main"\nbehaviour = "flash"\nrate = "60 /min"\non_share = "{share * 100:g} %"\n'
        + LOAD.format(name="horn", circuit="beacon", place=place, amps="10 mA")
        + (RUN.format(name="feed", line="beacon", ohms=0.5) if place == "hull" else "")
    )
    made = survey(text, NINE)
    heats = {(place, part): watts for place, part, watts in made.electrics.heats}
    lit = made.electrics.runs["there"].current
    assert heats["hull", "the wire of there"] == near((share * lit**2 + (1.0 - share) * 0.25**2) * 0.25)


def test_the_poles_of_a_supply_that_wire_joins() -> None:
    # by runs, and the lamp beside them
    text = (
        '[[join]]\nplace = "hull"\nlines = ["main+", "main-"]\n'
        + RUN.format(name="there", line="main+", ohms=1)
        + RUN.format(name="back", line="main-", ohms=2)
        + LOAD.format(name="horn", circuit="lights", place="base", amps="10 mA")
    )
    electrics = survey(text).electrics
    assert (electrics.shorted, electrics.joined) == (("main",), ())
    # 12 V over 3.5 ohm, and what is left of the volts for the horn
    volts = (12.0 - 0.5 * 0.01) / (1.0 + 0.5 / 3.0)
    assert electrics.loads["horn"].volts == near(volts)
    assert electrics.supplies["main"].nominal == near(volts / 3.0 + 0.01)


# flashes: up to the limit flash.rate of 3 a second a fade is harmless, and below a tenth of its light (fade.depth) it is none
@pytest.mark.parametrize(
    ("circuit", "depth", "duty", "resistor", "comes", "flash"),
    [
        ("", 1.0, 1.0, 1.0, False, False),
        ('behaviour = "flash"\nrate = "60 /min"', 1.0, 0.5, 0.5, True, True),
        ('behaviour = "flash"\nrate = "60 /min"\non_share = "10 %"', 1.0, 0.1, 0.1, True, True),
        # half of two seconds is one; half of 2.5 s is more, and counts whole
        ('behaviour = "flash"\nrate = "30 /min"', 1.0, 0.5, 0.5, True, True),
        ('behaviour = "flash"\nrate = "24 /min"', 1.0, 0.5, 1.0, True, True),
        ('behaviour = "flash"', 1.0, 0.5, 1.0, True, True),
        ('behaviour = "dim"\nfrequency = "1 kHz"\non_share = "30 %"', 1.0, 0.3, 0.3, False, False),
        ('behaviour = "dim"\nfrequency = "1 kHz"', 1.0, 1.0, 1.0, False, False),
        ('behaviour = "fade"\nrate = "180 /min"', 1.0, 0.5, 0.5, True, False),
        ('behaviour = "fade"\nrate = "186 /min"', 1.0, 0.5, 0.5, True, True),
        ('behaviour = "fade"', 1.0, 0.5, 1.0, True, False),
        ('behaviour = "fade"\nrate = "6 /min"\nleast_share = "40 %"', 0.6, 0.7, 1.0, True, False),
        ('behaviour = "fade"\nrate = "240 /min"\nleast_share = "75 %"', 0.25, 0.875, 0.875, True, True),
        ('behaviour = "fade"\nrate = "240 /min"\nleast_share = "91 %"', 0.09, 0.955, 0.955, False, False),
    ],
)
def test_what_comes_and_goes_and_for_what_share_of_the_time(
    circuit: str, depth: float, duty: float, resistor: float, comes: bool, flash: bool
) -> None:
    made = survey("", circuit=circuit).build
    said, limits = made.circuit["lights"], Limits()
    assert fade_depth(said) == near(depth)
    assert duty_cycle(made, "lights") == near(duty)
    assert fraction_in_resistor(made, "lights") == near(resistor)
    assert (comes_and_goes(said, limits), flashes(said, limits)) == (comes, flash)


FLASHERS = (
    '[circuit.first]\nsupply = "main"\nbehaviour = "flash"\nrate = "30 /min"\non_share = "25 %"\n'
    '[circuit.second]\nsupply = "main"\nbehaviour = "flash"\nrate = "15 /min"\non_share = "50 %"\n'
    '[circuit.third]\nsupply = "main"\nbehaviour = "flash"\non_share = "50 %"\n'
)


@pytest.mark.parametrize(
    ("enough", "gap"),
    [
        # an eighth of an ampere dark: kept on at all times
        (0.125, 0.0),
        # 1.5 s until the first comes on, 2 s until the second does; the third says nothing of how often
        (0.375, 1.5),
        (0.376, 2.0),
        (0.625, 2.0),
        (0.626, None),
        (1.0, None),
    ],
)
def test_how_long_a_supply_sees_less_than_it_asks_for(enough: float, gap: float | None) -> None:
    """1.875 A in all: 1/8 steady, 1/4, 1/2 and 1 from flashers, in figures that a computer has exactly."""
    wiring = survey(FLASHERS).wiring
    circuits = {"lights": 0.125, "first": 0.25, "second": 0.5, "third": 1.0}
    assert between_flashes(wiring, "main", 1.875, circuits, enough) == (0.125, gap)
    assert average_load(wiring, "main", 1.875, circuits) == 0.125 + 0.0625 + 0.25 + 0.5


LADDER = {
    # conductor: its ends and ohms; a ring of feeds, a chain of returns
    "a": ("lights", "base", "hull", 20.0),
    "b": ("lights", "base", "bow", 30.0),
    "c": ("lights", "hull", "bow", 10.0),
    "d": ("main-", "base", "hull", 25.0),
    "e": ("main-", "hull", "bow", 15.0),
}


def _ladder(volts: float, ohms: dict[str, float], one: tuple[float, float], two: tuple[float, float]) -> Any:
    """A of a lamp at the hull and one at the bow: two dice each behind so many ohm, moved by so many V."""
    a, b, c = (1.0 / ohms[name] for name in "abc")
    supply = 1.0 / 0.5

    # potentials of base, hull and bow on the feeds, by what is taken out of each
    matrix = np.array([[supply + a + b, -a, -b], [-a, a + c, -c], [-b, -c, b + c]])
    inverse = np.linalg.inv(matrix)

    def off(amps: Any) -> list[float]:
        _, hull, bow = inverse @ np.array([volts * supply, -amps[0], -amps[1]])
        back = ohms["d"] * (amps[0] + amps[1])
        return [
            hull - back - one[0] * amps[0] - 2 * die(amps[0], one[1]),
            bow - back - ohms["e"] * amps[1] - two[0] * amps[1] - 2 * die(amps[1], two[1]),
        ]

    found = root(off, [0.02, 0.02], tol=1e-13)
    assert max(map(abs, found.fun)) < 1e-10
    return found.x


def test_in_a_ring_the_span_is_that_of_all_corners_together() -> None:
    """Every conductor cold or warm, the other lamp at its least or most: the worst of all 128, and the lamp itself at its own end."""
    text = "".join(
        f'[[run]]\nname = "{name}"\nline = "{line}"\nends = ["{start}", "{end}"]\nohms = "{ohms} ohm"\n'
        for name, (line, start, end, ohms) in LADDER.items()
    )
    second = LAMP.replace('"one"', '"two"').replace("330", "150").replace('"hull"', '"bow"')
    made = survey('[place.bow]\naccess = "open"\n' + text + LAMP + second)
    assert not made.electrics.proven
    lamps = made.electrics.lamps
    plain = {name: row[3] for name, row in LADDER.items()}
    usual = _ladder(12.0, plain, (330.0, 0.0), (150.0, 0.0))
    assert [lamps["one"].nominal, lamps["two"].nominal] == near(list(usual))
    for sign, volts, own in ((1, 12.6, (0.95, -0.1)), (-1, 11.4, (1.05, 0.15))):
        found: list[list[float]] = [[], []]
        for heats in product((COLD, WARM), repeat=5):
            ohms = {name: plain[name] * heat for name, heat in zip(plain, heats, strict=True)}
            for r, shift in product((0.95, 1.05), (-0.1, 0.15)):
                one = _ladder(volts, ohms, (330.0 * own[0], own[1]), (150.0 * r, shift))
                two = _ladder(volts, ohms, (330.0 * r, shift), (150.0 * own[0], own[1]))
                found[0].append(float(one[0]))
                found[1].append(float(two[1]))
        for lamp, amps in zip((lamps["one"], lamps["two"]), found, strict=True):
            if sign > 0:
                assert lamp.highest == near(max(amps))
            else:
                assert lamp.lowest == near(min(amps))


@pytest.mark.parametrize("duty", [10, 40])
def test_the_wires_to_a_converter_warm_by_the_share_of_what_it_feeds(duty: int) -> None:
    """0.1 A of 5 V at 80 %, through 5.5 ohm: I (12 - 5.5 I) = 0.625 W, for a share of the time."""
    text = (
        RUN.format(name="there", line="main+", ohms=2)
        + RUN.format(name="back", line="main-", ohms=3)
        + '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "hull"\nvolts = "5 V"\nrated = "1 A"\nefficiency = "80 %"\n'
        + f'[circuit.beacon]\nsupply = "five"\nbehaviour = "flash"\nrate = "60 /min"\non_share = "{duty} %"\n'
        + LOAD.format(name="horn", circuit="beacon", place="hull", amps="100 mA")
    )
    electrics = survey(text).electrics
    amps = (12.0 - math.sqrt(144.0 - 4.0 * 5.5 * 0.625)) / 11.0
    share = duty / 100.0
    assert electrics.drawn["five"][0] == near(amps)
    assert electrics.supplies["five"].average == near(0.1 * share)
    heats = {(place, part): watts for place, part, watts in electrics.heats}
    for place in ("base", "hull"):
        # by what it takes of 12 V over time, for the other share nothing
        assert heats[place, "the wire of there"] == near(amps**2 * share)
        assert heats[place, "the wire of back"] == near(amps**2 * 1.5 * share)
    assert heats["hull", "horn"] == near(0.5 * share)
    assert heats["hull", "five"] == near(0.125 * share)


def test_a_fade_that_is_fast_and_deep_steps_by_its_depth() -> None:
    """The horn takes 100 mA at the full; the lamp on the same wires loses 2.5 ohm of them, and of that what the fade goes down."""
    text = (
        RUN.format(name="feed", line="lights", ohms=2)
        + RUN.format(name="other", line="wave", ohms=3)
        + RUN.format(name="back", line="main-", ohms=2)
        + LAMP
        + '[circuit.wave]\nsupply = "main"\nbehaviour = "fade"\nrate = "300 /min"\nleast_share = "40 %"\n'
        + LOAD.format(name="horn", circuit="wave", place="hull", amps="100 mA")
    )
    made = survey(text)
    dark, lit = alone(12.0, 4.5 + 330.0), alone(12.0 - 2.5 * 0.1, 4.5 + 330.0)
    (step,) = made.electrics.steps
    assert (step.lamp, step.flasher, step.rate, step.by) == ("one", "wave", 5.0, "circuit")
    assert step.share == near(0.6 * (lit / dark - 1.0))


def test_an_output_with_a_drop_and_a_return_of_its_own() -> None:
    text = (
        RUN.format(name="feed", line="lights", ohms=2)
        + RUN.format(name="back", line="lights-return", ohms=3)
        + LAMP
    )
    made = survey(text, circuit='own_return = true\noutput = { drop = "0.4 V", limit = "100 mA" }')
    lamp = made.electrics.lamps["one"]
    usual = alone(12.0 - 0.4, 5.5 + 330.0)
    assert lamp.nominal == near(usual)
    # lost between the output and the lamp, not in it
    assert lamp.loss == near(5.0 * usual)
    assert lamp.joint_volts == near(12.0 - 0.4 - 5.5 * usual)
    assert made.electrics.circuits["lights"].drop == near(0.4)
    negative = survey(
        text.replace("lights-return", "lights-return"),
        circuit='switched = "negative"\nown_return = true\noutput = { drop = "0.4 V", limit = "100 mA" }',
    )
    assert negative.electrics.lamps["one"].nominal == near(usual)
    assert negative.electrics.lamps["one"].loss == near(5.0 * usual)
