"""What has to be proven before a place is closed, and which test record goes through what."""

from __future__ import annotations

import pytest

from postcheck.survey import Survey
from postcheck.survey.closing.figures import Closing

from .small import lamp, survey
from .test_test_records import record

RESISTOR_IN_THE_HULL = lamp(at=" at hull")
BOW_RUNS = """
[[run]]
name = "bow feed"
line = "lights"
ends = ["hull", "bow"]
length = "100 mm"
[[run]]
name = "bow negative"
line = "main-"
ends = ["hull", "bow"]
length = "100 mm"
"""
STRAIGHT = lamp().replace('lead = "120 mm to hull"', "")


def closing(place: str, extra: str = "", lamps: str | None = None) -> Closing:
    build = survey(lamps=lamps, extra=extra).build
    return Survey(build, closing=[place]).closing[place]


def lacking(place: str, extra: str = "", lamps: str | None = None) -> list[tuple[str, str]]:
    return [(one.kind, one.name) for one in closing(place, extra, lamps).unproven]


MEASURED = record(subject='"bow lamp"', volts='"12 V"', current='"6.6 mA"')
OF_THE_CIRCUIT = record(subject='"lights"', volts='"12 V"', current='"6.6 mA"')


def test_nothing_is_asked_of_a_build_that_is_not_being_closed() -> None:
    assert survey().closing == {}


def test_at_closing_every_sealed_place_is_meant_and_no_other() -> None:
    build = survey(hull='access = "sealed"').build
    assert list(Survey(build, stage="closing").closing) == ["hull"]
    assert list(Survey(build, stage="closing", closing=["bow"]).closing) == ["bow"]


def test_a_lamp_and_its_resistor_are_proven_by_its_own_current() -> None:
    assert lacking("bow") == [("lamp", "bow lamp"), ("resistor", "bow lamp")]
    assert lacking("bow", MEASURED) == []
    assert lacking("bow", record(subject='"bow lamp"', hours='"24 h"')) == [
        ("lamp", "bow lamp"),
        ("resistor", "bow lamp"),
    ]


def test_a_reading_outside_its_band_proves_nothing() -> None:
    wrong = MEASURED.replace("6.6 mA", "3 mA")
    assert lacking("bow", wrong) == [("lamp", "bow lamp"), ("resistor", "bow lamp")]


def test_a_bare_lead_does_not_prove_a_resistor_that_sits_elsewhere() -> None:
    bare = record(subject='"bow lamp"', volts='"1.8 V"', current='"2 mA"')
    assert ("resistor", "bow lamp") in lacking("hull", bare, RESISTOR_IN_THE_HULL)
    assert lacking("bow", bare, RESISTOR_IN_THE_HULL) == []
    assert ("resistor", "bow lamp") not in lacking("hull", MEASURED, RESISTOR_IN_THE_HULL)


def test_joints_and_conductors_are_proven_by_what_goes_through_them() -> None:
    assert lacking("hull", MEASURED) == [("joint", "bow lamp"), ("run", "feed"), ("run", "negative")]
    assert lacking("hull", OF_THE_CIRCUIT) == []
    # measured in the hull, the current goes through the joint there and not through the post
    at_hull = OF_THE_CIRCUIT + 'at = "hull"\n'
    assert lacking("hull", at_hull) == [("run", "feed"), ("run", "negative")]
    ends = "".join(record(subject=f'"{run}"', continuity="true") for run in ("feed", "negative"))
    assert lacking("hull", at_hull + ends) == []


def test_a_broken_conductor_is_not_proven_by_having_been_tried() -> None:
    broken = record(subject='"feed"', continuity="false", done='"tried"')
    assert ("run", "feed") in lacking("hull", broken)


def test_of_two_ways_round_a_current_proves_one() -> None:
    second = '[[run]]\nname = "second feed"\nline = "lights"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    assert lacking("hull", second + OF_THE_CIRCUIT) == [("run", "second feed")]


