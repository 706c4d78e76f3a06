"""How long batteries last and where what they feed goes dim or stops, worked out by hand.

Three alkaline AA: 4.8 V full, 4.5 V usual, 3.75 V with half of their charge gone, 2.7 V empty; 2450 mAh at 100 mA by makers'
curves (as the catalogue cites them), of which three quarters are counted on.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

import postcheck
from postcheck.survey import Survey
from postcheck.survey.heat.figures import BatteryFigures

PACK = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3\nresistance = "0.5 ohm"\n'
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
[lamp_kind.bulb]
kind = "filament"
volts = "4.5 V"
rated = "50 mA"
[place.base]
access = "open"
[circuit.lights]
supply = "main"
{circuit}
[supply.main]
{main}
"""
LOAD = '[[load]]\nname = "{name}"\nkind = "{kind}"\ncircuit = "lights"\nplace = "base"\ntypical = "{amps}"\n{more}'


def survey(main: str, text: str, circuit: str = "") -> Survey:
    return Survey(postcheck.loads(HEAD.format(main=main, circuit=circuit) + text))


def battery(main: str, text: str, circuit: str = "") -> BatteryFigures:
    return survey(main, text, circuit).batteries["main"]


def load(amps: str, more: str = "", name: str = "sounder", kind: str = "sound") -> str:
    return LOAD.format(name=name, kind=kind, amps=amps, more=more)


def near(value: Any) -> Any:
    return pytest.approx(value, rel=1e-9)


HOURS = 2450 * 3.6 * 0.75 / 0.1  # s, at 100 mA


@pytest.mark.parametrize(
    ("more", "empty", "seconds"),
    [
        ("", 2.7, HOURS),
        # set near the end it is where the capacity is out; set before half of it is out, the rest stays inside
        ('cut_off = "3.3 V"', 3.3, HOURS),
        ('cut_off = "3.74 V"', 3.74, HOURS),
        ('cut_off = "3.75 V"', 3.75, 0.5 * HOURS),
        ('cut_off = "4 V"', 4.0, (0.5 - 0.5 * 0.25 / 1.05) * HOURS),
        ('cut_off = "4.8 V"', 4.8, 0.0),
        ('cut_off = "5 V"', 5.0, 0.0),
        # the maker's figures go with his own capacity
        ('capacity = "1000 mAh"', 2.7, 1000 * 3.6 * 0.75 / 0.1),
    ],
)
def test_how_long_three_cells_last(more: str, empty: float, seconds: float) -> None:
    made = battery(PACK + more, load("100 mA"))
    assert (made.name, made.path, made.place) == ("main", ("supply", "main"), "base")
    assert made.average == near(0.1)
    assert (made.empty_volts, made.half_volts, made.usual_volts, made.full_volts) == near(
        (empty, 3.75, 4.5, 4.8)
    )
    assert made.seconds == pytest.approx(seconds, rel=1e-9, abs=1e-6)
    assert (made.lithium, made.protected, made.wanted, made.most) == (False, None, None, 0.5)
    assert (made.dim, made.dim_seconds, made.stops, made.stops_seconds) == ((), None, (), None)
    known = "capacity" not in more
    assert made.rated == near(9000.0 if known else 3600.0)
    assert made.holds == near(8820.0 if known else 3600.0)
    assert made.known_to == (1.0 if known else None)


def test_what_it_is_asked_for() -> None:
    made = battery(
        PACK + 'runs_for = "6 h"\nprotected = true\nrated = "300 mA"', load("100 mA", 'most = "140 mA"\n')
    )
    assert (made.wanted, made.protected, made.most) == (21600.0, True, 0.3)
    assert (made.average, made.highest) == near((0.1, 0.14))
    idle = battery(PACK, "")
    assert (idle.average, idle.highest, idle.seconds) == (0.0, 0.0, None)
    # between 25 mA (3000 mAh) and 100 mA (2450 mAh) Peukert's law: straight in the logarithms
    half_way = battery(PACK, load("50 mA"))
    assert half_way.holds == near(3.6 * math.sqrt(3000 * 2450))


