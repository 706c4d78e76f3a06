"""What is read at the bench of a part that failed, and what fails with it: by Shockley, Ohm and SciPy."""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

import postcheck
from postcheck.repair import Reading, Repair
from postcheck.survey import Survey
from postcheck.survey.repair import forbidding, namesakes, repair, repairable
from tests.survey.bench.boats import ADAPTOR, boat, run
from tests.survey.bench.leds import BLUE, RED, WIRE, WIRES, amps, band, hung

KINDS = WIRE + str(RED) + str(BLUE)


def got(
    *parts: str,
    kind: str = "lamp",
    name: str = "lamp",
    lines: tuple[str, ...] = ("a", "main-"),
    supply: str = ADAPTOR,
) -> Repair:
    return repair(boat(KINDS, *parts, lines=lines, supply=supply), kind, name)


def at(found: Repair, place: str, kind: str = "line") -> Reading:
    (one,) = [one for one in found.readings if (one.place, one.kind) == (place, kind)]
    return one


def near(*values: float) -> object:
    return pytest.approx(values, rel=1e-6, abs=1e-12)


def span(found: object) -> tuple[float, ...]:
    return (found.least, found.usual, found.most)  # type: ignore[attr-defined]


RADIO = '[[load]]\nname = "radio"\ncircuit = "a"\nplace = "hub"\ntypical = "40 mA"\nleast = "38 mA"\nmost = "43 mA"\n'


def test_its_line_with_it_and_without() -> None:
    """At the hub no wire counts: the red, the blue and the radio, and without the red the other two."""
    found = got(hung(RED, "1k 5 %"), hung(BLUE, "470 ohm 5 %", name="blue"), RADIO)
    red, blue = band(12.0, 1000.0, RED, more=WIRES), band(12.0, 470.0, BLUE, more=WIRES)
    line = at(found, "hub")
    dark = [other + load for other, load in zip(blue, (0.038, 0.040, 0.043), strict=True)]
    assert span(line.dark) == near(*dark)
    assert span(line.whole) == near(*(one + other for one, other in zip(red, dark, strict=True)))
    assert (line.others, line.like, line.returns, line.reach) == (2, (), "main-", "cover")
    assert line.tells is (dark[2] < red[0] + dark[0])
    assert line.volts == 12.0
    lead = at(found, "hub", "lead")
    assert span(lead.whole) == near(*red)
    assert span(lead.dark) == (0.0, 0.0, 0.0)
    assert (lead.tells, lead.others, lead.returns, lead.plus_colour, lead.minus_colour) == (
        True,
        0,
        "",
        "red",
        "black",
    )
    assert found.goes_dark == (("lamp", 1),)
    assert found.changed == ()


def test_the_line_of_bulbs_is_read_as_it_is() -> None:
    """They have no resistors, and the volts of their supply: 50 mA each, and a tenth more or less. Bare LEDs get no such volts."""
    bulb = '[lamp_kind.bulb]\nkind = "filament"\nvolts = "12 V"\nrated = "50 mA"\n'
    for other, places, usual in (
        (hung("bulb", name="other"), ["base", "hub"], 0.1),
        (hung(RED, name="red"), [], 0.0),
    ):
        lines = [one for one in got(bulb, hung("bulb"), other).readings if one.kind == "line"]
        assert [one.place for one in lines] == places
        for line in lines:
            assert line.whole.usual == pytest.approx(usual, rel=5e-3)


@pytest.mark.parametrize(("share", "tells"), [(1.0, True), (20.0, False)])
def test_whether_a_dark_one_shows_beside_the_tolerances(share: float, tells: bool) -> None:
    """Two alike: one of them dark halves it, and with parts of 1 % that shows; of six with 20 % it does not."""
    count = 2 if tells else 6
    found = got(*(hung(RED, f"1k {share:g} %", name=f"red {n}") for n in range(count)), name="red 0")
    line = at(found, "hub")
    one = band(12.0, 1000.0, RED, more=WIRES, tolerance=share / 100.0)
    assert ((count - 1) * one[2] < count * one[0]) is tells
    assert (line.tells, line.others) == (tells, count - 1)
    # of all that are alike any one may be dark
    assert line.like == tuple(f"red {n}" for n in range(1, count))


