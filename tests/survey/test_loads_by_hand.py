"""Electronics that take what they take: Ohm's law by hand for every figure of a network of measured conductors.

The room's air is 5 to 35 degC, so wires are at 20 degC as usual, and their ohms are as measured; at 35 degC a wire has 1 + 15 x 0.393 %
of them (IEC 60028).
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

import postcheck
from postcheck.survey import Survey
from postcheck.survey.network import corners
from tests.survey import small

WARM = 1.0 + 15.0 * 0.00393

TENDER = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
resistance = "0.5 ohm"
rated = "1 A"
[place.base]
access = "cover"
[place.hull]
access = "cover"
heat = "0.25 W"
[circuit.screw]
supply = "main"
[circuit.horn]
supply = "main"
behaviour = "flash"
rate = "30 /min"
on_share = "20 %"
[circuit.radio]
supply = "main"
output = { drop = "0.3 V", limit = "200 mA" }
on_off = { rated = "1 A", contact = "0.1 ohm" }
[[load]]
name = "screw"
kind = "motor"
circuit = "screw"
place = "hull"
least = "80 mA"
typical = "100 mA"
most = "130 mA"
starting = "400 mA"
[[load]]
name = "horn"
kind = "sound"
circuit = "horn"
place = "hull"
typical = "50 mA"
[[load]]
name = "radio"
kind = "other"
circuit = "radio"
place = "hull"
typical = "40 mA"
most = "45 mA"
lowest = "9 V"
[[run]]
name = "to screw"
line = "screw"
ends = ["base", "hull"]
ohms = "2 ohm"
[[run]]
name = "to horn"
line = "horn"
ends = ["base", "hull"]
ohms = "3 ohm"
[[run]]
name = "to radio"
line = "radio"
ends = ["hull", "base"]
ohms = "8 ohm"
conductors = 2
[[run]]
name = "back"
line = "main-"
ends = ["hull", "base"]
ohms = "1 ohm"
"""


@cache
def tender() -> Survey:
    return Survey(postcheck.loads(TENDER))


def near(value: Any) -> Any:
    return pytest.approx(value, rel=1e-9, abs=1e-12)


def test_what_a_supply_gives_and_what_is_left_of_its_rating() -> None:
    main = tender().electrics.supplies["main"]
    assert (main.name, main.path, main.rated) == ("main", ("supply", "main"), 1.0)
    assert (main.nominal, main.highest, main.most) == near((0.19, 0.225, 0.225))
    assert main.headroom == near(0.775)
    # the horn is silent for four fifths of the time; dark, there is still what keeps a power bank on
    assert (main.average, main.dark, main.gap) == near((0.15, 0.14, 0.0))
    assert main.starting == near(0.49)
    assert (main.volts, main.highest_volts, main.reverse) == near((12.0, 12.6, 0.0))


def test_the_volts_of_each_load_as_usual_at_the_least_and_while_the_motor_starts() -> None:
    loads = tender().electrics.loads
    # all: 0.19 A through 0.5 + 1 ohm; then 2, 3, and 0.3 V, 0.1 and 4 ohm of its own
    assert loads["screw"].volts == near(12.0 - 0.19 * 1.5 - 0.1 * 2.0)
    assert loads["horn"].volts == near(12.0 - 0.19 * 1.5 - 0.05 * 3.0)
    assert loads["radio"].volts == near(12.0 - 0.19 * 1.5 - 0.3 - 0.04 * 4.1)
    assert [load.highest for load in loads.values()] == near([0.13, 0.05, 0.045])
    # the supply low, all at their most, the conductors on the way warm; a contact is no copper
    low = 11.4 - 0.225 * 0.5 - 0.225 * WARM
    assert loads["screw"].lowest_volts == near(low - 0.13 * 2.0 * WARM)
    assert loads["horn"].lowest_volts == near(low - 0.05 * 3.0 * WARM)
    assert loads["radio"].lowest_volts == near(low - 0.3 - 0.045 * (4.0 * WARM + 0.1))
    # the supply low, while the motor takes 0.4 A
    assert loads["screw"].start_volts == near(11.4 - 0.49 * 1.5 - 0.4 * 2.0)
    assert loads["horn"].start_volts == near(11.4 - 0.49 * 1.5 - 0.05 * 3.0)


