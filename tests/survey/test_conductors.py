"""Heat of conductors that lie together: by hand for two, against the aircraft bundle curve for eight."""

from math import log, pi

import pytest

import postcheck
from postcheck.physics.wire_heat import settles_at
from postcheck.survey import Survey

HEAD = """
format = 1
[build]
name = "Harbour winch"
air = "5..35 degC"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "20 A"
[post]
from = "base"
to = "hull"
bore = "{bore}"
length = "160 mm"
[place.base]
access = "open"
[place.hull]
access = "cover"
"""
PAIR = """
[circuit.c{n}]
supply = "main"
own_return = true
[[load]]
name = "motor {n}"
kind = "motor"
circuit = "c{n}"
place = "hull"
typical = "{amps}"
[[run]]
name = "feed {n}"
line = "c{n}"
ends = ["base", "{to}"]
length = "300 mm"
wire = "ptfe-28"
[[run]]
name = "back {n}"
line = "c{n}-return"
ends = ["base", "{to}"]
length = "300 mm"
wire = "ptfe-28"
"""


def _pairs(pairs, amps, bore="5 mm"):
    text = HEAD.format(bore=bore) + "".join(PAIR.format(n=n, amps=amps, to="hull") for n in range(pairs))
    return Survey(postcheck.loads(text))


def _hottest(made):
    return max(wire.celsius for wire in made.in_use.wires)


# MIL-W-5088L bundle curve (digitised): eight wires, all fully loaded, stand 0.513 of the current of one in free air.
# In the dead air of a bore they stand less, but not less than half of that again.
def test_eight_in_a_bore_against_the_aircraft_curve():
    free = 3.0  # A: one ptfe-28 in still air
    rise = _alone_in_air(free)
    eight = 0.513 * free
    assert _hottest(_pairs(4, f"{eight:.3f} A")) - 35.0 > rise
    assert _hottest(_pairs(4, f"{eight / 2:.3f} A")) - 35.0 < rise


def _alone_in_air(amps):
    text = HEAD.format(bore="5 mm") + PAIR.format(n=0, amps=f"{amps} A", to="hull").replace(
        'length = "300 mm"', 'length = "300 mm"\nthrough = []'
    )
    return _hottest(Survey(postcheck.loads(text))) - 35.0


# by hand: W of the other three across the air round all four (k 0.0271 W/(m K) at 39 degC) and through the post's film
# of 10; in so slim a gap conduction is all there is
def test_the_share_of_the_others():
    made = _pairs(2, "1 A", bore="2.2 mm")
    feed = next(wire for wire in made.in_use.wires if wire.name == "feed 0")
    assert feed.celsius is not None
    watts = 3.0 * feed.wire.ohms_per_metre_most * (1 + 0.00393 * (feed.celsius - 20.0))
    all_four = made.passages["post"].smallest_bore
    by_hand = watts * (log(0.0022 / all_four) / (2 * pi * 0.0271) + 1 / (pi * 0.0022 * 10.0))
    assert made.in_use.company(feed.passages, feed.key) == pytest.approx(by_hand, rel=0.02)


def test_with_next_to_no_current_a_wire_is_as_warm_as_the_others_make_it():
    """What the others put into the bore is on top of the air, not below it: nothing flows to where it is warmer."""
    text = (
        HEAD.format(bore="2.5 mm")
        + PAIR.format(n=0, amps="1 mA", to="hull")
        + PAIR.format(n=1, amps="2 A", to="hull")
    )
    made = Survey(postcheck.loads(text))
    idle = next(wire for wire in made.in_use.wires if wire.name == "feed 0")
    warmed = made.in_use.company(idle.passages, idle.key)
    assert warmed > 5.0
    assert idle.celsius == pytest.approx(35.0 + warmed, abs=0.1)


# by hand: two conductors of one run lie in the bore, and each has the other beside it: half of what the run puts into it
def test_conductors_of_one_run_warm_each_other():
    text = HEAD.format(bore="2.5 mm") + PAIR.format(n=0, amps="4 A", to="hull").replace(
        'wire = "ptfe-28"', 'wire = "ptfe-28"\nconductors = 2'
    )
    made = Survey(postcheck.loads(text))
    feed = next(wire for wire in made.in_use.wires if wire.name == "feed 0")
    own, back = (made.in_use.warming["post"][key] for key in (feed.key, ("run", "back 0", "")))
    assert own == pytest.approx(back, rel=1e-3)
    assert feed.celsius == pytest.approx(
        settles_at(2.0, feed.wire.ohms_per_metre_most, feed.wire.max_diameter, 35.0 + 1.5 * own, 0.0025),
        rel=1e-3,
    )


def test_where_the_others_alone_would_melt_copper_nothing_settles():
    """Copper melts at 1083 degC (CRC Handbook): at 20 A each through AWG 28 the bore is past that, whatever else lies in it."""
    text = HEAD.format(bore="2.5 mm").replace("20 A", "60 A")
    text += PAIR.format(n=0, amps="1 mA", to="hull") + PAIR.format(n=1, amps="20 A", to="hull")
    assert all(wire.celsius is None for wire in Survey(postcheck.loads(text)).in_use.wires)


def test_more_in_the_bore_is_hotter_and_alone_is_as_before():
    alone, two, eight = (_hottest(_pairs(pairs, "1 A")) for pairs in (1, 2, 4))
    assert alone < two < eight


def test_they_can_run_away_together():
    assert all(wire.celsius is None for wire in _pairs(4, "5 A").in_use.wires)


def test_a_fault_finds_the_bore_warm():
    def feed(amps):
        text = HEAD.format(bore="5 mm").replace('"20 A"', '"20 A"\ncurrent_limit = "3 A"')
        text += "".join(PAIR.format(n=n, amps=amps, to="hull") for n in range(4))
        return next(fault for fault in Survey(postcheck.loads(text)).faults if fault.name == "feed 0")

    cold, warm = feed("10 mA"), feed("1 A")
    assert cold.sure.lasting == warm.sure.lasting == pytest.approx(3.0)
    assert cold.sure.settled is not None
    assert warm.sure.settled is not None
    assert warm.sure.settled > cold.sure.settled + 10.0
