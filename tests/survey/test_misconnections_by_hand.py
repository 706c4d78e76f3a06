"""Plugs put in wrongly, broken runs, turned and wrong adaptors: the volts and currents of each, by hand."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from scipy.optimize import brentq, root

import postcheck
from postcheck.survey import Survey
from postcheck.survey.network.elements import REFERENCE
from postcheck.survey.network.states import States
from tests.survey.plain_led import alone, die

LAUNCH = """
format = 1
[build]
name = "Launch"
air = "5..35 degC"
[lamp_kind.plain]
forward = "1.9/2.0/2.15 V"
at = "20 mA"
low_forward = "1.9 V"
low_at = "5 mA"
per_kelvin = "0 mV"
rated = "20 mA"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
rated = "1 A"
socket = "5.5/2.1 mm, centre positive"
[supply.aux]
kind = "adaptor"
place = "base"
volts = "5 V"
tolerance = "0 %"
rated = "1 A"
shares_negative_with = "main"
socket = "5.5/2.1 mm, centre {centre}"
[place.base]
access = "open"
[place.hull]
access = "open"
[circuit.screw]
supply = "main"
[circuit.horn]
supply = "aux"
[[run]]
name = "to screw"
line = "screw"
ends = ["base", "hull"]
ohms = "2 ohm"
[[run]]
name = "to horn"
line = "horn"
ends = ["base", "hull"]
ohms = "3 ohm"
[[run]]
name = "back"
line = "main-"
ends = ["base", "hull"]
ohms = "1 ohm"
"""
LOADS = """
[[load]]
name = "screw"
kind = "sound"
circuit = "screw"
place = "hull"
typical = "100 mA"
[[load]]
name = "horn"
kind = "sound"
circuit = "horn"
place = "hull"
typical = "40 mA"
reverse = "9 V"
"""
PLUG = """
[[plug]]
name = "foot"
at = "hull"
pins = ["screw", "horn", "main-"]
contact = "0 ohm"
keyed = false
part_way = true
"""


@cache
def survey(more: str, centre: str = "negative") -> Survey:
    return Survey(postcheck.loads(LAUNCH.format(centre=centre) + more))


def near(value: Any) -> Any:
    return pytest.approx(value, rel=1e-8, abs=1e-7)


def _volts(faults: Any) -> dict[Any, Any]:
    return {
        (fault.plug, fault.how, fault.pin, fault.part): (fault.volts, fault.reverse, fault.reverse_stood)
        for fault in faults
    }


def test_a_plug_the_wrong_way_round_and_with_each_pin_open() -> None:
    found = _volts(survey(LOADS + PLUG).electrics.plug_faults)
    assert {key: row[:2] for key, row in found.items()} == {
        # the negative of all comes to lie on 12.6 V, what was fed by them on the negative, and the 5 V stay
        ("foot", "crossed", 0, "screw"): near((0.0, 12.6)),
        ("foot", "crossed", 0, "horn"): near((0.0, 7.6)),
        ("foot", "part way", 0, "screw"): near((0.0, 0.0)),
        ("foot", "part way", 0, "horn"): near((5.0 - 0.04 * 4.0, 0.0)),
        ("foot", "part way", 1, "screw"): near((12.6 - 0.1 * 3.0, 0.0)),
        ("foot", "part way", 1, "horn"): near((0.0, 0.0)),
        # without a way back all behind it is drawn up to 12.6 V
        ("foot", "part way", 2, "screw"): near((0.0, 0.0)),
        ("foot", "part way", 2, "horn"): near((0.0, 7.6)),
    }
    assert {part: row[2] for (*_, part), row in found.items()} == {"screw": None, "horn": 9.0}


@pytest.mark.parametrize("more", ["keyed = true", 'pins = ["screw", "main-", "screw"]\nkeyed = false'])
def test_a_plug_that_cannot_be_crossed_or_is_alike_both_ways(more: str) -> None:
    plug = PLUG.replace("part_way = true\n", "")
    key = more.split(" ", maxsplit=1)[0]
    rows = [row for row in plug.splitlines() if not row.startswith((key, "keyed"))]
    own = "\n".join(rows) + f"\n{more}\n"
    loads = LOADS.replace('"horn"\nplace', '"screw"\nplace')
    assert survey(loads + own).electrics.plug_faults == ()


def test_a_broken_way_back_is_as_an_open_pin_of_it() -> None:
    found = _volts(survey(LOADS).electrics.pole_faults)
    assert {key: row[:2] for key, row in found.items()} == {
        ("back", "broken", 0, "screw"): near((0.0, 0.0)),
        ("back", "broken", 0, "horn"): near((0.0, 7.6)),
    }
    # with one supply all behind it goes dark, and nothing is told
    one = LAUNCH.format(centre="negative")
    alone_ = one[: one.index("[supply.aux]")] + one[one.index("[place.base]") :].replace('"aux"', '"main"')
    assert Survey(postcheck.loads(alone_ + LOADS)).electrics.pole_faults == ()


def test_an_adaptor_with_the_other_pole_at_its_centre() -> None:
    faults = survey(LOADS).electrics.turned_faults
    assert {fault.how for fault in faults} == {"turned"}
    found = {
        (fault.plug, fault.turned, fault.part): (fault.volts, fault.reverse)
        for fault in faults
        if fault.kind == "load"
    }
    assert found == {
        ("aux", "main", "screw"): near((12.6 - 0.1 * 3.0, 0.0)),
        ("aux", "main", "horn"): near((0.0, 12.6 + 0.1)),
        ("main", "aux", "screw"): near((0.0, 5.0 + 0.04)),
        ("main", "aux", "horn"): near((5.0 - 0.04 * 4.0, 0.0)),
    }
    assert survey(LOADS, "positive").electrics.turned_faults == ()


def test_what_a_lamp_gets_from_a_higher_adaptor_with_the_same_plug() -> None:
    lamps = (
        '[[lamp]]\nname = "red"\nkind = "plain"\ncircuit = "horn"\nplace = "hull"\nresistor = "220 ohm 1 W"\n'
        '[[lamp]]\nname = "deck"\nkind = "plain"\ncircuit = "horn"\nplace = "hull"\nresistor = "330 ohm 1 W"\n'
        '[[lamp]]\nname = "mast"\nkind = "plain"\ncircuit = "screw"\nplace = "hull"\nresistor = "150 ohm 2 W"\n'
    )
    (fault,) = survey(lamps, "positive").electrics.wrong_adaptor_faults
    assert (fault.lower, fault.higher, fault.lamp, fault.untried) == ("aux", "main", "red", False)

    def off(amps: Any) -> list[float]:
        back = sum(amps)
        pair = 3.0 * (amps[0] + amps[1])
        return [
            12.0 - back - pair - 220.0 * amps[0] - die(amps[0]),
            12.0 - back - pair - 330.0 * amps[1] - die(amps[1]),
            12.0 - back - 2.0 * amps[2] - 150.0 * amps[2] - die(amps[2]),
        ]

    found = root(off, [0.04, 0.03, 0.06], tol=1e-14).x
    assert (fault.current, fault.rated) == near((float(found[0]), 0.02))


def test_a_lamp_behind_a_crossed_plug_has_all_the_volts_backwards() -> None:
    lamp = (
        '[[lamp]]\nname = "red"\nkind = "plain"\ncircuit = "screw"\nplace = "hull"\nseries = 3\nresistor = "330 ohm 1 W"\n'
        '[[lamp]]\nname = "deck"\nkind = "plain"\ncircuit = "horn"\nplace = "hull"\nresistor = "220 ohm 1 W"\n'
    )
    found = {
        (fault.how, fault.pin, fault.part): fault
        for fault in survey(lamp + PLUG).electrics.plug_faults
        if fault.kind == "lamp"
    }
    crossed = found["crossed", 0, "red"]
    # the volts the right way round are told of electronics alone
    assert (crossed.dice, crossed.volts, crossed.turned) == (3, 0.0, "")
    assert crossed.reverse == pytest.approx(12.6, abs=1e-3)
    assert crossed.current == pytest.approx(0.0, abs=1e-6)
    assert found["part way", 0, "deck"].current == near(alone(5.0, 224.0, 1))
    assert (found["part way", 0, "deck"].rated, found["part way", 0, "deck"].reverse) == (0.02, 0.0)


@pytest.mark.parametrize(
    ("volts", "told"), [("11.7 V", True), ("11.75 V", True), ("11.8 V", False), ("12 V", False)]
)
def test_adaptors_of_nearly_the_same_volts_are_the_same_for_a_socket(volts: str, told: bool) -> None:
    """A fiftieth of 12 V is 0.24 V."""
    text = LAUNCH.format(centre="positive").replace('volts = "5 V"', f'volts = "{volts}"') + LOADS
    faults = Survey(postcheck.loads(text)).electrics.wrong_adaptor_faults
    assert [(fault.lower, fault.higher) for fault in faults] == ([("aux", "main")] if told else [])


def test_the_trunk_of_a_build_is_judged_not_each_twig() -> None:
    """Of ten runs of a pole that leave a supply's place the first eight."""
    more = "".join(
        f'[[run]]\nname = "back {n}"\nline = "main-"\nends = ["base", "hull"]\nohms = "{n + 2} ohm"\n'
        for n in range(9)
    )
    faults = survey(LOADS + more).electrics.pole_faults
    assert list(dict.fromkeys(fault.plug for fault in faults)) == ["back", *(f"back {n}" for n in range(7))]