@pytest.mark.parametrize(
    ("volts", "seconds"), [("", 0.75 * 1800.0 / 0.1), ('cut_off = "9 V"', 0.75 * 1800.0 / 0.1), ('cut_off = "9.5 V"', 0.0)]
)  # fmt: skip
def test_one_of_which_the_file_gives_volts_alone_lasts_by_its_capacity(volts: str, seconds: float) -> None:
    plain = f'kind = "battery"\nplace = "base"\nvolts = "9 V"\ncapacity = "500 mAh"\n{volts}'
    assert battery(plain, load("100 mA")).seconds == near(seconds)
    # of its volts nothing is known but these
    lamp = '[[lamp]]\nname = "bow"\nkind = "plain"\ncircuit = "lights"\nplace = "base"\nresistor = "330 ohm 1 W"\n'
    made = battery(plain, lamp + load("100 mA"))
    assert (made.dim_seconds, made.stops_seconds) == (None, None)
    assert [left for *_, left in made.dim] == [0.0]


def test_what_stops_first_on_the_way_down() -> None:
    fed = (
        '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nefficiency = "80 %"\nleast_input = "3 V"\n'
        '[circuit.up]\nsupply = "five"\n[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "up"\nplace = "base"\ntypical = "40 mA"\nlowest = "4 V"\n'
        '[board.flasher]\nplace = "base"\nsupply = "main"\nidle = "10 mA"\nleast_volts = "3.2 V"\n'
        '[board.other]\nplace = "base"\nsupply = "main"\nidle = "10 mA"\n'
    )
    made = survey(PACK, load("100 mA", 'lowest = "3.6 V"\n') + load("10 mA", name="bell") + fed)
    pack, volts = made.batteries["main"], made.electrics.loads["sounder"].volts
    drawn = made.electrics.drawn["five"][0]
    # 5 V x 40 mA / 80 % from what is left of 4.5 V behind half an ohm
    left = 4.5 - 0.5 * (0.13 + drawn)
    assert drawn == near(0.25 / left)
    assert volts == near(left)
    # a load by what is lost on the way, a board as it says, a converter by what it loses in the cells
    assert pack.stops == (
        ("sounder", near(3.6 + 4.5 - left)),
        ("flasher", 3.2),
        ("five", near(3.0 + 0.5 * drawn)),
    )
    assert pack.seconds is not None
    first = pack.stops[0][1]
    gone = 1.0 - (0.5 + 0.5 * (first - 3.75) / 1.05)
    assert pack.stops_seconds == near(gone * pack.seconds)


def test_where_a_lamp_falls_to_half_of_its_current() -> None:
    lamps = (
        '[[lamp]]\nname = "bow"\nkind = "plain"\ncircuit = "lights"\nplace = "base"\nresistor = "100 ohm 1 W"\n'
        '[[lamp]]\nname = "stern"\nkind = "bulb"\ncircuit = "lights"\nplace = "base"\n'
    )
    made = survey(PACK, lamps)
    bow = made.electrics.lamps["bow"]
    # the chord of its die from 1.9 V at 5 mA to 2.0 V at 20 mA: 20/3 ohm; half way from where it begins to full
    begins = bow.string_volts - bow.nominal * 20.0 / 3.0
    level = begins + 0.5 * (4.8 - begins)
    # a filament's current goes with its volts to the power of 0.55 (makers' rerating)
    glow = 4.8 * 0.5 ** (1.0 / 0.55)
    pack = made.batteries["main"]
    assert [name for name, *_ in pack.dim] == ["bow", "stern"]
    assert [volts for _, volts, _ in pack.dim] == near([level, glow])
    assert [left for *_, left in pack.dim] == near(
        [0.5 * (level - 2.7) / 1.05 if level < 3.75 else 0.5 + 0.5 * (level - 3.75) / 1.05, 0.0]
    )
    assert pack.seconds is not None
    assert pack.dim_seconds == near((1.0 - pack.dim[0][2]) * pack.seconds)


