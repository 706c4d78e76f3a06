"""What is looked up of a build: each value of resistors, dice, leads, strips and loads by hand from what the file says."""

from __future__ import annotations

from math import inf
from typing import Any

import pytest

import postcheck
from postcheck.survey import Survey
from postcheck.wiring.looked_up import whole_segments
from postcheck.wiring.parts import LampPart, Parts
from postcheck.wiring.through import END, lies, through_passage

HEAD = """
format = 1
[build]
name = "Tender"
{usual}
[wire.fine]
strand = "0.1 mm"
outside = "0.2 mm"
ohms_per_metre = "2 ohm/m"
[wire.stout]
strand = "0.3 mm"
outside = "0.8 mm"
ohms_per_metre = "0.5 ohm/m"
[lamp_kind.plain]
forward = "1.9/2.0/2.15 V"
at = "20 mA"
{kind}
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
[place.base]
access = "open"
[place.hull]
access = "open"
[place.bow]
access = "open"
[circuit.lights]
supply = "main"
"""
RATED = 'rated = "20 mA"'
LAMP = '[[lamp]]\nname = "bow"\ncircuit = "lights"\nkind = "plain"\nplace = "bow"\n{more}\n'


def parts(text: str, usual: str = "", kind: str = RATED) -> Parts:
    return Survey(postcheck.loads(HEAD.format(usual=usual, kind=kind) + text)).parts


def lamp(more: str, usual: str = "", kind: str = RATED) -> LampPart:
    (found,) = parts(LAMP.format(more=more), usual, kind).every
    assert isinstance(found, LampPart)
    return found


def near(value: Any) -> Any:
    return pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize(
    ("said", "ohms", "tolerance", "power", "more"),
    [
        ("470 ohm", 470.0, 0.05, None, 0.0),
        ("470 ohm 1/4 W 2 %", 470.0, 0.02, 0.25, 0.0),
        # in series each counts by its ohms: 5 % of 470 and 1 % of 330
        ("470 ohm 1/4 W + 330 ohm 1/8 W 1 %", 800.0, 26.8 / 800.0, 800.0 * 0.125 / 330.0, 0.0),
        ("470 ohm 1/4 W + 330 ohm 1/4 W", 800.0, 0.05, 800.0 * 0.25 / 470.0, 0.0),
        ("470 ohm 1/4 W + 330 ohm", 800.0, 0.05, None, 0.0),
        # of a trimmer what is turned in, of which a half-way track stands what the whole does; set it moves no more than another
        ("220 ohm 1/4 W + trimmer 1k 1/2 W set to 300", 520.0, 0.05, 520.0 * 0.0005, 0.0),
        # where nobody says the setting: none of it, and a fifth more than all of it at most, or by what is said
        ("220 ohm 1/4 W + trimmer 1k 1/2 W", 220.0, 0.05, 220.0 * 0.0005, 1200.0),
        ("220 ohm 1/4 W + trimmer 1k 1/2 W 10 %", 220.0, 0.05, 220.0 * 0.0005, 1100.0),
        ("220 ohm 1/8 W + trimmer 200 ohm 1/2 W 10 %", 220.0, 0.05, 0.125, 220.0),
    ],
)
def test_what_a_resistor_comes_to(
    said: str, ohms: float, tolerance: float, power: float | None, more: float
) -> None:
    found = lamp(f'resistor = "{said}"').resistor
    assert found is not None
    assert (found.ohms, found.tolerance, found.more) == near((ohms, tolerance, more))
    assert found.power == (None if power is None else near(power))
    assert (found.place, found.side) == ("bow", "supply")
    assert len(found.each) == said.count("+") + 1
    trimmer = found.trimmer
    assert (trimmer is not None) is ("trimmer" in said)
    if trimmer is not None:
        assert trimmer.rated_ohms == trimmer.track
    assert found.each[0].rated_ohms == found.each[0].ohms