@pytest.mark.parametrize(
    ("main", "shorted"),
    [
        # ten times its rating, or 20 A where nothing is said: 9.6 V over 0.02 ohm of pins and its own resistance
        ('volts = "9.6 V"\nresistance = "0.45 ohm"', True),
        ('volts = "9.6 V"\nresistance = "0.47 ohm"', False),
        ('volts = "9.6 V"\nresistance = "1.8 ohm"\nrated = "500 mA"', True),
        ('volts = "9.6 V"\nresistance = "2.0 ohm"\nrated = "500 mA"', False),
    ],
)
def test_what_a_supply_gives_when_a_crossed_plug_shorts_it(main: str, shorted: bool) -> None:
    text = f"""format = 1
[build]
name = "Launch"
[supply.main]
kind = "battery"
place = "base"
{main}
[place.base]
access = "open"
[place.hull]
access = "open"
[circuit.lights]
supply = "main"
[[load]]
name = "horn"
kind = "sound"
circuit = "lights"
place = "hull"
typical = "10 mA"
[[plug]]
name = "foot"
at = "hull"
pins = ["main+", "main-", "main-"]
contact = "10 mohm"
keyed = false
"""
    for line in ("main+", "main-", "lights"):
        text += f'[[run]]\nline = "{line}"\nends = ["base", "hull"]\nohms = "0 ohm"\n'
    electrics = Survey(postcheck.loads(text)).electrics
    shorts = [fault for fault in electrics.plug_faults if fault.kind == "short"]
    assert [fault.part for fault in shorts] == (["main"] if shorted else [])