def test_a_lamp_soldered_to_its_line_is_proven_whole_by_its_circuit() -> None:
    assert lacking("bow", BOW_RUNS, STRAIGHT) == [
        ("lamp", "bow lamp"), ("joint", "bow lamp"), ("resistor", "bow lamp"), ("run", "bow feed"), ("run", "bow negative"),
    ]  # fmt: skip
    assert lacking("bow", BOW_RUNS + OF_THE_CIRCUIT, STRAIGHT) == []


@pytest.mark.parametrize(("count", "seen"), [(2, True), (12, False)])
def test_a_circuit_proves_a_lamp_only_if_it_would_be_missed(count: int, seen: bool) -> None:
    """One of two equal lamps dark halves the current; one of twelve takes a twelfth, less than 5 % parts and the meter hide."""
    lamps = "".join(lamp().replace("bow lamp", f"bow {number}") for number in range(count))
    whole = record(subject='"lights"', volts='"12 V"', current=f'"{count * 6.6:.1f} mA"')
    kinds = {kind for kind, _ in lacking("bow", whole, lamps)}
    assert kinds == (set() if seen else {"lamp", "resistor"})


def test_its_own_record_counts_before_that_of_its_circuit_and_none_that_shows_nothing() -> None:
    """The first lights nothing, the second is out of its band (6.6 mA by hand: (12 V - 2.1 V) / 1.5 kohm)."""
    dark = record(subject='"bow lamp"', volts='"1 V"', current='"0 mA"')
    wrong = MEASURED.replace("6.6 mA", "3 mA")
    by = {
        (one.kind, one.name): one.by
        for one in closing("bow", dark + wrong + OF_THE_CIRCUIT + MEASURED).needed
    }
    assert by == {("lamp", "bow lamp"): 3, ("resistor", "bow lamp"): 3}
    by = {
        (one.kind, one.name): one.by
        for one in closing("bow", dark + wrong + MEASURED + OF_THE_CIRCUIT).needed
    }
    assert by == {("lamp", "bow lamp"): 2, ("resistor", "bow lamp"): 2}
    # a run: its own continuity before a current that went through it, and that before nothing
    through = record(subject='"feed"', continuity="true")
    by = {(one.kind, one.name): one.by for one in closing("hull", dark + OF_THE_CIRCUIT + through).needed}
    assert by == {("joint", "bow lamp"): 1, ("run", "feed"): 2, ("run", "negative"): 1}


def test_a_plug_is_proven_when_every_pin_is() -> None:
    """Two lines through one plug: the current of the circuit goes through both pins, one that is measured behind it through neither."""
    plug = '[[plug]]\nname = "post plug"\nat = "hull"\npins = ["lights", "main-"]\n'
    assert ("plug", "post plug") in lacking("hull", plug)
    assert ("plug", "post plug") not in lacking("hull", plug + OF_THE_CIRCUIT)
    assert ("plug", "post plug") in lacking("hull", plug + record(subject='"post plug"', continuity="false"))
    by = {
        one.name: one.by
        for one in closing(
            "hull", plug + OF_THE_CIRCUIT + record(subject='"post plug"', continuity="true")
        ).needed
    }
    assert by["post plug"] == 1
    one_pin = plug.replace(', "main-"', ', "main+"')
    assert ("plug", "post plug") in lacking("hull", one_pin + OF_THE_CIRCUIT)


def test_how_long_it_ran_is_the_longest_of_its_own_and_of_what_drives_it() -> None:
    runs = record(subject='"lights"', hours='"20 h"') + record(subject='"main"', hours='"30 h"')
    (ran,) = closing("bow", MEASURED + 'hours = "1 h"\n' + runs).ran
    assert ran == ("bow lamp", 20 * 3600.0)  # nothing says that it hung on the supply
    (ran,) = closing("bow", OF_THE_CIRCUIT + runs).ran
    assert ran == ("bow lamp", 30 * 3600.0)


