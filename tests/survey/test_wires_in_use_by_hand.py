"""Conductors at their most current, and the bare metal of posts: what carries how much, how warm that leaves it, what a short of it draws."""

from __future__ import annotations

from math import inf
from typing import Any

import pytest

import postcheck
from postcheck.physics import copper
from postcheck.physics.wire_heat import company_rise, settles_at
from postcheck.survey import Survey
from postcheck.survey.heat.conductors import InUse, _gap

HEAD = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[wire.stout]
strand = "0.3 mm"
outside = "0.8 mm"
ohms_per_metre = "0.5 ohm/m"
[wire.fine]
strand = "0.1 mm"
outside = "0.2 mm"
ohms_per_metre = "2 ohm/m"
[supply.main]
place = "base"
{main}
[place.base]
access = "open"
[place.hull]
access = "open"
[place.bow]
access = "open"
[post]
from = "base"
to = "hull"
bore = "4 mm"
length = "160 mm"
{post}
[circuit.screw]
supply = "main"
"""
RUN = '[[run]]\nname = "{name}"\nline = "{line}"\nends = ["base", "hull"]\nlength = "300 mm"\nwire = "stout"\n{more}\n'
LOAD = '[[load]]\nname = "{name}"\nkind = "sound"\ncircuit = "screw"\nplace = "{place}"\ntypical = "1 A"\nmost = "{most}"\n{more}\n'
ADAPTOR = 'kind = "adaptor"\nvolts = "12 V"\ntolerance = "0 %"\nrated = "6 A"'


def survey(text: str, main: str = ADAPTOR, post: str = "") -> Survey:
    return Survey(postcheck.loads(HEAD.format(main=main, post=post) + text))


def wires(*more: str) -> str:
    return RUN.format(name="feed", line="screw", more=more[0]) + RUN.format(
        name="back", line="main-", more=more[-1]
    )


def near(value: Any, **close: float) -> Any:
    return pytest.approx(value, **(close or {"rel": 1e-9}))


def used(made: Survey) -> dict[tuple[str, str], Any]:
    return {(wire.name, wire.leg): wire for wire in made.in_use.wires}


def test_a_wire_in_the_open_settles_by_itself() -> None:
    made = survey(wires("through = []") + LOAD.format(name="screw", place="hull", most="3 A", more=""))
    found = used(made)
    assert set(found) == {("feed", ""), ("back", "")}
    for wire in found.values():
        assert (wire.kind, wire.current, wire.conductors, wire.passages) == ("run", near(3.0), 1, ())
        assert wire.key == ("run", wire.name, "")
        assert wire.celsius == near(settles_at(3.0, 0.5, 0.8e-3, 35.0), abs=1e-3)
    assert made.in_use.warming == {}
    # a spare, and what nothing is joined to, carry nothing and are not listed
    spare = RUN.format(name="spare", line="screw", more="").replace('line = "screw"', "spare = true")
    lone = '[circuit.aft]\nsupply = "main"\n' + RUN.format(name="lone", line="aft", more="")
    assert set(used(survey(made.build.text[made.build.text.index("[[run]]") :] + spare + lone))) == set(found)  # type: ignore[index, union-attr]


@pytest.mark.parametrize("amps", ["1 mA", "4 A"])
def test_the_wires_of_a_bore_agree_on_how_warm_each_makes_the_others(amps: str) -> None:
    """Feed of two conductors with 3 A, return of one: each in air that all others have warmed, twins too.

    Beside them one in the open, which is as warm as it gets at once, or later than they.
    """
    beside = (
        '[circuit.aft]\nsupply = "main"\nown_return = true\n'
        + RUN.format(name="out", line="aft", more="through = []")
        + RUN.format(name="home", line="aft-return", more="through = []")
        + LOAD.format(name="bell", place="hull", most=amps, more="")
        .replace('"screw"', '"aft"')
        .replace('"1 A"', '"1 mA"')
    )
    made = survey(
        wires("conductors = 2", "") + LOAD.format(name="screw", place="hull", most="3 A", more="") + beside
    )
    found, post = used(made), made.passages["post"]
    feed, back = found["feed", ""], found["back", ""]
    assert (feed.current, feed.conductors, feed.passages) == (near(1.5), 2, ("post",))
    assert (back.current, back.conductors) == (near(3.0), 1)
    warms = {}
    for wire in (feed, back):
        hot = 0.5 * (1.0 + 0.00393 * (wire.celsius - 20.0))
        watts = wire.conductors * wire.current**2 * hot
        warms[wire.name] = company_rise(watts, post.smallest_bore, 0.004, wire.celsius - 35.0, 35.0)
        assert made.in_use.warming["post"][wire.key] == near(warms[wire.name], rel=1e-3)
    assert made.in_use.company(("post",), feed.key) == near(warms["back"], rel=1e-3)
    assert made.in_use.company(("post",), back.key) == near(warms["feed"], rel=1e-3)
    assert made.in_use.company(("post",), ("run", "other", "")) == near(sum(warms.values()), rel=1e-3)
    assert feed.celsius == near(
        settles_at(1.5, 0.5, 0.8e-3, 35.0 + warms["back"] + warms["feed"] / 2.0, 0.004), abs=0.05
    )
    assert back.celsius == near(settles_at(3.0, 0.5, 0.8e-3, 35.0 + warms["feed"], 0.004), abs=0.05)


def test_twins_in_the_open_do_not_warm_each_other() -> None:
    made = survey(
        wires("conductors = 2\nthrough = []", "through = []")
        + LOAD.format(name="screw", place="hull", most="3 A", more="")
    )
    feed = used(made)["feed", ""]
    assert (feed.current, feed.conductors) == (near(1.5), 2)
    assert feed.celsius == near(settles_at(1.5, 0.5, 0.8e-3, 35.0), abs=1e-3)


def test_in_the_warmest_of_several_passages() -> None:
    warming = {"post": {("run", "a", ""): 3.0, ("run", "b", ""): 4.0}, "arm": {("run", "a", ""): 5.5}}
    found = InUse((), warming, {"post": 7.0, "arm": 5.5})
    assert found.company(("post",), ("run", "a", "")) == 4.0
    assert found.company(("post", "arm"), ("run", "b", "")) == 5.5
    assert found.company(("post", "arm"), ("run", "a", "")) == 4.0
    assert found.company(("empty",), ("run", "a", "")) == 0.0
    assert found.company((), ("run", "a", "")) == 0.0


def test_a_lead_carries_what_its_load_takes_at_the_most() -> None:
    text = wires("through = []") + LOAD.format(
        name="screw", place="bow", most="800 mA", more='lead = "120 mm of fine to hull"'
    )
    found = used(survey(text))
    assert set(found) == {("feed", ""), ("back", ""), ("screw", "supply"), ("screw", "return")}
    for leg in ("supply", "return"):
        wire = found["screw", leg]
        assert (wire.kind, wire.current, wire.conductors, wire.path) == ("lead", near(0.8), 1, ("load", 0))
        assert wire.celsius == near(settles_at(0.8, 2.0, 0.2e-3, 35.0), abs=1e-3)


LAMP = (
    '[lamp_kind.plain]\nforward = "2.0/2.0/2.0 V"\nat = "20 mA"\nlow_forward = "1.9 V"\nlow_at = "5 mA"\nper_kelvin = "0 mV"\nrated = "20 mA"\n'
    '[[lamp]]\nname = "bow"\ncircuit = "screw"\nkind = "plain"\nplace = "bow"\nresistor = "470 ohm 1 W"\nlead = "120 mm of fine to hull"\n{more}\n'
)


def test_the_metal_of_a_post_is_no_wire_whatever_the_usual_one_is() -> None:
    usual = HEAD.replace("[wire.stout]", '[usual]\nrun = "stout"\n[wire.stout]')
    text = (
        RUN.format(name="feed", line="screw", more="")
        + '[[run]]\nname = "column"\nline = "main-"\nends = ["base", "hull"]\nbody = true\nohms = "15 mohm"\n'
        + LOAD.format(name="screw", place="hull", most="1 A", more="")
    )
    made = Survey(postcheck.loads(usual.format(main=ADAPTOR, post="") + text))
    assert set(used(made)) == {("feed", "")}
    # of a run that was measured without its wire being told nobody knows how warm it gets
    plain = RUN.format(name="feed", line="screw", more="").replace(
        'length = "300 mm"\nwire = "stout"', 'ohms = "0.1 ohm"'
    )
    rest = text[text.index("[[run]]", 5) :]
    assert used(survey(plain + rest)) == {}


@pytest.mark.parametrize(
    ("share", "legs"),
    [
        ("nothing", {"supply": (1, 3), "return": (1, 3)}),
        ("return", {"supply": (1, 3), "return": (3, 1)}),
        ("lead", {"supply": (3, 1), "return": (3, 1)}),
    ],
)
def test_the_leads_of_several_strings_in_a_passage(share: str, legs: dict[str, tuple[int, int]]) -> None:
    """Each leg: for how many strings it carries the current, and how many alike there are."""
    text = wires("through = []") + LAMP.format(more=f'parallel = 3\nstrings_share = "{share}"')
    made = survey(text, post='through = ["bow"]')
    amps = made.electrics.lamps["bow"].highest
    found = used(made)
    assert {leg: (wire.current, wire.conductors) for (name, leg), wire in found.items() if name == "bow"} == {
        leg: (near(strings * amps), alike) for leg, (strings, alike) in legs.items()
    }
    # in the open it warms nobody and is no subject
    assert set(used(survey(text))) == {("feed", ""), ("back", "")}


# -- the metal of a post


BODY = '[[run]]\nname = "column"\nline = "{line}"\nends = ["base", "hull"]\nbody = true\nohms = "15 mohm"\n{more}\n'
PACK = 'kind = "battery"\nvolts = "9.6 V"\nresistance = "{ohms}"\n{more}'


@pytest.mark.parametrize(
    ("main", "short", "fuse", "limited"),
    [
        (PACK.format(ohms="1.2 ohm", more=""), 8.0, None, False),
        (PACK.format(ohms="1.2 ohm", more='fuse = "500 mA"'), 8.0, 0.5, True),
        (PACK.format(ohms="1.2 ohm", more='fuse = "500 mA at base"'), 8.0, 0.5, True),
        (PACK.format(ohms="1.2 ohm", more='fuse = "500 mA at hull"'), 8.0, None, False),
        (PACK.format(ohms="1.2 ohm", more='current_limit = "2 A"'), 2.0, None, True),
        (PACK.format(ohms="0 ohm", more=""), inf, None, False),
        ('kind = "adaptor"\nvolts = "12 V"\nrated = "1.5 A"', 3.0, None, False),
    ],
)
def test_what_a_touch_of_live_metal_draws(main: str, short: float, fuse: float | None, limited: bool) -> None:
    (metal,) = survey(
        BODY.format(line="screw", more="")
        + RUN.format(name="back", line="main-", more="")
        + LOAD.format(name="screw", place="hull", most="1 A", more=""),
        main,
    ).metal
    assert (metal.name, metal.path, metal.line, metal.passage, metal.supply) == (
        "column",
        ("run", 0),
        "screw",
        "post",
        "main",
    )
    assert metal.short == near(short)
    assert (metal.fuse, metal.limited, metal.moves) == (fuse, limited, None)


def test_the_worst_supply_of_two_that_come_to_it() -> None:
    two = '[supply.aux]\nplace = "base"\nkind = "battery"\nvolts = "9.6 V"\nresistance = "0.6 ohm"\nfuse = "1 A"\n[[join]]\nplace = "base"\nlines = ["main+", "aux+"]\n'
    text = BODY.format(line="main+", more="") + two
    (metal,) = survey(text, PACK.format(ohms="1.2 ohm", more="")).metal
    assert (metal.supply, metal.limited) == ("main", False)
    assert metal.short == near(8.0)
    # both without a fuse: the one that draws more
    (metal,) = survey(text.replace('fuse = "1 A"\n', ""), PACK.format(ohms="1.2 ohm", more="")).metal
    assert (metal.supply, metal.short) == ("aux", near(16.0))


@pytest.mark.parametrize(
    ("post", "beside", "moves"),
    [
        ("", "", None),
        ('turn = "90 deg"\nstop = true', "", "post"),
        ('fold = "90 deg"', "", "post"),
        ('turn = "30 deg"\nstop = true', "", "post"),
        ('fold = "30 deg"', "", "post"),
        ('turn = "90 deg"\nstop = true', RUN.format(name="wire", line="main-", more=""), None),
        ('turn = "90 deg"\nstop = true', RUN.format(name="wire", line="screw", more=""), "post"),
    ],
)
def test_metal_that_slides_where_no_wire_bridges_it(post: str, beside: str, moves: str | None) -> None:
    feed = RUN.format(name="feed", line="screw", more="")
    made = survey(feed + beside + BODY.format(line="main-", more=""), post=post)
    (metal,) = made.metal
    # the negative is the usual way: no supply's positive comes to it
    assert (metal.line, metal.moves, metal.supply, metal.short, metal.limited) == (
        "main-",
        moves,
        None,
        0.0,
        False,
    )


@pytest.mark.parametrize("count", [2, 3])
def test_twins_warm_each_other_most_in_the_slimmest_of_their_passages(count: int) -> None:
    """Of two conductors each lies beside half of what both give off, of three beside two thirds, where that warms most: in 2.4 mm, not in 4 mm."""
    arm = '[passage.arm]\nfrom = "hull"\nto = "base"\nbore = "2.4 mm"\nlength = "90 mm"\n'
    made = survey(
        arm
        + wires(f'conductors = {count}\nthrough = ["post", "arm"]', "through = []")
        + LOAD.format(name="screw", place="hull", most="3 A", more="")
    )
    feed = used(made)["feed", ""]
    hot = 0.5 * (1.0 + 0.00393 * (feed.celsius - 20.0))
    own = {
        name: company_rise(
            9.0 / count * hot, made.passages[name].smallest_bore, bore, feed.celsius - 35.0, 35.0
        )
        for name, bore in (("post", 0.004), ("arm", 0.0024))
    }
    assert own["arm"] > 1.1 * own["post"]
    beside = own["arm"] * (1.0 - 1.0 / count)
    assert beside > 1.0
    assert feed.celsius == near(settles_at(3.0 / count, 0.5, 0.8e-3, 35.0 + beside, 0.0024), abs=0.05)


def test_what_has_melted_moves_no_more() -> None:
    """Neither does what is as warm as it was; what melts, or sets again, moves by all of it."""
    assert (_gap(None, None), _gap(61.5, 61.5), _gap(61.5, 60.25), _gap(60.25, 61.5)) == (
        0.0,
        0.0,
        1.25,
        1.25,
    )
    assert _gap(None, 60.0) == _gap(60.0, None) == copper.MELTING