def test_the_usual_resistor_and_where_one_sits() -> None:
    usual = '[usual]\nresistor = "1/8 W 1 %"'
    found = lamp('resistor = "470 ohm"', usual).resistor
    assert found is not None
    assert (found.power, found.tolerance) == (0.125, 0.01)
    # a chip of 0805 stands an eighth of a watt (makers' sheets); where nothing is said of the power, none is taken
    for said, power, tolerance in (("0805", 0.125, 0.05), ("0805 2 %", 0.125, 0.02), ("2 %", None, 0.02)):
        chip = lamp('resistor = "470 ohm"', f'[usual]\nresistor = "{said}"').resistor
        assert chip is not None
        assert (chip.power, chip.tolerance) == (power, tolerance)
    own = lamp('resistor = "470 ohm 1/4 W 2 % at hull"\nlead = "120 mm of fine to hull"', usual).resistor
    assert own is not None
    assert (own.power, own.tolerance, own.place) == (0.25, 0.02, "hull")
    back = lamp(
        'resistor = { ohms = "470 ohm", place = "hull", side = "back" }\nlead = "120 mm of fine to hull"'
    ).resistor
    assert back is not None
    assert back.side == "return"
    assert lamp("").resistor is None


def test_the_legs_of_a_lead() -> None:
    found = lamp('lead = "120 mm of fine to hull, red/black"')
    for leg, colour in ((found.supply_leg, "red"), (found.return_leg, "black")):
        assert (leg.length, leg.to, leg.colour) == (near(0.12), "hull", colour)
        assert leg.wire is not None
        assert leg.ohms(20.0) == near(0.24)
        assert leg.ohms(70.0) == near(0.24 * (1.0 + 50.0 * 0.00393))
    each = lamp(
        'lead = { length = "120 mm", wire = "fine", to = "hull", feed = { length = "90 mm", wire = "stout" }, back = { to = "base", colour = "blue" } }'
    )
    assert (each.supply_leg.length, each.supply_leg.to, each.supply_leg.ohms(20.0)) == near_row(
        0.09, "hull", 0.045
    )
    assert (each.return_leg.length, each.return_leg.to, each.return_leg.ohms(20.0)) == near_row(
        0.12, "base", 0.24
    )
    assert (each.supply_leg.colour, each.return_leg.colour) == (None, "blue")
    assert each.warms == ("bow", "hull", "base")
    none = lamp("")
    assert (none.supply_leg.wire, none.supply_leg.length, none.supply_leg.ohms(20.0), none.supply_leg.to) == (
        None,
        0.0,
        0.0,
        "bow",
    )
    assert none.lead is None


def near_row(length: float, to: str, ohms: float) -> tuple[Any, str, Any]:
    return near(length), to, near(ohms)


def test_the_length_of_a_way_where_a_lead_or_run_says_none() -> None:
    ways = '[[way]]\nfrom = "bow"\nto = "hull"\nlength = "150 mm"\n[[way]]\nfrom = "hull"\nto = "bow"\nlength = "110 mm"\n'
    run = '[[run]]\nname = "feed"\nline = "lights"\nends = ["hull", "bow"]\nwire = "stout"\n'
    found = parts(ways + run + LAMP.format(more='lead = { wire = "fine", to = "hull" }'))
    # of two the shorter
    assert found.every[0].supply_leg.length == near(0.11)
    (feed,) = found.runs
    assert (feed.length, feed.ohms(20.0)) == near((0.11, 0.055))