# -- constant currents


STEADY = (
    '[circuit.chain]\nsupply = "main"\noutput = { steady = "40 mA" }\n'
    '[[run]]\nline = "chain"\nends = ["base", "hull"]\nohms = "2 ohm"\n'
    '[[lamp]]\nname = "port"\nkind = "plain"\ncircuit = "chain"\nplace = "hull"\nseries = 2\nresistor = "100 ohm 1 W"\n'
    '[[lamp]]\nname = "starboard"\nkind = "plain"\ncircuit = "chain"\nplace = "hull"\nseries = 2\nresistor = "120 ohm 1 W"\n'
)


def _divided(first: tuple[float, int], second: tuple[float, int]) -> tuple[float, float]:
    """How 40 mA divide between two strings, ohm and dice of each."""

    def off(amps: float) -> float:
        one = first[0] * amps + first[1] * die(amps)
        rest = 0.04 - amps
        return one - second[0] * rest - second[1] * die(rest)

    one = float(brentq(off, 1e-12, 0.04 - 1e-12, xtol=1e-16, rtol=1e-14))
    return one, 0.04 - one


def test_the_other_string_on_a_constant_current_gets_it_all() -> None:
    electrics = survey(LOADS + STEADY).electrics
    port, starboard = (electrics.lamps[name].nominal for name in ("port", "starboard"))
    assert (port, starboard) == near(_divided((100.0, 2), (120.0, 2)))
    found = {
        fault.how: (fault.circuit, fault.lamp, fault.current, fault.rated)
        for fault in electrics.parallel_string_faults
    }
    assert set(found) == {"open", "short"}
    assert found["open"][0] == "chain"
    assert found["open"][2:] == near((0.04, 0.02))
    # one die of a string short: the other string has what is left; worst where the one of more ohms fails
    left = _divided((120.0, 1), (100.0, 2))[1], _divided((100.0, 1), (120.0, 2))[1]
    assert found["short"][1] == "starboard"
    assert found["short"][2] == near(max(left))
    # what it takes of the 12 V, and what of that it has to spare above half a volt
    chain = electrics.circuits["chain"]
    assert chain.nominal == near(0.04)
    assert chain.drop is not None
    assert chain.spare == near(chain.drop - 0.5)
    across = 100.0 * port + 2 * die(port)
    assert chain.drop == near(12.0 - across - 0.04 * 2.0 - (0.04 + 0.1 + 0.04) * 1.0)


