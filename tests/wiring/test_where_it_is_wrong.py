"""What a wiring is refused for, and where in the file that stands: the path, the check and what is to be typed."""

from __future__ import annotations

from typing import Any

import pytest

import postcheck
from postcheck.description.problems import BuildError, Problem
from postcheck.wiring import resolve
from postcheck.wiring.graph import SUPPLY_SIDE, Node

HEAD = """
format = 1
[build]
name = "Tender"
[usual]
run = "ptfe-28"
lead = "enamel-0.10"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
[place.base]
access = "open"
[place.hull]
access = "open"
[place.bow]
access = "open"
[place.aft]
access = "open"
[post]
from = "base"
to = "hull"
bore = "5 mm"
length = "160 mm"
[circuit.lights]
supply = "main"
{circuit}
[[run]]
name = "feed"
line = "lights"
ends = ["base", "hull"]
length = "300 mm"
[[run]]
name = "back"
line = "main-"
ends = ["base", "hull"]
length = "300 mm"
"""
LAMP = '[[lamp]]\nname = "{name}"\ncircuit = "lights"\nkind = "smd-0402-red"\nplace = "bow"\n{more}\n'
LEAD = 'lead = "90 mm to hull"'


def lamp(more: str, name: str = "one") -> str:
    return LAMP.format(name=name, more=more)


def problem(text: str, circuit: str = "") -> Problem:
    with pytest.raises(BuildError) as caught:
        postcheck.loads(HEAD.format(circuit=circuit) + text)
    (only,) = caught.value.problems
    return only


BODY = '[[run]]\nname = "{name}"\nline = "{line}"\nends = ["{a}", "{b}"]\nbody = true\nohms = "10 mohm"\n'
PLUG = '[[plug]]\nname = "foot"\n{where}\npins = ["lights", "main-"]\n'
RGB = (
    '[supply.aux]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\n[circuit.other]\nsupply = "aux"\n'
    '[[run]]\nline = "other"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    '[[lamp]]\nname = "glow"\nkind = "smd-0603-rgb"\nplace = "bow"\nlead = "90 mm to hull"\n'
    'dice.red = { circuit = "lights", resistor = "1k5" }\ndice.green = { circuit = "other", resistor = "1k5" }\n'
)


@pytest.mark.parametrize(
    ("text", "check", "path", "says", "hint"),
    [
        (
            lamp(f'{LEAD}\nresistor = "1k5"') + lamp(f'{LEAD}\nresistor = "1k5 at aft"', "two"),
            "file.unreached",
            ("lamp", 1, "resistor"),
            "the resistor of 'two' sits at 'aft', and line 'lights' does not go through there to 'hull', where the lamp is joined",
            "put it with the lamp or at 'hull'",
        ),
        (
            lamp(f'{LEAD}\nresistor = "1k5 at base"') + lamp(f'{LEAD}\nresistor = "1k5 at base"', "two"),
            "file.unreached",
            ("lamp", 0, "resistor"),
            "the resistors of 'one', 'two' sit at 'base', and from there to 'hull' line 'lights' is all there is, for several strings",
            "put them with the lamp or at 'hull'; a string that has a conductor of its own from there has a circuit of its own",
        ),
        (
            PLUG.format(where='ends = ["base", "hull"]') + lamp(f'{LEAD}\nresistor = "1k5"'),
            "file.invalid",
            ("plug", 0, "ends"),
            "plug 'foot' joins 'base' and 'hull', and so does a run of line 'lights': side by side the plug would carry next to nothing",
            'where the runs from \'base\' end at the plug, write at = "hull" instead of `ends`; where they begin at it, write at = "base"',
        ),
        (
            lamp('resistor = "1k5"\nparallel = 2\nstrings_share = "lead"').replace('"bow"', '"hull"'),
            "file.invalid",
            ("lamp", 0, "strings_share"),
            "lamp 'one' has no lead whose legs its strings could share",
            'give it one, such as lead = "220 mm to hull", or leave `strings_share` out',
        ),
        (
            lamp(f'{LEAD}\nresistor = "1k5"\nparallel = 2\none_resistor = true\nstrings_share = "return"'),
            "file.invalid",
            ("lamp", 0, "strings_share"),
            "the strings of 'one' begin at one resistor that sits with them, so they share their lead",
            'write strings_share = "lead", or put the resistor at the joint',
        ),
        (
            lamp(f'{LEAD}\nresistor = "1k5 at hull"\nparallel = 2\nstrings_share = "lead"'),
            "file.invalid",
            ("lamp", 0, "strings_share"),
            "each string of 'one' has its resistor at 'hull', and so a leg of its own to there",
            'write strings_share = "return" or "nothing", or give them one resistor (one_resistor = true)',
        ),
        (
            RGB,
            "file.invalid",
            ("lamp", 0, "dice", "green", "circuit"),
            "red goes to 'main-' and green to 'aux-', but the colours share one leg",
            'feed them from one supply, or write shares_negative_with = "main" in [supply.aux] where their negatives are joined',
        ),
        (
            BODY.format(name="rail", line="main-", a="hull", b="bow"),
            "file.invalid",
            ("run", 2, "body"),
            "no post or passage joins 'hull' and 'bow', so there is no metal to conduct",
            'name it: through = ["post"]',
        ),
        (
            BODY.format(name="column", line="main-", a="base", b="hull")
            + BODY.format(name="again", line="lights", a="base", b="hull"),
            "file.invalid",
            ("run", 3, "body"),
            "the metal of 'post' is line 'main-' already ('column'); as 'lights' too it would be a dead short",
            "give one of them a wire",
        ),
    ],
)  # fmt: skip
def test_each_refusal_names_its_place_in_the_file(
    text: str, check: str, path: tuple[Any, ...], says: str, hint: str
) -> None:
    found = problem(text)
    assert (found.check, found.path) == (check, path)
    assert found.says == says
    assert found.hint == hint


