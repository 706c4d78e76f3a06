from pathlib import Path

import pytest

import postcheck
from postcheck.checks import plugs
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import PlugFault
from tests.survey.small import adaptor, lamp, survey

from .facts import facts, values, with_figures
from .run import run

PLUG = '[[plug]]\nname = "foot"\nat = "hull"\npins = {pins}\n{more}\n'
TWO, SAME = '["lights", "main-"]', '["main-", "lights", "main-"]'


FEED = '[[run]]\nline = "{line}"\nends = ["base", "hull"]\nlength = "300 mm"\n'


def _survey(more="", pins=TWO, lamps=None):
    return survey(extra=PLUG.format(pins=pins, more=more), lamps=lamps)


@pytest.mark.parametrize(("rated", "found"), [("6 mA", 1), ("10 mA", 0)])
def test_a_pin_over_its_rating(rated, found):
    # (12.6 V - 1.8 V) / (1.5 kohm - 5 %) = 7.6 mA at most
    assert len(run(plugs, "plug.overload", _survey(f'keyed = true\nrated = "{rated}"'))[0]) == found


def test_live_pins_are_only_those_on_the_side_of_the_supply():
    (finding,), _ = run(plugs, "plug.bare-pins", _survey('bare_pins = "supply"'))
    assert "12 V" in finding.says
    assert "500 mA" in finding.why
    for side in ('bare_pins = "model"', 'bare_pins = "none"', ""):
        assert run(plugs, "plug.bare-pins", _survey(side)) == ([], [])


def test_a_single_lamp_is_lost_behind_a_crossed_plug():
    (finding,), _ = run(plugs, "plug.crossed", _survey("keyed = false"))
    assert finding.severity == "stop"
    # all of the 12.6 V stand on one die that is specified to 5 V
    assert finding.figures["reverse"].value == pytest.approx(12.6, rel=0.02)


def test_one_of_three_in_a_string_may_take_all_the_reverse_voltage():
    # in reverse only leakage flows, and it differs by powers of ten between dice: no even share is promised
    three = (
        lamp(at=" at hull").replace("smd-0402-red", "smd-0603-white").replace("1k5", "330 ohm")
        + "series = 3\n"
    )
    (finding,), _ = run(plugs, "plug.crossed", _survey("keyed = false", lamps=three))
    assert finding.severity == "stop"
    assert "gets up to 12.6 V the wrong way round. It withstands 5 V" in finding.says


WHEAT = lamp(at=" at hull").replace("smd-0402-red", "wheat-12v").replace('resistor = "1k5 1/4 W at hull"', "")
LOAD = '[[load]]\nname = "engine"\nkind = "{kind}"\ncircuit = "lights"\nplace = "hull"\ntypical = "50 mA"\n{more}'
BOARD = '[board.flasher]\nplace = "hull"\nsupply = "main"\nidle = "5 mA"\n{more}\n'
POLES = '["main+", "main-"]'


def test_a_filament_knows_no_reverse():
    (finding,), _ = run(plugs, "plug.crossed", _survey("keyed = false", lamps=WHEAT))
    assert finding.severity == "caution"
    assert "Nothing is known to be lost" in finding.why


# chips stand 0.3 to 0.5 V in reverse (absolute maximum ratings); a motor turns the other way
@pytest.mark.parametrize(
    ("kind", "more", "severity"),
    [
        ("sound", "", "stop"), ("pixels", "", "stop"), ("other", "", "stop"), ("motor", "", "caution"),
        ("sound", 'reverse = "15 V"', "caution"), ("sound", 'reverse = "12 V"', "stop"),
    ],
)  # fmt: skip
def test_a_load_behind_a_crossed_plug(kind, more, severity):
    (finding,), _ = run(
        plugs, "plug.crossed", _survey("keyed = false", lamps=LOAD.format(kind=kind, more=more))
    )
    assert finding.severity == severity
    assert ("12.6 V the wrong way round" in finding.says) == (severity == "stop")


@pytest.mark.parametrize(("more", "severity"), [("", "stop"), ('reverse = "30 V"', "caution")])
def test_a_board_behind_a_crossed_plug(more, severity):
    made = _survey(
        "keyed = false\n" + BOARD.format(more=more) + FEED.format(line="main+"), pins=POLES, lamps=""
    )
    (finding,), _ = run(plugs, "plug.crossed", made)
    assert finding.severity == severity
    assert ("'flasher' gets 12.6 V" in finding.says) == (severity == "stop")


def test_a_strip_behind_a_crossed_plug():
    strip = '[[strip]]\nname = "bay"\ncircuit = "lights"\nkind = "strip-12v-white-60"\nplace = "hull"\nsegments = 3\n'
    (finding,), _ = run(plugs, "plug.crossed", _survey("keyed = false", lamps=strip))
    assert finding.severity == "stop"
    assert "'bay'" in finding.says