def test_a_lamp_of_several_strings_has_its_own_others() -> None:
    """Three alike on 40 mA: with one open 20 mA each; with a die of it short it takes more, and each of the other two the same less."""
    text = STEADY[: STEADY.rindex("[[lamp]]")] + "parallel = 3\n"
    electrics = survey(LOADS + text).electrics
    assert electrics.lamps["port"].nominal == near(0.04 / 3.0)
    found = {fault.how: fault for fault in electrics.parallel_string_faults}
    assert {(fault.lamp, fault.other) for fault in found.values()} == {("port", "port")}
    assert found["open"].current == near(0.02)

    def off(amps: float) -> float:
        rest = 0.04 - 2.0 * amps
        return 100.0 * amps + 2 * die(amps) - 100.0 * rest - die(rest)

    assert found["short"].current == near(float(brentq(off, 1e-12, 0.02 - 1e-12, xtol=1e-16, rtol=1e-14)))


# -- boards and converters

BOARD = (
    '[board.driver]\nplace = "base"\nsupply = "main"\nidle = "10 mA"\ndrop = "0.2 V"\nleast_volts = "7 V"\n'
    '[circuit.one]\nboard = "driver"\n[circuit.two]\nboard = "driver"\nbehaviour = "flash"\nrate = "30 /min"\non_share = "20 %"\n'
    '[[run]]\nline = "one"\nends = ["base", "hull"]\nohms = "2 ohm"\n[[run]]\nline = "two"\nends = ["base", "hull"]\nohms = "2 ohm"\n'
    '[[load]]\nname = "first"\nkind = "sound"\ncircuit = "one"\nplace = "hull"\ntypical = "20 mA"\nmost = "25 mA"\n'
    '[[load]]\nname = "second"\nkind = "motor"\ncircuit = "two"\nplace = "hull"\ntypical = "30 mA"\nmost = "35 mA"\nstarting = "90 mA"\n'
)


def test_a_board_drives_the_sum_of_its_circuits_and_takes_something_itself() -> None:
    electrics = survey(BOARD).electrics
    assert electrics.boards == {"driver": near((0.05, 0.06))}
    main = electrics.supplies["main"]
    assert (main.nominal, main.highest) == near((0.06, 0.07))
    # dark 30 mA; the motor for a fifth of two seconds; alone it does not lift it to 100 mA
    assert (main.average, main.dark) == near((0.06 - 0.8 * 0.03, 0.03))
    assert main.gap is None
    assert electrics.loads["first"].volts == near(12.0 - 0.2 - 0.02 * 2.0 - 0.05 * 1.0)
    (sag,) = electrics.sags
    assert (sag.kind, sag.name, sag.load, sag.needs) == ("board", "driver", "second", 7.0)
    assert (sag.volts, sag.before, sag.lowest_volts) == near((12.0, 12.0, 11.4))


