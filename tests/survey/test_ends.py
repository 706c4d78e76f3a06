"""Every end where a hand finds it: lines by one name, sides as they really are."""

from __future__ import annotations

from collections import Counter

import pytest

import postcheck
from postcheck.survey import Survey
from postcheck.survey.bench.ends import ConductorEnd
from postcheck.survey.sheet.bench import bench_places
from tests.survey.small import lamp, survey

AUX = """
[supply.logic]
kind = "converter"
from = "main"
place = "base"
volts = "5 V"
[circuit.arm]
supply = "logic"
switched = "negative"
[circuit.beacon]
supply = "main"
own_return = true
[[run]]
line = "arm"
ends = ["base", "hull"]
length = "300 mm"
[[run]]
line = "logic+"
ends = ["base", "hull"]
length = "300 mm"
[[run]]
line = "beacon"
ends = ["base", "hull"]
length = "300 mm"
conductors = 2
[[run]]
name = "beacon back"
line = "beacon-return"
ends = ["base", "hull"]
length = "300 mm"
label = " B- "
[[run]]
line = "words"
carries = "data"
ends = ["base", "hull"]
[[run]]
name = "reserve"
spare = true
ends = ["base", "hull"]
colour = "grey"
[[lamp]]
name = "arm lamp"
circuit = "arm"
kind = "smd-0402-red"
place = "bow"
resistor = "1k 1/4 W"
lead = { length = "120 mm", to = "hull", colours = ["black", "Red"], label = "arm", back = { label = "arm +", wire = "ptfe-30" } }
[[lamp]]
name = "beacon lamp"
circuit = "beacon"
kind = "smd-0402-red"
place = "hull"
resistor = "1k 1/4 W"
"""


def at(ends: tuple[ConductorEnd, ...], place: str, name: str) -> list[ConductorEnd]:
    return [end for end in ends if (end.place, end.name) == (place, name)]


def test_every_end_is_listed_once() -> None:
    ends = survey(extra=AUX).ends
    # two legs of each of two leads (the third lamp has none), two ends of nine conductors
    assert Counter(end.kind for end in ends) == {"lamp": 4, "run": 18}
    assert Counter(end.place for end in ends) == {"hull": 4 + 9, "base": 9}


def test_a_leg_as_a_hand_finds_it() -> None:
    feed, back = at(survey(extra=AUX).ends, "hull", "arm lamp")
    assert (feed.leg, feed.colour, feed.letters, feed.wire, feed.label, feed.own_label) == (
        "supply", "black", "BK", "enamel-0.10", "arm", False,
    )  # fmt: skip
    assert (back.leg, back.colour, back.letters, back.wire, back.label, back.own_label) == (
        "return", "Red", "RD", "ptfe-30", "arm +", True,
    )  # fmt: skip
    # switched in the negative: the switched leg is the negative one
    assert (feed.net, feed.positive) == ("arm", False)
    assert (back.net, back.positive) == ("logic+", True)


def test_sides_and_lines_of_runs() -> None:
    ends = survey(extra=AUX).ends
    (here,), (there,) = at(ends, "base", "beacon back"), at(ends, "hull", "beacon back")
    assert (here.net, there.net) == (
        "main-",
        "beacon-return",
    )  # it begins at the pole, and is its own elsewhere
    assert here.positive is there.positive is False
    assert here.label == "B-"
    (data,) = at(ends, "hull", "words base-hull")
    assert (data.net, data.positive) == ("words", None)
    (spare,) = at(ends, "hull", "reserve")
    assert (spare.net, spare.positive, spare.letters) == ("", None, "GY")


def test_joined_lines_are_one_everywhere_and_a_shared_negative_is_one() -> None:
    joined = """
[supply.logic]
kind = "converter"
from = "main"
place = "base"
volts = "5 V"
[circuit.cabin]
supply = "main"
[circuit.arm]
supply = "logic"
[[run]]
name = "arm feed"
line = "arm"
ends = ["base", "hull"]
length = "300 mm"
[[run]]
name = "cabin feed"
line = "cabin"
ends = ["base", "hull"]
length = "300 mm"
[[lamp]]
name = "arm lamp"
circuit = "arm"
kind = "smd-0402-red"
place = "bow"
resistor = "1k 1/4 W"
lead = "120 mm to hull"
[[join]]
place = "base"
lines = ["lights", "cabin"]
"""
    ends = survey(extra=joined).ends
    assert {end.net for end in ends if end.name in ("feed", "cabin feed")} == {"lights"}
    feed, back = at(ends, "hull", "arm lamp")
    assert (feed.net, back.net) == ("arm", "main-")