def test_where_a_steep_string_begins_to_conduct() -> None:
    """2.7 V at 5 mA and 3.6 V at 20 mA: 60 ohm. No more than three tenths of the lower volts are put down to the slope."""
    steep = (HEAD.replace('"1.9/2.0/2.15 V"', '"3.3/3.6/3.9 V"').replace('"1.9 V"', '"2.7 V"')).format(
        main=PACK, circuit=""
    )
    for ohms in ("10 ohm", "150 ohm"):
        made = Survey(
            postcheck.loads(
                steep
                + f'[[lamp]]\nname = "bow"\nkind = "plain"\ncircuit = "lights"\nplace = "base"\nresistor = "{ohms} 1 W"\n'
            )
        )
        bow = made.electrics.lamps["bow"]
        begins = bow.string_volts - min(60.0 * bow.nominal, 0.81)
        assert (60.0 * bow.nominal > 0.81) is (ohms == "10 ohm")
        ((_, level, _),) = made.batteries["main"].dim
        assert level == near(begins + 0.5 * (4.8 - begins))


def test_a_steady_output_holds_its_current_down_to_what_it_needs() -> None:
    lamp = '[[lamp]]\nname = "bow"\nkind = "plain"\ncircuit = "lights"\nplace = "base"\n'
    for says, needs in (('"15 mA"', 0.5), ('"15 mA", compliance = "1.2 V"', 1.2)):
        made = survey(PACK, lamp, f"output = {{ steady = {says} }}")
        volts = made.electrics.lamps["bow"].string_volts
        assert made.batteries["main"].dim == (
            ("bow", near(volts + needs), near(0.5 + 0.5 * (volts + needs - 3.75) / 1.05 if volts + needs > 3.75 else 0.5 * (volts + needs - 2.7) / 1.05 if volts + needs > 2.7 else 0.0)),
        )  # fmt: skip


def test_a_strip_goes_dim_by_its_first_segment() -> None:
    strip = (
        '[strip_kind.own]\nvolts = "5 V"\nsegment = "50 mm"\nseries = 1\nohms = "150 ohm"\nkind = "plain"\n'
        '[[strip]]\nname = "hall"\ncircuit = "lights"\nkind = "own"\nplace = "base"\nsegments = 2\n'
    )
    made = survey(PACK, strip)
    hall = made.electrics.strips["hall"]
    volts = hall.first_volts - 150.0 * hall.segment_current
    begins = volts - hall.segment_current * 20.0 / 3.0
    (row,) = made.batteries["main"].dim
    assert row[0] == "hall"
    assert row[1] == near(begins + 0.5 * (4.8 - begins))
    # a lamp or a strip on another supply goes dim with that one
    other = '[supply.aux]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n[circuit.aft]\nsupply = "aux"\n'
    assert survey(PACK, other + strip.replace('"lights"', '"aft"')).batteries["main"].dim == ()


# 3.0 V and 15 ohm: a short of 0.2 A; 4.2 V behind 2.2 ohm 1.9 A, behind 2.0 ohm 2.1 A
@pytest.mark.parametrize(
    ("main", "lithium"),
    [
        ('chemistry = "lithium-coin"\nsize = "cr2032"\ncells = 1', False),
        ('chemistry = "lipo"\ncells = 1', True),
        ('chemistry = "lipo"\ncells = 1\nresistance = "2.2 ohm"', False),
        ('chemistry = "lipo"\ncells = 1\nresistance = "2.1 ohm"', False),
        ('chemistry = "lipo"\ncells = 1\nresistance = "2 ohm"', True),
        ('chemistry = "lipo"\ncells = 2\nresistance = "4.1 ohm"', True),
        ('chemistry = "lipo"\ncells = 1\nresistance = "0 ohm"', True),
        ('chemistry = "nimh"\nsize = "aa"\ncells = 3', False),
    ],
)
def test_which_cells_can_set_something_on_fire(main: str, lithium: bool) -> None:
    assert battery(f'kind = "battery"\nplace = "base"\n{main}', load("1 mA")).lithium is lithium