@pytest.mark.parametrize(
    ("asks", "dark", "gap"),
    [("40 mA", 0.03, 1.6), ("60 mA", 0.03, 1.6), ("61 mA", 0.03, None), ("30 mA", 0.03, 0.0)],
)
def test_how_long_a_power_bank_sees_less_than_it_asks_for(asks: str, dark: float, gap: float | None) -> None:
    """30 mA dark, 60 mA lit: two seconds apart, lit for a fifth of them."""
    text = LAUNCH.format(centre="negative").replace(
        'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\ntolerance = "5 %"\nrated = "1 A"\nsocket = "5.5/2.1 mm, centre positive"\n',
        f'kind = "usb"\nplace = "base"\nport = "power-bank"\nswitches_off_below = "{asks}"\n',
    )
    main = Survey(postcheck.loads(text + BOARD.replace('"7 V"', '"3 V"'))).electrics.supplies["main"]
    assert (main.dark, main.gap) == (near(dark), None if gap is None else near(gap))


FIVE = (
    '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nefficiency = "80 %"\nidle = "2 mA"\n'
    '[circuit.lamp]\nsupply = "five"\n[[run]]\nline = "lamp"\nends = ["base", "hull"]\nohms = "2 ohm"\n'
    '[[load]]\nname = "lamp"\nkind = "sound"\ncircuit = "lamp"\nplace = "hull"\ntypical = "100 mA"\nmost = "130 mA"\n'
)


def test_a_converter_takes_the_power_that_it_gives_and_what_it_loses() -> None:
    electrics = survey(FIVE).electrics
    # 5 V x 0.1 A / 80 %, and 2 mA of 12 V, from 12 V; at the most 5.25 V x 0.13 A from 11.4 V
    usual, most = (5.0 * 0.1 / 0.8 + 0.024) / 12.0, (5.25 * 0.13 / 0.8 + 0.024) / 11.4
    assert electrics.drawn == {"five": near((usual, most))}
    five, main = electrics.supplies["five"], electrics.supplies["main"]
    assert (five.nominal, five.highest, five.volts, five.highest_volts) == near((0.1, 0.13, 5.0, 5.25))
    assert (main.nominal, main.highest) == near((usual, most))
    # 30 mA more at 5 V are 30 x 5 / (0.8 x 12) mA there
    assert (five.most, main.most) == near((0.13, usual + 0.03 * 5.0 / (0.8 * 12.0)))
    # it comes back over one wire with all else
    assert electrics.loads["lamp"].volts == near(5.0 - 0.1 * 3.0)
    heats = {(place, part): watts for place, part, watts in electrics.heats}
    assert heats["base", "five"] == near(0.1 * 5.0 * 0.25 + 0.024)
    linear = survey(FIVE.replace('efficiency = "80 %"', "linear = true").replace('idle = "2 mA"\n', ""))
    assert linear.electrics.drawn == {"five": near((0.1, 0.13))}
    heats = {(place, part): watts for place, part, watts in linear.electrics.heats}
    assert heats["base", "five"] == near(0.1 * 7.0)


def test_an_adaptor_of_which_nobody_knows_the_volts_is_no_lower_one() -> None:
    text = LAUNCH.format(centre="positive").replace('volts = "5 V"\n', "")
    assert Survey(postcheck.loads(text + LOADS)).electrics.wrong_adaptor_faults == ()


def test_a_higher_adaptor_where_there_is_no_lamp_is_told_without_figures() -> None:
    (fault,) = survey(LOADS, "positive").electrics.wrong_adaptor_faults
    assert fault == ("aux", "main", None, 0.0, 0.0, False)


def test_the_most_of_a_circuit_is_with_its_supply_at_its_highest_though_a_converter_takes_more_at_its_lowest() -> (
    None
):
    """A lamp of least forward voltage behind cold wires on 12.6 V, while 0.13 A of the converter come back by the same wire."""
    lamp = '[[lamp]]\nname = "deck"\nkind = "plain"\ncircuit = "screw"\nplace = "hull"\nresistor = "330 ohm 1 W 5 %"\n'
    electrics = survey(FIVE + lamp).electrics
    cold = 1.0 - 15.0 * 0.00393

    def lamp_on(volts: float) -> float:
        def off(amps: float) -> float:
            return volts - cold * (0.13 + amps) - (2.0 * cold + 313.5) * amps - die(amps) + 0.1

        return float(brentq(off, 0.0, 1.0, xtol=1e-16, rtol=1e-14))

    most = lamp_on(12.6)
    assert electrics.circuits["screw"].highest == near(most)
    assert electrics.runs["to screw"].highest == near(most)
    # through a plug the same, its negative pin with what comes back of the converter
    plug = (
        '[[plug]]\nname = "foot"\nat = "hull"\npins = ["screw", "main-"]\ncontact = "0 ohm"\nkeyed = true\n'
    )
    pins = survey(FIVE + lamp + plug).electrics.plugs["foot"].highest
    assert pins == pytest.approx((most, most + 0.13), rel=1e-4)
    # the converter takes most of a low supply
    taken = (5.25 * 0.13 / 0.8 + 0.024) / 11.4
    assert electrics.drawn["five"][1] == near(taken)
    assert electrics.supplies["main"].highest == near(taken + lamp_on(11.4))
    assert taken + lamp_on(11.4) > (5.25 * 0.13 / 0.8 + 0.024) / 12.6 + most


