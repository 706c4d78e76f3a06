"""Plugs and joints among the wires of a passage: who goes with whom, in what order, what is left."""

from __future__ import annotations

import random
from itertools import permutations

import pytest

from postcheck.physics import bundle

from .small import lamp, survey

POST = 'bore = "5 mm"\nlength = "160 mm"\n'
PLUG = (
    '[[plug]]\nname = "{name}"\nat = "hull"\npins = ["{line}"]\ndiameter = "{wide} mm"\nthrough = ["post"]\n'
)
SPARE = (
    '[[run]]\nname = "{name}"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\njoint = "{joint}"\n'
)


def threading(post="", extra="", lamps=None):
    return survey(post=POST + post, extra=extra, lamps=lamps).passages["post"].threading


def test_wires_alone_need_no_order():
    assert threading() is None


def test_a_plug_takes_its_own_wires_with_it():
    made = threading(extra=PLUG.format(name="mast", line="lights", wide=4.1))
    (plug,) = made.things
    d = survey().passages["post"].members[0].diameter
    assert (plug.name, plug.kind, plug.wires) == ("mast", "plug", (d,))
    # 4.1 beside the other wire of 0.74: two circles need their sum, 4.84, which leaves 3 %
    assert made.verdict == bundle.FITS
    assert made.free


def test_a_plug_that_fills_the_bore_goes_before_the_wire_that_is_not_its_own():
    made = threading(extra=PLUG.format(name="mast", line="lights", wide=4.6))
    assert made.verdict == bundle.FITS
    assert not made.free


def test_two_plugs_cannot_both_be_first():
    made = threading(
        extra=PLUG.format(name="one", line="lights", wide=4.6)
        + PLUG.format(name="two", line="main-", wide=4.7)
    )
    assert made.verdict == bundle.CANNOT
    stuck = [thing for thing in made.things if thing.room is not None]
    # beside one wire of 0.74 (greatest diameter) there is 5 - 0.74; with 3 % of room to draw it 4.854 - 0.74
    d = survey().passages["post"].members[0].diameter
    assert [thing.room for thing in stuck] == [pytest.approx(0.005 / 1.03 - d, abs=0.005 / 2**8)]


def test_the_joints_of_one_run_are_one():
    made = threading(
        extra=SPARE.format(name="triple", joint="2 mm").replace(
            "spare = true", "spare = true\nconductors = 3"
        )
    )
    (thing,) = made.things
    assert len(thing.wires) == 3


def test_a_lead_with_its_lamp_on():
    wide = lamp(lead="x").replace('lead = "x"', 'lead = { length = "400 mm", to = "hull", joint = "1.2 mm" }')
    made = threading(post='through = ["bow lamp"]', lamps=wide)
    (thing,) = made.things
    assert (thing.name, thing.kind, len(thing.wires)) == ("bow lamp", "lead", 2)
    assert thing.thick.across == pytest.approx(0.0012)


def test_a_joint_in_a_cable_swells_the_cable():
    cabled = '[cable.fat]\noutside = "1.5 mm"\n' + SPARE.format(name="data", joint="2.5 mm").replace(
        "spare = true", 'spare = true\ncable = "fat"'
    )
    (thing,) = threading(extra=cabled).things
    assert (thing.name, thing.wires) == ("fat", (0.0015,))


def test_a_joint_slimmer_than_its_wire_is_none():
    assert threading(extra=SPARE.format(name="flush", joint="0.5 mm")) is None


@pytest.mark.parametrize(("staggered", "verdict"), [("true", bundle.FITS), ("false", bundle.CANNOT)])
def test_together_apart_or_side_by_side(staggered, verdict):
    joints = SPARE.format(name="a", joint="2.6 mm") + SPARE.format(name="b", joint="2.6 mm")
    assert threading(post=f"staggered = {staggered}", extra=joints).verdict == verdict


def test_between_proof_and_find_nothing_is_claimed():
    verdicts = []
    for hundredths in (395, 401, 419, 431):
        joints = "".join(SPARE.format(name=f"s{n}", joint=f"{hundredths / 100} mm") for n in range(7))
        verdicts.append(threading(extra=joints).verdict)
    rank = [(bundle.FITS, bundle.NOT_FOUND, bundle.CANNOT).index(verdict) for verdict in verdicts]
    assert rank == sorted(rank)
    assert set(rank) == {0, 1, 2}


def test_free_means_every_order():
    chance = random.Random(3)
    frees = 0
    for _ in range(40):
        sizes = [round(chance.uniform(1.0, 4.4), 1) for _ in range(3)]
        made = threading(
            extra="".join(SPARE.format(name=f"s{n}", joint=f"{size} mm") for n, size in enumerate(sizes))
        )
        if not made.free:
            continue
        frees += 1
        d = made.things[0].wires[0] * 1e3
        for order in permutations(made.things):
            for number, thing in enumerate(order):
                lying = [d] * (2 + number)  # feed and negative may lie there already
                assert bundle.pack([*lying, thing.thick.across * 1e3], 5.0).verdict == bundle.FITS
    assert frees > 10


CABLE = '[cable.cord]\noutside = "3 mm"\n'
HAND = 'supply = "main"\n'


def in_cable(name, more):
    return f'[[run]]\nname = "{name}"\n{more}\nends = ["base", "hull"]\nlength = "300 mm"\ncable = "cord"\n'


# what comes first in the cable tells nothing of what else is in it
@pytest.mark.parametrize("line", ["tail", "main-"])
def test_a_plug_hangs_on_a_cable_by_any_wire_in_it(line):
    cabled = (
        f"[circuit.tail]\n{HAND}{CABLE}"
        + in_cable("reserve", "spare = true")
        + in_cable("aft", 'line = "tail"')
        + in_cable("return", 'line = "main-"')
    )
    (plug,) = threading(extra=cabled + PLUG.format(name="aux", line=line, wide=4.0)).things
    assert 0.003 in plug.wires