@pytest.mark.parametrize(
    ("kind", "at", "low", "rated", "inside", "spread", "volts"),
    [
        # without a second point: a tenth of a volt less at a quarter of the current
        (RATED, 0.02, (1.9, 0.005), 0.02, 0.0, 0.0, None),
        (RATED + '\nlow_forward = "1.85 V"', 0.02, (1.85, 0.005), 0.02, 0.0, 0.0, None),
        (
            'low_forward = "1.85 V"\nlow_at = "2 mA"\nrated = "30 mA"',
            0.02,
            (1.85, 0.002),
            0.03,
            0.0,
            0.0,
            None,
        ),
        # 12 V less 2.0 V at 20 mA are 500 ohm; a quarter more volts drive 3 V / 500 ohm more
        ('volts = "12 V"', 0.02, (1.9, 0.005), 0.026, 500.0, 0.1, 12.0),
        ('volts = "12 V"\nrated = "25 mA"', 0.02, (1.9, 0.005), 0.025, 500.0, 0.1, 12.0),
    ],
)
def test_a_die_that_the_file_describes(
    kind: str,
    at: float,
    low: tuple[float, float],
    rated: float,
    inside: float,
    spread: float,
    volts: float | None,
) -> None:
    (die,) = lamp("", kind=kind).dice
    assert die.forward == (1.9, 2.0, 2.15)
    assert (die.at_current, die.low_forward, die.low_current) == near((at, *low))
    assert (die.rated, die.inside, die.inside_spread) == near((rated, inside, spread))
    assert (die.volts, die.made_for, die.takes) == (volts, volts, volts or 2.0)
    assert die.usual == (at if volts else None)
    assert (die.volts_per_kelvin, die.kelvin_per_watt, die.derate_per_kelvin) == (-0.002, 500.0, 0.0)
    assert (die.kind, die.filament_volts, die.pulse, die.reverse, die.glass) == (
        "led",
        None,
        None,
        None,
        None,
    )


def test_a_white_die_falls_further_and_a_lamp_of_several_as_often() -> None:
    for volts, low in (
        ("2.9/3.2/3.6", 2.85),
        ("5.8/6.4/7.2", 5.7),
        ("3.8/4.0/4.4", 3.65),
        ("3.9/4.1/4.4", 3.9),
    ):
        text = LAMP.format(more='resistor = "470 ohm"')
        build = HEAD.format(usual="", kind=RATED).replace("1.9/2.0/2.15", volts) + text
        (die,) = Survey(postcheck.loads(build)).parts.lamps[0].dice
        assert die.low_forward == near(low), volts


def test_a_filament_that_the_file_describes() -> None:
    text = '[lamp_kind.bulb]\nkind = "filament"\nvolts = "6 V"\nrated = "80 mA"\n' + LAMP.format(
        more=""
    ).replace("plain", "bulb")
    (die,) = parts(text).lamps[0].dice
    assert (die.kind, die.filament_volts, die.rated, die.cold_ratio, die.made_for, die.takes) == (
        "filament",
        6.0,
        0.08,
        10.0,
        6.0,
        6.0,
    )
    assert (die.glass, die.rated_spread, die.volts) == (None, 0.0, None)
    assert die.forward == (6.0, 6.0, 6.0)
    spread = parts(text).lamps[0].spread(0.3, 0.2, 0.1)
    assert [one.rated_spread for one in spread.dice] == [0.1]
    led = lamp('resistor = "470 ohm"')
    assert led.spread(0.3, 0.2, 0.1) is led


# a cut a millimetre beside the mark is still within the copper of its pads, of short segments a quarter
@pytest.mark.parametrize(
    ("length", "segment", "count"),
    [
        (0.5, 0.05, 10),
        (0.5491, 0.05, 11),
        (0.5489, 0.05, 10),
        (0.0489, 0.05, 0),
        (0.0491, 0.05, 1),
        (0.0016, 0.002, 1),
        (0.0014, 0.002, 0),
        (0.3, 0.1, 3),
    ],
)
def test_how_many_whole_segments_a_length_has(length: float, segment: float, count: int) -> None:
    assert whole_segments(length, segment) == count


STRIP = (
    '[strip_kind.own]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 3\nohms = "150 ohm"\nkind = "plain"\nstrings = 2\nsource = "measured"\n'
    '[[strip]]\nname = "hall"\ncircuit = "lights"\nkind = "own"\nplace = "hull"\n{more}\n'
)