FIXTURES = """
[board.winker]
place = "hull"
supply = "main"
[[run]]
name = "to the board"
line = "main+"
ends = ["base", "hull"]
length = "300 mm"
[[run]]
name = "reserve"
spare = true
ends = ["base", "hull"]
length = "300 mm"
[[plug]]
name = "post plug"
at = "hull"
pins = ["main+"]
"""


def test_boards_plugs_and_spare_conductors_have_proofs_of_their_own() -> None:
    asked = {one.name: one.ask for one in closing("hull", FIXTURES + OF_THE_CIRCUIT).unproven}
    assert asked == {
        "winker": ("board", "winker"), "to the board": ("run", "to the board"), "reserve": ("run", "reserve"),
        "post plug": ("plug", "post plug"),
    }  # fmt: skip
    tried = record(subject='"winker"', done='"winked for an hour"')
    tried += "".join(
        record(subject=f'"{name}"', continuity="true") for name in ("to the board", "reserve", "post plug")
    )
    assert lacking("hull", FIXTURES + OF_THE_CIRCUIT + tried) == []


def test_what_is_reached_and_what_needs_cutting() -> None:
    made = survey(
        lamps=RESISTOR_IN_THE_HULL.replace('to hull"', 'to hull, red/black"'), hull='access = "sealed"'
    )
    reach = {(one.kind, one.place): one.reach for one in made.access}
    assert reach == {
        ("lamp", "bow"): "open", ("joint", "hull"): "cut", ("resistor", "hull"): "cut", ("supply", "base"): "open",
    }  # fmt: skip
    covered = survey(lamps=RESISTOR_IN_THE_HULL, hull='access = "cover"')
    assert {one.reach for one in covered.access if one.place == "hull"} == {"cover"}


def test_what_is_trapped_needs_cutting_wherever_it_is() -> None:
    made = survey(extra=BOW_RUNS.replace('length = "100 mm"', 'length = "100 mm"\nfixed = true', 1))
    assert {(one.name, one.place, one.reach) for one in made.access if one.kind == "conductor"} == {
        ("bow feed", "hull", "cut"), ("bow feed", "bow", "cut"),
    }  # fmt: skip


def asked(place: str, extra: str = "", lamps: str | None = None) -> list[tuple[str, str]]:
    return list(dict.fromkeys(one.ask for one in closing(place, extra, lamps).unproven))


def several(count: int, wide: str = "") -> str:
    return "".join(lamp().replace("bow lamp", f"bow {number}") for number in range(count)) + wide


def test_a_circuit_is_asked_for_once_where_it_shows_every_lamp() -> None:
    assert asked("bow", lamps=several(3)) == [("circuit", "lights")]
    whole = record(subject='"lights"', volts='"12 V"', current='"19.8 mA"')
    assert lacking("bow", whole, several(3)) == []
    # one test is one test: a lone lamp is tried before it is joined
    assert asked("bow") == [("lamp", "bow lamp")]
    # a dark one of twelve does not show
    assert asked("bow", lamps=several(12)) == [("lamp", f"bow {number}") for number in range(12)]
    # nor a small one beside a large one; where the joints ask for the circuit, what shows is asked with them
    wide = (
        lamp()
        .replace("bow lamp", "floodlight")
        .replace('"1k5 1/4 W"', '"560 ohm 1/2 W"')
        .replace("place =", "parallel = 4\nplace =")
    )
    assert ("lamp", "bow 0") in asked("bow", lamps=several(2, wide))
    straight = several(1, wide).replace('lead = "120 mm to hull"', "")
    assert asked("bow", BOW_RUNS, straight) == [("lamp", "bow 0"), ("circuit", "lights")]


def test_what_a_circuits_reading_did_not_show_is_asked_for_itself() -> None:
    """Five take 30 to 36 mA (by the tolerance of the parts), four no more than 28.6, with the meter's 3 % 29.4."""
    assert asked("bow", lamps=several(5)) == [("circuit", "lights")]
    high = record(subject='"lights"', volts='"12 V"', current='"33 mA"')
    assert asked("bow", high, several(5)) == []
    low = record(subject='"lights"', volts='"12 V"', current='"29.3 mA"')
    assert asked("bow", low, several(5)) == [("lamp", f"bow {number}") for number in range(5)]