def test_where_no_supply_has_known_volts_nothing_is_above_anything() -> None:
    text = LAUNCH.format(centre="negative").replace('volts = "12 V"\n', "").replace('volts = "5 V"\n', "")
    assert Survey(postcheck.loads(text)).electrics.widest == 0.0


def test_what_no_source_reaches_has_no_volts() -> None:
    made = survey(LOADS)
    states = States(made.wiring)
    assert states.solved(states.everything, REFERENCE) is not None
    cut = states.everything._replace(name="cut", broken=frozenset({"to screw", "to horn", "back"}))
    solved, why = states.tried(cut, REFERENCE)
    assert solved is not None
    assert why == ()
    (screw,) = solved.of("load", "screw")
    assert solved.across(screw) == 0.0
    assert solved.volts(made.wiring.node("screw", "hull")) is None
    assert solved.volts(made.wiring.node("screw", "base")) == near(12.0)
    assert solved.amps("load", "screw") == [0.0]
    assert (solved.of("load", "none"), solved.amps("load", "none")) == ([], [])


def test_an_adaptor_turned_in_the_socket_of_a_board_is_told_of_what_the_board_drives() -> None:
    board = (
        '[board.driver]\nplace = "base"\nsupply = "main"\nsocket = "5.5/2.1 mm, centre negative"\nidle = "5 mA"\nreverse = "3 V"\n'
        '[board.other]\nplace = "base"\nsupply = "main"\nidle = "5 mA"\n'
        '[circuit.one]\nboard = "driver"\n[[run]]\nline = "one"\nends = ["base", "hull"]\nohms = "2 ohm"\n'
        '[[load]]\nname = "first"\nkind = "sound"\ncircuit = "one"\nplace = "hull"\ntypical = "20 mA"\n'
    )
    faults = survey(LOADS + board, "positive").electrics.turned_faults
    found = {(fault.plug, fault.turned, fault.kind, fault.part): fault for fault in faults}
    assert set(found) == {
        ("driver", other, kind, part)
        for other in ("main", "aux")
        for kind, part in (("board", "driver"), ("load", "first"))
    }
    for other, volts in (("main", 12.6), ("aux", 5.0)):
        board_fault = found["driver", other, "board", "driver"]
        assert (board_fault.reverse, board_fault.volts, board_fault.reverse_stood) == (near(volts), 0.0, 3.0)


def test_of_lamps_that_are_alike_the_first_is_told() -> None:
    alike = STEADY.replace("120 ohm", "100 ohm")
    third = alike[alike.rindex("[[lamp]]") :].replace("starboard", "aft")
    found = {fault.how: fault for fault in survey(LOADS + alike + third).electrics.parallel_string_faults}
    # one of a sort is tried, the last of them, and the first of those that are left is the worst
    assert {how: (fault.lamp, fault.other) for how, fault in found.items()} == {
        "open": ("aft", "port"),
        "short": ("aft", "port"),
    }
    assert found["open"].current == near(0.02)
    low = '[[lamp]]\nname = "{name}"\nkind = "plain"\ncircuit = "horn"\nplace = "hull"\nresistor = "220 ohm 1 W"\n'
    both = survey(low.format(name="red") + low.format(name="rose"), "positive").electrics
    assert [fault.lamp for fault in both.wrong_adaptor_faults] == ["red"]


