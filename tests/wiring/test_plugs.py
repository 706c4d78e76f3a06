"""Plugs as people say them: at a place, between what comes from the supply and what is there."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.survey import Survey
from postcheck.wiring import resolve

BOAT = """
format = 1
[build]
name = "Harbour tender"
air = "20..20 degC"
[usual]
lead = "enamel-0.10"
run = "ptfe-28"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
rated = "1 A"
fuse = "500 mA"
[place]
base = {{ access = "open" }}
hull = {{ access = "cover" }}
mast = {{ access = "open" }}
[circuit.lights]
supply = "main"
[circuit.wink]
supply = "main"
behaviour = "flash"
rate = "40 /min"
on_share = "20 %"
output = "100 mA, 0.2 V drop"
[lamp_kind.plain]
forward = "2.0/2.0/2.0 V"
at = "20 mA"
low_forward = "1.9 V"
low_at = "5 mA"
per_kelvin = "0 mV"
rated = "20 mA"
[[lamp]]
name = "bow lamp"
circuit = "lights"
kind = "plain"
place = "hull"
resistor = {{ ohms = "1k", tolerance = "0 %" }}
[[lamp]]
name = "mast lamp"
circuit = "wink"
kind = "plain"
place = "mast"
resistor = {{ ohms = "1k", tolerance = "0 %" }}
{runs}
{plug}
"""


def run(line: str, start: str = "base", end: str = "hull", ohms: str = "0.2 ohm") -> str:
    return f'[[run]]\nname = "{line} {start}-{end}"\nline = "{line}"\nends = ["{start}", "{end}"]\nohms = "{ohms}"\n'


RUNS = (
    "".join(run(line) for line in ("lights", "wink", "main-"))
    + run("wink", "hull", "mast")
    + run("main-", "hull", "mast")
)
PINS = '["lights", "wink", "main-"]'


def plug(
    where: str, pins: str = PINS, name: str = "post plug", more: str = 'contact = "50 ohm"\nkeyed = true'
) -> str:
    return f'[[plug]]\nname = "{name}"\n{where}\npins = {pins}\n{more}\n'


def boat(text: str, runs: str = RUNS) -> postcheck.Build:
    return postcheck.loads(BOAT.format(runs=runs, plug=text))


def lamps(build: postcheck.Build) -> dict[str, float]:
    return {name: lamp.nominal for name, lamp in Survey(build).electrics.lamps.items()}


def complaints(text: str, runs: str = RUNS) -> list[tuple[str, str, str]]:
    with pytest.raises(postcheck.BuildError) as error:
        boat(text, runs)
    return [(problem.check, problem.says, problem.hint or "") for problem in error.value.problems]


def test_a_pin_lies_in_series_with_the_run_wherever_the_plug_sits() -> None:
    """Kirchhoff: 50 ohm of contact in a line is the same as 50 ohm more in the run that ends at the plug or begins there."""
    longer = "".join(run(line, ohms="50.2 ohm") for line in ("lights", "wink", "main-"))
    longer += run("wink", "hull", "mast") + run("main-", "hull", "mast")
    alike = lamps(boat("", longer))
    for place in ("hull", "base"):
        assert lamps(boat(plug(f'at = "{place}"'))) == pytest.approx(alike, rel=1e-9)


def test_a_plug_further_on_carries_only_what_goes_on() -> None:
    made = Survey(boat(plug('at = "mast"', '["wink", "main-"]')))
    pins = made.electrics.plugs["post plug"].nominal
    assert pins == pytest.approx([made.electrics.lamps["mast lamp"].nominal] * 2, rel=1e-9)


def test_a_plug_on_the_way_parts_what_is_at_its_place_from_the_supply_alone() -> None:
    """At the hull two runs go on to the mast: the pins carry the lamp there and the one on the mast."""
    made = Survey(boat(plug('at = "hull"')))
    bow, mast = (made.electrics.lamps[name].nominal for name in ("bow lamp", "mast lamp"))
    assert made.electrics.plugs["post plug"].nominal == pytest.approx([bow, mast, bow + mast], rel=1e-9)


def test_what_lies_behind_a_pin() -> None:
    wiring = resolve(boat(plug('at = "hull"')))
    lights, wink, back = wiring.pins["post plug"]
    assert wiring.fed.behind(lights, wiring.sources) == {wiring.node("lights", "hull")}
    assert wiring.fed.behind(wink, wiring.sources) == {
        wiring.node("wink", place) for place in ("hull", "mast")
    }
    assert wiring.fed.behind(back, wiring.sources) == {
        wiring.node("main-", place) for place in ("hull", "mast")
    }
    assert wiring.fed.is_tree


def test_two_plugs_at_one_place_are_contacts_side_by_side() -> None:
    made = Survey(boat(plug('at = "hull"') + plug('at = "hull"', '["main-"]', "second")))
    total = sum(lamp.nominal for lamp in made.electrics.lamps.values())
    pins = [made.electrics.plugs["post plug"].nominal[2], made.electrics.plugs["second"].nominal[0]]
    assert pins == pytest.approx([total / 2, total / 2], rel=1e-9)


def test_the_form_with_two_places_stays_where_nothing_else_joins_them() -> None:
    bare = boat(plug('ends = ["base", "hull"]'), run("wink", "hull", "mast") + run("main-", "hull", "mast"))
    alike = "".join(run(line, ohms="50 ohm") for line in ("lights", "wink", "main-"))
    assert lamps(bare) == pytest.approx(
        lamps(boat("", alike + run("wink", "hull", "mast") + run("main-", "hull", "mast"))), rel=1e-9
    )


@pytest.mark.parametrize("ends", ['["base", "hull"]', '["hull", "base"]'])
def test_a_plug_beside_the_runs_of_its_lines_is_asked_about_with_the_lines_to_type(ends: str) -> None:
    """The runs come from the base, where the supply is, whichever end the plug names first."""
    ((check, says, hint),) = complaints(plug(f"ends = {ends}"))
    assert check == "file.invalid"
    assert "'post plug'" in says
    assert "'lights'" in says
    assert hint == (
        "where the runs from 'base' end at the plug, write at = \"hull\" instead of `ends`; where they begin at it, "
        'write at = "base"'
    )


def test_a_ring_with_a_plug_in_it_is_a_ring() -> None:
    """Runs that go round by another place are no slip: the current divides, and the corners are tried."""
    around = run("lights", "base", "mast") + run("lights", "mast", "hull") + run("wink") + run("main-")
    around += run("wink", "hull", "mast") + run("main-", "hull", "mast")
    made = Survey(
        boat(plug('ends = ["base", "hull"]', '["lights"]', more='contact = "0.4 ohm"\nkeyed = true'), around)
    )
    bow = made.electrics.lamps["bow lamp"].nominal
    assert made.electrics.plugs["post plug"].nominal == pytest.approx((bow / 2,), rel=1e-9)
    assert not made.electrics.proven


@pytest.mark.parametrize(
    ("where", "word"),
    [
        ("", "needs `at`"),
        ('at = "hull"\nends = ["base", "hull"]', "has `at` and `ends`"),
        ('at = "hul"', "'hul'"),
    ],
)
def test_where_it_sits_has_to_be_said_once(where: str, word: str) -> None:
    assert any(word in says for _, says, _ in complaints(plug(where)))


def test_boards_and_outputs_at_the_supply_are_ahead_of_a_plug_there() -> None:
    """The return pin at the base carries what comes back from the model, not what a board beside the supply takes."""
    board = '[board.clock]\nplace = "base"\nsupply = "main"\nidle = "8 mA"\n'
    made = Survey(boat(plug('at = "base"') + board))
    total = sum(lamp.nominal for lamp in made.electrics.lamps.values())
    assert made.electrics.plugs["post plug"].nominal[2] == pytest.approx(total, rel=1e-9)


CABIN = """
[circuit.cabin]
supply = "main"
[[lamp]]
name = "cabin lamp"
circuit = "cabin"
kind = "plain"
place = "hull"
resistor = "1k"
"""


def test_a_loop_closed_by_a_join_is_tried_and_not_proven() -> None:
    """Two feeds from one pole, joined again at the hull: whichever way the current takes there is another."""
    two = CABIN + run("cabin")
    assert Survey(boat(two)).electrics.proven
    assert not Survey(boat(two + '[[join]]\nplace = "hull"\nlines = ["lights", "cabin"]\n')).electrics.proven


def test_a_loop_closed_by_plugs_is_tried_and_not_proven() -> None:
    runs = RUNS.replace(run("lights"), "") + run("lights", "hull", "mast")
    one = plug('ends = ["base", "hull"]', '["lights"]')
    assert Survey(boat(one, runs)).electrics.proven
    other = plug('ends = ["base", "mast"]', '["lights"]', "second")
    assert not Survey(boat(one + other, runs)).electrics.proven


@pytest.mark.parametrize("trace", ['trace = "0.4 ohm/m"\n', ""])
def test_a_loop_closed_by_the_far_end_of_a_strip_is_tried_and_not_proven(trace: str) -> None:
    """Whether its trace was measured or not: the run beside it is there."""
    strip = f'[[strip]]\ncircuit = "lights"\nkind = "strip-12v-white-60"\nplace = "hull"\nsegments = 2\n{trace}far_end = "mast"\n'
    assert resolve(boat(strip, RUNS.replace(run("main-", "hull", "mast"), ""))).fed.is_tree
    assert not resolve(boat(strip)).fed.is_tree
    assert not Survey(boat(strip)).electrics.proven


@pytest.mark.parametrize("ohms", [1e-5, 0.05])
def test_a_pin_has_the_contact_resistance_that_is_stated(ohms: float) -> None:
    """Ohm: the drop of a pin is its current times what the file says, however little that is."""
    made = Survey(boat(plug('at = "hull"', more=f'contact = "{ohms:.5f} ohm"\nkeyed = true')))
    amps = made.electrics.plugs["post plug"].nominal
    drops = [pin["drop"] for pin in made.figures["pins"].values()]
    assert drops == pytest.approx([abs(amp) * ohms for amp in amps], rel=1e-6)


def test_what_is_still_to_be_laid_beyond_a_plug_begins_behind_it() -> None:
    """The return of the mast lamp, of which the run from the hull on is not described yet: it has to go through the pin."""
    wiring = resolve(boat(plug('at = "hull"'), RUNS.removesuffix(run("main-", "hull", "mast"))))
    (missing,) = wiring.unbuilt
    assert (missing.start, missing.place) == ("hull", "mast")
    assert missing.edge.a == wiring.node("main-", "hull") != wiring.ahead("main-", "hull")