def test_too_many_volts_the_right_way_round():
    # 24 V where the sound board of 5 V was: it stands 6 V
    two = '[supply.high]\nkind = "adaptor"\nplace = "base"\nvolts = "24 V"\nrated = "1 A"\nshares_negative_with = "main"\n'
    two += '[circuit.spot]\nsupply = "high"\n'
    five = 'kind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"'
    sound = LOAD.format(kind="sound", more='highest = "6 V"')
    made = survey(
        extra=PLUG.format(pins='["lights", "main-", "spot"]', more="keyed = false")
        + two
        + FEED.format(line="spot"),
        lamps=sound,
        supply=five,
    )
    (finding,), _ = run(plugs, "plug.crossed", made)
    assert finding.severity == "stop"
    assert "'engine' gets 25.2 V. It withstands 6 V." in finding.says
    assert finding.limit is not None
    assert finding.limit.value == 6.0


def test_a_crossed_plug_that_shorts_a_supply():
    # main+ comes to lie on main-, whose middle pin stays where it is: the wires to the plug, and nothing else
    made = survey(
        extra=PLUG.format(pins='["main+", "main-", "main-"]', more="keyed = false")
        + FEED.format(line="main+"),
        lamps=lamp(at=" at hull"),
    )
    (finding,), _ = run(plugs, "plug.crossed", made)
    assert "Then 'main' is shorted." in finding.says


# 12.6 V through the wires to the plug (0.6 m of 0.198 ohm/m: 0.12 ohm) and the supply's own resistance; what would push ten
# times its rating, 20 A, is a short, be it that its limit holds it
@pytest.mark.parametrize(("ohms", "shorted"), [(0.4, True), (0.6, False)])
def test_ten_times_its_rating_is_a_short(ohms, shorted):
    made = survey(
        supply=adaptor("2 A", None) + f'resistance = "{ohms} ohm"',
        extra=PLUG.format(pins='["main+", "main-", "main-"]', more="keyed = false")
        + FEED.format(line="main+"),
        lamps=lamp(at=" at hull"),
    )
    faults = [fault for fault in made.electrics.plug_faults if fault.kind == "short"]
    assert bool(faults) == shorted
    assert all(12.6 / (ohms + 0.15) < fault.current < 12.6 / ohms for fault in faults)


@pytest.mark.parametrize(("check", "how"), [("plug.crossed", "crossed"), ("plug.part-way", "part way")])
def test_where_no_currents_are_found_nothing_is_said_of_what_it_does(check, how):
    made = _survey("keyed = false\npart_way = true")
    fault = PlugFault("foot", how, "unsolved", "")
    given = type(made)(made.build)
    given.__dict__["electrics"] = made.electrics._replace(plug_faults=(fault,))
    findings, (question,) = run(plugs, check, given)
    assert findings == []
    assert "currents can be found" in question.missing


def test_a_plug_that_reads_the_same_from_both_ends_may_be_turned():
    assert run(plugs, "plug.crossed", _survey("keyed = false", pins=SAME)) == ([], [])


def test_whether_a_plug_is_keyed_must_be_said():
    findings, unjudged = run(plugs, "plug.crossed", _survey())
    assert findings == []
    assert [question.missing for question in unjudged] == [
        "whether it goes in one way only: keyed = true or false"
    ]
    assert run(plugs, "plug.crossed", _survey("keyed = true")) == ([], [])


def test_half_in():
    (finding,), _ = run(plugs, "plug.part-way", _survey("keyed = true\npart_way = true"))
    assert finding.severity == "note"
    assert run(plugs, "plug.part-way", _survey("keyed = true")) == ([], [])


def test_the_limit_of_a_diode_across_a_motor_is_where_it_conducts():
    path = Path(__file__).parents[1] / "builds" / "faulty" / "diode-plug-crossed.post.toml"
    (finding,), _ = run(plugs, "plug.crossed", Survey(postcheck.load(path)))
    assert finding.limit is not None
    assert finding.limit.value == 0.8
    assert "conducts" in finding.limit.source
    assert "withstands" not in finding.limit.source


# pins for 40 mA: what flows until they are hot is that of a motor held fast for good, the one of most and the pin of it
@pytest.mark.parametrize(
    ("held", "found"),
    [
        ({"winch": (0.03, 0.041), "pump": (0.05, 0.02), "horn": (0.3, 0.3)}, ("pump", 0.05, 1)), ({"winch": (0.03, 0.051), "pump": (0.05, 0.02)}, ("winch", 0.051, 2)),
        ({"winch": (0.04, 0.04), "pump": (0.01, 0.01), "horn": (0.3, 0.3)}, None), ({}, None),
    ],
)  # fmt: skip
def test_the_motor_that_loads_a_pin_most_while_it_is_held_fast(held, found):
    made = _survey('keyed = true\nrated = "40 mA"')
    figures = made.electrics.plugs["foot"]._replace(highest=(0.01, 0.01), held=held)
    made = with_figures(made, plugs={"foot": figures})
    made.__dict__["held_for_good"] = frozenset({"winch", "pump"})
    got = facts(plugs, "plug.overload", made)
    assert len(got) == (found is not None)
    for fact in got:
        motor, amps, pin = found
        assert (fact.case, fact.parts["load"]) == ("held", Subject("load", motor))
        assert values(fact) == {"current": amps, "rated": 0.04, "pin": pin}