@pytest.mark.parametrize(
    ("more", "length", "segments"),
    [
        ("segments = 4", 0.2, 4),
        ('length = "230 mm"', 0.23, 4),
        ('length = "249.5 mm"', 0.2495, 5),
        ('length = "30 mm"', 0.03, 1),
    ],
)
def test_the_segments_of_a_strip(more: str, length: float, segments: int) -> None:
    (strip,) = parts(STRIP.format(more=more)).strips
    assert (strip.length, strip.segments, strip.segment, strip.volts) == near((length, segments, 0.05, 12.0))
    assert [(len(dice), ohms) for dice, ohms in strip.chains] == [(3, 150.0)] * 2
    assert (len(strip.strings), len(strip.dice)) == (2, 3)
    assert (strip.trace, strip.through, strip.far_end, strip.source) == (None, None, None, "measured")


def test_what_electronics_take_and_how_it_may_spread() -> None:
    text = '[[load]]\nname = "screw"\nkind = "{kind}"\ncircuit = "lights"\nplace = "hull"\ntypical = "100 mA"\n{more}\n'

    def load(more: str, kind: str = "motor") -> Any:
        (found,) = parts(text.format(kind=kind, more=more)).loads
        return found

    plain = load("")
    assert (plain.least, plain.typical, plain.most, plain.beyond) == (0.1, 0.1, 0.1, 0.0)
    assert (plain.least_given, plain.most_given, plain.starting) == (False, False, None)
    assert (plain.surge(), plain.surge(5.0)) == near((0.0, 0.4))
    spread = plain.spread(0.3, 0.2, 0.1)
    # a motor may run free, whatever it takes at least in use
    assert (spread.least, spread.most) == near((0.02, 0.13))
    full = load('least = "80 mA"\nmost = "130 mA"\nstarting = "400 mA"')
    assert (full.least, full.most, full.beyond) == near((0.08, 0.13, 0.03))
    assert full.surge(5.0) == near(0.27)
    freed = full.spread(0.3, 0.2, 0.1)
    assert (freed.least, freed.typical, freed.most, freed.starting) == near((0.02, 0.1, 0.13, 0.4))
    said = load('least = "80 mA"\nmost = "130 mA"', "sound")
    assert said.spread(0.3, 0.2, 0.1) == said
    board = load("", "sound").spread(0.3, 0.2, 0.1)
    assert (board.least, board.most) == near((0.07, 0.13))
    assert load('most = "130 mA"\nstarting = "90 mA"').surge(5.0) == 0.0
    sound = load("", "sound")
    assert (sound.surge(5.0), sound.motor, sound.reverse) == (0.0, False, None)
    # a motor only turns the other way; the diode across it conducts at 0.8 V
    assert plain.reverse == inf
    assert load('diode = "1N4001"').reverse == 0.8


def test_a_run_by_its_wire_or_by_its_ohms() -> None:
    run = '[[run]]\nname = "feed"\nline = "lights"\nends = ["base", "hull"]\n{more}\n'

    def of(more: str) -> Any:
        (found,) = parts(run.format(more=more)).runs
        return found

    wired, measured = of('wire = "stout"\nlength = "400 mm"'), of('ohms = "0.3 ohm"')
    assert (wired.ohms(20.0), wired.ohms(70.0)) == near((0.2, 0.2 * (1.0 + 50.0 * 0.00393)))
    assert (measured.ohms(20.0), measured.ohms(-10.0)) == near((0.3, 0.3 * (1.0 - 30.0 * 0.00393)))
    assert of('ohms = "0 ohm"').ohms(20.0) == 1e-6
    assert (wired.live, wired.body, wired.conductors, wired.through) == (True, False, 1, ())


# -- where a conductor lies