def test_the_current_of_each_run_its_drop_and_where_it_comes_from() -> None:
    runs = tender().electrics.runs
    found = {name: (run.current, run.drop, run.highest, run.source) for name, run in runs.items()}
    assert {name: row[:3] for name, row in found.items()} == {
        "to screw": near((0.1, 0.2, 0.13)),
        "to horn": near((0.05, 0.15, 0.05)),
        "to radio": near((0.02, 0.16, 0.0225)),
        "back": near((0.19, 0.19, 0.225)),
    }
    assert {name: row[3] for name, row in found.items()} == {
        "to screw": "base",
        "to horn": "base",
        "to radio": "base",
        "back": "hull",
    }


def test_the_current_of_each_circuit_and_what_its_output_takes() -> None:
    circuits = tender().electrics.circuits
    found = {
        name: (of.nominal, of.highest, of.starting, of.drop, of.spare, of.behaviour)
        for name, of in circuits.items()
    }
    assert {name: row[:3] for name, row in found.items()} == {
        "screw": near((0.1, 0.13, 0.4)),
        "horn": near((0.05, 0.05, 0.05)),
        "radio": near((0.04, 0.045, 0.04)),
    }
    assert [row[3:] for row in found.values()] == [
        (None, None, "steady"),
        (None, None, "flash"),
        (near(0.3), None, "steady"),
    ]


def test_a_switch_carries_what_is_behind_it() -> None:
    (switch,) = tender().electrics.switches.values()
    assert (switch.nominal, switch.highest, switch.starting, switch.unknown) == near((0.04, 0.045, 0.04, 0.0))
    # that of the supply has all through it
    made = Survey(
        postcheck.loads(TENDER.replace('rated = "1 A"\n[place', 'rated = "1 A"\non_off = "2 A"\n[place'))
    )
    main = made.electrics.switches["main+"]
    assert (main.nominal, main.highest, main.starting, main.unknown) == near((0.19, 0.225, 0.49, 0.0))
    # of a motor of which nobody says what it takes while it starts: five times 130 mA, less those
    made = Survey(postcheck.loads((made.build.text or "").replace('starting = "400 mA"\n', "")))
    main = made.electrics.switches["main+"]
    assert (main.starting, main.unknown) == near((0.19, 0.52))
    assert made.electrics.switches["radio"].unknown == 0.0


def test_what_a_load_has_left_while_another_one_starts() -> None:
    (sag,) = tender().electrics.sags
    assert (sag.kind, sag.name, sag.load, sag.needs, sag.given) == ("load", "radio", "screw", 9.0, True)
    assert sag.starting == near(0.4)
    assert sag.before == near(12.0 - 0.19 * 1.5 - 0.3 - 0.04 * 4.1)
    assert sag.volts == near(12.0 - 0.49 * 1.5 - 0.3 - 0.04 * 4.1)
    assert sag.lowest_volts == near(11.4 - 0.49 * 1.5 - 0.3 - 0.04 * 4.1)
    unsaid = Survey(postcheck.loads(TENDER.replace('starting = "400 mA"\n', "")))
    (sag,) = unsaid.electrics.sags
    assert (sag.starting, sag.given) == (near(0.65), False)
    assert sag.volts == near(12.0 - (0.65 + 0.09) * 1.5 - 0.3 - 0.04 * 4.1)


def test_the_potentials_of_the_lines_and_the_most_volts_anywhere() -> None:
    electrics = tender().electrics
    found = {(node.net, node.place): volts for node, volts in electrics.potentials.items()}
    top = 12.0 - 0.19 * 0.5
    across = {name: found[name, "hull"] - found["main-", "hull"] for name in ("screw", "horn", "radio")}
    assert across == {name: near(load.volts) for name, load in electrics.loads.items()}
    assert found["main-", "hull"] - found["main-", "base"] == near(0.19)
    assert max(found.values()) - min(found.values()) == near(top)
    assert electrics.widest == near(12.6 - 0.225 * 0.5)


def test_where_all_of_it_turns_into_heat() -> None:
    made = tender()
    hull, base = (dict(made.places[name].parts) for name in ("hull", "base"))
    loads = {name: load.volts for name, load in made.electrics.loads.items()}
    # of the return the mean square: 0.14 A all the time, 0.05 A more for a fifth of it
    back = (0.8 * 0.14**2 + 0.2 * 0.19**2) / 2.0
    assert hull == {
        "what else is in it": 0.25,
        "screw": near(0.1 * loads["screw"]),
        "horn": near(0.2 * 0.05 * loads["horn"]),
        "radio": near(0.04 * loads["radio"]),
        "the wire of to screw": near(0.1**2 * 2.0 / 2.0),
        "the wire of to horn": near(0.2 * 0.05**2 * 3.0 / 2.0),
        "the wire of to radio": near(0.04**2 * 4.0 / 2.0),
        "the wire of back": near(back),
    }
    assert base == {
        "the output of radio": near(0.3 * 0.04),
        "the switch of radio": near(0.1 * 0.04**2),
        "the wire of to screw": near(0.1**2 * 2.0 / 2.0),
        "the wire of to horn": near(0.2 * 0.05**2 * 3.0 / 2.0),
        "the wire of to radio": near(0.04**2 * 4.0 / 2.0),
        "the wire of back": near(back),
    }
    assert [watts for _, watts in made.places["hull"].parts] == sorted(hull.values(), reverse=True)
    # with the horn on for good, and the radio at its 45 mA: a motor does not stay at its most
    steady = dict(made.places["hull"].steady_parts)
    assert steady["horn"] == near(0.05 * (12.0 - 1.5 * 0.195 - 3.0 * 0.05))
    assert steady["the wire of back"] == near(0.195**2 / 2.0)
    assert made.places["hull"].heat == near(sum(hull.values()))


