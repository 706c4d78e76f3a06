"""What the lookup makes of lamps and resistors: each value by hand from what the file says."""

from __future__ import annotations

from math import pi

import pytest

import postcheck
from tests.survey.small import LAMP, lamp, survey

COLOUR = """
[circuit.green]
supply = "main"
[[run]]
name = "green feed"
line = "green"
ends = ["base", "hull"]
length = "300 mm"
"""
DICE = '[[lamp]]\nname = "bow lamp"\nkind = "smd-0603-rgb"\nplace = "bow"\nlead = {{ length = "120 mm", to = "hull", colours = {colours} }}\ndice = {{ {dice} }}\n'
RED, GREEN = (
    f'{colour} = {{ circuit = "{circuit}", resistor = "1k 1/4 W" }}'
    for colour, circuit in (("red", "lights"), ("green", "green"))
)


@pytest.mark.parametrize(
    ("dice", "colours", "legs"),
    [
        # one colour is as any other lamp: the lead's first colour is on the supply side
        ((RED,), '["red", "black"]', [("red", "black")]),
        # of several each has its own, and the last is what they share
        ((RED, GREEN), '["red", "green", "black"]', [("red", "black"), ("green", "black")]),
        # with another number of colours nothing is said of which is which
        ((RED, GREEN), '["red", "black"]', [(None, "black"), (None, "black")]),
        ((RED, GREEN), '["black"]', [(None, None), (None, None)]),
    ],
)
def test_which_colour_of_a_lead_is_on_which_side(dice, colours, legs) -> None:
    extra = COLOUR if len(dice) > 1 else ""
    parts = survey(lamps=DICE.format(colours=colours, dice=", ".join(dice)), extra=extra).parts.lamps
    assert [(part.supply_leg.colour, part.return_leg.colour) for part in parts] == legs


# Copper of IEC 60028, 17.241 nohm m at 20 degC: 0.5 mm solid 87.8 mohm/m; seven strands of 0.127 mm 2 % more by their lay (ASTM B496)
@pytest.mark.parametrize(
    ("strands", "strand", "ohms"),
    [
        (1, "0.5 mm", 17.241e-9 / (pi / 4 * 0.5e-3**2)),
        (7, "0.127 mm", 1.02 * 17.241e-9 / (7 * pi / 4 * 0.127e-3**2)),
    ],
)
def test_the_resistance_of_a_wire_that_the_file_describes(strands, strand, ohms) -> None:
    wire = f'[wire.own]\nstrand = "{strand}"\nstrands = {strands}\noutside = "0.9 mm"\n'
    run = next(part for part in survey(extra=wire, wire="own", lamps="").parts.runs if part.name == "feed")
    assert run.ohms(20.0) == pytest.approx(0.3 * ohms, rel=1e-3)


# what carries no current of a lamp loses none of its volts, however long it is
@pytest.mark.parametrize(
    ("run", "asked"),
    [('line = "lights"', True), ("spare = true", False), ('line = "lights"\nohms = "0.2 ohm"', False)],
)
def test_how_long_a_run_is_is_asked_where_its_volts_count(run, asked) -> None:
    made = survey(lamps=lamp(at=""), extra=f'[[run]]\nname = "aft"\nends = ["hull", "bow"]\n{run}\n')
    named = {question.subject for question in postcheck.check(made.build).files[0].not_judged}
    assert ("aft" in named) is asked


# a link of nothing limits nothing, nor does a trimmer that may be turned there; a tenth of an ohm is a resistor
@pytest.mark.parametrize(
    ("text", "ohms"),
    [("0 ohm", None), ("0.1 ohm 1/4 W", 0.1), ("1 ohm 1/4 W", 1.0), ("trimmer 1k", None), ("470 ohm 1/4 W + trimmer 1k set to 300", 770.0)],
)  # fmt: skip
def test_what_limits_nothing_is_no_resistor(text, ohms) -> None:
    lamps = (
        LAMP.format(at="", lead="120 mm to hull")
        .replace('kind = "smd-0402-red"', 'kind = "rice-12v"')
        .replace("1k5 1/4 W", text)
    )
    part = survey(lamps=lamps).parts.named["bow lamp"]
    assert (None if part.resistor is None else part.resistor.ohms) == ohms


@pytest.mark.parametrize(
    ("lead", "typed", "whole", "legs"),
    [
        ('{ to = "hull" }', "100 mm to hull", True, (0.0, 0.0)),
        ("{ }", "100 mm", True, (0.0, 0.0)),
        ('{ to = "hull", wire = "ptfe-30" }', "100 mm of ptfe-30 to hull", True, (0.0, 0.0)),
        # what else the lead says would be lost if that line were typed over it
        ('{ to = "hull", colours = ["red", "black"] }', "100 mm to hull", False, (0.0, 0.0)),
        ('{ to = "hull", feed = { length = "90 mm" } }', "100 mm to hull", False, (0.09, 0.0)),
        ('{ to = "hull", back = { wire = "ptfe-30" }, feed = { length = "90 mm" } }', "100 mm of ptfe-30 to hull", False, (0.09, 0.0)),
        ('{ to = "hull", length = "200 mm", feed = { length = "90 mm" } }', None, False, (0.09, 0.2)),
    ],
)  # fmt: skip
def test_what_is_typed_for_a_lead_of_unknown_length(
    lead: str, typed: str | None, whole: bool, legs: tuple[float, float]
) -> None:
    made = survey(lamps=LAMP.format(at="", lead="X").replace('"X"', lead)).parts
    part = made.named["bow lamp"]
    assert (part.supply_leg.length, part.return_leg.length) == legs
    asked = set(made.unknown)
    if typed is None:
        assert asked == set()
    else:
        (one,) = asked
        line = f'lead = "{typed}"'
        assert (one.subject, one.missing) == ("bow lamp", f"its length, such as {line}")
        assert (one.vital, one.lines, one.under) == (True, (line,) if whole else (), ("lamp", 0))