@pytest.mark.parametrize(
    ("ends", "length", "through", "shares"),
    [
        (("base", "hull"), 0.4, (), {"base": 0.5, "hull": 0.5}),
        # 160 of 400 mm lie in the post
        (("base", "hull"), 0.4, ("post",), {"base": 0.3, "hull": 0.3}),
        (("base", "hull"), 0.4, ("post", "arm"), {"base": 0.25, "hull": 0.25}),
        # all of it
        (("base", "hull"), 0.1, ("post",), {"base": 0.0, "hull": 0.0}),
        # of what has no length, a plug, half lies at either end
        (("base", "hull"), 0.0, (), {"base": 0.5, "hull": 0.5}),
        (("hull", "hull"), 0.4, (), {"hull": 1.0}),
        (("hull",), 0.0, (), {"hull": 1.0}),
    ],
)
def test_how_much_of_a_conductor_lies_in_each_place(
    ends: tuple[str, ...], length: float, through: tuple[str, ...], shares: dict[str, float]
) -> None:
    assert lies(ends, length, through, {"post": 0.16, "arm": 0.04}) == pytest.approx(shares, abs=1e-12)


@pytest.mark.parametrize(
    ("post", "cut"),
    [
        # 50 mm at either end, or 25 mm past the joint
        ("", 0.16 + 0.1),
        ('free = "200 mm"', 0.2 + 0.1),
        ('free = "120 mm"\nto_joint = "50 mm"\nslack = "2 mm"', 0.17 + 0.002 + 2 * 0.075),
        ('to_joint = "20 mm"', 0.16 + 0.1),
        ('to_joint = "30 mm"', 0.16 + 2 * 0.055),
    ],
)
def test_what_a_conductor_through_a_passage_is_cut_to(post: str, cut: float) -> None:
    text = (
        HEAD.format(usual="", kind=RATED)
        + f'[post]\nfrom = "base"\nto = "hull"\nbore = "5 mm"\nlength = "160 mm"\n{post}\n'
    )
    passage = postcheck.loads(text).post
    assert passage is not None
    assert END == 0.05
    assert through_passage(passage) == near(cut)


def test_a_run_of_a_wire_that_nobody_names_counts_as_none() -> None:
    (run,) = parts(
        '[[run]]\nname = "feed"\nline = "lights"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    ).runs
    assert run.wire is None
    assert (run.ohms(20.0), run.ohms(70.0, most=True)) == (1e-6, 1e-6)


def test_what_nobody_says_the_length_of_has_none() -> None:
    found = parts(
        LAMP.format(more='lead = { to = "hull", wire = "fine" }\nresistor = "1k"')
        + '[[run]]\nname = "feed"\nline = "lights"\nends = ["base", "hull"]\nwire = "stout"\n'
    )
    (one,), (run,) = found.every, found.runs
    assert (one.supply_leg.length, one.return_leg.length, one.supply_leg.ohms(20.0)) == (0.0, 0.0, 0.0)
    assert (run.length, run.ohms(20.0)) == (0.0, 1e-6)
    asked = {unknown.subject: unknown.missing for unknown in found.unknown}
    assert asked == {
        "bow": 'its length, such as lead = "100 mm of fine to hull"',
        "feed": 'its length, such as length = "300 mm"',
    }


def test_resistors_in_series_stand_together_what_the_first_of_them_stands() -> None:
    """A quarter of a watt in 100 ohm is 50 mA, half a watt in 300 ohm 41 mA: two thirds of a watt in both."""
    from postcheck.wiring.parts import Piece  # noqa: PLC0415
    from postcheck.wiring.resistors import together  # noqa: PLC0415

    assert together((Piece(100.0, 0.25), Piece(300.0, 0.5))) == pytest.approx(400.0 * 0.5 / 300.0)
    # half an ohm with a milliwatt is at its rating first: 2 mA2
    assert together((Piece(0.5, 0.001), Piece(100.0, 0.25))) == pytest.approx(100.5 * 0.002)
    assert together((Piece(300.0, 0.5), Piece(100.0, None))) is None
    assert together((Piece(100.0, None), Piece(300.0, 0.5))) is None