def test_a_tree_with_other_than_lamps_is_not_proven() -> None:
    electrics = tender().electrics
    assert not electrics.proven
    assert (electrics.failed, electrics.no_start, electrics.conflict) == ((), (), ())
    assert (electrics.joined, electrics.shorted, electrics.steps, electrics.dips) == ((), (), (), ())


def test_where_corners_are_not_solved_in_full_all_wires_are_warm(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a load takes hangs on nothing, so here it makes no difference."""
    full = tender().electrics.loads
    monkeypatch.setattr(corners, "EXACT_SIZE", -1)
    quick = Survey(postcheck.loads(TENDER)).electrics.loads
    assert {name: load.lowest_volts for name, load in quick.items()} == {
        name: near(load.lowest_volts) for name, load in full.items()
    }


def test_what_a_board_at_the_far_end_has_left_while_the_motor_starts() -> None:
    """10 mA of its own through 2.5 ohm of the positive; the negative is everybody's."""
    board = '[board.flasher]\nplace = "hull"\nsupply = "main"\nidle = "10 mA"\nleast_volts = "7 V"\n[[run]]\nname = "pole"\nline = "main+"\nends = ["base", "hull"]\nohms = "2.5 ohm"\n'
    made = Survey(postcheck.loads(TENDER + board))
    (sag,) = [one for one in made.electrics.sags if one.kind == "board"]
    assert (sag.name, sag.load, sag.needs) == ("flasher", "screw", 7.0)
    assert sag.before == near(12.0 - 0.2 * 1.5 - 0.025)
    assert sag.volts == near(12.0 - 0.5 * 1.5 - 0.025)
    assert sag.lowest_volts == near(11.4 - 0.5 * 1.5 - 0.025)


def test_the_least_average_is_asked_of_a_power_bank_beside_another_supply() -> None:
    """A sounder of 80 to 130 mA, a fifth of the time, on the bank; 5 V of it wherever it is."""
    text = TENDER.replace(
        'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\ntolerance = "5 %"\nresistance = "0.5 ohm"',
        'kind = "adaptor"\nplace = "base"\nvolts = "12 V"',
    )
    text = text[: text.index("[circuit.screw]")] + (
        '[supply.bank]\nkind = "usb"\nport = "power-bank"\nplace = "base"\nswitches_off_below = "20 mA"\n'
        '[circuit.bell]\nsupply = "bank"\nbehaviour = "flash"\nrate = "30 /min"\non_share = "20 %"\n'
        '[[load]]\nname = "bell"\nkind = "sound"\ncircuit = "bell"\nplace = "base"\nleast = "80 mA"\ntypical = "100 mA"\nmost = "130 mA"\n'
    )
    bank = Survey(postcheck.loads(text)).electrics.supplies["bank"]
    assert bank.least_average == pytest.approx(0.016, rel=1e-6)
    assert bank.average == pytest.approx(0.020, rel=1e-6)


@pytest.mark.parametrize(
    ("starting", "held"), [("", False), ('starting = "50 mA"', False), ('starting = "300 mA"', True)]
)
def test_pins_carry_a_motor_held_fast_where_the_file_says_that_it_takes_more_then(
    starting: str, held: bool
) -> None:
    motor = f'[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "50 mA"\nmost = "50 mA"\n{starting}\n'
    plug = '[[plug]]\nname = "foot"\nat = "hull"\npins = ["lights", "main-"]\nkeyed = true\n'
    figures = small.survey(extra=motor + plug).electrics.plugs["foot"]
    assert list(figures.held) == ["winch"] * held
    for pin in figures.held.get("winch", ()):
        assert pin == pytest.approx(0.3, abs=0.01)
