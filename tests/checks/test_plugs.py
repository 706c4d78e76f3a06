import pytest

from postcheck.checks import plugs
from tests.survey.small import lamp, survey

from .run import run

PLUG = '[[plug]]\nname = "foot"\nends = ["base", "hull"]\npins = {pins}\n{more}\n'
TWO, SAME = '["lights", "main-"]', '["main-", "lights", "main-"]'


def _survey(more="", pins=TWO, lamps=None):
    made = survey(extra=PLUG.format(pins=pins, more=more), lamps=lamps)
    return type(made)(made.build.model_copy(update={"run": []}))  # the plug alone joins base and hull


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


def test_three_in_a_string_share_the_reverse_voltage():
    three = (
        lamp(at=" at hull").replace("smd-0402-red", "smd-0603-white").replace("1k5", "330 ohm")
        + "series = 3\n"
    )
    (finding,), _ = run(plugs, "plug.crossed", _survey("keyed = false", lamps=three))
    assert finding.severity == "caution"


def test_a_plug_that_reads_the_same_from_both_ends_may_be_turned():
    assert run(plugs, "plug.crossed", _survey("keyed = false", pins=SAME)) == ([], [])


def test_whether_a_plug_is_keyed_must_be_said():
    findings, unjudged = run(plugs, "plug.crossed", _survey())
    assert findings == []
    assert [question.missing for question in unjudged] == ["whether it goes in one way only (keyed)"]
    assert run(plugs, "plug.crossed", _survey("keyed = true")) == ([], [])


def test_half_in():
    (finding,), _ = run(plugs, "plug.part-way", _survey("keyed = true\npart_way = true"))
    assert finding.severity == "caution"
    assert run(plugs, "plug.part-way", _survey("keyed = true")) == ([], [])