def test_a_switch_beside_a_plug_and_one_that_is_gone_round() -> None:
    both = problem(
        PLUG.format(where='at = "hull"') + lamp(f'{LEAD}\nresistor = "1k5"'), 'on_off = "1 A at hull"'
    )
    assert (both.check, both.path) == ("file.invalid", ("circuit", "lights", "on_off"))
    assert "plug 'foot' sits at 'hull' too" in both.says
    past = problem(
        '[[run]]\nname = "round"\nline = "lights"\nends = ["base", "bow"]\nlength = "300 mm"\n'
        + '[[run]]\nname = "home"\nline = "main-"\nends = ["base", "bow"]\nlength = "300 mm"\n'
        + lamp('resistor = "1k5"')
        + lamp(f'{LEAD}\nresistor = "1k5"', "two"),
        'on_off = "1 A at hull"',
    )
    assert past.path == ("circuit", "lights", "on_off")
    assert "the switch of 'lights' at 'hull' does not turn 'one' off" in past.says


@pytest.mark.parametrize(
    "plug",
    [
        # of another line at its place, and of its own line elsewhere
        '[[plug]]\nname = "foot"\nat = "hull"\npins = ["main-"]\n',
        '[[plug]]\nname = "foot"\nat = "base"\npins = ["lights", "main-"]\n',
    ],
)
def test_a_switch_may_have_a_plug_of_other_lines_beside_it(plug: str) -> None:
    text = plug + lamp(f'{LEAD}\nresistor = "1k5"')
    made = resolve(postcheck.loads(HEAD.format(circuit='on_off = "1 A at hull"') + text))
    (switch,) = made.switches.values()
    assert (switch.place, switch.begins) == ("hull", False)
    edge = next(edge for edge in made.edges if edge.kind == "switch")
    assert (edge.a.end, edge.b) == (SUPPLY_SIDE, Node("lights", "hull"))


@pytest.mark.parametrize("lines", [("main-", "five-"), ("five-", "main-")])
@pytest.mark.parametrize("ends", [("base", "hull"), ("hull", "base")])
def test_two_negatives_that_are_one_are_no_short_in_one_metal(
    lines: tuple[str, str], ends: tuple[str, str]
) -> None:
    """They are one at the converter, whichever is named first and from whichever end."""
    five = '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\n'
    metal = "".join(BODY.format(name=line, line=line, a=ends[0], b=ends[1]) for line in lines)
    made = resolve(postcheck.loads(HEAD.format(circuit="") + five + metal))
    assert {run.name for run in made.parts.runs if run.body} == {*lines}


def test_what_edges_of_some_kinds_alone_join() -> None:
    plug = PLUG.format(where='at = "hull"') + lamp(f'{LEAD}\nresistor = "1k5"')
    made = resolve(postcheck.loads(HEAD.format(circuit="") + plug))
    base, supply, hull = Node("lights", "base"), Node("lights", "hull", SUPPLY_SIDE), Node("lights", "hull")
    assert made.between("conductor").joined(base, supply)
    assert not made.between("conductor").joined(supply, hull)
    assert made.between("pin").joined(supply, hull)
    assert not made.between("pin").joined(base, supply)
    assert made.between("conductor", "pin").joined(base, hull)
