"""What a row of figures is made of, with numbers that all differ: which of them it is, and where none is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

import postcheck
from postcheck.survey import Survey, summary
from tests.survey.small import adaptor, survey
from tests.survey.test_beside_the_destroyed import HEAD, LAMP, RUNS
from tests.survey.test_posts_by_hand import PLAIN, spares
from tests.survey.test_posts_by_hand import survey as posted

BATTERY = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 6\n'


@pytest.mark.parametrize(
    ("dims", "lasts", "told"),
    [
        (7000.0, 9000.0, 7000.0),
        (9000.0, 9000.0, None),
        (9500.0, 9000.0, None),
        (None, 9000.0, None),
        (7000.0, None, None),
    ],
)
def test_when_a_battery_dims_is_told_where_it_comes_before_its_end(
    dims: float | None, lasts: float | None, told: float | None
) -> None:
    made = survey(supply=BATTERY)
    supply = made.electrics.supplies["main"]
    battery = made.batteries["main"]._replace(seconds=lasts, dim_seconds=dims)
    row = summary._supply(supply, battery, None, whole=True)
    assert (row["lasts"], row["dims"]) == (lasts, told)
    assert (row["nominal"], row["highest"], row["rated"]) == (supply.nominal, supply.highest, supply.rated)
    assert row.keys() == {"nominal", "highest", "headroom", "rated", "lasts", "dims"}
    # of one that is to carry more than is there none of it is known
    row = summary._supply(supply, battery, (0.25, 0.5), whole=False)
    assert (row["lasts"], row["dims"], row["headroom"]) == (None, None, None)
    assert (row["input"], row["input_highest"]) == (0.25, 0.5)


def test_a_supply_that_is_no_battery_has_its_headroom() -> None:
    supply = survey(supply=adaptor("250 mA")).electrics.supplies["main"]
    row = summary._supply(supply, None, None, whole=True)
    assert row == {
        "nominal": supply.nominal, "highest": supply.highest, "rated": 0.25,
        "headroom": pytest.approx(1.0 - supply.highest / 0.25),
    }  # fmt: skip


def test_of_a_passage_that_turns_the_weakest_wire_is_told() -> None:
    """Of two wires the second; a cable of which no wire is known is passed over."""
    post = 'bore = "5 mm"\nlength = "100 mm"\nturn = "180 deg"\nstop = true\nslack = "5 mm"\ncycles = "3000 cycles"\n'
    passage = posted(post, spares("solid", "seven", "thin")).passages["post"]
    first, second, third = passage.members
    weak = passage._replace(
        members=(first, second, third._replace(wire=None)),
        cycles_to_failure=((5e4, 9e4), (2e4, 8e4), (1e3, 2e3)),
    )
    row = summary._passage(weak)
    assert (row["life_least"], row["life_most"]) == (2e4, 8e4)
    assert (row["cycles"], row["turn_borne"], row["slack_needed"]) == (
        3000.0,
        passage.turn_borne,
        passage.slack_needed,
    )
    unknown = weak._replace(members=tuple(member._replace(wire=None) for member in passage.members))
    row = summary._passage(unknown)
    assert (row["life_least"], row["life_most"]) == (None, None)
    still = posted(PLAIN.format(length=160), spares("solid")).passages["post"]
    assert summary._passage(still) == {
        "fill": still.fill, "smallest_bore": still.smallest_bore, "verdict": "fits", "bore": 0.005,
    }  # fmt: skip


def test_a_lamp_without_a_resistor_of_its_own_has_none_and_no_lead_loses_less_than_nothing() -> None:
    made = survey()
    held = made.electrics.lamps["bow lamp"]
    row = summary._lamp(made, held)
    assert row == {
        "nominal": held.nominal, "lowest": held.lowest, "highest": held.highest, "alone": held.alone,
        "joints": held.joint_volts, "lead_drop": held.lead_drop, "resistor": held.resistor_nominal,
        "resistor_highest": held.resistor_highest, "air": held.hottest,
    }  # fmt: skip
    assert len({row["nominal"], row["lowest"], row["highest"]}) == 3
    assert row["resistor"] != row["resistor_highest"]
    bare = held._replace(part=replace(held.part, resistor=None), lead_drop=-1e-12)
    row = summary._lamp(made, bare)
    assert (row["resistor"], row["resistor_highest"], row["lead_drop"]) == (None, None, 0.0)


def test_whether_the_worst_of_a_lamp_was_tried_or_shown() -> None:
    loop = '[[run]]\nname = "twin"\nline = "lights"\nends = ["base", "hull"]\nlength = "400 mm"\n'
    for extra, corners in (("", None), (loop, "tried")):
        made = survey(extra=extra)
        row = summary._lamp(made, made.electrics.lamps["bow lamp"])
        assert row.get("corners") == corners


def test_what_is_to_carry_more_than_is_there_is_told_in_part() -> None:
    """Of a bulb whose volts nobody gives: its circuit, board and supplies up to the first, and each place that it is in."""
    text = """