def test_the_worst_is_that_nearest_to_its_own_rating() -> None:
    """40 mA through a lamp for 10 mA are worse than through one for 20: it is the stronger one that must not fail."""
    weak = '[lamp_kind.weak]\nforward = "1.9/2.0/2.15 V"\nat = "20 mA"\nlow_forward = "1.9 V"\nlow_at = "5 mA"\nper_kelvin = "0 mV"\nrated = "10 mA"\n'
    at = STEADY.rindex("[[lamp]]")
    text = weak + STEADY[:at] + STEADY[at:].replace('"plain"', '"weak"')
    found = {fault.how: fault for fault in survey(LOADS + text).electrics.parallel_string_faults}
    assert (found["open"].lamp, found["open"].other, found["open"].rated) == ("port", "starboard", 0.01)
    assert found["open"].current == near(0.04)


def test_of_adaptors_of_the_same_volts_the_first_is_told() -> None:
    twin = '[supply.twin]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\nsocket = "5.5/2.1 mm, centre positive"\n'
    other = '[supply.small]\nkind = "adaptor"\nplace = "base"\nvolts = "24 V"\nsocket = "3.5/1.35 mm"\n'
    faults = survey(LOADS + twin + other, "positive").electrics.wrong_adaptor_faults
    assert [(fault.lower, fault.higher) for fault in faults] == [("aux", "main")]


INNER = """
[supply.inner]
kind = "converter"
from = "main"
place = "hull"
volts = "5 V"
rated = "1 A"
{least}
[[run]]
name = "main feed"
line = "main+"
ends = ["base", "hull"]
ohms = "2 ohm"
[circuit.cabin]
supply = "inner"
[[load]]
name = "radio"
kind = "sound"
circuit = "cabin"
place = "hull"
typical = "{radio}"
[[lamp]]
name = "stern"
kind = "plain"
circuit = "horn"
place = "hull"
resistor = "180 ohm 1/4 W"
"""


@pytest.mark.parametrize("least", ["", 'least_input = "7 V"'])
def test_a_converter_that_has_lost_its_way_back_draws_the_negative_up_to_its_source(least: str) -> None:
    """It stops, and what its input still takes finds no way but backwards through the lamp: that has 12.6 V - 5 V."""
    (found,) = (
        fault
        for fault in survey(INNER.format(least=least, radio="20 mA")).electrics.pole_faults
        if (fault.plug, fault.part) == ("back", "stern")
    )
    assert (found.reverse, found.current) == near((7.6, 0.0))


def test_a_converter_that_tries_to_start_again_and_again_is_asked_about() -> None:
    """Through the filament, 0.06 A (7.6 / 12)^0.55 at 7.6 V, no more than some 0.2 W come back, and the radio takes 1 W."""
    bulb = '[[lamp]]\nname = "bulb"\nkind = "rice-12v"\ncircuit = "horn"\nplace = "hull"\n'
    made = survey(INNER.format(least='least_input = "7 V"', radio="200 mA") + bulb)
    back = [fault for fault in made.electrics.pole_faults if fault.plug == "back"]
    assert [fault.kind for fault in back if not fault.part] == ["unsolved"]
    # until it tries, the filament holds the negative at the 5 V that feed it, but for the 0.1 mA of an input
    (stern,) = (fault for fault in back if fault.part == "stern")
    assert stern.reverse < 0.1
    (held,) = (fault for fault in back if fault.part == "bulb")
    assert held.current == pytest.approx((12.6 - 5.0) / 100e3, rel=1e-3)
    # what starts has a state of its own: nothing is asked
    small = survey(INNER.format(least='least_input = "7 V"', radio="2 mA") + bulb)
    assert all(fault.part for fault in small.electrics.pole_faults)


@pytest.mark.parametrize("names", [("small", "stout"), ("stout", "small")])
def test_on_a_higher_adaptor_the_worst_is_that_nearest_to_its_own_rating(names: tuple[str, str]) -> None:
    """The one of 10 mA gets three times that, the one of 40 mA half as much again and more current."""
    kinds = "".join(
        f'[lamp_kind.{name}]\nforward = "1.9/2.0/2.15 V"\nat = "20 mA"\nlow_forward = "1.9 V"\nlow_at = "5 mA"\nper_kelvin = "0 mV"\nrated = "{rated} mA"\n'
        for name, rated in (("small", 10), ("stout", 40))
    )
    ohms = {"small": "330 ohm 1 W", "stout": "150 ohm 2 W"}
    lamps = "".join(
        f'[[lamp]]\nname = "{name}"\nkind = "{name}"\ncircuit = "horn"\nplace = "hull"\nresistor = "{ohms[name]}"\n'
        for name in names
    )
    made = survey(kinds + lamps, "positive")
    (fault,) = made.electrics.wrong_adaptor_faults
    assert (fault.lamp, fault.rated) == ("small", 0.01)
    assert 0.025 < fault.current < 0.031