def test_what_would_show_the_same() -> None:
    """Of three only the one that takes about as much: 1k and 1k1 of 5 %, not 470 ohm."""
    found = got(hung(RED, "1k 5 %"), hung(RED, "1k1 5 %", name="near"), hung(RED, "470 ohm 5 %", name="far"))
    assert at(found, "hub").like == ("near",)
    exact = got(
        hung(RED, "1k 0.1 %"), hung(RED, "1k3 0.1 %", name="near"), hung(RED, "470 ohm 0.1 %", name="far")
    )
    assert at(exact, "hub").like == ()


@pytest.mark.parametrize(("count", "told"), [(41, True), (42, False)])
def test_of_more_than_forty_others_none_is_told_apart(count: int, told: bool) -> None:
    found = got(*(hung(RED, "1k 5 %", name=f"red {n}") for n in range(count)), name="red 0")
    line = at(found, "hub")
    assert line.others == count - 1
    assert (line.like != ()) is told


def test_of_a_load_alone_nothing_flows_and_of_one_beside_others_nobody_knows() -> None:
    alone = at(got(RADIO, kind="load", name="radio"), "hub")
    assert span(alone.whole) == near(0.038, 0.040, 0.043)
    assert span(alone.dark) == (0.0, 0.0, 0.0)
    assert (alone.tells, alone.others) == (True, 0)
    beside = at(got(RADIO, hung(RED, "1k 5 %"), kind="load", name="radio"), "hub")
    assert (beside.dark, beside.tells, beside.others) == (None, False, 1)


def test_strings_with_leads_of_their_own() -> None:
    """One of them by its own name, or each."""
    two = hung(RED, "1k 5 %", 'parallel = 2\nseries = 2\nstrings_share = "nothing"')
    one = band(12.0, 1000.0, RED, RED, more=WIRES)
    found = got(two, name="lamp 2")
    assert [(reading.name, reading.kind) for reading in found.readings if reading.kind == "lead"] == [
        ("lamp 2", "lead")
    ]
    assert span(at(found, "hub", "lead").whole) == near(*one)
    assert span(at(found, "hub").dark) == near(*one)
    assert at(found, "hub").others == 1
    assert found.goes_dark == (("lamp 2", 2),)
    whole = got(two)
    assert [reading.name for reading in whole.readings if reading.kind == "lead"] == ["lamp 1", "lamp 2"]
    assert whole.goes_dark == (("lamp", 2),)
    # on one lead nothing says which string is dark
    shared = got(two.replace('"nothing"', '"lead"'))
    lead = at(shared, "hub", "lead")
    assert (lead.dark, lead.tells) == (None, False)


def long(ohms: float) -> str:
    return f'[[run]]\nline = "a"\nends = ["base", "hub"]\nohms = "{ohms:.6f} ohm"\n'


@pytest.mark.parametrize(("ohms", "told"), [(10.0, False), (18.5, False), (19.5, True), (40.0, True)])
def test_what_gets_more_once_the_other_is_dark(ohms: float, told: bool) -> None:
    """Two per cent is not seen. Of what they share the copper's drop goes with the one that is dark."""
    whole = boat(
        KINDS, hung(RED, "1k 5 %"), hung(BLUE, "470 ohm 5 %", name="blue"), long(ohms), lines=("main-",)
    )
    found = postcheck.reach(whole.build, "lamp")
    back = boat(KINDS, hung(RED, "1k"), lines=("a", "main-")).parts.runs[-1]
    feed = ohms + back.ohms(20.0)

    def over(volts: float) -> float:
        taken = amps(volts, 1000.0 + WIRES, RED) + amps(volts, 470.0 + WIRES, BLUE)
        return (12.0 - volts) / feed - taken

    left = brentq(over, 5.0, 12.0, xtol=1e-13)
    before, after = amps(left, 470.0 + WIRES, BLUE), amps(12.0, 470.0 + WIRES + feed, BLUE)
    assert (after / before > 1.02) is told
    assert found.changed == (
        (("blue", pytest.approx(before, rel=1e-5), pytest.approx(after, rel=1e-5)),) if told else ()
    )