def test_a_plug_hangs_on_no_cable_of_other_lines():
    cabled = f"[circuit.tail]\n{HAND}{CABLE}" + in_cable("aft", 'line = "tail"')
    (plug,) = threading(extra=cabled + PLUG.format(name="aux", line="lights", wide=2.0)).things
    assert 0.003 not in plug.wires


MAST = (
    '[passage.mast]\nfrom = "hull"\nto = "bow"\nbore = "3 mm"\nlength = "40 mm"\n'
    '[[plug]]\nname = "mast plug"\nends = ["hull", "bow"]\npins = [{pins}]\ndiameter = "2 mm"\nthrough = ["mast"]\n'
)


# each leg is of one line: the feed of its circuit, the back leg of the supply's other pole
@pytest.mark.parametrize(
    ("pins", "legs"), [('"lights", "main-"', 2), ('"lights"', 1), ('"main-"', 1), ('"main+"', 0)]
)
@pytest.mark.parametrize("switched", ["positive", "negative"])
def test_a_plug_takes_the_leads_on_its_pins_with_it(pins, legs, switched):
    if switched == "negative":
        pins = pins.translate(str.maketrans("+-", "-+"))
    made = survey(
        circuit=f'switched = "{switched}"',
        extra='[[run]]\nline = "main+"\nends = ["base", "hull"]\nlength = "300 mm"\n'
        + MAST.format(pins=pins),
    )
    (plug,) = made.passages["mast"].threading.things
    assert len(plug.wires) == legs


def test_the_leg_that_the_colours_share_hangs_on_each_of_their_plugs():
    colours = (
        '[[lamp]]\nname = "glow"\nkind = "smd-0603-rgb"\nplace = "bow"\nlead = "120 mm to hull"\n'
        'dice.red = { circuit = "lights", resistor = "1k5" }\n'
        'dice.green = { circuit = "tail", resistor = "1k5" }\ndice.blue = { circuit = "tail", resistor = "1k5" }\n'
    )
    tail = f'[circuit.tail]\n{HAND}[[run]]\nline = "tail"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    for pins, legs in (
        ('"lights", "main-"', 2),
        ('"tail", "main-"', 3),
        ('"tail"', 2),
        ('"lights", "tail"', 3),
    ):
        made = survey(lamps=colours, extra=tail + MAST.format(pins=pins))
        (plug,) = made.passages["mast"].threading.things
        assert len(plug.wires) == legs, pins


# The joint sits on the wire that the plug hangs on: 4.5 passes with nothing in its way, though 4.5 + 0.74 are 5.24.
@pytest.mark.parametrize("staggered", ["", "staggered = true", "staggered = false"])
def test_a_joint_on_its_own_wire_is_not_in_the_way_of_a_plug(staggered):
    joined = '[[run]]\nname = "twin"\nline = "lights"\nends = ["base", "hull"]\nlength = "300 mm"\njoint = "1.2 mm"\n'
    plug = PLUG.format(name="aux", line="lights", wide=4.5).replace('"lights"', '"lights", "main-"')
    made = threading(post=staggered, extra=joined + plug)
    assert (made.verdict, made.tight, made.free) == (bundle.FITS, None, True)
    # on another line it is
    spare = joined.replace('line = "lights"', "spare = true")
    assert not (
        threading(post=staggered, extra=spare + plug).easy
        and threading(post=staggered, extra=spare + plug).free
    )


def test_the_colours_of_a_lamp_bring_one_lamp_along():
    glow = (
        '[[lamp]]\nname = "glow"\nkind = "smd-0603-rgb"\nplace = "bow"\n'
        'lead = { length = "120 mm", to = "hull", joint = "1.8 mm" }\n'
        + "".join(
            f'dice.{colour} = {{ circuit = "lights", resistor = "1k5" }}\n'
            for colour in ("red", "green", "blue")
        )
    )
    made = survey(lamps=glow, extra=MAST.split("[[plug]]", maxsplit=1)[0] + "staggered = false\n")
    (thing,) = made.passages["mast"].threading.things
    # three feeds and the leg they share
    assert (thing.name, thing.kind, len(thing.wires), made.passages["mast"].threading.verdict) == (
        "glow",
        "lead",
        4,
        bundle.FITS,
    )


def test_each_string_with_a_lead_of_its_own_brings_what_is_on_it():
    pair = lamp(lead="x").replace(
        'lead = "x"', 'lead = { length = "400 mm", to = "hull", joint = "1.2 mm" }\nparallel = 2\nstrings_share = "nothing"'
    )  # fmt: skip
    made = threading(post='through = ["bow lamp"]', lamps=pair)
    assert [(thing.name, thing.kind, len(thing.wires)) for thing in made.things] == [
        ("bow lamp", "lead", 2)
    ] * 2


def test_a_plug_that_is_wider_than_the_bore_is_put_on_afterwards():
    made = threading(extra=PLUG.format(name="mast", line="lights", wide="5.0"))
    assert [thing.name for thing in made.things] == ["mast"]
    assert threading(extra=PLUG.format(name="mast", line="lights", wide="5.001")) is None


@pytest.mark.parametrize("staggered", ["", "staggered = true", "staggered = false"])
@pytest.mark.parametrize("wide", [2.0, 4.6])
def test_whether_other_wires_lie_beside_it(staggered, wide):
    """The negative beside a plug of the lights; none where the plug has both on its pins."""
    plug = PLUG.format(name="mast", line="lights", wide=wide)
    assert threading(post=staggered, extra=plug).rest
    assert not threading(post=staggered, extra=plug.replace('["lights"]', '["lights", "main-"]')).rest