def test_one_string_alone_on_a_constant_current_has_no_other_that_could_suffer() -> None:
    text = STEADY[: STEADY.rindex("[[lamp]]")]
    beside = '[[lamp]]\nname = "mast"\nkind = "plain"\ncircuit = "screw"\nplace = "hull"\nresistor = "470 ohm 1 W"\n'
    assert survey(LOADS + text + beside).electrics.parallel_string_faults == ()


def test_strings_behind_one_resistor_on_a_constant_current_are_told_once() -> None:
    text = STEADY[: STEADY.rindex("[[lamp]]")] + "parallel = 3\none_resistor = true\n"
    faults = survey(LOADS + text).electrics.parallel_string_faults
    assert sorted(fault.how for fault in faults) == ["open", "short"]


def test_what_a_converter_gives_is_no_short_of_a_supply() -> None:
    """One of 50 mA would be shorted from half an ampere on: of what a supply gives there is none."""
    five = (
        '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "50 mA"\n'
    )
    faults = survey(LOADS + PLUG + five).electrics.plug_faults
    assert [fault.part for fault in faults if fault.kind == "short"] == []


def test_of_two_strings_of_one_lamp_the_other_gets_what_a_shorted_one_leaves() -> None:
    """40 mA shared by two dice behind 100 ohm and one die behind 100 ohm."""
    text = STEADY[: STEADY.rindex("[[lamp]]")] + "parallel = 2\n"
    found = {fault.how: fault for fault in survey(LOADS + text).electrics.parallel_string_faults}
    assert {(fault.lamp, fault.other) for fault in found.values()} == {("port", "port")}
    assert found["open"].current == near(0.04)
    assert found["short"].current == near(_divided((100.0, 1), (100.0, 2))[1])


def test_of_two_colours_in_one_string_the_lower_rating_counts() -> None:
    """A red die of 30 mA before a blue one of 20 mA: what is too much for the blue one on the other adaptor, and beside another."""
    both = '[[lamp]]\nname = "both"\nkind = "smd-0603-red-blue"\ncircuit = "{}"\nplace = "hull"\nresistor = "220 ohm 1 W"\n'
    (fault,) = survey(both.format("horn"), "positive").electrics.wrong_adaptor_faults
    assert (fault.lamp, fault.rated) == ("both", 0.02)
    text = STEADY[: STEADY.index("[[lamp]]")] + both.format("chain") + "parallel = 2\n"
    faults = survey(LOADS + text).electrics.parallel_string_faults
    assert [(fault.how, fault.rated) for fault in faults] == [("open", 0.02), ("short", 0.02)]


def test_what_no_air_lets_it_have_is_no_rating_to_be_over() -> None:
    """At 100 degC nothing is left of what an LED stands: how many times as much a failure gives it is no figure."""
    red = (
        '[[lamp]]\nname = "red"\nkind = "plain"\ncircuit = "horn"\nplace = "hull"\nresistor = "330 ohm 1 W"\n'
    )
    text = (LOADS + STEADY + red).replace('"plain"', '"smd-0402-red"')
    hot = Survey(
        postcheck.loads(LAUNCH.format(centre="positive").replace("5..35", "5..100") + text)
    ).electrics
    assert hot.parallel_string_faults == ()
    (fault,) = hot.wrong_adaptor_faults
    assert (fault.lamp, fault.untried) == (None, False)


def test_what_a_board_drives_is_none_of_what_the_supply_feeds_itself() -> None:
    boards = survey(LOADS + BOARD).electrics.boards
    # 100 mA of the screw and 40 mA of the horn are on no board
    assert boards["driver"] == near((0.05, 0.06))