def test_its_own_strings_get_more_where_they_share_a_resistor() -> None:
    """What is left of two strings takes nearly all: 12 V over 470 ohm, less the red."""
    whole = boat(KINDS, hung(RED, "470 ohm 5 %", "parallel = 3\none_resistor = true\nmatched = true"))
    found = postcheck.reach(whole.build, "lamp")
    # a third of what flows in all, and half of it afterwards
    ((name, before, after),) = found.changed
    three = brentq(lambda i: RED.volts(i) + i * WIRES + 3 * i * 470.0 - 12.0, 1e-6, 0.1)
    two = brentq(lambda i: RED.volts(i) + i * WIRES + 2 * i * 470.0 - 12.0, 1e-6, 0.1)
    assert (name, before, after) == ("lamp", pytest.approx(three, rel=1e-3), pytest.approx(two, rel=1e-3))


# -- what it is called

MORE = """
[board.winker]
place = "base"
supply = "main"
[circuit.b]
board = "winker"
[supply.low]
kind = "converter"
from = "main"
place = "base"
volts = "5 V"
rated = "1 A"
[supply.lower]
kind = "converter"
from = "low"
place = "base"
volts = "3.3 V"
rated = "1 A"
[circuit.c]
supply = "lower"
"""
BUILD = (
    hung(RED, "1k"),
    hung(RED, "1k", name="far", circuit="b"),
    hung(RED, "100 ohm", name="tiny", circuit="c"),
    MORE,
)
LINES = ("a", "b", "c", "main-")


def test_all_that_can_be_asked_for() -> None:
    found = repairable(boat(KINDS, *BUILD, lines=LINES).build)
    assert found["lamp"] == found["lamp lamp"] == ("lamp", "lamp")
    assert (found["joint far"], found["resistor far"]) == (("joint", "far"), ("resistor", "far"))
    assert (found["winker"], found["supply main"]) == (("board", "winker"), ("supply", "main"))
    assert "joint winker" not in found
    assert not {"a", "circuit a", "base", "place base"} & {*found}


@pytest.mark.parametrize(
    ("kind", "name", "dark", "feeds"),
    [
        ("lamp", "far", {"far"}, [("b", "board", "winker")]),
        ("board", "winker", {"far"}, [("b", "board", "winker")]),
        ("supply", "lower", {"tiny"}, [("c", "supply", "lower")]),
        ("supply", "low", {"tiny"}, [("c", "supply", "lower")]),
        (
            "supply",
            "main",
            {"lamp", "far", "tiny"},
            [("a", "supply", "main"), ("b", "board", "winker"), ("c", "supply", "lower")],
        ),
    ],
)
def test_what_goes_dark_with_it(
    kind: str, name: str, dark: set[str], feeds: list[tuple[str, str, str]]
) -> None:
    found = got(*BUILD, kind=kind, name=name, lines=LINES)
    assert {one for one, _ in found.goes_dark} == dark
    assert [(feed.line, feed.kind, feed.name) for feed in found.feeds] == feeds
    assert found.changed == ()


def test_what_hangs_behind_a_plug() -> None:
    plug = '[[plug]]\nname = "coupling"\nends = ["base", "hub"]\npins = ["a", "main-"]\nkeyed = true\n'
    found = got(hung(RED, "1k"), plug, kind="plug", name="coupling", lines=())
    assert found.goes_dark == (("lamp", 1),)
    assert [(spot.kind, spot.place) for spot in found.spots] == [("plug", "base"), ("plug", "hub")]
    assert {reading.others for reading in found.readings} == {1}
    assert {reading.dark for reading in found.readings} == {None}