def test_of_two_places_one_test_of_a_circuit_serves_both() -> None:
    made = Survey(survey().build, closing=["bow", "hull"]).closing
    assert {one.ask for closed in made.values() for one in closed.unproven} == {("circuit", "lights")}


@pytest.mark.parametrize(("volts", "current"), [("0 V", "0 mA"), ("1 V", "0 mA"), ("1.4 V", "20 uA")])
def test_a_current_that_lights_nothing_proves_nothing(volts: str, current: str) -> None:
    dark = record(subject='"bow lamp"', volts=f'"{volts}"', current=f'"{current}"', hours='"24 h"')
    assert lacking("bow", dark) == [("lamp", "bow lamp"), ("resistor", "bow lamp")]
    of_all = record(subject='"lights"', volts=f'"{volts}"', current=f'"{current}"', hours='"24 h"')
    assert set(lacking("hull", of_all)) == set(lacking("hull"))


HELD = record(subject='"bow lamp"', volts='"12 V"', current='"1 mA"', limit='"1 mA"')


def test_a_current_at_the_limit_is_that_of_a_short_as_well() -> None:
    at_hull = lamp(at=" at hull")
    assert ("lamp", "bow lamp") in lacking("bow", HELD, at_hull)
    lit = HELD + 'hours = "24 h"\n'
    assert ("lamp", "bow lamp") not in lacking("bow", lit, at_hull)
    assert ("resistor", "bow lamp") in lacking("hull", lit, at_hull)
    of_all = record(subject='"lights"', volts='"12 V"', current='"1 mA"', limit='"1 mA"', hours='"24 h"')
    assert set(lacking("hull", of_all, at_hull)) == set(lacking("hull", "", at_hull))


BIG = lamp().replace("bow lamp", "many").replace("1k5", "390 ohm") + "parallel = 8\n"
JOINED = """
[circuit.more]
supply = "main"
[[join]]
place = "hull"
lines = ["lights", "more"]
"""


def test_a_current_of_joined_circuits_is_that_of_both() -> None:
    """One lamp of 6.6 mA beside eight strings: what it takes is within what those may take more or less."""
    more = BIG.replace('circuit = "lights"', 'circuit = "more"')
    alone = {kind for kind, name in lacking("bow", OF_THE_CIRCUIT) if name == "bow lamp"}
    assert alone == set()
    made = survey(lamps=lamp() + more, extra=JOINED)
    test_point = made.bench.lines["lights", "base"]
    band = made.bench.expected(test_point, 12.0, with_resistors=True)
    assert band is not None
    whole = record(subject='"circuit lights"', volts='"12 V"', current=f'"{band.usual * 1e3:.2f} mA"')
    left = set(lacking("bow", JOINED + whole, lamp() + more))
    assert {("lamp", "bow lamp"), ("resistor", "bow lamp")} <= left


def test_a_joint_that_no_current_would_show_is_looked_at() -> None:
    lamps = "".join(lamp().replace("bow lamp", f"bow {number}") for number in range(12))
    whole = record(subject='"lights"', volts='"12 V"', current='"79.2 mA"')
    joints = [one for one in closing("hull", whole, lamps).unproven if one.kind == "joint"]
    assert len(joints) == 12
    assert all(one.unseen and one.ask == ("circuit", "lights") for one in joints)
    # the feed carries all of it
    assert ("run", "feed") not in lacking("hull", whole, lamps)
    assert not any(
        kind == "joint" for kind, _ in lacking("hull", whole + 'done = "each seen to light"\n', lamps)
    )


def test_a_board_is_not_proven_by_its_supply() -> None:
    supply = record(subject='"main"', done='"12.1 V with nothing on it"')
    assert ("board", "winker") in lacking("hull", FIXTURES + supply)
    failed = record(subject='"winker"', done='"did not switch"', continuity="false")
    assert ("board", "winker") in lacking("hull", FIXTURES + supply + failed)