def test_of_a_battery_whose_network_has_no_solution_nothing_is_known() -> None:
    stiff = 'kind = "battery"\nplace = "base"\nvolts = "{volts} V"\ncapacity = "500 mAh"\n'
    text = f"[supply.aux]\n{stiff.format(volts=8)}" + "".join(
        f'[[join]]\nplace = "base"\nlines = ["main{sign}", "aux{sign}"]\n' for sign in "+-"
    )
    made = survey(stiff.format(volts=9), load("100 mA") + text)
    assert made.electrics.failed
    for name in ("main", "aux"):
        pack = made.batteries[name]
        assert (pack.average, pack.highest, pack.seconds) == (0.0, 0.0, None)


def test_an_led_with_its_resistor_inside_begins_to_conduct_where_its_die_does() -> None:
    """Made for 4.5 V and 15 mA: of what is over it the resistor inside has (4.5 V less its die's) / 15 mA times the current."""
    kind = '[lamp_kind.whole]\nvolts = "4.5 V"\nat = "15 mA"\nforward = "1.9/2.0/2.15 V"\nlow_forward = "1.9 V"\nlow_at = "5 mA"\nper_kelvin = "0 mV"\n'
    made = survey(PACK, kind + '[[lamp]]\nname = "bow"\nkind = "whole"\ncircuit = "lights"\nplace = "base"\n')
    bow = made.electrics.lamps["bow"]
    (die,) = bow.part.dice
    # the chord of its die from 1.9 V at 5 mA to 2.0 V at 15 mA: 10 ohm
    assert (die.inside, die.at_current) == near((2.5 / 0.015, 0.015))
    begins = bow.string_volts - bow.nominal * (10.0 + 2.5 / 0.015)
    ((_, level, _),) = made.batteries["main"].dim
    assert level == near(begins + 0.5 * (4.8 - begins))


def test_when_lamps_go_dim_is_told_where_that_is_sooner_than_empty() -> None:
    lamps = '[[lamp]]\nname = "bow"\nkind = "{}"\ncircuit = "lights"\nplace = "base"\n{}'
    sooner = survey(PACK, lamps.format("plain", 'resistor = "100 ohm 1 W"\n'))
    row, pack = sooner.figures["supplies"]["main"], sooner.batteries["main"]
    assert pack.dim_seconds is not None
    assert pack.seconds is not None
    assert pack.dim_seconds < pack.seconds
    assert (row["lasts"], row["dims"]) == (pack.seconds, pack.dim_seconds)
    # a bulb glows until the cells are empty
    later = survey(PACK, lamps.format("bulb", ""))
    row, pack = later.figures["supplies"]["main"], later.batteries["main"]
    assert pack.dim_seconds == pack.seconds
    assert (row["lasts"], row["dims"]) == (pack.seconds, None)
    # and of what nobody knows how long it lasts nothing is told
    none = survey(
        'kind = "battery"\nplace = "base"\nvolts = "4.5 V"\n',
        lamps.format("plain", 'resistor = "100 ohm 1 W"\n'),
    )
    row = none.figures["supplies"]["main"]
    assert (row["lasts"], row["dims"]) == (None, None)


def test_a_converter_of_which_nobody_knows_the_volts_loses_nothing_yet() -> None:
    """It stops where its input does, for nothing flows to it."""
    fed = '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nleast_input = "3 V"\n'
    assert battery(PACK, load("100 mA") + fed).stops == (("five", 3.0),)