def test_a_spare_beside_its_own_runs() -> None:
    spare = '[[run]]\nname = "reserve"\nspare = true\nends = ["hub", "base"]\nlength = "200 mm"\n'
    other = '[[run]]\nname = "aloft"\nspare = true\nends = ["hub", "mast"]\nlength = "200 mm"\n'
    found = got(
        hung(RED, "1k"),
        spare,
        other,
        run("b"),
        '[circuit.b]\nsupply = "main"\n',
        hung(RED, "1k", name="far", circuit="b"),
    )
    assert found.spares == (("reserve", ("a base-hub", "main- base-hub")),)


def test_words_that_could_mean_something_else() -> None:
    build = boat(KINDS, *BUILD, hung(RED, "1k", name="low"), lines=LINES).build
    assert namesakes(build, "low") == (("supply", "supply low"),)
    assert namesakes(build, "supply low") == ()
    assert namesakes(build, "joint low") == ()
    assert namesakes(build, "far") == ()


@pytest.mark.parametrize(("ohms", "why"), [("1k", None), ("100 ohm", "rating")])
def test_what_forbids_a_bench_supply(ohms: str, why: str | None) -> None:
    survey = boat(KINDS, hung(RED, f"{ohms} 5 %"), supply=ADAPTOR)
    found = forbidding(survey, "lamp", "lamp")
    assert (found and found.why) == why
    # then no line is read, and the lead alone at few volts
    readings = repair(survey, "lamp", "lamp").readings
    assert [one.kind for one in readings] == (["lead"] if why else ["lead", "line", "line"])


def test_a_lead_whose_legs_part_is_read_where_a_hand_gets_at_both() -> None:
    """One leg to the hub, the other to the mast, which is behind a cover or sealed."""
    lead = 'lead = { length = "150 mm", to = "hub", wire = "bar", colours = ["red", "black"] }'
    parted = hung(RED, "1k 5 %").replace(lead, lead.replace("}", ', back = { to = "mast" } }'))
    mast = run("main-", "hub", "mast")
    assert parted != hung(RED, "1k 5 %")
    assert [one.kind for one in got(parted, mast).readings if one.kind == "lead"] == ["lead"]
    sealed = postcheck.loads(
        boat(KINDS, parted, mast, supply=ADAPTOR).build.text.replace(
            'mast = { access = "cover" }', 'mast = { access = "sealed" }'
        )
    )
    assert [one.kind for one in repair(Survey(sealed), "lamp", "lamp").readings if one.kind == "lead"] == []


@pytest.mark.parametrize("names", [("lamp", "blue"), ("blue", "lamp")])
def test_a_line_beyond_the_resistor_of_one_is_not_put_on_the_supply(names: tuple[str, str]) -> None:
    """The red's sits at the base, where the blue is joined: at the hub it would have none."""
    lamps = {
        "lamp": hung(RED, "1k 5 % at base"),
        "blue": hung(BLUE, "470 ohm 5 %", name="blue", at="base"),
    }
    found = got(*(lamps[name] for name in names))
    assert "hub" not in [one.place for one in found.readings if one.kind == "line"]
    whole = got(*(lamps[name].replace(" at base", "") for name in names))
    assert "hub" in [one.place for one in whole.readings if one.kind == "line"]


def test_what_feeds_each_of_its_lines() -> None:
    """A supply, or the board on it."""
    board = (
        '[board.driver]\nplace = "base"\nsupply = "main"\n[circuit.b]\nboard = "driver"\nown_return = true\n'
        + run("b")
        + run("b-return")
    )
    parts = [hung(RED, "1k 5 %"), hung(BLUE, "470 ohm 5 %", name="blue", circuit="b"), board]
    for names, kind, name in (
        ([("a", "main-", "supply", "main"), ("b", "b-return", "board", "driver")], "supply", "main"),
        ([("a", "main-", "supply", "main")], "lamp", "lamp"),
        ([("b", "b-return", "board", "driver")], "board", "driver"),
    ):
        feeds = got(*parts, kind=kind, name=name).feeds
        assert [(one.line, one.returns, one.kind, one.name) for one in feeds] == names
