"""Which circuits are on together in each state that is solved, and how a corner and a state are called."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.survey import Survey
from postcheck.survey.network import states as states_of_survey
from postcheck.survey.network.elements import REFERENCE, Corner
from postcheck.survey.network.states import Climb, States

BUILD = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
[place.base]
access = "open"
[place.hull]
access = "sealed"
surface = "40 cm2"
heat = "0.1 W"
[place.bow]
access = "cover"
[board.driver]
place = "base"
supply = "main"
[circuit.steady]
supply = "main"
[circuit.driven]
board = "driver"
[circuit.output]
supply = "main"
output = { limit = "1 A" }
[circuit.dim]
supply = "main"
behaviour = "dim"
frequency = "1 kHz"
on_share = "50 %"
[circuit.slow]
supply = "main"
behaviour = "fade"
rate = "6 /min"
"""
FLASH = '[circuit.{name}]\nsupply = "main"\nbehaviour = "flash"\nrate = "60 /min"\n'
ALL = {"steady", "driven", "output", "dim", "slow"}


def states(*flashers: str) -> States:
    return States(
        Survey(postcheck.loads(BUILD + "".join(FLASH.format(name=name) for name in flashers))).wiring
    )


def test_what_is_on_with_no_flasher_one_and_two() -> None:
    none = states()
    assert none.everything.on == ALL
    assert none.quiet is none.everything
    assert (none.flashers, none.alone, none.by_itself) == ((), {}, {})
    one = states("wink")
    assert one.everything.on == ALL | {"wink"}
    assert one.quiet.on == ALL
    # the only one is alone with everything on
    assert one.alone == {"wink": one.everything}
    two = states("wink", "beacon")
    assert two.flashers == ("wink", "beacon")
    assert two.quiet.on == ALL
    assert {name: state.on for name, state in two.alone.items()} == {
        "wink": ALL | {"wink"},
        "beacon": ALL | {"beacon"},
    }
    assert [state.name for state in (two.everything, two.quiet, two.alone["wink"])] == [
        "all on",
        "no flasher on",
        "of the flashers only 'wink' on",
    ]
    assert two.unloaded.unloaded
    assert (two.unloaded.name, two.unloaded.on) == ("each lamp alone", two.everything.on)


@pytest.mark.parametrize(
    ("circuit", "on"),
    [
        # what nothing can switch off is on with it
        ("steady", {"steady"}),
        ("driven", {"steady", "driven"}),
        ("output", {"steady", "output"}),
        ("dim", {"steady", "dim"}),
        ("slow", {"steady", "slow"}),
        ("wink", {"steady", "wink"}),
    ],
)
def test_a_lamp_gets_most_with_all_else_off_that_may_be_off(circuit: str, on: set[str]) -> None:
    made = states("wink")
    state = made.highest_state(circuit)
    assert state.on == on
    assert state is made.highest_state(circuit)
    named = "on only what is never switched off"
    assert state.name == (named if circuit == "steady" else f"{named} and '{circuit}'")


def test_only_closed_places_of_known_size_are_warmed() -> None:
    made = states()
    assert made.closed == {"hull": (pytest.approx(0.004), 3.5)}
    # 0.1 W of its own, and what is dissipated: over 14 mW/K
    assert made.rises({}) == {"hull": pytest.approx(0.1 / 0.014)}
    assert made.rises({"hull": 0.18, "bow": 5.0}) == {"hull": pytest.approx(20.0)}
    assert made.rises({"hull": 1e3}) == {"hull": 500.0}
    assert States(made.wiring, None, frozenset({"hull"})).closed == {}
    aft = BUILD + '[place.aft]\naccess = "cover"\nsurface = "40 cm2"\n'
    more = States(Survey(postcheck.loads(aft)).wiring)
    assert more.rises({"aft": 0.07}) == {"hull": pytest.approx(0.1 / 0.014), "aft": pytest.approx(5.0)}
    assert more.rises({})["aft"] == 0.0


def test_which_corners_have_air_of_their_own() -> None:
    made = states()
    assert made.air(REFERENCE) == {}
    assert made.air(Corner(junction=20.0, settled=False)) == {}
    warm = Corner(junction=20.0)
    assert made.air(warm) == {"hull": pytest.approx(0.1 / 0.014)}
    # the hottest is given to the states by what finds it
    assert made.air(warm._replace(hottest=True)) == {}
    made.hottest = {"hull": 9.0}
    assert made.air(warm._replace(hottest=True)) == {"hull": 9.0}


@pytest.mark.parametrize(
    ("corner", "words"),
    [
        (Corner(), "supplies typical"),
        (Corner(1), "supplies at their highest"),
        (Corner(-1), "supplies at their lowest"),
        (Corner(-1, 1, 1), "supplies at their lowest, lamps taking most"),
        (Corner(1, -1, -1), "supplies at their highest, lamps taking least"),
        (Corner(0, -1, 0), "supplies typical, lamps taking least"),
        (Corner(0, 0, 1), "supplies typical, lamps taking least"),
    ],
)
def test_the_words_for_a_corner(corner: Corner, words: str) -> None:
    assert corner.words() == words


def test_a_climb_goes_by_the_secant_through_its_last_two_rounds() -> None:
    """A place that gives 4 + r / 2 K in air r K warmer rests at 8 K: one plain round from 2 K, and the secant hits it."""
    climb = Climb({"hull": 2.0})

    def given() -> dict[str, float]:
        return {"hull": 4.0 + 0.5 * climb.rises["hull"]}

    for rise in (5.0, 8.0):
        assert not climb.still(given())
        assert climb.rises["hull"] == pytest.approx(rise)
    assert climb.slopes == {"hull": pytest.approx(0.5)}
    assert climb.still(given())
    # a slope that is known begins with it
    known = Climb({"hull": 0.0}, {"hull": 0.5})
    assert not known.still({"hull": 4.0})
    assert known.rises["hull"] == pytest.approx(8.0)


def test_only_so_many_misconnections_are_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each costs as many as the network has elements."""
    text = (
        BUILD
        + '[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "steady"\nplace = "base"\ntypical = "10 mA"\n'
    )
    wiring = Survey(postcheck.loads(text)).wiring
    assert States(wiring).work == 0
    size = len(States(wiring).solved(States(wiring).everything, REFERENCE).netlist.slots)  # type: ignore[union-attr]
    for most, told in ((2 * size, ["", "", "untried"]), (2 * size - 1, ["", "untried", "untried"])):
        monkeypatch.setattr(states_of_survey, "MOST_TRIED", most)
        made = States(wiring)
        assert made.solved(made.everything, REFERENCE) is not None
        found = [
            made.tried_once(made.everything._replace(name=f"try {n}", starting=True), REFERENCE)[1]
            for n in range(3)
        ]
        assert found == told