format = 1
[build]
name = "Tender"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "1 A"
[supply.five]
kind = "converter"
from = "main"
place = "base"
volts = "5 V"
rated = "1 A"
[supply.aux]
kind = "adaptor"
place = "base"
rated = "1 A"
[supply.low]
kind = "adaptor"
place = "base"
volts = "9 V"
rated = "1 A"
[place.base]
access = "cover"
[place.hull]
access = "cover"
[circuit.lights]
supply = "aux"
[circuit.horn]
supply = "five"
[[lamp]]
name = "bow"
circuit = "lights"
kind = "smd-0603-red"
place = "hull"
resistor = "470 ohm"
"""
    made = Survey(postcheck.loads(text))
    assert [part.name for part in made.parts.apart] == ["bow"]
    assert summary._partial(made) == {
        ("circuit", "lights"),
        ("place", "hull"),
        ("board", ""),
        ("supply", "aux"),
    }


STRIP = (
    '[strip_kind.own]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 4\nohms = "120 ohm"\nkind = "plain"\n'
    '[[strip]]\nname = "hall"\ncircuit = "lights"\nkind = "own"\nplace = "bow"\nsegments = 3\ntrace = "30 ohm/m"\n'
)


def test_of_a_destroyed_lamp_each_string_is_told_so_and_of_others_each_has_its_figures() -> None:
    """All on the supply that carries it have none either; a place that it warms has no air to tell, nor a sound lamp in it."""
    text = HEAD + RUNS + STRIP
    for name, place, ohms, strings in (
        ("bare", "hull", "20 ohm 10 W", 2), ("beside", "hull", "470 ohm 1 W", 1), ("sound", "bow", "470 ohm 1 W", 3),
    ):  # fmt: skip
        text += LAMP.format(name=name, place=place, ohms=ohms) + f"parallel = {strings}\n"
    made = Survey(postcheck.loads(text))
    figures, electrics = made.figures, made.electrics
    assert list(figures["strings"]) == ["bare 1", "bare 2", "sound 1", "sound 2", "sound 3"]
    for number in (1, 2):
        assert figures["strings"][f"bare {number}"] == {"nominal": None, "fate": "lamp destroyed"}
    for number, amps in enumerate(electrics.lamps["sound"].strings, 1):
        assert figures["strings"][f"sound {number}"] == {"nominal": amps}
    assert [figures["lamps"][name].get("fate") for name in ("bare", "beside", "sound")] == [
        "destroyed", "lamp destroyed", None,
    ]  # fmt: skip
    bare, beside, sound = (figures["lamps"][name] for name in ("bare", "beside", "sound"))
    assert (bare["nominal"], bare["air"]) == (None, None)
    assert (beside["nominal"], beside["air"]) == (electrics.lamps["beside"].nominal, None)
    assert sound["air"] == electrics.lamps["sound"].hottest
    assert figures["supplies"]["main"] == {
        "nominal": None, "highest": None, "headroom": None, "rated": 40.0, "fate": "lamp destroyed",
    }  # fmt: skip
    assert figures["places"]["hull"] == {"heat": None, "rise": None, "air": None, "fate": "lamp destroyed"}
    assert figures["places"]["bow"]["heat"] == made.places["bow"].heat
    for number, (volts, amps) in enumerate(electrics.strips["hall"].segments, 1):
        assert figures["segments"][f"hall {number}"] == {"volts": volts, "current": amps}
    assert list(figures["segments"]) == ["hall 1", "hall 2", "hall 3"]


def test_where_nothing_takes_current_a_place_has_the_heat_that_the_file_gives_it() -> None:
    """With a supply of which nobody knows the volts no network is solved, and none has failed."""
    made = survey(
        supply='kind = "adaptor"\nplace = "base"\nrated = "1 A"',
        hull='access = "sealed"\nsurface = "100 cm2"\nheat = "0.25 W"',
        lamps="",
    )
    assert (made.electrics.supplies, made.electrics.failed) == ({}, ())
    assert made.figures["places"]["hull"] == {
        "heat": 0.25, "rise": pytest.approx(0.25 / (3.5 * 0.01)), "air": pytest.approx(35.0 + 0.25 / (3.5 * 0.01)),
    }  # fmt: skip


def test_a_place_without_currents_has_no_heat_to_report() -> None:
    place = survey().places["hull"]._replace(heat=0.25, rise=3.0, hottest=38.0)
    assert summary._place(place, solved=True) == {"heat": 0.25, "rise": 3.0, "air": 38.0}
    assert summary._place(place, solved=False) == {"heat": None, "rise": None, "air": None}


@pytest.mark.parametrize(
    ("drop", "spare"), [(None, None), (0.75, None), (0.75, 0.25), (0.75, -0.25), (0.0, 0.0)]
)
def test_what_a_steady_output_has_to_spare_is_told_where_there_is_one(
    drop: float | None, spare: float | None
) -> None:
    circuit = survey().electrics.circuits["lights"]
    row = summary._circuit(circuit._replace(nominal=0.125, highest=0.5, drop=drop, spare=spare))
    told = {"nominal": 0.125, "highest": 0.5, "drop": drop, "spare": spare}
    assert row == {name: value for name, value in told.items() if value is not None}


@pytest.mark.parametrize(("heat", "fated"), [(0.0, False), (0.001, True)])
def test_a_place_in_which_a_destroyed_lamp_makes_no_heat_keeps_its_figures(heat: float, fated: bool) -> None:
    made = Survey(postcheck.loads(HEAD + RUNS + LAMP.format(name="bare", place="hull", ohms="20 ohm 10 W")))
    made.__dict__["places"] = {**made.places, "hull": made.places["hull"]._replace(heat=heat)}
    row = made.figures["places"]["hull"]
    assert (row["heat"], row.get("fate")) == ((None, "lamp destroyed") if fated else (heat, None))