DICE = """
[supply.logic]
kind = "adaptor"
place = "base"
volts = "5 V"
[circuit.red]
supply = "logic"
[circuit.green]
supply = "logic"
[[lamp]]
name = "signal arm"
kind = "smd-5050-rgb"
place = "base"
lead = { length = "150 mm", colours = COLOURS }
dice = { red = { circuit = "red", resistor = "220 ohm" }, green = { circuit = "green", resistor = "150 ohm" } }
"""


def test_a_lamp_of_several_colours_has_a_feed_for_each_and_one_back() -> None:
    said = survey(extra=DICE.replace("COLOURS", '["red", "green", "black"]')).ends
    assert [(end.leg, end.net, end.colour) for end in said if end.name == "signal arm"] == [
        ("supply", "red", "red"), ("return", "logic-", "black"), ("supply", "green", "green"),
    ]  # fmt: skip
    # two colours for three wires: which feed has the first is not said
    short = survey(extra=DICE.replace("COLOURS", '["red", "black"]')).ends
    assert [end.colour for end in short if end.name == "signal arm"] == ["", "black", ""]


def test_a_label_of_blanks_is_none() -> None:
    build = survey(
        lamps=lamp().replace('"120 mm to hull"', '{ length = "120 mm", to = "hull", label = "  " }')
    ).build
    assert {end.label for end in Survey(build).ends} == {""}
    assert postcheck.check(build).files[0].verdict == "clear"


NEGATIVE = '[circuit.anchor]\nsupply = "main"\nswitched = "negative"\n[[lamp]]\nname = "anchor lamp"\ncircuit = "anchor"\nkind = "smd-0402-red"\nplace = "base"\nresistor = "1k5"\nlead = {}\n'


@pytest.mark.parametrize(
    ("lead", "plus", "asked"),
    [
        ('"100 mm to base, red/black"', "", True),
        ('"100 mm to base, RD/BK"', "", True),
        ('"100 mm to base, black/red"', "red", False),
        ('"100 mm to base, red/blue"', "blue", False),
        ('{ length = "100 mm", to = "base", feed = { colour = "red" }, back = { colour = "black" } }', "black", False),
    ],
)  # fmt: skip
def test_red_and_black_switched_in_the_negative(lead, plus, asked):
    made = survey(extra=NEGATIVE.format(lead))
    # the common leg is the positive one there
    ends = {end.positive: end.colour for end in made.ends if end.name == "anchor lamp"}
    assert ends[True] == plus
    assert [subject for subject, *_ in made.parts.unknown] == ["anchor lamp"] * asked
    (card,) = (row for place in bench_places(made) for row in place.leads if row.name == "anchor lamp")
    assert (card.plus_colour, card.minus_colour) == (
        plus,
        {"": "", "red": "black", "blue": "red", "black": "red"}[plus],
    )


def test_a_conductor_comes_out_of_its_sheath_at_both_ends() -> None:
    cord = '[cable.cord]\noutside = "3 mm"\n[[run]]\nname = "in cord"\nspare = true\ncable = "cord"\nends = ["base", "hull"]\n'
    ends = survey(extra=cord).ends
    assert [end.cable for place in ("base", "hull") for end in at(ends, place, "in cord")] == ["cord", "cord"]
    assert [end.cable for end in at(ends, "hull", "feed")] == [""]


def test_both_ends_of_a_lead_are_written_in_the_lead_of_their_lamp() -> None:
    two = lamp() + lamp().replace("bow lamp", "second lamp")
    paths = {(end.name, end.path) for end in survey(lamps=two).ends if end.kind == "lamp"}
    assert paths == {("bow lamp", ("lamp", 0, "lead")), ("second lamp", ("lamp", 1, "lead"))}
